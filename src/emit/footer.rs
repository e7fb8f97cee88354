//! The line that every output carries: what was found, that it is no approval, and by which rules.

use crate::diagnose::Severity;
use crate::session::Checked;

/// "2 faults, 1 accepted · this is not approval · rules: NBC Part 9, 2020 · 3 checks could not tell · defer to the local
/// code and licensed practice". The same words stand under the report and on every sheet.
pub fn footer_line(checked: &Checked) -> String {
    [
        found(checked),
        "this is not approval".to_owned(),
        rule_sets(checked),
        could_not_tell(checked),
        "defer to the local code and licensed practice".to_owned(),
    ]
    .join(" · ")
}

/// Titles and editions of the rule sets in force, in the order in which they are asked.
pub fn rule_set_titles(checked: &Checked) -> Vec<String> {
    let mut titles = Vec::new();
    for set in &checked.model.rule_sets {
        let name = if set.title.is_empty() { &set.name } else { &set.title };
        let title = [name.as_str(), &set.edition].into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>();
        titles.push(title.join(", "));
    }
    titles
}

fn found(checked: &Checked) -> String {
    let is_fault = |severity| matches!(severity, Severity::Violation | Severity::Warning);
    let mistakes = checked.problems.iter().filter(|problem| is_fault(problem.severity)).count();
    let open = checked.findings.iter().filter(|settled| settled.accepted.is_none());
    let faults = open.filter(|settled| is_fault(settled.finding.severity)).count();
    let mut parts = Vec::new();
    if mistakes > 0 {
        parts.push(count(mistakes, "mistake in the text", "mistakes in the text"));
    }
    if faults > 0 {
        parts.push(count(faults, "fault", "faults"));
    }
    if parts.is_empty() {
        let nothing = if checked.model.faces.is_empty() { " (no face is declared)" } else { "" };
        parts.push(format!("No fault found in what was declared{nothing}"));
    }
    if checked.summary.accepted > 0 {
        parts.push(format!("{} accepted", checked.summary.accepted));
    }
    parts.join(", ")
}

fn rule_sets(checked: &Checked) -> String {
    let titles = rule_set_titles(checked);
    if titles.is_empty() { "no rule set".to_owned() } else { format!("rules: {}", titles.join("; ")) }
}

fn could_not_tell(checked: &Checked) -> String {
    match checked.summary.unknown {
        0 => "every check could tell".to_owned(),
        unknown => count(unknown, "check could not tell", "checks could not tell"),
    }
}

/// `1 fault`, `2 faults`.
pub fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}
