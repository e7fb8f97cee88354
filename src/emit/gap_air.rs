//! Air in the gap in words: how much passes in both units, what a face comes to, for what weather.

use crate::continuity::{ASSUMPTIONS, AirFlow, AirRate, BayAir, Conditions};
use crate::session::Wall;
use crate::units::{Keep, System, decimal, display};

/// Cubic feet a minute in one cubic metre a second: a cubic foot is 0.028316846592 m³.
const CUBIC_FEET_A_MINUTE: f64 = 60.0 / 0.028_316_846_592;

/// What passes through a bay with aged screens, by which it is judged.
pub fn flow_of(bay: &BayAir) -> Option<AirRate> {
    if bay.missing.is_some() { None } else { bay.aged }
}

/// A flow in m³/s in both units, the leading one first: `13 L/s`, `28 cfm`.
pub fn flow(flow: f64, lead: System) -> [String; 2] {
    let figure = |value: f64| decimal(value, Keep::Significant(2));
    let (litres, feet) =
        (format!("{} L/s", figure(flow * 1000.0)), format!("{} cfm", figure(flow * CUBIC_FEET_A_MINUTE)));
    if lead == System::Metric { [litres, feet] } else { [feet, litres] }
}

/// How often the air of a bay changes: "210 an hour".
pub fn changes(rate: &AirRate) -> String {
    format!("{} an hour", decimal(rate.changes, Keep::Significant(2)))
}

/// "0 °C outside, 5 °C in the gap, wind 2 m/s".
pub fn weather(conditions: &Conditions, units: System) -> String {
    format!(
        "{} outside, {} in the gap, wind {}{}",
        display::temperature(conditions.outside, units),
        display::temperature(conditions.gap, units),
        display::wind(conditions.wind, units),
        if conditions.assumed { ", assumed: made for comparing bays" } else { "" }
    )
}

/// What the bays of a face come to with aged screens.
#[derive(Debug)]
pub struct AirSum<'b> {
    bays: Vec<&'b BayAir>,
    /// Bays with what passes, where it is known and something moves.
    moving: Vec<(&'b BayAir, AirRate)>,
}

impl<'b> AirSum<'b> {
    /// Of these bays.
    pub fn of(bays: &[&'b BayAir]) -> Self {
        let moving = bays.iter().filter(|bay| bay.dead.is_none());
        let moving = moving.filter_map(|bay| Some((*bay, flow_of(bay)?))).collect();
        Self { bays: bays.to_vec(), moving }
    }

    /// All that comes in from outside of the wall, m³/s; what passes from bay to bay is not counted again.
    pub fn inflow(&self) -> f64 {
        let openings = self.moving.iter().flat_map(|(bay, _)| &bay.openings);
        openings.map(|one| one.aged.flow.max(0.0)).sum()
    }

    /// Title, value in the leading unit, and in the other.
    pub fn lines(&self, wall: Wall<'_>) -> Vec<(String, String, String)> {
        let lead = wall.model.project.units;
        let mut lines = Vec::new();
        let mut add = |title: &str, value: String, other: String| lines.push((title.to_owned(), value, other));
        let by = |value: fn(&AirRate) -> f64| {
            let least = self.moving.iter().min_by(|a, b| value(&a.1).total_cmp(&value(&b.1)));
            least.zip(self.moving.iter().max_by(|a, b| value(&a.1).total_cmp(&value(&b.1))))
        };
        if let Some(((least, low), (most, high))) = by(|rate| rate.flow) {
            let [all, other] = flow(self.inflow(), lead);
            add("comes in through all openings", all, other);
            if least.id != most.id {
                let [one, other] = flow(low.flow, lead);
                add("least in a bay", format!("{one}, {}", name(wall, least)), other);
                let [one, other] = flow(high.flow, lead);
                add("most in a bay", format!("{one}, {}", name(wall, most)), other);
            }
        }
        if let Some(((_, low), (_, high))) = by(|rate| rate.changes) {
            let figure = |rate: &AirRate| decimal(rate.changes, Keep::Significant(2));
            let (low, high) = (figure(low), figure(high));
            let between = if low == high { low } else { format!("{low} to {high}") };
            add("changes of the air in an hour", between, String::new());
        }
        let mut still: Vec<(&str, usize)> = Vec::new();
        for why in self.bays.iter().filter_map(|bay| bay.dead) {
            match still.iter_mut().find(|(known, _)| *known == why) {
                Some((_, count)) => *count += 1,
                None => still.push((why, 1)),
            }
        }
        let count: usize = still.iter().map(|(_, count)| count).sum();
        let whys: Vec<String> = still.iter().map(|(why, count)| format!("{count}: {why}")).collect();
        let count = if count == 0 { "none".to_owned() } else { format!("{count} of {}", self.bays.len()) };
        add("bays where air stands still", count, whys.join("; "));
        let mut facts: Vec<&str> = self.bays.iter().filter_map(|bay| bay.missing.as_deref()).collect();
        if !facts.is_empty() {
            let count = facts.len();
            facts.dedup();
            add("can't tell", format!("{count} of {} bays", self.bays.len()), format!("missing: {}", facts.join("; ")));
        }
        lines
    }
}

/// "bay 3 of lower", counted from the left.
pub fn name(wall: Wall<'_>, bay: &BayAir) -> String {
    let face = wall.model.face(bay.id.face);
    let several = face.is_some_and(|face| face.areas.len() > 1);
    let area = face.and_then(|face| face.areas.get(bay.id.area)).filter(|_| several);
    let of = area.map(|area| format!(" of {}", area.name.replace('_', " "))).unwrap_or_default();
    format!("bay {}{of}", bay.id.bay + 1)
}

/// What passes bays one by one: "bay 4 of upper 0.96 L/s (2 cfm)"; nothing for none.
pub fn each(wall: Wall<'_>, bays: &[&BayAir]) -> Option<String> {
    let one = |bay: &&BayAir| {
        let [lead, other] = flow(flow_of(bay)?.flow, wall.model.project.units);
        Some(format!("{} {lead} ({other})", name(wall, bay)))
    };
    let told: Vec<String> = bays.iter().filter_map(one).collect();
    (!told.is_empty()).then(|| format!("Too small to write in: {}.", told.join("; ")))
}

/// How the sheet is to be read, for what weather, and what the sums take for granted.
pub fn about(wall: Wall<'_>, air: &AirFlow) -> Vec<String> {
    let lead = wall.model.project.units;
    let mut paragraphs = vec![
        "Screens aged. An hour: how often the air of the bay changes. Arrows at the openings: the wider, the more air."
            .to_owned(),
        format!("For {}.", weather(&air.conditions, lead)),
    ];
    paragraphs.push("Crossed: no air passes there.".to_owned());
    paragraphs.push(format!("Taken for granted: {}.", ASSUMPTIONS.join("; ")));
    paragraphs
}
