//! What a face loses: walls and openings by their areas, edges by their lengths.

use super::{
    BY_AREA, EDGE_LOSS, EDGE_PSI, FACE_LOSS, FACE_MEAN, FACE_WALLS, FACE_WHOLE, LOSS, MEASURED, OPENING_AREA,
    SAID_OF_EDGES, TRANSMITTANCE, WALL_AREA,
};
use crate::figures::heat_cuts::{self, Edge, of_edge};
use crate::figures::{Figure, Found, Scene, Trust, Value, WallFigures};
use crate::model::{Detail, Face, FaceId, Sureness};
use crate::physics::resistance::{Loss, coefficient};
use crate::plan::{FacePlan, Run, RunPlace};
use crate::units::Range;

/// Sizes with what each loses, between bounds.
#[derive(Clone, Default)]
pub(super) struct Sum {
    /// m² or m.
    pub size: f64,
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

    /// With what else loses heat; its size is added too.
    pub fn and(mut self, other: &Sum) -> Sum {
        self.size += other.size;
        self.low.extend(&other.low);
        self.high.extend(&other.high);
        self.trust.add(&other.trust);
        self
    }

    /// With what has no area of its own.
    fn and_edges(self, edges: &Sum) -> Sum {
        let size = self.size;
        Sum { size, ..self.and(edges) }
    }

    /// W/K.
    pub fn lost(&self) -> Range {
        Range::between(coefficient(&self.low), coefficient(&self.high))
    }

    /// W/K shared out over the size.
    pub fn mean(&self) -> Range {
        self.lost().through(|lost| lost / self.size)
    }

    pub fn told(&self, value: Range) -> (Value, Sureness, String) {
        let mut trust = Trust::of(Sureness::Memory);
        trust.add(&self.trust);
        trust.with(Value::Number(value))
    }
}

/// What a face loses, by what it loses it through; errors are missing facts.
pub(super) struct Parts {
    /// Walls less their openings, m².
    pub walls: Result<Sum, String>,
    /// Openings, m².
    pub openings: Result<Sum, String>,
    /// Edges, m.
    pub edges: Result<Sum, String>,
}

impl Parts {
    /// Of a face.
    pub fn of(scene: &Scene<'_>, id: FaceId, walls: &[WallFigures]) -> Option<Parts> {
        let (face, placed) = scene.model.face(id).zip(scene.plan.face(id))?;
        Some(Parts {
            walls: walls_of(id, placed, walls),
            openings: openings(scene, face, placed),
            edges: edges(scene, id),
        })
    }

    fn walls_and_openings(&self) -> Result<Sum, String> {
        Ok(self.walls.clone()?.and(self.openings.as_ref().map_err(Clone::clone)?))
    }

    /// All of it; its size is the area of walls and openings. The error is the missing fact.
    pub fn whole(&self) -> Result<Sum, String> {
        Ok(self.walls_and_openings()?.and_edges(self.edges.as_ref().map_err(Clone::clone)?))
    }
}

pub(super) fn of(scene: &Scene<'_>, id: FaceId, walls: &[WallFigures]) -> Found {
    let mut found = Found::default();
    let Some((face, placed)) = scene.model.face(id).zip(scene.plan.face(id)).filter(|_| !walls.is_empty()) else {
        return found;
    };
    let Some(parts) = Parts::of(scene, id, walls) else { return found };
    let net = placed.areas.iter().map(|area| area.net.area().as_m2()).sum::<f64>();
    let holes = placed.openings.iter().map(|shape| shape.area().as_m2()).sum::<f64>();
    let drawn = Trust::of(Sureness::Verified);
    found.tell(&WALL_AREA, MEASURED, Ok(drawn.with(Value::Number(net.into()))));
    if !face.openings.is_empty() {
        found.tell(&OPENING_AREA, MEASURED, Ok(drawn.with(Value::Number(holes.into()))));
    }
    if let Ok(walls) = &parts.walls
        && walls.size > 0.0
    {
        found.tell(&FACE_WALLS, BY_AREA, Ok(walls.told(walls.mean())));
    }
    match parts.walls_and_openings() {
        Ok(sum) if sum.size > 0.0 => {
            found.tell(&FACE_MEAN, BY_AREA, Ok(sum.told(sum.mean())));
            found.tell(&LOSS, BY_AREA, Ok(sum.told(sum.lost())));
        }
        Ok(_) => {}
        Err(fact) => found.tell(&LOSS, BY_AREA, Err(fact)),
    }
    psi_values(&mut found, scene, id);
    found.tell(&EDGE_LOSS, BY_AREA, parts.edges.as_ref().map(|edges| edges.told(edges.lost())).map_err(Clone::clone));
    // What is missing was said with its part.
    if let Ok(whole) = parts.whole()
        && whole.size > 0.0
    {
        found.tell(&FACE_WHOLE, BY_AREA, Ok(whole.told(whole.mean())));
        found.tell(&FACE_LOSS, BY_AREA, Ok(whole.told(whole.lost())));
    }
    found
}

/// What each kind of edge loses, with where that is from.
fn psi_values(found: &mut Found, scene: &Scene<'_>, id: FaceId) {
    for (_, run) in scene.plan.runs_of(id) {
        let Some((detail, face)) = detail_of(scene, run).zip(scene.model.face(id)) else { continue };
        let figure = match (&detail.psi, of_edge(scene, (face, run), detail)) {
            (Some(said), _) => Figure {
                what: &EDGE_PSI,
                of: detail.name.replace('_', " "),
                value: Value::Number(said.value),
                source: SAID_OF_EDGES,
                sure: said.sure,
                doubt: said.source.to_string(),
            },
            (None, Some(Edge { name, by, psi: Ok((psi, trust)) })) => Figure {
                what: &EDGE_PSI,
                of: name,
                value: Value::Number(psi),
                source: heat_cuts::METHOD,
                sure: trust.sure,
                doubt: by,
            },
            _ => continue,
        };
        if !found.figures.contains(&figure) {
            found.figures.push(figure);
        }
    }
}

fn detail_of<'s>(scene: &Scene<'s>, run: &Run) -> Option<&'s Detail> {
    run.detail.and_then(|detail| scene.model.detail(detail))
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
fn openings(scene: &Scene<'_>, face: &Face, placed: &FacePlan) -> Result<Sum, String> {
    let mut sum = Sum::default();
    let mut without: Vec<&str> = Vec::new();
    for (opening, shape) in face.openings.iter().zip(&placed.openings) {
        match scene.model.transmittance_of(opening) {
            Some(said) => {
                sum.add(shape.area().as_m2(), said.value);
                sum.trust.sourced(said, || format!("U of {}", opening.name));
            }
            None => without.push(&opening.name),
        }
    }
    if without.is_empty() { Ok(sum) } else { Err(format!("U of {} (`transmittance`)", listed(&without))) }
}

/// Lengths of edges with their psi-values, as said of their details or from cuts of them; a corner is shared with the other face.
/// The error is the missing fact.
fn edges(scene: &Scene<'_>, id: FaceId) -> Result<Sum, String> {
    let mut sum = Sum::default();
    let mut without: Vec<&str> = Vec::new();
    let mut lacking: Vec<String> = Vec::new();
    for (_, run) in scene.plan.runs_of(id) {
        let Some((detail, face)) = detail_of(scene, run).zip(scene.model.face(id)) else { continue };
        let length = run.segment.length().as_m();
        let length = if is_shared(scene, run) { length / 2.0 } else { length };
        if let Some(said) = &detail.psi {
            sum.add(length, said.value);
            sum.trust.sourced(said, || format!("psi of {}", detail.name.replace('_', " ")));
            continue;
        }
        match of_edge(scene, (face, run), detail) {
            Some(Edge { psi: Ok((psi, trust)), .. }) => {
                sum.add(length, psi);
                sum.trust.add(&trust);
            }
            Some(Edge { psi: Err(fact), .. }) if !lacking.contains(&fact) => lacking.push(fact),
            None if !without.contains(&detail.name.as_str()) => without.push(&detail.name),
            _ => {}
        }
    }
    if !without.is_empty() {
        lacking.push(format!("psi of {} (`psi`)", listed(&without)));
    }
    if lacking.is_empty() { Ok(sum) } else { Err(lacking.join("; ")) }
}

/// A corner, half of which belongs to the face at its other side.
fn is_shared(scene: &Scene<'_>, run: &Run) -> bool {
    let RunPlace::Edge(at) = run.place else { return false };
    scene.model.face(run.face).and_then(|face| face.edges.get(at)).is_some_and(|edge| edge.meets.is_some())
}

/// "`a`, `b` and 3 more".
pub(super) fn listed(names: &[&str]) -> String {
    let shown: Vec<String> = names.iter().take(3).map(|name| format!("`{name}`")).collect();
    let more = names.len().saturating_sub(3);
    if more == 0 { shown.join(", ") } else { format!("{} and {more} more", shown.join(", ")) }
}
