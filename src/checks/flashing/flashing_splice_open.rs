//! Lengths of flashing that meet without a lap.

use crate::checks::pieces::{Once, Piece, called, pieces, rigid};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::Limit;
use crate::units::Length;

/// `flashing.splice_open`
pub struct FlashingSpliceOpen;

static META: RuleMeta = RuleMeta {
    id: "flashing.splice_open",
    catalogue: "LA-13",
    title: "two lengths of a flashing meet in an open splice",
    grade: Grade::S2,
    before: "H4",
    limits: &["flashing.length", "flashing.splice"],
    explain: "\
# What it checks
Flashings, aprons and copings longer than can be folded in one piece say how two lengths meet: `splice`, a lap as
long as the rule set says, with something between them.

# Why
Metal moves with every cloud. A dry or short lap gapes and drips into the gap.

# Example
    part flashing flashings.aluminium_coil, splice 40mm

# Better
    part flashing flashings.aluminium_coil, splice 100mm with tapes.butyl

# Basis
100 to 150 mm with butyl between, or a splice plate over a membrane: trade article. Folded lengths of about
3 m: common practice.

# Known gaps
A `part splice` of the detail, a plate over a membrane, is taken as sound. Which way the laps look is not known:
the upper one, and the one upstream, lies outside.
",
};

impl Rule for FlashingSpliceOpen {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for piece in pieces(context) {
            let folded = matches!(piece.spec.kind, "flashing" | "apron" | "coping" | "cap");
            if !folded || !piece.lies() || !rigid(context.model, &piece.spec.stuff) {
                continue;
            }
            let Some(longest) = context.length_limit(&META, "flashing.length", report) else { return };
            let Some(splice) = context.length_limit(&META, "flashing.splice", report) else { return };
            if piece.segment.length() <= longest.1 || has_plate(context, &piece) {
                continue;
            }
            let finding = judge(context, &piece, longest.1, splice);
            report.extend(finding.filter(|_| once.first(&piece)).map(|finding| piece.on_wall(context, finding)));
        }
    }
}

/// A plate with a membrane under it, as a part of the same detail.
fn has_plate(context: &CheckContext<'_>, piece: &Piece<'_>) -> bool {
    piece.run.is_some_and(|run| context.plan.parts_of(run).any(|part| part.spec.kind == "splice"))
}

fn judge(context: &CheckContext<'_>, piece: &Piece<'_>, longest: Length, limit: (&Limit, Length)) -> Option<Finding> {
    let what = called(piece.spec);
    let (limit, least) = limit;
    let fault = |message: String| context.fault(&META, piece.name.clone(), piece.spec.origin, message).against(limit);
    match &piece.spec.splice {
        None => {
            let missing = format!(
                "`{what}` is {} long, folded in pieces of {} at most; how two of them meet is not said (`splice …`)",
                context.shown(piece.segment.length()),
                context.shown(longest)
            );
            Some(context.unknown(&META, piece.name.clone(), piece.spec.origin, missing))
        }
        Some((lap, _)) if *lap < least => {
            let message =
                format!("lengths of `{what}` lap by {}; {} is wanted", context.shown(*lap), context.shown(least));
            Some(fault(message).measured(context.measure(*lap)).wanted(context.measure(least)))
        }
        Some((_, None)) => {
            let finding = fault(format!("lengths of `{what}` lap with nothing between them"));
            Some(finding.help("bed the lap in butyl, or lay a membrane and a plate over it: `splice … with …`"))
        }
        Some((_, Some(_))) => None,
    }
}
