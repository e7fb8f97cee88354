//! A fastener that goes where nothing is behind.

use super::{fastenings, on_wall};
use crate::checks::pieces::{area_name, faces, runs_beside_trims, wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Point;
use crate::layout::holes::{self, Support};
use crate::layout::stack;
use crate::model::{Face, FaceId, Frame, HoleRow, LayerKind, Limit, Trim};
use crate::plan::{Strip, StripPurpose};
use crate::units::Length;

/// `fastener.misses`
pub struct FastenerMisses;

static META: RuleMeta = RuleMeta {
    id: "fastener.misses",
    catalogue: "FA-01",
    title: "a fastener misses what it should go into",
    grade: Grade::S1,
    before: "H4",
    limits: &["fastener.hit", "fastener.edge_distance"],
    explain: "\
# What it checks
Fixing holes of trims land on strips or studs; strips that are screwed to studs lie on them, so that a screw can
pass both; and what is fixed into furring has furring behind it.

# Why
Cladding that is nailed to sheathing between the studs moves when the house moves.

# Example
    trim base_channel channels.two_part along base {
        holes  fix 3.5mm, leg face, every 300mm on centre, end_distance 50mm
        fasten screws.stainless 4.5mm x 40mm, into furring
    }

# Better
    trim base_channel channels.two_part along base {
        holes  fix 3.5mm, leg face, on furring, end_distance 50mm
        fasten screws.stainless 4.5mm x 40mm, into furring
    }

# Basis
Within 10 mm of the centreline of a 38 mm stud, and 12 mm from the edge of a strip: common practice.

# Known gaps
Extra strips at corners, jambs and blocks are taken to lie on framing of their own. Level strips cross every
stud.
",
};

impl Rule for FastenerMisses {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for fastening in fastenings(context).iter().filter(|fastening| fastening.fasten.into == Some("furring")) {
            let gap = stack::gap(fastening.wall).and_then(|at| fastening.wall.layers.get(at));
            let bare = match gap.map(|layer| &layer.kind) {
                Some(LayerKind::Gap(gap)) => gap.furring.is_empty(),
                _ => true,
            };
            if bare && !fastening.is_furring {
                let message = format!("{} is fixed into furring, and there is none behind it", fastening.what);
                let finding = context
                    .fault(&META, fastening.subject.clone(), fastening.at, message)
                    .on_principle("common practice: a fastener goes into what is there", false)
                    .help("put furring in the gap, or fix through to the studs with a longer fastener");
                report.push(on_wall(context, fastening, finding));
            }
        }
        for (id, face) in faces(context.model) {
            for at in 0..face.areas.len() {
                report.extend(strips_on_studs(context, id, at));
            }
            for trim in &face.trims {
                let rows = trim.holes.iter().filter(|row| row.purpose == "fix");
                report.extend(rows.filter_map(|row| row_on_supports(context, id, face, trim, row)));
            }
        }
    }
}

/// A limit that is a length, or the finding that it is not there.
fn limit<'m>(context: &CheckContext<'m>, name: &str) -> Result<(&'m Limit, Length), String> {
    let found = context.limit(name).and_then(|limit| Some((limit, limit.length()?)));
    found.ok_or_else(|| format!("no rule set in force has a limit `{name}`"))
}

/// Regular upright strips that are screwed to studs.
fn strips_on_studs(context: &CheckContext<'_>, id: FaceId, at: usize) -> Option<Finding> {
    let assembly = wall(context, id, at)?;
    let (layer, gap) = assembly.gap()?;
    let fasten = gap.furring.first()?.fasten.as_ref().filter(|fasten| fasten.into == Some("studs"))?;
    let area = context.plan.face(id)?.areas.get(at)?;
    let regular = |strip: &&Strip| strip.purpose == StripPurpose::Regular && !strip.horizontal;
    let strips: Vec<&Strip> = area.strips.iter().filter(regular).collect();
    let subject = format!("{}.{}", area_name(context, id, at), layer.name);
    let unknown = |missing: String| Some(context.unknown(&META, subject.clone(), fasten.origin, missing));
    let (_, frame) = assembly.frame()?;
    let (hit, edge) = match (limit(context, "fastener.hit"), limit(context, "fastener.edge_distance")) {
        (Ok(hit), Ok(edge)) => (hit, edge),
        (Err(missing), _) | (_, Err(missing)) => return unknown(missing),
    };
    let Some(studs) = studs_of(context, id, frame) else {
        return unknown(format!(
            "where the studs of `{}` are is not said (`every`, `first` or `marks`)",
            assembly.label
        ));
    };
    let room = |strip: &Strip| {
        let bounds = strip.shape.bounds();
        hit.1 + (bounds.width() / 2 - edge.1).max(Length::ZERO)
    };
    let missed: Vec<(&Strip, Length)> = strips
        .iter()
        .filter_map(|strip| {
            let stud = nearest(&studs, strip.centre)?;
            ((stud - strip.centre).abs() > room(strip)).then_some((*strip, stud - strip.centre))
        })
        .collect();
    let &(strip, shift) = missed.first()?;
    let message = format!(
        "{} of {} strips of `{}` miss the studs: the first by {}",
        missed.len(),
        strips.len(),
        layer.name,
        context.shown((shift.abs() - room(strip)).max(Length::ZERO))
    );
    let finding = context
        .fault(&META, subject, fasten.origin, message)
        .against(hit.0)
        .measured(context.measure(shift.abs()))
        .wanted(context.measure(room(strip)))
        .help(format!(
            "shift the strip at x {} {} {}",
            context.shown(strip.centre),
            context.shown(shift.abs()),
            way(shift)
        ))
        .help("give the strips the framer's own marks: `marks (…)`, or the same `every` and `first` as the studs");
    Some(context.on_face(finding, id, "furring", strip.axis.from, strip.axis.to))
}

fn studs_of(context: &CheckContext<'_>, id: FaceId, frame: &Frame) -> Option<Vec<Support>> {
    let bounds = context.plan.face(id)?.outline.bounds()?;
    let studs = holes::studs(frame, bounds.left, bounds.right);
    (!studs.is_empty()).then_some(studs)
}

fn nearest(supports: &[Support], place: Length) -> Option<Length> {
    supports.iter().map(|support| support.centre).min_by_key(|&centre| ((centre - place).abs(), centre))
}

fn way(shift: Length) -> &'static str {
    if shift < Length::ZERO { "left" } else { "right" }
}

/// Fixing holes with a spacing of their own, against what they should land on.
fn row_on_supports(context: &CheckContext<'_>, id: FaceId, face: &Face, trim: &Trim, row: &HoleRow) -> Option<Finding> {
    // Holes set out on strips land on them by making.
    if row.on.is_some() {
        return None;
    }
    let subject = format!("{}.{}", face.name, trim.name);
    let unknown = |missing: String| Some(context.unknown(&META, subject.clone(), row.origin, missing));
    let Some(into) = trim.fasten.as_ref().and_then(|fasten| fasten.into) else {
        return unknown(format!("what the fasteners of `{}` go into is not said (`fasten …, into …`)", trim.name));
    };
    if !matches!(into, "furring" | "studs") {
        return None;
    }
    let (hit, edge) = match (limit(context, "fastener.hit"), limit(context, "fastener.edge_distance")) {
        (Ok(hit), Ok(edge)) => (hit, edge),
        (Err(missing), _) | (_, Err(missing)) => return unknown(missing),
    };
    let marks = match holes::holes(context.model, context.plan, id, trim, row) {
        Ok(marks) => marks,
        Err(missing) => return unknown(format!("{missing} is not said")),
    };
    let runs = runs_beside_trims(context, id, face);
    let line = holes::trim_line(face, &runs, trim)?;
    let supports = if into == "studs" {
        let area = crate::checks::pieces::area_at(context, id, line.midpoint())?;
        studs_of(context, id, wall(context, id, area)?.frame()?.1)
    } else {
        Some(holes::strips_along(context.plan, id, line)).filter(|strips| !strips.is_empty())
    };
    let Some(supports) = supports else {
        return unknown(format!("where the {into} behind `{}` is cannot be told", trim.name));
    };
    let along = |at: Point| if line.is_vertical() { at.y } else { at.x };
    // Within the strip less its edge distance; on a stud within the distance from its centreline.
    let room = |support: &Support| if into == "studs" { hit.1 } else { (support.half - edge.1).max(Length::ZERO) };
    let off = |place: Length| {
        supports
            .iter()
            .map(|support| (support.centre - place, room(support)))
            .min_by_key(|(shift, _)| (shift.abs(), *shift))
    };
    let missed: Vec<_> = marks
        .iter()
        .filter_map(|hole| off(along(hole.at)).map(|(shift, room)| (hole, shift, room)))
        .filter(|(_, shift, room)| shift.abs() > *room)
        .collect();
    let &(hole, shift, room) = missed.first()?;
    let message = format!(
        "{} of {} fixing holes of `{}` miss the {into}; shift the one at {} by {} {}",
        missed.len(),
        marks.len(),
        trim.name,
        context.shown(hole.along),
        context.shown(shift.abs()),
        way(shift)
    );
    let basis = if into == "studs" { hit.0 } else { edge.0 };
    let finding = context
        .fault(&META, subject, row.origin, message)
        .against(basis)
        .measured(context.measure(shift.abs()))
        .wanted(context.measure(room))
        .help(format!("set the holes out on what carries: `holes fix …, on {into}`"));
    Some(context.on_face(finding, id, &trim.name, hole.at, hole.at))
}
