//! Turns statements into values: parameters, `like`, references, units. What could not be understood is `Broken` and
//! passes silently, so that one mistake gives one message.

mod again;
mod bind;
mod expand;
mod frame;
mod items;
mod problems;
mod value;

pub use again::Before;
pub use bind::{SMALL_WORDS, dimension, fits};
pub use expand::parameters;
pub use problems::example;
pub use value::{Bound, Date, Instance, InstanceId, SlotValue, Value};

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use again::{Kept, Notes, Record};

use crate::diagnose::{Diagnostic, settle};
use crate::resolve::{Declaration, DeclarationId, ModuleId, Project};
use crate::source::Span;
use crate::syntax::Item;

/// A place in a text that names a declaration.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Reference {
    /// The path as written.
    pub span: Span,
    /// What it names.
    pub declaration: DeclarationId,
}

/// Declarations made from one another deeper than this are refused; no wall is, and a stack has an end.
const DEEPEST: usize = 40;
/// No project makes more of its declarations than this, counted once for each set of arguments.
const MOST: usize = 20_000;

/// All declarations of a project with their values.
#[derive(Debug, Default)]
pub struct Evaluated {
    /// Every declaration as it was needed: once for each set of arguments.
    pub instances: Vec<Instance>,
    /// Instances of the declarations of the project's own files, in order; those with parameters stand with their defaults.
    pub own: Vec<InstanceId>,
    /// The library's rule set of habits, which is asked last.
    pub fallback_limits: Option<InstanceId>,
    /// The rule set to ask instead of the project's, if one was wanted and is known.
    pub limits: Option<InstanceId>,
    /// Names used, for the editor; sorted.
    pub references: Vec<Reference>,
    /// What could not be understood; sorted.
    pub problems: Vec<Diagnostic>,
}

impl Evaluated {
    /// An instance by id.
    pub fn instance(&self, id: InstanceId) -> Option<&Instance> {
        self.instances.get(id.0 as usize)
    }
}

/// Evaluates every declaration of the project's own files, and of the library whatever they use.
pub fn evaluate(project: &Project) -> Evaluated {
    evaluate_again(project, None, &mut Before::default())
}

/// The same with what was evaluated before, and with a rule set to ask instead of the project's, if that is wanted.
pub fn evaluate_again(project: &Project, limits: Option<&str>, before: &mut Before) -> Evaluated {
    let mut evaluator = Evaluator {
        project,
        kept: Kept::of(project, before),
        done: Evaluated::default(),
        records: Vec::new(),
        notes: Notes::default(),
        known: BTreeMap::new(),
        open: BTreeSet::new(),
    };
    evaluator.parameters_make_sense();
    for (at, declaration) in project.declarations.iter().enumerate() {
        if project.module(declaration.module).is_some_and(|module| !module.is_std) {
            let id = DeclarationId(at as u32);
            let (wanting, unset) = evaluator.without_defaults(id);
            let instance = evaluator.instance(id, unset, declaration.name_span);
            evaluator.done.own.extend(instance.filter(|_| !wanting));
        }
    }
    evaluator.done.fallback_limits = project
        .module_at("std/limits.wythe")
        .and_then(|id| project.module(id)?.own.get("common_practice").copied())
        .and_then(|id| evaluator.instance(id, Arguments::default(), Span::default()));
    evaluator.done.limits = limits
        .and_then(|name| rule_set_named(project, name))
        .and_then(|id| evaluator.instance(id, Arguments::default(), Span::default()));
    evaluator.finish(before)
}

/// A rule set of the project, or else of the library.
fn rule_set_named(project: &Project, name: &str) -> Option<DeclarationId> {
    let is_std = |id| project.module(id).is_some_and(|module| module.is_std);
    let named = |is_wanted: &dyn Fn(&Declaration) -> bool| {
        let mut all = project.declarations.iter();
        all.position(|one| one.kind == "limits" && &*one.name == name && is_wanted(one))
    };
    let found = named(&|one| !is_std(one.module)).or_else(|| named(&|_| true))?;
    Some(DeclarationId(found as u32))
}

/// Named values given to a declaration, or its parameters as seen inside.
pub(crate) type Arguments = Arc<BTreeMap<Box<str>, Value>>;

/// Where a statement is read: its file, and the parameters it sees.
#[derive(Clone)]
struct Scope {
    module: ModuleId,
    parameters: Arguments,
}

impl Scope {
    /// What an item stands for, if it is a parameter.
    fn parameter_at(&self, item: &Item) -> Option<&Value> {
        self.parameters.get(&item.word()?.text)
    }
}

struct Evaluator<'p> {
    project: &'p Project,
    kept: Kept,
    done: Evaluated,
    /// Every instance with what was noted while it was made.
    records: Vec<Arc<Record>>,
    /// What is noted about the declaration that is being bound.
    notes: Notes,
    known: BTreeMap<(DeclarationId, String), Option<InstanceId>>,
    /// Declarations being evaluated, for finding those that use themselves.
    open: BTreeSet<(DeclarationId, String)>,
}

impl<'p> Evaluator<'p> {
    fn problem(&mut self, problem: Diagnostic) {
        self.notes.problems.push(problem);
    }

    /// The instance of a declaration with these arguments, evaluated at the first call. `from` is who asks.
    fn instance(&mut self, id: DeclarationId, arguments: Arguments, from: Span) -> Option<InstanceId> {
        self.instance_like(id, arguments, from, None)
    }

    /// The same, where it is known which instance of before it was.
    fn instance_like(
        &mut self,
        id: DeclarationId,
        arguments: Arguments,
        from: Span,
        old: Option<usize>,
    ) -> Option<InstanceId> {
        let key = (id, value::key(&arguments));
        let old = old.or_else(|| self.kept.known(&key));
        let answer = match self.known.get(&key) {
            Some(known) => *known,
            None => self.make(key, arguments, from, old),
        };
        if let (Some(old), Some(answer)) = (old, answer) {
            self.kept.is_now(old, answer);
        }
        self.notes.asks(answer, from);
        answer
    }

    fn make(
        &mut self,
        key: (DeclarationId, String),
        arguments: Arguments,
        from: Span,
        old: Option<usize>,
    ) -> Option<InstanceId> {
        let id = key.0;
        let declaration = self.project.declaration(id)?;
        if !self.open.insert(key.clone()) {
            self.problem(problems::uses_itself(from, declaration.kind, &declaration.name));
            return None;
        }
        if self.open.len() > DEEPEST || self.done.instances.len() >= MOST {
            self.open.remove(&key);
            self.problem(problems::too_deep(from, declaration.kind, &declaration.name));
            return None;
        }
        let asker = std::mem::take(&mut self.notes);
        let again = old.and_then(|old| self.again(old, &arguments));
        let record = again.or_else(|| self.anew(id, &arguments, from));
        self.notes = asker;
        self.open.remove(&key);
        let made = record.map(|record| self.keep(record));
        self.known.insert(key, made);
        made
    }

    /// Binds a declaration, with what is noted meanwhile.
    fn anew(&mut self, id: DeclarationId, arguments: &Arguments, from: Span) -> Option<Arc<Record>> {
        let statement = self.project.statement(id)?;
        self.notes = Notes::default();
        self.notes.reads(id);
        let scope = self.scope_of(id, arguments, from);
        let nodes = self.body(id, statement, &scope, 0);
        let bound = self.bind_declaration(statement, nodes, &scope)?;
        let notes = std::mem::take(&mut self.notes);
        Some(self.record(id, arguments, bound, notes))
    }

    fn keep(&mut self, record: Arc<Record>) -> InstanceId {
        let made = InstanceId(self.done.instances.len() as u32);
        let (kind, name) = match self.project.declaration(record.declaration) {
            Some(declaration) => (declaration.kind, declaration.name.clone()),
            None => Default::default(),
        };
        let label = value::label(&record.arguments, &self.done.instances);
        let given = if label.is_empty() { String::new() } else { format!("({label})") };
        let label = format!("{name}{given}");
        let bound = record.bound.clone();
        self.done.instances.push(Instance { declaration: record.declaration, kind, name, label, bound });
        self.records.push(record);
        made
    }

    /// Puts together what was noted, and leaves the records for the next time.
    fn finish(self, before: &mut Before) -> Evaluated {
        let mut done = self.done;
        for notes in self.records.iter().map(|record| &record.notes).chain([&self.notes]) {
            done.problems.extend(notes.problems.iter().cloned());
            done.references.extend(&notes.references);
        }
        settle(&mut done.problems);
        done.references.sort();
        done.references.dedup();
        self.kept.leave(self.records, before);
        done
    }
}
