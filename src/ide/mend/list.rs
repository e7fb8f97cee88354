//! Which fix belongs to which finding: the one place that lists them.

use super::Mend;
use super::ask::{Ask, On};
use super::work;

/// How a finding is mended.
enum How {
    /// A clause is set.
    Say(On, &'static str),
    /// The first length of a clause is set to what is wanted.
    Number(On, &'static str),
    /// Its last length.
    LastNumber(On, &'static str),
    /// A fact is said that only the site, or whoever designs, knows.
    Fact(On, &'static str),
    /// It takes more.
    Work(fn(&Ask<'_>) -> Vec<Mend>),
}

use How::{Fact, LastNumber, Number, Say, Work};
use On::{At, Furring, Gap, InDetail, Other, Up};

/// Which of a rule's findings a row is for.
enum When {
    /// Faults.
    Fault,
    /// What could not be told.
    Unknown,
    /// Both.
    Either,
    /// Those whose message has these words.
    Says(&'static str),
}

use When::{Either, Fault, Says, Unknown};

/// Rule, which of its findings, title, what is done.
type Row = (&'static str, When, &'static str, How);

const NAMED: On = Other("the part that is named there");

#[rustfmt::skip]
const MENDS: &[Row] = &[
    // The air barrier.
    ("air.joint_does_not_bond", Says("is not primed"), "Prime the surface under it", Say(NAMED, "primer yes")),
    ("air.joint_moves_too_far", Says("of fold"), "Leave a fold of {limit}", Number(NAMED, "slack")),
    ("air.joint_moves_too_far", Says("wide;"), "Leave a joint {limit} wide", Number(NAMED, "width")),
    ("air.joint_too_narrow", Says("on each side;"), "Let it hold {limit} on each side", Number(NAMED, "width")),
    ("air.joint_too_narrow", Says("a bead"), "Set a backer, so that the bead is {limit} deep", Number(NAMED, "depth")),
    ("air.no_barrier", Fault, "", Work(work::barrier)),
    ("air.open_at_base", Either, "", Work(work::joint)),
    ("air.open_at_corner", Either, "", Work(work::joint)),
    ("air.open_at_floor", Either, "", Work(work::joint)),
    ("air.open_at_opening", Either, "", Work(work::joint)),
    ("air.open_at_top", Either, "", Work(work::joint)),
    ("air.open_at_transition", Either, "", Work(work::joint)),
    ("building.open", Says("in the foundation"), "", Fact(At, "air")),
    ("building.open", Says("no roof"), "", Fact(At, "roof")),
    ("floor.joists_through", Fault, "Block and seal the spaces between the joists", Say(At, "blocked yes")),
    ("opening.sealed_to_cladding", Either, "Seal the frame at the air barrier", Say(At, "seal to air")),
    ("sealant.no_recheck", Fault, "", Fact(NAMED, "recheck")),
    ("seam.untaped", Either, "Tape its seams", Say(At, "seam {std:tapes.acrylic}")),
    ("service.crowded", Fault, "", Work(work::move_away)),
    ("service.unsealed", Says("is sealed to the"), "Seal it to the air barrier", Say(At, "sealed to air")),
    ("service.unsealed", Says("seals the hole"), "Seal the hole with a taped collar", Say(At, "seal collar")),
    ("service.unsealed", Says("seals the hole"), "Seal the hole with a gasket", Say(At, "seal gasket")),
    ("tape.wrong_surface", Says("is not primed"), "Prime the surface under the tape", Say(At, "primer yes")),
    // Where sources disagree and the rule set took a side.
    ("gap.top_not_as_ruled", Fault, "", Work(work::openness)),
    ("trim.joint_not_as_ruled", Says("it is to be sealed"), "Seal the sides of the trim", Say(Other("this part"), "sealed sides")),
    // Fastening.
    ("bracket.on_soft_layer", Fault, "", Fact(At, "spacer")),
    ("fasten.missing", Fault, "", Fact(At, "fasten")),
    ("fastener.misses", Says("miss the furring"), "", Work(work::onto_strips)),
    ("fastener.misses", Says("miss the studs"), "", Work(work::marks_of_studs)),
    ("fastener.near_edge", Says("from the end"), "Keep {limit} from the end", Number(At, "end_distance")),
    ("fastener.near_edge", Says("from the edge"), "Keep {limit} from the edge", Number(At, "edge_distance")),
    ("fastener.too_short", Fault, "", Work(work::longer)),
    ("fastening.too_sparse_for_wind", Says("wind"), "", Work(work::closer)),
    ("fastening.too_sparse_for_wind", Fault, "", Work(work::closer)),
    ("furring.span_too_long", Fault, "Fix the strips every {limit}", Number(At, "every")),
    ("furring.splits", Says("the last screw"), "Keep the last screw {limit} from the end", Number(At, "end_distance")),
    ("joint.off_support", Fault, "", Work(work::shift_joint)),
    ("screws.overloaded_through_insulation", Fault, "", Work(work::closer)),
    ("starter.loose", Says("is fixed every"), "Fix the starter every {limit}", Number(At, "every")),
    ("starter.loose", Says("hangs free"), "Keep the last fastener {limit} from the end", Number(At, "end_distance")),
    // Fire.
    ("ember.mesh", Either, "Screen it with a metal mesh that stops embers", Say(At, "screen {std:meshes.insect}")),
    ("exhaust.too_close", Fault, "", Work(work::move_away)),
    ("fire.gap_joins_soffit", Fault, "Let the gap out through the frieze", Say(InDetail("gap_end"), "joins outside")),
    ("fire.stop_dams_water", Fault, "Take a stop that stays open until there is a fire", Say(At, "kind open_state")),
    ("fire.vent_beside_stop", Fault, "", Work(work::lower_slots)),
    // Flashings.
    ("flashing.fixed_in_wet_leg", Either, "Fix it through its upstand", Say(At, "through upstand")),
    ("flashing.flat", Either, "Bend it to a slope of {limit}", Say(At, "slope {limit}")),
    ("flashing.no_drip", Either, "Fold a drip: down {limit:drip.down}, out {limit:drip.out}", Say(At, "drip {limit:drip.down} out {limit:drip.out}")),
    ("flashing.no_end_dam", Fault, "Fold end dams of {limit}", Say(At, "end_dams {limit}")),
    ("flashing.slope_lost", Fault, "", Work(work::steeper)),
    ("flashing.splice_open", Says("lap by"), "Lap its lengths by {limit}", Number(At, "splice")),
    ("flashing.too_short", Says("past what it covers"), "Let it run {limit} past what it covers", Number(At, "beyond")),
    // Freezing.
    ("board.holds_film", Fault, "Put spacers of {limit} behind it", Number(At, "stands_off")),
    ("cladding.ends_raw", Either, "Seal every cut end", Say(At, "ends sealed")),
    // The gap.
    ("bay.cut_off", Fault, "Stop the strips 25 mm (1 in) short, so that bays breathe sideways", Say(Furring, "stops 25mm")),
    ("exhaust.in_gap", Says("ends in the gap"), "Carry the duct past the cladding", Say(At, "reaches past_cladding")),
    ("exhaust.in_gap", Says("the collar"), "Take a collar of {limit}", Number(At, "collar_length")),
    ("gap.joins_damp_space", Fault, "Open the gap to the outside", Say(InDetail("gap_end"), "joins outside")),
    ("gap.joins_roof", Fault, "Let the gap out through the frieze", Say(InDetail("gap_end"), "joins outside")),
    ("gap.no_outlet", Either, "", Work(work::openness)),
    ("gap.shallow", Fault, "", Work(work::deepen)),
    ("gap.shallow", Unknown, "Count with {limit:gap.bulge} for bulges", Say(Gap, "bulge {limit:gap.bulge}")),
    // Laps.
    ("head.flashing_over_membrane", Says("untaped"), "Lap it under the membrane by {limit}", Say(At, "laps under water by {limit:flashing.upstand}")),
    ("head.flashing_over_membrane", Says("does not lap"), "Lap it under the membrane by {limit}", Say(At, "laps under water by {limit:flashing.upstand}")),
    ("head.flashing_over_membrane", Says("how far"), "Lap it under the membrane by {limit}", Say(At, "laps under water by {limit:flashing.upstand}")),
    ("head.flashing_over_membrane", Says("is wanted"), "Lap it under the membrane by {limit}", Number(At, "laps under water by")),
    ("jamb.under_sill", Either, "", Work(work::jamb_over_sill)),
    ("ledger.unflashed", Says("the membrane laps"), "Lap it under the membrane by {limit}", Number(At, "laps under water by")),
    ("ledger.unflashed", Says("off the plane"), "Keep it {limit:ledger.stand_off} off the plane", Say(At, "stands_off {limit:ledger.stand_off}")),
    ("membrane.behind_base_flashing", Either, "Lap it under the membrane by {limit}", Say(At, "laps under water by {limit}")),
    ("membrane.reversed_lap", Either, "Lay the upper sheet over the lower one", Say(At, "lapped upper_over_lower")),
    ("membrane.short_lap", Says("level laps"), "Lap the sheets by {limit}", Say(At, "lap {limit}")),
    ("membrane.short_lap", Says("upright laps"), "Lap their ends by {limit:membrane.end_lap}", Say(At, "end_lap {limit:membrane.end_lap}")),
    ("sill.no_pan", Says("has no back dam"), "Turn its back edge up by {limit}", Say(At, "back_dam {limit}")),
    ("sill.no_pan", Says("end dam"), "Turn its ends up by {limit}", Say(At, "end_dams {limit}")),
    ("sill.sealed_outside", Fault, "Seal the inner edge only", Say(At, "sealed inside")),
    ("step_flashing.continuous", Says("is wanted"), "Lap the steps by {limit}", Number(At, "splice")),
    ("step_flashing.continuous", Unknown, "Lap the steps by {limit:step_flashing.head_lap}", Say(At, "splice {limit:step_flashing.head_lap}")),
    ("step_flashing.over_membrane", Either, "Lap them under the membrane by {limit}", Say(At, "laps under water by {limit}")),
    ("transition.no_flashing", Says("is not said"), "Lap it under the membrane by {limit:transition.membrane_up}", Say(At, "laps under water by {limit:transition.membrane_up}")),
    // Metals.
    ("fastener.in_acid_wood", Fault, "", Work(work::stainless)),
    ("fastener.less_noble", Fault, "", Work(work::stainless)),
    ("fastener.wrong_finish", Fault, "", Work(work::stainless)),
    ("metal.cut_edge_in_splash", Fault, "Fold a hem of 10 mm (3/8 in)", Say(At, "hem 10mm")),
    ("metal.on_cement", Fault, "Lay a bituminous membrane between", Say(At, "isolated with {std:tapes.bitumen}")),
    ("metal.on_treated_wood", Says("lies on"), "", Work(work::isolate)),
    ("metal.runoff", Either, "Let its drip stand {limit} clear", LastNumber(At, "drip")),
    ("trim.drilled_in_place", Fault, "Drill on the bench", Say(At, "drilled bench")),
    // Movement.
    ("board.fixed_twice", Fault, "Punch slots of {limit}", Number(At, "slots")),
    ("board.pinned_twice", Fault, "Fix each board by one row", Say(At, "rows 1")),
    ("board.tight_joint", Says("left raw"), "Seal every cut end", Say(At, "ends sealed")),
    ("board.tight_joint", Says("cut ends"), "Seal every cut end", Say(At, "ends sealed")),
    ("board.tight_joint", Says("tight;"), "Leave {limit} at joints and ends", Say(At, "joint_gap {limit}")),
    ("joint.too_tight", Fault, "Leave {limit} at its ends", Number(At, "gap")),
    ("trim.fixed_twice", Fault, "", Work(work::one_fixed_point)),
    ("trim.lap_opens", Fault, "", Work(work::wider_lap)),
    // The order of work.
    ("section.no_dry_in", Says("flap"), "Turn a flap of {limit:dry_in.flap} out over the top edge", Say(At, "dry_in flap {limit:dry_in.flap}")),
    ("section.no_dry_in", Says("open upward"), "Turn a flap of {limit:dry_in.flap} out over the top edge", Say(At, "dry_in flap {limit:dry_in.flap}")),
    ("section.no_dry_in", Says("is not said"), "Turn a flap of {limit:dry_in.flap} out over the top edge", Say(At, "dry_in flap {limit:dry_in.flap}")),
    ("section.off_course_line", Fault, "", Work(work::to_course_line)),
    ("section.overloaded", Fault, "", Work(work::loads)),
    // Animals.
    ("opening.rake_unscreened", Fault, "Put a screen in it", Say(At, "screen {std:meshes.insect}")),
    ("opening.unscreened", Says("no screen"), "Put a screen in it", Say(At, "screen {std:meshes.insect}")),
    ("opening.unscreened", Says("the holes of"), "Take a finer mesh", Say(At, "screen {std:meshes.insect}")),
    ("opening.unscreened", Says("the round holes"), "", Work(work::bore)),
    ("screen.breaks_at_corner", Fault, "Let the screens lap {limit} at the corner", Number(At, "wraps")),
    ("screen.chewable", Fault, "Take a metal mesh", Say(At, "screen {std:meshes.insect}")),
    ("vent.lets_wasps_in", Fault, "Screen it with a fine mesh", Say(At, "screen {std:meshes.insect}")),
    // Registers.
    ("accept.no_authority", Fault, "", Work(work::authority)),
    ("accept.stale", Says("finds no fault"), "", Work(work::take_out)),
    ("accept.stale", Says("there is no rule"), "", Work(work::advised_name)),
    ("area.overlap", Fault, "", Work(work::meet)),
    ("edge.no_detail", Fault, "", Work(work::detail)),
    ("limit.overridden", Fault, "", Fact(At, "source")),
    ("limit.overridden", Fault, "", Fact(At, "sure")),
    ("point.no_detail", Fault, "", Fact(At, "point")),
    // Service.
    ("hose_bib.seat_in_cold", Says("falls"), "Let it fall {limit} to the outside", Say(At, "fall {limit}")),
    ("hose_bib.seat_in_cold", Says("the seat of"), "", Work(work::longer_stem)),
    ("service.cannot_come_off", Says("not said to be removable"), "Make the block removable", Say(Up("block"), "removable")),
    ("service.falls_in", Either, "Let it fall {limit:service.fall} to the outside", Say(At, "fall {limit:service.fall}")),
    ("service.no_removal", Fault, "", Fact(At, "removal")),
    // Setting out.
    ("course.sliver", Fault, "", Work(work::exposure)),
    ("furring.none_at_edge", Fault, "Set strips at corners and jambs as well", Say(At, "also at corners and jambs")),
    ("hole.near_mitre", Fault, "Keep the holes {limit} from the mitre", Number(At, "end_distance")),
    ("trim.longer_than_stock", Fault, "", Fact(At, "lap")),
    ("trim.too_shallow", Fault, "", Work(work::deeper_trim)),
    // Heat.
    ("block.cold", Fault, "Insulate behind the block", Say(At, "insulated yes")),
    ("deck.ledger_bridges", Fault, "Carry it on standoffs with a break", Say(At, "bears standoffs")),
    ("deck.ledger_bridges", Fault, "Carry it on posts of its own", Say(At, "bears posts")),
    ("furring.girt_through_insulation", Fault, "Put a thermal break under it", Say(At, "thermal_break pads")),
    ("furring.girt_through_insulation", Fault, "Take clips in place of it", Say(At, "thermal_break clips")),
    // Vapour.
    ("cladding.metal_sweats", Either, "", Work(work::openness)),
    ("cladding.reservoir_unventilated", Says("its foot only"), "", Work(work::openness)),
    ("cladding.reservoir_unventilated", Unknown, "", Work(work::openness)),
    ("vapour.cold_tight_layer", Fault, "", Work(work::thicker)),
    // Water.
    ("base.near_ground", Fault, "", Work(work::raise_base)),
    ("base.runs_to_corner", Fault, "Open the low end", Say(At, "low_end open")),
    ("block.dams_gap", Says("water stands"), "Bevel its top by {limit}", Say(At, "bevel {limit}")),
    ("block.dams_gap", Says("leave"), "Leave {limit} at its sides", Number(At, "side_gap")),
    ("channel.ponds", Fault, "Drill a weep of {limit:weep.diameter} in the middle of every bay", Say(At, "holes weep {limit:weep.diameter}, leg floor, between furring")),
    ("channel.traps_debris", Fault, "Drill a weep of {limit:weep.diameter} in every bay", Say(At, "holes weep {limit:weep.diameter}, leg floor, between furring")),
    ("cladding.on_ledge", Either, "Hold the cladding {limit:clearance.flashing} up from it", Say(Other("the "), "holds_up {limit:clearance.flashing}")),
    ("drain.no_exit", Fault, "", Work(work::open_bottom)),
    ("furring.dams", Unknown, "", Fact(At, "vertical")),
    ("furring.dams", Unknown, "", Fact(At, "horizontal")),
    ("nailer.above_head", Says("gaps of"), "Leave gaps of {limit} at its ends", Number(At, "gaps")),
    ("nailer.above_head", Says("above the head"), "", Work(work::raise_nailer)),
    ("roof.no_kick_out", Says("without a kick-out"), "Add a kick-out {limit} high", Say(At, "kick_out {limit}")),
    ("roof.no_kick_out", Says("high"), "Make the kick-out {limit} high", Number(At, "kick_out")),
    ("roof.pours_on_wall", Either, "Add a gutter", Say(At, "gutter yes")),
    ("vent.faces_rain", Fault, "Turn the outlet down, under the soffit", Say(Other("how the gap ends"), "faces down")),
    ("weep.above_floor", Fault, "Move the holes into the floor", Work(work::into_floor)),
    ("weep.on_furring", Fault, "", Work(work::weeps_off_strips)),
    ("weep.too_small", Fault, "", Work(work::bore)),
];

/// What the list has for a finding.
pub(super) fn of(ask: &Ask<'_>) -> Vec<Mend> {
    let fits = |when: &When| match when {
        Fault => !ask.cannot_tell(),
        Unknown => ask.cannot_tell(),
        Either => true,
        Says(words) => ask.finding.message.contains(words),
    };
    let rows = MENDS.iter().filter(|(rule, when, ..)| *rule == ask.finding.rule && fits(when));
    rows.flat_map(|(_, _, title, how)| match how {
        Say(on, clause) => ask.say(*on, clause, title).into_iter().collect(),
        Number(on, clause) => ask.number(*on, clause, false, title).into_iter().collect(),
        LastNumber(on, clause) => ask.number(*on, clause, true, title).into_iter().collect(),
        Fact(on, clause) => ask.round(*on).map(|round| ask.facts(&round, clause)).unwrap_or_default(),
        Work(made) => made(ask),
    })
    .collect()
}
