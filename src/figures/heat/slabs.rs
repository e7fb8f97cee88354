//! The layers of a wall as heat sees them: what fills each, and the pieces beside it.

use super::{crossing, wood};
use crate::figures::{Scene, Trust, WallType};
use crate::model::{Assembly, Frame, Gap, Layer, LayerKind, Model, Sourced, Stuff, Sureness};
use crate::physics::resistance::{DULL, Flow, MEAN, air_layer, resistance};
use crate::physics::steel_studs;
use crate::units::{Length, Range};

/// A layer: resistance of what fills it, and its other pieces with their shares of the area.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Slab {
    /// m²·K/W.
    pub fill: Range,
    /// Share of the area and resistance in m²·K/W of each other piece: studs, strips.
    pub beside: Vec<(Range, Range)>,
    /// Strips of the gap that run through part of its thickness, outermost first.
    pub crossed: Vec<Crossing>,
    /// What counts of its resistance where steel studs stand in it, as a share.
    pub steel_share: Option<f64>,
}

/// A part of a layer, as thick as strips run through it.
#[derive(Clone, Debug, PartialEq)]
pub struct Crossing {
    /// What fills that part, m²·K/W.
    pub fill: Range,
    /// Share of the area that the strips take.
    pub share: f64,
    /// What they resist, m²·K/W.
    pub strip: Range,
}

/// The air of the outermost gap, with all that stands outboard of it.
#[derive(Clone, Debug)]
pub struct Outboard {
    /// From outside to the gap, the gap last; the error is the missing fact.
    pub slabs: Result<Vec<Slab>, String>,
    /// Openings of the gap, m²/m; the error is the missing fact.
    pub opening: Result<Range, String>,
}

/// A wall as heat sees it.
#[derive(Clone, Debug)]
pub struct Stack {
    /// Absent for a wall without a gap.
    pub outboard: Option<Outboard>,
    /// Behind the gap, or all of it; outside to inside.
    pub inboard: Vec<Slab>,
    /// How sure thicknesses and conductivities are.
    pub trust: Trust,
    /// How sure the shares of studs and strips are.
    pub shares: Trust,
}

/// Reads a wall; the error is the missing fact.
pub fn read(scene: &Scene<'_>, wall: &WallType) -> Result<Stack, String> {
    let assembly = wall.assembly(scene.model).ok_or("layers of the wall")?;
    let first = crate::figures::layers::first_inboard(assembly);
    let mut reader = Reader { scene, wall, assembly, trust: Trust::default(), shares: Trust::default() };
    let inboard = (first..assembly.layers.len()).map(|at| reader.slab(at)).collect::<Result<Vec<Slab>, String>>()?;
    let mut inboard = inboard;
    crossing::mark(scene.model, assembly, &mut inboard, &mut reader.trust)?;
    let outboard = (first > 0).then(|| {
        // What is surely open needs nothing from outboard, so it may be missing.
        let mut aside = Reader { trust: Trust::default(), ..reader.clone() };
        Outboard { slabs: (0..first).map(|at| aside.slab(at)).collect(), opening: wall.opening.clone() }
    });
    Ok(Stack { outboard, inboard, trust: reader.trust, shares: reader.shares })
}

/// Resistance of one layer through what fills it, m²·K/W; the error is the missing fact. A sheet has none.
pub fn through_fill(model: &Model, layer: &Layer) -> Result<Range, String> {
    let mut trust = Trust::default();
    match &layer.kind {
        LayerKind::Gap(_) => Ok(Range::exactly(0.0)),
        LayerKind::Frame(frame) => framed(model, layer, frame, &mut trust),
        LayerKind::Solid | LayerKind::Existing => solid(model, layer, &mut trust),
    }
}

#[derive(Clone)]
struct Reader<'r, 'm> {
    scene: &'r Scene<'m>,
    wall: &'r WallType,
    assembly: &'r Assembly,
    trust: Trust,
    shares: Trust,
}

impl Reader<'_, '_> {
    fn slab(&mut self, at: usize) -> Result<Slab, String> {
        let Some(layer) = self.assembly.layers.get(at) else { return Ok(Slab::default()) };
        match &layer.kind {
            LayerKind::Gap(gap) => self.gap(at, gap),
            LayerKind::Frame(frame) => self.frame(layer, frame),
            LayerKind::Solid | LayerKind::Existing => self.solid(layer),
        }
    }

    /// Air between its neighbours, with the strips that stand in it.
    fn gap(&mut self, at: usize, gap: &Gap) -> Result<Slab, String> {
        let name = self.assembly.layers.get(at).map_or("", |layer| layer.name.as_str());
        let outer = at.checked_sub(1).and_then(|at| self.assembly.layers.get(at));
        let faces = (self.emissivity(outer)?, self.emissivity(self.assembly.layers.get(at + 1))?);
        let depth = Range::between(gap.depth.0.as_m(), gap.depth.1.as_m());
        let fill =
            air(depth, faces).ok_or_else(|| format!("depth of `{name}` that the method is for: up to 300 mm"))?;
        let mut beside = Vec::new();
        for strip in &gap.furring {
            let (Some(width), Some(spacing)) = (strip.width, strip.spacing) else { continue };
            // What is deeper than the gap lies in the insulation behind it.
            let thick = Range::exactly(strip.thickness.min(gap.depth.1).as_m());
            let wood = self.bulk(&strip.stuff, thick)?;
            beside.push((Range::exactly(width.as_m() / spacing.as_m()), wood));
        }
        Ok(Slab { fill, beside, ..Slab::default() })
    }

    /// Studs with what fills the space between them.
    fn frame(&mut self, layer: &Layer, frame: &Frame) -> Result<Slab, String> {
        let fill = framed(self.scene.model, layer, frame, &mut self.trust)?;
        if frame.kind == Some("steel") {
            let share = steel_share(layer, frame, fill)?;
            self.shares.add(&Trust { sure: Sureness::Memory, doubt: STEEL_DOUBT.to_owned() });
            return Ok(Slab { fill, steel_share: Some(share), ..Slab::default() });
        }
        let depth = Range::exactly(frame.depth.as_m());
        let wood = self.bulk(&layer.stuff, depth)?;
        let (share, trust) = wood::share(self.scene, self.wall, layer, frame)?;
        self.shares.add(&trust);
        Ok(Slab { fill, beside: vec![(share, wood)], ..Slab::default() })
    }

    /// A board, sheet or fill; with strips in it where it has a filling.
    fn solid(&mut self, layer: &Layer) -> Result<Slab, String> {
        let fill = solid(self.scene.model, layer, &mut self.trust)?;
        if layer.fill.is_none() {
            return Ok(Slab { fill, ..Slab::default() });
        }
        let model = self.scene.model;
        if model.material_of(&layer.stuff).is_some_and(|material| material.kind == "metal") {
            return Err(no_sum_for_metal(&layer.name));
        }
        let width = model.product_of(&layer.stuff).and_then(|product| product.width.or(product.size.get(1).copied()));
        let width = width.ok_or_else(|| format!("width of the strips of `{}` (`width` of its product)", layer.name))?;
        let every =
            layer.every.ok_or_else(|| format!("how far apart the strips of `{}` stand (`every`)", layer.name))?;
        let thick = thickness(model, layer)?;
        let strips = self.bulk(&layer.stuff, thick)?;
        let share = Range::exactly(width.as_m() / every.as_m());
        Ok(Slab { fill, beside: vec![(share, strips)], ..Slab::default() })
    }

    fn bulk(&mut self, stuff: &Stuff, thickness: Range) -> Result<Range, String> {
        bulk(self.scene.model, stuff, thickness, &mut self.trust)
    }

    /// Emissivity of the face of a layer: as declared, 0.9 for all but metal.
    fn emissivity(&mut self, layer: Option<&Layer>) -> Result<Range, String> {
        let Some(layer) = layer else { return Ok(Range::exactly(DULL)) };
        let model = self.scene.model;
        let product = model.product_of(&layer.stuff).and_then(|product| product.emissivity.as_ref());
        let material = model.material_of(&layer.stuff);
        let said = product.or(material.and_then(|material| material.emissivity.as_ref()));
        if let Some(said) = said {
            self.trust.sourced(said, || format!("emissivity of {}", layer.stuff.name.replace('_', " ")));
            return Ok(said.value);
        }
        match material.map(|material| material.kind) {
            Some("metal") => Err(format!("emissivity of `{}` (`emissivity`)", layer.stuff.name)),
            _ => Ok(Range::exactly(DULL)),
        }
    }
}

/// What makes figures of walls with steel studs no surer.
const STEEL_DOUBT: &str =
    "shares for steel studs from memory; studs 1.1 to 1.7 mm thick, no plates or openings counted";

/// The missing fact where metal runs through insulation and no table tells what it carries.
pub(super) fn no_sum_for_metal(name: &str) -> String {
    format!(
        "how much heat the metal of `{name}` carries: ISO 6946 holds for no metal through insulation; say what the wall \
         resists as tested (`resists`), or cut it (`heat_cut`)"
    )
}

/// What counts of the insulation between steel studs; the error is the missing fact.
fn steel_share(layer: &Layer, frame: &Frame, fill: Range) -> Result<f64, String> {
    if frame.fill.is_none() {
        return Err(no_sum_for_metal(&layer.name));
    }
    let spacing =
        frame.spacing.ok_or_else(|| format!("how far apart the studs of `{}` stand (`every`)", layer.name))?;
    // The worse end of what the filling is known to resist: more of it counts for less.
    steel_studs::share(frame.depth.as_m(), spacing.as_m(), fill.high).ok_or_else(|| no_sum_for_metal(&layer.name))
}

/// Air between two surfaces: it resists more the deeper it is, and less the duller they are.
fn air(depth: Range, (one, other): (Range, Range)) -> Option<Range> {
    let at = |depth: f64, one: f64, other: f64| air_layer(depth, (one, other), MEAN, Flow::Horizontal);
    Some(Range::between(at(depth.low, one.high, other.high)?, at(depth.high, one.low, other.low)?))
}

fn framed(model: &Model, layer: &Layer, frame: &Frame, trust: &mut Trust) -> Result<Range, String> {
    let depth = Range::exactly(frame.depth.as_m());
    match &frame.fill {
        Some(fill) => bulk(model, fill, depth, trust),
        None => {
            let dull = Range::exactly(DULL);
            air(depth, (dull, dull)).ok_or_else(|| format!("what fills `{}` (`fill`)", layer.name))
        }
    }
}

fn solid(model: &Model, layer: &Layer, trust: &mut Trust) -> Result<Range, String> {
    if model.is_membrane(&layer.stuff) {
        return Ok(Range::exactly(0.0));
    }
    let thickness = thickness(model, layer)?;
    bulk(model, layer.fill.as_ref().unwrap_or(&layer.stuff), thickness, trust)
}

fn thickness(model: &Model, layer: &Layer) -> Result<Range, String> {
    let known = model.thickness_within(layer);
    let known = known.map(|(least, most): (Length, Length)| Range::between(least.as_m(), most.as_m()));
    known.ok_or_else(|| format!("thickness of `{}`", layer.name))
}

/// So much of a material: it resists more the thicker it is, and less the better it conducts.
fn bulk(model: &Model, stuff: &Stuff, thickness: Range, trust: &mut Trust) -> Result<Range, String> {
    let conductivity: Option<&Sourced<Range>> =
        model.material_of(stuff).and_then(|material| material.conductivity.as_ref());
    let conductivity = conductivity.ok_or_else(|| format!("conductivity of `{}` (`conductivity`)", stuff.name))?;
    trust.sourced(conductivity, || format!("conductivity of {}", stuff.name.replace('_', " ")));
    let least = resistance(thickness.low, conductivity.value.high);
    let most = resistance(thickness.high, conductivity.value.low);
    least
        .zip(most)
        .map(|(least, most)| Range::between(least, most))
        .ok_or_else(|| format!("conductivity of `{}` above 0", stuff.name))
}
