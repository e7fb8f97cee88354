//! What goods cost, and how many rolls, boxes, tubes or sheets of them make up a measure: the one place that reads prices.

use super::Amount;
use crate::model::Product;
use crate::units::{Length, display};

/// Whole packs that make up a measure, as a merchant counts them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Packs {
    /// How many, upwards.
    pub count: u64,
    /// Of what, in words: `rolls of 1500 mm × 50 m`.
    pub words: String,
}

/// The price that can be applied: above nothing.
fn price(product: &Product) -> Option<(f64, &'static str)> {
    let (amount, unit) = product.price?;
    (amount > 0.0).then_some((amount, unit.unwrap_or("piece")))
}

/// What one length of stock costs: priced by the metre, or by the piece where it is sold in one length only.
pub fn of_length(product: &Product, length: Length) -> Option<f64> {
    match price(product)? {
        (amount, "metre") => Some(amount * length.as_m()),
        (amount, "piece") if product.stock.len() == 1 => Some(amount),
        _ => None,
    }
}

/// What a measure of it costs. Pieces, rolls, boxes and tubes are whole, upwards; `None` where its price is by another
/// measure, or where how much is in one is not said.
pub fn of_amount(product: &Product, amount: Amount) -> Option<f64> {
    let whole = |each: f64, count: Option<u64>| count.map(|count| each * count as f64);
    match (price(product)?, amount) {
        ((each, "square_metre"), Amount::Area(_)) | ((each, "metre"), Amount::Length(_)) => Some(each * amount.si()),
        ((each, "roll"), _) => whole(each, rolls(product, amount)),
        ((each, "tube"), _) => whole(each, tubes(product, amount)),
        ((each, "box"), _) => whole(each, boxes(product, amount)),
        ((each, "piece"), Amount::Count(count)) => Some(each * count as f64),
        ((each, "piece"), Amount::Area(_)) => whole(each, sheets(product, amount)),
        _ => None,
    }
}

/// The packs it is sold in, if how much is in one is said.
pub fn packs(product: &Product, amount: Amount) -> Option<Packs> {
    let packs = |(count, one, many): (u64, &str, &str), size: String| Packs {
        count,
        words: format!("{}{size}", if count == 1 { one } else { many }),
    };
    let measured = |size: &[Length]| match size {
        [width, long, ..] => format!(" of {} × {}", display::mm(*width), display::metres(*long)),
        _ => String::new(),
    };
    if let Some(count) = rolls(product, amount) {
        return Some(packs((count, "roll", "rolls"), measured(&product.roll)));
    }
    if let Some(count) = sheets(product, amount) {
        let size = product.sheet.iter().map(|side| display::mm(*side)).collect::<Vec<_>>().join(" × ");
        return Some(packs((count, "sheet", "sheets"), format!(" of {size}")));
    }
    if let Some(count) = boxes(product, amount) {
        return Some(packs((count, "box", "boxes"), format!(" of {}", product.pack.unwrap_or_default())));
    }
    let tubes = tubes(product, amount).filter(|_| !amount.is_count());
    tubes.map(|count| packs((count, "tube", "tubes"), String::new()))
}

/// Whole rolls: by area, or by length for tape, which is used as wide as it comes, and for what says how much a roll yields.
fn rolls(product: &Product, amount: Amount) -> Option<u64> {
    let &[width, long, ..] = product.roll.as_slice() else { return None };
    match amount {
        Amount::Area(area) => upwards(area.0, (width * long).0),
        Amount::Length(length) => {
            let one = product.yields.or_else(|| (product.kind == "tape").then_some(long))?;
            upwards(length.0.into(), one.0.into())
        }
        Amount::Count(_) => None,
    }
}

/// Whole tubes; a bead needs to know what one tube yields. What comes in rolls comes in no tubes.
fn tubes(product: &Product, amount: Amount) -> Option<u64> {
    match amount {
        Amount::Length(length) if product.roll.is_empty() => upwards(length.0.into(), product.yields?.0.into()),
        Amount::Count(count) => Some(count),
        _ => None,
    }
}

fn boxes(product: &Product, amount: Amount) -> Option<u64> {
    upwards(tubes(product, amount)?.into(), product.pack?.into())
}

fn sheets(product: &Product, amount: Amount) -> Option<u64> {
    let (&[width, height, ..], Amount::Area(area)) = (product.sheet.as_slice(), amount) else { return None };
    upwards(area.0, (width * height).0)
}

fn upwards(amount: i128, one: i128) -> Option<u64> {
    let whole = |amount: i128| amount.div_euclid(one) + i128::from(amount.rem_euclid(one) > 0);
    (one > 0).then(|| u64::try_from(whole(amount.max(0))).ok()).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Area;

    fn square_metres(area: f64) -> Amount {
        Amount::Area(Area((area * 1e18) as i128))
    }

    #[test]
    fn rolls_boxes_tubes_and_sheets_are_whole() {
        let checked = crate::session::heron_lane();
        let of = |name: &str, price: (f64, &'static str)| {
            let mut product =
                checked.model.products.iter().find(|one| super::super::qualified(one) == name).unwrap().clone();
            product.price = Some((price.0, Some(price.1)));
            product
        };
        // Arithmetic: 151 m² from rolls of 1.5 × 50 m = 75 m² is 3; 51 m of tape from rolls of 25 m is 3; 251 from 250 is 2.
        let membrane = of("membranes.vapour_open", (120.0, "roll"));
        let one = (membrane.roll[0] * membrane.roll[1]).as_m2();
        assert_eq!(of_amount(&membrane, square_metres(2.0 * one + 0.01)), Some(360.0));
        // A strip of some width: how many come from one roll is not said.
        assert_eq!(of_amount(&membrane, Amount::Length(Length::mm(1_000))), None);
        let tape = of("tapes.acrylic", (30.0, "roll"));
        assert_eq!(of_amount(&tape, Amount::Length(tape.roll[1] * 2 + Length::MM)), Some(90.0));
        let screws = of("screws.stainless", (25.0, "box"));
        let pack = screws.pack.unwrap() as u64;
        assert_eq!(of_amount(&screws, Amount::Count(pack + 1)), Some(50.0));
        assert_eq!(packs(&screws, Amount::Count(pack)).unwrap().words, format!("box of {pack}"));
        let mut bead = of("screws.stainless", (9.0, "tube"));
        assert_eq!(of_amount(&bead, Amount::Length(Length::mm(25_000))), None);
        bead.yields = Some(Length::mm(12_000));
        assert_eq!(of_amount(&bead, Amount::Length(Length::mm(25_000))), Some(27.0));
        bead.price = Some((100.0, Some("box")));
        bead.pack = Some(2);
        assert_eq!(of_amount(&bead, Amount::Length(Length::mm(25_000))), Some(200.0));
        let sheet = of("sheets.plywood", (60.0, "piece"));
        let area = (sheet.sheet[0] * sheet.sheet[1]).as_m2();
        assert_eq!(of_amount(&sheet, square_metres(area * 1.5)), Some(120.0));
    }
}
