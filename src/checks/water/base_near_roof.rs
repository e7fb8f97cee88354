//! The foot of the cladding too near to a roof or a deck.

use super::low::{self, Foot};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::{Point, Segment};
use crate::layout::ground::{self, Near};
use crate::model::{Limit, Where};
use crate::units::Length;

/// `base.near_roof`
pub struct BaseNearRoof;

static META: RuleMeta = RuleMeta {
    id: "base.near_roof",
    catalogue: "DR-11",
    title: "the foot of the cladding is too near to a roof or deck",
    grade: Grade::S1,
    before: "H4",
    limits: &["clearance.roof", "clearance.deck"],
    explain: "\
# What it checks
Along each `roof_line` and `deck_line`, the height of the edge above the roof or deck that the face declares there. Where the
roof crosses the face, or none is declared, the `keep` of the edge or of its detail counts.

# Why
The ends of the boards sit in slush all winter.

# Example
    roof_line to (7200mm, 3920mm), detail lean_roof
    roof lean from (2400mm, 2700mm) to (7200mm, 3900mm)

# Better
    roof_line to (7200mm, 3975mm), detail lean_roof, keep 75mm
    roof lean from (2400mm, 2700mm) to (7200mm, 3900mm)

# Basis
NBC 9.27.2.4.(2), read in a summary: 50 mm to a roof. Decks: common practice. 35 mm in New Zealand.

# Known gaps
Snow is not added; where it lies, 100 to 150 mm is usual.
",
};

impl Rule for BaseNearRoof {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (kind, what, name) in
            [("roof_line", "the roof", "clearance.roof"), ("deck_line", "the deck", "clearance.deck")]
        {
            let feet = low::feet(context, kind);
            if feet.is_empty() {
                continue;
            }
            let Some((limit, least)) = context.length_limit(&META, name, report) else { continue };
            for foot in &feet {
                report.extend(judge(context, foot, what, (limit, least)));
            }
        }
    }
}

fn judge(
    context: &CheckContext<'_>,
    foot: &Foot<'_, '_>,
    what: &str,
    (limit, least): (&Limit, Length),
) -> Option<Finding> {
    let subject = foot.run.name.as_str();
    let Some(near) = nearest(foot, least) else {
        let finding =
            context.unknown(&META, subject, foot.run.origin, format!("how high the cladding ends above {what}"));
        let finding = finding.help("declare the roof or deck on this face, or add `keep` to the edge");
        return Some(context.on_run(finding, foot.run, foot.run.segment));
    };
    let near = near?;
    let finding = context
        .fault(&META, subject, foot.run.origin, low::sentence(context, foot, &near, what))
        .against(limit)
        .measured(context.measure(near.clearance))
        .wanted(context.measure(least))
        .help(format!("cut the cladding {} higher and let the flashing show", context.shown(least - near.clearance)));
    Some(low::place(context, finding, foot, &near))
}

/// The stretch that is too near, `Some(None)` if there is none, `None` if it cannot be told.
pub fn nearest(foot: &Foot<'_, '_>, least: Length) -> Option<Option<Near>> {
    let lines = below(foot);
    if lines.is_empty() {
        let Segment { from, to } = foot.run.segment;
        let keep = foot.keep?;
        let (from, to) = (from.min(to), from.max(to));
        return Some((keep < least).then_some(Near { from, to, worst: from, clearance: keep }));
    }
    let stretches = lines.into_iter().flat_map(|(line, part)| ground::too_near(part, &line, &[], least));
    Some(stretches.min_by_key(|near| near.clearance))
}

/// Roofs and decks below an edge of the outline, each with the part of the edge over it.
fn below(foot: &Foot<'_, '_>) -> Vec<(Vec<Point>, Segment)> {
    if !matches!(foot.run.place, crate::plan::RunPlace::Edge(_)) {
        return Vec::new();
    }
    let edge = foot.run.segment;
    let (left, right) = (edge.from.x.min(edge.to.x), edge.from.x.max(edge.to.x));
    let x_of = |place: Where| match place {
        Where::Left => left,
        Where::Right => right,
        Where::Centre => (left + right) / 2,
        Where::At(x) => x,
    };
    let lines: Vec<Segment> = if foot.run.kind == "roof_line" {
        foot.face.roofs.iter().map(|roof| roof.line).collect()
    } else {
        let level = |deck: &crate::model::Deck| {
            Segment::new(Point::new(x_of(deck.from), deck.height), Point::new(x_of(deck.to), deck.height))
        };
        foot.face.decks.iter().map(level).collect()
    };
    lines.into_iter().filter_map(|line| over(edge, line, (left, right))).collect()
}

fn over(edge: Segment, line: Segment, (left, right): (Length, Length)) -> Option<(Vec<Point>, Segment)> {
    let (from, to) = (line.from.min(line.to), line.from.max(line.to));
    let (start, end) = (from.x.max(left), to.x.min(right));
    let part = Segment::new(Point::new(start, edge.y_at(start)?), Point::new(end, edge.y_at(end)?));
    (start < end).then(|| (vec![from, to], part))
}
