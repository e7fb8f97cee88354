//! Lines above declarations: what the rules say of a face, its drawing, the way of its water; where a detail is used.

use std::collections::BTreeMap;

use super::uses::{Use, all_uses};
use crate::checks::{Grade, Settled};
use crate::diagnose::Severity;
use crate::resolve::DeclarationId;
use crate::session::Glance;
use crate::source::{FileId, Span};

/// What a lens does when it is chosen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Action {
    /// Shows what the rules say of this face.
    Findings(String),
    /// Draws this face.
    Draw(String),
    /// Follows water down this face.
    Trace(String),
    /// Shows these places.
    Uses(Vec<Use>),
}

/// A line above a declaration.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lens {
    /// The name it stands above.
    pub at: Span,
    /// Its words.
    pub title: String,
    /// What it does.
    pub action: Action,
}

/// The lenses of a file, in the order of the text.
pub fn lenses(glance: &Glance, file: FileId) -> Vec<Lens> {
    let project = &glance.project;
    let mut uses: Option<BTreeMap<DeclarationId, Vec<Use>>> = None;
    let mut found = Vec::new();
    for (at, declared) in project.declarations.iter().enumerate() {
        if declared.name_span.file != file || declared.name.is_empty() {
            continue;
        }
        let lens = |title: String, action: Action| Lens { at: declared.name_span, title, action };
        let name = declared.name.to_string();
        match declared.kind {
            "face" => {
                found.push(lens(of_face(glance, &name), Action::Findings(name.clone())));
                found.push(lens("draw".to_owned(), Action::Draw(name.clone())));
                found.push(lens("trace".to_owned(), Action::Trace(name)));
            }
            "detail" | "assembly" => {
                let all = uses.get_or_insert_with(|| all_uses(glance));
                let here = all.get(&DeclarationId(at as u32)).cloned().unwrap_or_default();
                found.push(lens(used(here.len()), Action::Uses(here)));
            }
            _ => {}
        }
    }
    found
}

fn used(count: usize) -> String {
    match count {
        0 => "used nowhere".to_owned(),
        1 => "used in 1 place".to_owned(),
        _ => format!("used in {count} places"),
    }
}

/// What the rules say of a face, in the order of how bad it is: `1 stop, 2 cannot tell`.
fn of_face(glance: &Glance, face: &str) -> String {
    let model = &glance.model;
    let Some(found) = model.face_named(face).and_then(|id| Some((id, model.face(id)?))) else {
        return "not read".to_owned();
    };
    if found.1.broken {
        return "not checked: its text has mistakes".to_owned();
    }
    let about = |one: &&Settled| match &one.finding.stretch {
        Some(stretch) => stretch.face == found.0,
        None => one.finding.subject.split('.').next() == Some(face),
    };
    let (mut grades, mut unknown, mut accepted): (BTreeMap<Grade, usize>, usize, usize) = Default::default();
    for one in glance.findings.iter().filter(about) {
        match (one.accepted, one.finding.severity) {
            (Some(_), _) => accepted += 1,
            (None, Severity::Unknown) => unknown += 1,
            (None, Severity::Violation | Severity::Warning | Severity::Note) => {
                *grades.entry(one.finding.grade).or_default() += 1;
            }
        }
    }
    let mut words: Vec<String> = grades.iter().map(|(grade, count)| format!("{count} {}", grade.phrase())).collect();
    if words.is_empty() {
        words.push("no fault found".to_owned());
    }
    words.extend((unknown > 0).then(|| format!("{unknown} cannot tell")));
    words.extend((accepted > 0).then(|| format!("{accepted} accepted")));
    words.join(" · ")
}
