//! Holes through the wall so near to one another, or to a frame, that neither can be sealed.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::{Bounds, Point};
use crate::layout::apart;
use crate::model::{Face, FaceId, Limit, Service};
use crate::units::Length;

/// `service.crowded`
pub struct ServiceCrowded;

static META: RuleMeta = RuleMeta {
    id: "service.crowded",
    catalogue: "AI-07",
    title: "holes through the wall are too near to one another to seal",
    grade: Grade::S2,
    before: "H1",
    limits: &["penetration.apart", "penetration.flange_spare", "penetration.frame"],
    explain: "\
# What it checks
The clear distance between each two holes of a face: the sum of their flanges and `penetration.flange_spare` where both
flanges are said, else `penetration.apart`. And from each hole to the frame of an opening: `penetration.frame`.

# Why
Two pipes 40 mm apart cannot each have a flange, nor a hand with a roll of tape between them. The pair leaks for ever.

# Example
    pipe one 32mm at (1000mm, 600mm), flange 50mm
    pipe two 32mm at (1072mm, 600mm), flange 50mm

# Better
    pipe one 32mm at (1000mm, 600mm), flange 50mm
    pipe two 32mm at (1160mm, 600mm), flange 50mm

# Basis
Common practice: 150 mm apart, 75 mm from frames and corners.

# Known gaps
Holes ganged into one plate on purpose are not known as such. Corners of the wall are not looked at.
",
};

struct Limits<'m> {
    apart: (&'m Limit, Length),
    spare: (&'m Limit, Length),
    frame: (&'m Limit, Length),
}

impl Rule for ServiceCrowded {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        if context.model.faces.iter().all(|face| face.services.is_empty()) {
            return;
        }
        let Some(apart) = context.length_limit(&META, "penetration.apart", report) else { return };
        let Some(spare) = context.length_limit(&META, "penetration.flange_spare", report) else { return };
        let Some(frame) = context.length_limit(&META, "penetration.frame", report) else { return };
        let limits = Limits { apart, spare, frame };
        for (index, face) in context.model.faces.iter().enumerate() {
            one_face(context, (FaceId(index as u32), face), &limits, report);
        }
    }
}

fn one_face(context: &CheckContext<'_>, (id, face): (FaceId, &Face), limits: &Limits<'_>, report: &mut Vec<Finding>) {
    for (at, service) in face.services.iter().enumerate() {
        let Some(hole) = apart::hole(service) else {
            let (missing, subject) = (format!("the size of `{}`", service.name), face.dotted(service));
            let finding = context.unknown(&META, subject, service.origin, missing);
            report.push(context.on_face(finding, id, &service.name, service.at, service.at));
            continue;
        };
        for other in face.services.iter().skip(at + 1) {
            if let Some(other_hole) = apart::hole(other) {
                report.extend(pair(context, (id, face), (service, hole), (other, other_hole), limits));
            }
        }
        let plan = context.plan.face(id);
        let frames = plan.into_iter().flat_map(|plan| plan.openings.iter().zip(&face.openings));
        for (shape, opening) in frames {
            let clear = apart::clear(hole, shape.bounds());
            let (limit, least) = limits.frame;
            if clear < least {
                let what =
                    format!("`{}` is {} from the frame of `{}`", service.name, context.shown(clear), opening.name);
                let finding = fault(context, (id, face), service, what, clear, (limit, least));
                report.push(finding.also(opening.origin, "the opening"));
            }
        }
    }
}

fn pair(
    context: &CheckContext<'_>,
    place: (FaceId, &Face),
    (one, hole): (&Service, Bounds),
    (other, other_hole): (&Service, Bounds),
    limits: &Limits<'_>,
) -> Option<Finding> {
    let clear = apart::clear(hole, other_hole);
    let (limit, least) = match (one.flange, other.flange) {
        (Some(a), Some(b)) => (limits.spare.0, a + b + limits.spare.1),
        _ => limits.apart,
    };
    if clear >= least {
        return None;
    }
    let what = format!("`{}` and `{}` are {} apart", one.name, other.name, context.shown(clear));
    Some(fault(context, place, one, what, clear, (limit, least)).also(other.origin, "the other hole"))
}

fn fault(
    context: &CheckContext<'_>,
    (id, face): (FaceId, &Face),
    service: &Service,
    what: String,
    clear: Length,
    (limit, least): (&Limit, Length),
) -> Finding {
    let message = format!("{what}: no room to seal both, {} is wanted", context.shown(least));
    let finding = context
        .fault(&META, face.dotted(service), service.origin, message)
        .against(limit)
        .measured(context.measure(clear))
        .wanted(context.measure(least))
        .help(format!("move one by {}, or gang them into one plate sealed as one", context.shown(least - clear)));
    let at: Point = service.at;
    context.on_face(finding, id, &service.name, at, at)
}
