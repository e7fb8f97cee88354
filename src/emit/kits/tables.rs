//! The rows of a kit: pieces as they are loaded, and what is used by the metre and the box.

use super::{file_name, words};
use crate::emit::table::{Cell, Kind, Table, column};
use crate::kits::{Kit, KitPiece, Kits, load_of};
use crate::model::Model;
use crate::quantities::Amount;
use crate::session::Checked;
use crate::units::{Length, display};

/// Pieces in loading order: the first row goes down first, and is fixed last.
pub(super) fn pieces(checked: &Checked, kit: &Kit, number: usize) -> Table {
    let several = kit.load.loads > 1;
    let mut columns = vec![
        column("done", "on", Kind::Tick),
        column("mark", "mark", Kind::Mark),
        column("length", "length", Kind::Cut),
        column("rip", "rip to", Kind::Cut),
        column("item", "what", Kind::Text),
        column("holes", "holes", Kind::Count),
        column("mass", "weight", Kind::Mass),
        column("note", "note", Kind::Text),
    ];
    if several {
        columns.insert(1, column("load", "load", Kind::Count));
    }
    let title = format!("Kit {}, {}", number + 1, words(kit));
    let mut table = Table::new(file_name(checked, kit), title, columns)
        .note("load from the first row down: it goes on first and lies at the bottom; the last row lies on top and is fixed first")
        .note("lengths to the long point; holes are drilled on the bench before the piece goes up: count them here");
    let masses: Vec<f64> = kit.pieces.iter().map(|piece| piece.mass.clone().unwrap_or(0.0)).collect();
    let loads = load_of(&masses, kit.load.loads);
    if several {
        table.notes.push(format!("{} loads: load 1 goes up first, each stacked for itself", kit.load.loads));
    }
    let mut rows: Vec<(u64, &KitPiece)> = loads.into_iter().zip(&kit.pieces).collect();
    rows.reverse();
    rows.sort_by_key(|(load, _)| *load);
    for (load, piece) in rows {
        let mut cells = vec![
            Cell::Nothing,
            piece.mark.clone().into(),
            piece.length.into(),
            piece.rip.into(),
            piece.item.clone().into(),
            Some(piece.holes).filter(|holes| *holes > 0).into(),
            piece.mass.clone().ok().into(),
            note(&checked.model, piece, checked).into(),
        ];
        if several {
            cells.insert(1, (load + 1).into());
        }
        table.row(cells);
    }
    table
}

/// Where it goes past its section, and how it is reached where the machine does not go.
fn note(model: &Model, piece: &KitPiece, checked: &Checked) -> String {
    let units = checked.model.project.units;
    let mut words = Vec::new();
    let zone = piece.unreached.and_then(|at| model.crew.as_ref()?.out_of_reach.get(at));
    if let Some(zone) = zone {
        let by = zone.by.map_or("the machine does not reach it".to_owned(), |by| format!("by {by}"));
        words.push(by);
    }
    if let Some(past) = piece.past {
        words.push(format!("{} into the next lane", display::both(whole(past), units)));
    }
    if let Some(above) = piece.above {
        words.push(format!("{} past the stop line", display::both(whole(above), units)));
    }
    if piece.mass.is_err() {
        words.push("weight not known".to_owned());
    }
    words.join("; ")
}

/// To the millimetre: nothing is cut by it.
fn whole(length: Length) -> Length {
    Length::MM * length.scale(1, Length::MM.0).0
}

/// What is used by the metre and by the box.
pub(super) fn goods(checked: &Checked, kit: &Kit) -> Table {
    let columns = vec![
        column("done", "on", Kind::Tick),
        column("group", "what sort", Kind::Text),
        column("item", "item", Kind::Text),
        column("size", "size", Kind::Text),
        column("metal", "metal", Kind::Text),
        column("amount", "how much", Kind::Mark),
        column("imperial", "or", Kind::Text),
        column("mass", "weight", Kind::Mass),
    ];
    let id = file_name(checked, kit).replacen("kit_", "goods_", 1);
    let mut table = Table::new(id, format!("Fasteners, tapes and screens, {}", words(kit)), columns)
        .note("net, without spares: the take-off shared out by where it is used; what goes on with the air barrier is there already");
    for good in &kit.goods {
        let (amount, imperial) = match good.amount {
            Amount::Count(count) => (format!("{count}"), "pieces".to_owned()),
            Amount::Length(length) => (format!("{:.1} m", length.as_m()), format!("{:.0} ft", good.amount.imperial())),
            Amount::Area(area) => (format!("{:.2} m²", area.as_m2()), format!("{:.0} ft²", good.amount.imperial())),
        };
        let item = good.item.rsplit('.').next().unwrap_or_default().replace('_', " ");
        // Left empty where no product has a weight: the card counts it with the sundries.
        let mass: Cell = good.mass.map_or(Cell::Nothing, Cell::from);
        table.row([
            Cell::Nothing,
            good.group.word().into(),
            item.into(),
            good.size.clone().into(),
            good.metal.clone().into(),
            amount.into(),
            imperial.into(),
            mass,
        ]);
    }
    table
}

/// What goes on with the air barrier, before the first section.
pub(super) fn before(checked: &Checked, kits: &Kits) -> Option<Table> {
    let columns = vec![
        column("done", "got", Kind::Tick),
        column("mark", "mark", Kind::Mark),
        column("length", "length", Kind::Cut),
        column("item", "what", Kind::Text),
        column("mass", "weight", Kind::Mass),
    ];
    let mut table = Table::new("before_sections", "On the wall before the first section", columns)
        .note("these go on with the air barrier and are in no kit; the order of work says when");
    let mut rows: Vec<&KitPiece> = kits.before.iter().collect();
    rows.sort_by_key(|piece| (piece.what, piece.source));
    for piece in rows {
        table.row([
            Cell::Nothing,
            piece.mark.clone().into(),
            piece.length.into(),
            piece.item.clone().into(),
            piece.mass.clone().ok().into(),
        ]);
    }
    (!checked.model.sections.is_empty()).then_some(table)
}
