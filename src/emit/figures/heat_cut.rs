//! The drawing of a plane cut: its materials true to scale, and lines of one temperature through them.

use crate::emit::drawing::item::{Anchor, FIGURE, Ink, LARGE};
use crate::emit::drawing::{
    Candidate, Extent, Fill, Item, Labels, Paper, Point, Rect, Scale, Sheet, Stroke, Text, View, at, text,
};
use crate::emit::elevation::capital;
use crate::emit::{titles, wall_section};
use crate::figures::heat_cuts::Solved;
use crate::model::{AirSide, Box2, CutRegion, HeatCut, Model};
use crate::physics::conduction::isotherm;
use crate::session::Checked;
use crate::units::{Length, System, display};

/// Room at the right for the names of materials, mm.
const NAMES: f64 = 92.0;
/// Room around the drawing for the words of the air, mm.
const AROUND: f64 = 12.0;
/// From one name to the next, mm.
const STEP: f64 = 12.0;
/// Fewer lines than this are wanted, so that they stand apart.
const MOST_LINES: f64 = 9.0;
/// A line shorter than this has no room for its figure, mm.
const SHORTEST: f64 = 12.0;

/// A sheet for every cut that has an answer.
pub(super) fn pages(checked: &Checked) -> Vec<(String, String, Vec<Sheet>)> {
    let mut pages = Vec::new();
    for told in &checked.figures().cuts {
        let cut = checked.model.heat_cuts.get(told.cut);
        if let (Some(cut), Ok(solved)) = (cut, &told.solved) {
            let title = capital(&format!("{}, lines of one temperature", cut.name.replace('_', " ")));
            pages.push((
                format!("heat_cut_{}_lines", cut.name),
                title.clone(),
                vec![sheet(checked, cut, solved, &title)],
            ));
        }
    }
    pages
}

fn sheet(checked: &Checked, cut: &HeatCut, solved: &Solved, title: &str) -> Sheet {
    let mut sheet = Sheet::new(&format!("heat-cut-{}", cut.name), Paper::A3, titles::block(checked, title));
    let ((left, bottom), (right, top)) = cut.extent().unwrap_or_default();
    let extent = Extent { left, bottom, right, top };
    let area = sheet.area();
    let field = Rect::edges(area.x, area.y, area.right() - NAMES, area.bottom()).grow(-AROUND);
    let scale = Scale::largest(&Scale::DETAIL, extent.size(), (field.width, field.height))
        .unwrap_or_else(|| Scale::fit(extent.size(), (field.width, field.height)));
    let view = View::centred(scale, &extent, &field);
    sheet.scale = Some(scale);
    let model = &checked.model;
    let lead = model.project.units;
    sheet.description = format!("Cut through {}: materials and lines of one temperature.", cut.name.replace('_', " "));
    let mut labels = Labels::new(Rect::edges(area.x, area.y, area.right() - NAMES, area.bottom()));
    sheet.layer("materials", materials(model, cut, &view));
    sheet.layer("air", cut.airs.iter().flat_map(|air| room(&view, &extent, air.at)).collect());
    let lines = lines(solved, &view, lead);
    sheet.layer("lines", lines.iter().flat_map(|line| line.items()).collect());
    let words = airs(cut, solved, &view, &extent, lead, &mut labels);
    sheet.layer("coldest", coldest(solved, &view, lead, &mut labels));
    sheet.layer("temperatures", lines.iter().filter_map(|line| line.label(&mut labels)).collect());
    sheet.layer("names", words);
    let column = Rect::edges(area.right() - NAMES + 4.0, area.y + 4.0, area.right(), area.bottom());
    sheet.layer("key", key(checked, cut, &lines, column));
    sheet
}

fn extent_of(((left, bottom), (right, top)): Box2) -> Extent {
    Extent { left, bottom, right, top }
}

/// Each region over those before it, as it was drawn; what is too thin for a hatch is black.
fn materials(model: &Model, cut: &HeatCut, view: &View) -> Vec<Item> {
    let shape = |region: &CutRegion| {
        let shape = view.rect(&extent_of(region.at));
        let thin = shape.width.min(shape.height) < 0.8;
        let fill = if thin { Fill::Solid(Ink::Black) } else { hatch(model, region) };
        Item::rect(shape, Some(Stroke::MEDIUM), fill)
    };
    cut.regions.iter().map(shape).collect()
}

fn hatch(model: &Model, region: &CutRegion) -> Fill {
    region.stuff.as_ref().map_or(Fill::White, |stuff| Fill::Hatch(wall_section::hatch(model, stuff, true)))
}

/// Air that was drawn over material takes its place.
fn room(view: &View, extent: &Extent, air: Box2) -> Option<Item> {
    let air = clipped(air, extent)?;
    let empty = air.left == air.right || air.bottom == air.top;
    (!empty).then(|| Item::rect(view.rect(&air), Some(Stroke::MEDIUM), Fill::White))
}

/// The part of a box within the drawing; nothing if it lies beside it.
fn clipped(((left, bottom), (right, top)): Box2, extent: &Extent) -> Option<Extent> {
    let part = Extent {
        left: left.max(extent.left),
        bottom: bottom.max(extent.bottom),
        right: right.min(extent.right),
        top: top.min(extent.top),
    };
    (part.left <= part.right && part.bottom <= part.top).then_some(part)
}

/// A line of one temperature on paper.
struct Line {
    strokes: Vec<Vec<Point>>,
    /// In the leading unit.
    figure: String,
    /// In the other.
    other: String,
    frost: bool,
    /// Every second one.
    even: bool,
}

/// Lines at round temperatures; always the one at which water freezes.
fn lines(solved: &Solved, view: &View, lead: System) -> Vec<Line> {
    let field = &solved.flow.field;
    let known = || field.temperatures.iter().flatten().copied();
    let (low, high) = (known().fold(f64::INFINITY, f64::min), known().fold(f64::NEG_INFINITY, f64::max));
    let step =
        [1.0, 2.0, 5.0, 10.0, 20.0, 50.0].into_iter().find(|step| (high - low) / step < MOST_LINES).unwrap_or(100.0);
    if low >= high {
        return Vec::new();
    }
    let (first, last) = ((low / step).ceil() as i32, (high / step).floor() as i32);
    let line = |times: i32| {
        let level = f64::from(times) * step;
        let on_paper = |(x, y): &(f64, f64)| view.point(Length::snap_m(*x), Length::snap_m(*y));
        let strokes = isotherm(field, level).iter().map(|stroke| thinned(stroke.iter().map(on_paper))).collect();
        Line {
            strokes,
            figure: display::temperature(level, lead),
            other: display::temperature(level, lead.other()),
            frost: times == 0,
            even: times % 2 == 0,
        }
    };
    (first..=last).map(line).filter(|line| !line.strokes.is_empty()).collect()
}

/// Points closer than a hair say nothing on paper.
fn thinned(points: impl Iterator<Item = Point>) -> Vec<Point> {
    let points: Vec<Point> = points.collect();
    let mut kept: Vec<Point> = Vec::new();
    for (index, point) in points.iter().enumerate() {
        let far = kept.last().is_none_or(|last: &Point| last.distance(*point) > 0.3);
        if far || index + 1 == points.len() {
            kept.push(*point);
        }
    }
    kept
}

fn length(stroke: &[Point]) -> f64 {
    stroke.windows(2).map(|pair| pair.first().zip(pair.last()).map_or(0.0, |(a, b)| a.distance(*b))).sum()
}

impl Line {
    /// Black on a white rim, so that it stands out from hatches; the line of frost is heavy.
    fn items(&self) -> Vec<Item> {
        let own = if self.frost { Stroke::HEAVY } else { Stroke::MEDIUM };
        let rim = Stroke::HEAVY.ink(Ink::White);
        let both = |stroke: &Vec<Point>| {
            let rim = (!self.frost).then(|| Item::polyline(stroke.clone(), rim));
            rim.into_iter().chain([Item::polyline(stroke.clone(), own)])
        };
        self.strokes.iter().flat_map(both).collect()
    }

    /// Its figure on the longest stretch, where it is free.
    fn label(&self, labels: &mut Labels) -> Option<Item> {
        let longest = self.strokes.iter().max_by(|a, b| length(a).total_cmp(&length(b)))?;
        if length(longest) < SHORTEST {
            return None;
        }
        // Where it runs level a figure hides least of it; neighbours stand beside each other, not in a heap.
        let target = if self.even { 0.35 } else { 0.7 };
        let runs_up = |at: usize| {
            let ends = longest.get(at.saturating_sub(1)).zip(longest.get(at + 1).or(longest.last()));
            ends.is_none_or(|(a, b)| (a.x - b.x).abs() < (a.y - b.y).abs())
        };
        let mut order: Vec<usize> = (0..longest.len()).collect();
        let level = order.iter().filter(|at| !runs_up(**at)).count();
        let (first, among) = match order.iter().position(|at| !runs_up(*at)) {
            Some(first) => (first, level),
            None => (0, longest.len()),
        };
        let aim = first as f64 + target * among as f64;
        order.sort_by(|a, b| {
            let key = |at: &usize| (runs_up(*at), (*at as f64 - aim).abs());
            let ((up, off), (other_up, other)) = (key(a), key(b));
            up.cmp(&other_up).then(off.total_cmp(&other))
        });
        let text = |point: Point| {
            let text = Text::new(point, self.figure.as_str()).size(LARGE).anchor(Anchor::Middle).plate().centred();
            Candidate::text(if self.frost { text.bold() } else { text })
        };
        let candidates = order.iter().filter_map(|index| longest.get(*index)).map(|point| text(*point)).collect();
        Some(Item::group("temperature", labels.place(candidates).texts.into_iter().map(Item::from).collect()))
    }
}

/// `20 °C (68 °F)`.
fn both(celsius: f64, lead: System) -> String {
    format!("{} ({})", display::temperature(celsius, lead), display::temperature(celsius, lead.other()))
}

/// What air is where, and how warm.
fn airs(cut: &HeatCut, solved: &Solved, view: &View, extent: &Extent, lead: System, labels: &mut Labels) -> Vec<Item> {
    let mut items = Vec::new();
    let mut said: Vec<(AirSide, String)> = Vec::new();
    for (air, temperature) in cut.airs.iter().zip(&solved.temperatures) {
        let words = format!("{} {}", air.side.word(), both(*temperature, lead));
        let Some(part) = clipped(air.at, extent) else { continue };
        if said.contains(&(air.side, words.clone())) {
            continue;
        }
        let text = beside(view.rect(&part), &view.rect(extent), &words);
        labels.keep_clear(text.bounds());
        items.push(text.into());
        said.push((air.side, words));
    }
    items
}

/// In a room at its middle; along an edge outside the drawing.
fn beside(part: Rect, whole: &Rect, words: &str) -> Text {
    let text = |at: Point| Text::new(at, words).size(LARGE).bold().anchor(Anchor::Middle);
    let middle = part.centre();
    let off = LARGE * 1.1;
    let turned = |x: f64| text(at(x, middle.y)).turned(-90.0).centred();
    if part.width > 0.0 && part.height > 0.0 {
        return text(middle).plate().centred();
    }
    match (part.width == 0.0, middle.x < whole.centre().x, middle.y < whole.centre().y) {
        (true, true, _) => turned(middle.x - off),
        (true, false, _) => turned(middle.x + off),
        (false, _, true) => text(at(middle.x, middle.y - off)).centred(),
        (false, _, false) => text(at(middle.x, middle.y + off)).centred(),
    }
}

/// A ring where the surface of the room is coldest, and how cold it is there.
fn coldest(solved: &Solved, view: &View, lead: System, labels: &mut Labels) -> Vec<Item> {
    let Some((temperature, (x, y))) = solved.coldest else { return Vec::new() };
    let place = view.point(Length::snap_m(x), Length::snap_m(y));
    let ring = |radius: f64| {
        let point = |step: i32| {
            let turn = f64::from(step) / 16.0 * std::f64::consts::TAU;
            place.shift(radius * libm::cos(turn), radius * libm::sin(turn))
        };
        (0..16).map(point).collect()
    };
    let words = format!("coldest {}", both(temperature, lead));
    let text = |right: f64, down: f64, anchor: Anchor| {
        Candidate::text(
            Text::new(place.shift(right, down), words.as_str()).size(LARGE).bold().plate().anchor(anchor).centred(),
        )
    };
    let around = [(4.0, -6.0), (4.0, 6.0), (4.0, 0.0), (4.0, -12.0), (4.0, 12.0)];
    let right = around.map(|(right, down)| text(right, down, Anchor::Start));
    let left = around.map(|(right, down)| text(-right, down, Anchor::End));
    let chosen = labels.place(right.into_iter().chain(left).collect());
    let ring = Item::polygon(ring(1.6), Some(Stroke::HEAVY), Fill::White);
    chosen.texts.into_iter().map(Item::from).chain([ring]).collect()
}

/// Each material once: a patch of its hatch, its name, its conductivity in both units; then what each line is in the other unit.
fn key(checked: &Checked, cut: &HeatCut, lines: &[Line], area: Rect) -> Vec<Item> {
    let (model, lead) = (&checked.model, checked.model.project.units);
    let mut items = Vec::new();
    let mut said: Vec<(String, String)> = Vec::new();
    let mut y = area.y;
    for region in &cut.regions {
        let (name, value, second) = named(model, region, lead);
        if said.contains(&(name.clone(), value.clone())) || y + STEP > area.bottom() {
            continue;
        }
        let patch = Rect { x: area.x, y, width: 12.0, height: 9.0 };
        items.push(Item::rect(patch, Some(Stroke::MEDIUM), hatch(model, region)));
        let words = if name.is_empty() { value.clone() } else { name.clone() };
        let shown = text::cut(&words, area.width - 15.0, LARGE, false);
        items.push(Text::new(at(area.x + 15.0, y + LARGE), shown).size(LARGE).into());
        if !name.is_empty() {
            y += LARGE * 1.5;
            items.push(Text::new(at(area.x + 15.0, y + LARGE), value.as_str()).size(LARGE).into());
            y += FIGURE * 1.5;
            items.push(Text::new(at(area.x + 15.0, y + LARGE), second).size(FIGURE).into());
        }
        y += STEP;
        said.push((name, value));
    }
    let levels: Vec<String> =
        lines.iter().map(|line| format!("{} = {}", line.figure, line.other).replace(' ', "\u{a0}")).collect();
    let (levels, edges) = (levels.join(", "), ["No heat passes edges", "that no air touches."]);
    for line in [levels.as_str()].into_iter().chain(edges).chain(cut.notes.iter().map(AsRef::as_ref)) {
        for line in text::wrap(line, area.width, LARGE, false) {
            y += LARGE * 1.5;
            if y < area.bottom() {
                items.push(Text::new(at(area.x, y), line).size(LARGE).into());
            }
        }
    }
    items
}

/// Name, and conductivity in both units.
fn named(model: &Model, region: &CutRegion, lead: System) -> (String, String, String) {
    let own = region.stuff.as_ref().and_then(|stuff| model.material_of(stuff)).and_then(|of| of.conductivity.as_ref());
    let value = region.conductivity.or(own.map(|own| own.value.middle()));
    let name = region.stuff.as_ref().map_or_else(String::new, |stuff| stuff.name.replace('_', " "));
    let shown = |system| value.map_or_else(String::new, |value| display::conductivity(value, system));
    (name, shown(lead), shown(lead.other()))
}
