//! A wall that can dry neither inwards nor outwards.

use super::{first_inboard, insulates, is_thin_wood, permeance, shown};
use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::model::{Assembly, Layer, LayerKind, Limit, Model};
use crate::units::Length;

/// `vapour.tight_both_sides`
pub struct VapourTightBothSides;

static META: RuleMeta = RuleMeta {
    id: "vapour.tight_both_sides",
    catalogue: "VA-03",
    title: "wood stands between two vapour-tight layers and cannot dry",
    grade: Grade::S2,
    before: "H0",
    limits: &["low_permeance.permeance", "low_permeance.wood_board"],
    explain: "\
# What it checks
No wall has wood, gypsum or a filled frame between two layers that let less vapour through than the rule set says,
both inboard of the gap. A sheet that opens when it is damp counts as open.

# Why
Every wall gets wet once. One that is shut on both sides stays wet.

# Example
    layer foam insulations.polyiso_board 50mm, controls heat
    layer sheathing sheets.plywood 12.5mm
    frame studs spruce 38mm x 140mm, fill mineral_wool
    layer retarder membranes.polyethylene, controls vapour

# Better
    layer retarder membranes.variable, controls vapour

# Basis
At least one side must dry: research and guides, no clause; so it warns. Codes allow foam outside and a vapour barrier
inside where the ratio of their table is kept: this rule still asks for one way to dry.

# Known gaps
Paint and wallpaper are seen only if they are declared as layers. Boards of wood up to 12.5 mm do not count as tight.
",
};

impl Rule for VapourTightBothSides {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let all = walls(context);
        if all.is_empty() {
            return;
        }
        let Some((limit, most)) = context.number_limit(&META, "low_permeance.permeance", report) else { return };
        let thin = context.limit("low_permeance.wood_board").and_then(Limit::length).unwrap_or_default();
        for (face, area, wall) in all {
            let subject = area_name(context, face, area);
            report.extend(judge(context, wall, &subject, (limit, most, thin)));
        }
    }
}

/// How a layer stands to vapour.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Tight {
    Yes,
    No,
    Unsaid,
}

fn tight(model: &Model, layer: &Layer, (most, thin): (f64, Length)) -> Tight {
    if is_thin_wood(model, layer, thin) {
        return Tight::No;
    }
    match permeance(model, layer) {
        // What opens when it is damp lets the wall dry.
        Some(permeance) if permeance.openest < most => Tight::Yes,
        Some(_) => Tight::No,
        None => Tight::Unsaid,
    }
}

fn judge(
    context: &CheckContext<'_>,
    wall: &Assembly,
    subject: &str,
    (limit, most, thin): (&Limit, f64, Length),
) -> Option<Finding> {
    let inner: Vec<(&Layer, Tight)> = wall
        .layers
        .iter()
        .skip(first_inboard(wall))
        .map(|layer| (layer, tight(context.model, layer, (most, thin))))
        .collect();
    let pair = |wanted: &[Tight]| {
        let is = |(_, how): &&(&Layer, Tight)| wanted.contains(how);
        let (outer, inmost) = (inner.iter().position(|one| is(&one)), inner.iter().rposition(|one| is(&one)));
        let (outer, inmost) = outer.zip(inmost)?;
        let between = inner.get(outer + 1..inmost)?;
        let harmed = between.iter().any(|(layer, _)| suffers(context.model, layer));
        let ends = (inner.get(outer)?, inner.get(inmost)?);
        harmed.then_some(ends)
    };
    if let Some(((outer, _), (inmost, _))) = pair(&[Tight::Yes]) {
        let message = format!(
            "`{}` outside and `{}` inside are both vapour-tight: what gets wet between them cannot dry",
            outer.name, inmost.name
        );
        let found = permeance(context.model, inmost).map_or(0.0, |permeance| permeance.openest);
        return Some(
            context
                .fault(&META, subject, outer.origin, message)
                .on_principle("research and guides: at least one side must dry", false)
                .also(inmost.origin, "the inner one")
                .also(limit.origin, "what counts as tight")
                .measured(Measure { value: Some(found), shown: shown(found) })
                .wanted(Measure { value: Some(most), shown: shown(most) })
                .help("let one side dry: a sheet inside that opens when damp, or insulation outside that vapour passes")
                .path(vec![outer.name.clone(), "no way to dry".to_owned(), inmost.name.clone()]),
        );
    }
    // One that does not say counts only beside one that is tight.
    let ((outer, _), (inmost, _)) = pair(&[Tight::Yes, Tight::Unsaid])?;
    let silent =
        [outer, inmost].into_iter().find(|layer| tight(context.model, layer, (most, thin)) == Tight::Unsaid)?;
    let other = if std::ptr::eq(*silent, *outer) { inmost } else { outer };
    let beside = tight(context.model, other, (most, thin)) == Tight::Yes;
    let missing = format!("permeance of `{}` (`permeance` or `vapour_factor`)", silent.name);
    beside.then(|| context.unknown(&META, subject, silent.origin, missing))
}

/// Water harms it: a frame, wood, gypsum.
fn suffers(model: &Model, layer: &Layer) -> bool {
    let kind = model.material_of(&layer.stuff).map_or("", |material| material.kind);
    matches!(layer.kind, LayerKind::Frame(_)) && (insulates(model, layer) || matches!(kind, "wood" | "wood_board"))
        || matches!(kind, "wood" | "wood_board" | "gypsum")
}
