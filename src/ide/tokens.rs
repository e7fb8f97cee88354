//! Words by their meaning, for colours.

use super::names::{Names, Occurrence, Role, Seen, Symbol, parameters, roles, visit};
use super::outline::{Kind, kind};
use crate::schema;
use crate::session::Glance;
use crate::source::{FileId, Span};
use crate::syntax::{Entry, Item, ItemKind, Literal, Statement};

/// What a word is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TokenKind {
    /// A word that starts a declaration.
    Keyword,
    /// A clause.
    Clause,
    /// A small word, or a word of a form: `at`, `on centre`.
    Small,
    /// One of the schema's words: `horizontal`.
    Choice,
    /// A name, by what it is of.
    Name(Kind),
    /// A parameter.
    Parameter,
    /// A number, a date, a slope.
    Number,
    /// A unit.
    Unit,
    /// A quoted text.
    Text,
    /// A `//` comment.
    Comment,
    /// A `///` line.
    Doc,
}

/// One coloured word; never more than one line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Token {
    /// Where.
    pub span: Span,
    /// What it is.
    pub kind: TokenKind,
    /// The name is given here, not used.
    pub declares: bool,
    /// It belongs to the library.
    pub library: bool,
}

/// All coloured words of a file, in order; none overlap.
pub fn tokens(glance: &Glance, file: FileId) -> Vec<Token> {
    let names = Names::of(glance);
    let Some((_, module)) = names.module(file) else { return Vec::new() };
    let mut painter = Painter { glance, file, out: Vec::new() };
    for one in names.in_file(file) {
        painter.name(&one);
    }
    for statement in &module.tree.statements {
        painter.declaration(statement);
    }
    module.tree.comments.iter().for_each(|span| painter.plain(*span, TokenKind::Comment));
    painter.docs();
    let mut tokens = painter.out;
    // Where two say something of one place, the name comes first: it was put in first, and the sort keeps the order.
    tokens.sort_by_key(|token| token.span.start);
    let mut end = 0;
    tokens.retain(|token| {
        let kept = token.span.start >= end && token.span.end > token.span.start;
        end = if kept { token.span.end } else { end };
        kept
    });
    tokens
}

struct Painter<'g> {
    glance: &'g Glance,
    file: FileId,
    out: Vec<Token>,
}

impl Painter<'_> {
    fn plain(&mut self, span: Span, kind: TokenKind) {
        self.out.push(Token { span, kind, declares: false, library: false });
    }

    fn name(&mut self, one: &Occurrence) {
        let project = &self.glance.project;
        let of_row = |word: &str| schema::find("file", word).map_or(Kind::Facts, kind);
        let (kind, home) = match &one.symbol {
            Symbol::Declaration(id) => {
                let declaration = project.declaration(*id);
                let file = declaration.and_then(|one| project.module(one.module)).map(|module| module.file);
                (TokenKind::Name(declaration.map_or(Kind::Facts, |one| of_row(one.kind))), file)
            }
            Symbol::Module(id) => (TokenKind::Name(Kind::File), project.module(*id).map(|module| module.file)),
            Symbol::Parameter(id, _) => {
                let declaration = project.declaration(*id);
                let file = declaration.and_then(|one| project.module(one.module)).map(|module| module.file);
                (TokenKind::Parameter, file)
            }
            Symbol::Member(span) | Symbol::Clause(span) => {
                let statement = super::names::statement_at(project, *span);
                let word = statement.map_or("", |statement| &statement.keyword.text);
                let row = schema::rows().find(|row| row.word == schema::canonical(word));
                (TokenKind::Name(row.map_or(Kind::Piece, kind)), Some(span.file))
            }
            Symbol::Limit(_) => (TokenKind::Name(Kind::Limit), None),
            Symbol::Rule(_) => (TokenKind::Name(Kind::Rule), None),
        };
        let library = home.is_none_or(|file| project.files.is_std(file));
        self.out.push(Token { span: one.span, kind, declares: one.declares, library });
    }

    fn declaration(&mut self, declaration: &Statement) {
        let is_parameter = |word: &str| parameters(declaration).any(|(one, _)| &*one.text == word);
        visit(declaration, &mut |seen: &Seen<'_, '_>| {
            let statement = seen.statement;
            let top = seen.round.is_empty() && std::ptr::eq(statement, declaration);
            self.plain(statement.keyword.span, if top { TokenKind::Keyword } else { TokenKind::Clause });
            let roles = match seen.row {
                Some(row) => roles(row, &statement.arguments, &is_parameter),
                None => vec![Role::Lost; statement.arguments.len()],
            };
            for (item, role) in statement.arguments.iter().zip(roles) {
                self.item(item, role);
            }
        });
    }

    fn item(&mut self, item: &Item, role: Role) {
        match &item.kind {
            ItemKind::Path(words) => {
                let word = words.first().filter(|_| words.len() == 1);
                match (role, word) {
                    (Role::Word, _) => self.plain(item.span, TokenKind::Small),
                    (Role::Slot(_, schema::SlotKind::New), Some(word)) => {
                        self.out.push(Token {
                            span: word.span,
                            kind: TokenKind::Name(Kind::Piece),
                            declares: true,
                            library: false,
                        });
                    }
                    (Role::Slot(_, schema::SlotKind::Path | schema::SlotKind::Reference(_)), _) | (Role::Lost, _) => {}
                    (Role::Slot(..), Some(word)) => self.plain(word.span, TokenKind::Choice),
                    (Role::Slot(..), None) => {}
                }
            }
            ItemKind::Call(_, entries) | ItemKind::Tuple(entries) => self.entries(entries),
            ItemKind::Text(_) => self.plain(item.span, TokenKind::Text),
            ItemKind::Date(..) | ItemKind::Pitch(..) => self.plain(item.span, TokenKind::Number),
            ItemKind::Quantity(literal) => self.quantity(item.span.start, literal),
            ItemKind::FeetInches(feet, inches) => {
                self.quantity(item.span.start, feet);
                let gap = self.glance.project.files.text(self.file);
                let behind = gap.get(feet.unit_span.end as usize..).unwrap_or_default();
                let start = feet.unit_span.end as usize + behind.len() - behind.trim_start().len();
                self.quantity(start as u32, inches);
            }
            ItemKind::Range(low, high) => {
                self.item(low, Role::Lost);
                self.item(high, Role::Lost);
            }
            ItemKind::Size(items) => items.iter().for_each(|item| self.item(item, Role::Lost)),
            ItemKind::Sum(first, rest) => {
                self.item(first, Role::Lost);
                rest.iter().for_each(|(_, item)| self.item(item, Role::Lost));
            }
        }
    }

    fn entries(&mut self, entries: &[Entry]) {
        entries.iter().for_each(|entry| self.item(&entry.value, Role::Lost));
    }

    /// Figures, then the unit.
    fn quantity(&mut self, start: u32, literal: &Literal) {
        let unit = literal.unit_span;
        let figures = self.glance.project.files.text(self.file).get(start as usize..unit.start as usize);
        let end = start + figures.unwrap_or_default().trim_end().len() as u32;
        self.plain(Span { start, end, file: self.file }, TokenKind::Number);
        if unit.end > unit.start {
            self.plain(unit, TokenKind::Unit);
        }
    }

    fn docs(&mut self) {
        let mut at = 0;
        for line in self.glance.project.files.text(self.file).split_inclusive('\n') {
            let words = line.trim();
            if words.starts_with("///") && !words.starts_with("////") {
                let start = at + line.len() - line.trim_start().len();
                self.plain(Span::new(self.file, start, start + words.len()), TokenKind::Doc);
            }
            at += line.len();
        }
    }
}
