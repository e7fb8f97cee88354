//! Weep holes in the face of a channel, above the water they should let out.

use super::told_by_drain;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Face, FaceId, HoleRow, Limit, Trim};
use crate::units::Length;

/// `weep.above_floor`
pub struct WeepAboveFloor;

static META: RuleMeta = RuleMeta {
    id: "weep.above_floor",
    catalogue: "DR-03",
    title: "weep holes lie above the floor of their channel",
    grade: Grade::S2,
    before: "H4",
    limits: &["weep.lip"],
    explain: "\
# What it checks
Each row `holes weep` through the face of a channel with a solid floor: the lower lip of its holes (`lip`) is no
higher above the floor than `weep.lip`.

# Why
Water stands in the channel as high as the lip. It freezes there, and reaches the ends of the cladding.

# Example
    trim foot channels.solid along base {
        holes weep 8mm, leg face, lip 10mm, between furring
    }

# Better
    trim foot channels.solid along base {
        holes weep 8mm, leg floor, between furring
    }

# Basis
Common practice: 1 to 2 mm at the most.

# Known gaps
Where these holes are the only way out, `drain.no_exit` tells it, and this rule is silent. A floor that is pierced
along its length drains without weeps.
",
};

impl Rule for WeepAboveFloor {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (index, face) in context.model.faces.iter().enumerate() {
            let id = FaceId(index as u32);
            for trim in face.trims.iter().filter(|trim| has_solid_floor(context, trim)) {
                let through_face = |row: &&HoleRow| row.purpose == "weep" && row.leg == Some("face");
                for row in trim.holes.iter().filter(through_face) {
                    if told_by_drain(context, id, &trim.along) {
                        continue;
                    }
                    let Some(limit) = context.length_limit(&META, "weep.lip", report) else { return };
                    report.extend(judge(context, (face, trim), row, limit));
                }
            }
        }
    }
}

fn has_solid_floor(context: &CheckContext<'_>, trim: &Trim) -> bool {
    context.model.product(trim.product).and_then(|product| product.floor).is_some_and(|(pierced, _)| !pierced)
}

fn judge(
    context: &CheckContext<'_>,
    (face, trim): (&Face, &Trim),
    row: &HoleRow,
    (limit, most): (&Limit, Length),
) -> Option<Finding> {
    let subject = format!("{}.{}", face.name, trim.name);
    let Some(lip) = row.lip else {
        let missing = format!("how high the lower lip of the weeps of `{}` is above its floor (`lip`)", trim.name);
        return Some(context.unknown(&META, subject, row.origin, missing));
    };
    if lip <= most {
        return None;
    }
    let message = format!(
        "the weeps of `{}` start {} above its floor: nothing leaves by them until water stands that deep, {} is the most",
        trim.name,
        context.shown(lip),
        context.shown(most)
    );
    let finding = context.fault(&META, subject, row.origin, message).against(limit);
    Some(
        finding
            .measured(context.measure(lip))
            .wanted(context.measure(most))
            .help("move the holes into the floor (`leg floor`), or down to its corner"),
    )
}
