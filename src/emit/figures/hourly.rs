//! The hourly year of a wall type on one page: dated peaks, water in each layer, when it dries, and the sheathing week by week.

use super::file_name;
use crate::emit::drawing::{Item, Paper, Rect, Sheet, Text, at, text};
use crate::emit::plot::{Axis, Plot, Unit};
use crate::emit::titles;
use crate::figures::hourly::{Lit, Year, assumptions, day, drying};
use crate::session::Checked;
use crate::units::{Dimension, Keep, Quantity, System, display};

/// Height of figures to be read.
const LARGE: f64 = 5.0;
/// Of words beside them.
const SMALL: f64 = 3.5;
/// Of what the sums take for granted.
const FINE: f64 = 3.2;
/// From one line to the next.
const LINE: f64 = 7.5;

/// One page for each wall type whose year could be run.
pub(super) fn pages(checked: &Checked) -> Vec<(String, String, Vec<Sheet>)> {
    let page = |(assembly, year): &(_, Result<Year, String>)| {
        let label = &checked.model.assembly(*assembly)?.label;
        let year = year.as_ref().ok()?;
        let title = format!("A year of hours, {}", label.replace('_', " ").replace('(', " ("));
        Some((format!("{}_hours", file_name(label)), title.clone(), vec![sheet(checked, label, &title, year)]))
    };
    checked.figures().years.iter().filter_map(page).collect()
}

fn sheet(checked: &Checked, label: &str, title: &str, year: &Year) -> Sheet {
    let mut sheet = Sheet::new(&format!("hours-{}", file_name(label)), Paper::A3, titles::block(checked, title));
    sheet.description = format!("{title}: {} moistest on {}", year.watched, day(year.peak.1));
    let area = sheet.area();
    let lead = checked.model.project.units;
    let half = area.width / 2.0;
    sheet.layer("peaks", peaks(year, lead, Rect { width: half - 8.0, ..area }));
    sheet.layer("water", water(year, lead, Rect { x: area.x + half + 8.0, width: half - 8.0, ..area }));
    let notes: Vec<String> =
        assumptions(year).iter().flat_map(|line| text::wrap(&format!("– {line}"), area.width, FINE, false)).collect();
    let foot = area.bottom() - notes.len() as f64 * FINE * 1.45;
    let rows = year.layers.len().max(14) as f64;
    let top = area.y + (rows + 2.0) * LINE;
    sheet.push(plot(year).draw(Rect { y: top, height: foot - 5.0 - top, ..area }));
    let line = |(at_line, words): (usize, &String)| -> Item {
        Text::new(at(area.x, foot + (at_line as f64 + 1.0) * FINE * 1.45), words.as_str()).size(FINE).into()
    };
    sheet.layer("notes", notes.iter().enumerate().map(line).collect());
    sheet
}

/// What was highest and when, each on a line.
fn peaks(year: &Year, lead: System, area: Rect) -> Vec<Item> {
    let balance = if year.open.0 < 1e-6 && year.open.1 < 1e-6 {
        "water and heat close to a millionth".to_owned()
    } else {
        format!("open by {:.0e} of the water, {:.0e} of the heat", year.open.0, year.open.1)
    };
    let lines = [
        ("highest humidity", format!("{}% on {}", percent(year.peak.0), day(year.peak.1))),
        ("above 80%", format!("{} hours in the year", year.moist)),
        ("above 95%", format!("{} hours in the year", year.wet)),
        ("dries in", drying(year.drying)),
        ("mould index", mould(year)),
        ("air changes in the gap", airing(year)),
        ("warmest gap", warmest(year, lead)),
        ("sun, mean", sun(year, lead)),
        ("night sky, mean", sky(year, lead)),
        ("the other side", beside(year)),
        ("rain on the face", drunk(year, lead)),
        ("frost while wet", frost(year)),
        ("balances", balance),
    ];
    let on = year.lit.as_ref().map(|lit| format!(" on the {}", side(lit))).unwrap_or_default();
    let mut items = heading(&format!("{}{on}, second year", year.watched), area);
    for (at_line, (words, figure)) in lines.into_iter().enumerate() {
        let y = area.y + (at_line as f64 + 2.0) * LINE;
        items.push(Text::new(at(area.x, y), words).size(SMALL).into());
        items.push(Text::new(at(area.x + 56.0, y), figure).size(LARGE).into());
    }
    items
}

/// "north side", "north, east side".
fn side(lit: &Lit) -> String {
    format!("{} side", lit.faces)
}

/// "mean 41 an hour, 5 to 160".
fn airing(year: &Year) -> String {
    let changes = year.changes;
    if changes.mean <= 0.0 {
        return "none".to_owned();
    }
    format!("mean {:.0} an hour, {:.0} to {:.0}", changes.mean, changes.least, changes.most)
}

/// "12 K (22 °F) above outside".
fn warmest(year: &Year, lead: System) -> String {
    if year.changes.mean <= 0.0 {
        return "no air passes".to_owned();
    }
    let kelvin = year.warmest_gap;
    let (own, other) = (format!("{kelvin:.0} K"), format!("{:.0} °F", kelvin * 1.8));
    let (own, other) = if lead == System::Metric { (own, other) } else { (other, own) };
    format!("{own} ({other}) above outside")
}

/// A value in both units, to two digits.
fn both(value: f64, dimension: Dimension, lead: System) -> String {
    let shown = |system| display::kept(Quantity { value, dimension }, system, Keep::Significant(2));
    format!("{} ({})", shown(lead), shown(lead.other()))
}

/// "takes up 28 W/m² (8.9 Btu/(ft²·h)), 60%".
fn sun(year: &Year, lead: System) -> String {
    year.lit.as_ref().map_or_else(
        |_| "left out: see below what is missing".to_owned(),
        |lit| format!("takes up {}, {}%", both(lit.sun, Dimension::HEAT_FLUX, lead), percent(lit.absorptance)),
    )
}

/// "takes away 19 W/m² (6 Btu/(ft²·h))".
fn sky(year: &Year, lead: System) -> String {
    year.lit.as_ref().map_or_else(
        |_| "left out too".to_owned(),
        |lit| format!("takes away {}", both(lit.sky, Dimension::HEAT_FLUX, lead)),
    )
}

/// "takes up 41 kg/m² (8.4 lb/ft²) in two years".
fn drunk(year: &Year, lead: System) -> String {
    if year.drunk > 0.0 {
        format!("takes up {} in two years", both(year.drunk, Dimension::SURFACE_MASS, lead))
    } else {
        "takes up none: painted, or its drinking not told".to_owned()
    }
}

/// "boards: 120 hours, 23 thaws".
fn frost(year: &Year) -> String {
    let frozen = year.layers.iter().filter_map(|held| Some((&held.layer, held.frost.filter(|frost| frost.hours > 0)?)));
    let layers: Vec<String> =
        frozen.map(|(layer, frost)| format!("{layer}: {} hours, {} thaws", frost.hours, frost.thaws)).collect();
    if layers.is_empty() { "none in the year".to_owned() } else { layers.join("; ") }
}

/// "south: 83% at most, 120 hours above 80%".
fn beside(year: &Year) -> String {
    let other = year.beside.as_ref().and_then(|other| Some((other, other.lit.as_ref().ok()?)));
    match other {
        Some((other, lit)) => {
            let (faces, peak) = (&lit.faces, percent(other.peak.0));
            format!("{faces}: {peak}% at most, {} hours above 80%", other.moist)
        }
        None => "all its sides look one way, or no sun counts".to_owned(),
    }
}

/// "0.3 of 6 on 14 May".
fn mould(year: &Year) -> String {
    match year.mould {
        None => "can't tell: its kind says not how readily it grows".to_owned(),
        Some((index, _)) if index < 0.05 => "0 of 6".to_owned(),
        Some((index, hour)) => format!("{index:.1} of 6, {}", day(hour)),
    }
}

/// Water of each layer at the start and at the ends of both years.
fn water(year: &Year, lead: System, area: Rect) -> Vec<Item> {
    let mut items = heading("water in the layers: start, one year, two years", area);
    for (at_line, held) in year.layers.iter().enumerate() {
        let y = area.y + (at_line as f64 + 2.0) * LINE;
        items.push(Text::new(at(area.x, y), held.layer.as_str()).size(SMALL).into());
        items.push(Text::new(at(area.x + 34.0, y), masses(&held.water, lead)).size(LARGE).into());
        items.push(Text::new(at(area.x + 112.0, y), masses(&held.water, lead.other())).size(SMALL).into());
    }
    items
}

fn heading(words: &str, area: Rect) -> Vec<Item> {
    vec![Text::new(at(area.x, area.y + LARGE), words).size(LARGE).bold().into()]
}

/// "1.76 · 1.55 · 1.55 kg/m²".
fn masses(water: &[f64], system: System) -> String {
    // One pound on a square foot is 4.882428 kg/m².
    let (by, unit, places) = match system {
        System::Metric => (1.0, "kg/m²", 2),
        System::Imperial => (1.0 / 4.882_428, "lb/ft²", 3),
    };
    let figures: Vec<String> = water.iter().map(|water| format!("{:.places$}", water * by)).collect();
    format!("{} {unit}", figures.join(" · "))
}

fn percent(share: f64) -> String {
    format!("{:.0}", share * 100.0)
}

/// Highest and lowest of each week, with the two limits.
fn plot(year: &Year) -> Plot {
    let weeks = |of: fn(&(f64, f64)) -> f64| -> Vec<(f64, f64)> {
        let place = |week: usize| (week as f64 + 0.5) / 52.0 * 12.0;
        year.weeks.iter().enumerate().map(|(week, ends)| (place(week), of(ends))).collect()
    };
    let low = year.weeks.iter().map(|week| week.0).fold(0.6, f64::min);
    let y = Axis::new("relative humidity", libm::floor(low * 10.0) / 10.0, 1.0, vec![Unit::times("%", 100.0)]);
    let peak =
        year.weeks.iter().enumerate().max_by(|one, other| one.1.1.total_cmp(&other.1.1).then(other.0.cmp(&one.0)));
    let plot = Plot::new(&format!("{}, week by week", year.watched), Axis::months(), y)
        .line("highest", weeks(|week| week.1))
        .line("lowest", weeks(|week| week.0))
        .limit("80%", 0.8)
        .limit("95%", 0.95);
    match peak {
        Some((week, ends)) => plot.mark(((week as f64 + 0.5) / 52.0 * 12.0, ends.1), &day(year.peak.1)),
        None => plot,
    }
}
