//! Openings of the gap that let too little air through.

use std::collections::BTreeMap;

use crate::checks::bays;
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::continuity::Opening;
use crate::model::{FaceId, Limit};
use crate::plan::Against;
use crate::units::{Length, display};

/// `vent.too_small`
pub struct VentTooSmall;

static META: RuleMeta = RuleMeta {
    id: "vent.too_small",
    catalogue: "VE-02",
    title: "an opening of the gap is too small for its air",
    grade: Grade::S3,
    before: "H4",
    limits: &["vent.free_area"],
    explain: "\
# What it checks
Along each edge where the gap is open low or high: the free area, less screen and strips, for each metre of that edge,
against `vent.free_area`.

# Why
Weeps let water out and hardly any air in: holes of 8 mm every 400 mm give about 126 mm² for each metre, an eighth of what a
vent needs.

# Example
    holes weep 8mm, leg floor, between furring

# Better
    holes vent 5mm x 40mm, leg floor, every 60mm on centre
    // or an open end: gap_end open 12mm, screen meshes.insect

# Basis
E2/AS1 9.1.8.3 (New Zealand), public page: 1000 mm²/m. Many European details have five to ten times as much.

# Known gaps
The screen is taken as new; its help says what is left when it has aged. Friction inside the gap is not counted.
",
};

impl Rule for VentTooSmall {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let edges = edges(context);
        if edges.is_empty() {
            return;
        }
        let Some((limit, least)) = context.number_limit(&META, "vent.free_area", report) else { return };
        for ((face, ..), edge) in &edges {
            report.extend(judge(context, *face, edge, (limit, least)));
        }
    }
}

/// All openings at one edge.
struct Edge<'f> {
    with: Against,
    openings: Vec<&'f Opening>,
}

/// Face, area, what gives the opening, and whether it is the lower side of a floor or a ledger.
type Key = (FaceId, usize, (u8, usize), bool);

/// Openings by area and edge; an opening that is both inlet and outlet counts once.
fn edges<'c>(context: &'c CheckContext<'_>) -> BTreeMap<Key, Edge<'c>> {
    let mut edges: BTreeMap<Key, Edge<'_>> = BTreeMap::new();
    for flow in &context.flow().bays {
        for opening in flow.inlets.iter().chain(&flow.outlets) {
            let below = is_below(context, opening);
            let key = (flow.id.face, flow.id.area, bays::order(opening.with), below);
            let edge = edges.entry(key).or_insert_with(|| Edge { with: opening.with, openings: Vec::new() });
            if !edge.openings.iter().any(|known| known.segment == opening.segment && known.kind == opening.kind) {
                edge.openings.push(opening);
            }
        }
    }
    edges
}

/// The gap below a floor or a ledger breathes by itself, not through the slot of the gap above.
fn is_below(context: &CheckContext<'_>, opening: &Opening) -> bool {
    let Against::Run(id) = opening.with else { return false };
    opening.segment.is_ceiling() && context.plan.run(id).is_some_and(|run| run.place.divides())
}

fn judge(context: &CheckContext<'_>, face: FaceId, edge: &Edge<'_>, (limit, least): (&Limit, f64)) -> Option<Finding> {
    let run = match edge.with {
        Against::Run(id) => context.plan.run(id),
        _ => None,
    };
    let (name, at) = bays::boundary(context, face, edge.with)?;
    let subject = run.map_or_else(
        || format!("{}.{}", context.model.face(face).map_or("", |face| &face.name), name.replace('`', "")),
        |run| run.name.clone(),
    );
    let place = |finding: Finding| match run {
        Some(run) => context.on_run(finding, run, run.segment),
        None => finding,
    };
    if run.is_some_and(|run| run.detail.is_none()) {
        return None; // told by `edge.no_detail`
    }
    if let Some(missing) = edge.openings.iter().find_map(|opening| opening.missing.as_ref()) {
        return Some(place(context.unknown(&META, subject, at, missing.as_str())));
    }
    let width = run.map_or_else(
        || edge.openings.iter().map(|opening| opening.segment.length()).sum::<Length>(),
        |run| run.segment.length(),
    );
    let total: f64 = edge.openings.iter().map(|opening| opening.area).sum::<Option<f64>>()?;
    let has = total / width.as_m().max(1e-3);
    if has >= least {
        return None;
    }
    let shown = |value: f64| display::area_per_metre(Length::snap_m(value));
    let finding = context
        .fault(
            &META,
            subject,
            at,
            format!("{name} gives {} of free area: needs {} more", shown(has), shown(least - has)),
        )
        .against(limit)
        .measured(Measure { value: Some(has), shown: shown(has) })
        .wanted(Measure { value: Some(least), shown: shown(least) })
        .help(format!(
            "slot it, open it along its whole length, or add {:.0} mm² over its {}",
            (least - has) * width.as_m() * 1e6,
            context.shown(width)
        ));
    let aged: Option<f64> = edge.openings.iter().map(|opening| opening.aged_area).sum();
    let finding = match aged {
        Some(aged) if aged < total => {
            finding.help(format!("with an aged screen {} are left", shown(aged / width.as_m().max(1e-3))))
        }
        _ => finding,
    };
    Some(place(finding))
}
