//! Linear transmittance of the edge that a cut stands for: what goes through beyond its flanks (ISO 10211, ISO 14683).
//!
//! Flanks have the transmittance that the sum over areas counts for the wall, and lengths taken to the surface that its face is
//! measured to. So the sum of areas and edges is what the cut passes, whether measures are taken inside or outside.

use super::{CutFigures, Psi, Solved, sureness};
use crate::figures::{Scene, Trust, WallFigures, heat};
use crate::model::{AssemblyId, Detail, Face, HeatCut, Model};
use crate::physics::conduction::{Flank, coupling};
use crate::plan::Run;
use crate::units::Range;

/// Psi of a solved cut; none of one that has no flanks and stands for no edge.
pub(super) fn of(model: &Model, walls: &[WallFigures], cut: &HeatCut, solved: &Solved) -> Option<Psi> {
    (!cut.flanks.is_empty() || cut.edge.is_some()).then(|| beyond_flanks(model, walls, cut, solved))
}

fn beyond_flanks(model: &Model, walls: &[WallFigures], cut: &HeatCut, solved: &Solved) -> Psi {
    let (inside, outside) = solved.between.clone()?;
    if cut.flanks.is_empty() {
        return Err(format!("the plane parts beside the edge in `{}` (`flank`)", cut.name));
    }
    let (sure, doubt) = sureness(model, cut);
    let mut trust = Trust { sure, doubt };
    let (mut low, mut high) = (Vec::new(), Vec::new());
    for flank in &cut.flanks {
        let by = match (flank.transmittance, flank.wall) {
            (Some(said), _) => said.into(),
            (None, Some(wall)) => of_wall(model, walls, wall, &mut trust)?,
            (None, None) => return Err("transmittance of a `flank`".to_owned()),
        };
        let length = flank.length.as_m();
        low.push(Flank { transmittance: by.low, length });
        high.push(Flank { transmittance: by.high, length });
    }
    let psi = |flanks: &[Flank]| coupling(solved.given, inside, outside, flanks).map(|coupling| coupling.psi);
    // What the flanks lose more, the edge loses less.
    let ends = psi(&high).zip(psi(&low)).ok_or("a difference: inside and outside are as warm")?;
    Ok((Range::between(ends.0, ends.1), trust))
}

/// U of a wall wherever it stands, as the sum over areas counts it.
fn of_wall(model: &Model, walls: &[WallFigures], wall: AssemblyId, trust: &mut Trust) -> Result<Range, String> {
    let name = model.assembly(wall).map_or("", |assembly| assembly.label.as_str());
    let mut whole: Option<Range> = None;
    for standing in walls.iter().filter(|standing| standing.wall.assembly == wall) {
        let key = heat::TRANSMITTANCE.key;
        let found = standing.study("heat").ok_or_else(|| format!("layers of `{name}`"))?;
        let value = found.number(key).ok_or_else(|| match found.missing(key) {
            Some(missing) => missing.fact.clone(),
            None => format!("U of `{name}`"),
        })?;
        if let Some(figure) = found.figure(key) {
            trust.add(&Trust { sure: figure.sure, doubt: figure.doubt.clone() });
        }
        whole = Some(whole.map_or(value, |known| known.hull(value)));
    }
    whole.ok_or_else(|| format!("a face on which `{name}` stands, for its U"))
}

/// "house window, head"; empty for a cut that stands for no edge.
pub(super) fn edge_name(model: &Model, cut: &HeatCut) -> String {
    let Some((edge, detail)) = cut.edge.as_ref().and_then(|edge| Some((edge, model.detail(edge.detail)?))) else {
        return String::new();
    };
    let name = detail.name.replace('_', " ");
    edge.place.map_or_else(|| name.clone(), |place| format!("{name}, {place}"))
}

/// What a cut says of an edge that its detail says nothing of.
pub struct Edge {
    /// "house window, head".
    pub name: String,
    /// "heat cut window head".
    pub by: String,
    /// Its psi.
    pub psi: Psi,
}

/// The cut that stands for a stretch of edge of a face, if there is one: one of its place before one of all places.
pub fn of_edge(scene: &Scene<'_>, (face, run): (&Face, &Run), detail: &Detail) -> Option<Edge> {
    let model = scene.model;
    let stands = |told: &&CutFigures, place: Option<&str>| {
        let edge = model.heat_cuts.get(told.cut).and_then(|cut| cut.edge.as_ref());
        edge.is_some_and(|edge| Some(edge.detail) == run.detail && edge.place == place)
    };
    let of = |place: Option<&str>| scene.cuts.iter().find(|told| stands(told, place));
    let told = of(Some(run.kind)).or_else(|| of(None))?;
    let cut = model.heat_cuts.get(told.cut)?;
    let measured = match (cut.measured_to, face.measured_to) {
        (Some(own), Some(of_face)) if own == of_face => Ok(()),
        (Some(own), Some(of_face)) => Err(format!(
            "psi of `{}` as `{}` is measured, to {of_face}: `{}` is measured to {own}",
            detail.name, face.name, cut.name
        )),
        (None, _) => Err(format!("what the flanks of `{}` are measured to (`measured to`)", cut.name)),
        (_, None) => Err(format!("what `{}` is measured to (`measured to`)", face.name)),
    };
    let solved = told.solved.as_ref().map(|_| ()).map_err(Clone::clone);
    let psi = || told.psi.clone().unwrap_or_else(|| Err(format!("psi of `{}`", cut.name)));
    let psi = measured.and(solved).and_then(|()| psi());
    let by = format!("heat cut {}", cut.name.replace('_', " "));
    Some(Edge { name: edge_name(model, cut), by, psi })
}
