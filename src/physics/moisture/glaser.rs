//! Vapour through a wall at rest: where it condenses and evaporates (ISO 13788:2012, clause 6, from memory).
//!
//! Vapour pressure over the summed resistance to vapour is the greatest line from outside to inside that nowhere lies above
//! saturation: between planes that are wet, the lower convex hull of the saturation curve. Where it bends, vapour stays behind.

use super::Air;
use crate::physics::layers::AIR_PERMEABILITY;
use crate::physics::psychrometrics::saturation_iso;

/// Layers with more resistance to heat than this, m²·K/W, are cut into equal parts.
const PART: f64 = 0.25;
/// Places nearer than this, in metres of still air, are one place to vapour.
const TOGETHER: f64 = 1e-9;

/// One layer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slab {
    /// To heat, m²·K/W.
    pub resistance: f64,
    /// To vapour: as much as so many metres of still air.
    pub air: f64,
}

/// A wall from outside to inside. Outside a well-ventilated gap is outside air: such a wall starts behind the gap.
#[derive(Clone, Debug, PartialEq)]
pub struct Wall {
    /// Of the outer surface to heat, m²·K/W.
    pub outside: f64,
    /// Layers, outermost first.
    pub layers: Vec<Slab>,
    /// Of the inner surface to heat, m²·K/W.
    pub inside: f64,
}

/// A place in the wall where water may gather.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Layer, counted from the outside.
    pub layer: usize,
    /// How far into it, 0 at its outer face, 1 at its inner.
    pub share: f64,
    /// Resistance to heat from the outside air, m²·K/W.
    pub resistance: f64,
    /// Resistance to vapour from the outer face, metres of still air.
    pub air: f64,
}

/// The wall cut into parts, with its sums worked out once for all months.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// From the outer face to the inner; each stands for what has its resistance to vapour.
    pub places: Vec<Place>,
    whole: f64,
}

/// A wall with given air on both sides.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// °C at each place.
    pub temperature: Vec<f64>,
    /// Saturation there, Pa.
    pub saturation: Vec<f64>,
    /// Vapour there, Pa.
    pub vapour: Vec<f64>,
    /// Water that gathers there, kg/(m²·s); below nothing where it dries.
    pub gain: Vec<f64>,
    /// Vapour that enters from inside and that leaves to the outside, kg/(m²·s).
    pub through: (f64, f64),
}

impl Wall {
    /// Its places. `None` where a layer has a resistance that is no number or below nothing, or the whole none to vapour.
    pub fn cut(&self) -> Option<Cut> {
        let good = |value: f64| value.is_finite() && value >= 0.0;
        let sound = self.layers.iter().all(|slab| good(slab.resistance) && good(slab.air));
        let whole = self.outside + self.inside + self.layers.iter().map(|slab| slab.resistance).sum::<f64>();
        let tight: f64 = self.layers.iter().map(|slab| slab.air).sum();
        if !sound || !good(self.outside) || !good(self.inside) || whole <= 0.0 || tight <= TOGETHER {
            return None;
        }
        let mut places = vec![Place { layer: 0, share: 0.0, resistance: self.outside, air: 0.0 }];
        let (mut resistance, mut air) = (self.outside, 0.0);
        for (layer, slab) in self.layers.iter().enumerate() {
            let parts = libm::ceil(slab.resistance / PART - 1e-9).clamp(1.0, 400.0) as u32;
            for part in 1..=parts {
                let share = f64::from(part) / f64::from(parts);
                let (resistance, air) = (resistance + slab.resistance * share, air + slab.air * share);
                places.push(Place { layer, share, resistance, air });
            }
            resistance += slab.resistance;
            air += slab.air;
        }
        Some(Cut { places, whole })
    }
}

impl Cut {
    /// How the wall stands between two airs, with the places in `wet` (one for each place) held at saturation.
    pub fn between(&self, outside: Air, inside: Air, wet: &[bool]) -> State {
        let apart = inside.temperature - outside.temperature;
        let warm = |place: &Place| outside.temperature + apart * place.resistance / self.whole;
        let temperature: Vec<f64> = self.places.iter().map(warm).collect();
        let saturation: Vec<f64> = temperature.iter().map(|celsius| saturation_iso(*celsius)).collect();
        let corners = self.corners(outside, inside, &saturation, wet);
        let mut vapour = vec![outside.vapour; self.places.len()];
        let mut gain = vec![0.0; self.places.len()];
        let flow = |from: &Corner, to: &Corner| AIR_PERMEABILITY * (to.vapour - from.vapour) / (to.air - from.air);
        for pair in corners.windows(2) {
            let [from, to] = pair else { continue };
            for (place, vapour) in self.places.iter().zip(&mut vapour).skip(from.at).take(to.at + 1 - from.at) {
                *vapour = from.vapour + (to.vapour - from.vapour) * (place.air - from.air) / (to.air - from.air);
            }
        }
        for three in corners.windows(3) {
            let [before, here, after] = three else { continue };
            if let Some(gain) = gain.get_mut(here.at) {
                *gain = flow(here, after) - flow(before, here);
            }
        }
        let ends = |pair: Option<&[Corner]>| match pair {
            Some([from, to]) => flow(from, to),
            _ => 0.0,
        };
        let through = (ends(corners.windows(2).last()), ends(corners.windows(2).next()));
        State { temperature, saturation, vapour, gain, through }
    }

    /// Where the line of vapour bends, its two ends included.
    fn corners(&self, outside: Air, inside: Air, saturation: &[f64], wet: &[bool]) -> Vec<Corner> {
        let last = self.places.len().saturating_sub(1);
        let end = self.places.last().map_or(0.0, |place| place.air);
        let mut corners = vec![Corner { at: 0, air: 0.0, vapour: outside.vapour, fixed: true }];
        for (at, (place, vapour)) in self.places.iter().zip(saturation).enumerate() {
            // Both ends lie in the air; what has no resistance between it and the air can hold no water by this method.
            if at == 0 || at == last || place.air <= TOGETHER || end - place.air <= TOGETHER {
                continue;
            }
            let fixed = wet.get(at).copied().unwrap_or(false);
            push(&mut corners, Corner { at, air: place.air, vapour: *vapour, fixed });
        }
        push(&mut corners, Corner { at: last, air: end, vapour: inside.vapour, fixed: true });
        corners
    }
}

/// A corner of the line of vapour.
#[derive(Clone, Copy, Debug)]
struct Corner {
    at: usize,
    air: f64,
    vapour: f64,
    /// An end, or wet: the line goes through it.
    fixed: bool,
}

/// Adds a corner to a lower hull from left to right; corners the line then passes below are dropped, fixed ones never.
fn push(hull: &mut Vec<Corner>, next: Corner) {
    // Of places with the same resistance the coldest counts; a wet one stays.
    if let Some(last) = hull.last()
        && next.air - last.air <= TOGETHER
    {
        if last.fixed || (!next.fixed && next.vapour >= last.vapour) {
            return;
        }
        hull.pop();
    }
    while let [.., before, last] = hull.as_slice() {
        let over = (last.vapour - before.vapour) * (next.air - before.air)
            >= (next.vapour - before.vapour) * (last.air - before.air);
        if last.fixed || !over {
            break;
        }
        hull.pop();
    }
    hull.push(next);
}
