//! Ends of the air barrier, from the facts to findings: shared by the rules that each look at one kind of place.

use crate::checks::{CheckContext, Finding, RuleMeta};
use crate::continuity::AirEnd;
use crate::model::Building;
use crate::plan::RunPlace;
use crate::source::Span;

/// Where a code says it: one continuous barrier, joined at every seam, hole and neighbour.
pub const PRINCIPLE: &str = "NBC 9.25.3, public copy: the air barrier is continuous";

/// What a rule says about its kind of end.
pub struct Words {
    /// Kind of [`AirEnd`].
    pub kind: &'static str,
    /// What to do.
    pub help: &'static str,
}

/// Reports all ends of one kind, and what cannot be told about such places.
pub fn report(context: &CheckContext<'_>, meta: &RuleMeta, words: &Words, report: &mut Vec<Finding>) {
    let mut told: Vec<Span> = Vec::new();
    for end in context.air().ends.iter().filter(|end| end.kind == words.kind && !has_own_rule(context, end)) {
        if end.kind == "assembly" && told.contains(&end.origin) {
            continue;
        }
        told.push(end.origin);
        report.push(found(context, meta, words, end));
    }
    for end in context.air().undecided.iter().filter(|end| end.kind == words.kind) {
        let finding = context.unknown(meta, subject(context, end), end.origin, end.why.as_str());
        report.push(placed(context, finding, end).path(end.path.clone()));
    }
}

/// A frame sealed to trim or cladding is told by `opening.sealed_to_cladding`.
fn has_own_rule(context: &CheckContext<'_>, end: &AirEnd) -> bool {
    let Some(run) = end.run.and_then(|run| context.plan.run(run)) else { return false };
    let RunPlace::Opening(at) = run.place else { return false };
    let opening = context.model.face(run.face).and_then(|face| face.openings.get(at));
    opening.is_some_and(|opening| matches!(opening.seal, Some("cladding" | "trim")))
}

fn found(context: &CheckContext<'_>, meta: &RuleMeta, words: &Words, end: &AirEnd) -> Finding {
    let finding = context
        .fault(meta, subject(context, end), end.origin, end.why.as_str())
        .on_principle(PRINCIPLE, true)
        .help(words.help)
        .path(end.path.clone());
    let finding = match context.model.site.as_ref().and_then(|site| site.interior) {
        Some(rooms @ ("humid" | "pool")) if end.kind != "assembly" => {
            let rooms = if rooms == "pool" { "a pool" } else { "humid rooms" };
            finding
                .help(format!("behind {rooms} far more water goes this way with the air than through the wall itself"))
        }
        _ => finding,
    };
    let detail = end.run.and_then(|run| context.plan.run(run)?.detail).and_then(|id| context.model.detail(id));
    let finding = match detail {
        Some(detail) => finding.also(detail.origin, "the detail there"),
        None => finding,
    };
    placed(context, finding, end)
}

/// Dotted name of the stretch, hole, face or building.
fn subject(context: &CheckContext<'_>, end: &AirEnd) -> String {
    if let Some(run) = end.run.and_then(|run| context.plan.run(run)) {
        return run.name.clone();
    }
    let Some(face) = end.face.and_then(|face| context.model.face(face)) else {
        return building(context, end).map_or_else(String::new, |building| building.name.clone());
    };
    match end.service.and_then(|at| face.services.get(at)) {
        Some(service) => face.dotted(service),
        None => face.name.clone(),
    }
}

/// The building whose foundation or roof an end is about: the end stands at one of its lines.
fn building<'m>(context: &CheckContext<'m>, end: &AirEnd) -> Option<&'m Building> {
    context.model.buildings.iter().find(|building| {
        let parts = [building.foundation.as_ref().map(|part| part.3), building.roof.as_ref().map(|part| part.3)];
        building.origin == end.origin || parts.contains(&Some(end.origin))
    })
}

fn placed(context: &CheckContext<'_>, finding: Finding, end: &AirEnd) -> Finding {
    if let Some(run) = end.run.and_then(|run| context.plan.run(run)) {
        return context.on_run(finding, run, run.segment);
    }
    let service = end.face.and_then(|id| Some((id, context.model.face(id)?.services.get(end.service?)?)));
    match service {
        Some((face, service)) => context.on_face(finding, face, &service.name, service.at, service.at),
        None => finding,
    }
}
