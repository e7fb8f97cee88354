//! A head flashing with the membrane behind it, untaped.

use super::{first_use, flashings, is_at_plane, rings};
use crate::checks::disputes::{disagree, side};
use crate::checks::pieces::Once;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Lap, Opening};
use crate::plan::{Part, Run};
use crate::units::Length;

/// `head.flashing_over_membrane`
pub struct HeadFlashingOverMembrane;

static META: RuleMeta = RuleMeta {
    id: "head.flashing_over_membrane",
    catalogue: "LA-03",
    title: "water on the membrane above a head runs behind its flashing",
    grade: Grade::S1,
    before: "H3",
    limits: &["flashing.upstand", "head_flashing.tape_lap"],
    explain: "\
# What it checks
The head flashing at the drainage plane either lies behind the membrane (`laps under water` by the upstand of
the rule set), or it is taped to it: `taped with`, or a sheet of the detail that `laps over flashing`. Tape
counts where a rule set in force has a limit `head_flashing.tape_lap`. Where the opening says `head
behind_membrane`, tape alone is not what was meant. `option head_flashing behind_membrane` or `taped` of a rule set in force
takes one of the two arrangements only.

# Why
Water that runs down the membrane meets the upper edge of the flashing. If the flashing lies on top, it slides
in behind.

# Example
    head {
        part flashing aluminium 0.6mm, upstand 75mm
    }

# Better
    head {
        part flashing aluminium 0.6mm {
            upstand 75mm
            laps    under water by 75mm
        }
    }

# Basis
NBC 9.27.3.8.(4)(a), public copy: 50 mm inboard of the membrane. A board of appeal in British Columbia (1965)
took a flashing taped to the outside; a rule set says whether that is so where you build.

# Known gaps
Whether the tape sticks to that membrane is another rule.
",
};

impl Rule for HeadFlashingOverMembrane {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for (_, _, opening, run, _) in rings(context, "head") {
            // A detail without any flashing is told by `head.wrong_arrangement`.
            let Some(part) = flashings(context, run).into_iter().find(|part| is_at_plane(part)) else { continue };
            let finding = judge(context, opening, run, part);
            report.extend(finding.filter(|_| first_use(&mut once, run, part)));
        }
    }
}

fn judge(context: &CheckContext<'_>, opening: &Opening, run: &Run, part: &Part) -> Option<Finding> {
    let unknown = |missing: String| {
        let finding = context.unknown(&META, part.name.clone(), part.spec.origin, missing);
        Some(context.on_run(finding, run, run.segment))
    };
    let Some((limit, least)) = context.limit("flashing.upstand").and_then(|limit| Some((limit, limit.length()?)))
    else {
        return unknown("no rule set in force has a limit `flashing.upstand`".to_owned());
    };
    let under = part.spec.laps.iter().find(|lap| lap.under && is_plane(lap));
    let fault = |message: String| {
        let finding = context.fault(&META, part.name.clone(), part.spec.origin, message).against(limit);
        let finding = finding.wanted(context.measure(least)).also(opening.origin, "the opening");
        Some(context.on_run(finding, run, run.segment))
    };
    let ruled = side(context, "head_flashing");
    match under.map(|lap| lap.by) {
        Some(_) if ruled.is_some_and(|(_, word)| word == "taped") => {
            let (option, _) = ruled?;
            let message = "the head flashing goes behind the membrane; it is to be taped to the outside".to_owned();
            fault(message).map(|finding| {
                let finding = finding.against(option).help("lay it on the membrane and tape its upper edge: `taped …`");
                disagree(Finding { limit: None, ..finding }, "head_flashing")
            })
        }
        Some(Some(by)) if by >= least => None,
        Some(Some(by)) => {
            let message = format!(
                "the membrane laps the head flashing by {}; {} is wanted",
                context.shown(by),
                context.shown(least)
            );
            fault(message).map(|finding| {
                finding
                    .measured(context.measure(by))
                    .help(format!("raise the upstand by {}", context.shown(least - by)))
            })
        }
        Some(None) => {
            unknown("how far the head flashing laps under the membrane is not said (`laps under water by …`)".into())
        }
        None if opening.head == Some("behind_membrane") => fault(format!(
            "`{}` says `head behind_membrane`, but its flashing does not lap under the membrane",
            opening.name
        ))
        .map(|finding| {
            finding.help("slit the membrane, slide the upstand in, and close the slit: `laps under water by …`")
        }),
        None if is_taped(context, run, part) => match ruled {
            Some((option, "behind_membrane")) => {
                let message = "the head flashing is taped to the outside; it is to go behind the membrane".to_owned();
                fault(message).map(|finding| {
                    let finding = finding.against(option);
                    let finding = finding.help(format!("lap it under the membrane by {}", context.shown(least)));
                    disagree(finding, "head_flashing")
                })
            }
            _ => taped(context, part, run),
        },
        None => fault("the head flashing lies on the membrane, untaped".to_owned()).map(|finding| {
            finding.help(format!("lap it under the membrane by {}, or tape its upper edge", context.shown(least)))
        }),
    }
}

/// A taped head: only a rule set can say whether that is accepted.
fn taped(context: &CheckContext<'_>, part: &Part, run: &Run) -> Option<Finding> {
    if context.limit("head_flashing.tape_lap").and_then(|limit| limit.length()).is_some_and(|lap| lap > Length::ZERO) {
        return None;
    }
    let missing =
        "no rule set in force says whether a head flashing may be taped to the outside (`head_flashing.tape_lap`)";
    let finding = context.unknown(&META, part.name.clone(), part.spec.origin, missing);
    Some(context.on_run(finding, run, run.segment))
}

fn is_plane(lap: &Lap) -> bool {
    matches!(lap.what, "water" | "membrane" | "air" | "flap" | "upper")
}

/// Tape of its own, or a sheet that lies over its upper edge.
fn is_taped(context: &CheckContext<'_>, run: &Run, flashing: &Part) -> bool {
    let over = |part: &Part| {
        matches!(part.spec.kind, "flap" | "tape" | "membrane")
            && part.spec.laps.iter().any(|lap| !lap.under && lap.what == "flashing")
    };
    flashing.spec.taped.is_some() || context.plan.parts_of(run).any(over)
}
