//! The face that asks most of a fastening, and forces as they are shown.

use std::collections::BTreeMap;

use crate::checks::pieces::{area_name, faces, wall};
use crate::checks::{CheckContext, Finding};
use crate::loads::{Fastening, of_layers};
use crate::model::FaceId;
use crate::source::Span;
use crate::units::{Dimension, Quantity, display};

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
            let held = of_layers(context.model, &area_name(context, id, at), wall);
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

/// A force as shown.
pub(super) fn newtons(context: &CheckContext<'_>, value: f64) -> String {
    display::quantity(Quantity { value: value.round(), dimension: Dimension::FORCE }, context.units())
}

/// A pressure as shown.
pub(super) fn pressure(context: &CheckContext<'_>, value: f64) -> String {
    display::quantity(Quantity { value, dimension: Dimension::PRESSURE }, context.units())
}
