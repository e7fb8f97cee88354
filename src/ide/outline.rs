//! What a file holds, as a tree: faces with edges, areas, openings and services; assemblies with layers; details with parts.
//! And all of a project by name.

use super::names::{Names, Seen, name_of, takes_a_name, visit};
use crate::resolve::DeclarationId;
use crate::schema::{self, Row};
use crate::session::Glance;
use crate::source::{FileId, Span};
use crate::syntax::{Item, ItemKind, Statement};

/// What sort of thing a name is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A face.
    Face,
    /// An edge, a floor line or another line across a face.
    Line,
    /// An area of a face.
    Area,
    /// A window, a door, another opening, a vent.
    Opening,
    /// A pipe, a lamp and the like.
    Service,
    /// A block, a trim, a nailer and what else stands on a face.
    Piece,
    /// An assembly.
    Assembly,
    /// A layer, a gap or a frame.
    Layer,
    /// A detail.
    Detail,
    /// A part of a detail, or its head, jamb or sill.
    Part,
    /// A material or a product.
    Goods,
    /// A rule set.
    RuleSet,
    /// A limit or an option.
    Limit,
    /// A rule of the office.
    Rule,
    /// A section of work, a crew, a cut list.
    Work,
    /// A building.
    Building,
    /// A project, a site, a climate.
    Facts,
    /// An acceptance or evidence.
    Record,
    /// A file.
    File,
}

/// One entry of the outline.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// As people call it: `kitchen`, `rake.2`, `layer boards`.
    pub name: String,
    /// What it is, in the words of the text: `window`, `layer`.
    pub word: String,
    /// For a symbol beside it.
    pub kind: Kind,
    /// All of it.
    pub whole: Span,
    /// Its name, or its keyword.
    pub at: Span,
    /// What stands in it.
    pub inside: Vec<Entry>,
}

/// The outline of a file.
pub fn outline(glance: &Glance, file: FileId) -> Vec<Entry> {
    let names = Names::of(glance);
    let Some((module, found)) = names.module(file) else { return Vec::new() };
    let statements = found.tree.statements.iter().enumerate();
    let shown = statements.filter(|(_, one)| !matches!(&*one.keyword.text, "use" | "wythe"));
    shown.filter_map(|(at, statement)| declaration(&names, names.id_of(module, at), statement)).collect()
}

fn declaration(names: &Names<'_>, id: Option<DeclarationId>, statement: &Statement) -> Option<Entry> {
    let row = schema::find("file", &statement.keyword.text)?;
    let mut entry = of_statement(statement, row);
    match (row.word, id) {
        ("face", Some(id)) => entry.inside = on_face(names, id),
        ("accept" | "evidence", _) => {
            entry.name = words(statement, "on").unwrap_or_else(|| row.word.to_owned());
        }
        _ => entry.inside = clauses(statement, row),
    }
    Some(entry)
}

/// What stands on a face, in the order of the text; services stand in their block.
fn on_face(names: &Names<'_>, id: DeclarationId) -> Vec<Entry> {
    let members = names.on_face(id);
    let mut sorted: Vec<_> = members.iter().collect();
    sorted.sort_by_key(|(_, member)| member.statement.span);
    let mut entries: Vec<Entry> = Vec::new();
    for (name, member) in sorted {
        let entry = Entry { name: name.clone(), at: member.word, ..of_statement(member.statement, member.row) };
        match entries.last_mut().filter(|last| entry.whole.end <= last.whole.end) {
            Some(block) => block.inside.push(entry),
            None => entries.push(entry),
        }
    }
    entries
}

/// Clauses that have names or that say how a place is built: layers, parts, limits.
fn clauses(statement: &Statement, row: &'static Row) -> Vec<Entry> {
    let mut entries = Vec::new();
    for clause in &statement.clauses {
        let Some(found) = schema::find(row.body, &clause.keyword.text) else { continue };
        let shown = takes_a_name(found)
            || found.body == "place"
            || matches!(found.word, "part" | "limit" | "option" | "gap" | "after" | "furring");
        if !shown {
            continue;
        }
        let mut entry = of_statement(clause, found);
        if matches!(found.body, "place" | "gap") || found.word == "after" {
            let inner = if found.word == "after" { row } else { found };
            entry.inside = clauses(clause, inner);
        }
        entries.push(entry);
    }
    entries
}

fn of_statement(statement: &Statement, row: &'static Row) -> Entry {
    let first = statement.arguments.first();
    let dotted = first.and_then(|item| match &item.kind {
        ItemKind::Path(words) => Some((written(words), item.span)),
        ItemKind::Call(words, _) => words.first().map(|word| (word.text.to_string(), word.span)),
        _ => None,
    });
    let named = takes_a_name(row) && name_of(statement).is_some()
        || matches!(row.word, "part" | "limit" | "option" | "after" | "furring");
    let (name, at) = dotted.filter(|_| named).unwrap_or((row.word.to_owned(), statement.keyword.span));
    Entry { name, word: row.word.to_owned(), kind: kind(row), whole: statement.span, at, inside: Vec::new() }
}

fn written(words: &[crate::syntax::Word]) -> String {
    words.iter().map(|word| &*word.text).collect::<Vec<_>>().join(".")
}

/// The words from a small word on: `gap.shallow on lower`.
fn words(statement: &Statement, small: &str) -> Option<String> {
    let path = |item: &Item| match &item.kind {
        ItemKind::Path(words) => Some(written(words)),
        _ => None,
    };
    let at = statement.arguments.iter().position(|item| item.word().is_some_and(|word| &*word.text == small))?;
    let shown: Vec<String> = statement.arguments.get(..at + 2)?.iter().filter_map(path).collect();
    Some(shown.join(" "))
}

/// What sort of thing a row is.
pub fn kind(row: &Row) -> Kind {
    match (row.word, row.body) {
        ("face", _) => Kind::Face,
        (_, "edge") | ("floor_line" | "roof" | "deck" | "ledger", _) => Kind::Line,
        ("area", _) => Kind::Area,
        (_, "opening") | ("vent", _) => Kind::Opening,
        (_, "service") => Kind::Service,
        ("assembly", _) => Kind::Assembly,
        ("layer" | "existing" | "gap" | "frame" | "furring" | "after", _) => Kind::Layer,
        ("detail", _) => Kind::Detail,
        ("part", _) | (_, "place") => Kind::Part,
        ("material" | "product", _) => Kind::Goods,
        ("limits", _) => Kind::RuleSet,
        ("limit" | "option", _) => Kind::Limit,
        ("rule", _) => Kind::Rule,
        ("section" | "crew" | "cutlist" | "heat_cut", _) => Kind::Work,
        ("building", _) => Kind::Building,
        ("accept" | "evidence", _) => Kind::Record,
        ("project" | "site" | "climate", _) => Kind::Facts,
        _ => Kind::Piece,
    }
}

/// One answer to a search by name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Match {
    /// Its name.
    pub name: String,
    /// What it is: `window`.
    pub word: String,
    /// For a symbol beside it.
    pub kind: Kind,
    /// The name of the declaration it stands in; empty for a declaration.
    pub of: String,
    /// Its name or keyword.
    pub at: Span,
}

/// No list of answers is longer.
const MOST: usize = 200;

/// Everything with a name whose letters stand in it in this order, best first; the library behind the project.
pub fn find_named(glance: &Glance, query: &str) -> Vec<Match> {
    let names = Names::of(glance);
    let mut found: Vec<((bool, u32), Match)> = Vec::new();
    for (at, declared) in glance.project.declarations.iter().enumerate() {
        let id = DeclarationId(at as u32);
        let Some(module) = glance.project.module(declared.module) else { continue };
        let Some(row) = schema::find("file", declared.kind) else { continue };
        if !declared.name.is_empty()
            && let Some(far) = distance(query, &declared.name)
        {
            let one = Match {
                name: declared.name.to_string(),
                word: declared.kind.to_owned(),
                kind: kind(row),
                of: String::new(),
                at: declared.name_span,
            };
            found.push(((module.is_std, far), one));
        }
        if module.is_std {
            continue;
        }
        let mut inner = |name: &str, at: Span, row: &'static Row| {
            let Some(far) = distance(query, name) else { return };
            let of = declared.name.to_string();
            found.push(((false, far + 1), Match { name: name.into(), word: row.word.into(), kind: kind(row), of, at }));
        };
        match declared.kind {
            "face" => names.on_face(id).iter().for_each(|(name, one)| inner(name, one.word, one.row)),
            "assembly" => layers(glance, id, &mut inner),
            _ => {}
        }
    }
    found.sort_by(|(a, one), (b, other)| (a, &one.name, &one.of, one.at).cmp(&(b, &other.name, &other.of, other.at)));
    found.truncate(MOST);
    found.into_iter().map(|(_, one)| one).collect()
}

fn layers(glance: &Glance, id: DeclarationId, tell: &mut dyn FnMut(&str, Span, &'static Row)) {
    let Some(statement) = glance.project.statement(id) else { return };
    visit(statement, &mut |seen: &Seen<'_, '_>| {
        let (Some(row), Some(name)) = (seen.row, name_of(seen.statement)) else { return };
        if !seen.round.is_empty() && takes_a_name(row) {
            tell(&name.text, name.span, row);
        }
    });
}

/// How far a name is from what was typed: 0 for the same, more for letters between and for a late start.
fn distance(query: &str, name: &str) -> Option<u32> {
    let mut letters = name.char_indices();
    let (mut far, mut last) = (0, None);
    for wanted in query.chars().filter(|letter| !letter.is_whitespace()) {
        let alike = |letter: char| letter.to_lowercase().eq(wanted.to_lowercase());
        let (at, _) = letters.by_ref().find(|(_, letter)| alike(*letter))?;
        let begins_word = at == 0 || name.get(..at).is_some_and(|before| before.ends_with(['_', '.']));
        far += match last {
            Some(last) if at == last + 1 => 0,
            _ if begins_word => 1,
            _ => 4,
        };
        last = Some(at);
    }
    let rest = name.chars().count().saturating_sub(query.chars().count());
    Some(far * 8 + u32::try_from(rest).unwrap_or(u32::MAX / 16).min(64))
}
