//! Trees of files that were read before, so that only the pieces that changed are read again.

use std::collections::{BTreeMap, HashMap};
use std::ops::Range;
use std::sync::Arc;

use super::layout::MAX_PROBLEMS;
use super::{Entry, Item, ItemKind, Literal, Parsed, Statement, Tree, Word, parse, parse_piece, pieces};
use crate::diagnose::{Diagnostic, settle};
use crate::source::{FileId, Span};

/// What was read of every file, by path.
#[derive(Debug, Default)]
pub struct Trees {
    files: BTreeMap<String, Kept>,
}

#[derive(Debug)]
struct Kept {
    file: FileId,
    text: Arc<str>,
    pieces: Vec<(Range<usize>, Parsed)>,
    tree: Arc<Tree>,
    problems: Vec<Diagnostic>,
}

impl Trees {
    /// Tree and problems of a file, the same as [`parse`] gives.
    pub fn read(&mut self, path: &str, file: FileId, text: &Arc<str>) -> (Arc<Tree>, Vec<Diagnostic>) {
        let before = self.files.remove(path);
        let kept = match before {
            Some(kept) if kept.file == file && (Arc::ptr_eq(&kept.text, text) || kept.text == *text) => kept,
            before => Kept::read(file, text, before),
        };
        let answer = (kept.tree.clone(), kept.problems.clone());
        self.files.insert(path.to_owned(), kept);
        answer
    }

    /// Forgets files that are not in a list of paths.
    pub fn keep_only(&mut self, paths: &std::collections::BTreeSet<&str>) {
        self.files.retain(|path, _| paths.contains(path.as_str()));
    }
}

impl Kept {
    fn read(file: FileId, text: &Arc<str>, before: Option<Kept>) -> Self {
        let ranges = if u32::try_from(text.len()).is_ok() { pieces(text) } else { Vec::new() };
        let read: Vec<(Range<usize>, Parsed)> = {
            let known: HashMap<&str, (&Range<usize>, &Parsed)> = before
                .iter()
                .flat_map(|kept| {
                    kept.pieces.iter().filter_map(|(at, one)| Some((kept.text.get(at.clone())?, (at, one))))
                })
                .collect();
            let again = |range: Range<usize>| {
                let parsed = match text.get(range.clone()).and_then(|words| known.get(words)) {
                    Some((at, parsed)) => moved(parsed, &|span| Span {
                        file,
                        start: span.start - at.start as u32 + range.start as u32,
                        end: span.end - at.start as u32 + range.start as u32,
                    }),
                    None => parse_piece(file, text, range.clone()),
                };
                (range, parsed)
            };
            ranges.into_iter().map(again).collect()
        };
        let count: usize = read.iter().map(|(_, parsed)| parsed.problems.len()).sum();
        // A file as wrong as that, or too large to read, is told of by one count over the whole of it.
        if count >= MAX_PROBLEMS || read.is_empty() {
            let Parsed { tree, problems } = parse(file, text);
            return Kept { file, text: text.clone(), pieces: Vec::new(), tree: Arc::new(tree), problems };
        }
        let mut tree = Tree::default();
        let mut problems = Vec::new();
        for (_, parsed) in &read {
            tree.statements.extend(parsed.tree.statements.iter().cloned());
            tree.comments.extend(&parsed.tree.comments);
            problems.extend(parsed.problems.iter().cloned());
        }
        settle(&mut problems);
        Kept { file, text: text.clone(), pieces: read, tree: Arc::new(tree), problems }
    }
}

/// The same piece at another place.
fn moved(parsed: &Parsed, to: &dyn Fn(Span) -> Span) -> Parsed {
    let mut parsed = parsed.clone();
    parsed.tree.statements.iter_mut().for_each(|statement| move_statement(statement, to));
    parsed.tree.comments.iter_mut().for_each(|span| *span = to(*span));
    parsed.problems.iter_mut().for_each(|problem| problem.move_spans(to));
    parsed
}

fn move_statement(statement: &mut Statement, to: &dyn Fn(Span) -> Span) {
    move_word(&mut statement.keyword, to);
    statement.arguments.iter_mut().for_each(|item| move_item(item, to));
    statement.clauses.iter_mut().for_each(|clause| move_statement(clause, to));
    statement.block = statement.block.map(to);
    statement.span = to(statement.span);
}

fn move_word(word: &mut Word, to: &dyn Fn(Span) -> Span) {
    word.span = to(word.span);
}

fn move_literal(literal: &mut Literal, to: &dyn Fn(Span) -> Span) {
    literal.unit_span = to(literal.unit_span);
}

fn move_entries(entries: &mut [Entry], to: &dyn Fn(Span) -> Span) {
    for entry in entries {
        if let Some(name) = &mut entry.name {
            move_word(name, to);
        }
        move_item(&mut entry.value, to);
    }
}

fn move_item(item: &mut Item, to: &dyn Fn(Span) -> Span) {
    item.span = to(item.span);
    match &mut item.kind {
        ItemKind::Path(words) => words.iter_mut().for_each(|word| move_word(word, to)),
        ItemKind::Call(words, entries) => {
            words.iter_mut().for_each(|word| move_word(word, to));
            move_entries(entries, to);
        }
        ItemKind::Text(_) | ItemKind::Date(..) => {}
        ItemKind::Quantity(literal) => move_literal(literal, to),
        ItemKind::FeetInches(one, other) | ItemKind::Pitch(one, other) => {
            move_literal(one, to);
            move_literal(other, to);
        }
        ItemKind::Range(low, high) => {
            move_item(low, to);
            move_item(high, to);
        }
        ItemKind::Size(items) => items.iter_mut().for_each(|item| move_item(item, to)),
        ItemKind::Tuple(entries) => move_entries(entries, to),
        ItemKind::Sum(first, rest) => {
            move_item(first, to);
            rest.iter_mut().for_each(|(_, item)| move_item(item, to));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every edit of the demo house gives the tree that reading the whole text gives.
    #[test]
    fn what_is_kept_reads_like_what_is_read_anew() {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/heron-lane");
        let text = std::fs::read_to_string(folder.join("details.wythe")).unwrap();
        let mut trees = Trees::default();
        for at in (0..text.len()).step_by(37).filter(|&at| text.is_char_boundary(at)) {
            for broken in ["", "x", "}", "\n", "\nface lost {\n", "\""] {
                let edited: Arc<str> = format!("{}{broken}{}", &text[..at], &text[at..]).into();
                let (tree, problems) = trees.read("details.wythe", FileId(3), &edited);
                let anew = parse(FileId(3), &edited);
                assert_eq!((&*tree, problems), (&anew.tree, anew.problems), "{broken:?} at {at}");
            }
        }
    }
}
