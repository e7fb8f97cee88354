//! Computed figures of walls from model and plan: what each wall type and each face comes to, with its source and how sure it is.
//! Physics is asked, no message is worded, nothing is drawn.

pub mod fastening;
mod figure;
pub mod gap_air;
pub mod heat;
pub mod heat_cuts;
pub mod hourly;
pub(crate) mod layers;
pub mod leakage;
pub mod moisture;
pub mod movement;
pub mod outboard;
pub mod rain_index;
#[cfg(test)]
mod tests;
mod walls;
pub mod wind_and_rain;

pub use figure::{Figure, Found, MONTHS, Missing, Source, Trust, Value, What};
pub use walls::WallType;

use std::sync::OnceLock;

use rayon::prelude::*;

use crate::continuity::{AirFlow, Conditions, GapFlow};
use crate::model::{AssemblyId, FaceId, Model};
use crate::plan::Plan;
use gap_air::GapAir;
use hourly::Year;

/// One field of building physics: its figures of a wall type, and of a face. One file each.
pub trait Study: Sync {
    /// The word for programs: `heat`.
    fn id(&self) -> &'static str;
    /// For people: "heat".
    fn title(&self) -> &'static str;
    /// What a wall type comes to.
    fn of_wall(&self, _scene: &Scene<'_>, _wall: &WallType) -> Found {
        Found::default()
    }
    /// What a face comes to; `walls` is what stands on it, with what every study before this one found of it.
    fn of_face(&self, _scene: &Scene<'_>, _face: FaceId, _walls: &[WallFigures]) -> Found {
        Found::default()
    }
}

/// Every study, in the order in which figures are told.
pub static STUDIES: &[&dyn Study] = &[
    &heat::Heat,
    &gap_air::GapDrying,
    &moisture::Moisture,
    &hourly::Hourly,
    &wind_and_rain::WindAndRain,
    &fastening::Fastening,
    &movement::Movement,
    &heat_cuts::HeatCuts,
];

/// What studies may look at.
pub struct Scene<'m> {
    /// The wall as declared.
    pub model: &'m Model,
    /// Where everything lies.
    pub plan: &'m Plan,
    shared: Option<&'m GapFlow>,
    flow: OnceLock<GapFlow>,
    still_day: OnceLock<AirFlow>,
    years: Vec<(AssemblyId, Result<Year, String>)>,
    gap_air: Option<Result<GapAir, String>>,
    cuts: Vec<heat_cuts::CutFigures>,
}

impl<'m> Scene<'m> {
    /// Over a model and its plan.
    pub fn new(model: &'m Model, plan: &'m Plan) -> Self {
        Self {
            model,
            plan,
            shared: None,
            flow: OnceLock::new(),
            still_day: OnceLock::new(),
            years: Vec::new(),
            gap_air: None,
            cuts: Vec::new(),
        }
    }

    /// The same where it is known already where air can go.
    pub fn with_flow(model: &'m Model, plan: &'m Plan, flow: &'m GapFlow) -> Self {
        Self { shared: Some(flow), ..Self::new(model, plan) }
    }

    /// The year of a wall type; `None` where no years were run.
    pub fn year(&self, wall: &WallType) -> Option<&Result<Year, String>> {
        self.years.iter().find(|(assembly, _)| *assembly == wall.assembly).map(|(_, year)| year)
    }

    /// Where water and air in the gap can go.
    pub fn flow(&self) -> &GapFlow {
        self.shared.unwrap_or_else(|| self.flow.get_or_init(|| GapFlow::find(self.model, self.plan)))
    }

    /// The air of all bays on a still winter day, made for comparing walls.
    pub fn still_day(&self) -> &AirFlow {
        let find = || AirFlow::find(self.model, self.plan, self.flow(), &Conditions::default());
        self.still_day.get_or_init(find)
    }

    /// Every wall type, without figures.
    pub fn walls(&self) -> Vec<WallType> {
        walls::types(self)
    }
}

/// What one study found.
#[derive(Clone, Debug, PartialEq)]
pub struct Studied {
    /// Its word.
    pub study: &'static str,
    /// Figures, and what cannot be told.
    pub found: Found,
}

/// A wall type with its figures.
#[derive(Clone, Debug, PartialEq)]
pub struct WallFigures {
    /// The wall.
    pub wall: WallType,
    /// What each study found, in the order of [`STUDIES`]; those that have nothing to say left out.
    pub studies: Vec<Studied>,
}

/// A face with its figures.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceFigures {
    /// The face.
    pub face: FaceId,
    /// As for a wall type.
    pub studies: Vec<Studied>,
}

/// A building with its figures.
#[derive(Clone, Debug, PartialEq)]
pub struct HouseFigures {
    /// Index into [`Model::buildings`].
    pub building: usize,
    /// As for a wall type.
    pub studies: Vec<Studied>,
}

/// All figures of a project.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Figures {
    /// Wall types, in the order in which faces use them.
    pub walls: Vec<WallFigures>,
    /// Faces, in the order of the files.
    pub faces: Vec<FaceFigures>,
    /// The hourly year of each wall type; the error is the missing fact.
    pub years: Vec<(AssemblyId, Result<Year, String>)>,
    /// Buildings of which anything is known, in the order of the files.
    pub houses: Vec<HouseFigures>,
    /// Plane cuts that were understood, in the order of the files.
    pub cuts: Vec<heat_cuts::CutFigures>,
}

/// All figures of a project.
pub fn of(model: &Model, plan: &Plan) -> Figures {
    let mut scene = Scene::new(model, plan);
    let types = scene.walls();
    let gap_air = GapAir::of(&scene);
    let years = hourly::years(&scene, &types, gap_air.as_ref());
    scene.gap_air = Some(gap_air);
    scene.years = types.iter().map(|wall| wall.assembly).zip(years).collect();
    let walls: Vec<WallFigures> = types.into_par_iter().map(|wall| of_wall(&scene, wall)).collect();
    // Cuts ask for the walls beside them, and edges of faces for what cuts of them come to.
    let cuts = model.heat_cuts.par_iter().enumerate();
    scene.cuts = cuts.filter_map(|(index, cut)| heat_cuts::of(&scene, &walls, index, cut)).collect();
    let faces = (0..model.faces.len()).into_par_iter().map(|index| of_face(&scene, FaceId(index as u32), &walls));
    let faces = faces.collect();
    let houses = (0..model.buildings.len()).filter_map(|index| of_house(&scene, index, &walls)).collect();
    Figures { faces, houses, walls, years: scene.years, cuts: scene.cuts }
}

fn of_house(scene: &Scene<'_>, index: usize, walls: &[WallFigures]) -> Option<HouseFigures> {
    let building = scene.model.buildings.get(index)?;
    let found =
        [(heat::Heat.id(), heat::of_house(scene, building, walls)), (leakage::ID, leakage::of(scene.model, building))];
    let studies = found.into_iter().map(|(study, found)| Studied { study, found });
    let studies: Vec<Studied> = studies.filter(|studied| !studied.found.is_empty()).collect();
    (!studies.is_empty()).then_some(HouseFigures { building: index, studies })
}

fn of_wall(scene: &Scene<'_>, wall: WallType) -> WallFigures {
    let studied = STUDIES.iter().map(|study| Studied { study: study.id(), found: study.of_wall(scene, &wall) });
    let studies = studied.filter(|studied| !studied.found.is_empty()).collect();
    WallFigures { wall, studies }
}

fn of_face(scene: &Scene<'_>, face: FaceId, walls: &[WallFigures]) -> FaceFigures {
    let own: Vec<WallFigures> = walls.iter().filter(|wall| wall.wall.stands_on(face)).cloned().collect();
    let studied = STUDIES.iter().map(|study| Studied { study: study.id(), found: study.of_face(scene, face, &own) });
    FaceFigures { face, studies: studied.filter(|studied| !studied.found.is_empty()).collect() }
}

impl WallFigures {
    /// What a study found; nothing if it had nothing to say.
    pub fn study(&self, id: &str) -> Option<&Found> {
        self.studies.iter().find(|studied| studied.study == id).map(|studied| &studied.found)
    }
}

impl HouseFigures {
    /// What a study found; nothing if it had nothing to say.
    pub fn study(&self, id: &str) -> Option<&Found> {
        self.studies.iter().find(|studied| studied.study == id).map(|studied| &studied.found)
    }
}

impl FaceFigures {
    /// What a study found; nothing if it had nothing to say.
    pub fn study(&self, id: &str) -> Option<&Found> {
        self.studies.iter().find(|studied| studied.study == id).map(|studied| &studied.found)
    }
}
