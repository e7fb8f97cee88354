//! What is named inside a declaration: what stands on a face, the layers of an assembly, the places of a detail.

use std::collections::BTreeMap;

use super::visit::{Seen, visit};
use crate::resolve::{DeclarationId, Lookup, Project, resolve_path};
use crate::schema::{Element, Row, SlotKind, canonical};
use crate::source::Span;
use crate::syntax::{ItemKind, Statement, Word};

/// Declarations `like` one another deeper than this are a mistake.
const DEEPEST_LIKE: usize = 32;

/// Something named on a face.
#[derive(Clone, Copy, Debug)]
pub struct Member<'g> {
    /// Where its name stands; its keyword if it has no name of its own.
    pub word: Span,
    /// It has a name of its own.
    pub own_name: bool,
    /// Its statement.
    pub statement: &'g Statement,
    /// Its row.
    pub row: &'static Row,
}

/// All that has a name on a face, by name: edges `base` or `rake.1`, areas, openings, services, blocks, trims, lines.
pub fn of_face<'g>(project: &'g Project, face: DeclarationId) -> BTreeMap<String, Member<'g>> {
    let mut members: BTreeMap<String, Member<'g>> = BTreeMap::new();
    let mut nameless: Vec<Member<'g>> = Vec::new();
    let Some(statement) = project.statement(face) else { return members };
    visit(statement, &mut |seen: &Seen<'_, 'g>| {
        let (Some(row), [_, round @ ..]) = (seen.row, seen.round) else { return };
        let on_face = round.iter().all(|one| matches!(&*one.keyword.text, "outline" | "repeat" | "block"));
        let edge = row.body == "edge";
        if !on_face || !(edge || takes_a_name(row)) {
            return;
        }
        let name = name_of(seen.statement);
        let word = name.map_or(seen.statement.keyword.span, |word| word.span);
        let member = Member { word, own_name: name.is_some(), statement: seen.statement, row };
        match name {
            Some(name) => {
                members.entry(name.text.to_string()).or_insert(member);
            }
            None if edge => nameless.push(member),
            None => {}
        }
    });
    for member in &nameless {
        let alike: Vec<&Member<'g>> = nameless.iter().filter(|one| std::ptr::eq(one.row, member.row)).collect();
        let number = alike.iter().position(|one| one.word == member.word).map_or(1, |at| at + 1);
        let name = if alike.len() < 2 { member.row.word.to_owned() } else { format!("{}.{number}", member.row.word) };
        members.entry(name).or_insert(*member);
    }
    members
}

/// A layer of an assembly, its own or taken by `like`.
#[derive(Clone, Debug)]
pub struct Named {
    /// Keyword, in the schema's spelling.
    pub keyword: String,
    /// Its name.
    pub name: Box<str>,
    /// Where the name is first given: in the assembly farthest along `like`.
    pub root: Span,
    /// Where it stands last.
    pub word: Span,
}

/// Everything named directly in the body of a declaration that can be `like` another: layers of an assembly.
pub fn named_in(project: &Project, id: DeclarationId) -> Vec<Named> {
    named_at(project, id, 0)
}

fn named_at(project: &Project, id: DeclarationId, depth: usize) -> Vec<Named> {
    let Some(statement) = project.statement(id).filter(|_| depth < DEEPEST_LIKE) else { return Vec::new() };
    let base = base(project, id).filter(|base| *base != id);
    let mut named = base.map_or_else(Vec::new, |base| named_at(project, base, depth + 1));
    let after = statement.all("after").flat_map(|one| &one.clauses);
    for clause in statement.clauses.iter().chain(after) {
        let keyword = canonical(&clause.keyword.text);
        let takes = crate::schema::find(&statement.keyword.text, keyword).is_some_and(takes_a_name);
        let Some(word) = name_of(clause).filter(|_| takes) else { continue };
        match named.iter_mut().find(|one| one.keyword == keyword && one.name == word.text) {
            Some(old) => old.word = word.span,
            None => named.push(Named {
                keyword: keyword.to_owned(),
                name: word.text.clone(),
                root: word.span,
                word: word.span,
            }),
        }
    }
    named
}

/// The declaration that another is `like`.
pub fn base(project: &Project, id: DeclarationId) -> Option<DeclarationId> {
    let like = project.statement(id)?.all("like").next()?;
    let (ItemKind::Path(path) | ItemKind::Call(path, _)) = &like.arguments.first()?.kind else { return None };
    match resolve_path(project, project.declaration(id)?.module, path) {
        Lookup::Found(base) => Some(base),
        Lookup::Module(_) | Lookup::Unknown(..) => None,
    }
}

/// The first clause that fits, in a declaration or in what it is `like`.
pub fn clause_of<'g>(
    project: &'g Project,
    id: DeclarationId,
    fits: &dyn Fn(&Statement) -> bool,
) -> Option<&'g Statement> {
    let mut next = Some(id);
    for _ in 0..DEEPEST_LIKE {
        let id = next?;
        if let Some(found) = project.statement(id)?.clauses.iter().find(|clause| fits(clause)) {
            return Some(found);
        }
        next = base(project, id).filter(|base| *base != id);
    }
    None
}

/// Whether what follows a keyword begins with a new name, be it one that may be left out.
pub fn takes_a_name(row: &Row) -> bool {
    let first = row.parsed().elements.first();
    match first {
        Some(Element::Slot(_, SlotKind::New)) => true,
        Some(Element::Optional(inner)) => matches!(inner.first(), Some(Element::Slot(_, SlotKind::New))),
        _ => false,
    }
}

/// The name a statement gives, if its first argument is one word and no small one.
pub fn name_of(statement: &Statement) -> Option<&Word> {
    let words = match &statement.arguments.first()?.kind {
        ItemKind::Path(words) | ItemKind::Call(words, _) => words,
        _ => return None,
    };
    words.first().filter(|word| words.len() == 1 && !super::slots::is_small(&word.text))
}
