//! Heat through walls (ISO 6946): resistance and transmittance of a wall type.

use super::layers::{first_inboard, resistance};
use super::{Found, Scene, Source, Study, Value, WallType, What};
use crate::model::{Assembly, Model, Sureness};
use crate::physics::resistance::{Flow, SURFACE_OUTSIDE, surface_inside};
use crate::units::{Dimension, Keep};

/// Heat.
pub struct Heat;

/// From room air to outside air where no stud stands.
pub static BETWEEN: What = What {
    key: "heat.resistance_between",
    title: "resistance between studs",
    dimension: Dimension::RESISTANCE,
    keep: Keep::Places(2),
};

/// Layers one behind another.
const IN_SERIES: Source = Source { standard: "ISO 6946", edition: "2017", clause: "6.7.1" };

impl Study for Heat {
    fn id(&self) -> &'static str {
        "heat"
    }

    fn title(&self) -> &'static str {
        "heat"
    }

    fn of_wall(&self, scene: &Scene<'_>, wall: &WallType) -> Found {
        let mut found = Found::default();
        if let Some(assembly) = wall.assembly(scene.model) {
            let told = between(scene.model, assembly).map(|value| {
                let (sure, doubt) = (Sureness::Memory, String::new());
                (Value::Number(value.into()), sure, doubt)
            });
            found.tell(&BETWEEN, IN_SERIES, told);
        }
        found
    }
}

/// Resistance from room air to outside air where no stud stands, m²·K/W; the error is the missing fact. A gap and what stands
/// outboard of it do not count (ISO 6946:2017, from memory).
pub fn between(model: &Model, wall: &Assembly) -> Result<f64, String> {
    let behind = first_inboard(wall);
    let inner = wall.layers.get(behind..).unwrap_or_default();
    let layers: f64 = inner.iter().map(|layer| resistance(model, layer)).sum::<Result<f64, String>>()?;
    let inside = surface_inside(Flow::Horizontal);
    Ok(layers + inside + if behind > 0 { inside } else { SURFACE_OUTSIDE })
}
