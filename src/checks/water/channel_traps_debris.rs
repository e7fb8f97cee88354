//! Channels on hardly any slope that keep needles and dust wet.

use super::told_by_drain;
use crate::checks::trims::{Laid, judge_each};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::Limit;
use crate::units::{Length, display};

/// `channel.traps_debris`
pub struct ChannelTrapsDebris;

static META: RuleMeta = RuleMeta {
    id: "channel.traps_debris",
    catalogue: "CO-09",
    title: "a channel keeps needles and dust wet",
    grade: Grade::S3,
    before: "H4",
    limits: &["channel.debris_width", "channel.self_cleaning"],
    explain: "\
# What it checks
Each lying channel that is wider than `channel.debris_width` and whose floor is solid: it has a weep in every bay
(`between furring`), or it falls by `channel.self_cleaning` or more to an open end.

# Why
Needles, dust and water pack a channel that is open at its top, and the metal never dries.

# Example
    trim foot_channel channels.solid along base, low_end open

# Better
    trim foot_channel channels.solid along base, low_end open {
        holes weep 8mm, leg floor, between furring
    }

# Basis
Common practice: self-cleaning by slope, or pierced in every bay.

# Known gaps
Where the water of a bay has no way out at all, `drain.no_exit` tells it, and this rule is silent. Upward legs of flashings are
not looked at.
",
};

impl Rule for ChannelTrapsDebris {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        if context.model.faces.iter().all(|face| face.trims.is_empty()) {
            return;
        }
        let Some((_, widest)) = context.length_limit(&META, "channel.debris_width", report) else { return };
        let Some((limit, least)) = context.slope_limit(&META, "channel.self_cleaning", report) else { return };
        report.extend(judge_each(context, |context, laid| judge(context, laid, widest, (limit, least))));
    }
}

fn judge(
    context: &CheckContext<'_>,
    laid: &Laid<'_>,
    widest: Length,
    (limit, least): (&Limit, f64),
) -> Option<Finding> {
    let channel = laid.product.kind == "channel" && !laid.line.is_vertical();
    let (pierced, _) = laid.product.floor.filter(|_| channel)?;
    let weeps = || laid.trim.holes.iter().filter(|row| row.purpose == "weep");
    if pierced || weeps().any(|row| row.between.is_some()) || told_by_drain(context, laid.face, &laid.trim.along) {
        return None;
    }
    let run = (laid.line.to.x - laid.line.from.x).as_m().abs();
    let slope = (laid.line.to.y - laid.line.from.y).as_m().abs() / run.max(f64::MIN_POSITIVE);
    if slope >= least {
        return None;
    }
    let Some(width) = laid.product.depth else {
        let missing = format!("how wide `{}` is (`depth` of `{}`)", laid.trim.name, laid.product.name);
        return Some(context.unknown(&META, laid.subject.as_str(), laid.trim.origin, missing));
    };
    if width <= widest {
        return None;
    }
    let fall =
        if slope > 0.0 { format!("falls only {}", display::slope_percent(slope)) } else { "is level".to_owned() };
    let message = format!(
        "`{}`, {} wide with a solid floor, {fall}, and not every bay has a weep in it: needles stay and keep it wet",
        laid.trim.name,
        context.shown(width)
    );
    let finding = context.fault(&META, laid.subject.as_str(), laid.trim.origin, message).against(limit);
    Some(
        finding.measured(context.slope_measure(slope)).wanted(context.slope_measure(least)).help(
            "drill a weep in every bay (`holes weep 8mm, leg floor, between furring`), or choose a pierced floor",
        ),
    )
}
