//! Small words between those of the text: what is computed from it, and what saves a look at the other end of the tape.

use std::collections::BTreeMap;

use super::hover::sums;
use super::shown;
use crate::geometry::{Bounds, Point};
use crate::model::{Face, FaceId};
use crate::session::Glance;
use crate::source::{FileId, Span};
use crate::syntax::{Entry, Item, ItemKind, Statement};
use crate::units::{Dimension, Number, Quantity, System, display};

/// Groups of hints, so that each can be switched off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HintKind {
    /// How far a thing is from the other end of its face.
    OtherEnd,
    /// Total thickness, R and U of a wall.
    Wall,
    /// Areas of faces.
    Area,
    /// Numbers of strips and courses.
    Count,
    /// Lengths, heights and slopes of edges.
    Edge,
    /// A length in the unit of the project, where it was written in the other one.
    OtherUnit,
}

impl HintKind {
    /// The name by which a client switches the group off.
    pub fn word(self) -> &'static str {
        match self {
            HintKind::OtherEnd => "other_end",
            HintKind::Wall => "wall",
            HintKind::Area => "area",
            HintKind::Count => "count",
            HintKind::Edge => "edge",
            HintKind::OtherUnit => "other_unit",
        }
    }
}

/// One hint.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hint {
    /// Byte offset behind which it stands.
    pub at: u32,
    /// The words.
    pub text: String,
    /// Its group.
    pub kind: HintKind,
    /// A line about it.
    pub tip: &'static str,
}

/// Hints of a stretch of a file, by place.
pub fn hints(glance: &Glance, file: FileId, from: u32, to: u32) -> Vec<Hint> {
    let within = |span: Span| span.file == file && span.start <= to && from <= span.end;
    let mut desk = Desk { glance, units: glance.model.project.units, found: Vec::new() };
    let seen = |origin: Span| origin.file == file && within(origin);
    for wall in glance.model.assemblies.iter().filter(|wall| seen(wall.origin)) {
        // One declaration may stand for several walls, with other arguments; its text shows those of its defaults.
        if !desk.found.iter().any(|hint| hint.at == wall.origin.end) {
            desk.wall(wall);
        }
    }
    let module = glance.project.modules.iter().find(|module| module.file == file);
    let statements = module.map_or(&[][..], |module| &module.tree.statements);
    let shown = statements.iter().filter(|statement| within(statement.span));
    for statement in shown.clone() {
        desk.lengths(statement, &within);
    }
    for (at, face) in glance.model.faces.iter().enumerate() {
        let on_page = shown
            .clone()
            .any(|statement| statement.span.file == face.origin.file && statement.span.start == face.origin.start);
        if on_page {
            desk.face(FaceId(at as u32), face);
        }
    }
    let mut found = desk.found;
    found.retain(|hint| from <= hint.at && hint.at <= to);
    found.sort_by(|one, other| (one.at, one.kind, &one.text).cmp(&(other.at, other.kind, &other.text)));
    found
}

struct Desk<'g> {
    glance: &'g Glance,
    units: System,
    found: Vec<Hint>,
}

impl Desk<'_> {
    fn hint(&mut self, at: u32, kind: HintKind, text: String, tip: &'static str) {
        self.found.push(Hint { at, text, kind, tip });
    }

    /// Thickness, R and U behind the name of a wall.
    fn wall(&mut self, wall: &crate::model::Assembly) {
        let sums = sums(&self.glance.model, wall);
        let mut parts = Vec::new();
        parts.extend(sums.thickness.map(|thickness| format!("{} thick", display::length(thickness, self.units))));
        if let Ok(Some(whole)) = sums.resistance.map(|whole| whole.is_exact().then_some(whole.low)) {
            let value = Quantity { value: 1.0 / whole, dimension: Dimension::TRANSMITTANCE };
            parts.push(shown::resistance(whole, self.units));
            parts.push(format!("U {}", display::quantity(value, self.units)));
        }
        if !parts.is_empty() {
            let tip = "between studs; the gap and what is outside of it left out";
            self.hint(wall.origin.end, HintKind::Wall, parts.join(" · "), tip);
        }
    }

    fn face(&mut self, id: FaceId, face: &Face) {
        let Some((outline, bounds)) = face.outline.as_ref().and_then(|outline| Some((outline, outline.bounds()?)))
        else {
            return;
        };
        let whole = display::area(outline.area(), self.units);
        self.hint(face.origin.end, HintKind::Area, whole, "area with openings");
        for edge in &face.edges {
            let text =
                format!("{}{}", display::length(edge.segment.length(), self.units), super::hover::slope(edge.segment));
            self.hint(edge.origin.end, HintKind::Edge, text, "length of the edge, and its slope");
        }
        let opening = |one: &crate::model::Opening| {
            let corner = Point::new(one.at.x + one.width, one.at.y + one.height);
            (one.origin, Bounds { left: one.at.x, bottom: one.at.y, right: corner.x, top: corner.y })
        };
        let point = |origin: Span, at: Point| (origin, Bounds { left: at.x, right: at.x, bottom: at.y, top: at.y });
        let things = face.openings.iter().map(opening);
        let alone = face.services.iter().filter(|one| one.block.is_none()).map(|one| point(one.origin, one.at));
        let things: Vec<(Span, Bounds)> = things.chain(alone).collect();
        let mut times: BTreeMap<Span, usize> = BTreeMap::new();
        for (origin, _) in &things {
            *times.entry(*origin).or_default() += 1;
        }
        // A repeated thing stands once in the text, so that one distance would be true of one of them only.
        for (origin, shape) in things.into_iter().filter(|(origin, _)| times.get(origin) == Some(&1)) {
            let text = format!("{} to the right end", display::length(bounds.right - shape.right, self.units));
            self.hint(origin.end, HintKind::OtherEnd, text, "from its right side to the right end of the face");
        }
        self.areas(id, face);
    }

    fn areas(&mut self, id: FaceId, face: &Face) {
        let Some((house, own)) = self.glance.house(id) else { return };
        let Some(plan) = house.plan.face(own) else { return };
        for (area, placed) in face.areas.iter().zip(&plan.areas) {
            let text = format!("{} clad", display::area(placed.net.area(), self.units));
            self.hint(area.origin.end, HintKind::Area, text, "area without openings");
            let mut counts = Vec::new();
            if !placed.strips.is_empty() {
                counts.push(format!("{} pieces of furring", placed.strips.len()));
            }
            let high = placed.whole.bounds().map(Bounds::height);
            if let (Some(exposure), Some(high)) = (plan.exposure.filter(|one| one.0 > 0), high) {
                counts.push(format!("{} courses", (high.0 + exposure.0 - 1) / exposure.0));
            }
            if !counts.is_empty() {
                let tip = "strips as laid out; courses by the exposure of the house, the last one counted whole";
                self.hint(area.origin.end, HintKind::Count, counts.join(" · "), tip);
            }
        }
    }

    /// Lengths written in the unit the project does not show first.
    fn lengths(&mut self, statement: &Statement, within: &dyn Fn(Span) -> bool) {
        for item in &statement.arguments {
            self.length(item);
        }
        for clause in statement.clauses.iter().filter(|clause| within(clause.span)) {
            self.lengths(clause, within);
        }
    }

    fn length(&mut self, item: &Item) {
        let entries = |desk: &mut Self, entries: &[Entry]| entries.iter().for_each(|entry| desk.length(&entry.value));
        match &item.kind {
            ItemKind::Tuple(all) | ItemKind::Call(_, all) => entries(self, all),
            ItemKind::Size(items) => items.iter().for_each(|item| self.length(item)),
            ItemKind::Range(low, high) => [low, high].into_iter().for_each(|item| self.length(item)),
            ItemKind::FeetInches(..) if self.units == System::Metric => self.other_unit(item),
            ItemKind::Quantity(literal) => {
                let imperial = matches!(&*literal.unit, "in" | "ft" | "yd");
                let metric = matches!(&*literal.unit, "mm" | "cm" | "m");
                if (imperial && self.units == System::Metric) || (metric && self.units == System::Imperial) {
                    self.other_unit(item);
                }
            }
            _ => {}
        }
    }

    fn other_unit(&mut self, item: &Item) {
        if let Some(Number::Length(length)) = shown::number_of(item) {
            let text = display::length(length, self.units);
            self.hint(item.span.end, HintKind::OtherUnit, text, "the same length in the project's unit");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ide::testing::{desk, heron_lane};

    /// A file with its hints between ⟨ ⟩.
    fn shown(glance: &Glance, file: FileId) -> String {
        let text = glance.project.files.text(file);
        let mut out = String::new();
        let mut from = 0;
        for hint in hints(glance, file, 0, u32::MAX) {
            out.push_str(&text[from..hint.at as usize]);
            out.push_str(&format!(" ⟨{}⟩", hint.text));
            from = hint.at as usize;
        }
        out + &text[from..]
    }

    #[test]
    fn hints_of_heron_lane() {
        let north = heron_lane("north.wythe", "face", "north");
        let walls = north.glance.project.files.find("assemblies.wythe").unwrap();
        insta::assert_snapshot!("hints_north", shown(&north.glance, north.file));
        insta::assert_snapshot!("hints_assemblies", shown(&north.glance, walls));
    }

    /// 7200 − (4600 + 900) = 1700 mm; the gable is 7.2 × 5.4 + 7.2 × 2.4 / 2 = 47.52 m²; the rake is √(3600² + 2400²) =
    /// 4326.66 mm, 2400/3600 is 8 in 12 and 33.7°.
    #[test]
    fn hints_are_right() {
        let north = heron_lane("north.wythe", "face", "north");
        let all = hints(&north.glance, north.file, 0, u32::MAX);
        let has = |kind, text: &str| {
            assert!(all.iter().any(|hint| hint.kind == kind && hint.text == text), "{text}: {all:?}")
        };
        has(HintKind::OtherEnd, "1700 mm to the right end");
        has(HintKind::Area, "47.52 m²");
        has(HintKind::Edge, "4326.7 mm, 8:12 (33.7°)");
    }

    #[test]
    fn hints_of_a_stretch_stay_in_it() {
        let desk = desk(&[("wall.wythe", "face n {\n    overhang 1ft\n    limiting_distance 2$0ft\n}\n")]);
        let found = hints(&desk.glance, desk.file, desk.offset, desk.offset + 3);
        assert_eq!(found.iter().map(|hint| &*hint.text).collect::<Vec<_>>(), ["609.6 mm"]);
    }
}
