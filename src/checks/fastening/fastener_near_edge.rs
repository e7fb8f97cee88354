//! A fastener so near to an edge that the edge breaks or tears.

use super::{fastenings, on_wall};
use crate::checks::pieces::faces;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::loads::{Fastening, edge};
use crate::model::Material;
use crate::source::Span;
use crate::units::Length;

/// `fastener.near_edge`
pub struct FastenerNearEdge;

static META: RuleMeta = RuleMeta {
    id: "fastener.near_edge",
    catalogue: "FA-11",
    title: "a fastener stands too near to an edge",
    grade: Grade::S3,
    before: "H5",
    limits: &["fastener.edge_distance", "fastener.sheet_diameters"],
    explain: "\
# What it checks
`end_distance` and `edge_distance` of fasteners and of rows of fixing holes: in sheet metal two diameters, in
boards and other things the distance of the rule set. Cladding is asked for its `end_distance`.

# Why
Ends of boards break out, and sheet tears: the fastener is there and holds nothing.

# Example
    fasten screws.stainless 4.5mm x 50mm, into furring, end_distance 6mm

# Better
    fasten screws.stainless 4.5mm x 50mm, into furring, end_distance 25mm

# Basis
Two diameters in sheet, 12 mm in boards (10 to 25 by maker): common practice.

# Known gaps
A distance that nobody said is asked for at cladding only. Strips of furring have a rule of their own.
",
};

impl Rule for FastenerNearEdge {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for one in fastenings(context).iter().filter(|one| !one.is_furring) {
            let hole = Hole {
                subject: &one.subject,
                what: one.what.clone(),
                at: one.fasten.origin,
                of: one.of,
                diameter: one.fasten.diameter,
                end: one.fasten.end_distance,
                edge: one.fasten.edge_distance,
                asked: one.is_cladding,
            };
            report.extend(judge(context, &hole).map(|finding| placed(context, one, finding)));
        }
        for (_, face) in faces(context.model) {
            for trim in &face.trims {
                let of = context.model.product(trim.product).and_then(|product| context.model.material(product.of?));
                for row in trim.holes.iter().filter(|row| row.purpose == "fix") {
                    let subject = format!("{}.{}", face.name, trim.name);
                    let hole = Hole {
                        subject: &subject,
                        what: format!("`{}`", trim.name),
                        at: row.origin,
                        of,
                        diameter: Some(row.slot.unwrap_or(row.height)),
                        end: row.end_distance,
                        edge: None,
                        asked: false,
                    };
                    report.extend(judge(context, &hole));
                }
            }
        }
    }
}

fn placed(context: &CheckContext<'_>, one: &Fastening<'_>, finding: Finding) -> Finding {
    if one.at == one.fasten.origin { on_wall(context, one, finding) } else { finding.also(one.at, "used here") }
}

struct Hole<'c> {
    subject: &'c str,
    what: String,
    at: Span,
    of: Option<&'c Material>,
    diameter: Option<Length>,
    end: Option<Length>,
    edge: Option<Length>,
    asked: bool,
}

fn judge(context: &CheckContext<'_>, hole: &Hole<'_>) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, hole.subject, hole.at, missing));
    if hole.asked && hole.end.is_none() {
        return unknown(format!(
            "how far the fasteners of {} stay from the end of a piece is not said (`end_distance`)",
            hole.what
        ));
    }
    let said = [("end", hole.end), ("edge", hole.edge)];
    let said: Vec<(&str, Length)> = said.into_iter().filter_map(|(side, far)| Some((side, far?))).collect();
    if said.is_empty() {
        return None;
    }
    let (limit, least) = match edge(context.model, hole.of, hole.diameter, &hole.what) {
        Ok(least) => least,
        Err(missing) => return unknown(missing),
    };
    let (side, far) = said.into_iter().find(|(_, far)| *far < least)?;
    let message = format!(
        "the fasteners of {} stay {} from the {side}; {} is wanted",
        hole.what,
        context.shown(far),
        context.shown(least)
    );
    Some(
        context
            .fault(&META, hole.subject, hole.at, message)
            .against(limit)
            .measured(context.measure(far))
            .wanted(context.measure(least))
            .help("move them in, and drill what splits easily"),
    )
}
