//! Marks under the lines of a case: `//  ^^^^ code: words`, how they are read, compared with what was found, and written.
#![allow(dead_code)]

use std::collections::BTreeMap;

use wythe::source::{Files, Span};

/// The file of a case that stands before any `//- PATH` line.
pub const MAIN: &str = "case.wythe";

/// Something found or expected: a line (from 0), columns in characters (from 0), code and words.
#[derive(Clone, Debug)]
pub struct Mark {
    pub line: usize,
    pub from: usize,
    pub to: usize,
    pub code: String,
    pub words: String,
}

/// What was found at a place.
pub fn mark(files: &Files, span: Span, code: &str, words: &str) -> Mark {
    let position = files.position(span.file, span.start);
    let first_line = files.slice(span).lines().next().unwrap_or_default().trim_end();
    let from = position.column as usize - 1;
    let to = from + first_line.chars().count().max(1);
    Mark { line: position.line as usize - 1, from, to, code: code.to_owned(), words: words.to_owned() }
}

/// Marks of every file in the order of their places.
pub fn sort(found: &mut BTreeMap<String, Vec<Mark>>) {
    for marks in found.values_mut() {
        marks.sort_by(|a, b| (a.line, a.from, &a.code, &a.words).cmp(&(b.line, b.from, &b.code, &b.words)));
    }
}

/// The files of a case; the first has no line of its own.
pub fn split(text: &str) -> Vec<(String, String)> {
    let mut files = vec![(MAIN.to_owned(), String::new())];
    for line in text.lines() {
        if let Some(path) = line.strip_prefix("//- ") {
            files.push((path.trim().to_owned(), String::new()));
        } else if let Some((_, text)) = files.last_mut() {
            text.push_str(line);
            text.push('\n');
        }
    }
    files
}

/// A line of marks: `//` and `^^^`, then `code: words`.
pub fn mark_of(line: &str) -> Option<Mark> {
    let rest = line.strip_prefix("//")?;
    let from = rest.find(|letter: char| letter != ' ')?;
    let tail = rest.get(from..)?;
    let length = tail.chars().take_while(|&letter| letter == '^').count();
    let (code, words) = tail.get(length..)?.split_once(':')?;
    (length > 0).then(|| Mark {
        line: 0,
        from: from + 2,
        to: from + 2 + length,
        code: code.trim().to_owned(),
        words: words.trim().to_owned(),
    })
}

/// The text's own lines with their numbers, and the marks, each with the number of the line above it.
pub fn unmark(text: &str) -> (Vec<(usize, &str)>, Vec<Mark>) {
    let (mut plain, mut marks, mut last) = (Vec::new(), Vec::new(), 0);
    for (number, line) in text.lines().enumerate() {
        match mark_of(line) {
            Some(mark) => marks.push(Mark { line: last, ..mark }),
            None => {
                plain.push((number, line));
                last = number;
            }
        }
    }
    (plain, marks)
}

/// Each mark must lie within what was found on its line, name its code and give a piece of its words, one for one.
pub fn differences(path: &str, expected: &[Mark], found: &[Mark]) -> Vec<String> {
    let mut left: Vec<&Mark> = found.iter().collect();
    let mut wrong = Vec::new();
    for mark in expected {
        let fits = |one: &&Mark| {
            let starts = mark.from == one.from.max(2) || (mark.from >= one.from && mark.from < one.to);
            one.line == mark.line && one.code == mark.code && starts && one.words.contains(&mark.words)
        };
        match left.iter().position(fits) {
            Some(at) => {
                left.remove(at);
            }
            None => wrong.push(format!("{path}:{}: expected {}: {}", mark.line + 1, mark.code, mark.words)),
        }
    }
    wrong.extend(left.iter().map(|one| format!("{path}:{}: found {}: {}", one.line + 1, one.code, one.words)));
    wrong
}

pub fn with_marks(plain: &[(usize, &str)], marks: &[Mark]) -> String {
    let mut text = String::new();
    for (number, line) in plain {
        text.push_str(line);
        text.push('\n');
        for mark in marks.iter().filter(|mark| mark.line == *number) {
            let from = mark.from.max(2);
            let carets = "^".repeat(mark.to.saturating_sub(from).max(1));
            text.push_str(&format!("//{}{carets} {}: {}\n", " ".repeat(from - 2), mark.code, mark.words));
        }
    }
    text
}
