//! Rules of the office: conditions over properties of the wall, written in the language, checked like built-in ones.

mod compare;
mod properties;

pub use properties::known;

use std::collections::BTreeSet;
use std::sync::{Mutex, PoisonError};

use super::{CheckContext, Finding, Grade};
use crate::diagnose::Severity;
use crate::model::{Condition, OfficeRule};
use compare::{Answer, compare};
use properties::{Thing, things};

/// Asks every rule of the office of everything it is for.
pub fn run(context: &CheckContext<'_>, report: &mut Vec<Finding>) {
    for rule in &context.model.office_rules {
        for thing in things(context, rule.subject) {
            let answer = |condition: &Condition| compare(&thing.property(&condition.property), condition);
            if rule.filters.iter().any(|filter| answer(filter) == Answer::False) {
                continue;
            }
            match rule.filters.iter().find(|filter| answer(filter) == Answer::CannotTell) {
                None => ask(context, rule, &thing, report),
                // Whether it is asked is not known; where all it wants is true, that does not matter.
                Some(_) if rule.wants.iter().all(|want| answer(want) == Answer::True) => {}
                Some(filter) => report.push(placed(context, &thing, cannot_tell(context, rule, &thing, filter))),
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
            Answer::CannotTell => cannot_tell(context, rule, thing, want),
        };
        finding.measured = found.measure(context.units());
        finding.limit = compare::wanted(want, context.units());
        finding.others.push((want.origin, "the rule".to_owned()));
        report.push(placed(context, thing, finding));
    }
}

/// The property is not declared, or is not of the kind it is compared with.
fn cannot_tell(context: &CheckContext<'_>, rule: &OfficeRule, thing: &Thing, condition: &Condition) -> Finding {
    let Condition { property, .. } = condition;
    let missing = match thing.property(property).measure(context.units()) {
        None => format!("`{property}` of `{}` is not declared", thing.name),
        Some(found) => format!("`{property}` of `{}` is {}, which is not compared so", thing.name, found.shown),
    };
    let message = format!("cannot tell whether {}: {missing}", rule.says);
    Finding { severity: Severity::Unknown, missing: Some(missing), ..fault(rule, thing, message) }
}

fn placed(context: &CheckContext<'_>, thing: &Thing, finding: Finding) -> Finding {
    match thing.stretch {
        Some((face, from, to)) => context.on_face(finding, face, &thing.name, from, to),
        None => finding,
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
        remedy: None,
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
