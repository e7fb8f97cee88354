//! What is told of a wall or face, row by row: a figure with the word that belongs to it, both units, and the number of the note
//! that says what it is by and how sure it is. What only programs and those who check the sums ask for is left to them.

use super::words;
use crate::figures::{Figure, Studied};
use crate::units::System;

/// Left out unless all is asked for: bounds and residuals of methods, and what a sum is made of.
const DETAIL: &[&str] = &[
    "fastening.bite_asked",
    "fastening.cladding_weight",
    "fastening.edge",
    "fastening.edge_asked",
    "fastening.holds",
    "fastening.pull_corner",
    "fastening.pull_field",
    "fastening.sags",
    "fastening.span",
    "fastening.span_longest",
    "fastening.strip_bends",
    "fastening.strip_width",
    "fastening.strip_width_asked",
    "fastening.weight",
    "fastening.weight_proven",
    "gap_air.carries_most",
    "heat.added",
    "heat.edge_psi",
    "heat.error_share",
    "heat.resistance_lower",
    "heat.resistance_upper",
    "heat_cut.balance",
    "heat_cut.flow",
    "heat_cut.flow_moved",
    "heat_cut.temperature_moved",
    "hourly.above_95",
    "hourly.changes",
    "hourly.frost",
    "hourly.gap_warmer",
    "hourly.sky",
    "hourly.water",
    "leakage.exponent",
];

/// A figure and the word that is told in one row with it: "86%, 12 January".
const TOGETHER: &[(&str, &str)] = &[
    ("gap_air.carries_least", "gap_air.leanest_month"),
    ("heat.gap_opening_per_metre", "heat.gap_air"),
    ("hourly.mould", "hourly.mould_day"),
    ("hourly.peak_share", "hourly.peak_day"),
    ("moisture.peak", "moisture.dries"),
    ("moisture.surface_factor_needed", "moisture.critical_month"),
];

/// A figure and the one it is measured by, told in one row where few are told: "17%, holds 880 N (200 lbf)".
const AGAINST: &[(&str, &str, &str)] = &[
    ("fastening.bite", "asked", "fastening.bite_asked"),
    ("fastening.pull_share", "holds", "fastening.holds"),
    ("fastening.span_share", "at most", "fastening.span_longest"),
    ("fastening.weight_share", "proven", "fastening.weight_proven"),
];

/// How much is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Depth {
    /// The few numbers that matter.
    Few,
    /// Every figure.
    All,
}

/// What a row says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Told {
    /// A figure.
    Value(Shown),
    /// The missing fact.
    Missing(String),
}

/// A figure as it is shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Shown {
    /// In the leading unit.
    pub value: String,
    /// In the other; empty where it would say the same.
    pub other: String,
    /// The word told with it; empty for none.
    pub word: String,
    /// The number of its note.
    pub note: usize,
}

/// One row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Row {
    /// What it tells.
    pub title: &'static str,
    /// Of which layer, place or fastener; empty where it is of the whole.
    pub of: String,
    /// Its value.
    pub told: Told,
}

/// By what figures are and how sure they are, each said once and numbered from 1 in the order in which they are first asked for.
#[derive(Debug, Default)]
pub(super) struct Notes {
    /// In their order.
    pub lines: Vec<String>,
}

impl Notes {
    /// The number of the note of a figure.
    fn of(&mut self, figure: &Figure) -> usize {
        let line = format!("{}; {}", words::source(figure.source), words::sure(figure));
        let known = self.lines.iter().position(|known| *known == line);
        known.unwrap_or_else(|| {
            self.lines.push(line);
            self.lines.len() - 1
        }) + 1
    }
}

/// The rows of one study.
pub(super) fn rows(studied: &Studied, lead: System, depth: Depth, notes: &mut Notes) -> Vec<Row> {
    let figures = &studied.found.figures;
    let wanted = |key: &str| depth == Depth::All || !DETAIL.contains(&key);
    let beside = |figure: &Figure| {
        let (_, word) = TOGETHER.iter().find(|(number, _)| *number == figure.what.key)?;
        figures.iter().find(|other| other.what.key == *word && other.of == figure.of)
    };
    let is_beside = |figure: &Figure| {
        let number = TOGETHER.iter().find(|(_, word)| *word == figure.what.key);
        number.is_some_and(|(key, _)| figures.iter().any(|other| other.what.key == *key && other.of == figure.of))
    };
    let told = figures.iter().filter(|figure| wanted(figure.what.key) && !is_beside(figure)).map(|figure| {
        let word = beside(figure).map(|word| words::value(word, lead, lead));
        let word = word.or_else(|| if depth == Depth::Few { against(figures, figure, lead) } else { None });
        let told = Told::Value(Shown {
            value: words::value(figure, lead, lead),
            other: words::value(figure, lead.other(), lead),
            word: word.unwrap_or_default(),
            note: notes.of(figure),
        });
        Row { title: figure.what.title, of: figure.of.clone(), told }
    });
    let told: Vec<Row> = told.collect();
    let missing = studied.found.missing.iter().filter(|missing| wanted(missing.what.key)).map(|missing| Row {
        title: missing.what.title,
        of: missing.of.clone(),
        told: Told::Missing(missing.fact.clone()),
    });
    told.into_iter().chain(missing).collect()
}

/// What a figure is measured by, in words and both units.
fn against(figures: &[Figure], figure: &Figure, lead: System) -> Option<String> {
    let (_, word, key) = AGAINST.iter().find(|(key, ..)| *key == figure.what.key)?;
    let by = figures.iter().find(|other| other.what.key == *key && other.of == figure.of)?;
    let value = |system| words::value(by, system, system);
    Some(format!("{word} {} ({})", value(lead), value(lead.other())))
}

impl Row {
    /// What it tells, and of what.
    pub fn name(&self) -> String {
        if self.of.is_empty() { self.title.to_owned() } else { format!("{}, {}", self.title, self.of) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::heron_lane;

    #[test]
    fn every_key_that_rows_know_is_one_of_a_figure() {
        let checked = heron_lane();
        let figures = checked.figures();
        let walls = figures.walls.iter().flat_map(|wall| &wall.studies);
        let faces = figures.faces.iter().flat_map(|face| &face.studies);
        let cuts = figures.cuts.iter().flat_map(|cut| &cut.studies);
        let houses = figures.houses.iter().flat_map(|house| &house.studies);
        let all = walls.chain(faces).chain(cuts).chain(houses).flat_map(|studied| &studied.found.figures);
        let keys: std::collections::BTreeSet<&str> = all.map(|figure| figure.what.key).collect();
        let against = AGAINST.iter().flat_map(|(key, _, by)| [key, by]);
        let asked = DETAIL.iter().chain(TOGETHER.iter().flat_map(|(number, word)| [number, word])).chain(against);
        let unknown: Vec<&&str> = asked.filter(|key| !keys.contains(**key)).collect();
        assert!(unknown.is_empty(), "{unknown:?}");
    }
}
