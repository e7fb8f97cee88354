//! Screws and nails: of cladding by strip and course, of strips and parts by their spacing.

use super::areas::{Part, exposure};
use super::row::{Amount, Group, Row};
use super::{Counting, arithmetic};
use crate::layout::holes::both_ends;
use crate::model::{Direction, Fasten, Furring, Gap, Layer};
use crate::units::{Length, display};

/// Least distance from the end where none was said, for counting alone: 50 mm (common practice, no source).
const END: Length = Length::mm(50);

/// Screws of the cladding: one on each strip in each course, times its rows; by area where there are no strips.
pub(super) fn cladding(counting: &mut Counting<'_>, part: Part<'_>, layer: &Layer) {
    let Some(fasten) = &layer.fasten else { return };
    let rows = fasten.rows.unwrap_or(1).max(1) as u64;
    let of = |row: Row| row.of_id(counting.model, fasten.product).note(size(fasten));
    let what = format!("for {}", layer.name);
    let Some((exposure, _)) = exposure(part, layer) else {
        let row = part.row(Group::Fasteners, &what, Amount::Count(0), "");
        let row = of(row).lacks("no exposure is known");
        return counting.rows.push(row);
    };
    // Boards that lie are held on upright strips; boards that stand, on lying ones.
    let strips = part.plan.strips.iter().filter(|strip| strip.horizontal == layer.runs_vertical);
    let long: Length = strips.map(|strip| strip.axis.length()).sum();
    let row = if long > Length::ZERO {
        let count = (long.as_mm() / exposure.as_mm() - 1e-9).ceil().max(0.0) as u64 * rows;
        let basis =
            format!("one on each strip in each course of {} (common practice, no source)", display::mm(exposure));
        part.row(Group::Fasteners, &what, Amount::Count(count), &basis)
    } else {
        let spacing = spacing_behind(part).or(fasten.spacing);
        let count = spacing.and_then(|spacing| arithmetic::fasteners_on(part.plan.net.area(), spacing, exposure));
        let row = part.row(
            Group::Fasteners,
            &what,
            Amount::Count(count.unwrap_or(0) * rows),
            "1/(spacing × exposure) for each m² (common practice, no source)",
        );
        if count.is_none() { row.lacks("no spacing is known") } else { row }
    };
    counting.rows.push(of(row));
}

/// Spacing of furring, or of the framing where there is none.
fn spacing_behind(part: Part<'_>) -> Option<Length> {
    let furring = part.assembly.gap().and_then(|(_, gap)| gap.furring.first()).and_then(|furring| furring.spacing);
    furring.or_else(|| part.assembly.frame().and_then(|(_, frame)| frame.spacing))
}

/// Screws of the strips: both ends alike, none further apart than was said.
pub(super) fn furring(counting: &mut Counting<'_>, part: Part<'_>, furring: &Furring, gap: &Gap) {
    let Some(fasten) = &furring.fasten else { return };
    let lying = furring.direction == Some(Direction::Horizontal);
    let row = part.row(
        Group::Fasteners,
        "for furring",
        Amount::Count(0),
        "on every strip, both ends alike, none further apart than was said",
    );
    let row = row.of_id(counting.model, fasten.product).note(size(fasten));
    let Some(most) = fasten.spacing.filter(|spacing| *spacing > Length::ZERO) else {
        return counting.rows.push(row.lacks("no spacing was said"));
    };
    let end = fasten.end_distance.unwrap_or(END);
    let own = part.plan.strips.iter().filter(|strip| gap.furring.len() == 1 || strip.horizontal == lying);
    let count = own.map(|strip| both_ends(strip.axis.length(), end, most).len() as u64).sum();
    counting.rows.push(Row { net: Some(Amount::Count(count)), ..row });
}

/// Fasteners of a board or insulation: by their own spacing along the framing.
pub(super) fn layer(counting: &mut Counting<'_>, part: Part<'_>, layer: &Layer) {
    let Some(fasten) = &layer.fasten else { return };
    let across = part.assembly.frame().and_then(|(_, frame)| frame.spacing).or(fasten.spacing);
    let count = fasten
        .spacing
        .zip(across)
        .and_then(|(along, across)| arithmetic::fasteners_on(part.plan.net.area(), along, across));
    let what = format!("for {}", layer.name);
    let row = part.row(
        Group::Fasteners,
        &what,
        Amount::Count(count.unwrap_or(0)),
        "1/(spacing × framing) for each m² (common practice, no source)",
    );
    let row = row.of_id(counting.model, fasten.product).note(size(fasten));
    counting.rows.push(if count.is_none() { row.lacks("no spacing was said") } else { row });
}

/// Fasteners along a line.
pub(super) fn along(counting: &mut Counting<'_>, face: &str, place: &str, fasten: &Fasten, length: Length) {
    let basis = "along its length, both ends alike, none further apart than was said";
    let row = Row::new(Group::Fasteners, "for a part", face, place, Amount::Count(0), basis);
    let row = row.of_id(counting.model, fasten.product).note(size(fasten));
    counting.rows.push(match fasten.spacing.filter(|spacing| *spacing > Length::ZERO) {
        Some(most) => {
            let count = both_ends(length, fasten.end_distance.unwrap_or(END), most).len() as u64;
            Row { net: Some(Amount::Count(count)), ..row }
        }
        None => row.lacks("no spacing was said"),
    });
}

/// `4.5 × 50 mm`.
pub(super) fn size(fasten: &Fasten) -> String {
    match (fasten.diameter, fasten.length) {
        (Some(thick), Some(long)) => format!("{} × {}", display::mm_figure(thick), display::mm(long)),
        (None, Some(long)) => display::mm(long),
        _ => "size not said".to_owned(),
    }
}
