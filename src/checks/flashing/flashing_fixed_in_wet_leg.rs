//! A nail through the leg on which water runs.

use crate::checks::pieces::{Once, Piece, called, pieces, rigid};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta, trims};

/// `flashing.fixed_in_wet_leg`
pub struct FlashingFixedInWetLeg;

static META: RuleMeta = RuleMeta {
    id: "flashing.fixed_in_wet_leg",
    catalogue: "LA-16",
    title: "a flashing is fixed through the leg on which water runs",
    grade: Grade::S3,
    before: "H4",
    limits: &[],
    explain: "\
# What it checks
Fasteners of folded flashings go through the upstand (`fasten … through upstand`), or a face that hangs, never
through the ledge; fixing holes of trims are not in their floor (`leg floor`).

# Why
A nail through the sloped leg is a leak at the worst place.

# Example
    part flashing flashings.aluminium_coil {
        slope  6deg
        fasten screws.stainless_pan 4mm x 25mm, into structure, through ledge
    }

# Better
    part flashing flashings.aluminium_coil {
        slope   6deg
        upstand 75mm
        fasten  screws.stainless_pan 4mm x 25mm, into sheathing, through upstand
    }

# Basis
Fasten only in the upstand, well above the bend: common practice.

# Known gaps
A fastener that does not say its leg is taken to be in the upstand where it goes into sheathing, studs or the
plane.
",
};

impl Rule for FlashingFixedInWetLeg {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for piece in pieces(context) {
            let folded = matches!(piece.spec.kind, "flashing" | "apron" | "cap" | "coping");
            if !folded || !piece.lies() || !rigid(context.model, &piece.spec.stuff) {
                continue;
            }
            let finding = judge(context, &piece).filter(|_| once.first(&piece));
            report.extend(finding.map(|finding| piece.on_wall(context, finding)));
        }
        report.extend(trims::judge_each(context, in_floor));
    }
}

fn judge(context: &CheckContext<'_>, piece: &Piece<'_>) -> Option<Finding> {
    let fasten = piece.spec.fasten.as_ref()?;
    let what = called(piece.spec);
    match fasten.through {
        Some("ledge") => {
            let message = format!("`{what}` is fixed through its ledge");
            let finding = context
                .fault(&META, piece.name.clone(), fasten.origin, message)
                .on_principle("fasten only in the upstand: common practice", false)
                .help("fix the upstand, 25 mm or more above the bend, or hold the front edge with cleats");
            Some(finding)
        }
        Some(_) => None,
        None if piece.spec.upstand.is_some() && matches!(fasten.into, Some("sheathing" | "studs" | "plane")) => None,
        None => {
            let missing = format!("which leg of `{what}` is fixed is not said (`fasten … through …`)");
            Some(context.unknown(&META, piece.name.clone(), fasten.origin, missing))
        }
    }
}

/// Fixing holes in the floor of a trim.
fn in_floor(context: &CheckContext<'_>, laid: &trims::Laid<'_>) -> Option<Finding> {
    let row = laid.trim.holes.iter().find(|row| row.purpose == "fix" && row.leg == Some("floor"))?;
    let message = format!("`{}` is fixed through its floor", laid.trim.name);
    let finding = context
        .fault(&META, laid.subject.clone(), row.origin, message)
        .on_principle("fasten only in the upstand: common practice", false)
        .help("fix the back leg: `holes fix …, leg back`");
    Some(finding)
}
