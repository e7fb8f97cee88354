//! Twelve months of condensation and drying, from the first wet month after a dry one (ISO 13788:2012, clause 6, from memory).

use std::borrow::Cow;

use super::glaser::{Cut, State};
use super::{Air, DAY, DAYS};

/// Less water than this, kg/m², is none: a hundredth of a milligram.
const NOTHING: f64 = 1e-8;

/// Air on both sides in the twelve months, January first: outside, inside.
pub type Months = [(Air, Air); 12];

/// Water at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Water {
    /// Index of the place in [`Cut::places`].
    pub place: usize,
    /// Gathered in this month, kg/m²; below nothing when it dried.
    pub gain: f64,
    /// There at its end, kg/m².
    pub held: f64,
}

/// One month.
#[derive(Clone, Debug, PartialEq)]
pub struct Month {
    /// Every place that is wet at its start, at its end or in between, outermost first.
    pub water: Vec<Water>,
    /// Vapour that entered from inside and that left to the outside, kg/m².
    pub through: (f64, f64),
    /// How the wall stands at its start.
    pub state: State,
}

impl Month {
    /// Gathered in the wall, kg/m².
    pub fn gain(&self) -> f64 {
        self.water.iter().map(|water| water.gain).sum()
    }

    /// In the wall at its end, kg/m².
    pub fn held(&self) -> f64 {
        self.water.iter().map(|water| water.held).sum()
    }
}

/// A year.
#[derive(Clone, Debug, PartialEq)]
pub struct Year {
    /// The month reckoning starts with, January 0; `None` if it stays dry.
    pub start: Option<usize>,
    /// January first.
    pub months: Vec<Month>,
}

impl Year {
    /// The most water in the wall at the end of a month, with that month: kg/m².
    pub fn peak(&self) -> Option<(usize, f64)> {
        let held = self.in_order().map(|month| (month, self.months.get(month).map_or(0.0, Month::held)));
        held.filter(|(_, held)| *held > 0.0).reduce(|most, one| if one.1 > most.1 { one } else { most })
    }

    /// The most water at one place at the end of a month, kg/m²: place, month, water.
    pub fn wettest(&self) -> Option<(usize, usize, f64)> {
        let all = self.months.iter().enumerate();
        let all = all.flat_map(|(month, one)| one.water.iter().map(move |water| (water.place, month, water.held)));
        all.filter(|one| one.2 > 0.0).reduce(|most, one| if one.2 > most.2 { one } else { most })
    }

    /// The month in which it is dry again for the rest of the year; `None` if it stays dry all the year, or never dries.
    pub fn dries_in(&self) -> Option<usize> {
        let wet = |month: &usize| self.months.get(*month).is_some_and(|one| one.held() > 0.0);
        let order: Vec<usize> = self.in_order().collect();
        let last = order.iter().rposition(wet)?;
        order.get(last + 1).copied()
    }

    /// Water left a year after the start, kg/m².
    pub fn left(&self) -> f64 {
        self.in_order().last().and_then(|month| self.months.get(month)).map_or(0.0, Month::held)
    }

    /// Months in the order of reckoning.
    pub fn in_order(&self) -> impl Iterator<Item = usize> + use<> {
        let start = self.start.unwrap_or(0);
        (0..12).map(move |step| (start + step) % 12)
    }
}

/// The year of a wall. Starts with a month that gathers water after one that does not; of several, with one before which all
/// had dried. If every month gathers water it starts with January and the wall never dries.
pub fn of(cut: &Cut, air: &Months) -> Year {
    each(&|_, _| Cow::Borrowed(cut), air)
}

/// The wall of a month, by which of its places hold water at its start; cut into the same places always.
pub(super) type ByMonth<'c> = dyn Fn(usize, &[bool]) -> Cow<'c, Cut> + 'c;

/// The same of a wall that lets vapour through otherwise in other months.
pub(super) fn each(cut: &ByMonth<'_>, air: &Months) -> Year {
    let places = cut(0, &[]).places.len();
    let (dry, nothing) = (vec![0.0; places], vec![false; places]);
    let gathers: Vec<bool> = air
        .iter()
        .enumerate()
        .map(|(month, (outside, inside))| {
            cut(month, &nothing).between(*outside, *inside, &nothing).gain.iter().any(|gain| *gain > 0.0)
        })
        .collect();
    let at = |month: usize| gathers.get(month % 12).copied().unwrap_or(false);
    let starts: Vec<usize> = (0..12).filter(|month| at(*month) && !at(month + 11)).collect();
    let start = if gathers.iter().any(|gathers| *gathers) { Some(starts.first().copied().unwrap_or(0)) } else { None };
    let first = from(cut, air, start, &dry);
    if first.left() <= 0.0 {
        return first;
    }
    let others = starts.iter().skip(1).map(|month| from(cut, air, Some(*month), &dry));
    others.into_iter().find(|year| year.left() <= 0.0).unwrap_or(first)
}

fn from(cut: &ByMonth<'_>, air: &Months, start: Option<usize>, dry: &[f64]) -> Year {
    let mut held = dry.to_vec();
    let mut months: Vec<Option<Month>> = vec![None; 12];
    for index in (0..12).map(|step| (start.unwrap_or(0) + step) % 12) {
        let (Some((outside, inside)), Some(days)) = (air.get(index), DAYS.get(index)) else { continue };
        let month = pass(&cut(index, &wet(&held)), (*outside, *inside), days * DAY, &mut held);
        if let Some(place) = months.get_mut(index) {
            *place = Some(month);
        }
    }
    Year { start, months: months.into_iter().flatten().collect() }
}

/// Which places hold water.
fn wet(held: &[f64]) -> Vec<bool> {
    held.iter().map(|held| *held > 0.0).collect()
}

/// One month of `seconds`; where the water of a place runs out, the rest of the month is reckoned anew.
fn pass(cut: &Cut, (outside, inside): (Air, Air), seconds: f64, held: &mut [f64]) -> Month {
    let before = held.to_vec();
    let first = cut.between(outside, inside, &wet(held));
    let (mut state, mut left, mut through) = (first.clone(), seconds, (0.0, 0.0));
    let mut touched: Vec<bool> = wet(held);
    while left > 0.0 {
        let runs_out = held.iter().zip(&state.gain).filter(|(held, gain)| **held > 0.0 && **gain < 0.0);
        let step = runs_out.map(|(held, gain)| held / -gain).fold(left, f64::min);
        for ((held, gain), touched) in held.iter_mut().zip(&state.gain).zip(&mut touched) {
            *touched |= *gain > 0.0;
            *held += gain * step;
            if *held < NOTHING {
                *held = 0.0;
            }
        }
        through = (through.0 + state.through.0 * step, through.1 + state.through.1 * step);
        // A step of no length would never end: what runs out is set to nothing above, so each round has fewer wet places.
        left -= step.max(seconds * 1e-9);
        if left > 0.0 {
            state = cut.between(outside, inside, &wet(held));
        }
    }
    let at_end = held.iter().zip(&before).zip(&touched).enumerate();
    let water = at_end.filter(|(_, (_, touched))| **touched);
    let water = water.map(|(place, ((held, before), _))| Water { place, gain: held - before, held: *held });
    Month { water: water.collect(), through, state: first }
}
