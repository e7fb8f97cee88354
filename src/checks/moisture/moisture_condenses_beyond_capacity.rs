//! A place in the wall that gathers more water than it can hold.

use super::{reckoned, waters};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::figures::MONTHS;

/// `moisture.condenses_beyond_capacity`
pub struct MoistureCondensesBeyondCapacity;

static META: RuleMeta = RuleMeta {
    id: "moisture.condenses_beyond_capacity",
    catalogue: "",
    title: "more water gathers at one place in the wall than it can hold",
    grade: Grade::S3,
    before: "H0",
    limits: &["moisture.condensate"],
    explain: "\
# What it checks
At no place in the wall is more water at the end of a month than the rule set says, with the rooms and the climate of the
site. Where thickness or conductivity is a range, it may be so in part of it only: then this cannot tell.

# Why
Beyond that, drops run down to plates and sills and stay there.

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
ISO 13788:2012 warns that drops run from about 200 g/m² on what takes none up; from memory, so it warns.

# Known gaps
Asked only where the site says `indoors` and `humidity_class`. What soaks water up holds more, but wood should not.
",
};

impl Rule for MoistureCondensesBeyondCapacity {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let walls = reckoned(context, &META, report);
        if walls.is_empty() {
            return;
        }
        let Some((limit, most)) = context.number_limit(&META, "moisture.condensate", report) else { return };
        for one in walls {
            let held = one.through(|year| year.wettest().map_or(0.0, |(.., water)| water));
            let Some((place, at, month)) = one.wettest().filter(|_| held.high > most) else { continue };
            let (found, wanted) = (waters(held), waters(most.into()));
            if held.low <= most {
                report.push(context.in_part(&META, one.area.as_str(), at, (found, wanted)).against(limit));
                continue;
            }
            let month = MONTHS.get(month).unwrap_or(&"");
            let message = format!("{} has gathered {place} at the end of {month}", found.shown);
            report.push(
                context
                    .fault(&META, one.area.as_str(), at, message)
                    .against(limit)
                    .measured(found)
                    .wanted(wanted)
                    .help("a sheet inside that holds vapour back, or more insulation outboard of that place"),
            );
        }
    }
}
