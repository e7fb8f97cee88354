//! One rule a file, one folder a family; every answer is no fault found, a fault, or cannot tell.

mod air;
mod bays;
mod behind;
pub mod catalogue;
mod context;
mod disputes;
pub(crate) mod fastening;
mod finding;
mod fire;
mod flashing;
mod freeze;
mod gap;
mod laps;
mod metals;
mod moisture;
pub(crate) mod movement;
mod office;
mod order;
mod pests;
mod pieces;
mod registers;
mod remedy;
mod rules;
mod service;
mod setting_out;
mod settle;
mod thermal;
mod trims;
pub(crate) mod vapour;
mod water;

pub use context::CheckContext;
pub use finding::{Basis, Finding, Grade, Measure, Settled, Stretch, Summary};
pub use office::known as office_properties;
pub use remedy::Remedy;
pub use rules::{RULES, rule};
pub use settle::{Raw, Silent, raw, raw_of_cut, settle, summarise};

/// What a rule is, for lists, `explain` and the catalogue.
#[derive(Clone, Copy, Debug)]
pub struct RuleMeta {
    /// Dotted id that names the fault: `gap.shallow`.
    pub id: &'static str,
    /// Number in the trade's catalogue of failures, such as `DR-01`; empty for rules about the declaration itself.
    pub catalogue: &'static str,
    /// One line, lower case, no full stop: what is wrong when it fires.
    pub title: &'static str,
    /// How bad it is where nothing else stands between the water and the wood.
    pub grade: Grade,
    /// Hold point before which it must be mended, `H0` to `H7`.
    pub before: &'static str,
    /// Names of the limits it reads, from the rule sets.
    pub limits: &'static [&'static str],
    /// What it checks, why, an example and a better one, the basis, known gaps; under these headings.
    pub explain: &'static str,
}

/// What a rule is asked of, once each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// Each house, with everything that is of no face.
    House,
    /// Each plane cut, by itself.
    Cut,
}

/// A check. It reads facts and reports; it computes neither physics nor layout.
pub trait Rule: Sync {
    /// What it is.
    fn meta(&self) -> &'static RuleMeta;
    /// What it is asked of.
    fn of(&self) -> Of {
        Of::House
    }
    /// Reports faults and what cannot be told. Silence means no fault found.
    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>);
}
