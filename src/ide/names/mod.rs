//! What every name in every text stands for, whether or not the text around it is whole.

mod members;
mod places;
mod reader;
mod slots;
mod visit;

pub use members::{Member, base, clause_of, name_of, named_in, of_face, takes_a_name};
pub use slots::{Role, roles};
pub use visit::{Seen, visit};

use std::cell::RefCell;
use std::collections::{BTreeMap, HashMap};
use std::rc::Rc;

use crate::resolve::{DeclarationId, Module, ModuleId, Project};
use crate::session::Glance;
use crate::source::{FileId, Span};
use crate::syntax::{Entry, ItemKind, Statement, Word};

/// What a name stands for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Symbol {
    /// A declaration of the project or of the library.
    Declaration(DeclarationId),
    /// A whole file.
    Module(ModuleId),
    /// A parameter of a declaration.
    Parameter(DeclarationId, Box<str>),
    /// Something named inside a declaration, by the place where its name is first given: a window, a layer.
    Member(Span),
    /// A statement that is called by its keyword, by the place of that: the edge `base`, the `head` of a detail.
    Clause(Span),
    /// A limit or an option, by its dotted name.
    Limit(String),
    /// A built-in rule, by its id.
    Rule(String),
}

/// A place where something is named.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Occurrence {
    /// The word.
    pub span: Span,
    /// What it stands for.
    pub symbol: Symbol,
    /// It gives the name, and does not use it.
    pub declares: bool,
}

/// Reads names in the texts of a project as it stands.
pub struct Names<'g> {
    project: &'g Project,
    /// Declarations of each module, by the index of their statement.
    ids: Vec<HashMap<usize, DeclarationId>>,
    /// Declarations that the whole project calls by name, by keyword and name; the first of each.
    known: BTreeMap<(&'static str, &'g str), DeclarationId>,
    faces: RefCell<HashMap<DeclarationId, Rc<BTreeMap<String, Member<'g>>>>>,
}

impl<'g> Names<'g> {
    /// The names of a project.
    pub fn of(glance: &'g Glance) -> Self {
        Self::in_project(&glance.project)
    }

    /// The same, where nothing but the names is known.
    pub fn in_project(project: &'g Project) -> Self {
        let mut ids: Vec<HashMap<usize, DeclarationId>> = vec![HashMap::new(); project.modules.len()];
        let mut known = BTreeMap::new();
        for (at, declaration) in project.declarations.iter().enumerate() {
            let id = DeclarationId(at as u32);
            if let Some(of_module) = ids.get_mut(declaration.module.0 as usize) {
                of_module.insert(declaration.statement, id);
            }
            if !declaration.name.is_empty() {
                known.entry((declaration.kind, &*declaration.name)).or_insert(id);
            }
        }
        Self { project, ids, known, faces: RefCell::default() }
    }

    /// The project.
    pub fn project(&self) -> &'g Project {
        self.project
    }

    /// All names in one file, in the order of the text.
    pub fn in_file(&self, file: FileId) -> Vec<Occurrence> {
        let Some((id, module)) = self.module(file) else { return Vec::new() };
        let mut found = Vec::new();
        for (at, statement) in module.tree.statements.iter().enumerate() {
            self.read(id, at, statement, &mut found);
        }
        found.sort_by_key(|one| one.span);
        found
    }

    /// All names in all files, the library's included.
    pub fn everywhere(&self) -> Vec<Occurrence> {
        self.project.modules.iter().flat_map(|module| self.in_file(module.file)).collect()
    }

    /// All places at which something is named, in all files, in order. Reads only declarations in which its name is written.
    pub fn places_of(&self, symbol: &Symbol) -> Vec<Occurrence> {
        let spelled = self.spelled(symbol);
        let mut found = Vec::new();
        for (at, module) in self.project.modules.iter().enumerate() {
            for (index, statement) in module.tree.statements.iter().enumerate() {
                let text = self.project.files.slice(statement.span);
                if spelled.is_empty() || spelled.iter().any(|word| text.contains(word)) {
                    self.read(ModuleId(at as u32), index, statement, &mut found);
                }
            }
        }
        found.retain(|one| one.symbol == *symbol);
        found.sort_by_key(|one| one.span);
        found
    }

    /// How the name of a thing may be written; nothing if that cannot be told.
    fn spelled<'s>(&'s self, symbol: &'s Symbol) -> Vec<&'s str> {
        let name = match symbol {
            Symbol::Declaration(id) => self.project.declaration(*id).map(|one| &*one.name),
            Symbol::Module(id) => {
                let path = self.project.module(*id).map(|module| module.path.trim_end_matches(".wythe"));
                path.and_then(|path| path.rsplit('/').next())
            }
            Symbol::Parameter(_, name) => Some(&**name),
            Symbol::Member(span) => Some(self.project.files.slice(*span)),
            Symbol::Limit(name) | Symbol::Rule(name) => name.rsplit('.').next(),
            // An edge may be called by another word than the one it is written with.
            Symbol::Clause(_) => None,
        };
        let mut words: Vec<&str> = name.filter(|name| !name.is_empty()).into_iter().collect();
        if let Some(name) = words.first().copied() {
            words.extend(crate::schema::other_spellings(name));
        }
        words
    }

    /// The name under a byte offset, or that ends at it.
    pub fn at(&self, file: FileId, offset: u32) -> Option<Occurrence> {
        let (id, module) = self.module(file)?;
        let mut found = Vec::new();
        for (at, statement) in module.tree.statements.iter().enumerate() {
            if statement.span.touches(offset) {
                self.read(id, at, statement, &mut found);
            }
        }
        found.retain(|one| one.span.touches(offset));
        found.into_iter().max_by_key(|one| (one.span.start, std::cmp::Reverse(one.span.end)))
    }

    /// The module of a file.
    pub fn module(&self, file: FileId) -> Option<(ModuleId, &'g Module)> {
        let at = self.project.modules.iter().position(|module| module.file == file)?;
        Some((ModuleId(at as u32), self.project.modules.get(at)?))
    }

    /// The declaration that a statement of a module is.
    pub fn id_of(&self, module: ModuleId, statement: usize) -> Option<DeclarationId> {
        self.ids.get(module.0 as usize)?.get(&statement).copied()
    }

    /// The declaration round a place.
    pub fn declaration_at(&self, span: Span) -> Option<DeclarationId> {
        let (id, module) = self.module(span.file)?;
        let at = module.tree.statements.iter().position(|one| one.span.touches(span.start))?;
        self.id_of(id, at)
    }

    /// What the whole project calls by this keyword and name.
    pub fn known(&self, kind: &'static str, name: &str) -> Option<DeclarationId> {
        self.known.get(&(kind, name)).copied()
    }

    /// All that is named on a face.
    pub fn on_face(&self, face: DeclarationId) -> Rc<BTreeMap<String, Member<'g>>> {
        if let Some(found) = self.faces.borrow().get(&face) {
            return found.clone();
        }
        let found = Rc::new(of_face(self.project, face));
        self.faces.borrow_mut().insert(face, found.clone());
        found
    }
}

/// The parameters of a declaration.
pub fn parameters(declaration: &Statement) -> impl Iterator<Item = (&Word, &Entry)> {
    let entries: &[Entry] = match declaration.arguments.first().map(|item| &item.kind) {
        Some(ItemKind::Call(_, entries)) => entries,
        _ => &[],
    };
    entries.iter().filter_map(|entry| Some((entry.name.as_ref().or_else(|| entry.value.word())?, entry)))
}

/// The innermost statement at a place.
pub fn statement_at(project: &Project, span: Span) -> Option<&Statement> {
    let module = project.modules.iter().find(|module| module.file == span.file)?;
    let mut statements: &[Statement] = &module.tree.statements;
    let mut found = None;
    while let Some(next) = statements.iter().find(|one| one.span.start <= span.start && span.end <= one.span.end) {
        found = Some(next);
        statements = &next.clauses;
    }
    found
}
