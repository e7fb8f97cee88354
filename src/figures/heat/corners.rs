//! A wall whose numbers are known within bounds, worked out at the ends of each: what comes out lies between what they give.
//!
//! This holds because the resistance of a wall never falls when one of its pieces resists more, moves one way with the share of
//! each piece, and one way with the openings of its gap. What screws add would turn only where they carried half of the heat of
//! the layer they go through; no wall is fastened so.

use super::slabs::{Outboard, Slab, Stack};
use crate::physics::resistance::{
    Fit, Limits, Piece, SURFACE_INSIDE, SURFACE_OUTSIDE, Screws, Ventilation, fit_loss, limits, screw_loss,
    transmittance, ventilation, with_ventilation,
};
use crate::units::Range;

/// What a wall comes to, each between its bounds.
#[derive(Clone, Debug, PartialEq)]
pub struct Sums {
    /// Through what fills the layers, where no stud stands, m²·K/W.
    pub between: Range,
    /// Upper and lower limit, m²·K/W.
    pub limits: (Range, Range),
    /// Their mean, m²·K/W.
    pub total: Range,
    /// How far off the mean may be, as a share of it.
    pub error: Range,
    /// What screws and gaps add, W/(m²·K).
    pub added: Range,
    /// With what they add, if that is 3 % and more, W/(m²·K).
    pub transmittance: Range,
    /// Whether the mean may be used.
    pub is_valid: bool,
    /// How it was come by.
    pub way: Way,
}

/// How the resistance of a wall was come by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Layers and the pieces in them, ISO 6946.
    Layers,
    /// The same, with a table's share of the insulation between steel studs.
    SteelStuds,
    /// Said of the whole wall.
    Said,
}

/// Something that carries heat through layers: screws, or gaps in insulation.
#[derive(Clone, Debug, PartialEq)]
pub struct Through {
    /// Indices into the inboard layers.
    pub layers: Vec<usize>,
    /// What.
    pub by: By,
}

/// What carries heat through layers.
#[derive(Clone, Debug, PartialEq)]
pub enum By {
    /// Screws.
    Screws(ScrewSet),
    /// Gaps.
    Gaps(Fit),
}

/// Screws through insulation.
#[derive(Clone, Debug, PartialEq)]
pub struct ScrewSet {
    /// W/(m·K).
    pub conductivity: Range,
    /// Shank, m.
    pub diameter: f64,
    /// In each m² of wall.
    pub per_area: f64,
    /// Depth of the insulation they go through, m.
    pub depth: Range,
}

/// One choice of ends: of the resistances, and of each number that is known within bounds besides.
struct Ends {
    warm: bool,
    turns: Vec<bool>,
}

/// Works a wall out; the error is the missing fact.
pub fn sums(stack: &Stack, through: &[Through]) -> Result<Sums, String> {
    let free = free(stack);
    let cases = 1_usize << (free + 1).min(12);
    let mut whole: Option<Sums> = None;
    for case in 0..cases {
        let ends = Ends { warm: case & 1 == 1, turns: (0..free).map(|at| (case >> (at + 1)) & 1 == 1).collect() };
        let own = at(stack, through, &ends)?;
        whole = Some(match whole {
            None => own,
            Some(known) => known.hull(&own),
        });
    }
    whole.ok_or_else(|| "layers of the wall".to_owned())
}

/// How many numbers besides resistances are known only within bounds.
fn free(stack: &Stack) -> usize {
    let outboard = stack.outboard.as_ref().and_then(|outboard| outboard.slabs.as_ref().ok());
    let slabs = stack.inboard.iter().chain(outboard.into_iter().flatten());
    slabs.flat_map(|slab| &slab.beside).filter(|(share, _)| !share.is_exact()).count() + 1
}

fn at(stack: &Stack, through: &[Through], ends: &Ends) -> Result<Sums, String> {
    let mut turns = ends.turns.iter().copied();
    let open = turns.next().unwrap_or(false);
    let inboard: Vec<Vec<Piece>> = stack.inboard.iter().flat_map(|slab| layers(slab, ends.warm, &mut turns)).collect();
    let inboard = (inboard, fills(&stack.inboard, ends.warm));
    let (bounds, between) = match &stack.outboard {
        None => whole(&inboard, SURFACE_OUTSIDE)?,
        Some(outboard) => aired(outboard, &inboard, (ends.warm, open), &mut turns)?,
    };
    let total = bounds.total();
    let layer = |through: &Through| -> f64 {
        let crossed = through.layers.iter().filter_map(|at| stack.inboard.get(*at));
        crossed.map(|slab| pick(slab.fill, ends.warm)).sum()
    };
    let added = through.iter().filter_map(|through| through.added(layer(through), between, ends.warm)).sum();
    let lost = transmittance(total, added).ok_or("a layer that resists heat")?;
    Ok(Sums {
        between: between.into(),
        limits: (bounds.upper.into(), bounds.lower.into()),
        total: total.into(),
        error: bounds.error().into(),
        added: added.into(),
        transmittance: lost.into(),
        is_valid: bounds.is_valid(),
        way: if stack.inboard.iter().any(|slab| slab.steel_share.is_some()) { Way::SteelStuds } else { Way::Layers },
    })
}

/// With the air of a gap: as still, as open, or between both.
fn aired(
    outboard: &Outboard,
    inboard: &(Vec<Vec<Piece>>, f64),
    (warm, open): (bool, bool),
    turns: &mut impl Iterator<Item = bool>,
) -> Result<(Limits, f64), String> {
    let opening = outboard.opening.clone()?;
    let opening = if open { opening.high } else { opening.low };
    let sheltered = whole(inboard, SURFACE_INSIDE)?;
    if ventilation(opening) == Ventilation::Well {
        return Ok(sheltered);
    }
    let slabs = outboard.slabs.as_ref().map_err(Clone::clone)?;
    let outer = slabs.iter().flat_map(|slab| layers(slab, warm, turns));
    let all: Vec<Vec<Piece>> = outer.chain(inboard.0.iter().cloned()).collect();
    let still = whole(&(all, fills(slabs, warm) + inboard.1), SURFACE_OUTSIDE)?;
    let mean = |still: f64, open: f64| with_ventilation(opening, still, open);
    let upper = mean(still.0.upper, sheltered.0.upper);
    let lower = mean(still.0.lower, sheltered.0.lower);
    Ok((Limits { upper, lower }, mean(still.1, sheltered.1)))
}

/// Both limits, and the resistance where no stud stands, of layers that resist so much there.
fn whole((layers, fills): &(Vec<Vec<Piece>>, f64), outside: f64) -> Result<(Limits, f64), String> {
    let found = limits(layers, outside, SURFACE_INSIDE).ok_or("a layer whose pieces resist heat")?;
    Ok((found, outside + SURFACE_INSIDE + fills))
}

/// What fills layers resists, m²·K/W.
fn fills(slabs: &[Slab], warm: bool) -> f64 {
    slabs.iter().map(|slab| pick(slab.fill, warm)).sum()
}

fn pick(range: Range, high: bool) -> f64 {
    if high { range.high } else { range.low }
}

/// A layer as one or more of pieces side by side: strips that run through part of its thickness make that part one of its own.
fn layers(slab: &Slab, warm: bool, turns: &mut impl Iterator<Item = bool>) -> Vec<Vec<Piece>> {
    if let Some(share) = slab.steel_share {
        return vec![vec![Piece { share: 1.0, resistance: share * pick(slab.fill, warm) }]];
    }
    let mut found = Vec::new();
    let mut left = pick(slab.fill, warm);
    for crossing in &slab.crossed {
        let (fill, strip) = (pick(crossing.fill, warm), pick(crossing.strip, warm));
        left = (left - fill).max(0.0);
        let strips = Piece { share: crossing.share, resistance: strip };
        found.push(vec![Piece { share: 1.0 - crossing.share, resistance: fill }, strips]);
    }
    let rest = Slab { fill: left.into(), ..slab.clone() };
    found.push(pieces(&rest, warm, turns));
    found
}

/// The pieces of a layer at one choice of ends; what fills it comes first and takes what the others leave.
fn pieces(slab: &Slab, warm: bool, turns: &mut impl Iterator<Item = bool>) -> Vec<Piece> {
    let mut left = 1.0_f64;
    let mut beside = Vec::new();
    for (share, resistance) in &slab.beside {
        let share = if share.is_exact() { share.low } else { pick(*share, turns.next().unwrap_or(false)) };
        let share = share.clamp(0.0, left);
        left -= share;
        beside.push(Piece { share, resistance: pick(*resistance, warm) });
    }
    let fill = Piece { share: left, resistance: pick(slab.fill, warm) };
    if beside.iter().all(|piece| piece.share == 0.0) {
        vec![Piece { share: 1.0, ..fill }]
    } else {
        std::iter::once(fill).chain(beside).collect()
    }
}

/// What screws add as a share of what is lost without them, where the layers they go through and the wall between studs resist so
/// much, m²·K/W. `None` for a layer or a wall that is none.
pub(super) fn share(through: &Through, layer: Range, between: Range) -> Option<Range> {
    let at = |warm: bool| {
        let wall = pick(between, warm);
        Some(through.added(pick(layer, warm), wall, warm)? * wall)
    };
    Some(Range::between(at(false)?, at(true)?))
}

impl Through {
    /// What it adds, W/(m²·K), in a wall that resists `between` without studs: the standard takes thermal bridges out of that.
    fn added(&self, layer: f64, between: f64, warm: bool) -> Option<f64> {
        match &self.by {
            By::Screws(set) => screw_loss(set.at(warm), pick(set.depth, warm), layer, between),
            By::Gaps(fit) => fit_loss(*fit, layer, between),
        }
    }
}

impl ScrewSet {
    fn at(&self, warm: bool) -> Screws {
        let conductivity = pick(self.conductivity, !warm);
        Screws { conductivity, diameter: self.diameter, per_area: self.per_area }
    }
}

impl Sums {
    fn hull(&self, other: &Sums) -> Sums {
        let both = |one: Range, other: Range| one.hull(other);
        Sums {
            between: both(self.between, other.between),
            limits: (both(self.limits.0, other.limits.0), both(self.limits.1, other.limits.1)),
            total: both(self.total, other.total),
            error: both(self.error, other.error),
            added: both(self.added, other.added),
            transmittance: both(self.transmittance, other.transmittance),
            is_valid: self.is_valid && other.is_valid,
            way: self.way,
        }
    }
}
