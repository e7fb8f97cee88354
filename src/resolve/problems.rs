//! What can be wrong with files, imports and the names of declarations.

use crate::diagnose::{Diagnostic, did_you_mean};
use crate::source::{ReadError, Span};
use crate::syntax::Word;

/// A list of names longer than this is no help.
const NAMES_SHOWN: usize = 40;

pub(super) fn unreadable(span: Span, path: &str, error: &ReadError, others: &[String]) -> Diagnostic {
    match error {
        ReadError::Missing => {
            let mut problem =
                Diagnostic::error("use.missing", span, format!("there is no file `{path}` in the project folder"));
            problem.help.extend(did_you_mean(path, others.iter().map(String::as_str)));
            problem.help("a file beside this one is named without its ending: `use details` reads `details.wythe`")
        }
        ReadError::NotUtf8(at) => {
            Diagnostic::error("file.not_utf8", span, format!("`{path}` is not text: byte {at} is not UTF-8"))
                .help("save the file as UTF-8")
        }
        ReadError::Other(why) => {
            Diagnostic::error("use.unreadable", span, format!("`{path}` could not be read: {why}"))
        }
    }
}

pub(super) fn unknown_library(span: Span, name: &str) -> Diagnostic {
    let mut problem = Diagnostic::error("use.missing", span, format!("the library has no part `{name}`"));
    problem.help.extend(did_you_mean(name, super::library::names()));
    problem.help(format!("it has: {}", super::library::names().collect::<Vec<_>>().join(", ")))
}

pub(super) fn cycle(span: Span, chain: &[String]) -> Diagnostic {
    Diagnostic::error("use.cycle", span, format!("these files bring each other in: {}", chain.join(" → ")))
        .help("move what both need into a third file")
}

pub(super) fn wrong_version(span: Span, path: &str, wanted: i64, found: Option<i64>) -> Diagnostic {
    let found = found.map_or("gives itself no version".to_owned(), |version| format!("is version {version}"));
    Diagnostic::error("use.version", span, format!("version {wanted} of `{path}` is wanted, the file {found}"))
}

pub(super) fn declared_twice(again: &Word, first: Span) -> Diagnostic {
    Diagnostic::error("name.twice", again.span, format!("`{}` is declared twice", again.text))
        .label("again here")
        .also(first, "first here")
        .help("give one of the two another name")
}

pub(super) fn imported_name(own: &Word, import: Span) -> Diagnostic {
    Diagnostic::error("name.imported", own.span, format!("`{}` is already brought in by `use`", own.text))
        .label("declared here")
        .also(import, "brought in here")
        .fix(format!("rename it to `my_{}`", own.text), own.span, format!("my_{}", own.text))
        .help(format!("rename one of them, for example to `my_{}`", own.text))
}

pub(super) fn imported_twice(again: &Word, first: Span) -> Diagnostic {
    Diagnostic::error("name.twice", again.span, format!("`use` brings in two things called `{}`", again.text))
        .label("again here")
        .also(first, "first here")
        .help("bring in the whole file for one of the two, and write it with a dot: `details.eave`")
}

pub(super) fn not_in_module<'a>(name: &Word, path: &str, known: impl Iterator<Item = &'a str>) -> Diagnostic {
    let known: Vec<&str> = known.collect();
    let problem = Diagnostic::error("name.unknown", name.span, format!("`{path}` has no `{}`", name.text));
    match crate::diagnose::nearest(&name.text, known.iter().copied()) {
        Some(near) => problem.help(format!("did you mean `{near}`?")).fix(format!("write `{near}`"), name.span, near),
        None if known.len() <= NAMES_SHOWN => problem.help(format!("it has: {}", known.join(", "))),
        None => problem,
    }
}

pub(super) fn outside_declaration(keyword: &Word) -> Diagnostic {
    let title = format!("`{}` does not open a declaration", keyword.text);
    let mut problem = Diagnostic::error("text.not_a_declaration", keyword.span, title);
    problem.help.extend(did_you_mean(&keyword.text, crate::schema::declaration_words()));
    match crate::schema::contexts_of(&keyword.text).first() {
        Some(first) => problem.help(format!("it belongs inside `{first}`, indented")),
        None => problem,
    }
}

pub(super) fn library_path(span: Span) -> Diagnostic {
    Diagnostic::error("use.missing", span, "a part of the library is named with one word behind `std`")
        .help("write `use std.boards`, then `boards.larch`")
}
