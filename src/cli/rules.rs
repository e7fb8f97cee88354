//! `wythe rules`: every rule in one line of words, with the numbers it reads, whose they are, and what the project changed.

use std::fmt::Write as _;

use schemars::JsonSchema;
use serde::Serialize;

use super::args::{ListReport, Rules};
use super::place::Place;
use super::talk::print;
use super::{Ending, Outer};
use crate::checks::{RULES, RuleMeta};
use crate::diagnose::did_you_mean;
use crate::emit::findings::not_checked::wrapped;
use crate::emit::findings::text::work;
use crate::emit::footer::{count, rule_set_titles};
use crate::model::{DISPUTES, Limit, Model, OfficeRule};
use crate::resolve::library;
use crate::session::{Checked, Settings, check};
use crate::source::MapWorld;

/// The library's rule set that is always asked last.
const LAST: &str = "common_practice";

pub(super) fn run(given: &Rules) -> Result<Ending, Outer> {
    let checked = asked(given)?;
    print(&match given.report {
        ListReport::Text => text(&checked),
        ListReport::Json => json(&checked),
    })?;
    Ok(Ending::Clean)
}

/// The project, or an empty one; with the rule set that was named in place of its own.
fn asked(given: &Rules) -> Result<Checked, Outer> {
    let project = match &given.path {
        Some(path) => {
            let place = Place::find(path)?;
            Some(check(&place.world, &place.roots, &Settings::default()))
        }
        None => None,
    };
    let Some(name) = &given.limits else {
        return Ok(project.unwrap_or_else(|| with_set(LAST)));
    };
    let own = project.as_ref().is_some_and(|checked| checked.model.rule_sets.iter().any(|set| set.name == *name));
    let mut checked = match project {
        Some(checked) if own => checked,
        other => {
            if !library_sets().contains(&name.as_str()) {
                return Err(unknown(name, other.as_ref()));
            }
            let mut named = with_set(name);
            if let Some(project) = other {
                named.model.office_rules = project.model.office_rules;
                named.model.project = project.model.project;
            }
            named
        }
    };
    checked.model.rule_sets.retain(|set| set.name == *name || set.name == LAST);
    Ok(checked)
}

/// A project with nothing but a site under this rule set of the library.
fn with_set(name: &str) -> Checked {
    let text = format!("wythe 1\n\nsite somewhere {{\n    limits std.limits.{name}\n}}\n");
    check(&MapWorld::new().with("site.wythe", &text), &["site.wythe".to_owned()], &Settings::default())
}

/// Names of the rule sets of the library, in the order of its modules.
fn library_sets() -> Vec<&'static str> {
    let lines = library::names().filter_map(library::text).flat_map(str::lines);
    lines.filter_map(|line| line.strip_prefix("limits ")?.split([' ', '{']).next()).collect()
}

fn unknown(name: &str, project: Option<&Checked>) -> Outer {
    let own = project.into_iter().flat_map(|checked| &checked.model.rule_sets).map(|set| set.name.as_str());
    let mut known: Vec<&str> = library_sets().into_iter().chain(own).collect();
    known.sort_unstable();
    known.dedup();
    let near = did_you_mean(name, known.iter().copied());
    Outer::UnknownLimits {
        name: name.to_owned(),
        help: near.unwrap_or_else(|| format!("there are: {}", known.join(", "))),
    }
}

fn text(checked: &Checked) -> String {
    let model = &checked.model;
    let mut out = count(RULES.len(), "rule", "rules");
    let _ = writeln!(out, ", by these rule sets, the first that has a number wins:");
    for title in rule_set_titles(checked) {
        out.push_str(&wrapped(&title, 2));
    }
    for meta in RULES.iter().map(|rule| rule.meta()) {
        out.push_str(&rule(meta, model));
    }
    let sides: Vec<(&str, &Limit)> =
        DISPUTES.iter().filter_map(|one| Some((one.name, option(model, one.name)?))).collect();
    listed(
        &mut out,
        "Sides taken in disputes of the trade",
        sides
            .into_iter()
            .map(|(name, side)| format!("{name} {} · {}", side.shown(name, model.project.units), whose(side))),
    );
    let overrides = model.rule_sets.iter().flat_map(|set| set.overrides());
    let overrides = overrides.map(|(name, limit)| {
        let what = limit.instead_of.as_deref().unwrap_or_default();
        format!("{name}: {}", what.strip_prefix("overridden by project: ").unwrap_or(what))
    });
    listed(&mut out, "Overridden by the project", overrides);
    listed(&mut out, "Rules of the office", model.office_rules.iter().map(office));
    out
}

fn listed(out: &mut String, heading: &str, lines: impl Iterator<Item = String>) {
    let lines: Vec<String> = lines.collect();
    if !lines.is_empty() {
        let _ = writeln!(out, "\n{heading}");
        lines.iter().for_each(|line| out.push_str(&wrapped(line, 2)));
    }
}

/// A rule with its numbers, a fact a line.
fn rule(meta: &RuleMeta, model: &Model) -> String {
    let listed = if meta.catalogue.is_empty() { String::new() } else { format!("  {}", meta.catalogue) };
    let mut out = format!("\n{}{listed}\n", meta.id);
    out.push_str(&wrapped(meta.title, 2));
    let before = work(meta.before).map(|work| format!(" · before {}, {work}", meta.before)).unwrap_or_default();
    out.push_str(&wrapped(&format!("{} {}{before}", meta.grade.word(), meta.grade.phrase()), 2));
    for name in meta.limits {
        match model.limit(name).or_else(|| option(model, name)) {
            Some(limit) => {
                out.push_str(&wrapped(&format!("{name} {}", limit.shown(name, model.project.units)), 4));
                out.push_str(&wrapped(&whose(limit), 6));
            }
            None => out.push_str(&wrapped(&format!("{name}: no rule set in force holds it"), 4)),
        }
    }
    out
}

/// "NBC Part 9, 9.27.2.4.(1), 2020 · read in a summary". A limit that is not firm says so in its citation.
fn whose(limit: &Limit) -> String {
    let how = if limit.sure.is_firm() { format!(" · {}", limit.sure.phrase()) } else { String::new() };
    format!("{}{how}", limit.citation())
}

fn option<'m>(model: &'m Model, name: &str) -> Option<&'m Limit> {
    model.rule_sets.iter().find_map(|set| set.options.get(name))
}

fn office(rule: &OfficeRule) -> String {
    let whose = if rule.source.is_empty() { String::new() } else { format!(" · {}", rule.source) };
    let before = work(rule.before).map(|work| format!(" · before {}, {work}", rule.before)).unwrap_or_default();
    format!("office.{}: {} · {}{before}{whose} · {}", rule.name, rule.says, rule.grade, rule.sure.phrase())
}

#[derive(JsonSchema, Serialize)]
struct List<'m> {
    schema: u32,
    rule_sets: Vec<String>,
    rules: Vec<Entry<'m>>,
    options: Vec<Read<'m>>,
    overrides: Vec<Read<'m>>,
    office_rules: Vec<Office<'m>>,
}

#[derive(JsonSchema, Serialize)]
struct Entry<'m> {
    id: &'static str,
    catalogue: Option<&'static str>,
    title: &'static str,
    grade: &'static str,
    before: &'static str,
    limits: Vec<Read<'m>>,
}

/// A number as it is read; all but the name is `null` where no rule set in force holds it.
#[derive(JsonSchema, Serialize)]
struct Read<'m> {
    name: &'m str,
    shown: Option<String>,
    si: Option<f64>,
    set: Option<&'m str>,
    clause: Option<&'m str>,
    edition: Option<&'m str>,
    sure: Option<&'static str>,
    source: Option<&'m str>,
    instead_of: Option<&'m str>,
}

#[derive(JsonSchema, Serialize)]
struct Office<'m> {
    id: String,
    says: &'m str,
    grade: &'static str,
    before: &'static str,
    source: Option<&'m str>,
    sure: &'static str,
}

/// The shape of what [`json`] gives, as JSON Schema.
pub(super) fn schema() -> serde_json::Value {
    crate::emit::schemas::of::<List<'_>>()
}

fn json(checked: &Checked) -> String {
    let model = &checked.model;
    let entry = |meta: &'static RuleMeta| Entry {
        id: meta.id,
        catalogue: some(meta.catalogue),
        title: meta.title,
        grade: meta.grade.word(),
        before: meta.before,
        limits: meta.limits.iter().map(|name| read(model, name)).collect(),
    };
    let overrides = model.rule_sets.iter().flat_map(|set| set.overrides());
    let list = List {
        schema: 1,
        rule_sets: rule_set_titles(checked),
        rules: RULES.iter().map(|rule| entry(rule.meta())).collect(),
        options: DISPUTES.iter().map(|one| read(model, one.name)).collect(),
        overrides: overrides.map(|(name, limit)| of(model, name, Some(limit))).collect(),
        office_rules: model.office_rules.iter().map(office_entry).collect(),
    };
    serde_json::to_string_pretty(&list).unwrap_or_default() + "\n"
}

fn office_entry(rule: &OfficeRule) -> Office<'_> {
    Office {
        id: format!("office.{}", rule.name),
        says: &rule.says,
        grade: rule.grade,
        before: rule.before,
        source: some(&rule.source),
        sure: rule.sure.phrase(),
    }
}

fn read<'m>(model: &'m Model, name: &'m str) -> Read<'m> {
    of(model, name, model.limit(name).or_else(|| option(model, name)))
}

fn of<'m>(model: &Model, name: &'m str, limit: Option<&'m Limit>) -> Read<'m> {
    Read {
        name,
        shown: limit.map(|limit| limit.shown(name, model.project.units)),
        si: limit.and_then(Limit::number),
        set: limit.and_then(|limit| some(&limit.set)),
        clause: limit.and_then(|limit| some(&limit.clause)),
        edition: limit.and_then(|limit| some(&limit.edition)),
        sure: limit.map(|limit| limit.sure.phrase()),
        source: limit.and_then(|limit| some(&limit.source)),
        instead_of: limit.and_then(|limit| limit.instead_of.as_deref()),
    }
}

fn some(text: &str) -> Option<&str> {
    Some(text).filter(|text| !text.is_empty())
}
