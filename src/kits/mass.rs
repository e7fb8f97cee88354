//! What a piece weighs: by the mass its product says for its surface or its length, else by the density of its material.

use crate::model::{Model, Product, ProductId};
use crate::units::{Area, Length};

/// A board or sheet of this surface and length, kg; the missing fact where it cannot be told.
pub(super) fn of_surface(model: &Model, id: Option<ProductId>, area: Area, length: Length) -> Result<f64, String> {
    let product = named(model, id)?;
    let by_area = product.weight.as_ref().map(|weight| weight.value * area.as_m2());
    let by_length = || product.mass.as_ref().map(|mass| mass.value * length.as_m());
    let by_density = || Some(density(model, product)? * thickness(product)?.as_m() * area.as_m2());
    by_area.or_else(by_length).or_else(by_density).ok_or_else(|| lacking(product))
}

/// A strip or a length of profile, kg.
pub(super) fn of_length(model: &Model, id: Option<ProductId>, length: Length) -> Result<f64, String> {
    let product = named(model, id)?;
    let width = product.width.or(product.size.get(1).copied());
    let flat = width.or_else(|| (!product.legs.is_empty()).then(|| product.legs.iter().copied().sum()));
    let by_length = product.mass.as_ref().map(|mass| mass.value * length.as_m());
    let by_area = || Some(product.weight.as_ref()?.value * flat?.as_m() * length.as_m());
    // The hollow of a profile is not known: its density alone says nothing.
    let solid = product.hollow != Some(true) && !product.two_part;
    let by_density =
        || Some(density(model, product)? * thickness(product)?.as_m() * flat?.as_m() * length.as_m()).filter(|_| solid);
    by_length.or_else(by_area).or_else(by_density).ok_or_else(|| lacking(product))
}

/// Fasteners, kg: the solid steel of the shank. Head and thread about make up for each other (common practice, no source).
pub(super) fn of_fasteners(
    model: &Model,
    id: Option<ProductId>,
    (diameter, length): (Option<Length>, Option<Length>),
    count: u64,
) -> Option<f64> {
    let product = id.and_then(|id| model.product(id))?;
    let (diameter, length) = (diameter.or(product.diameter)?.as_m(), length?.as_m());
    Some(density(model, product)? * std::f64::consts::FRAC_PI_4 * diameter * diameter * length * count as f64)
}

fn named(model: &Model, id: Option<ProductId>) -> Result<&Product, String> {
    id.and_then(|id| model.product(id)).ok_or_else(|| "a piece of no named product".to_owned())
}

fn density(model: &Model, product: &Product) -> Option<f64> {
    Some(model.material(product.of?)?.density.as_ref()?.value)
}

fn thickness(product: &Product) -> Option<Length> {
    let middle = product.thickness.map(|(least, most)| Length((least.0 + most.0) / 2));
    middle.or(product.size.first().copied())
}

fn lacking(product: &Product) -> String {
    format!("`{}`", product.name)
}
