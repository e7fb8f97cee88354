//! What one layer does to heat and vapour, from its material, product and thickness.

use super::heat::through_fill;
use crate::model::{Assembly, Layer, LayerKind, Material, Model, Stuff};
use crate::physics::layers;
use crate::units::Range;

/// Permeance of a layer, dry cup and wet cup, kg/(Pa·s·m²).
#[derive(Clone, Copy, Debug)]
pub(crate) struct Permeance {
    /// The least it lets through.
    pub tightest: f64,
    /// The most.
    pub openest: f64,
}

/// How open a layer is to vapour; `None` if it is not said. Air and framing are open.
pub(crate) fn permeance(model: &Model, layer: &Layer) -> Option<Permeance> {
    match layer.kind {
        LayerKind::Gap(_) | LayerKind::Frame(_) => {
            return Some(Permeance { tightest: f64::INFINITY, openest: f64::INFINITY });
        }
        LayerKind::Solid | LayerKind::Existing => {}
    }
    let stuff = layer.fill.as_ref().unwrap_or(&layer.stuff);
    let product = model.product_of(stuff);
    let own = product.and_then(|product| {
        let both = |range: Range| Permeance { tightest: range.low, openest: range.high };
        let sheet = product.vapour_thickness.as_ref().and_then(|sheet| of_air(sheet.value));
        product.permeance.as_ref().map(|permeance| both(permeance.value)).or(sheet)
    });
    let thickness = layer.thickness.or_else(|| product?.thickness.map(|(least, _)| least));
    let material = model.material_of(stuff);
    let bulk = material.and_then(|material| of_material(material, thickness.map(|thickness| thickness.as_m())));
    match (own, bulk) {
        // A board with a facing is as tight as the tighter of the two.
        (Some(own), Some(bulk)) if !model.is_membrane(stuff) && bulk.tightest < own.tightest => Some(bulk),
        (Some(own), _) => Some(own),
        (None, bulk) => bulk,
    }
}

fn of_air((least, most): (f64, f64)) -> Option<Permeance> {
    Some(Permeance { tightest: layers::permeance_of(most)?, openest: layers::permeance_of(least)? })
}

fn of_material(material: &Material, thickness: Option<f64>) -> Option<Permeance> {
    if let Some(permeance) = &material.permeance {
        return Some(Permeance { tightest: permeance.value.low, openest: permeance.value.high });
    }
    if let Some(sheet) = &material.vapour_thickness {
        return of_air((sheet.value, sheet.value));
    }
    let (dry, wet) = material.vapour_factor.as_ref()?.value;
    let (dry, wet) = (layers::permeance(dry, thickness?)?, layers::permeance(wet, thickness?)?);
    Some(Permeance { tightest: dry.min(wet), openest: dry.max(wet) })
}

/// Thermal resistance of several layers one behind another, m²·K/W, through what fills them; the error is the missing fact.
pub(crate) fn resistance_of(model: &Model, layers: &[Layer]) -> Result<Range, String> {
    layers.iter().try_fold(Range::exactly(0.0), |sum, layer| Ok(sum.plus(through_fill(model, layer)?)))
}

/// Index of the outermost layer that is not outside: the one behind the gap, or the first where there is no gap.
pub(crate) fn first_inboard(wall: &Assembly) -> usize {
    crate::layout::stack::gap(wall).map_or(0, |gap| gap + 1)
}

/// Something that keeps heat in: said to control heat, insulation by its kind, or a frame with a filling.
pub(crate) fn insulates(model: &Model, layer: &Layer) -> bool {
    match &layer.kind {
        LayerKind::Frame(frame) => frame.fill.is_some(),
        LayerKind::Gap(_) => false,
        LayerKind::Solid | LayerKind::Existing => {
            layer.controls.heat || layer.fill.is_some() || is_insulation(model, &layer.stuff)
        }
    }
}

fn is_insulation(model: &Model, stuff: &Stuff) -> bool {
    model.product_of(stuff).is_some_and(|product| product.kind == "insulation")
        || model.material_of(stuff).is_some_and(|material| matches!(material.kind, "foam" | "fibre"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::{Settings, check};
    use crate::source::MapWorld;

    /// The sheet of a wall, kg/(Pa·s·m²) dry cup and wet cup.
    fn sheet(clauses: &str) -> Option<(f64, f64)> {
        let text = format!(
            "wythe 1\n\nuse std.materials\n\nproduct felt membrane {{\n    thickness 0.7mm\n{clauses}}}\nassembly wall {{\n    layer boards spruce 20mm, \
             controls rain\n    gap cavity 19mm ventilated\n    layer sheet felt\n}}\nface north {{\n    measured to cladding\n    base 0 from 0 to 3000mm\n    \
             top 2400mm\n    left\n    right\n    area all wall\n}}\n"
        );
        let checked =
            check(&MapWorld::new().with("house.wythe", &text), &["house.wythe".to_owned()], &Settings::default());
        assert!(checked.problems.is_empty(), "{:?}", checked.problems);
        let layer = checked.model.assemblies.first()?.layers.last()?;
        permeance(&checked.model, layer).map(|permeance| (permeance.tightest, permeance.openest))
    }

    #[test]
    fn a_sheet_has_the_cups_its_product_tells() {
        let near = |found: Option<(f64, f64)>, dry: f64, wet: f64| {
            let (tightest, openest) = found.unwrap();
            assert!((tightest / dry - 1.0).abs() < 1e-9 && (openest / wet - 1.0).abs() < 1e-9, "{tightest} {openest}");
        };
        near(sheet("    permeance 57ng/(Pa.s.m2)..320ng/(Pa.s.m2)\n"), 57e-12, 320e-12);
        near(sheet("    permeance 60ng/(Pa.s.m2)\n"), 60e-12, 60e-12);
        // Still air, 2e-10 kg/(m·s·Pa): 10 m and 0.25 m.
        near(sheet("    vapour_thickness 0.25m..10m\n"), 2e-11, 8e-10);
        assert_eq!(sheet(""), None);
    }
}
