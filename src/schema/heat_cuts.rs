//! Rows of plane cuts that heat is reckoned through.

use super::{Row, row};

pub(super) const ROWS: &[Row] = &[
    row(
        "file",
        "heat_cut",
        "<name:new>",
        "a plane cut through a detail, for the heat that goes through it; it stands by itself, x to the right and y up",
    )
    .many()
    .body("heat_cut"),
    row(
        "heat_cut",
        "region",
        "from <from:point> to <to:point> [of <stuff:ref(material|product)>] [conductivity <value:quantity(conductivity)>]",
        "a rectangle of one material by two opposite corners; where two overlap the later one is there; what is oblique is drawn in steps",
    )
    .many(),
    row(
        "heat_cut",
        "inside",
        "from <from:point> to <to:point>",
        "room air, a line or a rectangle: it takes the place of material drawn there, and touches what lies on its border",
    )
    .many()
    .body("heat_air"),
    row("heat_cut", "outside", "from <from:point> to <to:point>", "outside air, as `inside`; edges that no air touches let nothing through")
        .many()
        .body("heat_air"),
    row("heat_cut", "space", "from <from:point> to <to:point>", "air of a third temperature, such as a garage; as `inside`")
        .many()
        .body("heat_air"),
    row("heat_air", "temperature", "<value:quantity(temperature)>", "of this air; a `space` has to say it")
        .basis("inside 20 °C: common practice; outside the coldest monthly mean of the site's climate"),
    row("heat_air", "resistance", "<value:quantity(resistance)>", "of the surface, for the heat that goes through")
        .basis("0.13 m²·K/W, outside 0.04: ISO 6946:2017, level flow, from memory"),
    row("heat_air", "cold_resistance", "<value:quantity(resistance)>", "of the surface, for its lowest temperature: behind furniture, in corners")
        .basis("0.25 m²·K/W in a room: ISO 13788:2012, from memory; outside as for the heat"),
    row(
        "heat_cut",
        "flank",
        "<length:length> [of <transmittance:quantity(transmittance)>] [along <wall:ref(assembly)>]",
        "a plane part beside the detail that is counted by its area, by its transmittance or that of a wall; its length is taken as that of the face, and psi is what goes through beyond all of them",
    )
    .many(),
    row(
        "heat_cut",
        "measured",
        "to <plane:word(frame|sheathing|cladding)>",
        "the surface that lengths of flanks are taken to; psi counts for faces measured to the same",
    ),
    row(
        "heat_cut",
        "detail",
        "<of:ref(detail)> [at <place:word(head|jamb|sill)>]",
        "the detail whose edge it is a cut of: where that says no `psi`, the psi of the cut counts for its edges",
    )
    .basis("ψ = L2D − Σ U·l, ISO 10211:2017, from memory"),
    row("heat_cut", "point", "<name:new> at <at:point>", "a place whose temperature is told").many(),
    row("heat_cut", "note", "<text:text>", "a remark printed with it").many(),
];
