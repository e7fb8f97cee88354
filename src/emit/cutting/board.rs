//! Boards drawn as boards: a line where each is cut, a circle to strike off for each; boards that are cut at the same
//! places are drawn once, with the marks of all of them below.

use crate::emit::drawing::{Anchor, Backing, Fill, Item, Paper, Rect, Sheet, Stroke, Text, at, text};
use crate::emit::titles;
use crate::session::Checked;
use crate::units::display::{Tape, cut_down, inches, mm_figure};
use crate::units::{Length, System};

/// From one board to the next, without its list of marks.
const ROW: f64 = 25.0;
/// From the words above a board to the board.
const ABOVE: f64 = 6.5;
/// Height of a drawn board.
const BOARD: f64 = 9.0;
/// Height of figures, and what they shrink to where a piece is short.
const FIGURES: [f64; 4] = [5.0, 4.0, 3.2, 2.6];
/// Height of marks in the list below a board, and from one line of it to the next.
const MARKS: (f64, f64) = (4.0, 7.5);
/// At most so many lines of marks below one drawing.
const LINES: usize = 20;
/// Height of words.
const WORDS: f64 = 3.6;
/// Circles to strike off: so wide, this far apart, at most so many in a row beside a board.
const CIRCLE: (f64, f64, usize) = (6.0, 7.0, 3);
/// Room at the left for circles and the count.
const LEFT: f64 = 28.0;

/// Boards cut at the same places: one setting of the saw.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Setting {
    /// Length of the board.
    pub stock: Length,
    /// New, not an offcut.
    pub new: bool,
    /// Lengths of the pieces from the left end.
    pub cuts: Vec<Length>,
    /// Width of the saw cut.
    pub kerf: Length,
    /// What is left of a board.
    pub offcut: Length,
    /// For each board the marks of its pieces, in the order of the cuts.
    pub boards: Vec<Vec<String>>,
}

/// The settings for one wall or one list.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Batch {
    /// What is written at its first board.
    pub name: String,
    /// In the order in which they are cut.
    pub settings: Vec<Setting>,
}

/// What stands on a set of sheets besides the boards.
pub(in crate::emit) struct Heading<'h> {
    /// Id of the sheets, without the number.
    pub id: String,
    /// Title of every sheet.
    pub title: String,
    /// Words at the head of the first.
    pub words: &'h [String],
    /// Least offcut that is kept.
    pub keep: Length,
}

/// Puts boards together that show the same figures on paper, in the order of the first of each.
pub(super) fn together(boards: impl IntoIterator<Item = Setting>, lead: System) -> Vec<Setting> {
    let mut settings: Vec<Setting> = Vec::new();
    let shown = |setting: &Setting| -> Vec<Length> { setting.cuts.iter().map(|cut| cut_down(*cut, lead)).collect() };
    for board in boards {
        let alike = |one: &&mut Setting| {
            one.stock == board.stock && one.new == board.new && one.kerf == board.kerf && shown(one) == shown(&board)
        };
        match settings.iter_mut().find(alike) {
            Some(known) => {
                known.offcut = known.offcut.min(board.offcut);
                known.boards.extend(board.boards);
            }
            None => settings.push(board),
        }
    }
    settings
}

/// All boards on sheets, batch by batch.
pub(super) fn sheets(checked: &Checked, heading: &Heading<'_>, batches: &[Batch]) -> Vec<Sheet> {
    let lead = checked.model.project.units;
    let stocks = batches.iter().flat_map(|batch| &batch.settings).map(|setting| setting.stock);
    let longest = stocks.max().unwrap_or_default();
    let mut sheets: Vec<Sheet> = Vec::new();
    let mut y = f64::INFINITY;
    for batch in batches {
        let width = blank(checked, heading, 0).area().width;
        let parts = batch.settings.iter().flat_map(|setting| parts(setting, width));
        for (at_part, part) in parts.enumerate() {
            if sheets.last().is_none_or(|sheet| y + height(&part, width) > sheet.area().bottom()) {
                let mut sheet = blank(checked, heading, sheets.len() + 1);
                sheet.description = format!("{}: boards with their cuts, {}", heading.title, batch.name);
                y = sheet.area().y;
                if sheets.is_empty() {
                    y = head(&mut sheet, heading.words, y);
                }
                sheets.push(sheet);
            }
            let Some(sheet) = sheets.last_mut() else { continue };
            let area = sheet.area();
            let scale = (area.width - LEFT) / longest.as_mm().max(1.0);
            let place = Place { left: area.x, width: area.width, y, scale, lead, keep: heading.keep };
            if at_part == 0 {
                sheet.push(Text::new(at(area.x, y + 4.0), batch.name.as_str()).size(WORDS).bold());
            }
            sheet.layer("board", draw(&part, place));
            y += height(&part, width);
        }
    }
    let count = sheets.len();
    for (at_sheet, sheet) in sheets.iter_mut().enumerate().filter(|_| count > 1) {
        sheet.title.title = format!("{} ({} of {count})", heading.title, at_sheet + 1);
    }
    sheets
}

pub(super) fn blank(checked: &Checked, heading: &Heading<'_>, number: usize) -> Sheet {
    Sheet::new(&format!("{}-{number}", heading.id), Paper::A4, titles::block(checked, &heading.title))
}

pub(super) fn head(sheet: &mut Sheet, words: &[String], mut y: f64) -> f64 {
    let area = sheet.area();
    for line in words.iter().flat_map(|words| text::wrap(words, area.width, WORDS, false)) {
        y += WORDS + 1.8;
        sheet.push(Text::new(at(area.x, y), line).size(WORDS));
    }
    y + 4.0
}

/// The marks of each board as one entry, if the boards do not all carry the same.
fn entries(setting: &Setting) -> Vec<String> {
    let same = setting.boards.windows(2).all(|pair| pair[0] == pair[1]);
    if same { Vec::new() } else { setting.boards.iter().map(|marks| marks.join(" + ")).collect() }
}

/// How many entries fit side by side.
fn abreast(entries: &[String], width: f64) -> usize {
    let widest = entries.iter().map(|entry| text::width(entry, MARKS.0, true)).fold(0.0, f64::max);
    ((width / (widest + CIRCLE.0 + 5.0)) as usize).max(1)
}

/// A setting of so many boards that its list of marks is no longer than [`LINES`].
fn parts(setting: &Setting, width: f64) -> Vec<Setting> {
    let entries = entries(setting);
    if entries.is_empty() {
        return vec![setting.clone()];
    }
    let most = abreast(&entries, width) * LINES;
    setting.boards.chunks(most).map(|boards| Setting { boards: boards.to_vec(), ..setting.clone() }).collect()
}

fn height(setting: &Setting, width: f64) -> f64 {
    let entries = entries(setting);
    let lines = entries.len().div_ceil(abreast(&entries, width));
    ROW + lines as f64 * MARKS.1 + if lines > 0 { 2.5 } else { 0.0 }
}

/// Where a board goes, and how.
#[derive(Clone, Copy)]
struct Place {
    left: f64,
    width: f64,
    y: f64,
    /// Millimetres of paper for one of board.
    scale: f64,
    lead: System,
    keep: Length,
}

impl Place {
    fn x(&self, length: Length) -> f64 {
        self.left + LEFT + length.as_mm() * self.scale
    }

    fn top(&self) -> f64 {
        self.y + ABOVE
    }
}

fn draw(setting: &Setting, place: Place) -> Vec<Item> {
    let entries = entries(setting);
    let mut items = if entries.is_empty() {
        circles(setting.boards.len(), place)
    } else {
        let words = format!("× {}", setting.boards.len());
        vec![Text::new(at(place.left, place.top() + BOARD / 2.0 + 2.5), words).size(FIGURES[0]).bold().into()]
    };
    let top = place.top();
    let outline = Rect::edges(place.x(Length::ZERO), top, place.x(setting.stock), top + BOARD);
    items.push(Item::rect(outline, Some(Stroke::MEDIUM), Fill::White));
    let source = format!("{}{}", if setting.new { "" } else { "offcut " }, figure(setting.stock, place.lead));
    items.push(Text::new(at(place.left + LEFT, place.y + 4.6), source.as_str()).size(WORDS).into());
    let marks = if entries.is_empty() { setting.boards.first().map_or(&[][..], Vec::as_slice) } else { &[] };
    let mut from = Length::ZERO;
    let mut above = place.x(from) + text::width(&source, WORDS, false) + 2.0;
    for (at_cut, cut) in setting.cuts.iter().enumerate() {
        let to = from + *cut;
        items.extend(piece(place, (from, to), marks.get(at_cut).map_or("", String::as_str)));
        items.extend(reading(place, (from, to), &mut above));
        from = to + setting.kerf;
    }
    items.extend(rest(setting, place));
    items.extend(list(&entries, place));
    items
}

/// A piece on its board: its mark and length, and a line across where it ends.
fn piece(place: Place, (from, to): (Length, Length), mark: &str) -> Vec<Item> {
    let (left, right, top) = (place.x(from), place.x(to), place.top());
    let length = figure(to - from, place.lead);
    let both = format!("{mark}  {length}");
    let room = right - left - 1.0;
    // A mark is never left out; its length is in the list and can be.
    let choices = if mark.is_empty() { vec![length.as_str()] } else { vec![both.as_str(), mark] };
    let mut items = vec![Item::line(at(right, top - 1.2), at(right, top + BOARD + 1.2), Stroke::MEDIUM)];
    if let Some((words, size)) = fitting(&choices, room, true) {
        items.push(middle(words, size, (left + right) / 2.0, top).bold().into());
    }
    items
}

/// The tape's reading from the left end: below, or above where the piece is too short and nothing stands there yet, with
/// the place where what stands above ends.
fn reading(place: Place, (from, to): (Length, Length), above: &mut f64) -> Option<Item> {
    let (right, top) = (place.x(to), place.top());
    let words = figure(to, place.lead);
    let width = |size: f64| text::width(&words, size, false);
    let fits = FIGURES[..3].iter().find(|size| width(**size) <= right - place.x(from) - 1.0);
    let (size, y) = match fits {
        Some(size) => (*size, top + BOARD + 1.2 + size),
        None => (FIGURES[2], top - 1.6),
    };
    if fits.is_none() {
        if right - width(size) < *above {
            return None;
        }
        *above = right + 1.0;
    }
    Some(Text::new(at(right - 0.6, y), words).size(size).anchor(Anchor::End).into())
}

/// The first words that fit at a good size; the last ones at the smallest if none does.
fn fitting<'w>(choices: &[&'w str], room: f64, bold: bool) -> Option<(&'w str, f64)> {
    let fits = |words: &str, size: f64| text::width(words, size, bold) <= room;
    let at_size = |words: &&'w str| FIGURES[..3].iter().find(|size| fits(words, **size)).map(|size| (*words, *size));
    choices.iter().find_map(at_size).or_else(|| choices.last().map(|words| (*words, FIGURES[3])))
}

fn middle(words: &str, size: f64, x: f64, top: f64) -> Text {
    Text {
        backing: Backing::Nothing,
        ..Text::new(at(x, top + BOARD / 2.0 + size / 2.0), words).size(size).anchor(Anchor::Middle)
    }
}

/// What is left of the board.
fn rest(setting: &Setting, place: Place) -> Vec<Item> {
    if setting.offcut <= Length::ZERO {
        return Vec::new();
    }
    let kept = setting.offcut >= place.keep;
    let (left, right, top) = (place.x(setting.stock - setting.offcut), place.x(setting.stock), place.top());
    let mut items = Vec::new();
    let words = if kept { format!("keep {}", figure(setting.offcut, place.lead)) } else { "scrap".to_owned() };
    let size = FIGURES[..3].iter().find(|size| text::width(&words, **size, false) <= right - left - 1.0);
    items.extend(size.map(|size| middle(&words, *size, (left + right) / 2.0, top).into()));
    if !kept {
        items.push(Item::line(at(left, top), at(right, top + BOARD), Stroke::LIGHT));
    }
    items
}

/// The marks of each board, with a circle to strike off.
fn list(entries: &[String], place: Place) -> Vec<Item> {
    let columns = abreast(entries, place.width);
    let step = place.width / columns as f64;
    let mut items = Vec::new();
    for (at_entry, entry) in entries.iter().enumerate() {
        let x = place.left + (at_entry % columns) as f64 * step;
        let y = place.y + ROW + 1.5 + (at_entry / columns) as f64 * MARKS.1;
        items.push(circle(x + CIRCLE.0 / 2.0, y));
        items.push(Text::new(at(x + CIRCLE.0 + 1.5, y + MARKS.0 / 2.0), entry.as_str()).size(MARKS.0).bold().into());
    }
    items
}

pub(super) fn circle(x: f64, y: f64) -> Item {
    Item::Circle { centre: at(x, y), radius: CIRCLE.0 / 2.0, stroke: Some(Stroke::MEDIUM), fill: Fill::None }
}

/// As many circles as boards, or a count beside one.
fn circles(count: usize, place: Place) -> Vec<Item> {
    let (wide, apart, most) = CIRCLE;
    let y = place.top() + BOARD / 2.0;
    let one = |at_circle: usize| circle(place.left + wide / 2.0 + apart * at_circle as f64, y);
    if count <= most {
        return (0..count).map(one).collect();
    }
    let words = Text::new(at(place.left + apart + 1.0, y + 2.5), format!("× {count}")).size(FIGURES[0]).bold();
    vec![one(0), words.into()]
}

/// A length on paper, rounded down so that no piece comes too long.
pub(super) fn figure(length: Length, lead: System) -> String {
    let length = cut_down(length, lead);
    match lead {
        System::Metric => mm_figure(length),
        System::Imperial => inches(length, Tape::Sixteenth).trim_end_matches(" in").to_owned(),
    }
}
