//! A tight layer outboard of the insulation that is not kept warm enough.

use super::first_inboard;
use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Measure, Remedy, Rule, RuleMeta};
use crate::figures::outboard::{self, BANDS, Outer, Tight};
use crate::model::{Assembly, Layer, Limit};
use crate::units::Length;

/// `vapour.cold_tight_layer`
pub struct VapourColdTightLayer;

static META: RuleMeta = RuleMeta {
    id: "vapour.cold_tight_layer",
    catalogue: "VA-01",
    title: "a vapour-tight layer stands in the cold, and the rooms' vapour condenses on it",
    grade: Grade::S2,
    before: "H0",
    limits: &[
        "low_permeance.permeance",
        "low_permeance.leakage",
        "low_permeance.wood_board",
        "insulation_ratio.from_0",
        "insulation_ratio.from_5000",
        "insulation_ratio.from_6000",
        "insulation_ratio.from_7000",
        "insulation_ratio.from_8000",
        "insulation_ratio.from_9000",
        "insulation_ratio.from_10000",
        "insulation_ratio.from_11000",
        "insulation_ratio.from_12000",
    ],
    explain: "\
# What it checks
Every layer inboard of the gap that lets less vapour through than the rule set says, and less air where it tells its
leakage: the thermal resistance outboard of its inner face, divided by that inboard, is no less than the table asks for at
the site's degree-days. The gap and everything outboard of it count as outside. A layer on the warm side passes by itself.

# Why
In winter the air of the rooms condenses on the inner face of foam, foil or an adhered membrane that is not kept warm.

# Example
    layer foam insulations.xps_board 25mm, controls heat
    frame studs spruce 38mm x 140mm, fill mineral_wool

# Better
    layer foam insulations.xps_board 50mm, controls heat

# Basis
NBC Table 9.25.5.2: its bands were seen in a public copy, its ratios are from memory; so it warns. Permeance under
60 ng/(Pa·s·m²), 9.25.5.1, public intent page. Boards of wood up to 12.5 mm are left out, as the code does: from memory.

# Known gaps
A layer that does not say its `air_leakage` is taken to stop air. Studs count as their filling. The table is for rooms of
usual humidity; for `interior humid` or `pool` this rule cannot tell.
",
};

impl Rule for VapourColdTightLayer {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let all = walls(context);
        if all.is_empty() {
            return;
        }
        if context.number_limit(&META, "low_permeance.permeance", report).is_none() {
            return;
        }
        let Some(limits) = Tight::of(context.model) else { return };
        for (face, area, wall) in all {
            for outer in outboard::of(context.model, wall, limits) {
                let subject = format!("{}.{}", area_name(context, face, area), outer.layer.name);
                report.extend(judge(context, wall, &outer, &subject));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, wall: &Assembly, outer: &Outer<'_>, subject: &str) -> Option<Finding> {
    let Outer { at, layer, tight, resistances } = outer;
    let unknown = |missing: String| Some(context.unknown(&META, subject, layer.origin, missing));
    let (outboard, inboard) = match resistances {
        Ok(both) => both,
        Err(_) if tight.is_none() => return unknown(permeance_of(layer)),
        Err(missing) => return unknown(missing.clone()),
    };
    let found = outer.ratio()?;
    let (limit, wanted) = match context.limit_by_cold(&BANDS) {
        Ok(asked) => asked,
        // No place on earth asks for more than the last band.
        Err(_)
            if context
                .limit("insulation_ratio.from_12000")
                .and_then(Limit::number)
                .is_some_and(|last| found.low >= last) =>
        {
            return None;
        }
        Err(missing) => return unknown(missing),
    };
    if found.low >= wanted {
        let humid = context.model.site.as_ref().and_then(|site| site.interior);
        return match (humid, tight) {
            (Some(humid @ ("humid" | "pool")), Some(true)) => unknown(format!(
                "how warm `{}` must be kept beside {humid} rooms: no table holds that, have it calculated",
                layer.name
            )),
            _ => None,
        };
    }
    if tight.is_none() {
        return unknown(permeance_of(layer));
    }
    let (least, most) = (format!("{:.2}", found.low), format!("{:.2}", found.high));
    let told = if least == most { least } else { format!("{least} to {most}") };
    let shown = |value: f64, words: &str| Measure { value: Some(value), shown: format!("ratio {words}") };
    let (measured, asked) = (shown(found.low, &told), shown(wanted, &format!("{wanted:.2}")));
    if found.high >= wanted {
        return Some(context.in_part(&META, subject, layer.origin, (measured, asked)).against(limit));
    }
    let message = format!(
        "`{}` is vapour-tight and too cold: {told} of the resistance behind it stands outboard, {wanted:.2} is wanted",
        layer.name
    );
    let finding = context.fault(&META, subject, layer.origin, message).against(limit).measured(measured).wanted(asked);
    let (advice, remedy) = more(context, wall, (first_inboard(wall), *at), wanted * inboard.high - outboard.low);
    let finding = finding.advise(advice, remedy);
    Some(finding.help("or take a layer that vapour passes, and leave the tight one to the warm side"))
}

fn permeance_of(layer: &Layer) -> String {
    format!("permeance of `{}` (`permeance` or `vapour_factor`)", layer.name)
}

/// "add 31 mm to `foam`", or how much resistance is lacking where no outboard layer insulates.
fn more(
    context: &CheckContext<'_>,
    wall: &Assembly,
    (outside, at): (usize, usize),
    lack: f64,
) -> (String, Option<Remedy>) {
    let outer = wall.layers.get(outside..=at).unwrap_or_default();
    let best = outer.iter().find(|layer| super::insulates(context.model, layer)).and_then(|layer| {
        let conductivity = context.model.material_of(&layer.stuff)?.conductivity.as_ref()?.value.high;
        Some((layer, Length::mm((lack * conductivity * 1000.0).ceil() as i64)))
    });
    match best {
        Some((layer, by)) => {
            (format!("add {} or more to `{}`", context.shown(by), layer.name), Some(Remedy::Thicken(by)))
        }
        None => (format!("put {lack:.2} m²·K/W or more of insulation outboard of it"), None),
    }
}
