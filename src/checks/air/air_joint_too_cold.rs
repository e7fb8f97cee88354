//! A joint of the air barrier made on too cold a day.

use std::collections::BTreeSet;

use super::joints::{self, Said};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::AirJoint;
use crate::model::{FaceId, Limit};

/// `air.joint_too_cold`
pub struct AirJointTooCold;

static META: RuleMeta = RuleMeta {
    id: "air.joint_too_cold",
    catalogue: "FR-07",
    title: "a part that closes the air barrier goes on too cold",
    grade: Grade::S3,
    before: "H1",
    limits: &["air_joint.primer_cold"],
    explain: "\
# What it checks
The day a joint is made (`at` of the joint, else `applied at` of the barrier it joins) is no colder than its product `works
from`; and a joint that is primed is made no colder than `air_joint.primer_cold`.

# Why
Sealant skins over without bonding, tape sits on frost, primer does not dry. In spring all of it hangs loose.

# Example
    air seals to foundation with membranes.self_adhered, width 75mm, primer yes, at -4degC

# Better
    air seals to foundation with membranes.self_adhered_cold, width 75mm, primer yes, at 6degC

# Basis
The maker's word, as the product declares it. The least for primers is common practice.

# Known gaps
Frost and damp on the day are not declared. Seams of layers are told by `tape.wrong_surface`, which also asks for the day
where a layer with seams does not say it.
",
};

impl Rule for AirJointTooCold {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        if context.air().joints.is_empty() {
            return;
        }
        let Some(primer) = context.number_limit(&META, "air_joint.primer_cold", report) else { return };
        let taped: BTreeSet<FaceId> =
            context.air().joints.iter().filter(|joint| joint.kind == "seam").map(|joint| joint.face).collect();
        joints::report(context, &META, report, |joint| judge(context, joint, primer, &taped));
    }
}

fn judge(
    context: &CheckContext<'_>,
    joint: &AirJoint,
    (limit, dries): (&Limit, f64),
    taped: &BTreeSet<FaceId>,
) -> Option<Said> {
    // A joint without a product is told for what it bonds to.
    let product = joint.product(context.model).filter(|_| joint.kind != "seam")?;
    let name = joints::called(context, joint);
    let Some(least) = &product.works_from else {
        return Some(Said::Unknown(format!("the coldest day on which `{name}` holds (`works from`)")));
    };
    let Some(day) = joint.applied else {
        let missing = "how cold it is when the joints are made (`applied at` of the layer, `at` of the joint)";
        return (!taped.contains(&joint.face)).then(|| Said::Unknown(missing.to_owned()));
    };
    if day < least.value {
        let message = format!(
            "`{name}` goes on at {}; it holds from {} up",
            joints::degrees(context, day),
            joints::degrees(context, least.value)
        );
        let origin = least.origin;
        let finish = move |finding: Finding| {
            let finding = finding.on_principle("the maker's word, as the product declares it", false);
            finding.also(origin, "as the product declares").help("wait, warm the wall, or take one for the cold")
        };
        return Some(Said::Fault(message, Box::new(finish)));
    }
    (joint.primer == Some(true) && day < dries).then(|| {
        let message = format!(
            "the primer under `{name}` goes on at {}; it wants {}",
            joints::degrees(context, day),
            joints::degrees(context, dries)
        );
        let limit = limit.clone();
        Said::Fault(
            message,
            Box::new(move |finding: Finding| finding.against(&limit).help("wait, or warm the surface")),
        )
    })
}
