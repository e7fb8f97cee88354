//! Project, site, climate, office rules and acceptances.

use super::goods::sourced_clause;
use super::{Builder, problems};
use crate::eval::{Bound, InstanceId, Value};
use crate::model::{Accept, Authority, Climate, Condition, OfficeRule, ProjectFacts, RainFactor, Site, Sureness};
use crate::units::System;

/// The library's rule set of habits, asked after all sets that the site names.
const FALLBACK: &str = "common_practice";

/// What a wall gets of the driving rain in the open, as a site or a face says it.
pub(super) fn rain_factors(bound: &Bound) -> Vec<RainFactor> {
    let read = |clause: &Bound| Some(RainFactor { of: clause.word("what")?, value: sourced_clause(clause)? });
    bound.all("rain_factor").filter_map(read).collect()
}

impl Builder<'_> {
    pub(super) fn project_facts(&mut self, bound: &Bound) {
        if let Some(first) = self.project_at.replace(bound.span) {
            self.project_at = Some(first);
            self.problem(problems::second(bound.span, "project", first));
            return;
        }
        let text = |word: &str| {
            bound.clause(word).and_then(|clause| clause.text("text")).map(|text| text.to_string()).unwrap_or_default()
        };
        let units = match bound.clause("units").and_then(|clause| clause.word("system")) {
            Some("imperial") => System::Imperial,
            _ => System::Metric,
        };
        let name = bound.name().unwrap_or_default().to_owned();
        let title = text("title");
        self.model.project = ProjectFacts {
            title: if title.is_empty() { name.replace('_', " ") } else { title },
            name,
            revision: text("revision"),
            units,
        };
        self.prices(bound);
    }

    /// Prices of this job, which stand before those that products say themselves.
    fn prices(&mut self, bound: &Bound) {
        for clause in bound.all("price") {
            let Some(amount) = clause.number("amount") else { continue };
            if amount <= 0.0 {
                self.problem(problems::not_positive(clause.span, "a price"));
                continue;
            }
            let Some(id) = clause.instance("product").and_then(|id| self.product(id)) else { continue };
            if let Some(product) = self.model.products.get_mut(id.0 as usize) {
                product.price = Some((amount, clause.word("unit")));
            }
        }
    }

    pub(super) fn site(&mut self, bound: &Bound) {
        if let Some(first) = &self.model.site {
            let problem = problems::second(bound.span, "site", first.origin);
            self.problem(problem);
            return;
        }
        let climate = bound.clause("climate").and_then(|clause| clause.instance("of")).and_then(|id| self.climate(id));
        let own = |word: &str| bound.clause(word).and_then(|clause| clause.number("pressure"));
        let class = bound.clause("humidity_class").and_then(|clause| clause.integer("class"));
        let word = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.word(label));
        self.model.site = Some(Site {
            name: bound.name().unwrap_or_default().to_owned(),
            wind: own("wind").or(climate.as_ref().and_then(|climate| climate.wind)),
            driving_rain: own("driving_rain").or(climate.as_ref().and_then(|climate| climate.driving_rain)),
            climate,
            snow: bound.clause("snow").and_then(|clause| clause.length("depth")),
            salt: word("salt", "from"),
            wildfire: word("wildfire", "zone") == Some("yes"),
            terrain: word("terrain", "kind"),
            interior: word("interior", "humidity"),
            indoors: bound.clause("indoors").and_then(|clause| clause.number("temperature")),
            humidity_class: class.and_then(|class| u32::try_from(class).ok()),
            rain_factors: rain_factors(bound),
            origin: bound.span,
        });
        let sets = bound.clause("limits").map(|clause| clause.instances("of")).unwrap_or_default();
        for id in sets {
            if let Some(instance) = self.evaluated.instance(id) {
                let set = self.rule_set(instance);
                self.model.rule_sets.push(set);
            }
        }
    }

    fn climate(&self, id: InstanceId) -> Option<Climate> {
        let instance = self.evaluated.instance(id)?;
        let bound = &instance.bound;
        let months = |word: &str| match bound.clause(word).and_then(|clause| clause.get("months")) {
            Some(Value::Numbers(numbers)) => numbers.iter().map(|number| number.si()).collect(),
            Some(Value::Lengths(lengths)) => lengths.iter().map(|length| length.as_mm()).collect(),
            _ => Vec::new(),
        };
        let directions = match bound.clause("rain_index").and_then(|clause| clause.get("directions")) {
            Some(Value::Lengths(lengths)) => lengths.iter().map(|length| length.as_mm()).collect(),
            _ => Vec::new(),
        };
        let number = |word: &str, label: &str| bound.clause(word).and_then(|clause| clause.number(label));
        let extremes = bound.clause("extremes").and_then(|clause| match clause.get("range") {
            Some(Value::Range(low, high)) => Some((low.si(), high.si())),
            _ => None,
        });
        Some(Climate {
            name: instance.name.to_string(),
            temperature: months("temperature"),
            humidity: months("humidity"),
            wind_speed: months("wind_speed"),
            rain: months("rain"),
            hours: bound.clause("hours").and_then(|clause| Some((clause.text("file")?, clause.span))),
            measured: None,
            latitude: number("latitude", "angle"),
            sun: months("sun"),
            clearness: number("clearness", "share"),
            rain_index: directions,
            extremes,
            degree_days: number("degree_days", "number"),
            moisture_index: number("moisture_index", "number"),
            driving_rain: number("driving_rain", "pressure"),
            wind: number("wind", "pressure"),
        })
    }

    /// A rule set that is wanted stands in place of those the project names.
    pub(super) fn wanted_rule_set(&mut self) {
        if let Some(instance) = self.evaluated.limits.and_then(|id| self.evaluated.instance(id)) {
            self.model.rule_sets = vec![self.rule_set(instance)];
        }
    }

    /// The library's habits come last, so that a project without rule sets still gets warnings.
    pub(super) fn fallback_rule_set(&mut self) {
        if self.model.rule_sets.iter().any(|set| set.name == FALLBACK) {
            return;
        }
        if let Some(&id) = self.evaluated.fallback_limits.as_ref()
            && let Some(instance) = self.evaluated.instance(id)
        {
            let set = self.rule_set(instance);
            self.model.rule_sets.push(set);
        }
    }

    /// A rule whose properties are unknown is reported and left out.
    pub(super) fn office_rule(&mut self, bound: &Bound) {
        let (Some(name), Some(subject)) = (bound.name(), bound.word("subject")) else { return };
        let Some(says) = bound.clause("says").and_then(|clause| clause.text("text")) else {
            if !bound.broken {
                self.problem(problems::rule_says_nothing(bound.span, name));
            }
            return;
        };
        let (Some(filters), Some(wants)) =
            (self.conditions(bound, "where", subject), self.conditions(bound, "wants", subject))
        else {
            return;
        };
        if wants.is_empty() {
            self.problem(problems::rule_wants_nothing(bound.span, name));
            return;
        }
        self.model.office_rules.push(OfficeRule {
            name: name.to_owned(),
            subject,
            filters,
            wants,
            says,
            advice: bound.all("advice").filter_map(|clause| clause.text("text")).collect(),
            grade: bound.clause("grade").and_then(|clause| clause.word("grade")).unwrap_or("S3"),
            before: bound.clause("before").and_then(|clause| clause.word("hold")).unwrap_or("H5"),
            source: bound.clause("source").and_then(|clause| clause.text("text")).unwrap_or_default(),
            sure: bound
                .clause("sure")
                .and_then(|clause| clause.word("how"))
                .map_or(Sureness::Habit, Sureness::from_word),
            origin: bound.span,
        });
    }

    fn conditions(&mut self, bound: &Bound, word: &str, subject: &str) -> Option<Vec<Condition>> {
        let known = crate::checks::office_properties(subject);
        let mut conditions = Vec::new();
        for clause in bound.all(word) {
            let property = clause.path("property")?;
            if !known.contains(&property.as_str()) {
                self.problem(problems::no_such_property(clause.span_of("property"), &property, subject, known));
                return None;
            }
            let (relation, value) = (clause.word("relation")?, clause.get("value")?.clone());
            conditions.push(Condition { property, relation, value, origin: clause.span });
        }
        Some(conditions)
    }

    /// `within` is the dotted place the acceptance stands in, empty for a file.
    pub(super) fn accept(&mut self, bound: &Bound, within: &str) {
        let (Some(rule), Some(place), Some(why), Some(by)) =
            (bound.path("rule"), bound.path("place"), bound.text("why"), bound.text("who"))
        else {
            return;
        };
        let authority = bound.clause("authority").and_then(|clause| {
            let reference = bound.clause("reference").and_then(|clause| clause.text("text"));
            let dated = bound.clause("dated").and_then(|clause| clause.date("date"));
            Some(Authority { role: clause.text("role")?, reference, dated })
        });
        let not_worse_than = bound.clause("not_worse_than").and_then(|clause| clause.number("value"));
        let place = if within.is_empty() || place.starts_with(&format!("{within}.")) || place == within {
            place
        } else {
            format!("{within}.{place}")
        };
        self.model.accepts.push(Accept {
            rule,
            place,
            why,
            by,
            until: bound.date("until"),
            authority,
            not_worse_than,
            origin: bound.span,
        });
    }
}

/// Both ends of a quantity or a range of them, SI.
pub(super) fn ends(value: Option<&Value>) -> Option<(f64, f64)> {
    match value? {
        Value::Number(number) => Some((number.si(), number.si())),
        Value::Range(low, high) => Some((low.si(), high.si())),
        _ => None,
    }
}
