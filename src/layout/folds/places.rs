//! Where folded metal goes, and what a shop takes from limits: lengths, laps, steps, and the patterns of what stands at points.

use super::patterns::{self, KickOut, Pattern, Saddle};
use super::{Leg, legs, sloping};
use crate::geometry::{Point, Segment};
use crate::layout::trims;
use crate::model::{Block, Face, FaceId, Model, PartSpec, ProductId, Stuff};
use crate::plan::{Node, Plan, Run, RunPlace};
use crate::units::{Length, display};

/// How a part is made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Made {
    /// One profile from end to end.
    Along,
    /// One for each course of a roof.
    Steps {
        /// Courses of the roof, if said.
        course: Option<Length>,
    },
    /// Diverter at the low end of a roof.
    KickOut {
        /// The low end is the left one.
        low_left: bool,
        /// Height, if said.
        height: Option<Length>,
    },
    /// At the end of a parapet.
    Saddle,
    /// Below a corner of a saddle.
    Gusset,
    /// One arm of the piece at a corner.
    Arm {
        /// Of an inside corner.
        inside: bool,
        /// The corner is at its right end.
        right: bool,
    },
}

/// A folded part where it lies.
#[derive(Clone)]
pub(super) struct Placed<'m> {
    pub face: FaceId,
    pub name: String,
    pub product: ProductId,
    /// None for what a roof names by itself.
    pub spec: Option<&'m PartSpec>,
    pub run: Option<&'m Run>,
    pub block: Option<&'m Block>,
    pub height: Length,
    pub length: Length,
    /// Rises along its length.
    pub sloped: bool,
    pub made: Made,
}

impl Placed<'_> {
    /// What it is.
    pub fn called(&self) -> String {
        let own = self.spec.map_or("kick_out", |spec| spec.name.as_deref().unwrap_or(spec.kind)).replace('_', " ");
        match self.made {
            _ if self.block.is_some() => "block cap".to_owned(),
            Made::Gusset => format!("gusset of the {own}"),
            Made::Arm { right, .. } => format!("{own}, arm {} the corner", if right { "left of" } else { "right of" }),
            _ => own,
        }
    }
}

/// Kinds of parts that are folded along their length.
const ALONG: [&str; 7] = ["flashing", "cap", "apron", "coping", "closure", "pan", "starter"];

/// The metal that is folded: sheet or coil. What is sold in lengths is bought with its shape.
fn folded(model: &Model, stuff: &Stuff) -> Option<ProductId> {
    model.material_of(stuff)?.metal.as_ref()?;
    let id = stuff.product?;
    let product = model.product(id)?;
    let flat = !product.roll.is_empty() || !product.sheet.is_empty();
    (product.stock.is_empty() && (flat || product.kind == "flashing")).then_some(id)
}

/// Every folded part along an edge, a block, a vent or a floor.
pub(super) fn placed<'m>(model: &'m Model, plan: &'m Plan) -> Vec<Placed<'m>> {
    let mut found = Vec::new();
    for part in &plan.parts {
        let (Some(face), Some(product)) = (model.face(part.face), folded(model, &part.spec.stuff)) else { continue };
        let run = part.run.and_then(|run| plan.run(run));
        if run.is_some_and(|run| trims::made_on_the_other_face(model, plan, run)) {
            continue;
        }
        let segment = part.segment;
        let made = match part.spec.kind {
            kind if ALONG.contains(&kind) => Made::Along,
            "step_flashing" => Made::Steps { course: roof_at(face, run, segment).and_then(|roof| roof.course) },
            "kick_out" if !named_elsewhere(model, plan, face, part.face, segment) => {
                kick_out(segment, part.spec.upstand)
            }
            _ => continue,
        };
        let owner = |block: &&Block| run.is_none() && part.name.starts_with(&format!("{}.{}.", face.name, block.name));
        found.push(Placed {
            face: part.face,
            name: part.name.clone(),
            product,
            spec: Some(&part.spec),
            run,
            block: face.blocks.iter().find(owner),
            height: segment.from.y.max(segment.to.y),
            length: segment.length(),
            sloped: segment.is_oblique(),
            made,
        });
    }
    found
}

fn kick_out(roof: Segment, height: Option<Length>) -> Made {
    let low = roof.lower_end();
    Made::KickOut { low_left: low.x == roof.from.x.min(roof.to.x), height }
}

/// The roof a stretch runs along: its own, or the one above or below which its edge lies.
fn roof_at<'m>(face: &'m Face, run: Option<&Run>, segment: Segment) -> Option<&'m crate::model::Roof> {
    if let Some(RunPlace::Roof(at)) = run.map(|run| run.place) {
        return face.roofs.get(at);
    }
    let middle = segment.midpoint().x;
    face.roofs.iter().find(|roof| {
        let (one, other) = (roof.line.from.x, roof.line.to.x);
        one.min(other) <= middle && middle <= one.max(other)
    })
}

/// The point at the low end of a roof, or the roof itself, has the kick-out that a stretch names too: it is one piece.
fn named_elsewhere(model: &Model, plan: &Plan, face: &Face, id: FaceId, segment: Segment) -> bool {
    let roof = roof_at(face, None, segment);
    roof.is_some_and(|roof| roof.kick_out.is_some())
        || nodes_with(model, plan, "kick_out").any(|(node, _)| node.face == id && near(node.at, segment.lower_end()))
}

/// Edge and surface of a roof lie a hand apart.
fn near(one: Point, other: Point) -> bool {
    (one.x - other.x).abs() <= Length::mm(100)
}

fn nodes_with<'m>(
    model: &'m Model,
    plan: &'m Plan,
    kind: &'static str,
) -> impl Iterator<Item = (&'m Node, &'m PartSpec)> {
    plan.nodes.iter().flat_map(move |node| {
        let detail = node.detail.and_then(|id| model.detail(id));
        detail
            .into_iter()
            .flat_map(|detail| &detail.edge.parts)
            .filter(move |part| part.kind == kind)
            .map(move |part| (node, part))
    })
}

/// What stands at points: kick-outs, saddles with two gussets each, corner pieces with two arms.
pub(super) fn at_points<'m>(model: &'m Model, plan: &'m Plan) -> Vec<Placed<'m>> {
    let mut found = Vec::new();
    let mut push = |node: &'m Node, spec: &'m PartSpec, made: Made| {
        if let Some(product) = folded(model, &spec.stuff) {
            let part = spec.name.as_deref().unwrap_or(spec.kind);
            found.push(Placed {
                face: node.face,
                name: format!("{}: {part}", node.name),
                product,
                spec: Some(spec),
                run: None,
                block: None,
                height: node.at.y,
                length: Length::ZERO,
                sloped: false,
                made,
            });
        }
    };
    for (node, spec) in nodes_with(model, plan, "kick_out") {
        let face = model.face(node.face);
        // A roof that names its own has that one.
        if face.is_some_and(|face| {
            face.roofs.iter().any(|roof| roof.kick_out.is_some() && near(roof.line.lower_end(), node.at))
        }) {
            continue;
        }
        let edge = node.runs.iter().filter_map(|id| plan.run(*id)).find(|run| run.kind == "roof_line");
        if let Some(edge) = edge {
            push(node, spec, kick_out(edge.segment, spec.upstand));
        }
    }
    for (node, spec) in nodes_with(model, plan, "saddle") {
        for made in [Made::Saddle, Made::Gusset, Made::Gusset] {
            push(node, spec, made);
        }
    }
    for (node, spec) in nodes_with(model, plan, "flashing") {
        if let Some((inside, right)) = corner_of(model, node) {
            push(node, spec, Made::Arm { inside, right });
        }
    }
    found.extend(own_kick_outs(model));
    found
}

/// Which sort of corner a point lies on, and whether the corner is at the right end of its face.
fn corner_of(model: &Model, node: &Node) -> Option<(bool, bool)> {
    let face = model.face(node.face)?;
    let edge = face
        .edges
        .iter()
        .find(|edge| edge.meets.is_some() && (edge.segment.from.x == node.at.x || edge.segment.to.x == node.at.x))?;
    let middle = face.edges.iter().map(|edge| edge.segment.from.x);
    let (least, most) = (middle.clone().min()?, middle.max()?);
    Some((edge.meets.as_ref()?.kind == Some("inside"), (most - node.at.x) < (node.at.x - least)))
}

/// Kick-outs that roofs name by themselves.
fn own_kick_outs(model: &Model) -> impl Iterator<Item = Placed<'_>> {
    model.faces.iter().enumerate().flat_map(move |(at, face)| {
        face.roofs.iter().filter_map(move |roof| {
            let (height, stuff, _) = roof.kick_out.as_ref()?;
            Some(Placed {
                face: FaceId(at as u32),
                name: format!("{}.{}.kick_out", face.name, roof.name),
                product: folded(model, stuff.as_ref()?)?,
                spec: None,
                run: None,
                block: None,
                height: roof.line.lower_end().y,
                length: Length::ZERO,
                sloped: false,
                made: kick_out(roof.line, Some(*height)),
            })
        })
    })
}

/// What limits say of a shop.
pub(super) struct Shop<'m> {
    pub model: &'m Model,
}

impl Shop<'_> {
    /// A limit; its name is the missing fact.
    pub fn length(&self, name: &str) -> Result<Length, String> {
        self.model.limit(name).and_then(|limit| limit.length()).ok_or_else(|| format!("limit `{name}`"))
    }

    /// Lap of two lengths of a part, and how they lap.
    pub fn splice(&self, spec: &PartSpec, part: &Placed<'_>) -> Result<(Length, String), String> {
        let (lap, with) = match &spec.splice {
            Some((lap, with)) => (*lap, with.as_ref()),
            None => (self.length("flashing.splice")?, None),
        };
        let with = with.map_or_else(String::new, |stuff| format!(" with {} between", stuff.name.replace('_', " ")));
        let way =
            if part.sloped { "the upper over the lower" } else { "all one way, open edge away from the weather side" };
        Ok((lap, format!("lap {}{with}, {way}", display::mm(lap))))
    }

    /// The two legs of a step flashing.
    pub fn step(&self, part: &Placed<'_>) -> Result<(Vec<Leg>, String), String> {
        let least = self.length("step_flashing.leg")?;
        let wall = part.spec.and_then(|spec| spec.upstand).unwrap_or(least);
        let width = part.spec.and_then(|spec| spec.width);
        let roof = width.map_or(least, |width| width - wall);
        if roof <= Length::ZERO {
            return Err("`width` of the step flashings is no more than their `upstand`".to_owned());
        }
        let legs =
            vec![Leg { what: "wall leg", length: wall, turn: 0.0 }, Leg { what: "roof leg", length: roof, turn: 90.0 }];
        Ok((legs, "the roof leg lies on the course below, under the next course of the roof".to_owned()))
    }

    /// How many step flashings along a roof so long, and how long each is: one for each course, from its lower edge to a head lap
    /// under the one above.
    pub fn steps(&self, course: Option<Length>, along: Length) -> Result<(i64, Length), String> {
        let course = course.filter(|course| *course > Length::ZERO);
        let course = course.ok_or("courses of the roof (`course` of the roof): there is one step flashing for each")?;
        Ok(((along.0 + course.0 - 1) / course.0, course + self.length("step_flashing.head_lap")?))
    }

    /// The pattern of what stands at a point, and what its sizes rest on.
    pub fn pattern(
        &self,
        face: &Face,
        part: &Placed<'_>,
        made: Made,
        legs: &[Leg],
    ) -> Result<(Pattern, String), String> {
        let usual = "sizes not said are those of the shop's limits".to_owned();
        let lap = || part.spec.into_iter().flat_map(|spec| &spec.laps).filter(|lap| !lap.under).find_map(|lap| lap.by);
        let made = match made {
            Made::KickOut { low_left, height } => patterns::kick_out(self.diverter(height)?, low_left),
            Made::Saddle => Some(patterns::saddle(self.over_parapet(face, part)?)),
            Made::Gusset => Some(patterns::gusset(self.length("coping.overlap")?, self.length("fold.tab")?)),
            Made::Arm { inside, right } => {
                let lap = lap().map_or_else(|| self.length("flashing.splice"), Ok)?;
                patterns::corner_arm(legs, lap, self.length("fold.tab")?, inside, right)
            }
            Made::Along | Made::Steps { .. } => None,
        };
        let impossible =
            || "the flare of the kick-out cannot stand out so far, or the corner piece has no ledge".to_owned();
        Ok((made.ok_or_else(impossible)?, usual))
    }

    fn diverter(&self, height: Option<Length>) -> Result<KickOut, String> {
        Ok(KickOut {
            upstand: height.map_or_else(|| self.length("kick_out.height"), Ok)?,
            leg: self.length("step_flashing.leg")?,
            up_roof: self.length("kick_out.up_roof")?,
            flare: self.length("kick_out.flare")?,
            stands_out: self.length("kick_out.stands_out")?,
        })
    }

    fn over_parapet(&self, face: &Face, part: &Placed<'_>) -> Result<Saddle, String> {
        let Some(spec) = part.spec else { return Err("what it is".to_owned()) };
        let slope = spec.slope.ok_or("`slope` of the saddle is not said")?;
        let top = spec.width.map_or_else(|| legs::parapet(self.model, face, super::area_at(face, part.height)), Ok)?;
        let clear = self.length("drip.out")?;
        Ok(Saddle {
            top: sloping(top + clear * 2, slope),
            along: self.length("saddle.under_coping")?,
            leg: self.length("coping.overlap")?,
            upstand: spec.upstand.ok_or("`upstand` of the saddle is not said")?,
            tab: self.length("fold.tab")?,
            slope,
        })
    }
}
