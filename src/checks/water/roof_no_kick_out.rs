//! A roof that dies into a wall without a diverter at its low end.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::{Place, Point};
use crate::model::{Detail, Face, FaceId, Limit, Roof};
use crate::units::Length;

/// `roof.no_kick_out`
pub struct RoofNoKickOut;

static META: RuleMeta = RuleMeta {
    id: "roof.no_kick_out",
    catalogue: "DR-12",
    title: "the low end of a roof has no kick-out",
    grade: Grade::S1,
    before: "H2",
    limits: &["kick_out.height"],
    explain: "\
# What it checks
Each roof whose low end lies within a face has a diverter there, at least `kick_out.height` high: its own `kick_out`, a part
of its detail, or a part of the detail of the point where it ends.

# Why
All the water of the roof's edge runs down into the wall. A cone of rot about two metres wide has been reported below one.

# Example
    roof lean from (2400mm, 2700mm) to (7200mm, 3900mm), detail lean_roof, low_end inside

# Better
    roof lean from (2400mm, 2700mm) to (7200mm, 3900mm), detail lean_roof, low_end inside, kick_out flashings.aluminium_coil 120mm

# Basis
IRC R905.2.8.3, public code site: sidewall flashing directs water away from the wall. The height is from a trade article.

# Known gaps
A roof that ends at the corner or past it is not asked. Whether the gutter takes the water is not checked.
",
};

impl Rule for RoofNoKickOut {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        if context.model.faces.iter().all(|face| face.roofs.is_empty()) {
            return;
        }
        let Some((limit, least)) = context.length_limit(&META, "kick_out.height", report) else { return };
        for (index, face) in context.model.faces.iter().enumerate() {
            let sloping = face.roofs.iter().filter(|roof| roof.line.from.y != roof.line.to.y);
            report.extend(sloping.filter_map(|roof| judge(context, FaceId(index as u32), face, roof, (limit, least))));
        }
    }
}

fn judge(
    context: &CheckContext<'_>,
    id: FaceId,
    face: &Face,
    roof: &Roof,
    (limit, least): (&Limit, Length),
) -> Option<Finding> {
    let subject = format!("{}.{}", face.name, roof.name);
    let low = roof.line.lower_end();
    let unknown = |missing: String| {
        let finding = context.unknown(&META, subject.as_str(), roof.origin, missing);
        Some(context.on_face(finding, id, &format!("low end of {}", roof.name), low, low))
    };
    match end_of(context, id, roof, low) {
        End::Past => return None,
        End::Unsaid => {
            return unknown(format!(
                "where the low end of `{}` is: add `low_end inside`, `at_corner` or `past`",
                roof.name
            ));
        }
        End::Inside => {}
    }
    let height = match diverter(context, id, roof, low) {
        Some(Some(height)) if height >= least => return None,
        Some(None) => return unknown(format!("the height of the kick-out of `{}`", roof.name)),
        Some(Some(height)) => Some(height),
        None => None,
    };
    let message = match height {
        Some(height) => format!("the kick-out of `{}` is only {} high", roof.name, context.shown(height)),
        None => format!("`{}` ends against the wall without a kick-out: its water runs into the wall", roof.name),
    };
    let finding = context
        .fault(&META, subject.as_str(), roof.origin, message)
        .against(limit)
        .measured(context.measure(height.unwrap_or(Length::ZERO)))
        .wanted(context.measure(least))
        .help(format!(
            "add a diverter {} high or more, under the wall membrane, over the first step",
            context.shown(least)
        ));
    Some(context.on_face(finding, id, &format!("low end of {}", roof.name), low, low))
}

enum End {
    Inside,
    Past,
    Unsaid,
}

/// Where the low end is: as said, or failing that by the outline of the face. On the outline itself it cannot be told.
fn end_of(context: &CheckContext<'_>, id: FaceId, roof: &Roof, low: Point) -> End {
    match roof.low_end {
        Some("inside") => End::Inside,
        Some(_) => End::Past,
        None => match context.plan.face(id).map(|plan| plan.outline.place(low)) {
            Some(Place::Inside) => End::Inside,
            Some(Place::Outside) => End::Past,
            Some(Place::Boundary) | None => End::Unsaid,
        },
    }
}

/// Its height if there is one, `Some(None)` if its height is not said.
fn diverter(context: &CheckContext<'_>, id: FaceId, roof: &Roof, low: Point) -> Option<Option<Length>> {
    if let Some((height, ..)) = &roof.kick_out {
        return Some(Some(*height));
    }
    let of_point = context
        .plan
        .nodes
        .iter()
        .find(|node| node.face == id && node.kind == "kick_out" && (node.at.x - low.x).abs() <= Length::mm(100))
        .and_then(|node| node.detail);
    let details = [of_point, roof.detail].into_iter().flatten().filter_map(|detail| context.model.detail(detail));
    details.into_iter().find_map(part)
}

fn part(detail: &Detail) -> Option<Option<Length>> {
    detail.edge.parts.iter().find(|part| part.kind == "kick_out").map(|part| part.upstand)
}
