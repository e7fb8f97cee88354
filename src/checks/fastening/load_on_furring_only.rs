//! Something heavy that hangs on strips.

use crate::checks::pieces::faces;
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::geometry::Point;
use crate::model::{Block, Face, FaceId};
use crate::units::{Dimension, Quantity, display};

/// `load.on_furring_only`
pub struct LoadOnFurringOnly;

static META: RuleMeta = RuleMeta {
    id: "load.on_furring_only",
    catalogue: "FA-08",
    title: "something heavy hangs on the strips alone",
    grade: Grade::S2,
    before: "H4",
    limits: &["load.furring_only"],
    explain: "\
# What it checks
Blocks that are fastened into furring: the weight of all fixtures on one block, with what hangs on them, against
what strips may carry.

# Why
A hose reel, a meter or an awning pulls strips off the wall.

# Example
    block meters at (2000mm, 1200mm) {
        fasten screws.stainless 4.5mm x 60mm, into furring
        meter power 250mm x 350mm at (150mm, 200mm), weight 9kg
    }

# Better
    block meters at (2000mm, 1200mm) {
        fasten screws.stainless_long 6mm x 180mm, into studs
        meter power 250mm x 350mm at (150mm, 200mm), weight 9kg
    }

# Basis
5 kg: common practice; anything heavier, or with a lever, goes to solid blocking on the studs.

# Known gaps
Pulls of hoses and the lever of what stands far out are not counted: count them into the weight. Fixtures without
a block are taken to stand on structure.
",
};

impl Rule for LoadOnFurringOnly {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            for (at, block) in face.blocks.iter().enumerate() {
                if block.fasten.as_ref().and_then(|fasten| fasten.into) == Some("furring") {
                    report.extend(judge(context, id, face, at, block));
                }
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, id: FaceId, face: &Face, at: usize, block: &Block) -> Option<Finding> {
    let subject = format!("{}.{}", face.name, block.name);
    let unknown = |missing: String| Some(context.unknown(&META, subject.clone(), block.origin, missing));
    let carried: Vec<_> = face.services.iter().filter(|one| one.block == Some(at) && !one.capped).collect();
    if carried.is_empty() {
        return None;
    }
    let Some((limit, most)) = context.limit("load.furring_only").and_then(|limit| Some((limit, limit.number()?)))
    else {
        return unknown("no rule set in force has a limit `load.furring_only`".to_owned());
    };
    let known: f64 = carried.iter().filter_map(|one| one.weight).sum();
    if known <= most {
        let unsaid = carried.iter().find(|one| one.weight.is_none())?;
        return unknown(format!("what `{}` weighs is not said (`weight`)", unsaid.name));
    }
    let mass = |value: f64| Measure {
        value: Some(value),
        shown: display::quantity(Quantity { value, dimension: Dimension::MASS }, context.units()),
    };
    let (found, wanted) = (mass(known), mass(most));
    let message =
        format!("`{}` carries {} and hangs on the strips alone; {} at the most", block.name, found.shown, wanted.shown);
    let finding = context
        .fault(&META, subject, block.origin, message)
        .against(limit)
        .measured(found)
        .wanted(wanted)
        .help("set solid blocking between the studs, fill the gap behind the block, and fix it `into studs` or `into structure`");
    let right = Point::new(block.at.x + block.width.unwrap_or_default(), block.at.y);
    Some(context.on_face(finding, id, &block.name, block.at, right))
}
