//! The one way to write a text: four blanks an indent, one statement a line, short clauses behind commas, long ones in a
//! block. Numbers, texts and comments stay as they were written.

use super::lines::is_doc;
use super::tree::{Entry, Item, ItemKind, Operator, Statement, Word};
use super::{Parsed, parse};
use crate::source::{FileId, Span};

/// Longest line, in characters, that clauses may fill.
const WIDTH: usize = 100;
/// Most clauses that are folded from a block onto the line of their statement.
const FOLDED: usize = 3;
const INDENT: usize = 4;

/// The canonical form of a text, or nothing if the text has mistakes. Formatting it again changes nothing, no comment is
/// lost, and it means the same. Line ends stay CRLF if the first one is.
pub fn format(text: &str) -> Option<String> {
    let parsed = parse(FileId(0), text);
    if !parsed.problems.is_empty() {
        return None;
    }
    let formatted = lay_out(text, &parsed);
    let windows = text.find('\n').is_some_and(|at| text.get(..at).is_some_and(|line| line.ends_with('\r')));
    Some(if windows { formatted.replace('\n', "\r\n") } else { formatted })
}

fn lay_out(text: &str, parsed: &Parsed) -> String {
    let comments = &parsed.tree.comments;
    let out = String::with_capacity(text.len() + 64);
    let mut printer = Printer { text, all: comments, comments, out, last: 0, behind_block: false };
    printer.statements(&parsed.tree.statements, text.len(), 0);
    printer.out
}

struct Printer<'t> {
    text: &'t str,
    /// Every comment, in order.
    all: &'t [Span],
    /// Those not yet printed, in order.
    comments: &'t [Span],
    out: String,
    /// End, in the old text, of what was printed last.
    last: usize,
    /// A block of a declaration was closed just before.
    behind_block: bool,
}

impl<'t> Printer<'t> {
    fn slice(&self, start: usize, end: usize) -> &'t str {
        self.text.get(start..end).unwrap_or("")
    }

    fn old(&self, span: Span) -> &'t str {
        self.slice(span.start as usize, span.end as usize)
    }

    // ── lines ──────────────────────────────────────────────────────────────

    /// Begins a line for something that stood at `start` in the old text; keeps one blank line if there was any.
    fn begin(&mut self, start: usize, depth: usize, first: bool) {
        let lines = self.slice(self.last, start).matches('\n').count();
        let behind_block = std::mem::take(&mut self.behind_block) && depth == 0;
        if !first && (lines > 1 || behind_block) {
            self.out.push('\n');
        }
        self.out.extend(std::iter::repeat_n(' ', depth * INDENT));
    }

    /// Prints the comments before byte `end` that have a line of their own.
    fn own_comments(&mut self, end: usize, depth: usize, first: &mut bool) {
        while let Some((comment, rest)) =
            self.comments.split_first().filter(|(comment, _)| (comment.start as usize) < end)
        {
            self.begin(comment.start as usize, depth, *first);
            *first = false;
            self.out.push_str(self.old(*comment));
            self.out.push('\n');
            self.last = comment.end as usize;
            self.comments = rest;
        }
    }

    /// Prints the comment that stands behind byte `from` on the same line, and ends the line.
    fn end_line(&mut self, from: usize) {
        self.last = self.last.max(from);
        if let Some((comment, rest)) = self.comments.split_first()
            && from <= comment.start as usize
            && !self.slice(from, comment.start as usize).contains('\n')
        {
            self.out.push(' ');
            self.out.push_str(self.old(*comment));
            self.last = comment.end as usize;
            self.comments = rest;
        }
        self.out.push('\n');
    }

    // ── statements ─────────────────────────────────────────────────────────

    /// Prints the statements of one block, and the comments up to its end.
    fn statements(&mut self, statements: &[Statement], end: usize, depth: usize) {
        let mut first = true;
        for statement in statements {
            let start = self.start_of(statement);
            self.own_comments(statement.keyword.span.start as usize, depth, &mut first);
            self.begin(start.max(self.last), depth, first);
            first = false;
            self.docs(statement, depth);
            self.statement(statement, depth);
        }
        self.own_comments(end, depth, &mut first);
    }

    /// Where a statement begins, the `///` lines above it included.
    fn start_of(&self, statement: &Statement) -> usize {
        let keyword = statement.keyword.span.start as usize;
        let mut at = self.last;
        for line in self.slice(self.last, keyword).split_inclusive('\n') {
            if is_doc(line.trim_start()) {
                return at + (line.len() - line.trim_start().len());
            }
            at += line.len();
        }
        keyword
    }

    fn docs(&mut self, statement: &Statement, depth: usize) {
        let Some(doc) = &statement.doc else { return };
        for line in doc.split('\n') {
            self.out.push_str("///");
            if !line.is_empty() {
                self.out.push(' ');
                self.out.push_str(line);
            }
            self.out.push('\n');
            self.out.extend(std::iter::repeat_n(' ', depth * INDENT));
        }
    }

    fn statement(&mut self, statement: &Statement, depth: usize) {
        let head = self.head(statement, depth * INDENT);
        let end = statement.span.end as usize;
        if self.fits_on_a_line(statement, depth, &head) {
            self.line(&head, &statement.clauses);
            if statement.block.is_some() && depth == 0 {
                self.out.push_str(" {}");
            }
            self.skip_comments(end);
            return self.end_line(end);
        }
        match statement.block {
            Some(block) => self.block(statement, block, &head, depth),
            None => {
                self.line(&head, &[]);
                self.out.push_str(" {");
                self.end_line(end);
                self.moved(&statement.clauses, depth + 1);
                self.close(depth);
                self.out.push('\n');
            }
        }
    }

    /// A block that stays one. Clauses from before the brace move into it, unless they hold comments.
    fn block(&mut self, statement: &Statement, block: Span, head: &str, depth: usize) {
        let open = block.start as usize + 1;
        let before = statement.clauses.iter().take_while(|clause| clause.span.end <= block.start).count();
        let (outside, inside) = statement.clauses.split_at(before);
        let stays = self.has_comment(Span { end: block.start, ..statement.span });
        self.line(head, if stays { outside } else { &[] });
        self.out.push_str(" {");
        self.skip_comments(block.start as usize);
        self.end_line(open);
        if !stays {
            self.moved(outside, depth + 1);
        }
        self.statements(inside, (block.end as usize).saturating_sub(1), depth + 1);
        self.close(depth);
        self.end_line(block.end as usize);
    }

    fn close(&mut self, depth: usize) {
        self.out.extend(std::iter::repeat_n(' ', depth * INDENT));
        self.out.push('}');
        self.behind_block = depth == 0;
    }

    /// A head with clauses behind commas.
    fn line(&mut self, head: &str, clauses: &[Statement]) {
        self.out.push_str(head);
        for clause in clauses {
            self.out.push_str(", ");
            let clause = self.head(clause, usize::MAX);
            self.out.push_str(&clause);
        }
    }

    /// Clauses from behind commas, each on its own line.
    fn moved(&mut self, clauses: &[Statement], depth: usize) {
        for clause in clauses {
            self.out.extend(std::iter::repeat_n(' ', depth * INDENT));
            let head = self.head(clause, depth * INDENT);
            self.out.push_str(&head);
            self.out.push('\n');
        }
    }

    /// Comments inside brackets are printed with their item.
    fn skip_comments(&mut self, end: usize) {
        let printed = self.comments.iter().take_while(|comment| (comment.start as usize) < end).count();
        self.comments = self.comments.get(printed..).unwrap_or(&[]);
    }

    /// Whether a statement is written with its clauses behind commas.
    fn fits_on_a_line(&self, statement: &Statement, depth: usize, head: &str) -> bool {
        if statement.clauses.is_empty() {
            return statement.block.is_none_or(|block| !self.has_comment(block) && !self.comment_follows(block));
        }
        if statement.block.is_none() && self.has_comment(statement.span) {
            return true;
        }
        let empty = |block: Span| !self.has_comment(block);
        let simple =
            |clause: &Statement| clause.clauses.is_empty() && clause.doc.is_none() && clause.block.is_none_or(empty);
        if !statement.clauses.iter().all(simple) {
            return false;
        }
        if let Some(block) = statement.block {
            let many = statement.clauses.len() > FOLDED;
            if depth == 0 || many || self.has_comment(block) || self.comment_follows(block) {
                return false;
            }
        }
        let heads: Vec<String> = statement.clauses.iter().map(|clause| self.head(clause, usize::MAX)).collect();
        let tall = head.contains('\n') || heads.iter().any(|head| head.contains('\n'));
        let width =
            depth * INDENT + head.chars().count() + heads.iter().map(|head| head.chars().count() + 2).sum::<usize>();
        !tall && width <= WIDTH
    }

    fn has_comment(&self, span: Span) -> bool {
        let from = self.all.partition_point(|comment| comment.start < span.start);
        self.all.get(from).is_some_and(|comment| comment.start < span.end)
    }

    /// Whether a comment stands behind the closing brace of a block.
    fn comment_follows(&self, block: Span) -> bool {
        let from = self.all.partition_point(|comment| comment.start < block.end);
        self.all.get(from).is_some_and(|comment| !self.slice(block.end as usize, comment.start as usize).contains('\n'))
    }

    // ── arguments ──────────────────────────────────────────────────────────

    /// Keyword and arguments. What is wider than a line from `column` on breaks its brackets.
    fn head(&self, statement: &Statement, column: usize) -> String {
        let flat = self.arguments(statement, None);
        if column == usize::MAX || flat.contains('\n') || column + flat.chars().count() <= WIDTH {
            return flat;
        }
        self.arguments(statement, Some(column))
    }

    fn arguments(&self, statement: &Statement, tall_from: Option<usize>) -> String {
        let mut out = statement.keyword.text.to_string();
        for item in &statement.arguments {
            out.push(' ');
            match (tall_from, &item.kind) {
                (Some(column), ItemKind::Tuple(entries)) if entries.len() > 1 && !self.has_comment_in(item) => {
                    self.tall(entries, column, &mut out);
                }
                (Some(column), ItemKind::Call(words, entries)) if !entries.is_empty() && !self.has_comment_in(item) => {
                    names(words, &mut out);
                    self.tall(entries, column, &mut out);
                }
                _ => self.item(item, &mut out),
            }
        }
        out
    }

    /// One entry a line; a row of mere quantities, such as twelve monthly means, fills its lines instead.
    fn tall(&self, entries: &[Entry], column: usize, out: &mut String) {
        let fills =
            entries.iter().all(|entry| entry.name.is_none() && matches!(entry.value.kind, ItemKind::Quantity(_)));
        let mut room = 0;
        out.push('(');
        for entry in entries {
            let mut written = String::new();
            self.entry(entry, &mut written);
            let width = written.chars().count() + 2;
            if fills && width <= room {
                out.push(' ');
            } else {
                out.push('\n');
                out.extend(std::iter::repeat_n(' ', column + INDENT));
                room = WIDTH.saturating_sub(column + INDENT) + 1;
            }
            room = room.saturating_sub(width);
            out.push_str(&written);
            out.push(',');
        }
        out.push('\n');
        out.extend(std::iter::repeat_n(' ', column));
        out.push(')');
    }

    fn has_comment_in(&self, item: &Item) -> bool {
        self.has_comment(item.span)
    }

    fn item(&self, item: &Item, out: &mut String) {
        if self.has_comment_in(item) {
            return out.push_str(&self.old(item.span).replace('\r', ""));
        }
        match &item.kind {
            ItemKind::Path(words) => names(words, out),
            ItemKind::Call(words, entries) => {
                names(words, out);
                self.entries(entries, out);
            }
            ItemKind::Tuple(entries) => self.entries(entries, out),
            ItemKind::Text(_) => out.push_str(self.old(item.span)),
            ItemKind::Date(..) | ItemKind::Quantity(_) | ItemKind::FeetInches(..) | ItemKind::Pitch(..) => {
                let words: Vec<&str> = self.old(item.span).split_ascii_whitespace().collect();
                out.push_str(&words.join(" "));
            }
            ItemKind::Range(low, high) => {
                self.item(low, out);
                out.push_str("..");
                self.item(high, out);
            }
            ItemKind::Size(sides) => self.joined(sides, " x ", out),
            ItemKind::Sum(first, rest) => {
                let bracketed = first.span.start > item.span.start;
                out.push_str(if bracketed { "(" } else { "" });
                self.item(first, out);
                for (operator, operand) in rest {
                    out.push_str(sign(*operator));
                    self.item(operand, out);
                }
                out.push_str(if bracketed { ")" } else { "" });
            }
        }
    }

    fn joined(&self, items: &[Item], between: &str, out: &mut String) {
        for (index, item) in items.iter().enumerate() {
            out.push_str(if index == 0 { "" } else { between });
            self.item(item, out);
        }
    }

    fn entries(&self, entries: &[Entry], out: &mut String) {
        out.push('(');
        for (index, entry) in entries.iter().enumerate() {
            out.push_str(if index == 0 { "" } else { ", " });
            self.entry(entry, out);
        }
        out.push(')');
    }

    fn entry(&self, entry: &Entry, out: &mut String) {
        if let Some(name) = &entry.name {
            out.push_str(&name.text);
            out.push_str(" = ");
        }
        self.item(&entry.value, out);
    }
}

fn names(words: &[Word], out: &mut String) {
    for (index, word) in words.iter().enumerate() {
        out.push_str(if index == 0 { "" } else { "." });
        out.push_str(&word.text);
    }
}

fn sign(operator: Operator) -> &'static str {
    match operator {
        Operator::Add => " + ",
        Operator::Subtract => " - ",
        Operator::Multiply => " * ",
        Operator::Divide => " / ",
    }
}
