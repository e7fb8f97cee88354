//! Between the library's spans and the protocol's positions; the only place that does arithmetic on columns.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use tower_lsp_server::ls_types::{
    Diagnostic, DiagnosticRelatedInformation, DiagnosticSeverity, Location, NumberOrString, Position, Range, Uri,
};
use wythe::diagnose::Severity;
use wythe::ide::{Mark, marks as ide_marks};
use wythe::source::{Files, Span, World};

/// The file a uri names, if it names one on this disk.
pub fn path(uri: &Uri) -> Option<PathBuf> {
    uri.to_file_path().map(|path| path.into_owned())
}

/// Checks a folder and gives the marks of each of its files. Marks in the library are left out: nobody can mend them here.
pub fn marks(world: &dyn World, folder: &Path, utf8: bool) -> BTreeMap<PathBuf, Vec<Diagnostic>> {
    let mut live = wythe::session::Live::default();
    let glance = live.check(world, &world.list(), &wythe::session::Settings::default());
    let files = &glance.project.files;
    let mut found = BTreeMap::new();
    for (file, list) in ide_marks(&glance) {
        if !files.is_std(file) && !files.path(file).is_empty() {
            let shown = list.iter().map(|mark| diagnostic(files, folder, mark, utf8)).collect();
            found.insert(folder.join(files.path(file)), shown);
        }
    }
    found
}

fn diagnostic(files: &Files, folder: &Path, mark: &Mark, utf8: bool) -> Diagnostic {
    let related = mark.related.iter().filter(|(span, _)| !files.is_std(span.file)).filter_map(|(span, text)| {
        let uri = Uri::from_file_path(folder.join(files.path(span.file)))?;
        Some(DiagnosticRelatedInformation {
            location: Location { uri, range: range(files, *span, utf8) },
            message: text.clone(),
        })
    });
    Diagnostic {
        range: range(files, mark.span, utf8),
        severity: Some(severity(mark.severity)),
        code: Some(NumberOrString::String(mark.code.to_owned())),
        source: Some("wythe".to_owned()),
        message: mark.message.clone(),
        related_information: Some(related.collect()),
        ..Diagnostic::default()
    }
}

/// "Cannot tell" is shown as loudly as a warning, so that no silence passes for an answer.
fn severity(severity: Severity) -> DiagnosticSeverity {
    match severity {
        Severity::Violation => DiagnosticSeverity::ERROR,
        Severity::Warning | Severity::Unknown => DiagnosticSeverity::WARNING,
        Severity::Note => DiagnosticSeverity::INFORMATION,
    }
}

/// A span as a range of lines and columns, in utf-8 bytes or utf-16 units.
pub fn range(files: &Files, span: Span, utf8: bool) -> Range {
    let text = files.text(span.file);
    Range { start: position(text, span.start as usize, utf8), end: position(text, span.end as usize, utf8) }
}

/// A byte offset as line and column. An offset past the end, or inside a character, is taken back to the nearest place before.
pub fn position(text: &str, offset: usize, utf8: bool) -> Position {
    let mut offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    let before = text.get(..offset).unwrap_or_default();
    let line = before.rsplit('\n').next().unwrap_or_default();
    let column = if utf8 { line.len() } else { line.encode_utf16().count() };
    let lines = before.bytes().filter(|&byte| byte == b'\n').count();
    Position { line: lines as u32, character: column as u32 }
}
