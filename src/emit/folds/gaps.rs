//! The card of gaps: how much to leave today, by the temperature of the surface, for everything that moves.

use super::written;
use crate::emit::drawing::{Paper, Sheet};
use crate::emit::table::{self, Cell, Kind, Table, column};
use crate::emit::{Emitter, Output, titles};
use crate::layout::gaps::{self, Row};
use crate::session::Checked;
use crate::units::Length;

/// Keys and headings of the bands of [`gaps::BANDS`].
const HEADS: [(&str, &str); 8] = [
    ("from_m30", "−30…−20°"),
    ("from_m20", "−20…−10°"),
    ("from_m10", "−10…0°"),
    ("from_0", "0…10°"),
    ("from_10", "10…20°"),
    ("from_20", "20…30°"),
    ("from_30", "30…40°"),
    ("from_40", "40…50°"),
];

/// Writes `gaps/`.
pub struct Gaps;

impl Emitter for Gaps {
    fn id(&self) -> &'static str {
        "gaps"
    }

    fn title(&self) -> &'static str {
        "Gap for today: by the temperature of the surface"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        let tables = tables(checked);
        if tables.iter().all(|table| table.rows.is_empty()) {
            return Vec::new();
        }
        written(checked, "gaps", "gap for today", &sheets(checked, &tables), &tables)
    }
}

/// Gaps and laps.
pub(super) fn tables(checked: &Checked) -> [Table; 2] {
    let rows = gaps::find(&checked.model, checked.pieces(), checked.folds());
    let gaps = table(checked, &rows, ("gap_today", "Gap for today, at each end of a length"), |row| &row.gaps);
    let laps = table(checked, &rows, ("lap_today", "Lap for today, of two lengths of trim"), |row| &row.laps);
    [
        gaps.note("hold the thermometer to the piece, not to the air; °C of the surface when it goes on; right for the coldest day of each band"),
        laps.note("°C of the surface when it goes on; right for the warmest day of each band; for trims and folded metal that lap"),
    ]
}

fn table(checked: &Checked, rows: &[Row], (id, title): (&str, &str), of: impl Fn(&Row) -> &[Length; 8]) -> Table {
    let mut columns = vec![column("what", "what", Kind::Text), column("length", "length", Kind::Length)];
    columns.extend(HEADS.map(|(key, heading)| column(key, heading, Kind::Gap)));
    let mut table = Table::new(id, title, columns);
    for row in rows {
        let name = checked.model.product(row.product).map_or("", |product| product.name.as_str()).replace('_', " ");
        let mut cells: Vec<Cell> = vec![name.into(), row.length.into()];
        cells.extend(of(row).iter().map(|length| Cell::from(*length)));
        table.row(cells);
    }
    table
}

/// The cards.
pub(super) fn sheets(checked: &Checked, tables: &[Table]) -> Vec<Sheet> {
    let sheets = tables
        .iter()
        .flat_map(|table| table::sheets(table, &table.id, Paper::A3, &titles::block(checked, &table.title)));
    sheets.collect()
}
