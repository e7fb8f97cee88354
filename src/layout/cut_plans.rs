//! Which lengths to cut which pieces from, boards, trims and furring: wall by wall, with the offcuts of one wall used on the
//! next.

use std::collections::BTreeMap;

use super::cutting::{self, CutPlan, Order, Stock, Want, Watch};
use super::furring_map;
use super::pieces::{PieceKind, Pieces, written};
use super::trims::Trims;
use crate::model::{FaceId, Model, Product, ProductId};
use crate::plan::Plan;
use crate::quantities::price;
use crate::units::Length;

/// Width of a saw cut where no limit `saw.kerf` is in force. Common practice, no source.
const KERF: Length = Length::mm(3);
/// Shortest offcut worth keeping where no limit `offcut.keep` is in force. Common practice, no source.
const KEEP: Length = Length::mm(300);

/// Width of a saw cut.
pub(super) fn kerf(model: &Model) -> Length {
    limit(model, "saw.kerf", KERF)
}

/// Shortest offcut worth keeping.
pub(super) fn keep(model: &Model) -> Length {
    limit(model, "offcut.keep", KEEP)
}

fn limit(model: &Model, name: &str, otherwise: Length) -> Length {
    model.limit(name).and_then(|limit| limit.length()).unwrap_or(otherwise)
}

/// What a part is on the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Use {
    /// A piece of cladding.
    Cladding,
    /// A length of trim.
    Trim,
    /// A strip of furring, or a length it is spliced from.
    Furring,
}

/// One part that is cut from a length of stock.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// As written on it, with its hand.
    pub mark: String,
    /// The wall.
    pub face: FaceId,
    /// What it is.
    pub purpose: Use,
    /// The area it covers, or the trim it is a length of, by its dotted name: `north.lower`, `north.kitchen.head.trim`.
    pub place: String,
    /// What it is cut from.
    pub product: ProductId,
    /// What it takes of the stock: to its long point, and more where sloping ends lean the same way.
    pub length: Length,
}

/// The lengths of one product for one wall.
#[derive(Clone, Debug, PartialEq)]
pub struct WallPlan {
    /// The wall.
    pub face: FaceId,
    /// What is cut.
    pub product: ProductId,
    /// Parts, as places in [`CutPlans::parts`]; the same places as `order.wants`.
    pub parts: Vec<usize>,
    /// What was asked: parts, new stock, then offcuts of walls before.
    pub order: Order,
    /// Where new stock ends and offcuts begin in `order.stocks`.
    pub new_stocks: usize,
    /// Cuts from offcuts first, then from new stock.
    pub plan: CutPlan,
}

/// The lengths of one product for the whole building.
#[derive(Clone, Debug, PartialEq)]
pub struct ProductPlan {
    /// What is cut.
    pub product: ProductId,
    /// Wall by wall, in the order of the faces.
    pub walls: Vec<WallPlan>,
    /// New lengths to buy, longest first: length and count.
    pub buy: Vec<(Length, u64)>,
    /// What they cost, in the unit of the costs: millimetres of stock, or cents where every length has a price.
    pub cost: i64,
    /// No way of cutting all walls together costs less.
    pub bound: i64,
    /// Costs are prices.
    pub priced: bool,
    /// What is left at the end and worth keeping, longest first.
    pub offcuts: Vec<Length>,
    /// Least length of those.
    pub keep: Length,
}

impl ProductPlan {
    /// Parts that no stock is long enough for, as places in [`CutPlans::parts`].
    pub fn too_long(&self) -> impl Iterator<Item = usize> {
        self.walls.iter().flat_map(|wall| wall.plan.left.iter().filter_map(|(at, _)| wall.parts.get(*at).copied()))
    }
}

/// Everything that is cut from lengths, and what it is cut from.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CutPlans {
    /// Cladding, then trims, then furring.
    pub parts: Vec<Part>,
    /// In the order of the products.
    pub products: Vec<ProductPlan>,
}

/// Everything that is cut from lengths. Panels are cut from sheets, and what says no stock length is bought by measure.
pub fn parts(model: &Model, plan: &Plan, pieces: &Pieces, trims: &Trims) -> Vec<Part> {
    let area = |face: FaceId, area: usize| {
        let face = model.face(face);
        face.and_then(|face| Some(format!("{}.{}", face.name, face.areas.get(area)?.name))).unwrap_or_default()
    };
    // What is too small to fix is cut by nobody.
    let cut = pieces.list.iter().filter(|piece| piece.kind != PieceKind::Panel && !piece.too_small);
    let boards = cut.filter_map(|piece| {
        let (product, mark) = (piece.product?, written(&piece.mark, piece.hand));
        let place = area(piece.face, piece.area);
        Some(Part { mark, face: piece.face, purpose: Use::Cladding, place, product, length: piece.length })
    });
    let lengths = trims.list.iter().filter_map(|piece| {
        let (product, mark) = (piece.product?, written(&piece.mark, piece.hand));
        let length = piece.from_stock(model.product(product)?);
        Some(Part { mark, face: piece.face, purpose: Use::Trim, place: piece.name.clone(), product, length })
    });
    let faces = (0..model.faces.len()).map(|face| FaceId(face as u32));
    let strips = faces.flat_map(|face| furring_map::of_face(model, plan, face).into_iter().map(move |one| (face, one)));
    let furring = strips.flat_map(|(face, strip)| {
        let Some(product) = strip.product else { return Vec::new() };
        let place = area(face, strip.area);
        let part = |mark: String, length: Length| Part {
            mark,
            face,
            purpose: Use::Furring,
            place: place.clone(),
            product,
            length,
        };
        if strip.spliced.is_empty() {
            return vec![part(strip.mark, strip.length)];
        }
        let lengths = strip.spliced.iter().enumerate();
        lengths.map(|(at, &length)| part(format!("{}/{}", strip.mark, at + 1), length)).collect()
    });
    let all = boards.chain(lengths).chain(furring);
    let sold = |part: &Part| model.product(part.product).is_some_and(|product| !product.stock.is_empty());
    all.filter(|part| part.length > Length::ZERO && sold(part)).collect()
}

/// Plans for all parts, product by product. One who watches may stop the search: the best plan so far is kept, and what
/// comes after is cut by hand's rules.
pub fn of_parts(model: &Model, parts: Vec<Part>, watch: Watch<'_>) -> CutPlans {
    let (kerf, keep) = (kerf(model), keep(model));
    let mut by_product: BTreeMap<ProductId, Vec<usize>> = BTreeMap::new();
    for (at, part) in parts.iter().enumerate() {
        by_product.entry(part.product).or_default().push(at);
    }
    let mut products = Vec::new();
    for (product, mut places) in by_product {
        let Some(bought) = model.product(product) else { continue };
        places.sort_by_key(|&at| parts[at].face);
        products.push(of_product((bought, product), &parts, places, (kerf, keep), watch));
    }
    CutPlans { parts, products }
}

fn of_product(
    (bought, product): (&Product, ProductId),
    list: &[Part],
    places: Vec<usize>,
    (kerf, keep): (Length, Length),
    watch: Watch<'_>,
) -> ProductPlan {
    let (stocks, priced) = stocks(bought);
    let wants =
        |places: &[usize]| places.iter().map(|&at| Want { length: list[at].length, count: 1 }).collect::<Vec<_>>();
    let whole = cutting::plan_watched(&Order { wants: wants(&places), stocks: stocks.clone(), kerf }, watch);
    let mut offcuts: BTreeMap<Length, u64> = BTreeMap::new();
    let mut walls = Vec::new();
    for face in faces(list, &places) {
        let own: Vec<usize> = places.iter().copied().filter(|&at| list[at].face == face).collect();
        let wanted = wants(&own);
        let wall = of_wall((face, product), (own, wanted), &stocks, kerf, &offcuts, watch);
        for bar in &wall.plan.bars {
            if bar.stock >= wall.new_stocks {
                let length = wall.order.stocks[bar.stock].length;
                offcuts.entry(length).and_modify(|count| *count = count.saturating_sub(bar.count));
            }
            if bar.offcut >= keep {
                *offcuts.entry(bar.offcut).or_default() += bar.count;
            }
        }
        offcuts.retain(|_, count| *count > 0);
        walls.push(wall);
    }
    let bought = |stock: usize| walls.iter().map(|wall| wall.plan.count_of(stock)).sum::<u64>();
    let mut buy: Vec<(Length, u64)> = stocks.iter().enumerate().map(|(at, stock)| (stock.length, bought(at))).collect();
    let cost = stocks.iter().enumerate().map(|(at, stock)| stock.cost.saturating_mul(bought(at) as i64)).sum();
    buy.retain(|(_, count)| *count > 0);
    buy.sort_unstable_by(|one, two| two.cmp(one));
    let left = offcuts.into_iter().rev().flat_map(|(length, count)| std::iter::repeat_n(length, count as usize));
    ProductPlan { product, buy, cost, bound: whole.bound.min(cost), priced, offcuts: left.collect(), keep, walls }
}

fn faces(list: &[Part], places: &[usize]) -> Vec<FaceId> {
    let mut faces: Vec<FaceId> = places.iter().map(|&at| list[at].face).collect();
    faces.dedup();
    faces
}

/// What the offcuts hold first, the rest from new stock.
fn of_wall(
    (face, product): (FaceId, ProductId),
    (parts, wants): (Vec<usize>, Vec<Want>),
    new: &[Stock],
    kerf: Length,
    offcuts: &BTreeMap<Length, u64>,
    watch: Watch<'_>,
) -> WallPlan {
    let old: Vec<Stock> =
        offcuts.iter().rev().map(|(&length, &count)| Stock { length, cost: 1, available: Some(count) }).collect();
    let first = cutting::plan_watched(&Order { wants: wants.clone(), stocks: old.clone(), kerf }, watch);
    let mut rest = wants.clone();
    rest.iter_mut().for_each(|want| want.count = 0);
    first.left.iter().for_each(|&(at, count)| rest[at].count = count);
    let mut plan = cutting::plan_watched(&Order { wants: rest, stocks: new.to_vec(), kerf }, watch);
    let mut bars: Vec<cutting::Bar> =
        first.bars.into_iter().map(|bar| cutting::Bar { stock: bar.stock + new.len(), ..bar }).collect();
    bars.append(&mut plan.bars);
    plan.bars = bars;
    let stocks = new.iter().copied().chain(old).collect();
    WallPlan { face, product, parts, order: Order { wants, stocks, kerf }, new_stocks: new.len(), plan }
}

/// The lengths it is sold in, at their prices in cents if all have one; else the cost is the length in mm.
fn stocks(product: &Product) -> (Vec<Stock>, bool) {
    let prices = product.stock.iter().map(|&length| (length, price::of_length(product, length)));
    priced_stocks(&prices.collect::<Vec<_>>())
}

/// Stock of lengths with their prices: the cost is in cents if all have one, else in millimetres; and whether it is cents.
pub(super) fn priced_stocks(lengths: &[(Length, Option<f64>)]) -> (Vec<Stock>, bool) {
    let cents = |price: Option<f64>| price.map(|price| (price * 100.0).round() as i64).filter(|cents| *cents > 0);
    let priced = !lengths.is_empty() && lengths.iter().all(|(_, price)| cents(*price).is_some());
    let stock = |&(length, price): &(Length, Option<f64>)| {
        let cost = if priced { cents(price).unwrap_or(1) } else { (length.0 / Length::MM.0).max(1) };
        Stock { length, cost, available: None }
    };
    (lengths.iter().map(stock).collect(), priced)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_part_is_cut_once_and_nothing_is_lost() {
        let checked = crate::session::heron_lane();
        let CutPlans { parts, products } = checked.cut_plans();
        for purpose in [Use::Cladding, Use::Trim, Use::Furring] {
            assert!(parts.iter().any(|part| part.purpose == purpose), "{purpose:?}");
        }
        let mut cut = vec![0u64; parts.len()];
        for plan in products {
            assert_eq!(plan.too_long().count(), 0, "{:?}", checked.model.product(plan.product).unwrap().name);
            let (mut used, mut out_of, mut back) = (0i64, 0i64, 0i64);
            for wall in &plan.walls {
                for bar in &wall.plan.bars {
                    bar.pieces.iter().for_each(|&(at, count)| cut[wall.parts[at]] += count * bar.count);
                    let pieces: i64 = bar.pieces.iter().map(|&(at, n)| parts[wall.parts[at]].length.0 * n as i64).sum();
                    let stock = wall.order.stocks[bar.stock].length.0;
                    assert_eq!(pieces + bar.kerf.0 + bar.offcut.0, stock);
                    let count = bar.count as i64;
                    used += (pieces + bar.kerf.0) * count;
                    out_of += if bar.stock < wall.new_stocks { 0 } else { stock * count };
                    back += bar.offcut.0 * count;
                }
            }
            // Over all walls: what is bought, and what is taken up again, is pieces, kerf and what is left.
            let bought: i64 = plan.buy.iter().map(|(length, count)| length.0 * *count as i64).sum();
            assert_eq!(bought + out_of, used + back);
            let kept: i64 = plan.offcuts.iter().map(|length| length.0).sum();
            assert!(kept <= back - out_of, "an offcut is kept twice");
            assert!(plan.bound <= plan.cost);
        }
        assert!(cut.iter().all(|&count| count == 1));
    }

    #[test]
    fn a_search_that_is_stopped_still_cuts_everything_and_claims_no_more_than_it_knows() {
        let checked = crate::session::heron_lane();
        let parts = checked.cut_plans().parts.clone();
        let stopped = of_parts(&checked.model, parts, &mut |_, _| cutting::Go::Stop);
        for (plan, best) in stopped.products.iter().zip(&checked.cut_plans().products) {
            assert_eq!(plan.too_long().count(), 0);
            let (cut, wanted) = plan.walls.iter().fold((0, 0), |(cut, wanted), wall| {
                let of = |bar: &cutting::Bar| bar.count * bar.pieces.iter().map(|(_, count)| count).sum::<u64>();
                (cut + wall.plan.bars.iter().map(of).sum::<u64>(), wanted + wall.parts.len() as u64)
            });
            assert_eq!(cut, wanted);
            assert!(plan.bound <= best.cost && plan.bound <= plan.cost);
        }
    }
}
