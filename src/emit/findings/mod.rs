//! Findings and mistakes of the text, as text, as JSON and as SARIF.

mod doubts;
pub mod json;
pub mod not_checked;
mod painter;
pub mod sarif;
pub mod text;

pub use painter::Paint;

use super::{Emitter, Output, schemas};
use crate::session::Checked;

/// The findings as files: `findings.txt`, `findings.json`, and what was not checked as `not-checked.txt`.
#[derive(Clone, Copy, Debug)]
pub struct Findings;

impl Emitter for Findings {
    fn id(&self) -> &'static str {
        "findings"
    }

    fn title(&self) -> &'static str {
        "Findings"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        vec![
            Output::text("findings.txt", "findings as text", text::text(checked, Paint::Plain)),
            Output::text("not-checked.txt", "what was not checked", not_checked::full(checked)),
            Output::text("findings.json", "findings for programs", json::json(checked)),
        ]
    }

    fn schema(&self) -> Option<serde_json::Value> {
        Some(schemas::of::<json::Report<'_>>())
    }
}
