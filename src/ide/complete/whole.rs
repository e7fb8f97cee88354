//! Whole statements with all that a check asks of them, to fill in. Each is read and built by a test.

/// Several lines at once.
pub(super) struct Whole {
    /// Where it may be written.
    pub context: &'static str,
    /// As shown in the list.
    pub label: &'static str,
    /// What it is.
    pub help: &'static str,
    /// With places to fill in.
    pub text: &'static str,
}

/// All of them.
pub(super) const WHOLE: &[Whole] = &[
    Whole {
        context: "file",
        label: "assembly, boards over a gap",
        help: "boards on furring over outside insulation, one membrane on the sheathing",
        text: r#"
assembly ${1:wall} {
    layer boards ${2:std.boards.larch} ${3:20mm} {
        controls rain
        exposure ${4:110mm}..${5:140mm}
        runs horizontal
        fasten std.screws.stainless 4.5mm x 50mm, into furring, end_distance 25mm
    }
    gap cavity ${6:19mm} ventilated {
        furring std.furring.spruce ${6:19mm} x 64mm, every ${7:16in} on centre, vertical, also at corners and jambs
        bulge 2mm
        fasten std.screws.structural 6mm x 140mm, into studs, every 300mm
    }
    layer insulation std.insulations.wool_board ${8:50mm}, controls heat
    layer membrane std.membranes.vapour_open {
        controls water and air
        lap 150mm
        lapped upper_over_lower
        end_lap 150mm
        seam std.tapes.acrylic
    }
    layer sheathing std.sheets.plywood 12.5mm
    frame studs spruce 38mm x ${9:140mm}, every ${7:16in} on centre, first 15-1/4in, fill mineral_wool, kind wood
    layer retarder std.membranes.variable, controls vapour
    layer lining gypsum 12.7mm
}
$0"#,
    },
    Whole {
        context: "file",
        label: "face, a rectangle",
        help: "a wall with four edges, its ground, and one area",
        text: r#"
face ${1:north} {
    measured to sheathing
    looks ${2:0deg}
    outline from (0, 0) {
        base to (${3:6000mm}, 0), detail std.details.screened_base, keep 200mm
        right to (${3:6000mm}, ${4:2700mm}), detail std.details.corner_boards
        top to (0, ${4:2700mm}), detail std.details.eave
        left to start, detail std.details.corner_boards
    }
    ground at left ${5:-220mm}, surface ${6|soil,paved,gravel,sand,deck|}
    overhang ${7:300mm}
    area all ${8:wall}
    $0
}"#,
    },
    Whole {
        context: "file",
        label: "detail, a base",
        help: "foot of the wall: membrane over the foundation, flashing with a drip, screened slot",
        text: r#"
detail ${1:base}(mesh = std.meshes.insect, upstand = ${2:100mm}) {
    at base
    needs below foundation
    needs above water
    part flashing std.flashings.aluminium_coil {
        slope 6deg
        upstand upstand
        drip 12mm out 6mm
        end_dams 25mm
        laps under water by upstand
        on plane
        fasten std.screws.stainless_pan 4mm x 25mm, into sheathing, every 400mm, through upstand
        splice 100mm with std.tapes.butyl
    }
    gap_end open ${3:10mm}, screen mesh, faces down
    air seals to foundation with std.membranes.liquid
    gives exit and inlet
    $0
}"#,
    },
    Whole {
        context: "file",
        label: "detail, a window",
        help: "head, jambs and sill of a window to fill in",
        text: r#"
detail ${1:window} {
    at window
    air seals to frame with std.tapes.acrylic
    head {
        part flashing std.flashings.aluminium_coil {
            slope 6deg
            upstand ${2:100mm}
            drip 12mm out 6mm
            end_dams 25mm
            laps under water by ${2:100mm}
            on plane
        }
        gap_end open ${3:10mm}, screen std.meshes.insect
        gives exit and inlet
    }
    jamb {
        gap_end closed
    }
    sill {
        part pan std.flashings.aluminium_coil {
            slope 6deg
            end_dams 25mm
            back_dam 15mm
        }
        gap_end open ${3:10mm}, screen std.meshes.insect
        gives outlet
    }
    $0
}"#,
    },
    Whole {
        context: "file",
        label: "detail like another",
        help: "a detail of the library with measures of this house",
        text: r#"
detail ${1:house_corner} {
    like ${2:std.details.corner_boards}$0
}"#,
    },
    Whole {
        context: "face",
        label: "window, whole",
        help: "a window with all that the checks ask of it",
        text: r#"
window ${1:kitchen} frame ${2:900mm} x ${3:1215mm} at (${4:1000mm}, ${5:900mm}) {
    detail ${6:std.details.flashed_window_on_furring}
    trims ${7:89mm} on furring
    head behind_membrane
    reveal 6mm
    rough_gap 12mm
    seal to air
    opens ${8|yes,no|}
}
$0"#,
    },
    Whole {
        context: "face",
        label: "outline, a rectangle",
        help: "one walk round the wall, anticlockwise from the lower left",
        text: r#"
outline from (0, 0) {
    base to (${1:6000mm}, 0), detail ${3:std.details.screened_base}, keep 200mm
    right to (${1:6000mm}, ${2:2700mm}), detail ${4:std.details.corner_boards}
    top to (0, ${2:2700mm}), detail ${5:std.details.eave}
    left to start, detail ${4:std.details.corner_boards}
}
$0"#,
    },
    Whole {
        context: "face",
        label: "hood, whole",
        help: "a duct with a hood, sealed to the air barrier",
        text: r#"
hood ${1:dryer} ${2:100mm} at (${3:600mm}, ${4:600mm}) {
    fall 2%
    seal collar with std.seals.pipe_collar(bore = ${2:100mm})
    flange 50mm
    owner ventilation
    carries exhaust
    reaches past_cladding
}
$0"#,
    },
    Whole {
        context: "outline",
        label: "base with its detail",
        help: "a lower edge, its detail and clearance",
        text: "base to (${1:6000mm}, ${2:0}), detail ${3:std.details.screened_base}, keep ${4:200mm}\n$0",
    },
    Whole {
        context: "outline",
        label: "corner with its detail",
        help: "the right side, its detail and the face it meets",
        text: "right to (${1:6000mm}, ${2:2700mm}), detail ${3:std.details.corner_boards}, meets ${4:east}\n$0",
    },
    Whole {
        context: "assembly",
        label: "gap with furring",
        help: "the drained space with its strips and what holds them",
        text: r#"
gap ${1:cavity} ${2:19mm} ventilated {
    furring ${3:std.furring.spruce} ${2:19mm} x 64mm, every ${4:16in} on centre, vertical, also at corners and jambs
    bulge 2mm
    fasten ${5:std.screws.structural} 6mm x 140mm, into studs, every 300mm
}
$0"#,
    },
];
