//! Long screws through insulation that carry more weight than has been proven.

use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Measure, Remedy, Rule, RuleMeta};
use crate::loads::{Fastening, of_layers, on_screw, through_insulation};
use crate::model::Assembly;
use crate::physics::fastening;
use crate::units::{Keep, Length, decimal};

/// `screws.overloaded_through_insulation`
pub struct ScrewsOverloadedThroughInsulation;

static META: RuleMeta = RuleMeta {
    id: "screws.overloaded_through_insulation",
    catalogue: "FA-07",
    title: "long screws through insulation carry more weight than is proven",
    grade: Grade::S2,
    before: "H3",
    limits: &["light_cladding.weight", "long_screw.insulation", "long_screw.area"],
    explain: "\
# What it checks
Weight of cladding and strips on each screw that reaches the studs, times its lever (insulation, gap, half the
cladding): against the same sum for the case that is well proven, light cladding over thin insulation with a screw
every 16 in both ways. Indicative: an engineer confirms.

# Why
Overloaded screws bend a little more every season. The cladding creeps down: joints open at heads and close at
sills.

# Example
    layer insulation insulations.wool_board 100mm, controls heat
    gap cavity 19mm ventilated {
        furring furring.spruce 19mm x 64mm, every 24in on centre, vertical
        fasten  screws.structural 6mm x 200mm, into studs, every 600mm
    }

# Better
    layer insulation insulations.wool_board 100mm, controls heat
    gap cavity 19mm ventilated {
        furring furring.spruce 19mm x 64mm, every 16in on centre, vertical
        fasten  screws.structural 6mm x 200mm, into studs, every 200mm
    }

# Basis
12 kg/m2 and 38 mm: research on long screws, public page of a laboratory. Heavier or thicker needs a table or an
engineer; the comparison by bending is ours.

# Known gaps
Friction, compression of stiff insulation and screws set upward help, and are not counted. Bearing strips at the
foot are not known. Screw diameter is not compared.
",
};

impl Rule for ScrewsOverloadedThroughInsulation {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (face, area, wall) in walls(context) {
            let held = of_layers(context.model, &area_name(context, face, area), wall);
            if let Some(one) = through_insulation(wall, &held) {
                report.extend(judge(context, wall, one, &held));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, wall: &Assembly, one: &Fastening<'_>, held: &[Fastening<'_>]) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, one.subject.clone(), one.fasten.origin, missing));
    let loads = match on_screw(context.model, wall, one, held) {
        Ok(loads) => loads,
        Err(missing) => return unknown(missing),
    };
    if loads.bending <= loads.proven {
        return None;
    }
    let figure = |value: f64| decimal(value, Keep::Places(2));
    let message = format!(
        "each screw carries {} kg at {} from the wood behind: {} times what is proven",
        figure(loads.weight / fastening::GRAVITY),
        context.shown(Length::snap_m(loads.lever)),
        figure(loads.bending / loads.proven)
    );
    let moment = |value: f64| Measure { value: Some(value), shown: format!("{} N·m", figure(value)) };
    let closer = one.fasten.spacing.map(|spacing| {
        let most = spacing.as_m() * loads.proven / loads.bending;
        Length::snap_m((most * 100.0).floor() / 100.0)
    });
    let advice =
        closer.map_or_else(String::new, |most| format!("screw the strips every {} or closer, ", context.shown(most)));
    Some(
        context
            .fault(&META, one.subject.clone(), one.fasten.origin, message)
            .against(loads.limit)
            .measured(moment(loads.bending))
            .wanted(moment(loads.proven))
            .advise(
                format!("{advice}set a bearing strip at the foot, or have an engineer look at it (indicative)"),
                closer.map(|most| Remedy::Spacing { field: Some(most), corner: None }),
            ),
    )
}
