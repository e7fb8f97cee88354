//! Bays that share one fault, as one group with one sentence: "bays 3 to 5 of `lower`".

use std::collections::BTreeMap;

use super::water::{furring_dams, nailer_above_head};
use super::{CheckContext, Finding};
use crate::continuity::BayFlow;
use crate::geometry::{Bounds, Point, Segment};
use crate::model::{Area, Detail, Face, FaceId};
use crate::plan::{Against, Bay, Run};
use crate::source::Span;

/// Bays of one area.
pub struct Bays<'f> {
    /// The face.
    pub face: FaceId,
    /// Index of the area on it.
    pub area: usize,
    /// The bays, in order.
    pub flows: Vec<&'f BayFlow>,
}

/// Puts bays with the same key in one area together. Those without a key are left out.
pub fn grouped<'f, K: Ord>(
    flows: impl IntoIterator<Item = &'f BayFlow>,
    key: impl Fn(&'f BayFlow) -> Option<K>,
) -> Vec<(K, Bays<'f>)> {
    let mut groups: BTreeMap<(FaceId, usize, K), Vec<&'f BayFlow>> = BTreeMap::new();
    for flow in flows {
        if let Some(key) = key(flow) {
            groups.entry((flow.id.face, flow.id.area, key)).or_default().push(flow);
        }
    }
    groups.into_iter().map(|((face, area, key), flows)| (key, Bays { face, area, flows })).collect()
}

/// A key for what bounds a bay, so that groups stand in a fixed order.
pub fn order(with: Against) -> (u8, usize) {
    match with {
        Against::Run(id) => (0, id.0 as usize),
        Against::Strip(at) => (1, at),
        Against::Block(at) => (2, at),
        Against::Nailer(at) => (3, at),
        Against::FireStop(at) => (4, at),
        Against::Vent(at) => (5, at),
        Against::Unknown => (6, 0),
    }
}

impl<'f> Bays<'f> {
    /// The face and the area they belong to.
    pub fn place<'m>(&self, context: &CheckContext<'m>) -> Option<(&'m Face, &'m Area)> {
        let face = context.model.face(self.face)?;
        Some((face, face.areas.get(self.area)?))
    }

    /// Dotted name of the area: `north.lower`.
    pub fn subject(&self, context: &CheckContext<'_>) -> String {
        self.place(context).map_or_else(String::new, |(face, area)| format!("{}.{}", face.name, area.name))
    }

    /// "bays 3 to 5 and 8 of `lower`", "bay 2 of `lower`", or "the gap of `lower`" for all of them.
    pub fn name(&self, context: &CheckContext<'_>) -> String {
        let area = self.place(context).map_or("", |(_, area)| area.name.as_str());
        if self.is_all(context) {
            return format!("the gap of `{area}`");
        }
        let numbers: Vec<usize> = self.flows.iter().map(|flow| flow.id.bay + 1).collect();
        let word = if numbers.len() == 1 { "bay" } else { "bays" };
        format!("{word} {} of `{area}`", ranges(&numbers))
    }

    /// The verb that goes with [`Bays::name`]: "is" or "are".
    pub fn verb(&self, context: &CheckContext<'_>, one: &'static str, many: &'static str) -> &'static str {
        if self.flows.len() == 1 || self.is_all(context) { one } else { many }
    }

    /// Whether they are all bays of their area.
    fn is_all(&self, context: &CheckContext<'_>) -> bool {
        let plan = context.plan.face(self.face).and_then(|face| face.areas.get(self.area));
        plan.is_some_and(|plan| plan.bays.len() == self.flows.len())
    }

    /// Area of wall that drains through them, m².
    pub fn square_metres(&self) -> f64 {
        self.flows.iter().map(|flow| flow.area).sum()
    }

    /// The lowest stretch of wall that they cover, for "where".
    pub fn foot(&self, context: &CheckContext<'_>) -> Option<(Point, Point)> {
        let bounds = self.bounds(context)?;
        Some((Point::new(bounds.left, bounds.bottom), Point::new(bounds.right, bounds.bottom)))
    }

    /// The highest stretch of wall that they cover.
    pub fn head(&self, context: &CheckContext<'_>) -> Option<(Point, Point)> {
        let bounds = self.bounds(context)?;
        Some((Point::new(bounds.left, bounds.top), Point::new(bounds.right, bounds.top)))
    }

    /// The box around all of them.
    fn bounds(&self, context: &CheckContext<'_>) -> Option<Bounds> {
        let boxes = self.flows.iter().filter_map(|flow| Some(bay(context, flow)?.shape.bounds()));
        boxes.reduce(|a, b| Bounds {
            left: a.left.min(b.left),
            bottom: a.bottom.min(b.bottom),
            right: a.right.max(b.right),
            top: a.top.max(b.top),
        })
    }

    /// Puts the foot of the bays into a finding as its place.
    pub fn at_foot(&self, context: &CheckContext<'_>, finding: Finding, what: &str) -> Finding {
        match self.foot(context) {
            Some((from, to)) => context.on_face(finding, self.face, what, from, to),
            None => finding,
        }
    }

    /// Puts the head of the bays into a finding as its place.
    pub fn at_head(&self, context: &CheckContext<'_>, finding: Finding, what: &str) -> Finding {
        match self.head(context) {
            Some((from, to)) => context.on_face(finding, self.face, what, from, to),
            None => finding,
        }
    }
}

/// What shuts a bay at its top.
pub fn ceiling(context: &CheckContext<'_>, flow: &BayFlow) -> Option<Against> {
    first(context, flow, Segment::is_ceiling)
}

/// What shuts a bay at its foot.
pub fn floor(context: &CheckContext<'_>, flow: &BayFlow) -> Option<Against> {
    first(context, flow, Segment::is_floor)
}

fn first(context: &CheckContext<'_>, flow: &BayFlow, is: fn(Segment) -> bool) -> Option<Against> {
    let contacts = &bay(context, flow)?.contacts;
    let known = contacts.iter().filter(|contact| is(contact.segment) && contact.with != Against::Unknown);
    known.map(|contact| contact.with).min_by_key(|&with| order(with))
}

/// Whether a bay ends at a strip or nailer that a rule of its own tells: what follows from those is not told again.
pub fn told_elsewhere(context: &CheckContext<'_>, flow: &BayFlow) -> bool {
    let contacts = bay(context, flow).map_or(&[] as &[_], |bay| &bay.contacts);
    contacts.iter().any(|contact| match contact.with {
        Against::Strip(_) => !contact.segment.is_vertical() && furring_dams::is_dammed(context, flow),
        Against::Nailer(at) => nailer_above_head::is_over_opening(context, flow.id.face, at),
        _ => false,
    })
}

/// The bay of the plan that a flow is about.
pub fn bay<'c>(context: &'c CheckContext<'_>, flow: &BayFlow) -> Option<&'c Bay> {
    context.plan.face(flow.id.face)?.areas.get(flow.id.area)?.bays.get(flow.id.bay)
}

/// What bounds a bay, for a sentence ("`north.base` (built as `closed_base`)"), and the line of the text it comes from.
pub fn boundary(context: &CheckContext<'_>, face: FaceId, with: Against) -> Option<(String, Span)> {
    let walls = context.model.face(face)?;
    let named = |kind: &str, name: &str, origin: Span| (format!("{kind} `{name}`"), origin);
    match with {
        Against::Run(id) => context.plan.run(id).map(|run| (run_name(context, run), run.origin)),
        Against::Strip(_) => Some(("a furring strip".to_owned(), walls.origin)),
        Against::Block(at) => walls.blocks.get(at).map(|block| named("block", &block.name, block.origin)),
        Against::Nailer(at) => walls.nailers.get(at).map(|nailer| named("nailer", &nailer.name, nailer.origin)),
        Against::FireStop(at) => walls.fire_stops.get(at).map(|stop| named("fire stop", &stop.name, stop.origin)),
        Against::Vent(at) => walls.vents.get(at).map(|vent| named("vent", &vent.name, vent.origin)),
        Against::Unknown => None,
    }
}

fn run_name(context: &CheckContext<'_>, run: &Run) -> String {
    match detail_of(context, run) {
        Some(detail) => format!("`{}` (built as `{}`)", run.name, detail.name),
        None => format!("`{}`", run.name),
    }
}

/// The detail of a stretch of edge.
pub fn detail_of<'m>(context: &CheckContext<'m>, run: &Run) -> Option<&'m Detail> {
    context.model.detail(run.detail?)
}

/// `3 to 5 and 8` from 3, 4, 5, 8.
fn ranges(numbers: &[usize]) -> String {
    let mut spans: Vec<(usize, usize)> = Vec::new();
    for &number in numbers {
        match spans.last_mut() {
            Some((_, last)) if *last + 1 == number => *last = number,
            _ => spans.push((number, number)),
        }
    }
    let words: Vec<String> = spans
        .into_iter()
        .flat_map(|(from, to)| match to - from {
            0 => vec![from.to_string()],
            1 => vec![from.to_string(), to.to_string()],
            _ => vec![format!("{from} to {to}")],
        })
        .collect();
    match words.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        Some((last, _)) => last.clone(),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::ranges;

    #[test]
    fn numbers_are_read_as_a_person_would_say_them() {
        assert_eq!(ranges(&[2]), "2");
        assert_eq!(ranges(&[2, 3]), "2 and 3");
        assert_eq!(ranges(&[1, 3, 4, 5, 8]), "1, 3 to 5 and 8");
        assert_eq!(ranges(&[1, 2, 3, 4]), "1 to 4");
    }
}
