//! Fold sheets for the brake: the profile, the flat strip with its bend marks, the cuts of its end dams, the pieces to fold.

use super::column::{Column, LARGE, WORDS, both, half};
use super::{flat, written};
use crate::emit::cutting::face_name;
use crate::emit::drawing::{Anchor, Dash, Fill, Item, Paper, Point, Rect, Sheet, Stroke, Text, at};
use crate::emit::footer::count;
use crate::emit::table::{self, Cell, Kind, Table, column};
use crate::emit::{Emitter, Output, titles};
use crate::layout::folds::{self, Folds, Profile};
use crate::model::{Model, ProductId};
use crate::session::Checked;
use crate::units::display::{self, mm_figure};
use crate::units::{Length, System};

/// Writes `folds/`.
pub struct Folding;

impl Emitter for Folding {
    fn id(&self) -> &'static str {
        "folds"
    }

    fn title(&self) -> &'static str {
        "Folded metal: profiles, blanks and what they are cut from"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        let found = checked.folds();
        if found.blanks.is_empty() && found.missing.is_empty() {
            return Vec::new();
        }
        let tables =
            [pieces_table(found), profiles_table(checked, found), sheets_table(checked, found), missing_table(found)];
        let mut drawn = sheets(checked, found);
        for table in &tables[..1] {
            drawn.extend(table::sheets(table, &table.id, Paper::A4, &titles::block(checked, &table.title)));
        }
        written(checked, "folds", "fold sheets", &drawn, &tables)
    }
}

/// How what bends take up is found.
const TAKEN: &str = "bends take up 2(r + t)tan(A/2) − A(r + kt) each, inside radius r as the thickness t, k the limit fold.neutral_line; hems nothing (textbook formula, from memory)";

fn product(model: &Model, id: ProductId) -> String {
    model.product(id).map_or_else(String::new, |product| product.name.replace('_', " "))
}

/// One row a piece.
fn pieces_table(found: &Folds) -> Table {
    let columns = vec![
        column("done", "cut", Kind::Tick),
        column("folded", "folded", Kind::Tick),
        column("mark", "mark", Kind::Mark),
        column("length", "length", Kind::Length),
        column("girth", "flat width", Kind::Length),
        column("profile", "fold", Kind::Mark),
        column("dams", "dams", Kind::Text),
        column("part", "lengths of a run, laps", Kind::Text),
        column("place", "goes", Kind::Text),
    ];
    let mut table = Table::new("fold_list", "Fold list", columns).note("lengths with dams and laps; one row a piece");
    for blank in &found.blanks {
        let Some(profile) = found.profiles.get(blank.profile) else { continue };
        let dams = match (profile.dam, blank.dams) {
            (Some(_), [true, true]) => "both ends",
            (Some(_), [true, false]) => "left",
            (Some(_), [false, true]) => "right",
            _ => "",
        };
        let part = if blank.part.1 > 1 {
            format!("{} of {}, {}", blank.part.0, blank.part.1, blank.lapped)
        } else {
            String::new()
        };
        let row: [Cell; 9] = [
            Cell::Nothing,
            Cell::Nothing,
            blank.mark.clone().into(),
            blank.length.into(),
            profile.girth.into(),
            profile.mark.clone().into(),
            dams.into(),
            part.into(),
            format!("{}: {}", blank.place.replace('_', " ").replace('.', ", "), profile.called).into(),
        ];
        table.row(row);
    }
    table
}

/// One row a bend.
fn profiles_table(checked: &Checked, found: &Folds) -> Table {
    let columns = vec![
        column("fold", "fold", Kind::Mark),
        column("called", "what", Kind::Text),
        column("metal", "metal", Kind::Text),
        column("flat", "flat width", Kind::Length),
        column("bends_take", "bends take up", Kind::Length),
        column("leg", "leg", Kind::Text),
        column("leg_length", "leg length", Kind::Length),
        column("mark_at", "bend mark", Kind::Length),
        column("degrees", "bend°", Kind::Number(1)),
        column("side", "side", Kind::Text),
        column("slope", "fall as bent %", Kind::Number(1)),
        column("slope_left", "fall after shrinkage %", Kind::Number(1)),
        column("strips", "strips of a width", Kind::Count),
        column("strip_left", "left over", Kind::Length),
        column("pieces", "pieces", Kind::Count),
    ];
    let mut table = Table::new("fold_profiles", "Folds and their bend marks", columns)
        .note("bend marks run from the upper edge (of a coping from its edge over the roof), legs as outside sizes; O is bent to the opposite side")
        .note(TAKEN);
    for (at, profile) in found.profiles.iter().enumerate() {
        let count = found.blanks.iter().filter(|blank| blank.profile == at).count() as u64;
        let mut start = Length::ZERO;
        let flat = [folds::Leg { what: "pattern on its sheet", length: profile.girth, turn: 0.0 }];
        for leg in if profile.pattern.is_some() { &flat[..] } else { &profile.legs } {
            let bent = leg.turn != 0.0 && start > Length::ZERO;
            let row: [Cell; 15] = [
                profile.mark.clone().into(),
                profile.called.clone().into(),
                product(&checked.model, profile.product).into(),
                profile.girth.into(),
                profile.taken.filter(|_| profile.pattern.is_none()).into(),
                leg.what.into(),
                leg.length.into(),
                bent.then_some(start).into(),
                bent.then_some(leg.turn.abs()).into(),
                if bent { side(leg.turn) } else { "" }.into(),
                profile.slope.map(|slope| slope * 100.0).into(),
                profile.slope_left.map(|slope| slope * 100.0).into(),
                profile.strips.map(|(count, _)| count.max(0) as u64).into(),
                profile.strips.map(|(_, left)| left).into(),
                count.into(),
            ];
            table.row(row);
            start += leg.length;
        }
    }
    table
}

fn side(turn: f64) -> &'static str {
    if turn > 0.0 { "face" } else { "O" }
}

/// One row a coil or sheet.
fn sheets_table(checked: &Checked, found: &Folds) -> Table {
    let columns = vec![
        column("done", "cut", Kind::Tick),
        column("metal", "metal", Kind::Text),
        column("count", "coils or sheets", Kind::Count),
        column("length", "length", Kind::Length),
        column("width", "width", Kind::Length),
        column("pieces", "pieces", Kind::Text),
        column("used", "length used", Kind::Length),
        column("left_length", "largest left, length", Kind::Length),
        column("left_width", "width", Kind::Length),
        column("proven", "no less will do", Kind::Text),
    ];
    let mut table = Table::new("fold_blanks", "Blanks out of coils and sheets", columns);
    for (id, places, plan) in &found.plans {
        for sheet in &plan.sheets {
            let marks = sheet
                .placed
                .iter()
                .filter_map(|placed| Some(found.blanks.get(*places.get(placed.part)?)?.mark.as_str()));
            let used = sheet.placed.iter().map(|placed| placed.piece.x + placed.piece.length).max();
            let whole = checked.model.product(*id).map(|product| [&product.roll, &product.sheet]);
            let size: Option<(Length, Length)> = whole.and_then(|sizes| {
                let size = sizes.into_iter().find(|size| size.len() == 2)?;
                Some((*size.iter().max()?, *size.iter().min()?))
            });
            let left = sheet.offcuts.first();
            let row: [Cell; 10] = [
                Cell::Nothing,
                product(&checked.model, *id).into(),
                sheet.count.into(),
                size.map(|(length, _)| length).into(),
                size.map(|(_, width)| width).into(),
                marks.collect::<Vec<_>>().join(", ").into(),
                used.into(),
                left.map(|piece| piece.length).into(),
                left.map(|piece| piece.width).into(),
                if plan.proven { "yes" } else { "not proven" }.into(),
            ];
            table.row(row);
        }
    }
    table
}

fn missing_table(found: &Folds) -> Table {
    let columns = vec![column("place", "place", Kind::Text), column("missing", "what is missing", Kind::Text)];
    let mut table = Table::new("fold_missing", "Folds that cannot be told", columns);
    for (place, missing) in &found.missing {
        table.row([place.clone().into(), missing.clone().into()]);
    }
    table
}

/// One sheet a fold.
pub(super) fn sheets(checked: &Checked, found: &Folds) -> Vec<Sheet> {
    found.profiles.iter().enumerate().map(|(at, profile)| sheet(checked, found, at, profile)).collect()
}

/// Width of the drawings.
const DRAWN: f64 = 156.0;

fn sheet(checked: &Checked, found: &Folds, index: usize, profile: &Profile) -> Sheet {
    let title = format!("Fold {}: {}", profile.mark, profile.called);
    let mut sheet =
        Sheet::new(&format!("fold-{}", profile.mark.to_lowercase()), Paper::A4, titles::block(checked, &title));
    let lead = checked.model.project.units;
    sheet.description = format!("{title}, flat width {}", both(profile.girth, lead));
    let area = sheet.area();
    let split = area.y + area.height * 0.44;
    if let Some(pattern) = &profile.pattern {
        let room = Rect::edges(area.x, area.y, area.x + DRAWN, area.bottom() - 1.0);
        sheet.layer("pattern", flat::draw(pattern, room, lead));
    } else {
        sheet.layer("profile", section(profile, Rect::edges(area.x, area.y, area.x + DRAWN, split - 3.0), lead));
        sheet.layer("strip", strip(profile, Rect::edges(area.x, split, area.x + DRAWN, area.bottom() - 1.0), lead));
    }
    let x = area.x + DRAWN + 6.0;
    let mut words = Column::new(x, area.y, area.right() - x);
    figures(checked, found, index, profile, &mut words);
    sheet.layer("figures", words.items);
    sheet
}

fn figures(checked: &Checked, found: &Folds, index: usize, profile: &Profile, words: &mut Column) {
    words.say(&profile.mark, 9.0, true);
    words.say(&format!("{}, {}", profile.called, product(&checked.model, profile.product)), WORDS, false);
    words.skip(1.5);
    sizes(profile, words, checked.model.project.units);
    let own: Vec<_> = found.blanks.iter().filter(|blank| blank.profile == index).collect();
    let total: Length = own.iter().map(|blank| blank.length).sum();
    words.figure(
        &count(own.len(), "piece", "pieces"),
        &format!("{:.2} m in all: {}", total.as_m(), marks(checked, found, index)),
    );
    if let Some(pattern) = &profile.pattern {
        flat::bends(pattern).iter().for_each(|bend| words.say(bend, WORDS, false));
        words.skip(1.5);
        for (at, step) in pattern.steps.iter().enumerate() {
            words.say(&format!("{}. {step}", at + 1), WORDS, false);
        }
    } else {
        words.say("dashes: bend. O: bent to the opposite side. X: cut. The tab of the upstand goes behind the dam. Hems take two passes.", WORDS, false);
    }
    words.skip(2.0);
    words.tick("sample folded, held to the wall");
    words.tick("all pieces folded, marks on the back");
}

/// Size of the blank, what bends take up, what a width gives, the fall.
fn sizes(profile: &Profile, words: &mut Column, lead: System) {
    if let Some(pattern) = &profile.pattern {
        let (length, width) = pattern.blank();
        words.figure(&both(length, lead), "length of the blank");
        words.figure(&both(width, lead), "width of the blank");
        return;
    }
    let less = match profile.taken.filter(|taken| *taken > Length::ZERO) {
        None => "flat width".to_owned(),
        Some(taken) => {
            let taken = both(taken, lead);
            format!("flat width, outside sizes; bends take up {taken} in all: fold one, measure, then cut so much less")
        }
    };
    words.figure(&both(profile.girth, lead), &less);
    if !profile.note.is_empty() {
        words.say(&profile.note, WORDS, false);
        words.skip(1.5);
    }
    if let Some((strips, left)) = profile.strips {
        let strips = count(usize::try_from(strips).unwrap_or(0), "strip", "strips");
        words.say(&format!("{strips} of one width, {} left", both(left, lead)), WORDS, false);
        words.skip(1.5);
    }
    if let Some(slope) = profile.slope {
        let left =
            profile.slope_left.map(|left| format!(", {} when the frame has shrunk", display::slope_percent(left)));
        words.figure(
            &format!("falls {}", display::slope_percent(slope)),
            &format!("as bent{}", left.unwrap_or_default()),
        );
    }
}

/// Marks, or how many on which wall where there are too many to list here.
fn marks(checked: &Checked, found: &Folds, index: usize) -> String {
    let own: Vec<_> = found.blanks.iter().filter(|blank| blank.profile == index).collect();
    if own.len() <= 12 {
        return own.iter().map(|blank| blank.mark.as_str()).collect::<Vec<_>>().join(", ");
    }
    let mut walls: Vec<(String, usize)> = Vec::new();
    for blank in own {
        let name = face_name(&checked.model, blank.face).replace('_', " ");
        match walls.last_mut() {
            Some((last, count)) if *last == name => *count += 1,
            _ => walls.push((name, 1)),
        }
    }
    let each: Vec<String> = walls.iter().map(|(name, count)| format!("{name} {count}")).collect();
    format!("{}; see the list", each.join(", "))
}

/// The fold as it stands on the wall, from the side, outside to the right.
fn section(profile: &Profile, room: Rect, lead: System) -> Vec<Item> {
    // Through the corners, in mm, y down; the hem lies a little behind the drip.
    let mut corners = vec![at(0.0, 0.0)];
    let mut heading = 90.0_f64;
    for leg in &profile.legs {
        heading -= leg.turn;
        let last = corners.last().copied().unwrap_or_default();
        let (x, y) = (libm::cos(heading.to_radians()), libm::sin(heading.to_radians()));
        corners.push(last.shift(leg.length.as_mm() * x, leg.length.as_mm() * y));
    }
    let bounds = Rect::around(corners.iter().copied());
    let (wide, high) = (room.width - 78.0, room.height - 14.0);
    let scale = (wide / bounds.width.max(1.0)).min(high / bounds.height.max(1.0)).min(1.0);
    let place =
        |point: Point| at(room.x + 34.0 + (point.x - bounds.x) * scale, room.y + 8.0 + (point.y - bounds.y) * scale);
    let mut points: Vec<Point> = corners.into_iter().map(place).collect();
    if profile.legs.last().is_some_and(|leg| leg.what == "hem")
        && let Some(last) = points.last_mut()
    {
        *last = last.shift(-1.6, 0.0);
    }
    if profile.legs.first().is_some_and(|leg| leg.what == "hem")
        && let Some(first) = points.first_mut()
    {
        *first = first.shift(1.6, 0.0);
    }
    let mut items = vec![Item::polyline(points.clone(), Stroke::HEAVY)];
    let points_first = points.first().copied().unwrap_or_default();
    for (leg, ends) in profile.legs.iter().zip(points.windows(2)) {
        let &[from, to] = ends else { continue };
        let middle = from.towards(to, 0.5);
        let (spot, anchor) = match leg.what {
            "ledge" => (middle.shift(2.0, -3.0), Anchor::Start),
            "hem" => (middle.shift(-3.0, 6.0), Anchor::End),
            "top" => (middle.shift(0.0, -3.0), Anchor::Middle),
            "roof leg" if (to.x - from.x).abs() > (to.y - from.y).abs() => (middle.shift(0.0, -3.0), Anchor::Middle),
            "wall leg" if from == points_first => (middle.shift(-3.0, 1.5), Anchor::End),
            "drip" | "wall leg" => (middle.shift(3.0, 2.0), Anchor::Start),
            _ => (middle.shift(-3.0, 1.5), Anchor::End),
        };
        let words = format!("{} {}", leg.what, half(leg.length));
        items.push(Text::new(spot, words).size(WORDS).bold().anchor(anchor).into());
    }
    let foot = room.bottom() - 1.0;
    let inside = if profile.legs.iter().any(|leg| leg.what == "top") { "roof" } else { "wall" };
    items.push(Text::new(at(room.x, room.y + 4.0), inside).size(WORDS).into());
    items.push(
        Text::new(at(room.right() - 2.0, room.y + 4.0), "outside →").size(WORDS).bold().anchor(Anchor::End).into(),
    );
    items.push(
        Text::new(
            at(room.right() - 2.0, foot),
            if lead == System::Metric { "legs in mm" } else { "legs in mm; inches on the strip" },
        )
        .anchor(Anchor::End)
        .into(),
    );
    items
}

/// From one label to the next.
const LABEL: f64 = 11.5;

/// The flat strip, weather face up, upper edge at the top, both ends drawn.
fn strip(profile: &Profile, room: Rect, lead: System) -> Vec<Item> {
    let top = profile.legs.iter().any(|leg| leg.what == "top");
    let edge = if top { "edge over the roof" } else { "upper edge" };
    let mut items = vec![
        Text::new(at(room.x, room.y + 3.0), format!("flat, weather face up, {edge} at the top; measure from there"))
            .into(),
    ];
    let (left, right) = (room.x + 2.0, room.x + 82.0);
    let top = room.y + 6.0;
    let scale = ((room.bottom() - 2.0 - top) / profile.girth.as_mm().max(1.0)).min(1.0);
    let y = |mark: Length| top + mark.as_mm() * scale;
    let bottom = y(profile.girth);
    items.extend(outline(profile, (left, right), scale, top));
    let bends = folds::bends(&profile.legs);
    let mut labels: Vec<(f64, String, String)> = Vec::new();
    for bend in &bends {
        items.push(Item::line(at(left, y(bend.at)), at(right, y(bend.at)), Stroke::MEDIUM.dash(Dash::Dashed)));
        let way = if bend.turn > 0.0 { "to the face" } else { "O, to the opposite side" };
        labels.push((y(bend.at), both(bend.at, lead), format!("bend {:.1}° {way}", bend.turn.abs())));
    }
    labels.push((bottom, both(profile.girth, lead), "lower edge: cut".to_owned()));
    let ys = spread(&labels.iter().map(|label| label.0).collect::<Vec<_>>(), top, room.bottom());
    for ((mark, figure, words), place) in labels.into_iter().zip(ys) {
        let x = right + 10.0;
        items.push(Item::polyline(
            vec![at(right + 1.0, mark), at(right + 4.0, mark), at(x - 1.5, place + 2.5)],
            Stroke::LIGHT,
        ));
        items.push(Text::new(at(x, place + LARGE), figure).size(LARGE).bold().into());
        items.push(Text::new(at(x, place + LARGE + 4.3), words).size(3.0).into());
    }
    items
}

/// Tops of labels near their marks, none over another, all above the bottom.
fn spread(marks: &[f64], top: f64, bottom: f64) -> Vec<f64> {
    let mut places: Vec<f64> = Vec::new();
    for mark in marks {
        let wanted = (mark - 2.5).max(top);
        places.push(places.last().map_or(wanted, |last| wanted.max(last + LABEL)));
    }
    let mut least = bottom;
    for place in places.iter_mut().rev() {
        *place = place.min(least - LABEL);
        least = *place;
    }
    places
}

/// The outline with the cuts and folds of end dams: the tab of the ledge stands up, the tab of the upstand goes round behind it.
fn outline(profile: &Profile, (left, right): (f64, f64), scale: f64, top: f64) -> Vec<Item> {
    let bottom = top + profile.girth.as_mm() * scale;
    let whole = Rect::edges(left, top, right, bottom);
    let length = |at: usize| profile.legs.get(at).map_or(0.0, |leg| leg.length.as_mm() * scale);
    let Some(dam) = profile.dam.map(|dam| dam.as_mm() * scale).filter(|dam| *dam > 0.5 && profile.legs.len() > 1)
    else {
        return vec![Item::rect(whole, Some(Stroke::HEAVY), Fill::White)];
    };
    let (bend, edge) = (top + length(0), top + length(0) + length(1));
    let tab = (bend - dam).max(top);
    let ring = |x: f64, way: f64| {
        [
            at(x + way * dam, top),
            at(x + way * dam, tab),
            at(x, tab),
            at(x, edge),
            at(x + way * dam, edge),
            at(x + way * dam, bottom),
        ]
    };
    let mut points: Vec<Point> = ring(left, 1.0).to_vec();
    points.extend(ring(right, -1.0).into_iter().rev());
    let mut items = vec![
        Item::rect(whole, Some(Stroke::LIGHT.dash(Dash::Dotted)), Fill::None),
        Item::polygon(points, Some(Stroke::HEAVY), Fill::White),
    ];
    for (x, way) in [(left, 1.0), (right, -1.0)] {
        let inner = x + way * dam;
        // Cut from the end to the fold of the dam.
        items.push(Item::line(at(x, bend), at(inner, bend), Stroke::HEAVY));
        items.push(Item::line(at(inner, tab), at(inner, edge), Stroke::MEDIUM.dash(Dash::Dashed)));
        let middle = (x + inner) / 2.0;
        items.push(Text::new(at(middle, bend + 1.6), "X").size(3.2).bold().anchor(Anchor::Middle).plate().into());
        if tab - top > 4.0 {
            items.push(
                Text::new(at(middle, (top + tab) / 2.0 + 1.6), "X").size(3.2).bold().anchor(Anchor::Middle).into(),
            );
        }
        if bottom - edge > 4.0 {
            items.push(
                Text::new(at(middle, (bottom + edge) / 2.0 + 1.6), "X").size(3.2).bold().anchor(Anchor::Middle).into(),
            );
        }
    }
    let words = format!("dams {} up", mm_figure(profile.dam.unwrap_or_default()));
    items.push(
        Text::new(at((left + right) / 2.0, (bend + edge) / 2.0 + 1.2), words).size(3.0).anchor(Anchor::Middle).into(),
    );
    items
}
