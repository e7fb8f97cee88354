//! Names of declared things: of this file, of what it brings in, of the project's other files, and of the library, which bring
//! their `use` line with them.

use super::slots::words;
use super::{Completion, CompletionKind, Desk};
use crate::ide::library::{Entry, add_fact, entries};
use crate::resolve::{Binding, DeclarationId, Module, ModuleId, library};
use crate::schema::Row;
use crate::source::Span;
use crate::syntax::{ItemKind, Statement};

/// Kinds of product usually meant by a clause.
const MEANT: [(&str, &[&str]); 12] = [
    ("fasten", &["fastener"]),
    ("seam", &["tape"]),
    ("taped", &["tape"]),
    ("screen", &["screen"]),
    ("furring", &["furring"]),
    ("mat", &["mat"]),
    ("trim", &["trim", "channel", "corner"]),
    ("cut_from", &["sheet"]),
    ("kick_out", &["flashing"]),
    ("flashing", &["flashing"]),
    ("seal", &["collar", "sealant", "tape", "sleeve"]),
    ("layer", &["board", "panel", "shingle", "sheet", "membrane", "insulation"]),
];

impl Desk<'_> {
    /// Names of some kinds, those a clause usually means first.
    pub(super) fn names(&mut self, row: &'static Row, kinds: &[&str]) {
        let meant = MEANT.iter().find(|(word, _)| *word == row.word).map_or(&[][..], |(_, kinds)| kinds);
        self.names_of(kinds, meant);
    }

    /// Names of some kinds behind the dotted words in hand.
    pub(super) fn names_of(&mut self, kinds: &[&str], meant: &[&str]) {
        let word = self.word();
        match word.rsplit_once('.').map_or("", |(before, _)| before) {
            "" => self.all_names(kinds, meant),
            "std" => self.library_modules(&|module| {
                entries().iter().any(|one| one.module == module && kinds.contains(&one.kind))
            }),
            before => self.members(before, kinds, meant),
        }
    }

    /// Parts of the library, as the last word of a path.
    pub(super) fn library_modules(&mut self, keep: &dyn Fn(&str) -> bool) {
        let replace = self.last_word();
        for name in library::names().filter(|name| keep(name)) {
            let all = entries().iter().filter(|entry| entry.module == name);
            let shown: Vec<&str> = all.map(|entry| entry.name).take(6).collect();
            self.offer(name, CompletionKind::Module, replace).detail(shown.join(", ")).order(2);
        }
    }

    /// What stands behind `name.`.
    fn members(&mut self, before: &str, kinds: &[&str], meant: &[&str]) {
        let replace = self.last_word();
        let bound = self.module.and_then(|(_, module)| match module.names.get(before)?.0 {
            Binding::Module(id) => self.glance.project.module(id).map(|module| (id, module)),
            Binding::Declaration(_) => None,
        });
        if let Some((_, module)) = bound.filter(|(_, module)| !module.is_std) {
            for (name, id) in &module.own {
                self.declared(name, *id, name.to_string(), replace, kinds, meant);
            }
            return;
        }
        let std = before.strip_prefix("std.");
        let bound_name = bound.and_then(|(_, module)| module.path.strip_prefix("std/")?.strip_suffix(".wythe"));
        let wanted = std.or(bound_name).unwrap_or(before);
        let also = if std.is_some() || bound_name.is_some() { None } else { self.bring_in(&format!("std.{wanted}")) };
        for entry in entries().iter().filter(|entry| entry.module == wanted && kinds.contains(&entry.kind)) {
            self.library_name(entry, entry.name.to_owned(), replace, meant, also.clone());
        }
    }

    fn all_names(&mut self, kinds: &[&str], meant: &[&str]) {
        let Some((here, module)) = self.module else { return };
        let replace = self.whole_word();
        let mut bound: Vec<&str> = Vec::new();
        for (name, (binding, _)) in &module.names {
            match binding {
                Binding::Declaration(id) => self.declared(name, *id, name.to_string(), replace, kinds, meant),
                Binding::Module(id) => {
                    let Some(other) = self.glance.project.module(*id) else { continue };
                    bound.push(&other.path);
                    for (own, id) in &other.own {
                        self.declared(own, *id, format!("{name}.{own}"), replace, kinds, meant);
                    }
                }
            }
        }
        self.unbound_files(here, module, &bound, kinds, meant);
        let prelude = &self.glance.project.prelude;
        for entry in entries().iter().filter(|entry| kinds.contains(&entry.kind)) {
            if bound.iter().any(|path| library_name(path) == Some(entry.module)) {
                continue;
            }
            if entry.module == "materials" && prelude.contains_key(entry.name) {
                if !module.names.contains_key(entry.name) {
                    self.library_name(entry, entry.name.to_owned(), replace, meant, None);
                }
                continue;
            }
            if module.names.get(entry.name).is_some_and(|(binding, _)| self.is_of(*binding, entry)) {
                continue;
            }
            let (label, also) = match module.names.contains_key(entry.module) {
                true => (format!("std.{}.{}", entry.module, entry.name), None),
                false => (format!("{}.{}", entry.module, entry.name), self.bring_in(&format!("std.{}", entry.module))),
            };
            self.library_name(entry, label, replace, meant, also);
        }
    }

    /// Whether a name in this file stands for an entry of the library.
    fn is_of(&self, binding: Binding, entry: &Entry) -> bool {
        let Binding::Declaration(id) = binding else { return false };
        let project = &self.glance.project;
        let module = project.declaration(id).and_then(|declaration| project.module(declaration.module));
        module.is_some_and(|module| library_name(&module.path) == Some(entry.module))
    }

    /// Things of the project's other files that this file does not bring in yet.
    fn unbound_files(&mut self, here: ModuleId, module: &Module, bound: &[&str], kinds: &[&str], meant: &[&str]) {
        let replace = self.whole_word();
        for (at, other) in self.glance.project.modules.iter().enumerate() {
            if other.is_std || ModuleId(at as u32) == here || bound.contains(&other.path.as_str()) {
                continue;
            }
            let Some(path) = path_from(&module.path, &other.path) else { continue };
            for (name, &id) in &other.own {
                if module.names.contains_key(name) {
                    continue;
                }
                let Some(also) = self.bring_in_name(&path, name) else { continue };
                let from = self.found.len();
                self.declared(name, id, name.to_string(), replace, kinds, meant);
                for one in self.found.get_mut(from..).unwrap_or_default() {
                    one.also = vec![also.clone()];
                    one.detail = format!("{} · brings it in from `{path}`", one.detail);
                    one.order += 2;
                }
            }
        }
    }

    fn declared(
        &mut self,
        name: &str,
        id: DeclarationId,
        label: String,
        replace: Span,
        kinds: &[&str],
        meant: &[&str],
    ) {
        let project = &self.glance.project;
        let Some(declaration) = project.declaration(id).filter(|one| kinds.contains(&one.kind)) else { return };
        let Some(statement) = project.statement(id) else { return };
        if statement.span.file == self.file && statement.span.touches(self.offset as u32) {
            return;
        }
        let module = project.module(declaration.module);
        let known = module.and_then(|module| {
            let own = library_name(&module.path)?;
            entries().iter().find(|entry| entry.module == own && entry.name == name)
        });
        if let Some(entry) = known {
            return self.library_name(entry, label, replace, meant, None);
        }
        let facts =
            facts_of(self.glance.project.files.slice(statement.head_span()), statement, declaration.kind, &|span| {
                project.files.slice(span)
            });
        let doc = statement.doc.as_deref().unwrap_or_default().to_owned();
        self.offer(label, CompletionKind::Name, replace).detail(facts).doc(doc).order(1);
    }

    fn library_name(
        &mut self,
        entry: &'static Entry,
        label: String,
        replace: Span,
        meant: &[&str],
        also: Option<(Span, String)>,
    ) {
        let first = entry.head.split(' ').next().unwrap_or_default();
        let unusual = !meant.is_empty() && entry.kind == "product" && !meant.contains(&first);
        let far = also.is_some();
        let what = if entry.head.is_empty() { entry.kind } else { entry.head };
        let detail = if entry.facts.is_empty() { what.to_owned() } else { format!("{what} · {}", entry.facts) };
        let one: &mut Completion = self.offer(label, CompletionKind::Name, replace);
        one.detail(detail).doc(entry.doc.clone()).order(2 + u8::from(far) + 2 * u8::from(unusual));
        one.also = also.into_iter().collect();
    }

    /// The edit that brings a module in; `None` if the file has it already.
    pub(super) fn bring_in(&self, path: &str) -> Option<(Span, String)> {
        let (_, module) = self.module?;
        let uses = || module.tree.statements.iter().filter(|one| &*one.keyword.text == "use");
        let same = |one: &Statement| one.arguments.len() == 1 && self.module_of(one) == path;
        if uses().any(same) {
            return None;
        }
        let behind = |at: u32| Span { file: self.file, start: at, end: at };
        if let Some(last) = uses().next_back() {
            return Some((behind(last.span.end), format!("\nuse {path}")));
        }
        let edition = module.tree.statements.iter().find(|one| &*one.keyword.text == "wythe");
        match edition {
            Some(edition) => Some((behind(edition.span.end), format!("\n\nuse {path}"))),
            None => Some((behind(0), format!("use {path}\n\n"))),
        }
    }

    /// The edit that brings one name of a file in: into the brackets of a `use` that is there, or as a line of its own.
    fn bring_in_name(&self, path: &str, name: &str) -> Option<(Span, String)> {
        let (_, module) = self.module?;
        let mut uses =
            module.tree.statements.iter().filter(|one| &*one.keyword.text == "use" && self.module_of(one) == path);
        let listed = uses.find_map(|one| match &one.arguments.get(1)?.kind {
            ItemKind::Tuple(entries) => entries.last().map(|last| last.value.span.end),
            _ => None,
        });
        match listed {
            Some(end) => Some((Span { file: self.file, start: end, end }, format!(", {name}"))),
            None => self.bring_in(path).map(|(at, text)| (at, text.replacen(path, &format!("{path} ({name})"), 1))),
        }
    }

    /// The dotted module a `use` names.
    pub(super) fn module_of(&self, statement: &Statement) -> &str {
        statement.arguments.first().map_or("", |item| self.glance.project.files.slice(item.span))
    }

    /// Names in brackets behind the module of a `use`, or the sections of an order of work.
    pub(super) fn bracketed_names(&mut self, row: &'static Row) {
        let replace = self.whole_word();
        let within = self.pen.brackets.last().map_or("", |bracket| bracket.within);
        let given: Vec<&str> = within.split(',').map(str::trim).filter(|name| !name.is_empty()).collect();
        let typed = self.word();
        let fresh = |name: &str| !given.contains(&name) || name == typed;
        if row.word == "order" {
            for section in self.glance.model.sections.iter().filter(|section| fresh(&section.name)) {
                let name = section.name.clone();
                self.offer(name, CompletionKind::Place, replace).order(1);
            }
            return;
        }
        let Some(path) = self.pen.clause().split_whitespace().nth(1) else { return };
        if let Some(library) = path.strip_prefix("std.") {
            for entry in entries().iter().filter(|entry| entry.module == library && fresh(entry.name)) {
                self.library_name(entry, entry.name.to_owned(), replace, &[], None);
            }
            return;
        }
        let Some((_, module)) = self.module else { return };
        let other = self
            .glance
            .project
            .modules
            .iter()
            .find(|other| path_from(&module.path, &other.path).as_deref() == Some(path));
        for (name, &id) in other.iter().flat_map(|other| &other.own).filter(|(name, _)| fresh(name)) {
            let kind = self.glance.project.declaration(id).map_or("", |one| one.kind);
            self.declared(name, id, name.to_string(), replace, &[kind], &[]);
        }
    }
}

/// `boards` for `std/boards.wythe`.
fn library_name(path: &str) -> Option<&str> {
    path.strip_prefix("std/")?.strip_suffix(".wythe")
}

/// How a file names another behind `use`; `None` for one that is not beside or below it.
pub(super) fn path_from(own: &str, other: &str) -> Option<String> {
    let folder = own.rsplit_once('/').map_or("", |(folder, _)| folder);
    let rest = if folder.is_empty() { other } else { other.strip_prefix(folder)?.strip_prefix('/')? };
    let path = rest.strip_suffix(".wythe")?.replace('/', ".");
    words(&path).iter().all(|word| !word.text.is_empty()).then_some(path)
}

/// A declaration in a few words: what it is, and its values as written.
fn facts_of<'t>(head: &str, statement: &'t Statement, kind: &str, text: &dyn Fn(Span) -> &'t str) -> String {
    let mut facts = String::new();
    for clause in &statement.clauses {
        add_fact(kind, text(clause.head_span()), &mut facts);
    }
    let what = head.split_once(' ').and_then(|(_, rest)| rest.split_once(' ')).map_or(kind, |(_, what)| what);
    let what = if kind == "product" { what } else { kind };
    if facts.is_empty() { what.to_owned() } else { format!("{what} · {facts}") }
}
