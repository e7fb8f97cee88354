//! Weight of cladding and strips on each long screw that reaches the wood behind the insulation, and its lever.

use super::{Fastening, between_strips, length, number};
use crate::layout::stack;
use crate::model::{Assembly, Furring, Layer, Limit, Model, Sureness};
use crate::physics::fastening;
use crate::units::{Length, Range};

/// What hangs on one long screw, and the same for the case that is well proven: light cladding over thin insulation.
pub struct OnScrew<'m> {
    /// Cladding and strips, kg/m².
    pub hung: f64,
    /// How sure that is: the less sure of the two.
    pub sure: Sureness,
    /// N.
    pub weight: f64,
    /// From the middle of the cladding to the wood behind the insulation, m.
    pub lever: f64,
    /// N·m, as a cantilever.
    pub bending: f64,
    /// N·m of the proven case.
    pub proven: f64,
    /// The limit that gives the proven case.
    pub limit: &'m Limit,
}

/// Stiffness of steel, Pa (textbook): screws of other metal are not made this long.
const STEEL: f64 = 200e9;

impl OnScrew<'_> {
    /// N on a screw at this lever that bend it as much as the proven case does.
    pub fn may_carry(&self) -> f64 {
        self.proven / self.lever.max(1e-9)
    }

    /// How far in metres the outer end of a screw this thick sinks: the head held square by the strip, and free to turn. Wood
    /// that gives is not in it. `None` for no thickness.
    pub fn sags(&self, diameter: Length) -> Option<Range> {
        let sag = |square: bool| fastening::sag_of_screw(self.weight, self.lever, diameter.as_m(), STEEL, square);
        Some(Range::between(sag(true)?, sag(false)?))
    }
}

/// The screws of the furring that go through insulation into the studs; `None` where a wall has none.
pub fn through_insulation<'o, 'm>(wall: &Assembly, held: &'o [Fastening<'m>]) -> Option<&'o Fastening<'m>> {
    let one = held.iter().find(|one| one.is_furring && one.fasten.into == Some("studs"))?;
    let behind = wall.layers.get(stack::gap(wall)? + 1..wall.frame()?.0)?;
    behind.iter().any(|layer| layer.controls.heat).then_some(one)
}

/// What hangs on each of these screws; `held` is all that holds the cladding and the furring of the wall. The error is the
/// missing fact. Friction and the stiffness of the insulation, which help, are not counted.
pub fn on_screw<'m>(
    model: &'m Model,
    wall: &Assembly,
    one: &Fastening<'_>,
    held: &[Fastening<'_>],
) -> Result<OnScrew<'m>, String> {
    let (gap, (_, space)) = (stack::gap(wall).ok_or("no gap")?, wall.gap().ok_or("no gap")?);
    let furring = space.furring.first().ok_or("no furring")?;
    let at = stack::cladding(wall).ok_or_else(|| format!("the cladding of `{}` is not said", wall.name))?;
    let boards = wall.layers.get(at).ok_or("no cladding")?;
    let across = between_strips(furring).ok_or_else(|| format!("spacing of {} is not said (`every`)", one.what))?;
    let along =
        one.fasten.spacing.ok_or_else(|| format!("spacing of the fasteners of {} is not said (`every`)", one.what))?;
    let (boards_weigh, strips_weigh) = (weight_of(model, boards)?, strip_weight(model, furring, across)?);
    let (hung, sure) = (boards_weigh.0 + strips_weigh.0, boards_weigh.1.max(strips_weigh.1));
    let mut screws = 1.0 / (across.as_m() * along.as_m());
    if let Some(cladding) = held.iter().find(|one| one.is_cladding && reaches_behind(one)) {
        let along = boards.exposure.map(|(_, most)| most).or(cladding.fasten.spacing);
        screws +=
            along.map_or(0.0, |along| cladding.fasten.rows.unwrap_or(1).max(1) as f64 / (across.as_m() * along.as_m()));
    }
    let thickness = |layer: &Layer| {
        model.thickness_of(layer).ok_or_else(|| format!("thickness of layer `{}` is not said", layer.name))
    };
    let inner = model.sheathing(wall).or_else(|| wall.frame().map(|(frame, _)| frame)).ok_or("no frame")?;
    let soft: Result<Vec<Length>, String> = wall.layers.iter().take(inner).skip(gap + 1).map(thickness).collect();
    let soft: Length = soft?.into_iter().sum();
    let outer = (space.depth.1 + thickness(boards)? / 2).as_m();
    let lever = soft.as_m() + outer;
    let (limit, light) = number(model, "light_cladding.weight")?;
    let (_, thin) = length(model, "long_screw.insulation")?;
    let (_, area) = number(model, "long_screw.area")?;
    let weight = fastening::weight_on_screw(hung, screws).ok_or("no screws")?;
    let usual = fastening::weight_on_screw(light, 1.0 / area).ok_or("no screws")?;
    let bending = fastening::bending(weight, lever);
    let proven = fastening::bending(usual, thin.as_m() + outer);
    Ok(OnScrew { hung, sure, weight, lever, bending, proven, limit })
}

/// Whether the cladding's own screws go through the insulation too, and carry their share.
fn reaches_behind(one: &Fastening<'_>) -> bool {
    matches!(one.fasten.into, Some("studs" | "structure" | "sheathing" | "plane"))
}

/// kg/m² of the cladding: the maker's, or thickness times density; and how sure.
fn weight_of(model: &Model, layer: &Layer) -> Result<(f64, Sureness), String> {
    let maker = model.product_of(&layer.stuff).and_then(|product| product.weight.as_ref());
    let density = model.material_of(&layer.stuff).and_then(|material| material.density.as_ref());
    let solid = || density.zip(model.thickness_of(layer)).map(|(one, thick)| (one.value * thick.as_m(), one.sure));
    maker
        .map(|weight| (weight.value, weight.sure))
        .or_else(solid)
        .ok_or_else(|| format!("`weight` of `{}` is not said", layer.stuff.name))
}

/// kg/m² of the strips; and how sure.
fn strip_weight(model: &Model, furring: &Furring, across: Length) -> Result<(f64, Sureness), String> {
    let maker = model.product_of(&furring.stuff).and_then(|product| product.mass.as_ref());
    let density = model.material_of(&furring.stuff).and_then(|material| material.density.as_ref());
    let section = || Some(furring.thickness.as_m() * furring.width?.as_m());
    let solid = || density.zip(section()).map(|(one, section)| (one.value * section, one.sure));
    let mass = maker.map(|mass| (mass.value, mass.sure)).or_else(solid);
    mass.map(|(mass, sure)| (mass / across.as_m(), sure))
        .ok_or_else(|| format!("`mass` of `{}` is not said", furring.stuff.name))
}
