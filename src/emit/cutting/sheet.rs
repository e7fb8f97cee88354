//! Sheets and coils drawn as they lie on the bench: pencil lines with the numbers of the cuts in saw order, the mark on each
//! piece, a circle to strike off for each cut. A long coil is drawn in bands, one below the other.

use super::board::{Heading, blank, head};
use super::drawn::{circle, figure};
use super::stock::both;
use crate::emit::drawing::{Anchor, Fill, Item, Labels, Rect, Scale, Sheet, Stroke, Text, at, text};
use crate::layout::nesting::{Cut, NestPlan, Order, Piece};
use crate::session::Checked;
use crate::units::{Length, System};

/// Scales a rule reads, largest drawing first.
const SCALES: [Scale; 8] = [Scale(1), Scale(2), Scale(5), Scale(10), Scale(20), Scale(25), Scale(50), Scale(100)];
/// Share of the room that a drawing takes at most; the rest is for the list of cuts.
const SHARE: f64 = 0.74;
/// A coil so many times longer than wide is drawn in bands; a band is this high at most, mm.
const COIL: (i64, f64) = (4, 62.0);
/// Height of figures, and what they shrink to in narrow pieces.
const FIGURES: [f64; 3] = [5.0, 4.0, 3.2];
/// From one line of the list to the next, and the width of a column of it.
const LIST: (f64, f64) = (8.0, 88.0);
/// Radius of the ring round the number of a cut.
const RING: f64 = 4.0;
/// Between a drawing and what follows.
const SPACE: f64 = 4.5;

/// Sheets that are cut at the same places.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::emit) struct Layout {
    /// Along and across.
    pub size: (Length, Length),
    /// Where the parts lie.
    pub pieces: Vec<Piece>,
    /// The cuts in saw order.
    pub cuts: Vec<Cut>,
    /// What is left, largest first.
    pub offcuts: Vec<Piece>,
    /// For each sheet the marks of its parts, in the order of `pieces`.
    pub boards: Vec<Vec<String>>,
}

/// The layouts of a plan, fullest first; sheets cut at the same places are one. `mark` names a part by its place in the order.
pub(in crate::emit) fn layouts(order: &Order, plan: &NestPlan, mark: impl Fn(usize) -> String) -> Vec<Layout> {
    let mut found: Vec<Layout> = Vec::new();
    for sheet in &plan.sheets {
        let Some(size) = order.sheets.get(sheet.sheet).map(|sheet| (sheet.length, sheet.width)) else { continue };
        let pieces: Vec<Piece> = sheet.placed.iter().map(|placed| placed.piece).collect();
        let marks: Vec<String> = sheet.placed.iter().map(|placed| mark(placed.part)).collect();
        let boards = vec![marks; sheet.count as usize];
        match found.iter_mut().find(|one| one.size == size && one.pieces == pieces && one.cuts == sheet.cuts) {
            Some(known) => known.boards.extend(boards),
            None => {
                found.push(Layout { size, pieces, cuts: sheet.cuts.clone(), offcuts: sheet.offcuts.clone(), boards })
            }
        }
    }
    found
}

/// All layouts on paper, each on a sheet of its own, with more sheets where its bands or cuts need them.
pub(in crate::emit) fn sheets(checked: &Checked, heading: &Heading<'_>, layouts: &[Layout]) -> Vec<Sheet> {
    let mut pages = Pages { checked, heading, sheets: Vec::new(), y: 0.0 };
    for layout in layouts {
        draw(&mut pages, layout);
    }
    let mut sheets = pages.sheets;
    let count = sheets.len();
    for (at_sheet, sheet) in sheets.iter_mut().enumerate().filter(|_| count > 1) {
        sheet.title.title = format!("{} ({} of {count})", heading.title, at_sheet + 1);
    }
    sheets
}

/// Sheets of paper that are filled from the top.
struct Pages<'p> {
    checked: &'p Checked,
    heading: &'p Heading<'p>,
    sheets: Vec<Sheet>,
    y: f64,
}

impl Pages<'_> {
    fn lead(&self) -> System {
        self.checked.model.project.units
    }

    fn turn_over(&mut self) {
        let mut sheet = blank(self.checked, self.heading, self.sheets.len() + 1);
        sheet.description = format!("{}: sheets with their cuts in saw order", self.heading.title);
        self.y = sheet.area().y;
        if self.sheets.is_empty() {
            self.y = head(&mut sheet, self.heading.words, self.y);
        }
        self.sheets.push(sheet);
    }

    fn room(&self) -> Rect {
        self.sheets.last().map(Sheet::area).unwrap_or_default()
    }

    fn make_room(&mut self, height: f64) {
        if self.sheets.is_empty() || self.y + height > self.room().bottom() {
            self.turn_over();
        }
    }

    fn put(&mut self, class: &str, items: Vec<Item>) {
        if let Some(sheet) = self.sheets.last_mut() {
            sheet.layer(class, items);
        }
    }
}

fn draw(pages: &mut Pages<'_>, layout: &Layout) {
    pages.turn_over();
    let lead = pages.lead();
    let (room, coil) = (pages.room(), layout.size.0.0 > layout.size.1.0.saturating_mul(COIL.0));
    let across = if coil { COIL.1 } else { (room.bottom() - pages.y) * SHARE };
    let along = if coil { Length::ZERO } else { layout.size.0 };
    let scale = Scale::largest(&SCALES, (along, layout.size.1), (room.width, across)).unwrap_or(Scale(200));
    if let Some(sheet) = pages.sheets.last_mut() {
        sheet.scale = Some(scale);
    }
    let words = heading_of(layout, scale, lead);
    pages.put("words", vec![Text::new(at(room.x, pages.y + 5.0), words).size(5.0).bold().into()]);
    pages.y += 9.5;
    let used = layout.pieces.iter().map(|piece| piece.x + piece.length).max().unwrap_or_default();
    let end = if coil { used } else { layout.size.0 };
    let band = if coil { scale.model(room.width - 12.0) } else { layout.size.0 };
    let names = names(layout);
    let mut from = Length::ZERO;
    while from < end {
        let height = scale.paper(layout.size.1) + SPACE;
        pages.make_room(height);
        if let Some(sheet) = pages.sheets.last_mut() {
            sheet.scale = Some(scale);
        }
        let view = Band {
            left: room.x + 0.5,
            foot: pages.y + height - SPACE,
            scale,
            from,
            to: (from + band).min(layout.size.0),
            lead,
            keep: pages.heading.keep,
        };
        pages.put("sheet", view.draw(layout, &names, room));
        pages.y += height + 2.0;
        from += band.max(Length::MM);
    }
    list(pages, layout, &names);
}

/// Its size, how many, at which scale.
fn heading_of(layout: &Layout, scale: Scale, lead: System) -> String {
    let count = match layout.boards.len() {
        1 => String::new(),
        count => format!("{count} × "),
    };
    format!("{count}{} × {}, drawn {scale}", shown(layout.size.0, lead), shown(layout.size.1, lead))
}

fn shown(length: Length, lead: System) -> String {
    match lead {
        System::Metric => both(length),
        System::Imperial => crate::units::display::both(length, lead),
    }
}

/// What is written on each part: its mark, or a letter where several sheets carry different marks.
fn names(layout: &Layout) -> Vec<String> {
    match layout.boards.as_slice() {
        [only] => only.clone(),
        [first, ..] if layout.boards.iter().all(|board| board == first) => first.clone(),
        _ => (0..layout.pieces.len()).map(letter).collect(),
    }
}

/// `a` … `z`, `aa` …
fn letter(at_piece: usize) -> String {
    let one = |number: usize| char::from(b'a' + (number % 26) as u8).to_string();
    if at_piece < 26 { one(at_piece) } else { format!("{}{}", one(at_piece / 26 - 1), one(at_piece)) }
}

/// A stretch of a sheet on paper.
struct Band {
    left: f64,
    foot: f64,
    scale: Scale,
    from: Length,
    to: Length,
    lead: System,
    keep: Length,
}

impl Band {
    fn x(&self, x: Length) -> f64 {
        self.left + self.scale.paper(x.max(self.from).min(self.to) - self.from)
    }

    fn y(&self, y: Length) -> f64 {
        self.foot - self.scale.paper(y)
    }

    /// The part of a piece that lies in the band.
    fn rect(&self, piece: Piece) -> Option<Rect> {
        let inside = piece.x < self.to && piece.x + piece.length > self.from;
        let rect = || {
            let (right, top) = (piece.x + piece.length, piece.y + piece.width);
            Rect::edges(self.x(piece.x), self.y(top), self.x(right), self.y(piece.y))
        };
        inside.then(rect)
    }

    fn draw(&self, layout: &Layout, names: &[String], room: Rect) -> Vec<Item> {
        let whole = Piece { x: Length::ZERO, y: Length::ZERO, length: layout.size.0, width: layout.size.1 };
        let Some(outline) = self.rect(whole) else { return Vec::new() };
        let mut items = self.outline(outline, layout.size.0);
        let mut labels = Labels::new(room);
        for piece in &layout.offcuts {
            items.extend(self.rect(*piece).into_iter().flat_map(|rect| self.offcut(*piece, rect)));
        }
        for (piece, name) in layout.pieces.iter().zip(names) {
            let Some(rect) = self.rect(*piece) else { continue };
            items.push(Item::rect(rect, Some(Stroke::MEDIUM), Fill::White));
            let size = format!("{} × {}", figure(piece.length, self.lead), figure(piece.width, self.lead));
            for text in label(rect, name, &size) {
                labels.keep_clear(text.bounds());
                items.push(text.into());
            }
        }
        let lines: Vec<Item> = layout
            .cuts
            .iter()
            .filter_map(|cut| self.line(*cut))
            .map(|[from, to]| Item::line(from, to, Stroke::MEDIUM))
            .collect();
        items.extend(lines);
        for (number, cut) in layout.cuts.iter().enumerate() {
            let first = cut.piece.x >= self.from || cut.along;
            items.extend(self.line(*cut).filter(|_| first).map(|line| ring(number + 1, line, &mut labels)));
        }
        items
    }

    /// The edge; a broken end where the coil goes on.
    fn outline(&self, rect: Rect, length: Length) -> Vec<Item> {
        let (left, right, top, bottom) = (rect.x, rect.right(), rect.y, rect.bottom());
        let mut items = vec![
            Item::rect(rect, None, Fill::White),
            Item::line(at(left, top), at(right, top), Stroke::HEAVY),
            Item::line(at(left, bottom), at(right, bottom), Stroke::HEAVY),
        ];
        let end = |x: f64, whole: bool| {
            let middle = (top + bottom) / 2.0;
            if whole {
                Item::line(at(x, top), at(x, bottom), Stroke::HEAVY)
            } else {
                let zigzag = [
                    (0.0, top),
                    (0.0, middle - 3.0),
                    (-1.5, middle - 1.0),
                    (1.5, middle + 1.0),
                    (0.0, middle + 3.0),
                    (0.0, bottom),
                ];
                Item::polyline(zigzag.iter().map(|(off, y)| at(x + off, *y)).collect(), Stroke::LIGHT)
            }
        };
        items.push(end(left, self.from == Length::ZERO));
        items.push(end(right, self.to >= length));
        items
    }

    /// Ends of a cut on paper; none where it lies in another band.
    fn line(&self, cut: Cut) -> Option<[crate::emit::drawing::Point; 2]> {
        let piece = cut.piece;
        if cut.along {
            let rect = self.rect(piece)?;
            let y = self.y(piece.y + cut.keep);
            Some([at(rect.x, y), at(rect.right(), y)])
        } else {
            let x = piece.x + cut.keep;
            let inside = x > self.from && x <= self.to;
            inside.then(|| [at(self.x(x), self.y(piece.y)), at(self.x(x), self.y(piece.y + piece.width))])
        }
    }

    /// What is left: kept with its size, or struck through.
    fn offcut(&self, piece: Piece, rect: Rect) -> Vec<Item> {
        let kept = piece.length.min(piece.width) >= self.keep;
        if !kept {
            return vec![Item::line(at(rect.x, rect.bottom()), at(rect.right(), rect.y), Stroke::LIGHT)];
        }
        let size = format!("{} × {}", figure(piece.length, self.lead), figure(piece.width, self.lead));
        label(rect, "keep", &size).into_iter().map(Item::from).collect()
    }
}

/// A mark and a size within a box, at the largest height that fits; turned where the box is narrow. A mark is never left out.
fn label(rect: Rect, mark: &str, size: &str) -> Vec<Text> {
    let middle = rect.centre();
    let lines = |words: &[&str], high: f64, turned: bool| -> Vec<Text> {
        let step = high * 1.45;
        let start = -(words.len() as f64 - 1.0) / 2.0 * step;
        let line = |(at_line, words): (usize, &&str)| {
            let off = start + at_line as f64 * step + high / 2.0;
            let place = if turned { middle.shift(off, 0.0) } else { middle.shift(0.0, off) };
            let text = Text::new(place, *words).size(high).anchor(Anchor::Middle);
            let text = if turned { text.turned(-90.0) } else { text };
            if at_line == 0 { text.bold() } else { text }
        };
        words.iter().enumerate().map(line).collect()
    };
    let one = format!("{mark}  {size}");
    let ways: [&[&str]; 3] = [&[mark, size], &[&one], &[mark]];
    for words in ways {
        for high in FIGURES {
            for turned in [false, true] {
                let wide = words.iter().map(|words| text::width(words, high, true)).fold(0.0, f64::max) + 2.0;
                let tall = words.len() as f64 * high * 1.45 + 0.6;
                let (across, up) = if turned { (tall, wide) } else { (wide, tall) };
                if across <= rect.width && up <= rect.height {
                    return lines(words, high, turned);
                }
            }
        }
    }
    lines(&[mark], FIGURES[2], rect.height > rect.width)
}

/// The number of a cut on its line, where nothing stands yet.
fn ring(number: usize, [from, to]: [crate::emit::drawing::Point; 2], labels: &mut Labels) -> Item {
    let shares = [0.5, 0.25, 0.75, 0.12, 0.88, 0.38, 0.62, 0.06, 0.94];
    let spot = |share: f64| from.towards(to, share);
    let room = |share: f64| {
        let centre = spot(share);
        Rect::edges(centre.x - RING, centre.y - RING, centre.x + RING, centre.y + RING)
    };
    let share = shares.into_iter().find(|share| labels.is_free(&room(*share))).unwrap_or(0.5);
    labels.keep_clear(room(share));
    let words = number.to_string();
    let high = if words.len() < 3 { 5.0 - words.len() as f64 * 0.6 } else { 3.0 };
    let centre = spot(share);
    let text = Text::new(centre.shift(0.0, high / 2.0), words).size(high).bold().anchor(Anchor::Middle);
    let disc = Item::Circle { centre, radius: RING, stroke: Some(Stroke::MEDIUM), fill: Fill::White };
    Item::group("cut", vec![disc, text.into()])
}

/// Cuts in saw order and the marks of each sheet, with circles to strike off.
fn list(pages: &mut Pages<'_>, layout: &Layout, names: &[String]) {
    let lead = pages.lead();
    let mut lines: Vec<String> = Vec::new();
    for (number, cut) in layout.cuts.iter().enumerate() {
        let way = if cut.along { "rip to" } else { "cut to" };
        lines.push(format!("{}  {way} {}", number + 1, shown(cut.keep, lead)));
    }
    for (piece, name) in layout.pieces.iter().zip(names) {
        lines.push(format!("{name}  {} × {}", shown(piece.length, lead), shown(piece.width, lead)));
    }
    if layout.boards.len() > 1 {
        let lettered = layout.boards.windows(2).any(|pair| pair[0] != pair[1]);
        for (number, board) in layout.boards.iter().enumerate() {
            let marks: Vec<String> = board
                .iter()
                .zip(names)
                .map(|(mark, name)| if lettered { format!("{name} {mark}") } else { mark.clone() })
                .collect();
            lines.push(format!("sheet {}: {}", number + 1, marks.join(", ")));
        }
    }
    columns(pages, &lines);
}

/// Lines to strike off, side by side as far as the room goes; a long one takes the whole width.
fn columns(pages: &mut Pages<'_>, lines: &[String]) {
    let room = pages.room();
    let across = ((room.width / LIST.1) as usize).max(1);
    let mut column = 0;
    for line in lines {
        let high = FIGURES[0];
        // A tenth more: a screen may not have the letters that were measured.
        let wide = text::width(line, high, true) * 1.1 + 9.0;
        let takes = ((wide / LIST.1).ceil() as usize).clamp(1, across);
        if column + takes > across {
            column = 0;
            pages.y += LIST.0;
        }
        if column == 0 {
            pages.make_room(LIST.0);
        }
        let x = pages.room().x + column as f64 * LIST.1;
        let words = text::wrap(line, pages.room().width - 9.0, high, true);
        let mut items = vec![circle(x + 3.2, pages.y + 3.6)];
        for (at_line, words) in words.iter().enumerate() {
            if at_line > 0 {
                pages.put("list", std::mem::take(&mut items));
                pages.y += LIST.0;
                pages.make_room(LIST.0);
            }
            items.push(Text::new(at(x + 8.0, pages.y + 6.1), words.as_str()).size(high).bold().into());
        }
        pages.put("list", items);
        column += takes;
    }
    pages.y += LIST.0;
}
