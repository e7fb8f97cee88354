//! A service that nobody can take out again without guessing.

use crate::checks::pieces::faces;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `service.no_removal`
pub struct ServiceNoRemoval;

static META: RuleMeta = RuleMeta {
    id: "service.no_removal",
    catalogue: "SV-04",
    title: "how a service comes out again is not said",
    grade: Grade::S3,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
Everything that passes through the wall says, step by step, how it is taken out from outside. It can always tell.

# Why
Whoever changes the tap in twelve years pulls the wrong layer first, and the seal with it.

# Example
    hose_bib garden 22mm at (110mm, 110mm) {
        seal collar
    }

# Better
    hose_bib garden 22mm at (110mm, 110mm) {
        seal collar
        removal \"close the valve inside, drain the tap\"
        removal \"four screws, lift the block off\"
    }

# Basis
Common practice: the register of penetrations has a column for it.

# Known gaps
What the steps say is not read.
",
};

impl Rule for ServiceNoRemoval {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            for service in face.services.iter().filter(|service| service.removal.is_empty()) {
                let message = format!("how `{}` is taken out from outside is not said (`removal`)", service.name);
                let finding = context
                    .fault(&META, face.dotted(service), service.origin, message)
                    .on_principle("common practice: the register of penetrations", false)
                    .help("write one `removal \"…\"` for each step, in the order in which it is done");
                report.push(context.on_face(finding, id, &service.name, service.at, service.at));
            }
        }
    }
}
