//! Boards drawn as boards: pencil marks where they are cut, the mark of each piece on it, a circle to strike off.

use std::collections::BTreeMap;

use super::{face_name, mark, product_name};
use crate::emit::drawing::{Anchor, Backing, Fill, Item, Paper, Rect, Sheet, Stroke, Text, at, text};
use crate::emit::table::{Cell, Kind, Table, column};
use crate::emit::titles;
use crate::layout::cut_plans::{ProductPlan, WallPlan};
use crate::layout::cutting::Bar;
use crate::layout::pieces::{Piece, Pieces};
use crate::model::Model;
use crate::session::Checked;
use crate::units::display::{Tape, inches, mm_figure};
use crate::units::{Length, System};

/// From one board to the next.
const ROW: f64 = 20.0;
/// Height of a drawn board.
const BOARD: f64 = 8.0;
/// Height of figures.
const FIGURE: f64 = 3.2;
/// Circles to strike off: so wide, this far apart, at most so many in a row.
const CIRCLE: (f64, f64, u64) = (6.0, 7.0, 3);
/// Room at the left for circles and the count.
const LEFT: f64 = 34.0;

/// One row a bar: the marks in the order of the cuts.
pub(super) fn table(model: &Model, pieces: &Pieces, plan: &ProductPlan) -> Table {
    let columns = vec![
        column("wall", "wall", Kind::Text),
        column("boards", "boards", Kind::Count),
        column("stock", "stock", Kind::Length),
        column("from", "from", Kind::Text),
        column("pieces", "pieces, from the left end", Kind::Text),
        column("kerf", "saw takes", Kind::Length),
        column("offcut", "left over", Kind::Length),
        column("keep", "keep it", Kind::Text),
    ];
    let name = model.product(plan.product).map_or("", |product| product.name.as_str());
    let mut table = Table::new(format!("cut_plan_{name}"), format!("Cut plan, {}", product_name(model, plan)), columns);
    table.notes = words(plan);
    for wall in &plan.walls {
        for bar in &wall.plan.bars {
            let cut = each(wall, bar, &pieces.list).map(|piece| format!("{} {}", mark(piece), mm_figure(piece.length)));
            table.row([
                face_name(model, wall.face).into(),
                bar.count.into(),
                wall.order.stocks[bar.stock].length.into(),
                if bar.stock < wall.new_stocks { "new" } else { "offcut" }.into(),
                cut.collect::<Vec<_>>().join(", ").into(),
                bar.kerf.into(),
                bar.offcut.into(),
                Cell::from(if bar.offcut >= plan.keep { "yes" } else { "" }),
            ]);
        }
    }
    table
}

/// What was bought, how good that is, and what is left.
pub(super) fn words(plan: &ProductPlan) -> Vec<String> {
    let buy = plan.buy.iter().map(|(length, count)| format!("{count} × {}", both(*length)));
    let buy: Vec<String> = buy.collect();
    let metres = |mm: i64| format!("{:.2} m", mm as f64 / 1000.0);
    let unit = |cost: i64| if plan.priced { format!("{:.2}", cost as f64 / 100.0) } else { metres(cost) };
    let good = if plan.cost == plan.bound {
        "no way of cutting these walls together takes less: proven".to_owned()
    } else {
        format!(
            "{} is bought; cut all together no way takes less than {} (not proven that one takes so little)",
            unit(plan.cost),
            unit(plan.bound)
        )
    };
    let mut words = vec![format!("buy {}", if buy.is_empty() { "nothing".to_owned() } else { buy.join(", ") }), good];
    let mut kept: BTreeMap<Length, usize> = BTreeMap::new();
    plan.offcuts.iter().for_each(|length| *kept.entry(*length).or_default() += 1);
    if !kept.is_empty() {
        let longest: Vec<String> =
            kept.iter().rev().take(6).map(|(length, count)| format!("{count} × {}", mm_figure(*length))).collect();
        let total = plan.offcuts.len();
        words.push(format!(
            "{total} offcuts of {} and more are left at the end; the longest in mm: {}",
            both(plan.keep),
            longest.join(", ")
        ));
    }
    words
}

fn both(length: Length) -> String {
    format!("{} mm ({})", mm_figure(length), inches(length, Tape::Sixteenth))
}

/// The pieces of a bar, the longest first.
fn each<'p>(wall: &'p WallPlan, bar: &'p Bar, list: &'p [Piece]) -> impl Iterator<Item = &'p Piece> {
    let repeated = bar.pieces.iter().flat_map(|&(at, count)| std::iter::repeat_n(at, count as usize));
    repeated.filter_map(|at| list.get(*wall.pieces.get(at)?))
}

/// Sheets of boards, wall by wall.
pub(super) fn sheets(checked: &Checked, pieces: &Pieces, plan: &ProductPlan) -> Vec<Sheet> {
    let model = &checked.model;
    let title = format!("Cut plan, {}", product_name(model, plan));
    let name = model.product(plan.product).map_or("", |product| product.name.as_str());
    let longest =
        plan.walls.iter().flat_map(|wall| &wall.order.stocks).map(|stock| stock.length).max().unwrap_or_default();
    let mut sheets: Vec<Sheet> = Vec::new();
    let mut y = f64::INFINITY;
    for wall in &plan.walls {
        for (at_bar, bar) in wall.plan.bars.iter().enumerate() {
            let bottom = sheets.last().map_or(0.0, |sheet| sheet.area().bottom());
            if y + ROW > bottom {
                let id = format!("cut-plan-{name}-{}", sheets.len() + 1);
                let mut sheet = Sheet::new(&id, Paper::A4, titles::block(checked, &title));
                sheet.description = format!("{title}: boards with their cuts, {} wall", face_name(model, wall.face));
                y = sheet.area().y;
                if sheets.is_empty() {
                    y = head(&mut sheet, plan, y);
                }
                sheets.push(sheet);
            }
            let Some(sheet) = sheets.last_mut() else { continue };
            let area = sheet.area();
            let scale = (area.width - LEFT) / longest.as_mm().max(1.0);
            let new_wall = at_bar == 0;
            let items = board(Drawn {
                wall,
                bar,
                list: &pieces.list,
                keep: plan.keep,
                scale,
                left: area.x,
                y,
                lead: checked.model.project.units,
                name: new_wall.then(|| face_name(model, wall.face)),
            });
            sheet.layer("board", items);
            y += ROW;
        }
    }
    let count = sheets.len();
    for (at_sheet, sheet) in sheets.iter_mut().enumerate().filter(|_| count > 1) {
        sheet.title.title = format!("{title} ({} of {count})", at_sheet + 1);
    }
    sheets
}

fn head(sheet: &mut Sheet, plan: &ProductPlan, mut y: f64) -> f64 {
    let area = sheet.area();
    for line in words(plan).iter().flat_map(|words| text::wrap(words, area.width, FIGURE, false)) {
        y += FIGURE + 1.6;
        sheet.push(Text::new(at(area.x, y), line).size(FIGURE));
    }
    y + 4.0
}

/// One kind of bar on paper.
struct Drawn<'d> {
    wall: &'d WallPlan,
    bar: &'d Bar,
    list: &'d [Piece],
    keep: Length,
    scale: f64,
    left: f64,
    y: f64,
    lead: System,
    name: Option<&'d str>,
}

fn board(drawn: Drawn<'_>) -> Vec<Item> {
    let Drawn { wall, bar, list, keep, scale, left, y, lead, name } = drawn;
    let stock = wall.order.stocks[bar.stock].length;
    let mut items = Vec::new();
    if let Some(name) = name {
        items.push(Text::new(at(left, y + 2.6), format!("{} wall", name.replace('_', " "))).size(2.8).bold().into());
    }
    let top = y + 4.4;
    items.extend(circles(bar.count, left, top));
    let x = |length: Length| left + LEFT + length.as_mm() * scale;
    let box_of = |from: Length, to: Length| Rect::edges(x(from), top, x(to), top + BOARD);
    items.push(Item::rect(box_of(Length::ZERO, stock), Some(Stroke::MEDIUM), Fill::White));
    let source =
        if bar.stock < wall.new_stocks { figure(stock, lead) } else { format!("offcut {}", figure(stock, lead)) };
    items.push(Text::new(at(left + LEFT, y + 2.8), source).size(2.8).into());
    let mut at_length = Length::ZERO;
    for piece in each(wall, bar, list) {
        let end = at_length + piece.length;
        let middle = (x(at_length) + x(end)) / 2.0;
        let room = x(end) - x(at_length) - 1.0;
        let label = format!("{}  {}", mark(piece), figure(piece.length, lead));
        let words = if text::width(&label, FIGURE, true) <= room { label } else { mark(piece) };
        items.push(
            Text {
                backing: Backing::Nothing,
                ..Text::new(at(middle, top + BOARD / 2.0 + FIGURE / 2.0), words)
                    .size(FIGURE)
                    .bold()
                    .anchor(Anchor::Middle)
            }
            .into(),
        );
        // A pencil line across, and the tape's reading from the left end.
        items.push(Item::line(at(x(end), top - 1.2), at(x(end), top + BOARD + 1.2), Stroke::MEDIUM));
        items.push(
            Text::new(at(x(end) - 0.6, top + BOARD + 4.2), figure(end, lead)).size(2.8).anchor(Anchor::End).into(),
        );
        at_length = end + wall.order.kerf;
    }
    let cut_to = stock - bar.offcut;
    if bar.offcut > Length::ZERO {
        let room = x(stock) - x(cut_to) - 1.0;
        let words = if bar.offcut >= keep { format!("keep {}", figure(bar.offcut, lead)) } else { "scrap".to_owned() };
        let middle = at((x(cut_to) + x(stock)) / 2.0, top + BOARD / 2.0 + FIGURE / 2.0);
        if text::width(&words, FIGURE, false) <= room {
            items.push(Text::new(middle, words).size(FIGURE).anchor(Anchor::Middle).into());
        }
        if bar.offcut < keep {
            items.push(Item::line(at(x(cut_to), top), at(x(stock), top + BOARD), Stroke::LIGHT));
        }
    }
    items
}

/// As many circles as boards, or a count beside one.
fn circles(count: u64, left: f64, top: f64) -> Vec<Item> {
    let (wide, apart, most) = CIRCLE;
    let circle = |at_circle: u64| Item::Circle {
        centre: at(left + wide / 2.0 + apart * at_circle as f64, top + BOARD / 2.0),
        radius: wide / 2.0,
        stroke: Some(Stroke::MEDIUM),
        fill: Fill::None,
    };
    if count <= most {
        return (0..count).map(circle).collect();
    }
    let words = Text::new(at(left + apart + 2.0, top + BOARD / 2.0 + 2.5), format!("× {count}")).size(5.0).bold();
    vec![circle(0), words.into()]
}

fn figure(length: Length, lead: System) -> String {
    match lead {
        System::Metric => mm_figure(length),
        System::Imperial => inches(length, Tape::Sixteenth).trim_end_matches(" in").to_owned(),
    }
}
