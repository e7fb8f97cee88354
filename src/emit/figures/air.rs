//! The air in the gap of each face, on its elevation.

use crate::continuity::{AirFlow, Conditions, GapFlow};
use crate::emit::drawing::Sheet;
use crate::emit::elevation;
use crate::model::FaceId;
use crate::session::Checked;

/// A sheet for each face with bays, for the still winter day that rules and `wythe trace --air` ask for too.
pub(super) fn pages(checked: &Checked) -> Vec<(String, String, Vec<Sheet>)> {
    let flow = GapFlow::find(&checked.model, &checked.plan);
    let air = AirFlow::find(&checked.model, &checked.plan, &flow, &Conditions::default());
    let page = |index: usize| {
        let face = FaceId(index as u32);
        let sheet = elevation::air(checked, face, &air)?;
        let name = &checked.model.face(face)?.name;
        let title = format!("{} wall, air in the gap", name.replace('_', " "));
        Some((format!("{}_air", super::file_name(name)), title, vec![sheet]))
    };
    (0..checked.model.faces.len()).filter_map(page).collect()
}
