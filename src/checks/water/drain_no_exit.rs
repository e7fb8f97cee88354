//! Water in the gap that has no way out.

use std::collections::BTreeMap;

use super::nailer_above_head;
use crate::checks::bays::{self, Bays};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::{BayFlow, Trap, catchment};
use crate::model::FaceId;
use crate::plan::Against;
use crate::source::Span;
use crate::units::Length;

/// `drain.no_exit`
pub struct DrainNoExit;

static META: RuleMeta = RuleMeta {
    id: "drain.no_exit",
    catalogue: "DR-01",
    title: "water in the gap has no way out",
    grade: Grade::S1,
    before: "H4",
    limits: &[],
    explain: "\
# What it checks
For every bay of the gap: from each low point, water that only runs down must reach an opening that `gives exit`.

# Why
A closed trim, a bead of sealant or a block of foam at the bottom of the gap holds the water that was meant to drain. It
stands on the plate until it finds the wood.

# Example
    detail tight_base {
        at      base
        gap_end closed
    }

# Better
    detail open_base {
        at      base
        gap_end open, screen meshes.insect, faces down
        gives   exit and inlet
    }

# Basis
NBC 9.27.2.2.(1)(a), public copy: the air space is drained. E2/AS1 9.1.8.3 (New Zealand): a continuous opening.

# Known gaps
Strips that dam a bay are told by `furring.dams`, nailers above openings by `nailer.above_head`.
How fast a hole drains is not computed.
",
};

impl Rule for DrainNoExit {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for ((face, area, _), held) in held(context) {
            report.extend(found(context, (face, area), &held));
        }
        let open_question = |flow: &BayFlow| {
            let (with, missing) = flow.undecided.first()?;
            Some((bays::order(*with), missing.clone()))
        };
        for ((_, missing), group) in bays::grouped(&context.flow().bays, open_question) {
            report.extend(unknown(context, &group, &missing));
        }
    }
}

/// Water that stands on one thing: the bays, and the place in each.
struct Held<'f> {
    with: Against,
    traps: Vec<(&'f BayFlow, &'f Trap)>,
}

/// All standing water by area and by what holds it. Strips, and nailers above openings, have rules of their own.
fn held<'c>(context: &'c CheckContext<'_>) -> BTreeMap<(FaceId, usize, (u8, usize)), Held<'c>> {
    let own = |flow: &BayFlow, with: &Against| match *with {
        // fire.stop_dams_water
        Against::Strip(_) | Against::FireStop(_) => false,
        Against::Nailer(at) => !nailer_above_head::is_over_opening(context, flow.id.face, at),
        _ => true,
    };
    let mut found: BTreeMap<_, Held<'_>> = BTreeMap::new();
    for flow in &context.flow().bays {
        for trap in &flow.traps {
            if let Some(with) = trap.with.iter().copied().find(|with| own(flow, with)) {
                let key = (flow.id.face, flow.id.area, bays::order(with));
                found.entry(key).or_insert_with(|| Held { with, traps: Vec::new() }).traps.push((flow, trap));
            }
        }
    }
    found
}

fn found(context: &CheckContext<'_>, (face, area): (FaceId, usize), held: &Held<'_>) -> Option<Finding> {
    let mut flows: Vec<&BayFlow> = held.traps.iter().map(|(flow, _)| *flow).collect();
    flows.dedup_by_key(|flow| flow.id);
    let group = Bays { face, area, flows };
    let (_, declared) = group.place(context)?;
    let (name, at) = bays::boundary(context, face, held.with).unwrap_or(("nothing known".to_owned(), declared.origin));
    let square_metres: f64 =
        held.traps.iter().filter_map(|(flow, trap)| Some(catchment(&bays::bay(context, flow)?.shape, trap))).sum();
    let message = format!(
        "{name} closes the gap below: water from {} in {} has no exit",
        context.shown_area(square_metres),
        group.name(context)
    );
    let finding = context
        .fault(&META, group.subject(context), at, message)
        .on_principle("NBC 9.27.2.2.(1)(a), public copy: the air space is drained", true)
        .help(advice(context, held.with))
        .help(depth(context, held).unwrap_or_default())
        .path(vec![group.name(context), name, "nothing".to_owned()]);
    let finding = tidy(finding, context, held.with);
    let ends = || held.traps.iter().flat_map(|(_, trap)| [trap.floor.from, trap.floor.to]);
    Some(context.on_face(finding, face, "foot of the gap", ends().min()?, ends().max()?))
}

/// The greatest depth to which the water stands, where it is known.
fn depth(context: &CheckContext<'_>, held: &Held<'_>) -> Option<String> {
    let deepest: Length = held.traps.iter().filter_map(|(_, trap)| trap.depth).max()?;
    Some(format!("as declared, water stands {} deep there before it spills", context.shown(deepest)))
}

fn advice(context: &CheckContext<'_>, with: Against) -> String {
    match with {
        Against::Run(id) if context.plan.run(id).is_some_and(|run| run.detail.is_none()) => {
            "give it a detail whose gap end is open, or weeps of 8 mm (5/16 in) in every bay".to_owned()
        }
        Against::Run(_) => {
            "open the bottom along every bay (`gap_end open`), or drill weeps of 8 mm (5/16 in) in every bay".to_owned()
        }
        Against::Block(_) => {
            "give the block a flashing with end dams, or let water pass beside it (`drained yes`)".to_owned()
        }
        Against::Nailer(_) => "cut it into lengths with open gaps of 10 mm (3/8 in) or more".to_owned(),
        Against::Vent(_) => "let the flashing above the slots throw the water out: `gives exit`".to_owned(),
        Against::Strip(_) | Against::FireStop(_) | Against::Unknown => "say what lies below these bays".to_owned(),
    }
}

/// Drops the empty line of a depth that is not known, and points to the detail.
fn tidy(mut finding: Finding, context: &CheckContext<'_>, with: Against) -> Finding {
    finding.help.retain(|line| !line.is_empty());
    match detail_line(context, with) {
        Some((at, words)) => finding.also(at, words),
        None => finding,
    }
}

fn detail_line(context: &CheckContext<'_>, with: Against) -> Option<(Span, &'static str)> {
    let Against::Run(id) = with else { return None };
    let detail = bays::detail_of(context, context.plan.run(id)?)?;
    Some((detail.origin, "the detail that closes it"))
}

fn unknown(context: &CheckContext<'_>, group: &Bays<'_>, missing: &str) -> Option<Finding> {
    let (_, area) = group.place(context)?;
    let (with, _) = group.flows.first()?.undecided.first()?;
    let at = bays::boundary(context, group.face, *with).map_or(area.origin, |(_, at)| at);
    let finding = context.unknown(&META, group.subject(context), at, missing).help(format!(
        "{} drains there: {}",
        context.shown_area(group.square_metres()),
        group.name(context)
    ));
    Some(group.at_foot(context, finding, "foot of the gap"))
}
