//! The list of 157 ways in which drained walls fail: which of them a rule looks for, which eyes must see on the wall before
//! work goes on, and which are not claimed at all. The numbers DR-01 … SV-11 are those of the trade reference.
//!
//! A row is made with `checked` or `by_eye`; what is not claimed is a row with its reason ([`How::NotClaimed`]). When a rule begins to look for a failure, its row becomes
//! `checked(id, title, &["the.rule"])`; a line for eyes may stay beside it with [`Failure::and_look`], since what was drawn
//! right is still to be seen on the wall.

mod air_barrier;
mod corrosion;
mod drainage;
mod fastening;
pub mod fill;
mod fire;
mod freezing;
mod laps;
mod layout;
mod movement;
mod on;
mod page;
mod pests;
mod service;
mod thermal;
mod things;
mod vapour;
mod ventilation;

pub use fill::{Piece, pieces};
pub use on::On;
pub use page::page;

/// One way to fail.
#[derive(Clone, Copy, Debug)]
pub struct Failure {
    /// Its number in the trade reference, such as `DR-05`.
    pub id: &'static str,
    /// What is wrong, in one line: lower case, no full stop.
    pub title: &'static str,
    /// How it is found.
    pub how: How,
    /// What eyes look for on the wall, beside or in place of a rule.
    pub look: Option<Line>,
}

/// How a failure is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// These rules look for it in what was declared.
    Checked(&'static [&'static str]),
    /// Eyes look for it on the wall: [`Failure::look`] says what for.
    HoldPoint,
    /// Nothing looks for it.
    NotClaimed {
        /// Why not, and whose business it is.
        why: &'static str,
        /// The walls that it is about.
        on: On,
    },
}

/// One line of the hold-point sheet.
#[derive(Clone, Copy, Debug)]
pub struct Line {
    /// The hold point at which it is looked at, `H0` to `H7`.
    pub before: &'static str,
    /// The walls and places it is about.
    pub on: On,
    /// What to look for. A number stands in braces: `{clearance.roof}` is the limit in force, `{10mm}` a length of common
    /// practice; both are printed in both units.
    pub text: &'static str,
    /// Who looks, if not the crew lead.
    pub who: &'static str,
    /// It is photographed.
    pub photo: bool,
}

impl Line {
    /// With a photograph.
    pub const fn photo(mut self) -> Self {
        self.photo = true;
        self
    }

    /// Seen by somebody else than the crew lead.
    pub const fn by(mut self, who: &'static str) -> Self {
        self.who = who;
        self
    }
}

impl Failure {
    /// With a line for eyes beside the rule.
    pub const fn and_look(mut self, line: Line) -> Self {
        self.look = Some(line);
        self
    }

    /// Rules that look for it.
    pub fn rules(&self) -> &'static [&'static str] {
        if let How::Checked(rules) = self.how { rules } else { &[] }
    }
}

/// A failure that rules look for.
const fn checked(id: &'static str, title: &'static str, rules: &'static [&'static str]) -> Failure {
    Failure { id, title, how: How::Checked(rules), look: None }
}

/// A failure that only eyes find.
const fn by_eye(id: &'static str, title: &'static str, line: Line) -> Failure {
    Failure { id, title, how: How::HoldPoint, look: Some(line) }
}

/// What eyes look for before a hold point, on these walls.
const fn look(before: &'static str, on: On, text: &'static str) -> Line {
    Line { before, on, text, who: "crew lead", photo: false }
}

/// A family of failures: its heading and its rows in order.
#[derive(Clone, Copy, Debug)]
pub struct Family {
    /// As printed.
    pub title: &'static str,
    /// In the order of their numbers.
    pub rows: &'static [Failure],
}

/// All families, in the order of the trade reference.
pub static FAMILIES: &[Family] = &[
    Family { title: "Drainage", rows: drainage::ROWS },
    Family { title: "Ventilation", rows: ventilation::ROWS },
    Family { title: "Air barrier", rows: air_barrier::ROWS },
    Family { title: "Laps and flashings", rows: laps::ROWS },
    Family { title: "Vapour and condensation", rows: vapour::ROWS },
    Family { title: "Thermal", rows: thermal::ROWS },
    Family { title: "Corrosion", rows: corrosion::ROWS },
    Family { title: "Movement", rows: movement::ROWS },
    Family { title: "Fastening", rows: fastening::ROWS },
    Family { title: "Fire", rows: fire::ROWS },
    Family { title: "Pests", rows: pests::ROWS },
    Family { title: "Freezing and ice", rows: freezing::ROWS },
    Family { title: "Layout", rows: layout::ROWS },
    Family { title: "Service", rows: service::ROWS },
];

/// All failures, in order.
pub fn failures() -> impl Iterator<Item = &'static Failure> {
    FAMILIES.iter().flat_map(|family| family.rows)
}
