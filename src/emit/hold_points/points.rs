//! What each hold point of a face asks: faults to mend, facts to find out, lines for eyes, and what was seen already.

use crate::checks::Settled;
use crate::checks::catalogue::{Failure, Line, failures};
use crate::diagnose::Severity;
use crate::model::{Evidence, FaceId};
use crate::session::Checked;

/// Hold points with what they look at and what is kept as proof.
const POINTS: [(&str, &str, &str); 8] = [
    ("H0", "what is there: dry, sound and flat", "readings, photo"),
    ("H1", "the air barrier: closed, tested, seams in sight", "test note, photos of seams"),
    ("H2", "openings: their laps", "three photos of each"),
    ("H3", "the gap, and each thing that passes through", "photo with the name of each"),
    ("H4", "the base: it drains and is screened", "video of poured water"),
    ("H5", "the section: fasteners, joints, gaps", "tick and photo"),
    ("H6", "the top: vent clear, fire stop in place", "photo"),
    ("H7", "all above reach: nothing left to mend", "signed list"),
];

/// One line of the sheet.
#[derive(Clone, Debug)]
pub struct Ask {
    /// The failure it is for.
    pub failure: &'static Failure,
    /// What to look for.
    pub line: Line,
    /// Names of what it is about on this face, each with a tick of its own; empty for the face as a whole.
    pub places: Vec<String>,
}

/// One hold point of a face.
#[derive(Clone, Debug)]
pub struct Point<'c> {
    /// `H0` to `H7`.
    pub code: &'static str,
    /// What is looked at.
    pub about: &'static str,
    /// What is kept as proof.
    pub proof: &'static str,
    /// Faults to mend before it, accepted ones left out.
    pub mend: Vec<&'c Settled>,
    /// What a check could not tell.
    pub find_out: Vec<&'c Settled>,
    /// What was knowingly accepted.
    pub accepted: Vec<&'c Settled>,
    /// What eyes look for.
    pub asks: Vec<Ask>,
    /// What was seen already.
    pub seen: Vec<&'c Evidence>,
}

impl Point<'_> {
    fn is_empty(&self) -> bool {
        [self.mend.len(), self.find_out.len(), self.accepted.len(), self.asks.len(), self.seen.len()] == [0; 5]
    }
}

/// The hold points of a face that ask for anything, in order; without a face, what belongs to none.
pub fn points(checked: &Checked, face: Option<FaceId>) -> Vec<Point<'_>> {
    let point = |(code, about, proof)| {
        let here = |one: &&Settled| one.finding.before == code && face_of(checked, one) == face;
        let findings: Vec<&Settled> = checked.findings.iter().filter(here).collect();
        let of = |wanted: fn(&Settled) -> bool| findings.iter().copied().filter(|one| wanted(one)).collect();
        Point {
            code,
            about,
            proof,
            mend: of(|one| one.accepted.is_none() && is_fault(one)),
            find_out: of(|one| one.accepted.is_none() && one.finding.severity == Severity::Unknown),
            accepted: of(|one| one.accepted.is_some()),
            asks: face.map(|face| asks(checked, face, code)).unwrap_or_default(),
            seen: checked.model.evidence.iter().filter(|one| one.hold == code && is_of(checked, one, face)).collect(),
        }
    };
    POINTS.into_iter().map(point).filter(|point| !point.is_empty()).collect()
}

fn is_fault(one: &Settled) -> bool {
    matches!(one.finding.severity, Severity::Violation | Severity::Warning)
}

/// The lines that eyes look for on a face before a hold point.
fn asks(checked: &Checked, face: FaceId, code: &str) -> Vec<Ask> {
    let wanted = failures().filter_map(|failure| Some((failure, failure.look.filter(|line| line.before == code)?)));
    let there = wanted.filter_map(|(failure, line)| {
        let places = line.on.places(&checked.model, face)?;
        Some(Ask { failure, line, places })
    });
    there.collect()
}

/// The face a finding is about: that of its stretch, else the first word of its subject, if that is a face.
pub fn face_of(checked: &Checked, settled: &Settled) -> Option<FaceId> {
    let finding = &settled.finding;
    let stretch = finding.stretch.as_ref().map(|stretch| stretch.face);
    stretch.or_else(|| checked.model.face_named(finding.subject.split('.').next()?))
}

/// What was seen on a face, or on the building it is part of; without a face, what was seen on no face and no building.
fn is_of(checked: &Checked, evidence: &Evidence, face: Option<FaceId>) -> bool {
    let word = evidence.place.split('.').next().unwrap_or_default();
    let named = checked.model.face_named(word);
    let building = checked.model.buildings.iter().find(|building| building.name == word);
    match face {
        Some(_) if named.is_some() => named == face,
        Some(_) => building.is_some_and(|building| building.faces.iter().any(|(_, id, _)| *id == face)),
        None => named.is_none() && building.is_none(),
    }
}
