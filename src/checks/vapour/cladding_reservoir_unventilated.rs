//! A cladding that holds rain, with nothing to carry its vapour off.

use super::{first_inboard, permeance, shown};
use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::{Assembly, Layer, Limit, Openness};
use crate::units::Length;

/// `cladding.reservoir_unventilated`
pub struct CladdingReservoirUnventilated;

static META: RuleMeta = RuleMeta {
    id: "cladding.reservoir_unventilated",
    catalogue: "VA-02",
    title: "sun drives the rain out of a wet cladding into the wall",
    grade: Grade::S2,
    before: "H0",
    limits: &["gap.depth", "low_permeance.permeance", "vapour_open.permeance"],
    explain: "\
# What it checks
A cladding that takes up much water (`absorbs_water much`: brick, render, bare softwood) in front of a plane that
vapour passes, in a wall with a tight layer inside, has a gap that is ventilated and as deep as the rule set asks.

# Why
The sun on a rain-wet wall drives its water inwards as vapour. It condenses on the cool vapour barrier behind the
plaster, in summer, where nobody looks for it.

# Example
    gap cavity 19mm vented

# Better
    gap cavity 19mm ventilated

# Basis
Research on claddings that store rain. No clause; so it warns. That a plane is open from 572 ng/(Pa·s·m²) (10 perm) up is
the upper end of vapour class III, read on public pages.

# Known gaps
Claddings that take up little water are not asked. Coats of paint are not known.
",
};

impl Rule for CladdingReservoirUnventilated {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let all = walls(context);
        if all.is_empty() {
            return;
        }
        let Some((_, tight)) = context.number_limit(&META, "low_permeance.permeance", report) else { return };
        let Some(open) = context.number_limit(&META, "vapour_open.permeance", report) else { return };
        let Some((_, depth)) = context.length_limit(&META, "gap.depth", report) else { return };
        for (face, area, wall) in all {
            let subject = area_name(context, face, area);
            report.extend(judge(context, wall, &subject, (tight, open, depth)));
        }
    }
}

/// A cladding without a gap is the outermost layer.
fn cladding(wall: &Assembly) -> Option<&Layer> {
    stack::cladding(wall).and_then(|at| wall.layers.get(at)).or_else(|| wall.layers.first())
}

/// Why its vapour is not carried off; the error is the missing fact.
fn shut(context: &CheckContext<'_>, wall: &Assembly, depth: Length) -> Result<Option<String>, String> {
    let Some((layer, gap)) = wall.gap() else { return Ok(Some("there is no gap behind it".to_owned())) };
    match gap.openness {
        Some(Openness::Vented) => Ok(Some(format!("`{}` is open at its foot only", layer.name))),
        Some(Openness::Ventilated) if gap.net_depth() < depth => {
            Ok(Some(format!("`{}` is only {} deep", layer.name, context.shown(gap.net_depth()))))
        }
        Some(Openness::Ventilated) => Ok(None),
        None => Err(format!("whether `{}` is vented or ventilated", layer.name)),
    }
}

fn judge(
    context: &CheckContext<'_>,
    wall: &Assembly,
    subject: &str,
    (tight, (limit, open), depth): (f64, (&Limit, f64), Length),
) -> Option<Finding> {
    let layer = cladding(wall)?;
    let absorbs = context.model.material_of(&layer.stuff).and_then(|material| material.absorbs_water);
    if matches!(absorbs, Some("no" | "little")) {
        return None;
    }
    let inside = first_inboard(wall);
    let (at, plane) = wall.drainage_plane().filter(|(at, _)| *at >= inside)?;
    let passes = permeance(context.model, plane).map(|permeance| permeance.openest);
    let behind = wall.layers.get(at + 1..)?;
    let inner = behind.iter().find(|layer| permeance(context.model, layer).is_some_and(|one| one.openest < tight))?;
    if passes.is_some_and(|passes| passes < open) {
        return None;
    }
    let subject = format!("{subject}.{}", layer.name);
    let unknown = |missing: String| Some(context.unknown(&META, subject.as_str(), layer.origin, missing));
    let why = match shut(context, wall, depth) {
        Ok(why) => why?,
        Err(missing) => return unknown(missing),
    };
    if absorbs.is_none() {
        return unknown(format!("whether `{}` takes up rain (`absorbs_water`)", layer.stuff.name));
    }
    let Some(passes) = passes else { return unknown(format!("permeance of `{}` (`permeance`)", plane.name)) };
    let message = format!(
        "`{}` takes up rain and {why}: the sun drives it through `{}` to `{}`",
        layer.name, plane.name, inner.name
    );
    let finding = context.fault(&META, subject.as_str(), layer.origin, message).against(limit);
    Some(
        finding
            .measured(Measure { value: Some(passes), shown: shown(passes) })
            .wanted(Measure { value: Some(open), shown: format!("less than {}", shown(open)) })
            .also(plane.origin, "the plane that vapour passes")
            .help("open the top of the gap as well, or take a tighter plane, or a sheet inside that opens when damp"),
    )
}
