//! The pest grammar, and the three ways in which the driver asks it.

#![allow(missing_docs, reason = "the rules are generated; their meaning stands in the grammar file")]

use pest::Parser;
use pest::error::{Error, ErrorVariant, InputLocation};
use pest::iterators::Pairs;

#[derive(pest_derive::Parser)]
#[grammar = "../grammar/wythe.pest"]
pub(super) struct Grammar;

/// Where pest stopped and what it would have taken there.
pub(super) struct Refusal {
    /// Byte offset within the text that was given.
    pub at: usize,
    /// What could stand there; empty if pest gave up for want of resources.
    pub expected: Vec<Rule>,
}

/// Reads `text` from its first to its last byte as `rule`.
pub(super) fn read(rule: Rule, text: &str) -> Result<Pairs<'_, Rule>, Refusal> {
    Grammar::parse(rule, text).map_err(|error| refusal(&error))
}

fn refusal(error: &Error<Rule>) -> Refusal {
    let at = match error.location {
        InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
    };
    let expected = match &error.variant {
        ErrorVariant::ParsingError { positives, .. } => positives.clone(),
        ErrorVariant::CustomError { .. } => Vec::new(),
    };
    Refusal { at, expected }
}
