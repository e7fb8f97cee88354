//! Heat through walls (ISO 6946): what a wall type resists with studs, strips, screws and the air of its gap counted, and what a
//! face loses through its walls, openings and edges.

mod corners;
mod crossing;
mod faces;
mod house;
pub mod screws;
mod slabs;
#[cfg(test)]
mod tests;
mod wood;

pub use corners::{Sums, Through, Way};
pub(super) use house::of as of_house;
pub use slabs::through_fill;

use super::layers::{first_inboard, resistance_of};
use super::{Found, Scene, Source, Study, Trust, Value, WallFigures, WallType, What};
use crate::model::{Assembly, FaceId, LayerKind, Model, Sourced, Sureness};
use crate::physics::resistance::{SURFACE_INSIDE, SURFACE_OUTSIDE, Ventilation, WIDEST, ventilation};
use crate::units::{Dimension, Keep, Range};

/// Heat.
pub struct Heat;

macro_rules! whats {
    ($($(#[$doc:meta])* $name:ident = $key:literal, $title:literal, $dimension:ident, $keep:expr;)*) => {$(
        $(#[$doc])*
        pub static $name: What = What { key: $key, title: $title, dimension: Dimension::$dimension, keep: $keep };
    )*};
}

whats! {
    /// Openings of the outermost gap for each metre of wall, m²/m.
    OPENING = "heat.gap_opening_per_metre", "free area of the gap, low and high", LENGTH, Keep::Significant(3);
    /// How its air counts.
    AIR = "heat.gap_air", "air of the gap", NUMBER, Keep::Places(0);
    /// Share of the frame that is wood.
    WOOD = "heat.wood_share", "wood in the frame", NUMBER, Keep::Places(3);
    /// From room air to outside air where no stud stands.
    BETWEEN = "heat.resistance_between", "R between studs", RESISTANCE, Keep::Places(2);
    /// If no heat flows sideways.
    UPPER = "heat.resistance_upper", "R with studs, upper bound", RESISTANCE, Keep::Places(2);
    /// If every plane across the wall has one temperature.
    LOWER = "heat.resistance_lower", "R with studs, lower bound", RESISTANCE, Keep::Places(2);
    /// The mean of both: what the wall resists.
    TOTAL = "heat.resistance", "effective R, with studs", RESISTANCE, Keep::Places(2);
    /// How far off the mean may be, as a share of it.
    ERROR = "heat.error_share", "R with studs, off by at most", NUMBER, Keep::Places(3);
    /// What screws and gaps add.
    ADDED = "heat.added", "U that screws and gaps add", TRANSMITTANCE, Keep::Places(3);
    /// With what screws and gaps add.
    TRANSMITTANCE = "heat.transmittance", "U of the wall", TRANSMITTANCE, Keep::Significant(2);
    /// Walls of a face without their openings.
    WALL_AREA = "heat.wall_area", "wall area, less openings", AREA, Keep::Places(1);
    /// Openings of a face.
    OPENING_AREA = "heat.opening_area", "openings", AREA, Keep::Places(1);
    /// Mean over the walls of a face.
    FACE_WALLS = "heat.walls_transmittance", "U of its walls", TRANSMITTANCE, Keep::Significant(2);
    /// Mean over walls and openings of a face.
    FACE_MEAN = "heat.face_transmittance", "U of walls and openings", TRANSMITTANCE, Keep::Significant(2);
    /// What walls and openings lose for each kelvin.
    LOSS = "heat.loss", "heat lost through walls and openings", CONDUCTANCE, Keep::Places(1);
    /// What edges lose for each kelvin beyond that.
    EDGE_LOSS = "heat.edge_loss", "heat lost at edges", CONDUCTANCE, Keep::Places(1);
    /// What one kind of edge loses for each metre beyond what the walls beside it lose.
    EDGE_PSI = "heat.edge_psi", "psi", CONDUCTIVITY, Keep::Places(3);
    /// Mean over the area of a face, edges shared out over it.
    FACE_WHOLE = "heat.face_whole_transmittance", "U with openings and edges", TRANSMITTANCE, Keep::Significant(2);
    /// What a face loses for each kelvin, edges and all.
    FACE_LOSS = "heat.face_loss", "heat lost by the face, UA", CONDUCTANCE, Keep::Places(1);
    /// Walls of a building without their openings, for each kelvin.
    HOUSE_WALLS = "heat.house_walls_loss", "heat lost through walls", CONDUCTANCE, Keep::Places(1);
    /// Openings of a building.
    HOUSE_OPENINGS = "heat.house_openings_loss", "heat lost through openings", CONDUCTANCE, Keep::Places(1);
    /// Edges of a building.
    HOUSE_EDGES = "heat.house_edges_loss", "heat lost at edges", CONDUCTANCE, Keep::Places(1);
    /// All three over all area of its walls.
    HOUSE_WHOLE = "heat.house_transmittance", "U of its walls with openings and edges", TRANSMITTANCE, Keep::Significant(2);
    /// All three together.
    HOUSE_LOSS = "heat.house_loss", "heat lost by all its walls, UA", CONDUCTANCE, Keep::Places(1);
    /// What that sum leaves out.
    HOUSE_WITHOUT = "heat.house_loss_without", "not in that UA", NUMBER, Keep::Places(0);
}

const fn by(standard: &'static str, clause: &'static str) -> Source {
    Source { standard, edition: "2017", clause }
}
const AIR_CLASSES: Source = by("ISO 6946", "6.9");
const IN_SERIES: Source = by("ISO 6946", "6.7.1");
const COMBINED: Source = by("ISO 6946", "6.7.2");
const STEEL: Source = Source { standard: "shares of the IECC for steel studs", edition: "", clause: "C402.1.4.1" };
const SAID: Source = Source { standard: "what is said of the wall", edition: "", clause: "" };
const SAID_OF_EDGES: Source = Source { standard: "what is said of the detail", edition: "", clause: "" };
const CORRECTED: Source = by("ISO 6946", "annex F");
const FINAL: Source = by("ISO 6946", "6.5");
const MEASURED: Source = Source { standard: "the faces as drawn", edition: "", clause: "" };
const BY_AREA: Source = by("ISO 13789", "7.2");

impl Study for Heat {
    fn id(&self) -> &'static str {
        "heat"
    }

    fn title(&self) -> &'static str {
        "heat"
    }

    fn of_wall(&self, scene: &Scene<'_>, wall: &WallType) -> Found {
        let mut found = Found::default();
        let Some(assembly) = wall.assembly(scene.model) else { return found };
        gap(&mut found, wall, assembly);
        wood_share(&mut found, scene, wall, assembly);
        match sums(scene, wall) {
            Ok((sums, sure)) => tell(&mut found, scene, assembly, &sums, &sure),
            Err(fact) => {
                found.tell(&TOTAL, COMBINED, Err(fact.clone()));
                found.tell(&TRANSMITTANCE, FINAL, Err(fact));
            }
        }
        found
    }

    fn of_face(&self, scene: &Scene<'_>, face: FaceId, walls: &[WallFigures]) -> Found {
        faces::of(scene, face, walls)
    }
}

/// What a wall comes to, with how sure that is; the error is the missing fact.
pub type Told = Result<(Sums, Sure), String>;

/// How sure what went into the sums of a wall is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sure {
    /// Of the layers.
    pub layers: Trust,
    /// Of the layers and the wood in them.
    pub whole: Trust,
}

/// What a wall comes to.
pub fn sums(scene: &Scene<'_>, wall: &WallType) -> Told {
    let assembly = wall.assembly(scene.model).ok_or("layers of the wall")?;
    if let Some(said) = &assembly.resists {
        return as_said(assembly, said);
    }
    let stack = slabs::read(scene, wall)?;
    let through = screws::all(scene.model, assembly)?;
    let mut sure = Sure { layers: Trust::of(Sureness::Memory), whole: Trust::of(Sureness::Memory) };
    sure.layers.add(&stack.trust);
    sure.whole.add(&stack.trust);
    sure.whole.add(&stack.shares);
    let sums = corners::sums(&stack, &through)?;
    if sums.way == Way::SteelStuds && sure.whole.sure == stack.shares.sure {
        sure.whole = stack.shares;
    }
    Ok((sums, sure))
}

/// A wall whose resistance was tested or reckoned elsewhere; the error is the missing fact.
fn as_said(assembly: &Assembly, said: &Sourced<Range>) -> Told {
    let value = said.value;
    if value.low <= 0.0 {
        return Err(format!("what `{}` resists, above 0 (`resists`)", assembly.name));
    }
    let mut trust = Trust::default();
    trust.sourced(said, || format!("resistance said of {}", assembly.name.replace('_', " ")));
    let sums = Sums {
        between: value,
        limits: (value, value),
        total: value,
        error: 0.0.into(),
        added: 0.0.into(),
        transmittance: Range::between(1.0 / value.high, 1.0 / value.low),
        is_valid: true,
        way: Way::Said,
    };
    Ok((sums, Sure { layers: trust.clone(), whole: trust }))
}

fn gap(found: &mut Found, wall: &WallType, assembly: &Assembly) {
    if assembly.gap().is_none() {
        return;
    }
    let memory = Trust::of(Sureness::Memory);
    let told = wall.opening.clone();
    found.tell(&OPENING, AIR_CLASSES, told.clone().map(|range| memory.with(Value::Number(range))));
    if let Ok(range) = told {
        let (aged, new) = (ventilation(range.low), ventilation(range.high));
        let words = match (aged, new) {
            (Ventilation::Well, _) => "well ventilated",
            (Ventilation::Slightly, Ventilation::Slightly) => "slightly ventilated",
            (_, Ventilation::Unventilated) => "still",
            _ => "well ventilated, less with aged screens",
        };
        found.tell(&AIR, AIR_CLASSES, Ok(memory.with(Value::Word(words.to_owned()))));
    }
}

fn wood_share(found: &mut Found, scene: &Scene<'_>, wall: &WallType, assembly: &Assembly) {
    if let Some(told) = wood(scene, wall, assembly) {
        found.tell(&WOOD, COMBINED, told.map(|(share, trust)| trust.with(Value::Number(share))));
    }
}

/// Share of the frame that is wood, as it is counted; the error is the missing fact. `None` without a frame of wood.
pub fn wood(scene: &Scene<'_>, wall: &WallType, assembly: &Assembly) -> Option<Result<(Range, Trust), String>> {
    let (layer, frame) = assembly.layers.iter().find_map(|layer| match &layer.kind {
        LayerKind::Frame(frame) => Some((layer, frame)),
        _ => None,
    })?;
    (frame.kind != Some("steel")).then(|| wood::share(scene, wall, layer, frame))
}

fn tell(found: &mut Found, scene: &Scene<'_>, assembly: &Assembly, sums: &Sums, sure: &Sure) {
    let figure = |value: Range| Ok(sure.whole.with(Value::Number(value)));
    if sums.way == Way::Said {
        found.tell(&TOTAL, SAID, figure(sums.total));
        found.tell(&TRANSMITTANCE, SAID, figure(sums.transmittance));
        return;
    }
    let total = if sums.way == Way::SteelStuds { STEEL } else { COMBINED };
    found.tell(&BETWEEN, IN_SERIES, Ok(sure.layers.with(Value::Number(sums.between))));
    let bridged = sums.limits.0 != sums.limits.1;
    if bridged {
        found.tell(&UPPER, COMBINED, figure(sums.limits.0));
        found.tell(&LOWER, COMBINED, figure(sums.limits.1));
    }
    if !sums.is_valid {
        let fact = format!(
            "a sum in two dimensions: the limits lie more than {WIDEST} times apart, and no mean of them holds"
        );
        found.tell(&TOTAL, COMBINED, Err(fact.clone()));
        found.tell(&TRANSMITTANCE, FINAL, Err(fact));
        return;
    }
    if bridged {
        found.tell(&ERROR, COMBINED, figure(sums.error));
    }
    found.tell(&TOTAL, total, figure(sums.total));
    if screws::all(scene.model, assembly).is_ok_and(|through| !through.is_empty()) {
        found.tell(&ADDED, CORRECTED, figure(sums.added));
    }
    found.tell(&TRANSMITTANCE, FINAL, figure(sums.transmittance));
}

/// Resistance from room air to outside air where no stud stands, with the gap open to the air outside, m²·K/W: for a wall that
/// stands on no face yet. The error is the missing fact. A gap and what stands outboard of it do not count.
pub fn between(model: &Model, wall: &Assembly) -> Result<Range, String> {
    let behind = first_inboard(wall);
    let inner = wall.layers.get(behind..).unwrap_or_default();
    let layers = resistance_of(model, inner)?;
    let outside = if behind > 0 { SURFACE_INSIDE } else { SURFACE_OUTSIDE };
    Ok(layers.plus(Range::exactly(SURFACE_INSIDE + outside)))
}

/// What screws add, as a share of what a wall loses without them: for the same wall and by the same sums. `through` counts the
/// layers of the wall from its outermost. The error is the missing fact.
pub fn share_of_screws(model: &Model, wall: &Assembly, through: &Through) -> Result<Range, String> {
    let crossed = through.layers.iter().filter_map(|at| wall.layers.get(*at));
    let layer = crossed.cloned().collect::<Vec<_>>();
    let layer = resistance_of(model, &layer)?;
    corners::share(through, layer, between(model, wall)?).ok_or_else(|| "thickness of the insulation".to_owned())
}
