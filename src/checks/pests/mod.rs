//! Mice, wasps and the screens that keep them out.

pub mod corner_post_hollow;
pub mod opening_rake_unscreened;
pub mod opening_unscreened;
pub mod screen_breaks_at_corner;
pub mod screen_chewable;
pub mod vent_lets_wasps_in;

use std::collections::BTreeSet;

use super::pieces::{faces, place_name, runs, wall};
use super::{CheckContext, Finding, RuleMeta};
use crate::geometry::{Point, Segment};
use crate::model::{Face, FaceId, Limit, Place, ProductId};
use crate::plan::Run;
use crate::source::Span;
use crate::units::Length;

/// An opening of the gap to the outside.
struct Hole<'c> {
    face: FaceId,
    subject: String,
    /// The kind of edge; `vent` for a row of slots in the wall.
    kind: &'static str,
    /// It lets air out at the top.
    is_outlet: bool,
    /// Its least dimension: the slot, or the depth of the gap.
    least: Option<Length>,
    screen: Option<ProductId>,
    segment: Segment,
    run: Option<&'c Run>,
    at: Span,
}

/// All openings of the gap to the outside, each once a face. A channel along the edge closes the gap itself: its holes are
/// judged one by one.
fn openings<'c>(context: &CheckContext<'c>) -> Vec<Hole<'c>> {
    let mut found = Vec::new();
    let mut seen = BTreeSet::new();
    for (run, place) in runs(context) {
        let Some(face) = context.model.face(run.face) else { continue };
        if closed_by_channel(context, face, run) {
            continue;
        }
        for end in place.gap_ends.iter().filter(|end| end.open && end.joins == "outside") {
            if !seen.insert((run.face, end.origin)) {
                continue;
            }
            let depth = || {
                let (_, gap) = wall(context, run.face, run.area?)?.gap()?;
                Some(gap.depth.1)
            };
            found.push(Hole {
                face: run.face,
                subject: run.name.clone(),
                kind: run.kind,
                is_outlet: matches!(run.kind, "top" | "rake" | "parapet"),
                least: end.slot.or_else(depth),
                screen: end.screen.or_else(|| screened_by_part(context, place)),
                segment: run.segment,
                run: Some(run),
                at: end.origin,
            });
        }
    }
    for (id, face) in faces(context.model) {
        vents(context, id, face, &mut found);
    }
    found
}

fn vents(context: &CheckContext<'_>, id: FaceId, face: &Face, found: &mut Vec<Hole<'_>>) {
    let Some(bounds) = context.plan.face(id).and_then(|plan| plan.outline.bounds()) else { return };
    for vent in &face.vents {
        let (from, to) = (Point::new(bounds.left, vent.height), Point::new(bounds.right, vent.height));
        found.push(Hole {
            face: id,
            subject: format!("{}.{}", face.name, vent.name),
            kind: "vent",
            is_outlet: vent.gives.contains(&"outlet"),
            least: Some(vent.slot),
            screen: vent.screen,
            segment: Segment::new(from, to),
            run: None,
            at: vent.origin,
        });
    }
}

/// A channel lies along this edge, with a floor of its own.
fn closed_by_channel(context: &CheckContext<'_>, face: &Face, run: &Run) -> bool {
    let along = place_name(run);
    face.trims
        .iter()
        .filter(|trim| trim.along == along)
        .any(|trim| context.model.product(trim.product).is_some_and(|product| product.floor.is_some()))
}

/// A part of the detail that is a screen.
fn screened_by_part(context: &CheckContext<'_>, place: &Place) -> Option<ProductId> {
    let screens = place.parts.iter().filter(|part| {
        part.kind == "screen" || context.model.product_of(&part.stuff).is_some_and(|product| product.kind == "screen")
    });
    screens.filter_map(|part| part.stuff.product).next()
}

impl Hole<'_> {
    /// Puts a finding on its stretch of wall.
    fn on_wall(&self, context: &CheckContext<'_>, finding: Finding) -> Finding {
        match self.run {
            Some(run) => context.on_run(finding.also(run.origin, "used here"), run, self.segment),
            None => context.on_face(finding, self.face, "vent", self.segment.from, self.segment.to),
        }
    }
}

/// Whether a mouse passes: over the limit with no screen, or with one whose holes are over it.
fn mouse(
    context: &CheckContext<'_>,
    meta: &'static RuleMeta,
    hole: &Hole<'_>,
    (limit, most): (&Limit, Length),
) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(meta, hole.subject.as_str(), hole.at, missing));
    let least = match hole.least {
        Some(least) if least <= most => return None,
        least => least,
    };
    let fault = |message: String, found: Length| {
        let finding = context.fault(meta, hole.subject.as_str(), hole.at, message).against(limit);
        Some(finding.measured(context.measure(found)).wanted(context.measure(most)))
    };
    let Some(screen) = hole.screen else {
        let Some(least) = least else { return unknown(format!("height of the slot at `{}`", hole.subject)) };
        let message = format!(
            "`{}` is open {} wide with no screen: a mouse passes more than {}",
            hole.subject,
            context.shown(least),
            context.shown(most)
        );
        return fault(message, least).map(|finding| finding.help("put a screen in it: `screen meshes.insect`"));
    };
    let name = context.model.product_name(screen);
    let Some(opening) = context.model.product(screen).and_then(|screen| screen.opening.as_ref()) else {
        return unknown(format!("size of the holes of `{name}` (`opening`)"));
    };
    if opening.value <= most {
        return None;
    }
    let message = format!(
        "the holes of `{name}` are {}: a mouse passes more than {}",
        context.shown(opening.value),
        context.shown(most)
    );
    fault(message, opening.value).map(|finding| finding.help("take a finer mesh"))
}
