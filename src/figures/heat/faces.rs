//! What a face loses: walls and openings by their areas, edges by their lengths.

use super::{BY_AREA, EDGE_LOSS, FACE_MEAN, FACE_WALLS, LOSS, MEASURED, OPENING_AREA, TRANSMITTANCE, WALL_AREA};
use crate::figures::{Found, Scene, Trust, Value, WallFigures};
use crate::model::{Face, FaceId, Sureness};
use crate::physics::resistance::{Loss, coefficient};
use crate::plan::{FacePlan, Run, RunPlace};
use crate::units::Range;

/// Sizes with what each loses, between bounds.
#[derive(Default)]
struct Sum {
    /// m² or m.
    size: f64,
    low: Vec<Loss>,
    high: Vec<Loss>,
    trust: Trust,
}

impl Sum {
    fn add(&mut self, size: f64, by: Range) {
        self.size += size;
        self.low.push(Loss { size, by: by.low });
        self.high.push(Loss { size, by: by.high });
    }

    /// W/K.
    fn lost(&self) -> Range {
        Range::between(coefficient(&self.low), coefficient(&self.high))
    }

    fn told(&self, value: Range) -> (Value, Sureness, String) {
        let mut trust = Trust::of(Sureness::Memory);
        trust.add(&self.trust);
        trust.with(Value::Number(value))
    }
}

pub(super) fn of(scene: &Scene<'_>, id: FaceId, walls: &[WallFigures]) -> Found {
    let mut found = Found::default();
    let Some((face, placed)) = scene.model.face(id).zip(scene.plan.face(id)).filter(|_| !walls.is_empty()) else {
        return found;
    };
    let walls = walls_of(id, placed, walls);
    let openings = openings(face, placed);
    let net = placed.areas.iter().map(|area| area.net.area().as_m2()).sum::<f64>();
    let holes = placed.openings.iter().map(|shape| shape.area().as_m2()).sum::<f64>();
    let drawn = Trust::of(Sureness::Verified);
    found.tell(&WALL_AREA, MEASURED, Ok(drawn.with(Value::Number(net.into()))));
    if !face.openings.is_empty() {
        found.tell(&OPENING_AREA, MEASURED, Ok(drawn.with(Value::Number(holes.into()))));
    }
    if let Ok(walls) = &walls
        && walls.size > 0.0
    {
        let mean = walls.lost().through(|lost| lost / walls.size);
        found.tell(&FACE_WALLS, BY_AREA, Ok(walls.told(mean)));
    }
    let both = walls.and_then(|mut sum| {
        let more = openings?;
        sum.size += more.size;
        sum.low.extend(more.low);
        sum.high.extend(more.high);
        sum.trust.add(&more.trust);
        Ok(sum)
    });
    match both {
        Ok(sum) if sum.size > 0.0 => {
            let mean = sum.lost().through(|lost| lost / sum.size);
            found.tell(&FACE_MEAN, BY_AREA, Ok(sum.told(mean)));
            found.tell(&LOSS, BY_AREA, Ok(sum.told(sum.lost())));
        }
        Ok(_) => {}
        Err(fact) => found.tell(&LOSS, BY_AREA, Err(fact)),
    }
    let edges = edges(scene, id);
    found.tell(&EDGE_LOSS, BY_AREA, edges.map(|edges| edges.told(edges.lost())));
    found
}

/// Areas of walls with their transmittances; the error is the missing fact.
fn walls_of(id: FaceId, placed: &FacePlan, walls: &[WallFigures]) -> Result<Sum, String> {
    let mut sum = Sum::default();
    for (at, area) in placed.areas.iter().enumerate() {
        let wall = walls.iter().find(|wall| wall.wall.areas.contains(&(id, at))).ok_or("layers of the wall")?;
        let heat = wall.study("heat").ok_or("layers of the wall")?;
        let value = heat.number(TRANSMITTANCE.key).ok_or_else(|| {
            heat.missing(TRANSMITTANCE.key)
                .map_or_else(|| "layers of the wall".to_owned(), |missing| missing.fact.clone())
        })?;
        sum.add(area.net.area().as_m2(), value);
        if let Some(figure) = heat.figure(TRANSMITTANCE.key) {
            sum.trust.add(&Trust { sure: figure.sure, doubt: figure.doubt.clone() });
        }
    }
    Ok(sum)
}

/// Areas of openings with their transmittances; the error is the missing fact.
fn openings(face: &Face, placed: &FacePlan) -> Result<Sum, String> {
    let mut sum = Sum::default();
    let mut without: Vec<&str> = Vec::new();
    for (opening, shape) in face.openings.iter().zip(&placed.openings) {
        match &opening.transmittance {
            Some(said) => {
                sum.add(shape.area().as_m2(), said.value);
                sum.trust.sourced(said, || format!("U of {}", opening.name));
            }
            None => without.push(&opening.name),
        }
    }
    if without.is_empty() { Ok(sum) } else { Err(format!("U of {} (`transmittance`)", listed(&without))) }
}

/// Lengths of edges with their psi-values; a corner is shared with the other face. The error is the missing fact.
fn edges(scene: &Scene<'_>, id: FaceId) -> Result<Sum, String> {
    let mut sum = Sum::default();
    let mut without: Vec<&str> = Vec::new();
    for (_, run) in scene.plan.runs_of(id) {
        let Some(detail) = run.detail.and_then(|detail| scene.model.detail(detail)) else { continue };
        match &detail.psi {
            Some(said) => {
                let length = run.segment.length().as_m();
                sum.add(if is_shared(scene, run) { length / 2.0 } else { length }, said.value);
                sum.trust.sourced(said, || format!("psi of {}", detail.name));
            }
            None if !without.contains(&detail.name.as_str()) => without.push(&detail.name),
            None => {}
        }
    }
    if without.is_empty() { Ok(sum) } else { Err(format!("psi of {} (`psi`)", listed(&without))) }
}

/// A corner, half of which belongs to the face at its other side.
fn is_shared(scene: &Scene<'_>, run: &Run) -> bool {
    let RunPlace::Edge(at) = run.place else { return false };
    scene.model.face(run.face).and_then(|face| face.edges.get(at)).is_some_and(|edge| edge.meets.is_some())
}

/// "`a`, `b` and 3 more".
fn listed(names: &[&str]) -> String {
    let shown: Vec<String> = names.iter().take(3).map(|name| format!("`{name}`")).collect();
    let more = names.len().saturating_sub(3);
    if more == 0 { shown.join(", ") } else { format!("{} and {more} more", shown.join(", ")) }
}
