//! Plane cuts that heat is reckoned through.

use super::{Builder, problems};
use crate::diagnose::Diagnostic;
use crate::eval::Bound;
use crate::model::{AirSide, Box2, CutAir, CutEdge, CutFlank, CutRegion, HeatCut};
use crate::units::{Length, display};

/// More rectangles than any detail has; the bound keeps figures quick.
const MOST: usize = 300;
/// Farthest corner from 0.
const REACH: Length = Length::mm(100_000);

impl Builder<'_> {
    pub(super) fn heat_cut(&mut self, bound: &Bound) {
        let before = self.model.problems.len();
        let name = bound.name().unwrap_or_default().to_owned();
        let mut lost = 0;
        let mut regions = Vec::new();
        for clause in bound.all("region") {
            match self.cut_region(clause) {
                Some(region) => regions.push(region),
                None => lost += 1,
            }
        }
        let mut airs = Vec::new();
        for side in [AirSide::Inside, AirSide::Outside, AirSide::Space] {
            for clause in bound.all(side.word()) {
                match self.cut_air(clause, side) {
                    Some(air) => airs.push(air),
                    None => lost += 1,
                }
            }
        }
        let mut flanks = Vec::new();
        for clause in bound.all("flank") {
            match self.cut_flank(clause) {
                Some(flank) => flanks.push(flank),
                None => lost += 1,
            }
        }
        let edge = bound.clause("detail").and_then(|clause| self.cut_edge(clause, &name));
        let measured_to = bound.clause("measured").and_then(|clause| clause.word("plane"));
        let points = bound.all("point").filter_map(|clause| Some((clause.name()?.to_owned(), clause.point("at")?)));
        let notes = bound.all("note").filter_map(|clause| clause.text("text"));
        let (points, notes) = (points.collect(), notes.collect());
        if !bound.broken && lost == 0 {
            self.cut_is_whole(bound, &name);
        }
        if regions.len() + airs.len() > MOST {
            let title = format!("`{name}` has more than {MOST} rectangles");
            let help = "cut a smaller piece, or draw what is alike as one rectangle";
            self.problem(Diagnostic::error("heat_cut.too_many", bound.span, title).help(help));
        }
        let broken = bound.broken || lost > 0 || self.model.problems.len() > before;
        let origin = bound.span;
        let cut = HeatCut { name, regions, airs, flanks, measured_to, edge, points, notes, origin, broken };
        self.model.heat_cuts.push(cut);
    }

    /// Material, and two airs to pass heat from one to the other.
    fn cut_is_whole(&mut self, bound: &Bound, name: &str) {
        for (word, line) in [
            ("region", "region from (0mm, 0mm) to (140mm, 400mm) of spruce"),
            ("inside", "inside from (140mm, 0mm) to (140mm, 400mm)"),
            ("outside", "outside from (0mm, 0mm) to (0mm, 400mm)"),
        ] {
            if !bound.has(word) {
                let title = format!("`{name}` has no `{word}`");
                let help = format!("add a line like `{line}`");
                self.problem(Diagnostic::error("heat_cut.incomplete", bound.span, title).help(help));
            }
        }
    }

    fn cut_region(&mut self, clause: &Bound) -> Option<CutRegion> {
        let at = self.cut_box(clause)?;
        let ((left, low), (right, high)) = at;
        if left == right || low == high {
            let problem = problems::not_positive(clause.span, "the width and the height of a `region`");
            self.problem(problem);
            return None;
        }
        let conductivity = clause.number("value");
        if conductivity.is_some_and(|value| value <= 0.0) {
            let title = "a conductivity must be more than 0";
            self.problem(Diagnostic::error("size.not_positive", clause.span_of("value"), title));
            return None;
        }
        let stuff = self.stuff(clause, "stuff");
        // What was named and not found is told by name already.
        if stuff.is_none() && conductivity.is_none() && clause.get("stuff").is_none() && !clause.broken {
            let title = "this `region` says neither what it is of nor its conductivity";
            let help = "write `of` and a material or product, or `conductivity 0.035W/(m.K)`";
            self.problem(Diagnostic::error("heat_cut.material", clause.span, title).help(help));
        }
        (stuff.is_some() || conductivity.is_some()).then_some(CutRegion {
            at,
            stuff,
            conductivity,
            origin: clause.span,
        })
    }

    fn cut_flank(&mut self, clause: &Bound) -> Option<CutFlank> {
        let length = clause.length("length")?;
        let transmittance = clause.number("transmittance");
        let wall = clause.instance("wall").and_then(|id| self.assembly(id));
        if wall.is_none() && transmittance.is_none() && clause.get("wall").is_none() && !clause.broken {
            let title = "this `flank` says neither its transmittance nor the wall it is of";
            let help = "write `of 0.2W/(m2.K)`, or `along` and a wall";
            self.problem(Diagnostic::error("heat_cut.flank", clause.span, title).help(help));
        }
        let said = transmittance.is_some() || wall.is_some();
        said.then_some(CutFlank { length, transmittance, wall, origin: clause.span })
    }

    /// The edge that a cut stands for; no two stand for one.
    fn cut_edge(&mut self, clause: &Bound, name: &str) -> Option<CutEdge> {
        let detail = clause.instance("of").and_then(|id| self.detail(id))?;
        let edge = CutEdge { detail, place: clause.word("place"), origin: clause.span };
        let same = |other: &CutEdge| other.detail == edge.detail && other.place == edge.place;
        let other = self.model.heat_cuts.iter().find(|cut| cut.edge.as_ref().is_some_and(same));
        if let Some(other) = other {
            let title = format!("`{name}` and `{}` are cuts of one edge", other.name);
            let help = "leave `detail` out of one of them, or say `at head`, `at jamb` or `at sill`";
            self.problem(Diagnostic::error("heat_cut.twice", clause.span, title).help(help));
        }
        Some(edge)
    }

    fn cut_air(&mut self, clause: &Bound, side: AirSide) -> Option<CutAir> {
        let at = self.cut_box(clause)?;
        if at.0 == at.1 {
            let title = format!("`{}` is a point; it has to be a line or a rectangle", side.word());
            self.problem(Diagnostic::error("size.not_positive", clause.span, title));
            return None;
        }
        let value = |word: &str| clause.clause(word).and_then(|inner| inner.number("value"));
        for word in ["resistance", "cold_resistance"] {
            if value(word).is_some_and(|value| value < 0.0) {
                let title = format!("`{word}` is less than 0");
                self.problem(Diagnostic::error("size.negative", clause.span, title));
            }
        }
        let temperature = value("temperature");
        if side == AirSide::Space && temperature.is_none() && !clause.broken {
            let help = "write `, temperature 5degC` behind it";
            let title = "this `space` says no temperature";
            self.problem(Diagnostic::error("heat_cut.temperature", clause.span, title).help(help));
        }
        let (resistance, cold_resistance) = (value("resistance"), value("cold_resistance"));
        Some(CutAir { side, at, temperature, resistance, cold_resistance, origin: clause.span })
    }

    fn cut_box(&mut self, clause: &Bound) -> Option<Box2> {
        let (from, to) = (clause.point("from")?, clause.point("to")?);
        if [from.0, from.1, to.0, to.1].iter().any(|length| length.abs() > REACH) {
            let units = self.model.project.units;
            let far = [from.0, from.1, to.0, to.1].into_iter().map(Length::abs).max().unwrap_or_default();
            let problem =
                problems::absurd(clause.span, "a corner", &display::length(far, units), &display::length(REACH, units));
            self.problem(problem);
            return None;
        }
        Some(((from.0.min(to.0), from.1.min(to.1)), (from.0.max(to.0), from.1.max(to.1))))
    }
}
