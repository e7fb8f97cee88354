//! Long screws through insulation that carry more weight than has been proven.

use super::loads::{between_strips, length, number};
use super::{Fastening, of_layers};
use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Measure, Remedy, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::{Assembly, Furring, Layer};
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
            let held = of_layers(context, &area_name(context, face, area), wall);
            let through = |one: &&Fastening<'_>| one.is_furring && one.fasten.into == Some("studs");
            if let Some(one) = held.iter().find(through) {
                let cladding = held.iter().find(|one| one.is_cladding && reaches_behind(one));
                report.extend(judge(context, wall, one, cladding));
            }
        }
    }
}

/// Whether the cladding's own screws go through the insulation too, and carry their share.
fn reaches_behind(one: &Fastening<'_>) -> bool {
    matches!(one.fasten.into, Some("studs" | "structure" | "sheathing" | "plane"))
}

fn judge(
    context: &CheckContext<'_>,
    wall: &Assembly,
    one: &Fastening<'_>,
    cladding: Option<&Fastening<'_>>,
) -> Option<Finding> {
    let gap = stack::gap(wall)?;
    let (frame, _) = wall.frame()?;
    let behind = wall.layers.get(gap + 1..frame)?;
    if !behind.iter().any(|layer| layer.controls.heat) {
        return None;
    }
    let unknown = |missing: String| Some(context.unknown(&META, one.subject.clone(), one.fasten.origin, missing));
    let loads = match loads(context, wall, one, cladding) {
        Ok(loads) => loads,
        Err(missing) => return unknown(missing),
    };
    if loads.bending <= loads.proven {
        return None;
    }
    let figure = |value: f64| decimal(value, Keep::Places(2));
    let message = format!(
        "each screw carries {} kg at {} from the wood behind: {} times what is proven",
        figure(loads.each),
        context.shown(Length::snap_m(loads.lever)),
        figure(loads.bending / loads.proven)
    );
    let (limit, _) = number(context, "light_cladding.weight").ok()?;
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
            .against(limit)
            .measured(moment(loads.bending))
            .wanted(moment(loads.proven))
            .advise(
                format!("{advice}set a bearing strip at the foot, or have an engineer look at it (indicative)"),
                closer.map(|most| Remedy::Spacing { field: Some(most), corner: None }),
            ),
    )
}

struct Loads {
    each: f64,
    lever: f64,
    bending: f64,
    proven: f64,
}

fn loads(
    context: &CheckContext<'_>,
    wall: &Assembly,
    one: &Fastening<'_>,
    cladding: Option<&Fastening<'_>>,
) -> Result<Loads, String> {
    let (gap, (_, space)) = (stack::gap(wall).ok_or("no gap")?, wall.gap().ok_or("no gap")?);
    let furring = space.furring.first().ok_or("no furring")?;
    let at = stack::cladding(wall).ok_or_else(|| format!("the cladding of `{}` is not said", wall.name))?;
    let boards = wall.layers.get(at).ok_or("no cladding")?;
    let across = between_strips(furring).ok_or_else(|| format!("spacing of {} is not said (`every`)", one.what))?;
    let along =
        one.fasten.spacing.ok_or_else(|| format!("spacing of the fasteners of {} is not said (`every`)", one.what))?;
    let weight = weight_of(context, boards)? + strip_weight(context, furring, across)?;
    let mut screws = 1.0 / (across.as_m() * along.as_m());
    if let Some(cladding) = cladding {
        let along = boards.exposure.map(|(_, most)| most).or(cladding.fasten.spacing);
        screws +=
            along.map_or(0.0, |along| cladding.fasten.rows.unwrap_or(1).max(1) as f64 / (across.as_m() * along.as_m()));
    }
    let thickness = |layer: &Layer| {
        context.model.thickness_of(layer).ok_or_else(|| format!("thickness of layer `{}` is not said", layer.name))
    };
    let inner = context.model.sheathing(wall).or_else(|| wall.frame().map(|(frame, _)| frame)).ok_or("no frame")?;
    let soft: Result<Vec<Length>, String> = wall.layers.iter().take(inner).skip(gap + 1).map(thickness).collect();
    let soft: Length = soft?.into_iter().sum();
    let outer = (space.depth.1 + thickness(boards)? / 2).as_m();
    let lever = soft.as_m() + outer;
    let (_, light) = number(context, "light_cladding.weight")?;
    let (_, thin) = length(context, "long_screw.insulation")?;
    let (_, area) = number(context, "long_screw.area")?;
    let each = fastening::weight_on_screw(weight, screws).ok_or("no screws")?;
    let usual = fastening::weight_on_screw(light, 1.0 / area).ok_or("no screws")?;
    Ok(Loads {
        each: each / fastening::GRAVITY,
        lever,
        bending: fastening::bending(each, lever),
        proven: fastening::bending(usual, thin.as_m() + outer),
    })
}

/// kg/m² of the cladding: the maker's, or thickness times density.
fn weight_of(context: &CheckContext<'_>, layer: &Layer) -> Result<f64, String> {
    let maker = context.model.product_of(&layer.stuff).and_then(|product| product.weight.as_ref());
    let density = context.model.material_of(&layer.stuff).and_then(|material| material.density.as_ref());
    let solid = || Some(density?.value * context.model.thickness_of(layer)?.as_m());
    maker
        .map(|weight| weight.value)
        .or_else(solid)
        .ok_or_else(|| format!("`weight` of `{}` is not said", layer.stuff.name))
}

/// kg/m² of the strips.
fn strip_weight(context: &CheckContext<'_>, furring: &Furring, across: Length) -> Result<f64, String> {
    let maker = context.model.product_of(&furring.stuff).and_then(|product| product.mass.as_ref());
    let density = context.model.material_of(&furring.stuff).and_then(|material| material.density.as_ref());
    let solid = || Some(density?.value * furring.thickness.as_m() * furring.width?.as_m());
    let mass = maker.map(|mass| mass.value).or_else(solid);
    mass.map(|mass| mass / across.as_m()).ok_or_else(|| format!("`mass` of `{}` is not said", furring.stuff.name))
}
