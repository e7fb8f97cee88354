//! A sheet that laps the wrong way.

use super::water_sheets;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `membrane.reversed_lap`
pub struct MembraneReversedLap;

static META: RuleMeta = RuleMeta {
    id: "membrane.reversed_lap",
    catalogue: "LA-01",
    title: "the lower sheet of the drainage plane lies over the upper one",
    grade: Grade::S1,
    before: "H3",
    limits: &["membrane.lap"],
    explain: "\
# What it checks
At the level laps of a sheet that `controls water`, the upper sheet lies outboard of the lower one.

# Why
Water on the upper sheet runs behind the lower one, at every lap of the wall, onto the sheathing.

# Example
    layer membrane membranes.vapour_open, controls water, lap 100mm, lapped lower_over_upper

# Better
    layer membrane membranes.vapour_open, controls water, lap 100mm, lapped upper_over_lower

# Basis
NBC 9.27.3.3 as read in the Ontario text on a public code site: upper over lower. Where a lap is given without
its order, that order is taken.

# Known gaps
Only the sheets of layers are judged; strips of details have their own laps. A single sheet over the whole
height has no lap.
",
};

impl Rule for MembraneReversedLap {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (subject, wall, layer) in water_sheets(context) {
            let subject = format!("{subject}.{}", layer.name);
            match (layer.lapped, layer.lap) {
                (Some("lower_over_upper"), _) => {
                    let message =
                        format!("the lower sheet of `{}` lies over the upper one: water runs in behind it", layer.name);
                    let finding = context
                        .fault(&META, subject, layer.origin, message)
                        .help("turn the lap over; where it is already on the wall, slit the upper sheet and tuck the lower one under")
                        .path(vec![format!("upper sheet of `{}`", wall.label), "lower sheet".into(), "sheathing".into()]);
                    report.push(match context.limit("membrane.lap") {
                        Some(limit) => finding.against(limit),
                        None => finding,
                    });
                }
                (None, None) => {
                    let missing =
                        format!("neither length nor order of the laps of `{}` is said (`lap`, `lapped`)", layer.name);
                    report.push(context.unknown(&META, subject, layer.origin, missing));
                }
                _ => {}
            }
        }
    }
}
