//! Rows of the build-up of a wall: layers from outside to inside, the gap, its furring, what holds them.

use super::{Row, row};

pub(super) const ROWS: &[Row] = &[
    row("file", "assembly", "<name:new>", "layers of a wall, outside to inside").many().body("assembly"),
    row(
        "assembly",
        "like",
        "<base:ref(assembly)>",
        "takes all layers of another assembly; what stands here replaces them",
    ),
    row(
        "assembly",
        "resists",
        "<value:quantity(resistance)>",
        "what the whole wall resists with framing and both surfaces, as tested or reckoned elsewhere; in place of its layers",
    )
    .body("sourced"),
    row("assembly", "after", "<name:path>", "puts the statements of its block behind the named one, under `like`")
        .many()
        .body("assembly"),
    row("assembly", "layer", "<name:new> <of:ref(material|product)> [<thickness:range>]", "one solid layer")
        .many()
        .body("layer"),
    row(
        "assembly",
        "existing",
        "<name:new> <of:ref(material|product)> [<thickness:range>]",
        "a layer that is already there",
    )
    .many()
    .body("layer"),
    row(
        "assembly",
        "gap",
        "<name:new> <depth:range> [<openness:word(vented|ventilated)>]",
        "the drained space: vented is open at the bottom, ventilated at bottom and top",
    )
    .many()
    .body("gap"),
    row(
        "assembly",
        "frame",
        "<name:new> <of:ref(material|product)> <size:size>",
        "studs or other framing, with what fills it",
    )
    .many()
    .body("frame"),
    row(
        "layer existing gap frame",
        "controls",
        "<functions:words(rain|water|air|vapour|heat)>",
        "the control functions this layer carries",
    ),
    row("layer", "exposure", "<range:range>", "height of a course that shows; overrides the product's"),
    row("layer", "runs", "<direction:word(horizontal|vertical)>", "which way the boards run"),
    row(
        "layer gap trim block nailer fire_stop ledger bracket_row",
        "fasten",
        "<product:ref(product)> [<size:size>]",
        "what holds it; nothing on the wall is held by nothing",
    )
    .also(&["fastened", "fixed_with"])
    .body("fasten"),
    row("fasten", "into", "<target:word(studs|furring|sheathing|structure|plane)>", "what the fastener holds in"),
    row("fasten furring frame bracket_row layer", "every", "<spacing:length> [on centre]", "spacing, centre to centre"),
    row("fasten holes", "end_distance", "<min:length>", "centre of the last one to the end of the piece"),
    row("fasten holes", "edge_distance", "<min:length>", "centre to the long edge of the piece"),
    row("fasten", "through", "<leg:word(upstand|ledge|face)>", "the leg of a folded part it goes through"),
    row("fasten", "rows", "<count:integer>", "how many in the height of one piece"),
    row("fasten", "corner_every", "<spacing:length>", "spacing within the corner zone of the wind, if closer"),
    row("fasten", "slots", "<length:length>", "its holes are slots this long, so that the piece can slide"),
    row("layer", "lap", "<length:length>", "upper sheet over lower sheet"),
    row(
        "layer",
        "lapped",
        "<order:word(upper_over_lower|lower_over_upper)>",
        "which sheet is outboard at a horizontal lap",
    )
    .basis("upper over lower: OBC 9.27.3.3"),
    row("layer", "end_lap", "<length:length>", "sheet over sheet at a vertical lap"),
    row("layer", "seam", "<tape:ref(product)>", "what joins its sheets"),
    row("layer", "primer", "<is:word(yes|no)>", "whether the surface is primed before taping"),
    row("layer", "applied", "at <temperature:quantity(temperature)>", "temperature on the day it goes on"),
    row("layer", "exposed", "<days:quantity(time)>", "how long it lies in daylight before it is covered"),
    row("layer", "fill", "<of:ref(material|product)>", "what fills a layer between strips"),
    row(
        "layer frame",
        "fitted",
        "<how:word(close|gaps|loose)>",
        "how insulation was fitted: close, with gaps, or so that air turns behind it",
    )
    .basis("ISO 6946:2017, annex F, from memory"),
    row("layer", "ends", "<how:word(sealed|raw)>", "whether cut ends are sealed"),
    row("layer", "joint_gap", "<gap:length>", "gap left at butt joints and ends; overrides the product's"),
    row("layer", "reading", "<moisture:number> on <date:date>", "moisture content read on a day"),
    row(
        "layer furring",
        "thermal_break",
        "<how:word(none|pads|clips)>",
        "what breaks metal where it crosses the insulation: pads, or clips in place of continuous strips",
    ),
    row("layer", "joints", "<how:word(lapped|closed|open)>", "whether wind blows through the joints of the cladding"),
    row("furring", "isolated", "with <with:ref(product|material)>", "what keeps its preservative from the metal on it"),
    row("layer", "serves_until", "<date:date>", "how long an existing layer is trusted"),
    row("gap", "bulge", "<allowance:length>", "how much of the depth wrinkles, tapes and insulation may take")
        .basis("3 mm for sheet membrane: common practice"),
    row("gap", "furring", "<of:ref(material|product)> <size:size>", "the strips that make the gap")
        .also(&["strapping", "battens"])
        .many()
        .body("furring"),
    row("gap", "mat", "<of:ref(product)> [<thickness:length>]", "a drainage mat in place of, or behind, furring"),
    row("gap", "pressed", "to <thickness:length>", "what is left of a mat where the cladding is fastened through it"),
    row("furring frame", "first", "<mark:length>", "first mark from the left end of the face")
        .basis("15-1/4 in to the near edge puts sheet edges on studs: trade practice"),
    row(
        "furring frame",
        "marks",
        "<at:length_tuple>",
        "measured centres from the left end; replaces `every` and `first`",
    ),
    row("furring", "vertical", "", "strips run up the wall"),
    row("furring", "horizontal", "", "strips run along the wall"),
    row("furring", "diagonal", "<angle:quantity(angle)>", "strips run at an angle"),
    row("furring", "also", "at <places:words(corners|jambs|joints|blocks)>", "extra strips"),
    row(
        "furring",
        "stops",
        "<length:length>",
        "how far strips stop short of heads and sills, so that bays breathe sideways",
    )
    .basis("10–25 mm: common practice"),
    row("furring", "held_up", "<length:length>", "how far the lower ends stay above the base line")
        .basis("10 mm above the base flashing: common practice"),
    row("furring", "held_down", "<length:length>", "how far the upper ends stay below the top line")
        .basis("10–20 mm: common practice"),
    row(
        "furring",
        "cross_gap",
        "<length:length> every <spacing:length>",
        "gaps in long strips, or between lengths of horizontal ones",
    ),
    row("furring", "falls", "<slope:slope>", "slope of horizontal strips to their open ends"),
    row("furring", "splice_gap", "<length:length>", "gap between strips in one line"),
    row("furring", "counter", "<of:ref(material|product)> <size:size>", "vertical strips behind horizontal ones"),
    row("furring", "on", "<target:word(studs|any)>", "whether each strip lies on a stud"),
    row("furring", "shims", "<most:length>", "thickest shim allowed under a strip"),
    row("frame", "fill", "<of:ref(material|product)>", "insulation between the framing"),
    row(
        "frame",
        "wood_share",
        "<value:quantity(share)>",
        "how much of its area is wood: studs, plates, lintels; counted if left out",
    )
    .body("sourced"),
    row(
        "frame",
        "kind",
        "<kind:word(wood|steel|concrete_form|masonry)>",
        "what the studs are; concrete form webs are measured",
    ),
];
