//! A trim that takes two lengths and says nothing of their joint.

use crate::checks::trims::{Laid, judge_each};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `trim.longer_than_stock`
pub struct TrimLongerThanStock;

static META: RuleMeta = RuleMeta {
    id: "trim.longer_than_stock",
    catalogue: "BL-12",
    title: "a trim is longer than its stock and has no joint",
    grade: Grade::S3,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
A trim along an edge that is longer than the longest length its product is sold in says how two lengths lap.

# Why
A joint that nobody drew is improvised on the lift: butted, caulked, and open by the first winter.

# Example
    trim base_channel channels.two_part along base {      // 4800 mm, sold in 3050 mm
        gap 6mm
    }

# Better
    trim base_channel channels.two_part along base {
        gap 6mm
        lap 50mm
    }

# Basis
The lengths the product is sold in; common practice.

# Known gaps
Trims inside details and boards of the cladding are not looked at. Where the joint falls is the crew's choice.
",
};

impl Rule for TrimLongerThanStock {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        report.extend(judge_each(context, judge));
    }
}

fn judge(context: &CheckContext<'_>, piece: &Laid<'_>) -> Option<Finding> {
    let trim = piece.trim;
    if trim.lap.is_some() {
        return None;
    }
    let Some(stock) = piece.stock() else {
        let missing = format!("stock length of `{}` is not said", piece.product.name);
        return Some(context.unknown(&META, piece.subject.clone(), trim.origin, missing));
    };
    let length = piece.line.length();
    if length <= stock {
        return None;
    }
    let message = format!(
        "`{}` is {} long and comes in {}: how two lengths meet is not said",
        trim.name,
        context.shown(length),
        context.shown(stock)
    );
    Some(
        context
            .fault(&META, piece.subject.clone(), trim.origin, message)
            .on_principle("common practice: every joint is drawn", false)
            .measured(context.measure(length))
            .wanted(context.measure(stock))
            .help("say `lap`, or order a longer length"),
    )
}
