//! What was seen at hold points. A place that nothing is called is a mistake; all else is kept as it was written.

use super::{Builder, problems};
use crate::eval::Bound;
use crate::model::Evidence;

impl Builder<'_> {
    pub(super) fn evidence(&mut self, bound: &Bound) {
        let (Some(hold), Some(place), Some(by)) = (bound.word("hold"), bound.path("place"), bound.text("who")) else {
            return;
        };
        let texts = |word: &str| bound.all(word).filter_map(|clause| clause.text("text")).collect();
        self.model.evidence.push(Evidence {
            hold,
            place,
            by,
            until: bound.date("until"),
            seen: bound.clause("seen").and_then(|clause| clause.date("date")),
            photos: texts("photo"),
            readings: texts("reading"),
            note: bound.clause("note").and_then(|clause| clause.text("text")),
            origin: bound.span_of("place"),
        });
    }

    /// Each place begins with the name of a face, a building or a section.
    pub(super) fn join_evidence(&mut self) {
        let own = self.evaluated.own.iter().filter_map(|id| self.evaluated.instance(*id));
        let places = own.filter(|one| matches!(one.kind, "face" | "building" | "section"));
        let known: Vec<String> = places.map(|one| one.name.to_string()).collect();
        let named = |place: &str| known.iter().any(|name| place.split('.').next() == Some(name));
        let lost = self.model.evidence.iter().filter(|one| !named(&one.place));
        let lost: Vec<_> = lost.map(|one| problems::no_such_face(one.origin, &one.place, known.iter())).collect();
        self.model.problems.extend(lost);
    }
}
