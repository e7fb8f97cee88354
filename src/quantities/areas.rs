//! What covers areas: cladding, furring, insulation, sheathing, membranes, and the measures of the areas themselves.

use super::row::{Amount, Group, Row};
use super::{Counting, Wall, fasteners, sheets};
use crate::layout::stack;
use crate::model::{Area, Assembly, Layer, LayerKind};
use crate::plan::AreaPlan;
use crate::units::{Length, display};

/// One area being counted.
#[derive(Clone, Copy)]
pub(super) struct Part<'m> {
    pub wall: Wall<'m>,
    pub area: &'m Area,
    pub plan: &'m AreaPlan,
    pub assembly: &'m Assembly,
}

impl Part<'_> {
    /// `north.lower`.
    pub fn place(&self) -> String {
        format!("{}.{}", self.wall.face.name, self.area.name)
    }

    /// A row of this area.
    pub fn row(&self, group: Group, what: &str, net: Amount, basis: &str) -> Row {
        Row::new(group, what, &self.wall.face.name, &self.place(), net, basis)
    }
}

pub(super) fn count<'m>(counting: &mut Counting<'m>, wall: Wall<'m>) {
    for (area, plan) in wall.face.areas.iter().zip(&wall.plan.areas) {
        let Some(assembly) = counting.model.assembly(area.assembly) else { continue };
        let part = Part { wall, area, plan, assembly };
        measures(counting, part);
        for (index, layer) in assembly.layers.iter().enumerate() {
            count_layer(counting, part, index, layer);
        }
    }
}

fn measures(counting: &mut Counting<'_>, part: Part<'_>) {
    let (gross, net) = (part.plan.whole.area(), part.plan.net.area());
    for (what, area) in [("gross area", gross), ("openings", gross - net), ("net area", net)] {
        counting.rows.push(part.row(
            Group::Measure,
            what,
            Amount::Area(area),
            "from the outline and the openings as measured",
        ));
    }
}

fn count_layer(counting: &mut Counting<'_>, part: Part<'_>, index: usize, layer: &Layer) {
    match &layer.kind {
        LayerKind::Existing => {}
        LayerKind::Gap(gap) => {
            furring(counting, part, gap);
            if let Some((mat, _)) = &gap.mat {
                let row = part.row(Group::Membranes, "mat", Amount::Area(part.plan.net.area()), "net area");
                counting.rows.push(row.of_stuff(counting.model, mat));
            }
        }
        LayerKind::Frame(frame) => {
            if let Some(fill) = &frame.fill {
                let basis = "net area; studs are not taken off, and the outer face stands for the inner one";
                let row = part.row(Group::Insulation, "between studs", Amount::Area(part.plan.net.area()), basis);
                counting.rows.push(row.of_stuff(counting.model, fill));
            }
        }
        LayerKind::Solid if counting.model.is_membrane(&layer.stuff) => sheets::membrane(counting, part, index, layer),
        LayerKind::Solid if stack::cladding(part.assembly) == Some(index) => cladding(counting, part, layer),
        LayerKind::Solid => solid(counting, part, index, layer),
    }
}

/// The exposure a course is counted by: that of the face, or the least that was said.
pub(super) fn exposure(part: Part<'_>, layer: &Layer) -> Option<(Length, &'static str)> {
    let chosen = part
        .wall
        .plan
        .exposure
        .filter(|_| !layer.runs_vertical)
        .map(|exposure| (exposure, "the exposure of this face"));
    let least = layer.exposure.map(|(least, _)| (least, "the least exposure said"));
    chosen.or(least).filter(|(exposure, _)| *exposure > Length::ZERO)
}

/// Boards by the metre, net area over exposure; anything without an exposure by its area.
fn cladding(counting: &mut Counting<'_>, part: Part<'_>, layer: &Layer) {
    let model = counting.model;
    let net = part.plan.net.area();
    let product = model.product_of(&layer.stuff);
    let row = match exposure(part, layer) {
        Some((exposure, whose)) => {
            let metres = net.as_m2() / exposure.as_m();
            let length = Length::snap_m(metres);
            let basis =
                format!("net area ÷ {} ({whose}); sloping cuts and starters are in the waste", display::mm(exposure));
            let mut row =
                part.row(Group::Boards, &layer.name, Amount::Length(length), &basis).of_stuff(model, &layer.stuff);
            row.stock = product.and_then(|product| lengths(row.wanted(), &product.stock));
            row
        }
        None => {
            let row = part.row(Group::Boards, &layer.name, Amount::Area(net), "net area").of_stuff(model, &layer.stuff);
            sheets::in_sheets(row, product)
        }
    };
    let gable = part.wall.face.edges.iter().any(|edge| edge.kind == "rake");
    counting.rows.push(if gable {
        row.note("sloping cuts: 15 to 20 % waste is usual (common practice, no source)")
    } else {
        row
    });
    fasteners::cladding(counting, part, layer);
}

/// How many of the longest stock length make up a length, by measure alone.
fn lengths(wanted: Option<Amount>, stock: &[Length]) -> Option<(u64, String)> {
    let longest = stock.iter().max().filter(|longest| **longest > Length::ZERO)?;
    let Some(Amount::Length(wanted)) = wanted else { return None };
    let count = wanted.0.max(0).div_euclid(longest.0) + i64::from(wanted.0.rem_euclid(longest.0) > 0);
    Some((count.max(0) as u64, format!("lengths of {}, by measure, not packed", display::mm(*longest))))
}

/// Strips as cut, each with its own length.
fn furring(counting: &mut Counting<'_>, part: Part<'_>, gap: &crate::model::Gap) {
    let model = counting.model;
    for furring in &gap.furring {
        let lying = furring.direction == Some(crate::model::Direction::Horizontal);
        let counter = lying && furring.counter.is_some();
        let own =
            part.plan.strips.iter().filter(|strip| gap.furring.len() == 1 && !counter || strip.horizontal == lying);
        let total: Length = own.clone().map(|strip| strip.axis.length()).sum();
        let pieces = own.count();
        let basis = "sum of the strips as laid out, each cut to length";
        let mut row = part.row(Group::Furring, "furring", Amount::Length(total), basis).of_stuff(model, &furring.stuff);
        row.note = format!("{pieces} pieces");
        row.stock = model.product_of(&furring.stuff).and_then(|product| lengths(row.wanted(), &product.stock));
        counting.rows.push(row);
        if let Some((stuff, _)) = furring.counter.as_ref().filter(|_| lying) {
            let behind = part.plan.strips.iter().filter(|strip| !strip.horizontal);
            let total: Length = behind.map(|strip| strip.axis.length()).sum();
            let row = part.row(Group::Furring, "furring behind", Amount::Length(total), basis).of_stuff(model, stuff);
            counting.rows.push(row);
        }
        fasteners::furring(counting, part, furring, gap);
    }
}

/// Insulation, sheathing and boards by their area, in sheets where the product has a size.
fn solid(counting: &mut Counting<'_>, part: Part<'_>, index: usize, layer: &Layer) {
    let model = counting.model;
    let product = model.product_of(&layer.stuff);
    let kind = model.material_of(&layer.stuff).map(|material| material.kind);
    let heat =
        layer.controls.heat || product.is_some_and(|product| product.kind == "insulation") || kind == Some("foam");
    let group = if heat { Group::Insulation } else { Group::Sheets };
    let what = if model.sheathing(part.assembly) == Some(index) { "sheathing" } else { layer.name.as_str() };
    let inside = part.assembly.is_inboard_of_frame(index) == Some(true);
    let basis = if inside { "net area of the outer face; measure inside before buying" } else { "net area" };
    let row = part.row(group, what, Amount::Area(part.plan.net.area()), basis).of_stuff(model, &layer.stuff);
    counting.rows.push(sheets::in_sheets(row, product));
    fasteners::layer(counting, part, layer);
}
