//! Head flashings that do not suit where the trims lie.

use super::{first_use, flashings, is_at_plane, rings};
use crate::checks::pieces::Once;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::Opening;
use crate::plan::Run;

/// `head.wrong_arrangement`
pub struct HeadWrongArrangement;

static META: RuleMeta = RuleMeta {
    id: "head.wrong_arrangement",
    catalogue: "LA-04",
    title: "the head flashings do not suit where the trims lie",
    grade: Grade::S2,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
(a) Trims on the plane: a flashing over the trim, at the plane, behind the membrane. (b) Trims on furring: two
flashings, one over the frame at the plane, one over the trim at the furring. (c) Trims on the cladding: a
flashing over the frame, at the plane.

# Why
A flashing on the furring alone sheds what runs down the cladding; what runs down in the gap passes behind it,
onto the frame.

# Example
    window kitchen frame 4ft x 5ft at (6ft, 3ft), detail one_flashing, trims 89mm on furring

# Better
    window kitchen frame 4ft x 5ft at (6ft, 3ft), detail two_flashings, trims 89mm on furring

# Basis
Practitioners' rule (common practice), in line with a flashing wherever the gap is interrupted (NBC 9.27.3.8,
public copy).

# Known gaps
A head under a deep eave, which the code lets go without flashing, is judged like any other.
",
};

impl Rule for HeadWrongArrangement {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        let mut bare = std::collections::BTreeSet::new();
        for (id, _, opening, run, place) in rings(context, "head") {
            // Sealant in place of the flashing is told by `joint.caulk_only`.
            if super::joint_caulk_only::bead(context, run).is_some() {
                continue;
            }
            let parts: Vec<_> = context.plan.parts_of(run).collect();
            let finding = judge(context, opening, run);
            // One message for a detail that a face uses the same way on many openings.
            let first = match parts.first() {
                Some(part) => first_use(&mut once, run, part),
                None => bare.insert((id, place.origin)),
            };
            report.extend(finding.filter(|_| first));
        }
    }
}

fn judge(context: &CheckContext<'_>, opening: &Opening, run: &Run) -> Option<Finding> {
    let Some((_, on)) = opening.trims else {
        let missing = format!("what the trims of `{}` lie on is not said (`trims … on …`)", opening.name);
        let finding = context.unknown(&META, run.name.clone(), opening.origin, missing);
        return Some(context.on_run(finding, run, run.segment));
    };
    let found = flashings(context, run);
    let at_plane = found.iter().any(|part| is_at_plane(part));
    let on_furring = found.iter().any(|part| part.spec.on == Some("furring"));
    let (letter, missing) = match on {
        "plane" if !at_plane => ("a", "a flashing over the trim, at the plane, behind the membrane"),
        "furring" if !at_plane && !on_furring => {
            ("b", "both flashings: one over the frame at the plane, one over the trim")
        }
        "furring" if !at_plane => ("b", "the flashing over the frame, back to the plane"),
        "furring" if !on_furring => ("b", "the flashing over the trim, at the furring"),
        "cladding" if !at_plane => ("c", "the flashing over the frame, at the plane, below the trim"),
        _ => return None,
    };
    let message = format!("trims of `{}` lie on the {on} ({letter}): its head lacks {missing}", opening.name);
    let finding = context
        .fault(&META, run.name.clone(), opening.origin, message)
        .on_principle("practitioners' rule, common practice; NBC 9.27.3.8, public copy", false)
        .help(format!("add {missing}, or lay the trims on another surface"));
    let finding = match crate::checks::pieces::detail(context, run) {
        Some(detail) => finding.also(detail.origin, "the detail of its head"),
        None => finding,
    };
    Some(context.on_run(finding, run, run.segment))
}
