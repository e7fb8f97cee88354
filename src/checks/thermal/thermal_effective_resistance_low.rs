//! A wall that resists too little once its studs are counted.

use crate::checks::vapour::insulates;
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::figures::{WallType, heat};
use crate::model::{Assembly, Sureness};
use crate::units::{Range, System, display};

/// `thermal.effective_resistance_low`
pub struct ThermalEffectiveResistanceLow;

static META: RuleMeta = RuleMeta {
    id: "thermal.effective_resistance_low",
    catalogue: "TH-04",
    title: "the wall resists heat less than the code asks, with its studs counted",
    grade: Grade::S3,
    before: "H0",
    limits: &["wall_resistance.from_0", "wall_resistance.from_3000", "wall_resistance.from_6000"],
    explain: "\
# What it checks
What a wall with insulation in it resists from room air to outside air, studs, plates, strips and the air of its gap
counted: no less than the rule set asks at the site's degree-days. `wythe figures` shows the same figure. A
well-ventilated gap and what stands outside of it do not count. Where thickness or conductivity is a range, the wall may
pass in part of it only: then this cannot tell.

# Why
The number on the bag is that of the wool. A fifth of a framed wall is wood, which lets three times as much heat through;
and the cladding over an open gap keeps nothing warm.

# Example
    frame studs spruce 38mm x 89mm, every 16in on centre, fill mineral_wool

# Better
    layer insulation insulations.wool_board 50mm, controls heat
    frame studs spruce 38mm x 89mm, every 16in on centre, fill mineral_wool

# Basis
ISO 6946:2017, combined method, from memory. NBC Table 9.36.2.6, without heat recovery, from memory; so it warns.

# Known gaps
Asked only where a rule set in force names such limits, and of walls that hold insulation. Wood is counted from studs,
plates, and two studs and two rails at openings, unless `wood_share` says it; lintels, and floors, are not. Screws are not
counted in it, as the code does not. Steel studs count by a table of shares from memory; studs that it does not hold, and
metal strips through insulation, cannot be told unless the wall says what it `resists` as tested. Windows are not asked.
",
};

/// Degree-days from which a limit counts.
const BANDS: [(f64, &str); 3] =
    [(0.0, "wall_resistance.from_0"), (3000.0, "wall_resistance.from_3000"), (6000.0, "wall_resistance.from_6000")];

impl Rule for ThermalEffectiveResistanceLow {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        if !BANDS.iter().any(|(_, name)| context.limit(name).is_some()) {
            return;
        }
        for (wall, sums) in context.heat() {
            let Some(assembly) = wall.assembly(context.model) else { continue };
            if assembly.layers.iter().any(|layer| insulates(context.model, layer)) {
                report.extend(judge(context, (wall, assembly), sums));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, (wall, assembly): (&WallType, &Assembly), sums: &heat::Told) -> Option<Finding> {
    let subject = assembly.name.as_str();
    let unknown = |missing: String| Some(context.unknown(&META, subject, assembly.origin, missing));
    let found = match sums {
        Ok((sums, _)) if sums.is_valid => sums.total,
        Ok(_) => return unknown("a sum in two dimensions: its pieces are too unlike for one of layers".to_owned()),
        Err(missing) => return unknown(missing.clone()),
    };
    let (limit, wanted) = match context.limit_by_cold(&BANDS) {
        Ok(asked) => asked,
        // No place asks for more than the last band.
        Err(_)
            if BANDS
                .last()
                .and_then(|(_, name)| context.limit(name)?.number())
                .is_some_and(|most| found.low >= most) =>
        {
            return None;
        }
        Err(missing) => return unknown(missing),
    };
    if found.low >= wanted {
        return None;
    }
    let (measured, least) = (shown(context, found), shown(context, wanted.into()));
    let finding = if found.high >= wanted {
        context.in_part(&META, subject, assembly.origin, (measured, least)).against(limit)
    } else {
        let message =
            format!("`{}` resists only {} with its studs, {} is wanted", assembly.label, measured.shown, least.shown);
        let finding = context.fault(&META, subject, assembly.origin, message).against(limit);
        finding
            .measured(measured)
            .wanted(least)
            .help("put insulation outside of the frame, where no stud goes through it")
    };
    Some(counted(context, (wall, assembly), finding))
}

/// Says how wood was counted, where nobody said it.
fn counted(context: &CheckContext<'_>, (wall, assembly): (&WallType, &Assembly), finding: Finding) -> Finding {
    match heat::wood(&context.scene(), wall, assembly) {
        Some(Ok((share, trust))) if trust.sure == Sureness::Habit => finding.help(format!(
            "{} of the frame is {}; `wood_share` says it better",
            display::percent(share.high),
            trust.doubt
        )),
        _ => finding,
    }
}

/// `RSI 2.71 (R-15.4)`; a range from the least to the most.
fn shown(context: &CheckContext<'_>, value: Range) -> Measure {
    let one = |value: f64, system: System| display::resistance(value, system);
    let both = |value: f64| format!("{} ({})", one(value, context.units()), one(value, context.units().other()));
    let (low, high) = (both(value.low), both(value.high));
    Measure { value: Some(value.low), shown: if low == high { low } else { format!("{low} to {high}") } }
}
