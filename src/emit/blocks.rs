//! Cards of mounting blocks: the front with its bores, the section with its bevel, the back with what is written on it and how
//! the block comes off; and one table of all of them.

use super::cutting::face_name;
use super::drawing::{
    Along, Anchor, Chain, Dash, Fill, Hatch, Item, Labels, Paper, Point, Scale, Sheet, Stroke, Text, View, at,
};
use super::folds::column::{Column, WORDS, both};
use super::folds::written;
use super::table::{self, Cell, Kind, Table, column};
use super::{Emitter, Output, titles};
use crate::continuity::{LiftOff, lift_offs};
use crate::layout::block_cards::{self, BlockCard, DRIP, Hole, MARGIN, PROUD};
use crate::model::{Block, Model};
use crate::session::Checked;
use crate::units::display::{self, mm_figure};
use crate::units::{Length, System};

/// Writes `blocks/`.
pub struct Blocks;

impl Emitter for Blocks {
    fn id(&self) -> &'static str {
        "blocks"
    }

    fn title(&self) -> &'static str {
        "Mounting blocks: cards for the bench"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        let cards = block_cards::find(&checked.model, &checked.plan);
        if cards.is_empty() {
            return Vec::new();
        }
        let offs = lift_offs(&checked.model, &checked.plan, &cards);
        let tables = [blocks_table(&cards, &offs), holes_table(&cards)];
        let mut sheets: Vec<Sheet> = cards.iter().flat_map(|card| drawn(checked, card, off_of(card, &offs))).collect();
        let title = titles::block(checked, &tables[0].title);
        sheets.extend(table::sheets(&tables[0], &tables[0].id, Paper::A4, &title));
        written(checked, "blocks", "block cards", &sheets, &tables)
    }
}

fn off_of<'o>(card: &BlockCard, offs: &'o [LiftOff]) -> Option<&'o LiftOff> {
    offs.iter().find(|off| off.face == card.face && off.block == card.block)
}

fn block<'m>(model: &'m Model, card: &BlockCard) -> Option<&'m Block> {
    model.face(card.face)?.blocks.get(card.block)
}

/// One row a block.
fn blocks_table(cards: &[BlockCard], offs: &[LiftOff]) -> Table {
    let columns = vec![
        column("done", "made", Kind::Tick),
        column("mark", "mark", Kind::Mark),
        column("width", "width", Kind::Length),
        column("height", "height", Kind::Length),
        column("thickness", "thick", Kind::Length),
        column("bevel_drop", "bevel drop", Kind::Length),
        column("cap", "cap, cut", Kind::Length),
        column("holes", "holes", Kind::Count),
        column("screws", "screws", Kind::Count),
        column("register", "register", Kind::Text),
        column("missing", "cannot tell", Kind::Text),
    ];
    let mut table = Table::new("blocks", "Mounting blocks", columns).note("seen from the front; one card each");
    for card in cards {
        let mut missing = card.missing.clone();
        missing.extend(off_of(card, offs).into_iter().flat_map(|off| off.covered.iter().chain(&off.held).cloned()));
        let row: [Cell; 11] = [
            Cell::Nothing,
            card.mark.clone().into(),
            card.size.map(|size| size.0).into(),
            card.size.map(|size| size.1).into(),
            card.thickness.into(),
            card.bevel.map(|bevel| bevel.1).into(),
            card.cap.into(),
            (card.holes.len() as u64).into(),
            (card.screws.len() as u64).into(),
            card.register.replace('_', " ").into(),
            missing.join("; ").into(),
        ];
        table.row(row);
    }
    table
}

/// One row a hole.
fn holes_table(cards: &[BlockCard]) -> Table {
    let columns = vec![
        column("block", "block", Kind::Mark),
        column("hole", "hole", Kind::Mark),
        column("what", "what", Kind::Text),
        column("from_left", "centre from the left edge", Kind::Length),
        column("from_foot", "centre from the foot", Kind::Length),
        column("width", "width or bore", Kind::Length),
        column("height", "height", Kind::Length),
        column("fall", "falls outward %", Kind::Number(1)),
        column("back_higher", "centre higher on the back", Kind::Length),
        column("register", "register", Kind::Text),
    ];
    let mut table = Table::new("block_holes", "Holes in mounting blocks", columns)
        .note("centres on the front, as seen from the front; bores are drilled at their slope");
    for card in cards {
        for (number, hole) in card.holes.iter().enumerate() {
            let row: [Cell; 10] = [
                card.mark.clone().into(),
                letter(number).into(),
                kind(hole).into(),
                hole.at.x.into(),
                hole.at.y.into(),
                hole.size.0.into(),
                hole.size.1.into(),
                hole.fall.map(|(slope, _)| slope * 100.0).into(),
                hole.fall.map(|(_, higher)| higher).into(),
                hole.register.clone().into(),
            ];
            table.row(row);
        }
    }
    table
}

fn letter(number: usize) -> String {
    char::from(b'a' + (number % 26) as u8).to_string()
}

fn kind(hole: &Hole) -> &'static str {
    match (hole.spare, hole.round) {
        (true, _) => "bore, spare sleeve",
        (false, true) => "bore",
        (false, false) => "cut out",
    }
}

/// Width of the drawings; what stands beside them is words.
const DRAWN: f64 = 150.0;
/// Room below the drawings for dimensions and words.
const BELOW: f64 = 58.0;
/// Room for dimensions at the left.
const ROUND: f64 = 19.0;
const SCALES: [Scale; 6] = [Scale(1), Scale(2), Scale(5), Scale(10), Scale(20), Scale(50)];

/// The front with its section, and the back.
fn drawn(checked: &Checked, card: &BlockCard, off: Option<&LiftOff>) -> [Sheet; 2] {
    let lead = checked.model.project.units;
    [false, true].map(|back| {
        let side = if back { "back" } else { "front" };
        let title = format!("Block {}: {side}", card.mark);
        let id = format!("block-{}-{side}", card.mark.to_lowercase());
        let mut sheet = Sheet::new(&id, Paper::A4, titles::block(checked, &title));
        sheet.description = format!("{title} of {}", card.register);
        let area = sheet.area();
        let mut foot = area.y;
        if let Some(size) = card.size {
            let thick = card.thickness.unwrap_or_default();
            let room = (DRAWN - ROUND - 16.0, area.height - BELOW - 8.0);
            let scale = Scale::largest(&SCALES, (size.0 + thick, size.1), room).unwrap_or(Scale(100));
            sheet.scale = Some(scale);
            foot = area.y + 8.0 + scale.paper(size.1);
            let view = View::new(scale, (Length::ZERO, Length::ZERO), at(area.x + ROUND, foot));
            sheet.layer("outline", outline(card, &view, size, back));
            let mut labels = Labels::new(area);
            if back {
                sheet.layer("labels", back_label(card, &view, size));
            } else {
                let chains = chains(card, &view, size, lead, &mut labels);
                foot = chains.bounds().map_or(foot, |bounds| bounds.bottom());
                sheet.push(chains);
                let left = view.x(size.0) + 13.0;
                sheet.layer("section", section(card, &view, left, size.1));
            }
        }
        let x = area.x + DRAWN + 4.0;
        let mut words = Column::new(x, area.y, area.right() - x);
        words.say(&card.mark, 9.0, true);
        if back {
            back_words(checked, card, off, &mut words);
        } else {
            front_words(checked, card, &mut words);
            let mut below = Column::new(area.x, foot + 2.0, DRAWN - 4.0);
            edge_words(checked, card, &mut below);
            sheet.layer("edges", below.items);
        }
        sheet.layer("words", words.items);
        sheet
    })
}

/// Outline, holes and screws; mirrored on the back, where bores come out higher.
fn outline(card: &BlockCard, view: &View, (wide, high): (Length, Length), back: bool) -> Vec<Item> {
    let place = |x: Length, y: Length| view.point(if back { wide - x } else { x }, y);
    let zero = Length::ZERO;
    let corners = [place(zero, zero), place(wide, zero), place(wide, high), place(zero, high)];
    let mut items = vec![Item::polygon(corners.to_vec(), Some(Stroke::HEAVY), Fill::White)];
    if let (Some((_, drop)), false) = (card.bevel, back) {
        items.push(Item::line(place(zero, high - drop), place(wide, high - drop), Stroke::LIGHT));
    }
    for (number, hole) in card.holes.iter().enumerate() {
        let higher = hole.fall.filter(|_| back).map_or(zero, |(_, higher)| higher);
        let centre = place(hole.at.x, hole.at.y + higher);
        let (half_wide, half_high) = (view.scale.paper(hole.size.0) / 2.0, view.scale.paper(hole.size.1) / 2.0);
        items.push(if hole.round {
            Item::Circle { centre, radius: half_wide, stroke: Some(Stroke::MEDIUM), fill: Fill::White }
        } else {
            let ring = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
            let ring = ring.map(|(x, y)| centre.shift(x * half_wide, y * half_high));
            Item::polygon(ring.to_vec(), Some(Stroke::MEDIUM), Fill::White)
        });
        let cross = Stroke::LIGHT.dash(Dash::Centre);
        items.push(Item::line(centre.shift(-half_wide - 2.0, 0.0), centre.shift(half_wide + 2.0, 0.0), cross));
        items.push(Item::line(centre.shift(0.0, -half_high - 2.0), centre.shift(0.0, half_high + 2.0), cross));
        let text = Text::new(centre.shift(half_wide + 2.0, -half_high - 0.5), letter(number)).size(5.0).bold();
        items.push(text.into());
    }
    items.extend(card.screws.iter().flat_map(|screw| cross(place(screw.x, screw.y))));
    items
}

/// A screw.
fn cross(centre: Point) -> [Item; 3] {
    let arm = |x: f64, y: f64| Item::line(centre.shift(-x, -y), centre.shift(x, y), Stroke::MEDIUM);
    let ring = Item::Circle { centre, radius: 1.6, stroke: Some(Stroke::MEDIUM), fill: Fill::White };
    [ring, arm(1.1, 1.1), arm(1.1, -1.1)]
}

/// Centres from the left edge and from the foot.
fn chains(card: &BlockCard, view: &View, (wide, high): (Length, Length), lead: System, labels: &mut Labels) -> Item {
    let marks = |ends: Length, along: &dyn Fn(&Hole) -> Length| -> Vec<Length> {
        [Length::ZERO, ends].into_iter().chain(card.holes.iter().map(along)).collect()
    };
    let (across, up) = (marks(wide, &|hole| hole.at.x), marks(high, &|hole| hole.at.y));
    let (foot, left) = (view.y(Length::ZERO), view.x(Length::ZERO));
    let chain = |along, marks: &[Length], line, witness| {
        let mut apart = marks.to_vec();
        apart.sort_unstable();
        let least = apart.windows(2).map(|pair| pair[1] - pair[0]).filter(|gap| *gap > Length::ZERO).min();
        // Where holes lie close on a small drawing, large figures would leave the sheet.
        let figure_mm = if least.is_some_and(|gap| view.scale.paper(gap) >= 16.0) { 5.0 } else { 3.5 };
        Chain { figure_mm, ..Chain::new(along, marks, line, witness).lead(lead) }.draw(view, labels)
    };
    let mut chain = chain;
    let items = vec![chain(Along::Across, &across, foot + 9.0, foot), chain(Along::Up, &up, left - 9.0, left)];
    Item::group("dimensions", items)
}

/// The section: the wall at its left, its bevel, the kerf on its underside.
fn section(card: &BlockCard, view: &View, left: f64, high: Length) -> Vec<Item> {
    let Some(thick) = card.thickness else { return Vec::new() };
    let drop = card.bevel.map_or(Length::ZERO, |(_, drop)| drop);
    let view = View { paper: at(left, view.paper.y), ..*view };
    let mut points = vec![(Length::ZERO, Length::ZERO)];
    let (deep, behind) = DRIP;
    if thick > behind + card.kerf {
        let (from, to) = (thick - behind - card.kerf, thick - behind);
        points.extend([(from, Length::ZERO), (from, deep), (to, deep), (to, Length::ZERO)]);
    }
    points.extend([(thick, Length::ZERO), (thick, high - drop), (Length::ZERO, high)]);
    let words = Text::new(view.point(Length::ZERO, high).shift(-6.0, -3.5), "wall | out →").size(3.5);
    vec![Item::polygon(view.points(&points), Some(Stroke::HEAVY), Fill::Hatch(Hatch::Today)), words.into()]
}

/// What is written on the back, below it, and the arrow on it.
fn back_label(card: &BlockCard, view: &View, (wide, high): (Length, Length)) -> Vec<Item> {
    let foot = view.point(Length::ZERO, Length::ZERO);
    let line = |down: f64, words: String| Item::from(Text::new(foot.shift(0.0, down), words).size(5.0).bold());
    let arrow = Text::new(view.point(wide / 2, high / 2), "↑").size(9.0).bold().anchor(Anchor::Middle);
    vec![
        arrow.into(),
        line(11.0, "write on the back:".to_owned()),
        line(19.0, format!("BACK  ↑ UP  {}", card.mark)),
        line(27.0, card.register.clone()),
    ]
}

fn front_words(checked: &Checked, card: &BlockCard, words: &mut Column) {
    let lead = checked.model.project.units;
    let show = |length: Length| both(length, lead);
    if let Some((wide, high)) = card.size {
        let thick =
            card.thickness.map_or_else(|| "thickness not said".to_owned(), |thick| format!("{} thick", show(thick)));
        words.say(&format!("{} wide", show(wide)), 5.0, true);
        words.say(&format!("{} high", show(high)), 5.0, true);
        words.say(&thick, 5.0, true);
    }
    if let Some((from, to)) = card.courses {
        words.say(&format!("foot on course line {from}, top on {to}"), WORDS, false);
    } else if card.size.is_some() {
        words.say("foot or top lies on no course line: rip the boards there", WORDS, false);
    }
    for (number, hole) in card.holes.iter().enumerate() {
        let size =
            if hole.round { show(hole.size.0) } else { format!("{} × {}", show(hole.size.0), mm_figure(hole.size.1)) };
        words.skip(1.0);
        words.say(&format!("{} {} {size}", letter(number), kind(hole)), 5.0, true);
        let fall = hole.fall.map_or_else(String::new, |(slope, higher)| {
            format!("; drilled to fall {} outward, {} higher on the back", display::slope_percent(slope), show(higher))
        });
        words.say(&format!("{} from the left edge, {} up{fall}", show(hole.at.x), show(hole.at.y)), WORDS, false);
    }
}

/// Below the front: its edges, its sheet, what is ticked.
fn edge_words(checked: &Checked, card: &BlockCard, words: &mut Column) {
    let (model, lead) = (&checked.model, checked.model.project.units);
    let show = |length: Length| both(length, lead);
    if let Some((angle, drop)) = card.bevel {
        words.say(&format!("bevel {angle:.0}°: front {} lower", show(drop)), 5.0, true);
    }
    words.say(
        &format!("drip: saw kerf {} deep, {} behind the front (common practice)", show(DRIP.0), show(DRIP.1)),
        WORDS,
        false,
    );
    if let Some(good) = block(model, card).and_then(|block| model.product_of(block.cut_from.as_ref()?)) {
        let face = match good.good_face {
            Some("both") => "either face out".to_owned(),
            Some(_) => "good face out".to_owned(),
            None => "cannot tell which face is good: look".to_owned(),
        };
        words.say(&format!("from {}; {face}", good.name.replace('_', " ")), WORDS, false);
    }
    words.skip(1.0);
    words.tick("cut, bored, bevelled");
    words.tick("cut edges sealed, mark on the back");
}

fn back_words(checked: &Checked, card: &BlockCard, off: Option<&LiftOff>, words: &mut Column) {
    let (model, lead) = (&checked.model, checked.model.project.units);
    let show = |length: Length| both(length, lead);
    words.say(&format!("{} wall", face_name(model, card.face).replace('_', " ")), 5.0, true);
    if let Some(cap) = card.cap {
        words.say(&format!("cap {} with its dams", show(cap)), WORDS, false);
    }
    if let Some(gap) = block(model, card).and_then(|block| block.side_gap) {
        words.say(&format!("{} open at each side", show(gap)), WORDS, false);
    }
    if let Some(proud) = card.proud {
        let usual = format!("{} to {} is common practice", mm_figure(PROUD.0), mm_figure(PROUD.1));
        words.say(&format!("{} in front of the cladding; {usual}", show(proud)), WORDS, false);
    }
    if let (Some((wide, high)), Some(size)) = (card.least, card.size) {
        let fits = if wide <= size.0 && high <= size.1 { "it is large enough" } else { "it is too small" };
        words.say(
            &format!(
                "what it carries, with {} round it, wants {} × {}: {fits}",
                mm_figure(MARGIN),
                show(wide),
                show(high)
            ),
            WORDS,
            false,
        );
    }
    for screw in &card.screws {
        words.say(&format!("screw {} from the left of the front, {} up", show(screw.x), show(screw.y)), WORDS, false);
    }
    words.skip(1.0);
    match off {
        Some(off) => {
            let barred: Vec<&String> = off.covered.iter().chain(&off.held).collect();
            let answer = match (barred.is_empty(), off.untold.is_empty()) {
                (false, _) => "DOES NOT COME OFF",
                (true, false) => "comes off? cannot tell",
                (true, true) => "comes off uncut",
            };
            words.say(answer, 5.0, true);
            for (number, step) in off.steps.iter().enumerate() {
                words.say(&format!("{} {step}", number + 1), WORDS, false);
            }
            barred.into_iter().chain(&off.untold).for_each(|fact| words.say(fact, WORDS, true));
        }
        None => words.say("not said to be removable: it stays", WORDS, false),
    }
    if !card.missing.is_empty() {
        words.skip(1.0);
        words.say("cannot tell:", 5.0, true);
        card.missing.iter().for_each(|fact| words.say(fact, WORDS, false));
    }
    words.skip(1.0);
    words.tick("dry-fitted; taken off once and put back");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cards_stay_on_their_sheets_and_show_every_hole() {
        let checked = crate::session::heron_lane();
        let outputs = Blocks.emit(&checked);
        assert_eq!(outputs, Blocks.emit(&checked));
        let cards = block_cards::find(&checked.model, &checked.plan);
        let offs = lift_offs(&checked.model, &checked.plan, &cards);
        assert!(offs[0].covered.is_empty() && offs[0].held.is_empty() && offs[0].untold.is_empty(), "{offs:?}");
        for sheet in drawn(&checked, &cards[0], off_of(&cards[0], &offs)) {
            let area = sheet.area();
            for item in &sheet.items {
                let bounds = item.bounds().unwrap();
                assert!(bounds.right() <= area.right() + 0.5 && bounds.bottom() <= area.bottom() + 0.5, "{bounds:?}");
            }
        }
        let csv = outputs.iter().find(|output| output.path == "blocks/block_holes.csv").unwrap();
        insta::assert_snapshot!("block_holes", String::from_utf8(csv.bytes.clone()).unwrap());
    }
}
