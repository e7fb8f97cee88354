//! The store of loaded files, and half-open byte spans into them.

use std::ops::Range;
use std::sync::{Arc, OnceLock};

/// One loaded file, as an index into [`Files`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u32);

/// Half-open range of bytes in one file. Both ends lie on character boundaries.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// A span from two byte offsets.
    pub fn new(file: FileId, start: usize, end: usize) -> Self {
        Self { file, start: start as u32, end: end as u32 }
    }

    /// The bytes as a `Range`, for slicing.
    pub fn range(self) -> Range<usize> {
        self.start as usize..self.end as usize
    }

    /// The smallest span that covers both. Both must lie in one file; if they do not, `self` is given back.
    pub fn to(self, other: Span) -> Span {
        if self.file != other.file {
            return self;
        }
        Span { file: self.file, start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    /// Whether a byte offset lies inside, or just behind the last byte.
    pub fn touches(self, offset: u32) -> bool {
        self.start <= offset && offset <= self.end
    }
}

/// A place counted from one: line, and column in characters, as people and JSON readers count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Position {
    /// Line, from 1.
    pub line: u32,
    /// Column in characters, from 1.
    pub column: u32,
}

#[derive(Debug)]
struct Entry {
    path: String,
    text: Arc<str>,
    /// Counted when somebody asks for a line.
    line_starts: OnceLock<Vec<u32>>,
}

impl Entry {
    fn line_starts(&self) -> &[u32] {
        self.line_starts.get_or_init(|| {
            let ends = self.text.bytes().enumerate().filter(|&(_, byte)| byte == b'\n');
            std::iter::once(0).chain(ends.map(|(at, _)| at as u32 + 1)).collect()
        })
    }
}

/// All files read in one run, in the order they were met. Paths are relative to the project folder, with `/`.
#[derive(Debug, Default)]
pub struct Files {
    entries: Vec<Entry>,
}

impl Files {
    /// Adds a file (or finds the one already stored under this path) and gives its id.
    pub fn add(&mut self, path: &str, text: Arc<str>) -> FileId {
        if let Some(found) = self.find(path) {
            return found;
        }
        self.entries.push(Entry { path: path.to_owned(), text, line_starts: OnceLock::new() });
        FileId(self.entries.len() as u32 - 1)
    }

    /// The id of a path that was added before.
    pub fn find(&self, path: &str) -> Option<FileId> {
        self.entries.iter().position(|entry| entry.path == path).map(|at| FileId(at as u32))
    }

    /// Ids in the order the files were added.
    pub fn ids(&self) -> impl Iterator<Item = FileId> + '_ {
        (0..self.entries.len() as u32).map(FileId)
    }

    /// Path relative to the project folder; `std/…` for the embedded library. Empty for an unknown id.
    pub fn path(&self, file: FileId) -> &str {
        self.entries.get(file.0 as usize).map_or("", |entry| &entry.path)
    }

    /// The whole text. Empty for an unknown id.
    pub fn text(&self, file: FileId) -> &str {
        self.entries.get(file.0 as usize).map_or("", |entry| &entry.text)
    }

    /// The text under a span; empty if the span does not fit the file.
    pub fn slice(&self, span: Span) -> &str {
        self.text(span.file).get(span.range()).unwrap_or("")
    }

    /// Line and column, counted from one, of a byte offset.
    pub fn position(&self, file: FileId, offset: u32) -> Position {
        let Some(entry) = self.entries.get(file.0 as usize) else {
            return Position { line: 1, column: 1 };
        };
        let line = entry.line_starts().partition_point(|&start| start <= offset).max(1);
        let start = entry.line_starts().get(line - 1).copied().unwrap_or(0) as usize;
        let before = entry.text.get(start..offset as usize).unwrap_or("");
        Position { line: line as u32, column: before.chars().count() as u32 + 1 }
    }

    /// Whether the file is part of the embedded standard library.
    pub fn is_std(&self, file: FileId) -> bool {
        self.path(file).starts_with("std/")
    }
}

impl<'a> codespan_reporting::files::Files<'a> for Files {
    type FileId = FileId;
    type Name = &'a str;
    type Source = &'a str;

    fn name(&'a self, id: FileId) -> Result<&'a str, codespan_reporting::files::Error> {
        Ok(self.path(id))
    }

    fn source(&'a self, id: FileId) -> Result<&'a str, codespan_reporting::files::Error> {
        Ok(self.text(id))
    }

    fn line_index(&'a self, id: FileId, byte: usize) -> Result<usize, codespan_reporting::files::Error> {
        let entry = self.entries.get(id.0 as usize).ok_or(codespan_reporting::files::Error::FileMissing)?;
        Ok(entry.line_starts().partition_point(|&start| start as usize <= byte).max(1) - 1)
    }

    fn line_range(&'a self, id: FileId, line: usize) -> Result<Range<usize>, codespan_reporting::files::Error> {
        let entry = self.entries.get(id.0 as usize).ok_or(codespan_reporting::files::Error::FileMissing)?;
        let starts = entry.line_starts();
        let max = starts.len() - 1;
        let too_far = codespan_reporting::files::Error::LineTooLarge { given: line, max };
        let start = *starts.get(line).ok_or(too_far)? as usize;
        let end = starts.get(line + 1).map_or(entry.text.len(), |&next| next as usize);
        Ok(start..end)
    }
}
