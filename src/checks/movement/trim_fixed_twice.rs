//! A length of trim that is held at two points and cannot slide.

use crate::checks::trims::{Laid, judge_each};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `trim.fixed_twice`
pub struct TrimFixedTwice;

static META: RuleMeta = RuleMeta {
    id: "trim.fixed_twice",
    catalogue: "MO-03",
    title: "a length of trim is held fast at two points",
    grade: Grade::S2,
    before: "H5",
    limits: &[],
    explain: "\
# What it checks
A trim of metal or plastic has no more fixed points than it has lengths: one each, and it slides everywhere else.
The number of lengths follows from the edge, the longest stock length and the lap.

# Why
What is held at both ends and warms up bows out between them (oil-canning), or pulls its fasteners.

# Example
    trim base_channel channels.two_part along base to 2400mm {
        fixed at left
        fixed at right
    }

# Better
    trim base_channel channels.two_part along base to 2400mm {
        fixed at centre
    }

# Basis
One fixed point for each length, slots everywhere else: common practice and trade articles.

# Known gaps
That each fixed point is on another length, and that the other holes are slots, is not looked at. Wood is left
out: it moves little along the grain. Trims inside details are not looked at.
",
};

impl Rule for TrimFixedTwice {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        report.extend(judge_each(context, judge));
    }
}

fn judge(context: &CheckContext<'_>, piece: &Laid<'_>) -> Option<Finding> {
    let trim = piece.trim;
    let unknown = |missing: String| Some(context.unknown(&META, piece.subject.clone(), trim.origin, missing));
    let Some(material) = piece.material else {
        return unknown(format!("material of `{}` is not said", piece.product.name));
    };
    if !matches!(material.kind, "metal" | "plastic") {
        return None;
    }
    if trim.fixed.is_empty() {
        return unknown(format!("the point where `{}` does not slide is not said (`fixed at`)", trim.name));
    }
    let points = i64::try_from(trim.fixed.len()).unwrap_or(i64::MAX);
    if points == 1 {
        return None;
    }
    let Some(lengths) = piece.lengths() else {
        return unknown(format!("stock length of `{}` is not said", piece.product.name));
    };
    if points <= lengths {
        return None;
    }
    let made_of = if lengths == 1 { "one length".to_owned() } else { format!("{lengths} lengths") };
    let message = format!("`{}` is held fast at {points} points, and it is {made_of}", trim.name);
    Some(
        context
            .fault(&META, piece.subject.clone(), trim.origin, message)
            .on_principle("common practice: one fixed point for each length", false)
            .help("keep one fixed point for each length, and slot all other holes so that it can move"),
    )
}
