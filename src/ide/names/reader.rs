//! Reads the names of one declaration, statement by statement, argument by argument.

use super::members::named_in;
use super::visit::{Seen, visit};
use super::{Names, Occurrence, Role, Symbol, members, parameters, roles};
use crate::resolve::{Binding, DeclarationId, Lookup, ModuleId, resolve_path};
use crate::schema::{SlotKind, canonical, respell};
use crate::source::Span;
use crate::syntax::{Entry, Item, ItemKind, Statement, Word};

/// One declaration while it is read.
pub(super) struct Reader<'n, 'g> {
    pub names: &'n Names<'g>,
    pub module: ModuleId,
    /// The declaration; a `use` line is none.
    pub id: Option<DeclarationId>,
    pub declaration: &'g Statement,
    /// Layers of an assembly with where each is first named, read once.
    layers: Vec<members::Named>,
    pub out: &'n mut Vec<Occurrence>,
}

impl<'g> Names<'g> {
    /// Reads a declaration of a module.
    pub(super) fn read(&self, module: ModuleId, at: usize, declaration: &'g Statement, out: &mut Vec<Occurrence>) {
        let id = self.id_of(module, at);
        let layered = matches!(&*declaration.keyword.text, "assembly");
        let layers = id.filter(|_| layered).map_or_else(Vec::new, |id| named_in(self.project(), id));
        let mut reader = Reader { names: self, module, id, declaration, layers, out };
        if &*declaration.keyword.text == "use" {
            return reader.import(declaration);
        }
        visit(declaration, &mut |seen| reader.statement(seen));
    }
}

impl<'g> Reader<'_, 'g> {
    pub(super) fn uses(&mut self, span: Span, symbol: Symbol) {
        self.out.push(Occurrence { span, symbol, declares: false });
    }

    fn declares(&mut self, span: Span, symbol: Symbol) {
        self.out.push(Occurrence { span, symbol, declares: true });
    }

    fn is_parameter(&self, word: &str) -> bool {
        parameters(self.declaration).any(|(parameter, _)| &*parameter.text == word)
    }

    /// `use std.details (a, b)`: the file, then declarations of it.
    fn import(&mut self, statement: &Statement) {
        let Some(Item { kind: ItemKind::Path(words), span }) = statement.arguments.first() else { return };
        let project = self.names.project();
        let Some(found) = project.module_used(self.module, words) else { return };
        self.uses(*span, Symbol::Module(found));
        let Some(ItemKind::Tuple(entries)) = statement.arguments.get(1).map(|item| &item.kind) else { return };
        for word in entries.iter().filter_map(|entry| entry.value.word()) {
            if let Some(&id) = project.module(found).and_then(|module| module.own.get(&word.text)) {
                self.uses(word.span, Symbol::Declaration(id));
            }
        }
    }

    fn statement(&mut self, seen: &Seen<'_, 'g>) {
        let statement = seen.statement;
        let declaration = self.declaration;
        let is_parameter = |word: &str| parameters(declaration).any(|(one, _)| &*one.text == word);
        if matches!(&*statement.keyword.text, "without" | "after") && !seen.round.is_empty() {
            return self.taken(seen);
        }
        let roles = match seen.row {
            Some(row) => roles(row, &statement.arguments, &is_parameter),
            None => vec![Role::Lost; statement.arguments.len()],
        };
        for (item, role) in statement.arguments.iter().zip(roles) {
            self.argument(seen, item, role);
        }
    }

    fn argument(&mut self, seen: &Seen<'_, 'g>, item: &'g Item, role: Role) {
        match role {
            Role::Word => {}
            Role::Lost => self.value(item, true),
            Role::Slot(_, SlotKind::New) => self.new_name(seen, item),
            Role::Slot(_, SlotKind::Choice(_) | SlotKind::Choices(_)) => {}
            Role::Slot(label, SlotKind::Path | SlotKind::Paths | SlotKind::Names) => self.path(seen, label, item),
            Role::Slot(_, kind) => {
                let refers = matches!(kind, SlotKind::Reference(_) | SlotKind::References(_));
                self.value(item, refers);
            }
        }
    }

    /// A new name, with parameters behind that of a declaration.
    fn new_name(&mut self, seen: &Seen<'_, 'g>, item: &'g Item) {
        let (words, entries): (&[Word], &'g [Entry]) = match &item.kind {
            ItemKind::Path(words) => (words, &[]),
            ItemKind::Call(words, entries) => (words, entries),
            _ => return,
        };
        let Some(word) = words.first() else { return };
        if !seen.round.is_empty() {
            let keyword = canonical(&seen.statement.keyword.text);
            let like = |one: &&members::Named| one.keyword == keyword && one.name == word.text;
            let root = self.layers.iter().find(like).map_or(word.span, |layer| layer.root);
            let declares = root == word.span;
            return self.out.push(Occurrence { span: word.span, symbol: Symbol::Member(root), declares });
        }
        let Some(id) = self.id else { return };
        self.declares(word.span, Symbol::Declaration(id));
        for entry in entries {
            match &entry.name {
                Some(name) => {
                    self.declares(name.span, Symbol::Parameter(id, name.text.clone()));
                    self.value(&entry.value, true);
                }
                None => {
                    if let Some(name) = entry.value.word() {
                        self.declares(name.span, Symbol::Parameter(id, name.text.clone()));
                    }
                }
            }
        }
    }

    /// Names in a value: parameters, and declared things where such may stand.
    fn value(&mut self, item: &'g Item, refers: bool) {
        match &item.kind {
            ItemKind::Path(words) => match (words.as_slice(), self.id) {
                ([word], Some(id)) if self.is_parameter(&word.text) => {
                    self.uses(word.span, Symbol::Parameter(id, word.text.clone()));
                }
                _ if refers => {
                    self.declared(words);
                }
                _ => {}
            },
            ItemKind::Call(words, entries) => {
                let found = self.declared(words);
                for entry in entries {
                    if let (Some(name), Some(found)) = (&entry.name, found) {
                        self.uses(name.span, Symbol::Parameter(found, name.text.clone()));
                    }
                    self.value(&entry.value, true);
                }
            }
            ItemKind::Tuple(entries) => entries.iter().for_each(|entry| self.value(&entry.value, refers)),
            ItemKind::Size(items) => items.iter().for_each(|item| self.value(item, refers)),
            ItemKind::Range(low, high) => {
                self.value(low, refers);
                self.value(high, refers);
            }
            ItemKind::Sum(first, rest) => {
                self.value(first, refers);
                rest.iter().for_each(|(_, item)| self.value(item, refers));
            }
            ItemKind::Text(_)
            | ItemKind::Date(..)
            | ItemKind::Quantity(_)
            | ItemKind::FeetInches(..)
            | ItemKind::Pitch(..) => {}
        }
    }

    /// A dotted path to a declared thing, each word to its own place.
    pub(super) fn declared(&mut self, words: &[Word]) -> Option<DeclarationId> {
        let (project, module) = (self.names.project(), self.module);
        let files = match words {
            [std, name, ..] if &*std.text == "std" && !self.binds(&std.text) => {
                let found = project.module_at(&format!("std/{}.wythe", name.text));
                found.map(|found| (std.span.to(name.span), found))
            }
            [first, _, ..] => match project.module(module)?.names.get(&first.text) {
                Some((Binding::Module(found), _)) => Some((first.span, *found)),
                _ => None,
            },
            _ => None,
        };
        if let Some((span, found)) = files {
            self.uses(span, Symbol::Module(found));
        }
        let found = match resolve_path(project, module, words) {
            Lookup::Found(id) => Some(id),
            Lookup::Module(_) => None,
            Lookup::Unknown(..) => self.respelt(words),
        }?;
        self.uses(words.last()?.span, Symbol::Declaration(found));
        Some(found)
    }

    fn binds(&self, word: &str) -> bool {
        self.names.project().module(self.module).is_some_and(|module| module.names.contains_key(word))
    }

    /// `aluminum` where only `aluminium` is declared.
    fn respelt(&self, words: &[Word]) -> Option<DeclarationId> {
        if words.iter().all(|word| respell(&word.text) == &*word.text) {
            return None;
        }
        let own: Vec<Word> =
            words.iter().map(|word| Word { text: respell(&word.text).into(), span: word.span }).collect();
        match resolve_path(self.names.project(), self.module, &own) {
            Lookup::Found(id) => Some(id),
            Lookup::Module(_) | Lookup::Unknown(..) => None,
        }
    }

    /// `without boards`, `after cavity`: what was taken by `like`.
    fn taken(&mut self, seen: &Seen<'_, 'g>) {
        let Some(word) = seen.statement.arguments.first().and_then(Item::word) else { return };
        if let Some(layer) = self.layers.iter().find(|one| one.name == word.text) {
            return self.uses(word.span, Symbol::Member(layer.root));
        }
        let ([_], Some(id)) = (seen.round, self.id) else { return };
        let project = self.names.project();
        let fits = |clause: &Statement| {
            clause.keyword.text == word.text
                || clause.arguments.first().and_then(Item::word).is_some_and(|first| first.text == word.text)
        };
        let base = members::base(project, id).filter(|base| *base != id);
        if let Some(found) = base.and_then(|base| members::clause_of(project, base, &fits)) {
            let named = found.arguments.first().and_then(Item::word).filter(|first| first.text == word.text);
            self.uses(word.span, Symbol::Clause(named.map_or(found.keyword.span, |first| first.span)));
        }
    }

    /// Names that are looked up by whoever reads the statement.
    fn path(&mut self, seen: &Seen<'_, 'g>, label: &str, item: &'g Item) {
        let keyword = seen.row.map_or("", |row| row.word);
        if let (ItemKind::Tuple(entries), "order") = (&item.kind, keyword) {
            for word in entries.iter().filter_map(|entry| entry.value.word()) {
                self.whole(word, "section");
            }
            return;
        }
        let ItemKind::Path(words) = &item.kind else { return };
        match (keyword, label) {
            ("meets" | "section" | "out_of_reach", "face") | ("faces", _) => {
                if let [word] = words.as_slice() {
                    self.whole(word, "face");
                }
            }
            ("limit" | "option", "name") => self.declares(item.span, Symbol::Limit(dotted(words))),
            ("accept", "rule") => self.rule(words, item.span),
            ("accept" | "evidence", "place") => self.place(seen.round, words),
            ("trim", "run") | ("between", _) => self.on_own_face(words),
            _ => {}
        }
    }

    /// Something that the whole project calls by its name.
    pub(super) fn whole(&mut self, word: &Word, kind: &'static str) {
        if let Some(id) = self.names.known(kind, &word.text) {
            self.uses(word.span, Symbol::Declaration(id));
        }
    }

    fn rule(&mut self, words: &[Word], span: Span) {
        if let [office, name] = words
            && &*office.text == "office"
        {
            return self.whole(name, "rule");
        }
        let id = dotted(words);
        if crate::checks::rule(&id).is_some_and(|rule| rule.meta().id == id) {
            self.uses(span, Symbol::Rule(id));
        }
    }
}

/// A path as written.
pub(super) fn dotted(words: &[Word]) -> String {
    words.iter().map(|word| &*word.text).collect::<Vec<_>>().join(".")
}
