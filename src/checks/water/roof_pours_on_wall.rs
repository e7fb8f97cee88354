//! Roofs without a gutter that pour their water and slide their snow onto a wall.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Place;
use crate::model::{Face, FaceId, Roof};
use crate::units::Length;

/// `roof.pours_on_wall`
pub struct RoofPoursOnWall;

static META: RuleMeta = RuleMeta {
    id: "roof.pours_on_wall",
    catalogue: "DR-13",
    title: "a roof without a gutter pours onto the wall",
    grade: Grade::S2,
    before: "H7",
    limits: &[],
    explain: "\
# What it checks
Each sloping roof that touches a face and ends within it or at its corner has a gutter at its lower edge (`gutter yes`).

# Why
One roof edge soaks a wall that was built for ordinary rain: 25 mm on 180 m² of roof are 4.7 m³. Snow that slides off it tears
trims, blocks and vents, and what drips from it freezes on the cladding below.

# Example
    roof lean from (2400mm, 2700mm) to (7200mm, 3900mm), detail lean_roof, low_end inside, gutter no

# Better
    roof lean from (2400mm, 2700mm) to (7200mm, 3900mm), detail lean_roof, low_end inside, gutter yes

# Basis
Common practice; the volume is from a trade article.

# Known gaps
Valleys and eaves that do not touch the face are not declared: the hold-point sheet asks for them. Whether the gutter is large
enough, and a snow guard holds, is not known. A roof that does not say where it ends is told by `roof.no_kick_out`.
",
};

impl Rule for RoofPoursOnWall {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (index, face) in context.model.faces.iter().enumerate() {
            let id = FaceId(index as u32);
            let sloping = face.roofs.iter().filter(|roof| roof.line.from.y != roof.line.to.y);
            let over = sloping.filter(|roof| ends_on(context, id, roof));
            report.extend(over.filter_map(|roof| judge(context, (id, face), roof)));
        }
    }
}

/// Whether its low end lies within the face or at its corner.
fn ends_on(context: &CheckContext<'_>, id: FaceId, roof: &Roof) -> bool {
    match roof.low_end {
        Some("past") => false,
        Some(_) => true,
        None => {
            let low = roof.line.lower_end();
            context.plan.face(id).is_some_and(|plan| plan.outline.place(low) == Place::Inside)
        }
    }
}

fn judge(context: &CheckContext<'_>, (id, face): (FaceId, &Face), roof: &Roof) -> Option<Finding> {
    let subject = format!("{}.{}", face.name, roof.name);
    let low = roof.line.lower_end();
    let place = |finding: Finding| Some(context.on_face(finding, id, &format!("low end of {}", roof.name), low, low));
    match roof.gutter {
        Some(true) => None,
        None => place(context.unknown(&META, subject, roof.origin, format!("whether `{}` has a gutter", roof.name))),
        Some(false) => {
            let snow = context.model.site.as_ref().and_then(|site| site.snow).is_some_and(|snow| snow > Length::ZERO);
            let and_snow = if snow { ", and its snow slides onto what is below" } else { "" };
            let message = format!("`{}` has no gutter: its water pours onto this wall{and_snow}", roof.name);
            let finding = context
                .fault(&META, subject, roof.origin, message)
                .on_principle("common practice", false)
                .help("add a gutter, or a diverter that throws the water clear of the wall");
            place(if snow { finding.help("hold the snow with a guard above the edge") } else { finding })
        }
    }
}
