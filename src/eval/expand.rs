//! Parameters and `like`: which statements a declaration has once it has taken another's and changed them.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, OnceLock};

use super::{Arguments, Evaluator, Scope, Value, problems};
use crate::resolve::{DeclarationId, Lookup, resolve_path};
use crate::schema;
use crate::source::Span;
use crate::syntax::{Entry, ItemKind, Statement, Word};
use crate::units;

/// Declarations `like` one another deeper than this are a mistake.
const DEEPEST_LIKE: usize = 32;
/// Declarations that take parameters.
const TAKE_PARAMETERS: [&str; 4] = ["assembly", "detail", "product", "material"];

/// A statement with the scope its words are read in. Under `like` the clauses of one statement come from several scopes.
#[derive(Clone)]
pub(super) struct Node<'p> {
    pub statement: &'p Statement,
    pub scope: Scope,
    pub children: Vec<Node<'p>>,
}

impl<'p> Node<'p> {
    pub fn new(statement: &'p Statement, scope: &Scope) -> Self {
        let children = statement.clauses.iter().map(|clause| Node::new(clause, scope)).collect();
        Node { statement, scope: scope.clone(), children }
    }

    /// The name a statement gives, if its first argument is a name, dotted or not: `furring furring.spruce …`.
    fn name(&self) -> Option<String> {
        match &self.statement.arguments.first()?.kind {
            ItemKind::Path(path) => Some(written(path)),
            _ => None,
        }
    }

    /// The keyword, in the schema's spelling.
    fn keyword(&self) -> &str {
        schema::canonical(&self.statement.keyword.text)
    }
}

impl<'p> Evaluator<'p> {
    /// The scope inside a declaration: given arguments, then defaults, which see the parameters before them.
    pub(super) fn scope_of(&mut self, id: DeclarationId, given: &Arguments, from: Span) -> Scope {
        let project = self.project;
        self.notes.reads(id);
        let module = project.declaration(id).map_or(crate::resolve::ModuleId(0), |declaration| declaration.module);
        let name = project.declaration(id).map(|declaration| &*declaration.name).unwrap_or_default();
        let mut scope = Scope { module, parameters: Arc::default() };
        let mut values = BTreeMap::new();
        for entry in parameters(project.statement(id)) {
            let Some(parameter) = parameter_name(entry) else { continue };
            let value = match given.get(&parameter.text) {
                Some(value) => value.clone(),
                None if entry.name.is_some() => self.value(&entry.value, &scope),
                None => {
                    self.problem(problems::argument_missing(from, name, &parameter.text));
                    Value::Broken
                }
            };
            values.insert(parameter.text.clone(), value);
            scope.parameters = Arc::new(values.clone());
        }
        scope
    }

    /// Evaluates `name(parameter = value)` against the parameters of a declaration.
    pub(super) fn arguments(&mut self, id: DeclarationId, entries: &'p [Entry], scope: &Scope) -> Arguments {
        let project = self.project;
        if !entries.is_empty() {
            self.notes.reads(id);
        }
        let owner = project.declaration(id).map(|declaration| &*declaration.name).unwrap_or_default();
        let known: Vec<&str> =
            parameters(project.statement(id)).iter().filter_map(parameter_name).map(|word| &*word.text).collect();
        let mut given = BTreeMap::new();
        let mut places: BTreeMap<&str, Span> = BTreeMap::new();
        for entry in entries {
            match &entry.name {
                None => self.problem(problems::unnamed_argument(entry.value.span, owner)),
                Some(name) if !known.contains(&&*name.text) => {
                    self.problem(problems::unknown_parameter(name, owner, known.iter().copied()));
                }
                Some(name) => match places.insert(&name.text, name.span) {
                    Some(first) => self.problem(problems::argument_twice(name, first)),
                    None => {
                        let value = self.value(&entry.value, scope);
                        let value = self.like_its_default(id, name, value, entry.value.span);
                        given.insert(name.text.clone(), value);
                    }
                },
            }
        }
        Arc::new(given)
    }

    /// A number given for a parameter must be of the dimension of its default, and is refused where it is given.
    fn like_its_default(&mut self, id: DeclarationId, name: &Word, value: Value, at: Span) -> Value {
        let project = self.project;
        let default = parameters(project.statement(id))
            .iter()
            .find(|entry| entry.name.as_ref().is_some_and(|own| own.text == name.text));
        let Value::Number(given) = value else { return value };
        let wanted = match default.map(|entry| &entry.value.kind) {
            Some(ItemKind::Quantity(literal)) => units::evaluate(literal).ok(),
            Some(ItemKind::FeetInches(feet, inches)) => units::feet_inches(feet, inches).ok(),
            _ => None,
        };
        match wanted {
            Some(wanted) if given.in_dimension(wanted.dimension()).is_none() => {
                let written = project.files.slice(at).to_owned();
                let problem = units::mismatch(&written, given, wanted.dimension()).at(at, at);
                self.problem(match default {
                    Some(entry) => problem.also(entry.value.span, format!("the default of `{}`", name.text)),
                    None => problem,
                });
                Value::Broken
            }
            _ => value,
        }
    }

    /// What can be wrong with the parameters of a declaration, used or not.
    pub(super) fn parameters_make_sense(&mut self) {
        let project = self.project;
        for (at, declaration) in project.declarations.iter().enumerate() {
            let statement = project.statement(DeclarationId(at as u32));
            if parameters(statement).is_empty() || self.kept.was_sound(at) {
                continue;
            }
            let problems = self.notes.problems.len();
            let mut first: BTreeMap<&str, Span> = BTreeMap::new();
            for word in parameters(statement).iter().filter_map(parameter_name) {
                if !TAKE_PARAMETERS.contains(&declaration.kind) {
                    self.problem(problems::takes_no_parameters(word.span, declaration.kind));
                    break;
                }
                if let Some(first) = first.insert(&word.text, word.span) {
                    self.problem(problems::argument_twice(word, first));
                } else if let Some(statement) = statement.filter(|one| !any_broken(one))
                    && !mentions(project.files.slice(statement.span), &word.text)
                {
                    self.problem(problems::parameter_unused(word, &declaration.name));
                }
            }
            if problems == self.notes.problems.len() {
                self.kept.is_sound(at);
            }
        }
    }

    /// Whether a declaration has parameters without a default, and unset values for these.
    pub(super) fn without_defaults(&self, id: DeclarationId) -> (bool, Arguments) {
        let wanting = parameters(self.project.statement(id)).iter().filter(|entry| entry.name.is_none());
        let unset: BTreeMap<Box<str>, Value> =
            wanting.filter_map(|entry| Some((entry.value.word()?.text.clone(), Value::Broken))).collect();
        (!unset.is_empty(), Arc::new(unset))
    }

    /// The clauses of a declaration after `like`, `without` and `after` have been followed.
    pub(super) fn body(
        &mut self,
        id: DeclarationId,
        statement: &'p Statement,
        scope: &Scope,
        depth: usize,
    ) -> Vec<Node<'p>> {
        let own: Vec<Node<'p>> = statement.clauses.iter().map(|clause| Node::new(clause, scope)).collect();
        let Some(like) = own.iter().find(|node| node.keyword() == "like") else { return own };
        let Some(item) = like.statement.arguments.first() else { return own };
        let (path, entries): (&[Word], &[Entry]) = match &item.kind {
            ItemKind::Path(path) => (path, &[]),
            ItemKind::Call(path, entries) => (path, entries),
            _ => return own,
        };
        let Lookup::Found(base) = resolve_path(self.project, scope.module, path) else { return own };
        let kind_of = |id| self.project.declaration(id).map_or("", |declaration| declaration.kind);
        // What is like itself, or like a thing of another kind, is reported where the reference is read.
        if base == id || depth > DEEPEST_LIKE || kind_of(base) != kind_of(id) {
            return own;
        }
        let Some(base_statement) = self.project.statement(base) else { return own };
        let arguments = self.arguments(base, entries, scope);
        let base_scope = self.scope_of(base, &arguments, item.span);
        let inherited = self.body(base, base_statement, &base_scope, depth + 1);
        self.merge(inherited, own)
    }

    fn merge(&mut self, mut base: Vec<Node<'p>>, own: Vec<Node<'p>>) -> Vec<Node<'p>> {
        base.retain(|node| node.keyword() != "like");
        for node in own {
            match node.keyword() {
                "like" => base.push(node),
                "without" => self.remove(&mut base, &node),
                "after" => self.insert_after(&mut base, node),
                _ => self.replace_or_add(&mut base, node),
            }
        }
        base
    }

    fn remove(&mut self, base: &mut Vec<Node<'p>>, node: &Node<'p>) {
        let Some(name) = node.name() else { return };
        let before = base.len();
        base.retain(|other| other.name().as_deref() != Some(&*name) && other.keyword() != schema::canonical(&name));
        if base.len() == before {
            self.problem(problems::nothing_to_remove(node.statement.head_span(), &name));
        }
    }

    fn insert_after(&mut self, base: &mut Vec<Node<'p>>, node: Node<'p>) {
        let Some(name) = node.name() else { return };
        match base.iter().position(|other| other.name().as_deref() == Some(&*name)) {
            Some(at) => {
                base.splice(at + 1..at + 1, node.children);
            }
            None => self.problem(problems::nothing_to_remove(node.statement.head_span(), &name)),
        }
    }

    /// The same keyword and name replaces in place, clause by clause; anything else is added.
    fn replace_or_add(&mut self, base: &mut Vec<Node<'p>>, node: Node<'p>) {
        let same = |other: &Node<'p>| {
            other.keyword() == node.keyword()
                && (!may_repeat(node.keyword()) || other.name() == node.name() && node.name().is_some())
        };
        match base.iter().position(same).and_then(|at| base.get_mut(at)) {
            None => base.push(node),
            Some(old) => {
                // `part flashing { … }` names what it changes; `controls water` says all it has to say.
                let names_only = may_repeat(node.keyword()) && node.statement.arguments.len() <= 1;
                let only_named = names_only && old.statement.arguments.len() > 1;
                let children = self.merge(std::mem::take(&mut old.children), node.children);
                if only_named {
                    old.children = children;
                } else {
                    *old = Node { children, ..node };
                }
            }
        }
    }
}

/// Whether anything in a statement could not be read.
fn any_broken(statement: &Statement) -> bool {
    statement.broken || statement.clauses.iter().any(any_broken)
}

/// Whether a word stands in a text beside the place where it is declared; quotes count, so that nothing is blamed wrongly.
fn mentions(text: &str, word: &str) -> bool {
    let part = |character: char| character.is_alphanumeric() || character == '_';
    let lines = text.lines().filter(|line| !line.trim_start().starts_with("//"));
    lines.flat_map(|line| line.split(|character: char| !part(character))).filter(|one| *one == word).count() > 1
}

/// Whether a keyword may stand more than once where it stands.
fn may_repeat(keyword: &str) -> bool {
    static REPEATED: OnceLock<BTreeSet<&'static str>> = OnceLock::new();
    let repeated = REPEATED.get_or_init(|| schema::rows().filter(|row| row.many).map(|row| row.word).collect());
    repeated.contains(keyword)
}

/// The parameters of a declaration: entries behind its name.
pub fn parameters(statement: Option<&Statement>) -> &[Entry] {
    match statement.and_then(|statement| statement.arguments.first()).map(|item| &item.kind) {
        Some(ItemKind::Call(_, entries)) => entries,
        _ => &[],
    }
}

fn parameter_name(entry: &Entry) -> Option<&Word> {
    entry.name.as_ref().or_else(|| entry.value.word())
}

/// A path as written.
pub(super) fn written(path: &[Word]) -> String {
    path.iter().map(|word| &*word.text).collect::<Vec<_>>().join(".")
}
