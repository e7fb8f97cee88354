//! Air in the gap: sizes of inlets and outlets.

use super::{flow, mm2, read, tenths, wall};
use crate::continuity::GapFlow;

#[test]
fn inlets_and_outlets_are_slot_by_length_by_screen() {
    let bays = flow(&wall("", ""));
    for (bay, width) in bays.iter().zip([368, 336, 368]) {
        assert_eq!(mm2(bay.inlet_area().map(|area| area.new)), Some(tenths(17 * width * 6)));
        // 10 mm × width × 0.6, aged 0.4.
        assert_eq!(mm2(bay.outlet_area().map(|area| area.new)), Some(6 * width));
        assert_eq!(mm2(bay.outlet_area().map(|area| area.aged)), Some(4 * width));
    }
}

#[test]
fn free_area_by_metre_counts_the_strips() {
    // trade arithmetic of free area, common practice, no source: slot × (1 − strips) × mesh: 17 × 1072/1200 × 0.6 = 9112 mm²/m.
    let (model, plan) = read(&wall("", ""));
    let flow = GapFlow::find(&model, &plan);
    let (base, _) = plan.runs().find(|(_, run)| run.kind == "base").unwrap();
    let area = flow.free_area_per_metre(&plan, base, None).unwrap();
    assert_eq!(mm2(Some(area.new)), Some(9112));
    assert_eq!(mm2(Some(area.aged)), Some(6075));
}

#[test]
fn an_exit_is_an_inlet_only_if_it_is_promised() {
    let drain = "detail drain_base {\n at base\n gap_end open\n gives exit\n}\n";
    let bays = flow(&format!("{drain}{}", wall("base to (1200mm, 0), detail drain_base", "")));
    assert!(bays.iter().all(|bay| bay.exits.len() == 1 && bay.inlets.is_empty()));
}

#[test]
fn a_screen_without_its_open_share_leaves_the_size_open() {
    let blind = "detail blind_base {\n at base\n gap_end open, screen blind_mesh\n gives exit and inlet\n}\n";
    let bays = flow(&format!("{blind}{}", wall("base to (1200mm, 0), detail blind_base", "")));
    assert!(bays.iter().all(|bay| bay.traps.is_empty() && bay.inlet_area().is_none()));
    assert_eq!(bays[0].inlets[0].missing.as_deref(), Some("open share of the screen `blind_mesh`"));
}

#[test]
fn a_closed_top_lets_nothing_out_and_one_without_detail_cannot_be_told() {
    let shut = "detail shut_top {\n at top\n gap_end closed\n gives outlet\n}\n";
    let closed = wall("", "").replace("detail open_top", "detail shut_top");
    assert!(flow(&format!("{shut}{closed}")).iter().all(|bay| bay.outlets.is_empty()));
    let bare = wall("", "").replace("top to (0, 2400mm), detail open_top", "top to (0, 2400mm)");
    for bay in flow(&bare) {
        assert_eq!(bay.outlets[0].missing.as_deref(), Some("how the top is built: `north.top` has no detail"));
    }
}

#[test]
fn the_space_that_the_gap_opens_into_is_kept() {
    let roof = "detail roof_top {\n at top\n gap_end open 10mm, joins roof\n gives outlet\n}\n";
    let joined = wall("", "").replace("detail open_top", "detail roof_top");
    assert!(flow(&format!("{roof}{joined}")).iter().all(|bay| bay.outlets[0].joins == "roof"));
}

#[test]
fn a_row_of_slots_serves_the_bay_below_and_the_bay_above_its_flashing() {
    let vent = "vent belt 12mm at 1200mm {\n gives exit and inlet and outlet\n flashing aluminium 0.6mm\n}";
    let bays = flow(&wall("", vent));
    assert_eq!(bays.len(), 6);
    for bay in &bays {
        assert!(bay.traps.is_empty() && !bay.inlets.is_empty() && !bay.outlets.is_empty(), "{bay:?}");
    }
    // Half of 12 mm × 368 each.
    assert_eq!(mm2(bays[0].outlets[0].area), Some(2208));
    // Without a flashing nothing is parted, and the whole slot counts both ways.
    let open = flow(&wall("", "vent belt 12mm at 1200mm {\n gives inlet and outlet\n}"));
    assert_eq!(open.len(), 3);
    assert_eq!(mm2(open[0].outlets[1].area), Some(4416));
}
