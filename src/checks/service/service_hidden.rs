//! A box, meter or gas line that hands and eyes do not get at.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::removals;

/// `service.hidden`
pub struct ServiceHidden;

static META: RuleMeta = RuleMeta {
    id: "service.hidden",
    catalogue: "SV-03",
    title: "a box or shut-off lies behind something that does not come off",
    grade: Grade::S2,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
No box, meter or gas line ends behind the cladding, under a block that is not its own and not removable, or
behind the casing of an opening. It can always tell.

# Why
Nobody can find it when it matters.

# Example
    box junction 100mm x 100mm at (600mm, 500mm), reaches sheathing

# Better
    block access at (500mm, 405mm) {
        courses 2, width 300mm, on furring, removable
        box junction 100mm x 100mm at (150mm, 135mm), reaches sheathing
    }

# Basis
Common practice; electrical and gas rules on access, from memory.

# Known gaps
A box that does not say how far out it `reaches` is taken to come to the face of the cladding. Valves inside the
house are not seen.
",
};

impl Rule for ServiceHidden {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for way in removals(context.model, context.plan) {
            let (Some(cover), Some(face)) = (way.hidden, context.model.face(way.face)) else { continue };
            let Some(service) = face.services.get(way.service) else { continue };
            let message = format!("`{}` lies behind {cover}, with no way to get at it", service.name);
            let finding = context
                .fault(&META, face.dotted(service), service.origin, message)
                .on_principle("common practice; rules on access, from memory", false)
                .help("bring it to the face, or put a removable block over it");
            report.push(context.on_face(finding, way.face, &service.name, service.at, service.at));
        }
    }
}
