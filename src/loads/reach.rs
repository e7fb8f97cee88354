//! What a fastener passes before it holds, and how deep it should hold.

use super::Fastening;
use crate::layout::stack;
use crate::model::{Layer, LayerKind, Limit, Model};
use crate::units::Length;

/// How far one fastening has to reach.
pub struct Reach<'m> {
    /// What is held, and all between it and what the fastener holds in.
    pub passes: Length,
    /// How deep it is to hold: right through a strip or a sheet is enough.
    pub wanted: Length,
    /// The limit that says so.
    pub limit: &'m Limit,
}

impl Reach<'_> {
    /// How deep a fastener of this length holds.
    pub fn bite(&self, length: Length) -> Length {
        (length - self.passes).max(Length::ZERO)
    }
}

/// How deep one fastener holds.
pub struct Bite<'m> {
    /// In what it goes into: no more than that is thick.
    pub depth: Length,
    /// How deep it is to.
    pub wanted: Length,
    /// The limit that says so.
    pub limit: &'m Limit,
}

/// How deep a fastener holds, and how deep it is to; the error is the missing fact.
pub fn bite<'m>(model: &'m Model, fastening: &Fastening<'_>) -> Result<Bite<'m>, String> {
    let into = fastening.fasten.into;
    let into = into.ok_or_else(|| format!("what the fastener of {} goes into is not said", fastening.what))?;
    let length = fastening.fasten.length;
    let length = length.ok_or_else(|| format!("length of the fastener of {} is not said", fastening.what))?;
    let reach = reach(model, fastening, into)?.ok_or_else(|| format!("the wall has no {into}"))?;
    let layer = stack::holds_in(model, fastening.wall, into).and_then(|at| fastening.wall.layers.get(at));
    let (deep, deepest) = (reach.bite(length), layer.and_then(|layer| deepest(model, layer)));
    let depth = deepest.map_or(deep, |deepest| deep.min(deepest));
    Ok(Bite { depth, wanted: reach.wanted, limit: reach.limit })
}

/// How thick what a fastener goes into is; `None` where that is not said.
pub(super) fn deepest(model: &Model, layer: &Layer) -> Option<Length> {
    match &layer.kind {
        LayerKind::Gap(gap) => gap.furring.first().map(|furring| furring.thickness),
        LayerKind::Frame(frame) => Some(frame.depth),
        LayerKind::Solid | LayerKind::Existing => model.thickness_of(layer),
    }
}

/// From the innermost surface the thing can lie on; `None` where the wall has nothing such a fastener goes into. The error is
/// the missing fact.
pub fn reach<'m>(model: &'m Model, fastening: &Fastening<'_>, into: &str) -> Result<Option<Reach<'m>>, String> {
    let behind = fastening.behind.ok_or_else(|| format!("what {} lies on is not said (`on …`)", fastening.what))?;
    reach_from(model, fastening, into, behind)
}

/// The same from the surface of another layer.
pub fn reach_from<'m>(
    model: &'m Model,
    fastening: &Fastening<'_>,
    into: &str,
    behind: usize,
) -> Result<Option<Reach<'m>>, String> {
    let wall = fastening.wall;
    let Some(target) = stack::holds_in(model, wall, into) else { return Ok(None) };
    let Some(layer) = wall.layers.get(target) else { return Ok(None) };
    let passes = passes(model, fastening, behind, target)?;
    let steel = matches!(&layer.kind, LayerKind::Frame(frame) if frame.kind == Some("steel"));
    let name = match () {
        () if steel => "fastener.past_steel",
        () if fastening.is_furring => "furring_screw.penetration",
        () if fastening.is_shingle => "fastener.penetration_shingle",
        () => "fastener.penetration",
    };
    let limit = model.limit(name).ok_or_else(|| format!("no rule set in force has a limit `{name}`"))?;
    let wanted = limit.length().ok_or_else(|| format!("limit `{name}` is no length"))?;
    // Right through a strip or a sheet is enough.
    let through = match &layer.kind {
        LayerKind::Frame(_) => None,
        LayerKind::Gap(gap) => match gap.furring.first() {
            Some(furring) => Some(furring.thickness),
            None => return Ok(None),
        },
        LayerKind::Solid | LayerKind::Existing => {
            Some(model.thickness_of(layer).ok_or_else(|| format!("thickness of layer `{}` is not said", layer.name))?)
        }
    };
    let wanted = through.map_or(wanted, |through| through.min(wanted));
    Ok(Some(Reach { passes, wanted, limit }))
}

/// What is held, and all layers from `behind` up to the one it holds in; the error is the missing fact.
pub(super) fn passes(model: &Model, fastening: &Fastening<'_>, behind: usize, target: usize) -> Result<Length, String> {
    let crossed = stack::between(model, fastening.wall, behind, target)
        .map_err(|layer| format!("thickness of layer `{}` is not said", layer.name))?;
    Ok(fastening.held.clone()? + crossed)
}
