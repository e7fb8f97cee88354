//! A lap too short for wind and capillarity.

use super::water_sheets;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::Layer;
use crate::units::Length;

/// `membrane.short_lap`
pub struct MembraneShortLap;

static META: RuleMeta = RuleMeta {
    id: "membrane.short_lap",
    catalogue: "LA-02",
    title: "sheets of the drainage plane lap too little",
    grade: Grade::S2,
    before: "H3",
    limits: &["membrane.lap", "membrane.end_lap"],
    explain: "\
# What it checks
Level laps and upright laps of every sheet that `controls water`, against the rule set and the maker's own least
lap.

# Why
Wind and capillarity carry water past a short lap.

# Example
    layer membrane membranes.vapour_open, controls water, lap 50mm, end_lap 50mm

# Better
    layer membrane membranes.vapour_open, controls water, lap 100mm, end_lap 150mm

# Basis
NBC 9.27.3.3 as read in the Ontario text: 100 mm. Upright laps: common practice, 150 mm.

# Known gaps
A taped seam is not counted for the length that is missing.
",
};

impl Rule for MembraneShortLap {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (subject, _, layer) in water_sheets(context) {
            let subject = format!("{subject}.{}", layer.name);
            report.extend(judge(context, &subject, layer, "level", layer.lap, "lap"));
            report.extend(judge(context, &subject, layer, "upright", layer.end_lap, "end_lap"));
        }
    }
}

fn judge(
    context: &CheckContext<'_>,
    subject: &str,
    layer: &Layer,
    which: &str,
    lap: Option<Length>,
    clause: &str,
) -> Option<Finding> {
    let name = format!("membrane.{clause}");
    let unknown = |missing: String| Some(context.unknown(&META, subject, layer.origin, missing));
    let Some((limit, least)) = context.limit(&name).and_then(|limit| Some((limit, limit.length()?))) else {
        return unknown(format!("no rule set in force has a limit `{name}`"));
    };
    let maker = context.model.product_of(&layer.stuff).and_then(|product| product.lap.as_ref());
    let wanted = maker.map_or(least, |maker| maker.value.max(least));
    let Some(lap) = lap else {
        return unknown(format!("length of the {which} laps of `{}` is not said (`{clause}`)", layer.name));
    };
    (lap < wanted).then(|| {
        let message =
            format!("{which} laps of `{}` are {}; {} is wanted", layer.name, context.shown(lap), context.shown(wanted));
        let finding = context
            .fault(&META, subject, layer.origin, message)
            .against(limit)
            .measured(context.measure(lap))
            .wanted(context.measure(wanted))
            .help(format!(
                "lap {} more, or tape a strip of {} over the lap, its upper edge shingled",
                context.shown(wanted - lap),
                context.shown(wanted)
            ));
        if wanted > least { finding.help("the maker of the sheet asks for more than the rule set") } else { finding }
    })
}
