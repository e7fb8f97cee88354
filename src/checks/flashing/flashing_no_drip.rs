//! A ledge whose water clings and runs back.

use super::ledges;
use crate::checks::pieces::{Once, Piece, called};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::Limit;
use crate::units::Length;

/// `flashing.no_drip`
pub struct FlashingNoDrip;

static META: RuleMeta = RuleMeta {
    id: "flashing.no_drip",
    catalogue: "DR-17",
    title: "a flashing has no drip that throws its water clear",
    grade: Grade::S2,
    before: "H4",
    limits: &["drip.down", "drip.out"],
    explain: "\
# What it checks
The outer edge of every ledge hangs down and stands off what is below, by the two lengths of the rule set.

# Why
Water clings to a straight edge and runs back along its underside into the gap or the trim below.

# Example
    part flashing aluminium 0.6mm {
        slope 6deg
        drip  5mm
    }

# Better
    part flashing aluminium 0.6mm {
        slope 6deg
        drip  12mm out 6mm
        hem   10mm
    }

# Basis
NBC 9.27.3.8.(4)(d) with the note of the Ontario code, public copy: 10 mm down, 5 mm off.

# Known gaps
A hem alone counts as no drip. Masonry sills want more (25 mm from the wall).
",
};

impl Rule for FlashingNoDrip {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for piece in ledges(context) {
            let finding = judge(context, &piece);
            report.extend(finding.filter(|_| once.first(&piece)).map(|finding| piece.on_wall(context, finding)));
        }
    }
}

fn judge(context: &CheckContext<'_>, piece: &Piece<'_>) -> Option<Finding> {
    let limit = |name: &str| context.limit(name).and_then(|limit| Some((limit, limit.length()?)));
    let unknown = |missing: String| Some(context.unknown(&META, piece.name.clone(), piece.spec.origin, missing));
    let (Some(down_limit), Some(out_limit)) = (limit("drip.down"), limit("drip.out")) else {
        return unknown("no rule set in force has limits `drip.down` and `drip.out`".to_owned());
    };
    let what = called(piece.spec);
    let Some((down, out)) = piece.spec.drip else {
        let message = format!("the outer edge of `{what}` has no drip");
        return Some(fault(context, piece, message, down_limit, out_limit.1).measured(context.measure(Length::ZERO)));
    };
    if down < down_limit.1 {
        let message = format!(
            "the drip of `{what}` hangs down {}; {} is wanted",
            context.shown(down),
            context.shown(down_limit.1)
        );
        return Some(fault(context, piece, message, down_limit, out_limit.1).measured(context.measure(down)));
    }
    match out {
        None => unknown(format!("how far the drip of `{what}` stands off is not said (`drip … out …`)")),
        Some(out) if out < out_limit.1 => {
            let message = format!(
                "the drip of `{what}` stands off {}; {} is wanted",
                context.shown(out),
                context.shown(out_limit.1)
            );
            let finding = fault(context, piece, message, down_limit, out_limit.1).against(out_limit.0);
            Some(finding.measured(context.measure(out)).wanted(context.measure(out_limit.1)))
        }
        Some(_) => None,
    }
}

fn fault(
    context: &CheckContext<'_>,
    piece: &Piece<'_>,
    message: String,
    down: (&Limit, Length),
    out: Length,
) -> Finding {
    context
        .fault(&META, piece.name.clone(), piece.spec.origin, message)
        .against(down.0)
        .wanted(context.measure(down.1))
        .help(format!("fold a kicked hem: down {}, out {}", context.shown(down.1), context.shown(out)))
}
