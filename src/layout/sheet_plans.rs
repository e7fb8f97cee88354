//! Which sheets (or wide boards) blocks and panels are cut from, with straight cuts from edge to edge in saw order.
//!
//! A piece is nested as the rectangle round it. It follows the grain unless the product says that it has none.

use std::collections::BTreeMap;

use super::cut_plans::{keep, kerf};
use super::nesting::{self, NestPlan, Order, Part, Sheet};
use super::pieces::{PieceKind, Pieces, initials};
use crate::geometry::Polygon;
use crate::model::{FaceId, Model, Product, ProductId};
use crate::plan::Plan;
use crate::units::Length;

/// What a part of a sheet becomes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    /// A panel, by its place in [`Pieces::list`].
    Panel(usize),
    /// A block, by its place on its face.
    Block(usize),
}

/// A rectangle that is wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetPart {
    /// To write on it.
    pub mark: String,
    /// The wall it is for.
    pub face: FaceId,
    /// What it becomes.
    pub becomes: Use,
    /// Along the sheet's length, and across it.
    pub size: (Length, Length),
}

/// The sheets of one product for the whole building.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetPlans {
    /// What is cut.
    pub product: ProductId,
    /// The same places as `order.parts`.
    pub parts: Vec<SheetPart>,
    /// What was asked.
    pub order: Order,
    /// What is cut from which.
    pub plan: NestPlan,
    /// Costs are cents; otherwise each sheet costs its area in square centimetres.
    pub priced: bool,
    /// Shortest side of a piece that is kept.
    pub keep: Length,
}

/// The mark of a block: its wall, `K`, its number on that wall.
pub fn block_mark(model: &Model, face: FaceId, block: usize) -> String {
    let names = initials(model.faces.iter().map(|face| face.name.as_str()));
    format!("{}K{}", names.get(face.0 as usize).map_or("", String::as_str), block + 1)
}

/// Plans for every product in sheets or wide boards that blocks or panels are cut from.
pub fn of_building(model: &Model, plan: &Plan, pieces: &Pieces) -> Vec<SheetPlans> {
    let mut products: BTreeMap<ProductId, Vec<SheetPart>> = BTreeMap::new();
    for (at, piece) in pieces.list.iter().enumerate().filter(|(_, piece)| piece.kind == PieceKind::Panel) {
        let Some(product) = piece.product else { continue };
        let bounds = piece.seen.bounds();
        let (level, upright) = (bounds.width(), bounds.height());
        let stands = stands(model, piece.face, piece.area, product);
        let size = if stands { (upright, level) } else { (level, upright) };
        let part = SheetPart { mark: piece.mark.clone(), face: piece.face, becomes: Use::Panel(at), size };
        products.entry(product).or_default().push(part);
    }
    for (face, block, product, shape) in blocks(model, plan) {
        let size = (shape.bounds().width(), shape.bounds().height());
        let part = SheetPart { mark: block_mark(model, face, block), face, becomes: Use::Block(block), size };
        products.entry(product).or_default().push(part);
    }
    let of = |(product, parts)| of_product(model, product, parts);
    products.into_iter().filter_map(of).collect()
}

/// Blocks that say what they are cut from and how large they are.
fn blocks<'p>(model: &'p Model, plan: &'p Plan) -> impl Iterator<Item = (FaceId, usize, ProductId, &'p Polygon)> {
    model.faces.iter().zip(&plan.faces).enumerate().flat_map(|(at, (face, placed))| {
        let id = FaceId(at as u32);
        face.blocks.iter().zip(&placed.blocks).enumerate().filter_map(move |(number, (block, shape))| {
            Some((id, number, block.cut_from.as_ref()?.product?, shape.as_ref()?))
        })
    })
}

/// Whether sheets of a product stand upright in the area of a panel.
fn stands(model: &Model, face: FaceId, area: usize, product: ProductId) -> bool {
    let assembly = model.face(face).and_then(|face| model.assembly(face.areas.get(area)?.assembly));
    let layer = assembly.and_then(|wall| wall.layers.iter().find(|layer| layer.stuff.product == Some(product)));
    layer.is_some_and(|layer| layer.runs_vertical)
}

/// Length and width of what a product is sold in, longest first: sheets, or boards of its width.
pub fn sizes(product: &Product) -> Vec<(Length, Length)> {
    if let &[one, other] = product.sheet.as_slice() {
        return vec![(one.max(other), one.min(other))];
    }
    let width = product.width.or(product.size.get(1).copied());
    let mut sizes: Vec<_> = product.stock.iter().filter_map(|&length| Some((length, width?))).collect();
    sizes.sort_unstable_by(|one, two| two.cmp(one));
    sizes
}

fn of_product(model: &Model, id: ProductId, parts: Vec<SheetPart>) -> Option<SheetPlans> {
    let product = model.product(id)?;
    let sizes = sizes(product);
    let price = |(length, _): (Length, Length)| match product.price {
        Some((amount, Some("piece"))) if sizes.len() == 1 => Some(amount),
        Some((amount, Some("metre"))) if product.sheet.is_empty() => Some(amount * length.as_m()),
        _ => None,
    };
    let cents: Option<Vec<i64>> =
        sizes.iter().map(|&size| Some((price(size)? * 100.0).round() as i64).filter(|cost| *cost > 0)).collect();
    let priced = cents.is_some();
    let area = |(length, width): (Length, Length)| {
        let centimetre = i64::from(10_u8) * Length::MM.0;
        ((length.0 / centimetre).saturating_mul(width.0 / centimetre)).max(1)
    };
    let costs = cents.unwrap_or_else(|| sizes.iter().map(|&size| area(size)).collect());
    let sheets = sizes.iter().zip(costs);
    let order = Order {
        parts: parts
            .iter()
            .map(|part| Part {
                length: part.size.0,
                width: part.size.1,
                count: 1,
                // Who does not say whether there is a grain gets pieces that would follow it.
                turns: product.grain == Some(false),
            })
            .collect(),
        sheets: sheets.map(|(&(length, width), cost)| Sheet { length, width, cost, available: None }).collect(),
        kerf: kerf(model),
        trim: Length::ZERO,
    };
    let plan = nesting::nest(&order);
    Some(SheetPlans { product: id, parts, order, plan, priced, keep: keep(model) })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_block_of_the_house_is_cut_from_its_sheet() {
        let checked = crate::session::heron_lane();
        let plans = of_building(&checked.model, &checked.plan, &Pieces::default());
        let [sheet] = plans.as_slice() else { panic!("{plans:?}") };
        assert_eq!(sheet.parts[0].mark, "WK1");
        // Three courses of 135 mm.
        assert_eq!(sheet.parts[0].size, (Length::mm(500), Length::mm(405)));
        assert_eq!((sheet.plan.count(), sheet.plan.proven, sheet.plan.left.len()), (1, true, 0));
        let cut = &sheet.plan.sheets[0];
        let parts: i128 = cut.placed.iter().map(|placed| placed.piece.area()).sum();
        let left: i128 = cut.offcuts.iter().map(|piece| piece.area()).sum();
        // What the saw takes: its width times the length of every cut, and nothing else is lost.
        let cuts: i128 = cut
            .cuts
            .iter()
            .map(|cut| if cut.along { cut.piece.length } else { cut.piece.width })
            .map(|length| i128::from(length.0) * i128::from(sheet.order.kerf.0))
            .sum();
        let whole = i128::from(sheet.order.sheets[0].length.0) * i128::from(sheet.order.sheets[0].width.0);
        assert_eq!(parts + left + cuts, whole);
    }

    #[test]
    fn sheets_of_panels_hold_every_panel_once_and_follow_the_grain() {
        let text = "wythe 1\n\nuse std.panels\nuse std.furring\n\nassembly wall {\n    layer cladding panels.plywood\n    \
                    gap cavity 19mm ventilated {\n        furring furring.spruce 19mm x 64mm {\n            every \
                    600mm on centre\n            vertical\n        }\n    }\n    layer sheathing std.sheets.plywood \
                    12.5mm\n}\n\nface north {\n    measured to sheathing\n    looks 0deg\n    outline from (0, 0) {\n        \
                    base to (4000mm, 0)\n        right to (4000mm, 2700mm)\n        top to (0, 2700mm)\n        left to \
                    start\n    }\n    area all wall\n}\n";
        let world = crate::source::MapWorld::new().with("wall.wythe", text);
        let checked = crate::session::check(&world, &["wall.wythe".to_owned()], &crate::session::Settings::default());
        let pieces = super::super::pieces::cut(&checked.model, &checked.plan, 20.0);
        let plans = of_building(&checked.model, &checked.plan, &pieces);
        let [sheets] = plans.as_slice() else { panic!("{plans:?} {:?}", checked.problems) };
        assert!(!pieces.list.is_empty() && sheets.parts.len() == pieces.list.len());
        let placed: Vec<usize> =
            sheets.plan.sheets.iter().flat_map(|sheet| &sheet.placed).map(|placed| placed.part).collect();
        assert_eq!(placed.len(), pieces.list.len());
        // Whether it has a grain is not said, so none is turned.
        assert!(sheets.plan.sheets.iter().flat_map(|sheet| &sheet.placed).all(|placed| !placed.turned));
    }
}
