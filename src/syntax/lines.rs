//! A plain scan of the text before the grammar sees it: where declarations begin, what one line is, how deep brackets go.

use std::ops::Range;

/// The words that start a declaration when they stand in the first column.
pub const DECLARATION_WORDS: [&str; 19] = [
    "wythe", "use", "project", "site", "climate", "material", "product", "assembly", "detail", "face", "building",
    "limits", "accept", "section", "evidence", "cutlist", "heat_cut", "rule", "crew",
];

/// How deep brackets, and how deep blocks, may stand in one another.
pub(super) const MAX_DEPTH: usize = 64;

/// Columns from one tab stop to the next, as far as indentation is compared at all.
const TAB: u32 = 4;

/// Cuts a text at every line that begins with a declaration word in the first column; the `///` lines directly above go
/// with it. Strings and comments never span lines, so the cut is exact. The ranges cover the text without a leading
/// byte-order mark, in order, without gaps; the first may hold no declaration. A declaration word in the wrong case counts.
pub fn pieces(text: &str) -> Vec<Range<usize>> {
    let mut cuts = Vec::new();
    let mut docs_from = None;
    let first = if text.starts_with('\u{FEFF}') { '\u{FEFF}'.len_utf8() } else { 0 };
    let mut at = first;
    while at < text.len() {
        let end = line_end(text, at);
        let line = text.get(at..end).unwrap_or("");
        if declaration_word(line).is_some() {
            cuts.push(docs_from.take().unwrap_or(at));
        } else if !line.trim_start().starts_with("//") {
            docs_from = None;
        } else if docs_from.is_none() && is_doc(line.trim_start()) {
            docs_from = Some(at);
        }
        at = end + 1;
    }
    if cuts.first() != Some(&first) && first < text.len() {
        cuts.insert(0, first);
    }
    let ends = cuts.iter().skip(1).copied().chain([text.len()]);
    cuts.iter().copied().zip(ends).map(|(from, to)| from..to).collect()
}

/// The canonical declaration word at the very start of `line`, whatever its case.
pub(super) fn declaration_word(line: &str) -> Option<&'static str> {
    let length = line.bytes().take_while(|byte| byte.is_ascii_alphabetic() || *byte == b'_').count();
    let word = line.get(..length)?;
    let goes_on = line.get(length..)?.chars().next().is_some_and(is_word_char);
    if goes_on || !(3..=8).contains(&length) {
        return None;
    }
    DECLARATION_WORDS.into_iter().find(|known| known.eq_ignore_ascii_case(word))
}

/// Whether a character can stand inside a name.
pub(super) fn is_word_char(character: char) -> bool {
    character.is_alphanumeric() || character == '_'
}

/// Whether a line (without its indent) is a `///` line.
pub(super) fn is_doc(line: &str) -> bool {
    line.starts_with("///") && !line.starts_with("////")
}

fn line_end(text: &str, at: usize) -> usize {
    text.get(at..).and_then(|rest| rest.find('\n')).map_or(text.len(), |length| at + length)
}

/// What a line is to the blocks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shape {
    /// A `///` line.
    Doc,
    /// A statement that ends with its line.
    Plain,
    /// A statement with `{` at this offset at its end; without text, a `{` alone.
    Opens(usize),
    /// A statement with `{ }` at these offsets at its end.
    Empty(usize, usize),
    /// A `}` alone.
    Close,
}

/// A line, or the lines that brackets hold together. Lines without a statement are not kept.
#[derive(Clone, Copy, Debug)]
pub(super) struct Line {
    /// First byte behind the indent.
    pub start: usize,
    /// One past the last byte, without brace, comment and blanks.
    pub end: usize,
    /// Column of the first byte. `None` for a part of a line that was cut at its braces.
    pub indent: Option<u32>,
    /// What it is to the blocks.
    pub shape: Shape,
    /// Where a fault that is already in the list spoils this line.
    pub spoilt_at: Option<usize>,
}

/// What is wrong with the outline of the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fault {
    /// A `"` that is not closed on its line.
    UnclosedText(usize, usize),
    /// A `(` that is not closed.
    UnclosedBracket(usize),
    /// The bracket that is one too deep.
    TooDeep(usize),
    /// A brace in the middle of a line.
    BraceInLine(usize),
    /// `# …`
    Hash(usize, usize),
}

/// The outline of one piece.
#[derive(Debug, Default)]
pub(super) struct Outline {
    /// In order.
    pub lines: Vec<Line>,
    /// Spans of `//` comments, in order.
    pub comments: Vec<(usize, usize)>,
    /// In order.
    pub faults: Vec<Fault>,
}

/// Scans one piece. Every byte is looked at a bounded number of times, whatever the text.
pub(super) fn outline(text: &str, piece: Range<usize>) -> Outline {
    let end = piece.end.min(text.len());
    let mut scan =
        Scan { bytes: text.as_bytes().get(..end).unwrap_or(&[]), text, out: Outline::default(), braces: Vec::new() };
    let mut at = piece.start;
    while at < end {
        at = scan.line(at);
    }
    scan.out
}

struct Scan<'t> {
    /// Up to the end of the piece.
    bytes: &'t [u8],
    text: &'t str,
    out: Outline,
    /// Braces outside brackets on the line in hand.
    braces: Vec<usize>,
}

/// How far the scan of a line that may continue inside brackets has come.
#[derive(Clone, Copy)]
struct Body {
    /// One past the last byte that is not comment.
    content_end: usize,
    /// Where the next line begins.
    next: usize,
    /// Brackets open at the end of the line.
    depth: usize,
    /// The outermost bracket that is open.
    open_at: usize,
    too_deep: Option<usize>,
    unclosed_text: Option<usize>,
}

impl Scan<'_> {
    fn byte(&self, at: usize) -> u8 {
        self.bytes.get(at).copied().unwrap_or(b'\n')
    }

    fn ends_at(&self, at: usize) -> usize {
        let rest = self.text.get(at..self.bytes.len()).unwrap_or("");
        rest.find('\n').map_or(self.bytes.len(), |length| at + length)
    }

    /// `end` without the blanks before it. A carriage return counts as one only before a line end.
    fn trimmed(&self, start: usize, end: usize) -> usize {
        let mut end = end;
        while end > start {
            match self.byte(end - 1) {
                b' ' | b'\t' | b'\n' => end -= 1,
                b'\r' if self.byte(end) == b'\n' => end -= 1,
                _ => break,
            }
        }
        end
    }

    /// Offset and column of the first byte that is not blank.
    fn indent(&self, from: usize) -> (usize, u32) {
        let (mut at, mut column) = (from, 0);
        loop {
            match self.byte(at) {
                b' ' => column += 1,
                b'\t' => column = (column / TAB + 1) * TAB,
                _ => return (at, column),
            }
            at += 1;
        }
    }

    /// Reads the line that begins at `from`; gives the offset of the next.
    fn line(&mut self, from: usize) -> usize {
        let (start, column) = self.indent(from);
        let rest = self.text.get(start..self.bytes.len()).unwrap_or("");
        if is_doc(rest) {
            let line_end = self.ends_at(start);
            let end = self.trimmed(start, line_end);
            self.out.lines.push(Line { start, end, indent: Some(column), shape: Shape::Doc, spoilt_at: None });
            return line_end + 1;
        }
        self.braces.clear();
        let body = self.body(start);
        let end = self.trimmed(start, body.content_end);
        if end == start {
            return body.next;
        }
        let spoilt_at = self.fault_of(&body, end);
        let brace = self.braces.last().copied();
        let opens_spoilt = spoilt_at.is_some() && self.byte(end - 1) == b'{' && brace != Some(end - 1);
        if opens_spoilt {
            self.braces.push(end - 1);
        }
        self.shape_line(start, end, column, spoilt_at);
        body.next
    }

    /// Puts what is wrong with a line into the list and says where it spoils the line.
    fn fault_of(&mut self, body: &Body, end: usize) -> Option<usize> {
        if let Some(at) = body.too_deep {
            self.out.faults.push(Fault::TooDeep(at));
            return Some(at);
        }
        if let Some(at) = body.unclosed_text {
            self.out.faults.push(Fault::UnclosedText(at, end));
            return Some(at);
        }
        if body.depth > 0 {
            self.out.faults.push(Fault::UnclosedBracket(body.open_at));
            return Some(body.open_at);
        }
        None
    }

    /// Scans to the end of the line; where a bracket is open there, on to the line where it closes, if it does.
    fn body(&mut self, start: usize) -> Body {
        let mut body =
            Body { content_end: start, next: start, depth: 0, open_at: start, too_deep: None, unclosed_text: None };
        self.physical(start, &mut body);
        let last = self.trimmed(start, body.content_end);
        if body.depth == 0 || body.too_deep.is_some() || (last > start && self.byte(last - 1) == b'{') {
            return body;
        }
        let kept = (body, self.out.comments.len(), self.out.faults.len(), self.braces.len());
        loop {
            let (first, _) = self.indent(body.next);
            if body.next >= self.bytes.len() || self.byte(first) == b'}' || body.unclosed_text.is_some() {
                break;
            }
            self.physical(first, &mut body);
            let last = self.trimmed(first, body.content_end);
            if body.depth == 0 {
                return body;
            }
            if body.too_deep.is_none() && last > first && self.byte(last - 1) == b'{' {
                break;
            }
        }
        if body.too_deep.is_some() {
            return body;
        }
        self.out.comments.truncate(kept.1);
        self.out.faults.truncate(kept.2);
        self.braces.truncate(kept.3);
        kept.0
    }

    /// Scans one physical line from `from` on.
    fn physical(&mut self, from: usize, body: &mut Body) {
        let mut at = from;
        loop {
            match self.byte(at) {
                b'\n' => break,
                b'"' if !self.is_inch_mark(at) => {
                    let (end, closed) = self.string(at);
                    if !closed {
                        body.unclosed_text = body.unclosed_text.or(Some(at));
                    }
                    at = end;
                    continue;
                }
                b'/' if self.byte(at + 1) == b'/' => return self.comment(at, body),
                b'#' if self.is_hash_comment(at, from) => {
                    let end = self.ends_at(at);
                    self.out.faults.push(Fault::Hash(at, self.trimmed(at, end)));
                    body.content_end = at;
                    body.next = end + 1;
                    return;
                }
                b'(' => {
                    if body.depth == 0 {
                        body.open_at = at;
                    }
                    body.depth += 1;
                    if body.depth > MAX_DEPTH {
                        body.too_deep = body.too_deep.or(Some(at));
                    }
                }
                b')' => body.depth = body.depth.saturating_sub(1),
                b'{' | b'}' if body.depth == 0 => self.braces.push(at),
                _ => {}
            }
            at += 1;
        }
        let end = at.min(self.bytes.len());
        body.content_end = end;
        body.next = end + 1;
    }

    fn comment(&mut self, at: usize, body: &mut Body) {
        let end = self.ends_at(at);
        self.out.comments.push((at, self.trimmed(at, end)));
        body.content_end = at;
        body.next = end + 1;
    }

    /// Builders write `16"`; a text never follows a digit.
    fn is_inch_mark(&self, at: usize) -> bool {
        at.checked_sub(1).is_some_and(|before| self.byte(before).is_ascii_digit())
    }

    /// `# note`, but not the screw size `#8`.
    fn is_hash_comment(&self, at: usize, line: usize) -> bool {
        let fresh = at == line || matches!(self.byte(at.saturating_sub(1)), b' ' | b'\t');
        fresh && !self.byte(at + 1).is_ascii_digit()
    }

    /// The end of the string that begins at `at`, and whether it is closed on its line.
    fn string(&self, at: usize) -> (usize, bool) {
        let mut at = at + 1;
        loop {
            match self.byte(at) {
                b'\n' => return (at, false),
                b'"' => return (at + 1, true),
                b'\\' if self.byte(at + 1) != b'\n' => at += 2,
                _ => at += 1,
            }
        }
    }

    /// Keeps the line in the form that its braces give it.
    fn shape_line(&mut self, start: usize, end: usize, column: u32, spoilt_at: Option<usize>) {
        let whole = Line { start, end, indent: Some(column), shape: Shape::Plain, spoilt_at };
        let line = match *self.braces {
            [] => whole,
            [brace] if brace + 1 == end && self.byte(brace) == b'{' => {
                Line { end: self.trimmed(start, brace), shape: Shape::Opens(brace), ..whole }
            }
            [brace] if end == start + 1 && self.byte(brace) == b'}' => Line { shape: Shape::Close, ..whole },
            [open, close]
                if close + 1 == end
                    && self.byte(open) == b'{'
                    && self.byte(close) == b'}'
                    && self.trimmed(start, close) == open + 1 =>
            {
                Line { end: self.trimmed(start, open), shape: Shape::Empty(open, close), ..whole }
            }
            _ => return self.cut_at_braces(start, end, column, spoilt_at),
        };
        self.out.lines.push(line);
    }

    /// A line with braces in odd places: one fault, and each part read as if it stood on its own line.
    fn cut_at_braces(&mut self, start: usize, end: usize, column: u32, spoilt_at: Option<usize>) {
        let braces = std::mem::take(&mut self.braces);
        let odd = braces.iter().copied().find(|&at| at != start || self.byte(at) == b'{').unwrap_or(start);
        self.out.faults.push(Fault::BraceInLine(odd));
        let mut from = start;
        let mut indent = Some(column);
        for &brace in &braces {
            let (first, last) = self.part(from, brace);
            if self.byte(brace) == b'{' {
                self.push_part(first, last, indent, Shape::Opens(brace), spoilt_at);
            } else {
                if first < last {
                    self.push_part(first, last, indent, Shape::Plain, spoilt_at);
                    indent = None;
                }
                self.push_part(brace, brace + 1, indent, Shape::Close, None);
            }
            indent = None;
            from = brace + 1;
        }
        let (first, last) = self.part(from, end);
        if first < last {
            self.push_part(first, last, None, Shape::Plain, spoilt_at);
        }
        self.braces = braces;
    }

    fn push_part(&mut self, start: usize, end: usize, indent: Option<u32>, shape: Shape, spoilt_at: Option<usize>) {
        let spoilt_at = spoilt_at.filter(|at| (start..end).contains(at));
        self.out.lines.push(Line { start, end, indent, shape, spoilt_at });
    }

    /// What stands between two braces, without blanks, commas and semicolons around it.
    fn part(&self, from: usize, to: usize) -> (usize, usize) {
        let mut first = from;
        while first < to && matches!(self.byte(first), b' ' | b'\t' | b',' | b';' | b'\r' | b'\n') {
            first += 1;
        }
        let mut last = self.trimmed(first, to);
        while last > first && matches!(self.byte(last - 1), b',' | b';') {
            last = self.trimmed(first, last - 1);
        }
        (first, last)
    }
}
