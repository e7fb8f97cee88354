//! Rule sets: limits and options, and what the project overrides in them.

use std::collections::BTreeMap;

use super::{Builder, problems};
use crate::eval::{Bound, Instance, Value};
use crate::model::{DISPUTES, Dispute, Limit, RuleSet, Sureness};
use crate::units::System;

/// What all limits of one set share.
struct Shared {
    title: String,
    edition: String,
}

impl Builder<'_> {
    pub(super) fn rule_set(&mut self, instance: &Instance) -> RuleSet {
        let bound = &instance.bound;
        let title = text(bound, "title", "text");
        let title = if title.is_empty() { instance.name.replace('_', " ") } else { title };
        let shared = Shared { title, edition: text(bound, "edition", "text") };
        let mut set = RuleSet {
            name: instance.name.to_string(),
            jurisdiction: text(bound, "jurisdiction", "text"),
            limits: limits(bound, "limit", &shared),
            options: limits(bound, "option", &shared),
            own: self.is_own(instance),
            title: shared.title,
            edition: shared.edition,
        };
        if set.own {
            self.options_make_sense(bound);
            set.options.retain(|name, option| dispute(name).is_some_and(|one| takes(one, option)));
        }
        let base = bound.clause("like").and_then(|clause| clause.instance("base"));
        if let Some(base) = base.and_then(|id| self.evaluated.instance(id)) {
            let base_set = self.rule_set(base);
            for (word, own, its) in
                [("limit", &mut set.limits, base_set.limits), ("option", &mut set.options, base_set.options)]
            {
                inherit(word, (bound, &base.bound), own, its, self.model.project.units);
            }
        }
        set
    }

    fn is_own(&self, instance: &Instance) -> bool {
        let declared = self.project.declaration(instance.declaration);
        declared.and_then(|one| self.project.module(one.module)).is_some_and(|module| !module.is_std)
    }

    /// Options with names or words that no rule reads. Those of the library are held by a test.
    fn options_make_sense(&mut self, bound: &Bound) {
        for clause in bound.all("option") {
            let Some(name) = clause.path("name") else { continue };
            // What is taken from another set is reported there.
            if clause.span.file != bound.span.file {
                continue;
            }
            match dispute(&name) {
                None => self.problem(problems::no_such_option(clause.span_of("name"), &name)),
                Some(one) => {
                    let given = value(clause, "choice");
                    let word =
                        given.as_ref().and_then(|value| if let Value::Text(word) = value { Some(word) } else { None });
                    if !word.is_some_and(|word| one.choices.contains(&&**word)) && !clause.broken {
                        self.problem(problems::no_such_choice(clause.span_of("choice"), one));
                    }
                }
            }
        }
    }

    /// Sets of the project stand in place of what lower sets say; told once all sets are known.
    pub(super) fn overrides(&mut self) {
        let units = self.model.project.units;
        let mut below: Vec<RuleSet> = Vec::new();
        for set in self.model.rule_sets.iter_mut().rev() {
            if set.own {
                replace(&mut set.limits, |name| below.iter().rev().find_map(|set| set.limits.get(name)), units);
                replace(&mut set.options, |name| below.iter().rev().find_map(|set| set.options.get(name)), units);
            }
            below.push(set.clone());
        }
    }
}

fn dispute(name: &str) -> Option<&'static Dispute> {
    DISPUTES.iter().find(|one| one.name == name)
}

fn takes(dispute: &Dispute, option: &Limit) -> bool {
    option.word().is_some_and(|word| dispute.choices.contains(&word))
}

fn text(bound: &Bound, word: &str, label: &str) -> String {
    bound.clause(word).and_then(|clause| clause.text(label)).map(|text| text.to_string()).unwrap_or_default()
}

/// A value of a limit or an option; a word is kept as text.
fn value(clause: &Bound, label: &str) -> Option<Value> {
    Some(match clause.get(label)? {
        Value::Path(words) => Value::Text(words.iter().map(|word| &*word.text).collect::<Vec<_>>().join(".").into()),
        value => value.clone(),
    })
}

fn limits(bound: &Bound, word: &str, shared: &Shared) -> BTreeMap<String, Limit> {
    let label = if word == "limit" { "value" } else { "choice" };
    let made = bound.all(word).filter_map(|limit| {
        let made = Limit {
            value: value(limit, label)?,
            clause: text(limit, "clause", "text"),
            source: text(limit, "source", "text"),
            edition: shared.edition.clone(),
            set: shared.title.clone(),
            sure: sureness(limit),
            instead_of: None,
            origin: limit.span,
        };
        Some((limit.path("name")?, made))
    });
    made.collect()
}

fn sureness(limit: &Bound) -> Sureness {
    limit.clause("sure").and_then(|clause| clause.word("how")).map_or(Sureness::Memory, Sureness::from_word)
}

/// Under `like`: an untouched line is still the other set's, and a changed one does not borrow its clause, source and
/// sureness, for they were said of another number.
fn inherit(
    word: &str,
    (bound, base): (&Bound, &Bound),
    own: &mut BTreeMap<String, Limit>,
    mut its: BTreeMap<String, Limit>,
    units: System,
) {
    for (name, limit) in own.iter_mut() {
        let Some(base_limit) = its.remove(name) else { continue };
        if base_limit.origin == limit.origin {
            *limit = base_limit;
            continue;
        }
        let named = |bound: &Bound| bound.all(word).find(|one| one.path("name").as_deref() == Some(name)).cloned();
        if let (Some(own), Some(base)) = (named(bound), named(base)) {
            let borrowed = |clause: &str| {
                let span = |bound: &Bound| bound.clause(clause).map(|clause| clause.span);
                span(&own).is_some() && span(&own) == span(&base)
            };
            if borrowed("clause") {
                limit.clause.clear();
            }
            if borrowed("source") {
                limit.source.clear();
            }
            if borrowed("sure") {
                limit.sure = Sureness::Memory;
            }
        }
        stand_in(limit, name, &base_limit, units);
    }
}

fn replace<'b>(own: &mut BTreeMap<String, Limit>, below: impl Fn(&str) -> Option<&'b Limit>, units: System) {
    for (name, limit) in own.iter_mut().filter(|(_, limit)| limit.instead_of.is_none()) {
        if let Some(other) = below(name).filter(|other| other.origin != limit.origin) {
            stand_in(limit, name, other, units);
        }
    }
}

fn stand_in(limit: &mut Limit, name: &str, other: &Limit, units: System) {
    if limit.value != other.value {
        let (now, was) = (limit.shown(name, units), other.shown(name, units));
        limit.instead_of = Some(format!("overridden by project: {now}, was {was} by {}", other.citation()));
    }
}
