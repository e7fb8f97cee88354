//! Hatches: real lines in black, cut by the outline they fill, told apart by pattern alone.
//!
//! The patterns are our own choice within common drawing practice (loops for insulation, rings for end grain,
//! paired slanted lines for metal); no standard is claimed. Spacings are mm of paper.

use super::item::Weight;
use super::shape::{Point, Rect, at, clip, inside};

/// What a hatch stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hatch {
    /// Boards fixed upright: upright lines.
    Board,
    /// Boards fixed level: level lines.
    HorizontalBoard,
    /// Soft insulation: a zigzag from face to face.
    Insulation,
    /// Insulation in boards: a lattice of lozenges.
    InsulationBoard,
    /// Wood cut across: rings about a corner.
    EndGrain,
    /// A membrane: short bars across it.
    Membrane,
    /// Concrete: points and stones.
    Concrete,
    /// Earth: slanted threes, turned about.
    Earth,
    /// Metal: paired slanted lines.
    Metal,
    /// The drained and ventilated gap: a few points.
    Gap,
    /// Scrapped or taken away: wide crossing lines.
    Scrapped,
    /// Today's section, the part a sheet is about: wide slanted lines.
    Today,
}

impl Hatch {
    /// Every hatch, in the order of a key.
    pub const ALL: [Hatch; 12] = [
        Hatch::Board,
        Hatch::HorizontalBoard,
        Hatch::Insulation,
        Hatch::InsulationBoard,
        Hatch::EndGrain,
        Hatch::Membrane,
        Hatch::Concrete,
        Hatch::Earth,
        Hatch::Metal,
        Hatch::Gap,
        Hatch::Scrapped,
        Hatch::Today,
    ];

    /// What a key beside a drawing calls it.
    pub const fn name(self) -> &'static str {
        match self {
            Hatch::Board => "upright board",
            Hatch::HorizontalBoard => "level board",
            Hatch::Insulation => "soft insulation",
            Hatch::InsulationBoard => "insulation board",
            Hatch::EndGrain => "wood, cut across",
            Hatch::Membrane => "membrane",
            Hatch::Concrete => "concrete",
            Hatch::Earth => "earth",
            Hatch::Metal => "metal",
            Hatch::Gap => "gap",
            Hatch::Scrapped => "scrapped",
            Hatch::Today => "this section",
        }
    }

    /// How thick its lines are; points are drawn at twice the thickness.
    pub const fn weight(self) -> Weight {
        match self {
            Hatch::Membrane | Hatch::Gap | Hatch::Concrete => Weight::Medium,
            _ => Weight::Light,
        }
    }

    /// Its lines within rings (even-odd). A line of no length is a point.
    ///
    /// What lies more than 2 m off the sheet's corner is left bare, so that a stray number cannot fill the memory.
    pub fn lines(self, rings: &[Vec<Point>]) -> Vec<[Point; 2]> {
        let all = || rings.iter().flatten().copied();
        if !all().all(|point| point.x.abs() < 2000.0 && point.y.abs() < 2000.0) {
            return Vec::new();
        }
        let area = Rect::around(all());
        self.pattern(&area).into_iter().flat_map(|[from, to]| cut(rings, from, to)).collect()
    }

    fn pattern(self, area: &Rect) -> Vec<[Point; 2]> {
        match self {
            Hatch::Board => slanted(area, 90.0, 1.6),
            Hatch::HorizontalBoard => slanted(area, 0.0, 1.6),
            Hatch::Insulation => zigzag(area),
            Hatch::InsulationBoard => [slanted(area, 60.0, 2.4), slanted(area, -60.0, 2.4)].concat(),
            Hatch::EndGrain => rings_about_a_corner(area),
            Hatch::Membrane => slanted(area, if area.height > area.width { 0.0 } else { 90.0 }, 1.0),
            Hatch::Concrete => cells(area, 3.2, stones),
            Hatch::Earth => cells(area, 4.2, threes),
            Hatch::Metal => paired(area),
            Hatch::Gap => {
                cells(area, 2.2, |corner, odd| if odd { vec![[corner.shift(1.1, 1.1); 2]] } else { Vec::new() })
            }
            Hatch::Scrapped => [slanted(area, 45.0, 4.0), slanted(area, -45.0, 4.0)].concat(),
            Hatch::Today => slanted(area, -45.0, 3.0),
        }
    }
}

fn cut(rings: &[Vec<Point>], from: Point, to: Point) -> Vec<[Point; 2]> {
    if from == to { if inside(rings, from) { vec![[from, to]] } else { Vec::new() } } else { clip(rings, from, to) }
}

/// Parallel lines in step with the sheet, so that neighbours of one material join without a seam.
fn slanted(area: &Rect, degrees: f64, step: f64) -> Vec<[Point; 2]> {
    let (along, across) = (at(1.0, 0.0).turned(at(0.0, 0.0), degrees), at(0.0, 1.0).turned(at(0.0, 0.0), degrees));
    let dot = |point: Point, axis: Point| point.x * axis.x + point.y * axis.y;
    let place = |a: f64, c: f64| at(along.x * a + across.x * c, along.y * a + across.y * c);
    let (mut low, mut high) = (at(f64::MAX, f64::MAX), at(f64::MIN, f64::MIN));
    for corner in area.corners() {
        let (a, c) = (dot(corner, along), dot(corner, across));
        (low, high) = (at(low.x.min(a), low.y.min(c)), at(high.x.max(a), high.y.max(c)));
    }
    steps(low.y, high.y, step).map(|c| [place(low.x - 1.0, c), place(high.x + 1.0, c)]).collect()
}

/// The multiples of `step`, moved by half a step, between two numbers.
fn steps(from: f64, to: f64, step: f64) -> impl Iterator<Item = f64> {
    let (first, last) = ((from / step - 0.5).ceil() as i64, (to / step - 0.5).floor() as i64);
    (first..=last).map(move |index| (index as f64 + 0.5) * step)
}

fn paired(area: &Rect) -> Vec<[Point; 2]> {
    let lines = slanted(area, -45.0, 2.4);
    let second = lines.iter().map(|[a, b]| [a.shift(0.7, 0.0), b.shift(0.7, 0.0)]).collect::<Vec<_>>();
    [lines, second].concat()
}

/// A zigzag from face to face of the thinner side, in rows where the part is thick.
fn zigzag(area: &Rect) -> Vec<[Point; 2]> {
    let upright = area.height > area.width;
    let (thick, long) = if upright { (area.width, area.height) } else { (area.height, area.width) };
    let rows = (thick / 16.0).ceil().max(1.0);
    let (row, pitch) = (thick / rows, (thick / rows / 4.0).clamp(0.7, 2.0));
    let place = |a: f64, c: f64| if upright { at(area.x + c, area.y + a) } else { at(area.x + a, area.y + c) };
    let mut lines = Vec::new();
    for index in 0..rows as u32 {
        let (near, far) = (f64::from(index) * row, f64::from(index + 1) * row);
        for tooth in 0..(long / pitch).ceil() as u32 {
            let (start, end) = (f64::from(tooth) * pitch, f64::from(tooth + 1) * pitch);
            let (from, to) = if tooth % 2 == 0 { (near, far) } else { (far, near) };
            lines.push([place(start, from), place(end, to)]);
        }
    }
    lines
}

/// Quarter rings about the lower left corner, as a growth-ring sawn through.
fn rings_about_a_corner(area: &Rect) -> Vec<[Point; 2]> {
    let centre = at(area.x - area.width * 0.15, area.bottom() + area.height * 0.1);
    let reach = centre.distance(at(area.right(), area.y));
    let mut lines = Vec::new();
    for ring in 1..=(reach / 1.3).floor() as u32 {
        let place = |degrees: i32| centre.shift(f64::from(ring) * 1.3, 0.0).turned(centre, f64::from(degrees));
        lines.extend((-15..0).map(|sector| [place(sector * 6), place((sector + 1) * 6)]));
    }
    lines
}

/// One small figure per cell of a grid in step with the sheet; every second cell is odd.
fn cells(area: &Rect, size: f64, figure: impl Fn(Point, bool) -> Vec<[Point; 2]>) -> Vec<[Point; 2]> {
    let span = |from: f64, to: f64| (from / size).floor() as i64..(to / size).ceil() as i64;
    let mut lines = Vec::new();
    for row in span(area.y, area.bottom()) {
        for column in span(area.x, area.right()) {
            let corner = at(column as f64 * size, row as f64 * size);
            lines.extend(figure(corner, (row + column).rem_euclid(2) == 1));
        }
    }
    lines
}

fn stones(corner: Point, odd: bool) -> Vec<[Point; 2]> {
    let point = |x: f64, y: f64| [corner.shift(x, y); 2];
    let (a, b, c) = (corner.shift(0.9, 1.9), corner.shift(2.2, 1.5), corner.shift(1.4, 0.7));
    if odd {
        vec![[a, b], [b, c], [c, a], point(2.7, 2.6)]
    } else {
        vec![point(0.7, 0.6), point(2.2, 1.3), point(1.2, 2.4), point(2.8, 2.9)]
    }
}

fn threes(corner: Point, odd: bool) -> Vec<[Point; 2]> {
    (0..3)
        .map(|index| {
            let step = 0.6 + 0.9 * f64::from(index);
            if odd {
                [corner.shift(step, 3.4), corner.shift(step + 1.6, 0.8)]
            } else {
                [corner.shift(step, 0.8), corner.shift(step + 1.6, 3.4)]
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_hatch_leaves_its_outline_or_enters_its_hole() {
        let hole = Rect::edges(20.0, 20.0, 40.0, 40.0);
        let rings = [Rect::edges(0.0, 0.0, 60.0, 60.0).corners().to_vec(), hole.corners().to_vec()];
        for hatch in Hatch::ALL {
            let lines = hatch.lines(&rings);
            assert!(lines.len() > 10, "{hatch:?} draws {} lines", lines.len());
            for [a, b] in lines {
                let middle = a.towards(b, 0.5);
                assert!(inside(&rings, middle), "{hatch:?} leaves its outline at {middle:?}");
            }
        }
    }

    #[test]
    fn stray_numbers_draw_nothing() {
        for x in [f64::NAN, f64::INFINITY, 1e12] {
            assert!(Hatch::Board.lines(&[vec![at(0.0, 0.0), at(x, 0.0), at(0.0, 5.0)]]).is_empty());
        }
        assert!(Hatch::Insulation.lines(&[]).is_empty());
    }
}
