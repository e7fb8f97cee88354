//! Years of Heron Lane, and what is said where a fact is missing.

use super::*;
use crate::session::heron_lane;
use crate::source::World;

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

/// Heron Lane with a climate of its own that names measured hours, and this file of them.
fn measured(text: &str) -> crate::session::Checked {
    let mut world = crate::session::heron_lane_world();
    let site = world.read("site.wythe").unwrap();
    let own = "climate lake {\n    like std.climates.cold_lake\n    hours \"lake.csv\"\n}\n";
    let site = site.replace("climate std.climates.cold_lake", "climate lake");
    world = world.with("site.wythe", &format!("{site}\n{own}")).with("lake.csv", text);
    crate::session::check(&world, &world.list(), &crate::session::Settings::default())
}

#[test]
fn measured_hours_stand_in_place_of_made_ones() {
    let header = "hour,temperature degC,humidity %,rain mm,wind m/s,wind_from deg,sun W/m2\n";
    let line = |hour: usize| {
        let noon = (hour % 24) as f64 - 12.0;
        let sun = (400.0 - 16.0 * noon * noon).max(0.0);
        format!("{hour},{},85,{},3,180,{sun}\n", 8 + hour % 5, if hour % 100 < 4 { 1 } else { 0 })
    };
    let text: String = header.to_owned() + &(1..=made_year::HOURS).map(line).collect::<String>();
    let checked = measured(&text);
    assert!(checked.problems.is_empty(), "{:?}", checked.problems);
    for (_, year) in &checked.figures().years {
        let year = year.as_ref().unwrap();
        assert_eq!(year.measured.as_deref(), Some("lake.csv"));
        assert!(year.open.0 < 1e-6 && year.open.1 < 1e-6, "{:?}", year.open);
        // Wind from the south wets no wall that looks north.
        let lit = year.lit.as_ref().unwrap();
        assert_eq!(year.rain.0 + year.rain.1 > 1e-9, (lit.looks - 180.0).abs() < 90.0, "{lit:?}");
        assert!(assumptions(year)[0].contains("as measured (`lake.csv`)"));
    }
    // Without hour 30 none of it can be told.
    let holed: String = text.lines().filter(|line| !line.starts_with("30,")).collect::<Vec<_>>().join("\n");
    let checked = measured(&holed);
    assert!(checked.problems.is_empty());
    for (_, year) in &checked.figures().years {
        assert_eq!(year.as_ref().unwrap_err(), "hours 30 of `lake.csv`");
    }
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
