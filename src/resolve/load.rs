//! Reads files along their imports and registers what they declare.

use std::sync::Arc;

use super::{Binding, Declaration, DeclarationId, Module, ModuleId, Project, library, problems};
use crate::diagnose::settle;
use crate::schema;
use crate::source::{Span, World};
use crate::syntax::{Item, ItemKind, Statement, Trees, Word};

/// The module whose names every file may use.
const PRELUDE: &str = "materials";

/// The module with the rule set of habits, which is asked last in every project.
const HABITS: &str = "limits";

/// Reads the given files (relative paths) and everything they bring in. Never fails: what could not be read is a problem.
pub fn load(world: &dyn World, roots: &[String]) -> Project {
    load_again(world, roots, &mut Trees::default())
}

/// The same, with what was read before.
pub fn load_again(world: &dyn World, roots: &[String], trees: &mut Trees) -> Project {
    let mut loader = Loader { world, trees, project: Project::default(), chain: Vec::new() };
    if let Some(id) = loader.library(PRELUDE, None) {
        loader.project.prelude = loader.module_mut(id).own.clone();
    }
    loader.library(HABITS, None);
    for root in roots {
        loader.file(root, None);
    }
    let mut project = loader.project;
    settle(&mut project.problems);
    project
}

struct Loader<'w> {
    world: &'w dyn World,
    trees: &'w mut Trees,
    project: Project,
    /// Paths being read, outermost first, for finding cycles.
    chain: Vec<String>,
}

impl Loader<'_> {
    /// Module ids come from this loader, so they always fit.
    fn module_mut(&mut self, id: ModuleId) -> &mut Module {
        &mut self.project.modules[id.0 as usize]
    }

    /// Reads one file of the project. `from` is the import that asks for it.
    fn file(&mut self, path: &str, from: Option<Span>) -> Option<ModuleId> {
        if let Some(at) = self.chain.iter().position(|open| open == path) {
            let mut chain = self.chain[at..].to_vec();
            chain.push(path.to_owned());
            self.project.problems.push(problems::cycle(from.unwrap_or_default(), &chain));
            return None;
        }
        if let Some(known) = self.project.module_at(path) {
            return Some(known);
        }
        match self.world.read(path) {
            Ok(text) => Some(self.module(path, text, false)),
            Err(error) => {
                let others = self.world.list();
                let span = from.unwrap_or_else(|| Span::new(self.project.files.add(path, Arc::from("")), 0, 0));
                self.project.problems.push(problems::unreadable(span, path, &error, &others));
                None
            }
        }
    }

    fn library(&mut self, name: &str, from: Option<Span>) -> Option<ModuleId> {
        let path = format!("std/{name}.wythe");
        if let Some(known) = self.project.module_at(&path) {
            return Some(known);
        }
        match (library::text(name), from) {
            (Some(text), _) => Some(self.module(&path, Arc::from(text), true)),
            (None, Some(span)) => {
                self.project.problems.push(problems::unknown_library(span, name));
                None
            }
            (None, None) => None,
        }
    }

    fn module(&mut self, path: &str, text: Arc<str>, is_std: bool) -> ModuleId {
        let file = self.project.files.add(path, text.clone());
        let (tree, problems) = self.trees.read(path, file, &text);
        self.project.problems.extend(problems);
        let id = ModuleId(self.project.modules.len() as u32);
        self.project.modules.push(Module {
            file,
            path: path.to_owned(),
            tree: tree.clone(),
            names: Default::default(),
            own: Default::default(),
            version: None,
            is_std,
        });
        self.chain.push(path.to_owned());
        for (at, statement) in tree.statements.iter().enumerate() {
            self.statement(id, at, statement);
        }
        for statement in &tree.statements {
            self.library_paths(statement);
        }
        self.editions_once(&tree.statements);
        self.chain.pop();
        id
    }

    fn statement(&mut self, module: ModuleId, at: usize, statement: &Statement) {
        let Some(row) = schema::find("file", &statement.keyword.text) else {
            if !statement.broken {
                self.project.problems.push(problems::outside_declaration(&statement.keyword));
            }
            return;
        };
        match row.word {
            "use" => self.import(module, statement),
            "wythe" => {
                self.declare_edition(module, at, statement);
                let version = statement.all("version").next().and_then(|clause| whole(clause.arguments.first()?));
                self.module_mut(module).version = version;
            }
            _ => self.declare(module, at, row.word, statement),
        }
    }

    /// A file is written in one edition.
    fn editions_once(&mut self, statements: &[Statement]) {
        let mut editions = statements.iter().filter(|statement| &*statement.keyword.text == "wythe");
        let Some(first) = editions.next() else { return };
        let twice = editions.map(|again| problems::declared_twice(&again.keyword, first.head_span()));
        self.project.problems.extend(twice);
    }

    /// The edition is kept with the declarations, so that it is read like one; it has no name.
    fn declare_edition(&mut self, module: ModuleId, at: usize, statement: &Statement) {
        let name_span = statement.keyword.span;
        self.project.declarations.push(Declaration {
            module,
            statement: at,
            kind: "wythe",
            name: "".into(),
            name_span,
        });
    }

    fn declare(&mut self, module: ModuleId, at: usize, kind: &'static str, statement: &Statement) {
        let name = statement.arguments.first().and_then(first_word);
        let id = DeclarationId(self.project.declarations.len() as u32);
        self.project.declarations.push(Declaration {
            module,
            statement: at,
            kind,
            name: name.map(|word| word.text.clone()).unwrap_or_default(),
            name_span: name.map_or(statement.keyword.span, |word| word.span),
        });
        // Nothing names a project or a site, so they may be called like anything else.
        let (Some(name), false) = (name, matches!(kind, "accept" | "evidence" | "project" | "site")) else { return };
        let target = self.module_mut(module);
        let problem = match target.names.get(&name.text) {
            Some(&(Binding::Declaration(first), span)) if target.own.get(&name.text) == Some(&first) => {
                problems::declared_twice(name, span)
            }
            Some(&(_, span)) => problems::imported_name(name, span),
            None => {
                target.names.insert(name.text.clone(), (Binding::Declaration(id), name.span));
                target.own.insert(name.text.clone(), id);
                return;
            }
        };
        self.project.problems.push(problem);
    }

    fn import(&mut self, module: ModuleId, statement: &Statement) {
        let Some(Item { kind: ItemKind::Path(words), span }) = statement.arguments.first() else { return };
        let found = match words.as_slice() {
            [std, name] if &*std.text == "std" => self.library(&name.text, Some(*span)),
            [std, ..] if &*std.text == "std" => {
                self.project.problems.push(problems::library_path(*span));
                None
            }
            _ => {
                let path = beside(&self.module_mut(module).path, words);
                self.file(&path, Some(*span))
            }
        };
        let (Some(found), Some(last)) = (found, words.last()) else { return };
        self.check_version(found, statement);
        match statement.arguments.get(1).map(|item| &item.kind) {
            None => self.bind(module, last, Binding::Module(found)),
            Some(ItemKind::Tuple(entries)) => {
                for word in entries.iter().filter_map(|entry| entry.value.word()) {
                    self.bind_member(module, found, word);
                }
            }
            Some(_) => {}
        }
    }

    fn check_version(&mut self, found: ModuleId, statement: &Statement) {
        let Some(clause) = statement.all("version").next() else { return };
        let Some(wanted) = clause.arguments.first().and_then(whole) else { return };
        let module = self.module_mut(found);
        if module.version != Some(wanted) {
            let problem = problems::wrong_version(clause.span, &module.path, wanted, module.version);
            self.project.problems.push(problem);
        }
    }

    fn bind_member(&mut self, module: ModuleId, found: ModuleId, word: &Word) {
        let source = self.module_mut(found);
        match source.own.get(&word.text) {
            Some(&id) => self.bind(module, word, Binding::Declaration(id)),
            None => {
                let problem = problems::not_in_module(word, &source.path, source.own.keys().map(|name| &**name));
                self.project.problems.push(problem);
            }
        }
    }

    fn bind(&mut self, module: ModuleId, word: &Word, binding: Binding) {
        let names = &mut self.module_mut(module).names;
        match names.get(&word.text) {
            Some(&(known, _)) if known == binding => {}
            Some(&(known, span)) => {
                let own = matches!(known, Binding::Declaration(id)
                    if self.project.declaration(id).is_some_and(|declared| declared.module == module));
                let problem = if own {
                    problems::imported_name(&Word { text: word.text.clone(), span }, word.span)
                } else {
                    problems::imported_twice(word, span)
                };
                self.project.problems.push(problem);
            }
            None => {
                names.insert(word.text.clone(), (binding, word.span));
            }
        }
    }

    /// Library parts named in full, as in `climate std.climates.cold_lake`, are read without a `use`.
    fn library_paths(&mut self, statement: &Statement) {
        if &*statement.keyword.text != "use" {
            for item in &statement.arguments {
                self.library_paths_of(item);
            }
        }
        for clause in &statement.clauses {
            self.library_paths(clause);
        }
    }

    fn library_paths_of(&mut self, item: &Item) {
        if let ItemKind::Path(words) | ItemKind::Call(words, _) = &item.kind
            && let [std, name, ..] = words.as_slice()
            && &*std.text == "std"
        {
            self.library(&name.text, Some(name.span));
        }
        if let ItemKind::Tuple(entries) | ItemKind::Call(_, entries) = &item.kind {
            for entry in entries {
                self.library_paths_of(&entry.value);
            }
        }
    }
}

/// `use details` in `walls/north.wythe` reads `walls/details.wythe`; `use shared.corners` reads `walls/shared/corners.wythe`.
pub(super) fn beside(path: &str, words: &[Word]) -> String {
    let folder = path.rsplit_once('/').map_or("", |(folder, _)| folder);
    let mut target = String::from(folder);
    for word in words {
        if !target.is_empty() {
            target.push('/');
        }
        target.push_str(&word.text);
    }
    target + ".wythe"
}

fn first_word(item: &Item) -> Option<&Word> {
    match &item.kind {
        ItemKind::Path(words) | ItemKind::Call(words, _) if words.len() == 1 => words.first(),
        _ => None,
    }
}

fn whole(item: &Item) -> Option<i64> {
    match &item.kind {
        ItemKind::Quantity(literal) if literal.denominator == 1 && literal.unit.is_empty() => {
            i64::try_from(literal.numerator).ok()
        }
        _ => None,
    }
}
