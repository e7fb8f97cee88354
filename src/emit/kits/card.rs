//! The first sheet of a kit: where the section lies on its wall, where the day stops, what stands on the platform.

use super::summary::{heading, time_of, verdict};
use super::{file_name, masses};
use crate::continuity::{Lane, Order};
use crate::emit::drawing::{Anchor, Dash, Extent, Fill, Hatch, Item, Paper, Rect, Sheet, Stroke, Text, View, at, text};
use crate::emit::order_of_work::stop_words;
use crate::emit::titles;
use crate::geometry::Region;
use crate::kits::{Kit, Kits};
use crate::session::Checked;
use crate::units::{Length, display};

/// Height of the figures a person reads on the lift.
const LARGE: f64 = 5.0;
/// Height of the words beside a figure.
const SMALL: f64 = 3.6;
/// From one line to the next.
const LINE: f64 = 8.4;
/// Height of the picture.
const PICTURE: f64 = 68.0;
/// Width of the column of words.
const WORDS: f64 = 146.0;

/// The card of a kit.
pub(super) fn sheet(checked: &Checked, order: &Order, kits: &Kits, kit: &Kit, number: usize) -> Sheet {
    let title = heading(kit, number);
    let mut sheet = Sheet::new(&format!("{}-card", file_name(checked, kit)), Paper::A4, titles::block(checked, &title));
    sheet.description = format!("{title}: where it lies, its stop line, its load");
    let area = sheet.area();
    let told = facts(checked, order, kits, kit);
    let mut lines: Vec<(bool, String)> = Vec::new();
    for (bold, words) in told {
        lines.extend(text::wrap(&words.replace('`', ""), WORDS, LARGE, bold).into_iter().map(|line| (bold, line)));
    }
    // Long remarks bring the lines closer together, never off the sheet.
    let step = LINE.min((area.height - LARGE) / lines.len().max(1) as f64);
    let items = lines.into_iter().enumerate().map(|(row, (bold, line))| {
        let line = Text::new(at(area.x, area.y + LARGE + step * row as f64), line).size(LARGE);
        if bold { line.bold().into() } else { line.into() }
    });
    let items: Vec<Item> = items.collect();
    sheet.layer("words", items);
    let left = area.x + WORDS + 6.0;
    let room = Rect::edges(left, area.y, area.right(), area.y + PICTURE);
    let picture = picture(checked, order, kit, room);
    sheet.layer("picture", picture);
    let weights = weights(kit, Rect::edges(left, room.bottom() + 6.0, area.right(), area.bottom()));
    sheet.layer("weights", weights);
    sheet
}

/// What a person asks before loading: each with whether it is printed bold.
fn facts(checked: &Checked, order: &Order, kits: &Kits, kit: &Kit) -> Vec<(bool, String)> {
    let model = &checked.model;
    let shown = |length: Length| display::both(length, model.project.units);
    let wall = model.face(kit.face).map_or_else(String::new, |face| face.name.replace('_', " "));
    let mut facts = Vec::new();
    let Some(lane) = order.lanes.get(kit.lane) else { return facts };
    facts.push((true, format!("{wall} wall, from {} to {} along it", shown(lane.left), shown(lane.right))));
    let section = kit.section.and_then(|at| Some((at, model.sections.get(at)?)));
    let Some((at, section)) = section else {
        facts.push((false, "no section is declared here: no platform, no stop line".to_owned()));
        return facts;
    };
    if let Some(stop) = order.stops.iter().find(|stop| stop.section == at) {
        facts.push((true, format!("evening: {}", stop_words(checked, stop))));
        facts.extend(next_lift(checked, order, lane).filter(|_| !stop.last).map(|words| (false, words)));
    }
    if !section.decks.is_empty() {
        let decks: Vec<String> = section.decks.iter().map(|deck| shown(*deck)).collect();
        facts.push((false, format!("platform at {} above the datum", decks.join(", then "))));
    }
    let place = kits.list.iter().position(|other| other.lane == kit.lane);
    if let Some(moves) = place.and_then(|place| kits.route.each.get(place)) {
        facts.push((
            false,
            match moves {
                0 => "the machine stays where it is".to_owned(),
                1 => "move the machine once".to_owned(),
                moves => format!("move the machine {moves} times"),
            },
        ));
    }
    facts.push((false, time_of(model, kit)));
    facts.push((true, format!("load on the platform: {}", verdict(kit))));
    let past = kit.pieces.iter().filter(|piece| piece.past.is_some()).count();
    if past > 0 {
        facts.push((false, format!(
            "{past} pieces go past the line of the lane: leave the fixing nearest the line out until the course below it is on in the next lane"
        )));
    }
    facts.extend(section.note.iter().map(|note| (false, note.to_string())));
    facts
}

/// What goes on over the stop line tomorrow, and by how much it laps.
fn next_lift(checked: &Checked, order: &Order, lane: &Lane) -> Option<String> {
    let model = &checked.model;
    let over = order.lanes.iter().filter(|other| {
        other.face == lane.face && other.bottom == lane.top && other.left < lane.right && lane.left < other.right
    });
    let names: Vec<String> = over
        .filter_map(|other| model.sections.get(other.section?))
        .map(|section| section.name.replace('_', " "))
        .collect();
    let face = model.face(lane.face)?;
    let placed = checked.plan.face(lane.face)?;
    let high = lane.top + Length::mm(1);
    let middle = lane.left + (lane.right - lane.left) / 2;
    let point = crate::geometry::Point::new(middle, high);
    let area = placed.areas.iter().position(|area| area.whole.place(point) != crate::geometry::Place::Outside)?;
    let assembly = model.assembly(face.areas.get(area)?.assembly)?;
    let layer = assembly.layers.iter().find(|layer| layer.controls.rain)?;
    let product = model.product_of(&layer.stuff)?;
    let width = product.width.or(product.size.get(1).copied());
    let lap = width.zip(placed.exposure).map(|(width, exposure)| width - exposure).filter(|lap| *lap > Length::ZERO);
    let lap = lap.map_or_else(String::new, |lap| {
        format!(": its first course laps {} over this one", display::both(lap, model.project.units))
    });
    (!names.is_empty()).then(|| format!("above it goes {}{lap}", names.join(" and ")))
}

/// The wall with the section hatched.
fn picture(checked: &Checked, order: &Order, kit: &Kit, room: Rect) -> Vec<Item> {
    let Some(placed) = checked.plan.face(kit.face) else { return Vec::new() };
    let (Some(bounds), Some(own)) = (placed.outline.bounds(), order.lanes.get(kit.lane)) else { return Vec::new() };
    let extent = Extent { left: bounds.left, bottom: bounds.bottom, right: bounds.right, top: bounds.top };
    let view = View::fit(&extent, &room.grow(-3.0));
    let outline = |region: &Region, stroke: Option<Stroke>, fill: Fill| -> Vec<Item> {
        let rings = |polygon: &crate::geometry::Polygon| {
            polygon.rings().map(|ring| ring.points().iter().map(|p| view.point(p.x, p.y)).collect()).collect()
        };
        region.polygons().iter().map(|polygon| Item::Outline { rings: rings(polygon), stroke, fill }).collect()
    };
    let lanes = order.lanes.iter().filter(|lane| lane.face == kit.face);
    let shape = |lane: &Lane| placed.outline.clip_x(lane.left, lane.right).clip_y(lane.bottom, lane.top);
    let mut items = outline(&shape(own), None, Fill::Hatch(Hatch::Today));
    for opening in &placed.openings {
        items.extend(outline(&Region::from(opening.clone()), Some(Stroke::LIGHT), Fill::White));
    }
    for lane in lanes {
        items.extend(outline(&shape(lane), Some(Stroke::LIGHT.dash(Dash::Stop)), Fill::None));
    }
    items.extend(outline(&placed.outline, Some(Stroke::MEDIUM), Fill::None));
    items.extend(outline(&shape(own), Some(Stroke::HEAVY), Fill::None));
    items
}

/// Weight by product, and what stands on the platform.
fn weights(kit: &Kit, room: Rect) -> Vec<Item> {
    let load = &kit.load;
    let mut rows: Vec<(String, String, bool)> = Vec::new();
    for (name, count, mass) in &load.products {
        let name = if name.is_empty() { "no product named".to_owned() } else { name.replace('_', " ") };
        let mass = mass.map_or_else(|| "can't tell".to_owned(), masses);
        rows.push((format!("{count} × {name}"), mass, false));
    }
    if load.loads > 1 {
        rows.push((format!("heaviest of {} loads", load.loads), masses(load.pieces), true));
    }
    rows.push(("fasteners, tapes, sundries".to_owned(), masses(load.goods), false));
    let people = load.people.map_or_else(|| "can't tell".to_owned(), masses);
    rows.push(("people".to_owned(), people, false));
    rows.push(("tools".to_owned(), masses(load.tools), false));
    rows.push(("on the platform".to_owned(), masses(load.total()), true));
    let rating = load.rating.map_or_else(|| "not told".to_owned(), masses);
    rows.push(("it may carry".to_owned(), rating, true));
    let step = ((room.height - 2.5) / rows.len().max(1) as f64).min(8.0);
    let mut items = Vec::new();
    for (at_row, (name, mass, bold)) in rows.into_iter().enumerate() {
        let y = room.y + step * (at_row as f64 + 1.0);
        let weight = Text::new(at(room.right(), y), mass).size(LARGE.min(step * 0.85)).anchor(Anchor::End);
        let space = room.width - weight.width() - 2.0;
        let name = Text::new(at(room.x, y), text::cut(&name, space, SMALL, bold)).size(SMALL);
        items.push(if bold { name.bold() } else { name }.into());
        items.push(if bold { weight.bold() } else { weight }.into());
    }
    items
}
