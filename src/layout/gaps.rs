//! The gap to leave today: for each product and length, by the temperature of its surface when it goes on.
//!
//! g(T) = g_min + αL(T_max − T) at the cold end of a band, lap(T) = lap_min + αL(T − T_min) at its warm end, so that every day
//! in the band is served. Common practice, no source; a maker's number outranks it.

use std::collections::{BTreeMap, BTreeSet};

use super::folds::Folds;
use super::pieces::Pieces;
use super::trims;
use crate::model::{Model, Product, ProductId};
use crate::physics::movement;
use crate::units::Length;

/// Bands of surface temperature, °C.
pub const BANDS: [(f64, f64); 8] =
    [(-30.0, -20.0), (-20.0, -10.0), (-10.0, 0.0), (0.0, 10.0), (10.0, 20.0), (20.0, 30.0), (30.0, 40.0), (40.0, 50.0)];
/// Least gap where neither the maker nor a limit `joint.least` says one. Common practice, no source.
const GAP: Length = Length(1_500_000);
/// Least lap on the coldest day where no limit `trim.lap_cold` is in force. Common practice, no source.
const LAP: Length = Length::mm(10);

/// One product in one length.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// What.
    pub product: ProductId,
    /// How long it is.
    pub length: Length,
    /// Hottest and coldest its surface gets, °C.
    pub range: (f64, f64),
    /// Gap at an end, by [`BANDS`].
    pub gaps: [Length; 8],
    /// Lap of two lengths, by [`BANDS`].
    pub laps: [Length; 8],
}

/// Gap at an end of a length whose surface is at `set` °C when it goes on, upwards to half a millimetre.
pub fn gap(least: Length, expansion: f64, length: Length, set: f64, hottest: f64) -> Length {
    up(movement::gap_when_set(least.as_m(), expansion, length.as_m(), set, hottest))
}

/// Lap of two lengths whose surface is at `set` °C when they go on, upwards to half a millimetre.
pub fn lap(least: Length, expansion: f64, length: Length, set: f64, coldest: f64) -> Length {
    up(movement::lap_when_set(least.as_m(), expansion, length.as_m(), set, coldest))
}

/// What must be left of a gap on the hottest day: the maker's number, or the limit `joint.least`.
fn least_gap(model: &Model, product: &Product) -> Length {
    product.joint_gap.as_ref().map_or_else(|| limit(model, "joint.least", GAP), |gap| gap.value)
}

fn limit(model: &Model, name: &str, otherwise: Length) -> Length {
    model.limit(name).and_then(|limit| limit.length()).unwrap_or(otherwise)
}

/// The gap at an end of the longest stock of a product on a day on which surfaces are at `set` °C, as the card has it; the least
/// gap alone where its stock or how it moves is not said.
pub fn of_day(model: &Model, product: Option<&Product>, set: f64) -> Length {
    let Some(product) = product else { return limit(model, "joint.least", GAP) };
    let least = least_gap(model, product);
    let moves = trims::expansion(model, product).zip(product.stock.iter().max());
    moves.map_or(least, |(expansion, stock)| gap(least, expansion, *stock, set, trims::range(model, product).1))
}

fn up(metres: f64) -> Length {
    Length::snap_mm((metres * 2000.0 - 1e-6).ceil() / 2.0)
}

/// Spare pieces to order: a share of the pieces, upwards, and one full length more of each trim. The share is 2 to 3 %,
/// common practice, no source.
pub fn spare(pieces: u64, share: f64, trim: bool) -> u64 {
    (pieces as f64 * share.max(0.0) - 1e-9).ceil().max(0.0) as u64 + u64::from(trim)
}

/// The rows: everything that is cut from lengths and moves, and folded metal in its longest piece.
pub fn find(model: &Model, pieces: &Pieces, folds: &Folds) -> Vec<Row> {
    let mut lengths: BTreeMap<ProductId, BTreeSet<Length>> = BTreeMap::new();
    let boards = pieces.list.iter().filter_map(|piece| piece.product);
    let trims = model.faces.iter().flat_map(|face| &face.trims).map(|trim| trim.product);
    let places = |detail: &crate::model::Detail| {
        let places = [Some(&detail.edge), detail.head.as_ref(), detail.jamb.as_ref(), detail.sill.as_ref()];
        let parts = places.into_iter().flatten().flat_map(|place| &place.parts);
        parts.filter(|part| part.kind == "trim").filter_map(|part| part.stuff.product).collect::<Vec<_>>()
    };
    let casings: Vec<ProductId> = model.details.iter().flat_map(places).collect();
    for id in boards.chain(trims).chain(casings) {
        let Some(product) = model.product(id) else { continue };
        lengths.entry(id).or_default().extend(product.stock.iter().copied());
    }
    for blank in &folds.blanks {
        let Some(profile) = folds.profiles.get(blank.profile) else { continue };
        let longest = lengths.entry(profile.product).or_default();
        let most = longest.iter().copied().max().unwrap_or_default().max(blank.length);
        *longest = BTreeSet::from([most]);
    }
    let rows = lengths
        .into_iter()
        .flat_map(|(id, lengths)| lengths.into_iter().filter_map(move |length| row(model, id, length)));
    rows.collect()
}

fn row(model: &Model, id: ProductId, length: Length) -> Option<Row> {
    let product: &Product = model.product(id)?;
    let expansion = trims::expansion(model, product)?;
    let least = least_gap(model, product);
    let least_lap = limit(model, "trim.lap_cold", LAP);
    let (coldest, hottest) = trims::range(model, product);
    Some(Row {
        product: id,
        length,
        range: (hottest, coldest),
        gaps: BANDS.map(|band| gap(least, expansion, length, band.0, hottest)),
        laps: BANDS.map(|band| lap(least_lap, expansion, length, band.1, coldest)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gaps_and_laps_by_hand() {
        // Aluminium 3050: 75 K is 5.4 mm and 1.5 is 7; 40 K is 2.9 and 1.5 is 4.4. From 25 to −40 it shortens by 4.7.
        let moved = |kelvins| movement::change(23.6e-6, 3.05, kelvins) * 1000.0;
        assert!(
            (moved(75.0) - 5.4).abs() < 0.05 && (moved(40.0) - 2.9).abs() < 0.05 && (moved(65.0) - 4.7).abs() < 0.05
        );
        let least = Length::snap_mm(1.5);
        let of = |from| gap(least, 23.6e-6, Length::mm(3050), from, 65.0);
        assert_eq!((of(-10.0), of(25.0)), (Length::mm(7), Length::snap_mm(4.5)));
        assert_eq!(lap(Length::mm(10), 23.6e-6, Length::mm(3050), 25.0, -40.0), Length::mm(15));
        // PVC 3660: 17 mm and 9.2 mm, with 62e-6 per kelvin. Steel 3050: 2.7 mm. Fibre-cement 3660: 2.5 mm.
        assert!((movement::change(62e-6, 3.66, 75.0) * 1000.0 - 17.0).abs() < 0.05);
        assert!((movement::change(62e-6, 3.66, 40.0) * 1000.0 - 9.2).abs() < 0.15);
        assert!((movement::change(12e-6, 3.05, 75.0) * 1000.0 - 2.7).abs() < 0.05);
        assert!((movement::change(9e-6, 3.66, 75.0) * 1000.0 - 2.5).abs() < 0.05);
    }

    #[test]
    fn colder_days_ask_for_more_gap_and_warmer_days_for_more_lap() {
        let gaps = BANDS.map(|band| gap(Length::mm(3), 60e-6, Length::mm(3660), band.0, 60.0));
        let laps = BANDS.map(|band| lap(Length::mm(10), 60e-6, Length::mm(3660), band.1, -40.0));
        assert!(gaps.windows(2).all(|pair| pair[0] > pair[1]) && laps.windows(2).all(|pair| pair[0] < pair[1]));
        assert!(BANDS.windows(2).all(|pair| pair[0].1 == pair[1].0));
    }

    #[test]
    fn the_card_serves_the_cold_end_for_gaps_and_the_warm_end_for_laps() {
        let checked = crate::session::heron_lane();
        let rows = find(&checked.model, checked.pieces(), checked.folds());
        assert!(!rows.is_empty());
        for row in rows {
            let product = checked.model.product(row.product).unwrap();
            let moves = trims::expansion(&checked.model, product).unwrap();
            let moved = |kelvins: f64| movement::change(moves, row.length.as_m(), kelvins);
            let least =
                [row.gaps[7].as_m() - moved(row.range.0 - 40.0), row.laps[0].as_m() - moved(-20.0 - row.range.1)];
            for (at, (cold, warm)) in BANDS.into_iter().enumerate() {
                // What is over of each is the least and what was rounded up, under half a millimetre either way.
                let gap = row.gaps[at].as_m() - moved(row.range.0 - cold);
                let lap = row.laps[at].as_m() - moved(warm - row.range.1);
                assert!((gap - least[0]).abs() < 5e-4 && (lap - least[1]).abs() < 5e-4, "{} {at}", product.name);
            }
        }
    }

    #[test]
    fn spares() {
        assert_eq!(spare(100, 0.02, false), 2);
        assert_eq!(spare(101, 0.03, true), 5);
        assert_eq!(spare(0, 0.02, true), 1);
    }
}
