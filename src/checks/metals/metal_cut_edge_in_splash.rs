//! Raw edges of painted steel where water splashes.

use super::stuff_metal;
use crate::checks::pieces::{Once, called, pieces};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Segment;
use crate::layout::ground;
use crate::model::FaceId;
use crate::physics::galvanic::Metal;
use crate::units::Length;

/// `metal.cut_edge_in_splash`
pub struct MetalCutEdgeInSplash;

static META: RuleMeta = RuleMeta {
    id: "metal.cut_edge_in_splash",
    catalogue: "CO-08",
    title: "a raw edge of coated steel stands where water splashes",
    grade: Grade::S3,
    before: "H4",
    limits: &["splash.height"],
    explain: "\
# What it checks
Parts of painted steel along a base, a roof or a deck, lower above it than the rule set says, have a hem, or a drip that
hangs clear. It can always tell.

# Why
Rust creeps under the paint from the cut edge where that is splashed and touches what is beside it.

# Example
    part flashing flashings.coated, slope 6deg, upstand 100mm

# Better
    part flashing flashings.coated, slope 6deg, upstand 100mm, hem 10mm, drip 12mm out 6mm

# Basis
New Zealand keeps lower edges 5 mm clear, from a guide; 300 mm is common practice. It warns.

# Known gaps
Cladding of painted steel close to its flashing is told by the rule about ledges. Scratches and drilled holes are not known.
",
};

impl Rule for MetalCutEdgeInSplash {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for piece in pieces(context) {
            let Some(run) = piece.run.filter(|run| matches!(run.kind, "base" | "step" | "roof_line" | "deck_line"))
            else {
                continue;
            };
            let spec = piece.spec;
            let coated =
                stuff_metal(context.model, &spec.stuff).and_then(|made| made.family) == Some(Metal::CoatedSteel);
            let raw = spec.hem.is_none() && spec.drip.is_none();
            // These lie under what is above them, piece by piece.
            let covered = matches!(spec.kind, "step_flashing" | "kick_out" | "saddle");
            if !coated || !raw || covered {
                continue;
            }
            let Some((limit, height)) = context.length_limit(&META, "splash.height", report) else { return };
            if matches!(run.kind, "base" | "step") && is_high(context, piece.face, piece.segment, height) {
                continue;
            }
            let message = format!("the cut edge of `{}` is raw where water splashes: no hem, no drip", called(spec));
            let finding = context.fault(&META, piece.name.as_str(), spec.origin, message).against(limit);
            let finding = finding.wanted(context.measure(height)).help("fold a hem (`hem 10mm`), or let it drip clear");
            report.extend(once.first(&piece).then(|| piece.on_wall(context, finding)));
        }
    }
}

/// All of it is higher above the ground; ground that is not declared is near.
fn is_high(context: &CheckContext<'_>, face: FaceId, segment: Segment, height: Length) -> bool {
    let Some(face) = context.model.face(face) else { return false };
    let line = ground::ground_line(face);
    let above = |at: crate::geometry::Point| ground::height(&line, at.x).is_some_and(|ground| at.y - ground > height);
    above(segment.from) && above(segment.to)
}
