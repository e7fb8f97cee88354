//! The one table of statements and clauses. Validation, help, completion, formatting order and the printed reference
//! are all read from it; adding a clause to the language is adding a row.

mod assemblies;
mod details;
mod faces;
mod files;
mod form;
mod goods;
mod heat_cuts;
mod lists;
mod reference;
mod textmate;

pub use form::{Element, Form, SlotKind};
pub use reference::{reference, usage, usage_parts};
pub use textmate::textmate;

use std::collections::BTreeMap;
use std::sync::OnceLock;

/// One statement or clause of the language.
#[derive(Clone, Copy, Debug)]
pub struct Row {
    /// Contexts it may stand in, separated by blanks; `file` is the outermost.
    pub within: &'static str,
    /// The keyword.
    pub word: &'static str,
    /// Other spellings that are accepted silently.
    pub also: &'static [&'static str],
    /// What follows the keyword, in the notation of [`Form`].
    pub form: &'static str,
    /// The context of its clauses; empty if it takes none.
    pub body: &'static str,
    /// May stand more than once in one place.
    pub many: bool,
    /// One line of help.
    pub help: &'static str,
    /// The standard or practice behind it or behind its default; empty if there is none to name.
    pub basis: &'static str,
}

/// A row that may stand once and takes no clauses.
const fn row(within: &'static str, word: &'static str, form: &'static str, help: &'static str) -> Row {
    Row { within, word, also: &[], form, body: "", many: false, help, basis: "" }
}

impl Row {
    const fn many(mut self) -> Row {
        self.many = true;
        self
    }
    const fn body(mut self, context: &'static str) -> Row {
        self.body = context;
        self
    }
    const fn also(mut self, words: &'static [&'static str]) -> Row {
        self.also = words;
        self
    }
    const fn basis(mut self, text: &'static str) -> Row {
        self.basis = text;
        self
    }
    /// The parsed form. Forms are checked by a test, so a malformed one is an empty form.
    pub fn parsed(&self) -> &'static Form {
        static FORMS: OnceLock<BTreeMap<&'static str, Form>> = OnceLock::new();
        static EMPTY: Form = Form { elements: Vec::new() };
        let forms = FORMS
            .get_or_init(|| rows().filter_map(|row| Form::parse(row.form).ok().map(|form| (row.form, form))).collect());
        forms.get(self.form).unwrap_or(&EMPTY)
    }
}

/// Every row, in the order in which the formatter and the reference list clauses.
pub fn rows() -> impl Iterator<Item = &'static Row> {
    [files::ROWS, goods::ROWS, assemblies::ROWS, details::ROWS, faces::ROWS, lists::ROWS, heat_cuts::ROWS]
        .into_iter()
        .flatten()
}

/// The rows that may stand in a context, by keyword and synonym.
pub fn context(name: &str) -> &'static BTreeMap<&'static str, &'static Row> {
    static CONTEXTS: OnceLock<BTreeMap<&'static str, BTreeMap<&'static str, &'static Row>>> = OnceLock::new();
    static EMPTY: BTreeMap<&'static str, &'static Row> = BTreeMap::new();
    let contexts = CONTEXTS.get_or_init(|| {
        let mut contexts: BTreeMap<_, BTreeMap<_, _>> = BTreeMap::new();
        for row in rows() {
            for within in row.within.split(' ') {
                let words = contexts.entry(within).or_default();
                for word in std::iter::once(&row.word).chain(row.also) {
                    words.insert(*word, row);
                }
            }
        }
        contexts
    });
    contexts.get(name).unwrap_or(&EMPTY)
}

/// Spellings of other regions, accepted silently in keywords and in the schema's words: given, then the schema's.
const SPELLINGS: &[(&str, &str)] = &[
    ("aluminum", "aluminium"),
    ("anodized", "anodised"),
    ("center", "centre"),
    ("color", "colour"),
    ("fiber", "fibre"),
    ("fiber_cement", "fibre_cement"),
    ("galvanized", "galvanised"),
    ("gray", "grey"),
    ("miter", "mitre"),
    ("square_meter", "square_metre"),
    ("storey", "story"),
    ("vapor", "vapour"),
];

/// A word in the spelling of this table, for choices and for words inside a form.
pub fn respell(word: &str) -> &str {
    SPELLINGS.iter().find(|(other, _)| *other == word).map_or(word, |(_, own)| own)
}

/// What else a word of this table may be spelled like.
pub fn other_spellings(word: &str) -> Vec<&'static str> {
    SPELLINGS.iter().filter(|(_, own)| **own == *word).map(|(other, _)| *other).collect()
}

/// A keyword as the table has it: `strapping` is `furring`. One that is unknown, or is itself a row, is given back.
pub fn canonical(keyword: &str) -> &str {
    static SYNONYMS: OnceLock<BTreeMap<&'static str, &'static str>> = OnceLock::new();
    let synonyms = SYNONYMS.get_or_init(|| {
        let mut known: BTreeMap<&'static str, &'static str> =
            rows().flat_map(|row| row.also.iter().map(|word| (*word, row.word))).collect();
        rows().for_each(|row| {
            known.remove(row.word);
        });
        known
    });
    synonyms.get(keyword).copied().unwrap_or(keyword)
}

/// The row for a keyword in a context.
pub fn find(within: &str, word: &str) -> Option<&'static Row> {
    context(within).get(word).copied()
}

/// Contexts in which a keyword may stand, for "`weep` belongs in `trim`".
pub fn contexts_of(word: &str) -> Vec<&'static str> {
    let mut found: Vec<_> = rows()
        .filter(|row| row.word == word || row.also.contains(&word))
        .flat_map(|row| row.within.split(' '))
        .collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// Words that open a declaration when they stand in column 0.
pub fn declaration_words() -> impl Iterator<Item = &'static str> {
    context("file").values().map(|row| row.word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_form_is_well_made_and_every_body_has_rows() {
        for row in rows() {
            assert!(Form::parse(row.form).is_ok(), "form of `{}`: {} {:?}", row.word, row.form, Form::parse(row.form));
            assert!(
                row.body.is_empty() || !context(row.body).is_empty(),
                "`{}` opens empty context {}",
                row.word,
                row.body
            );
            assert!(!row.help.is_empty() && !row.help.ends_with('.'), "help of `{}`", row.word);
        }
    }

    #[test]
    fn a_word_has_one_meaning_in_a_context() {
        let mut seen = std::collections::BTreeSet::new();
        for row in rows() {
            for within in row.within.split(' ') {
                for word in std::iter::once(&row.word).chain(row.also) {
                    assert!(seen.insert((within, *word)), "`{word}` twice in {within}");
                }
            }
        }
    }
}
