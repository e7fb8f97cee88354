//! What still stands between water and wood once one defence of a wall is broken: the one place where defences are counted.

use super::GapFlow;
use crate::geometry::{Place as Lies, Point};
use crate::model::{Assembly, FaceId, Layer, LayerKind, Model, Stuff};
use crate::plan::{Plan, Run};
use crate::source::Span;

/// One defence against water, from outside to inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Defence {
    /// The cladding, which sheds rain.
    Rain,
    /// A gap that drains.
    Gap,
    /// A flashing in the gap.
    Flashing,
    /// A sheet of the detail at this edge that carries the water function, apart from what is broken.
    Sheet,
    /// The drainage plane, lapped to shed.
    Plane,
    /// A sealed layer behind the plane.
    Sheathing,
}

/// A defence that stands, with the name of what gives it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Standing {
    /// Which.
    pub defence: Defence,
    /// Name of the layer or part.
    pub name: String,
}

/// What a finding breaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Breach {
    /// One of the defences: those behind it count.
    Of(Defence),
    /// The wood of the cladding itself gets wet: nothing is behind it.
    Cladding,
}

/// Where on the wall.
#[derive(Clone, Copy, Debug)]
pub struct Spot<'p> {
    /// The face.
    pub face: FaceId,
    /// A point of it.
    pub at: Point,
    /// The stretch of edge, if it is about one.
    pub run: Option<&'p Run>,
    /// The part that is at fault: it does not count.
    pub except: Option<Span>,
}

impl Breach {
    /// Which defences still count. A sheet of a detail is a piece of the plane at its edge: it is a defence of its own only
    /// behind a flashing. Water that a flashing drops is in the gap already.
    fn leaves(self, defence: Defence) -> bool {
        use Defence::{Flashing, Gap, Plane, Rain, Sheathing, Sheet};
        match self {
            Breach::Cladding => false,
            Breach::Of(Rain) => matches!(defence, Gap | Plane | Sheathing),
            Breach::Of(Gap) => matches!(defence, Plane | Sheathing),
            Breach::Of(Flashing) => matches!(defence, Sheet | Plane | Sheathing),
            Breach::Of(Sheet | Plane) => defence == Sheathing,
            Breach::Of(Sheathing) => false,
        }
    }
}

/// The independent defences left between the water of a finding and the wood behind it, from outside to inside. `None` if
/// the wall there is not known.
pub fn behind(model: &Model, plan: &Plan, flow: &GapFlow, spot: Spot<'_>, breach: Breach) -> Option<Vec<Standing>> {
    let area = spot.run.and_then(|run| run.area).or_else(|| area_at(plan, spot.face, spot.at))?;
    let assembly = model.assembly(model.face(spot.face)?.areas.get(area)?.assembly)?;
    let mut found = Vec::new();
    let gap = assembly.gap().filter(|_| breach.leaves(Defence::Gap) && drains(flow, spot.face, area));
    found.extend(gap.map(|(layer, _)| standing(Defence::Gap, &layer.name)));
    if breach.leaves(Defence::Sheet) {
        found.extend(sheet(model, plan, spot).map(|name| standing(Defence::Sheet, &name)));
    }
    let plane = assembly.drainage_plane().filter(|(_, layer)| layer.lapped != Some("lower_over_upper"));
    if let Some((_, layer)) = plane.filter(|_| breach.leaves(Defence::Plane)) {
        found.push(standing(Defence::Plane, &layer.name));
    }
    if breach.leaves(Defence::Sheathing) {
        found.extend(sealed(model, assembly).map(|layer| standing(Defence::Sheathing, &layer.name)));
    }
    Some(found)
}

fn standing(defence: Defence, name: &str) -> Standing {
    Standing { defence, name: name.to_owned() }
}

fn area_at(plan: &Plan, face: FaceId, at: Point) -> Option<usize> {
    plan.face(face)?.areas.iter().position(|area| area.whole.place(at) != Lies::Outside)
}

/// Whether every bay of an area lets its water out.
fn drains(flow: &GapFlow, face: FaceId, area: usize) -> bool {
    let mut bays = flow.bays.iter().filter(|bay| bay.id.face == face && bay.id.area == area).peekable();
    bays.peek().is_some() && bays.all(|bay| bay.traps.is_empty() && bay.undecided.is_empty())
}

/// A sheet of the detail at this edge that carries the water function.
fn sheet(model: &Model, plan: &Plan, spot: Spot<'_>) -> Option<String> {
    let mut parts = spot.run.into_iter().flat_map(|run| plan.parts_of(run));
    let found = parts.find(|part| {
        part.spec.controls.water && Some(part.spec.origin) != spot.except && is_sheet(model, &part.spec.stuff)
    })?;
    Some(found.spec.name.clone().unwrap_or_else(|| found.spec.kind.to_owned()))
}

/// Whether something is a sheet or a coat that sticks rather than folded metal.
fn is_sheet(model: &Model, stuff: &Stuff) -> bool {
    let kind = model.material_of(stuff).map(|material| material.kind);
    let product = model.product_of(stuff).map(|product| product.kind);
    matches!(kind, Some("membrane" | "sealant")) || matches!(product, Some("membrane" | "tape" | "liquid" | "sealant"))
}

/// The first layer behind the drainage plane, outboard of the frame, whose joints are sealed and which takes up little water.
fn sealed<'m>(model: &'m Model, assembly: &'m Assembly) -> Option<&'m Layer> {
    let (plane, _) = assembly.drainage_plane()?;
    let outboard = assembly.layers.iter().skip(plane + 1);
    let mut outboard = outboard.take_while(|layer| !matches!(layer.kind, LayerKind::Frame(_)));
    outboard.find(|layer| {
        let absorbs = model.material_of(&layer.stuff).and_then(|material| material.absorbs_water);
        let liquid = model.product_of(&layer.stuff).is_some_and(|product| product.kind == "liquid");
        (layer.seam.is_some() || liquid) && absorbs != Some("much")
    })
}
