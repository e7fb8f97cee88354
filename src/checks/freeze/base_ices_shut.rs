//! Small exits at the base that lie in the snow.

use super::snow;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::{ExitLoad, ExitWay, WayOut};
use crate::layout::ground;
use crate::model::Limit;
use crate::plan::{Against, Run};
use crate::units::Length;
use std::collections::BTreeMap;

/// `base.ices_shut`
pub struct BaseIcesShut;

static META: RuleMeta = RuleMeta {
    id: "base.ices_shut",
    catalogue: "FR-02",
    title: "slush freezes in the only exit at the base",
    grade: Grade::S2,
    before: "H4",
    limits: &["exit.ices_shut"],
    explain: "\
# What it checks
Each exit along a base whose slots and holes are all smaller than `exit.ices_shut`: it lies above the usual depth of `snow` on
the ground in front of it.

# Why
Slush freezes in the only exit. What melts above it has no way out and backs up in the gap.

# Example
    trim foot channels.solid along base {
        holes weep 8mm, leg floor, between furring
    }
    ground at left -100mm

# Better
    ground at left -250mm
    // or an open end: gap_end open 15mm, screen meshes.insect

# Basis
Common practice: keep exits out of the snow, or give a second one 150 mm higher.

# Known gaps
Shade is not known; drifts are deeper than the usual snow.
",
};

impl Rule for BaseIcesShut {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let at_base: Vec<(&Run, &ExitLoad)> = context
            .rain()
            .exits
            .iter()
            .filter_map(|load| match load.with {
                Against::Run(id) => context.plan.run(id).filter(|run| run.kind == "base").map(|run| (run, load)),
                _ => None,
            })
            .collect();
        if at_base.is_empty() {
            return;
        }
        let Some((limit, least)) = context.length_limit(&META, "exit.ices_shut", report) else { return };
        let mut edges: BTreeMap<&str, Vec<(&Run, &ExitLoad)>> = BTreeMap::new();
        for (run, load) in at_base.into_iter().filter(|(_, load)| !is_large(context, load, least)) {
            edges.entry(&run.name).or_default().push((run, load));
        }
        if edges.is_empty() {
            return;
        }
        let Some(snow) = snow(context, &META, report).filter(|snow| *snow > Length::ZERO) else { return };
        for loads in edges.values() {
            report.extend(judge(context, loads, snow, (limit, least)));
        }
    }
}

/// Size of one opening of a way out; `None` if it cannot be told.
fn size(context: &CheckContext<'_>, way: &ExitWay) -> Option<Length> {
    let WayOut::Pierced(name) = &way.what else { return way.clear };
    let trims = context.model.faces.iter().flat_map(|face| &face.trims);
    let product = trims.filter(|trim| trim.name == *name).find_map(|trim| context.model.product(trim.product))?;
    product.opening.as_ref().map(|opening| opening.value)
}

/// Whether some way out of it stays open in slush: a large one, an open low end, or the edge of a flashing.
fn is_large(context: &CheckContext<'_>, load: &ExitLoad, least: Length) -> bool {
    load.ways.iter().any(|way| match way.what {
        WayOut::LowEnd(_) | WayOut::Flashing => true,
        _ => size(context, way).is_some_and(|size| size >= least),
    })
}

fn judge(
    context: &CheckContext<'_>,
    loads: &[(&Run, &ExitLoad)],
    snow: Length,
    (limit, least): (&Limit, Length),
) -> Option<Finding> {
    let (run, _) = *loads.first()?;
    let face = context.model.face(run.face)?;
    let line = ground::ground_line(face);
    if line.is_empty() {
        let missing = format!("the height of the ground along `{}`", run.name);
        let finding = context.unknown(&META, run.name.as_str(), run.origin, missing);
        return Some(context.on_run(finding, run, run.segment));
    }
    let above = |load: &ExitLoad| {
        let at = load.segment.lower_end();
        Some(at.y - ground::height(&line, at.x)?)
    };
    let heights = loads.iter().filter_map(|(_, load)| Some((above(load)?, *load)));
    let (lowest, load) = heights.min_by_key(|(above, _)| *above)?;
    if lowest >= snow {
        return None;
    }
    let Some(size) = load.ways.iter().filter_map(|way| size(context, way)).max() else {
        let names = load.ways.iter().find_map(|way| match &way.what {
            WayOut::Pierced(name) => Some(name.as_str()),
            _ => None,
        });
        let missing = format!("how large one hole in the floor of `{}` is (`opening`)", names.unwrap_or(&run.name));
        let finding = context.unknown(&META, run.name.as_str(), run.origin, missing);
        return Some(context.on_run(finding, run, run.segment));
    };
    let message = format!(
        "the exits of `{}`, {} small, lie {} above the ground and {} of snow are usual: they ice shut",
        run.name,
        context.shown(size),
        context.shown(lowest),
        context.shown(snow)
    );
    let finding = context
        .fault(&META, run.name.as_str(), run.origin, message)
        .against(limit)
        .measured(context.measure(size))
        .wanted(context.measure(least))
        .help(format!(
            "raise the base by {}, or give it exits of {} or more",
            context.shown(snow - lowest),
            context.shown(least)
        ))
        .help("or a second exit 150 mm (6 in) higher");
    Some(context.on_run(finding, run, run.segment))
}
