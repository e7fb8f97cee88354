//! A figure with its source and how sure it is; and a figure that cannot be told, with the missing fact.

use crate::model::{Sourced, Sureness};
use crate::units::{Dimension, Keep, Range};

/// Names of the months.
pub const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// What a figure tells: the same everywhere it stands.
#[derive(Debug, PartialEq)]
pub struct What {
    /// For programs and rules: `heat.transmittance`. A number whose key ends in `_share` is shown in percent, a length whose key
    /// ends in `_per_metre` as an area for each metre, a speed whose key ends in `_leakage` as flow through an area, an area whose
    /// key ends in `_hole` in square centimetres.
    pub key: &'static str,
    /// For people: "U, through the wall".
    pub title: &'static str,
    /// Of its number.
    pub dimension: Dimension,
    /// How many digits it deserves, in SI units as they are shown.
    pub keep: Keep,
}

/// Its value.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A number in SI units; a range where what it rests on is known only within bounds.
    Number(Range),
    /// One of few words, or a month: "well ventilated", "July".
    Word(String),
}

/// The method it was worked out by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Source {
    /// "ISO 6946".
    pub standard: &'static str,
    /// "2017"; empty where there is none.
    pub edition: &'static str,
    /// "6.7.2"; empty where it is the whole, or not known.
    pub clause: &'static str,
}

/// How sure something is, and what makes it no surer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trust {
    /// How sure.
    pub sure: Sureness,
    /// "conductivity of spruce"; empty where it is the method itself, or nothing.
    pub doubt: String,
}

impl Default for Trust {
    fn default() -> Self {
        Trust::of(Sureness::Published)
    }
}

impl Trust {
    /// Of a method this sure.
    pub fn of(sure: Sureness) -> Self {
        Self { sure, doubt: String::new() }
    }

    /// With something else that went into it: the less sure of both counts.
    pub fn add(&mut self, other: &Trust) {
        if other.sure > self.sure {
            self.clone_from(other);
        }
    }

    /// With a value that went into it; `name` says which.
    pub fn sourced<T>(&mut self, value: &Sourced<T>, name: impl FnOnce() -> String) {
        if value.sure > self.sure {
            *self = Trust { sure: value.sure, doubt: name() };
        }
    }

    /// Behind a value, as [`Found::tell`] takes it.
    pub fn with(&self, value: Value) -> (Value, Sureness, String) {
        (value, self.sure, self.doubt.clone())
    }
}

/// One figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// What it tells.
    pub what: &'static What,
    /// Of which layer, surface, month or zone; empty where it is of the whole.
    pub of: String,
    /// Its value.
    pub value: Value,
    /// Where the method is from.
    pub source: Source,
    /// How sure it is: the least sure of the method and of what went into it.
    pub sure: Sureness,
    /// What makes it no surer: "conductivity of spruce"; empty where it is the method itself.
    pub doubt: String,
}

/// A figure that cannot be told.
#[derive(Clone, Debug, PartialEq)]
pub struct Missing {
    /// What it would tell.
    pub what: &'static What,
    /// As in a figure.
    pub of: String,
    /// The missing fact: "conductivity of `foam` (`conductivity`)".
    pub fact: String,
}

/// What a study found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// In the order in which they are told.
    pub figures: Vec<Figure>,
    /// What cannot be told.
    pub missing: Vec<Missing>,
}

impl Found {
    /// Nothing at all.
    pub fn is_empty(&self) -> bool {
        self.figures.is_empty() && self.missing.is_empty()
    }

    /// The figure of the whole with this key.
    pub fn figure(&self, key: &str) -> Option<&Figure> {
        self.figures.iter().find(|figure| figure.what.key == key && figure.of.is_empty())
    }

    /// Its number in SI units.
    pub fn number(&self, key: &str) -> Option<Range> {
        match self.figure(key)?.value {
            Value::Number(range) => Some(range),
            Value::Word(_) => None,
        }
    }

    /// Why the figure of the whole with this key cannot be told.
    pub fn missing(&self, key: &str) -> Option<&Missing> {
        self.missing.iter().find(|missing| missing.what.key == key && missing.of.is_empty())
    }

    /// Adds a figure, or the fact that is missing for it.
    pub fn tell(&mut self, what: &'static What, source: Source, answer: Result<(Value, Sureness, String), String>) {
        match answer {
            Ok((value, sure, doubt)) => {
                self.figures.push(Figure { what, of: String::new(), value, source, sure, doubt });
            }
            Err(fact) => self.missing.push(Missing { what, of: String::new(), fact }),
        }
    }
}
