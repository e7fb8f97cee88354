//! Wythe: a small language and compiler for drained-and-ventilated wall assemblies.
//!
//! Text goes one way: `source` → `syntax` → `resolve` → `eval` → `model` → `geometry` → `continuity`, `layout`
//! → `checks` → `emit`. The library is pure; only `cli` touches files, the clock and the terminal.

pub mod checks;
pub mod cli;
pub mod continuity;
pub mod diagnose;
pub mod emit;
pub mod eval;
pub mod figures;
pub mod geometry;
pub mod ide;
pub mod kits;
pub mod layout;
pub mod loads;
pub mod model;
pub mod physics;
pub mod plan;
pub mod quantities;
pub mod resolve;
pub mod schema;
pub mod session;
pub mod source;
pub mod syntax;
pub mod units;
