//! The tree of a file: statements of a keyword, arguments and clauses. Every node knows its span.

use crate::source::Span;

/// A whole file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tree {
    /// Declarations in the order they stand.
    pub statements: Vec<Statement>,
    /// Comments (`//…`, not `///`), for the formatter and for accept-in-place readers.
    pub comments: Vec<Span>,
}

/// A word with its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Word {
    /// As written.
    pub text: Box<str>,
    /// Where.
    pub span: Span,
}

/// `keyword arguments, clause, clause { clause … }`. Clauses before and in the block are one list.
#[derive(Clone, Debug, PartialEq)]
pub struct Statement {
    /// The `///` lines above it, without the slashes.
    pub doc: Option<Box<str>>,
    /// The first word.
    pub keyword: Word,
    /// Everything before the first comma or brace.
    pub arguments: Vec<Item>,
    /// Clauses, in the order they stand.
    pub clauses: Vec<Statement>,
    /// From `{` to `}`; absent where there is no block.
    pub block: Option<Span>,
    /// From the keyword to the end of the last argument, clause or brace (no line end).
    pub span: Span,
    /// Part of this statement could not be read; whoever uses it must not report what is missing.
    pub broken: bool,
}

/// One argument. A comma never stands between arguments.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What it is.
    pub kind: ItemKind,
    /// Where.
    pub span: Span,
}

/// The kinds of argument. Small words (`at`, `to`, …) are plain one-word paths; the schema knows them.
#[derive(Clone, Debug, PartialEq)]
pub enum ItemKind {
    /// `boards.larch`, or one word.
    Path(Vec<Word>),
    /// `garden_wall(depth = 10mm)`: the `(` is glued to the name.
    Call(Vec<Word>, Vec<Entry>),
    /// `"matches the old wall"`, escapes resolved.
    Text(Box<str>),
    /// `2027-05-01` as year, month, day; not yet checked against a calendar.
    Date(i32, u8, u8),
    /// A number with its unit as written; `8ft 6-1/2in` is `Feet`.
    Quantity(Literal),
    /// `8ft 6-1/2in`: feet, then inches. A minus before the feet is in both, so the length is always their sum.
    FeetInches(Literal, Literal),
    /// `4:12` as rise and run.
    Pitch(Literal, Literal),
    /// `130mm..140mm`.
    Range(Box<Item>, Box<Item>),
    /// `19mm x 64mm`, two or more values.
    Size(Vec<Item>),
    /// `(18ft, 30in)`; entries may be named only inside a call, which is judged later.
    Tuple(Vec<Entry>),
    /// `(depth + 81mm)`: a single entry with operators, left to right, no precedence surprises: `*` and `/` bind first.
    Sum(Box<Item>, Vec<(Operator, Item)>),
}

/// One entry between brackets.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// `depth =`, if named.
    pub name: Option<Word>,
    /// The value.
    pub value: Item,
}

/// `+ - * /`, only inside brackets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Operator {
    /// `+`
    Add,
    /// `-`
    Subtract,
    /// `*`
    Multiply,
    /// `/`
    Divide,
}

/// An exact number as written, as a fraction, with the unit text behind it (empty if bare).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Literal {
    /// Numerator, with sign.
    pub numerator: i128,
    /// Denominator, 1 or more.
    pub denominator: i128,
    /// `mm`, `W/(m.K)`, `%`, or empty.
    pub unit: Box<str>,
    /// Where the unit stands; empty span behind the number if bare.
    pub unit_span: Span,
}

impl Statement {
    /// The clauses with this keyword.
    pub fn all<'t>(&'t self, keyword: &'t str) -> impl Iterator<Item = &'t Statement> + 't {
        self.clauses.iter().filter(move |clause| &*clause.keyword.text == keyword)
    }

    /// Span of keyword and arguments, for a squiggle that does not cover the block.
    pub fn head_span(&self) -> Span {
        self.arguments.last().map_or(self.keyword.span, |last| self.keyword.span.to(last.span))
    }
}

impl Item {
    /// The word, if this is a path of one name.
    pub fn word(&self) -> Option<&Word> {
        match &self.kind {
            ItemKind::Path(names) if names.len() == 1 => names.first(),
            _ => None,
        }
    }
}
