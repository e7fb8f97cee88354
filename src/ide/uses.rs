//! Where a declaration is used: on which stretches, openings and holes a detail stands; what calls what.

use std::collections::BTreeMap;

use super::find::{Place, place_of_declaration};
use super::names::{Names, Symbol, base, name_of, takes_a_name};
use super::outline::{Kind, kind};
use crate::resolve::DeclarationId;
use crate::schema;
use crate::session::Glance;
use crate::source::{FileId, Span};
use crate::syntax::Statement;

/// Something that uses, or is used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Node {
    /// The declaration.
    pub id: DeclarationId,
    /// Its name.
    pub name: String,
    /// Its keyword.
    pub word: &'static str,
    /// For a symbol beside it.
    pub kind: Kind,
    /// Where it stands.
    pub place: Place,
}

/// One side of a use, with the words that make it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tie {
    /// Who uses, or what is used.
    pub node: Node,
    /// The names of the used one, in the text of the user.
    pub at: Vec<Span>,
}

/// One place where something is used.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Use {
    /// The place in words: `north.kitchen`, `south.base`, `house_wall.boards`.
    pub place: String,
    /// The name, there.
    pub at: Span,
}

/// The declaration whose name is under the cursor, or round it.
pub fn node_at(glance: &Glance, file: FileId, offset: u32) -> Option<Node> {
    let names = Names::of(glance);
    let named = match names.at(file, offset).map(|one| one.symbol) {
        Some(Symbol::Declaration(id) | Symbol::Parameter(id, _)) => Some(id),
        _ => None,
    };
    node(glance, named.or_else(|| names.declaration_at(Span { file, start: offset, end: offset }))?)
}

/// A declaration as one end of a use.
pub fn node(glance: &Glance, id: DeclarationId) -> Option<Node> {
    let declaration = glance.project.declaration(id).filter(|declaration| !declaration.name.is_empty())?;
    let kind = kind(schema::find("file", declaration.kind)?);
    let place = place_of_declaration(glance, id)?;
    Some(Node { id, name: declaration.name.to_string(), word: declaration.kind, kind, place })
}

/// Which declarations use this one.
pub fn used_by(glance: &Glance, id: DeclarationId) -> Vec<Tie> {
    let names = Names::of(glance);
    let mut by: BTreeMap<DeclarationId, Vec<Span>> = BTreeMap::new();
    for one in names.places_of(&Symbol::Declaration(id)).iter().filter(|one| !one.declares) {
        if let Some(user) = names.declaration_at(one.span) {
            by.entry(user).or_default().push(one.span);
        }
    }
    ties(glance, by)
}

/// Which declarations this one uses.
pub fn uses_of(glance: &Glance, id: DeclarationId) -> Vec<Tie> {
    let Some(whole) = glance.project.statement(id).map(|statement| statement.span) else { return Vec::new() };
    let names = Names::of(glance);
    let mut used: BTreeMap<DeclarationId, Vec<Span>> = BTreeMap::new();
    for one in names.in_file(whole.file) {
        if let Symbol::Declaration(other) = one.symbol
            && !one.declares
            && whole.start <= one.span.start
            && one.span.end <= whole.end
        {
            used.entry(other).or_default().push(one.span);
        }
    }
    ties(glance, used)
}

fn ties(glance: &Glance, by: BTreeMap<DeclarationId, Vec<Span>>) -> Vec<Tie> {
    let mut ties: Vec<Tie> = by.into_iter().filter_map(|(id, at)| Some(Tie { node: node(glance, id)?, at })).collect();
    ties.sort_by_key(|tie| tie.node.place);
    ties
}

/// Every place where a declaration, or one that is `like` it, is used: what changes when it does.
pub fn uses(glance: &Glance, id: DeclarationId) -> Vec<Use> {
    all_uses(glance).remove(&id).unwrap_or_default()
}

/// The same for every declaration that is used.
pub fn all_uses(glance: &Glance) -> BTreeMap<DeclarationId, Vec<Use>> {
    let project = &glance.project;
    let names = Names::of(glance);
    let mut all: BTreeMap<DeclarationId, Vec<Use>> = BTreeMap::new();
    for module in project.modules.iter().filter(|module| !module.is_std) {
        for one in names.in_file(module.file) {
            let Symbol::Declaration(used) = one.symbol else { continue };
            if one.declares {
                continue;
            }
            let Some(place) = place_in_words(&module.tree.statements, one.span) else { continue };
            // A use is also one of all that the used one is like.
            let mut next = Some(used);
            let mut seen = Vec::new();
            while let Some(id) = next.filter(|id| !seen.contains(id)) {
                seen.push(id);
                all.entry(id).or_default().push(Use { place: place.clone(), at: one.span });
                next = base(project, id);
            }
        }
    }
    all.values_mut().for_each(|uses| {
        uses.sort();
        uses.dedup();
    });
    all
}

/// `north.kitchen`: the declaration and what has a name in it. `None` for a `use` line and for `like`.
fn place_in_words(statements: &[Statement], at: Span) -> Option<String> {
    let declaration = statements.iter().find(|one| one.span.start <= at.start && at.end <= one.span.end)?;
    let mut row = schema::find("file", &declaration.keyword.text)?;
    if matches!(row.word, "use" | "accept") {
        return None;
    }
    let mut words = vec![name_of(declaration).map_or(row.word, |name| &*name.text).to_owned()];
    let mut inside = declaration;
    while let Some(clause) = inside.clauses.iter().find(|one| one.span.start <= at.start && at.end <= one.span.end) {
        if &*clause.keyword.text == "like" {
            return None;
        }
        let Some(found) = schema::find(row.body, &clause.keyword.text) else { break };
        if takes_a_name(found) {
            words.push(name_of(clause).map_or(found.word, |name| &*name.text).to_owned());
        } else if matches!(found.word, "between" | "meets" | "kick_out") || found.body == "place" {
            words.push(found.word.to_owned());
        }
        (row, inside) = (found, clause);
    }
    Some(words.join("."))
}
