//! Joints of the air barrier one by one: the part that makes each, what it has to hold on, and how long it runs.

use super::air::{Barrier, Walk};
use crate::eval::Date;
use crate::model::{Face, FaceId, Joint, Layer, LayerKind, Model, Place, Product, Service, Stuff};
use crate::plan::{Run, RunId, RunPlace};
use crate::source::Span;
use crate::units::Length;

/// One joint of the barrier that has a part.
#[derive(Clone, Debug)]
pub struct AirJoint {
    /// The face.
    pub face: FaceId,
    /// The stretch of edge, for joints along edges.
    pub run: Option<RunId>,
    /// Index of the service on its face, for joints at holes.
    pub service: Option<usize>,
    /// `base`, `top`, `corner`, `transition`, `opening`, `service`, `floor_line`; `strip` for a strip of a detail that carries
    /// the barrier, `point` for one at a point, `seam` for the seams of a layer.
    pub kind: &'static str,
    /// What it seals to: the word of its clause; empty for strips and seams.
    pub target: &'static str,
    /// Dotted name of where it is: `north.base`, `north.drain`.
    pub place: String,
    /// The detail, service or layer that names it.
    pub owner: String,
    /// What it is; absent if not said.
    pub with: Option<Stuff>,
    /// What it has to hold on.
    pub sides: Vec<Surface>,
    /// Width of the bond on each side; of a bead of sealant, the width of the joint.
    pub width: Option<Length>,
    /// Its surfaces are primed.
    pub primer: Option<bool>,
    /// °C on the day it goes on: its own, or that of the barrier it joins.
    pub applied: Option<f64>,
    /// Depth of a bead.
    pub depth: Option<Length>,
    /// It is a bead of sealant.
    pub bead: bool,
    /// A bead has a backer.
    pub backer: Option<bool>,
    /// Fold left in it.
    pub slack: Option<Length>,
    /// The day by which it is looked at again.
    pub recheck: Option<Date>,
    /// How long it runs.
    pub length: Length,
    /// The face on its other side tells of it too.
    pub shared: bool,
    /// Where it is named.
    pub origin: Span,
    /// Where that is used.
    pub used: Span,
}

/// One side of a joint.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    /// As a person says it: "the foundation", "`sheathing`".
    pub words: String,
    /// Kinds of material it may be of, in the words of the schema; none if that cannot be told.
    pub kinds: Vec<&'static str>,
    /// The fact that would tell, where the language has a clause for it.
    pub missing: Option<String>,
}

impl Surface {
    fn of(words: impl Into<String>, kinds: &[&'static str]) -> Self {
        Self { words: words.into(), kinds: kinds.to_vec(), missing: None }
    }
}

/// Whether a joint holds on what it joins.
#[derive(Clone, Debug, PartialEq)]
pub enum Hold<'j> {
    /// On every side.
    Yes,
    /// Not on this side, of this kind.
    Not(&'j Surface, &'static str),
    /// On this side over primer only, and there is none.
    Unprimed(&'j Surface, &'static str),
    /// A missing fact.
    Missing(Lack<'j>),
    /// Nothing that the language has a clause for would tell.
    CannotTell,
}

/// What is missing to tell whether a joint holds.
#[derive(Clone, Debug, PartialEq)]
pub enum Lack<'j> {
    /// Which product it is.
    Product,
    /// What the product bonds to.
    Bonds,
    /// Whether this side, of this kind, is primed.
    Primer(&'j Surface, &'static str),
    /// What this side is of.
    Surface(&'j Surface),
}

/// Kinds of material that products can be said to bond to.
const BONDABLE: [&str; 11] = [
    "wood",
    "wood_board",
    "metal",
    "concrete",
    "masonry",
    "membrane",
    "plastic",
    "gypsum",
    "glass",
    "fibre_cement",
    "foam",
];

impl AirJoint {
    /// The product that makes it.
    pub fn product<'m>(&self, model: &'m Model) -> Option<&'m Product> {
        self.with.as_ref().and_then(|stuff| model.product_of(stuff))
    }

    /// Whether it holds, by what its product bonds to. Sides that fail come before those that cannot be told.
    pub fn holds(&self, model: &Model) -> Hold<'_> {
        let Some(product) = self.product(model) else { return Hold::Missing(Lack::Product) };
        if product.bonds.is_empty() && product.primed.is_empty() {
            return Hold::Missing(Lack::Bonds);
        }
        let mut doubt = Hold::Yes;
        for side in &self.sides {
            match on_side(product, self.primer, side) {
                Hold::Yes => {}
                fails @ (Hold::Not(..) | Hold::Unprimed(..)) => return fails,
                open if matches!(doubt, Hold::Yes | Hold::CannotTell) => doubt = open,
                _ => {}
            }
        }
        doubt
    }
}

fn on_side<'j>(product: &Product, primer: Option<bool>, side: &'j Surface) -> Hold<'j> {
    let known: Vec<&'static str> = side.kinds.iter().copied().filter(|kind| BONDABLE.contains(kind)).collect();
    let told = known.len() == side.kinds.len() && !known.is_empty();
    let primed_only = |kind: &&&'static str| !product.bonds.contains(*kind) && product.primed.contains(*kind);
    let none = |kind: &&&'static str| !product.bonds.contains(*kind) && !product.primed.contains(*kind);
    let lacking = || side.missing.as_ref().map_or(Hold::CannotTell, |_| Hold::Missing(Lack::Surface(side)));
    if !told {
        return lacking();
    }
    if let Some(&kind) = known.iter().find(none) {
        return if known.iter().all(|kind| none(&kind)) { Hold::Not(side, kind) } else { lacking() };
    }
    match (known.iter().find(primed_only), primer) {
        (None, _) | (Some(_), Some(true)) => Hold::Yes,
        (Some(kind), None) => Hold::Missing(Lack::Primer(side, kind)),
        (Some(kind), Some(false)) if known.iter().all(|kind| primed_only(&kind)) => Hold::Unprimed(side, kind),
        (Some(_), Some(false)) => lacking(),
    }
}

/// What is round a joint: where it looks for the surfaces it joins.
#[derive(Clone, Copy)]
pub(super) struct Round<'m> {
    pub face: FaceId,
    pub area: Option<usize>,
    pub other: Option<usize>,
    /// Index of the edge, where it meets another face.
    pub edge: Option<usize>,
    pub opening: Option<usize>,
    /// What the detail says there, for its sleeve.
    pub place: Option<&'m Place>,
}

impl<'m> Round<'m> {
    pub fn run(run: &Run, place: Option<&'m Place>) -> Self {
        let edge = if let RunPlace::Edge(index) = run.place { Some(index) } else { None };
        let opening = if let RunPlace::Opening(index) = run.place { Some(index) } else { None };
        Self { face: run.face, area: run.area, other: run.other, edge, opening, place }
    }
}

impl<'m> Walk<'m> {
    /// A layer as a surface.
    pub fn surface(&self, layer: &Layer) -> Surface {
        let words = format!("`{}`", layer.name);
        match kind_of(self.model, &layer.stuff) {
            Some(kind) => Surface::of(words, &[kind]),
            None => {
                let missing = format!("what kind of material `{}` is of (`kind`)", layer.name);
                Surface { words, kinds: Vec::new(), missing: Some(missing) }
            }
        }
    }

    fn is_sealant(&self, stuff: &Stuff) -> bool {
        match self.model.product_of(stuff) {
            Some(product) => product.kind == "sealant",
            None => self.model.material_of(stuff).is_some_and(|material| material.kind == "sealant"),
        }
    }

    /// The surface a word of the language stands for, at a place.
    pub fn far_side(&self, round: Round<'m>, target: &str) -> Surface {
        let own = || self.barrier(round.face, round.area).map(|barrier| self.surface(barrier.layer));
        let words = super::joints::the(target);
        let building = self.model.building_of(round.face);
        let nothing = || Surface::of(words.clone(), &[]);
        match target {
            "slab" => Surface::of(words, &["concrete"]),
            "foundation" => match building.and_then(|building| building.foundation.as_ref()?.1) {
                Some("concrete" | "slab") => Surface::of(words, &["concrete"]),
                Some("membrane") => Surface::of(words, &["membrane"]),
                _ => nothing(),
            },
            "roof" | "ceiling" => match building.and_then(|building| building.roof.as_ref()?.1) {
                Some("ceiling_membrane" | "roof_membrane") => Surface::of(words, &["membrane"]),
                Some("deck") => Surface::of(words, &["wood", "wood_board", "concrete", "metal"]),
                _ => nothing(),
            },
            "deck" => Surface::of(words, &["wood", "wood_board", "concrete", "metal", "membrane"]),
            "frame" => self.frame_of(round),
            "sleeve" | "pipe" => self.sleeve(round, words),
            "water" => self.plane(round).unwrap_or_else(nothing),
            "neighbour" => self.neighbour(round).or_else(own).unwrap_or_else(nothing),
            "itself" | "air" => own().unwrap_or_else(nothing),
            _ => nothing(),
        }
    }

    fn plane(&self, round: Round<'_>) -> Option<Surface> {
        let (_, layer) = self.assembly_of(round.face, round.area)?.drainage_plane()?;
        Some(self.surface(layer))
    }

    fn frame_of(&self, round: Round<'_>) -> Surface {
        let opening = round.opening.and_then(|at| self.model.face(round.face)?.openings.get(at));
        let Some(opening) = opening else { return Surface::of("the frame", &[]) };
        let words = "the frame";
        match opening.frame_of {
            Some(kind) => Surface::of(words, &[kind]),
            None => Surface {
                missing: Some(format!("what {words} is of (`frame_of` of the opening)")),
                ..Surface::of(words, &["wood", "plastic", "metal"])
            },
        }
    }

    fn sleeve(&self, round: Round<'_>, words: String) -> Surface {
        let parts = round.place.map(|place| place.parts.as_slice()).unwrap_or_default();
        let sleeve = parts.iter().find(|part| matches!(part.kind, "sleeve" | "hood"));
        match sleeve.and_then(|part| kind_of(self.model, &part.stuff)) {
            Some(kind) => Surface::of(words, &[kind]),
            None => Surface::of(words, &["plastic", "metal"]),
        }
    }

    /// The barrier on the other side of a corner, or of the line between two areas.
    fn neighbour(&self, round: Round<'_>) -> Option<Surface> {
        if let Some(barrier) = self.barrier(round.face, round.other) {
            return Some(self.surface(barrier.layer));
        }
        let corner = self.model.face(round.face)?.edges.get(round.edge?)?.meets.as_ref()?;
        let other = corner.id?;
        let areas = self.model.face(other)?.areas.len();
        let barrier = (0..areas).find_map(|area| self.barrier(other, Some(area)))?;
        Some(Surface { words: format!("the barrier of `{}`", self.face_name(other)), ..self.surface(barrier.layer) })
    }

    /// A joint that a detail names on a stretch of edge.
    pub fn add_at_run(&mut self, at: (RunId, &Run), kind: &'static str, barrier: Barrier<'m>, joint: &'m Joint) {
        let (id, run) = at;
        let detail = run.detail.and_then(|detail| self.model.detail(detail));
        let round = Round::run(run, detail.map(|detail| detail.place(run.kind)));
        let far = self.far_side(round, joint.target);
        let corner = round.edge.and_then(|at| self.model.face(run.face)?.edges.get(at)?.meets.as_ref());
        let made = AirJoint {
            run: Some(id),
            kind,
            place: run.name.clone(),
            owner: detail.map(|detail| detail.name.clone()).unwrap_or_default(),
            length: run.segment.length(),
            shared: kind == "corner" && corner.is_some_and(|corner| corner.id.is_some()),
            used: run.origin,
            ..self.joint(run.face, barrier, joint, far)
        };
        self.add(made);
    }

    /// A joint of a detail between the barrier and something else, still without its place.
    pub fn joint(&self, face: FaceId, barrier: Barrier<'m>, joint: &Joint, far: Surface) -> AirJoint {
        let near = self.surface(barrier.layer);
        let sides = if near == far { vec![near] } else { vec![near, far] };
        AirJoint {
            target: joint.target,
            with: joint.with.clone(),
            sides,
            width: joint.width,
            primer: joint.primer,
            applied: joint.at.or(barrier.layer.applied),
            depth: joint.depth,
            bead: joint.with.as_ref().is_some_and(|stuff| self.is_sealant(stuff)),
            backer: joint.backer,
            slack: joint.slack,
            recheck: joint.recheck,
            ..AirJoint::bare(face, joint.origin)
        }
    }

    /// The part that seals a hole, on the barrier and on what passes through.
    pub fn service_joint(&self, at: (FaceId, &Face, usize), service: &'m Service, barrier: Barrier<'m>) -> AirJoint {
        let (id, face, index) = at;
        let detail = service.detail.and_then(|detail| self.model.detail(detail)).filter(|detail| !detail.broken);
        let named = detail.and_then(|detail| detail.edge.air.iter().find(|joint| joint.with.is_some()));
        let own = service.seal.as_ref().and_then(|(_, product)| *product);
        let stuff = own.map(|product| Stuff {
            material: self.model.product(product).and_then(|product| product.of),
            product: Some(product),
            name: self.model.product(product).map(|product| product.name.clone()).unwrap_or_default(),
        });
        let round =
            Round { face: id, area: None, other: None, edge: None, opening: None, place: detail.map(|d| &d.edge) };
        let passes = "what passes".to_owned();
        let far = match service.kind {
            "box" | "lamp" | "meter" => Surface::of(passes, &["plastic", "metal"]),
            "cable" => Surface::of(passes, &["plastic"]),
            _ => Surface { words: passes, ..self.far_side(round, "pipe") },
        };
        let sheathing = || self.model.sheathing(barrier.assembly).and_then(|at| barrier.assembly.layers.get(at));
        let near = if service.sealed_to == "sheathing" { sheathing() } else { Some(barrier.layer) };
        let width = service.flange.or_else(|| own.and_then(|product| self.model.product(product)?.width));
        AirJoint {
            service: Some(index),
            kind: "service",
            target: service.sealed_to,
            place: face.dotted(service),
            owner: service.name.clone(),
            with: stuff.or_else(|| named.and_then(|joint| joint.with.clone())),
            sides: near.map(|layer| self.surface(layer)).into_iter().chain([far]).collect(),
            width: width.or_else(|| named.and_then(|joint| joint.width)),
            primer: named.and_then(|joint| joint.primer),
            applied: named.and_then(|joint| joint.at).or(barrier.layer.applied),
            bead: service.seal.as_ref().is_some_and(|(part, _)| *part == "sealant"),
            recheck: service.recheck.or_else(|| named.and_then(|joint| joint.recheck)),
            length: super::joints::around(service).unwrap_or(Length::ZERO),
            ..AirJoint::bare(id, service.origin)
        }
    }
}

impl AirJoint {
    pub(super) fn bare(face: FaceId, origin: Span) -> Self {
        Self {
            face,
            run: None,
            service: None,
            kind: "",
            target: "",
            place: String::new(),
            owner: String::new(),
            with: None,
            sides: Vec::new(),
            width: None,
            primer: None,
            applied: None,
            depth: None,
            bead: false,
            backer: None,
            slack: None,
            recheck: None,
            length: Length::ZERO,
            shared: false,
            origin,
            used: origin,
        }
    }
}

/// The schema's word for the kind of material something is of; sheets and coats count as membranes.
pub fn kind_of(model: &Model, stuff: &Stuff) -> Option<&'static str> {
    if model.is_membrane(stuff) {
        return Some("membrane");
    }
    model.material_of(stuff).map(|material| material.kind).filter(|kind| !kind.is_empty())
}

/// The kind of the face of a frame.
pub(super) fn frame_kind(layer: &Layer) -> Option<&'static str> {
    let LayerKind::Frame(frame) = &layer.kind else { return None };
    match frame.kind {
        Some("wood") => Some("wood"),
        Some("steel") => Some("metal"),
        Some("masonry") => Some("masonry"),
        Some("concrete_form") => Some("concrete"),
        _ => None,
    }
}
