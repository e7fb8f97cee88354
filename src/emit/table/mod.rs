//! One table, written as CSV, as a workbook, as JSON and as sheets of paper. A row is a thing to strike off; a length is
//! always shown in both units; nothing is added up here.

mod csv;
mod json;
mod paper;
mod schema;
#[cfg(test)]
mod tests;
mod workbook;

pub use csv::csv;
pub use json::json;
pub use paper::sheets;
pub use schema::{any_table, schema};
pub use workbook::workbook;

use crate::units::{Area, Length, System};

/// What stands in a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Words.
    Text,
    /// A mark to be written on a piece: bold, never broken.
    Mark,
    /// A length: one column in millimetres, one in inches to 1/16.
    Length,
    /// The length of a piece to be cut: on paper rounded down, to 0.5 mm and 1/16 in, each unit for itself.
    Cut,
    /// A gap or lap to leave: up to whole 0.5 mm and to whole sixteenths of an inch, so that no reading leaves too little.
    Gap,
    /// A length in feet and inches beside metres.
    LongLength,
    /// A surface, m² and ft².
    Area,
    /// A mass, kg and lb.
    Mass,
    /// Whole pieces.
    Count,
    /// A number with this many decimals.
    Number(u8),
    /// A box or circle for a pencil. Only paper has it.
    Tick,
}

/// A column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// The name in files for programs: small letters and `_`, no unit.
    pub key: &'static str,
    /// The heading people read, no unit.
    pub heading: &'static str,
    /// What stands in it.
    pub kind: Kind,
}

/// One cell. A cell that does not suit its column is written as it is.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Cell {
    /// Words.
    Text(String),
    /// A length.
    Length(Length),
    /// A surface.
    Area(Area),
    /// Whole pieces.
    Count(u64),
    /// A number; a mass in kg.
    Number(f64),
    /// Not known, or not for this row.
    #[default]
    Nothing,
}

/// A table with its words.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// Short stable name: file and sheet name, small letters and `_`.
    pub id: String,
    /// What it is, for people: "Cut list, section 2".
    pub title: String,
    /// Sentences above the rows: from which end marks are counted, what was assumed.
    pub notes: Vec<String>,
    /// Columns in order.
    pub columns: Vec<Column>,
    /// Rows, each with a cell for each column.
    pub rows: Vec<Vec<Cell>>,
}

/// A column.
pub const fn column(key: &'static str, heading: &'static str, kind: Kind) -> Column {
    Column { key, heading, kind }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Cell {
        if text.is_empty() { Cell::Nothing } else { Cell::Text(text.to_owned()) }
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Cell {
        if text.is_empty() { Cell::Nothing } else { Cell::Text(text) }
    }
}

impl From<Length> for Cell {
    fn from(length: Length) -> Cell {
        Cell::Length(length)
    }
}

impl From<Area> for Cell {
    fn from(area: Area) -> Cell {
        Cell::Area(area)
    }
}

impl From<u64> for Cell {
    fn from(count: u64) -> Cell {
        Cell::Count(count)
    }
}

impl From<f64> for Cell {
    fn from(number: f64) -> Cell {
        if number.is_finite() { Cell::Number(number) } else { Cell::Nothing }
    }
}

impl<T: Into<Cell>> From<Option<T>> for Cell {
    fn from(value: Option<T>) -> Cell {
        value.map_or(Cell::Nothing, Into::into)
    }
}

impl Table {
    /// An empty table.
    pub fn new(id: impl Into<String>, title: impl Into<String>, columns: Vec<Column>) -> Self {
        Self { id: id.into(), title: title.into(), notes: Vec::new(), columns, rows: Vec::new() }
    }

    /// With a sentence above the rows.
    pub fn note(mut self, sentence: impl Into<String>) -> Self {
        self.notes.push(sentence.into());
        self
    }

    /// Adds a row; cells that are missing stay empty, those too many are dropped.
    pub fn row(&mut self, cells: impl IntoIterator<Item = Cell>) {
        let mut cells: Vec<Cell> = cells.into_iter().collect();
        cells.resize(self.columns.len(), Cell::Nothing);
        self.rows.push(cells);
    }
}

/// Pounds in a kilogram, by definition of the pound.
const POUNDS: f64 = 1.0 / 0.453_592_37;
/// Square feet in a square metre, by definition of the foot.
const SQUARE_FEET: f64 = 1.0 / (0.3048 * 0.3048);

/// A cell as the columns of a file hold it: a number as a number, words as words.
#[derive(Clone, Debug, PartialEq)]
enum Flat {
    Words(String),
    /// With decimals.
    Figure(f64, u8),
    Empty,
}

/// What a column of a file holds where its cell suits it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Holds {
    Words,
    Whole,
    Figure,
}

impl Kind {
    /// The columns it takes in a file: the end of the key, the unit in the heading, what they hold.
    const fn flat(self) -> &'static [(&'static str, &'static str, Holds)] {
        match self {
            Kind::Tick => &[],
            Kind::Length | Kind::Cut | Kind::Gap => &[("_mm", "mm", Holds::Figure), ("_in", "in", Holds::Words)],
            Kind::LongLength => &[("_m", "m", Holds::Figure), ("_ft_in", "ft in", Holds::Words)],
            Kind::Area => &[("_m2", "m²", Holds::Figure), ("_ft2", "ft²", Holds::Figure)],
            Kind::Mass => &[("_kg", "kg", Holds::Figure), ("_lb", "lb", Holds::Figure)],
            Kind::Text | Kind::Mark => &[("", "", Holds::Words)],
            Kind::Count => &[("", "", Holds::Whole)],
            Kind::Number(_) => &[("", "", Holds::Figure)],
        }
    }
}

/// The columns of a file: each length, surface and mass takes two.
fn flat_heads(columns: &[Column]) -> Vec<(String, String)> {
    let heads = columns.iter().flat_map(|column| {
        column.kind.flat().iter().map(|(key, unit, _)| {
            let words = if unit.is_empty() { column.heading.to_owned() } else { format!("{} {unit}", column.heading) };
            (format!("{}{key}", column.key), words)
        })
    });
    heads.collect()
}

/// The cells of a file for one row.
fn flat_row(columns: &[Column], row: &[Cell]) -> Vec<Flat> {
    columns.iter().zip(row).flat_map(|(column, cell)| flat(column.kind, cell)).collect()
}

fn flat(kind: Kind, cell: &Cell) -> Vec<Flat> {
    use crate::units::display::{Tape, feet_inches, gap_up, inches};
    let second = |words: String| Flat::Words(words);
    match (kind, cell) {
        (Kind::Tick, _) => Vec::new(),
        (Kind::Length | Kind::Cut, Cell::Length(length)) => {
            vec![Flat::Figure(length.as_mm(), 1), second(bare(&inches(*length, Tape::Sixteenth)))]
        }
        (Kind::LongLength, Cell::Length(length)) => {
            vec![Flat::Figure(length.as_m(), 3), second(feet_inches(*length, Tape::Sixteenth))]
        }
        (Kind::Area, Cell::Area(area)) => {
            vec![Flat::Figure(area.as_m2(), 3), Flat::Figure(area.as_m2() * SQUARE_FEET, 2)]
        }
        (Kind::Mass, Cell::Number(mass)) => vec![Flat::Figure(*mass, 2), Flat::Figure(mass * POUNDS, 1)],
        (Kind::Number(places), Cell::Number(number)) => vec![Flat::Figure(*number, places)],
        (Kind::Gap, Cell::Length(length)) => {
            let up = gap_up(*length, System::Imperial);
            vec![Flat::Figure(length.as_mm(), 1), second(bare(&inches(up, Tape::Sixteenth)))]
        }
        (Kind::Length | Kind::Cut | Kind::Gap | Kind::LongLength | Kind::Area | Kind::Mass, cell) => {
            vec![plain(cell), Flat::Empty]
        }
        (_, cell) => vec![plain(cell)],
    }
}

fn plain(cell: &Cell) -> Flat {
    match cell {
        Cell::Text(text) => Flat::Words(text.clone()),
        Cell::Length(length) => Flat::Figure(length.as_mm(), 1),
        Cell::Area(area) => Flat::Figure(area.as_m2(), 3),
        Cell::Count(count) => Flat::Figure(*count as f64, 0),
        Cell::Number(number) => Flat::Figure(*number, 3),
        Cell::Nothing => Flat::Empty,
    }
}

/// Without its unit: the heading has it.
fn bare(inches: &str) -> String {
    inches.trim_end_matches(" in").to_owned()
}

/// A figure with its decimals; whole numbers of a length column lose theirs.
fn figure(value: f64, places: u8) -> String {
    let text = format!("{value:.*}", usize::from(places));
    let text = if places == 1 { text.trim_end_matches(".0").to_owned() } else { text };
    if text.trim_start_matches('-').chars().all(|c| c == '0' || c == '.') {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    }
}
