//! Holes drilled over a finished face.

use crate::checks::trims::{Laid, judge_each};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `trim.drilled_in_place`
pub struct TrimDrilledInPlace;

static META: RuleMeta = RuleMeta {
    id: "trim.drilled_in_place",
    catalogue: "CO-11",
    title: "holes are drilled in place, and their filings rust on the finish",
    grade: Grade::S4,
    before: "H4",
    limits: &[],
    explain: "\
# What it checks
Holes in coated metal trims that say `drilled in_place`. It can always tell.

# Why
Filings lie on the paint and rust into it overnight; steel filings on aluminium eat holes.

# Example
    holes weep 8mm, leg floor, between furring, drilled in_place

# Better
    holes weep 8mm, leg floor, between furring, drilled bench

# Basis
Common practice: clean the same day. It warns.

# Known gaps
Holes that do not say where they are drilled are not asked: brushing off and washing is a line of hold point H4.
",
};

impl Rule for TrimDrilledInPlace {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        report.extend(judge_each(context, judge));
    }
}

fn judge(context: &CheckContext<'_>, laid: &Laid<'_>) -> Option<Finding> {
    let metal = laid.material.is_some_and(|material| material.kind == "metal");
    let coated = matches!(laid.product.finish, Some("painted" | "anodised" | "coated" | "hot_dip"));
    let row = laid.trim.holes.iter().find(|row| row.drilled == Some("in_place")).filter(|_| metal && coated)?;
    let message = format!("the {} holes of `{}` are drilled in place, over its finish", row.purpose, laid.trim.name);
    let finding = context.fault(&META, laid.subject.as_str(), row.origin, message);
    Some(
        finding
            .on_principle("common practice: filings are off the finish the same day", false)
            .help("drill on the bench (`drilled bench`); or brush off, and wash the same day"),
    )
}
