//! A surface of the room in a plane cut so cold that mould may grow on it.

use crate::checks::{CheckContext, Finding, Grade, Measure, Of, Rule, RuleMeta};
use crate::figures::{MONTHS, heat_cuts, moisture};
use crate::model::HeatCut;

/// `heat_cut.cold_surface`
pub struct HeatCutColdSurface;

static META: RuleMeta = RuleMeta {
    id: "heat_cut.cold_surface",
    catalogue: "",
    title: "mould may grow on the coldest surface of a cut",
    grade: Grade::S3,
    before: "H0",
    limits: &["moisture.surface_humidity"],
    explain: "\
# What it checks
The coldest surface of the room in each `heat_cut` is warm enough that in every month the air at it stays below the
humidity of the rule set, with the rooms and the climate of the site. `wythe figures` shows the same fRsi.

# Why
Mould grows first where the wall is coldest: in corners, on studs, at the frames of windows. A wall that is warm enough
between its studs says nothing of them.

# Example
    heat_cut jamb {
        region from (0mm, 0mm) to (68mm, 90mm) of spruce

# Better
    heat_cut jamb {
        region from (0mm, 0mm) to (20mm, 90mm) of insulations.wool_board
        region from (20mm, 0mm) to (88mm, 90mm) of spruce

# Basis
ISO 13788:2012, clause 5, with surfaces of 0.25 m²·K/W in the room, and ISO 10211:2017 for the cut, both from memory; so
it warns.

# Known gaps
Asked only where the site says `indoors` and `humidity_class`. What nobody cut is not looked at; where three planes meet it
is colder than in any plane cut. Of a conductivity known within bounds the middle counts. Each cut is asked once, whatever
house it belongs to.
",
};

impl Rule for HeatCutColdSurface {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn of(&self) -> Of {
        Of::Cut
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let site = context.model.site.as_ref();
        // Who says nothing of the rooms does not ask.
        if site.is_some_and(|site| site.indoors.is_some() || site.humidity_class.is_some()) {
            report.extend(context.model.heat_cuts.iter().filter_map(|cut| judge(context, cut)));
        }
    }
}

fn judge(context: &CheckContext<'_>, cut: &HeatCut) -> Option<Finding> {
    if cut.broken {
        return None;
    }
    let unknown = |missing: String| Some(context.unknown(&META, cut.name.as_str(), cut.origin, missing));
    let air = match moisture::months(context.model.site.as_ref()) {
        Ok(air) => air,
        Err(missing) => return unknown(missing),
    };
    let limit = context.limit("moisture.surface_humidity").and_then(|limit| Some((limit, limit.number()?)));
    let Some((limit, humidity)) = limit else { return unknown("a limit `moisture.surface_humidity`".to_owned()) };
    let (month, needed) = moisture::critical(&air, humidity)?;
    let has = match heat_cuts::coldest_factor(context.model, cut, needed) {
        Ok(has) => has,
        Err(missing) => return unknown(missing),
    };
    if has >= needed {
        return None;
    }
    let month = MONTHS.get(month).unwrap_or(&"");
    let message = format!(
        "the coldest surface of `{}` is too cold in {month}: its temperature factor is {has:.2}, {needed:.2} is wanted",
        cut.name
    );
    let shown = |value: f64| Measure { value: Some(value), shown: format!("factor {value:.2}") };
    let finding = context.fault(&META, cut.name.as_str(), cut.origin, message).against(limit);
    Some(finding.measured(shown(has)).wanted(shown(needed)).help(
        "insulate where its drawing shows it coldest, best outboard of what carries the heat; or bring the humidity of the rooms down",
    ))
}
