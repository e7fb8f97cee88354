//! Heat through a section of a hundred thousand cells, as `cargo bench --bench conduction` measures it.

use divan::Bencher;
use wythe::physics::conduction::{Film, Grid, Rect, Region, Section, Touch, solve};

fn main() {
    divan::main();
}

/// A wall with studs, screws and a slab: nine materials, some lines of them close together.
fn section() -> Section {
    let rect = |left: f64, low: f64, right: f64, high: f64| Rect { left, low, right, high };
    let mut regions = vec![
        Region { at: rect(0.0, 0.0, 0.0125, 2.0), conductivity: 0.25 },
        Region { at: rect(0.0125, 0.0, 0.1525, 2.0), conductivity: 0.035 },
        Region { at: rect(0.1525, 0.0, 0.1635, 2.0), conductivity: 0.13 },
        Region { at: rect(0.1635, 0.0, 0.2395, 2.0), conductivity: 0.034 },
    ];
    for stud in 0..4 {
        let low = 0.1 + f64::from(stud) * 0.406;
        regions.push(Region { at: rect(0.0125, low, 0.1525, low + 0.038), conductivity: 0.12 });
        regions.push(Region { at: rect(0.1, low + 0.016, 0.2395, low + 0.022), conductivity: 50.0 });
    }
    let films = vec![Film { temperature: 20.0, resistance: 0.13 }, Film { temperature: -10.0, resistance: 0.04 }];
    let touches =
        vec![Touch { at: rect(0.0, 0.0, 0.0, 2.0), film: 0 }, Touch { at: rect(0.2395, 0.0, 0.2395, 2.0), film: 1 }];
    Section { regions, films, touches }
}

#[divan::bench(sample_count = 5)]
fn a_hundred_thousand_cells(bencher: Bencher) {
    let section = section();
    let grids = (1..).map_while(|parts| Grid::of(&section, parts, 120_000).ok());
    let grid = grids.last().unwrap_or_default();
    assert!(grid.filled() >= 95_000, "{}", grid.filled());
    bencher.with_inputs(|| grid.clone()).bench_values(|grid| solve(&section, grid));
}
