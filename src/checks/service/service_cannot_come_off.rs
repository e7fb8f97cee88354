//! A fixture that cannot be changed without cutting what covers it.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::{Crossing, removals};

/// `service.cannot_come_off`
pub struct ServiceCannotComeOff;

static META: RuleMeta = RuleMeta {
    id: "service.cannot_come_off",
    catalogue: "SV-01",
    title: "a fixture cannot come off without cutting what covers it",
    grade: Grade::S3,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
The way out of every service, worked out from the parts that cover it. It runs in a sleeve, so that it is drawn
and its seal stays; or the part that seals it lies behind a block that is removable. It does not end behind the
cladding. And its `removal` does not take off a block that does not come off. Boxes and lamps come forward, and
their box stays.

# Why
Changing a lamp or a tap must not mean cutting boards, or leaving a torn collar behind them.

# Example
    pipe drain 32mm at (600mm, 500mm), detail unsleeved, seal collar

# Better
    pipe drain 32mm at (600mm, 500mm), detail unsleeved, sleeve 40mm, seal collar

# Basis
Common practice: a removable cover or block.

# Known gaps
Screws behind screws are not followed, and of the steps in `removal` only the word for the block is read.
Boxes that lie hidden are told by `service.hidden`.
",
};

impl Rule for ServiceCannotComeOff {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for way in removals(context.model, context.plan) {
            let Some(face) = context.model.face(way.face) else { continue };
            let Some(service) = face.services.get(way.service) else { continue };
            let fault = |message: String, advice: String| {
                context
                    .fault(&META, face.dotted(service), service.origin, message)
                    .on_principle("common practice: what is served comes off", false)
                    .help(advice)
                    .path(way.steps.clone())
            };
            let name = &service.name;
            let finding = match (&way.crosses, &way.untold) {
                (Some(Crossing::EndsBehind(cover)), _) => fault(
                    format!("`{name}` ends behind {cover}, and cannot come out past it"),
                    "carry it past the cladding, or set it on a removable block".to_owned(),
                ),
                (Some(Crossing::SealBehind(seal, cover)), _) => fault(
                    format!("`{name}` comes out only with its {seal}, which lies behind {cover}"),
                    "run it in a sleeve that stays, or set it on a removable block".to_owned(),
                ),
                (Some(Crossing::StaysOn(block)), _) => fault(
                    format!("the steps of `{name}` take {block} off, and it is not said to be removable"),
                    "make the block `removable`, or write the steps that leave it on".to_owned(),
                ),
                (None, Some(missing)) => context.unknown(&META, face.dotted(service), service.origin, missing.clone()),
                (None, None) => continue,
            };
            report.push(context.on_face(finding, way.face, name, service.at, service.at));
        }
    }
}
