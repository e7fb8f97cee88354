//! What stands on the platform when a kit is loaded, against what it may carry.

use std::collections::{BTreeMap, BTreeSet};

use super::Kit;
use crate::model::Model;

/// What stands on the platform at once. Masses in kg.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Load {
    /// The pieces of the heaviest load, as far as they can be weighed.
    pub pieces: f64,
    /// All pieces of the kit, as far as they can be weighed.
    pub kit: f64,
    /// In how many loads it goes up.
    pub loads: u64,
    /// Screws, tapes and the like in one load, as far as they can be weighed, and what the crew says of the rest.
    pub goods: f64,
    /// The people; `None` if they are not told.
    pub people: Option<f64>,
    /// Tools and boxes; nothing if not told.
    pub tools: f64,
    /// What the platform may carry; `None` if not told.
    pub rating: Option<f64>,
    /// Products that have no weight, and whatever else is missing.
    pub missing: Vec<String>,
    /// Mass and number of pieces by product; the mass as far as it can be told.
    pub products: Vec<(String, u64, Option<f64>)>,
}

/// Whether the platform may carry it.
#[derive(Clone, Debug, PartialEq)]
pub enum Verdict {
    /// All is weighed, and it is this much less than the platform may carry.
    Within(f64),
    /// What is weighed already is this much more.
    Over(f64),
    /// It depends on what is missing.
    CannotTell(Vec<String>),
    /// No rating is told.
    NoRating,
}

impl Load {
    /// Everything on the platform that can be weighed.
    pub fn total(&self) -> f64 {
        self.pieces + self.goods + self.people.unwrap_or(0.0) + self.tools
    }

    /// Whether the platform may carry it.
    pub fn verdict(&self) -> Verdict {
        let Some(rating) = self.rating else { return Verdict::NoRating };
        let over = self.total() - rating;
        match (over > 0.0, self.missing.is_empty()) {
            (true, _) => Verdict::Over(over),
            (false, true) => Verdict::Within(-over),
            (false, false) => Verdict::CannotTell(self.missing.clone()),
        }
    }
}

/// The load of a kit whose pieces and goods are known.
pub(super) fn of(model: &Model, kit: &Kit) -> Load {
    let section = kit.section.and_then(|at| model.sections.get(at));
    let crew = model.crew.as_ref();
    let loads = section.map_or(1, |section| section.loads).max(1);
    let mut missing: BTreeSet<String> = BTreeSet::new();
    let mut products: BTreeMap<&str, (u64, Option<f64>)> = BTreeMap::new();
    for piece in &kit.pieces {
        let name = piece.product.and_then(|id| model.product(id)).map_or("", |product| product.name.as_str());
        let entry = products.entry(name).or_insert((0, Some(0.0)));
        entry.0 += 1;
        entry.1 = entry.1.zip(piece.mass.as_ref().ok()).map(|(sum, mass)| sum + mass);
        missing.extend(piece.mass.as_ref().err().map(|name| format!("the weight of {name}")));
    }
    let masses: Vec<f64> = kit.pieces.iter().map(|piece| piece.mass.clone().unwrap_or(0.0)).collect();
    let known: f64 = kit.goods.iter().filter_map(|good| good.mass).sum();
    let sundries = crew.and_then(|crew| crew.sundries);
    if sundries.is_none() {
        let unweighed = kit.goods.iter().filter(|good| good.mass.is_none());
        missing.extend(unweighed.map(|good| format!("the weight of `{}`", good.item)));
    }
    let people = crew.and_then(|crew| crew.people).map(|(count, each)| count as f64 * each);
    if people.is_none() {
        missing.insert("who stands on the platform (`people 2 of 90kg`)".to_owned());
    }
    Load {
        pieces: heaviest(&masses, loads),
        kit: masses.iter().sum(),
        loads,
        goods: known / loads as f64 + sundries.unwrap_or(0.0),
        people,
        tools: crew.and_then(|crew| crew.tools).unwrap_or(0.0),
        rating: section.and_then(|section| section.platform).or(crew.and_then(|crew| crew.platform)),
        missing: missing.into_iter().collect(),
        products: products.into_iter().map(|(name, (count, mass))| (name.to_owned(), count, mass)).collect(),
    }
}

/// Which load each piece goes up with, counted from 0: in the order in which they are fixed, loads as alike as that allows.
pub fn load_of(masses: &[f64], loads: u64) -> Vec<u64> {
    let total: f64 = masses.iter().sum();
    let mut before = 0.0;
    let place = |mass: &f64| {
        let middle = before + mass / 2.0;
        before += mass;
        let share = if total > 0.0 { middle / total } else { 0.0 };
        ((share * loads as f64) as u64).min(loads.saturating_sub(1))
    };
    masses.iter().map(place).collect()
}

fn heaviest(masses: &[f64], loads: u64) -> f64 {
    let mut sums = vec![0.0; loads.max(1) as usize];
    for (mass, load) in masses.iter().zip(load_of(masses, loads)) {
        if let Some(sum) = sums.get_mut(load as usize) {
            *sum += mass;
        }
    }
    sums.into_iter().fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn loads_keep_the_order_and_are_about_alike() {
        let masses = [4.0, 4.0, 4.0, 2.0, 2.0, 2.0, 2.0, 4.0];
        assert_eq!(load_of(&masses, 1), [0; 8]);
        assert_eq!(load_of(&masses, 2), [0, 0, 0, 1, 1, 1, 1, 1]);
        assert_eq!(heaviest(&masses, 2), 12.0);
        assert_eq!(heaviest(&[], 3), 0.0);
    }

    #[test]
    fn what_is_known_to_be_too_much_is_too_much_whatever_is_missing() {
        let load = Load {
            pieces: 300.0,
            people: Some(180.0),
            rating: Some(450.0),
            missing: vec!["x".into()],
            ..Load::default()
        };
        assert_eq!(load.verdict(), Verdict::Over(30.0));
        assert!(matches!(Load { rating: Some(500.0), ..load.clone() }.verdict(), Verdict::CannotTell(_)));
        assert_eq!(Load { rating: Some(500.0), missing: vec![], ..load.clone() }.verdict(), Verdict::Within(20.0));
        assert_eq!(Load { rating: None, ..load }.verdict(), Verdict::NoRating);
    }
}
