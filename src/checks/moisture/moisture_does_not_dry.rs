//! A wall that gathers water from year to year.

use super::{reckoned, waters};
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::physics::moisture::year::Year;

/// `moisture.does_not_dry`
pub struct MoistureDoesNotDry;

static META: RuleMeta = RuleMeta {
    id: "moisture.does_not_dry",
    catalogue: "",
    title: "water that gathers in winter does not dry within a year",
    grade: Grade::S2,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
What condenses in the wall in the cold months is gone again before they come back, with the rooms and the climate of the
site. Where thickness or conductivity is a range, it may be so in part of it only: then this cannot tell.

# Why
A wall that ends each year wetter than it began rots, however little it is.

# Example
    layer sheathing sheets.plywood 12.5mm
    frame studs spruce 38mm x 140mm, fill mineral_wool
    layer board gypsum 12.7mm

# Better
    layer sheathing sheets.plywood 12.5mm
    frame studs spruce 38mm x 140mm, fill mineral_wool
    layer retarder membranes.variable, controls vapour
    layer board gypsum 12.7mm

# Basis
ISO 13788:2012, clause 6, from memory: several planes, real months, from the first wet month on. It warns.

# Known gaps
Asked only where the site says `indoors` and `humidity_class`. Sun, rain, leaks of air and what wood stores are not
reckoned. Each layer counts with its dry cup, between studs.
",
};

impl Rule for MoistureDoesNotDry {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for one in reckoned(context, &META, report) {
            let left = one.through(Year::left);
            let Some((place, at, _)) = one.wettest().filter(|_| left.high > 0.0) else { continue };
            let principle = "a wall dries within the year (ISO 13788:2012, from memory)";
            let found = waters(left);
            if left.low <= 0.0 {
                let none = Measure { value: Some(0.0), shown: "none left after a year".to_owned() };
                let part = context.in_part(&META, one.area.as_str(), at, (found, none));
                report.push(part.on_principle(principle, false));
                continue;
            }
            let message = format!("water gathers {place} and {} of it is left after a year", found.shown);
            report.push(
                context
                    .fault(&META, one.area.as_str(), at, message)
                    .on_principle(principle, false)
                    .measured(found)
                    .help("a sheet inside that holds vapour back, or more insulation outboard of that place"),
            );
        }
    }
}
