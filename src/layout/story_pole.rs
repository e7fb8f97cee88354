//! One story pole for the whole house: course lines, sills, heads, blocks and stop lines, all counted from the datum.

use std::collections::BTreeMap;

use crate::model::Model;
use crate::plan::Plan;
use crate::units::Length;

/// More courses than any house has.
const MOST: i64 = 2000;

/// A height on the pole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PoleMark {
    /// Above the datum.
    pub height: Length,
    /// The course line it is, counted from the first above the lowest wall; none if it is no course line.
    pub course: Option<i64>,
    /// What comes there, in order: `sill of north.kitchen`.
    pub what: Vec<String>,
}

/// The exposures the pole holds, and its marks from the foot up.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pole {
    /// First course line and height of a course; several only where faces differ.
    pub exposures: Vec<(Length, Length)>,
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

/// The pole of a building.
pub fn pole(model: &Model, plan: &Plan) -> Pole {
    let mut found: BTreeMap<Length, Vec<String>> = BTreeMap::new();
    let mut exposures: Vec<(Length, Length)> = Vec::new();
    let (mut low, mut high) = (Length(i64::MAX), Length(i64::MIN));
    for (face, placed) in model.faces.iter().zip(&plan.faces) {
        let Some(bounds) = placed.outline.bounds() else { continue };
        (low, high) = (low.min(bounds.bottom), high.max(bounds.top));
        exposures.extend(placed.course_start.zip(placed.exposure).filter(|(_, exposure)| exposure.0 > 0));
        let mut put = |height: Length, what: String| found.entry(height).or_default().push(what);
        let name = |own: &str| format!("{}.{own}", face.name);
        put(bounds.bottom, format!("foot of {}", face.name));
        put(bounds.top, format!("top of {}", face.name));
        for (opening, shape) in face.openings.iter().zip(&placed.openings) {
            put(shape.bounds().bottom, format!("sill of {}", name(&opening.name)));
            put(shape.bounds().top, format!("head of {}", name(&opening.name)));
        }
        for (block, shape) in face.blocks.iter().zip(&placed.blocks) {
            if let Some(bounds) = shape.as_ref().map(|shape| shape.bounds()) {
                put(bounds.bottom, format!("foot of block {}", name(&block.name)));
                put(bounds.top, format!("top of block {}", name(&block.name)));
            }
        }
    }
    for section in &model.sections {
        if let Some(height) = section.up_to {
            found.entry(height).or_default().push(format!("stop line of section {}", section.name));
        }
    }
    exposures.sort_unstable();
    exposures.dedup();
    let courses = course_lines(exposures.first().copied(), low, high);
    for &height in courses.keys() {
        found.entry(height).or_default();
    }
    let mark = |(height, what)| PoleMark { height, course: courses.get(&height).copied(), what };
    Pole { exposures, marks: found.into_iter().map(mark).collect() }
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

    #[test]
    fn equal_courses_in_each_zone() {
        // Zones 914, 1220, 609 with 150 wanted: 6, 8, 4 courses of 152.3, 152.5, 152.25. Common practice, no source.
        let found: Vec<(i64, Length)> =
            [914, 1220, 609].into_iter().filter_map(|zone| equal(Length::mm(zone), Length::mm(150))).collect();
        assert_eq!(found.iter().map(|zone| zone.0).collect::<Vec<_>>(), [6, 8, 4]);
        assert_eq!((found[1].1, found[2].1), (Length(152_500_000), Length(152_250_000)));
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
}
