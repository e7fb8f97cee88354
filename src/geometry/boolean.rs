//! The one door to the polygon engine (`i_overlay`, whole coordinates): union, intersection, difference, growth.
//!
//! Upright shapes come out exact. Where oblique edges cross, the crossing is put on the grid, which may move it by less
//! than a nanometre each way; pieces that share a slanting edge can then differ by a hair, see `Segment::overlap_near`.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::{IntOverlayOptions, Overlay, ShapeType};
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::core::solver::Solver;
use i_overlay::i_float::int::angle::Angle;
use i_overlay::i_float::int::point::IntPoint;
use i_overlay::mesh::int::outline::offset::IntOutlineOffset;
use i_overlay::mesh::int::style::{IntLineJoin, IntOutlineStyle};

use super::point::{Point, REACH};
use super::polygon::{Bounds, Polygon, Ring};
use crate::units::Length;

/// What to make of two sets of polygons.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Operation {
    Union,
    Intersection,
    Difference,
}

/// Combines two sets of polygons; overlaps within a set count once. The result is sorted and its polygons are disjoint.
pub(super) fn combine<'a>(
    operation: Operation,
    subject: impl IntoIterator<Item = &'a Polygon>,
    clip: impl IntoIterator<Item = &'a Polygon>,
) -> Vec<Polygon> {
    let (subject, clip): (Vec<&Polygon>, Vec<&Polygon>) = (subject.into_iter().collect(), clip.into_iter().collect());
    // What lies beyond the other's bounds cannot matter: of a wall with twenty openings a board meets one or two.
    let (of_subject, of_clip) = match operation {
        Operation::Union => (None, None),
        Operation::Intersection => (bounds(&clip), bounds(&subject)),
        Operation::Difference => (None, bounds(&subject)),
    };
    let mut overlay: Overlay<i64> = Overlay::new_custom(64, IntOverlayOptions::ogc(), Solver::AUTO);
    for (polygons, limit, role) in [(subject, of_subject, ShapeType::Subject), (clip, of_clip, ShapeType::Clip)] {
        let near = |ring: &&Ring| limit.is_none_or(|limit| ring.bounds().is_none_or(|own| meet(own, limit)));
        for ring in polygons.into_iter().flat_map(Polygon::rings).filter(near) {
            overlay.add_path_iter(ring.points().iter().copied().map(engine_point), role);
        }
    }
    let rule = match operation {
        Operation::Union => OverlayRule::Union,
        Operation::Intersection => OverlayRule::Intersect,
        Operation::Difference => OverlayRule::Difference,
    };
    polygons(overlay.overlay(rule, FillRule::NonZero))
}

/// Around all of them; `None` where there is nothing.
fn bounds(polygons: &[&Polygon]) -> Option<Bounds> {
    polygons.iter().map(|polygon| polygon.bounds()).reduce(Bounds::with)
}

/// Whether two bounds share a point; their edges count.
fn meet(one: Bounds, other: Bounds) -> bool {
    one.left <= other.right && other.left <= one.right && one.bottom <= other.top && other.bottom <= one.top
}

/// Moves every edge outward by `by` (inward when negative) with square mitred corners. Exact for upright shapes; corners
/// sharper than about 11° are cut off.
pub(super) fn offset(shapes: &[Polygon], by: Length) -> Vec<Polygon> {
    let by = by.clamp(-REACH, REACH);
    let paths: Vec<Vec<IntPoint<i64>>> = shapes
        .iter()
        .flat_map(Polygon::rings)
        .map(|ring| ring.points().iter().copied().map(engine_point).collect())
        .collect();
    // 0.2 rad is always a finite angle; without it the engine would fall back to cut corners.
    let join = Angle::from_radians(0.2_f64).map_or(IntLineJoin::Bevel, IntLineJoin::Miter);
    let style = IntOutlineStyle::<i64>::new(by.0).line_join(join);
    if paths.is_empty() || paths.validate_outline(&style).is_err() {
        return Vec::new();
    }
    paths.outline_custom(&style, IntOverlayOptions::ogc()).map(polygons).unwrap_or_default()
}

/// Within the engine's range; anything the size of a building is unchanged.
fn engine_point(point: Point) -> IntPoint<i64> {
    let point = point.pulled_in();
    IntPoint::new(point.x.0, point.y.0)
}

/// From the engine's shapes, in an order of our own.
fn polygons(shapes: Vec<Vec<Vec<IntPoint<i64>>>>) -> Vec<Polygon> {
    let ring = |contour: Vec<IntPoint<i64>>| {
        Ring::new(contour.into_iter().map(|at| Point::new(Length(at.x), Length(at.y))).collect())
    };
    let mut found: Vec<Polygon> = shapes
        .into_iter()
        .filter_map(|shape| {
            let mut rings = shape.into_iter().map(ring);
            let outline = rings.next()?;
            Some(Polygon::new(outline, rings.collect()))
        })
        .collect();
    sort(&mut found);
    found
}

/// By least x, then least y, then corners.
pub(super) fn sort(polygons: &mut [Polygon]) {
    polygons.sort_by_cached_key(|polygon| {
        let bounds = polygon.bounds();
        (bounds.left, bounds.bottom, polygon.clone())
    });
}
