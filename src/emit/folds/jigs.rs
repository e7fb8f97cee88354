//! Jig cards: the jig drawn with the board on it, the angle three ways, the trial, and what is cut on it.

use std::collections::BTreeMap;

use super::column::{Column, LARGE, WORDS, both};
use super::written;
use crate::emit::cutting::face_name;
use crate::emit::drawing::{Anchor, Dash, Fill, Ink, Item, Paper, Point, Rect, Sheet, Stroke, Text, at, text};
use crate::emit::table::{Cell, Kind, Table, column};
use crate::emit::{Emitter, Output, titles};
use crate::layout::angles;
use crate::layout::jigs::{self, Jig, Use, What};
use crate::model::Model;
use crate::session::Checked;
use crate::units::display::{Tape, inches};
use crate::units::{Length, System};

/// Writes `jigs/`.
pub struct Jigs;

impl Emitter for Jigs {
    fn id(&self) -> &'static str {
        "jigs"
    }

    fn title(&self) -> &'static str {
        "Jigs: every angle, how it is set and what it cuts"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        let jigs = jigs::find(&checked.model, &checked.plan, &checked.made);
        if jigs.is_empty() {
            return Vec::new();
        }
        let sheets = sheets(checked, &jigs);
        let tables = [angles_table(&checked.model, &jigs), uses_table(&jigs)];
        written(checked, "jigs", "jig cards", &sheets, &tables)
    }
}

/// Cards of all jigs.
pub(super) fn sheets(checked: &Checked, jigs: &[Jig]) -> Vec<Sheet> {
    jigs.iter().flat_map(|jig| cards(checked, jig)).collect()
}

/// What the jig is for.
fn what(model: &Model, jig: &Jig) -> String {
    let product = jig.product.and_then(|id| model.product(id)).map(|product| product.name.replace('_', " "));
    match jig.what {
        What::Level => format!("{} laid level", product.unwrap_or_else(|| "boards".to_owned())),
        What::Upright => format!("{} standing", product.unwrap_or_else(|| "boards".to_owned())),
        What::Edge => "trims along the slope, cut plumb".to_owned(),
        What::Mitre => "trims, mitred across the face".to_owned(),
        What::Bevel => "trims round a corner of the building, bevelled: saw tilted, board flat".to_owned(),
    }
}

fn walls(model: &Model, jig: &Jig) -> String {
    let names: Vec<String> = jig.faces.iter().map(|face| face_name(model, *face).replace('_', " ")).collect();
    names.join(", ")
}

/// One row an angle.
fn angles_table(model: &Model, jigs: &[Jig]) -> Table {
    let columns = vec![
        column("done", "made", Kind::Tick),
        column("jig", "jig", Kind::Mark),
        column("what", "what is cut", Kind::Text),
        column("walls", "walls", Kind::Text),
        column("from_square", "saw° from square", Kind::Number(2)),
        column("complement", "rest to 90°", Kind::Number(2)),
        column("past_saw", "past the saw", Kind::Text),
        column("rise_in_12", "rise in 12", Kind::Number(3)),
        column("mm_per_m", "mm per m", Kind::Number(1)),
        column("on_12_in", "on 12 in", Kind::Text),
        column("degrees_off_12", "1/32 in is °", Kind::Number(3)),
        column("on_24_in", "on 24 in", Kind::Text),
        column("degrees_off_24", "1/32 in is °", Kind::Number(3)),
        column("on_48_in", "on 48 in", Kind::Text),
        column("degrees_off_48", "1/32 in is °", Kind::Number(3)),
        column("difference", "each course shorter by", Kind::Length),
        column("width", "trial on a piece", Kind::Length),
        column("test", "long less short side", Kind::Length),
        column("left", "leaning left", Kind::Count),
        column("right", "leaning right", Kind::Count),
        column("flip", "pairs", Kind::Text),
    ];
    let mut table = Table::new("angles", "Angles and jigs", columns);
    for jig in jigs {
        let (left, right) = jig.hands();
        let mut row: Vec<Cell> = vec![
            Cell::Nothing,
            jig.mark.clone().into(),
            what(model, jig).into(),
            walls(model, jig).into(),
            jig.from_square.into(),
            jig.complement().into(),
            if jig.past_the_saw() { "yes" } else { "" }.into(),
            angles::rise_in_12(jig.slope).into(),
            angles::per_metre(jig.slope).into(),
        ];
        for set in &jig.settings {
            row.push(inches(set.read, Tape::ThirtySecond).into());
            row.push(set.error.into());
        }
        let trial = has_trial(jig);
        row.extend([
            jig.difference.into(),
            trial.then_some(jig.width).into(),
            trial.then(|| jig.test()).into(),
            (left as u64).into(),
            (right as u64).into(),
            jig.flip_rule().into(),
        ]);
        table.row(row);
    }
    table
}

/// One row an end of a piece.
fn uses_table(jigs: &[Jig]) -> Table {
    let columns = vec![
        column("done", "cut", Kind::Tick),
        column("mark", "mark", Kind::Mark),
        column("jig", "jig", Kind::Mark),
        column("end", "end", Kind::Text),
        column("leans", "leans", Kind::Text),
    ];
    let mut table = Table::new("jig_uses", "Which piece goes on which jig", columns);
    for jig in jigs {
        for used in &jig.uses {
            table.row([
                Cell::Nothing,
                used.mark.clone().into(),
                jig.mark.clone().into(),
                end(jig, used).into(),
                if used.leans_right { "/" } else { "\\" }.into(),
            ]);
        }
    }
    table
}

fn end(jig: &Jig, used: &Use) -> &'static str {
    match (jig.what, used.at_right) {
        (What::Upright, false) => "lower end",
        (What::Upright, true) => "upper end",
        (_, false) => "left end",
        (_, true) => "right end",
    }
}

/// Pictures for each way the cut lies: which end, which lean. Mirror images are drawn each by itself.
fn cards(checked: &Checked, jig: &Jig) -> Vec<Sheet> {
    let mut ways: BTreeMap<(bool, bool), Vec<&Use>> = BTreeMap::new();
    jig.uses.iter().for_each(|used| ways.entry((used.at_right, used.leans_right)).or_default().push(used));
    let ways: Vec<Vec<&Use>> = ways.into_values().collect();
    let count = ways.len().div_ceil(2);
    let sheets = ways.chunks(2).enumerate().map(|(page, ways)| card(checked, jig, ways, (page + 1, count)));
    sheets.collect()
}

/// Width of the pictures.
const PICTURE: f64 = 150.0;

fn card(checked: &Checked, jig: &Jig, ways: &[Vec<&Use>], (page, pages): (usize, usize)) -> Sheet {
    let model = &checked.model;
    let of = if pages > 1 { format!(" ({page} of {pages})") } else { String::new() };
    let title = format!("Jig {}{of}", jig.mark);
    let id = format!("jig-{}-{page}", jig.mark.to_lowercase());
    let mut sheet = Sheet::new(&id, Paper::A4, titles::block(checked, &title));
    sheet.description =
        format!("Jig {} for {}, {:.1} degrees from square", jig.mark, what(model, jig), jig.from_square);
    let area = sheet.area();
    let half = area.height / 2.0;
    for (at_way, uses) in ways.iter().enumerate() {
        let Some(first) = uses.first() else { continue };
        let top = area.y + half * at_way as f64;
        let mut items = Vec::new();
        let heading =
            format!("{}, leaning {}", end(jig, first), if first.leans_right { "right  /" } else { "left  \\" });
        items.push(Text::new(at(area.x, top + LARGE), heading).size(LARGE).bold().into());
        let marks: Vec<&str> = uses.iter().map(|used| used.mark.as_str()).collect();
        let lines = text::wrap(&marks.join(", "), PICTURE - 2.0, WORDS, true);
        let words = (lines.len().min(MOST) as f64) * (WORDS + 1.6);
        let room = Rect::edges(area.x, top + LARGE + 3.0, area.x + PICTURE, top + half - words - 4.0);
        let (drawn, bottom) = picture(jig, first, room);
        items.extend(drawn);
        for (line, words) in lines.iter().take(MOST).enumerate() {
            let y = bottom + 2.0 + (line + 1) as f64 * (WORDS + 1.6) - 1.6;
            let more = line + 1 == MOST && lines.len() > MOST;
            let words = if more { format!("{words} … see the list") } else { words.clone() };
            items.push(Text::new(at(area.x, y), words).size(WORDS).bold().into());
        }
        sheet.layer("picture", items);
    }
    let figures = figures(checked, jig, area);
    sheet.layer("figures", figures);
    sheet
}

/// Lines of marks under a picture.
const MOST: usize = 6;

fn figures(checked: &Checked, jig: &Jig, area: Rect) -> Vec<Item> {
    let lead = checked.model.project.units;
    let x = area.x + PICTURE + 8.0;
    let mut words = Column::new(x, area.y, area.right() - x);
    words.say(&jig.mark, 9.0, true);
    words.say(&format!("{}; {}", what(&checked.model, jig), walls(&checked.model, jig)), WORDS, false);
    words.skip(2.0);
    words.figure(&format!("{:.1}° from square", jig.from_square), &saw_words(jig));
    words.figure(&format!("{:.2} in 12", angles::rise_in_12(jig.slope)), &square_words(jig));
    words.say(&format!("{:.1} mm per metre", angles::per_metre(jig.slope)), LARGE, true);
    words.skip(1.5);
    if has_trial(jig) {
        trial(&mut words, jig, lead);
    } else if jig.what == What::Edge {
        let mitre = angles::mitre_to_level(jig.slope);
        words.say(&format!("where it runs on into a level trim: {mitre:.1}° at each"), WORDS, false);
    }
    words.say(&jig.flip_rule(), WORDS, false);
    words.skip(2.0);
    words.tick("jig made, with face, up, wall on it");
    words.tick("trial held to the wall, not to the sum");
    words.line("date, who");
    words.items
}

fn saw_words(jig: &Jig) -> String {
    match (jig.taper(), jig.past_the_saw()) {
        (true, _) => "a taper along the board: rip it to a chalk line, no saw setting".to_owned(),
        (_, true) => format!(
            "past the saw ({:.0}°): cut the jig's plate to this angle and run a square saw along it; or set {:.1}° and \
             stand the board on end",
            jig.saw,
            jig.complement()
        ),
        _ => format!("the saw reaches it (stops at {:.0}°)", jig.saw),
    }
}

fn square_words(jig: &Jig) -> String {
    let each = jig.settings.iter().map(|set| {
        let base = inches(set.base, Tape::Sixteenth).replace(" in", "");
        format!("{} on {base} (1/32 in is {:.2}°)", inches(set.read, Tape::ThirtySecond), set.error)
    });
    format!("on the square: {}", each.collect::<Vec<_>>().join("; "))
}

/// A trial needs a width to measure on.
fn has_trial(jig: &Jig) -> bool {
    jig.what != What::Edge && jig.width > Length::ZERO
}

fn trial(words: &mut Column, jig: &Jig, lead: System) {
    if !jig.taper() {
        words.figure(
            &both(jig.test(), lead),
            &format!(
                "trial: long less short side, {} wide; half a degree off opens {}",
                both(jig.width, lead),
                both(angles::opens(jig.cut(), 0.5), lead)
            ),
        );
    }
    if let Some(difference) = jig.difference.filter(|_| !jig.taper()) {
        words.figure(&both(difference, lead), "each course shorter than the one below, at this end");
    }
}

/// The board on the jig, seen from outside as it lies on the wall, and how far down that reaches.
fn picture(jig: &Jig, used: &Use, room: Rect) -> (Vec<Item>, f64) {
    let upright = jig.what == What::Upright;
    let tilt = libm::tan(jig.from_square.to_radians());
    // As high as there is room for, with the cut no longer than half the picture.
    let height = (room.height - 18.0).min(34.0).min(56.0 / tilt.max(0.01)).max(2.0);
    let run = height * tilt;
    let (top, bottom) = (room.y + 4.0, room.y + 4.0 + height);
    let middle = if used.at_right { room.right() - 30.0 - run / 2.0 } else { room.x + 30.0 + run / 2.0 };
    let lean = if used.leans_right { run / 2.0 } else { -run / 2.0 };
    let (low, high) = (at(middle - lean, bottom), at(middle + lean, top));
    // A board that stands lies on the bench with its upper end to the right, so a cut that leans right on the wall does there too.
    let far = if used.at_right { room.x + 6.0 } else { room.right() - 6.0 };
    let board = vec![low, high, at(far, top), at(far, bottom)];
    let mut items = vec![Item::polygon(board, Some(Stroke::HEAVY), Fill::White)];
    if jig.taper() {
        items.push(Item::line(low, high, Stroke::HEAVY.ink(Ink::White)));
        items.push(Item::line(low, high, Stroke::HEAVY.dash(Dash::Dashed)));
        items.push(Text::new(at(low.x.min(high.x), bottom + 4.2), "dashed: chalk line").into());
    } else {
        items.extend(jig_itself(&room, low, high, used.at_right));
    }
    items.extend(angle_mark(jig, low, high, used.at_right, used.leans_right));
    // Up and the face are drawn in the clear part of the board.
    let clear = (far + if used.at_right { low.x.min(high.x) } else { low.x.max(high.x) }) / 2.0;
    let from = at(clear - 16.0, (top + bottom) / 2.0);
    let words = if upright { "UP →  FACE" } else { "↑ UP  FACE" };
    let size = if height > 9.0 { LARGE } else { WORDS };
    if height > 6.0 {
        items.push(Text::new(at(from.x, from.y + size / 2.0), words).size(size).bold().into());
    } else {
        items.push(Text::new(at(from.x, top - 1.0), words).size(WORDS).bold().into());
    }
    (items, bottom + if jig.taper() { 6.0 } else { 13.0 })
}

/// Fence under the board, plate, and the guide along the cut.
fn jig_itself(room: &Rect, low: Point, high: Point, at_right: bool) -> Vec<Item> {
    let fence = Rect::edges(room.x + 2.0, low.y, room.right() - 2.0, low.y + 5.0);
    let aside = if at_right { 9.0 } else { -9.0 };
    let past = 0.12;
    let (start, stop) = (high.towards(low, 1.0 + past), low.towards(high, 1.0 + past));
    let guide = vec![
        start.shift(aside, 0.0),
        stop.shift(aside, 0.0),
        stop.shift(aside * 0.45, 0.0),
        start.shift(aside * 0.45, 0.0),
    ];
    let lowest = start.y.max(fence.bottom());
    // Away from the guide, whose name stands below it.
    let (beside, way) = if at_right { (fence.x, Anchor::Start) } else { (fence.right(), Anchor::End) };
    let words = Text::new(at(beside, fence.bottom() + 4.2), "fence: held to the lower edge").anchor(way);
    let label = Text::new(at(start.x + aside, lowest + 4.2), "guide").anchor(if at_right {
        Anchor::End
    } else {
        Anchor::Start
    });
    vec![
        Item::rect(fence, Some(Stroke::MEDIUM), Fill::White),
        Item::polygon(guide, Some(Stroke::MEDIUM), Fill::White),
        Item::line(start, stop, Stroke::HEAVY.dash(Dash::Dashed)),
        words.into(),
        label.into(),
    ]
}

/// A line square to the board, the arc to the cut, and the saw's reading beside it.
fn angle_mark(jig: &Jig, low: Point, high: Point, at_right: bool, leans_right: bool) -> Vec<Item> {
    let radius = ((low.y - high.y) * 0.8).clamp(3.0, 18.0);
    let sweep = if leans_right { jig.from_square } else { -jig.from_square };
    // Outside the guide, where nothing else is drawn.
    let (x, anchor) =
        if at_right { (low.x.max(high.x) + 11.0, Anchor::Start) } else { (low.x.min(high.x) - 11.0, Anchor::End) };
    vec![
        Item::line(low, at(low.x, low.y - radius - 3.0), Stroke::LIGHT.dash(Dash::Dashed)),
        Item::Arc { centre: low, radius, from: -90.0, sweep, stroke: Stroke::MEDIUM },
        Text::new(at(x, high.y + LARGE), format!("{:.1}°", jig.from_square)).size(LARGE).bold().anchor(anchor).into(),
    ]
}
