//! Which defence of the wall a finding breaks, so that what still stands behind it can be counted and shown.

use std::collections::BTreeMap;

use super::{CheckContext, Finding, Grade, rule};
use crate::continuity::defences::{self, Breach, Defence, Spot};
use crate::diagnose::Severity;
use crate::plan::{Part, Run};

/// What findings of a rule break; `None` for those that are not about water.
fn breach(id: &str) -> Option<Breach> {
    let known = match id {
        "base.near_ground" | "base.near_roof" | "base.grade_rises" | "cladding.on_ledge" | "cladding.in_snow"
        | "cladding.ends_raw" => Breach::Cladding,
        "roof.pours_on_wall" | "vent.faces_rain" => Breach::Of(Defence::Rain),
        "transition.no_flashing" | "head.sealed" | "head.wrong_arrangement" => Breach::Of(Defence::Flashing),
        "board.holds_film" => Breach::Of(Defence::Gap),
        _ => return by_family(id),
    };
    Some(known)
}

/// For all other rules the family of the failure in the trade's catalogue says it: flashings have a family of ids.
fn by_family(id: &str) -> Option<Breach> {
    if id.starts_with("flashing.") {
        return Some(Breach::Of(Defence::Flashing));
    }
    let catalogue = rule(id)?.meta().catalogue;
    match catalogue.split('-').next()? {
        "DR" => Some(Breach::Of(Defence::Gap)),
        "LA" => Some(Breach::Of(Defence::Plane)),
        "FR" if matches!(id, "channel.ponds" | "base.ices_shut") => Some(Breach::Of(Defence::Gap)),
        _ => None,
    }
}

/// Counts the defences behind every finding about water. With two or more a stop becomes "mend before it is covered"; what
/// cannot be told stays as it is graded.
pub(super) fn count(context: &CheckContext<'_>, findings: &mut [Finding]) {
    let runs: BTreeMap<&str, &Run> = context.plan.runs.iter().map(|run| (run.name.as_str(), run)).collect();
    let parts: BTreeMap<&str, &Part> = context.plan.parts.iter().map(|part| (part.name.as_str(), part)).collect();
    for finding in findings {
        let Some(breach) = breach(finding.rule).filter(|_| finding.defences.is_none()) else { continue };
        let Some(stretch) = finding.stretch.clone() else { continue };
        let part = parts.get(finding.subject.as_str()).copied();
        let of_part = part.and_then(|part| context.plan.run(part.run?));
        let run = of_part.or_else(|| runs.get(finding.subject.as_str()).copied());
        let at = crate::geometry::Segment::new(stretch.from, stretch.to).midpoint();
        let spot = Spot { face: stretch.face, at, run, except: part.map(|part| part.spec.origin) };
        let left = defences::behind(context.model, context.plan, context.flow(), spot, breach);
        let Some(left) = left else { continue };
        finding.defences = Some(left.len() as u32);
        finding.behind = left.into_iter().map(|one| one.name).collect();
        if left_enough(finding) {
            finding.grade = finding.grade.max(Grade::S2);
        }
    }
}

fn left_enough(finding: &Finding) -> bool {
    finding.severity != Severity::Unknown && finding.defences.is_some_and(|count| count >= 2)
}
