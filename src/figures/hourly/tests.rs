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
    assert!(of(1).mean < of(2).mean, "{:?} {:?}", of(1), of(2));
}

#[test]
fn sun_counts_on_the_side_that_is_told_and_warms_the_gap() {
    let checked = heron_lane();
    for (_, year) in &checked.figures().years {
        let year = year.as_ref().unwrap();
        let lit = year.lit.as_ref().unwrap();
        // 30 to 140 W/m² on upright walls at 46° north, of which 0.6 is taken up; some 20 W/m² go to the sky.
        assert!((15.0..90.0).contains(&lit.sun) && (8.0..35.0).contains(&lit.sky), "{lit:?}");
        assert!(year.warmest_gap > 1.0 && year.warmest_gap < 45.0, "{}", year.warmest_gap);
        assert!(year.changes.least < year.changes.mean && year.changes.mean < year.changes.most);
        if let Some(beside) = &year.beside {
            assert_ne!(beside.lit.as_ref().unwrap().looks, lit.looks);
            assert!(beside.peak.0 <= year.peak.0);
        }
    }
}

#[test]
fn without_sun_the_year_runs_and_says_so() {
    let mut checked = heron_lane();
    let climate = checked.model.site.as_mut().unwrap().climate.as_mut().unwrap();
    climate.sun.clear();
    let figures = crate::figures::of(&checked.model, &checked.plan);
    for (_, year) in &figures.years {
        let fact = year.as_ref().unwrap().lit.as_ref().unwrap_err();
        assert_eq!(fact, "sun on level ground of `cold_lake` (`sun` or `clearness`)");
    }
    let found = figures.walls[0].study("hourly").unwrap();
    assert!(found.missing.iter().any(|missing| missing.what.key == "hourly.sun"));
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
