//! Rules of the office: conditions over properties of the wall, written in the language, checked like built-in ones.

mod compare;
mod properties;

pub use properties::known;

use std::collections::BTreeSet;
use std::sync::{Mutex, PoisonError};

use super::{CheckContext, Finding, Grade};
use crate::diagnose::Severity;
use crate::model::OfficeRule;
use compare::{Answer, compare};
use properties::{Thing, things};

/// Asks every rule of the office of everything it is for.
pub fn run(context: &CheckContext<'_>, report: &mut Vec<Finding>) {
    for rule in &context.model.office_rules {
        for thing in things(context, rule.subject) {
            let asked =
                rule.filters.iter().all(|filter| compare(&thing.property(&filter.property), filter) == Answer::True);
            if asked {
                ask(context, rule, &thing, report);
            }
        }
    }
}

fn ask(context: &CheckContext<'_>, rule: &OfficeRule, thing: &Thing, report: &mut Vec<Finding>) {
    for want in &rule.wants {
        let found = thing.property(&want.property);
        let answer = compare(&found, want);
        let mut finding = match answer {
            Answer::True => continue,
            Answer::False => fault(rule, thing, format!("`{}`: {}", thing.name, rule.says)),
            Answer::CannotTell => {
                let missing = format!("`{}` of `{}` is not declared", want.property, thing.name);
                Finding {
                    severity: Severity::Unknown,
                    missing: Some(missing.clone()),
                    ..fault(rule, thing, format!("cannot tell whether {}: {missing}", rule.says))
                }
            }
        };
        finding.measured = found.measure(context.units());
        finding.limit = compare::wanted(want, context.units());
        finding.others.push((want.origin, "the rule".to_owned()));
        report.push(match thing.stretch {
            Some((face, from, to)) => context.on_face(finding, face, &thing.name, from, to),
            None => finding,
        });
    }
}

fn fault(rule: &OfficeRule, thing: &Thing, message: String) -> Finding {
    let grade = match rule.grade {
        "S1" => Grade::S1,
        "S2" => Grade::S2,
        "S4" => Grade::S4,
        _ => Grade::S3,
    };
    let source =
        if rule.source.is_empty() { "office rule".to_owned() } else { format!("office rule, {}", rule.source) };
    let finding = Finding {
        rule: kept_name(&rule.name),
        severity: Severity::Warning,
        grade,
        subject: thing.subject.clone(),
        message,
        at: thing.origin,
        others: Vec::new(),
        place: String::new(),
        stretch: None,
        measured: None,
        limit: None,
        basis: super::Basis::default(),
        help: rule.advice.iter().map(|advice| advice.to_string()).collect(),
        fixes: Vec::new(),
        defences: None,
        behind: Vec::new(),
        before: rule.before,
        missing: None,
        path: Vec::new(),
    };
    finding.on_principle(&format!("{source} ({})", rule.sure.phrase()), rule.sure.is_firm())
}

/// `office.NAME`, kept once for each name for the life of the program, as the ids of built-in rules are.
fn kept_name(name: &str) -> &'static str {
    static NAMES: Mutex<BTreeSet<&'static str>> = Mutex::new(BTreeSet::new());
    let full = format!("office.{name}");
    // The set is only ever added to, so a panic elsewhere cannot have left it half done.
    let mut names = NAMES.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(known) = names.get(full.as_str()) {
        return known;
    }
    let kept: &'static str = Box::leak(full.into_boxed_str());
    names.insert(kept);
    kept
}
