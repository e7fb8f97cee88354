//! What rain brings to the exits of small walls, worked out by hand; ponds; and what still stands behind a fault.

use super::{read, wall};
use crate::continuity::defences::{Breach, Defence, Spot, behind};
use crate::continuity::{ExitLoad, GapFlow, PondPlace, RainLoads, Unfit, WayOut, ponds};
use crate::geometry::Point;
use crate::model::FaceId;
use crate::units::Length;

const SITE: &str = "site here {\n    driving_rain 200Pa\n    limits std.limits.common_practice\n}\n";

fn loads(text: &str) -> Vec<ExitLoad> {
    let (model, plan) = read(&format!("{SITE}{text}"));
    let flow = GapFlow::find(&model, &plan);
    RainLoads::find(&model, &plan, &flow).exits
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-3 * other.abs()
}

#[test]
fn each_bay_of_an_open_base_drains_itself() {
    let loads = loads(&wall("", ""));
    assert_eq!(loads.len(), 3);
    for (load, width) in loads.iter().zip([0.368, 0.336, 0.368]) {
        assert!(near(load.catchment, width * 2.4), "{load:?}");
        // 200 Pa at 1.2929 kg/m³: 17.589 m/s; 2/9 · 17.589 · 10^(8/9) = 30.263 L/(m²·h), a hundredth of it behind.
        assert!(near(load.arrives.unwrap(), width * 2.4 * 0.302_63), "{load:?}");
        // 17 mm × width × 0.4 under 3 mm: 0.61 · A · 0.242 57 m/s.
        assert!(near(load.passes.unwrap(), 0.017 * width * 0.4 * 0.61 * 0.242_57 * 3.6e6));
        assert_eq!(load.ways.len(), 1);
        assert_eq!((&load.ways[0].what, load.ways[0].clear), (&WayOut::Slot, Some(Length::mm(17))));
    }
}

#[test]
fn a_window_takes_the_rain_above_it_and_leaves_the_rest_to_the_base() {
    // The window stands over the whole middle bay: its head drains what is above it.
    let window = "    window eye frame 336mm x 600mm at (432mm, 900mm), detail frame_edge";
    let (above, all): (f64, f64) = {
        let loads = loads(&wall("", window));
        let high = loads.iter().filter(|load| load.segment.from.y > Length::mm(1000));
        (high.map(|load| load.catchment).sum(), loads.iter().map(|load| load.catchment).sum())
    };
    assert!(near(above, 0.336 * 0.9), "{above}");
    assert!(near(all, (0.368 * 2.0 + 0.336) * 2.4 - 0.336 * 0.6), "{all}");
}

#[test]
fn a_head_beside_which_water_could_run_on_takes_what_comes_down_on_it() {
    // 200 mm wide in a bay of 336: water on the head leaves by its slot, not off its ends.
    let loads = loads(&wall("", "    window eye frame 200mm x 600mm at (500mm, 900mm), detail frame_edge"));
    let high = loads.iter().find(|load| load.segment.from.y > Length::mm(1000)).unwrap();
    assert!(near(high.catchment, 0.2 * 0.9), "{high:?}");
    let low = loads.iter().find(|load| load.bays == high.bays && load.segment.from.y == Length::ZERO).unwrap();
    assert!(near(low.catchment, 0.336 * 2.4 - 0.2 * 0.6 - 0.2 * 0.9), "{low:?}");
}

#[test]
fn small_holes_pass_nothing() {
    let row = |size: &str, leg: &str| {
        format!("    trim foot shut along base {{\n        holes weep {size}, {leg}, between furring\n    }}")
    };
    let ways =
        |text: &str| loads(&wall("", text)).into_iter().map(|load| (load.fits(), load.passes)).collect::<Vec<_>>();
    assert_eq!(ways(&row("4mm", "leg floor")), [(false, Some(0.0)); 3]);
    assert_eq!(ways(&row("8mm", "leg face, lip 1mm")).iter().filter(|(fits, _)| *fits).count(), 3);
    let thin = loads(&wall("", &row("4mm", "leg floor")));
    assert!(matches!(thin[0].ways[0].unfit, Some(Unfit::Film { .. })));
    // One hole of 8 mm, six tenths of it left.
    let eight = ways(&row("8mm", "leg floor"));
    assert!(near(eight[0].1.unwrap(), 50.265e-6 * 0.6 * 0.61 * 0.242_57 * 3.6e6), "{eight:?}");
}

#[test]
fn the_hole_at_the_low_end_takes_the_water_of_all_bays() {
    let trim = "    trim foot shut along base {\n        low_end closed\n        holes weep 8mm, leg floor, every 5m, first 1190mm\n    }";
    let sloped = wall("base to (1200mm, -60mm), detail open_base", trim);
    let loads = loads(&sloped);
    assert_eq!(loads.len(), 1, "{loads:?}");
    assert_eq!(loads[0].bays.len(), 3);
    // Each bay down to the slope: 2400 mm and the fall at its middle.
    let wanted = 0.368 * (2.4 + 0.0092) + 0.336 * (2.4 + 0.030) + 0.368 * (2.4 + 0.0508);
    assert!(near(loads[0].catchment, wanted), "{} {wanted}", loads[0].catchment);
}

#[test]
fn a_dip_without_a_hole_holds_its_sag() {
    let found = |row: &str, base: &str| {
        let trim = format!(
            "    trim foot shut along base {{\n        sag 3mm\n        low_end dammed\n        holes weep 8mm, leg floor, {row}\n    }}"
        );
        let (model, plan) = read(&wall(base, &trim));
        let found = ponds(&model, &plan, Length::mm(1));
        found.iter().map(|pond| (pond.place, (pond.depth * 1e4).round() / 10.0)).collect::<Vec<_>>()
    };
    assert_eq!(found("between furring", ""), []);
    assert_eq!(found("every 2m, first 200mm", ""), [(PondPlace::Dip, 3.0)]);
    // 1 % over 400 mm between strips: 3 (1 − 0.01 · 400 / 12)² = 1.33; the lowest hole lies 200 mm before the end: 2.
    assert_eq!(
        found("every 2m, first 1000mm", "base to (1200mm, -12mm), detail open_base"),
        [(PondPlace::LowEnd, 2.0)]
    );
}

#[test]
fn what_stands_behind_depends_on_what_breaks() {
    let (model, plan) = read(&wall("", ""));
    let flow = GapFlow::find(&model, &plan);
    let spot = Spot { face: FaceId(0), at: Point::mm(600, 0), run: None, except: None };
    let left = |breach| -> Vec<Defence> {
        behind(&model, &plan, &flow, spot, breach).unwrap().into_iter().map(|one| one.defence).collect()
    };
    assert_eq!(left(Breach::Of(Defence::Rain)), [Defence::Gap, Defence::Plane]);
    assert_eq!(left(Breach::Of(Defence::Gap)), [Defence::Plane]);
    assert_eq!(left(Breach::Of(Defence::Flashing)), [Defence::Plane]);
    assert_eq!(left(Breach::Of(Defence::Plane)), []);
    assert_eq!(left(Breach::Cladding), []);
    // A gap that does not drain is no defence.
    let (model, plan) = read(&wall("base to (1200mm, 0), detail closed_base", ""));
    let flow = GapFlow::find(&model, &plan);
    let found = behind(&model, &plan, &flow, spot, Breach::Of(Defence::Rain)).unwrap();
    assert_eq!(found.len(), 1);
}
