//! Dotted places: `north.kitchen.head`, `services.garden`, `all.cavity`; each word to its own place.

use super::Symbol;
use super::members::{Member, clause_of, named_in};
use super::reader::Reader;
use crate::resolve::{DeclarationId, Lookup, ModuleId, resolve_path};
use crate::syntax::{Item, ItemKind, Statement, Word};

/// Declarations that a place outside of every face may begin with.
const WHOLE: [&str; 6] = ["face", "building", "section", "assembly", "detail", "product"];

impl<'g> Reader<'_, 'g> {
    /// A place of an acceptance or of evidence: inside a face or an assembly the name of that may be left out.
    pub(super) fn place(&mut self, round: &[&'g Statement], words: &[Word]) {
        let Some((first, rest)) = words.split_first() else { return };
        let own = self.id.filter(|_| !round.is_empty());
        let project = self.names.project();
        if let Some(own) = own {
            let named = project.declaration(own).is_some_and(|one| one.name == first.text);
            if !named {
                return self.inside(own, words);
            }
            self.uses(first.span, Symbol::Declaration(own));
            return self.inside(own, rest);
        }
        let Some(found) = WHOLE.iter().find_map(|kind| self.names.known(kind, &first.text)) else { return };
        self.uses(first.span, Symbol::Declaration(found));
        self.inside(found, rest);
    }

    /// Something on the face that is being read.
    pub(super) fn on_own_face(&mut self, words: &[Word]) {
        if let Some(id) = self.id {
            self.inside(id, words);
        }
    }

    fn inside(&mut self, id: DeclarationId, words: &[Word]) {
        let kind = self.names.project().declaration(id).map_or("", |declaration| declaration.kind);
        match kind {
            "face" => self.on_face(id, words),
            "assembly" => self.in_assembly(id, words),
            "detail" => self.in_detail(id, words),
            _ => {}
        }
    }

    fn on_face(&mut self, face: DeclarationId, words: &[Word]) {
        let members = self.names.on_face(face);
        let numbered = words.get(..2).map(super::reader::dotted);
        let found = numbered.and_then(|name| Some((members.get(&name)?, 2)));
        let found = found.or_else(|| Some((members.get(&*words.first()?.text)?, 1)));
        let Some((member, taken)) = found else { return };
        let span = words.first().map_or(member.word, |word| word.span);
        let last = words.get(taken - 1).map_or(span, |word| word.span);
        let symbol = if member.own_name { Symbol::Member(member.word) } else { Symbol::Clause(member.word) };
        self.uses(span.to(last), symbol);
        // `.2` counts along a row.
        let rest = words.get(taken..).unwrap_or_default();
        let rest = match rest.split_first() {
            Some((count, rest)) if count.text.bytes().all(|byte| byte.is_ascii_digit()) => rest,
            _ => rest,
        };
        self.part_of(face, member, rest);
    }

    /// What a member of a face has parts of: an opening its head, a block what stands on it, an area its layers.
    fn part_of(&mut self, face: DeclarationId, member: &Member<'g>, words: &[Word]) {
        let Some(first) = words.first() else { return };
        match member.row.body {
            "block" => self.on_face(face, words),
            "area" => {
                let assembly = member.statement.arguments.get(1);
                if let Some(assembly) = assembly.and_then(|item| self.named_by(item)) {
                    self.in_assembly(assembly, words);
                }
            }
            _ => {
                let detail = member.statement.all("detail").next().and_then(|clause| clause.arguments.first());
                if let Some(detail) = detail.and_then(|item| self.named_by(item)) {
                    self.in_detail(detail, std::slice::from_ref(first));
                }
            }
        }
    }

    fn in_assembly(&mut self, assembly: DeclarationId, words: &[Word]) {
        let Some(first) = words.first() else { return };
        let layers = named_in(self.names.project(), assembly);
        if let Some(layer) = layers.iter().find(|one| one.name == first.text) {
            self.uses(first.span, Symbol::Member(layer.root));
        }
    }

    /// `head`, `jamb`, `left_jamb`, `sill`: a block of the detail.
    fn in_detail(&mut self, detail: DeclarationId, words: &[Word]) {
        let Some(first) = words.first() else { return };
        let side = first.text.rsplit_once('_').map_or(&*first.text, |(_, side)| side);
        let fits = |clause: &Statement| &*clause.keyword.text == side && clause.block.is_some();
        if let Some(found) = clause_of(self.names.project(), detail, &fits) {
            self.uses(first.span, Symbol::Clause(found.keyword.span));
        }
    }

    /// The declaration that an argument names, without noting the use of it.
    fn named_by(&self, item: &Item) -> Option<DeclarationId> {
        let (ItemKind::Path(words) | ItemKind::Call(words, _)) = &item.kind else { return None };
        match resolve_path(self.names.project(), self.module_of(item), words) {
            Lookup::Found(id) => Some(id),
            Lookup::Module(_) | Lookup::Unknown(..) => None,
        }
    }

    fn module_of(&self, item: &Item) -> ModuleId {
        self.names.module(item.span.file).map_or(self.module, |(id, _)| id)
    }
}
