//! Laps that go round in a circle, so that no part can be the first.

use std::collections::BTreeMap;

use crate::checks::pieces::{called, runs};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::order::{Before, loop_of};
use crate::model::{DetailId, FaceId, Lap};
use crate::plan::{Part, Run, RunPlace};

/// `order.cycle`
pub struct OrderCycle;

static META: RuleMeta = RuleMeta {
    id: "order.cycle",
    catalogue: "BL-01",
    title: "parts lap each other in a circle and cannot be put on",
    grade: Grade::S1,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
Among the parts of one edge, and of the head, jambs and sill of one opening: what laps over another goes on
after it. There must be an order in which all of them can go on.

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
It can always tell. Only laps count. Order by trades, by reach, and by what is fixed through what, is not worked
out.
",
};

impl Rule for OrderCycle {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut told: std::collections::BTreeSet<(FaceId, Option<DetailId>)> = std::collections::BTreeSet::new();
        for group in groups(context) {
            let parts: Vec<(&Run, &Part)> =
                group.iter().flat_map(|run| context.plan.parts_of(run).map(|part| (*run, part))).collect();
            let Some(cycle) = loop_of(&laps(&parts)) else { continue };
            let first = group.first().map(|run| (run.face, run.detail));
            if first.is_some_and(|first| told.insert(first)) {
                report.extend(explain(context, &parts, &cycle));
            }
        }
    }
}

/// Runs whose parts lap each other: those of one opening together, all others alone.
fn groups<'c>(context: &CheckContext<'c>) -> Vec<Vec<&'c Run>> {
    let mut openings: BTreeMap<(FaceId, usize), Vec<&Run>> = BTreeMap::new();
    let mut alone = Vec::new();
    for (run, _) in runs(context) {
        match run.place {
            RunPlace::Opening(at) => openings.entry((run.face, at)).or_default().push(run),
            _ => alone.push(vec![run]),
        }
    }
    openings.into_values().chain(alone).collect()
}

/// Which part goes on before which.
fn laps(parts: &[(&Run, &Part)]) -> Before {
    let mut before = Before::new();
    for (at, (run, part)) in parts.iter().enumerate() {
        for lap in &part.spec.laps {
            for other in neighbours(parts, at, run, lap) {
                let (first, then) = if lap.under { (at, other) } else { (other, at) };
                before.entry(first).or_default().insert(then);
            }
        }
    }
    before
}

/// The parts a lap names. `head`, `jamb` and `sill` are the sheets of those sides of the opening; a kind is the nearest part of
/// that kind on the same stretch. What no part answers to is a layer of the wall, above or below, and never closes a circle.
fn neighbours(parts: &[(&Run, &Part)], at: usize, run: &Run, lap: &Lap) -> Vec<usize> {
    if matches!(lap.what, "head" | "jamb" | "sill") {
        let side =
            parts.iter().enumerate().filter(|(_, (other, part))| other.kind == lap.what && part.spec.controls.water);
        return side.filter(|(other, _)| *other != at).map(|(other, _)| other).collect();
    }
    let same = |other: &Run| std::ptr::eq(other, run);
    let kind = parts.iter().enumerate().filter(|(_, (other, part))| same(other) && part.spec.kind == lap.what);
    kind.map(|(other, _)| other)
        .filter(|other| *other != at)
        .min_by_key(|other| other.abs_diff(at))
        .into_iter()
        .collect()
}

fn explain(context: &CheckContext<'_>, parts: &[(&Run, &Part)], cycle: &[usize]) -> Option<Finding> {
    let chain: Vec<&(&Run, &Part)> = cycle.iter().filter_map(|&at| parts.get(at)).collect();
    let (run, first) = chain.first()?;
    let mut steps: Vec<String> = chain.iter().map(|(_, part)| called(&part.spec).to_owned()).collect();
    steps.push(called(&first.spec).to_owned());
    let message = format!(
        "no order builds this: {}",
        steps.iter().map(|step| format!("`{step}`")).collect::<Vec<_>>().join(" before ")
    );
    let softest =
        chain.iter().find(|(_, part)| matches!(part.spec.kind, "flap" | "membrane" | "tape")).unwrap_or(chain.first()?);
    let finding = context
        .fault(&META, first.name.clone(), first.spec.origin, message)
        .on_principle("parts must have an order; common practice", false)
        .help(format!(
            "split `{}` here: make it two pieces, slit it, or add a flap that goes on last",
            called(&softest.1.spec)
        ))
        .path(steps);
    let finding =
        chain.iter().skip(1).fold(finding, |finding, (_, part)| finding.also(part.spec.origin, "in the circle"));
    Some(context.on_run(finding, run, run.segment))
}
