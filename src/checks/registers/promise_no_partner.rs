//! What a detail needs beside it, and its neighbours do not give.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Segment;
use crate::model::{Assembly, Building, Face, Gap, Needs};
use crate::plan::Run;

/// `promise.no_partner`
pub struct PromiseNoPartner;

static META: RuleMeta = RuleMeta {
    id: "promise.no_partner",
    catalogue: "",
    title: "a detail lacks what it needs beside it",
    grade: Grade::S2,
    before: "H1",
    limits: &[],
    explain: "\
# What it checks
Each `needs` of a detail, against the areas beside the stretch or the point it is used on, floor lines and ledgers
included, and the building the face belongs to.

# Why
A detail is drawn with its neighbours in mind: a base flashing laps under a drainage plane, a transition strip ends on a
foundation. Put beside something else, its lap ends in nothing.

# Example
    detail screened_base {
        at    base
        needs above water
    }

on an area whose assembly has no layer that `controls water`.

# Better
Give a layer `controls water`, or take a detail that does not need it.

# Basis
common practice: a detail says what must be beside it.

# Known gaps
`needs` of frames, soffits and trims are held to what is declared on the face, not to its exact place.
",
};

impl Rule for PromiseNoPartner {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for run in &context.plan.runs {
            let Some(detail) = run.detail.and_then(|id| context.model.detail(id)) else { continue };
            for needs in &detail.place(run.kind).needs {
                report.extend(judge(context, run, &detail.name, needs));
            }
        }
        for node in &context.plan.nodes {
            let Some(detail) = node.detail.and_then(|id| context.model.detail(id)) else { continue };
            let mut here = node.runs.iter().filter_map(|&id| context.plan.run(id));
            // A point belongs to the wall of the first stretch that meets there.
            let Some(run) = here.find(|run| run.area.is_some()) else { continue };
            let point = Run { origin: node.origin, segment: Segment::new(node.at, node.at), ..run.clone() };
            report.extend(detail.edge.needs.iter().filter_map(|needs| judge(context, &point, &detail.name, needs)));
        }
    }
}

/// What became of one need.
enum Partner {
    There,
    Missing(String),
    Untold(String),
}

fn judge(context: &CheckContext<'_>, run: &Run, detail: &str, needs: &Needs) -> Option<Finding> {
    let finding = match partner(context, run, needs) {
        Partner::There => return None,
        Partner::Missing(what) => context
            .fault(
                &META,
                run.name.clone(),
                run.origin,
                format!("`{detail}` needs {what} {}, and there is none", beside(needs.side)),
            )
            .on_principle("common practice: a detail says what must be beside it", false)
            .help(format!("give the wall {what}, or take another detail for `{}`", run.name)),
        Partner::Untold(missing) => context.unknown(&META, run.name.clone(), run.origin, missing),
    };
    let finding = finding.also(needs.origin, "needed here");
    Some(context.on_run(finding, run, run.segment))
}

fn partner(context: &CheckContext<'_>, run: &Run, needs: &Needs) -> Partner {
    let Some(face) = context.model.face(run.face) else { return Partner::There };
    let area = if needs.side == "lower" { run.other.or(run.area) } else { run.area };
    let assembly = area.and_then(|at| face.areas.get(at)).and_then(|area| context.model.assembly(area.assembly));
    let in_wall = |has: fn(&Assembly) -> bool, what: &str| match assembly {
        Some(assembly) if has(assembly) => Partner::There,
        Some(assembly) => Partner::Missing(format!("{what} in `{}`", assembly.label)),
        // A stretch without an area has been told by `area.bare`.
        None => Partner::There,
    };
    match needs.what {
        "water" => in_wall(|wall| wall.drainage_plane().is_some(), "a drainage plane (`controls water`)"),
        "air" => in_wall(|wall| wall.air_layers().next().is_some(), "an air barrier (`controls air`)"),
        "vapour" => in_wall(
            |wall| wall.layers.iter().any(|layer| layer.controls.vapour),
            "a vapour control (`controls vapour`)",
        ),
        "cladding" => {
            in_wall(|wall| wall.layers.iter().any(|layer| layer.controls.rain), "a cladding (`controls rain`)")
        }
        "gap" => in_wall(|wall| wall.gap().is_some(), "a gap"),
        "furring" => in_wall(|wall| wall.gap().is_some_and(|(_, gap)| has_strips(gap)), "furring"),
        "frame" => in_wall(|wall| wall.frame().is_some(), "a frame"),
        "foundation" => of_building(context, run, |building| building.foundation.is_some(), "a foundation"),
        "roof" => roof(context, run, face),
        "soffit" if face.overhang.is_none() => {
            Partner::Untold(format!("the overhang of `{}` is not declared", face.name))
        }
        "trim" if face.trims.is_empty() => Partner::Missing("a trim".to_owned()),
        _ => Partner::There,
    }
}

fn has_strips(gap: &Gap) -> bool {
    !gap.furring.is_empty()
}

fn roof(context: &CheckContext<'_>, run: &Run, face: &Face) -> Partner {
    if !face.roofs.is_empty() {
        return Partner::There;
    }
    of_building(context, run, |building| building.roof.is_some(), "a roof")
}

fn of_building(context: &CheckContext<'_>, run: &Run, has: fn(&Building) -> bool, what: &str) -> Partner {
    match context.model.building_of(run.face) {
        Some(building) if has(building) => Partner::There,
        Some(building) => Partner::Missing(format!("{what} in `{}`", building.name)),
        None => Partner::Untold(format!("no building has this face, so whether there is {what} is not said")),
    }
}

fn beside(side: &str) -> &'static str {
    match side {
        "above" => "above it",
        "below" => "below it",
        "left" => "at its left",
        "right" => "at its right",
        "inside" => "inside it",
        "outside" => "outside it",
        "lower" => "on its lower side",
        _ => "on its upper side",
    }
}
