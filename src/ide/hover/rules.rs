//! Rules and limits: what is demanded, whose number it is, how sure.

use super::{Desk, list};
use crate::checks::{RuleMeta, rule};
use crate::eval::Bound;
use crate::model::{DISPUTES, Limit};
use crate::syntax::{ItemKind, Statement};

/// What a dotted name that stands for a rule or a limit says; `None` for any other.
pub(super) fn at(desk: &Desk<'_>, statement: &Statement) -> Option<Vec<String>> {
    let ItemKind::Path(words) = &desk.spot.item?.kind else { return None };
    let name = words.iter().map(|word| &*word.text).collect::<Vec<_>>().join(".");
    match &*statement.keyword.text {
        "accept" => rule(&name).map(|rule| of_rule(desk, rule.meta())).or_else(|| office(desk, &name)),
        "limit" => limit(desk, &name),
        "option" => option(desk, &name),
        _ => None,
    }
}

fn of_rule(desk: &Desk<'_>, meta: &RuleMeta) -> Vec<String> {
    let head = format!(
        "**{}**: {}\n\n{} {}{}",
        meta.id,
        meta.title,
        meta.grade.word(),
        meta.grade.phrase(),
        crate::emit::findings::text::hold_point(meta.before)
    );
    let parts: Vec<&str> = meta.explain.split("\n# ").collect();
    let part = |title: &str| {
        parts
            .iter()
            .find_map(|part| part.trim_start_matches("# ").strip_prefix(title))
            .map(|text| text.trim().to_owned())
    };
    let numbers: Vec<String> = meta.limits.iter().map(|name| in_force(desk, name)).collect();
    let mut lines = vec![head];
    lines.extend(part("What it checks"));
    lines.extend(part("Why"));
    if !numbers.is_empty() {
        lines.push(list(&numbers));
    }
    lines.extend(part("Basis").map(|basis| format!("basis: {basis}")));
    lines
}

/// The number in force under a name.
fn in_force(desk: &Desk<'_>, name: &str) -> String {
    match desk.glance.model.limit(name) {
        Some(limit) => shown(desk, name, limit),
        None => format!("`{name}`: no rule set in force has it"),
    }
}

fn shown(desk: &Desk<'_>, name: &str, limit: &Limit) -> String {
    // A limit that is not firm says so in its citation.
    let how = if limit.sure.is_firm() { format!(", {}", limit.sure.phrase()) } else { String::new() };
    format!("`{name}` {}: {}{how}", limit.shown(name, desk.units), limit.citation())
}

fn office(desk: &Desk<'_>, name: &str) -> Option<Vec<String>> {
    let own = name.strip_prefix("office.")?;
    let rule = desk.glance.model.office_rules.iter().find(|rule| rule.name == own)?;
    let source =
        if rule.source.is_empty() { String::new() } else { format!("\n\n{}, {}", rule.source, rule.sure.phrase()) };
    Some(vec![format!("**{name}**: {}{source}", rule.says)])
}

fn limit(desk: &Desk<'_>, name: &str) -> Option<Vec<String>> {
    let mut lines = vec![in_force(desk, name)];
    lines.extend(
        desk.glance
            .model
            .limit(name)
            .filter(|limit| !limit.source.is_empty())
            .map(|limit| format!("read in: {}", limit.source)),
    );
    let readers: Vec<&str> = crate::checks::RULES
        .iter()
        .map(|rule| rule.meta())
        .filter(|meta| meta.limits.contains(&name))
        .map(|meta| meta.id)
        .collect();
    if !readers.is_empty() {
        lines.push(format!("asked by {}", readers.join(", ")));
    }
    Some(lines)
}

fn option(desk: &Desk<'_>, name: &str) -> Option<Vec<String>> {
    let dispute = DISPUTES.iter().find(|dispute| dispute.name == name)?;
    let taken = desk
        .glance
        .model
        .option(name)
        .and_then(|limit| Some(format!("taken: {}, {}", limit.word()?, limit.citation())));
    let sides = format!("**{name}**: {}", dispute.choices.join(", "));
    Some([Some(sides), Some(dispute.says.to_owned()), taken].into_iter().flatten().collect())
}

/// A rule set: whose it is, and how many numbers it has.
pub(super) fn set(desk: &Desk<'_>, bound: &Bound) -> Vec<String> {
    let text = |word: &str| {
        bound
            .clause(word)
            .and_then(|clause| clause.values.first())
            .map(|slot| crate::ide::shown::value(&slot.value, word, desk.units, &desk.glance.evaluated))
    };
    let facts: Vec<String> = ["title", "edition", "jurisdiction"].into_iter().filter_map(text).collect();
    let count = bound.all("limit").count();
    vec![facts.join(", "), format!("{count} limits of its own")]
}
