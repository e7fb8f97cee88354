//! Air inside by humidity class (ISO 13788:2012, annex A, from memory).

use super::Air;

/// How much vapour people and their work give to the air of a building.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Class {
    /// Stores, unheated.
    One,
    /// Offices, dwellings with few people and good ventilation.
    Two,
    /// Dwellings whose number of people is not known.
    Three,
    /// Halls for sport, kitchens, canteens.
    Four,
}

impl Class {
    /// By its number. Class 5 (laundries, pools) has no upper limit in the standard, so it gives `None`: the excess must be said.
    pub fn of(number: u32) -> Option<Class> {
        [Class::One, Class::Two, Class::Three, Class::Four].into_iter().find(|class| *class as u32 + 1 == number)
    }

    /// Upper limit of its vapour excess at 0 °C outside and below, Pa.
    pub fn most(self) -> f64 {
        270.0 * f64::from(self as u32 + 1)
    }

    /// Upper limit of its vapour excess when it is `outside` °C, Pa: falls in a straight line to nothing at 20 °C.
    pub fn excess(self, outside: f64) -> f64 {
        self.most() * ((20.0 - outside) / 20.0).clamp(0.0, 1.0)
    }

    /// Inside air at `inside` °C, with the standard's tenth to be safe.
    pub fn inside(self, inside: f64, outside: Air) -> Air {
        Air { temperature: inside, vapour: outside.vapour + 1.1 * self.excess(outside.temperature) }
    }
}
