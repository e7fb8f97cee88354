//! Axes of a plot: ticks at round numbers, one row or column of figures for every unit.

use crate::emit::drawing::text;

/// One unit in which an axis is read. The plot's own numbers become figures by `value × factor + offset`.
#[derive(Clone, Debug, PartialEq)]
pub struct Unit {
    /// As it stands at the head of its figures: `°C`.
    pub name: String,
    /// What a plotted number is multiplied by.
    pub factor: f64,
    /// What is added after that.
    pub offset: f64,
}

impl Unit {
    /// The unit the numbers are plotted in.
    pub fn plain(name: &str) -> Unit {
        Unit::times(name, 1.0)
    }

    /// A unit that is a multiple: plotted Pa are hPa by 0.01.
    pub fn times(name: &str, factor: f64) -> Unit {
        Unit { name: name.to_owned(), factor, offset: 0.0 }
    }

    /// Degrees Celsius and Fahrenheit, for temperatures plotted in °C.
    pub fn celsius_and_fahrenheit() -> Vec<Unit> {
        vec![Unit::plain("°C"), Unit { name: "°F".to_owned(), factor: 1.8, offset: 32.0 }]
    }
}

/// One axis: what it measures, from where to where, and how it is read.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    /// What is measured: `vapour pressure`.
    pub name: String,
    /// The number at the left or lower end.
    pub from: f64,
    /// The number at the right or upper end.
    pub to: f64,
    /// Each gets its own figures; the first stands next to the plot. None: the axis has words only.
    pub units: Vec<Unit>,
    /// Words at places, such as the months; they stand next to the plot, before all figures.
    pub words: Vec<(f64, String)>,
}

/// A tick: where it stands, in plotted numbers, and what is written there.
#[derive(Clone, Debug, PartialEq)]
pub struct Tick {
    /// In plotted numbers.
    pub at: f64,
    /// The figure, with a true minus.
    pub figure: String,
}

/// The first letters of the months.
const MONTHS: [&str; 12] = ["J", "F", "M", "A", "M", "J", "J", "A", "S", "O", "N", "D"];

impl Axis {
    /// From `from` to `to`, read in these units.
    pub fn new(name: &str, from: f64, to: f64, units: Vec<Unit>) -> Axis {
        Axis { name: name.to_owned(), from, to, units, words: Vec::new() }
    }

    /// As wide as `values` ask, with a twentieth to spare at both ends and opened to at least `least`.
    /// Numbers that are not finite are passed over.
    pub fn around(name: &str, values: impl IntoIterator<Item = f64>, least: f64, units: Vec<Unit>) -> Axis {
        let ends = values.into_iter().filter(|value| value.is_finite());
        let ends = ends.fold(None, |ends: Option<(f64, f64)>, value| {
            Some(ends.map_or((value, value), |(low, high)| (low.min(value), high.max(value))))
        });
        let (low, high) = ends.unwrap_or((0.0, least));
        let wide = (high - low).max(least.abs()).max(f64::MIN_POSITIVE);
        let (middle, half) = ((low + high) / 2.0, wide * 0.55);
        Axis::new(name, middle - half, middle + half, units)
    }

    /// The same axis with zero on it.
    pub fn with_zero(self) -> Axis {
        Axis { from: self.from.min(0.0), to: self.to.max(0.0), ..self }
    }

    /// The same axis starting at zero, for what is never negative.
    pub fn from_zero(self) -> Axis {
        Axis { from: 0.0, to: self.to.max(0.0), ..self }
    }

    /// Twelve months: January lies between 0 and 1.
    pub fn months() -> Axis {
        let words = MONTHS.iter().enumerate().map(|(month, letter)| (month as f64 + 0.5, (*letter).to_owned()));
        Axis { words: words.collect(), ..Axis::new("", 0.0, 12.0, Vec::new()) }
    }

    /// How far along the axis a number stands, 0 at `from` and 1 at `to`.
    pub fn share(&self, value: f64) -> f64 {
        let wide = self.to - self.from;
        if wide == 0.0 { 0.5 } else { (value - self.from) / wide }
    }

    /// Ticks of one unit at 1, 2 or 5 times a power of ten, at most `most` of them but two at least.
    pub fn ticks(&self, unit: &Unit, most: usize) -> Vec<Tick> {
        let shown = |value: f64| value * unit.factor + unit.offset;
        let (a, b) = (shown(self.from), shown(self.to));
        let (low, high) = (a.min(b), a.max(b));
        let wide = high - low;
        if !wide.is_finite() || wide <= 0.0 || unit.factor == 0.0 {
            return Vec::new();
        }
        let (step, decimals) = step(wide, most.max(2));
        let slack = wide * 1e-9;
        let (first, last) = (libm::ceil((low - slack) / step) as i64, libm::floor((high + slack) / step) as i64);
        (first..=last)
            .map(|index| {
                let value = index as f64 * step;
                Tick { at: (value - unit.offset) / unit.factor, figure: figure(value, decimals) }
            })
            .collect()
    }

    /// Ticks of one unit on a level axis `width` mm wide, so far apart that figures of this size do not touch.
    pub(super) fn ticks_across(&self, unit: &Unit, width: f64, size: f64) -> Vec<Tick> {
        let mut most = (width / (size * 1.6)).max(2.0) as usize;
        loop {
            let ticks = self.ticks(unit, most);
            let widest = ticks.iter().map(|tick| text::width(&tick.figure, size, false)).fold(0.0, f64::max);
            let apart = width / ticks.len().saturating_sub(1).max(1) as f64;
            let span =
                ticks.first().zip(ticks.last()).map_or(1.0, |(a, b)| (self.share(b.at) - self.share(a.at)).abs());
            if most <= 2 || apart * span >= widest + size * 0.8 {
                return ticks;
            }
            most -= 1;
        }
    }
}

/// The smallest round step that makes no more than `most` ticks over `wide`, and the decimals it needs.
fn step(wide: f64, most: usize) -> (f64, usize) {
    let raw = wide / most as f64;
    let mut power = libm::floor(libm::log10(raw)) as i32;
    loop {
        for digit in [1.0, 2.0, 5.0] {
            let step = if power < 0 {
                digit / libm::pow(10.0, f64::from(-power))
            } else {
                digit * libm::pow(10.0, f64::from(power))
            };
            if step >= raw {
                return (step, usize::try_from(-power).unwrap_or(0));
            }
        }
        power += 1;
    }
}

/// A figure with so many decimals, thousands set apart by a thin gap that does not break, and a true minus.
pub fn figure(value: f64, decimals: usize) -> String {
    let plain = format!("{:.decimals$}", value.abs());
    let (whole, rest) = plain.split_once('.').map_or((plain.as_str(), ""), |(whole, rest)| (whole, rest));
    let mut grouped = String::new();
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && whole.len() > 4 && (whole.len() - place).is_multiple_of(3) {
            grouped.push('\u{a0}');
        }
        grouped.push(digit);
    }
    let is_zero = plain.chars().all(|letter| matches!(letter, '0' | '.'));
    let sign = if value < 0.0 && !is_zero { "−" } else { "" };
    if rest.is_empty() { format!("{sign}{grouped}") } else { format!("{sign}{grouped}.{rest}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figures(from: f64, to: f64, most: usize) -> Vec<String> {
        let axis = Axis::new("", from, to, vec![Unit::plain("")]);
        axis.ticks(&axis.units[0], most).into_iter().map(|tick| tick.figure).collect()
    }

    #[test]
    fn ticks_stand_at_round_numbers() {
        assert_eq!(figures(-9.0, 21.0, 5), ["0", "10", "20"]);
        assert_eq!(figures(-9.0, 21.0, 8), ["−5", "0", "5", "10", "15", "20"]);
        assert_eq!(figures(0.0, 2400.0, 6), ["0", "500", "1000", "1500", "2000"]);
        assert_eq!(figures(0.0, 0.34, 5), ["0.0", "0.1", "0.2", "0.3"]);
        assert_eq!(figures(0.0, 21_000.0, 3), ["0", "10\u{a0}000", "20\u{a0}000"]);
        assert_eq!(figures(-0.1, 0.1, 2), ["−0.1", "0.0", "0.1"]);
        assert!(figures(1.0, 1.0, 4).is_empty() && figures(0.0, f64::NAN, 4).is_empty());
    }

    #[test]
    fn a_second_unit_has_round_figures_of_its_own() {
        let axis = Axis::new("temperature", -10.0, 20.0, Unit::celsius_and_fahrenheit());
        let ticks = axis.ticks(&axis.units[1], 4);
        assert_eq!(ticks.iter().map(|tick| tick.figure.as_str()).collect::<Vec<_>>(), ["20", "40", "60"]);
        assert!((ticks[0].at - (20.0 - 32.0) / 1.8).abs() < 1e-9);
    }

    #[test]
    fn figures_on_a_level_axis_do_not_touch() {
        let axis = Axis::new("", 0.0, 20_000.0, vec![Unit::plain("Pa")]);
        let ticks = axis.ticks_across(&axis.units[0], 80.0, 5.0);
        let place = |tick: &Tick| axis.share(tick.at) * 80.0;
        for pair in ticks.windows(2) {
            let half = |tick: &Tick| text::width(&tick.figure, 5.0, false) / 2.0;
            assert!(place(&pair[0]) + half(&pair[0]) < place(&pair[1]) - half(&pair[1]), "{ticks:?}");
        }
        assert!(ticks.len() >= 2);
    }

    #[test]
    fn an_axis_opens_around_its_numbers() {
        let axis = Axis::around("", [f64::NAN, 4.0, 8.0], 1.0, Vec::new());
        assert!(axis.from < 4.0 && axis.to > 8.0);
        let flat = Axis::around("", [5.0], 2.0, Vec::new());
        assert!(flat.to - flat.from >= 2.0);
        assert_eq!(Axis::around("", [5.0, 6.0], 0.5, Vec::new()).with_zero().from, 0.0);
    }
}
