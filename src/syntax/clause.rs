//! Reads one line. A line without mistakes is read in one go; in one with mistakes each clause is read for itself, so
//! that a mistake costs its own clause only.

use super::advice;
use super::build::Builder;
use super::explain;
use super::grammar::{self, Rule};
use super::lines::{Fault, Line, MAX_DEPTH};
use super::tree::{Statement, Word};
use crate::diagnose::Diagnostic;
use crate::source::{FileId, Span};

/// Ordinary blanks: others are a mistake that is told by itself.
const BLANKS: [char; 2] = [' ', '\t'];

/// What a line holds.
pub(super) struct Read {
    /// The statement, if the line has so much as a first word.
    pub statement: Option<Statement>,
    /// What is wrong with it.
    pub problems: Vec<Diagnostic>,
    /// It ends in a comma, so its writer meant the next lines to belong to it.
    pub list_comma: bool,
}

/// Reads the statement of a line, without its block.
pub(super) fn read_line(file: FileId, text: &str, line: &Line) -> Read {
    let content = text.get(line.start..line.end).unwrap_or("");
    if line.spoilt_at.is_none()
        && let Ok(pairs) = grammar::read(Rule::line, content)
    {
        let mut builder = Builder::new(file, line.start, content);
        let statement = builder.line(pairs);
        return Read { statement, problems: builder.problems, list_comma: false };
    }
    let mut reader = Clauses { file, text, spoilt_at: line.spoilt_at, problems: Vec::new() };
    let (statement, list_comma) = reader.read(line);
    Read { statement, problems: reader.problems, list_comma }
}

struct Clauses<'t> {
    file: FileId,
    text: &'t str,
    spoilt_at: Option<usize>,
    problems: Vec<Diagnostic>,
}

impl Clauses<'_> {
    fn slice(&self, start: usize, end: usize) -> &str {
        self.text.get(start..end).unwrap_or("")
    }

    fn read(&mut self, line: &Line) -> (Option<Statement>, bool) {
        let chunks = chunks(self.slice(line.start, line.end), line.start);
        let mut head: Option<Statement> = None;
        let mut list_comma = false;
        for (index, &(start, end)) in chunks.iter().enumerate() {
            if start == end {
                list_comma = index + 1 == chunks.len();
                self.empty_clause(line.start, end, list_comma);
                head.as_mut().into_iter().for_each(|head| head.broken = true);
                continue;
            }
            let cut_number = index > 0 && self.is_cut_thousand(start);
            let clause = if cut_number {
                self.report_thousand(start);
                None
            } else {
                self.clause(start, end)
            };
            match (&mut head, clause) {
                (Some(head), Some(clause)) => {
                    head.span = head.span.to(clause.span);
                    head.clauses.push(clause);
                }
                (Some(head), None) => {
                    head.broken = true;
                    let spoilt = if cut_number { head.clauses.last_mut() } else { None };
                    spoilt.into_iter().for_each(|clause| clause.broken = true);
                    head.span = head.span.to(Span::new(self.file, start, end));
                }
                (None, clause) => head = clause.or_else(|| self.nameless(start, end)),
            }
        }
        (head, list_comma)
    }

    /// A comma too many, or one at the end of the line.
    fn empty_clause(&mut self, line_start: usize, end: usize, at_end: bool) {
        let before = self.slice(line_start, end).rfind(',').filter(|_| at_end);
        let comma = before.map_or(end, |before| line_start + before);
        let span = Span::new(self.file, comma, comma + 1);
        let (code, title) = match at_end {
            true => ("text.comma_at_end", "a comma at the end of a line starts no clause"),
            false => ("text.expected", "found a comma, expected a clause before it"),
        };
        let help = match at_end {
            true => "write the clause on this line, or open a block with `{` and write one clause a line",
            false => "remove the comma",
        };
        self.problems.push(Diagnostic::error(code, span, title).help(help));
    }

    /// `1,000mm`: the comma is glued to digits on both sides.
    fn is_cut_thousand(&self, start: usize) -> bool {
        let mut before = self.text.get(..start).unwrap_or("").bytes().rev();
        let digits = self.text.get(start..).unwrap_or("").bytes().take_while(u8::is_ascii_digit).count();
        digits == 3 && before.next() == Some(b',') && before.next().is_some_and(|byte| byte.is_ascii_digit())
    }

    fn report_thousand(&mut self, start: usize) {
        let before = self.text.get(..start.saturating_sub(1)).unwrap_or("");
        let digits = before.bytes().rev().take_while(u8::is_ascii_digit).count();
        let rest = self.text.get(start..).unwrap_or("");
        let length = rest.find([' ', '\t', ',', ')', '\r', '\n']).unwrap_or(rest.len());
        let (from, to) = (before.len() - digits, start + length);
        let problem = advice::thousands(Span::new(self.file, from, to), self.slice(from, to));
        self.problems.push(problem);
    }

    fn clause(&mut self, start: usize, end: usize) -> Option<Statement> {
        let spoilt = self.spoilt_at.filter(|at| (start..end).contains(at));
        let text = self.text.get(start..spoilt.unwrap_or(end)).unwrap_or("").trim_end_matches(BLANKS);
        if spoilt.is_none() {
            match grammar::read(Rule::one_clause, text) {
                Ok(pairs) => return self.build(start, text, pairs),
                Err(refusal) => {
                    let problem = explain::clause(self.file, start, text, &refusal);
                    let told = problem.main.span.end as usize;
                    let more = advice::more_marks(self.file, start, text, told.saturating_sub(start));
                    self.problems.push(problem);
                    self.problems.extend(more);
                }
            }
        }
        let pairs = grammar::read(Rule::good_start, text).ok()?;
        let mut clause = self.build(start, text, pairs)?;
        clause.broken = true;
        clause.span = clause.span.to(Span::new(self.file, start, end));
        Some(clause)
    }

    fn build(&mut self, start: usize, text: &str, pairs: pest::iterators::Pairs<'_, Rule>) -> Option<Statement> {
        let mut builder = Builder::new(self.file, start, text);
        let clause = builder.line(pairs);
        self.problems.append(&mut builder.problems);
        clause
    }

    /// A line whose first word is no word: kept, so that its block and its clauses have an owner.
    fn nameless(&self, start: usize, end: usize) -> Option<Statement> {
        let text = self.slice(start, end);
        let word = text.split([' ', '\t', '\n']).next().unwrap_or(text);
        let keyword = Word { text: word.into(), span: Span::new(self.file, start, start + word.len()) };
        let span = Span::new(self.file, start, end);
        Some(Statement { doc: None, keyword, arguments: vec![], clauses: vec![], block: None, span, broken: true })
    }
}

/// Cuts a line at the commas outside brackets and texts; the parts are without blanks around them.
fn chunks(line: &str, base: usize) -> Vec<(usize, usize)> {
    let mut parts = Vec::new();
    let (mut from, mut depth) = (0, 0_usize);
    let mut closing = None;
    let mut before = ' ';
    let mut characters = line.char_indices();
    while let Some((at, character)) = characters.next() {
        match (closing, character) {
            (Some('"'), '\\') => {
                characters.next();
            }
            (Some(quote), _) if character == quote => closing = None,
            (Some(_), _) => {}
            (None, '"') if !before.is_ascii_digit() => closing = Some('"'),
            (None, '“' | '„') if line.get(at..).is_some_and(|rest| rest.contains('”')) => closing = Some('”'),
            (None, '(') => depth += 1,
            (None, ')') => depth = depth.saturating_sub(1),
            (None, ',') if depth == 0 => {
                parts.push((from, at));
                from = at + 1;
            }
            (None, _) => {}
        }
        before = character;
    }
    parts.push((from, line.len()));
    let trim = |(from, to): (usize, usize)| {
        let part = line.get(from..to).unwrap_or("");
        let start = base + to - part.trim_start_matches(BLANKS).len();
        (start, (base + from + part.trim_end_matches(BLANKS).len()).max(start))
    };
    parts.into_iter().map(trim).collect()
}

/// What is to be said about a fault that the outline of the text shows.
pub(super) fn describe(fault: Fault, file: FileId, text: &str) -> Diagnostic {
    let span = |start: usize, end: usize| Span::new(file, start, end);
    match fault {
        Fault::UnclosedText(start, end) => {
            Diagnostic::error("text.unclosed_text", span(start, end), "this text has no closing `\"` on its line")
                .help("a text ends on the line it begins on")
        }
        Fault::UnclosedBracket(at) => {
            Diagnostic::error("text.unclosed_bracket", span(at, at + 1), "this `(` is not closed").help("add the `)`")
        }
        Fault::TooDeep(at) => {
            let title = format!("brackets stand more than {MAX_DEPTH} deep in one another");
            Diagnostic::error("text.too_deep", span(at, at + 1), title).help("write it in smaller parts")
        }
        Fault::BraceInLine(at) => {
            let brace = text.get(at..at + 1).unwrap_or("{");
            Diagnostic::error(
                "text.brace_in_line",
                span(at, at + 1),
                format!("`{brace}` stands in the middle of a line"),
            )
            .help("`{` ends its line and `}` stands alone; short clauses go behind a comma instead")
        }
        Fault::Hash(start, end) => Diagnostic::error(
            "text.hash_comment",
            span(start, end),
            "a comment starts with `//`, not with `#`",
        )
        .fix("write `//`", span(start, start + 1), "//"),
    }
}
