//! Water: exits, traps and what cannot be told.

use super::{flow, mm2, tenths, wall};
use crate::continuity::{BayFlow, ExitKind};
use crate::plan::Against;
use crate::units::Length;

fn traps(bays: &[BayFlow]) -> Vec<(usize, Option<f64>, String)> {
    let depth = |depth: Option<Length>| depth.map(|depth| (depth.as_mm() * 10.0).round() / 10.0);
    let of = |bay: &BayFlow| {
        bay.traps.iter().map(|trap| (bay.id.bay, depth(trap.depth), trap.why.clone())).collect::<Vec<_>>()
    };
    bays.iter().flat_map(of).collect()
}

fn facts(bays: &[BayFlow]) -> Vec<String> {
    let mut found: Vec<String> =
        bays.iter().flat_map(|bay| bay.undecided.iter().map(|(_, fact)| fact.clone())).collect();
    found.dedup();
    found
}

#[test]
fn an_open_base_drains_every_bay() {
    let bays = flow(&wall("", ""));
    assert_eq!(bays.len(), 3);
    for (bay, width) in bays.iter().zip([368, 336, 368]) {
        assert!(bay.traps.is_empty() && bay.undecided.is_empty(), "{bay:?}");
        let [exit] = bay.exits.as_slice() else { panic!("{bay:?}") };
        assert_eq!((exit.kind, exit.segment.length()), (ExitKind::Slot, Length::mm(width)));
        // 17 mm × width × 0.6, aged 0.4.
        assert_eq!(mm2(exit.area), Some(tenths(17 * width * 6)));
        assert_eq!(mm2(exit.aged_area), Some(tenths(17 * width * 4)));
        assert_eq!(bay.height, Length::mm(2400));
        assert!((bay.area - width as f64 * 2.4e-3).abs() < 1e-9);
    }
}

#[test]
fn a_closed_base_holds_the_water_to_the_top() {
    let bays = flow(&wall("base to (1200mm, 0), detail closed_base", ""));
    let found = traps(&bays);
    assert_eq!(found.len(), 3);
    assert!(
        found.iter().all(|(_, depth, why)| depth.is_none() && why == "`closed_base` closes the gap at `north.base`")
    );
    assert!(bays.iter().all(|bay| bay.exits.is_empty() && bay.inlets.is_empty()));
}

#[test]
fn a_missing_fact_is_asked_for_once_a_bay() {
    let bays = flow(&wall("base to (1200mm, 0)", ""));
    assert!(traps(&bays).is_empty());
    assert_eq!(facts(&bays), ["how the base is built: `north.base` has no detail"]);
    let silent = "detail silent_base {\n at base\n gives exit and inlet\n}\n";
    let bays = flow(&format!("{silent}{}", wall("base to (1200mm, 0), detail silent_base", "")));
    assert_eq!(facts(&bays), ["how the gap ends at `north.base`: `silent_base` says neither open nor closed"]);
    assert!(bays.iter().all(|bay| bay.inlets.iter().all(|inlet| inlet.area.is_none() && inlet.missing.is_some())));
    assert!(bays.iter().all(|bay| bay.inlets.len() == 1));
}

#[test]
fn an_open_end_without_a_promise_is_no_exit() {
    let mute = "detail mute_base {\n at base\n gap_end open\n gives inlet\n}\n";
    let found = traps(&flow(&format!("{mute}{}", wall("base to (1200mm, 0), detail mute_base", ""))));
    assert_eq!(found.len(), 3);
    assert_eq!(found[0].2, "`mute_base` gives no exit at `north.base`");
}

#[test]
fn a_solid_channel_shuts_what_the_detail_leaves_open() {
    let found = traps(&flow(&wall("", "trim foot shut along base")));
    assert_eq!(found.len(), 3);
    assert_eq!(found[0].2, "`foot` closes the gap: its floor is solid, and no weep lies here");
    // Along part of the base only: the first bay is shut, the second has an opening left.
    let bays = flow(&wall("", "trim foot shut along base to 500mm"));
    assert_eq!(traps(&bays).iter().map(|trap| trap.0).collect::<Vec<_>>(), [0]);
    assert_eq!(mm2(bays[1].exits[0].area), Some(tenths(17 * 268 * 6)));
}

#[test]
fn weeps_in_every_bay_drain_a_solid_channel() {
    let bays = flow(&wall("", "trim foot shut along base {\n holes weep 8mm, leg floor, between furring\n}"));
    assert!(traps(&bays).is_empty());
    for bay in &bays {
        assert_eq!((bay.exits.len(), bay.exits[0].kind), (1, ExitKind::Holes));
        // π 8² / 4 = 50.27 mm².
        assert_eq!(mm2(bay.exits[0].area), Some(50));
    }
    // Their own spacing leaves the middle bay without one: 100, 900.
    let bays = flow(&wall("", "trim foot shut along base {\n holes weep 8mm, leg floor, every 800mm, first 100mm\n}"));
    assert_eq!(traps(&bays).iter().map(|trap| trap.0).collect::<Vec<_>>(), [1]);
    let bays = flow(&wall("", "trim foot shut along base {\n holes weep 8mm, between furring\n}"));
    assert_eq!(facts(&bays), ["which leg the weeps of `foot` go through"]);
    let bays = flow(&wall("", "trim foot shut along base {\n holes weep 8mm, leg face, between furring, lip 10mm\n}"));
    assert_eq!(traps(&bays).len(), 3);
}

#[test]
fn the_narrower_of_slot_and_pierced_floor_counts() {
    // 5000 mm²/m × 0.368 m = 1840 mm², less than 17 × 368 × 0.6 = 3754.
    let bays = flow(&wall("", "trim foot pierced along base"));
    assert_eq!(mm2(bays[0].exits[0].area), Some(1840));
}

const RAKED: &str = "base to (1200mm, -60mm), detail closed_base";

#[test]
fn a_sloped_base_drains_at_its_low_ends() {
    let bays = flow(&wall("base to (1200mm, -60mm), detail open_base", ""));
    assert!(traps(&bays).is_empty());
    // 5 %: the weep in the middle of a bay of 368 is 184 before its low end, 9.2 higher; of 336, 8.4.
    let bays = flow(&wall(RAKED, "trim foot ledge along base {\n holes weep 8mm, leg floor, between furring\n}"));
    let depths: Vec<Option<f64>> = traps(&bays).into_iter().map(|trap| trap.1).collect();
    assert_eq!(depths, [Some(9.2), Some(8.4), Some(9.2)]);
    // The same holes in a channel that runs on under the strips: water goes on to its open low end.
    let channel = |low_end: &str| {
        flow(&wall(
            RAKED,
            &format!("trim foot shut along base {{\n holes weep 8mm, leg floor, between furring\n{low_end}\n}}"),
        ))
    };
    assert!(traps(&channel("low_end open")).is_empty());
    // Closed, it fills; the last weep is 184 from the end.
    assert_eq!(traps(&channel("low_end closed")).len(), 3);
    // Dammed, the first two bays drain through holes farther down, the last one stands.
    assert_eq!(traps(&channel("low_end dammed")).iter().map(|trap| trap.0).collect::<Vec<_>>(), [2]);
    assert_eq!(facts(&channel("")), ["whether the low end of `foot` is open"]);
}

#[test]
fn a_pit_spills_over_its_step() {
    // Closed below, open on the step 300 higher. No strips: one bay.
    let bare = "assembly bare {\n layer boards materials.larch_wood 20mm\n gap cavity 19mm vented\n}\n";
    let text = format!(
        "{bare}face north {{\n outline from (0, 0) {{\n base pit to (600mm, 0), detail closed_base\n step to (600mm, 300mm), \
         detail side\n base ledge to (1200mm, 300mm), detail open_base\n right to (1200mm, 2400mm), detail side\n top to (0, \
         2400mm), detail open_top\n left to start, detail side\n }}\n area all bare\n}}\n"
    );
    let found = traps(&flow(&text));
    assert_eq!(found, [(0, Some(300.0), "`closed_base` closes the gap at `north.pit`".to_owned())]);
    let closed = text.replace(
        "base ledge to (1200mm, 300mm), detail open_base",
        "base ledge to (1200mm, 300mm), detail closed_base",
    );
    assert_eq!(traps(&flow(&closed)), [(0, None, "`closed_base` closes the gap at `north.pit`".to_owned())]);
}

#[test]
fn a_block_dams_the_gap_unless_it_is_flashed() {
    // 500 wide from 350: it fills the middle bay from strip to strip.
    let block =
        |how: &str| flow(&wall("", &format!("block pad at (350mm, 900mm), width 500mm, height 200mm, on plane{how}")));
    let bays = block(", drained no");
    let found = traps(&bays);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].2, "block `pad` dams the gap: no flashing, and not drained");
    assert_eq!(facts(&block("")), ["whether water in the gap can pass block `pad`"]);
    let bays = block(", flashing aluminium 0.6mm");
    assert!(traps(&bays).is_empty() && facts(&bays).is_empty());
    assert!(bays.iter().any(|bay| bay.exits.iter().any(|exit| exit.with == Against::Block(0))));
}

#[test]
fn a_tight_nailer_dams_a_bay_and_one_with_gaps_does_not() {
    let nailer =
        |gaps: &str| traps(&flow(&wall("", &format!("nailer cleat 19mm x 38mm from (0, 1000mm) to 1200mm{gaps}"))));
    assert_eq!(nailer("").len(), 3);
    assert_eq!(nailer("")[0].2, "nailer `cleat` dams the gap");
}

#[test]
fn the_flat_head_of_a_window_is_no_pit_but_a_pocket_over_it_is() {
    // In the middle of a bay: water runs off both ends of the head.
    let shut = "detail shut_edge {\n at window\n gap_end closed\n air seals to frame with tapes.acrylic_wide\n}\n";
    let small = "window pane frame 200mm x 300mm at (500mm, 900mm), detail shut_edge";
    assert!(traps(&flow(&format!("{shut}{}", wall("", small)))).is_empty());
    // From strip to strip: the pocket over the head drains over the head flashing, or not at all.
    let wide = |detail: &str| {
        format!("{shut}{}", wall("", &format!("window pane frame 400mm x 300mm at (400mm, 900mm), detail {detail}")))
    };
    let bays = flow(&wide("frame_edge"));
    assert!(traps(&bays).is_empty());
    assert!(bays.iter().flat_map(|bay| &bay.exits).any(|exit| exit.segment.from.y == Length::mm(1200)));
    assert_eq!(traps(&flow(&wide("shut_edge")))[0].2, "`shut_edge` closes the gap at `north.pane.head`");
}

#[test]
fn the_upper_area_drains_over_the_shelf() {
    let text = wall("", "").replace(
        "area all wall",
        "area lower wall below 1200mm\n area upper wall above 1200mm\n between lower and upper, detail shelf",
    );
    let bays = flow(&text);
    assert_eq!((bays.len(), traps(&bays).len()), (6, 0));
    let upper: Vec<&BayFlow> = bays.iter().filter(|bay| bay.id.area == 1).collect();
    assert!(upper.iter().all(|bay| bay.exits.len() == 1 && bay.exits[0].segment.from.y == Length::mm(1200)));
    let lower: Vec<&BayFlow> = bays.iter().filter(|bay| bay.id.area == 0).collect();
    assert!(lower.iter().all(|bay| bay.outlets.len() == 1 && bay.inlets.len() == 1));
    // The shelf promises the lower area an outlet of 10 mm, nothing to drink.
    assert_eq!(mm2(lower[0].outlets[0].area), Some(3680));
}
