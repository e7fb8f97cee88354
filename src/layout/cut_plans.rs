//! Which boards to cut which pieces from: wall by wall, with the offcuts of one wall used on the next.

use std::collections::BTreeMap;

use super::cutting::{self, CutPlan, Order, Stock, Want};
use super::pieces::{Piece, PieceKind, Pieces};
use crate::model::{FaceId, Model, Product, ProductId};
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

/// The boards of one product for one wall.
#[derive(Clone, Debug, PartialEq)]
pub struct WallPlan {
    /// The wall.
    pub face: FaceId,
    /// What is cut.
    pub product: ProductId,
    /// Pieces, as places in [`Pieces::list`]; the same places as `order.wants`.
    pub pieces: Vec<usize>,
    /// What was asked: pieces, new stock, then offcuts of walls before.
    pub order: Order,
    /// Where new stock ends and offcuts begin in `order.stocks`.
    pub new_stocks: usize,
    /// Cuts from offcuts first, then from new stock.
    pub plan: CutPlan,
}

/// The boards of one product for the whole building.
#[derive(Clone, Debug, PartialEq)]
pub struct ProductPlan {
    /// What is cut.
    pub product: ProductId,
    /// Wall by wall, in the order of the pieces.
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

/// Plans for everything that is cut from lengths. Panels are cut from sheets, not here.
pub fn of_pieces(model: &Model, pieces: &Pieces) -> Vec<ProductPlan> {
    let (kerf, keep) = (kerf(model), keep(model));
    let mut products: BTreeMap<ProductId, Vec<usize>> = BTreeMap::new();
    for (at, piece) in
        pieces.list.iter().enumerate().filter(|(_, piece)| piece.kind != PieceKind::Panel && !piece.too_small)
    {
        if let Some(product) = piece.product {
            products.entry(product).or_default().push(at);
        }
    }
    let plan = |(product, places)| Some(of_product(model.product(product)?, product, &pieces.list, places, kerf, keep));
    products.into_iter().filter_map(plan).collect()
}

fn of_product(
    bought: &Product,
    product: ProductId,
    list: &[Piece],
    places: Vec<usize>,
    kerf: Length,
    keep: Length,
) -> ProductPlan {
    let (stocks, priced) = stocks(bought);
    let wants =
        |places: &[usize]| places.iter().map(|&at| Want { length: list[at].length, count: 1 }).collect::<Vec<_>>();
    let whole = cutting::plan(&Order { wants: wants(&places), stocks: stocks.clone(), kerf });
    let mut offcuts: BTreeMap<Length, u64> = BTreeMap::new();
    let mut walls = Vec::new();
    for face in faces(list, &places) {
        let own: Vec<usize> = places.iter().copied().filter(|&at| list[at].face == face).collect();
        let wall = of_wall(face, product, own, wants, &stocks, kerf, &offcuts);
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

fn faces(list: &[Piece], places: &[usize]) -> Vec<FaceId> {
    let mut faces: Vec<FaceId> = places.iter().map(|&at| list[at].face).collect();
    faces.dedup();
    faces
}

/// What the offcuts hold first, the rest from new stock.
fn of_wall(
    face: FaceId,
    product: ProductId,
    pieces: Vec<usize>,
    wants: impl Fn(&[usize]) -> Vec<Want>,
    new: &[Stock],
    kerf: Length,
    offcuts: &BTreeMap<Length, u64>,
) -> WallPlan {
    let wants = wants(&pieces);
    let old: Vec<Stock> =
        offcuts.iter().rev().map(|(&length, &count)| Stock { length, cost: 1, available: Some(count) }).collect();
    let first = cutting::plan(&Order { wants: wants.clone(), stocks: old.clone(), kerf });
    let mut rest = wants.clone();
    rest.iter_mut().for_each(|want| want.count = 0);
    first.left.iter().for_each(|&(at, count)| rest[at].count = count);
    let mut plan = cutting::plan(&Order { wants: rest, stocks: new.to_vec(), kerf });
    let mut bars: Vec<cutting::Bar> =
        first.bars.into_iter().map(|bar| cutting::Bar { stock: bar.stock + new.len(), ..bar }).collect();
    bars.append(&mut plan.bars);
    plan.bars = bars;
    let stocks = new.iter().copied().chain(old).collect();
    WallPlan { face, product, pieces, order: Order { wants, stocks, kerf }, new_stocks: new.len(), plan }
}

/// The lengths it is sold in, priced if it has a price by the piece or by the metre; else the cost is the length in mm.
fn stocks(product: &Product) -> (Vec<Stock>, bool) {
    let price = |length: Length| match product.price {
        Some((amount, Some("metre"))) => Some(amount * length.as_m()),
        Some((amount, Some("piece"))) if product.stock.len() == 1 => Some(amount),
        _ => None,
    };
    let cents: Vec<Option<i64>> = product
        .stock
        .iter()
        .map(|&length| price(length).map(|price| (price * 100.0).round() as i64).filter(|cost| *cost > 0))
        .collect();
    let priced = cents.iter().all(Option::is_some) && !cents.is_empty();
    let stock = |(&length, cents): (&Length, &Option<i64>)| {
        let cost = if priced { cents.unwrap_or(1) } else { (length.0 / Length::MM.0).max(1) };
        Stock { length, cost, available: None }
    };
    (product.stock.iter().zip(&cents).map(stock).collect(), priced)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_piece_is_cut_once_and_offcuts_are_used_up() {
        let checked = crate::session::heron_lane();
        let pieces = super::super::pieces::cut(&checked.model, &checked.plan, 20.0);
        let plans = of_pieces(&checked.model, &pieces);
        let mut cut = vec![0u64; pieces.list.len()];
        for plan in &plans {
            for wall in &plan.walls {
                assert!(wall.plan.left.is_empty());
                for bar in &wall.plan.bars {
                    bar.pieces.iter().for_each(|&(at, count)| cut[wall.pieces[at]] += count * bar.count);
                }
            }
            let pieces: i64 = plan.walls.iter().flat_map(|wall| &wall.order.wants).map(|want| want.length.0).sum();
            let bought: i64 = plan.buy.iter().map(|(length, count)| length.0 * *count as i64).sum();
            let kerf: i64 =
                plan.walls.iter().flat_map(|wall| &wall.plan.bars).map(|bar| bar.kerf.0 * bar.count as i64).sum();
            // What is not piece, kerf or kept is waste, and there is no more waste than a tenth.
            let kept: i64 = plan.offcuts.iter().map(|length| length.0).sum();
            let waste = bought - pieces - kerf - kept;
            assert!(waste >= 0 && waste * 10 < bought, "{waste} of {bought}");
            assert!(plan.bound <= plan.cost);
        }
        // All but those too small to fix, which nobody cuts.
        assert!(cut.iter().zip(&pieces.list).all(|(&count, piece)| count == u64::from(!piece.too_small)));
    }
}
