//! Two lengths of trim that draw apart on the coldest night.

use crate::checks::trims::{Laid, judge_each};
use crate::checks::{CheckContext, Finding, Grade, Remedy, Rule, RuleMeta};
use crate::physics::movement;
use crate::units::{Length, display};

/// `trim.lap_opens`
pub struct TrimLapOpens;

static META: RuleMeta = RuleMeta {
    id: "trim.lap_opens",
    catalogue: "MO-02",
    title: "a lap of two lengths of trim opens in the cold",
    grade: Grade::S2,
    before: "H5",
    limits: &["trim.lap_cold"],
    explain: "\
# What it checks
Of every trim that is longer than its longest stock length and has a `lap`: lap - αL(T_set - T_cold), what is left
of the lap on the coldest day of the climate, against the length of the rule set.

# Why
A base channel of aluminium draws in by several millimetres from a warm day to the coldest night. A lap that opens
shows a gap and drops the water it should carry into the wall.

# Example
    trim base_channel channels.two_part along base {
        lap 12mm
        set at 20degC
    }

# Better
    trim base_channel channels.two_part along base {
        lap 25mm
        set at 20degC
    }

# Basis
10 mm left at the coldest: common practice. Expansion: the material. Coldest air: the climate of the site.

# Known gaps
A full stock length is taken to move to one side. A clear night cools a surface below the air; moisture moves wood
more than heat does; neither is counted.
",
};

impl Rule for TrimLapOpens {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        report.extend(judge_each(context, judge));
    }
}

fn judge(context: &CheckContext<'_>, piece: &Laid<'_>) -> Option<Finding> {
    let trim = piece.trim;
    let unknown = |missing: String| Some(context.unknown(&META, piece.subject.clone(), trim.origin, missing));
    let lap = trim.lap?;
    let Some(stock) = piece.stock() else {
        return unknown(format!("stock length of `{}` is not said", piece.product.name));
    };
    if piece.is_joined() != Some(true) {
        return None;
    }
    let Some((limit, least)) = context.limit("trim.lap_cold").and_then(|limit| Some((limit, limit.length()?))) else {
        return unknown("no rule set in force has a limit `trim.lap_cold`".to_owned());
    };
    let Some(expansion) = piece.material.and_then(|material| material.expansion.as_ref()).map(|value| value.value)
    else {
        return unknown(format!("thermal expansion of `{}` is not said", piece.product.name));
    };
    let climate = context.model.site.as_ref().and_then(|site| site.climate.as_ref());
    let Some((coldest, hottest)) = climate.and_then(|climate| climate.extremes) else {
        return unknown("the coldest day of the climate is not said (`extremes`)".to_owned());
    };
    let wanted = |set: f64| movement::lap_when_set(least.as_m(), expansion, stock.as_m(), set, coldest);
    // Without a day: it keeps if it keeps from the hottest, and fails if it fails with no fall of temperature at all.
    // A tenth of a millimetre is below what a tape shows.
    let keeps = |set: f64| lap.as_m() >= wanted(set) - 1e-4;
    let set = match trim.set_at {
        Some(set) => set,
        None if keeps(hottest) => return None,
        None if keeps(coldest) => {
            return unknown(format!("temperature when `{}` goes on is not said (`set at`)", trim.name));
        }
        None => coldest,
    };
    if keeps(set) {
        return None;
    }
    let left = Length::snap_m(lap.as_m() - (wanted(set) - least.as_m()));
    let cold = display::temperature(coldest, context.units());
    let message = if left < Length::ZERO {
        format!("the lap of `{}` opens by {} at {cold}", trim.name, context.shown(left.abs()))
    } else {
        format!("`{}` laps {} at {cold}; {} is wanted", trim.name, context.shown(left), context.shown(least))
    };
    let whole = Length::mm((wanted(set) * 1000.0 - 0.05).ceil() as i64);
    Some(
        context
            .fault(&META, piece.subject.clone(), trim.origin, message)
            .against(limit)
            .measured(context.measure(left))
            .wanted(context.measure(least))
            .advise(format!("lap two lengths by {} or more", context.shown(whole)), Remedy::Lap(whole)),
    )
}
