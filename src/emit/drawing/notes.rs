//! Words on a drawing: notes with leaders, brackets along a stretch, and the chalk strokes of findings.

use super::dimension::push;
use super::item::{Anchor, Fill, Ink, Item, LARGE, SMALL, Stroke, Text};
use super::place::{Candidate, Labels};
use super::shape::{Point, at};
use super::text;

/// The widest a note runs before it breaks, mm.
const NOTE_WIDTH: f64 = 48.0;

/// A note tied to a place by a leader that ends in a point. Keep it short: one sentence of fix.
pub fn note(content: &str, target: Point, labels: &mut Labels) -> Item {
    let lines = text::wrap(content, NOTE_WIDTH, SMALL, false);
    let mut ways = Vec::new();
    for reach in [9.0, 15.0, 22.0, 30.0, 40.0, 52.0] {
        for (right, down) in [(1.0, -1.0), (-1.0, -1.0), (1.0, 1.0), (-1.0, 1.0), (1.0, 0.0), (-1.0, 0.0)] {
            ways.push(note_at(&lines, target, right, down * reach, reach));
        }
    }
    let mut items = vec![Item::Circle { centre: target, radius: 0.7, stroke: None, fill: Fill::Solid(Ink::Black) }];
    push(&mut items, labels.place(ways));
    Item::group("notes", items)
}

/// A note whose shelf lies `down` mm below its target and some way to one side (`right` 1 or −1).
fn note_at(lines: &[String], target: Point, right: f64, down: f64, reach: f64) -> Candidate {
    let knee = target.shift(right * reach * 0.6, down);
    let shelf = knee.shift(right * 3.0, 0.0);
    let anchor = if right > 0.0 { Anchor::Start } else { Anchor::End };
    let step = SMALL * 1.5;
    let top = shelf.y + SMALL / 2.0 - step * (lines.len().saturating_sub(1) as f64) / 2.0;
    let texts = lines
        .iter()
        .enumerate()
        .map(|(index, line)| {
            Text::new(at(shelf.x + right, top + step * index as f64), line.as_str()).anchor(anchor).plate()
        })
        .collect();
    Candidate { texts, leader: vec![target, knee, shelf] }
}

/// A label that stands on or beside a place without a leader: the middle first, then about it.
pub fn label(content: &str, middle: Point, size: f64, labels: &mut Labels) -> Item {
    let step = size * 1.7;
    let around = [(0.0, 0.0), (0.0, -1.0), (0.0, 1.0), (0.0, -2.0), (0.0, 2.0), (0.0, -3.0), (0.0, 3.0)];
    let text = Text::new(middle, content).size(size).bold().halo().anchor(Anchor::Middle).centred();
    let ways = around.iter().flat_map(|(_, down)| {
        [0.0, 0.6, -0.6].map(|aside| {
            let moved = text.at.shift(aside * text.width(), down * step);
            Candidate::text(Text { at: moved, ..text.clone() })
        })
    });
    let mut items = Vec::new();
    push(&mut items, labels.place(ways.collect()));
    Item::group("labels", items)
}

/// A bracket along a straight stretch, `off` mm to the left of the way from `from` to `to` (negative: to the right),
/// with its ends turned back to the stretch and a text at its middle.
pub fn bracket(from: Point, to: Point, off: f64, content: &str, labels: &mut Labels) -> Item {
    let heading = from.heading(to);
    let aside = |point: Point, by: f64| point.shift(heading.y * by, -heading.x * by);
    let back = off - off.signum() * 2.0;
    let line = vec![aside(from, back), aside(from, off), aside(to, off), aside(to, back)];
    labels.keep_line_clear(&line, 0.8);
    let middle = from.towards(to, 0.5);
    let upright = heading.y.abs() > 0.7;
    let ways = (0..6).map(|row| {
        let room = off + off.signum() * (SMALL / 2.0 + 2.2 + f64::from(row) * SMALL * 1.6);
        let text = Text::new(aside(middle, room), content).anchor(Anchor::Middle).plate();
        Candidate::text(if upright { text.turned(-90.0) } else { text }.centred())
    });
    let mut items = vec![Item::polyline(line, Stroke::MEDIUM)];
    push(&mut items, labels.place(ways.collect()));
    Item::group("brackets", items)
}

/// The mark of a finding on the wall: a rough, bold stroke of chalk along a stretch, with its letter beside it.
///
/// The roughness comes from the letter and the place along the stroke alone, so that it is the same in every run.
/// `id` names the group; `title` is the message, for those who point at it.
pub fn chalk(letter: &str, id: &str, title: &str, along: &[Point], labels: &mut Labels) -> Item {
    let seed = letter.bytes().fold(7_u32, |seed, byte| seed.wrapping_mul(31).wrapping_add(u32::from(byte)));
    let spine = walk(along, 1.1);
    let mut items = vec![Item::polygon(rough(&spine, seed), None, Fill::Solid(Ink::Black))];
    items.extend(flecks(&spine, seed));
    labels.keep_line_clear(along, 2.6);
    let (start, end) = (spine.first().copied().unwrap_or_default(), spine.last().copied().unwrap_or_default());
    let middle = spine.get(spine.len() / 2).copied().unwrap_or_default();
    let mut ways = Vec::new();
    for reach in [1.0, 1.5, 2.2] {
        for place in [middle, start.towards(middle, 0.3), end.towards(middle, 0.3), start, end] {
            // Further above than below: a text keeps room for descenders.
            for (right, down) in [(0.0, -6.4), (0.0, 5.0), (5.5, 0.0), (-5.5, 0.0)] {
                let spot = place.shift(right * reach, down * reach);
                let text = Text::new(spot, letter).size(LARGE).bold().halo().anchor(Anchor::Middle);
                ways.push(Candidate::text(text.centred()));
            }
        }
    }
    push(&mut items, labels.place(ways));
    Item::named("finding", id, title, items)
}

/// Points every `step` mm along a line, its ends among them.
fn walk(line: &[Point], step: f64) -> Vec<Point> {
    let mut points: Vec<Point> = line.first().copied().into_iter().collect();
    for pair in line.windows(2) {
        if let [from, to] = pair {
            let count = (from.distance(*to) / step).ceil().clamp(1.0, 2000.0) as u32;
            points.extend((1..=count).map(|index| from.towards(*to, f64::from(index) / f64::from(count))));
        }
    }
    points
}

/// The ragged outline of a stroke about 2.4 mm wide.
fn rough(spine: &[Point], seed: u32) -> Vec<Point> {
    let edge = |side: f64, salt: u32| {
        spine.iter().enumerate().map(move |(index, point)| {
            let heading = heading_at(spine, index);
            let by = side * (1.2 + 0.2 * noise(seed ^ salt, index));
            point.shift(heading.y * by + heading.x * 0.3 * noise(seed, index), -heading.x * by)
        })
    };
    let mut outline: Vec<Point> = edge(1.0, 1).collect();
    let mut back: Vec<Point> = edge(-1.0, 2).collect();
    back.reverse();
    outline.append(&mut back);
    outline
}

/// White scratches along the stroke, where chalk skips: two tracks, each on and off in runs of three steps.
fn flecks(spine: &[Point], seed: u32) -> Vec<Item> {
    let mut items = Vec::new();
    for (track, off) in [(11, -0.6), (12, 0.5)] {
        for (run, points) in spine.chunks(3).enumerate() {
            if points.len() > 1 && noise(seed ^ track, run) > 0.25 {
                let aside = points.iter().enumerate().map(|(index, point)| {
                    let heading = heading_at(points, index);
                    point.shift(heading.y * off, -heading.x * off)
                });
                items.push(Item::polyline(aside.collect(), Stroke::LIGHT.ink(Ink::White)));
            }
        }
    }
    items
}

fn heading_at(spine: &[Point], index: usize) -> Point {
    let before = spine.get(index.saturating_sub(1)).copied().unwrap_or_default();
    let after = spine.get(index + 1).or(spine.get(index)).copied().unwrap_or_default();
    before.heading(after)
}

/// A number from −1 to 1 that depends on its arguments alone.
fn noise(seed: u32, index: usize) -> f64 {
    let mut bits = seed.wrapping_add((index as u32).wrapping_mul(0x9e37_79b9));
    bits = (bits ^ (bits >> 16)).wrapping_mul(0x85eb_ca6b);
    bits = (bits ^ (bits >> 13)).wrapping_mul(0xc2b2_ae35);
    f64::from((bits ^ (bits >> 16)) % 2001) / 1000.0 - 1.0
}

#[cfg(test)]
mod tests {
    use super::super::shape::Rect;
    use super::super::svg::{Page, write};
    use super::*;

    fn chalked(letter: &str, title: &str, along: &[Point]) -> String {
        let mut labels = Labels::new(Rect::edges(0.0, 0.0, 200.0, 100.0));
        let page = Page { id: "s", width_mm: 200.0, height_mm: 100.0, title: "t", description: "" };
        write(&page, &[chalk(letter, &format!("finding {letter}"), title, along, &mut labels)])
    }

    #[test]
    fn a_chalk_stroke_has_a_name_and_its_message_and_is_the_same_again() {
        let along = [at(20.0, 50.0), at(80.0, 55.0)];
        let svg = chalked("A", "clearance < 200 mm", &along);
        assert!(svg.contains(r#"<g class="finding" id="s-finding-a">"#), "{svg}");
        assert!(svg.contains("<title>clearance &lt; 200 mm</title>") && svg.contains(">A</text>"));
        assert_eq!(svg, chalked("A", "clearance < 200 mm", &along));
        assert_ne!(svg, chalked("B", "clearance < 200 mm", &along));
    }

    #[test]
    fn strokes_without_length_and_stray_numbers_are_drawn_without_panic() {
        for along in [vec![], vec![at(5.0, 5.0)], vec![at(5.0, 5.0); 2], vec![at(f64::NAN, 0.0), at(1e300, 4.0)]] {
            assert!(chalked("A", "", &along).contains("</svg>"));
        }
    }

    #[test]
    fn a_note_keeps_its_words_and_its_leader_starts_at_its_target() {
        let mut labels = Labels::new(Rect::edges(0.0, 0.0, 200.0, 100.0));
        let content = "screened base, open over its whole length, no insulation in it";
        let Item::Group(group) = note(content, at(100.0, 50.0), &mut labels) else { panic!("a group") };
        let lines = group.items.iter().filter_map(|item| match item {
            Item::Text(text) => Some(text.content.as_str()),
            _ => None,
        });
        assert_eq!(lines.collect::<Vec<_>>().join(" "), content);
        assert!(matches!(&group.items[1], Item::Line { points, .. } if points[0] == at(100.0, 50.0)));
    }
}
