//! What a rule reports, and what becomes of it once limits, acceptances and today's date are known.

use super::Remedy;
use crate::diagnose::{Fix, Severity};
use crate::geometry::Point;
use crate::model::FaceId;
use crate::source::Span;

/// How bad a fault is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// Stop: will leak, rot, fall, burn or fail inspection.
    S1,
    /// Mend before it is covered.
    S2,
    /// Shortens life or costs rework.
    S3,
    /// Appearance, or worth knowing.
    S4,
}

impl Grade {
    /// `S1` to `S4`.
    pub fn word(self) -> &'static str {
        match self {
            Grade::S1 => "S1",
            Grade::S2 => "S2",
            Grade::S3 => "S3",
            Grade::S4 => "S4",
        }
    }

    /// As said on site.
    pub fn phrase(self) -> &'static str {
        match self {
            Grade::S1 => "stop",
            Grade::S2 => "mend before it is covered",
            Grade::S3 => "shortens life or costs rework",
            Grade::S4 => "worth knowing",
        }
    }
}

/// A measured value or a limit, as shown: "150 mm (5-7/8 in)", with its number in SI for machines.
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    /// SI value, if it is a number.
    pub value: Option<f64>,
    /// As shown to people, both units where it is a length.
    pub shown: String,
}

/// Whose number it is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Basis {
    /// Citation: rule set, clause, edition, how sure.
    pub citation: String,
    /// The limit is published, so that breaking it is a violation; otherwise it warns.
    pub firm: bool,
    /// Where the limit is declared.
    pub origin: Option<Span>,
}

/// The stretch of wall a finding is about.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// The face.
    pub face: FaceId,
    /// One end.
    pub from: Point,
    /// The other end; the same for a point.
    pub to: Point,
}

/// One answer of a rule that is not "no fault found".
#[derive(Clone, Debug)]
pub struct Finding {
    /// Rule id.
    pub rule: &'static str,
    /// `Violation` and `Warning` for faults (settled by the basis), `Unknown` for cannot tell, `Note`.
    pub severity: Severity,
    /// Grade after the number of defences is known.
    pub grade: Grade,
    /// Dotted subject: `north.kitchen.head`.
    pub subject: String,
    /// What is wrong, in one line, lower case, no full stop.
    pub message: String,
    /// Place in the text.
    pub at: Span,
    /// Other places in the texts, with a few words.
    pub others: Vec<(Span, String)>,
    /// Place on the wall in words: "N wall, base, 2.1–4.3 m from the left end"; empty for what has no place.
    pub place: String,
    /// Place on the wall in numbers.
    pub stretch: Option<Stretch>,
    /// What was found.
    pub measured: Option<Measure>,
    /// What is wanted.
    pub limit: Option<Measure>,
    /// Whose rule.
    pub basis: Basis,
    /// What to do, with the number; one line each.
    pub help: Vec<String>,
    /// The same for edits, where it is one step with a number or a word.
    pub remedy: Option<Remedy>,
    /// Edits that mend it.
    pub fixes: Vec<Fix>,
    /// Independent defences between this water and wood, where it was counted.
    pub defences: Option<u32>,
    /// Their names, from outside to inside.
    pub behind: Vec<String>,
    /// Hold point before which it must be mended.
    pub before: &'static str,
    /// The missing fact, for `Unknown`.
    pub missing: Option<String>,
    /// The path that fails, as steps a person can walk: "plywood of `north`", "head of `kitchen`", "nothing".
    pub path: Vec<String>,
}

/// A finding with its acceptance, if it was accepted.
#[derive(Clone, Debug)]
pub struct Settled {
    /// The finding.
    pub finding: Finding,
    /// Index of the acceptance in the model.
    pub accepted: Option<usize>,
}

/// Counts over all findings.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Summary {
    /// Faults against published limits, and mistakes in the text.
    pub violations: usize,
    /// Faults against limits from memory or habit.
    pub warnings: usize,
    /// Worth knowing.
    pub notes: usize,
    /// Checks that could not tell.
    pub unknown: usize,
    /// Accepted findings, counted nowhere else.
    pub accepted: usize,
    /// Stop-severity checks that could not tell; part of `unknown`.
    pub unknown_stop: usize,
}
