//! Weep holes that land on a furring strip.

use crate::checks::{CheckContext, Finding, Grade, Remedy, Rule, RuleMeta};
use crate::layout::holes::{self, Hole};
use crate::layout::weeps;
use crate::model::{Face, FaceId, HoleRow, Limit, Trim};
use crate::units::Length;

/// `weep.on_furring`
pub struct WeepOnFurring;

static META: RuleMeta = RuleMeta {
    id: "weep.on_furring",
    catalogue: "DR-05",
    title: "weep holes land on furring",
    grade: Grade::S2,
    before: "H4",
    limits: &["weep.clear"],
    explain: "\
# What it checks
Each hole of a row `holes weep` against the furring strips above it: its edge stays clear of every strip by `weep.clear`.

# Why
Holes at a spacing of their own meet furring at a spacing of its own. A hole that lands on a strip drains nothing, and the
bay beside it may have none.

# Example
    trim foot channels.two_part along base {
        holes weep 8mm, leg floor, every 400mm on centre, first 400mm
    }

# Better
    trim foot channels.two_part along base {
        holes weep 8mm, leg floor, between furring
    }

# Basis
Common practice: holes for fasteners on the strips, holes for water between them, both from the furring layout.

# Known gaps
Strips are taken as drawn; a strip that was moved on site is not known.
",
};

impl Rule for WeepOnFurring {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let rows = context.model.faces.iter().flat_map(|face| &face.trims).flat_map(|trim| &trim.holes);
        if !rows.into_iter().any(|row| row.purpose == "weep") {
            return;
        }
        let Some((limit, clear)) = context.length_limit(&META, "weep.clear", report) else { return };
        for (index, face) in context.model.faces.iter().enumerate() {
            let id = FaceId(index as u32);
            for trim in &face.trims {
                for row in trim.holes.iter().filter(|row| row.purpose == "weep") {
                    report.extend(judge(context, (id, face), trim, row, (limit, clear)));
                }
            }
        }
    }
}

fn judge(
    context: &CheckContext<'_>,
    (id, face): (FaceId, &Face),
    trim: &Trim,
    row: &HoleRow,
    (limit, clear): (&Limit, Length),
) -> Option<Finding> {
    let subject = format!("{}.{}", face.name, trim.name);
    let holes = match holes::holes(context.model, context.plan, id, trim, row) {
        Ok(holes) => holes,
        Err(missing) => return Some(context.unknown(&META, subject, row.origin, missing)),
    };
    let strips = weeps::strips_over(context.plan, id, face, trim);
    let near = |hole: &&Hole| weeps::clearance(&strips, hole.at.x, row).is_some_and(|left| left < clear);
    let on: Vec<&Hole> = holes.iter().filter(near).collect();
    let (first, last) = (on.first()?, on.last()?);
    let worst = on.iter().filter_map(|hole| weeps::clearance(&strips, hole.at.x, row)).min()?;
    let what = if worst < Length::ZERO { "on a strip" } else { "too near a strip" };
    let message = format!(
        "{} of {} weep holes of `{}` land {what}, the first {} from its left end",
        on.len(),
        holes.len(),
        trim.name,
        context.shown(first.along)
    );
    let finding = context
        .fault(&META, subject, row.origin, message)
        .against(limit)
        .measured(context.measure(worst))
        .wanted(context.measure(clear))
        .help("let each hole find the middle of its bay: `between furring`");
    let finding = match weeps::shift(&strips, &holes, row, clear) {
        Some(by) => {
            finding.advise(format!("or shift the pattern {} to the right", context.shown(by)), Remedy::ShiftRow(by))
        }
        None => finding,
    };
    Some(context.on_face(finding, id, &trim.name, first.at, last.at))
}
