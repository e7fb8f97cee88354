//! Work that waits for itself, so that no part can be the first.

use std::collections::BTreeSet;

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::{Loop, Order, Task};
use crate::model::{DetailId, FaceId};

/// `order.cycle`
pub struct OrderCycle;

static META: RuleMeta = RuleMeta {
    id: "order.cycle",
    catalogue: "BL-01",
    title: "parts wait for each other in a circle and cannot be put on",
    grade: Grade::S1,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
There must be an order in which the whole house can be built. What laps over another part goes on after it; what
lies behind another goes on before it; what is fastened to another needs it in place; the air barrier is tested
before it is covered; and the crew works upward, section by section.

# Why
A drawing can show A over B, B over C and C over A. On the wall one of them has to be slit, and it is slit at
the worst place.

# Example
    part flashing aluminium 0.6mm, laps over flap by 75mm
    part flap membranes.self_adhered, laps over flashing by 75mm

# Better
    part flashing aluminium 0.6mm, laps under water by 75mm
    part flap membranes.self_adhered, laps over flashing by 75mm

# Basis
It must be an order. No code says so, and every crew knows it.

# Known gaps
It can always tell. The words of `order` in a detail are printed, not read. A rigid flashing on the plane that
laps over the cladding below it does not wait for it: boards slide up under its drip.
",
};

impl Rule for OrderCycle {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let order = context.order();
        let mut told: BTreeSet<(FaceId, Option<DetailId>)> = BTreeSet::new();
        for circle in &order.loops {
            let Some(first) = order.first_of(circle) else { continue };
            if first.detail.is_none() || told.insert((first.face, first.detail)) {
                report.extend(explain(context, order, circle, first));
            }
        }
    }
}

fn explain(context: &CheckContext<'_>, order: &Order, circle: &Loop, first: &Task) -> Option<Finding> {
    let tasks: Vec<&Task> = circle.ties.iter().filter_map(|tie| order.task(tie.first)).collect();
    let reasons: Vec<String> = order.reasons(circle);
    let softest = tasks.iter().find(|task| task.adhered).copied();
    let advice = match softest {
        Some(flap) => {
            format!("fit `{}` later, as an adhered flap that laps over what is there, or split it here", flap.name)
        }
        None => {
            format!("split `{}` here: make it two pieces, slit it, or use an adhered flap fitted later", first.name)
        }
    };
    let finding = context
        .fault(&META, first.subject.clone(), first.origin, format!("no order builds this: {}", reasons.join("; ")))
        .on_principle("parts must have an order; common practice", false)
        .help(advice)
        .path(reasons);
    let finding = tasks
        .iter()
        .filter(|task| task.origin != first.origin)
        .fold(finding, |finding, task| finding.also(task.origin, format!("`{}`, in the circle", task.name)));
    Some(context.on_face(finding, first.face, &first.owner, first.segment.from, first.segment.to))
}
