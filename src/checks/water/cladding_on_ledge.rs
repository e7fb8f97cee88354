//! Cladding that rests on a flashing and drinks from it.

use super::low;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Limit, Sourced};
use crate::plan::{Part, Run};
use crate::units::Length;

/// `cladding.on_ledge`
pub struct CladdingOnLedge;

static META: RuleMeta = RuleMeta {
    id: "cladding.on_ledge",
    catalogue: "DR-09",
    title: "the cladding rests on a flashing",
    grade: Grade::S2,
    before: "H4",
    limits: &["clearance.flashing"],
    explain: "\
# What it checks
The outermost flashing below cladding (base, head, transition) leaves `holds_up` between itself and the boards: the cladding
maker's `clearance` if its product has one, else `clearance.flashing`.

# Why
A board that stands on wet metal wicks water into its end, and the paint goes first.

# Example
    part flashing metal, slope 6deg, drip 12mm out 6mm, holds_up 0mm

# Better
    part flashing metal, slope 6deg, drip 12mm out 6mm, holds_up 10mm

# Basis
Practice in New Zealand, public page: 5 mm. 6 mm is usual elsewhere; the maker's number wins.

# Known gaps
Step flashings are told by `base.near_roof`. Cladding that takes up no water is not asked.
",
};

impl Rule for CladdingOnLedge {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let ledges: Vec<_> = context.plan.runs.iter().filter_map(|run| Some((run, ledge(context, run)?))).collect();
        if ledges.is_empty() {
            return;
        }
        let Some((limit, least)) = context.length_limit(&META, "clearance.flashing", report) else { return };
        for (run, part) in ledges {
            report.extend(judge(context, run, part, (limit, least)));
        }
    }
}

/// The outermost flashing on which the cladding above could stand.
fn ledge<'c>(context: &'c CheckContext<'_>, run: &'c Run) -> Option<&'c Part> {
    if !matches!(run.kind, "base" | "head" | "transition" | "deck_line" | "floor_line" | "ledger" | "underside") {
        return None;
    }
    context.plan.parts_of(run).filter(|part| matches!(part.spec.kind, "flashing" | "apron")).last()
}

fn judge(context: &CheckContext<'_>, run: &Run, part: &Part, (limit, least): (&Limit, Length)) -> Option<Finding> {
    let layer = low::assembly(context, run.face, run.area).and_then(low::cladding)?;
    if context.model.material_of(&layer.stuff).and_then(|material| material.absorbs_water) == Some("no") {
        return None;
    }
    let maker: Option<&Sourced<Length>> =
        context.model.product_of(&layer.stuff).and_then(|product| product.clearance.as_ref());
    let wanted = maker.map_or(least, |maker| maker.value);
    let Some(left) = part.spec.holds_up else {
        let missing = format!("`holds_up` of `{}`: the gap between it and `{}`", part.name, layer.stuff.name);
        let finding =
            context.unknown(&META, part.name.as_str(), run.origin, missing).also(part.spec.origin, "the part");
        return Some(context.on_run(finding, run, part.segment));
    };
    if left >= wanted {
        return None;
    }
    let message = format!("`{}` stands {} above `{}`", layer.stuff.name, context.shown(left), part.name);
    let finding = context.fault(&META, part.name.as_str(), run.origin, message).against(limit);
    let finding = match maker {
        Some(maker) => finding.on_principle(&format!("the maker's clearance: {}", maker.source), maker.sure.is_firm()),
        None => finding,
    };
    let finding = finding
        .measured(context.measure(left))
        .wanted(context.measure(wanted))
        .also(part.spec.origin, "the flashing")
        .help(format!("raise the lowest course by {}, or cut it there", context.shown(wanted - left)));
    Some(context.on_run(finding, run, part.segment))
}
