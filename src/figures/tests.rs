//! What must hold of every figure: how a number was written is no matter, in millimetres or inches, in one unit or another.

use proptest::prelude::*;

use super::gap_air::GapAir;
use super::{Figure, Found, STUDIES, Scene, Value, of_wall};
use crate::model::FaceId;
use crate::session::{Settings, check};
use crate::source::MapWorld;

/// How a project is written.
struct Written {
    /// A length, of sixteenths of an inch.
    length: fn(u32) -> String,
    indoors: &'static str,
    wind: &'static str,
    permeance: &'static str,
    weight: &'static str,
    conductivity: &'static str,
    wood: &'static str,
}

const METRIC: Written = Written {
    length: |sixteenths| format!("{}.{:04}mm", sixteenths * 15875 / 10000, sixteenths * 15875 % 10000),
    indoors: "20degC",
    wind: "0.4788025898033584kPa",
    permeance: "28.60675ng/(Pa.s.m2)",
    weight: "9.764855272766101kg/m2",
    conductivity: "0.04W/(m.K)",
    wood: "480.55390121880419kg/m3",
};

const INCHES: Written =
    Written { length: |sixteenths| format!("{}.{:04}in", sixteenths / 16, sixteenths % 16 * 625), ..METRIC };

/// 68 °F, 10 psf, half a perm, 2 lb/ft², 30 lb/ft³: the metric ones worked from the definitions of pound and foot with exact
/// fractions.
const IMPERIAL: Written =
    Written { indoors: "68degF", wind: "10psf", permeance: "0.5perm", weight: "2lb/ft2", wood: "30lb/ft3", ..INCHES };

/// A wall of the sizes in `sixteenths`: strip, insulation, sheathing, spacing of screws, width and height of the face.
fn figures(written: &Written, sixteenths: [u32; 6]) -> Vec<Found> {
    let [strip, wool, sheathing, screws, width, height] = sixteenths.map(written.length);
    let l = written.length;
    let Written { indoors, wind, permeance, weight, conductivity, wood, .. } = written;
    let text = format!(
        "wythe 1\n\nuse std.details (screened_base, eave, corner_boards)\nuse std.materials\nuse std.screws\nuse std.boards\n\
         use std.membranes\nuse std.tapes\nuse std.sheets\n\n\
         site hill {{\n    climate std.climates.cold_lake\n    salt none\n    terrain open\n    interior normal\n    indoors {indoors}\n    \
         wind {wind}\n    humidity_class 3\n    limits std.limits.canada_part9_2020 and std.limits.common_practice\n}}\n\n\
         material sheet {{\n    kind membrane\n    permeance {permeance}\n}}\n\
         material wool {{\n    kind fibre\n    conductivity {conductivity}\n    vapour_factor 1\n}}\n\
         material timber {{\n    kind wood\n    conductivity 0.12W/(m.K)\n    density {wood}\n}}\n\
         product slats board of timber {{\n    size {board} x {six}\n    stock {long}\n    exposure {low}..{high}\n    \
         weight {weight}\n}}\n\n\
         assembly wall {{\n    layer boards slats {{\n        controls rain\n        exposure {low}..{high}\n        \
         fasten screws.stainless 4.5mm x 50mm, into furring, end_distance {inch}\n    }}\n    gap cavity {strip} ventilated {{\n        \
         furring timber {strip} x {broad}, every {stud} on centre, first {first}, vertical\n        \
         fasten screws.structural 6mm x 180mm, into studs, every {screws}, end_distance {three}\n    }}\n    \
         layer insulation wool {wool}, controls heat\n    \
         layer membrane membranes.vapour_open, controls water and air, lap {six}, seam tapes.acrylic\n    \
         layer sheathing plywood {sheathing}\n    \
         frame studs timber {thin} x {deep}, every {stud} on centre, first {first}, fill wool, kind wood\n    \
         layer retarder sheet, controls vapour\n    layer lining gypsum {half}\n}}\n\n\
         face north {{\n    measured to sheathing\n    looks 0deg\n    ground at left -{eight}\n    outline from (0, 0) {{\n        \
         base to ({width}, 0), detail screened_base, keep {eight}\n        right to ({width}, {height}), detail corner_boards\n        \
         top to (0, {height}), detail eave\n        left to start, detail corner_boards\n    }}\n    area all wall\n}}\n",
        board = l(13),
        long = l(16 * 144),
        low = l(16 * 4),
        high = l(16 * 5),
        inch = l(16),
        broad = l(40),
        stud = l(256),
        first = l(244),
        three = l(48),
        six = l(96),
        thin = l(24),
        deep = l(88),
        half = l(8),
        eight = l(128),
    );
    let checked = check(&MapWorld::new().with("wall.wythe", &text), &["wall.wythe".to_owned()], &Settings::default());
    assert!(checked.problems.is_empty(), "{text}\n{:#?}", checked.problems);
    let mut scene = Scene::new(&checked.model, &checked.plan);
    scene.gap_air = Some(GapAir::of(&scene));
    // Without the year of hours, which reads the same wall and takes a second.
    let walls: Vec<_> = scene.walls().into_iter().map(|wall| of_wall(&scene, wall)).collect();
    let faces = STUDIES.iter().map(|study| study.of_face(&scene, FaceId(0), &walls)).collect::<Vec<_>>();
    let found = walls.iter().flat_map(|wall| wall.studies.iter().map(|studied| studied.found.clone()));
    found.chain(faces).collect()
}

fn alike(one: &Figure, other: &Figure) -> bool {
    let near = |one: f64, other: f64| (one - other).abs() <= 1e-9 * one.abs().max(other.abs()).max(1e-3);
    let values = match (&one.value, &other.value) {
        (Value::Number(one), Value::Number(other)) => near(one.low, other.low) && near(one.high, other.high),
        (one, other) => one == other,
    };
    values && (one.what, &one.of, one.sure) == (other.what, &other.of, other.sure)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(6))]
    #[test]
    fn how_numbers_are_written_changes_no_figure(
        strip in 12u32..20,
        wool in 8u32..48,
        sheathing in 6u32..12,
        screws in 128u32..384,
        width in 1600u32..4000,
        height in 1500u32..2400,
    ) {
        let sizes = [strip, wool, sheathing, screws, width, height];
        let metric = figures(&METRIC, sizes);
        let told: usize = metric.iter().map(|found| found.figures.len()).sum();
        prop_assert!(told > 40, "{told}: {metric:#?}");
        // Lengths are exact: not a bit differs.
        prop_assert_eq!(&metric, &figures(&INCHES, sizes));
        // Other units come to the same but for what floats lose.
        for (one, other) in metric.iter().zip(figures(&IMPERIAL, sizes)) {
            prop_assert_eq!(&one.missing, &other.missing);
            prop_assert_eq!(one.figures.len(), other.figures.len());
            for (one, other) in one.figures.iter().zip(&other.figures) {
                prop_assert!(alike(one, other), "{one:?} {other:?}");
            }
        }
    }
}
