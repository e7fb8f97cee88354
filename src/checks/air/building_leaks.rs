//! A building that let more air through at its test than the rule set allows.

use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::figures::leakage;
use crate::model::{Building, Limit};
use crate::units::Range;

/// `building.leaks`
pub struct BuildingLeaks;

static META: RuleMeta = RuleMeta {
    id: "building.leaks",
    catalogue: "VA-04",
    title: "the building let more air through at its test than allowed",
    grade: Grade::S2,
    before: "H3",
    limits: &["building.air_changes", "building.leakage"],
    explain: "\
# What it checks
Where a building tells what a blower door measured: the changes of its air in an hour at 50 Pa, and the air through each
square metre of its envelope at 75 Pa, against those of the rule set. Readings at two pressures and more make a power law;
one reading takes the usual exponent.

# Why
Air that leaks through a wall carries more water into it than vapour does, and the heat of the house out of it.

# Example
    building house {
        volume   340m3
        leakage  420L/s at 50Pa
    }

# Better
    building house {
        volume   340m3
        envelope 400m2
        leakage  142L/s at 50Pa on 2026-05-12
        leakage  50L/s at 10Pa on 2026-05-12
    }

# Basis
IRC N1102.4 and the IECC for whole buildings, from memory; so it warns. Flow through leaks: Q = C Δpⁿ, textbook.

# Known gaps
Asked only where a rule set in force names a limit. Nothing is corrected for temperature, height or wind at the test.
Where only the limit for mild places is higher, the lower one is asked.
",
};

impl Rule for BuildingLeaks {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let asked = [
            (&leakage::CHANGES, "building.air_changes", changes as fn(f64) -> String),
            (&leakage::EACH_75, "building.leakage", each as fn(f64) -> String),
        ];
        for building in &context.model.buildings {
            let found = leakage::of(context.model, building);
            let mut missing = None;
            let mut told = false;
            for (what, name, shown) in asked {
                let Some((limit, most)) = context.limit(name).and_then(|limit| Some((limit, limit.number()?))) else {
                    continue;
                };
                if let Some(value) = found.number(what.key) {
                    told = true;
                    report.extend(judge(context, building, (limit, most), value, shown));
                }
                // Without a law nothing is told of either figure: then the flow says why.
                missing = missing.or(found.missing(leakage::FLOW.key)).or(found.missing(what.key));
            }
            // One of the two says enough of a building.
            if let (false, Some(missing)) = (told, missing) {
                report.push(context.unknown(&META, building.name.as_str(), at(building), missing.fact.clone()));
            }
        }
    }
}

fn judge(
    context: &CheckContext<'_>,
    building: &Building,
    (limit, most): (&Limit, f64),
    value: Range,
    shown: fn(f64) -> String,
) -> Option<Finding> {
    if value.high <= most {
        return None;
    }
    let measure = |value: f64| Measure { value: Some(value), shown: shown(value) };
    let (found, wanted) = (measure(value.high), measure(most));
    if value.low <= most {
        let part = context.in_part(&META, building.name.as_str(), at(building), (found, wanted));
        return Some(part.against(limit));
    }
    let day =
        building.leakage.iter().find_map(|reading| reading.on).map_or_else(String::new, |day| format!(" on {day}"));
    let message =
        format!("`{}` leaked {} at its test{day}, {} at most is wanted", building.name, found.shown, wanted.shown);
    let finding = context.fault(&META, building.name.as_str(), at(building), message).against(limit);
    Some(finding.measured(found).wanted(wanted).help(
        "put the building under pressure again, find the leaks by hand and smoke, and seal them at the barrier before it is covered",
    ))
}

/// The first reading.
fn at(building: &Building) -> crate::source::Span {
    building.leakage.first().map_or(building.origin, |reading| reading.origin)
}

fn changes(value: f64) -> String {
    format!("{value:.1} changes of air in an hour at 50 Pa")
}

fn each(value: f64) -> String {
    format!("{:.2} L/(s·m²) at 75 Pa", value * 1e3)
}
