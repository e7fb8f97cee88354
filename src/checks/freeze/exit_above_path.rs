//! Outlets that drip where people walk.

use crate::checks::trims::{Laid, judge_each};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Point;
use crate::layout::ground;
use crate::model::{Face, Limit};
use crate::units::Length;

/// `exit.above_path`
pub struct ExitAbovePath;

static META: RuleMeta = RuleMeta {
    id: "exit.above_path",
    catalogue: "FR-05",
    title: "an outlet drips on a path",
    grade: Grade::S3,
    before: "H7",
    limits: &["exit.from_path"],
    explain: "\
# What it checks
The open low end of each channel on a slope stays `exit.from_path` or more from doors of its face, from paving that is
`planned`, and from paved ground.

# Why
All that runs along the channel drips at one place, and what melts by day is a sheet of ice at night.

# Example
    ground at left -250mm, surface paved
    trim base_channel channels.raked along base, low_end open

# Better
    ground at left -250mm, surface gravel
    trim base_channel channels.raked along base, low_end open

# Basis
Common practice.

# Known gaps
Paths in front of the next face, and gutters, are not known: the hold-point sheet asks for them.
",
};

impl Rule for ExitAbovePath {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut trims = context.model.faces.iter().flat_map(|face| &face.trims);
        if !trims.any(|trim| trim.low_end == Some("open")) {
            return;
        }
        let Some((limit, least)) = context.length_limit(&META, "exit.from_path", report) else { return };
        report.extend(judge_each(context, |context, laid| judge(context, laid, (limit, least))));
    }
}

fn judge(context: &CheckContext<'_>, laid: &Laid<'_>, (limit, least): (&Limit, Length)) -> Option<Finding> {
    let slopes = laid.line.from.y != laid.line.to.y && !laid.line.is_vertical();
    if laid.trim.low_end != Some("open") || !slopes {
        return None;
    }
    let face = context.model.face(laid.face)?;
    let low = laid.line.lower_end();
    let Some((far, what)) = nearest(face, low) else {
        if face.ground.iter().any(|ground| ground.surface.is_some()) {
            return None;
        }
        let missing = format!("what the ground in front of `{}` is (`surface`)", face.name);
        return Some(context.unknown(&META, laid.subject.as_str(), laid.trim.origin, missing));
    };
    if far >= least {
        return None;
    }
    let how = if far == Length::ZERO { format!("onto {what}") } else { format!("{} from {what}", context.shown(far)) };
    let message = format!("the low end of `{}` drips {how}, {}", laid.trim.name, context.from_left(laid.face, low.x));
    let finding = context.fault(&META, laid.subject.as_str(), laid.trim.origin, message).against(limit);
    Some(
        finding
            .measured(context.measure(far))
            .wanted(context.measure(least))
            .help("lead it away, let the channel fall the other way, or drain every bay for itself"),
    )
}

/// How far the nearest door or paving of a face is from a place along it, and which it is.
fn nearest(face: &Face, low: Point) -> Option<(Length, String)> {
    let from = |left: Length, right: Length| (left - low.x).max(low.x - right).max(Length::ZERO);
    let doors = face.openings.iter().filter(|opening| opening.kind == "door" && opening.at.y + opening.height > low.y);
    let doors = doors.map(|door| (from(door.at.x, door.at.x + door.width), format!("the door `{}`", door.name)));
    let plans = face.ground.iter().flat_map(|ground| &ground.planned).zip(ground::planned(face));
    let plans = plans.filter(|(planned, _)| planned.what == "paving");
    let plans = plans.map(|(_, (left, right, _))| (from(left, right), "the paving that is planned".to_owned()));
    let paved = face.ground.iter().any(|ground| ground.surface == Some("paved"));
    let paved = paved.then(|| (Length::ZERO, "paved ground".to_owned()));
    doors.chain(plans).chain(paved).min()
}
