//! Metals: pairs that touch, copper's run-off, and fasteners that rust or are eaten.

pub mod fastener_in_acid_wood;
pub mod fastener_less_noble;
pub mod fastener_wrong_finish;
pub mod metal_cut_edge_in_splash;
pub mod metal_in_salt;
pub mod metal_on_cement;
pub mod metal_on_treated_wood;
pub mod metal_pair;
pub mod metal_runoff;
pub mod trim_drilled_in_place;

use crate::model::{MaterialId, Model, ProductId, Stuff};
use crate::physics::galvanic::Metal;

/// What metal a thing is of.
#[derive(Clone, Debug, PartialEq)]
struct Made {
    /// Name of the material, as written.
    name: String,
    /// Family of the pair table.
    family: Option<Metal>,
    /// Anodic index, V; the family's where the material gives none.
    index: Option<f64>,
}

/// The metal of a material; `None` where it is no metal.
fn made_of(model: &Model, material: Option<MaterialId>) -> Option<Made> {
    let material = model.material(material?)?;
    if material.kind != "metal" && material.metal.is_none() {
        return None;
    }
    let family = material.metal.and_then(Metal::from_word);
    let own = material.galvanic_index.as_ref().map(|index| index.value);
    Some(Made { name: material.name.clone(), family, index: own.or_else(|| family.map(Metal::index)) })
}

fn stuff_metal(model: &Model, stuff: &Stuff) -> Option<Made> {
    let product = || model.product_of(stuff).and_then(|product| product.of);
    made_of(model, stuff.material.or_else(product))
}

fn product_metal(model: &Model, product: ProductId) -> Option<Made> {
    made_of(model, model.product(product)?.of)
}
