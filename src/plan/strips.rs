//! Furring strips of one area: where marks and extra strips lie, cut to length by what stands in their way.

use super::blanks::{Blank, Columns, cut};
use super::gap::{Obstacles, Wall, against_plane, gap_of, grown};
use super::places::{NEAR, Scene, band, inside, tidy};
use super::{FacePlan, Strip, StripPurpose};
use crate::geometry::{Bounds, Point, Polygon, Region, Ring, Segment, split_run};
use crate::layout::furring::{MOST_MARKS, SetOut, centres};
use crate::model::{Direction, Furring};
use crate::units::Length;

/// Strips of an area: the first `cutting` of them lie against the plane and divide the gap.
#[derive(Default)]
pub(super) struct Laid {
    pub strips: Vec<Strip>,
    pub cutting: usize,
}

/// Lays the furring of one area.
pub(super) fn lay(scene: &Scene<'_>, plan: &FacePlan, gap: &Obstacles, area: usize) -> Laid {
    let mut laid = Laid::default();
    let Some(layer) = gap_of(scene, area) else { return laid };
    let Some(inner) = against_plane(layer) else { return laid };
    // The innermost strips divide the gap, and others that run the same way; the rest lie over them.
    let (cutting, over): (Vec<&Furring>, Vec<&Furring>) =
        layer.furring.iter().partition(|furring| direction(furring) == direction(inner));
    for furring in cutting {
        let counter = furring.counter.is_some() && direction(furring) == Direction::Horizontal;
        let run = if counter { Direction::Vertical } else { direction(furring) };
        laid.strips.extend(strips(scene, plan, gap, area, furring, run));
    }
    laid.cutting = laid.strips.len();
    let behind = std::iter::once(inner).filter(|furring| furring.counter.is_some());
    for furring in behind.filter(|furring| direction(furring) == Direction::Horizontal).chain(over) {
        laid.strips.extend(strips(scene, plan, gap, area, furring, direction(furring)));
    }
    laid
}

/// Strips that do not say which way they run are taken to run up the wall.
fn direction(furring: &Furring) -> Direction {
    furring.direction.unwrap_or(Direction::Vertical)
}

/// The strips of one layer of furring on one area.
fn strips(
    scene: &Scene<'_>,
    plan: &FacePlan,
    gap: &Obstacles,
    area: usize,
    furring: &Furring,
    run: Direction,
) -> Vec<Strip> {
    let Some(layer) = Layer::new(scene, plan, gap, area, furring) else { return Vec::new() };
    match run {
        Direction::Vertical => layer.vertical(),
        Direction::Horizontal => layer.horizontal(),
        Direction::Diagonal(angle) => layer.diagonal(angle),
    }
}

/// One layer of furring on one area.
struct Layer<'a, 'm> {
    scene: &'a Scene<'m>,
    plan: &'a FacePlan,
    gap: &'a Obstacles,
    furring: &'a Furring,
    whole: &'a Region,
    bounds: Bounds,
    width: Length,
}

impl<'a, 'm> Layer<'a, 'm> {
    /// Strips of which one size only is known are taken to be square.
    fn new(
        scene: &'a Scene<'m>,
        plan: &'a FacePlan,
        gap: &'a Obstacles,
        area: usize,
        furring: &'a Furring,
    ) -> Option<Self> {
        let whole = &plan.areas.get(area)?.whole;
        let width = furring.width.unwrap_or(furring.thickness);
        let bounds = whole.bounds().filter(|_| width > Length::ZERO)?;
        Some(Self { scene, plan, gap, furring, whole, bounds, width })
    }

    fn set_out(&self) -> SetOut<'_> {
        let Furring { spacing, first, marks, .. } = self.furring;
        SetOut { width: self.width, spacing: *spacing, first: *first, marks }
    }

    /// Strips up the wall: marks from the left end of the face, and extra strips.
    fn vertical(&self) -> Vec<Strip> {
        let mut columns = self.extra();
        let half = Length(self.width.0 / 2);
        for centre in centres(self.set_out(), self.scene.bounds.left, self.bounds.right) {
            if centre + half > self.bounds.left && centre - half < self.bounds.right {
                columns.add_regular(centre - half);
            }
        }
        let field = self.without_cross_gaps(self.field(), false);
        cut(&field, &columns.blanks(self.bounds), self.width)
    }

    /// Strips along the wall: marks from the foot of the area; they butt against the extra strips, which stay upright.
    fn horizontal(&self) -> Vec<Strip> {
        let field = self.field();
        let upright = cut(&field, &self.extra().blanks(self.bounds), self.width);
        let shapes: Region = upright.iter().map(|strip| strip.shape.clone()).collect();
        let field = self.without_cross_gaps(field.difference(&shapes), true);
        let half = Length(self.width.0 / 2);
        let rows: Vec<Blank> = centres(self.set_out(), self.bounds.bottom, self.bounds.top)
            .into_iter()
            .map(|centre| Blank {
                bounds: Bounds { bottom: centre - half, top: centre - half + self.width, ..self.bounds },
                purpose: StripPurpose::Regular,
                horizontal: true,
            })
            .collect();
        upright.into_iter().chain(cut(&field, &rows, self.width)).collect()
    }

    /// Strips at an angle to the horizontal, set out square to their run. Their corners are put on the grid.
    fn diagonal(&self, angle: f64) -> Vec<Strip> {
        let (sine, cosine) = (libm::sin(angle), libm::cos(angle));
        if !angle.is_finite() || cosine.abs() < 1e-6 {
            return self.vertical();
        }
        if sine.abs() < 1e-6 {
            return self.horizontal();
        }
        let at = |along: f64, off: f64| {
            let (x, y) = (along * cosine - off * sine, along * sine + off * cosine);
            Point::new(Length::snap_mm(x), Length::snap_mm(y))
        };
        let Bounds { left, bottom, right, top } = self.bounds;
        let corners = [(left, bottom), (right, bottom), (right, top), (left, top)].map(|(x, y)| (x.as_mm(), y.as_mm()));
        let span = |project: &dyn Fn((f64, f64)) -> f64| {
            let values = corners.map(project);
            (values.iter().copied().fold(f64::MAX, f64::min), values.iter().copied().fold(f64::MIN, f64::max))
        };
        let (start, end) = span(&|(x, y)| x * cosine + y * sine);
        let (low, high) = span(&|(x, y)| y * cosine - x * sine);
        let half = self.width.as_mm() / 2.0;
        let field = self.field();
        let mut strips = Vec::new();
        for centre in centres(self.set_out(), Length::snap_mm(low), Length::snap_mm(high)) {
            let off = centre.as_mm();
            let ring =
                [(start, -half), (end, -half), (end, half), (start, half)].map(|(along, by)| at(along, off + by));
            let shape = Polygon::new(Ring::new(ring.to_vec()), Vec::new());
            let axis = Segment::new(at(start, off), at(end, off));
            strips.extend(pieces(&field, shape, axis));
        }
        strips
    }

    /// Extra strips: at sides, joints, jambs and blocks, in this order of precedence where they coincide.
    fn extra(&self) -> Columns {
        let mut columns = Columns::new(self.width);
        self.at_sides(&mut columns);
        if self.furring.at_jambs {
            for obstacle in self.gap.list.iter().filter(|obstacle| obstacle.wall == Wall::Opening) {
                columns.add_beside(obstacle.shape.bounds(), StripPurpose::Jamb);
            }
        }
        if self.furring.at_blocks {
            let standing = self.scene.face.blocks.iter().zip(&self.plan.blocks);
            for (_, shape) in standing.filter(|(block, _)| block.on != Some("cladding")) {
                if let Some(shape) = shape {
                    columns.add_beside(shape.bounds(), StripPurpose::Block);
                }
            }
        }
        columns
    }

    /// One strip along each upright side of the area: corners where the face ends, joints where another area begins.
    fn at_sides(&self, columns: &mut Columns) {
        let ends: Vec<Segment> = self
            .scene
            .face
            .edges
            .iter()
            .filter(|edge| edge.meets.is_some() || matches!(edge.kind, "left" | "right"))
            .map(|edge| edge.segment)
            .collect();
        let outline: Vec<Segment> = self.scene.face.edges.iter().map(|edge| edge.segment).collect();
        let mut sides: Vec<(StripPurpose, Length)> = Vec::new();
        for (_, edge) in self.whole.edges().filter(|(_, edge)| edge.segment.is_vertical()) {
            // The inside lies to the left of an edge: one that goes up is a right side.
            let x = edge.segment.from.x;
            let left = if edge.segment.to.y > edge.segment.from.y { x - self.width } else { x };
            let lies_on = |lines: &[Segment]| lines.iter().any(|line| edge.segment.overlap_near(*line, NEAR).is_some());
            if self.furring.at_corners && lies_on(&ends) {
                sides.push((StripPurpose::Corner, left));
            }
            let free = || split_run(edge.segment, &outline, NEAR).iter().any(|piece| piece.over.is_none());
            if self.furring.at_joints && free() {
                sides.push((StripPurpose::Joint, left));
            }
        }
        sides.sort_by_key(|&(purpose, left)| (purpose != StripPurpose::Corner, left));
        for (purpose, left) in sides {
            columns.add_full(left, purpose);
        }
    }

    /// Where furring may lie.
    fn field(&self) -> Region {
        let stops = self.furring.stops.unwrap_or_default().max(Length::ZERO);
        let mut taken: Vec<Polygon> = self
            .gap
            .cutting_furring()
            .map(|obstacle| match obstacle.wall {
                Wall::Crossing(_) => obstacle.shape.clone(),
                Wall::Opening | Wall::Dividing(_) | Wall::Thing(_) => grown(obstacle.shape.bounds(), stops),
            })
            .collect();
        if let Some(up) = self.furring.held_up.filter(|&up| up > Length::ZERO) {
            let floors = self.whole.edges().map(|(_, edge)| edge.segment).filter(|edge| edge.is_floor());
            taken.extend(floors.map(|floor| band(floor, up)));
        }
        if let Some(down) = self.furring.held_down.filter(|&down| down > Length::ZERO) {
            taken.extend(self.tops().into_iter().map(|top| band(top, -down)));
        }
        let taken: Region = taken.into_iter().filter(|shape| shape.doubled_area() > 0).collect();
        self.whole.difference(&taken)
    }

    /// The upper ends of the wall within the area: tops, rakes and parapets, no transitions.
    fn tops(&self) -> Vec<Segment> {
        let is_top = |kind: &str| matches!(kind, "top" | "rake" | "parapet");
        let tops: Vec<Segment> =
            self.scene.face.edges.iter().filter(|edge| is_top(edge.kind)).map(|edge| edge.segment).collect();
        let ceilings = self.whole.edges().map(|(_, edge)| edge.segment).filter(|edge| edge.is_ceiling());
        ceilings
            .flat_map(|edge| split_run(edge, &tops, NEAR))
            .filter(|piece| piece.over.is_some())
            .map(|piece| piece.part)
            .collect()
    }

    /// Leaves gaps in long strips: the first one spacing from the foot (or left end) of the area.
    fn without_cross_gaps(&self, field: Region, horizontal: bool) -> Region {
        let Some((gap, every)) = self.furring.cross_gap.filter(|(gap, every)| gap.0 > 0 && every.0 > 0) else {
            return field;
        };
        let Bounds { left, bottom, right, top } = self.bounds;
        let (start, end) = if horizontal { (left, right) } else { (bottom, top) };
        let marks = (1..=MOST_MARKS as i64).map(|count| start + every * count).take_while(|&mark| mark < end);
        let gaps: Region = marks
            .map(|mark| match horizontal {
                true => Polygon::rectangle(mark, bottom, mark + gap, top),
                false => Polygon::rectangle(left, mark, right, mark + gap),
            })
            .collect();
        field.difference(&gaps)
    }
}

/// What is left of a diagonal strip within the field.
fn pieces(field: &Region, shape: Polygon, axis: Segment) -> Vec<Strip> {
    let left = tidy(field.intersection(&Region::from(shape)));
    let axis = if axis.to.y < axis.from.y { axis.reversed() } else { axis };
    left.into_components()
        .into_iter()
        .map(|shape| {
            let bounds = shape.bounds();
            let within = inside(axis, &Region::from(shape.clone()));
            let ends = within.first().map(|piece| piece.from).zip(within.last().map(|piece| piece.to));
            let (from, to) =
                ends.unwrap_or((Point::new(bounds.left, bounds.bottom), Point::new(bounds.right, bounds.top)));
            let axis = Segment::new(from, to);
            Strip { shape, axis, centre: axis.midpoint().x, purpose: StripPurpose::Regular, horizontal: false }
        })
        .collect()
}
