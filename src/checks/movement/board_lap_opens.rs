//! Lengths of cladding whose end laps draw apart on the coldest night.

use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Remedy, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::Layer;
use crate::physics::movement;
use crate::units::{Length, display};

/// `board.lap_opens`
pub struct BoardLapOpens;

static META: RuleMeta = RuleMeta {
    id: "board.lap_opens",
    catalogue: "MO-02",
    title: "an end lap of cladding opens in the cold",
    grade: Grade::S2,
    before: "H5",
    limits: &["trim.lap_cold"],
    explain: "\
# What it checks
Cladding of metal or plastic whose lengths lap at their ends (`end_lap`): what is left of the lap on the coldest day
of the climate, lap - αL(T_set - T_cold), against the length of the rule set.

# Why
Plastic siding of 3.6 m draws in by a centimetre from a warm day to the coldest night. A lap that opens shows the
wall behind.

# Example
    layer boards boards.cellular_pvc 16mm {
        end_lap 12mm
        applied at 20degC
    }

# Better
    layer boards boards.cellular_pvc 16mm {
        end_lap 30mm
        applied at 20degC
    }

# Basis
10 mm left at the coldest: common practice. Expansion: the material. Coldest air: the climate of the site.

# Known gaps
The longest stock length is taken to move to one side.
",
};

impl Rule for BoardLapOpens {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (face, area, wall) in walls(context) {
            if let Some(layer) = stack::cladding(wall).and_then(|at| wall.layers.get(at)) {
                let subject = format!("{}.{}", area_name(context, face, area), layer.name);
                report.extend(judge(context, &subject, layer));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, subject: &str, layer: &Layer) -> Option<Finding> {
    let lap = layer.end_lap?;
    let material = context.model.material_of(&layer.stuff).filter(|one| matches!(one.kind, "metal" | "plastic"))?;
    let unknown = |missing: String| Some(context.unknown(&META, subject, layer.origin, missing));
    let Some((limit, least)) = context.limit("trim.lap_cold").and_then(|limit| Some((limit, limit.length()?))) else {
        return unknown("no rule set in force has a limit `trim.lap_cold`".to_owned());
    };
    let product = context.model.product_of(&layer.stuff);
    let longest = product.and_then(|product| product.stock.iter().chain(&product.sheet).copied().max());
    let Some(stock) = longest else {
        return unknown(format!("stock length of `{}` is not said", layer.stuff.name));
    };
    let Some(expansion) = material.expansion.as_ref().map(|expansion| expansion.value) else {
        return unknown(format!("thermal expansion of `{}` is not said", material.name));
    };
    let climate = context.model.site.as_ref().and_then(|site| site.climate.as_ref());
    let Some((coldest, _)) = climate.and_then(|climate| climate.extremes) else {
        return unknown("the coldest day of the climate is not said (`extremes`)".to_owned());
    };
    let Some(set) = layer.applied else {
        return unknown(format!("temperature when `{}` goes on is not said (`applied at`)", layer.name));
    };
    let wanted = movement::lap_when_set(least.as_m(), expansion, stock.as_m(), set, coldest);
    // A tenth of a millimetre is below what a tape shows.
    if lap.as_m() >= wanted - 1e-4 {
        return None;
    }
    let left = Length::snap_m(lap.as_m() - (wanted - least.as_m()));
    let cold = display::temperature(coldest, context.units());
    let message = if left < Length::ZERO {
        format!("end laps of `{}` open by {} at {cold}", layer.name, context.shown(left.abs()))
    } else {
        format!(
            "end laps of `{}` are {} at {cold}; {} is wanted",
            layer.name,
            context.shown(left),
            context.shown(least)
        )
    };
    let whole = Length::mm((wanted * 1000.0 - 0.05).ceil() as i64);
    Some(
        context
            .fault(&META, subject, layer.origin, message)
            .against(limit)
            .measured(context.measure(left))
            .wanted(context.measure(least))
            .advise(
                format!("lap two lengths by {} or more, or take shorter lengths", context.shown(whole)),
                Remedy::Lap(whole),
            ),
    )
}
