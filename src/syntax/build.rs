//! From what the grammar recognised to the nodes of the tree.

use pest::iterators::{Pair, Pairs};

use super::grammar::Rule;
use super::number::{self, NumberFault};
use super::tree::{Entry, Item, ItemKind, Operator, Statement, Word};
use crate::diagnose::Diagnostic;
use crate::source::{FileId, Span};

/// Words that name an argument inside a statement; with `x` the only reserved names. Glued to a `(` they are no call.
pub const SMALL_WORDS: [&str; 20] = [
    "at", "to", "from", "on", "into", "with", "by", "until", "along", "between", "under", "over", "below", "above",
    "behind", "for", "because", "like", "every", "and",
];

/// Turns pairs of one line into nodes. What has no value is reported, left out, and marks its statement as broken.
pub(super) struct Builder<'t> {
    /// The file the spans name.
    pub file: FileId,
    /// Where the text given to the grammar begins in the file.
    pub base: usize,
    /// That text.
    pub text: &'t str,
    /// What was found while building.
    pub problems: Vec<Diagnostic>,
    failed: bool,
}

impl<'t> Builder<'t> {
    pub(super) fn new(file: FileId, base: usize, text: &'t str) -> Self {
        Self { file, base, text, problems: Vec::new(), failed: false }
    }

    pub(super) fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.file, self.base + start, self.base + end)
    }

    fn span_of(&self, pair: &Pair<'_, Rule>) -> Span {
        let span = pair.as_span();
        self.span(span.start(), span.end())
    }

    /// The statement of a whole line: its first clause is the head of the others.
    pub(super) fn line(&mut self, pairs: Pairs<'_, Rule>) -> Option<Statement> {
        let mut clauses = pairs.flat_map(Pair::into_inner).filter(|pair| pair.as_rule() == Rule::clause);
        let mut head = self.clause(clauses.next()?)?;
        for pair in clauses {
            if let Some(clause) = self.clause(pair) {
                head.span = head.span.to(clause.span);
                head.clauses.push(clause);
            }
        }
        Some(head)
    }

    fn clause(&mut self, pair: Pair<'_, Rule>) -> Option<Statement> {
        let span = self.span_of(&pair);
        let mut inner = pair.into_inner();
        let keyword = inner.next()?;
        let keyword = Word { text: keyword.as_str().into(), span: self.span_of(&keyword) };
        let mut arguments = Vec::new();
        let (mut broken, mut dropped) = (false, false);
        for pair in inner {
            let joins = matches!(pair.as_rule(), Rule::parameters | Rule::upper_end | Rule::more_sides);
            if joins && dropped {
                continue;
            }
            self.push(&mut arguments, pair);
            dropped = std::mem::take(&mut self.failed);
            if dropped {
                broken = true;
                arguments.pop();
            } else {
                broken |= self.mend_split_number(&mut arguments);
            }
        }
        split_glued_small_words(&mut arguments);
        Some(Statement { doc: None, keyword, arguments, clauses: Vec::new(), block: None, span, broken })
    }

    /// Adds one recognised value, or joins it to the one before it.
    fn push(&mut self, items: &mut Vec<Item>, pair: Pair<'_, Rule>) {
        let span = self.span_of(&pair);
        let kind = match pair.as_rule() {
            Rule::path => ItemKind::Path(self.words(&pair)),
            Rule::text => self.quoted(&pair),
            Rule::date => date(pair.as_str()),
            Rule::measure => self.measure(&pair, span),
            Rule::tuple => self.bracket(pair),
            Rule::parameters => {
                let Some(Item { kind: ItemKind::Path(words), span: name }) = items.pop() else { return };
                let entries = self.entries(pair);
                items.push(Item { kind: ItemKind::Call(words, entries), span: name.to(span) });
                return;
            }
            Rule::upper_end => {
                let (Some(low), Some(high)) = (items.pop(), self.all(pair).pop()) else { return };
                let span = low.span.to(high.span);
                items.push(Item { kind: ItemKind::Range(Box::new(low), Box::new(high)), span });
                return;
            }
            Rule::more_sides => {
                let Some(first) = items.pop() else { return };
                let span = first.span.to(span);
                let mut sides = vec![first];
                sides.extend(self.all(pair));
                items.push(Item { kind: ItemKind::Size(sides), span });
                return;
            }
            _ => return,
        };
        items.push(Item { kind, span });
    }

    fn all(&mut self, pair: Pair<'_, Rule>) -> Vec<Item> {
        let mut items = Vec::new();
        for inner in pair.into_inner() {
            self.push(&mut items, inner);
        }
        items
    }

    fn words(&self, pair: &Pair<'_, Rule>) -> Vec<Word> {
        let mut at = pair.as_span().start();
        let mut words = Vec::with_capacity(1);
        for name in pair.as_str().split('.') {
            words.push(Word { text: name.into(), span: self.span(at, at + name.len()) });
            at += name.len() + 1;
        }
        words
    }

    fn measure(&mut self, pair: &Pair<'_, Rule>, span: Span) -> ItemKind {
        let fault = match number::measure(pair.as_str(), self.file, span.start as usize) {
            Ok(kind) => return kind,
            Err(fault) => fault,
        };
        self.failed = true;
        self.problems.push(match fault {
            NumberFault::TooLong => {
                Diagnostic::error("text.number_too_long", span, "this number has more digits than can be held exactly")
                    .help("write it with 18 digits or fewer")
            }
            NumberFault::ZeroBelow => {
                Diagnostic::error("text.zero_below", span, format!("`{}` divides by zero", pair.as_str()))
                    .help("a fraction needs a number other than 0 below its line")
            }
        });
        ItemKind::Tuple(Vec::new())
    }

    /// The text without its quotes, escapes resolved.
    fn quoted(&mut self, pair: &Pair<'_, Rule>) -> ItemKind {
        let whole = pair.as_str();
        let inside = whole.get(1..whole.len().saturating_sub(1)).unwrap_or("");
        if !inside.contains('\\') {
            return ItemKind::Text(inside.into());
        }
        let mut resolved = String::with_capacity(inside.len());
        let mut characters = inside.char_indices();
        while let Some((at, character)) = characters.next() {
            if character != '\\' {
                resolved.push(character);
                continue;
            }
            match characters.next().map(|(_, escaped)| escaped) {
                Some('n') => resolved.push('\n'),
                Some('t') => resolved.push('\t'),
                Some(plain @ ('"' | '\\')) => resolved.push(plain),
                Some(other) => {
                    let start = pair.as_span().start() + 1 + at;
                    self.unknown_escape(start, other);
                }
                None => {}
            }
        }
        ItemKind::Text(resolved.into())
    }

    fn unknown_escape(&mut self, start: usize, escaped: char) {
        let span = self.span(start, start + 1 + escaped.len_utf8());
        self.failed = true;
        self.problems.push(
            Diagnostic::error("text.unknown_escape", span, format!("`\\{escaped}` means nothing inside a text"))
                .help("known are `\\\"`, `\\\\`, `\\n` and `\\t`; a backslash itself is written `\\\\`"),
        );
    }

    /// `( … )`; a single sum stands for itself.
    fn bracket(&mut self, pair: Pair<'_, Rule>) -> ItemKind {
        let mut entries = self.entries(pair);
        let is_sum = matches!(entries.as_slice(), [Entry { name: None, value: Item { kind: ItemKind::Sum(..), .. } }]);
        match entries.pop() {
            Some(only) if is_sum => only.value.kind,
            Some(last) => {
                entries.push(last);
                ItemKind::Tuple(entries)
            }
            None => ItemKind::Tuple(entries),
        }
    }

    fn entries(&mut self, pair: Pair<'_, Rule>) -> Vec<Entry> {
        let mut entries: Vec<Entry> = Vec::new();
        for inner in pair.into_inner() {
            let start = inner.as_span().start();
            let Some(entry) = self.entry(inner) else { continue };
            if let Some(before) = entries.last()
                && self.is_cut_thousand(start, before)
            {
                let span = before.value.span.to(entry.value.span);
                self.failed = true;
                self.problems.push(super::advice::thousands(span, self.text.get(self.local(span)).unwrap_or("")));
            }
            entries.push(entry);
        }
        entries
    }

    fn local(&self, span: Span) -> std::ops::Range<usize> {
        (span.start as usize).saturating_sub(self.base)..(span.end as usize).saturating_sub(self.base)
    }

    /// `1,000mm` inside brackets: a bare number, a glued comma, exactly three digits.
    fn is_cut_thousand(&self, start: usize, before: &Entry) -> bool {
        let ItemKind::Quantity(literal) = &before.value.kind else { return false };
        let glued = before.value.span.end as usize + 1 == self.base + start;
        let behind = self.text.get(start..).unwrap_or("");
        let digits = behind.bytes().take_while(u8::is_ascii_digit).count();
        glued && literal.unit.is_empty() && literal.denominator == 1 && literal.numerator < 1000 && digits == 3
    }

    fn entry(&mut self, pair: Pair<'_, Rule>) -> Option<Entry> {
        let mut name = None;
        let mut operators = Vec::new();
        let mut operands = Vec::with_capacity(1);
        for inner in pair.into_inner() {
            match inner.as_rule() {
                Rule::label => name = Some(Word { text: inner.as_str().into(), span: self.span_of(&inner) }),
                Rule::operator => operators.push(operator(inner.as_str())),
                _ => self.push(&mut operands, inner),
            }
        }
        Some(Entry { name, value: fold(operands, operators)? })
    }

    /// `6 1/2in` and `1 000mm` are two numbers to the grammar and one to a builder: reported, and read as one.
    fn mend_split_number(&mut self, arguments: &mut Vec<Item>) -> bool {
        let [.., before, last] = arguments.as_slice() else { return false };
        let (ItemKind::Quantity(whole), ItemKind::Quantity(part)) = (&before.kind, &last.kind) else { return false };
        if !whole.unit.is_empty() || whole.denominator != 1 || part.numerator < 0 || part.unit.is_empty() {
            return false;
        }
        let span = before.span.to(last.span);
        let written = self.text.get(self.local(last.span)).unwrap_or("");
        let digits = written.bytes().take_while(u8::is_ascii_digit).count();
        let mut joined = part.clone();
        let is_fraction = written.as_bytes().get(digits) == Some(&b'/') && part.numerator < part.denominator;
        let is_thousand = digits == 3 && part.denominator == 1 && (1..1000).contains(&whole.numerator.abs());
        let sign = if whole.numerator < 0 { -1 } else { 1 };
        let whole_written = self.text.get(self.local(before.span)).unwrap_or("");
        let problem = if is_fraction {
            let Some(scaled) = whole.numerator.checked_mul(part.denominator) else { return false };
            joined.numerator = scaled + sign * part.numerator;
            super::advice::mixed_number(span, whole_written, written)
        } else if is_thousand {
            joined.numerator = whole.numerator * 1000 + sign * part.numerator;
            super::advice::thousands(span, &format!("{whole_written} {written}"))
        } else {
            return false;
        };
        self.problems.push(problem);
        arguments.truncate(arguments.len() - 2);
        arguments.push(Item { kind: ItemKind::Quantity(joined), span });
        true
    }
}

/// `at(4in, 3in)`: a small word is never the name of a call, so it is a word and a bracket.
fn split_glued_small_words(arguments: &mut Vec<Item>) {
    let is_split = |item: &Item| match &item.kind {
        ItemKind::Call(words, _) => matches!(words.as_slice(), [only] if SMALL_WORDS.contains(&&*only.text)),
        _ => false,
    };
    if !arguments.iter().any(is_split) {
        return;
    }
    for item in std::mem::take(arguments) {
        if !is_split(&item) {
            arguments.push(item);
            continue;
        }
        let Item { kind: ItemKind::Call(words, entries), span } = item else { continue };
        let name_end = words.last().map_or(span.start, |word| word.span.end);
        arguments.push(Item { kind: ItemKind::Path(words), span: Span { end: name_end, ..span } });
        arguments.push(Item { kind: ItemKind::Tuple(entries), span: Span { start: name_end, ..span } });
    }
}

fn operator(text: &str) -> Operator {
    match text {
        "+" => Operator::Add,
        "-" => Operator::Subtract,
        "*" => Operator::Multiply,
        _ => Operator::Divide,
    }
}

/// One item from `a + b * c`: products first, then left to right.
fn fold(operands: Vec<Item>, operators: Vec<Operator>) -> Option<Item> {
    let mut operands = operands.into_iter();
    let mut product = (operands.next()?, Vec::new());
    let mut first = None;
    let mut terms: Vec<(Operator, Item)> = Vec::new();
    let mut pending = Operator::Add;
    for (operator, operand) in operators.into_iter().zip(operands) {
        match operator {
            Operator::Multiply | Operator::Divide => product.1.push((operator, operand)),
            Operator::Add | Operator::Subtract => {
                let term = sum(std::mem::replace(&mut product, (operand, Vec::new())));
                match first {
                    None => first = Some(term),
                    Some(_) => terms.push((pending, term)),
                }
                pending = operator;
            }
        }
    }
    let last = sum(product);
    let Some(first) = first else { return Some(last) };
    terms.push((pending, last));
    Some(sum((first, terms)))
}

fn sum((first, rest): (Item, Vec<(Operator, Item)>)) -> Item {
    let Some((_, last)) = rest.last() else { return first };
    let span = first.span.to(last.span);
    Item { kind: ItemKind::Sum(Box::new(first), rest), span }
}

/// The grammar has seen to the form `dddd-dd-dd`.
fn date(text: &str) -> ItemKind {
    let mut parts = text.split('-');
    let year = parts.next().and_then(|year| year.parse().ok()).unwrap_or(0);
    let month = parts.next().and_then(|month| month.parse().ok()).unwrap_or(0);
    let day = parts.next().and_then(|day| day.parse().ok()).unwrap_or(0);
    ItemKind::Date(year, month, day)
}
