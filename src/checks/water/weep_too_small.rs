//! Weep holes in which a film of water stays.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Face, HoleRow, Limit, Trim};
use crate::units::Length;

/// `weep.too_small`
pub struct WeepTooSmall;

static META: RuleMeta = RuleMeta {
    id: "weep.too_small",
    catalogue: "DR-02",
    title: "weep holes are too small to drain",
    grade: Grade::S2,
    before: "H4",
    limits: &["weep.diameter", "weep.slot_width", "weep.slot_length"],
    explain: "\
# What it checks
Each row `holes weep`: a round hole against `weep.diameter`; the short side of a slot against `weep.slot_width`,
its long side against `weep.slot_length`.

# Why
A hole of 3 to 5 mm holds a film of water, and paint and dust close the rest.

# Example
    trim foot channels.solid along base {
        holes weep 4mm, leg floor, between furring
    }

# Better
    trim foot channels.solid along base {
        holes weep 8mm, leg floor, between furring
    }

# Basis
Common practice, not law: 8 mm round, or a slot of 5 x 20 mm. A masonry code allows 4.8 mm every 838 mm.

# Known gaps
It can always tell: a row gives the size of its holes. What paint takes off a hole is not counted. Air is judged
by `vent.too_small`.
",
};

impl Rule for WeepTooSmall {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for face in &context.model.faces {
            for trim in &face.trims {
                for row in trim.holes.iter().filter(|row| row.purpose == "weep") {
                    judge(context, (face, trim), row, report);
                }
            }
        }
    }
}

/// One message a row: the first of its sides that is too small.
fn judge(context: &CheckContext<'_>, (face, trim): (&Face, &Trim), row: &HoleRow, report: &mut Vec<Finding>) {
    let sides = match row.slot {
        None => vec![("weep.diameter", "holes", "wide", row.height)],
        Some(slot) => vec![
            ("weep.slot_width", "slots", "high", row.height.min(slot)),
            ("weep.slot_length", "slots", "long", row.height.max(slot)),
        ],
    };
    for (name, what, side, size) in sides {
        let Some((limit, least)) = context.length_limit(&META, name, report) else { return };
        if size < least {
            report.push(found(context, (face, trim), row, (what, side, size), (limit, least)));
            return;
        }
    }
}

fn found(
    context: &CheckContext<'_>,
    (face, trim): (&Face, &Trim),
    row: &HoleRow,
    (what, side, size): (&str, &str, Length),
    (limit, least): (&Limit, Length),
) -> Finding {
    let message = format!(
        "weep {what} of `{}` are {} {side}: a film of water stays in them, {} is wanted",
        trim.name,
        context.shown(size),
        context.shown(least)
    );
    context
        .fault(&META, format!("{}.{}", face.name, trim.name), row.origin, message)
        .against(limit)
        .measured(context.measure(size))
        .wanted(context.measure(least))
        .help(format!("drill or slot to {} or more, take off the burr, and keep paint out", context.shown(least)))
}
