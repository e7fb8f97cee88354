//! Findings and mistakes of the text, as text, as JSON and as SARIF.

pub mod json;
mod painter;
pub mod sarif;
pub mod text;

pub use painter::Paint;

use super::{Emitter, Output};
use crate::session::Checked;

/// The findings as files: `findings.txt` and `findings.json`.
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
            Output::text("findings.json", "findings for programs", json::json(checked)),
        ]
    }
}
