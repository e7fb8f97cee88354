//! Mould growth index: the equations of Wood Science and Technology 33 (1999) with the sensitivity classes
//! added later; constants from memory. Others dispute how far it can be relied on: take it as a warning.
//!
//! 0 nothing grows; 1 some, seen under a microscope; 3 seen by eye, less than a tenth; 5 more than half; 6 all of it.

/// How readily mould grows on a surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Class {
    /// Concrete, glass, metal, mineral wool with little binder.
    Resistant,
    /// Cement board, plastic foam, glass wool.
    Medium,
    /// Planed wood, boards of wood, gypsum board with paper.
    Sensitive,
    /// Rough-sawn wood, much food.
    Very,
}

/// Constants of a class.
struct Constants {
    below_one: f64,
    above_one: f64,
    most: [f64; 3],
    humidity: f64,
}

impl Class {
    /// Every class, the most resistant first.
    pub const ALL: [Class; 4] = [Class::Resistant, Class::Medium, Class::Sensitive, Class::Very];

    const fn constants(self) -> Constants {
        match self {
            Class::Resistant => Constants { below_one: 0.033, above_one: 0.014, most: [0.0, 3.0, 1.0], humidity: 85.0 },
            Class::Medium => Constants { below_one: 0.072, above_one: 0.097, most: [0.0, 5.0, 1.5], humidity: 85.0 },
            Class::Sensitive => Constants { below_one: 0.578, above_one: 0.386, most: [0.3, 6.0, 1.0], humidity: 80.0 },
            Class::Very => Constants { below_one: 1.0, above_one: 2.0, most: [1.0, 7.0, 2.0], humidity: 80.0 },
        }
    }
}

/// Humidity, 0 to 1, below which nothing grows at `celsius`. `None` at 0 °C and below and above 50 °C, where nothing grows.
pub fn critical_humidity(class: Class, celsius: f64) -> Option<f64> {
    if !(celsius > 0.0 && celsius <= 50.0) {
        return None;
    }
    let curve = ((-0.002_67 * celsius + 0.160) * celsius - 3.13) * celsius + 100.0;
    let least = class.constants().humidity;
    Some(if celsius <= 20.0 { curve.max(least) } else { least } / 100.0)
}

/// The index that growth comes to in the end at this humidity (0 to 1) and temperature; never below nothing.
pub fn most(class: Class, celsius: f64, humidity: f64) -> f64 {
    let Some(critical) = critical_humidity(class, celsius) else { return 0.0 };
    if critical >= 1.0 {
        return 0.0;
    }
    let [a, b, c] = class.constants().most;
    let share = (critical - humidity.min(1.0)) / (critical - 1.0);
    (a + b * share - c * share * share).max(0.0)
}

/// Growth of the index in a day where it may grow, from its present `index`; nothing where it may not. On softwood with a
/// sawn surface (W and SQ 0).
pub fn growth(class: Class, celsius: f64, humidity: f64, index: f64) -> f64 {
    if critical_humidity(class, celsius).is_none_or(|critical| humidity < critical) {
        return 0.0;
    }
    let percent = humidity.min(1.0) * 100.0;
    let weeks = libm::exp(-0.68 * libm::log(celsius) - 13.9 * libm::log(percent) + 66.02);
    let constants = class.constants();
    let k1 = if index < 1.0 { constants.below_one } else { constants.above_one };
    let k2 = (1.0 - libm::exp(2.3 * (index - most(class, celsius, humidity)))).max(0.0);
    k1 * k2 / (7.0 * weeks)
}

/// A surface through time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surface {
    /// Its class.
    pub class: Class,
    /// How fast the index falls when it is dry, as a share of that on pine: 1, 0.5, 0.25 or 0.1.
    pub decline: f64,
    /// The index now.
    pub index: f64,
    /// Hours since it could last grow.
    pub dry: f64,
}

impl Surface {
    /// Clean.
    pub fn clean(class: Class, decline: f64) -> Surface {
        Surface { class, decline, index: 0.0, dry: 0.0 }
    }

    /// After `hours` at this temperature and humidity (0 to 1), reckoned in steps of an hour or what is left of one.
    pub fn after(mut self, hours: f64, celsius: f64, humidity: f64) -> Surface {
        let grows = critical_humidity(self.class, celsius).is_some_and(|critical| humidity >= critical);
        let mut left = hours;
        while left > 0.0 {
            let step = left.min(1.0);
            self = if grows { self.grown(step, celsius, humidity) } else { self.dried(step) };
            left -= step;
        }
        self
    }

    fn grown(self, hours: f64, celsius: f64, humidity: f64) -> Surface {
        let index = self.index + growth(self.class, celsius, humidity, self.index) * hours / 24.0;
        Surface { index: index.min(6.0), dry: 0.0, ..self }
    }

    /// Falls by 0.032 a day in the first six dry hours, not at all up to a day, then by 0.016 a day.
    fn dried(self, hours: f64) -> Surface {
        let daily = |hour: f64| {
            if hour < 6.0 {
                0.032
            } else if hour < 24.0 {
                0.0
            } else {
                0.016
            }
        };
        let index = self.index - daily(self.dry) * self.decline * hours / 24.0;
        Surface { index: index.max(0.0), dry: self.dry + hours, ..self }
    }
}

/// The index after each stretch of a series of hours, temperature and humidity: hours of a year, or months.
pub fn series(start: Surface, air: impl IntoIterator<Item = (f64, f64, f64)>) -> Vec<f64> {
    let mut surface = start;
    let step = |(hours, celsius, humidity)| {
        surface = surface.after(hours, celsius, humidity);
        surface.index
    };
    air.into_iter().map(step).collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn wetter_air_never_grows_less_and_an_index_is_one(
            stretches in proptest::collection::vec((1.0f64..400.0, -15.0f64..45.0, 0.3f64..1.0, 0.0f64..0.3), 1..12),
            class in 0usize..4,
        ) {
            let start = Surface::clean(Class::ALL[class], 0.5);
            let drier = series(start, stretches.iter().map(|(hours, celsius, humid, _)| (*hours, *celsius, *humid)));
            let wetter = stretches.iter().map(|(hours, celsius, humid, more)| (*hours, *celsius, (humid + more).min(1.0)));
            for (dry, wet) in drier.iter().zip(series(start, wetter)) {
                prop_assert!((0.0..=6.0).contains(dry) && (0.0..=6.0).contains(&wet));
                prop_assert!(*dry <= wet + 1e-9, "{dry} {wet}");
            }
        }
    }

    #[test]
    fn classes_grow_in_their_order() {
        for (celsius, humidity) in [(5.0, 0.97), (20.0, 0.9), (30.0, 0.95)] {
            let after = |class| Surface::clean(class, 1.0).after(24.0 * 120.0, celsius, humidity).index;
            let grown = Class::ALL.map(after);
            assert!(grown.windows(2).all(|pair| pair[0] <= pair[1]), "{grown:?}");
        }
    }

    #[test]
    fn wetter_grows_no_slower_and_nothing_grows_in_frost_or_drought() {
        for class in Class::ALL {
            let after = |humidity: f64| Surface::clean(class, 1.0).after(2400.0, 15.0, humidity).index;
            let grown = [0.7, 0.85, 0.9, 0.95, 1.0].map(after);
            assert!(grown.windows(2).all(|pair| pair[0] <= pair[1]), "{grown:?}");
            assert_eq!(Surface::clean(class, 1.0).after(2400.0, -5.0, 1.0).index, 0.0);
            assert_eq!(after(0.5), 0.0);
        }
    }

    #[test]
    fn an_index_stays_between_nothing_and_its_end() {
        for class in Class::ALL {
            let surface = Surface::clean(class, 1.0).after(24.0 * 2000.0, 20.0, 0.97);
            assert!(surface.index <= most(class, 20.0, 0.97) + 0.05);
            assert_eq!(surface.after(24.0 * 2000.0, 20.0, 0.4).index, 0.0);
        }
    }

    #[test]
    fn a_month_in_one_stretch_is_as_by_the_hour() {
        let start = Surface::clean(Class::Sensitive, 0.5);
        let whole = series(start, [(720.0, 18.0, 0.93)]);
        let hours = series(start, std::iter::repeat_n((1.0, 18.0, 0.93), 720));
        assert!((whole[0] - hours[719]).abs() < 1e-12);
    }
}
