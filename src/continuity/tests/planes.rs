//! Planes and depths of an assembly.

use super::{read, wall};
use crate::units::Length;

const DEEP: &str = "use std.insulations\nassembly deep {\n layer boards materials.larch_wood 20mm, controls rain\n gap cavity \
                    15mm..19mm {\n bulge 3mm\n }\n layer insulation insulations.wool_board 50mm, controls heat\n layer membrane \
                    membranes.vapour_open, controls water and air\n layer sheathing plywood 12.5mm\n frame studs spruce 38mm x \
                    140mm\n layer retarder membranes.variable, controls vapour\n layer board gypsum 12.7mm\n}\n";

#[test]
fn a_wall_is_asked_for_its_planes() {
    let (model, _) = read(&format!("{DEEP}{}", wall("", "").replace("area all wall", "area all deep")));
    let deep = model.assemblies.iter().find(|assembly| assembly.name == "deep").unwrap();
    let (_, gap) = deep.gap().unwrap();
    // 15 at least, 3 of it bulge.
    assert_eq!(gap.net_depth(), Length::mm(12));
    assert_eq!(deep.drainage_plane().map(|(index, layer)| (index, layer.name.as_str())), Some((3, "membrane")));
    assert_eq!(deep.air_layer().map(|(index, _)| index), Some(3));
    assert_eq!(deep.is_inboard_of_frame(3), Some(false));
    assert_eq!(deep.is_inboard_of_frame(6), Some(true));
    assert_eq!(model.sheathing(deep), Some(4));
    // 20 + 19 + 50; the sheet counts nothing.
    assert_eq!(model.outboard_thickness(deep), Some(Length::mm(89)));
    assert_eq!(model.thickness_between(deep, 3, 5), Some(Length(12_500_000)));
}
