//! Figures in words: numbers in both units, ranges, sources, where a wall type stands.

use std::collections::BTreeMap;

use crate::figures::{Figure, Figures, STUDIES, Source, Studied, Value, WallType, What, leakage};
use crate::model::Model;
use crate::units::{Dimension, Keep, Quantity, Range, System, display};

/// What stands over a group of figures.
pub(super) struct Group<'f> {
    /// Stable word for programs: `house_wall`, `north`.
    pub id: String,
    /// For people: "house_wall", "north wall".
    pub title: String,
    /// Where a wall type stands; empty for a face.
    pub place: String,
    /// Its figures.
    pub studies: &'f [Studied],
}

/// Wall types, then faces, buildings, plane cuts; those without figures left out.
pub(super) fn groups<'f>(model: &Model, figures: &'f Figures) -> Vec<Group<'f>> {
    let walls = figures.walls.iter().map(|wall| {
        let label = wall.wall.assembly(model).map_or("", |assembly| assembly.label.as_str());
        Group { id: label.to_owned(), title: label.to_owned(), place: place(model, &wall.wall), studies: &wall.studies }
    });
    let faces = figures.faces.iter().map(|face| {
        let name = model.face(face.face).map_or("", |face| face.name.as_str());
        Group {
            id: name.to_owned(),
            title: format!("{} wall", name.replace('_', " ")),
            place: String::new(),
            studies: &face.studies,
        }
    });
    let cuts = figures.cuts.iter().map(|cut| {
        let name = model.heat_cuts.get(cut.cut).map_or("", |cut| cut.name.as_str());
        let id = format!("heat_cut_{name}");
        let title = format!("cut {}", name.replace('_', " "));
        Group { id, title, place: String::new(), studies: &cut.studies }
    });
    let houses = figures.houses.iter().map(|house| {
        let name = model.buildings.get(house.building).map_or("", |building| building.name.as_str());
        let title = format!("building {}", name.replace('_', " "));
        Group { id: format!("building_{name}"), title, place: String::new(), studies: &house.studies }
    });
    let others = faces.chain(houses).chain(cuts);
    let mut groups: Vec<Group<'f>> = walls.chain(others).filter(|group| !group.studies.is_empty()).collect();
    tell_apart(&mut groups);
    groups
}

/// A way of building that stands with its gap open more and less is two wall types: the second is `house_wall 2`.
fn tell_apart(groups: &mut [Group<'_>]) {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for group in groups {
        let times = seen.entry(group.id.clone()).or_insert(0);
        *times += 1;
        if *times > 1 {
            group.id = format!("{} {times}", group.id);
            group.title = format!("{} {times}", group.title);
        }
    }
}

/// `north, west (upper)`: faces, with the areas where a face has several.
fn place(model: &Model, wall: &WallType) -> String {
    let mut places: Vec<String> = Vec::new();
    for chunk in wall.areas.chunk_by(|one, other| one.0 == other.0) {
        let Some(face) = chunk.first().and_then(|(id, _)| model.face(*id)) else { continue };
        let areas = chunk.iter().filter_map(|(_, at)| face.areas.get(*at)).map(|area| area.name.replace('_', " "));
        let name = face.name.replace('_', " ");
        places.push(match face.areas.len() {
            0 | 1 => name,
            _ => format!("{name} ({})", areas.collect::<Vec<_>>().join(", ")),
        });
    }
    places.join(", ")
}

/// The words of a study.
pub(super) fn study(id: &str) -> &'static str {
    match STUDIES.iter().find(|study| study.id() == id) {
        Some(study) => study.title(),
        None if id == leakage::ID => leakage::TITLE,
        None => "",
    }
}

/// What a figure tells, with the layer, surface or month it is of.
pub(super) fn title(what: &What, of: &str) -> String {
    if of.is_empty() { what.title.to_owned() } else { format!("{}, {of}", what.title) }
}

/// Its value in one system of units; empty where it would say the same as in the other.
pub(super) fn value(figure: &Figure, system: System, lead: System) -> String {
    match &figure.value {
        Value::Word(word) => {
            if system == lead {
                word.clone()
            } else {
                String::new()
            }
        }
        Value::Number(range) => {
            let shown = number(figure.what, *range, system);
            if system != lead && shown == number(figure.what, *range, lead) { String::new() } else { shown }
        }
    }
}

/// `0.21 W/(m²·K)`, `0.2 to 0.23 W/(m²·K)`, `RSI 4.71`.
pub(super) fn number(what: &What, range: Range, system: System) -> String {
    let (low, high) = (one(what, range.low, system), one(what, range.high, system));
    if low == high {
        return low;
    }
    // The name before, or the unit behind, is said once.
    if what.dimension == Dimension::RESISTANCE {
        let bare = high.trim_start_matches("RSI ").trim_start_matches("R-");
        return format!("{low} to {bare}");
    }
    match (low.split_once(' '), high.split_once(' ')) {
        (Some((figure, unit)), Some((_, same))) if unit == same => format!("{figure} to {high}"),
        _ => format!("{low} to {high}"),
    }
}

fn one(what: &What, value: f64, system: System) -> String {
    // Places behind the point are those of the metric unit.
    let keep = match (system, what.keep) {
        (System::Imperial, Keep::Places(_)) if what.dimension != Dimension::NUMBER => Keep::Significant(3),
        (_, keep) => keep,
    };
    match what.dimension {
        Dimension::RESISTANCE => return display::resistance(value, system),
        Dimension::NUMBER if what.key.ends_with("_share") => return display::percent(value),
        Dimension::LENGTH if what.key.ends_with("_per_metre") => return display::area_per_length(value, system, keep),
        Dimension::SPEED if what.key.ends_with("_leakage") => return display::leakage(two_digits(value)),
        Dimension::AREA if what.key.ends_with("_hole") => return display::small_area(value, system, keep),
        _ => {}
    }
    display::kept(Quantity { value, dimension: what.dimension }, system, keep)
}

/// Two digits: no more is known of a leak.
fn two_digits(value: f64) -> f64 {
    format!("{value:.1e}").parse().unwrap_or(value)
}

/// "ISO 6946, 6.7.2, 2017".
pub(super) fn source(source: Source) -> String {
    let parts = [source.standard, source.clause, source.edition];
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ")
}

/// "from memory", "from memory: conductivity of spruce".
pub(super) fn sure(figure: &Figure) -> String {
    let phrase = figure.sure.phrase();
    if figure.doubt.is_empty() { phrase.to_owned() } else { format!("{phrase}: {}", figure.doubt) }
}
