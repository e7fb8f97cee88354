//! The crew, its pace and its machine.

use std::collections::BTreeMap;

use super::Builder;
use super::outline::place_along;
use super::problems;
use crate::diagnose::{Diagnostic, did_you_mean};
use crate::eval::{Bound, Value};
use crate::model::{Crew, FaceId, OutOfReach};

/// More people than any platform carries; the bound keeps sums sane.
const MOST: i64 = 100;

impl Builder<'_> {
    pub(super) fn crew(&mut self, bound: &Bound) {
        if let Some(first) = &self.model.crew {
            let problem = Diagnostic::error("crew.twice", bound.span, "there are two crews")
                .also(first.origin, "the first one")
                .help("keep one: the sheets are made for the crew that does the work");
            return self.problem(problem);
        }
        let count = bound.clause("people").and_then(|people| Some((people.integer("count")?, people.span)));
        if let Some((count, at)) = count.filter(|(count, _)| !(1..=MOST).contains(count)) {
            self.problem(Diagnostic::error("crew.people", at, format!("people are 1 to {MOST}, not {count}")));
        }
        let each = self.more(bound, "people", "each");
        let people = count.map(|(count, _)| count).filter(|count| (1..=MOST).contains(count));
        let mut pace = Vec::new();
        for clause in bound.all("pace") {
            let said = clause.word("what").zip(self.mass_or_time(clause, "pace", "time"));
            pace.extend(said);
        }
        let length = |word: &str, label: &str| bound.clause(word).and_then(|clause| clause.length(label));
        let crew = Crew {
            name: bound.name().unwrap_or_default().to_owned(),
            people: people.map(i64::unsigned_abs).zip(each),
            tools: self.more(bound, "tools", "mass"),
            sundries: self.more(bound, "sundries", "mass"),
            platform: self.more(bound, "platform", "rating"),
            length: length("length", "value"),
            outreach: length("outreach", "value"),
            lift: length("lift", "height"),
            pace,
            move_time: self.more(bound, "move", "time"),
            setting: self.more(bound, "setting", "time"),
            order: order(bound),
            out_of_reach: bound.all("out_of_reach").filter_map(out_of_reach).collect(),
            origin: bound.span,
        };
        self.model.crew = Some(crew);
    }

    fn more(&mut self, bound: &Bound, word: &'static str, label: &str) -> Option<f64> {
        let clause = bound.clause(word)?;
        self.mass_or_time(clause, word, label)
    }

    fn mass_or_time(&mut self, clause: &Bound, word: &str, label: &str) -> Option<f64> {
        let value = clause.number(label)?;
        if value <= 0.0 || !value.is_finite() {
            self.problem(problems::not_positive(clause.span, &format!("`{word}`")));
            return None;
        }
        Some(value)
    }

    /// Ties the names of the crew to faces and sections, once all are known.
    pub(super) fn join_crew(&mut self, faces: &BTreeMap<String, FaceId>) {
        let Some(mut crew) = self.model.crew.take() else { return };
        for zone in &mut crew.out_of_reach {
            zone.face = faces.get(&zone.on.0).copied();
            if zone.face.is_none() {
                self.problem(problems::no_such_face(zone.on.1, &zone.on.0, faces.keys()));
            }
        }
        let mut seen = BTreeMap::new();
        for (name, at, place) in &mut crew.order {
            *place = self.model.sections.iter().position(|section| section.name == *name);
            if place.is_none() {
                let mut problem = Diagnostic::error("name.unknown", *at, format!("there is no section `{name}`"));
                let known = self.model.sections.iter().map(|section| section.name.as_str());
                problem.help.extend(did_you_mean(name, known));
                self.model.problems.push(problem);
            } else if let Some(first) = seen.insert(name.clone(), *at) {
                let problem = Diagnostic::error("crew.order", *at, format!("`{name}` is in the order twice"))
                    .also(first, "the first time");
                self.model.problems.push(problem);
                *place = None;
            }
        }
        self.model.crew = Some(crew);
    }
}

fn order(bound: &Bound) -> Vec<(String, crate::source::Span, Option<usize>)> {
    let clause = bound.clause("order");
    let Some(Value::Names(words)) = clause.and_then(|clause| clause.get("sections")) else { return Vec::new() };
    words.iter().map(|word| (word.text.to_string(), word.span, None)).collect()
}

fn out_of_reach(clause: &Bound) -> Option<OutOfReach> {
    Some(OutOfReach {
        on: clause.paths("face").into_iter().next()?,
        face: None,
        from: place_along(clause, "from"),
        to: place_along(clause, "to"),
        above: clause.length("low"),
        up_to: clause.length("high"),
        by: clause.word("means"),
        why: clause.text("why"),
    })
}
