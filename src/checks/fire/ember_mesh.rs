//! A screen that lets embers into the gap, or burns.

use std::collections::BTreeSet;

use crate::checks::pieces::{faces, runs};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Limit, ProductId};
use crate::source::Span;
use crate::units::Length;

/// `ember.mesh`
pub struct EmberMesh;

static META: RuleMeta = RuleMeta {
    id: "ember.mesh",
    catalogue: "F-06",
    title: "embers can come in at an opening of the gap",
    grade: Grade::S2,
    before: "H4",
    limits: &["ember.opening"],
    explain: "\
# What it checks
On a site with `wildfire yes`: every opening of the gap to the outside has a screen whose holes are no larger than
the rule set says, and which does not burn. A slot that is itself no higher needs none.

# Why
Embers blow in under the cladding ahead of the fire, and light what lies there. A plastic mesh melts first.

# Example
    gap_end open, screen meshes.coarse, faces down

# Better
    gap_end open, screen meshes.ember, faces down

# Basis
California building code, read on a public page: holes of 1/16 to 1/8 in, noncombustible. Held as common practice.

# Known gaps
Openings into roof, soffit or garage are other rules' matter. Whether the screen is continuous at corners is not
looked at.
",
};

/// An opening of the gap.
struct Hole {
    subject: String,
    slot: Option<Length>,
    screen: Option<ProductId>,
    at: Span,
}

impl Rule for EmberMesh {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        if !context.model.site.as_ref().is_some_and(|site| site.wildfire) {
            return;
        }
        let Some((limit, most)) = context.length_limit(&META, "ember.opening", report) else { return };
        let mut seen = BTreeSet::new();
        for (run, place) in runs(context) {
            for end in place.gap_ends.iter().filter(|end| end.open && end.joins == "outside") {
                if !seen.insert((run.face, end.origin)) {
                    continue;
                }
                let hole = Hole { subject: run.name.clone(), slot: end.slot, screen: end.screen, at: end.origin };
                let finding = judge(context, &hole, limit, most).map(|finding| finding.also(run.origin, "used here"));
                report.extend(finding.map(|finding| context.on_run(finding, run, run.segment)));
            }
        }
        for (_, face) in faces(context.model) {
            for vent in &face.vents {
                let subject = format!("{}.{}", face.name, vent.name);
                let hole = Hole { subject, slot: Some(vent.slot), screen: vent.screen, at: vent.origin };
                report.extend(judge(context, &hole, limit, most));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, hole: &Hole, limit: &Limit, most: Length) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, hole.subject.clone(), hole.at, missing));
    if hole.slot.is_some_and(|slot| slot <= most) {
        return None;
    }
    let Some(product) = hole.screen.and_then(|id| Some((id, context.model.product(id)?))) else {
        return unknown(format!("what keeps embers out of `{}` is not said (`screen`)", hole.subject));
    };
    let name = context.model.product_name(product.0);
    let fault = |message: String| context.fault(&META, hole.subject.clone(), hole.at, message).against(limit);
    let advice = format!("take a metal mesh with holes of {} or less", context.shown(most));
    let opening = product.1.opening.as_ref().map(|opening| opening.value);
    if let Some(opening) = opening.filter(|opening| *opening > most) {
        let message = format!(
            "the holes of `{name}` are {}; embers pass more than {}",
            context.shown(opening),
            context.shown(most)
        );
        return Some(fault(message).measured(context.measure(opening)).wanted(context.measure(most)).help(advice));
    }
    match product.1.of.and_then(|of| context.model.material(of)) {
        Some(material) if material.combustible == Some(true) => {
            return Some(fault(format!("`{name}` is of {}, which burns", material.name)).help(advice));
        }
        Some(material) if material.kind == "metal" || material.combustible == Some(false) => {}
        _ => return unknown(format!("whether `{name}` burns is not said (`combustible` of its material)")),
    }
    if opening.is_none() {
        return unknown(format!("size of the holes of `{name}` is not said (`opening`)"));
    }
    None
}
