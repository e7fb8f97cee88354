//! The base line of a wall, mark by mark: its height, the ground there in the end, and what is left between.

use super::ground::{ground_line, height, planned};
use crate::geometry::Segment;
use crate::model::Face;
use crate::units::Length;

/// Marks along a base, besides its ends and where the ground was measured.
const EVERY: Length = Length::mm(1000);

/// One mark on the base line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BaseMark {
    /// From the left end of the wall.
    pub along: Length,
    /// Of the base line above the datum.
    pub height: Length,
    /// Ground there with what is planned on it; none if nothing was said.
    pub grade: Option<Length>,
    /// What is left between.
    pub clear: Option<Length>,
}

/// One edge of the base.
#[derive(Clone, Debug, PartialEq)]
pub struct BaseLine {
    /// Its name: `base`, `step.1`.
    pub name: String,
    /// Left end first.
    pub line: Segment,
    /// Rise over run to the right; 0 is level. None for an upright step.
    pub slope: Option<f64>,
    /// What the edge promises to keep.
    pub keep: Option<Length>,
    /// From the left.
    pub marks: Vec<BaseMark>,
}

/// A way to build the base over ground that is not level, with what comes of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// `level`, `stepped`, `raked`.
    pub way: &'static str,
    /// Height of the base line at the left and at the right end, above the datum.
    pub ends: [Length; 2],
    /// Steps of one course, each with a closure and an end dam.
    pub steps: i64,
    /// Least and most left between base and ground: the least is what was to be kept, the most is foundation seen.
    pub clear: [Length; 2],
    /// Courses that are cut to a feather along the slope, and how long each feather is.
    pub feathers: Option<(i64, Length)>,
    /// Level lines from which every bay lets its own water out, or the low ends of a slope that have to be open.
    pub outlets: i64,
}

/// Level, stepped by courses, and raked, each as low as `keep` above the ground allows; nothing where the ground or what is
/// to be kept is not known, or where the ground is level.
pub fn choices(face: &Face, courses: Option<(Length, Length)>) -> Vec<Choice> {
    let lines = of_face(face);
    let Some(keep) = lines.iter().filter_map(|line| line.keep).max() else { return Vec::new() };
    let mut ground: Vec<(Length, Length)> =
        lines.iter().flat_map(|line| &line.marks).filter_map(|mark| Some((mark.along, mark.grade?))).collect();
    ground.sort_unstable();
    ground.dedup();
    compare(&ground, keep, courses)
}

/// The same over a line of ground, from the left.
pub fn compare(ground: &[(Length, Length)], keep: Length, courses: Option<(Length, Length)>) -> Vec<Choice> {
    let (Some(&first), Some(&last)) = (ground.first(), ground.last()) else { return Vec::new() };
    let grades = || ground.iter().map(|place| place.1);
    let (low, high) = (grades().min().unwrap_or_default(), grades().max().unwrap_or_default());
    if low == high || first.0 == last.0 {
        return Vec::new();
    }
    let top = high + keep;
    let mut found =
        vec![Choice { way: "level", ends: [top; 2], steps: 0, clear: [keep, top - low], feathers: None, outlets: 1 }];
    if let Some((start, exposure)) = courses.filter(|(_, exposure)| exposure.0 > 0) {
        // The course line that clears the ground at a place.
        let line = |grade: Length| -((start - grade - keep).0.div_euclid(exposure.0));
        let counts: Vec<i64> = ground.iter().map(|place| line(place.1)).collect();
        let steps = counts.windows(2).map(|pair| if let [a, b] = pair { (b - a).abs() } else { 0 }).sum();
        let height = |count: i64| start + exposure * count;
        let clears = || ground.iter().zip(&counts).map(|(place, count)| height(*count) - place.1);
        let least = if steps > 0 { keep } else { clears().min().unwrap_or_default() };
        let most = if steps > 0 { keep + exposure } else { clears().max().unwrap_or_default() };
        found.push(Choice {
            way: "stepped",
            ends: [height(line(first.1)), height(line(last.1))],
            steps,
            clear: [least, most],
            feathers: None,
            outlets: steps + 1,
        });
    }
    // One straight line, as steep as the ground from end to end, that clears it everywhere.
    let run = (last.0 - first.0).as_mm();
    let slope = (last.1 - first.1).as_mm() / run;
    let straight = |at: Length| first.1 + Length::snap_mm((at - first.0).as_mm() * slope);
    let lift = ground.iter().map(|place| place.1 - straight(place.0)).max().unwrap_or_default() + keep;
    let deepest = ground.iter().map(|place| straight(place.0) + lift - place.1).max().unwrap_or_default();
    let drop = (last.1 - first.1).abs();
    let feathers = courses
        .filter(|(_, exposure)| exposure.0 > 0 && slope != 0.0)
        .map(|(_, exposure)| ((drop.0 + exposure.0 - 1) / exposure.0, Length::snap_mm(exposure.as_mm() / slope.abs())));
    found.push(Choice {
        way: "raked",
        ends: [first.1 + lift, last.1 + lift],
        steps: 0,
        clear: [keep, deepest],
        feathers,
        outlets: 1,
    });
    found
}

/// The base edges of a face, from the left.
pub fn of_face(face: &Face) -> Vec<BaseLine> {
    let left = face.outline.as_ref().and_then(|ring| ring.bounds()).unwrap_or_default().left;
    let (ground, raises) = (ground_line(face), planned(face));
    let edges = face.edges.iter().filter(|edge| matches!(edge.kind, "base" | "step"));
    let mut lines: Vec<BaseLine> = edges
        .map(|edge| {
            let line = if edge.segment.to.x < edge.segment.from.x { edge.segment.reversed() } else { edge.segment };
            let vector = line.vector();
            let slope = (vector.dx.0 != 0).then(|| vector.dy.as_mm() / vector.dx.as_mm());
            let mut places = vec![line.from.x, line.to.x];
            let steps = (1..=1000).map(|step| line.from.x + EVERY * step).take_while(|&x| x < line.to.x);
            places.extend(steps);
            places.extend(ground.iter().map(|point| point.x).filter(|&x| line.from.x < x && x < line.to.x));
            places.sort_unstable();
            places.dedup();
            let mark = |x: Length| {
                let own = line.y_at(x).unwrap_or(line.from.y.min(line.to.y));
                let raised: Length = raises.iter().filter(|r| r.0 <= x && x <= r.1).map(|r| r.2).sum();
                let grade = height(&ground, x).map(|ground| ground + raised);
                BaseMark { along: x - left, height: own, grade, clear: grade.map(|grade| own - grade) }
            };
            let marks = places.into_iter().map(mark).collect();
            BaseLine { name: edge.name.clone(), line, slope, keep: edge.keep, marks }
        })
        .collect();
    lines.sort_by_key(|line| (line.line.from, line.line.to));
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slope_of_five_percent_is_three_steps_of_a_course_or_one_rake() {
        // Practice: 5 % over 9.14 m drops 457 mm, three courses of 152.4. Worked by hand, no source.
        let mm = Length::mm;
        let ground = [(mm(0), mm(-200)), (mm(9140), mm(-657))];
        let exposure = Length(152_400_000);
        let found = compare(&ground, mm(200), Some((Length::ZERO, exposure)));
        let [level, stepped, raked] = found.as_slice() else { panic!("{found:?}") };
        assert_eq!((level.ends, level.clear), ([mm(0); 2], [mm(200), mm(657)]));
        // The base is at the datum at the left; −457 clears the right end by course line −2 (−304.8), since −457.2 would not.
        assert_eq!((stepped.steps, stepped.ends), (2, [mm(0), -exposure * 2]));
        assert_eq!(stepped.clear, [mm(200), mm(200) + exposure]);
        // With a keep of 0.2 mm less the third course fits: the drop is three courses.
        let lower = compare(&ground, Length(199_800_000), Some((Length::ZERO, exposure)));
        assert_eq!(lower[1].steps, 3);
        assert_eq!((raked.ends, raked.clear), ([mm(0), mm(-457)], [mm(200); 2]));
        let (courses, feather) = raked.feathers.unwrap();
        // 152.4 / 0.05 = 3048 mm to the feather.
        assert_eq!(courses, 3);
        assert!((feather.as_mm() - 3048.0).abs() < 1.0, "{feather:?}");
        assert!(compare(&[(mm(0), mm(0)), (mm(5000), mm(0))], mm(200), None).is_empty());
    }

    #[test]
    fn a_hump_is_cleared_by_all_three() {
        let mm = Length::mm;
        let ground = [(mm(0), mm(-300)), (mm(2000), mm(-100)), (mm(4000), mm(-500))];
        for choice in compare(&ground, mm(200), Some((Length::ZERO, mm(150)))) {
            assert!(choice.clear[0] >= mm(200), "{choice:?}");
        }
    }
}
