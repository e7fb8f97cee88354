//! Where somebody writes, told from the text alone, so that it is known in broken text as well: the blocks that are open,
//! the clause in hand, and the brackets round the place.

use crate::schema::{self, Row};
use crate::syntax::{Statement, parse, pieces};

/// The place where somebody writes.
#[derive(Clone, Debug, Default)]
pub struct Pen<'t> {
    /// Blocks open round the place, outermost first.
    pub open: Vec<Opened<'t>>,
    /// Clauses of the line up to the place, the first with its keyword; the last is in hand.
    pub clauses: Vec<&'t str>,
    /// Offset of the first word of the line.
    pub line: usize,
    /// Brackets open on the line, outermost first.
    pub brackets: Vec<Bracket<'t>>,
    /// Inside a quoted text or a comment, where nothing is offered.
    pub quiet: bool,
    /// The word, path or number in hand, from here to the place.
    pub word: usize,
}

/// A block that is open.
#[derive(Clone, Copy, Debug)]
pub struct Opened<'t> {
    /// The line before its brace.
    pub head: &'t str,
    /// Where the line begins.
    pub start: usize,
    /// Where its brace stands.
    pub brace: usize,
}

/// A bracket that is open.
#[derive(Clone, Copy, Debug)]
pub struct Bracket<'t> {
    /// The name glued to it; empty if there is none.
    pub name: &'t str,
    /// From the bracket to the place.
    pub within: &'t str,
    /// Where it stands.
    pub at: usize,
}

impl<'t> Pen<'t> {
    /// Reads the text up to a byte offset.
    pub fn at(text: &'t str, offset: usize) -> Self {
        let Some(before) = text.get(..offset) else { return Self { quiet: true, ..Self::default() } };
        let line = before.rfind('\n').map_or(0, |at| at + 1);
        let word =
            offset - before.chars().rev().take_while(|letter| in_hand(*letter)).map(char::len_utf8).sum::<usize>();
        if before.get(line..).is_some_and(|own| own.starts_with(char::is_alphabetic)) && !inside_bracket(text, line) {
            let mut scan = Scan { text, at: line, line, commas: Vec::new(), brackets: Vec::new(), open: Vec::new() };
            let quiet = scan.run(offset, false);
            return scan.pen(offset, word, quiet);
        }
        let piece = pieces(text).into_iter().take_while(|piece| piece.start <= line).last().unwrap_or(0..text.len());
        let balanced = Scan::of(text, piece.start).closes_all(piece.end);
        let mut scan = Scan::of(text, piece.start);
        let quiet = scan.run(offset, !balanced);
        // An empty line in the first column is outside, unless the block round it is closed further down.
        if !balanced && before.len() == line {
            scan.open.clear();
        }
        scan.pen(offset, word, quiet)
    }

    /// Context of a clause written in the innermost open block; `file` outside of all.
    pub fn block_context(&self) -> &'static str {
        let step = |context: &str, opened: &Opened<'_>| {
            schema::find(context, first_word(opened.head)).map_or("", |row| row.body)
        };
        self.open.iter().fold("file", step)
    }

    /// The row of the statement that begins the line.
    pub fn head_row(&self) -> Option<&'static Row> {
        schema::find(self.block_context(), first_word(self.clauses.first()?))
    }

    /// Context of the clause in hand: the line's own statement takes what stands behind its commas, if it takes any.
    pub fn context(&self) -> &'static str {
        let block = self.block_context();
        match self.clauses.as_slice() {
            [] | [_] => block,
            _ => match self.head_row() {
                Some(row) if row.body.is_empty() => block,
                Some(row) => row.body,
                None => "",
            },
        }
    }

    /// The clause in hand up to the word in hand; empty where its keyword is being written.
    pub fn clause(&self) -> &'t str {
        self.clauses.last().copied().unwrap_or_default()
    }

    /// Row of the clause in hand; `None` while its keyword is being written.
    pub fn row(&self) -> Option<&'static Row> {
        schema::find(self.context(), first_word(self.clause()))
    }

    /// The clause in hand as a statement: what stands before the word in hand, and before brackets that are open.
    pub fn statement(&self) -> Option<Statement> {
        let clause = self.clause();
        let keyword = schema::declaration_words().find(|word| *word == first_word(clause));
        // A clause is read as a declaration would be; its keyword does not matter to its arguments.
        let rest = clause.get(first_word(clause).len()..).unwrap_or_default();
        let text = format!("{}{rest}", keyword.unwrap_or("section"));
        parse(crate::source::FileId::default(), text.trim_end()).tree.statements.into_iter().next()
    }
}

/// What belongs to a word, a dotted path or a number with its unit.
fn in_hand(letter: char) -> bool {
    letter.is_alphanumeric() || matches!(letter, '_' | '.' | '%' | '/' | '-' | ':' | '°' | '\'')
}

/// The first word of a clause.
pub fn first_word(clause: &str) -> &str {
    let clause = clause.trim_start();
    let end = clause.find(|letter: char| !(letter.is_alphanumeric() || letter == '_')).unwrap_or(clause.len());
    clause.get(..end).unwrap_or_default()
}

/// Whether a line in the first column stands in a bracket that was opened above, as names of a long `use` do.
fn inside_bracket(text: &str, line: usize) -> bool {
    let piece = pieces(text).into_iter().take_while(|piece| piece.start <= line).last();
    piece.is_some_and(|piece| {
        let mut scan = Scan::of(text, piece.start);
        scan.run(line, false);
        !scan.brackets.is_empty()
    })
}

/// Goes through the text once.
struct Scan<'t> {
    text: &'t str,
    at: usize,
    line: usize,
    commas: Vec<usize>,
    brackets: Vec<usize>,
    open: Vec<Opened<'t>>,
}

impl<'t> Scan<'t> {
    fn of(text: &'t str, from: usize) -> Self {
        Self { text, at: from, line: from, commas: Vec::new(), brackets: Vec::new(), open: Vec::new() }
    }

    fn closes_all(mut self, end: usize) -> bool {
        self.run(end, false);
        self.open.is_empty()
    }

    /// Reads up to an offset. `by_indent` closes blocks whose brace is missing. Gives whether it ends in a text or comment.
    fn run(&mut self, end: usize, by_indent: bool) -> bool {
        let bytes = self.text.as_bytes();
        let (mut quoted, mut comment) = (false, false);
        while self.at < end {
            let byte = bytes.get(self.at).copied().unwrap_or(b'\n');
            let here = self.at;
            self.at += 1;
            match byte {
                b'\n' => {
                    (quoted, comment) = (false, false);
                    self.next_line(end, by_indent);
                }
                _ if comment => {}
                b'\\' if quoted => self.at += 1,
                b'"' => quoted = !quoted,
                _ if quoted => {}
                b'/' if bytes.get(here + 1) == Some(&b'/') => comment = true,
                b'(' => self.brackets.push(here),
                b')' => drop(self.brackets.pop()),
                b',' if self.brackets.is_empty() => self.commas.push(here),
                b'{' => {
                    let head = self.text.get(self.line..here).unwrap_or_default().trim();
                    self.open.push(Opened { head, start: self.line, brace: here });
                    self.begin_line(here + 1);
                }
                b'}' => {
                    self.open.pop();
                    self.begin_line(here + 1);
                }
                _ => {}
            }
        }
        quoted || comment
    }

    fn begin_line(&mut self, at: usize) {
        self.line = at;
        self.commas.clear();
        self.brackets.clear();
    }

    /// A new line, unless a bracket holds it to the one before.
    fn next_line(&mut self, end: usize, by_indent: bool) {
        let rest = self.text.get(self.at..).unwrap_or_default();
        let own = rest.split('\n').next().unwrap_or_default();
        let first = own.trim_start();
        let indent = own.len() - first.len();
        let head = self.text.get(self.line..).unwrap_or_default();
        let head_indent = self.line
            - self.text.get(..self.line).and_then(|text| text.rfind('\n')).map_or(0, |at| at + 1)
            + (head.len() - head.trim_start_matches([' ', '\t']).len());
        let outdented = !first.is_empty() && indent <= head_indent && !first.starts_with(')');
        if self.brackets.is_empty() || first.starts_with('}') || (outdented && indent > 0) {
            self.begin_line(self.at);
        }
        if by_indent
            && !first.is_empty()
            && !first.starts_with("//")
            && self.brackets.is_empty()
            && self.at + indent < end
        {
            let closes = first.starts_with('}');
            while let Some(last) = self.open.last()
                && (indent < self.indent_of(last) || (indent == self.indent_of(last) && !closes))
            {
                self.open.pop();
            }
        }
    }

    fn indent_of(&self, opened: &Opened<'_>) -> usize {
        let line = self.text.get(opened.start..opened.brace).unwrap_or_default();
        line.len() - line.trim_start_matches([' ', '\t', '\n']).len()
    }

    /// The place as it stands now.
    fn pen(self, offset: usize, word: usize, quiet: bool) -> Pen<'t> {
        let text = self.text;
        let word = word.max(self.brackets.last().map_or(self.line, |at| at + 1));
        let upto = self.brackets.first().map_or(word, |&at| at - glued(text, at).len());
        let mut starts = vec![self.line];
        starts.extend(self.commas.iter().map(|at| at + 1));
        let ends = self.commas.iter().copied().chain([upto]);
        let clauses =
            starts.iter().zip(ends).map(|(&from, to)| text.get(from..to.max(from)).unwrap_or_default().trim_start());
        let bracket =
            |&at: &usize| Bracket { name: glued(text, at), within: text.get(at + 1..offset).unwrap_or_default(), at };
        let line = self.line + text.get(self.line..).map_or(0, |rest| rest.len() - rest.trim_start().len());
        Pen {
            clauses: clauses.collect(),
            line: line.min(offset),
            brackets: self.brackets.iter().map(bracket).collect(),
            quiet,
            word,
            open: self.open,
        }
    }
}

/// The name that ends where a bracket begins.
fn glued(text: &str, at: usize) -> &str {
    let before = text.get(..at).unwrap_or_default();
    let length: usize = before
        .chars()
        .rev()
        .take_while(|letter| letter.is_alphanumeric() || matches!(letter, '_' | '.'))
        .map(char::len_utf8)
        .sum();
    before.get(at - length..).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pen(text: &str) -> (String, Vec<String>, String) {
        let offset = text.find('$').unwrap();
        let plain = text.replace('$', "");
        let pen = Pen::at(&plain, offset);
        let clauses = pen.clauses.iter().map(|clause| clause.trim().to_owned()).collect();
        (pen.context().to_owned(), clauses, plain[pen.word..offset].to_owned())
    }

    fn told(text: &str, context: &str, clauses: &[&str], word: &str) {
        let clauses = clauses.iter().map(|clause| (*clause).to_owned()).collect();
        assert_eq!(pen(text), (context.to_owned(), clauses, word.to_owned()), "{text}");
    }

    #[test]
    fn a_place_is_known_in_whole_text_and_in_broken_text() {
        told("wythe 1\n\ndet$", "file", &[""], "det");
        told(
            "face north {\n    window k frame 4ft x 5ft, tri$\n}\n",
            "opening",
            &["window k frame 4ft x 5ft", ""],
            "tri",
        );
        told("face north {\n    window k {\n        trims $\n    }\n}\n", "opening", &["trims"], "");
        told("face north {\n    window k {\n        trims 8$", "opening", &["trims"], "8");
        told("face north {\n    $\n}\n", "face", &[""], "");
        told("face north {\n    area all wall(depth = 1$\n}\n", "face", &["area all"], "1");
        told("use details (\n    house_base,\n    ho$\n)\n", "file", &["use details"], "ho");
        told("use details (\nhouse_base,\nho$\n)\n", "file", &["use details"], "ho");
    }
}
