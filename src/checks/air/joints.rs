//! Joints of the air barrier, from facts to findings: what several rules ask of each, told once for each sort of joint of a face.

use std::collections::BTreeMap;

use crate::checks::{CheckContext, Finding, RuleMeta};
use crate::continuity::AirJoint;
use crate::model::FaceId;
use crate::units::{Length, display};

/// Stretches that are named before the rest is counted.
const NAMED: usize = 3;

/// What one rule says of one joint.
pub enum Said {
    /// A fault: the message without its place, and what finishes the finding.
    Fault(String, Box<dyn Fn(Finding) -> Finding>),
    /// The missing fact.
    Unknown(String),
}

/// Asks each joint, and tells alike answers of one face together, at the first stretch of them.
pub fn report<'c>(
    context: &'c CheckContext<'_>,
    meta: &RuleMeta,
    report: &mut Vec<Finding>,
    judge: impl Fn(&'c AirJoint) -> Option<Said>,
) {
    let mut told: BTreeMap<(FaceId, String), usize> = BTreeMap::new();
    let mut gathered: Vec<(Said, Vec<&AirJoint>)> = Vec::new();
    for joint in &context.air().joints {
        let Some(said) = judge(joint) else { continue };
        let (Said::Fault(words, _) | Said::Unknown(words)) = &said;
        match told.get(&(joint.face, words.clone())).and_then(|&at| gathered.get_mut(at)) {
            Some((_, joints)) => joints.push(joint),
            None => {
                told.insert((joint.face, words.clone()), gathered.len());
                gathered.push((said, vec![joint]));
            }
        }
    }
    report.extend(gathered.iter().filter_map(|(said, joints)| finding(context, meta, said, joints)));
}

fn finding(context: &CheckContext<'_>, meta: &RuleMeta, said: &Said, joints: &[&AirJoint]) -> Option<Finding> {
    let first = *joints.first()?;
    let also = others(first, joints);
    let found = match said {
        Said::Fault(message, finish) => {
            let message = format!("{message}{also}");
            finish(context.fault(meta, first.place.as_str(), first.used, message))
        }
        Said::Unknown(missing) => context.unknown(meta, first.place.as_str(), first.used, format!("{missing}{also}")),
    };
    let found =
        if first.origin == first.used { found } else { found.also(first.origin, "the part that is named there") };
    Some(placed(context, found, first))
}

/// "; the same at `high`, `kitchen.head` and 4 more".
fn others(first: &AirJoint, joints: &[&AirJoint]) -> String {
    let mut places: Vec<&str> = joints.iter().map(|joint| joint.place.as_str()).collect();
    places.sort_unstable();
    places.dedup();
    places.retain(|place| *place != first.place);
    let named: Vec<String> = places.iter().take(NAMED).map(|place| format!("`{place}`")).collect();
    match (named.as_slice(), places.len().saturating_sub(NAMED)) {
        ([], _) => String::new(),
        (named, 0) => format!("; the same at {}", named.join(", ")),
        (named, more) => format!("; the same at {} and {more} more", named.join(", ")),
    }
}

fn placed(context: &CheckContext<'_>, finding: Finding, joint: &AirJoint) -> Finding {
    if let Some(run) = joint.run.and_then(|run| context.plan.run(run)) {
        return context.on_run(finding, run, run.segment);
    }
    let service = context.model.face(joint.face).and_then(|face| face.services.get(joint.service?));
    match service {
        Some(service) => context.on_face(finding, joint.face, &service.name, service.at, service.at),
        None => finding,
    }
}

/// The joint's product as its module and name: `tapes.acrylic`.
pub fn called(context: &CheckContext<'_>, joint: &AirJoint) -> String {
    match joint.with.as_ref() {
        Some(stuff) => stuff.product.map_or_else(|| stuff.name.clone(), |id| context.model.product_name(id)),
        None => String::new(),
    }
}

/// Width of the bond on each side: as said, or half the roll of a tape.
pub fn leg(context: &CheckContext<'_>, joint: &AirJoint) -> Option<Length> {
    let half = || {
        let product = joint.product(context.model).filter(|product| product.kind == "tape")?;
        product.roll.first().map(|width| *width / 2)
    };
    joint.width.or_else(half)
}

/// A temperature as shown.
pub fn degrees(context: &CheckContext<'_>, celsius: f64) -> String {
    display::temperature(celsius, context.units())
}
