//! Years of Heron Lane, and what is said where a fact is missing.

use super::*;
use crate::session::heron_lane;

#[test]
fn every_wall_of_the_house_has_a_year_that_balances() {
    let checked = heron_lane();
    let years = &checked.figures().years;
    assert_eq!(years.len(), 3);
    for (_, year) in years {
        let year = year.as_ref().unwrap();
        assert!(year.open.0 < 1e-6 && year.open.1 < 1e-6, "{:?}", year.open);
        assert_eq!((year.weeks.len(), year.hours.len()), (52, made_year::HOURS));
        assert_eq!(year.watched, "sheathing");
        let most = year.weeks.iter().map(|week| week.1).fold(0.0, f64::max);
        assert_eq!(most, year.peak.0);
        assert!(year.wet <= year.moist && year.moist <= made_year::HOURS);
        // Every hour of the rain that was put in: 1 % of FE · FD · 0.2 · U · r over two years of 726 mm, wind of 3 to 4 m/s.
        assert!((2.5..8.0).contains(&(year.rain.0 + year.rain.1)), "{:?}", year.rain);
    }
    // The thin gap changes its air less often than the deep one.
    let of = |at: usize| years[at].1.as_ref().unwrap().changes;
    assert!(of(1).0 < of(2).0, "{:?} {:?}", of(1), of(2));
}

#[test]
fn a_missing_fact_is_named() {
    let mut checked = heron_lane();
    checked.model.materials.iter_mut().for_each(|material| material.sorption = None);
    let figures = crate::figures::of(&checked.model, &checked.plan);
    let facts: Vec<&str> =
        figures.years.iter().filter_map(|(_, year)| year.as_ref().err().map(String::as_str)).collect();
    assert_eq!(
        facts,
        [
            "sorption of `larch_wood` (`sorption`)",
            "sorption of `fibre_cement` (`sorption`)",
            "sorption of `fibre_cement` (`sorption`)"
        ]
    );
    let found = figures.walls[0].study("hourly").unwrap();
    assert_eq!(found.missing[0].fact, "sorption of `larch_wood` (`sorption`)");
}

#[test]
fn hours_have_days() {
    assert_eq!(day(0), "1 January");
    assert_eq!(day(31 * 24), "1 February");
    assert_eq!(day(8759), "31 December");
}
