//! Rows of details: how one kind of edge, point or hole is built, what it needs, and what it promises.

use super::{Row, row};

/// Kinds of edge, hole and point a detail can be for.
macro_rules! places {
    () => {
        "<places:words(base|eave|top|rake|left|right|corner|outside_corner|inside_corner|step|transition|floor_line|roof_line|deck_line|underside|ledger|bracket|opening|window|door|head|jamb|sill|pipe|duct|hood|box|block|cable|meter|bib|side|parapet|kick_out|saddle|three_plane_corner|end_of_step|point)>"
    };
}

pub(super) const ROWS: &[Row] = &[
    row("file", "detail", "<name:new>", "how one kind of edge, point or hole is built").many().body("detail"),
    row("detail", "at", places!(), "the kinds of edge, hole or point it is for"),
    row("detail", "edition", "<text:text>", "printed beside it on every sheet"),
    row("detail", "author", "<role:text>", "who answers for it, by role"),
    row("detail place", "needs", "<side:word(above|below|left|right|inside|outside|lower|upper)> <what:word(foundation|water|air|roof|gap|frame|furring|cladding|vapour|soffit|trim)>", "what must be beside it for it to work").many(),
    row("detail place", "gives", "<promises:words(exit|inlet|outlet|water|air|vapour|rain|heat)> [to <side:word(lower|upper|both)>]", "what it promises to the gap or to its neighbours").many(),
    row("detail place", "gap_end", "<state:word(open|closed)> [<slot:length>] [to <side:word(lower|upper|both)>]", "how the gap ends here, and the height or width of the slot").many().body("gap_end"),
    row("gap_end vent", "screen", "<of:ref(product)>", "what keeps pests out of it"),
    row("gap_end", "wraps", "<length:length>", "how far its screen runs round the corner and laps that of the next wall"),
    row("gap_end", "faces", "<way:word(down|out|up|sheltered)>", "which way it looks"),
    row("gap_end", "joins", "<space:word(outside|roof|soffit|subfloor|garage|none)>", "the space the air comes from or goes to; outside if left out"),
    row("detail place", "part", "<kind:word(flashing|membrane|pan|closure|starter|trim|block|sealant|tape|collar|gasket|flap|liner|baffle|saddle|coping|fire_stop|blocking|frame|screen|sleeve|hood|sill|cap|apron|step_flashing|kick_out|ledger|spacer|bracket|pad|rail|channel|threshold|board|patch|splice|cleat|insulation)> [<of:ref(material|product)>] [<thickness:length>]", "one part of it, from inside to outside").many().body("part"),
    row("part", "name", "<name:new>", "a name, where two parts are of one kind"),
    row("part", "slope", "<slope:slope>", "fall to the outside, as built"),
    row("part", "upstand", "<height:length>", "height of the leg against the plane"),
    row("part", "drip", "<down:length> [out <out:length>]", "how far the edge hangs down, and stands off what is below"),
    row("part", "beyond", "<length:length>", "how far it runs past the trims at each end"),
    row("part", "splice", "<lap:length> [with <with:ref(product|material)>]", "how far two lengths of it lap, and what is between them"),
    row("part", "hem", "<length:length>", "folded edge"),
    row("part", "end_dams", "<height:length>", "upturn at both ends"),
    row("part", "back_dam", "<height:length>", "upturn at the inside of a pan"),
    row("part", "projects", "<length:length>", "how far it stands out from what is below"),
    row("part", "width", "<width:length>", "width or girth of a strip"),
    row("part", "laps", "<order:word(under|over)> <what:word(water|air|membrane|foundation|flashing|pan|flap|cladding|jamb|sill|head|frame|roof|upper|lower|tape|coping|ledger|deck)> [by <by:length>]", "lap with its neighbour, and which is outboard").many(),
    row("part", "taped", "<with:ref(product)>", "tape over the upper edge"),
    row("part", "sealed", "<where:word(inside|outside|both|sides|none)>", "which edges are sealed"),
    row("part", "controls", "<functions:words(rain|water|air|vapour|heat)>", "control functions it carries"),
    row("part", "holds_up", "<length:length>", "gap left between it and what is above"),
    row("part", "isolated", "with <with:ref(product|material)>", "what keeps it from touching unlike metal or cement"),
    row("part", "fasten", "<product:ref(product)> [<size:size>]", "what holds it").body("fasten"),
    row("part", "wraps", "<length:length>", "how far it runs round the corner each way"),
    row("part", "on", "<plane:word(plane|sheathing|furring|cladding|structure)>", "what it lies on"),
    row("part trim", "mitred", "", "its ends are cut at half the angle and meet those of the next piece"),
    row("part", "shrinks", "with <what:word(frame|nothing)>", "whether its inner edge rides down as the frame shrinks while its outer edge does not"),
    row("detail place", "air", "seals to <target:word(foundation|roof|ceiling|frame|water|neighbour|sleeve|pipe|slab|deck|floor|itself|cladding|trim)> [with <by:ref(product|material)>]", "the named part that carries the air barrier across").many().body("joint"),
    row("joint", "width", "<width:length>", "width of the bond on each side"),
    row("joint part", "primer", "<is:word(yes|no)>", "whether the surface is primed"),
    row("joint", "at", "<temperature:quantity(temperature)>", "temperature when it is applied"),
    row("joint", "depth", "<depth:length>", "depth of a bead of sealant"),
    row("joint", "backer", "<is:word(yes|no)>", "whether a bead has a backer behind it, so that it holds on two sides and not on three"),
    row("joint", "slack", "<fold:length>", "fold left in it for what it crosses to move"),
    row("joint service", "recheck", "<by:date>", "the day by which somebody looks at the sealant again"),
    row("detail", "head", "", "the part of it above an opening").body("place"),
    row("detail", "jamb", "", "the part of it beside an opening").body("place"),
    row("detail", "sill", "", "the part of it below an opening").body("place"),
    row("detail", "roof_side", "", "the part of it on the side of a parapet that looks at the roof").body("place"),
    row("detail", "psi", "<value:quantity(line_transmittance)>", "heat lost along each metre of it, beyond what the walls beside it lose by their areas").body("sourced"),
    row("detail", "transmittance", "<value:quantity(transmittance)>", "heat lost through glass and frame together of openings set so, unless they say otherwise").body("sourced"),
    row("detail", "keep", "<clearance:length>", "clearance to the ground, roof or deck below, unless the edge says otherwise"),
    row("detail place", "fire", "<state:word(stopped|open_state|none)>", "whether fire is stopped here"),
    row("detail place", "upper_laps", "<length:length>", "how far the upper cladding laps the lower one"),
    row("detail", "order", "<steps:text>", "order of the steps, in the author's words").many(),
    row("detail", "why", "<text:text>", "the reason, printed on the sheet").many(),
];
