//! A wall near the lot line that burns, or has windows.

use crate::checks::pieces::{area_name, faces, wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::{Face, FaceId, Limit};
use crate::units::Length;

/// `fire.near_lot_line`
pub struct FireNearLotLine;

static META: RuleMeta = RuleMeta {
    id: "fire.near_lot_line",
    catalogue: "F-04",
    title: "a wall near the lot line burns, or has openings",
    grade: Grade::S2,
    before: "H0",
    limits: &["fire.cladding_distance", "fire.opening_distance"],
    explain: "\
# What it checks
On a face that says its `limiting_distance`: nearer than the rule set allows, its cladding does not burn and it has no
openings.

# Why
Fire jumps from house to house through windows and up the cladding. The plan is refused, or the neighbour's house burns.

# Example
    face east { limiting_distance 500mm }        // with larch boards and a window

# Better
    face east { limiting_distance 500mm }        // with fibre-cement boards and no window

# Basis
NBC 9.10.15, from memory; it warns.

# Known gaps
Tables of openings by distance and area of wall are not held here: ask the designer. A face that does not say its distance
is not asked.
",
};

impl Rule for FireNearLotLine {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            let Some(distance) = face.limiting_distance else { continue };
            let Some(burns) = context.length_limit(&META, "fire.cladding_distance", report) else { return };
            let Some(open) = context.length_limit(&META, "fire.opening_distance", report) else { return };
            if distance < burns.1 {
                report.extend(cladding(context, (id, face), distance, burns));
            }
            if distance < open.1 {
                report.extend(openings(context, face, distance, open));
            }
        }
    }
}

/// The first cladding that burns, or of which that is not said.
fn cladding(
    context: &CheckContext<'_>,
    (id, face): (FaceId, &Face),
    distance: Length,
    (limit, least): (&Limit, Length),
) -> Option<Finding> {
    let claddings = (0..face.areas.len()).filter_map(|at| {
        let wall = wall(context, id, at)?;
        let layer = stack::cladding(wall).map_or(wall.layers.first(), |at| wall.layers.get(at))?;
        let material = context.model.material_of(&layer.stuff);
        let burns = material.and_then(|material| material.combustible);
        (burns != Some(false)).then_some((at, layer, burns))
    });
    let (at, layer, burns) = claddings.max_by_key(|(at, _, burns)| (burns.is_some(), std::cmp::Reverse(*at)))?;
    let subject = format!("{}.{}", area_name(context, id, at), layer.name);
    if burns.is_none() {
        let missing = format!("whether `{}` burns (`combustible`)", layer.stuff.name);
        return Some(context.unknown(&META, subject, layer.origin, missing));
    }
    let message = format!("`{}` burns, {} from the lot line", layer.name, context.shown(distance));
    let finding = context.fault(&META, subject, face.origin, message).against(limit).also(layer.origin, "the cladding");
    Some(
        finding
            .measured(context.measure(distance))
            .wanted(context.measure(least))
            .help("take a cladding that does not burn on this face; the designer says which"),
    )
}

fn openings(
    context: &CheckContext<'_>,
    face: &Face,
    distance: Length,
    (limit, least): (&Limit, Length),
) -> Option<Finding> {
    let first = face.openings.first()?;
    let what = match face.openings.len() {
        1 => format!("`{}` is", first.name),
        count => format!("`{}` and {} more are", first.name, count - 1),
    };
    let message = format!("{what} {} from the lot line", context.shown(distance));
    let finding = context.fault(&META, format!("{}.{}", face.name, first.name), first.origin, message).against(limit);
    Some(
        finding
            .measured(context.measure(distance))
            .wanted(context.measure(least))
            .help("leave it out, or ask the designer for a protected opening"),
    )
}
