//! The printed reference of the language, made from the schema table so that it cannot disagree with the compiler.

use std::fmt::Write;
use std::ops::Range;

use super::{Row, form::Element, form::SlotKind, rows};

/// The whole reference as Markdown. `grammar/reference.md` holds it; a test keeps the two the same.
pub fn reference() -> String {
    let mut page = String::from(
        "# The statements of Wythe\n\n\
         Made from the schema table (`src/schema`); do not edit. A word in CAPITALS stands for a value, `[ ]` may be left out,\n\
         `a|b` is a choice, `a|b…` are several of these joined by `and`. A clause stands after a comma or on its own line in a block.\n",
    );
    let mut contexts: Vec<&str> = Vec::new();
    for row in rows() {
        for within in row.within.split(' ') {
            if !contexts.contains(&within) {
                contexts.push(within);
            }
        }
    }
    contexts.sort_by_key(|context| *context != "file");
    for context in contexts {
        section(&mut page, context);
    }
    page
}

fn section(page: &mut String, context: &str) {
    let owners = owners(context);
    let title = match context {
        "file" => "In a file".to_owned(),
        _ if owners.is_empty() => format!("Clauses of `{context}`"),
        _ => format!("Clauses of {}", owners.iter().map(|owner| format!("`{owner}`")).collect::<Vec<_>>().join(", ")),
    };
    let _ = write!(page, "\n## {title}\n\n| write | says | may repeat | basis |\n|---|---|---|---|\n");
    for row in rows().filter(|row| row.within.split(' ').any(|within| within == context)) {
        let also = match row.also {
            [] => String::new(),
            words => format!(" (also `{}`)", words.join("`, `")),
        };
        let repeat = if row.many { "yes" } else { "" };
        let usage = usage(row).replace('|', "\\|");
        let _ = writeln!(page, "| `{usage}` | {}{also} | {repeat} | {} |", row.help, row.basis);
    }
}

/// Keywords whose clauses stand in this context.
fn owners(context: &str) -> Vec<&'static str> {
    let mut words: Vec<_> = rows().filter(|row| row.body == context).map(|row| row.word).collect();
    words.sort_unstable();
    words.dedup();
    words
}

/// A form as a person would write it: `layer NAME MATERIAL [LENGTH]`.
pub fn usage(row: &Row) -> String {
    usage_parts(row).0
}

/// The same, with every word and slot of the form and where it stands in the text.
pub fn usage_parts(row: &Row) -> (String, Vec<(&'static Element, Range<usize>)>) {
    let (mut text, mut parts) = (row.word.to_owned(), Vec::new());
    walk(&row.parsed().elements, &mut text, &mut parts);
    (text, parts)
}

fn walk(elements: &'static [Element], text: &mut String, parts: &mut Vec<(&'static Element, Range<usize>)>) {
    for element in elements {
        if !text.ends_with('[') {
            text.push(' ');
        }
        let start = text.len();
        match element {
            Element::Word(word) => text.push_str(word),
            Element::Slot(label, kind) => text.push_str(&slot(label, kind)),
            Element::Optional(inner) => {
                text.push('[');
                walk(inner, text, parts);
                text.push(']');
                continue;
            }
        }
        parts.push((element, start..text.len()));
    }
}

fn slot(label: &str, kind: &SlotKind) -> String {
    match kind {
        SlotKind::Choice(words) => words.join("|"),
        SlotKind::Choices(words) => format!("{}…", words.join("|")),
        SlotKind::Reference(kinds) => kinds.join("|").to_uppercase(),
        SlotKind::References(kinds) => format!("{}…", kinds.join("|").to_uppercase()),
        SlotKind::Point | SlotKind::PointOrStart => "(X, Y)".into(),
        SlotKind::Size => "A x B".into(),
        SlotKind::Text => "\"TEXT\"".into(),
        SlotKind::Date => "YEAR-MONTH-DAY".into(),
        _ => label.to_uppercase(),
    }
}
