//! Statements and clauses of a context, those that stand there and may not repeat left out.

use super::{CompletionKind, Desk, whole};
use crate::eval::example;
use crate::schema::{self, Element, Row, SlotKind, usage};

impl Desk<'_> {
    /// Everything that may begin here.
    pub(super) fn statements(&mut self) {
        let context = self.pen.context();
        let given: Vec<&str> = self.given().into_iter().map(schema::canonical).collect();
        let kind = if context == "file" { CompletionKind::Statement } else { CompletionKind::Clause };
        let replace = self.whole_word();
        let opens_block = context == "file";
        let in_line = self.pen.clauses.len() > 1;
        for row in schema::rows().filter(|row| row.within.split(' ').any(|within| within == context)) {
            if !row.many && given.contains(&row.word) {
                continue;
            }
            let basis = if row.basis.is_empty() { String::new() } else { format!("\n\n{}", row.basis) };
            let order = if given.contains(&row.word) { 4 } else { 2 };
            let text = snippet(row, opens_block && !row.body.is_empty() && !in_line);
            let doc = format!("`{}`{basis}", usage(row));
            self.offer(row.word, kind, replace).detail(row.help).doc(doc).snippet(text).order(order);
        }
        if !in_line {
            for one in whole::WHOLE.iter().filter(|one| one.context == context) {
                let text = one.text.trim();
                self.offer(one.label, CompletionKind::Whole, replace).detail(one.help).snippet(text).order(3);
            }
        }
    }
}

/// A row as a snippet: what is needed, with places to fill in.
pub(super) fn snippet(row: &Row, block: bool) -> String {
    let mut text = row.word.to_owned();
    let mut count = 0;
    for element in &row.parsed().elements {
        match element {
            Element::Word(word) => text.push_str(&format!(" {word}")),
            Element::Slot(label, kind) => text.push_str(&format!(" {}", hole(label, kind, &mut count))),
            Element::Optional(_) => {}
        }
    }
    if block {
        text.push_str(" {\n    $0\n}");
    }
    text
}

/// A slot as a place to fill in.
pub(super) fn hole(label: &str, kind: &SlotKind, count: &mut u32) -> String {
    let mut one = |text: &str| {
        *count += 1;
        format!("${{{count}:{text}}}")
    };
    match kind {
        SlotKind::Choice(words) | SlotKind::Choices(words) if words.len() <= 16 => {
            *count += 1;
            format!("${{{count}|{}|}}", words.join(","))
        }
        SlotKind::Text => format!("\"{}\"", one(label)),
        SlotKind::Size => format!("{} x {}", one("38mm"), one("64mm")),
        SlotKind::Point | SlotKind::PointOrStart => format!("({}, {})", one("0"), one("0")),
        SlotKind::Points => format!("(({}, {}), ({}, {}))", one("0"), one("0"), one("8ft"), one("0")),
        SlotKind::LengthTuple => format!("({}, {})", one("16in"), one("32in")),
        SlotKind::Names => format!("({})", one("name")),
        SlotKind::NumberTuple => format!("({})", one("50%")),
        SlotKind::QuantityTuple(name) => format!("({})", one(example(name))),
        SlotKind::Length | SlotKind::Lengths | SlotKind::Range => one("19mm"),
        SlotKind::Slope => one("2%"),
        SlotKind::Number => one("50%"),
        SlotKind::Integer => one("2"),
        SlotKind::Quantity(name) => one(example(name)),
        SlotKind::Date => one("2027-05-01"),
        SlotKind::Where => one("left"),
        SlotKind::Choice(words) | SlotKind::Choices(words) => one(words.first().copied().unwrap_or(label)),
        SlotKind::New | SlotKind::Path | SlotKind::Paths | SlotKind::Any => one(label),
        SlotKind::Reference(kinds) | SlotKind::References(kinds) => one(kinds.first().copied().unwrap_or(label)),
    }
}
