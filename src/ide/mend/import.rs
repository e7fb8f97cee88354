//! A name that the library has and this file does not know: it is brought in.

use super::Mend;
use crate::diagnose::{Diagnostic, Fix};
use crate::resolve::{Module, library};
use crate::session::Glance;
use crate::source::Span;
use crate::syntax::{ItemKind, Statement};

/// The `use` that brings a name in, for each module of the library that has it.
pub(super) fn of(glance: &Glance, problem: &Diagnostic) -> Vec<Mend> {
    let files = &glance.project.files;
    let at = problem.main.span;
    let file = glance.project.modules.iter().find(|module| module.file == at.file && !module.is_std);
    let Some(file) = file.filter(|_| problem.code == "name.unknown") else { return Vec::new() };
    let word = files.slice(at);
    let behind = files.text(at.file).get(at.end as usize..).unwrap_or_default();
    let mend = |title: String, edit: (Span, String)| Mend {
        rule: problem.code,
        fix: Fix { title, edits: vec![edit] },
        blanks: false,
    };
    if behind.starts_with('.') && library::text(word).is_some() {
        return vec![mend(format!("Use the `{word}` of the library"), line(file, &format!("use std.{word}")))];
    }
    let bring = |module: &str| {
        let title = format!("Use `{word}` of the library's {module}");
        let edit = match imported(file, module) {
            Some((_, None)) => (at, format!("{module}.{word}")),
            Some((_, Some(end))) => (end, format!(", {word}")),
            None => line(file, &format!("use std.{module} ({word})")),
        };
        mend(title, edit)
    };
    library::declaring(word).into_iter().map(bring).collect()
}

/// The import of a module of the library, and where one more name fits into its brackets, if it has some.
fn imported<'t>(file: &'t Module, module: &str) -> Option<(&'t Statement, Option<Span>)> {
    file.tree.statements.iter().filter(|one| &*one.keyword.text == "use").find_map(|one| {
        let ItemKind::Path(words) = &one.arguments.first()?.kind else { return None };
        let [std, name] = words.as_slice() else { return None };
        if &*std.text != "std" || &*name.text != module {
            return None;
        }
        let names = one.arguments.get(1).and_then(|item| match &item.kind {
            ItemKind::Tuple(entries) => entries.last().map(|last| last.value.span),
            _ => None,
        });
        Some((one, names.map(|last| Span { start: last.end, ..last })))
    })
}

/// A new line behind the imports, or behind the edition.
fn line(file: &Module, text: &str) -> (Span, String) {
    let last = |word: &str| file.tree.statements.iter().rfind(|one| &*one.keyword.text == word).map(|one| one.span.end);
    let at = |end: u32| Span { file: file.file, start: end, end };
    match (last("use"), last("wythe")) {
        (Some(end), _) => (at(end), format!("\n{text}")),
        (None, Some(end)) => (at(end), format!("\n\n{text}")),
        (None, None) => (at(0), format!("{text}\n\n")),
    }
}
