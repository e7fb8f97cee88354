//! The air in the gap of each face, on its elevation.

use crate::continuity::{AirFlow, Conditions, GapFlow};
use crate::emit::drawing::Sheet;
use crate::emit::{Emitter, Output, elevation};
use crate::model::FaceId;
use crate::session::Checked;

/// The same sheets by themselves, for a page that follows the texts: they take no year of hours.
pub struct AirSheets;

impl Emitter for AirSheets {
    fn id(&self) -> &'static str {
        "air"
    }

    fn title(&self) -> &'static str {
        "Air in the gap"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        let all = pages(checked).into_iter();
        let all =
            all.flat_map(|(name, title, sheets)| sheets.into_iter().map(move |one| (name.clone(), title.clone(), one)));
        all.map(|(name, title, sheet)| Output::text(format!("figures/{name}.svg"), title, sheet.to_svg())).collect()
    }

    fn schema(&self) -> Option<serde_json::Value> {
        None
    }
}

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
