//! A ledge that falls to the wall, or too little.

use super::ledges;
use crate::checks::pieces::{Once, Piece, called, pieces};
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::model::Limit;
use crate::units::display;

/// `flashing.flat`
pub struct FlashingFlat;

static META: RuleMeta = RuleMeta {
    id: "flashing.flat",
    catalogue: "DR-16",
    title: "a flashing falls too little to the outside",
    grade: Grade::S1,
    before: "H4",
    limits: &["flashing.slope", "sill.slope"],
    explain: "\
# What it checks
Every ledge (flashing, cap, apron, sill, coping, pan) must fall to the outside by the slope of the rule set, as it
is bent. What is left of it when the frame has dried is a rule of its own.

# Why
Water that stands on a ledge looks for the splice and the screw, and goes in there.

# Example
    part flashing aluminium 0.6mm {
        slope 2%
    }

# Better
    part flashing aluminium 0.6mm {
        slope 6deg
    }

# Basis
NBC 9.27.3.8.(4)(b), public copy: 6 % to the outside. A pan: the installation standard for windows.

# Known gaps
What is not said to be a ledge is not looked at.
",
};

impl Rule for FlashingFlat {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        let pans = pieces(context).into_iter().filter(|piece| piece.spec.kind == "pan" && piece.lies());
        for piece in ledges(context).into_iter().chain(pans) {
            let finding = judge(context, &piece);
            report.extend(finding.filter(|_| once.first(&piece)).map(|finding| piece.on_wall(context, finding)));
        }
    }
}

fn judge(context: &CheckContext<'_>, piece: &Piece<'_>) -> Option<Finding> {
    let what = called(piece.spec);
    let unknown = |missing: String| Some(context.unknown(&META, piece.name.clone(), piece.spec.origin, missing));
    let name = if piece.spec.kind == "pan" { "sill.slope" } else { "flashing.slope" };
    let Some((limit, wanted)) = context.limit(name).and_then(|limit| Some((limit, limit.slope()?))) else {
        return unknown(format!("no rule set in force has a limit `{name}`"));
    };
    let Some(built) = piece.spec.slope else {
        return unknown(format!("slope of `{what}` is not said"));
    };
    (built < wanted).then(|| too_flat(context, piece, built, limit, wanted))
}

fn too_flat(context: &CheckContext<'_>, piece: &Piece<'_>, slope: f64, limit: &Limit, wanted: f64) -> Finding {
    let shown = display::slope_percent(slope);
    let how = match slope {
        slope if slope < 0.0 => format!("falls {} to the wall", display::slope_percent(-slope)),
        0.0 => "is flat".to_owned(),
        _ => format!("falls only {shown} to the outside"),
    };
    let message = format!("`{}` {how}; {} is wanted", called(piece.spec), display::slope_percent(wanted));
    let measure = |value: f64| Measure { value: Some(value), shown: display::slope_percent(value) };
    context
        .fault(&META, piece.name.clone(), piece.spec.origin, message)
        .against(limit)
        .measured(measure(slope))
        .wanted(measure(wanted))
        .help(format!("bend it, or pack its inner edge, to `slope {}` or more", display::slope_percent(wanted)))
}
