//! Every piece of cladding, cut to its true outline: where it lies on the wall, how long it is to its long point, at what
//! angle its ends are cut, and the mark to write on it.
//!
//! All is exact on the face; the pieces of one course and the gaps between them fill the course, no more and no less.

mod courses;
mod ends;
mod joints;
mod names;
mod services;
#[cfg(test)]
mod tests;

pub(in crate::layout) use ends::of as ends_of;
pub use ends::{End, Hand};
pub use names::{initials, written};
pub use services::Cutout;

use rayon::prelude::*;

use crate::geometry::{Polygon, Region};
use crate::layout::field::{self, Field};
use crate::layout::stack;
use crate::model::{FaceId, Layer, Model, Product, ProductId};
use crate::plan::Plan;
use crate::units::Length;

/// What a piece is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PieceKind {
    /// A board or shingle course that lies level.
    Board,
    /// A board that stands.
    UprightBoard,
    /// A sheet.
    Panel,
}

/// One piece of cladding.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// To write on it: wall, course, place from the left; `N14-3`.
    pub mark: String,
    /// What it is.
    pub kind: PieceKind,
    /// The face.
    pub face: FaceId,
    /// The area, by index.
    pub area: usize,
    /// What it is cut from; none if the layer names a material only.
    pub product: Option<ProductId>,
    /// Course from the foot of the wall (or board from the left, for boards that stand), counted from 1.
    pub course: i64,
    /// What shows of it on the wall.
    pub seen: Polygon,
    /// What is cut, with the part that the next course hides.
    pub shape: Polygon,
    /// Along the board, to its long point.
    pub length: Length,
    /// Across it where it is widest; less than the board's own width where it is ripped.
    pub width: Length,
    /// It is ripped: narrower than the board it comes from.
    pub ripped: bool,
    /// It has corners besides those of its ends: a notch round an opening, or a slope along it.
    pub notched: bool,
    /// Its left (or lower) and right (or upper) end.
    pub ends: [End; 2],
    /// Which way it is handed, if turning it over would not do.
    pub hand: Option<Hand>,
    /// Holes and notches for what passes through it.
    pub cutouts: Vec<Cutout>,
    /// It runs out to a point and cannot hold two fasteners: the trim covers its place, it is not cut.
    pub too_small: bool,
}

/// The pieces of a building, and what they were set out by.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pieces {
    /// By face, area, course, and from the left.
    pub list: Vec<Piece>,
    /// What could not be cut, and the fact that is missing.
    pub missing: Vec<(FaceId, usize, String)>,
    /// Surface temperature for which gaps were left, °C.
    pub surface: f64,
}

/// What all cutting of an area reads.
struct Cutting<'m> {
    face: FaceId,
    area: usize,
    layer: &'m Layer,
    product: &'m Product,
    id: ProductId,
    field: &'m Field,
    /// First course line and height of a course.
    start: Length,
    exposure: Length,
    /// Index of the lowest course of the face, so that all its areas count alike.
    lowest: i64,
    /// Longest stock.
    longest: Length,
    /// Places where joints may be: centres of supports, in order, each with the heights it covers.
    supports: Vec<joints::Support>,
    /// Where the wall says that boards meet: the course, counted from the lowest of the area (all where none is named), and x.
    declared: Vec<(Option<i64>, Length)>,
    /// Index of the lowest course of the area.
    lowest_here: i64,
    /// Growth of one length of one until it is hottest.
    growth: f64,
}

/// Cuts all cladding for a day on which surfaces are at `surface` °C.
pub fn cut(model: &Model, plan: &Plan, surface: f64) -> Pieces {
    let walls: Vec<(usize, usize)> = model
        .faces
        .iter()
        .enumerate()
        .flat_map(|(face, at)| (0..at.areas.len()).map(move |area| (face, area)))
        .collect();
    let names = initials(model.faces.iter().map(|face| face.name.as_str()));
    let each: Vec<Result<Vec<Piece>, (FaceId, usize, String)>> = walls
        .par_iter()
        .map(|&(face, area)| {
            let id = FaceId(face as u32);
            let cutting = Cutting::of(model, plan, id, area, surface).map_err(|missing| (id, area, missing))?;
            Ok(cutting.map_or_else(Vec::new, |cutting| courses::cut(&cutting)))
        })
        .collect();
    let mut pieces = Pieces { surface, ..Pieces::default() };
    for result in each {
        match result {
            Ok(list) => pieces.list.extend(list),
            Err(missing) => pieces.missing.push(missing),
        }
    }
    pieces.list.sort_by_key(|piece| (piece.face, piece.course, piece.seen.bounds().left, piece.area));
    names::number(&mut pieces.list, &names);
    pieces.finish(model);
    pieces
}

impl Pieces {
    /// Holes and notches, and what is too small to be a piece.
    fn finish(&mut self, model: &Model) {
        for piece in &mut self.list {
            piece.too_small = services::too_small(model, piece);
        }
        for (at, face) in model.faces.iter().enumerate() {
            let id = FaceId(at as u32);
            // Pieces stand in the order of the faces.
            let (from, to) = (
                self.list.partition_point(|piece| piece.face < id),
                self.list.partition_point(|piece| piece.face <= id),
            );
            let Some(own) = self.list.get_mut(from..to).filter(|own| !own.is_empty()) else { continue };
            let missing = services::cut_round(model, face, own);
            self.missing.extend(missing.into_iter().map(|fact| (id, 0, fact)));
        }
    }
}

impl<'m> Cutting<'m> {
    /// `None` where there is nothing to cut; the error is the missing fact.
    fn of(model: &'m Model, plan: &'m Plan, face: FaceId, area: usize, surface: f64) -> Result<Option<Self>, String> {
        let (Some(stands_on), Some(placed)) = (model.face(face), plan.face(face)) else { return Ok(None) };
        let Some(assembly) = stands_on.areas.get(area).and_then(|area| model.assembly(area.assembly)) else {
            return Ok(None);
        };
        let Some(layer) = stack::shedding(assembly) else { return Ok(None) };
        let Some((id, product)) = layer.stuff.product.and_then(|id| Some((id, model.product(id)?))) else {
            return Err(format!("`{}` is a material: name the board it is cut from", layer.name));
        };
        if !matches!(product.kind, "board" | "shingle" | "panel") {
            return Ok(None);
        }
        let longest = product.stock.iter().chain(&product.sheet).copied().max();
        let longest = longest.ok_or_else(|| format!("`{}` says no stock length", product.name))?;
        let level = !layer.runs_vertical && product.kind != "panel";
        let told = if level { placed.exposure.zip(placed.course_start) } else { Some((Length::ZERO, Length::ZERO)) };
        let (exposure, start) = told.ok_or_else(|| format!("the exposure of `{}` cannot be told", stands_on.name))?;
        let foot = placed.outline.bounds().map_or(Length::ZERO, |bounds| bounds.bottom);
        let lowest = if exposure.0 > 0 { (foot - start).0.div_euclid(exposure.0) } else { 0 };
        let hottest = field::hottest(model, product);
        let expansion = model
            .material_of(&layer.stuff)
            .and_then(|material| material.expansion.as_ref())
            .map_or(0.0, |value| value.value);
        let Some(field) = placed.areas.get(area).and_then(|area| area.field.as_ref()) else { return Ok(None) };
        let supports = joints::supports(placed, area);
        let growth = expansion * (hottest - surface).max(0.0);
        let bounds = placed.outline.bounds().unwrap_or_default();
        let said = stands_on.areas.get(area).map(|area| area.joints.as_slice()).unwrap_or_default();
        let marks = said.iter().flat_map(|joints| joints.marks.iter().map(|&mark| (joints.course, bounds.left + mark)));
        let declared = marks.collect();
        let own = placed.areas.get(area).and_then(|area| area.whole.bounds()).map_or(foot, |bounds| bounds.bottom);
        let lowest_here = if exposure.0 > 0 { (own - start).0.div_euclid(exposure.0) } else { 0 };
        Ok(Some(Self {
            face,
            area,
            layer,
            product,
            id,
            field,
            start,
            exposure,
            lowest,
            longest,
            supports,
            declared,
            lowest_here,
            growth,
        }))
    }
}

/// The polygons of a region that touch another.
fn touching(region: Region, other: &Region) -> Region {
    let kept = region.into_components().into_iter().filter(|polygon| Region::from(polygon.clone()).overlaps(other));
    kept.collect()
}
