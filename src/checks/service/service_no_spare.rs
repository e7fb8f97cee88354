//! A house through whose walls the next wire has no way but a new hole.

use std::collections::BTreeSet;

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::diagnose::Severity;
use crate::model::{Face, FaceId};
use crate::source::Span;

/// `service.no_spare`
pub struct ServiceNoSpare;

static META: RuleMeta = RuleMeta {
    id: "service.no_spare",
    catalogue: "SV-02",
    title: "there is no spare way through the wall",
    grade: Grade::S4,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
A building through whose walls services pass has a `spare` on one of its faces; so has a face that belongs to no
building. It can always tell.

# Why
The next cable gets its own new hole, drilled wherever is convenient, through a barrier that was tested.

# Example
    box network 60mm x 60mm at (600mm, 500mm)

# Better
    box network 60mm x 60mm at (600mm, 500mm)
    spare later 25mm at (900mm, 500mm), sleeve 32mm, fall 2%, seal collar, capped

# Basis
Common practice: two capped sleeves of 25 mm where the services enter.

# Known gaps
One spare for the whole house is enough for this rule. It is worth knowing, and never a fault.
",
};

impl Rule for ServiceNoSpare {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let model = context.model;
        let mut grouped: BTreeSet<FaceId> = BTreeSet::new();
        for building in &model.buildings {
            let ids: Vec<FaceId> = building.faces.iter().filter_map(|(_, id, _)| *id).collect();
            let faces: Vec<&Face> = ids.iter().filter_map(|id| model.face(*id)).collect();
            grouped.extend(ids);
            report.extend(judge(context, &building.name, building.origin, &faces));
        }
        for (at, face) in model.faces.iter().enumerate() {
            if !grouped.contains(&FaceId(at as u32)) {
                report.extend(judge(context, &face.name, face.origin, &[face]));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, name: &str, origin: Span, faces: &[&Face]) -> Option<Finding> {
    let services = || faces.iter().flat_map(|face| &face.services);
    let unread = faces.iter().any(|face| face.broken);
    if unread || services().next().is_none() || services().any(|service| service.kind == "spare") {
        return None;
    }
    let message = format!("`{name}` has no spare sleeve: the next wire gets a new hole");
    let finding = context
        .fault(&META, name, origin, message)
        .on_principle("common practice", false)
        .help("add two capped sleeves of 25 mm where the services enter: `spare later 25mm at (…), capped`");
    Some(Finding { severity: Severity::Note, ..finding })
}
