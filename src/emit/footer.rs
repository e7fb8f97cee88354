//! The line that every output carries: what was found, that it is no approval, and by which rules.

use crate::diagnose::Severity;
use crate::session::Account;

/// "2 faults, 1 accepted · this is not approval · rules: NBC Part 9, 2020 · 3 checks could not tell · defer to the local
/// code and licensed practice". The same words stand under the report and on every sheet.
pub fn footer_line<'w>(of: impl Into<Account<'w>>) -> String {
    let account = of.into();
    [
        found(account),
        "this is not approval".to_owned(),
        rule_sets(account),
        could_not_tell(account),
        "defer to the local code and licensed practice".to_owned(),
    ]
    .join(" · ")
}

/// Titles and editions of the rule sets in force, in the order in which they are asked.
pub fn rule_set_titles<'w>(of: impl Into<Account<'w>>) -> Vec<String> {
    let mut titles = Vec::new();
    for set in &of.into().model.rule_sets {
        let name = if set.title.is_empty() { &set.name } else { &set.title };
        let overrides = match set.overrides().count() {
            0 => String::new(),
            number => format!("overrides {}", count(number, "limit", "limits")),
        };
        let parts = [name.as_str(), &set.edition, &overrides];
        titles.push(parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", "));
    }
    titles
}

/// Faults break published limits, warnings limits from memory or habit; both deny "no fault found".
pub(super) fn found<'w>(of: impl Into<Account<'w>>) -> String {
    let account = of.into();
    let summary = account.summary;
    let mistakes = account.problems.iter().filter(|problem| problem.severity == Severity::Violation).count();
    let doubts = account.problems.iter().filter(|problem| problem.severity == Severity::Warning).count();
    let faults = summary.violations.saturating_sub(mistakes);
    let warnings = summary.warnings.saturating_sub(doubts);
    let counted = [
        (mistakes + doubts, "mistake in the text", "mistakes in the text"),
        (faults, "fault", "faults"),
        (warnings, "warning", "warnings"),
    ];
    let counted = counted.into_iter().filter(|&(number, ..)| number > 0);
    let mut parts: Vec<String> = counted.map(|(number, one, many)| count(number, one, many)).collect();
    if parts.is_empty() {
        let nothing = if account.model.faces.is_empty() { " (no face is declared)" } else { "" };
        parts.push(format!("No fault found in what was declared{nothing}"));
    }
    if summary.accepted > 0 {
        parts.push(format!("{} accepted", summary.accepted));
    }
    parts.join(", ")
}

fn rule_sets(account: Account<'_>) -> String {
    let titles = rule_set_titles(account);
    if titles.is_empty() { "no rule set".to_owned() } else { format!("rules: {}", titles.join("; ")) }
}

/// How many checks could not tell; a face whose text has mistakes was not checked at all, and that is said first.
fn could_not_tell(account: Account<'_>) -> String {
    let unread = account.model.faces.iter().filter(|face| face.broken).count();
    let untold = match account.summary.unknown {
        0 if unread > 0 => "every other check could tell".to_owned(),
        0 => "every check could tell".to_owned(),
        unknown => count(unknown, "check could not tell", "checks could not tell"),
    };
    match unread {
        0 => untold,
        _ => format!("{} not checked, for mistakes in the text · {untold}", count(unread, "face", "faces")),
    }
}

/// `1 fault`, `2 faults`.
pub fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}
