//! What was found on a face, chalked on the wall with a letter and listed beside it by hold point and grade.

use super::canvas::{Canvas, capital, compass};
use crate::checks::Settled;
use crate::diagnose::Severity;
use crate::emit::drawing::{Item, Paper, Rect, Sheet, Stroke, Text, at, item, marks, text};
use crate::emit::findings::text::hold_point;
use crate::emit::titles;
use crate::model::FaceId;
use crate::session::Wall;

/// One finding with its letter.
pub(super) struct Fault<'c> {
    pub letter: String,
    pub settled: &'c Settled,
}

impl Fault<'_> {
    /// Knowingly taken as it is.
    pub fn is_accepted(&self) -> bool {
        self.settled.accepted.is_some()
    }
}

/// Everything found on a face but notes, by hold point, then grade, then as the rules found it.
pub(super) fn of_face(wall: Wall<'_>, id: FaceId) -> Vec<Fault<'_>> {
    let Some(face) = wall.model.face(id) else { return Vec::new() };
    let belongs = |settled: &&Settled| {
        let finding = &settled.finding;
        let named = finding.subject == face.name || finding.subject.starts_with(&format!("{}.", face.name));
        let here = finding.stretch.as_ref().map_or(named, |stretch| stretch.face == id);
        here && finding.severity != Severity::Note
    };
    let mut found: Vec<&Settled> = wall.findings.iter().filter(belongs).collect();
    found.sort_by_key(|settled| (settled.finding.before, settled.finding.grade));
    found.into_iter().enumerate().map(|(index, settled)| Fault { letter: letter(index), settled }).collect()
}

/// A to Z, then AA, AB, ….
fn letter(index: usize) -> String {
    let last = char::from(b'A' + (index % 26) as u8);
    match index / 26 {
        0 => last.to_string(),
        before => format!("{}{last}", letter(before - 1)),
    }
}

/// What was written, and for how many faults there was room.
pub(super) struct Shown {
    pub items: Vec<Item>,
    pub count: usize,
}

/// The compass, what the wall is, and the list of what was found at a place: `on this wall`.
pub(super) fn list(canvas: &mut Canvas<'_>, faults: &[Fault<'_>], place: &str) -> Shown {
    let column = canvas.column;
    let mut items = head(canvas, column);
    let top = column.y + 24.0;
    items.push(Item::line(at(column.x, column.y), at(column.x, column.bottom()), Stroke::LIGHT));
    items.push(Item::line(at(column.x, top), at(column.right(), top), Stroke::LIGHT));
    let left = column.x + 3.0;
    let head = summary(canvas.wall, faults, place);
    let mut y = top + 7.0;
    for line in text::wrap(&head, column.width - 3.0, item::FIGURE, true) {
        items.push(Text::new(at(left, y), line).size(item::FIGURE).bold().into());
        y += item::FIGURE * 1.5;
    }
    let room = Rect::edges(left, y + 1.0, column.right(), column.bottom());
    let entries = entries(canvas.wall, faults, room.width);
    let (written, count) = fill(entries, room, 1);
    items.extend(written);
    if count < faults.len() {
        let words = format!("and {} more: sheet {}-faults", faults.len() - count, canvas.face.name);
        items.push(Text::new(at(left, column.bottom() - 1.0), words).size(item::FIGURE).bold().into());
    }
    Shown { items, count }
}

/// Which way the wall looks, with north as on a plan seen with the wall ahead.
fn head(canvas: &mut Canvas<'_>, column: Rect) -> Vec<Item> {
    let mut items = Vec::new();
    let left = column.x + 3.0;
    let mut words = vec!["seen from outside".to_owned()];
    if let Some(looks) = canvas.face.looks {
        let mut own = crate::emit::drawing::Labels::new(column);
        items.push(marks::north(at(column.right() - 11.0, column.y + 11.0), -(looks + 180.0), &mut own));
        words.push(format!("looks {}, {looks:.0}°", compass(looks)));
    }
    if let Some(plane) = canvas.face.measured_to {
        words.push(format!("measured to the {plane}"));
    }
    for (row, line) in words.into_iter().enumerate() {
        items.push(Text::new(at(left, column.y + 5.0 + 6.0 * row as f64), line).size(item::FIGURE).into());
    }
    items
}

/// How many faults, accepted ones and open questions.
fn summary(wall: Wall<'_>, faults: &[Fault<'_>], place: &str) -> String {
    let count = |what: &dyn Fn(&Fault<'_>) -> bool| faults.iter().filter(|fault| what(fault)).count();
    let unknown = count(&|fault| !fault.is_accepted() && fault.settled.finding.severity == Severity::Unknown);
    let accepted = count(&|fault| fault.is_accepted());
    let open = faults.len() - unknown - accepted;
    let number = |count: usize, one: &str, many: &str| format!("{count} {}", if count == 1 { one } else { many });
    let mut parts = match open {
        0 => vec![format!("No fault found {place} in what was declared")],
        _ => vec![format!("{} {place}", number(open, "fault", "faults"))],
    };
    if wall.account.rules_run == 0 {
        parts = vec!["Not checked: no rule was run".to_owned()];
    }
    if unknown > 0 {
        parts.push(number(unknown, "check can't tell", "checks can't tell"));
    }
    if accepted > 0 {
        parts.push(format!("{accepted} accepted"));
    }
    parts.join(", ")
}

/// One fault as it stands in the list: its letter, and its lines with the first ones bold.
struct Entry {
    letter: String,
    lines: Vec<(String, bool)>,
}

const STEP: f64 = item::SMALL * 1.48;
/// Room for the letter before the words, mm.
const HANG: f64 = 9.0;
/// Between two entries, mm.
const BETWEEN: f64 = 2.6;

impl Entry {
    fn height(&self) -> f64 {
        (self.lines.len() as f64 * STEP).max(item::LARGE) + BETWEEN
    }
}

fn entries(wall: Wall<'_>, faults: &[Fault<'_>], width: f64) -> Vec<Entry> {
    faults.iter().map(|fault| entry(wall, fault, width - HANG)).collect()
}

fn entry(wall: Wall<'_>, fault: &Fault<'_>, width: f64) -> Entry {
    let finding = &fault.settled.finding;
    let mut lines = Vec::new();
    let mut say = |words: &str, bold: bool| {
        lines.extend(text::wrap(words, width, item::SMALL, bold).into_iter().map(|line| (line, bold)));
    };
    say(&finding.message.replace('`', ""), true);
    let found = finding.measured.iter().map(|measure| format!("is {}", measure.shown));
    let wanted = finding.limit.iter().map(|measure| format!("wants {}", measure.shown));
    let numbers: Vec<String> = found.chain(wanted).collect();
    if !numbers.is_empty() {
        say(&numbers.join(", "), false);
    }
    if let Some(missing) = finding.missing.as_ref().filter(|_| finding.severity == Severity::Unknown) {
        say(&format!("can't tell: {}", missing.replace('`', "")), false);
    }
    if let Some(fix) = finding.help.first() {
        say(&format!("do: {}", fix.replace('`', "")), false);
    }
    let before = hold_point(finding.before);
    let place = if finding.place.is_empty() { &finding.subject } else { &finding.place };
    say(&format!("{} {}{before} · {place}", finding.grade.word(), finding.grade.phrase()), false);
    if let Some(accept) = fault.settled.accepted.and_then(|index| wall.model.accepts.get(index)) {
        say(&format!("accepted by {}: {}", accept.by, accept.why), false);
    }
    let letter = if fault.is_accepted() { format!("({})", fault.letter) } else { fault.letter.clone() };
    Entry { letter, lines }
}

/// Writes entries from the top of each column of a room until it is full; with how many there were.
fn fill(entries: Vec<Entry>, room: Rect, columns: usize) -> (Vec<Item>, usize) {
    let width = room.width / columns.max(1) as f64;
    let (mut column, mut y, mut count) = (0, room.y, 0);
    let mut items = Vec::new();
    let total = entries.len();
    for entry in entries {
        let keep = if columns == 1 && count + 1 < total { 7.0 } else { 0.0 };
        if y + entry.height() > room.bottom() - keep {
            column += 1;
            y = room.y;
        }
        if column >= columns {
            break;
        }
        let left = room.x + width * column as f64;
        let size = if entry.letter.len() > 2 { item::FIGURE } else { item::LARGE };
        items.push(Text::new(at(left, y + size), entry.letter.as_str()).size(size).bold().into());
        for (row, (line, bold)) in entry.lines.iter().enumerate() {
            let text = Text::new(at(left + HANG, y + item::SMALL + STEP * row as f64), line.as_str());
            items.push(if *bold { text.bold() } else { text }.into());
        }
        y += entry.height();
        count += 1;
    }
    (items, count)
}

/// Sheets with the faults that had no room beside the wall.
pub(super) fn rest(wall: Wall<'_>, id: FaceId, shown: usize) -> Vec<Sheet> {
    let faults = of_face(wall, id);
    let Some(face) = wall.model.face(id) else { return Vec::new() };
    let mut done = shown;
    let mut sheets = Vec::new();
    while done < faults.len() {
        let part = if sheets.is_empty() { String::new() } else { format!("-{}", sheets.len() + 1) };
        let title =
            titles::block(wall.account, &capital(&format!("{} wall, faults continued", face.name.replace('_', " "))));
        let mut sheet = Sheet::new(&format!("{}-faults{part}", face.name), Paper::A4, title);
        let area = sheet.area();
        let room = Rect::edges(area.x, area.y + 4.0, area.right(), area.bottom());
        let left = faults.get(done..).unwrap_or_default();
        let (items, count) = fill(entries(wall, left, room.width / 3.0 - 4.0), room, 3);
        if count == 0 {
            break;
        }
        sheet.layer("list", items);
        sheets.push(sheet);
        done += count;
    }
    sheets
}

#[cfg(test)]
mod tests {
    use super::letter;

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!([0, 25, 26, 51, 52, 701, 702].map(letter), ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
    }
}
