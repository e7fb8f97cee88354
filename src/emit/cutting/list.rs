//! The list of pieces of a wall, from the foot up: one piece a row.

use super::{face_name, mark};
use crate::emit::table::{Cell, Kind, Table, column};
use crate::layout::pieces::{End, Piece, PieceKind, Pieces};
use crate::model::{FaceId, Model};
use crate::units::{System, display};

/// The rows of one face.
pub(super) fn of_face(model: &Model, pieces: &Pieces, face: FaceId) -> Table {
    let name = face_name(model, face);
    let columns = vec![
        column("done", "cut", Kind::Tick),
        column("mark", "mark", Kind::Mark),
        column("length", "length", Kind::Cut),
        column("left_end", "left end°", Kind::Text),
        column("right_end", "right end°", Kind::Text),
        column("width", "rip to", Kind::Cut),
        column("item", "from", Kind::Text),
        column("note", "note", Kind::Text),
    ];
    let mut table = Table::new(format!("cut_list_{name}"), format!("Cut list, {} wall", name.replace('_', " ")), columns)
        .note("lengths to the long point, left and right as seen from outside, angles from a square cut; a leaning / goes right as it goes up")
        .note(format!("gaps are left for a surface of {:.0} °C when it goes on; see the card of gaps for other days", pieces.surface));
    for piece in pieces.list.iter().filter(|piece| piece.face == face) {
        let product = piece.product.and_then(|id| model.product(id)).map_or("", |product| product.name.as_str());
        let wide = if piece.ripped { Cell::Length(piece.width) } else { Cell::Nothing };
        table.row([
            Cell::Nothing,
            mark(piece).into(),
            piece.length.into(),
            angle(piece.ends[0]).into(),
            angle(piece.ends[1]).into(),
            if piece.kind == PieceKind::Panel { Cell::Length(piece.width) } else { wide },
            product.replace('_', " ").into(),
            notes(piece, model.project.units).into(),
        ]);
    }
    table
}

/// What is cut besides the ends.
fn notes(piece: &Piece, lead: System) -> String {
    if piece.too_small {
        return "too small to fix: do not cut it, the trim covers its place".to_owned();
    }
    let scribed = piece.notched.then(|| "notch: hold it to the wall and scribe, or see the elevation".to_owned());
    let holes = piece.cutouts.iter().map(|cutout| {
        let ((from, to), (low, high)) = (cutout.along, cutout.up);
        let name = cutout.service.replace('_', " ");
        let (along, up) = cutout.centre();
        let both = |length| display::both(length, lead);
        if cutout.round {
            return format!(
                "bore {} for {name}, centre {} from left end, {} from lower edge",
                both(to - from),
                both(along),
                both(up)
            );
        }
        format!(
            "{} for {name}: {} to {} from left end, {} to {} from lower edge",
            if cutout.notch { "notch" } else { "hole" },
            both(from),
            both(to),
            both(low),
            both(high)
        )
    });
    scribed.into_iter().chain(holes).collect::<Vec<_>>().join("; ")
}

/// `square`, `59.7 /`, `59.7 \`.
fn angle(end: End) -> String {
    match end.from_square {
        angle if angle.abs() < 0.05 => "square".to_owned(),
        angle => format!("{:.1} {}", angle.abs(), if angle > 0.0 { '/' } else { '\\' }),
    }
}
