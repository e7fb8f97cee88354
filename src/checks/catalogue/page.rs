//! The printed table of failures: what looks for each of them, with links to the case files that prove it.

use std::fmt::Write as _;

use super::fill::{Piece, pieces};
use super::{FAMILIES, Failure, How, failures};

const HEAD: &str = "\
# What Wythe looks for, what eyes must see, and what nobody claims

Made from `src/checks/catalogue` by `UPDATE=1 cargo test --test tidy`; do not edit. The numbers are those of the trade
reference. A number in a line for eyes is the limit of the rule set in force.

";

/// The whole page, in Markdown. `cases` gives the case files of a rule, relative to `tests/cases`.
pub fn page(cases: impl Fn(&str) -> Vec<String>) -> String {
    let mut out = HEAD.to_owned();
    let total = failures().count();
    let number = |wanted: fn(&Failure) -> bool| failures().filter(|row| wanted(row)).count();
    let checked = number(|row| matches!(row.how, How::Checked(_)));
    let both = number(|row| matches!(row.how, How::Checked(_)) && row.look.is_some());
    let eyes = number(|row| row.how == How::HoldPoint);
    let none = number(|row| matches!(row.how, How::NotClaimed { .. }));
    let _ = writeln!(
        out,
        "{total} failures: **{checked}** checked by rules ({both} of them also on the hold-point sheet), **{eyes}** on the \
         hold-point sheet\nonly, **{none}** not claimed."
    );
    for family in FAMILIES {
        let _ = writeln!(
            out,
            "\n## {}\n\n| id | failure | class | rules and cases | line for eyes, or why not |",
            family.title
        );
        out.push_str("|---|---|---|---|---|\n");
        for row in family.rows {
            out.push_str(&line(row, &cases));
        }
    }
    out
}

fn line(row: &Failure, cases: &impl Fn(&str) -> Vec<String>) -> String {
    let (class, why) = match row.how {
        How::Checked(_) if row.look.is_some() => ("check, eyes", String::new()),
        How::Checked(_) => ("check", String::new()),
        How::HoldPoint => ("eyes", String::new()),
        How::NotClaimed { why, .. } => ("not claimed", why.to_owned()),
    };
    let rules: Vec<String> = row.rules().iter().map(|rule| linked(rule, &cases(rule))).collect();
    let look = row.look.map_or(why, |look| {
        let photo = if look.photo { "; photo" } else { "" };
        format!("{} · {} ({}{photo})", look.before, plain(look.text), look.who)
    });
    format!("| {} | {} | {class} | {} | {look} |\n", row.id, row.title, rules.join("; "))
}

/// `drain.no_exit` with a link for each case.
fn linked(rule: &str, cases: &[String]) -> String {
    let stem = rule.replace('.', "_");
    let links = cases.iter().map(|path| {
        let file = path.rsplit('/').next().unwrap_or(path).trim_end_matches(".wythe");
        let kind = file.strip_prefix(&stem).unwrap_or(file).trim_start_matches('.');
        format!("[{kind}]({path})")
    });
    format!("`{rule}`: {}", links.collect::<Vec<_>>().join(" "))
}

fn plain(text: &str) -> String {
    let of = |piece| match piece {
        Piece::Words(words) => words.to_owned(),
        Piece::Limit(name) => format!("`{name}`"),
        Piece::Length(length) => crate::units::display::mm(length),
    };
    pieces(text).into_iter().map(of).collect()
}
