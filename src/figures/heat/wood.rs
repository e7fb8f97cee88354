//! How much of a framed wall is wood: as declared, or counted from what stands on the faces.

use crate::figures::{Scene, Trust, WallType};
use crate::geometry::{Place, Point};
use crate::model::{Face, FaceId, Frame, Layer, Sureness};
use crate::plan::{AreaPlan, FacePlan};
use crate::units::{Length, Range};

/// Studs beside an opening, on each side: one that carries the lintel and one that runs through (common practice, no source).
const BESIDE: f64 = 2.0;
/// Plates along a base and along a top (common practice, no source).
const PLATES: (f64, f64) = (1.0, 2.0);

/// Share of the wall's area that is wood, 0…1; the error is the missing fact.
pub fn share(scene: &Scene<'_>, wall: &WallType, layer: &Layer, frame: &Frame) -> Result<(Range, Trust), String> {
    if let Some(said) = &frame.wood_share {
        let mut trust = Trust::default();
        trust.sourced(said, || format!("share of wood in {}", layer.name));
        return Ok((said.value, trust));
    }
    if frame.spacing.is_none() && frame.marks.is_empty() {
        return Err(format!(
            "how far apart the studs of `{}` stand (`every`), or how much of it is wood (`wood_share`)",
            layer.name
        ));
    }
    let (mut wood, mut whole) = (0.0, 0.0);
    for &(face, area) in &wall.areas {
        let Some((wall_face, placed)) = scene.model.face(face).zip(scene.plan.face(face)) else { continue };
        let Some(area_plan) = placed.areas.get(area) else { continue };
        whole += area_plan.net.area().as_m2();
        wood += studs(area_plan, frame)
            + plates(scene, (face, area), frame)
            + round_openings(wall_face, placed, area_plan, frame);
    }
    if whole <= 0.0 {
        // No wall stands yet: the studs alone.
        let spacing = frame.spacing.ok_or_else(|| format!("where `{}` stands", layer.name))?;
        (wood, whole) = (frame.width.as_m(), spacing.as_m());
    }
    let doubt = "wood counted, lintels not".to_owned();
    Ok((Range::exactly((wood / whole).min(1.0)), Trust { sure: Sureness::Habit, doubt }))
}

/// m² of regular studs.
fn studs(area: &AreaPlan, frame: &Frame) -> f64 {
    let width = frame.width.as_m();
    if let (Some(bounds), false) = (area.whole.bounds(), frame.marks.is_empty()) {
        let marks = frame.marks.iter().filter(|mark| (bounds.left..=bounds.right).contains(*mark));
        return marks.count() as f64 * width * bounds.height().as_m();
    }
    frame.spacing.map_or(0.0, |spacing| area.net.area().as_m2() * width / spacing.as_m())
}

/// m² of plates along the lower and upper edges of an area.
fn plates(scene: &Scene<'_>, (face, area): (FaceId, usize), frame: &Frame) -> f64 {
    let runs = scene.plan.runs_of(face).filter(|(_, run)| run.area == Some(area));
    let lengths = runs.map(|(_, run)| {
        let plates = match run.kind {
            "base" | "roof_line" | "deck_line" | "underside" => PLATES.0,
            "top" | "rake" | "parapet" => PLATES.1,
            _ => 0.0,
        };
        plates * run.segment.length().as_m()
    });
    lengths.sum::<f64>() * frame.width.as_m()
}

/// m² of studs beside openings, and of one rail above and below each.
fn round_openings(face: &Face, placed: &FacePlan, area: &AreaPlan, frame: &Frame) -> f64 {
    let inside = face.openings.iter().zip(&placed.openings).filter(|(_, shape)| {
        let (x, y) = shape.centroid_mm();
        area.whole.place(Point::new(Length::snap_mm(x), Length::snap_mm(y))) == Place::Inside
    });
    let lengths = inside.map(|(opening, _)| 2.0 * BESIDE * opening.height.as_m() + 2.0 * opening.width.as_m());
    lengths.sum::<f64>() * frame.width.as_m()
}
