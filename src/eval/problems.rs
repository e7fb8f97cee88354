//! What can be wrong with a statement's words and values.

use crate::diagnose::{Diagnostic, did_you_mean};
use crate::schema::{Row, SlotKind, contexts_of, usage};
use crate::source::Span;
use crate::syntax::Word;

pub(super) fn uses_itself(span: Span, kind: &str, name: &str) -> Diagnostic {
    Diagnostic::error("name.cycle", span, format!("{kind} `{name}` is made from itself"))
}

pub(super) fn unknown_clause(keyword: &Word, owner: &str, known: Vec<&'static str>) -> Diagnostic {
    let title = format!("`{}` is not a clause of `{owner}`", keyword.text);
    let mut problem = Diagnostic::error("text.unknown_word", keyword.span, title);
    if let Some(near) = crate::diagnose::nearest(&keyword.text, known.iter().copied()) {
        problem = problem.help(format!("did you mean `{near}`?")).fix(format!("write `{near}`"), keyword.span, near);
    }
    match contexts_of(&keyword.text).as_slice() {
        [] => problem,
        contexts => problem.help(format!("it belongs to `{}`", contexts.join("`, `"))),
    }
}

pub(super) fn clause_twice(again: Span, first: Span, word: &str) -> Diagnostic {
    Diagnostic::error("text.clause_twice", again, format!("`{word}` stands twice"))
        .label("again here")
        .also(first, "first here")
        .help("keep one of the two")
}

pub(super) fn takes_no_clauses(keyword: Span, owner: &str, clause: &Word) -> Diagnostic {
    Diagnostic::error("text.unknown_word", clause.span, format!("`{owner}` takes no clause `{}`", clause.text))
        .also(keyword, "the statement it follows")
}

pub(super) fn missing(at: Span, row: &Row, kind: &SlotKind) -> Diagnostic {
    Diagnostic::error("text.missing", at, format!("`{}` wants {} here", row.word, wanted(kind)))
        .help(format!("its form is `{}`", usage(row)))
}

pub(super) fn missing_word(at: Span, row: &Row, word: &str) -> Diagnostic {
    Diagnostic::error("text.missing", at, format!("`{}` wants the word `{word}` here", row.word))
        .help(format!("its form is `{}`", usage(row)))
}

pub(super) fn left_over(at: Span, row: &Row, written: &str) -> Diagnostic {
    Diagnostic::error("text.left_over", at, format!("`{written}` has no place in `{}`", row.word))
        .help(format!("its form is `{}`", usage(row)))
}

pub(super) fn wrong_kind(at: Span, written: &str, row: &Row, kind: &SlotKind) -> Diagnostic {
    let mut problem =
        Diagnostic::error("text.wrong_kind", at, format!("`{}` wants {}, found `{written}`", row.word, wanted(kind)));
    if let SlotKind::Choice(words) | SlotKind::Choices(words) = kind
        && let Some(near) = crate::diagnose::nearest(written, words.iter().copied())
    {
        problem = problem.help(format!("did you mean `{near}`?")).fix(format!("write `{near}`"), at, near);
    }
    problem
}

pub(super) fn unknown_name(word: &Word, known: &[String]) -> Diagnostic {
    let mut problem = Diagnostic::error("name.unknown", word.span, format!("there is no `{}` here", word.text));
    if let Some(near) = crate::diagnose::nearest(&word.text, known.iter().map(String::as_str)) {
        problem = problem.fix(format!("write `{near}`"), word.span, near);
    }
    problem.help.extend(did_you_mean(&word.text, known.iter().map(String::as_str)));
    problem
}

pub(super) fn a_file(at: Span, written: &str) -> Diagnostic {
    Diagnostic::error("name.file", at, format!("`{written}` is a whole file"))
        .help(format!("name one thing of it: `{written}.NAME`"))
}

pub(super) fn wrong_declaration(at: Span, written: &str, found: &str, wanted: &[&str]) -> Diagnostic {
    let wanted = wanted.iter().map(|kind| format!("a {kind}")).collect::<Vec<_>>().join(" or ");
    Diagnostic::error("name.wrong_kind", at, format!("`{written}` is a {found}, {wanted} is wanted"))
}

pub(super) fn unknown_parameter<'a>(word: &Word, owner: &str, known: impl Iterator<Item = &'a str>) -> Diagnostic {
    let title = format!("`{owner}` has no parameter `{}`", word.text);
    let mut problem = Diagnostic::error("name.parameter", word.span, title);
    problem.help.extend(did_you_mean(&word.text, known));
    problem
}

pub(super) fn unnamed_argument(at: Span, owner: &str) -> Diagnostic {
    Diagnostic::error("name.parameter", at, "arguments are named").help(format!("write `{owner}(name = value)`"))
}

pub(super) fn argument_missing(at: Span, owner: &str, parameter: &str) -> Diagnostic {
    Diagnostic::error("name.parameter", at, format!("`{owner}` needs a value for `{parameter}`"))
        .help(format!("write `{owner}({parameter} = …)`"))
}

pub(super) fn bad_date(at: Span, written: &str) -> Diagnostic {
    Diagnostic::error("text.date", at, format!("`{written}` is no day of the calendar"))
        .help("a date is written year-month-day: `2027-05-01`")
}

pub(super) fn range_backward(at: Span) -> Diagnostic {
    Diagnostic::error("text.range", at, "this range runs backward").help("write the smaller value first")
}

pub(super) fn nothing_to_remove(at: Span, name: &str) -> Diagnostic {
    Diagnostic::error("like.nothing", at, format!("there is no `{name}` to remove or follow in what this is like"))
}

/// What a slot wants, with an example.
pub(super) fn wanted(kind: &SlotKind) -> String {
    match kind {
        SlotKind::New => "a name".into(),
        SlotKind::Choice(words) | SlotKind::Choices(words) if words.len() <= 8 => {
            format!("one of `{}`", words.join("`, `"))
        }
        SlotKind::Choice(_) | SlotKind::Choices(_) => "one of its words".into(),
        SlotKind::Reference(kinds) | SlotKind::References(kinds) => {
            kinds.iter().map(|kind| format!("a {kind}")).collect::<Vec<_>>().join(" or ")
        }
        SlotKind::Path | SlotKind::Paths => "a name, such as `kitchen.head`".into(),
        SlotKind::Names => "names in brackets, such as `(eave, rake)`".into(),
        SlotKind::Length => "a length, such as `19mm` or `3/4in`".into(),
        SlotKind::Lengths => "lengths, such as `12ft and 16ft`".into(),
        SlotKind::LengthTuple => "lengths in brackets, such as `(16in, 32in)`".into(),
        SlotKind::Range => "a length or a range, such as `130mm..140mm`".into(),
        SlotKind::Size => "a size, such as `19mm x 64mm`".into(),
        SlotKind::Point => "a point, such as `(6ft, 3ft)`".into(),
        SlotKind::Points => "points, such as `((0, 0), (8ft, 0), (8ft, 9ft))`".into(),
        SlotKind::Slope => "a slope, such as `6%`, `4:12` or `6deg`".into(),
        SlotKind::Number => "a number".into(),
        SlotKind::NumberTuple => "numbers in brackets".into(),
        SlotKind::Integer => "a whole number".into(),
        SlotKind::Quantity(name) => format!("a {}", name.replace('_', " ")),
        SlotKind::QuantityTuple(name) => format!("values of {} in brackets", name.replace('_', " ")),
        SlotKind::Text => "a text in quotes".into(),
        SlotKind::Date => "a date, such as `2027-05-01`".into(),
        SlotKind::Where => "`left`, `right` or a length along the edge".into(),
        SlotKind::PointOrStart => "a point, or `start`".into(),
        SlotKind::Any => "a value".into(),
    }
}
