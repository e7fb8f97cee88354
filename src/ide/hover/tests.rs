//! Hovers on Heron Lane, and their values.

use super::*;
use crate::ide::testing::{desk, heron_lane};

fn on(path: &str, before: &str, after: &str, shift: u32) -> String {
    let desk = heron_lane(path, before, after);
    hover(&desk.glance, desk.file, desk.offset + shift).map(|hover| hover.text).unwrap_or_default()
}

#[test]
fn what_a_builder_reads_at_heron_lane() {
    let told = [
        ("assembly", on("assemblies.wythe", "assembly house_wall", "house_wall", 2)),
        ("layer", on("assemblies.wythe", "layer membrane", "membrane", 2)),
        ("gap", on("assemblies.wythe", "gap cavity", "cavity", 2)),
        ("product", on("assemblies.wythe", "layer boards boards.larch", "larch", 2)),
        ("material", on("assemblies.wythe", "frame studs", "spruce", 2)),
        ("window", on("north.wythe", "window hall", "hall", 1)),
        ("rake", on("north.wythe", "rake to", "rake", 1)),
        ("face", on("north.wythe", "face north", "north", 1)),
        ("area", on("north.wythe", "area all", "all", 1)),
        ("lamp", on("north.wythe", "lamp entry_lamp", "entry_lamp", 1)),
        ("clause", on("north.wythe", "rough_gap 12mm", "rough_gap", 1)),
        ("length", on("north.wythe", "overhang 300mm", "300mm", 1)),
        ("rule", on("north.wythe", "accept service.crowded", "service", 1)),
        ("detail", on("north.wythe", "detail house_base", "house_base", 1)),
        ("used", on("north.wythe", "use assemblies (", "house_wall", 1).lines().take(3).collect::<Vec<_>>().join("\n")),
        ("meets", on("north.wythe", "meets west", "west", 1)),
    ];
    let text: Vec<String> = told.iter().map(|(what, text)| format!("=== {what}\n{text}\n")).collect();
    insta::assert_snapshot!("heron_lane", text.join("\n"));
}

/// Worked by hand: plasterboard 12.7 mm at 0.16, and so on, as declared in the small wall below. ISO 6946: with a ventilated
/// layer both surfaces count 0.13 m²·K/W.
#[test]
fn resistance_and_transmittance_come_out() {
    let text = "material soft {\n    kind fibre\n    conductivity 0.04W/(m.K)\n}\nmaterial hard {\n    kind gypsum\n    conductivity 0.2W/(m.K)\n}\n\
                assembly $0w {\n    layer skin hard 20mm, controls rain\n    gap cavity 20mm ventilated\n    layer wool soft 100mm, controls heat\n    layer lining hard 20mm\n}\n";
    let desk = desk(&[("wall.wythe", text)]);
    let wall = &desk.glance.model.assemblies[0];
    let sums = super::sums(&desk.glance.model, wall);
    // 0.13 + 0.100/0.04 + 0.020/0.2 + 0.13 = 2.86
    assert!((sums.resistance.unwrap().low - 2.86).abs() < 1e-9);
    assert_eq!(sums.thickness, Some(crate::units::Length::mm(160)));
    let text = hover(&desk.glance, desk.file, desk.offset).unwrap().text;
    // 1/2.86 = 0.3497; 2.86 m²·K/W by 0.1761101837 is 16.2 ft²·h·°F/Btu (recomputed).
    assert!(text.contains("between studs RSI 2.86 (R-16.2), U 0.3497 W/(m²·K)"), "{text}");
}

#[test]
fn a_missing_fact_is_named() {
    let text = "material soft {\n    kind fibre\n}\nassembly $0w {\n    layer wool soft 100mm, controls heat\n}\n";
    let desk = desk(&[("wall.wythe", text)]);
    let text = hover(&desk.glance, desk.file, desk.offset).unwrap().text;
    assert!(text.contains("cannot tell, conductivity of `soft` (`conductivity`) is missing"), "{text}");
}

#[test]
fn numbers_are_told_in_the_other_unit() {
    let told = |clause: &str, wanted: &str| {
        let desk = desk(&[("wall.wythe", &format!("face n {{\n    {clause}\n}}\n"))]);
        let text = hover(&desk.glance, desk.file, desk.offset).unwrap().text;
        assert!(text.starts_with(wanted), "{clause}: {text}");
    };
    told("overhang 3$0ft", "914.4 mm (3 ft)");
    told("overhang 8ft 6-1$0/2in", "2603.5 mm (8 ft 6-1/2 in)");
    told("looks 90$0deg", "90°");
    told("ground at left -8in, falls 4:1$02", "33.3% · 4:12 · 18.4°");
}

#[test]
fn nothing_is_said_of_blanks_and_nothing_breaks_on_broken_text() {
    let text = crate::session::heron_lane_world();
    let text = crate::source::World::read(&text, "north.wythe").unwrap();
    for cut in (0..text.len()).step_by(211).filter(|&at| text.is_char_boundary(at)) {
        let desk = desk(&[("north.wythe", &format!("{}$0{}", &text[..cut], &text[cut + 1..]))]);
        let _ = hover(&desk.glance, desk.file, desk.offset);
        let _ = crate::ide::complete(&desk.glance, desk.file, desk.offset);
        let _ = crate::ide::signature(&desk.glance, desk.file, desk.offset);
    }
    let desk = desk(&[("wall.wythe", "wythe 1\n\n$0\n")]);
    assert_eq!(hover(&desk.glance, desk.file, desk.offset), None);
}
