//! The jobs that a user would otherwise script, on the same inputs as `benches/user_compare.py`, which runs this and the scripts
//! one after the other and prints both times. One line a job: name, least seconds of five runs, what came out.

use std::collections::BTreeSet;
use std::fmt::Display;
use std::io::Write as _;
use std::time::Instant;

use wythe::geometry::{Point, Polygon, Region, Ring};
use wythe::layout::cutting::{self, Order, Stock, Want};
use wythe::units::Length;

fn main() {
    // Cargo hands `--bench` over; nothing else is asked.
    let wall = wall();
    let strips: Vec<Region> = strips().collect();
    let together: Region = strips.iter().flat_map(|strip| strip.polygons().to_vec()).collect();
    tell("clip_one_by_one", || {
        let cut = strips.iter().map(|strip| strip.intersection(&wall).polygons().len());
        cut.sum::<usize>()
    });
    tell("clip_together", || together.intersection(&wall).polygons().len());
    for (name, order) in [("cut_paper13", paper()), ("cut_random200x5", random())] {
        tell(name, || {
            let found = cutting::plan(&order);
            format!("{} of at least {}, proven {}", found.cost, found.bound, found.proven)
        });
    }
}

/// Least time of five runs, and what came out.
fn tell<T: Display>(name: &str, job: impl Fn() -> T) {
    let mut least = f64::INFINITY;
    let mut shown = String::new();
    for _ in 0..5 {
        let begun = Instant::now();
        let found = job();
        least = least.min(begun.elapsed().as_secs_f64());
        shown = found.to_string();
    }
    let _ = writeln!(std::io::stdout(), "{name}\t{least:.6}\t{shown}");
}

/// A rectangle in hundredths of a millimetre, which are exact.
fn rectangle(left: i64, bottom: i64, right: i64, top: i64) -> Polygon {
    let [left, bottom, right, top] = [left, bottom, right, top].map(|at| Length(at * 10_000));
    Polygon::rectangle(left, bottom, right, top)
}

/// 1200 by 270 with twenty openings.
fn wall() -> Region {
    let hole = |at: i64| {
        let left = (30 + 58 * at) * 100;
        let corners = [(left, 6_000), (left, 18_000), (left + 3_000, 18_000), (left + 3_000, 6_000)];
        Ring::new(corners.map(|(x, y)| Point::new(Length(x * 10_000), Length(y * 10_000))).to_vec())
    };
    let outline = rectangle(0, 0, 120_000, 27_000);
    Polygon::new(outline.outline().clone(), (0..20).map(hole).collect()).into()
}

/// Ten thousand strips of 0.095, 0.12 apart, a little higher than the wall.
fn strips() -> impl Iterator<Item = Region> {
    (0..10_000).map(|at| {
        let left = Length(at * 120_000);
        let strip = Polygon::rectangle(left, Length(-500_000), left + Length(95_000), Length(270_500_000));
        Region::from(strip)
    })
}

fn order(stock: i64, wants: impl IntoIterator<Item = (i64, u64)>) -> Order {
    Order {
        wants: wants.into_iter().map(|(length, count)| Want { length: Length::mm(length), count }).collect(),
        stocks: vec![Stock { length: Length::mm(stock), cost: 1, available: None }],
        kerf: Length::ZERO,
    }
}

/// The published order of paper rolls.
fn paper() -> Order {
    let widths = [1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200];
    let counts = [22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20];
    order(5600, widths.into_iter().zip(counts))
}

/// Two hundred distinct lengths, five of each, from 6000.
fn random() -> Order {
    let (mut state, mut lengths) = (7_u64, BTreeSet::new());
    while lengths.len() < 200 {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        lengths.insert(300 + i64::try_from((state >> 33) % 2400).unwrap_or(0));
    }
    order(6000, lengths.into_iter().map(|length| (length, 5)))
}
