//! The story pole: course lines, sills, heads, trims, blocks, friezes and stop lines, all counted from the foot of one stick.
//!
//! Faces that share their courses share a pole: one for the house where one exposure serves all of it.

use std::collections::{BTreeMap, BTreeSet};

use super::field::{Field, trims_round};
use crate::geometry::Bounds;
use crate::model::{Face, Model};
use crate::plan::{FacePlan, Plan};
use crate::units::Length;

/// More courses than any house has.
const MOST: i64 = 2000;

/// A height on the pole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PoleMark {
    /// Above the datum.
    pub height: Length,
    /// The course line it is, counted from the first at or above the foot of the pole; none if it is no course line.
    pub course: Option<i64>,
    /// What comes there, in order: `sill of frame: north hall; west kitchen, reading`.
    pub what: Vec<String>,
}

/// One stick and its marks.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pole {
    /// The faces it serves.
    pub faces: Vec<String>,
    /// First course line above the datum and height of a course; none for faces without level courses.
    pub courses: Option<(Length, Length)>,
    /// Height of its foot above the datum: that of the lowest wall it serves.
    pub foot: Length,
    /// The walls that stand lowest: "where to hold it".
    pub lowest: String,
    /// From the lowest up.
    pub marks: Vec<PoleMark>,
}

/// Equal courses in a zone: as many as come nearest to the wanted exposure, and how high each then is. None for nothing.
pub fn equal(zone: Length, wanted: Length) -> Option<(i64, Length)> {
    if zone <= Length::ZERO || wanted <= Length::ZERO {
        return None;
    }
    let count = ((zone.0 + wanted.0 / 2) / wanted.0).max(1);
    Some((count, zone.scale(1, count)))
}

/// Equal courses between each two of some heights, if each is then within the range; the count and height of each zone.
pub fn zones(heights: &[Length], (least, most): (Length, Length)) -> Option<Vec<(i64, Length)>> {
    let heights: BTreeSet<Length> = heights.iter().copied().collect();
    let heights: Vec<Length> = heights.into_iter().collect();
    let wanted = (least + most) / 2;
    let each = heights.windows(2).map(|pair| match *pair {
        [low, high] => equal(high - low, wanted).filter(|(_, height)| (least..=most).contains(height)),
        _ => None,
    });
    each.collect::<Option<Vec<_>>>().filter(|zones| !zones.is_empty())
}

/// How far the courses of zones differ.
pub fn spread(zones: &[(i64, Length)]) -> Length {
    let heights = || zones.iter().map(|zone| zone.1);
    heights().max().unwrap_or_default() - heights().min().unwrap_or_default()
}

/// What comes at a height: by what it is, then by face.
type Named = BTreeMap<Length, BTreeMap<&'static str, BTreeMap<String, BTreeSet<String>>>>;

/// A face with its plan.
type Stands<'m> = (&'m Face, &'m FacePlan);

/// The poles of a building: one for each way its courses are set out. Faces without level courses go with the first.
pub fn poles(model: &Model, plan: &Plan) -> Vec<Pole> {
    let mut groups: BTreeMap<Option<(Length, Length)>, Vec<Stands<'_>>> = BTreeMap::new();
    for (face, placed) in model.faces.iter().zip(&plan.faces).filter(|(_, placed)| !placed.outline.is_empty()) {
        let courses = placed.course_start.zip(placed.exposure).filter(|(_, exposure)| exposure.0 > 0);
        groups.entry(courses.filter(|_| is_coursed(placed))).or_default().push((face, placed));
    }
    if groups.len() > 1
        && let Some(rest) = groups.remove(&None)
        && let Some((_, first)) = groups.iter_mut().next()
    {
        first.extend(rest);
    }
    groups.into_iter().map(|(courses, faces)| pole(model, courses, &faces)).collect()
}

/// Whether any area lies in level courses: one whose field has no columns.
fn is_coursed(placed: &FacePlan) -> bool {
    placed.areas.iter().filter_map(|area| area.field.as_ref()).any(|field| field.columns.is_none())
}

fn pole(model: &Model, courses: Option<(Length, Length)>, faces: &[Stands<'_>]) -> Pole {
    let bounds = || faces.iter().filter_map(|(_, placed)| placed.outline.bounds());
    let foot = bounds().map(|bounds| bounds.bottom).min().unwrap_or_default();
    let top = bounds().map(|bounds| bounds.top).max().unwrap_or_default();
    let mut found = Named::new();
    for (face, placed) in faces {
        name_face(model, face, placed, &mut found);
    }
    let lines = course_lines(courses, foot, top);
    for &height in lines.keys() {
        found.entry(height).or_default();
    }
    let of_faces = |(face, things): (&String, &BTreeSet<String>)| {
        let things: Vec<&str> = things.iter().map(String::as_str).filter(|thing| !thing.is_empty()).collect();
        if things.is_empty() { face.clone() } else { format!("{face} {}", things.join(", ")) }
    };
    let words = |(noun, faces): (&&str, &BTreeMap<String, BTreeSet<String>>)| {
        format!("{noun}: {}", faces.iter().map(of_faces).collect::<Vec<_>>().join("; "))
    };
    let marks = found.iter().map(|(&height, named)| PoleMark {
        height,
        course: lines.get(&height).copied(),
        what: named.iter().map(words).collect(),
    });
    let marks = marks.collect();
    let lowest = faces.iter().filter(|(_, placed)| placed.outline.bounds().is_some_and(|b| b.bottom == foot));
    let lowest: Vec<&str> = lowest.map(|(face, _)| face.name.as_str()).collect();
    let names = faces.iter().map(|(face, _)| face.name.clone()).collect();
    Pole { faces: names, courses, foot, lowest: lowest.join(", "), marks }
}

impl Pole {
    /// A height counted from the foot of the pole.
    pub fn from_foot(&self, height: Length) -> Length {
        height - self.foot
    }
}

/// Frames, trims, blocks, and every line at which cladding ends, of one face.
fn name_face(model: &Model, face: &Face, placed: &FacePlan, found: &mut Named) {
    let mut put = |height: Length, noun: &'static str, thing: &str| {
        let faces = found.entry(height).or_default().entry(noun).or_default();
        faces.entry(face.name.replace('_', " ")).or_default().insert(thing.replace('_', " "));
    };
    for (opening, shape) in face.openings.iter().zip(&placed.openings) {
        let Bounds { bottom, top, .. } = shape.bounds();
        put(bottom, "sill of frame", &opening.name);
        put(top, "head of frame", &opening.name);
        let [_, above, below] = trims_round(model, opening);
        if below.0 > 0 {
            put(bottom - below, "under sill trim", &opening.name);
        }
        if above.0 > 0 {
            put(top + above, "over head trim", &opening.name);
        }
    }
    for (block, shape) in face.blocks.iter().zip(&placed.blocks) {
        if let Some(bounds) = shape.as_ref().map(|shape| shape.bounds()) {
            put(bounds.bottom, "foot of block", &block.name);
            put(bounds.top, "top of block", &block.name);
        }
    }
    let stops = model
        .sections
        .iter()
        .filter(|section| section.face.and_then(|id| model.face(id)).is_some_and(|on| on.name == face.name));
    for (height, section) in stops.filter_map(|section| Some((section.up_to?, section))) {
        put(height, "stop line of section", &section.name);
    }
    let fields = placed.areas.iter().filter_map(|area| area.field.as_ref());
    for line in fields.flat_map(|field: &Field| &field.levels).filter(|line| line.is_cut()) {
        let edge = matches!(line.noun, "foot" | "frieze" | "top" | "rake" | "side" | "edge of");
        put(line.height(), boards(line.noun), if edge { "" } else { &line.thing });
    }
}

/// What the crew calls the end of boards at a line.
fn boards(noun: &'static str) -> &'static str {
    match noun {
        "foot" => "first boards",
        "sill of" => "boards end under sill",
        "head of" => "boards begin over head",
        "foot of block" => "boards end under block",
        "top of block" => "boards begin over block",
        "under slot" => "boards end under slot",
        "over slot" => "boards begin over slot",
        "frieze" => "boards end under frieze",
        "top" => "boards end at top",
        "rake" | "side" => "boards end in the peak",
        "shelf" => "boards at shelf",
        "roof line" => "boards begin over roof",
        "deck line" => "boards begin over deck",
        _ => "boards end",
    }
}

fn course_lines(from: Option<(Length, Length)>, low: Length, high: Length) -> BTreeMap<Length, i64> {
    let Some((start, exposure)) = from else { return BTreeMap::new() };
    if low > high {
        return BTreeMap::new();
    }
    let first = -(start - low).0.div_euclid(exposure.0);
    let lines = (0..MOST).map(|at| (start + exposure * (first + at), at + 1));
    lines.take_while(|&(height, _)| height <= high).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::heron_lane;

    #[test]
    fn equal_courses_in_each_zone() {
        // Zones 914, 1220, 609 with 150 wanted: 6, 8, 4 courses of 152.3, 152.5, 152.25. Common practice, no source.
        let found: Vec<(i64, Length)> =
            [914, 1220, 609].into_iter().filter_map(|zone| equal(Length::mm(zone), Length::mm(150))).collect();
        assert_eq!(found.iter().map(|zone| zone.0).collect::<Vec<_>>(), [6, 8, 4]);
        assert_eq!((found[1].1, found[2].1), (Length(152_500_000), Length(152_250_000)));
        assert_eq!(spread(&found[1..]), Length(250_000));
        let heights = [0, 914, 2134, 2743].map(Length::mm);
        assert_eq!(zones(&heights, (Length::mm(145), Length::mm(155))), Some(found));
        assert_eq!(zones(&heights, (Length::mm(150), Length::mm(151))), None);
        // 61 in of window with 10 in wanted: 6 of 10-1/6 in; 31 in below the sill: 3 of 10-1/3 in.
        let inches = |count: i64| equal(Length::INCH * count, Length::INCH * 10);
        assert_eq!(inches(61), Some((6, (Length::INCH * 61).scale(1, 6))));
        assert_eq!(inches(31), Some((3, (Length::INCH * 31).scale(1, 3))));
        assert_eq!(equal(Length::ZERO, Length::mm(150)), None);
    }

    #[test]
    fn course_lines_start_above_the_foot_and_are_exact_multiples() {
        let lines = course_lines(Some((Length::ZERO, Length::mm(150))), Length::mm(-200), Length::mm(1000));
        let heights: Vec<Length> = lines.keys().copied().collect();
        assert_eq!((heights[0], heights[1], heights.len()), (Length::mm(-150), Length::ZERO, 8));
        assert_eq!(lines.get(&Length::ZERO), Some(&2));
    }

    #[test]
    fn one_pole_serves_the_house_and_names_every_line_of_every_opening() {
        let checked = heron_lane();
        let poles = poles(&checked.model, &checked.plan);
        let [pole] = poles.as_slice() else { panic!("{} poles", poles.len()) };
        assert_eq!(pole.foot, Length::mm(-540));
        let at = |height: i64| {
            let found = pole.marks.iter().find(|mark| mark.height == Length::mm(height));
            found.map(|mark| mark.what.join(" / ")).unwrap_or_default()
        };
        // Frame 875 to 2090; no trim but a gap of 3 under the sill; reveal 6, trim 89 and clearance 6 over the head.
        for (height, words) in [
            (875, "sill of frame"),
            (2090, "head of frame"),
            (872, "boards end under sill"),
            (2185, "over head trim"),
            (2191, "boards begin over head"),
        ] {
            assert!(at(height).contains(words) && at(height).contains("kitchen"), "{height}: {}", at(height));
        }
        for (face, placed) in checked.model.faces.iter().zip(&checked.plan.faces) {
            assert_eq!(placed.course_start.zip(placed.exposure), pole.courses, "{}", face.name);
        }
    }
}
