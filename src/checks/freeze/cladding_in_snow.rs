//! Cladding that takes up water and stands in the usual snow.

use super::snow;
use crate::checks::water::base_near_roof::nearest;
use crate::checks::water::low::{self, Foot};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::ground::{self, Near};
use crate::model::Limit;
use crate::units::Length;

/// `cladding.in_snow`
pub struct CladdingInSnow;

static META: RuleMeta = RuleMeta {
    id: "cladding.in_snow",
    catalogue: "FR-03",
    title: "cladding that takes up water stands in snow",
    grade: Grade::S2,
    before: "H4",
    limits: &["clearance.ground", "clearance.deck", "clearance.deck_snow"],
    explain: "\
# What it checks
Cladding that takes up water ends above the usual depth of `snow` on the ground in front of it, and above a deck by
`clearance.deck_snow` where snow lies. What is nearer than `clearance.ground` or `clearance.deck` is told by `base.near_ground`
and `base.near_roof`.

# Why
Boards that stand in snow soak and delaminate, and their paint lifts.

# Example
    snow 400mm
    ground at left -250mm

# Better
    snow 400mm
    ground at left -450mm
    // or a skirt that takes up no water below the boards

# Basis
Common practice: cladding is of a tolerant kind up to the usual snow.

# Known gaps
Drifts, and snow on roofs, are not foreseen.
",
};

impl Rule for CladdingInSnow {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let thirsty = |foot: &Foot<'_, '_>| matches!(foot.absorbs, Some("much" | "little"));
        let bases: Vec<_> = low::feet(context, "base").into_iter().filter(thirsty).collect();
        let decks: Vec<_> = low::feet(context, "deck_line").into_iter().filter(thirsty).collect();
        if bases.is_empty() && decks.is_empty() {
            return;
        }
        let Some(snow) = snow(context, &META, report).filter(|snow| *snow > Length::ZERO) else { return };
        if let Some((limit, least)) =
            (!bases.is_empty()).then(|| context.length_limit(&META, "clearance.ground", report)).flatten()
        {
            for foot in &bases {
                report.extend(in_snow(context, foot, snow, (limit, least)));
            }
        }
        if decks.is_empty() {
            return;
        }
        let Some((_, told)) = context.length_limit(&META, "clearance.deck", report) else { return };
        let Some((limit, least)) = context.length_limit(&META, "clearance.deck_snow", report) else { return };
        for foot in &decks {
            let near = nearest(foot, least).flatten().filter(|near| near.clearance >= told);
            report.extend(
                near.map(|near| found(context, foot, &near, "the deck, where snow lies", least).against(limit)),
            );
        }
    }
}

fn in_snow(
    context: &CheckContext<'_>,
    foot: &Foot<'_, '_>,
    snow: Length,
    (limit, least): (&Limit, Length),
) -> Vec<Finding> {
    let line = ground::ground_line(foot.face);
    let told = ground::too_near(foot.run.segment, &line, &[], least.max(foot.keep.unwrap_or(least)));
    let new = |near: &Near| !told.iter().any(|old| old.from.x <= near.from.x && near.to.x <= old.to.x);
    let near = ground::too_near(foot.run.segment, &line, &[], snow);
    let near = near.iter().filter(|near| new(near));
    near.map(|near| {
        let words = format!("the ground, where {} of snow are usual", context.shown(snow));
        let finding = found(context, foot, near, &words, snow).against(limit);
        finding.on_principle("the site's own depth of `snow`; common practice", false)
    })
    .collect()
}

fn found(context: &CheckContext<'_>, foot: &Foot<'_, '_>, near: &Near, what: &str, wanted: Length) -> Finding {
    let message = low::sentence(context, foot, near, what);
    let finding = context
        .fault(&META, foot.run.name.as_str(), foot.run.origin, message)
        .measured(context.measure(near.clearance))
        .wanted(context.measure(wanted))
        .help(format!(
            "raise `{}` by {}, or put a skirt that takes up no water below it",
            foot.cladding,
            context.shown(wanted - near.clearance)
        ));
    low::place(context, finding, foot, near)
}
