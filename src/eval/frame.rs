//! What must stand for numbers of declarations to mean what they meant: files, declarations, and what names stand for; and
//! the place of every declaration with a number for its text.

use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

use crate::resolve::{Binding, DeclarationId, Module, ModuleId, Project};
use crate::source::{FileId, Span};
use crate::syntax::Tree;

/// What names stand for in every file.
#[derive(Debug, Default)]
pub(super) struct Frame {
    files: Vec<String>,
    modules: Vec<Names>,
    declarations: Vec<(ModuleId, usize, &'static str, Box<str>)>,
    /// As they were read last, so that files nobody touched are known by one look.
    trees: Vec<Arc<Tree>>,
}

/// The names in one file.
#[derive(Debug)]
struct Names {
    path: String,
    names: BTreeMap<Box<str>, Binding>,
    own: BTreeMap<Box<str>, DeclarationId>,
}

impl Frame {
    /// The frame of a project.
    pub fn of(project: &Project) -> Self {
        let names = |module: &Module| Names {
            path: module.path.clone(),
            names: module.names.iter().map(|(name, (binding, _))| (name.clone(), *binding)).collect(),
            own: module.own.clone(),
        };
        Self {
            files: project.files.ids().map(|id| project.files.path(id).to_owned()).collect(),
            modules: project.modules.iter().map(names).collect(),
            declarations: project
                .declarations
                .iter()
                .map(|one| (one.module, one.statement, one.kind, one.name.clone()))
                .collect(),
            trees: Vec::new(),
        }
    }

    /// Whether a project has this frame. An empty frame is of no project.
    pub fn stands(&self, project: &Project) -> bool {
        let files = project.files.ids().map(|id| project.files.path(id));
        let declarations = project.declarations.iter().map(|one| (one.module, one.statement, one.kind, &one.name));
        let own = self.declarations.iter().map(|(module, at, kind, name)| (*module, *at, *kind, name));
        let names = |(names, module): (&Names, &Module)| {
            let bound = module.names.iter().map(|(name, (binding, _))| (name, binding));
            names.path == module.path && names.own == module.own && names.names.iter().eq(bound)
        };
        self.files.iter().map(String::as_str).eq(files)
            && self.modules.len() == project.modules.len()
            && self.modules.iter().zip(&project.modules).all(names)
            && own.eq(declarations)
    }

    /// The same frame, as the files were read last.
    pub fn read_as(self, project: &Project) -> Self {
        Self { trees: project.modules.iter().map(|module| module.tree.clone()).collect(), ..self }
    }
}

/// Where a declaration stands, and what tells its text from any other.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    /// The statement.
    pub span: Span,
    /// A number for its text with all between it and its neighbours: its comments, and whatever broke off it.
    pub text: u64,
    /// Its parameters were judged, and make sense.
    pub sound: bool,
}

impl Place {
    /// Whether a place is in it.
    pub fn holds(&self, span: Span) -> bool {
        self.span.file == span.file && self.span.start <= span.start && span.end <= self.span.end
    }

    /// Where a place in it is, now that it stands elsewhere.
    pub fn moved(&self, now: &Place, span: Span) -> Option<Span> {
        let shift = |at: u32| at - self.span.start + now.span.start;
        self.holds(span).then(|| Span { file: now.span.file, start: shift(span.start), end: shift(span.end) })
    }
}

/// Of what has no text.
const NOWHERE: Place = Place { span: Span { file: FileId(0), start: 0, end: 0 }, text: 0, sound: false };

/// The place of every declaration. `was` are those of a project of the same frame, or none.
pub(super) fn places(project: &Project, frame: &Frame, was: &[Place]) -> Vec<Place> {
    let untouched = |id: ModuleId| {
        let (before, now) = (frame.trees.get(id.0 as usize), project.module(id));
        before.zip(now).is_some_and(|(before, now)| Arc::ptr_eq(before, &now.tree))
    };
    let known = |at: usize, module: ModuleId| was.get(at).filter(|_| untouched(module)).copied();
    let place = |(at, one): (usize, &crate::resolve::Declaration)| {
        known(at, one.module).or_else(|| read(project, project.module(one.module)?, one.statement)).unwrap_or(NOWHERE)
    };
    project.declarations.iter().enumerate().map(place).collect()
}

fn read(project: &Project, module: &Module, at: usize) -> Option<Place> {
    let statements = &module.tree.statements;
    let span = statements.get(at)?.span;
    let text = project.files.text(span.file);
    let start =
        at.checked_sub(1).and_then(|before| statements.get(before)).map_or(0, |before| before.span.end as usize);
    let end = statements.get(at + 1).map_or(text.len(), |next| next.span.start as usize);
    let mut hasher = DefaultHasher::new();
    (span.start as usize - start, text.get(start..end)?).hash(&mut hasher);
    Some(Place { span, text: hasher.finish(), sound: false })
}
