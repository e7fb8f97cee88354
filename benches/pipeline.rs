//! How fast the stages of the compiler are on large generated walls.

use divan::counter::BytesCount;
use std::fmt::Write as _;
use wythe::source::FileId;
use wythe::syntax;

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
