//! Formatting in the editor: the whole text, the declarations that are touched, the line that is being written.

use std::ops::Range;

use crate::session::Glance;
use crate::source::{FileId, Span};
use crate::syntax::{format, pieces};

use super::rename::Edits;

/// Blanks of one indent.
const INDENT: usize = 4;

/// The edits that bring a text into its one form. Declarations with mistakes stay as they are.
pub fn format_document(glance: &Glance, file: FileId) -> Edits {
    let text = glance.project.files.text(file);
    match format(text) {
        Some(new) => difference(file, 0, text, &new).into_iter().collect(),
        None => by_piece(file, text, |_| true),
    }
}

/// The same for the declarations that a stretch of text touches.
pub fn format_range(glance: &Glance, file: FileId, from: u32, to: u32) -> Edits {
    let text = glance.project.files.text(file);
    by_piece(file, text, |piece| piece.start <= to as usize && piece.end > from as usize)
}

fn by_piece(file: FileId, text: &str, wanted: impl Fn(&Range<usize>) -> bool) -> Edits {
    let touched = pieces(text).into_iter().filter(wanted);
    touched.filter_map(|piece| one_piece(file, text, piece)).collect()
}

/// A declaration by itself, without the empty lines behind it.
fn one_piece(file: FileId, text: &str, piece: Range<usize>) -> Option<(Span, String)> {
    let old = text.get(piece.clone())?.trim_end();
    let windows = text.find('\n').is_some_and(|at| text.get(..at).is_some_and(|line| line.ends_with('\r')));
    let new = format(old)?.replace('\r', "");
    let new = if windows { new.replace('\n', "\r\n") } else { new };
    difference(file, piece.start, old, new.trim_end())
}

/// The one stretch in which two texts differ, in whole lines where they have some.
pub(super) fn difference(file: FileId, start: usize, old: &str, new: &str) -> Option<(Span, String)> {
    if old == new {
        return None;
    }
    let alike = |(a, b): &(&str, &str)| a == b;
    let same = |pairs: &mut dyn Iterator<Item = (&str, &str)>| pairs.map(|(line, _)| line.len()).sum::<usize>();
    let lines = || old.split_inclusive('\n').zip(new.split_inclusive('\n'));
    let head = same(&mut lines().take_while(alike));
    let (old_rest, new_rest) = (old.get(head..)?, new.get(head..)?);
    let ends = old_rest.split_inclusive('\n').rev().zip(new_rest.split_inclusive('\n').rev());
    let tail = same(&mut ends.take_while(alike));
    let cut = old_rest.get(..old_rest.len().checked_sub(tail)?)?;
    let put = new_rest.get(..new_rest.len().checked_sub(tail)?)?;
    Some((Span::new(file, start + head, start + head + cut.len()), put.to_owned()))
}

/// The indent of the line in which something was just typed: a new line, or the `}` that closes a block.
pub fn format_typed(glance: &Glance, file: FileId, offset: u32) -> Edits {
    let text = glance.project.files.text(file);
    let Some(before) = text.get(..offset as usize) else { return Vec::new() };
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    let line = text.get(start..).and_then(|rest| rest.split('\n').next()).unwrap_or_default();
    let written = line.trim_start();
    let indent = line.len() - written.len();
    let depth = depth(text, start).saturating_sub(usize::from(written.starts_with(['}', ')'])));
    let wanted = " ".repeat(depth * INDENT);
    // A word in the first column starts a declaration; it is not pushed into a block that was left open above it.
    let own =
        indent == 0 && crate::syntax::DECLARATION_WORDS.iter().any(|word| written.split(' ').next() == Some(word));
    if own || line.get(..indent) == Some(wanted.as_str()) {
        return Vec::new();
    }
    vec![(Span::new(file, start, start + indent), wanted)]
}

/// How many brackets are open at the start of a line, counted from the declaration it stands in.
fn depth(text: &str, start: usize) -> usize {
    let piece = pieces(text).into_iter().rev().find(|piece| piece.start < start || piece.start == 0);
    let from = piece.map_or(0, |piece| piece.start);
    let mut open: usize = 0;
    for line in text.get(from..start).unwrap_or_default().lines() {
        for letter in code(line) {
            match letter {
                '{' | '(' => open += 1,
                '}' | ')' => open = open.saturating_sub(1),
                _ => {}
            }
        }
    }
    open
}

/// The letters of a line outside of quotes and comments.
fn code(line: &str) -> impl Iterator<Item = char> + '_ {
    let (mut quoted, mut escaped, mut over, mut last) = (false, false, false, ' ');
    line.chars().filter(move |&letter| {
        over |= !quoted && letter == '/' && last == '/';
        let shown = !over && !quoted && letter != '"';
        quoted = if letter == '"' && !escaped { !quoted } else { quoted };
        escaped = quoted && letter == '\\' && !escaped;
        last = letter;
        shown
    })
}
