//! A channel on a slope that carries its water along and keeps it at the low end.

use super::told_by_drain;
use crate::checks::pieces::{faces, runs_beside_trims};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Segment;
use crate::layout::holes;
use crate::model::{FaceId, Limit, Trim};

/// `base.runs_to_corner`
pub struct BaseRunsToCorner;

static META: RuleMeta = RuleMeta {
    id: "base.runs_to_corner",
    catalogue: "DR-04",
    title: "a channel on a slope keeps its water at the low end",
    grade: Grade::S1,
    before: "H4",
    limits: &["sloped_trim.drip_clear"],
    explain: "\
# What it checks
A channel along a sloping edge is not closed at its low end: `low_end open`, or `low_end dammed` where the water
leaves before it.

# Why
A sloping channel is a gutter. What does not leave through its floor runs to the low corner; closed there, it pours
into the next wall or behind the corner post.

# Example
    trim base_channel channels.raked along base, low_end closed

# Better
    trim base_channel channels.raked along base, low_end open

# Basis
Common practice: an open outlet, a dam on the side of the wall, a drip clear of the wall below.

# Known gaps
Where the water of a bay has no other way out, `drain.no_exit` tells it, and this rule is silent. Where the drip of
the low end lands is not known; dams of flashings are judged by `flashing.no_end_dam`.
",
};

impl Rule for BaseRunsToCorner {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            let runs = runs_beside_trims(context, id, face);
            for trim in &face.trims {
                let line = holes::trim_line(face, &runs, trim).filter(|line| !line.is_vertical());
                let slopes = line.filter(|line| line.from.y != line.to.y);
                let Some(line) = slopes.filter(|_| is_channel(context, trim)) else { continue };
                if trim.low_end != Some("open") && !told_by_drain(context, id, &trim.along) {
                    report.extend(judge(context, (id, &face.name), trim, line));
                }
            }
        }
    }
}

fn is_channel(context: &CheckContext<'_>, trim: &Trim) -> bool {
    context.model.product(trim.product).is_some_and(|product| product.kind == "channel" || product.floor.is_some())
}

fn judge(context: &CheckContext<'_>, (id, face): (FaceId, &str), trim: &Trim, line: Segment) -> Option<Finding> {
    let limit = context.limit("sloped_trim.drip_clear");
    let subject = format!("{face}.{}", trim.name);
    let low = line.lower_end();
    let finding = match trim.low_end {
        None => {
            let missing = format!("whether the low end of `{}` is open (`low_end`)", trim.name);
            context.unknown(&META, subject, trim.origin, missing)
        }
        Some("closed") => {
            let message = format!(
                "`{}` slopes and is closed at its low end, {}: what runs along it stays there",
                trim.name,
                context.from_left(id, low.x)
            );
            let finding = context.fault(&META, subject, trim.origin, message);
            let finding = match limit {
                Some(limit) => finding.against(limit),
                None => finding,
            };
            finding.help(match limit.and_then(Limit::length) {
                Some(clear) => format!(
                    "open the low end (`low_end open`), turn a dam to the wall, and let it drip {} clear of the wall below",
                    context.shown(clear)
                ),
                None => "open the low end (`low_end open`) and turn a dam to the wall".to_owned(),
            })
        }
        Some(_) => return None,
    };
    Some(context.on_face(finding, id, &trim.name, low, low))
}
