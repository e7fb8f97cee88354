//! Areas and piece counts against shapely, an independent library. `tests/outside/shapely_areas.py` makes the figures.
#![allow(missing_docs, clippy::unwrap_used)]
#![expect(clippy::expect_used, reason = "a malformed figures file should fail the test")]

use serde_json::Value;
use wythe::geometry::{Point, Polygon, Region, Ring};
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
