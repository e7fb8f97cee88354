//! What the geometry of a building is once everything on its faces has been placed: areas, stretches of edge with their
//! details and parts, points where they meet, strips, and the bays of the gap between them.

mod areas;
mod bays;
mod blanks;
mod courses;
mod gap;
mod nodes;
mod parts;
mod places;
mod runs;
mod strips;
#[cfg(test)]
mod tests;

pub use gap::top_of as top_of_fire_stop;

use rayon::prelude::*;

use self::places::Scene;
use crate::geometry::{Point, Polygon, Region, Segment};
use crate::layout::field::{self, Field};
use crate::model::{DetailId, Face, FaceId, Functions, Model, PartSpec};
use crate::source::Span;
use crate::units::Length;

/// One stretch of edge, as an index into [`Plan::runs`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RunId(pub u32);

/// One part, as an index into [`Plan::parts`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PartId(pub u32);

/// The geometry of everything that was declared.
#[derive(Debug, Default)]
pub struct Plan {
    /// In the order of [`crate::model::Model::faces`].
    pub faces: Vec<FacePlan>,
    /// All stretches of edge of all faces.
    pub runs: Vec<Run>,
    /// All parts of all details, one for each stretch.
    pub parts: Vec<Part>,
    /// Points where three or more runs meet, or two that join different planes.
    pub nodes: Vec<Node>,
}

/// One face.
#[derive(Debug, Default)]
pub struct FacePlan {
    /// The outline as a region; empty if the face has none.
    pub outline: Region,
    /// In the order of the face's areas.
    pub areas: Vec<AreaPlan>,
    /// Rectangles of the openings as framed (the size that was measured), in the order of the face's openings.
    pub openings: Vec<Polygon>,
    /// Rectangles of the blocks, with heights in courses worked out; `None` where size cannot be told.
    pub blocks: Vec<Option<Polygon>>,
    /// Parts of the outline that no area covers.
    pub bare: Region,
    /// Pairs of areas that overlap, with what they share.
    pub overlaps: Vec<(usize, usize, Region)>,
    /// Height of one course on this face, if it can be told: the exposure chosen for the whole house.
    pub exposure: Option<Length>,
    /// Height of the first course line above the datum.
    pub course_start: Option<Length>,
}

/// One area of a face.
#[derive(Debug, Default)]
pub struct AreaPlan {
    /// The area with openings still in it.
    pub whole: Region,
    /// Without openings: what is clad.
    pub net: Region,
    /// What its cladding covers, and the lines at which it ends; none where nothing is known of the wall.
    pub field: Option<Field>,
    /// Furring strips, cut to length.
    pub strips: Vec<Strip>,
    /// Pieces of the gap between strips; empty if the assembly has no gap.
    pub bays: Vec<Bay>,
}

/// Why a strip is where it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StripPurpose {
    /// One of the regular ones.
    Regular,
    /// At a corner or side of the area.
    Corner,
    /// Beside an opening.
    Jamb,
    /// At a joint.
    Joint,
    /// Beside a block.
    Block,
}

/// One length of furring.
#[derive(Clone, Debug)]
pub struct Strip {
    /// Its shape on the face.
    pub shape: Polygon,
    /// Its axis, lower or left end first.
    pub axis: Segment,
    /// Centre of its width: x for vertical strips, y for horizontal ones.
    pub centre: Length,
    /// Why it is there.
    pub purpose: StripPurpose,
    /// Runs along the wall.
    pub horizontal: bool,
}

/// One connected piece of the gap of an area.
#[derive(Clone, Debug)]
pub struct Bay {
    /// Its shape.
    pub shape: Polygon,
    /// What lies along each piece of its boundary, anticlockwise round the outline, then round each hole.
    pub contacts: Vec<Contact>,
    /// Rows of slots that open into it: index of the vent, and the stretch of it in this bay.
    pub vents: Vec<(usize, Segment)>,
}

/// A piece of a bay's boundary with what is on its other side. The bay lies to the left of the segment.
#[derive(Clone, Debug)]
pub struct Contact {
    /// The piece.
    pub segment: Segment,
    /// What is there.
    pub with: Against,
}

/// What bounds a bay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Against {
    /// A stretch of edge: of the outline, between areas, of an opening, along a roof.
    Run(RunId),
    /// A furring strip, by index.
    Strip(usize),
    /// A block, by index.
    Block(usize),
    /// A loose nailer, by index.
    Nailer(usize),
    /// A fire stop, by index.
    FireStop(usize),
    /// The flashing of a row of slots that crosses the gap, by index; the bay above drains onto it.
    Vent(usize),
    /// Nothing that is known.
    Unknown,
}

/// Where a run lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RunPlace {
    /// On an edge of the outline, by index.
    Edge(usize),
    /// Where two areas meet: index of the `between`, if one was declared.
    Between(Option<usize>),
    /// Round an opening, by index.
    Opening(usize),
    /// Along a roof that crosses the face, by index.
    Roof(usize),
    /// Along a deck that crosses the face, by index.
    Deck(usize),
    /// Across the wall at a floor, by index of the floor line.
    Floor(usize),
    /// Along the upper edge of a ledger, by index.
    Ledger(usize),
    /// Along a row of brackets, by index.
    Brackets(usize),
}

impl RunPlace {
    /// Whether it is a line across the wall, with the same area above and below, rather than an edge of anything.
    pub fn crosses_face(self) -> bool {
        self.divides() || matches!(self, RunPlace::Roof(_) | RunPlace::Deck(_) | RunPlace::Brackets(_))
    }

    /// Whether its two sides are an upper and a lower part of one area: a floor or a ledger.
    pub fn divides(self) -> bool {
        matches!(self, RunPlace::Floor(_) | RunPlace::Ledger(_))
    }
}

/// A stretch of edge with exactly one detail, or none.
#[derive(Clone, Debug)]
pub struct Run {
    /// The face.
    pub face: FaceId,
    /// Where it lies.
    pub place: RunPlace,
    /// `base`, `top`, `rake`, `left`, `right`, `step`, `roof_line`, `deck_line`, `parapet`, `corner` (an edge that meets another
    /// face), `underside`, `transition` (lying), `side` (upright, between areas), `floor_line`, `ledger`, `bracket`, `head`, `jamb`,
    /// `sill`.
    pub kind: &'static str,
    /// As a person names it: `north.base`, `north.kitchen.head`, `north.lower/upper`.
    pub name: String,
    /// From where to where. The area lies to the left; for a `between`, the upper (or left) one; for an opening, the wall.
    pub segment: Segment,
    /// The area it bounds: the wall's own, or the upper one of a `between`; a floor line, a ledger or a row of brackets lies in it.
    pub area: Option<usize>,
    /// The lower (or right) area of a `between`.
    pub other: Option<usize>,
    /// How it is built.
    pub detail: Option<DetailId>,
    /// Parts of that detail on this stretch.
    pub parts: Vec<PartId>,
    /// Line of the edge, clause or opening it comes from.
    pub origin: Span,
}

/// One part on one stretch of edge.
#[derive(Clone, Debug)]
pub struct Part {
    /// The stretch it lies on; none for caps of blocks and vents.
    pub run: Option<RunId>,
    /// The face.
    pub face: FaceId,
    /// What it is, as its detail says.
    pub spec: PartSpec,
    /// Control functions it carries.
    pub functions: Functions,
    /// Place in its detail, from inside to outside.
    pub rank: usize,
    /// Dotted name: `north.base.flashing`.
    pub name: String,
    /// From where to where on the face.
    pub segment: Segment,
    /// Where its detail or clause stands.
    pub origin: Span,
}

/// A point where runs meet.
#[derive(Clone, Debug)]
pub struct Node {
    /// The face.
    pub face: FaceId,
    /// Where.
    pub at: Point,
    /// Runs that end or pass there.
    pub runs: Vec<RunId>,
    /// What sort of point: `corner_foot`, `corner_head`, `step_end`, `ridge`, `kick_out`, `saddle`, `area_end`, `opening_corner`, `bend`.
    pub kind: &'static str,
    /// How it is built, if said.
    pub detail: Option<DetailId>,
    /// As a person names it: "N wall, foot of the corner to east".
    pub name: String,
    /// What it comes from.
    pub origin: Span,
}

impl Plan {
    /// A run by id.
    pub fn run(&self, id: RunId) -> Option<&Run> {
        self.runs.get(id.0 as usize)
    }

    /// A part by id.
    pub fn part(&self, id: PartId) -> Option<&Part> {
        self.parts.get(id.0 as usize)
    }

    /// The plan of a face.
    pub fn face(&self, id: FaceId) -> Option<&FacePlan> {
        self.faces.get(id.0 as usize)
    }

    /// All runs with their ids.
    pub fn runs(&self) -> impl Iterator<Item = (RunId, &Run)> {
        self.runs.iter().enumerate().map(|(at, run)| (RunId(at as u32), run))
    }

    /// Runs of one face. Runs stand in the order of the faces, so only this face's are looked at.
    pub fn runs_of(&self, face: FaceId) -> impl Iterator<Item = (RunId, &Run)> {
        let start = self.runs.partition_point(|run| run.face < face);
        let own = self.runs.get(start..).unwrap_or_default().iter().take_while(move |run| run.face == face);
        own.enumerate().map(move |(at, run)| (RunId((start + at) as u32), run))
    }

    /// Parts of a run, from inside to outside.
    pub fn parts_of<'p>(&'p self, run: &'p Run) -> impl Iterator<Item = &'p Part> + 'p {
        run.parts.iter().filter_map(|&id| self.part(id))
    }
}

/// What was worked out for one face; run and part ids count from 0 on this face.
#[derive(Default)]
struct Placed {
    face: FacePlan,
    runs: Vec<Run>,
    parts: Vec<Part>,
    nodes: Vec<Node>,
}

/// Places everything that was declared: first what needs no courses, then the courses by where cladding ends, then the rest.
pub fn build(model: &Model) -> Plan {
    let faces = || model.faces.par_iter().enumerate().map(|(at, face)| (FaceId(at as u32), face));
    let placed: Vec<Placed> = faces().map(|(id, face)| edges(model, id, face)).collect();
    let courses = courses::choose(model, &placed);
    let each = placed.into_par_iter().zip(courses).enumerate();
    let placed: Vec<Placed> = each
        .map(|(at, (placed, courses))| match model.faces.get(at) {
            Some(face) => fill(model, FaceId(at as u32), face, placed, courses),
            None => placed,
        })
        .collect();
    let mut plan = Plan::default();
    for face in placed {
        plan.take(face);
    }
    plan
}

/// Areas, stretches of edge, and what cladding covers between them. Blocks that are measured in courses stand as high as
/// those of [`courses::guess`] until the courses are chosen.
fn edges(model: &Model, id: FaceId, face: &Face) -> Placed {
    let mut placed = Placed::default();
    let Some(scene) = Scene::new(model, id, face) else { return placed };
    areas::place(&scene, &mut placed.face);
    areas::blocks(&scene, &mut placed.face, courses::guess(model, face));
    placed.runs = runs::find(&scene, &placed.face);
    cover(model, face, &mut placed);
    placed
}

fn cover(model: &Model, face: &Face, placed: &mut Placed) {
    let fields: Vec<_> =
        (0..placed.face.areas.len()).map(|area| field::field(model, face, &placed.face, &placed.runs, area)).collect();
    for (area, field) in placed.face.areas.iter_mut().zip(fields) {
        area.field = field;
    }
}

/// Everything else on one face, by itself.
fn fill(model: &Model, id: FaceId, face: &Face, mut placed: Placed, courses: Option<(Length, Length)>) -> Placed {
    placed.face.exposure = courses.map(|(exposure, _)| exposure);
    placed.face.course_start = courses.map(|(_, start)| start);
    let Some(scene) = Scene::new(model, id, face) else { return placed };
    if !face.blocks.is_empty() {
        let exposure = placed.face.exposure;
        areas::blocks(&scene, &mut placed.face, exposure);
        cover(model, face, &mut placed);
    }
    for area in 0..placed.face.areas.len() {
        let gap = gap::Obstacles::of(&scene, &placed.face, &placed.runs, area);
        let laid = strips::lay(&scene, &placed.face, &gap, area);
        let bays = bays::find(&scene, &placed.face, &placed.runs, &gap, &laid, area);
        if let Some(area) = placed.face.areas.get_mut(area) {
            area.strips = laid.strips;
            area.bays = bays;
        }
    }
    placed.parts = parts::make(&scene, &placed.face, &mut placed.runs);
    placed.nodes = nodes::find(&scene, &placed.runs);
    placed
}

impl Plan {
    /// Adds one face, its ids made to count through the building.
    fn take(&mut self, mut placed: Placed) {
        let (runs, parts) = (self.runs.len() as u32, self.parts.len() as u32);
        placed.runs.iter_mut().flat_map(|run| &mut run.parts).for_each(|part| part.0 += parts);
        placed.parts.iter_mut().filter_map(|part| part.run.as_mut()).for_each(|run| run.0 += runs);
        placed.nodes.iter_mut().flat_map(|node| &mut node.runs).for_each(|run| run.0 += runs);
        for contact in placed.face.areas.iter_mut().flat_map(|area| &mut area.bays).flat_map(|bay| &mut bay.contacts) {
            if let Against::Run(run) = &mut contact.with {
                run.0 += runs;
            }
        }
        self.faces.push(placed.face);
        self.runs.append(&mut placed.runs);
        self.parts.append(&mut placed.parts);
        self.nodes.append(&mut placed.nodes);
    }
}
