//! Puts lines together to blocks. Where braces are in balance they alone decide; where they are not, the indentation
//! tells which one is missing, so that one brace costs one message.

use std::ops::Range;

use super::Parsed;
use super::clause::{self, Read};
use super::lines::{self, Fault, Line, MAX_DEPTH, Outline, Shape};
use super::tree::{Item, Statement};
use crate::diagnose::{Diagnostic, did_you_mean};
use crate::source::{FileId, Span};

/// After this many mistakes in one file the rest is not described, so that a wrong file does not fill the memory.
pub(super) const MAX_PROBLEMS: usize = 200;

/// Why a block is open.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Opened {
    /// By a `{`.
    Brace,
    /// The `{` is missing, and a `}` for it follows.
    NoBrace,
    /// A comma at the end of a line; deeper lines belong to it.
    Comma,
}

/// A statement whose block is still open.
struct Frame {
    statement: Statement,
    indent: u32,
    opened: Opened,
    open: Span,
    /// Some child was indented deeper than the head, so the indentation can be trusted.
    indented: bool,
}

/// Reads the lines of one piece into the tree.
pub(super) struct Reader<'t> {
    file: FileId,
    text: &'t str,
    out: &'t mut Parsed,
    stack: Vec<Frame>,
    docs: Vec<(usize, usize)>,
    /// Statements of the tree that were there before this piece.
    before: usize,
    /// Braces are out of balance in this piece.
    unbalanced: bool,
    /// Closing braces that have no partner by count; negative if opening ones have none.
    surplus: i64,
    /// Blocks open below the deepest one that is kept.
    skipping: usize,
    too_deep: bool,
    orphaned: bool,
}

/// Reads one piece of `text` and adds to `out` what it holds.
pub(super) fn read_piece(file: FileId, text: &str, piece: Range<usize>, out: &mut Parsed) {
    let outline = lines::outline(text, piece);
    let (surplus, lowest) = balance(&outline.lines);
    let mut reader = Reader {
        file,
        text,
        before: out.tree.statements.len(),
        out,
        stack: Vec::new(),
        docs: Vec::new(),
        unbalanced: surplus != 0 || lowest < 0,
        surplus,
        skipping: 0,
        too_deep: false,
        orphaned: false,
    };
    reader.read(&outline);
}

/// Closing minus opening braces, and the lowest level reached on the way.
fn balance(lines: &[Line]) -> (i64, i64) {
    let (mut level, mut lowest) = (0_i64, 0_i64);
    for line in lines {
        match line.shape {
            Shape::Opens(_) => level += 1,
            Shape::Close => level -= 1,
            Shape::Doc | Shape::Plain | Shape::Empty(..) => {}
        }
        lowest = lowest.min(level);
    }
    (-level, lowest)
}

impl Reader<'_> {
    fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.file, start, end)
    }

    fn report(&mut self, problem: Diagnostic) {
        if self.out.problems.len() < MAX_PROBLEMS {
            self.out.problems.push(problem);
        } else if self.out.problems.len() == MAX_PROBLEMS {
            let span = problem.main.span;
            let title = format!("more than {MAX_PROBLEMS} mistakes; those from here on are not shown");
            self.out.problems.push(Diagnostic::error("text.too_many", span, title));
        }
    }

    fn read(&mut self, outline: &Outline) {
        for &(start, end) in &outline.comments {
            self.out.tree.comments.push(self.span(start, end));
        }
        for &fault in &outline.faults {
            let problem = clause::describe(fault, self.file, self.text);
            self.too_deep |= matches!(fault, Fault::TooDeep(_));
            self.report(problem);
        }
        for (index, line) in outline.lines.iter().enumerate() {
            let behind = outline.lines.get(index + 1..).unwrap_or(&[]);
            if self.skipping > 0 {
                match line.shape {
                    Shape::Opens(_) => self.skipping += 1,
                    Shape::Close => self.skipping -= 1,
                    Shape::Doc | Shape::Plain | Shape::Empty(..) => {}
                }
                continue;
            }
            match line.shape {
                Shape::Doc => self.docs.push((line.start, line.end)),
                Shape::Close => self.close(line, behind),
                Shape::Opens(_) if line.start >= line.end => self.lone_brace(line),
                Shape::Plain | Shape::Opens(_) | Shape::Empty(..) => self.statement(line, behind),
            }
        }
        self.finish();
    }

    // ── statements ─────────────────────────────────────────────────────────

    fn statement(&mut self, line: &Line, behind: &[Line]) {
        if let Some(indent) = line.indent {
            self.leave_blocks_for(indent);
        }
        let top = self.stack.is_empty();
        let word = if top { self.declaration_word(line) } else { None };
        let Read { statement, problems, list_comma } = clause::read_line(self.file, self.text, line);
        let Some(mut statement) = statement else {
            problems.into_iter().for_each(|problem| self.report(problem));
            self.docs.clear();
            return;
        };
        statement.doc = self.take_docs();
        let mut quiet = false;
        if top {
            quiet = self.check_declaration(&mut statement, line, word);
        }
        if !quiet {
            let in_list = self.stack.last().is_some_and(|frame| frame.opened == Opened::Comma);
            for problem in problems {
                if !(in_list && problem.code == "text.comma_at_end") {
                    self.report(problem);
                }
            }
        }
        self.place(statement, line, behind, list_comma);
    }

    /// Adds a statement to the block it stands in, or opens its own.
    fn place(&mut self, mut statement: Statement, line: &Line, behind: &[Line], list_comma: bool) {
        let indent = line.indent.unwrap_or_else(|| self.stack.last().map_or(0, |frame| frame.indent + 1));
        match line.shape {
            Shape::Opens(at) => {
                let open = self.span(at, at + 1);
                statement.span = statement.span.to(open);
                self.push(statement, indent, Opened::Brace, open);
            }
            Shape::Empty(open, close) => {
                let block = self.span(open, close + 1);
                statement.block = Some(block);
                statement.span = statement.span.to(block);
                self.attach(statement, line.indent);
            }
            Shape::Plain | Shape::Doc | Shape::Close => {
                let deeper = next_indent(behind).is_some_and(|next| next > indent);
                let here = self.span(line.end, line.end);
                if list_comma && deeper {
                    self.push(statement, indent, Opened::Comma, here);
                } else if deeper && self.lacks_brace(indent, behind) {
                    self.surplus -= 1;
                    self.report(missing_open(&statement));
                    statement.broken = true;
                    self.push(statement, indent, Opened::NoBrace, here);
                } else {
                    self.attach(statement, line.indent);
                }
            }
        }
    }

    fn push(&mut self, mut statement: Statement, indent: u32, opened: Opened, open: Span) {
        if self.stack.len() < MAX_DEPTH {
            if let Some(frame) = self.stack.last_mut() {
                frame.indented |= indent > frame.indent;
            }
            self.stack.push(Frame { statement, indent, opened, open, indented: false });
            return;
        }
        if !self.too_deep {
            let title = format!("blocks stand more than {MAX_DEPTH} deep in one another");
            self.report(Diagnostic::error("text.too_deep", open, title).help("name a part and refer to it"));
        }
        self.too_deep = true;
        statement.broken = true;
        if opened == Opened::Brace {
            self.skipping = 1;
        }
        self.attach(statement, Some(indent));
    }

    /// Adds a finished statement to the block in hand. What stands indented under no block goes to the declaration above.
    fn attach(&mut self, statement: Statement, indent: Option<u32>) {
        if let Some(frame) = self.stack.last_mut() {
            frame.indented |= indent.is_some_and(|indent| indent > frame.indent);
            frame.statement.span = frame.statement.span.to(statement.span);
            frame.statement.clauses.push(statement);
            return;
        }
        let is_declaration = lines::declaration_word(&statement.keyword.text).is_some();
        if !is_declaration
            && self.out.tree.statements.len() > self.before
            && indent != Some(0)
            && let Some(above) = self.out.tree.statements.last_mut()
        {
            above.span = above.span.to(statement.span);
            above.broken = true;
            above.clauses.push(statement);
            return;
        }
        self.out.tree.statements.push(statement);
    }

    fn take_docs(&mut self) -> Option<Box<str>> {
        if self.docs.is_empty() {
            return None;
        }
        let line = |&(start, end): &(usize, usize)| {
            let text = self.text.get(start + 3..end).unwrap_or("");
            text.strip_prefix(' ').unwrap_or(text).trim_end()
        };
        let lines: Vec<&str> = self.docs.iter().map(line).collect();
        let doc = lines.join("\n").into();
        self.docs.clear();
        Some(doc)
    }

    fn drop_docs(&mut self) {
        if let (Some(&(start, _)), Some(&(_, end))) = (self.docs.first(), self.docs.last()) {
            let span = self.span(start, end);
            self.report(
                Diagnostic::warning("text.doc_alone", span, "these words describe nothing: no statement follows them")
                    .help("move the `///` lines above a statement, or write `//` for a plain comment"),
            );
        }
        self.docs.clear();
    }

    // ── declarations ───────────────────────────────────────────────────────

    fn declaration_word(&self, line: &Line) -> Option<&'static str> {
        lines::declaration_word(self.text.get(line.start..line.end).unwrap_or(""))
    }

    /// Says what is wrong with a statement outside every block; gives whether that silences its other problems.
    fn check_declaration(&mut self, statement: &mut Statement, line: &Line, word: Option<&'static str>) -> bool {
        let span = statement.keyword.span;
        let written = statement.keyword.text.clone();
        let indented = line.indent != Some(0);
        let above = (self.out.tree.statements.len() > self.before).then(|| self.out.tree.statements.last()).flatten();
        match word {
            Some(word) => {
                if word != &*written {
                    statement.keyword.text = word.into();
                    self.report(
                        Diagnostic::error("text.keyword_case", span, format!("`{written}` is written `{word}`")).fix(
                            format!("write `{word}`"),
                            span,
                            word,
                        ),
                    );
                } else if indented && line.indent.is_some() {
                    self.report(
                        Diagnostic::error(
                            "text.indented_declaration",
                            span,
                            format!("`{word}` does not stand in the first column"),
                        )
                        .help("a declaration starts at the very left; inside a block of another it cannot stand"),
                    );
                }
                false
            }
            None if indented && above.is_some() => {
                let missing = above.filter(|above| above.block.is_none()).map(missing_open);
                if !std::mem::replace(&mut self.orphaned, true) {
                    let problem = missing.unwrap_or_else(|| {
                        Diagnostic::error("text.outside_block", span, format!("`{written}` stands in no block"))
                            .help("a `}` above closes its block too early, or a `{` is missing")
                    });
                    self.report(problem);
                }
                false
            }
            None => {
                self.report(unknown_declaration(span, &written));
                statement.broken = true;
                true
            }
        }
    }

    // ── braces ─────────────────────────────────────────────────────────────

    /// Closes blocks that a line with this indent cannot belong to.
    fn leave_blocks_for(&mut self, indent: u32) {
        while let Some(top) = self.stack.last() {
            let outer = self.stack.len().checked_sub(2).and_then(|at| self.stack.get(at)).map(|frame| frame.indent);
            let trusted = top.indented || outer.is_some_and(|outer| outer < top.indent);
            let leaves = indent <= top.indent && (top.opened == Opened::Comma || self.unbalanced && trusted);
            if !leaves {
                return;
            }
            self.pop_unclosed();
        }
    }

    /// Whether the block of a line without `{` follows: deeper lines, then a `}` under its first letter.
    fn lacks_brace(&self, indent: u32, behind: &[Line]) -> bool {
        let ends = |line: &&Line| line.indent.is_some_and(|next| next <= indent);
        self.unbalanced
            && self.surplus > 0
            && behind.iter().find(ends).is_some_and(|line| line.shape == Shape::Close && line.indent == Some(indent))
    }

    fn close(&mut self, line: &Line, behind: &[Line]) {
        self.drop_docs();
        while self.stack.last().is_some_and(|frame| frame.opened == Opened::Comma) {
            self.pop_unclosed();
        }
        let brace = self.span(line.start, line.end);
        let Some(top) = self.stack.last() else { return self.stray(brace) };
        if let Some(indent) = line.indent.filter(|_| self.unbalanced) {
            let exact = self.stack.iter().rposition(|frame| frame.indent == indent);
            let goes_deeper = next_indent(behind).is_some_and(|next| next > indent);
            if self.surplus > 0 && (goes_deeper || exact.is_none() && top.indent < indent) {
                return self.stray(brace);
            }
            let keep = exact.unwrap_or_else(|| {
                let outer = self.stack.iter().rposition(|frame| frame.indent < indent);
                outer.map_or(0, |outer| (outer + 1).min(self.stack.len() - 1))
            });
            while self.stack.len() > keep + 1 {
                self.pop_unclosed();
            }
        }
        let Some(mut frame) = self.stack.pop() else { return };
        frame.statement.block = Some(frame.open.to(brace));
        frame.statement.span = frame.statement.span.to(brace);
        self.attach(frame.statement, Some(frame.indent));
    }

    fn stray(&mut self, brace: Span) {
        self.surplus -= 1;
        if self.orphaned && self.stack.is_empty() {
            return;
        }
        self.report(
            Diagnostic::error("text.stray_brace", brace, "this `}` closes nothing")
                .help("remove it, or add the `{` that is missing above"),
        );
    }

    /// A `{` on a line of its own belongs to the statement above.
    fn lone_brace(&mut self, line: &Line) {
        let Shape::Opens(at) = line.shape else { return };
        let open = self.span(at, at + 1);
        let above = match self.stack.last_mut() {
            Some(frame) => frame.statement.clauses.pop_if(|last| last.block.is_none()),
            None if self.out.tree.statements.len() > self.before => {
                self.out.tree.statements.pop_if(|last| last.block.is_none())
            }
            None => None,
        };
        let Some(mut statement) = above else {
            self.report(Diagnostic::error("text.stray_brace", open, "this `{` opens a block of nothing"));
            self.skipping = 1;
            return;
        };
        let end = statement.span.end as usize;
        self.report(
            Diagnostic::error("text.brace_alone", open, "`{` stands at the end of the line whose block it opens")
                .also(statement.keyword.span, "this statement")
                .fix("move `{` up", self.span(end, at + 1), " {"),
        );
        statement.span = statement.span.to(open);
        self.push(statement, line.indent.unwrap_or(0), Opened::Brace, open);
    }

    /// Closes the innermost block without a brace, and says so once.
    fn pop_unclosed(&mut self) {
        let Some(frame) = self.stack.pop() else { return };
        if frame.opened == Opened::Brace && !self.too_deep {
            self.surplus += 1;
            self.report(unclosed(&frame));
        }
        self.attach_unclosed(frame);
    }

    fn attach_unclosed(&mut self, mut frame: Frame) {
        frame.statement.broken = true;
        if frame.opened == Opened::Brace {
            frame.statement.block = Some(Span { end: frame.statement.span.end, ..frame.open });
        }
        self.attach(frame.statement, Some(frame.indent));
    }

    /// The end of the piece: everything still open is one mistake.
    fn finish(&mut self) {
        self.drop_docs();
        let open: Vec<&Frame> = self.stack.iter().filter(|frame| frame.opened == Opened::Brace).collect();
        if let Some((last, outer)) = open.split_last()
            && !self.too_deep
        {
            let mut problem = unclosed(last);
            for frame in outer.iter().rev().take(3) {
                problem = problem.also(frame.open, "and so is this one");
            }
            self.report(problem);
        }
        while let Some(frame) = self.stack.pop() {
            self.attach_unclosed(frame);
        }
    }
}

/// Indent of the next line that belongs to the blocks, `}` included.
fn next_indent(behind: &[Line]) -> Option<u32> {
    behind.first().and_then(|line| line.indent)
}

/// The keyword, and the first argument if it is a single word.
fn name(statement: &Statement) -> String {
    match statement.arguments.first().and_then(Item::word) {
        Some(word) => format!("{} {}", statement.keyword.text, word.text),
        None => statement.keyword.text.to_string(),
    }
}

fn unclosed(frame: &Frame) -> Diagnostic {
    Diagnostic::error(
        "text.unclosed_block",
        frame.open,
        format!("the block of `{}` is left open", name(&frame.statement)),
    )
    .label("this `{` has no `}`")
    .help("add a `}` on its own line where the block ends")
}

fn missing_open(statement: &Statement) -> Diagnostic {
    let span = statement.head_span();
    let title = format!("`{}` has lines under it but no `{{`", name(statement));
    let end = Span { start: statement.span.end, end: statement.span.end, ..span };
    Diagnostic::error("text.missing_open", span, title).fix("add `{` at the end of this line", end, " {")
}

fn unknown_declaration(span: Span, written: &str) -> Diagnostic {
    let problem =
        Diagnostic::error("text.unknown_declaration", span, format!("`{written}` does not start a declaration"));
    match did_you_mean(&written.to_ascii_lowercase(), lines::DECLARATION_WORDS) {
        Some(help) => problem.help(help),
        None => problem
            .help(format!("a line in the first column starts with one of: {}", lines::DECLARATION_WORDS.join(", "))),
    }
}
