//! Flashings: fall, drip, and ends.

pub mod base_no_flashing;
pub mod flashing_fixed_in_wet_leg;
pub mod flashing_flat;
pub mod flashing_no_drip;
pub mod flashing_no_end_dam;
pub mod flashing_splice_open;
pub mod flashing_too_short;

use crate::checks::CheckContext;
use crate::checks::pieces::{Piece, pieces, rigid};

/// Folded ledges that throw water clear: flashings, caps, aprons, sills and copings that lie.
pub(in crate::checks) fn ledges<'c>(context: &CheckContext<'c>) -> Vec<Piece<'c>> {
    let mut found = pieces(context);
    found.retain(|piece| {
        let kind = matches!(piece.spec.kind, "flashing" | "cap" | "apron" | "sill" | "coping");
        kind && piece.lies() && rigid(context.model, &piece.spec.stuff)
    });
    found
}
