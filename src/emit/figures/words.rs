//! Figures in words: numbers in both units, ranges, sources, where a wall type stands.

use std::collections::BTreeMap;

use crate::figures::{Figure, Figures, STUDIES, Source, Studied, Value, WallType, What, leakage};
use crate::model::Model;
use crate::units::{Dimension, Keep, Quantity, Range, System, decimal, display};

/// What stands over a group of figures.
pub(super) struct Group<'f> {
    /// Stable word for programs: `house_wall`, `north`.
    pub id: String,
    /// For people: "house wall", "north wall".
    pub title: String,
    /// Where a wall type stands; a face by its bare name; empty for a cut.
    pub place: String,
    /// Whether it is a face.
    pub is_face: bool,
    /// Its figures.
    pub studies: &'f [Studied],
}

/// Everything that has figures.
pub(super) struct Groups<'f> {
    /// Wall types.
    pub walls: Vec<Group<'f>>,
    /// Faces.
    pub faces: Vec<Group<'f>>,
    /// Buildings.
    pub houses: Vec<Group<'f>>,
    /// Plane cuts.
    pub cuts: Vec<Group<'f>>,
}

impl<'f> Groups<'f> {
    /// Whether nothing has figures.
    pub fn is_empty(&self) -> bool {
        self.iter().next().is_none()
    }

    /// Wall types, then faces, buildings, plane cuts.
    pub fn iter(&self) -> impl Iterator<Item = &Group<'f>> {
        self.walls.iter().chain(&self.faces).chain(&self.houses).chain(&self.cuts)
    }
}

/// All of a project; those without figures left out.
pub(super) fn groups<'f>(model: &Model, figures: &'f Figures) -> Groups<'f> {
    let walls = figures.walls.iter().filter(|wall| !wall.studies.is_empty()).map(|wall| {
        let label = wall.wall.assembly(model).map_or("", |assembly| assembly.label.as_str());
        Group {
            id: label.to_owned(),
            title: label.replace('_', " ").replace('(', " ("),
            place: place(model, &wall.wall),
            is_face: false,
            studies: &wall.studies,
        }
    });
    let faces = figures.faces.iter().filter(|face| !face.studies.is_empty()).map(|face| {
        let name = model.face(face.face).map_or("", |face| face.name.as_str());
        let place = name.replace('_', " ");
        let title = format!("{place} wall");
        Group { id: name.to_owned(), title, place, is_face: true, studies: &face.studies }
    });
    let cuts = figures.cuts.iter().filter(|cut| !cut.studies.is_empty()).map(|cut| {
        let name = model.heat_cuts.get(cut.cut).map_or("", |cut| cut.name.as_str());
        let id = format!("heat_cut_{name}");
        let title = format!("cut {}", name.replace('_', " "));
        Group { id, title, place: String::new(), is_face: false, studies: &cut.studies }
    });
    let houses = figures.houses.iter().filter(|house| !house.studies.is_empty()).map(|house| {
        let name = model.buildings.get(house.building).map_or("", |building| building.name.as_str());
        let title = format!("building {}", name.replace('_', " "));
        Group { id: format!("building_{name}"), title, place: String::new(), is_face: false, studies: &house.studies }
    });
    let mut walls: Vec<Group<'f>> = walls.collect();
    tell_apart(&mut walls);
    Groups { walls, faces: faces.collect(), houses: houses.collect(), cuts: cuts.collect() }
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
    let rain = what.dimension == Dimension::LENGTH && what.key.starts_with("rain.");
    let keep = match system {
        // Rain is told in millimetres, rounded to two digits.
        System::Imperial if rain => Keep::Significant(2),
        System::Imperial if what.dimension != Dimension::NUMBER => as_sure(value, what.keep),
        _ => what.keep,
    };
    match what.dimension {
        Dimension::RESISTANCE => return display::resistance(value, system),
        Dimension::NUMBER if what.key.ends_with("_share") => return percent(value, keep),
        Dimension::LENGTH if what.key.ends_with("_per_metre") => return display::area_per_length(value, system, keep),
        Dimension::SPEED if what.key.ends_with("_leakage") => return display::leakage_in(value, system, LEAK),
        Dimension::AREA if what.key.ends_with("_hole") => return display::small_area(value, system, keep),
        _ if rain => return display::depth_of_rain(value, system, keep),
        Dimension::CONDUCTIVITY => return display::coupling(value, system, keep),
        _ => {}
    }
    display::kept(Quantity { value, dimension: what.dimension }, system, keep)
}

/// No more digits are known of a leak.
const LEAK: Keep = Keep::Significant(2);

/// In the other unit a figure has as many digits as in its own, three at most: places behind the point are those of SI units.
fn as_sure(value: f64, keep: Keep) -> Keep {
    let places = match keep {
        Keep::Significant(digits) => return Keep::Significant(digits.min(3)),
        Keep::Places(places) => places,
    };
    if value == 0.0 || decimal(value, keep) == "0" {
        return keep;
    }
    let whole = libm::floor(libm::log10(value.abs())) as i32 + 1;
    Keep::Significant((whole + i32::from(places)).clamp(1, 3) as u8)
}

/// A share in percent: places are those of the share.
fn percent(share: f64, keep: Keep) -> String {
    let keep = match keep {
        Keep::Places(places) => Keep::Places(places.saturating_sub(2)),
        significant => significant,
    };
    format!("{}%", decimal(share * 100.0, keep))
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
