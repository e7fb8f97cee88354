//! Sample sheets for tests: an invented wall drawn with every kind of mark, and a key of the hatches.

use super::*;
use crate::units::{Length, System};

/// The line the samples carry.
const FOOTER: &str = "3 faults found in what was declared. 2 checks can't tell: data missing. This is not approval. Rules: sample set, edition 0. The local code and licensed practice decide.";

fn mm(millimetres: i64) -> Length {
    Length::mm(millimetres)
}

fn title(words: &str) -> TitleBlock {
    TitleBlock {
        title: words.to_owned(),
        subtitle: "Heron Lane".to_owned(),
        footer: FOOTER.to_owned(),
        revision: Some("B".to_owned()),
        date: Some("2026-03-04".to_owned()),
        code: Some("7KQ2".to_owned()),
        ..TitleBlock::default()
    }
}

const OUTLINE: [(i64, i64); 5] = [(0, 0), (0, 5400), (9600, 5400), (9600, -700), (6000, -400)];
const WINDOWS: [(&str, [i64; 4]); 2] = [("W1", [1500, 1100, 2700, 2600]), ("W2", [5600, 900, 7400, 2600])];

/// Where a course line lies within the outline, as paper segments.
fn courses(view: &View, rings: &[Vec<Point>]) -> Vec<Item> {
    (-5..40)
        .map(|row| view.y(mm(135 * row + 150)))
        .flat_map(|y| shape::clip(rings, at(0.0, y), at(420.0, y)))
        .map(|[a, b]| Item::line(a, b, Stroke::LIGHT))
        .collect()
}

/// A wall as an elevation: sloped base, courses, two windows, dimensions, chalk strokes, notes.
fn elevation() -> Sheet {
    let mut sheet = Sheet::new("n-elevation", Paper::A3, title("North wall, elevation"));
    let wall = OUTLINE.map(|(x, y)| (mm(x), mm(y)));
    let area = sheet.area();
    let mut labels = Labels::new(area);
    let room = Rect { x: area.x + 34.0, y: area.y + 28.0, width: area.width - 80.0, height: area.height - 66.0 };
    let view = View::fit(&Extent::around(wall), &room);
    sheet.scale = Some(view.scale);
    sheet.description = "Elevation of the north wall from outside: a base that falls to the right, two windows.".into();

    let outline = view.points(&wall);
    let boxes: Vec<Rect> = WINDOWS
        .iter()
        .map(|(_, [left, bottom, right, top])| {
            view.rect(&Extent { left: mm(*left), bottom: mm(*bottom), right: mm(*right), top: mm(*top) })
        })
        .collect();
    let mut rings = vec![outline.clone()];
    rings.extend(boxes.iter().map(|rect| rect.corners().to_vec()));
    let grade = [(-600, -150), (0, -150), (6000, -550), (9600, -850), (10200, -850), (10200, -1100), (-600, -1100)];
    let grade = grade.map(|(x, y)| (mm(x), mm(y)));
    let earth = Item::polygon(view.points(&grade), None, Fill::Hatch(Hatch::Earth));
    let surface = Item::polyline(view.points(grade.get(..5).unwrap()), Stroke::MEDIUM);
    sheet.layer("grade", vec![earth, surface]);
    labels.keep_outline_clear(&outline, 1.0);
    sheet.layer("courses", courses(&view, &rings));
    let today = view.rect(&Extent { left: mm(0), bottom: mm(3525), right: mm(4800), top: mm(5400) });
    sheet.layer("today", vec![Item::rect(today, None, Fill::Over(Hatch::Today))]);
    sheet.layer("outline", vec![Item::Outline { rings: vec![outline], stroke: Some(Stroke::HEAVY), fill: Fill::None }]);
    let openings = boxes.iter().map(|rect| Item::rect(*rect, Some(Stroke::MEDIUM), Fill::White)).collect();
    sheet.layer("openings", openings);
    sheet.push(marks::stop_line(&view, mm(3525), view.x(mm(-250)), view.x(mm(9850))));
    dimension_layers(&mut sheet, &view, &mut labels);
    finding_layers(&mut sheet, &view, &boxes, &mut labels);
    sheet
}

fn dimension_layers(sheet: &mut Sheet, view: &View, labels: &mut Labels) {
    let base = view.y(mm(-1100));
    let across = [0, 1500, 1565, 2700, 5600, 7400, 9600].map(mm);
    sheet.push(Chain::new(Along::Across, &across, base + 8.0, base).draw(view, labels));
    let next = sheet.items.last().and_then(Item::bounds).map_or(base, |drawn| drawn.bottom());
    let whole = [mm(0), mm(9600)];
    sheet.push(Chain::new(Along::Across, &whole, next + 8.0, next + 1.0).draw(view, labels));
    let up = [0, 1100, 2600, 5400].map(mm);
    sheet.push(Chain::new(Along::Up, &up, view.x(mm(0)) - 14.0, view.x(mm(0))).draw(view, labels));
    let right = view.x(mm(9600)) + 16.0;
    for (name, height) in [("datum", 0), ("head", 2600), ("stop", 3525), ("top", 5400), ("low end", -700)] {
        sheet.push(marks::level(name, mm(height), at(right, view.y(mm(height))), System::Metric, labels));
    }
}

fn finding_layers(sheet: &mut Sheet, view: &View, boxes: &[Rect], labels: &mut Labels) {
    for rect in boxes {
        labels.keep_outline_clear(&rect.corners(), 1.0);
    }
    let base = view.points(&[(mm(6600), mm(-450)), (mm(9000), mm(-650))]);
    sheet.push(notes::chalk("A", "finding-a", "base clearance 150 mm, needs 200 mm", &base, labels));
    let sill = view.points(&[(mm(1500), mm(1100)), (mm(2700), mm(1100))]);
    sheet.push(notes::chalk("B", "finding-b", "sill pan has no end dam", &sill, labels));
    let top = view.points(&[(mm(5200), mm(5400)), (mm(8800), mm(5400))]);
    sheet.push(notes::chalk("C", "finding-c", "closed top without an outlet", &top, labels));
    for ((name, _), rect) in WINDOWS.iter().zip(boxes) {
        sheet.push(notes::label(name, rect.centre(), item::LARGE, labels));
    }
    let corner = view.point(mm(0), mm(5400));
    sheet.push(notes::bracket(corner, view.point(mm(4800), mm(5400)), 5.0, "section N3, today", labels));
    let pipe = view.point(mm(3900), mm(700));
    sheet.push(Item::Circle { centre: pipe, radius: 1.2, stroke: Some(Stroke::MEDIUM), fill: Fill::White });
    sheet.push(notes::note("hose bib P4: block bored before it goes up", pipe, labels));
    sheet.push(marks::north(at(sheet.area().x + 12.0, sheet.area().y + 12.0), 0.0, labels));
}

/// A wall cut across at 1:10 with the ways of water and air.
fn section() -> Sheet {
    let mut sheet = Sheet::new("n-base", Paper::A4, title("Base at foundation, wall section"));
    sheet.title.lead = System::Imperial;
    sheet.title.superseded_by = Some("sheet 12 C".to_owned());
    let area = sheet.area();
    let mut labels = Labels::new(area);
    let extent = Extent { left: mm(0), bottom: mm(-300), right: mm(292), top: mm(700) };
    let view = View::fit(&extent, &Rect { y: area.y + 22.0, height: area.height - 26.0, ..area });
    sheet.scale = Some(view.scale);
    let parts = [
        ([0, 0, 19, 700], Hatch::HorizontalBoard),
        ([19, 0, 38, 700], Hatch::Gap),
        ([38, 0, 88, 700], Hatch::InsulationBoard),
        ([88, -20, 92, 700], Hatch::Membrane),
        ([92, 0, 104, 700], Hatch::Board),
        ([104, 76, 244, 700], Hatch::Insulation),
        ([104, 38, 244, 76], Hatch::EndGrain),
        ([104, 0, 244, 38], Hatch::EndGrain),
        ([92, -300, 292, 0], Hatch::Concrete),
        ([10, -14, 92, 0], Hatch::Metal),
        ([-300, -300, 92, -200], Hatch::Earth),
    ];
    let rect = |[left, bottom, right, top]: [i64; 4]| {
        view.rect(&Extent { left: mm(left), bottom: mm(bottom), right: mm(right), top: mm(top) })
    };
    let items = parts.iter().map(|(edges, hatch)| Item::rect(rect(*edges), Some(Stroke::MEDIUM), Fill::Hatch(*hatch)));
    sheet.layer("parts", items.collect());
    let line = view.points(&[(mm(92), mm(700)), (mm(92), mm(0)), (mm(104), mm(0))]);
    sheet.push(Item::polyline(line, Stroke::HEAVY.ink(Ink::Barrier)));
    labels.keep_clear(rect([0, -300, 292, 700]));
    let drop = view.points(&[(mm(-30), mm(600)), (mm(-30), mm(30)), (mm(-30), mm(-120))]);
    sheet.push(marks::water(&drop, &mut labels));
    sheet.push(marks::air(&view.points(&[(mm(28), mm(-120)), (mm(28), mm(300)), (mm(28), mm(620))]), &mut labels));
    sheet.push(marks::outside(view.point(mm(-420), mm(560)), 180.0, &mut labels));
    let up = [-200, 0, 38, 76, 700].map(mm);
    sheet.push(
        Chain::new(Along::Up, &up, view.x(mm(400)), view.x(mm(292))).lead(System::Imperial).draw(&view, &mut labels),
    );
    let across = [0, 19, 38, 88, 104, 244].map(mm);
    let top = view.y(mm(700));
    sheet.push(Chain::new(Along::Across, &across, top - 6.0, top).lead(System::Imperial).draw(&view, &mut labels));
    sheet.push(notes::note("flashing laps under the membrane", view.point(mm(80), mm(-7)), &mut labels));
    sheet.push(notes::note("screened base, open over its whole length", view.point(mm(28), mm(2)), &mut labels));
    sheet
}

/// Every hatch with its name.
fn key() -> Sheet {
    let mut sheet = Sheet::new("key", Paper::A4, title("Key of hatches"));
    let area = sheet.area();
    for (index, hatch) in Hatch::ALL.into_iter().enumerate() {
        let (column, row) = ((index % 4) as f64, (index / 4) as f64);
        let corner = at(area.x + 4.0 + 67.0 * column, area.y + 4.0 + 46.0 * row);
        let ring = [(0.0, 0.0), (60.0, 0.0), (60.0, 26.0), (30.0, 32.0), (0.0, 32.0)];
        let ring = ring.map(|(x, y)| corner.shift(x, y)).to_vec();
        sheet.push(Item::polygon(ring, Some(Stroke::MEDIUM), Fill::Hatch(hatch)));
        sheet.push(Text::new(corner.shift(0.0, 38.0), hatch.name()).size(item::FIGURE));
    }
    sheet.push(marks::check_bar(at(area.x + 4.0, area.bottom() - 1.0)));
    sheet
}

/// A few items, small enough to read as SVG.
fn small() -> Sheet {
    let mut sheet = Sheet::new("small", Paper::A4, title("Strip <1> & \"2\""));
    sheet.scale = Some(Scale(10));
    let view = View::new(Scale(10), (Length::ZERO, Length::ZERO), at(20.0, 100.0));
    let mut labels = Labels::new(sheet.area());
    let part = view.rect(&Extent { left: mm(0), bottom: mm(0), right: mm(100), top: mm(50) });
    sheet.layer("parts", vec![Item::rect(part, Some(Stroke::HEAVY), Fill::Hatch(Hatch::Board))]);
    let arc = Item::Arc { centre: part.centre(), radius: 2.0, from: 0.0, sweep: 90.0, stroke: Stroke::LIGHT };
    sheet.push(arc);
    sheet.push(Chain::new(Along::Across, &[mm(0), mm(100)], 108.0, 100.0).draw(&view, &mut labels));
    sheet
}

#[test]
fn a_small_sheet_is_written_as_before() {
    insta::assert_snapshot!(small().to_svg());
}

#[test]
fn a_sheet_is_the_same_in_every_run() {
    assert_eq!(elevation().to_svg(), elevation().to_svg());
    assert_eq!(section().to_svg(), section().to_svg());
}

#[test]
fn a_sheet_prints_true_to_scale() {
    let svg = small().to_svg();
    assert!(svg.contains(r#"width="297mm" height="210mm" viewBox="0 0 297 210""#));
    assert!(svg.contains(r#"<path d="M20 95L30 95L30 100L20 100Z""#), "100 mm at 1:10 is 10 mm");
}

/// All texts of a sheet with their boxes.
pub(crate) fn texts(items: &[Item]) -> Vec<Text> {
    items
        .iter()
        .flat_map(|item| match item {
            Item::Text(text) => vec![text.clone()],
            Item::Group(group) => texts(&group.items),
            _ => Vec::new(),
        })
        .collect()
}

#[test]
fn no_text_of_the_samples_lies_over_another_or_off_the_paper() {
    for sheet in [elevation(), section(), key(), small()] {
        let paper = Rect { x: 0.0, y: 0.0, width: sheet.width_mm, height: sheet.height_mm };
        let texts = texts(&sheet.all_items());
        for (index, one) in texts.iter().enumerate() {
            let area = one.bounds();
            assert!(one.size >= item::SMALL, "{} is too small", one.content);
            assert!(
                (paper.overlap(&area) - area.width * area.height).abs() < 1e-6,
                "{} leaves {}",
                one.content,
                sheet.id
            );
            for other in texts.iter().skip(index + 1) {
                let shared = area.overlap(&other.bounds());
                assert!(shared < 0.01, "`{}` over `{}` on {}", one.content, other.content, sheet.id);
            }
        }
    }
}

/// Writes the samples where `WYTHE_SAMPLES` points, to be looked at.
#[test]
fn samples_can_be_looked_at() {
    let Some(folder) = std::env::var_os("WYTHE_SAMPLES") else { return };
    for sheet in [elevation(), section(), key(), small()] {
        std::fs::write(std::path::Path::new(&folder).join(format!("{}.svg", sheet.id)), sheet.to_svg()).unwrap();
    }
}
