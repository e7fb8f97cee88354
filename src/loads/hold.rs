//! What one fastener holds against being pulled off.

use super::reach::{deepest, passes};
use super::{Fastening, number};
use crate::layout::stack;
use crate::model::{LayerKind, Model, Stuff};
use crate::physics::fastening::{self, Shank};
use crate::units::Length;

/// What one fastener holds against being pulled off, N.
pub struct Hold {
    /// The lesser of withdrawal and pull-through, for a gust.
    pub newtons: f64,
    /// Which of them it is, for a sentence.
    pub by: &'static str,
}

/// What one fastener of a fastening holds; the error is the missing fact.
pub fn hold(model: &Model, fastening: &Fastening<'_>) -> Result<Hold, String> {
    let fasten = fastening.fasten;
    let duration = number(model, "fastener.load_duration")?.1;
    let product = model.product(fasten.product).ok_or("the fastener is not known")?;
    let name = model.product_name(fasten.product);
    let out = match &product.pull_out {
        Some(force) => force.value,
        None => duration * withdrawal(model, fastening, &name)?,
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
fn withdrawal(model: &Model, fastening: &Fastening<'_>, name: &str) -> Result<f64, String> {
    let (fasten, wall) = (fastening.fasten, fastening.wall);
    let into = fasten.into.ok_or_else(|| format!("what the fastener of {} goes into is not said", fastening.what))?;
    let target = stack::holds_in(model, wall, into).ok_or_else(|| format!("the wall has no {into}"))?;
    let layer = wall.layers.get(target).ok_or("the layer is not known")?;
    let stuff: &Stuff = match &layer.kind {
        LayerKind::Gap(gap) => &gap.furring.first().ok_or_else(|| format!("`{}` has no furring", layer.name))?.stuff,
        LayerKind::Frame(_) | LayerKind::Solid | LayerKind::Existing => &layer.stuff,
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
    let depth = (length - passes(model, fastening, behind, target)?).max(Length::ZERO);
    let depth = deepest(model, layer).map_or(depth, |deepest| depth.min(deepest));
    let gravity = fastening::specific_gravity(density.value);
    Ok(fastening::withdrawal(shank, gravity, diameter.as_m(), depth.as_m()))
}
