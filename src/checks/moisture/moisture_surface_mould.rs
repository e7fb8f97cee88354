//! An inner surface so cold that mould may grow on it.

use super::reckoned;
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::figures::MONTHS;
use crate::units::Range;

/// `moisture.surface_mould`
pub struct MoistureSurfaceMould;

static META: RuleMeta = RuleMeta {
    id: "moisture.surface_mould",
    catalogue: "",
    title: "mould may grow on the inner surface",
    grade: Grade::S3,
    before: "H0",
    limits: &["moisture.surface_humidity"],
    explain: "\
# What it checks
In every month the inner surface between studs is warm enough that the air at it stays below the humidity of the rule
set, with the rooms and the climate of the site. Where thickness or
conductivity is a range, it may be so in part of it only: then this cannot tell.

# Why
Mould needs no drops. A surface that stays above 80 % humidity for days is enough.

# Example
    frame studs spruce 38mm x 140mm
    layer board gypsum 12.7mm

# Better
    frame studs spruce 38mm x 140mm, fill mineral_wool
    layer board gypsum 12.7mm

# Basis
ISO 13788:2012, clause 5, from memory, with the resistance of surfaces behind furniture; so it warns.

# Known gaps
Asked only where the site says `indoors` and `humidity_class`. Studs, corners and edges of openings are colder than the
wall between studs and are not reckoned.
",
};

impl Rule for MoistureSurfaceMould {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let walls = reckoned(context, &META, report);
        if walls.is_empty() {
            return;
        }
        let Some((limit, humidity)) = context.number_limit(&META, "moisture.surface_humidity", report) else { return };
        for one in walls {
            let (has, Some((month, needed))) = (one.monthly.factor, one.monthly.critical(humidity)) else { continue };
            if has.low >= needed {
                continue;
            }
            let at = one.wall.layers.last().map_or(one.wall.origin, |layer| layer.origin);
            let shown = |factor: Range| {
                let (low, high) = (format!("{:.2}", factor.low), format!("{:.2}", factor.high));
                let shown = if low == high { low } else { format!("{low} to {high}") };
                Measure { value: Some(factor.low), shown: format!("factor {shown}") }
            };
            let (found, wanted) = (shown(has), shown(needed.into()));
            if has.high >= needed {
                report.push(context.in_part(&META, one.area.as_str(), at, (found, wanted)).against(limit));
                continue;
            }
            let month = MONTHS.get(month).unwrap_or(&"");
            let message = format!(
                "the inner surface is too cold in {month}: its temperature {}, {needed:.2} is wanted",
                found.shown.replacen("factor", "factor is", 1)
            );
            report.push(
                context
                    .fault(&META, one.area.as_str(), at, message)
                    .against(limit)
                    .measured(found)
                    .wanted(wanted)
                    .help("insulate better, best outboard of the frame; or bring the humidity of the rooms down"),
            );
        }
    }
}
