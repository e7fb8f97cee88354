//! Tables as one workbook: a sheet each, numbers as numbers, a fixed date inside so that the bytes stay the same.

use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, Workbook, Worksheet, XlsxError};

use super::{Flat, Table, flat_heads, flat_row};

/// The most characters of a sheet's name.
const LONGEST_NAME: usize = 31;

/// `None` only if the file cannot be made.
pub fn workbook(title: &str, tables: &[Table], line: &str) -> Option<Vec<u8>> {
    written(title, tables, line).ok()
}

fn written(title: &str, tables: &[Table], line: &str) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    // No clock: the file says nothing of when it was made; the sheets carry the date they were told.
    let date = ExcelDateTime::from_ymd(2000, 1, 1)?;
    book.set_properties(&DocProperties::new().set_title(title).set_creation_datetime(&date));
    let mut names: Vec<String> = Vec::new();
    for table in tables {
        let name = unused(&table.id, &names);
        sheet(book.add_worksheet().set_name(&name)?, table, line)?;
        names.push(name);
    }
    book.save_to_buffer()
}

fn sheet(sheet: &mut Worksheet, table: &Table, line: &str) -> Result<(), XlsxError> {
    let (bold, large) = (Format::new().set_bold().set_text_wrap(), Format::new().set_bold().set_font_size(14));
    sheet.write_with_format(0, 0, table.title.as_str(), &large)?;
    let mut row = 1;
    for words in [line].into_iter().chain(table.notes.iter().map(String::as_str)) {
        sheet.write(row, 0, words)?;
        row += 1;
    }
    let heads = flat_heads(&table.columns);
    let mut widths: Vec<usize> = heads.iter().map(|(_, words)| words.chars().count().min(14)).collect();
    for (at, (_, words)) in heads.iter().enumerate() {
        sheet.write_with_format(row, at as u16, words.as_str(), &bold)?;
    }
    sheet.set_freeze_panes(row + 1, 0)?;
    for cells in &table.rows {
        row += 1;
        for (at, cell) in flat_row(&table.columns, cells).into_iter().enumerate() {
            match cell {
                Flat::Words(words) => {
                    if let Some(width) = widths.get_mut(at) {
                        *width = (*width).max(words.chars().count().min(60));
                    }
                    sheet.write_string(row, at as u16, words)?;
                }
                Flat::Figure(value, places) => {
                    let shape =
                        if places == 0 { "0".to_owned() } else { format!("0.{}", "0".repeat(usize::from(places))) };
                    sheet.write_number_with_format(row, at as u16, value, &Format::new().set_num_format(shape))?;
                }
                Flat::Empty => {}
            }
        }
    }
    for (at, width) in widths.into_iter().enumerate() {
        sheet.set_column_width(at as u16, width as f64 + 2.0)?;
    }
    sheet.set_landscape();
    sheet.set_print_fit_to_pages(1, 0);
    Ok(())
}

/// A name that a workbook takes and that no other sheet has.
fn unused(id: &str, names: &[String]) -> String {
    let safe: String = id.chars().map(|c| if "[]:*?/\\'".contains(c) { '_' } else { c }).take(LONGEST_NAME).collect();
    let base = if safe.is_empty() { "sheet".to_owned() } else { safe };
    let mut name = base.clone();
    let mut count = 1;
    while names.iter().any(|other| other.eq_ignore_ascii_case(&name)) {
        count += 1;
        let end = format!("_{count}");
        name = base.chars().take(LONGEST_NAME - end.len()).chain(end.chars()).collect();
    }
    name
}
