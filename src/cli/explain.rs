//! `wythe explain` and `wythe limits`: what is checked, why, and by which numbers.

use std::fmt::Write as _;

use super::args::{Explain, Limits};
use super::place::Place;
use super::talk::print;
use super::{Ending, Outer};
use crate::checks::{RULES, RuleMeta, rule};
use crate::diagnose::did_you_mean;
use crate::emit::findings::text::hold_point;
use crate::model::RuleSet;
use crate::session::{Settings, check};

pub(super) fn run(given: &Explain) -> Result<Ending, Outer> {
    let text = match &given.rule {
        None => list(),
        Some(name) => match rule(name) {
            Some(rule) => page(rule.meta()),
            None => return Err(unknown(name)),
        },
    };
    print(&text)?;
    Ok(Ending::Clean)
}

fn unknown(name: &str) -> Outer {
    let near = did_you_mean(name, RULES.iter().map(|rule| rule.meta().id));
    let help =
        near.unwrap_or_else(|| "`wythe explain` lists all rules; a mistake in the text explains itself".to_owned());
    Outer::UnknownRule { name: name.to_owned(), help }
}

/// One line for each rule, in the order in which they run.
fn list() -> String {
    let wide = RULES.iter().map(|rule| rule.meta().id.len()).max().unwrap_or(0);
    let mut out = String::new();
    for meta in RULES.iter().map(|rule| rule.meta()) {
        let number = if meta.catalogue.is_empty() { "-" } else { meta.catalogue };
        let _ = writeln!(out, "{:wide$}  {}  {number:6}  {}", meta.id, meta.grade.word(), meta.title);
    }
    out
}

fn page(meta: &RuleMeta) -> String {
    let mut out = format!("{}: {}\n", meta.id, meta.title);
    let number = if meta.catalogue.is_empty() { String::new() } else { format!(" · catalogue {}", meta.catalogue) };
    let _ = writeln!(out, "{} {}{}{number}", meta.grade.word(), meta.grade.phrase(), hold_point(meta.before));
    if !meta.limits.is_empty() {
        let _ = writeln!(out, "limits: {}", meta.limits.join(", "));
    }
    let _ = writeln!(out, "\n{}", meta.explain.trim());
    out
}

/// `wythe limits`: the numbers in force in a project, each with its source.
pub(super) fn limits(given: &Limits) -> Result<Ending, Outer> {
    let place = Place::find(&given.path)?;
    let checked = check(&place.world, &place.roots, &Settings::default());
    let mut out = String::new();
    for set in &checked.model.rule_sets {
        let _ = writeln!(out, "{}, {}", set.title, set.edition);
        for (name, limit) in set.limits.iter().chain(&set.options) {
            let above = checked.model.rule_sets.iter().take_while(|other| !std::ptr::eq::<RuleSet>(*other, set));
            let has = |other: &RuleSet| other.limits.contains_key(name) || other.options.contains_key(name);
            let outranked = above.into_iter().any(has);
            let note = if outranked { "; a set above it is asked first" } else { "" };
            // A limit that is not firm says so in its citation.
            let how = if limit.sure.is_firm() { format!(", {}", limit.sure.phrase()) } else { String::new() };
            let value = limit.shown(name, checked.model.project.units);
            let _ = writeln!(out, "  {name}  {value}  {}{how}{note}", limit.citation());
        }
    }
    print(&out)?;
    Ok(Ending::Clean)
}
