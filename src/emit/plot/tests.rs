//! Sample plots: what leaves the room is looked at, and nothing lies on another text or off the paper.

use super::*;
use crate::emit::drawing::samples::texts;
use crate::emit::drawing::{Paper, Sheet, TitleBlock};

fn sheet(id: &str, title: &str) -> Sheet {
    let footer =
        "No fault found in what was declared. This is not approval. The local code and licensed practice decide.";
    Sheet::new(id, Paper::A3, TitleBlock { title: title.into(), footer: footer.into(), ..TitleBlock::default() })
}

/// Invented numbers: a year of two lines and a limit, and the band they may lie in.
fn year() -> Sheet {
    let mut sheet = sheet("plot-year", "A year in numbers made up for this test");
    let days = |shift: f64| -> Vec<(f64, f64)> {
        let day = |day: i32| (f64::from(day), 6.0 - 14.0 * libm::cos((f64::from(day) - 20.0) / 58.1) + shift);
        (0..=365).map(day).collect()
    };
    let bounds = days(0.0).iter().map(|(x, y)| (*x, y - 3.0, y + 2.0)).collect();
    let x = Axis::new("days since 1 January", 0.0, 365.0, vec![Unit::plain("days")]);
    let y = Axis::around(
        "temperature",
        days(0.0).iter().chain(&days(4.0)).map(|point| point.1),
        5.0,
        Unit::celsius_and_fahrenheit(),
    );
    let plot = Plot::new("Inner face of the sheathing", x, y)
        .band("range of what was declared", bounds)
        .line("outside air", days(0.0))
        .line("inner face of the sheathing", days(4.0))
        .limit("frost", 0.0)
        .mark((202.0, 24.0), "24 °C on 21 July");
    sheet.push(plot.draw(sheet.area()));
    sheet
}

/// Twelve small panels with bars below a limit.
fn months() -> Sheet {
    let mut sheet = sheet("plot-months", "Twelve months made up for this test");
    let panel = |month: u32| {
        let wet = 3.0 + 2.0 * libm::cos(f64::from(month) / 1.9);
        let x = Axis::new("way through the wall", 0.0, 0.2, vec![Unit::times("mm", 1000.0)]);
        let y = Axis::new("vapour pressure", 0.0, 2500.0, vec![Unit::plain("Pa")]);
        let name = ["January", "February", "March", "April", "May", "June", "July"].get(month as usize % 7);
        Plot::new(name.unwrap(), x, y)
            .line("saturation", vec![(0.0, 300.0 * wet), (0.1, 400.0 * wet), (0.2, 2300.0)])
            .line("vapour", vec![(0.0, 200.0 * wet), (0.1, 300.0 * wet), (0.2, 1200.0)])
    };
    sheet.push(Multiples::new((0..12).map(panel).collect(), 4).draw(sheet.area()));
    sheet
}

/// Steps for months, below and above zero.
fn bars() -> Sheet {
    let mut sheet = sheet("plot-bars", "Water by month made up for this test");
    let values = [900.0, 780.0, 630.0, -180.0, -1200.0, -1700.0, -700.0, 0.0, 0.0, 0.0, 580.0, 870.0];
    let mut y = Axis::around(
        "water taken up or given off",
        values.into_iter().chain(values.map(|v| v + 400.0)),
        100.0,
        vec![Unit::plain("g/m²"), Unit::times("oz/ft²", 0.003_277)],
    );
    y = y.with_zero();
    let plot =
        Plot::new("", Axis::months(), y).monthly("class 2", &values).monthly("class 3", &values.map(|v| v + 400.0));
    sheet.push(plot.draw(Rect { height: 120.0, ..sheet.area() }));
    sheet
}

#[test]
fn no_text_of_a_plot_lies_on_another_or_off_its_room() {
    for sheet in [year(), months(), bars()] {
        let (area, texts) = (sheet.area(), texts(&sheet.items));
        for (index, one) in texts.iter().enumerate() {
            assert!(one.size >= item::LARGE, "{} is too small for a sheet on the wall", one.content);
            let bounds = one.bounds();
            assert!(
                (area.overlap(&bounds) - bounds.width * bounds.height).abs() < 1e-6,
                "{} leaves {}",
                one.content,
                sheet.id
            );
            for other in texts.iter().skip(index + 1) {
                assert!(
                    bounds.overlap(&other.bounds()) < 0.01,
                    "`{}` on `{}` in {}",
                    one.content,
                    other.content,
                    sheet.id
                );
            }
        }
    }
}

#[test]
fn a_small_plot_is_drawn_as_before() {
    let x = Axis::new("depth", 0.0, 0.1, vec![Unit::times("mm", 1000.0)]);
    let y = Axis::new("temperature", 0.0, 20.0, vec![Unit::plain("°C")]);
    let plot = Plot::new("", x, y)
        .line("wall", vec![(0.0, 1.0), (0.05, f64::NAN), (0.06, 15.0), (0.1, 30.0)])
        .band("", vec![(0.0, 2.0, 4.0), (0.1, 18.0, 22.0)]);
    let mut sheet = sheet("plot-small", "Small");
    sheet.push(plot.draw(Rect { x: 20.0, y: 20.0, width: 90.0, height: 60.0 }));
    insta::assert_snapshot!(sheet.to_svg());
}

#[test]
fn lines_of_a_plot_are_told_apart_without_colour() {
    let nothing = || Axis::new("", 0.0, 1.0, Vec::new());
    let plot = (0..5).fold(Plot::new("", nothing(), nothing()), |plot, _| plot.line("", Vec::new()));
    for (index, one) in plot.lines.iter().enumerate() {
        assert!(plot.lines.iter().skip(index + 1).all(|other| (one.dash, one.weight) != (other.dash, other.weight)));
    }
}

/// Writes the samples where `WYTHE_SAMPLES` points, to be looked at.
#[test]
fn samples_can_be_looked_at() {
    let Some(folder) = std::env::var_os("WYTHE_SAMPLES") else { return };
    for sheet in [year(), months(), bars()] {
        std::fs::write(std::path::Path::new(&folder).join(format!("{}.svg", sheet.id)), sheet.to_svg()).unwrap();
    }
}
