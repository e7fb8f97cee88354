//! Hoods and other services nearer to openings, intakes, the ground and meters than they must be.

use crate::checks::pieces::faces;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Bounds;
use crate::layout::{apart, ground};
use crate::model::{Face, FaceId, Service};
use crate::source::Span;
use crate::units::Length;

/// `exhaust.too_close`
pub struct ExhaustTooClose;

static META: RuleMeta = RuleMeta {
    id: "exhaust.too_close",
    catalogue: "F-07",
    title: "an exhaust is too near to an opening, an intake, the ground or a meter",
    grade: Grade::S2,
    before: "H5",
    limits: &["distance.hood_opening", "distance.hood_intake", "distance.hood_ground", "distance.hood_meter"],
    explain: "\
# What it checks
Each service that `carries exhaust` keeps the distance of the rule set to windows that open, to fresh air intakes, to the
ground and to meters of its face. A distance of its own (`clear 900mm of openings`), of any service, goes before.

# Why
Hot exhaust melts and stains the cladding; its moisture and soot come back in at the next window or vent.

# Example
    hood dryer 100mm at (900mm, 1200mm), carries exhaust       // a window that opens 150 mm beside it

# Better
    hood dryer 100mm at (900mm, 1200mm), carries exhaust, clear 300mm of openings

# Basis
Instructions of appliances, and common practice: they differ, so the appliance's own number goes before. It warns.

# Known gaps
Distances round a corner, to soffit vents and to inside corners are not measured. Regulators are not declared.
",
};

/// What a distance is kept to: the word of the clause, the limit, as said in a sentence.
const KEPT: [(&str, &str); 4] = [
    ("openings", "distance.hood_opening"),
    ("intakes", "distance.hood_intake"),
    ("ground", "distance.hood_ground"),
    ("meters", "distance.hood_meter"),
];

impl Rule for ExhaustTooClose {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            for service in &face.services {
                for (what, name) in KEPT {
                    let finding = judge(context, (id, face), service, (what, name));
                    let place = |finding| context.on_face(finding, id, &service.name, service.at, service.at);
                    report.extend(finding.map(place));
                }
            }
        }
    }
}

/// Something from which a distance is kept.
struct Near {
    name: String,
    distance: Length,
    at: Span,
    /// It is not said whether it counts.
    unsaid: Option<String>,
}

fn judge(
    context: &CheckContext<'_>,
    (id, face): (FaceId, &Face),
    service: &Service,
    (what, name): (&str, &str),
) -> Option<Finding> {
    let own = service.clear.iter().find(|(_, of, _)| *of == what);
    let limit = context.limit(name).and_then(|limit| Some((limit, limit.length()?)));
    let least = match (own, limit) {
        (Some((distance, _, _)), _) => *distance,
        (None, Some((_, least))) if service.carries == Some("exhaust") => least,
        _ => return None,
    };
    let hole = apart::hole(service).unwrap_or(Bounds {
        left: service.at.x,
        right: service.at.x,
        bottom: service.at.y,
        top: service.at.y,
    });
    let mut within = beside(context, (id, face), (service, hole), what);
    within.retain(|near| near.distance < least);
    // What is sure goes before what is not said.
    let near = within.into_iter().min_by_key(|near| (near.unsaid.is_some(), near.distance))?;
    if let Some(missing) = near.unsaid {
        return Some(context.unknown(&META, face.dotted(service), near.at, missing));
    }
    let message = format!(
        "`{}` is {} from {}: {} is wanted",
        service.name,
        context.shown(near.distance),
        near.name,
        context.shown(least)
    );
    let finding = context.fault(&META, face.dotted(service), service.origin, message).also(near.at, "what it is near");
    let finding = finding.measured(context.measure(near.distance)).wanted(context.measure(least));
    let finding = match (own, limit) {
        (Some((_, _, at)), _) => {
            finding.on_principle("its own instructions, as declared", false).also(*at, "as declared")
        }
        (None, Some((limit, _))) => finding.against(limit),
        (None, None) => finding,
    };
    Some(finding.help(format!("move it by {} or more", context.shown(least - near.distance))))
}

/// Everything of a kind on the face.
fn beside(
    context: &CheckContext<'_>,
    (id, face): (FaceId, &Face),
    (service, hole): (&Service, Bounds),
    what: &str,
) -> Vec<Near> {
    match what {
        "openings" => openings(context, (id, face), hole),
        "ground" => {
            let height = ground::height(&ground::ground_line(face), service.at.x).zip(face.ground.first());
            let near = height.map(|(height, line)| Near {
                name: "the ground".to_owned(),
                distance: hole.bottom - height,
                at: line.origin,
                unsaid: None,
            });
            near.into_iter().collect()
        }
        _ => {
            let counts = |other: &&Service| match what {
                "intakes" => other.kind == "intake" || other.carries == Some("fresh_air"),
                _ => other.kind == "meter",
            };
            let others = face.services.iter().filter(|other| other.origin != service.origin || other.at != service.at);
            let near = others.filter(counts).filter_map(|other| {
                let distance = apart::clear(hole, apart::hole(other)?);
                Some(Near { name: format!("`{}`", other.name), distance, at: other.origin, unsaid: None })
            });
            near.collect()
        }
    }
}

/// The openings that can be opened, or of which that is not said.
fn openings(context: &CheckContext<'_>, (id, face): (FaceId, &Face), hole: Bounds) -> Vec<Near> {
    let Some(plan) = context.plan.face(id) else { return Vec::new() };
    let shapes = plan.openings.iter().zip(&face.openings);
    let near = shapes.filter(|(_, opening)| opening.opens != Some(false)).map(|(shape, opening)| Near {
        name: format!("`{}`", opening.name),
        distance: apart::clear(hole, shape.bounds()),
        at: opening.origin,
        unsaid: opening.opens.is_none().then(|| format!("whether `{}` can be opened (`opens`)", opening.name)),
    });
    near.collect()
}
