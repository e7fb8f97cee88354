//! Between the library's spans and the protocol's positions; the only place that does arithmetic on columns.

use std::cell::RefCell;
use std::collections::{BTreeMap, HashMap};
use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::str::FromStr as _;

use tower_lsp_server::ls_types::{
    Diagnostic, DiagnosticRelatedInformation, DiagnosticSeverity, DocumentChanges, Location, NumberOrString, OneOf,
    OptionalVersionedTextDocumentIdentifier, Position, Range, TextDocumentContentChangeEvent, TextDocumentEdit,
    TextEdit, Uri, WorkspaceEdit,
};
use wythe::diagnose::Severity;
use wythe::ide::Mark;
use wythe::source::{FileId, Files, Span};

/// Scheme of the library's texts, which no disk holds: `wythe-std:/boards.wythe`.
const LIBRARY: &str = "wythe-std";

/// What a column counts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Encoding {
    /// Bytes.
    Utf8,
    /// Units of utf-16, which every client speaks.
    #[default]
    Utf16,
}

/// Scheme of texts that were never saved: `untitled:Untitled-1`.
const UNSAVED: &str = "untitled";

/// The file a uri names, if it names one on this disk. A text that was never saved stands alone in a folder that no disk has.
pub fn path(uri: &Uri) -> Option<PathBuf> {
    if uri.scheme().as_str().eq_ignore_ascii_case(UNSAVED) {
        let name = uri.as_str().replace('%', "%25").replace('/', "%2F");
        return Some([&format!("{UNSAVED}:"), &name, "text.wythe"].iter().collect());
    }
    let on_disk = uri.scheme().as_str().eq_ignore_ascii_case("file");
    uri.to_file_path().filter(|_| on_disk).map(|path| path.into_owned())
}

/// The uri of a file on this disk, or of a text that was never saved.
pub fn file_uri(path: &Path) -> Option<Uri> {
    if let Ok(unsaved) = path.strip_prefix(format!("{UNSAVED}:")) {
        let name = unsaved.parent()?.to_str()?;
        return Uri::from_str(&name.replace("%2F", "/").replace("%25", "%")).ok();
    }
    Uri::from_file_path(path)
}

/// The module of the library a uri names: `boards`.
pub fn library_module(uri: &Uri) -> Option<String> {
    let path = uri.path().decode().to_string_lossy().into_owned();
    let name = path.trim_start_matches('/').strip_suffix(".wythe")?;
    uri.scheme().as_str().eq_ignore_ascii_case(LIBRARY).then(|| name.to_owned())
}

/// The uri of a file of a project: on the disk below its folder, or in the library.
pub fn uri(files: &Files, root: &Path, file: FileId) -> Option<Uri> {
    let path = files.path(file);
    match path.strip_prefix("std/") {
        Some(name) => Uri::from_str(&format!("{LIBRARY}:/{name}")).ok(),
        None if path.is_empty() => None,
        None => file_uri(&root.join(path)),
    }
}

/// A text with the starts of its lines, as the protocol counts them: `\n`, `\r\n` and `\r` end one.
#[derive(Debug)]
pub struct Lines<'t> {
    text: &'t str,
    starts: Vec<usize>,
    encoding: Encoding,
}

impl<'t> Lines<'t> {
    /// Reads a text once.
    pub fn of(text: &'t str, encoding: Encoding) -> Self {
        let bytes = text.as_bytes();
        let mut starts = vec![0];
        for (at, byte) in bytes.iter().enumerate() {
            if *byte == b'\n' || (*byte == b'\r' && bytes.get(at + 1) != Some(&b'\n')) {
                starts.push(at + 1);
            }
        }
        Self { text, starts, encoding }
    }

    /// Line and column of a byte offset. One past the end, or inside a character, is taken back to the nearest place before.
    pub fn position(&self, offset: usize) -> Position {
        let offset = floor(self.text, offset);
        let line = self.starts.partition_point(|&start| start <= offset).saturating_sub(1);
        let start = self.starts.get(line).copied().unwrap_or(0);
        let before = self.text.get(start..offset).unwrap_or_default();
        let column = match self.encoding {
            Encoding::Utf8 => before.len(),
            Encoding::Utf16 => before.encode_utf16().count(),
        };
        Position { line: line as u32, character: column as u32 }
    }

    /// Byte offset of a line and column. A column past the end of its line is the end of it; a line past the last is the
    /// end of the text.
    pub fn offset(&self, position: Position) -> usize {
        let line = position.line as usize;
        let Some(&start) = self.starts.get(line) else { return self.text.len() };
        let end = self.starts.get(line + 1).copied().unwrap_or(self.text.len());
        let words = self.text.get(start..end).unwrap_or_default().trim_end_matches(['\n', '\r']);
        let column = position.character as usize;
        start
            + match self.encoding {
                Encoding::Utf8 => floor(words, column),
                Encoding::Utf16 => bytes_of_units(words, column),
            }
    }

    /// A span of bytes as a range.
    pub fn range(&self, span: Span) -> Range {
        Range { start: self.position(span.start as usize), end: self.position(span.end as usize) }
    }
}

/// The nearest place at or before an offset where a character begins.
fn floor(text: &str, offset: usize) -> usize {
    let mut offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    offset
}

/// How many bytes hold a count of utf-16 units. Half a character is none of it.
fn bytes_of_units(words: &str, units: usize) -> usize {
    let mut left = units;
    let mut bytes = 0;
    for letter in words.chars() {
        let Some(rest) = left.checked_sub(letter.len_utf16()) else { break };
        if left == 0 {
            break;
        }
        left = rest;
        bytes += letter.len_utf8();
    }
    bytes
}

/// A text after an edit of the client: a part of it replaced, or the whole.
pub fn edited(text: &str, change: &TextDocumentContentChangeEvent, encoding: Encoding) -> String {
    let Some(range) = change.range else { return change.text.clone() };
    let lines = Lines::of(text, encoding);
    let start = lines.offset(range.start);
    let end = lines.offset(range.end).max(start);
    [text.get(..start).unwrap_or_default(), &change.text, text.get(end..).unwrap_or_default()].concat()
}

/// The texts of a project as the client sees them: turns what the library says into places of the protocol.
#[derive(Debug)]
pub struct Paper<'s> {
    files: &'s Files,
    root: &'s Path,
    encoding: Encoding,
    /// Versions of open documents, where the client wants them told in edits.
    versions: Option<BTreeMap<&'s Path, i32>>,
    lines: RefCell<HashMap<FileId, Rc<Lines<'s>>>>,
}

impl<'s> Paper<'s> {
    /// The texts below a folder.
    pub fn new(
        files: &'s Files,
        root: &'s Path,
        encoding: Encoding,
        versions: Option<BTreeMap<&'s Path, i32>>,
    ) -> Self {
        Self { files, root, encoding, versions, lines: RefCell::default() }
    }

    /// The folder of the project.
    pub fn root(&self) -> &Path {
        self.root
    }

    /// The lines of a file.
    pub fn lines(&self, file: FileId) -> Rc<Lines<'s>> {
        let mut known = self.lines.borrow_mut();
        known.entry(file).or_insert_with(|| Rc::new(Lines::of(self.files.text(file), self.encoding))).clone()
    }

    /// Where a span lies in its file.
    pub fn range(&self, span: Span) -> Range {
        self.lines(span.file).range(span)
    }

    /// Where a span lies, with its file. Places in the library are in a document that can be read, not written.
    pub fn location(&self, span: Span) -> Option<Location> {
        Some(Location { uri: self.uri(span.file)?, range: self.range(span) })
    }

    /// The uri of a file.
    pub fn uri(&self, file: FileId) -> Option<Uri> {
        uri(self.files, self.root, file)
    }

    /// An edit within its file.
    pub fn text_edit(&self, span: Span, new_text: &str) -> TextEdit {
        TextEdit { range: self.range(span), new_text: new_text.to_owned() }
    }

    /// Edits of any files of the project. `None` if one of them would change the library.
    pub fn workspace_edit(&self, edits: &[(Span, String)]) -> Option<WorkspaceEdit> {
        let mut by_file: BTreeMap<FileId, Vec<TextEdit>> = BTreeMap::new();
        for (span, text) in edits {
            if self.files.is_std(span.file) {
                return None;
            }
            by_file.entry(span.file).or_default().push(self.text_edit(*span, text));
        }
        let Some(versions) = &self.versions else {
            let changes = by_file.into_iter().map(|(file, edits)| Some((self.uri(file)?, edits)));
            return Some(WorkspaceEdit { changes: Some(changes.collect::<Option<_>>()?), ..WorkspaceEdit::default() });
        };
        let one = |(file, edits): (FileId, Vec<TextEdit>)| {
            let version = versions.get(self.root.join(self.files.path(file)).as_path()).copied();
            let text_document = OptionalVersionedTextDocumentIdentifier { uri: self.uri(file)?, version };
            Some(TextDocumentEdit { text_document, edits: edits.into_iter().map(OneOf::Left).collect() })
        };
        let all: Vec<TextDocumentEdit> = by_file.into_iter().map(one).collect::<Option<_>>()?;
        Some(WorkspaceEdit { document_changes: Some(DocumentChanges::Edits(all)), ..WorkspaceEdit::default() })
    }

    /// A squiggle, as loud as the settings want it.
    pub fn diagnostic(&self, mark: &Mark, severity: Severity, with_related: bool) -> Diagnostic {
        let related = mark.related.iter().filter(|_| with_related);
        let related = related.filter_map(|(span, text)| {
            Some(DiagnosticRelatedInformation { location: self.location(*span)?, message: text.clone() })
        });
        let related: Vec<_> = related.collect();
        Diagnostic {
            range: self.range(mark.span),
            severity: Some(loudness(severity)),
            code: Some(NumberOrString::String(mark.code.to_owned())),
            source: Some("wythe".to_owned()),
            message: mark.message.clone(),
            related_information: (!related.is_empty()).then_some(related),
            ..Diagnostic::default()
        }
    }
}

/// Edits of two projects as one.
pub fn joined(one: Option<WorkspaceEdit>, other: Option<WorkspaceEdit>) -> Option<WorkspaceEdit> {
    let (Some(mut one), Some(other)) = (one.clone(), other.clone()) else { return one.or(other) };
    if let Some(changes) = other.changes {
        one.changes.get_or_insert_default().extend(changes);
    }
    match (&mut one.document_changes, other.document_changes) {
        (Some(DocumentChanges::Edits(edits)), Some(DocumentChanges::Edits(more))) => edits.extend(more),
        (mine, theirs) => *mine = mine.take().or(theirs),
    }
    Some(one)
}

/// "Cannot tell" is shown as loudly as a warning, so that no silence passes for an answer.
fn loudness(severity: Severity) -> DiagnosticSeverity {
    match severity {
        Severity::Violation => DiagnosticSeverity::ERROR,
        Severity::Warning | Severity::Unknown => DiagnosticSeverity::WARNING,
        Severity::Note => DiagnosticSeverity::INFORMATION,
    }
}
