//! What can be wrong with a statement's words and values.

use crate::diagnose::{Diagnostic, did_you_mean};
use crate::resolve::library;
use crate::schema::{Element, Row, SlotKind, contexts_of, usage};
use crate::source::Span;
use crate::syntax::{Item, Word};

pub(super) fn uses_itself(span: Span, kind: &str, name: &str) -> Diagnostic {
    Diagnostic::error("name.cycle", span, format!("{kind} `{name}` is made from itself"))
        .help(format!("take `{name}` out of what it is made from"))
}

pub(super) fn too_deep(span: Span, kind: &str, name: &str) -> Diagnostic {
    Diagnostic::error(
        "name.too_deep",
        span,
        format!("{kind} `{name}` is made from too many others, one inside the other"),
    )
    .help("make it from fewer, or write its lines out")
}

pub(super) fn takes_no_parameters(at: Span, kind: &str) -> Diagnostic {
    Diagnostic::error("name.parameter", at, format!("{} takes no parameters", article(kind)))
        .help("assemblies, details, products and materials do")
}

pub(super) fn argument_twice(again: &Word, first: Span) -> Diagnostic {
    Diagnostic::error("name.parameter", again.span, format!("`{}` is given twice", again.text))
        .label("again here")
        .also(first, "first here")
        .help("keep one of the two")
}

pub(super) fn needs_like(at: Span, word: &str, owner: &str) -> Diagnostic {
    Diagnostic::error(
        "like.nothing",
        at,
        format!("`{word}` changes what `like` brings in, and this {owner} has no `like`"),
    )
    .help("write `like NAME` above it, or leave it out")
}

pub(super) fn no_size(at: Span, written: &str, row: &Row) -> Diagnostic {
    let title = format!("`{}` is no size for `{}`: each measure must be more than 0", short(written), row.word);
    Diagnostic::error("size.not_positive", at, title)
}

/// A word with its article: an area, a face.
pub(super) fn article(word: &str) -> String {
    let vowel = word.starts_with(['a', 'e', 'i', 'o', 'u']);
    format!("{} {word}", if vowel { "an" } else { "a" })
}

/// A list of words longer than this is too long for a title.
const FEW: usize = 8;

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
    Diagnostic::error("text.missing", at, format!("`{}` lacks {}", row.word, wanted(kind)))
        .help(format!("its form is `{}`", usage(row)))
}

pub(super) fn missing_word(at: Span, row: &Row, word: &str) -> Diagnostic {
    Diagnostic::error("text.missing", at, format!("`{}` lacks the word `{word}` here", row.word))
        .help(format!("its form is `{}`", usage(row)))
}

/// What was written, on one line and short enough for a title.
fn short(written: &str) -> String {
    const LONGEST: usize = 48;
    let line = written.lines().next().unwrap_or_default().trim_end();
    if line.len() == written.len() && line.chars().count() <= LONGEST {
        return line.to_owned();
    }
    format!("{}…", line.chars().take(LONGEST).collect::<String>())
}

/// Arguments behind the end of a form: a slip in one of its words, a clause without its comma, or too much.
pub(super) fn left_over(first: &Item, rest: Span, row: &Row, written: &str) -> Diagnostic {
    let word = first.word().map_or("", |word| &*word.text);
    if let Some(near) = crate::diagnose::nearest(word, words_of(&row.parsed().elements)) {
        return Diagnostic::error("text.left_over", first.span, format!("`{word}` has no place in `{}`", row.word))
            .help(format!("did you mean `{near}`?"))
            .help(format!("its form is `{}`", usage(row)))
            .fix(format!("write `{near}`"), first.span, near);
    }
    let problem =
        Diagnostic::error("text.left_over", rest, format!("`{}` has no place in `{}`", short(written), row.word));
    if crate::schema::find(row.body, word).is_some() {
        return problem.help(format!("a clause stands behind a comma: write `, {}`", short(written))).fix(
            "add the comma",
            rest,
            format!(", {written}"),
        );
    }
    problem.help(format!("its form is `{}`", usage(row)))
}

/// Every word a form knows: those that stand for themselves, and choices.
fn words_of(elements: &'static [Element]) -> Vec<&'static str> {
    let words = |element: &'static Element| match element {
        Element::Word(word) => vec![*word],
        Element::Slot(_, SlotKind::Choice(words) | SlotKind::Choices(words)) => words.clone(),
        Element::Slot(..) => Vec::new(),
        Element::Optional(inner) => words_of(inner),
    };
    elements.iter().flat_map(words).collect()
}

pub(super) fn wrong_kind(at: Span, written: &str, row: &Row, kind: &SlotKind) -> Diagnostic {
    let (SlotKind::Choice(words) | SlotKind::Choices(words)) = kind else {
        let title = format!("`{}` wants {}, found `{}`", row.word, wanted(kind), short(written));
        return Diagnostic::error("text.wrong_kind", at, title);
    };
    let title = if words.len() <= FEW {
        format!("`{}` wants {}, found `{}`", row.word, wanted(kind), short(written))
    } else {
        format!("`{}` is none of the words that `{}` takes", short(written), row.word)
    };
    let mut problem = Diagnostic::error("text.wrong_kind", at, title);
    if let Some(near) = crate::diagnose::nearest(written, words.iter().copied()) {
        problem = problem.help(format!("did you mean `{near}`?")).fix(format!("write `{near}`"), at, near);
    }
    if words.len() <= FEW { problem } else { problem.help(format!("it takes: {}", words.join(", "))) }
}

pub(super) fn unknown_name(word: &Word, known: &[String]) -> Diagnostic {
    let mut problem = Diagnostic::error("name.unknown", word.span, format!("there is no `{}` here", word.text));
    if let Some(near) = crate::diagnose::nearest(&word.text, known.iter().map(String::as_str)) {
        problem = problem.fix(format!("write `{near}`"), word.span, near);
    }
    problem.help.extend(did_you_mean(&word.text, known.iter().map(String::as_str)));
    for module in library::declaring(&word.text) {
        let name = &word.text;
        problem = problem.help(format!("the library has one: write `use std.{module}`, then `{module}.{name}`"));
    }
    problem
}

pub(super) fn a_file(at: Span, written: &str) -> Diagnostic {
    Diagnostic::error("name.file", at, format!("`{written}` is a whole file"))
        .help(format!("name one thing of it: `{written}.NAME`"))
}

pub(super) fn wrong_declaration(at: Span, written: &str, found: &str, wanted: &[&str]) -> Diagnostic {
    let wanted = wanted.iter().map(|kind| article(kind)).collect::<Vec<_>>().join(" or ");
    Diagnostic::error("name.wrong_kind", at, format!("`{written}` is {}, {wanted} is wanted", article(found)))
}

pub(super) fn unknown_parameter<'a>(word: &Word, owner: &str, known: impl Iterator<Item = &'a str>) -> Diagnostic {
    let title = format!("`{owner}` has no parameter `{}`", word.text);
    let known: Vec<&str> = known.collect();
    let problem = Diagnostic::error("name.parameter", word.span, title);
    match (crate::diagnose::nearest(&word.text, known.iter().copied()), known.as_slice()) {
        (Some(near), _) => {
            problem.help(format!("did you mean `{near}`?")).fix(format!("write `{near}`"), word.span, near)
        }
        (None, []) => problem.help(format!("`{owner}` takes no parameters")),
        (None, known) => problem.help(format!("it has `{}`", known.join("`, `"))),
    }
}

pub(super) fn unnamed_argument(at: Span, owner: &str) -> Diagnostic {
    Diagnostic::error("name.parameter", at, format!("this value for `{owner}` has no name"))
        .help(format!("write which parameter it is for: `{owner}(name = value)`"))
}

pub(super) fn argument_missing(at: Span, owner: &str, parameter: &str) -> Diagnostic {
    Diagnostic::error("name.parameter", at, format!("`{owner}` needs a value for `{parameter}`"))
        .help(format!("write `{owner}({parameter} = …)`"))
}

pub(super) fn bad_date(at: Span, written: &str) -> Diagnostic {
    Diagnostic::error("text.date", at, format!("`{written}` is not a day of the calendar"))
        .help("a date is written year-month-day: `2027-05-01`")
}

pub(super) fn range_backward(at: Span) -> Diagnostic {
    Diagnostic::error("text.range", at, "this range goes from the greater value to the smaller one")
        .help("write the smaller value first")
}

pub(super) fn nothing_to_remove(at: Span, name: &str) -> Diagnostic {
    Diagnostic::error("like.nothing", at, format!("there is no `{name}` in what this is like"))
        .help("`without` and `after` name a statement of the thing behind `like`")
}

/// What a slot wants, with an example.
pub(super) fn wanted(kind: &SlotKind) -> String {
    match kind {
        SlotKind::New => "a name".into(),
        SlotKind::Choice(words) | SlotKind::Choices(words) if words.len() <= FEW => {
            format!("one of `{}`", words.join("`, `"))
        }
        SlotKind::Choice(words) | SlotKind::Choices(words) => {
            let shown: Vec<&str> = words.iter().copied().take(FEW).collect();
            format!("one of its words, such as `{}`", shown.join("`, `"))
        }
        SlotKind::Reference(kinds) | SlotKind::References(kinds) => {
            format!("the name of {}", kinds.iter().map(|kind| article(kind)).collect::<Vec<_>>().join(" or "))
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
        SlotKind::Number => "a number, such as `0.5` or `50%`".into(),
        SlotKind::NumberTuple => "numbers in brackets, such as `(80%, 75%)`".into(),
        SlotKind::Integer => "a whole number, such as `3`".into(),
        SlotKind::Quantity(name) => format!("{}, such as `{}`", article(&name.replace('_', " ")), example(name)),
        SlotKind::QuantityTuple(name) => {
            format!("values of {} in brackets, each such as `{}`", name.replace('_', " "), example(name))
        }
        SlotKind::Text => "a text in quotes, such as `\"site lead\"`".into(),
        SlotKind::Date => "a date, such as `2027-05-01`".into(),
        SlotKind::Where => "`left`, `right` or a length along the edge".into(),
        SlotKind::PointOrStart => "a point, or `start`".into(),
        SlotKind::Any => "a value".into(),
    }
}

/// A value of a dimension as people write it.
pub fn example(dimension: &str) -> &'static str {
    match dimension {
        "pressure" => "0.48kPa",
        "time" => "50a",
        "temperature" => "-25degC",
        "speed" => "4m/s",
        "leakage" => "0.02L/(s.m2)",
        "conductivity" => "0.036W/(m.K)",
        "transmittance" => "1.4W/(m2.K)",
        "line_transmittance" => "0.05W/(m.K)",
        "heat_flux" => "140W/m2",
        "share" => "23%",
        "emissivity" => "0.05",
        "density" => "450kg/m3",
        "heat_capacity" => "1600J/(kg.K)",
        "permeance" => "60ng/(Pa.s.m2)",
        "expansion" => "24um/(m.K)",
        "voltage" => "-0.9V",
        "surface_mass" => "9kg/m2",
        "line_mass" => "0.4kg/m",
        "mass" => "200kg",
        "force" => "250N",
        "angle" => "15deg",
        "free_area" => "1200mm2/m",
        "area" => "420m2",
        "volume" => "400m3",
        "flow" => "170L/s",
        _ => "1",
    }
}

pub(super) fn parameter_unused(word: &Word, owner: &str) -> Diagnostic {
    Diagnostic::warning("parameter.unused", word.span, format!("`{owner}` never uses its parameter `{}`", word.text))
        .help("use it in a clause, or take it out")
}
