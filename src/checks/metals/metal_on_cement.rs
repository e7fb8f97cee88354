//! Aluminium and zinc on concrete, mortar and render.

use super::{Made, product_metal, stuff_metal};
use crate::checks::pieces::{Once, area_at, called, pieces, wall};
use crate::checks::trims::{Laid, judge_each};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::{Assembly, FaceId, ProductId};
use crate::physics::galvanic::Metal;
use crate::source::Span;

/// `metal.on_cement`
pub struct MetalOnCement;

static META: RuleMeta = RuleMeta {
    id: "metal.on_cement",
    catalogue: "CO-05",
    title: "wet cement eats the metal on it",
    grade: Grade::S2,
    before: "H4",
    limits: &[],
    explain: "\
# What it checks
Parts and trims of aluminium or zinc that lie on a layer that says `cementitious yes`, or that lap over a foundation of
concrete, are `isolated with` something. On fibre-cement a painted or anodised face is enough.

# Why
Wet cement is alkaline. It eats aluminium and zinc, and at a mortar joint the cut end even of coated aluminium.

# Example
    part flashing flashings.aluminium_coil, laps over foundation by 25mm

# Better
    part flashing flashings.aluminium_coil, laps over foundation by 25mm, isolated with tapes.isolating

# Basis
Trade literature: no direct contact while it can get wet. Common practice; it warns.

# Known gaps
Galvanised steel is not asked. Dust of sawn fibre-cement is washed off the same day: that is a line of the hold point, not
of the declaration.
",
};

impl Rule for MetalOnCement {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for piece in pieces(context) {
            let Some(metal) = stuff_metal(context.model, &piece.spec.stuff) else { continue };
            if piece.spec.isolated.is_some() || !once.first(&piece) {
                continue;
            }
            let on = piece.spec.on.zip(piece.wall(context));
            let on = on.and_then(|(on, wall)| cement(context, wall, on, piece.spec.stuff.product));
            let laps = piece.spec.laps.iter().any(|lap| lap.what == "foundation" && !lap.under);
            let under = match on {
                Some(name) => Ok(name),
                None if laps => match foundation(context, piece.face) {
                    Some(under) => under,
                    None => continue,
                },
                None => continue,
            };
            let finding = judge(context, (&piece.name, called(piece.spec)), &metal, under, piece.spec.origin);
            report.extend(finding.map(|finding| piece.on_wall(context, finding)));
        }
        report.extend(judge_each(context, trim));
    }
}

/// The cementitious layer a thing lies on.
fn cement(context: &CheckContext<'_>, wall: &Assembly, on: &str, product: Option<ProductId>) -> Option<String> {
    let layer = wall.layers.get(stack::lies_on(context.model, wall, on)?)?;
    let material = context.model.material_of(&layer.stuff).filter(|material| material.cementitious)?;
    let finish = product.and_then(|product| context.model.product(product)?.finish);
    let coated = matches!(finish, Some("painted" | "anodised" | "coated"));
    (!(coated && material.kind == "fibre_cement")).then(|| layer.name.clone())
}

/// What the foundation of a face is of: its name where that is concrete, the missing fact as error; `None` where it is not.
fn foundation(context: &CheckContext<'_>, face: FaceId) -> Option<Result<String, String>> {
    match context.model.building_of(face).and_then(|building| building.foundation.as_ref()) {
        Some((name, Some("concrete" | "slab"), _, _)) => Some(Ok(name.clone())),
        Some((_, Some(_), _, _)) => None,
        Some((name, None, _, _)) => Some(Err(format!("what foundation `{name}` is of (`air concrete`)"))),
        None => Some(Err("what the foundation is of: `foundation` of a building".to_owned())),
    }
}

fn judge(
    context: &CheckContext<'_>,
    (subject, name): (&str, &str),
    metal: &Made,
    under: Result<String, String>,
    at: Span,
) -> Option<Finding> {
    match metal.family {
        Some(Metal::Aluminium | Metal::Zinc) => {}
        Some(_) => return None,
        None => {
            return Some(context.unknown(&META, subject, at, format!("metal family of `{}` (`metal`)", metal.name)));
        }
    }
    let under = match under {
        Ok(under) => under,
        Err(missing) => return Some(context.unknown(&META, subject, at, missing)),
    };
    let message = format!("`{name}` ({}) lies on the cement of `{under}`, which eats it while wet", metal.name);
    let finding = context.fault(&META, subject, at, message);
    Some(
        finding
            .on_principle("trade literature: aluminium and zinc are kept off wet cement", false)
            .help("lay a bituminous tape or membrane between: `isolated with …`"),
    )
}

fn trim(context: &CheckContext<'_>, laid: &Laid<'_>) -> Option<Finding> {
    let metal = product_metal(context.model, laid.trim.product).filter(|_| laid.trim.isolated.is_none())?;
    let wall = wall(context, laid.face, area_at(context, laid.face, laid.line.midpoint())?)?;
    let under = cement(context, wall, laid.trim.on?, Some(laid.trim.product))?;
    judge(context, (&laid.subject, &laid.trim.name), &metal, Ok(under), laid.trim.origin)
}
