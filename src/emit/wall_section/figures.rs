//! Names of the layers on leaders, thicknesses, the outboard total, strips and fasteners in figures.

use super::Frame;
use super::build;
use super::cuts::{inboard_limit, shanks, under};
use crate::emit::drawing::{Along, Anchor, Chain, Fill, Ink, Item, Labels, Stroke, Text, at, item, text};
use crate::model::Direction;
use crate::units::{Length, display};

/// From the name of one layer to the next, mm.
pub(super) const NAME_STEP: f64 = 5.6;

/// One line a layer, the outermost uppermost, each tied to its layer by a leader.
pub(super) fn names(frame: &Frame<'_>) -> Vec<Item> {
    let model = frame.account.model;
    let mut items = Vec::new();
    for (row, slab) in frame.slabs.iter().enumerate() {
        let y = frame.names.y + NAME_STEP * (row as f64 + 0.9);
        let x = (frame.x(frame.upright.x, slab.from) + frame.x(frame.upright.x, slab.to)) / 2.0;
        let foot = at(x, frame.upright.y + 3.0 + 2.2 * (row % 2) as f64);
        items.push(Item::Circle { centre: foot, radius: 0.7, stroke: None, fill: Fill::Solid(Ink::Black) });
        items.push(Item::polyline(vec![foot, at(x, y), at(frame.names.x, y)], Stroke::LIGHT));
        let (name, rest) = build::words(model, slab, frame.lead);
        let name = Text::new(at(frame.names.x + 1.5, y + item::FIGURE / 2.0), name).size(item::FIGURE).bold();
        let left = name.at.x + name.width() + 3.0;
        let rest = text::cut(&rest, frame.names.right() - left, item::SMALL, false);
        items.push(Text::new(at(left, y + item::FIGURE / 2.0), rest).into());
        items.push(name.into());
    }
    items
}

/// All dimensions: thicknesses below the upright cut, strips and fasteners below the level one.
pub(super) fn dimensions(frame: &Frame<'_>, labels: &mut Labels) -> Vec<Item> {
    let mut items = thicknesses(frame, labels);
    items.extend(fasteners(frame, labels));
    items.extend(strips(frame));
    items
}

fn thicknesses(frame: &Frame<'_>, labels: &mut Labels) -> Vec<Item> {
    let cut = frame.upright;
    let view = frame.view(cut);
    let mut marks = vec![Length::ZERO];
    marks.extend(frame.slabs.iter().flat_map(|slab| [slab.from, slab.to]));
    let layers =
        Chain::new(Along::Across, &marks, cut.bottom() + 10.0, cut.bottom() + 3.0).lead(frame.lead).draw(&view, labels);
    let below = layers.bounds().map_or(cut.bottom() + 16.0, |drawn| drawn.bottom());
    let mut items = vec![layers];
    let line = below + 8.0;
    let limit = inboard_limit(frame);
    let totals: Vec<Length> = [Some(Length::ZERO), limit, Some(frame.total())].into_iter().flatten().collect();
    items.push(Chain::new(Along::Across, &totals, line, below + 2.0).lead(frame.lead).draw(&view, labels));
    if let Some(limit) = limit {
        let x = (cut.x + frame.x(cut.x, limit)) / 2.0;
        let what = if frame.account.model.sheathing(frame.assembly).is_some() { "sheathing" } else { "framing" };
        items.push(under(x, line + 7.6, format!("outboard of the {what}")));
    }
    items
}

/// A chain for each fastener: from its head to what it holds in, and how far it goes in.
fn fasteners(frame: &Frame<'_>, labels: &mut Labels) -> Vec<Item> {
    let cut = frame.level;
    let view = frame.view(cut);
    let mut items = Vec::new();
    let mut line = cut.bottom() + 10.0;
    for shank in &shanks(frame) {
        let into = shank.into.filter(|into| *into > shank.from && *into < shank.to);
        let marks: Vec<Length> = [Some(shank.from), into, Some(shank.to)].into_iter().flatten().collect();
        let chain = Chain::new(Along::Across, &marks, line, line - 2.0).lead(frame.lead).draw(&view, labels);
        let bottom = chain.bounds().map_or(line + 5.0, |drawn| drawn.bottom());
        items.push(chain);
        items.extend(fastener_words(frame, shank, line));
        line = bottom.max(line + 6.0) + 8.0;
    }
    items
}

/// What it is, how long, and how far it holds.
fn fastener_words(frame: &Frame<'_>, shank: &build::Shank<'_>, line: f64) -> Vec<Item> {
    let product = frame.account.model.product(shank.fasten.product);
    let name = product.map(|product| product.name.replace('_', " ")).unwrap_or_default();
    let both = |length| display::both(length, frame.lead);
    let length = Length(shank.to.0 - shank.from.0);
    let size = match shank.fasten.diameter.or_else(|| product.and_then(|product| product.diameter)) {
        Some(thick) => format!("{} × {}", display::mm_figure(thick), both(length)),
        None => both(length),
    };
    let into = shank.fasten.into.unwrap_or("what is not said");
    let held = match shank.into {
        Some(face) if face < shank.to => format!("{} into {into}", both(Length(shank.to.0 - face.0))),
        Some(_) => format!("does not reach {into}"),
        None => format!("into {into}"),
    };
    let left = frame.x(frame.level.x, shank.to).max(frame.level.x + 70.0) + 5.0;
    let left = left.min(frame.area.right() - 60.0);
    let head = Text::new(at(left, line - 1.6), format!("{}: {name}", shank.of)).bold();
    let rest = [(2.2, size), (6.0, held)].map(|(down, words)| Item::Text(Text::new(at(left, line + down), words)));
    std::iter::once(head.into()).chain(rest).collect()
}

/// Width and spacing of strips, called out beside the level cut.
fn strips(frame: &Frame<'_>) -> Vec<Item> {
    let both = |length| display::both(length, frame.lead);
    let (mut items, mut count) = (Vec::new(), 0.0);
    for strip in frame.slabs.iter().flat_map(build::strips) {
        let furring = strip.furring;
        let mut words = vec![format!("strip of {}", furring.stuff.name)];
        words.push(format!("{} thick", both(furring.thickness)));
        words.extend(furring.width.map(|width| format!("{} wide", both(width))));
        words.push(match furring.direction {
            Some(Direction::Vertical) => "upright".to_owned(),
            Some(Direction::Horizontal) => "lying".to_owned(),
            Some(Direction::Diagonal(_)) => "slanting".to_owned(),
            None => "direction not said".to_owned(),
        });
        if let Some(spacing) = furring.spacing {
            words.extend([format!("every {}", both(spacing)), "on centre".to_owned()]);
        }
        let level = frame.level;
        let half = frame.scale.paper(furring.width.unwrap_or(furring.thickness)) / 2.0;
        let target = at(frame.x(level.x, strip.from) + 1.5, level.centre().y + half - 2.5);
        let (knee, step) = (at(level.x - 8.0, target.y), item::SMALL * 1.45);
        items.push(Item::Circle { centre: target, radius: 0.7, stroke: None, fill: Fill::Solid(Ink::Black) });
        items.push(Item::line(target, knee, Stroke::LIGHT));
        for (row, line) in words.into_iter().enumerate() {
            let place = knee.shift(-1.0, item::SMALL / 2.0 + step * (row as f64 + 6.0 * count));
            let text = Text::new(place, line).anchor(Anchor::End);
            items.push(if row == 0 { text.bold() } else { text }.into());
        }
        count += 1.0;
    }
    items
}
