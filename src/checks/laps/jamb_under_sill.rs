//! Jamb strips that run down behind the sill pan.

use super::rings;
use crate::checks::pieces::{Once, called, rigid};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{FaceId, Opening};
use crate::plan::{Part, Run};

/// `jamb.under_sill`
pub struct JambUnderSill;

static META: RuleMeta = RuleMeta {
    id: "jamb.under_sill",
    catalogue: "LA-07",
    title: "the jamb strip lies behind the sill pan",
    grade: Grade::S1,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
The membrane beside an opening laps over the pan below it: the jamb says `laps over sill`, or the pan says `laps
under jamb`, and neither says the reverse.

# Why
Water on the jamb runs down. If the strip goes behind the pan, so does the water.

# Example
    jamb {
        part membrane membranes.self_adhered, laps under sill by 100mm
    }

# Better
    jamb {
        part membrane membranes.self_adhered, laps over sill by 100mm
    }

# Basis
Window standards and government guidance agree: sill, then jamb, then head. No clause was read, so it warns.

# Known gaps
Jambs without a membrane, and sills without a pan, have no such lap and are not judged.
",
};

impl Rule for JambUnderSill {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        let sills = rings(context, "sill");
        for (face, _, opening, run, _) in rings(context, "jamb") {
            let below =
                |&&(id, _, other, _, _): &&(FaceId, _, &Opening, &Run, _)| id == face && std::ptr::eq(other, opening);
            let Some((_, _, _, sill, _)) = sills.iter().find(below) else { continue };
            let pan = context.plan.parts_of(sill).find(|part| part.spec.kind == "pan");
            let sheet =
                |part: &&Part| matches!(part.spec.kind, "membrane" | "flap") && !rigid(context.model, &part.spec.stuff);
            let strip = context.plan.parts_of(run).find(sheet);
            let (Some(pan), Some(strip)) = (pan, strip) else { continue };
            let finding = judge(context, opening, strip, pan).filter(|_| super::first_use(&mut once, run, strip));
            report.extend(finding.map(|finding| context.on_run(finding, run, run.segment)));
        }
    }
}

/// What a part says of its lap with one of these neighbours: it lies under, or over.
fn lies_under(part: &Part, what: &[&str]) -> Option<bool> {
    part.spec.laps.iter().find(|lap| what.contains(&lap.what)).map(|lap| lap.under)
}

fn judge(context: &CheckContext<'_>, opening: &Opening, strip: &Part, pan: &Part) -> Option<Finding> {
    let strip_under = lies_under(strip, &["sill", "pan"]);
    let pan_over = lies_under(pan, &["jamb", "membrane"]).map(|under| !under);
    let (at, name) = match (strip_under, pan_over) {
        (Some(true), _) => (strip.spec.origin, &strip.name),
        (_, Some(true)) => (pan.spec.origin, &pan.name),
        (None, None) => {
            let missing = format!(
                "whether `{}` laps over `{}` is not said (`laps over sill by …`)",
                called(&strip.spec),
                called(&pan.spec)
            );
            return Some(context.unknown(&META, strip.name.clone(), strip.spec.origin, missing));
        }
        _ => return None,
    };
    let message = format!(
        "beside `{}` the jamb strip `{}` lies behind `{}`: water on the jamb runs in behind the pan",
        opening.name,
        called(&strip.spec),
        called(&pan.spec)
    );
    let finding = context
        .fault(&META, name.clone(), at, message)
        .on_principle("window standards and guides: sill, then jamb, then head; the clause was not read", false)
        .also(opening.origin, "used here");
    Some(
        finding
            .help("lay the pan first and the strip over its end dams: `laps over sill by …`, `laps under jamb by …`"),
    )
}
