//! The air barrier of a project in words: continuous, or open at each hole with its way, its length, and what to know of the
//! joints; and, where it is asked for, how much air it may let through.

use std::fmt::Write as _;

use super::footer::count;
use super::footer_line;
use crate::continuity::{AirBarrier, AirEnd, Hold, Leakage, ORDINARY, PRESSURE};
use crate::session::Checked;
use crate::units::{Keep, Length, decimal, display};

/// Holes that are listed before the rest is counted.
const LISTED: usize = 200;

/// The whole answer as text.
pub fn text(checked: &Checked, air: &AirBarrier, leakage: Option<&Result<Leakage, Vec<String>>>) -> String {
    let names: Vec<String> = checked.model.faces.iter().map(|face| format!("`{}`", face.name)).collect();
    let mut out =
        format!("air barrier of {}\n\n", if names.is_empty() { "nothing".to_owned() } else { names.join(", ") });
    holes(checked, air, &mut out);
    joints(checked, air, &mut out);
    if let Some(leakage) = leakage {
        estimate(leakage, &mut out);
    }
    let _ = writeln!(out, "\nhold point H1: look for leaks with smoke before the cladding covers what is listed here");
    let _ = writeln!(out, "\n{}", footer_line(checked));
    out
}

/// Whether the barrier is closed all round, so far as can be told.
pub fn is_continuous(air: &AirBarrier) -> bool {
    air.ends.is_empty() && air.undecided.is_empty()
}

fn holes(checked: &Checked, air: &AirBarrier, out: &mut String) {
    if checked.model.faces.is_empty() {
        let _ = writeln!(out, "no face is declared");
        return;
    }
    if is_continuous(air) {
        let _ = writeln!(out, "continuous: no hole found in what was declared");
        return;
    }
    if !air.ends.is_empty() {
        let _ = writeln!(out, "open at {}{}:", count(air.ends.len(), "place", "places"), together(checked, &air.ends));
        list(checked, &air.ends, out);
    }
    if !air.undecided.is_empty() {
        let what = count(air.undecided.len(), "place", "places");
        let _ = writeln!(out, "can't tell at {what}{}:", together(checked, &air.undecided));
        list(checked, &air.undecided, out);
    }
}

/// ", 4.80 m in all", where any of them has a length.
fn together(checked: &Checked, ends: &[AirEnd]) -> String {
    let all: Length = ends.iter().filter_map(|end| end.free).sum();
    if all == Length::ZERO { String::new() } else { format!(", {} in all", long(checked, all)) }
}

fn list(checked: &Checked, ends: &[AirEnd], out: &mut String) {
    for (number, end) in ends.iter().take(LISTED).enumerate() {
        let _ = writeln!(out, "{:>4}  {}", number + 1, end.path.join(" → "));
        let free = match (end.free, end.kind) {
            (Some(free), _) => format!("{} long", long(checked, free)),
            (None, "point") => "a point".to_owned(),
            (None, "assembly") => "the whole area".to_owned(),
            (None, _) => "length not told".to_owned(),
        };
        let place = place(checked, end).map(|place| format!("{place}, ")).unwrap_or_default();
        let _ = writeln!(out, "      {place}{free}: {}", end.why);
    }
    if ends.len() > LISTED {
        let _ = writeln!(out, "      and {} more", ends.len() - LISTED);
    }
}

/// "north, (0 mm, 0 mm) to (4.80 m, 0 mm)".
fn place(checked: &Checked, end: &AirEnd) -> Option<String> {
    let face = &checked.model.face(end.face?)?.name;
    let at = |point: crate::geometry::Point| format!("({}, {})", long(checked, point.x), long(checked, point.y));
    match (end.at, end.run.and_then(|run| checked.plan.run(run))) {
        (Some(point), _) => Some(format!("`{face}` at {}", at(point))),
        (None, Some(run)) => Some(format!("`{face}` from {} to {}", at(run.segment.from), at(run.segment.to))),
        _ => Some(format!("`{face}`")),
    }
}

/// Metres from one metre on.
fn long(checked: &Checked, length: Length) -> String {
    let units = checked.model.project.units;
    if units == crate::units::System::Metric && length.abs() >= Length::mm(1000) {
        return display::metres(length);
    }
    display::length(length, units)
}

fn joints(checked: &Checked, air: &AirBarrier, out: &mut String) {
    let (mut holds, mut fails, mut untold) = (0, 0, 0);
    for joint in &air.joints {
        match joint.holds(&checked.model) {
            Hold::Yes => holds += 1,
            Hold::Not(..) | Hold::Unprimed(..) => fails += 1,
            Hold::Missing(_) | Hold::CannotTell => untold += 1,
        }
    }
    let _ = writeln!(
        out,
        "\n{} judged: no fault found on {holds}, {fails} not holding on what they join, {untold} of which it cannot be told",
        count(air.joints.len(), "joint with a part", "joints with a part")
    );
}

fn estimate(leakage: &Result<Leakage, Vec<String>>, out: &mut String) {
    let leakage = match leakage {
        Ok(leakage) => leakage,
        Err(missing) => {
            let names: Vec<String> = missing.iter().map(|name| format!("`{name}`")).collect();
            let _ =
                writeln!(out, "\ncan't tell how much may leak: no rule set in force has a limit {}", names.join(", "));
            return;
        }
    };
    if leakage.whole > 0 || leakage.area <= 0.0 {
        let _ = writeln!(
            out,
            "\ncan't tell how much may leak: {} no barrier",
            count(leakage.whole, "area has", "areas have")
        );
        return;
    }
    let figure = |value: f64| decimal(value * 1000.0, Keep::Significant(2));
    let (low, high) = leakage.per_area(PRESSURE);
    let (calm_low, calm_high) = leakage.per_area(ORDINARY);
    let _ = writeln!(
        out,
        "\nmay leak {} … {} L/(s·m²) at {PRESSURE:.0} Pa ({} … {} at {ORDINARY:.0} Pa), over {} m² of wall with its openings:",
        figure(low),
        figure(high),
        figure(calm_low),
        figure(calm_high),
        decimal(leakage.area, Keep::Places(1))
    );
    for row in leakage.rows.iter().filter(|row| row.count > 0) {
        let length =
            if row.length == Length::ZERO { String::new() } else { format!(", {}", display::metres(row.length)) };
        let _ = writeln!(out, "      {} … {} L/s  {}{length}", figure(row.low), figure(row.high), row.what);
    }
    let _ = writeln!(
        out,
        "assumed: a range for each sort of joint by its length (limits `leakage.*`: no source, order of magnitude), what is \
         made as it is declared, flow by the power law with exponent {}; windows and doors themselves, chimneys and inner \
         walls are left out; only a test with fans tells",
        decimal(leakage.exponent, Keep::Significant(3))
    );
}
