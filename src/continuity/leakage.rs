//! How much air a barrier may let through: a range, from the length of its joints and holes, only where it is asked for.

use super::air::{AirBarrier, AirEnd};
use super::bonds::{AirJoint, Hold};
use crate::model::Model;
use crate::physics::leakage::at_pressure;
use crate::plan::Plan;
use crate::units::Length;

/// Pressure of the estimate, Pa.
pub const PRESSURE: f64 = 75.0;

/// The pressure of an ordinary winter day, Pa, at which the range is given as well.
pub const ORDINARY: f64 = 4.0;

/// A range of flow at [`PRESSURE`], with what it is made of.
#[derive(Clone, Debug, Default)]
pub struct Leakage {
    /// Area of the faces with their openings, m².
    pub area: f64,
    /// What leaks, in the order in which it is listed.
    pub rows: Vec<LeakageRow>,
    /// Ends that have no length: whole areas without a barrier. With one of these the range says nothing.
    pub whole: usize,
    /// Exponent of the power law.
    pub exponent: f64,
}

/// One sort of joint.
#[derive(Clone, Debug)]
pub struct LeakageRow {
    /// "joints on which no fault was found".
    pub what: &'static str,
    /// How many.
    pub count: usize,
    /// How long together; zero for the barrier itself.
    pub length: Length,
    /// m³/s at [`PRESSURE`], least.
    pub low: f64,
    /// Most.
    pub high: f64,
}

impl Leakage {
    /// The estimate, or the names of the limits that are missing.
    pub fn estimate(model: &Model, plan: &Plan, air: &AirBarrier) -> Result<Self, Vec<String>> {
        let mut missing = Vec::new();
        let mut range = |what: &str| {
            let mut one = |end: &str| {
                let name = format!("leakage.{what}{end}");
                let found = model.limit(&name).and_then(|limit| limit.number());
                found.unwrap_or_else(|| {
                    missing.push(name);
                    0.0
                })
            };
            (one("_low"), one("_high"))
        };
        let (sheet, held, bead) = (range("sheet"), range("held"), range("bead"));
        let (doubt, open) = (range("doubt"), range("open"));
        let exponent = model.limit("leakage.exponent").and_then(|limit| limit.number());
        if exponent.is_none() {
            missing.push("leakage.exponent".to_owned());
        }
        if !missing.is_empty() {
            return Err(missing);
        }
        let area: f64 = plan.faces.iter().map(|face| face.outline.area().as_m2()).sum();
        let sorts = Sorts::of(model, air);
        let along = |what, joints: &[(Length, bool)], rate: (f64, f64)| {
            let length: f64 =
                joints.iter().map(|&(length, shared)| length.as_m() * if shared { 0.5 } else { 1.0 }).sum();
            let (low, high) = (length * rate.0, length * rate.1);
            LeakageRow { what, count: joints.len(), length: Length::snap_m(length), low, high }
        };
        let own = LeakageRow {
            what: "the barrier itself",
            count: 1,
            length: Length::ZERO,
            low: area * sheet.0,
            high: area * sheet.1,
        };
        let rows = vec![
            own,
            along("joints on which no fault was found", &sorts.held, held),
            along("beads of sealant", &sorts.beads, bead),
            along("joints that do not hold, or of which it cannot be told", &sorts.doubt, doubt),
            along("holes", &sorts.open, open),
        ];
        Ok(Self { area, rows, whole: sorts.whole, exponent: exponent.unwrap_or_default() })
    }

    /// Least and most at a pressure, m³/(s·m²) of wall.
    pub fn per_area(&self, pressure: f64) -> (f64, f64) {
        let sum = |of: fn(&LeakageRow) -> f64| {
            let flow: f64 = self.rows.iter().map(of).sum();
            if self.area > 0.0 { at_pressure(flow, PRESSURE, pressure, self.exponent) / self.area } else { 0.0 }
        };
        (sum(|row| row.low), sum(|row| row.high))
    }
}

/// Lengths by sort; the second of each pair: told by two faces, so that each counts half.
#[derive(Default)]
struct Sorts {
    held: Vec<(Length, bool)>,
    beads: Vec<(Length, bool)>,
    doubt: Vec<(Length, bool)>,
    open: Vec<(Length, bool)>,
    whole: usize,
}

impl Sorts {
    fn of(model: &Model, air: &AirBarrier) -> Self {
        let mut sorts = Self::default();
        // Strips lie in line with the joints of their details: the same length is not counted twice.
        let counted = |joint: &&AirJoint| !matches!(joint.kind, "strip" | "point");
        for joint in air.joints.iter().filter(counted) {
            let into = match joint.holds(model) {
                Hold::Not(..) | Hold::Unprimed(..) | Hold::Missing(_) => &mut sorts.doubt,
                _ if joint.bead => &mut sorts.beads,
                _ => &mut sorts.held,
            };
            into.push((joint.length, joint.shared));
        }
        for end in &air.ends {
            sorts.end(end, true);
        }
        for end in &air.undecided {
            sorts.end(end, false);
        }
        sorts
    }

    fn end(&mut self, end: &AirEnd, sure: bool) {
        let into = if sure { &mut self.open } else { &mut self.doubt };
        match end.free {
            Some(free) => into.push((free, false)),
            None if end.kind == "assembly" => self.whole += 1,
            None => {}
        }
    }
}
