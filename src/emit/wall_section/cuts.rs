//! The two cuts: upright through a bay, and level through a strip and a stud, seen from above; both from outside (left)
//! to inside (right).

use super::build::{self, Shank, Slab};
use super::{Frame, controls, figures};
use crate::emit::drawing::{Anchor, Fill, Hatch, Item, Labels, Rect, Sheet, Stroke, Text, at, item, marks};
use crate::model::{Direction, Openness};
use crate::units::Length;

/// Draws everything on the sheet.
pub(super) fn draw(frame: &Frame<'_>, sheet: &mut Sheet) {
    let mut labels = Labels::new(frame.area);
    sheet.layer("upright", [cut(frame, frame.upright, true), joints(frame, frame.upright)].concat());
    sheet.layer("level", cut(frame, frame.level, false));
    sheet.layer("strips", strips(frame));
    sheet.layer(
        "fasteners",
        shanks(frame).iter().enumerate().flat_map(|(row, shank)| screw(frame, shank, row)).collect(),
    );
    for cut in [frame.upright, frame.level] {
        sheet.layer("controls", controls::lines(frame, cut));
        labels.keep_clear(cut);
    }
    sheet.layer("ways", ways(frame, &mut labels));
    sheet.layer("names", figures::names(frame));
    for item in figures::dimensions(frame, &mut labels) {
        sheet.push(item);
    }
    sheet.layer("captions", captions(frame, &mut labels));
}

/// The layers of a cut with their hatches; a sheet is a line.
pub(super) fn cut(frame: &Frame<'_>, cut: Rect, upright: bool) -> Vec<Item> {
    let mut items = Vec::new();
    for slab in &frame.slabs {
        let (from, to) = (frame.x(cut.x, slab.from), frame.x(cut.x, slab.to));
        let shape = Rect::edges(from, cut.y, to, cut.bottom());
        if slab.is_sheet || to - from < 0.4 {
            items.push(Item::line(at(from, cut.y), at(from, cut.bottom()), Stroke::MEDIUM));
            continue;
        }
        items.push(Item::rect(shape, Some(Stroke::MEDIUM), fill(frame, slab, upright)));
        if !upright && slab.frame().is_some() {
            items.push(stud(frame, slab, shape));
        }
    }
    items
}

fn fill(frame: &Frame<'_>, slab: &Slab<'_>, upright: bool) -> Fill {
    let model = frame.account.model;
    if slab.gap().is_some() {
        return Fill::Hatch(Hatch::Gap);
    }
    if let Some(framing) = slab.frame() {
        return framing.fill.as_ref().map_or(Fill::White, |fill| Fill::Hatch(build::hatch(model, fill, false)));
    }
    let cladding = frame.slabs.first().is_some_and(|first| std::ptr::eq(first.layer, slab.layer));
    let across = cladding && (upright != slab.layer.runs_vertical);
    Fill::Hatch(build::hatch(model, &slab.layer.stuff, across))
}

/// Where boards meet in the upright cut, at the least exposure that was said. A plot on the cut goes without: its lines are read.
fn joints(frame: &Frame<'_>, cut: Rect) -> Vec<Item> {
    frame.slabs.iter().flat_map(|slab| joints_of(frame, slab, cut)).collect()
}

fn joints_of(frame: &Frame<'_>, slab: &Slab<'_>, cut: Rect) -> Vec<Item> {
    let (from, to) = (frame.x(cut.x, slab.from), frame.x(cut.x, slab.to));
    let shape = Rect::edges(from, cut.y, to, cut.bottom());
    let exposure = slab.layer.exposure.filter(|_| !slab.layer.runs_vertical && !slab.is_sheet && to - from >= 0.4);
    let Some((least, _)) = exposure else { return Vec::new() };
    let step = frame.scale.paper(least);
    if step < 4.0 {
        return Vec::new();
    }
    let count = (shape.height / step).floor() as u32;
    let line = |row: u32| {
        let y = shape.bottom() - step * f64::from(row) - step * 0.4;
        Item::line(at(shape.x, y), at(shape.right(), y), Stroke::HEAVY)
    };
    (0..=count).map(line).filter(|line| line.bounds().is_some_and(|bounds| bounds.y > shape.y)).collect()
}

fn stud(frame: &Frame<'_>, slab: &Slab<'_>, shape: Rect) -> Item {
    let half = slab.frame().map_or(0.0, |framing| frame.scale.paper(framing.width) / 2.0);
    let middle = shape.centre().y;
    Item::rect(
        Rect::edges(shape.x, middle - half, shape.right(), middle + half),
        Some(Stroke::HEAVY),
        Fill::Hatch(Hatch::EndGrain),
    )
}

/// Strips: cut across where they stand up and the cut lies, along where they run with it.
fn strips(frame: &Frame<'_>) -> Vec<Item> {
    let model = frame.account.model;
    let mut items = Vec::new();
    for strip in frame.slabs.iter().flat_map(build::strips) {
        let lying = strip.furring.direction == Some(Direction::Horizontal);
        let half = frame.scale.paper(strip.furring.width.unwrap_or(strip.furring.thickness)) / 2.0;
        let across = Fill::Hatch(build::hatch(model, &strip.furring.stuff, true));
        let along = Fill::Hatch(build::hatch(model, &strip.furring.stuff, false));
        let shape = |cut: Rect, middle: f64, half: f64, fill: Fill| {
            let (from, to) = (frame.x(cut.x, strip.from), frame.x(cut.x, strip.to));
            Item::rect(Rect::edges(from, middle - half, to, middle + half), Some(Stroke::HEAVY), fill)
        };
        let (upright, level) = (frame.upright, frame.level);
        if lying {
            items.push(shape(upright, upright.centre().y, half, across));
            items.push(shape(level, level.centre().y, level.height / 2.0, along));
        } else {
            items.push(shape(level, level.centre().y, half, across));
        }
    }
    items
}

/// Fasteners of the cut.
pub(super) fn shanks<'c>(frame: &Frame<'c>) -> Vec<Shank<'c>> {
    build::shanks(frame.account.model, &frame.slabs)
}

/// Where a fastener lies in the level cut: the strips' own in the middle, the others beside it.
pub(super) fn shank_y(frame: &Frame<'_>, shank: &Shank<'_>, row: usize) -> f64 {
    let middle = frame.level.centre().y;
    if shank.of == "furring" { middle + 2.0 } else { middle - 6.0 - 3.0 * row as f64 }
}

fn screw(frame: &Frame<'_>, shank: &Shank<'_>, row: usize) -> Vec<Item> {
    let model = frame.account.model;
    let y = shank_y(frame, shank, row);
    let (head, tip) = (frame.x(frame.level.x, shank.from), frame.x(frame.level.x, shank.to));
    let product = model.product(shank.fasten.product);
    let thick = shank.fasten.diameter.or_else(|| product.and_then(|product| product.diameter));
    let half = (thick.map_or(1.2, |thick| frame.scale.paper(thick)) / 2.0).clamp(0.5, 4.0);
    let neck = (tip - half * 3.0).max(head);
    let body = vec![at(head, y - half), at(neck, y - half), at(tip, y), at(neck, y + half), at(head, y + half)];
    let top = Rect::edges(head - 0.6, y - half * 2.0, head + 0.6, y + half * 2.0);
    vec![Item::polygon(body, Some(Stroke::MEDIUM), Fill::White), Item::rect(top, Some(Stroke::MEDIUM), Fill::White)]
}

/// The way of water down and of air up in every gap.
fn ways(frame: &Frame<'_>, labels: &mut Labels) -> Vec<Item> {
    let cut = frame.upright;
    let mut items = Vec::new();
    for slab in &frame.slabs {
        let Some(gap) = slab.gap() else { continue };
        let (from, to) = (frame.x(cut.x, slab.from), frame.x(cut.x, slab.to));
        let third = (to - from) / 3.0;
        let (air, water) = (from + third, to - third);
        let (top, bottom) = (cut.y + 8.0, cut.bottom() - 8.0);
        items.push(marks::water(&[at(water, top), at(water, cut.bottom() + 1.0)], labels));
        match gap.openness {
            Some(Openness::Ventilated) => items.push(marks::air(&[at(air, cut.bottom()), at(air, cut.y)], labels)),
            Some(Openness::Vented) => {
                items.push(marks::air(&[at(air, cut.bottom()), at(air, bottom - cut.height * 0.4)], labels))
            }
            None => {}
        }
    }
    items
}

/// What each cut is, which side is outside, and the key of the lines.
fn captions(frame: &Frame<'_>, labels: &mut Labels) -> Vec<Item> {
    let caption = |cut: Rect, words: &str| {
        let place = at(cut.x, frame.area.bottom() - 1.0);
        Item::Text(Text::new(place, words).size(item::FIGURE).bold())
    };
    let mut items = vec![
        caption(frame.upright, "upright, through a bay"),
        caption(frame.level, "level, seen from above, through a strip"),
    ];
    for cut in [frame.upright, frame.level] {
        items.push(marks::outside(at(cut.x - 13.5, cut.y + cut.height * 0.3), 180.0, labels));
        let inside =
            Text::new(at(cut.right() + 3.0, cut.y + cut.height * 0.3 + 6.0), "inside").size(item::FIGURE).bold();
        items.push(inside.into());
    }
    let corner = at(frame.level.right() + 4.0, frame.level.bottom() - 52.0);
    items.extend(controls::key(frame, corner));
    items
}

/// The depth of the outer face of the sheathing, or of the framing where there is none.
pub(super) fn inboard_limit(frame: &Frame<'_>) -> Option<Length> {
    let model = frame.account.model;
    let layer = model.sheathing(frame.assembly).or_else(|| frame.assembly.frame().map(|(index, _)| index))?;
    frame.slabs.get(layer).map(|slab| slab.from)
}

/// Words centred under a place.
pub(super) fn under(x: f64, y: f64, words: String) -> Item {
    Text::new(at(x, y), words).anchor(Anchor::Middle).into()
}
