//! How much of the wind hangs on one fastener of the cladding or the furring, in the field and at the corners.

use super::{Fastening, Hold, Suction, between_strips, hold, suction};
use crate::layout::stack;
use crate::model::{FaceId, Model};
use crate::plan::Plan;
use crate::units::Length;

/// What the spacing of fasteners follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SetBy {
    /// Screws of a strip, as far apart as the text says.
    Strips,
    /// Screws of a panel, the same.
    Panels,
    /// Courses of cladding: one in each, or as many as there are rows, at every strip.
    Courses,
}

/// What one fastener holds in place: along its strip, and from strip to strip, in the field and at corners.
pub struct Tributary {
    /// Away from the corners.
    pub field: (Length, Length),
    /// In the zone at the corners.
    pub corner: (Length, Length),
    /// What sets it.
    pub set_by: SetBy,
}

impl Tributary {
    /// Newtons on one fastener, in the field and at the corners.
    pub fn under(&self, wind: &Suction<'_>) -> [f64; 2] {
        let on = |(along, across): (Length, Length), pressure: f64| along.as_m() * across.as_m() * pressure;
        [on(self.field, wind.field), on(self.corner, wind.corner)]
    }
}

/// What wind asks of one fastener of a layer on a face, specified, and what it holds, allowable for a gust.
pub struct Pull<'m> {
    /// The wind on the face.
    pub wind: Suction<'m>,
    /// What one holds.
    pub hold: Hold,
    /// The piece of wall that hangs on one.
    pub holds: Tributary,
}

impl Pull<'_> {
    /// Newtons on one fastener, in the field and at the corners.
    pub fn newtons(&self) -> [f64; 2] {
        self.holds.under(&self.wind)
    }
}

/// The pull on the fasteners of the cladding or the furring of a face; the error is the missing fact.
pub fn pull<'m>(model: &'m Model, plan: &Plan, id: FaceId, one: &Fastening<'_>) -> Result<Pull<'m>, String> {
    Ok(Pull { wind: suction(model, plan, id)?, hold: hold(model, one)?, holds: tributary(model, plan, id, one)? })
}

fn tributary(model: &Model, plan: &Plan, id: FaceId, one: &Fastening<'_>) -> Result<Tributary, String> {
    let fasten = one.fasten;
    let gap = one.wall.gap().map(|(_, gap)| gap);
    let strips = gap.and_then(|gap| gap.furring.first()).and_then(between_strips);
    let studs = one.wall.frame().and_then(|(_, frame)| frame.spacing);
    let across =
        strips.or(studs).ok_or_else(|| format!("spacing of the strips behind {} is not said (`every`)", one.what))?;
    let spaced = |set_by: SetBy| {
        let along =
            fasten.spacing.ok_or_else(|| format!("spacing of the fasteners of {} is not said (`every`)", one.what))?;
        let corner = fasten.corner_spacing.unwrap_or(along);
        Ok(Tributary { field: (along, across), corner: (corner, across), set_by })
    };
    if one.is_furring {
        return spaced(SetBy::Strips);
    }
    let layer = stack::cladding(one.wall).and_then(|at| one.wall.layers.get(at)).ok_or("there is no cladding")?;
    let kind = model.product_of(&layer.stuff).map(|product| product.kind);
    if kind == Some("panel") {
        return spaced(SetBy::Panels);
    }
    let chosen = plan.face(id).and_then(|placed| placed.exposure).filter(|_| !layer.runs_vertical);
    let course = chosen.or(layer.exposure.map(|(_, most)| most));
    let course = course.ok_or_else(|| format!("exposure of `{}` is not said (`exposure`)", layer.name))?;
    let rows = fasten.rows.unwrap_or(1).max(1);
    let along = course / rows;
    let corner = fasten.corner_spacing.map_or(across, |spacing| spacing.min(across));
    Ok(Tributary { field: (along, across), corner: (along, corner), set_by: SetBy::Courses })
}
