//! A table as comma-separated values, safe to open in a spreadsheet.

use super::{Flat, Table, figure, flat_heads, flat_row};

/// The table with its title, the line every output carries, its notes, one row of headings, and its rows.
pub fn csv(table: &Table, line: &str) -> String {
    let mut writer =
        csv::WriterBuilder::new().flexible(true).terminator(csv::Terminator::Any(b'\n')).from_writer(Vec::new());
    // A writer into memory never fails.
    let mut write = |cells: &[String]| drop(writer.write_record(cells));
    for words in [table.title.as_str(), line].into_iter().chain(table.notes.iter().map(String::as_str)) {
        write(&[safe(words)]);
    }
    write(&flat_heads(&table.columns).into_iter().map(|(key, _)| key).collect::<Vec<_>>());
    for row in &table.rows {
        let cells = flat_row(&table.columns, row).into_iter().map(|cell| match cell {
            Flat::Words(words) => safe(&words),
            Flat::Figure(value, places) => figure(value, places),
            Flat::Empty => String::new(),
        });
        write(&cells.collect::<Vec<_>>());
    }
    writer.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}

/// Words that a spreadsheet would take for a formula get an apostrophe before them.
pub(super) fn safe(words: &str) -> String {
    if words.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{words}") } else { words.to_owned() }
}
