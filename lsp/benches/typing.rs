//! How long it takes from a keystroke to the marks and to completions, in a project of 20 houses, 200 faces and 10 000 lines.
//! The edits are typed letter by letter, as a hand would: digits of a window and a height, a whole new statement. Every letter
//! is followed by a question for completions; the next waits for its marks.
//! Then the same in the demo, one house with platforms, sections and cuts, for whom an edit asks more than a bare wall does.
#![allow(missing_docs, clippy::unwrap_used)]

#[path = "../tests/support/mod.rs"]
mod support;

use std::fmt::Write as _;
use std::io::Write as _;
use std::path::Path;
use std::time::{Duration, Instant};

use serde_json::json;
use support::{Wire, at, uri};
use wythe::source::World as _;

const HOUSES: usize = 20;
const FACES: usize = 10;

fn main() {
    // `cargo test` builds and runs benches too; only `cargo bench` is worth the time.
    if !std::env::args().any(|argument| argument == "--bench") {
        return;
    }
    large();
    whole_house();
}

/// Twenty plain houses.
fn large() {
    let home = tempfile::tempdir().unwrap();
    let lines = write(home.path());
    is_whole(home.path(), lines);
    let mut wire = Wire::begin(json!({}), &[home.path()]);
    let begun = Instant::now();
    let paths: Vec<_> = (0..HOUSES).map(|house| home.path().join(format!("house_{house:02}.wythe"))).collect();
    let mut texts: Vec<Typed> = Vec::new();
    for path in paths.iter().step_by(7) {
        let text = std::fs::read_to_string(path).unwrap();
        wire.open(path, &text);
        wire.marks(path, Some(1));
        texts.push(Typed { version: 1, text });
    }
    let opened = begun.elapsed();
    let (mut marks, mut completions) = (Vec::new(), Vec::new());
    for (typed, path) in texts.iter_mut().zip(paths.iter().step_by(7)) {
        typed.type_all(&mut wire, path, &mut marks, &mut completions);
    }
    let mut out = std::io::stdout();
    let _ = writeln!(out, "{lines} lines, {} faces, {HOUSES} houses; opened in {opened:.0?}", HOUSES * FACES);
    tell(&mut out, "marks", &mut marks);
    tell(&mut out, "completion", &mut completions);
    let (now, peak) = (wire.memory().unwrap_or_default(), wire.peak_memory().unwrap_or_default());
    let _ = writeln!(out, "memory {} MB, at most {} MB", now >> 10, peak >> 10);
}

/// A digit of a reveal of the demo, typed again and again.
fn whole_house() {
    let home = tempfile::tempdir().unwrap();
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/heron-lane");
    for file in std::fs::read_dir(demo).unwrap() {
        let file = file.unwrap();
        std::fs::copy(file.path(), home.path().join(file.file_name())).unwrap();
    }
    let path = home.path().join("north.wythe");
    let text = std::fs::read_to_string(&path).unwrap();
    let mut wire = Wire::begin(json!({}), &[home.path()]);
    wire.open(&path, &text);
    wire.marks(&path, Some(1));
    let line = text.lines().position(|line| line.contains("reveal 6mm")).unwrap();
    let column = text.lines().nth(line).unwrap().find("6mm").unwrap() as u32;
    let mut marks = Vec::new();
    for version in 2..42 {
        let digit = if version % 2 == 0 { "7" } else { "6" };
        let begun = Instant::now();
        wire.change(&path, version, json!([at(line as u32, column, column + 1, digit)]));
        wire.marks(&path, Some(version));
        marks.push(begun.elapsed());
        wire.seen.clear();
    }
    let mut out = std::io::stdout();
    let _ = writeln!(out, "the demo, one whole house");
    tell(&mut out, "marks", &mut marks);
}

/// The project is as large as it says, and none of its texts has a mistake that would cut the work short.
fn is_whole(home: &Path, lines: usize) {
    let world = wythe::cli::DiskWorld::new(home);
    let glance = wythe::session::Live::default().read(&world, &world.list(), &wythe::session::Settings::default());
    assert!(lines >= 10_000, "{lines} lines");
    assert_eq!(glance.model.faces.len(), HOUSES * FACES);
    assert_eq!(glance.problems, []);
}

/// A text that is being typed in.
struct Typed {
    version: i64,
    text: String,
}

impl Typed {
    fn type_all(&mut self, wire: &mut Wire, path: &Path, marks: &mut Vec<Duration>, completions: &mut Vec<Duration>) {
        let lines: Vec<&str> = self.text.lines().collect();
        let line_of = |words: &str| lines.iter().position(|line| line.contains(words)).unwrap() as u32;
        let (area, window, keep) = (line_of("area main wall"), line_of("window bath"), line_of("keep 200mm"));
        let column = |line: u32, words: &str| lines[line as usize].find(words).unwrap() as u32;
        let (width, kept) = (column(window, "3ft x"), column(keep, "200mm"));
        let mut key = |line: u32, start: u32, end: u32, text: &str| {
            self.version += 1;
            let begun = Instant::now();
            wire.change(path, self.version, json!([at(line, start, end, text)]));
            let character = start + text.len() as u32;
            let place = json!({"textDocument": {"uri": uri(path)}, "position": {"line": line, "character": character}});
            let asked = wire.request("textDocument/completion", place);
            let answer = wire.answer(asked);
            if answer.get("error").is_none() {
                completions.push(begun.elapsed());
            }
            wire.marks(path, Some(self.version));
            marks.push(begun.elapsed());
            wire.seen.clear();
        };
        // Another width for a window, digit by digit; another height over the ground.
        key(window, width, width + 1, "2");
        key(window, width, width + 1, "4");
        key(keep, kept + 1, kept + 2, "3");
        key(keep, kept + 1, kept + 2, "0");
        // A whole statement, letter by letter.
        key(area, 4, 4, "\n    ");
        for (count, letter) in "vent dryer 100mm at (12ft, 6ft), detail sealed_pipe".chars().enumerate() {
            key(area, 4 + count as u32, 4 + count as u32, &letter.to_string());
        }
    }
}

/// Median and the slow ends.
fn tell(out: &mut impl std::io::Write, what: &str, times: &mut [Duration]) {
    times.sort();
    let at = |share: f64| times.get(((times.len() as f64 - 1.0) * share) as usize).copied().unwrap_or_default();
    let (p50, p95, p99) = (at(0.50), at(0.95), at(0.99));
    let _ = writeln!(out, "{what}: {} times, p50 {p50:.1?}, p95 {p95:.1?}, p99 {p99:.1?}", times.len());
}

/// Writes the project and gives its count of lines.
fn write(home: &Path) -> usize {
    let mut lines = 0;
    let mut put = |name: &str, text: &str| {
        lines += text.lines().count();
        std::fs::write(home.join(name), text).unwrap();
    };
    put(
        "site.wythe",
        "wythe 1\n\nsite here {\n    climate std.climates.cold_lake\n    limits std.limits.canada_part9_2020 and std.limits.common_practice\n}\n",
    );
    put(
        "assemblies.wythe",
        "wythe 1\n\nuse std.boards\nuse std.membranes\nuse std.tapes\nuse std.screws\n\n\
        assembly wall {\n    layer boards boards.larch 20mm {\n        controls rain\n        fasten screws.stainless 4.5mm x 50mm, into furring\n    }\n    \
        gap cavity 19mm ventilated {\n        furring spruce 19mm x 64mm {\n            every 16in on centre\n            first 15-1/4in\n            vertical\n            \
        also at corners and jambs\n            stops 25mm\n        }\n        fasten screws.stainless 6mm x 100mm, every 300mm, into studs\n    }\n    \
        layer membrane membranes.vapour_open, controls water and air, lap 100mm, end_lap 150mm, seam tapes.acrylic\n    layer sheathing plywood 12.5mm\n    \
        frame studs spruce 38mm x 140mm, every 16in on centre, first 15-1/4in, fill mineral_wool\n    layer board gypsum 12.7mm\n}\n",
    );
    for house in 0..HOUSES {
        let text = house_text(house);
        put(&format!("house_{house:02}.wythe"), &text);
    }
    lines
}

fn house_text(house: usize) -> String {
    let mut text = String::from(
        "wythe 1\n\nuse assemblies (wall)\nuse std.details (screened_base, corner_boards, eave, flashed_window, sealed_pipe)\nuse std.channels\nuse std.seals\n\n",
    );
    for face in 0..FACES {
        let _ = write!(
            text,
            "/// House {house}, face {face}: larch over a ventilated gap.\n\
             face wall_{house}_{face} {{\n    measured to sheathing\n    looks 100deg\n    outline from (0, 0) {{\n        base to (28ft, 0) {{\n            \
             detail screened_base\n            keep 200mm\n        }}\n        right to (28ft, 9ft), detail corner_boards\n        \
             top to (0, 9ft), detail eave\n        left to start, detail corner_boards\n    }}\n    ground at left -8in, surface soil\n    area main wall\n"
        );
        for (name, size, x, y) in
            [("kitchen", "4ft x 4ft", 3, 3), ("bath", "3ft x 3ft", 10, 4), ("hall", "3ft x 4ft", 16, 3)]
        {
            let _ = write!(
                text,
                "    // As on the plan, sheet {face}.\n    window {name} frame {size} at ({x}ft, {y}ft) {{\n        \
                 detail flashed_window\n        trims 89mm on furring\n        head behind_membrane\n    }}\n"
            );
        }
        for (name, x) in [("tap", 22), ("drain", 24), ("vent_pipe", 26)] {
            let _ = write!(
                text,
                "    // Where the plumber wants it.\n    pipe {name} 40mm at ({x}ft, 30in) {{\n        fall 2%\n        seal collar\n        \
                 detail sealed_pipe\n    }}\n"
            );
        }
        text.push_str("}\n\n");
    }
    let faces: Vec<String> = (0..FACES).map(|face| format!("wall_{house}_{face}")).collect();
    let _ = write!(
        text,
        "building house_{house} {{\n    faces {}\n    roof truss, air ceiling_membrane, vented no\n}}\n",
        faces.join(" and ")
    );
    text
}
