//! A strip of board too narrow to fix, over a window or under an eave.

use std::collections::{BTreeMap, BTreeSet};

use crate::checks::pieces::{area_at, area_name, faces, wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Point;
use crate::layout::courses::{Cut, cure, strip};
use crate::layout::stack;
use crate::model::{Face, FaceId, Layer};
use crate::plan::FacePlan;
use crate::units::Length;

/// `course.sliver`
pub struct CourseSliver;

static META: RuleMeta = RuleMeta {
    id: "course.sliver",
    catalogue: "BL-03",
    title: "a course is cut to a sliver",
    grade: Grade::S3,
    before: "H0",
    limits: &["rip.min", "rip.share"],
    explain: "\
# What it checks
With the exposure and the first course line chosen within the story pole: what is left of a course under every
sill and level top, and over every head and level base. It shows at least the width of the rule set (or the
maker's), and at least the given share of a course.

# Why
A strip of 15 mm over a window looks bad, splits, and cannot be fixed.

# Example
    story_pole exposure 150mm..150mm

# Better
    story_pole exposure 145mm..155mm      // 152.4 turns every strip into a whole course

# Basis
50 mm or a third of the exposure: common practice.

# Known gaps
Boards are taken to end at the size of the opening that was given, not at its trims. Lines that slope are left
out.
",
};

impl Rule for CourseSliver {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let pole = cuts_by_pole(context);
        for (id, face) in faces(context.model) {
            for at in 0..face.areas.len() {
                report.extend(judge(context, id, face, at, &pole));
            }
        }
    }
}

/// Every line of every face that shares one exposure and one first course line.
type Poles = BTreeMap<(Length, Length), BTreeSet<(Cut, Length)>>;

fn cuts_by_pole(context: &CheckContext<'_>) -> Poles {
    let mut poles = Poles::new();
    for (id, face) in faces(context.model) {
        let Some(plan) = context.plan.face(id) else { continue };
        let Some(pole) = plan.exposure.zip(plan.course_start) else { continue };
        let cuts = poles.entry(pole).or_default();
        for at in (0..face.areas.len()).filter(|&at| coursed(context, id, at).is_some()) {
            cuts.extend(lines(context, id, face, plan, at).iter().map(|line| (line.cut, line.height)));
        }
    }
    poles
}

/// The cladding of an area, if it is laid in level courses.
pub(super) fn coursed<'c>(context: &CheckContext<'c>, id: FaceId, at: usize) -> Option<&'c Layer> {
    let assembly = wall(context, id, at)?;
    let layer = assembly.layers.get(stack::cladding(assembly)?)?;
    let kind = context.model.product_of(&layer.stuff).map(|product| product.kind);
    (!layer.runs_vertical && matches!(kind, Some("board" | "shingle"))).then_some(layer)
}

/// A level line at which courses end, with what it is called and where it lies.
struct Line {
    what: String,
    cut: Cut,
    height: Length,
    from: Point,
    to: Point,
}

fn judge(context: &CheckContext<'_>, id: FaceId, face: &Face, at: usize, poles: &Poles) -> Option<Finding> {
    let layer = coursed(context, id, at)?;
    let plan = context.plan.face(id)?;
    let subject = format!("{}.{}", area_name(context, id, at), layer.name);
    let unknown = |missing: String| Some(context.unknown(&META, subject.clone(), layer.origin, missing));
    let (Some(exposure), Some(start)) = (plan.exposure, plan.course_start) else {
        let what = if plan.exposure.is_none() { "exposure" } else { "first course line" };
        return unknown(format!("{what} of `{}` cannot be told (`story_pole exposure … start …`)", face.name));
    };
    let lines = lines(context, id, face, plan, at);
    let least_limit = context.limit("rip.min").and_then(|limit| Some((limit, limit.length()?)));
    let share = context.limit("rip.share").and_then(|limit| limit.number());
    let (Some((limit, least)), Some(share)) = (least_limit, share) else {
        return unknown("no rule set in force has limits `rip.min` and `rip.share`".to_owned());
    };
    let maker = context.model.product_of(&layer.stuff).and_then(|product| product.rip.as_ref()).map(|rip| rip.value);
    let least = |exposure: Length| maker.unwrap_or(least).max(Length::snap_m(exposure.as_m() * share));
    let strips = lines.iter().filter_map(|line| Some((line, strip(line.cut, line.height, start, exposure)?)));
    let slivers: Vec<(&Line, Length)> = strips.filter(|(_, strip)| *strip < least(exposure)).collect();
    let (worst, width) = slivers.iter().min_by_key(|(_, width)| *width)?;
    let words: Vec<String> =
        slivers.iter().map(|(line, width)| format!("{} {}", line.what, context.shown(*width))).collect();
    let message = format!("courses of {} leave slivers: {}", context.shown(exposure), words.join(", "));
    let finding = context
        .fault(&META, subject.clone(), layer.origin, message)
        .against(limit)
        .measured(context.measure(*width))
        .wanted(context.measure(least(exposure)));
    let finding = finding.help(advice(context, layer, poles, (exposure, start), least));
    Some(context.on_face(finding, id, &worst.what, worst.from, worst.to))
}

/// The one exposure that cures every line of the house, if the boards allow one.
fn advice(
    context: &CheckContext<'_>,
    layer: &Layer,
    poles: &Poles,
    (exposure, start): (Length, Length),
    least: impl Fn(Length) -> Length,
) -> String {
    // The plan has tried what the pole allows: what is left is what the boards allow beyond it.
    let product = context.model.product_of(&layer.stuff).and_then(|product| product.exposure.as_ref());
    let own = product.map_or(layer.exposure, |range| Some(range.value)).unwrap_or((exposure, exposure));
    let range = layer.exposure.map_or(own, |(low, high)| (low.min(own.0), high.max(own.1)));
    // One pole for the whole house: every line of every face that shares it.
    let cuts: Vec<(Cut, Length)> = poles.get(&(exposure, start)).into_iter().flatten().copied().collect();
    match cure(&cuts, start, range, least) {
        Some((better, smallest)) => format!(
            "an exposure of {} cures all lines of the house: the narrowest strip is then {}",
            context.shown(better),
            context.shown(smallest)
        ),
        None => {
            "no exposure in range cures all lines: start the courses at another height, or use two exposures".to_owned()
        }
    }
}

fn lines(context: &CheckContext<'_>, id: FaceId, face: &Face, plan: &FacePlan, at: usize) -> Vec<Line> {
    let mut found = Vec::new();
    for (opening, shape) in face.openings.iter().zip(&plan.openings) {
        let bounds = shape.bounds();
        if area_at(context, id, Point::new((bounds.left + bounds.right) / 2, (bounds.bottom + bounds.top) / 2))
            != Some(at)
        {
            continue;
        }
        let level = |height: Length| (Point::new(bounds.left, height), Point::new(bounds.right, height));
        let edges = [("sill", Cut::Under, bounds.bottom), ("head", Cut::Over, bounds.top)];
        found.extend(edges.into_iter().map(|(what, cut, height)| {
            let (from, to) = level(height);
            Line { what: format!("{what} of `{}`", opening.name), cut, height, from, to }
        }));
    }
    let Some(area) = plan.areas.get(at) else { return found };
    for (_, edge) in area.whole.edges() {
        let (from, to) = (edge.segment.from, edge.segment.to);
        if edge.segment.is_horizontal() {
            let (what, cut) = if edge.segment.is_ceiling() { ("top", Cut::Under) } else { ("foot", Cut::Over) };
            found.push(Line { what: what.to_owned(), cut, height: from.y, from, to });
        }
    }
    found
}
