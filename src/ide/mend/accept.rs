//! To accept a finding knowingly: the line is written, the reason and the name are left to whoever answers for it.

use super::ask::Ask;
use super::draft::Draft;
use super::{BLANK, Mend};
use crate::checks::Grade;
use crate::diagnose::Fix;
use crate::source::Span;

/// An `accept` for a fault, in its face, or behind the declaration in which it is found. A stop wants somebody with
/// authority.
pub(super) fn of(ask: &Ask<'_>) -> Option<Mend> {
    let finding = ask.finding;
    if ask.cannot_tell()
        || finding.rule.starts_with("accept.")
        || finding.subject.is_empty()
        || finding.subject.contains('/')
    {
        return None;
    }
    let said = format!("because \"{BLANK}\" by \"{BLANK}\"");
    let stop = finding.grade == Grade::S1;
    let behind = if stop {
        format!(" {{\n    authority of \"{BLANK}\"\n    reference \"{BLANK}\"\n    dated {BLANK}\n}}")
    } else {
        String::new()
    };
    let title = if stop {
        format!("Accept `{}` at `{}`: say why, and on whose authority", finding.rule, finding.subject)
    } else {
        format!("Accept `{}` at `{}`: say why, and who does", finding.rule, finding.subject)
    };
    let here = finding.subject.split_once('.');
    let face = here.and_then(|(face, place)| Some((ask.named("face", face)?, place)));
    let own = |(round, _): &(super::draft::Round<'_>, &str)| {
        round.first().is_some_and(|(face, _)| !ask.glance.project.files.is_std(face.span.file))
    };
    if let Some((round, place)) = face.filter(own) {
        let file = round.first()?.0.span.file;
        let line = format!("accept {} on {place} {said}{behind}", finding.rule);
        return ask.mend(title, Draft::new(ask.glance, file)?.add(&round, &line));
    }
    let at = finding.at;
    if ask.glance.project.files.is_std(at.file) {
        return None;
    }
    let text = ask.glance.project.files.text(at.file).trim_end();
    let end = Span::new(at.file, text.len(), text.len());
    let line = format!("\n\naccept {} on {} {said}{behind}", finding.rule, finding.subject);
    Some(Mend { rule: finding.rule, fix: Fix { title, edits: vec![(end, line)] }, blanks: true })
}
