//! Finds the files a project is made of, and what each name in them stands for.

pub mod library;
mod load;
mod problems;
mod scope;

pub use load::{load, load_again};
pub use scope::{Lookup, resolve_path};

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::diagnose::Diagnostic;
use crate::source::{FileId, Files, Span};
use crate::syntax::{Statement, Tree, Word};

/// One file of a project or of the library, as an index into [`Project::modules`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ModuleId(pub u32);

/// One declaration, as an index into [`Project::declarations`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DeclarationId(pub u32);

/// What a name in a file stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Binding {
    /// A declaration of this or another file.
    Declaration(DeclarationId),
    /// A whole file, whose declarations follow after a dot.
    Module(ModuleId),
}

/// One file with its names.
#[derive(Clone, Debug)]
pub struct Module {
    /// The file.
    pub file: FileId,
    /// Relative path, with `/`; `std/NAME.wythe` for the library.
    pub path: String,
    /// Its statements.
    pub tree: Arc<Tree>,
    /// Names usable in it: its own and the imported ones. The place is where the name came in.
    pub names: BTreeMap<Box<str>, (Binding, Span)>,
    /// Its own declarations by name, for other files.
    pub own: BTreeMap<Box<str>, DeclarationId>,
    /// Version it gives itself.
    pub version: Option<i64>,
    /// Part of the embedded library.
    pub is_std: bool,
}

/// Where a declaration stands.
#[derive(Clone, Debug)]
pub struct Declaration {
    /// Its file.
    pub module: ModuleId,
    /// Index of its statement in the file's tree.
    pub statement: usize,
    /// Keyword, such as `assembly`.
    pub kind: &'static str,
    /// Its name; empty for one that has none or whose name was broken.
    pub name: Box<str>,
    /// Where the name stands.
    pub name_span: Span,
}

/// Everything that was read, with names bound.
#[derive(Debug, Default)]
pub struct Project {
    /// All texts.
    pub files: Files,
    /// Files as modules, in the order they were met.
    pub modules: Vec<Module>,
    /// Declarations of all modules.
    pub declarations: Vec<Declaration>,
    /// Names that every file may use without importing them: the common materials.
    pub prelude: BTreeMap<Box<str>, DeclarationId>,
    /// What was wrong with files, imports and names of declarations; problems of syntax included.
    pub problems: Vec<Diagnostic>,
}

impl Project {
    /// A module by id.
    pub fn module(&self, id: ModuleId) -> Option<&Module> {
        self.modules.get(id.0 as usize)
    }

    /// A declaration by id.
    pub fn declaration(&self, id: DeclarationId) -> Option<&Declaration> {
        self.declarations.get(id.0 as usize)
    }

    /// The statement of a declaration.
    pub fn statement(&self, id: DeclarationId) -> Option<&Statement> {
        let declaration = self.declaration(id)?;
        self.module(declaration.module)?.tree.statements.get(declaration.statement)
    }

    /// The module at a relative path.
    pub fn module_at(&self, path: &str) -> Option<ModuleId> {
        self.modules.iter().position(|module| module.path == path).map(|at| ModuleId(at as u32))
    }

    /// The module that a `use` of another one reads, by the words behind `use`.
    pub fn module_used(&self, by: ModuleId, words: &[Word]) -> Option<ModuleId> {
        match words {
            [std, name] if &*std.text == "std" => self.module_at(&format!("std/{}.wythe", name.text)),
            [std, ..] if &*std.text == "std" => None,
            _ => self.module_at(&load::beside(&self.module(by)?.path, words)),
        }
    }
}
