//! A board drawn as a board: a line where each cut goes, the mark and length of each piece in both units on it, the reading of
//! the tape below, and a circle to strike off for each board. What finds no room on a short piece stands in a row below.

use super::board::Setting;
use crate::emit::drawing::{Anchor, Backing, Fill, Item, Rect, Stroke, Text, at, text};
use crate::units::display::{Tape, cut_down, inches, mm_figure};
use crate::units::{Length, System};

/// Height of all words and figures: read at arm's length beside a saw.
pub(super) const WORDS: f64 = 5.0;
/// From one line of words to the next.
const LINE: f64 = 6.6;
/// From the words above a board to the board.
const ABOVE: f64 = 8.0;
/// Height of a drawn board.
const BOARD: f64 = 14.0;
/// Below all of a board.
const AFTER: f64 = 3.5;
/// From one line of marks to the next.
const MARKS: f64 = 8.0;
/// At most so many lines of marks below one drawing.
const LINES: usize = 18;
/// Circles to strike off: so wide, this far apart, at most so many in a row beside a board.
const CIRCLE: (f64, f64, usize) = (6.0, 7.0, 3);
/// Room at the left for circles and the count.
pub(super) const LEFT: f64 = 28.0;

/// Where a board goes, and how.
#[derive(Clone, Copy)]
pub(super) struct Place {
    pub left: f64,
    pub width: f64,
    pub y: f64,
    /// Millimetres of paper for one of board.
    pub scale: f64,
    pub lead: System,
    /// Least offcut that is kept.
    pub keep: Length,
}

impl Place {
    fn x(&self, length: Length) -> f64 {
        self.left + LEFT + length.as_mm() * self.scale
    }

    fn top(&self) -> f64 {
        self.y + ABOVE
    }

    /// Two lines of words on the board, if they fit between two places.
    fn holds(&self, lines: [&str; 2], (from, to): (Length, Length)) -> bool {
        let widest = lines.iter().map(|line| text::width(line, WORDS, true)).fold(0.0, f64::max);
        widest <= self.x(to) - self.x(from) - 1.5
    }
}

/// The marks of each board as one entry, if the boards do not all carry the same.
fn entries(setting: &Setting) -> Vec<String> {
    let same = setting.boards.windows(2).all(|pair| pair[0] == pair[1]);
    if same { Vec::new() } else { setting.boards.iter().map(|marks| marks.join(" + ")).collect() }
}

/// How many entries fit side by side.
fn abreast(entries: &[String], width: f64) -> usize {
    let widest = entries.iter().map(|entry| text::width(entry, WORDS, true)).fold(0.0, f64::max);
    ((width / (widest + CIRCLE.0 + 5.0)) as usize).max(1)
}

/// A setting of so many boards that its list of marks is no longer than [`LINES`].
pub(super) fn parts(setting: &Setting, width: f64) -> Vec<Setting> {
    let entries = entries(setting);
    if entries.is_empty() {
        return vec![setting.clone()];
    }
    let most = abreast(&entries, width) * LINES;
    setting.boards.chunks(most).map(|boards| Setting { boards: boards.to_vec(), ..setting.clone() }).collect()
}

/// One piece of a board, with what is written for it and where.
struct Cut {
    from: Length,
    to: Length,
    mark: String,
    length: [String; 2],
    reading: String,
    /// Its length stands on it.
    on_board: bool,
    /// The reading of the tape stands below its right end; that of the first piece is its length.
    below: bool,
}

impl Cut {
    /// What is written of it in a row, if something found no room: which piece, its length, and the reading where it ends.
    fn row(&self, number: usize) -> Option<String> {
        let first = number == 1;
        if self.on_board && (self.below || first) {
            return None;
        }
        let [lead, other] = &self.length;
        let mark = if self.mark.is_empty() { String::new() } else { format!(" {}", self.mark) };
        let tape = if first { String::new() } else { format!(", tape at {}", self.reading) };
        Some(format!("{number}:{mark}  {lead} · {other}{tape}"))
    }
}

fn cuts(setting: &Setting, place: Place) -> Vec<Cut> {
    let marks = if entries(setting).is_empty() { setting.boards.first().map_or(&[][..], Vec::as_slice) } else { &[] };
    let mut from = Length::ZERO;
    let mut free = place.x(Length::ZERO);
    let cut = |(at_cut, length): (usize, &Length)| {
        let to = from + *length;
        let mark = marks.get(at_cut).cloned().unwrap_or_default();
        let length = figures(*length, place.lead);
        let reading = figures(to, place.lead).join(" · ");
        let first = first_line(&mark, &length[0]);
        let on_board = place.holds([first.as_str(), &length[1]], (from, to));
        let below = at_cut > 0 && place.x(to) - text::width(&reading, WORDS, true) >= free;
        if below {
            free = place.x(to) + 3.0;
        }
        let cut = Cut { from, to, mark, length, reading, on_board, below };
        from = to + setting.kerf;
        cut
    };
    setting.cuts.iter().enumerate().map(cut).collect()
}

fn first_line(mark: &str, length: &str) -> String {
    if mark.is_empty() { length.to_owned() } else { format!("{mark}  {length}") }
}

/// The rows below a board, and whether readings stand between.
fn below(setting: &Setting, place: Place) -> (Vec<String>, bool) {
    let cuts = cuts(setting, place);
    let mut rows: Vec<String> = cuts.iter().enumerate().filter_map(|(at_cut, cut)| cut.row(at_cut + 1)).collect();
    let [lead, other] = figures(setting.offcut, place.lead);
    if setting.offcut >= place.keep && !fits_rest(setting, place) {
        rows.push(format!("keep the rest: {lead} · {other}"));
    }
    (rows, cuts.iter().any(|cut| cut.below))
}

fn fits_rest(setting: &Setting, place: Place) -> bool {
    let [lead, other] = figures(setting.offcut, place.lead);
    place.holds([&format!("keep {lead}"), &other], (setting.stock - setting.offcut, setting.stock))
}

/// How high a setting is drawn.
pub(super) fn height(setting: &Setting, place: Place) -> f64 {
    let entries = entries(setting);
    let lines = entries.len().div_ceil(abreast(&entries, place.width));
    foot(setting, place) + lines as f64 * MARKS + AFTER
}

/// From the top of a setting to its list of marks.
fn foot(setting: &Setting, place: Place) -> f64 {
    let (rows, readings) = below(setting, place);
    let readings = if readings { LINE } else { 0.0 };
    ABOVE + BOARD + 1.5 + readings + rows.len() as f64 * LINE
}

/// A setting.
pub(super) fn draw(setting: &Setting, place: Place) -> Vec<Item> {
    let entries = entries(setting);
    let mut items = if entries.is_empty() {
        circles(setting.boards.len(), place)
    } else {
        let words = format!("× {}", setting.boards.len());
        vec![Text::new(at(place.left, place.top() + BOARD / 2.0 + 2.5), words).size(WORDS).bold().into()]
    };
    let top = place.top();
    let outline = Rect::edges(place.x(Length::ZERO), top, place.x(setting.stock), top + BOARD);
    items.push(Item::rect(outline, Some(Stroke::MEDIUM), Fill::White));
    let [lead, other] = figures(setting.stock, place.lead);
    let source = format!("{}{lead} · {other}", if setting.new { "" } else { "offcut " });
    items.push(Text::new(at(place.left + LEFT, place.y + ABOVE - 2.4), source).size(WORDS).into());
    for (at_cut, cut) in cuts(setting, place).iter().enumerate() {
        items.extend(piece(place, cut, at_cut + 1));
    }
    items.extend(rest(setting, place));
    let (rows, readings) = below(setting, place);
    let first = top + BOARD + 1.5 + if readings { LINE } else { 0.0 };
    items.extend(rows.into_iter().enumerate().map(|(at_row, row)| {
        let y = first + at_row as f64 * LINE + WORDS;
        Text::new(at(place.left + LEFT, y), row).size(WORDS).into()
    }));
    items.extend(list(&entries, place, place.y + foot(setting, place)));
    items
}

/// A piece on its board: its mark and length, or its number where they stand in a row; a line across where it ends; the
/// reading of the tape below.
fn piece(place: Place, cut: &Cut, number: usize) -> Vec<Item> {
    let (left, right, top) = (place.x(cut.from), place.x(cut.to), place.top());
    let mut items = vec![Item::line(at(right, top - 1.2), at(right, top + BOARD + 1.2), Stroke::MEDIUM)];
    let centre = (left + right) / 2.0;
    if cut.on_board {
        items.push(on_line(&first_line(&cut.mark, &cut.length[0]), centre, top, 0).bold().into());
        items.push(on_line(&cut.length[1], centre, top, 1).into());
    } else {
        let number = number.to_string();
        if text::width(&number, WORDS, false) <= right - left - 1.0 {
            items.push(on_line(&number, centre, top, 0).into());
        }
    }
    if cut.below {
        let y = top + BOARD + 1.5 + WORDS;
        items.push(Text::new(at(right - 0.6, y), cut.reading.as_str()).size(WORDS).anchor(Anchor::End).into());
    }
    items
}

/// Words on the board, on its first or second line.
fn on_line(words: &str, x: f64, top: f64, line: usize) -> Text {
    let y = top + 1.2 + WORDS + line as f64 * (WORDS + 1.2);
    Text { backing: Backing::Nothing, ..Text::new(at(x, y), words).size(WORDS).anchor(Anchor::Middle) }
}

/// What is left of the board.
fn rest(setting: &Setting, place: Place) -> Vec<Item> {
    if setting.offcut <= Length::ZERO {
        return Vec::new();
    }
    let from = setting.stock - setting.offcut;
    let (left, right, top) = (place.x(from), place.x(setting.stock), place.top());
    if setting.offcut < place.keep {
        let scrap = place.holds(["scrap", ""], (from, setting.stock));
        let words = scrap.then(|| on_line("scrap", (left + right) / 2.0, top, 0).into());
        let across = Item::line(at(left, top), at(right, top + BOARD), Stroke::LIGHT);
        return words.into_iter().chain([across]).collect();
    }
    if !fits_rest(setting, place) {
        return Vec::new();
    }
    let [lead, other] = figures(setting.offcut, place.lead);
    let centre = (left + right) / 2.0;
    vec![on_line(&format!("keep {lead}"), centre, top, 0).into(), on_line(&other, centre, top, 1).into()]
}

/// The marks of each board, with a circle to strike off.
fn list(entries: &[String], place: Place, top: f64) -> Vec<Item> {
    let columns = abreast(entries, place.width);
    let step = place.width / columns as f64;
    let mut items = Vec::new();
    for (at_entry, entry) in entries.iter().enumerate() {
        let x = place.left + (at_entry % columns) as f64 * step;
        let y = top + MARKS / 2.0 + (at_entry / columns) as f64 * MARKS;
        items.push(circle(x + CIRCLE.0 / 2.0, y));
        items.push(Text::new(at(x + CIRCLE.0 + 1.5, y + WORDS / 2.0 - 0.5), entry.as_str()).size(WORDS).bold().into());
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
    let words = Text::new(at(place.left + apart + 1.0, y + 2.5), format!("× {count}")).size(WORDS).bold();
    vec![one(0), words.into()]
}

/// A length on paper in both units, the project's first; each rounded down so that no piece comes too long.
fn figures(length: Length, lead: System) -> [String; 2] {
    let metric = format!("{} mm", mm_figure(cut_down(length, System::Metric)));
    let imperial = inches(cut_down(length, System::Imperial), Tape::Sixteenth);
    match lead {
        System::Metric => [metric, imperial],
        System::Imperial => [imperial, metric],
    }
}

/// A length on paper in the project's unit, without the unit, rounded down.
pub(super) fn figure(length: Length, lead: System) -> String {
    let [words, _] = figures(length, lead);
    words.trim_end_matches(" in").trim_end_matches(" mm").to_owned()
}
