//! Laps: upper over lower, head flashings, sill pans, and what lies between two claddings.

pub mod head_flashing_over_membrane;
pub mod head_sealed;
pub mod head_wrong_arrangement;
pub mod jamb_under_sill;
pub mod joint_caulk_only;
pub mod ledger_unflashed;
pub mod membrane_behind_base_flashing;
pub mod membrane_reversed_lap;
pub mod membrane_short_lap;
pub mod parapet_no_saddle;
pub mod sill_no_pan;
pub mod sill_sealed_outside;
pub mod step_flashing_continuous;
pub mod step_flashing_over_membrane;
pub mod transition_no_flashing;

use crate::checks::CheckContext;
use crate::checks::pieces::{Once, rigid, runs, walls};
use crate::model::{Assembly, Face, FaceId, Layer, Opening, Place};
use crate::plan::{Part, Run, RunPlace};

/// Sheets of walls in use that are said to be the drainage plane, with the name of the first area that has them.
fn water_sheets<'c>(context: &CheckContext<'c>) -> Vec<(String, &'c Assembly, &'c Layer)> {
    let mut found = Vec::new();
    for (face, area, wall) in walls(context) {
        let subject = crate::checks::pieces::area_name(context, face, area);
        for layer in wall.layers.iter().filter(|layer| layer.controls.water) {
            let product = context.model.product_of(&layer.stuff);
            if context.model.is_membrane(&layer.stuff) && product.is_none_or(|product| product.kind != "liquid") {
                found.push((subject.clone(), wall, layer));
            }
        }
    }
    found
}

/// Runs of one kind round the openings of sound faces, with what their detail says.
fn rings<'c>(context: &CheckContext<'c>, kind: &str) -> Vec<(FaceId, &'c Face, &'c Opening, &'c Run, &'c Place)> {
    let mut found = Vec::new();
    for (run, place) in runs(context).filter(|(run, _)| run.kind == kind) {
        let RunPlace::Opening(at) = run.place else { continue };
        let Some(face) = context.model.face(run.face) else { continue };
        if let Some(opening) = face.openings.get(at) {
            found.push((run.face, face, opening, run, place));
        }
    }
    found
}

/// Folded flashings of a run, inside to outside.
fn flashings<'c>(context: &CheckContext<'c>, run: &'c Run) -> Vec<&'c Part> {
    let parts = context.plan.parts_of(run);
    parts.filter(|part| part.spec.kind == "flashing" && rigid(context.model, &part.spec.stuff)).collect()
}

/// Whether a flashing is the one at the drainage plane rather than out on furring or cladding.
fn is_at_plane(part: &Part) -> bool {
    !matches!(part.spec.on, Some("furring" | "cladding"))
}

/// One message for a detail used on many openings of a face.
fn first_use(once: &mut Once, run: &Run, part: &Part) -> bool {
    let piece = crate::checks::pieces::Piece {
        face: run.face,
        spec: &part.spec,
        name: String::new(),
        segment: run.segment,
        run: None,
        origin: part.origin,
    };
    once.first(&piece)
}
