//! A strip of board too narrow to fix, over a window or under an eave.

use std::collections::{BTreeMap, BTreeSet};

use crate::checks::pieces::{area_name, faces, wall};
use crate::checks::{CheckContext, Finding, Grade, Remedy, Rule, RuleMeta};
use crate::layout::courses::{Cut, SPLINTER, cure, strip};
use crate::layout::field::{EndLine, Field};
use crate::layout::stack;
use crate::layout::story_pole::{spread, zones};
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
    limits: &["rip.min", "rip.share", "course.corner"],
    explain: "\
# What it checks
With the exposure and the first course line chosen within the story pole: what is left of a course at every line
at which the cladding ends. It ends at the outer edges of trims, at the clearance over head flashings, at blocks,
slots and shelves, under the frieze, at the base, and in the peak of a gable; at the frame itself only where trims lie
on the cladding. Boards that stand are asked the same at their sides, sheets at all of theirs. What is left shows at
least the width of the rule set (or the maker's), and at least the given share of a course (sheets: the width only).

# Why
A strip of 15 mm over a window looks bad, splits, and cannot be fixed.

# Example
    story_pole exposure 150mm..150mm

# Better
    story_pole exposure 145mm..155mm      // 152.4 turns every strip into a whole course

# Basis
50 mm or a third of the exposure: common practice.

# Known gaps
Level boards that end on a slope are cut to a feather there whatever the exposure: the sheet of the base line says how
long it is. Less than 3 mm counts as nothing left, since no strip is fixed there.
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
            let field = plan.areas.get(at).and_then(|area| area.field.as_ref());
            // What stands on courses goes up with them: all that counts is where it begins.
            let exposure = plan.exposure.unwrap_or_default();
            let height = |line: &EndLine| (line.cut, line.height() - exposure * line.courses);
            cuts.extend(field.into_iter().flat_map(|field| &field.levels).filter(|line| line.is_cut()).map(height));
        }
    }
    poles
}

/// The cladding of an area, if it is laid in level courses.
pub(super) fn coursed<'c>(context: &CheckContext<'c>, id: FaceId, at: usize) -> Option<&'c Layer> {
    shedding(context, id, at).filter(|(layer, kind)| !layer.runs_vertical && *kind != "panel").map(|(layer, _)| layer)
}

/// The cladding of an area and what it is made of, if it is cut from boards, shingles or sheets.
fn shedding<'c>(context: &CheckContext<'c>, id: FaceId, at: usize) -> Option<(&'c Layer, &'static str)> {
    let layer = stack::shedding(wall(context, id, at)?)?;
    let kind = context.model.product_of(&layer.stuff).map(|product| product.kind)?;
    matches!(kind, "board" | "shingle" | "panel").then_some((layer, kind))
}

/// Lines at which the cladding of an area ends on one way of it, with what is left there.
struct Left<'c> {
    lines: &'c [EndLine],
    /// What shows of a whole piece.
    shows: Length,
    strip: Box<dyn Fn(&EndLine) -> Length + 'c>,
}

/// The ways an area is set out; the error is the missing fact.
fn ways<'c>(plan: &'c FacePlan, field: &'c Field, level: bool) -> Result<Vec<Left<'c>>, &'static str> {
    if level {
        let exposure = plan.exposure.ok_or("exposure")?;
        let start = plan.course_start.ok_or("first course line")?;
        let strip = move |line: &EndLine| strip(line.cut, line.height(), start, exposure).unwrap_or_default();
        return Ok(vec![Left { lines: &field.levels, shows: exposure, strip: Box::new(strip) }]);
    }
    let columns = field.columns.map(|grid| Left {
        lines: &field.sides,
        shows: grid.shows,
        strip: Box::new(move |line: &EndLine| grid.strip(line.cut, line.along.from.x)),
    });
    let rows = field.rows.map(|grid| Left {
        lines: &field.levels,
        shows: grid.shows,
        strip: Box::new(move |line: &EndLine| grid.strip(line.cut, line.height())),
    });
    Ok(columns.into_iter().chain(rows).collect())
}

fn judge(context: &CheckContext<'_>, id: FaceId, face: &Face, at: usize, poles: &Poles) -> Vec<Finding> {
    let Some((layer, kind)) = shedding(context, id, at) else { return Vec::new() };
    let Some(plan) = context.plan.face(id) else { return Vec::new() };
    let Some(field) = plan.areas.get(at).and_then(|area| area.field.as_ref()) else { return Vec::new() };
    let subject = format!("{}.{}", area_name(context, id, at), layer.name);
    let unknown = |missing: String| vec![context.unknown(&META, subject.clone(), layer.origin, missing)];
    let level = !layer.runs_vertical && kind != "panel";
    let ways = match ways(plan, field, level) {
        Ok(ways) => ways,
        Err(what) => {
            return unknown(format!("{what} of `{}` cannot be told (`story_pole exposure … start …`)", face.name));
        }
    };
    let least_limit = context.limit("rip.min").and_then(|limit| Some((limit, limit.length()?)));
    let share = context.limit("rip.share").and_then(|limit| limit.number());
    let (Some((limit, least)), Some(share)) = (least_limit, share) else {
        return unknown("no rule set in force has limits `rip.min` and `rip.share`".to_owned());
    };
    let maker = context.model.product_of(&layer.stuff).and_then(|product| product.rip.as_ref()).map(|rip| rip.value);
    // A third of a sheet is no sliver.
    let share = if kind == "panel" { 0.0 } else { share };
    let least = |shows: Length| maker.unwrap_or(least).max(Length::snap_m(shows.as_m() * share));
    let mut findings = Vec::new();
    for Left { lines, shows, strip } in ways {
        let left = lines.iter().filter(|line| line.is_cut()).map(|line| (line, strip(line)));
        let slivers: Vec<(&EndLine, Length)> =
            left.filter(|(_, left)| (SPLINTER..least(shows)).contains(left)).collect();
        let Some((worst, width)) = slivers.iter().min_by_key(|(_, width)| *width) else { continue };
        let mut words: Vec<String> =
            slivers.iter().map(|(line, width)| format!("{} {}", line.what(), context.shown(*width))).collect();
        words.dedup();
        let what = if level {
            "courses"
        } else if kind == "panel" {
            "sheets"
        } else {
            "boards"
        };
        let message = format!("{what} of {} leave slivers: {}", context.shown(shows), words.join(", "));
        let finding = context
            .fault(&META, subject.clone(), layer.origin, message)
            .against(limit)
            .measured(context.measure(*width))
            .wanted(context.measure(least(shows)));
        let finding = match plan.course_start.filter(|_| level) {
            Some(start) => {
                let (advice, remedy) = advice(context, layer, poles, (shows, start), least);
                finding.advise(advice, remedy)
            }
            None => {
                finding.help("no place to begin cures all sides: move an opening, change a trim, or take another width")
            }
        };
        findings.push(context.on_face(finding, id, &worst.what(), worst.along.from, worst.along.to));
    }
    findings
}

/// Equal courses from line to line, where they differ by less than anyone sees.
fn equal_courses(context: &CheckContext<'_>, zones: &[(i64, Length)]) -> String {
    let each: Vec<String> =
        zones.iter().map(|(count, height)| format!("{count} of {}", context.shown(*height))).collect();
    format!(
        "no one exposure cures all lines; equal courses from line to line do: {}, from the foot up; they differ by {}",
        each.join(", "),
        context.shown(spread(zones))
    )
}

/// The one exposure that cures every line of the house, if the boards allow one.
fn advice(
    context: &CheckContext<'_>,
    layer: &Layer,
    poles: &Poles,
    (exposure, start): (Length, Length),
    least: impl Fn(Length) -> Length,
) -> (String, Option<Remedy>) {
    // The plan has tried what the pole allows: what is left is what the boards allow beyond it.
    let product = context.model.product_of(&layer.stuff).and_then(|product| product.exposure.as_ref());
    let own = product.map_or(layer.exposure, |range| Some(range.value)).unwrap_or((exposure, exposure));
    let range = layer.exposure.map_or(own, |(low, high)| (low.min(own.0), high.max(own.1)));
    // One pole for the whole house: every line of every face that shares it.
    let cuts: Vec<(Cut, Length)> = poles.get(&(exposure, start)).into_iter().flatten().copied().collect();
    match cure(&cuts, start, range, least) {
        Some((better, smallest)) => {
            let advice = format!(
                "an exposure of {} cures all lines of the house: the narrowest strip is then {}",
                context.shown(better),
                context.shown(smallest)
            );
            (advice, Some(Remedy::Exposure(better)))
        }
        None => {
            let heights: Vec<Length> = cuts.iter().map(|(_, height)| *height).collect();
            let most = context.limit("course.corner").and_then(|limit| limit.length());
            let equal = zones(&heights, range).filter(|zones| most.is_some_and(|most| spread(zones) <= most));
            let advice = equal.map_or_else(
                || {
                    "no exposure in range cures all lines: start the courses at another height, or move a line"
                        .to_owned()
                },
                |zones| equal_courses(context, &zones),
            );
            (advice, None)
        }
    }
}
