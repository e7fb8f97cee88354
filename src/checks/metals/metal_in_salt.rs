//! Metals that salt pits.

use std::collections::BTreeSet;

use crate::checks::fastening::{fastenings, on_wall};
use crate::checks::pieces::{called, faces, pieces};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::loads::Fastening;
use crate::model::{Face, FaceId, Limit, Material};
use crate::source::Span;
use crate::units::Length;

/// `metal.in_salt`
pub struct MetalInSalt;

static META: RuleMeta = RuleMeta {
    id: "metal.in_salt",
    catalogue: "CO-10",
    title: "salt pits the metal",
    grade: Grade::S3,
    before: "H0",
    limits: &["salt.reach"],
    explain: "\
# What it checks
By the sea (`salt sea`): fasteners and metal parts are of a metal that says `stands_salt yes`. Along a salted road or walk
(`salt road`, and `salted 2m` on the face): those at the foot of the wall.

# Why
Chlorides pit galvanised steel and plain stainless within reach of the spray, and the heads of the screws go first.

# Example
    fasten screws.galvanised 4.5mm x 40mm, into sheathing        // two metres from a walk that is salted

# Better
    fasten own_screws 4.5mm x 40mm, into sheathing               // of materials.stainless_marine

# Basis
Common practice: one class of corrosion up, stainless with molybdenum, thicker zinc. No source for the reach. It warns.

# Known gaps
How far a metal is from the sea, and whether rain washes it, are not asked. Each product is told once a face.
",
};

/// Where salt reaches.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Reach {
    All,
    Foot,
}

/// Something of metal on a face.
struct Thing<'c> {
    face: FaceId,
    subject: String,
    name: String,
    material: &'c Material,
    at: Span,
    foot: bool,
}

impl Rule for MetalInSalt {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let Some(site) = &context.model.site else { return };
        if site.salt == Some("none") {
            return;
        }
        let Some((limit, reach)) = context.length_limit(&META, "salt.reach", report) else { return };
        let mut reached: Vec<(FaceId, Reach)> = Vec::new();
        for (id, face) in faces(context.model) {
            match within(site.salt, face, reach) {
                Ok(found) => reached.extend(found.map(|found| (id, found))),
                Err(missing) => report.push(context.unknown(&META, face.name.as_str(), face.origin, missing)),
            }
        }
        let mut told = BTreeSet::new();
        for (thing, place) in things(context) {
            let Some((_, found)) = reached.iter().find(|(id, _)| *id == thing.face) else { continue };
            if (*found == Reach::Foot && !thing.foot) || !told.insert((thing.face, thing.name.clone())) {
                continue;
            }
            if site.salt.is_none() && *found == Reach::All {
                // One question to the site, not one for each screw.
                if thing.material.stands_salt == Some(false) {
                    let missing = format!("whether there is salt (`salt`); `{}` does not stand it", thing.name);
                    report.push(context.unknown(&META, site.name.as_str(), site.origin, missing));
                    return;
                }
                continue;
            }
            report.extend(judge(context, &thing, limit).map(place));
        }
    }
}

/// How far salt reaches on a face; the error is the missing fact.
fn within(salt: Option<&str>, face: &Face, reach: Length) -> Result<Option<Reach>, String> {
    match (salt, face.salted) {
        (_, Some(distance)) if salt != Some("sea") => Ok((distance <= reach).then_some(Reach::Foot)),
        (Some("road"), None) => Err(format!("how far `{}` is from a salted road or walk (`salted`)", face.name)),
        _ => Ok(Some(Reach::All)),
    }
}

type Placed<'c, 'a> = (Thing<'c>, Box<dyn FnOnce(Finding) -> Finding + 'a>);

/// Fasteners first: they go first.
fn things<'c, 'a>(context: &'a CheckContext<'c>) -> Vec<Placed<'c, 'a>>
where
    'c: 'a,
{
    let model = context.model;
    let mut found: Vec<Placed<'c, 'a>> = Vec::new();
    let feet = ["base", "step", "deck_line"];
    let runs: Vec<(FaceId, Span)> =
        context.plan.runs.iter().filter(|run| feet.contains(&run.kind)).map(|run| (run.face, run.origin)).collect();
    for fastening in fastenings(context) {
        let product = fastening.fasten.product;
        let Some(material) = model.product(product).and_then(|product| model.material(product.of?)) else { continue };
        let Some(face) = face_of(context, &fastening) else { continue };
        let foot = fastening.place.is_some() && runs.contains(&(face, fastening.at));
        let (subject, name) = (fastening.subject.clone(), model.product_name(product));
        let thing = Thing { face, subject, name, material, at: fastening.at, foot };
        found.push((thing, Box::new(move |finding| on_wall(context, &fastening, finding))));
    }
    for piece in pieces(context) {
        let Some(material) = model.material_of(&piece.spec.stuff).filter(|material| material.kind == "metal") else {
            continue;
        };
        let foot = piece.run.is_some_and(|run| feet.contains(&run.kind));
        let name = match piece.spec.stuff.product {
            Some(product) => model.product_name(product),
            None => called(piece.spec).to_owned(),
        };
        let (face, subject, at) = (piece.face, piece.name.clone(), piece.spec.origin);
        found.push((
            Thing { face, subject, name, material, at, foot },
            Box::new(move |finding| piece.on_wall(context, finding)),
        ));
    }
    found
}

fn face_of(context: &CheckContext<'_>, fastening: &Fastening<'_>) -> Option<FaceId> {
    let named = || context.model.face_named(fastening.subject.split('.').next()?);
    fastening.place.map(|(face, _)| face).or_else(named)
}

fn judge(context: &CheckContext<'_>, thing: &Thing<'_>, limit: &Limit) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, thing.subject.as_str(), thing.at, missing));
    match thing.material.stands_salt {
        Some(true) => return None,
        Some(false) => {}
        None => return unknown(format!("whether `{}` stands salt (`stands_salt`)", thing.material.name)),
    }
    let message = format!("`{}` is of {}, which salt pits", thing.name, thing.material.name);
    let finding = context.fault(&META, thing.subject.as_str(), thing.at, message).against(limit);
    Some(finding.help("take stainless with molybdenum, aluminium, or a thicker coat the maker stands behind"))
}
