//! Areas, piece counts and the boards of whole walls against shapely, an independent library. `tests/outside/shapely_areas.py` and
//! `pieces_shapely.py` make the figures.
#![allow(missing_docs, clippy::unwrap_used)]
#![expect(clippy::expect_used, reason = "a malformed figures file should fail the test")]

use serde_json::Value;
use wythe::geometry::{Point, Polygon, Region, Ring};
use wythe::layout::pieces::{self, Piece};
use wythe::session::{Settings, check};
use wythe::source::MapWorld;
use wythe::units::Length;

const FIGURES: &str = include_str!("outside/shapely_areas.json");

fn length(value: &Value) -> Length {
    Length(value.as_i64().expect("whole nanometres"))
}

fn region(polygons: &Value) -> Region {
    let polygon = |corners: &Value| {
        let corners = corners.as_array().expect("corners").iter().map(|at| Point::new(length(&at[0]), length(&at[1])));
        Polygon::new(Ring::new(corners.collect()), Vec::new())
    };
    polygons.as_array().expect("polygons").iter().map(polygon).collect()
}

#[test]
fn areas_and_pieces_agree_with_shapely() {
    let figures: Value = serde_json::from_str(FIGURES).expect("figures");
    assert!(figures["source"].as_str().is_some_and(|source| source.starts_with("shapely 2.")));
    let cases = figures["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 60);
    let mut exact = 0;
    for case in cases {
        let name = case["name"].as_str().expect("name");
        let mut result = region(&case["added"]).difference(&region(&case["removed"]));
        if let Some(band) = case["band"].as_array() {
            result = result.clip_y(length(&band[0]), length(&band[1]));
        }
        let wanted = case["area_mm2"].as_f64().expect("area");
        if case["upright"] == true {
            // Sides are whole quarter millimetres: the area is a whole number of sixteenths of mm², exact in both.
            let sixteenths = result.area().0 / 62_500_000_000;
            assert_eq!(result.area().0 % 62_500_000_000, 0, "{name}");
            assert_eq!(sixteenths as f64 / 16.0, wanted, "{name}");
            exact += 1;
        } else {
            let found = result.area().0 as f64 / 1e12;
            assert!((found - wanted).abs() <= 1e-7 * wanted, "{name}: {found} is not {wanted}");
        }
        assert_eq!(result.polygons().len() as u64, case["pieces"].as_u64().expect("pieces"), "{name}");
        let holes: usize = result.polygons().iter().map(|polygon| polygon.holes().len()).sum();
        assert_eq!(holes as u64, case["holes"].as_u64().expect("holes"), "{name}");
    }
    assert_eq!(exact, 36);
}

const BOARDS: &str = include_str!("outside/pieces_shapely.json");

/// Least and most of a board of ours, and its area, in millimetres: as the figures hold them.
fn measured(piece: &Piece, exposure: Length) -> (i64, [f64; 5]) {
    let bounds = piece.seen.bounds();
    let middle = bounds.bottom + bounds.height() / 2;
    let edges = [bounds.left, bounds.bottom, bounds.right, bounds.top].map(Length::as_mm);
    let area = piece.seen.doubled_area() as f64 / 2e12;
    (middle.0.div_euclid(exposure.0), [edges[0], edges[1], edges[2], edges[3], area])
}

#[test]
fn boards_of_random_walls_are_those_that_shapely_cuts() {
    let figures: Value = serde_json::from_str(BOARDS).expect("figures");
    let cases = figures["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 40);
    for case in cases {
        let name = case["name"].as_str().expect("name");
        let world = MapWorld::new().with("wall.wythe", case["text"].as_str().expect("text"));
        let checked = check(&world, &["wall.wythe".to_owned()], &Settings::default());
        assert!(checked.problems.is_empty(), "{name}: {:?}", checked.problems);
        let face = &checked.plan.faces[0];
        let exposure = face.exposure.expect("an exposure");
        assert_eq!(face.course_start, Some(Length::ZERO), "{name}");
        let made = pieces::cut(&checked.model, &checked.plan, 20.0).list;
        // No board lies on another.
        let all: Region = made.iter().map(|piece| piece.seen.clone()).collect();
        assert_eq!(all.doubled_area(), made.iter().map(|piece| piece.seen.doubled_area()).sum::<i128>(), "{name}");
        // Corners of sloping edges are snapped to whole nanometres.
        let mut ours: Vec<_> = made.iter().map(|piece| measured(piece, exposure)).collect();
        ours.sort_by(|a, b| (a.0, a.1[0], a.1[1]).partial_cmp(&(b.0, b.1[0], b.1[1])).expect("finite"));
        let wanted = case["boards"].as_array().expect("boards");
        assert_eq!(ours.len(), wanted.len(), "{name}");
        let mut sum = 0.0;
        for ((course, found), wanted) in ours.iter().zip(wanted) {
            assert_eq!(Some(*course), wanted[0].as_i64(), "{name}");
            for (at, found) in found.iter().enumerate() {
                let wanted = wanted[at + 1].as_f64().expect("a figure");
                let allowed = if at == 4 { 0.05 } else { 2e-5 };
                assert!((found - wanted).abs() <= allowed, "{name}, course {course}: {found} is not {wanted}");
            }
            sum += found[4];
        }
        // What is left of the field are splinters under 3 mm along the edges of 18 things at most.
        let field = case["area"].as_f64().expect("area");
        assert!(sum <= field + 1.0 && sum >= field - 18.0 * 3.0 * 12_000.0, "{name}: {sum} of {field}");
    }
}
