//! Both units in every file, nothing a spreadsheet would run, and sheets that never overflow.

use super::*;
use crate::emit::drawing::{Paper, TitleBlock};

fn table() -> Table {
    let columns = vec![
        column("mark", "mark", Kind::Mark),
        column("length", "length", Kind::Length),
        column("stock", "stock", Kind::Text),
        column("count", "count", Kind::Count),
        column("weight", "weight", Kind::Mass),
        column("done", "done", Kind::Tick),
    ];
    let mut table = Table::new("cut_list", "Cut list", columns).note("lengths to the long point");
    let stock = Cell::from("=larch");
    table.row(["N14-3".into(), Length(2_743_200_000).into(), stock, 2u64.into(), 10.0.into()]);
    table.row(["N14-4".into(), Cell::Nothing, "larch".into(), 1u64.into()]);
    table
}

#[test]
fn the_files_hold_both_units_and_no_formula() {
    let text = csv(&table(), "line");
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines[3], "mark,length_mm,length_in,stock,count,weight_kg,weight_lb");
    assert_eq!(lines[4], "N14-3,2743.2,108,'=larch,2,10.00,22");
    assert_eq!(lines[5], "N14-4,,,larch,1,,");
    let json = json(&table(), "line");
    assert_eq!(json["rows"][0]["length_mm"], 2743.2);
    assert_eq!(json["rows"][0]["count"], 2);
    assert!(json["rows"][1]["length_mm"].is_null());
}

#[test]
fn no_cell_of_a_spreadsheet_begins_as_a_formula() {
    // The six beginnings are those of the OWASP page on CSV injection, from memory.
    let mut table = Table::new("words", "=Words", vec![column("words", "words", Kind::Text)]).note("+note");
    for first in ['=', '+', '-', '@', '\t', '\r'] {
        table.row([format!("{first}SUM(A1)").as_str().into()]);
    }
    let text = csv(&table, "@line");
    let mut reader = ::csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
    let cells: Vec<String> =
        reader.records().flat_map(|row| row.unwrap().iter().map(str::to_owned).collect::<Vec<_>>()).collect();
    assert_eq!(cells.len(), 3 + 1 + 6);
    assert!(cells.iter().all(|cell| !cell.starts_with(['=', '+', '-', '@', '\t', '\r'])), "{cells:?}");
}

#[test]
fn the_workbook_is_the_same_each_time() {
    let one = workbook("cuts", &[table(), table()], "line").unwrap();
    assert_eq!(one, workbook("cuts", &[table(), table()], "line").unwrap());
    assert!(one.starts_with(b"PK"));
}

#[test]
fn rows_go_on_the_next_sheet_when_one_is_full() {
    let mut many = table();
    (0..60).for_each(|_| many.rows.push(many.rows[0].clone()));
    let sheets = sheets(&many, "cuts", Paper::A4, &TitleBlock::default());
    assert!(sheets.len() > 2);
    assert!(sheets[1].title.title.starts_with("Cut list (2 of"));
    for sheet in &sheets {
        let area = sheet.area();
        for item in &sheet.items {
            let bounds = item.bounds().unwrap();
            assert!(
                bounds.bottom() <= area.bottom() + 0.1 && bounds.right() <= area.right() + 0.1,
                "{bounds:?} {area:?}"
            );
        }
    }
}

#[test]
fn a_gap_is_never_read_smaller_than_it_must_be() {
    let mut table = Table::new("gaps", "Gaps", vec![column("gap", "gap", Kind::Gap)]);
    table.row([Length(3_500_000).into()]);
    table.row([Length(25_400_000).into()]);
    let text = csv(&table, "line");
    // 3.5 mm is more than 1/8 in (3.175 mm): the next sixteenth is 3/16 in. A whole inch stays one.
    assert_eq!(text.lines().skip(2).collect::<Vec<_>>(), ["gap_mm,gap_in", "3.5,3/16", "25.4,1"]);
}
