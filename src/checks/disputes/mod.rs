//! Points on which the trade's sources disagree: a wall is held to the side that a rule set takes with `option`.

pub mod corner_baffle_not_as_ruled;
pub mod gap_top_not_as_ruled;
pub mod trim_joint_not_as_ruled;

use crate::checks::{CheckContext, Finding};
use crate::model::{DISPUTES, Limit};

/// The side taken by the rule sets in force; nothing where they leave it open.
pub fn side<'m>(context: &CheckContext<'m>, name: &str) -> Option<(&'m Limit, &'m str)> {
    let option = context.model.option(name)?;
    Some((option, option.word()?))
}

/// The line that tells who says what.
pub fn disagree(finding: Finding, name: &str) -> Finding {
    match DISPUTES.iter().find(|one| one.name == name) {
        Some(dispute) => finding.help(format!("{}; `option {name}` of a rule set takes a side", dispute.says)),
        None => finding,
    }
}
