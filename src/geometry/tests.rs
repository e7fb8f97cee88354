//! Laws that hold for any shapes, and hand-worked booleans.

use proptest::collection::vec;
use proptest::prelude::*;

use super::*;
use crate::units::{Area, Length};

fn mm(x: i64) -> Length {
    Length::mm(x)
}

fn rectangle(x0: i64, y0: i64, x1: i64, y1: i64) -> Region {
    Region::rectangle(mm(x0), mm(y0), mm(x1), mm(y1))
}

fn polygon(corners: &[(i64, i64)]) -> Polygon {
    Polygon::new(Ring::new(corners.iter().map(|&(x, y)| Point::mm(x, y)).collect()), vec![])
}

fn square_mm(area: i64) -> Area {
    mm(area) * mm(1)
}

fn spans(pairs: &[(i64, i64)]) -> Vec<(Length, Length)> {
    pairs.iter().map(|&(from, to)| (mm(from), mm(to))).collect()
}

#[test]
fn abutting_tiles_become_one_rectangle() {
    let tiles: Vec<Region> =
        (0..5).flat_map(|x| (0..4).map(move |y| rectangle(x * 10, y * 10, x * 10 + 10, y * 10 + 10))).collect();
    assert_eq!(Region::union_many(&tiles), rectangle(0, 0, 50, 40));
    assert_eq!(rectangle(0, 0, 10, 10).union(&rectangle(10, 0, 20, 10)), rectangle(0, 0, 20, 10));
    assert!(rectangle(0, 0, 10, 10).intersection(&rectangle(10, 0, 20, 10)).is_empty());
    assert!(!rectangle(0, 0, 10, 10).overlaps(&rectangle(10, 0, 20, 10)));
}

#[test]
fn battens_split_a_gap_into_bays() {
    // A 1 000 × 600 gap less two 40 wide battens and a window 200 × 200 between them: three bays.
    let battens = [rectangle(300, 0, 340, 600), rectangle(660, 0, 700, 600)];
    let window = rectangle(400, 200, 600, 400);
    let gap = rectangle(0, 0, 1_000, 600).difference_many(battens.iter().chain([&window]));
    assert_eq!(gap.polygons().len(), 3);
    assert_eq!(gap.area(), square_mm(600_000 - 2 * 24_000 - 40_000));
    let [left, middle, right] = gap.polygons() else { panic!("three bays") };
    assert_eq!((left.area(), right.area()), (square_mm(180_000), square_mm(180_000)));
    assert_eq!(middle.holes().len(), 1);
    assert_eq!(middle.area(), square_mm(320 * 600 - 40_000));
    assert_eq!(gap.x_intervals_at(mm(300)), spans(&[(0, 300), (340, 400), (600, 660), (700, 1_000)]));
    // The window's sill is at 200: closed at that height, split just above it, whole just below.
    assert_eq!(gap.x_intervals_at(mm(200)), spans(&[(0, 300), (340, 660), (700, 1_000)]));
    assert_eq!(gap.x_intervals_above(mm(200)).len(), 4);
    assert_eq!(gap.x_intervals_below(mm(200)).len(), 3);
    assert_eq!(gap.y_intervals_at(mm(500)), spans(&[(0, 200), (400, 600)]));
    assert_eq!(gap.y_intervals_at(mm(320)), spans(&[]));
    assert_eq!(gap.y_intervals_at(mm(340)), spans(&[(0, 600)]));
    assert_eq!(gap.y_intervals_left_of(mm(340)), spans(&[]));
    assert_eq!(gap.y_intervals_right_of(mm(340)), spans(&[(0, 600)]));
    assert_eq!(gap.x_intervals_at(mm(601)), spans(&[]));
}

#[test]
fn bands_of_a_gable() {
    // Gable 8 000 wide, walls 3 000, peak at 5 000: the band 4 000–5 000 is a triangle 4 000 wide at its foot.
    let gable: Region = polygon(&[(0, 0), (8_000, 0), (8_000, 3_000), (4_000, 5_000), (0, 3_000)]).into();
    let top = gable.clip_y(mm(4_000), mm(9_000));
    assert_eq!(top.area(), square_mm(4_000 * 1_000 / 2));
    assert_eq!(gable.x_intervals_at(mm(4_000)), spans(&[(2_000, 6_000)]));
    assert_eq!(gable.y_intervals_at(mm(2_000)), spans(&[(0, 4_000)]));
    assert_eq!(gable.clip_x(mm(2_000), mm(4_000)).area(), square_mm(2_000 * 4_500));
    assert!(gable.clip_y(mm(5), mm(5)).is_empty());
    assert!(gable.clip_y(mm(5_000), mm(9_000)).is_empty());
    assert_eq!(gable.bounds().map(Bounds::height), Some(mm(5_000)));
}

#[test]
fn a_hole_in_a_corner_leaves_simple_rings() {
    // A diamond cut out so that its corner touches the wall's edge: the edge is pinched there, never self-touching.
    let diamond: Region = polygon(&[(10, 0), (15, 5), (10, 10), (5, 5)]).into();
    let left = rectangle(0, 0, 20, 20).difference(&diamond);
    assert_eq!(left.polygons().len(), 1);
    assert_eq!(left.polygons()[0].holes().len(), 1);
    assert_eq!(left.area(), square_mm(400 - 50));
    for ring in left.polygons()[0].rings() {
        assert!(check_simple(ring.points()).is_ok(), "{ring:?}");
    }
    let corners = rectangle(0, 0, 10, 10).union(&rectangle(10, 10, 20, 20));
    assert_eq!(corners.polygons().len(), 2);
}

#[test]
fn growing_and_shrinking_upright_shapes() {
    let ell: Region = polygon(&[(0, 0), (30, 0), (30, 10), (10, 10), (10, 30), (0, 30)]).into();
    assert_eq!(ell.offset(mm(3)).area(), square_mm(36 * 16 + 16 * 20));
    assert_eq!(ell.offset(mm(3)).offset(mm(-3)), ell);
    assert_eq!(rectangle(0, 0, 10, 10).offset(mm(-4)), rectangle(4, 4, 6, 6));
    assert!(rectangle(0, 0, 10, 10).offset(mm(-5)).is_empty());
    let frame = rectangle(0, 0, 30, 30).difference(&rectangle(10, 10, 20, 20));
    assert_eq!(frame.offset(mm(2)), rectangle(-2, -2, 32, 32).difference(&rectangle(12, 12, 18, 18)));
    assert_eq!(frame.offset(mm(5)).polygons()[0].holes().len(), 0);
    assert!(Region::default().offset(mm(5)).is_empty());
}

#[test]
fn absurd_sizes_neither_panic_nor_hang() {
    let far = Length(i64::MAX);
    let huge = Region::rectangle(Length(i64::MIN), Length(i64::MIN), far, far);
    assert!(huge.area().0 > 0 && huge.perimeter().0 > 0);
    assert_eq!(huge.intersection(&rectangle(0, 0, 10, 10)), rectangle(0, 0, 10, 10));
    assert!(huge.difference(&rectangle(0, 0, 10, 10)).polygons().len() == 1);
    let _ = (huge.offset(far), huge.offset(-far), huge.clip_x(mm(0), far), huge.x_intervals_at(far));
    let _ = (huge.polygons()[0].label_point(), huge.polygons()[0].centroid_mm(), low_points(&huge.polygons()[0]));
    assert!(Region::from(polygon(&[(0, 0), (5, 0)])).is_empty());
}

#[test]
fn order_does_not_depend_on_how_shapes_were_given() {
    let (a, b, c) = (rectangle(0, 0, 4, 4), rectangle(10, 0, 14, 4), rectangle(0, 10, 4, 14));
    let one = Region::union_many([&a, &b, &c]);
    assert_eq!(one, Region::union_many([&c, &b, &a]));
    let corners: Vec<Point> = one.polygons().iter().map(|polygon| polygon.outline().points()[0]).collect();
    assert_eq!(corners, [Point::mm(0, 0), Point::mm(0, 10), Point::mm(10, 0)]);
    assert!(one.covers(&a) && !a.covers(&one));
    assert_eq!(one.place(Point::mm(12, 2)), Place::Inside);
    assert_eq!(one.place(Point::mm(14, 2)), Place::Boundary);
    assert_eq!(one.place(Point::mm(7, 2)), Place::Outside);
}

prop_compose! {
    /// Rectangles on a coarse grid, so that edges and corners often coincide, moved off it by an odd step.
    fn some_rectangle()(x in 0..20i64, y in 0..20i64, w in 1..9i64, h in 1..9i64, step in 1..3i64) -> Polygon {
        let unit = 396_875 * step;
        Polygon::rectangle(Length(x * unit), Length(y * unit), Length((x + w) * unit), Length((y + h) * unit))
    }
}

fn some_region() -> impl Strategy<Value = Region> {
    vec(some_rectangle(), 0..12).prop_map(Region::from_iter)
}

fn some_points() -> impl Strategy<Value = Vec<Point>> {
    vec((-50..50i64, -50..50i64).prop_map(|(x, y)| Point::new(Length(x), Length(y))), 0..9)
}

proptest! {
    #[test]
    fn areas_of_upright_regions_add_up_exactly(a in some_region(), b in some_region()) {
        let (both, either) = (a.intersection(&b), a.union(&b));
        prop_assert_eq!(a.area() + b.area(), either.area() + both.area());
        prop_assert_eq!(a.area(), a.difference(&b).area() + both.area());
        prop_assert!(either.covers(&a) && a.covers(&both));
        prop_assert_eq!(&both, &b.intersection(&a));
        prop_assert_eq!(&either, &b.union(&a));
    }

    #[test]
    fn components_are_simple_and_sum_to_the_whole(a in some_region(), b in some_region()) {
        let left = a.difference(&b);
        for ring in left.polygons().iter().flat_map(Polygon::rings) {
            prop_assert!(check_simple(ring.points()).is_ok());
        }
        let sum: Area = left.polygons().iter().map(Polygon::area).sum();
        prop_assert_eq!(sum, left.area());
        prop_assert_eq!(Region::from_iter(left.clone().into_components()), left);
    }

    #[test]
    fn bands_add_up(a in some_region(), cut in 0..24i64) {
        let cut = Length(cut * 396_875);
        prop_assert_eq!(a.area(), a.clip_y(-REACH, cut).area() + a.clip_y(cut, REACH).area());
        prop_assert_eq!(a.area(), a.clip_x(-REACH, cut).area() + a.clip_x(cut, REACH).area());
    }

    #[test]
    fn scans_agree_with_places(a in some_region(), x in 0..50i64, y in 0..50i64) {
        let at = Point::new(Length(x * 396_875 / 2), Length(y * 396_875 / 2));
        let holds = |spans: Vec<(Length, Length)>, value| spans.iter().any(|&(from, to)| from <= value && value <= to);
        let inside = a.place(at) != Place::Outside;
        prop_assert_eq!(inside, holds(a.x_intervals_at(at.y), at.x));
        prop_assert_eq!(inside, holds(a.y_intervals_at(at.x), at.y));
    }

    #[test]
    fn area_does_not_depend_on_the_first_corner(points in some_points(), turn in 0..9usize) {
        let mut turned = points.clone();
        turned.rotate_left(turn % points.len().max(1));
        let (one, two) = (Ring::new(points), Ring::new(turned));
        prop_assert_eq!(one.doubled_area(), two.doubled_area());
        prop_assert_eq!(one.perimeter(), two.perimeter());
    }

    #[test]
    fn every_component_has_a_low_and_a_high_point(a in some_region(), b in some_region()) {
        for polygon in a.difference(&b).polygons() {
            let bounds = polygon.bounds();
            prop_assert!(low_points(polygon).iter().any(|point| point.y() == bounds.bottom));
            prop_assert!(high_points(polygon).iter().any(|point| point.y() == bounds.top));
            prop_assert_eq!(polygon.place(polygon.label_point()), Place::Inside);
        }
    }

    #[test]
    fn any_points_are_an_outline_or_a_fault(points in some_points()) {
        if let Ok(outline) = check_simple(&points) {
            prop_assert!(outline.ring.is_counter_clockwise());
            for (edge, &mapped) in outline.edges.iter().enumerate() {
                let given = Segment::new(points[edge], points[(edge + 1) % points.len()]);
                let wanted = if outline.flipped { given.reversed() } else { given };
                prop_assert_eq!(outline.ring.edge(mapped), Some(wanted));
            }
            // A simple ring passes through the engine with its area untouched.
            let polygon = Polygon::new(outline.ring, vec![]);
            let whole: Region = [polygon.clone()].into_iter().collect();
            prop_assert_eq!(whole.doubled_area(), polygon.doubled_area());
        }
    }

    #[test]
    fn meetings_are_mutual(ends in vec((-9..9i64, -9..9i64), 4)) {
        let points: Vec<Point> = ends.iter().map(|&(x, y)| Point::mm(x, y)).collect();
        let (a, b) = (Segment::new(points[0], points[1]), Segment::new(points[2], points[3]));
        prop_assume!(points[0] != points[1] && points[2] != points[3]);
        match (a.meets(b), b.meets(a)) {
            (Meeting::Cross(one), Meeting::Cross(two)) => prop_assert!((one - two).length() <= Length(1)),
            (Meeting::Overlap(one), Meeting::Overlap(two)) => prop_assert!(one == two || one == two.reversed()),
            (one, two) => prop_assert_eq!(one, two),
        }
    }
}

fn some_slanted_region() -> impl Strategy<Value = Region> {
    let corner = (0..8_000_000_000i64, 0..5_000_000_000i64).prop_map(|(x, y)| Point::new(Length(x), Length(y)));
    vec(vec(corner, 3), 0..6)
        .prop_map(|triangles| triangles.into_iter().map(|corners| Polygon::new(Ring::new(corners), vec![])).collect())
}

proptest! {
    #[test]
    fn areas_of_slanted_regions_add_up_but_for_snapped_corners(a in some_slanted_region(), b in some_slanted_region()) {
        let (both, either, left) = (a.intersection(&b), a.union(&b), a.difference(&b));
        // A corner snapped to the grid moves its edges by less than a nanometre: what is gained or lost is less than
        // a nanometre along all edges. A share of the area would ask too much of a long thin sliver, too little of a wall.
        let around: i128 = [&a, &b, &both, &either, &left].iter().map(|region| i128::from(region.perimeter().0)).sum();
        let near = |one: i128, two: i128| (one - two).abs() <= around + 1;
        prop_assert!(near(a.area().0 + b.area().0, either.area().0 + both.area().0));
        prop_assert!(near(a.area().0, left.area().0 + both.area().0));
        for ring in [&both, &either, &left].into_iter().flat_map(|region| region.polygons()).flat_map(Polygon::rings) {
            prop_assert!(check_simple(ring.points()).is_ok(), "{:?}", check_simple(ring.points()));
        }
    }

    #[test]
    fn the_boundary_left_by_a_cut_lies_on_the_edges_it_came_from(a in some_slanted_region(), cut in 0..5_000_000_000i64) {
        // Every edge of the upper part is level at the cut or lies within 2 nm along edges of the whole.
        let whole: Vec<Segment> = a.edges().map(|(_, edge)| edge.segment).collect();
        for (_, edge) in a.clip_y(Length(cut), REACH).edges() {
            let at_cut = edge.segment.from.y == Length(cut) && edge.segment.to.y == Length(cut);
            let pieces = split_run(edge.segment, &whole, Length(2));
            prop_assert!(at_cut || edge.segment.length() < Length(10) || pieces.iter().all(|piece| piece.over.is_some()),
                "{edge:?} {pieces:?}");
        }
    }
}
