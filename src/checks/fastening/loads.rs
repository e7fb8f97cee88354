//! What wind and weight ask of a fastener, and what it holds: facts for the rules about spacing. Indicative.

use std::collections::BTreeMap;

use super::{Fastening, of_layers};
use crate::checks::metals::product_name;
use crate::checks::pieces::{area_name, faces, wall};
use crate::checks::{CheckContext, Finding};
use crate::layout::{ground, stack};
use crate::model::{FaceId, Furring, LayerKind, Limit, Stuff};
use crate::physics::fastening::{self, Shank};
use crate::physics::{weather, wind};
use crate::source::Span;
use crate::units::{Dimension, Length, Quantity, display};

/// Suction on one face, specified, positive outward.
pub(crate) struct Suction<'m> {
    /// Away from the corners, Pa.
    pub field: f64,
    /// In the zone at the corners, Pa.
    pub corner: f64,
    /// Width of that zone.
    pub zone: Length,
    /// The limit that gives the shape of the greatest suction.
    pub limit: &'m Limit,
}

/// Asks a rule of the cladding and the furring of every wall on every face. The same wall stands on several faces: the one
/// that asks most of it is told, so the answer comes with how far it is beyond.
pub(super) fn worst_of_faces<'c>(
    context: &CheckContext<'c>,
    judge: impl Fn(&CheckContext<'c>, FaceId, &Fastening<'c>) -> Option<(f64, Finding)>,
) -> Vec<Finding> {
    let mut worst: BTreeMap<(Span, String), (f64, Finding)> = BTreeMap::new();
    for (id, face) in faces(context.model) {
        for at in 0..face.areas.len() {
            let Some(wall) = wall(context, id, at) else { continue };
            let held = of_layers(context, &area_name(context, id, at), wall);
            for one in held.iter().filter(|one| one.is_cladding || one.is_furring) {
                let Some((share, finding)) = judge(context, id, one) else { continue };
                let key = (one.fasten.origin, format!("{}{}", wall.label, one.what));
                if worst.get(&key).is_none_or(|(known, _)| share > *known) {
                    worst.insert(key, (share, finding));
                }
            }
        }
    }
    worst.into_values().map(|(_, finding)| finding).collect()
}

/// A limit as a number; the error is the missing fact.
pub(super) fn number<'m>(context: &CheckContext<'m>, name: &str) -> Result<(&'m Limit, f64), String> {
    let found = context.limit(name).and_then(|limit| Some((limit, limit.number()?)));
    found.ok_or_else(|| format!("no rule set in force has a limit `{name}`"))
}

/// A limit as a length; the error is the missing fact.
pub(super) fn length<'m>(context: &CheckContext<'m>, name: &str) -> Result<(&'m Limit, Length), String> {
    let found = context.limit(name).and_then(|limit| Some((limit, limit.length()?)));
    found.ok_or_else(|| format!("no rule set in force has a limit `{name}`"))
}

/// Reference wind pressure of the site, and whether the country upwind is rough; the error is the missing fact.
pub(super) fn site_wind(context: &CheckContext<'_>) -> Result<(f64, bool), String> {
    let site = context.model.site.as_ref().ok_or("where the wall stands is not said (`site`)")?;
    let climate = || site.climate.as_ref().and_then(|climate| climate.wind);
    let reference = site.wind.or_else(climate).ok_or("the reference wind pressure of the site is not said (`wind`)")?;
    let terrain = site.terrain.ok_or("whether the country upwind is open or rough is not said (`terrain`)")?;
    Ok((reference, terrain == "rough"))
}

/// The wind's suction on a face; the error is the missing fact.
pub(crate) fn suction<'m>(context: &CheckContext<'m>, id: FaceId) -> Result<Suction<'m>, String> {
    let (reference, rough) = site_wind(context)?;
    let face = context.model.face(id).ok_or("the face is not known")?;
    let bounds = context.plan.face(id).and_then(|plan| plan.outline.bounds()).ok_or("the outline is not known")?;
    let lowest = ground::ground_line(face).iter().map(|point| point.y).min();
    let lowest =
        lowest.ok_or_else(|| format!("the height of the ground before `{}` is not said (`ground`)", face.name))?;
    let height = (bounds.top - lowest).as_m();
    let importance = number(context, "wind.importance")?.1;
    let inside = number(context, "wind.inside")?.1;
    let field = number(context, "wind.suction_field")?.1;
    let (limit, corner) = number(context, "wind.suction_corner")?;
    let exposure = wind::exposure_factor(height, rough);
    let net = |shape: f64| wind::net_suction(importance, reference, exposure, -shape, inside);
    let zone = Length::snap_m(weather::edge_zone(bounds.width().as_m(), height));
    Ok(Suction { field: net(field), corner: net(corner), zone, limit })
}

/// What one fastener holds against being pulled off, N.
pub(super) struct Hold {
    /// The lesser of withdrawal and pull-through, for a gust.
    pub newtons: f64,
    /// Which of them it is, for a sentence.
    pub by: &'static str,
}

/// What one fastener of a fastening holds; the error is the missing fact.
pub(super) fn hold(context: &CheckContext<'_>, fastening: &Fastening<'_>) -> Result<Hold, String> {
    let model = context.model;
    let fasten = fastening.fasten;
    let duration = number(context, "fastener.load_duration")?.1;
    let product = model.product(fasten.product).ok_or("the fastener is not known")?;
    let name = product_name(model, fasten.product);
    let out = match &product.pull_out {
        Some(force) => force.value,
        None => duration * withdrawal(context, fastening, &name)?,
    };
    let through = product.head.as_ref().and_then(|head| {
        let held = fastening.of.filter(|material| matches!(material.kind, "wood" | "wood_board"))?;
        let (density, thickness) = (held.density.as_ref()?.value, fastening.held.as_ref().ok()?);
        let gravity = fastening::specific_gravity(density);
        Some(duration * fastening::pull_through(gravity, head.value.as_m(), thickness.as_m()))
    });
    Ok(match through {
        Some(through) if through < out => Hold { newtons: through, by: "its head then pulls through" },
        _ => Hold { newtons: out, by: "it then pulls out" },
    })
}

/// Long-time withdrawal of one fastener from what it goes into, N.
fn withdrawal(context: &CheckContext<'_>, fastening: &Fastening<'_>, name: &str) -> Result<f64, String> {
    let model = context.model;
    let (fasten, wall) = (fastening.fasten, fastening.wall);
    let into = fasten.into.ok_or_else(|| format!("what the fastener of {} goes into is not said", fastening.what))?;
    let target = stack::holds_in(model, wall, into).ok_or_else(|| format!("the wall has no {into}"))?;
    let layer = wall.layers.get(target).ok_or("the layer is not known")?;
    let (stuff, deepest): (&Stuff, Option<Length>) = match &layer.kind {
        LayerKind::Gap(gap) => {
            let furring = gap.furring.first().ok_or_else(|| format!("`{}` has no furring", layer.name))?;
            (&furring.stuff, Some(furring.thickness))
        }
        LayerKind::Frame(frame) => (&layer.stuff, Some(frame.depth)),
        LayerKind::Solid | LayerKind::Existing => (&layer.stuff, model.thickness_of(layer)),
    };
    let length = fasten.length.ok_or_else(|| format!("length of the fastener of {} is not said", fastening.what))?;
    let diameter = fasten.diameter.ok_or_else(|| format!("diameter of `{name}` is not said"))?;
    let shank = match model.product(fasten.product).and_then(|product| product.shank) {
        Some("screw") => Shank::Screw,
        Some(_) => Shank::Nail,
        None => return Err(format!("`shank` of `{name}` is not said")),
    };
    let material = model.material_of(stuff).ok_or_else(|| format!("material of `{}` is not said", stuff.name))?;
    if !matches!(material.kind, "wood" | "wood_board") {
        return Err(format!("what one `{name}` holds in `{}` is not said (its `pull_out`)", material.name));
    }
    let density = material.density.as_ref().ok_or_else(|| format!("density of `{}` is not said", material.name))?;
    let behind = fastening.behind.ok_or_else(|| format!("what {} lies on is not said", fastening.what))?;
    let crossed = stack::between(model, wall, behind, target)
        .map_err(|layer| format!("thickness of layer `{}` is not said", layer.name))?;
    let depth = (length - fastening.held.clone()? - crossed).max(Length::ZERO);
    let depth = deepest.map_or(depth, |deepest| depth.min(deepest));
    let gravity = fastening::specific_gravity(density.value);
    Ok(fastening::withdrawal(shank, gravity, diameter.as_m(), depth.as_m()))
}

/// Widest distance between regular strips, as declared.
pub(super) fn between_strips(furring: &Furring) -> Option<Length> {
    let mut marks = furring.marks.clone();
    marks.sort_unstable();
    let widest = marks.iter().zip(marks.iter().skip(1)).map(|(one, next)| *next - *one).max();
    widest.or(furring.spacing)
}

/// A force as shown.
pub(super) fn newtons(context: &CheckContext<'_>, value: f64) -> String {
    display::quantity(Quantity { value: value.round(), dimension: Dimension::FORCE }, context.units())
}

/// A pressure as shown.
pub(super) fn pressure(context: &CheckContext<'_>, value: f64) -> String {
    display::quantity(Quantity { value, dimension: Dimension::PRESSURE }, context.units())
}
