//! Pieces with holes and notches for what passes through them, drawn one by one with their measures.

use super::mark;
use crate::emit::drawing::{Fill, Item, Paper, Point, Rect, Sheet, Stroke, Text, at};
use crate::emit::titles;
use crate::layout::pieces::{Cutout, Piece, Pieces};
use crate::session::Checked;
use crate::units::{Length, System, display};

/// Height given to a piece without cutouts of its own, and to each line of measures.
const HEAD: f64 = 24.0;
const LINE: f64 = 7.5;
/// Highest a piece is drawn.
const HIGH: f64 = 34.0;

/// The sheets; none where nothing passes through a board.
pub(super) fn sheets(checked: &Checked, pieces: &Pieces) -> Vec<Sheet> {
    let lead = checked.model.project.units;
    let mut sheets: Vec<Sheet> = Vec::new();
    let mut y = f64::INFINITY;
    for piece in pieces.list.iter().filter(|piece| !piece.cutouts.is_empty() && !piece.too_small) {
        let room = sheets.last().map_or(Rect::edges(0.0, 0.0, 0.0, 0.0), Sheet::area);
        if y + height(piece, room.width) > room.bottom() {
            let title = titles::block(checked, "Holes and notches in boards");
            let sheet = Sheet::new(&format!("bored-{}", sheets.len() + 1), Paper::A4, title);
            y = sheet.area().y;
            sheets.push(sheet);
        }
        let Some(sheet) = sheets.last_mut() else { continue };
        let room = sheet.area();
        sheet.layer("piece", drawn(piece, Rect::edges(room.x, y, room.right(), room.bottom()), lead));
        y += height(piece, room.width);
    }
    sheets
}

fn scale(piece: &Piece, width: f64) -> f64 {
    let bounds = piece.shape.bounds();
    let across = (width - 4.0) / bounds.width().as_mm().max(1.0);
    across.min(HIGH / bounds.height().as_mm().max(1.0)).min(1.0)
}

fn height(piece: &Piece, width: f64) -> f64 {
    let high = piece.shape.bounds().height().as_mm() * scale(piece, width);
    HEAD + high + LINE * 3.0 * piece.cutouts.len() as f64
}

fn drawn(piece: &Piece, room: Rect, lead: System) -> Vec<Item> {
    let bounds = piece.shape.bounds();
    let scale = scale(piece, room.width);
    let (left, top) = (room.x + 2.0, room.y + 11.0);
    let foot = top + bounds.height().as_mm() * scale;
    let on = |along: Length, up: Length| at(left + along.as_mm() * scale, foot - up.as_mm() * scale);
    let mut items = vec![
        Text::new(at(room.x, room.y + 7.0), mark(piece)).size(6.0).bold().into(),
        Text::new(
            at(room.x + 44.0, room.y + 7.0),
            "as it lies on the wall, seen from outside; left end to the left; X falls out",
        )
        .size(3.5)
        .into(),
    ];
    let outline = piece.shape.outline().points();
    let outline: Vec<Point> = outline.iter().map(|point| on(point.x - bounds.left, point.y - bounds.bottom)).collect();
    items.push(Item::polygon(outline, Some(Stroke::HEAVY), Fill::White));
    let mut y = foot + 3.0;
    for (number, cutout) in piece.cutouts.iter().enumerate() {
        let (along, up) = cutout.centre();
        items.push(Item::polygon(
            shape(cutout).into_iter().map(|(x, y)| on(x, y)).collect(),
            Some(Stroke::MEDIUM),
            Fill::White,
        ));
        items.push(Text::new(on(along, up).shift(0.0, 1.3), "X").size(3.5).bold().centred().into());
        // From the left end to the mark that is measured.
        let measured = if cutout.round { along } else { cutout.along.1 };
        let line = foot + 2.0 + 1.5 * number as f64;
        items.push(Item::line(at(left, line), at(on(measured, up).x, line), Stroke::LIGHT));
        items.push(Item::line(
            at(on(measured, up).x, line + 1.0),
            on(measured, if cutout.round { up } else { cutout.up.0 }),
            Stroke::LIGHT,
        ));
        for words in measures(cutout, lead) {
            y += LINE;
            items.push(Text::new(at(room.x + 2.0, y), words).size(5.0).bold().into());
        }
    }
    items
}

/// Corners of a hole or notch; a round one as a polygon.
fn shape(cutout: &Cutout) -> Vec<(Length, Length)> {
    let ((from, to), (low, high)) = (cutout.along, cutout.up);
    if !cutout.round {
        return vec![(from, low), (to, low), (to, high), (from, high)];
    }
    let (x, y) = cutout.centre();
    let radius = (to - from).as_mm() / 2.0;
    let turn = |at: u32| f64::from(at) * 15.0_f64.to_radians();
    (0..24)
        .map(|at| {
            (x + Length::snap_mm(radius * libm::cos(turn(at))), y + Length::snap_mm(radius * libm::sin(turn(at))))
        })
        .collect()
}

/// What is cut, where along, and where up.
fn measures(cutout: &Cutout, lead: System) -> [String; 3] {
    let both = |length| display::both(length, lead);
    let name = cutout.service.replace('_', " ");
    let ((from, to), (low, high)) = (cutout.along, cutout.up);
    let (along, up) = cutout.centre();
    if cutout.round {
        return [
            format!("{name}: bore {}", both(to - from)),
            format!("centre {} from left end", both(along)),
            format!("{} from lower edge", both(up)),
        ];
    }
    [
        format!("{name}: {}", if cutout.notch { "notch" } else { "hole" }),
        format!("{} to {} from left end", both(from), both(to)),
        format!("{} to {} from lower edge", both(low), both(high)),
    ]
}
