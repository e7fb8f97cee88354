//! Numbers that are known only within bounds.

/// A number in SI units known within bounds, both counted in; `low` ≤ `high`, equal where the number is known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Range {
    /// The least it may be.
    pub low: f64,
    /// The most it may be.
    pub high: f64,
}

impl Range {
    /// A number that is known.
    pub const fn exactly(value: f64) -> Self {
        Self { low: value, high: value }
    }

    /// Between two numbers, whichever is the smaller.
    pub fn between(one: f64, other: f64) -> Self {
        Self { low: one.min(other), high: one.max(other) }
    }

    /// Whether it is known.
    pub fn is_exact(self) -> bool {
        self.low == self.high
    }

    /// Half-way.
    pub fn middle(self) -> f64 {
        if self.is_exact() { self.low } else { (self.low + self.high) / 2.0 }
    }

    /// What comes of it where more of this gives more of that, or less throughout: then the ends give the ends.
    pub fn through(self, turn: impl Fn(f64) -> f64) -> Self {
        Self::between(turn(self.low), turn(self.high))
    }

    /// The least that holds both.
    pub fn hull(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    /// The sum of two that do not hang together.
    pub fn plus(self, other: Self) -> Self {
        Self { low: self.low + other.low, high: self.high + other.high }
    }
}

impl From<f64> for Range {
    fn from(value: f64) -> Self {
        Self::exactly(value)
    }
}
