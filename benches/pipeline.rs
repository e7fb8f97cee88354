//! How fast the stages of the compiler are on large generated walls.

use divan::counter::{BytesCount, ItemsCount};
use std::fmt::Write as _;
use wythe::continuity::{AirFlow, Conditions, GapFlow};
use wythe::layout::cutting::{self, Order, Stock, Want};
use wythe::layout::pieces;
use wythe::physics::hourly::{Air, Film, Hour, Isotherm, Leak, Piece, Run, Solid, Wall};
use wythe::source::{FileId, MapWorld, World};
use wythe::units::Length;
use wythe::{session, syntax};

fn main() {
    divan::main();
}

/// Text of faces with windows, areas and blocks, at least `bytes` long.
fn walls(bytes: usize) -> String {
    let mut text = String::from("wythe 1\n\nuse std.details (flashed_window, corner_boards)\n\n");
    let mut face = 0;
    while text.len() < bytes {
        face += 1;
        let _ = write!(
            text,
            "/// Face {face}: larch over a ventilated gap.\n\
             face east_{face} {{\n    measured to sheathing // as on the plan\n    looks 100deg\n    \
             outline from (0, 0) {{\n        base to (28ft, -18in), detail raked_base, keep 200mm\n        \
             right to (28ft, 9ft), detail corner_boards, meets south\n        \
             rake to (14ft, 17ft 2in), detail rake_outlet\n        left to start, detail corner_boards\n    }}\n    \
             ground at left -8in, falls 5%, surface soil, planned paving 150mm from 14ft to right\n    \
             area lower garden_wall(depth = 10mm) below 9ft\n"
        );
        for window in 0..5 {
            let _ = write!(
                text,
                "    window kitchen_{window} frame 4ft x 5ft at (6ft 6-1/2in, 3ft), detail flashed_window, trims 89mm on furring\n    \
                 pipe drain_{window} 40mm at (18ft, 30in) {{\n        fall 2%\n        seal collar\n        upstand (depth + 81mm)\n    }}\n"
            );
        }
        text.push_str(
            "    accept gap.shallow on lower because \"matches the old wall\" by \"site lead\" until 2027-05-01\n}\n\n",
        );
    }
    text
}

#[divan::bench(sample_count = 20)]
fn parse_1mb(bencher: divan::Bencher) {
    let text = walls(1 << 20);
    bencher.counter(BytesCount::new(text.len())).bench(|| syntax::parse(FileId(0), &text));
}

#[divan::bench(sample_count = 20)]
fn pieces_1mb(bencher: divan::Bencher) {
    let text = walls(1 << 20);
    bencher.counter(BytesCount::new(text.len())).bench(|| syntax::pieces(&text));
}

/// Ten times the text must cost ten times the time.
#[divan::bench(sample_count = 3, sample_size = 1)]
fn parse_10mb(bencher: divan::Bencher) {
    let text = walls(10 << 20);
    bencher.counter(BytesCount::new(text.len())).bench(|| syntax::parse(FileId(0), &text));
}

#[divan::bench(sample_count = 10)]
fn format_1mb(bencher: divan::Bencher) {
    let text = walls(1 << 20);
    bencher.counter(BytesCount::new(text.len())).bench(|| syntax::format(&text));
}

/// A project of faces with two windows, a pipe and a trim each, ten faces a file.
fn project(faces: usize) -> MapWorld {
    let site = "wythe 1\n\nsite here {\n    climate std.climates.cold_lake\n    limits std.limits.canada_part9_2020 and std.limits.common_practice\n}\n";
    let assemblies = "wythe 1\n\nuse std.boards\nuse std.membranes\nuse std.tapes\nuse std.screws\n\n\
        assembly wall {\n    layer boards boards.larch 20mm {\n        controls rain\n        fasten screws.stainless 4.5mm x 50mm, into furring\n    }\n    \
        gap cavity 19mm ventilated {\n        furring spruce 19mm x 64mm {\n            every 16in on centre\n            first 15-1/4in\n            vertical\n            \
        also at corners and jambs\n            stops 25mm\n        }\n        fasten screws.stainless 6mm x 100mm, every 300mm, into studs\n    }\n    \
        layer membrane membranes.vapour_open, controls water and air, lap 100mm, end_lap 150mm, seam tapes.acrylic\n    layer sheathing plywood 12.5mm\n    \
        frame studs spruce 38mm x 140mm, every 16in on centre, first 15-1/4in, fill mineral_wool\n    layer board gypsum 12.7mm\n}\n";
    let mut world = MapWorld::new().with("site.wythe", site).with("assemblies.wythe", assemblies);
    let mut text = String::new();
    for face in 0..faces {
        if face % 10 == 0 {
            text = String::from(
                "wythe 1\n\nuse assemblies (wall)\nuse std.details (screened_base, corner_boards, eave, flashed_window, sealed_pipe)\nuse std.channels\nuse std.seals\n\n",
            );
        }
        let _ = write!(
            text,
            "face wall_{face} {{\n    measured to sheathing\n    looks 100deg\n    outline from (0, 0) {{\n        base to (28ft, 0), detail screened_base, keep 200mm\n        \
             right to (28ft, 9ft), detail corner_boards\n        top to (0, 9ft), detail eave\n        left to start, detail corner_boards\n    }}\n    \
             ground at left -8in, surface soil\n    area main wall\n    \
             window kitchen frame 4ft x 4ft at (6ft, 3ft), detail flashed_window, trims 89mm on furring, head behind_membrane\n    \
             window bath frame 3ft x 3ft at (18ft, 4ft), detail flashed_window, trims 89mm on furring, head behind_membrane\n    \
             pipe drain 40mm at (24ft, 30in), fall 2%, seal collar, detail sealed_pipe\n}}\n\n"
        );
        if face % 10 == 9 || face + 1 == faces {
            world = world.with(&format!("part_{:04}.wythe", face / 10), &text);
        }
    }
    world
}

/// Ten times the faces must cost no more than twelve times the time.
#[divan::bench(args = [100, 1000], sample_count = 5)]
fn check_faces(bencher: divan::Bencher, faces: usize) {
    let world = project(faces);
    let roots = world.list();
    let checked = session::check(&world, &roots, &session::Settings::default());
    assert!(checked.problems.is_empty(), "a wall with mistakes is not checked: {:?}", checked.problems.first());
    assert!(checked.plan.faces.iter().all(|face| face.areas.iter().all(|area| area.bays.len() > 1)));
    bencher.counter(ItemsCount::new(faces)).bench(|| session::check(&world, &roots, &session::Settings::default()));
}

/// Reading and naming alone.
#[divan::bench(args = [1000], sample_count = 5)]
fn read_faces(bencher: divan::Bencher, faces: usize) {
    let world = project(faces);
    let roots = world.list();
    bencher.counter(ItemsCount::new(faces)).bench(|| {
        let project = wythe::resolve::load(&world, &roots);
        wythe::eval::evaluate(&project)
    });
}

/// Air through the gaps of a street of ten thousand bays.
#[divan::bench(sample_count = 10)]
fn network_10000_bays(bencher: divan::Bencher) {
    let world = project(640);
    let checked = session::check(&world, &world.list(), &session::Settings::default());
    let flow = GapFlow::find(&checked.model, &checked.plan);
    let bays = flow.bays.len();
    assert!(bays >= 10_000, "{bays} bays only");
    bencher
        .counter(ItemsCount::new(bays))
        .bench(|| AirFlow::find(&checked.model, &checked.plan, &flow, &Conditions::default()));
}

/// Stock of these lengths, each costing its length in millimetres, and pieces by length and count, in millimetres.
fn cutting_order(stocks: &[i64], wants: impl IntoIterator<Item = (i64, u64)>, kerf: i64) -> Order {
    let stock = |&length: &i64| Stock { length: Length::mm(length), cost: length, available: None };
    Order {
        wants: wants.into_iter().map(|(length, count)| Want { length: Length::mm(length), count }).collect(),
        stocks: stocks.iter().map(stock).collect(),
        kerf: Length::mm(kerf),
    }
}

/// The published order of paper rolls: thirteen widths of 219 rolls from 5600; 73 are the least.
#[divan::bench(sample_count = 20)]
fn cutting_paper(bencher: divan::Bencher) {
    let widths = [1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200];
    let counts = [22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20];
    let order = cutting_order(&[5600], widths.into_iter().zip(counts), 0);
    let found = cutting::plan(&order);
    assert_eq!((found.count(), found.proven), (73, true));
    bencher.bench(|| cutting::plan(&order));
}

/// Two hundred pieces, each length once, from five lengths of stock.
#[divan::bench(sample_count = 20)]
fn cutting_200_pieces_5_stocks(bencher: divan::Bencher) {
    let wants = (0..200).map(|at| (310 + (at * 7919) % 2690, 1));
    let order = cutting_order(&[2440, 3050, 3660, 4270, 4880], wants, 3);
    let found = cutting::plan(&order);
    assert!(found.left.is_empty() && found.bound <= found.cost);
    bencher.bench(|| cutting::plan(&order));
}

/// The cladding of the demo, cut to true shapes.
#[divan::bench(sample_count = 10)]
fn pieces_heron_lane(bencher: divan::Bencher) {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/heron-lane");
    let world = wythe::cli::DiskWorld::new(&folder);
    let checked = session::check(&world, &world.list(), &session::Settings::default());
    let count = pieces::cut(&checked.model, &checked.plan, 10.0).list.len();
    assert!(count > 100, "{count} pieces only");
    bencher.counter(ItemsCount::new(count)).bench(|| pieces::cut(&checked.model, &checked.plan, 10.0));
}

/// A transient year of ten layers: less than 2 s.
#[divan::bench(sample_count = 5, sample_size = 1)]
fn year_of_ten_layers(bencher: divan::Bencher) {
    let solid = |thickness: f64, conductivity: f64, density: f64, factor: f64, sorption: (f64, f64)| {
        Isotherm::bent(sorption.0, sorption.1).map(|isotherm| {
            Piece::Solid(Solid {
                thickness,
                conductivity,
                density,
                heat_capacity: 1200.0,
                vapour_factor: (factor, factor / 2.0),
                isotherm,
                absorption: 0.004,
                cells: Solid::cells_for(thickness),
            })
        })
    };
    let sheet = |dry: f64| Some(Piece::Sheet { resistance: 0.0, air_layer: (dry, dry / 5.0) });
    let pieces: Vec<Piece> = [
        solid(0.02, 0.13, 550.0, 50.0, (88.0, 570.0)),
        Some(Piece::Gap { depth: 0.019, resistance: 0.18, open: true }),
        solid(0.05, 0.035, 110.0, 1.0, (0.5, 400.0)),
        sheet(0.1),
        solid(0.0125, 0.13, 500.0, 200.0, (70.0, 540.0)),
        solid(0.14, 0.038, 60.0, 1.0, (0.3, 300.0)),
        sheet(2.0),
        solid(0.038, 0.038, 60.0, 1.0, (0.3, 300.0)),
        solid(0.0127, 0.25, 700.0, 10.0, (7.0, 400.0)),
        solid(0.0127, 0.25, 700.0, 10.0, (7.0, 400.0)),
    ]
    .into_iter()
    .flatten()
    .collect();
    assert_eq!(pieces.len(), 10);
    let leak = Some(Leak { piece: 4, share: 0.01 });
    let wall = Wall { pieces, outside: Film::WIND, inside: Film::ROOM, leak, drinks: true };
    bencher.bench(|| {
        let mut run = Run::new(&wall, 5.0, 0.8).ok();
        for hour in 0..8760_u32 {
            let (day, year) = (f64::from(hour % 24) / 24.0, f64::from(hour) / 8760.0);
            let warmth = 6.0 - 14.0 * (year * std::f64::consts::TAU).cos() - 4.0 * (day * std::f64::consts::TAU).cos();
            let acting = Hour {
                outside: Air::of(warmth, 0.75),
                inside: Air::of(21.0, 0.4),
                sun: 500.0 * (-(day * std::f64::consts::TAU).cos()).max(0.0),
                sky: 25.0,
                air_changes: 0.03,
                draws: 2e-5,
                rain: if hour % 80 < 6 { 1e-4 } else { 0.0 },
            };
            if let Some(run) = &mut run {
                assert!(run.go(3600.0, &acting).is_ok());
            }
        }
        run.map(|run| run.water_ledger().open_by())
    });
}

/// A thousand walls, each a little thicker than the one before, through twelve months: less than 1 s.
#[divan::bench]
fn a_thousand_walls_by_month(bencher: divan::Bencher) {
    use wythe::physics::moisture::glaser::{Slab, Wall};
    use wythe::physics::moisture::{Air, year};
    let air: year::Months = std::array::from_fn(|month| {
        let outside = 6.0 - 14.0 * (month as f64 / 12.0 * std::f64::consts::TAU).cos();
        (Air::of_humidity(outside, 0.8), Air::of_humidity(20.0, 0.55))
    });
    let slab = |resistance: f64, air: f64| Slab { resistance, air };
    let walls: Vec<Wall> = (0..1000)
        .map(|more| {
            let wool = f64::from(more) * 0.003;
            let layers = vec![slab(0.5 + wool, 0.1), slab(0.1, 2.5), slab(3.7, 0.14), slab(0.05, 0.1)];
            Wall { outside: 0.13, layers, inside: 0.13 }
        })
        .collect();
    bencher.bench(|| {
        let wet = walls.iter().filter_map(Wall::cut).filter(|cut| year::of(cut, &air).peak().is_some());
        wet.count()
    });
}
