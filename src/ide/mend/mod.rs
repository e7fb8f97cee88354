//! Edits that mend a finding: computed when somebody asks, out of the finding, the wall and the text.

mod accept;
mod ask;
pub(super) mod draft;
mod import;
mod list;
mod missing;
mod work;

use ask::Ask;

use super::diagnostics::{Mark, of_finding, of_problem};
use crate::checks::Settled;
use crate::diagnose::Fix;
use crate::session::Glance;
use crate::source::{FileId, Span};

/// Stands in an edit where somebody who knows the site has to fill something in.
pub const BLANK: &str = "fill_in";

/// One way to mend a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// The rule that found it.
    pub rule: &'static str,
    /// Title in the words of the trade, and the edits, each declaration it touches in its one form.
    pub fix: Fix,
    /// Some of its edits have a [`BLANK`].
    pub blanks: bool,
}

/// Everything that mends what is marked in a stretch of a file: with each mark the edits it carries and those made for it.
pub fn mends(glance: &Glance, file: FileId, from: u32, to: u32) -> Vec<(Mark, Vec<Mend>)> {
    let here = |span: Span| span.file == file && span.start <= to && from <= span.end;
    let texts = glance.problems.iter().filter(|problem| here(problem.main.span)).map(|problem| {
        let carried = |fix: &Fix| Mend { rule: problem.code, fix: fix.clone(), blanks: false };
        (of_problem(problem), problem.fixes.iter().map(carried).chain(import::of(glance, problem)).collect())
    });
    let found = glance
        .findings
        .iter()
        .filter(|one| here(one.finding.at))
        .map(|settled| (of_finding(&glance.model, settled), mends_of(glance, settled)));
    texts.chain(found).collect()
}

/// Every way to mend a finding, the best first: what it carries, what the list has for its rule, the fact it lacks, and
/// last to accept it.
pub fn mends_of(glance: &Glance, settled: &Settled) -> Vec<Mend> {
    if settled.accepted.is_some() {
        return Vec::new();
    }
    let finding = &settled.finding;
    let ask = Ask { glance, finding };
    let carried = finding.fixes.iter().map(|fix| Mend { rule: finding.rule, fix: fix.clone(), blanks: false });
    let mut all: Vec<Mend> = carried.chain(list::of(&ask)).chain(missing::of(&ask)).chain(accept::of(&ask)).collect();
    let mut seen: Vec<Vec<(Span, String)>> = Vec::new();
    all.retain(|mend| {
        let new = !seen.contains(&mend.fix.edits);
        seen.push(mend.fix.edits.clone());
        new
    });
    all
}
