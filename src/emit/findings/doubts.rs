//! Values of materials and products in use that are from memory or habit.

use super::not_checked::Doubt;
use crate::model::{Material, Model, Product, Sourced, Sureness};

/// Where a value was read and how sure it is.
type Origin<'m> = Option<(&'m str, Sureness)>;

/// Every such value, by thing and property.
pub(super) fn values(model: &Model) -> Vec<Doubt> {
    let materials =
        model.materials.iter().flat_map(|one| of_material(one).into_iter().map(|row| (one.name.clone(), row)));
    let products = model.products.iter().flat_map(|one| {
        let name = if one.module.is_empty() { one.name.clone() } else { format!("{}.{}", one.module, one.name) };
        of_product(one).into_iter().map(move |row| (name.clone(), row))
    });
    let weak = materials.chain(products).filter_map(|(name, (property, origin))| {
        let (source, sure) = origin.filter(|(_, sure)| !sure.is_firm())?;
        let source = if source.is_empty() { "no source" } else { source };
        Some(Doubt { name: format!("{name}.{property}"), shown: None, how: sure.phrase(), source: source.to_owned() })
    });
    let mut weak: Vec<Doubt> = weak.collect();
    weak.sort_by(|a, b| a.name.cmp(&b.name));
    weak.dedup_by(|a, b| a.name == b.name);
    weak
}

fn of<T>(value: &Option<Sourced<T>>) -> Origin<'_> {
    value.as_ref().map(|value| (&*value.source, value.sure))
}

fn of_material(thing: &Material) -> Vec<(&'static str, Origin<'_>)> {
    vec![
        ("conductivity", of(&thing.conductivity)),
        ("emissivity", of(&thing.emissivity)),
        ("absorptance", of(&thing.absorptance)),
        ("water_absorption", of(&thing.water_absorption)),
        ("density", of(&thing.density)),
        ("heat_capacity", of(&thing.heat_capacity)),
        ("vapour_factor", of(&thing.vapour_factor)),
        ("vapour_thickness", of(&thing.vapour_thickness)),
        ("permeance", of(&thing.permeance)),
        ("air_leakage", of(&thing.air_leakage)),
        ("expansion", of(&thing.expansion)),
        ("moisture_movement", of(&thing.moisture_movement)),
        ("galvanic_index", of(&thing.galvanic_index)),
    ]
}

fn of_product(thing: &Product) -> Vec<(&'static str, Origin<'_>)> {
    vec![
        ("head", of(&thing.head)),
        ("pull_out", of(&thing.pull_out)),
        ("exposure", of(&thing.exposure)),
        ("lap", of(&thing.lap)),
        ("rip", of(&thing.rip)),
        ("joint_gap", of(&thing.joint_gap)),
        ("clearance", of(&thing.clearance)),
        ("open", of(&thing.open)),
        ("opening", of(&thing.opening)),
        ("weight", of(&thing.weight)),
        ("mass", of(&thing.mass)),
        ("works_from", of(&thing.works_from)),
        ("sunlight", of(&thing.sunlight)),
        ("moves", of(&thing.moves)),
        ("vapour_thickness", of(&thing.vapour_thickness)),
        ("permeance", of(&thing.permeance)),
        ("emissivity", of(&thing.emissivity)),
        ("absorptance", of(&thing.absorptance)),
        ("water_absorption", of(&thing.water_absorption)),
        ("air_leakage", of(&thing.air_leakage)),
        ("waste", of(&thing.waste)),
    ]
}
