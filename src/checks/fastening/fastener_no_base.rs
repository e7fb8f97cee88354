//! A fastener in something that does not hold it.

use super::{fastenings, on_wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::stack;
use crate::loads::Fastening;
use crate::model::{LayerKind, Stuff};

/// `fastener.no_base`
pub struct FastenerNoBase;

static META: RuleMeta = RuleMeta {
    id: "fastener.no_base",
    catalogue: "FA-03",
    title: "a fastener goes into something that does not hold it",
    grade: Grade::S1,
    before: "H4",
    limits: &["sheathing.nail_base"],
    explain: "\
# What it checks
What each fastener is said to go into is of a material that counts as a nail base; and sheathing that carries
cladding is as thick as the rule set says.

# Why
Gypsum, foam and fibreboard hold nothing. The cladding hangs until the first storm.

# Example
    layer boards boards.larch 20mm {
        fasten screws.stainless 4.5mm x 50mm, into sheathing     // over gypsum sheathing
    }

# Better
    layer boards boards.larch 20mm {
        fasten screws.stainless 4.5mm x 50mm, into furring
    }

# Basis
NBC 9.27.5.1, public code site: lumber, plywood and strand board of stated thickness; gypsum, foam and
fibreboard are no base.

# Known gaps
Clips and anchors made for weak boards are not known. A frame counts as holding unless its material says no.
",
};

impl Rule for FastenerNoBase {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for fastening in fastenings(context) {
            report.extend(judge(context, &fastening).map(|finding| on_wall(context, &fastening, finding)));
        }
    }
}

fn judge(context: &CheckContext<'_>, fastening: &Fastening<'_>) -> Option<Finding> {
    let into = fastening.fasten.into?;
    let at = fastening.at;
    let unknown = |missing: String| Some(context.unknown(&META, fastening.subject.clone(), at, missing));
    let wall = fastening.wall;
    let layer = wall.layers.get(stack::holds_in(context.model, wall, into)?)?;
    let (stuff, is_frame): (&Stuff, bool) = match &layer.kind {
        LayerKind::Gap(gap) => (&gap.furring.first()?.stuff, false),
        LayerKind::Frame(_) => (&layer.stuff, true),
        LayerKind::Solid | LayerKind::Existing => (&layer.stuff, false),
    };
    let Some(limit) = context.limit("sheathing.nail_base") else {
        return unknown("no rule set in force has a limit `sheathing.nail_base`".to_owned());
    };
    let Some(material) = context.model.material_of(stuff) else {
        return unknown(format!("material of `{}` is not said", layer.name));
    };
    let fault = |message: String| context.fault(&META, fastening.subject.clone(), at, message).against(limit);
    let holds = material.holds_fasteners;
    // Metal holds a screw made for it; a frame is there to hold.
    let holds = holds.or_else(|| (material.kind == "metal" || is_frame).then_some(true));
    match holds {
        Some(false) => {
            let message = format!(
                "the fastener of {} goes into `{}` ({}), which holds none",
                fastening.what, layer.name, material.name
            );
            return Some(
                fault(message)
                    .also(layer.origin, "the layer")
                    .help("fix to the furring or the framing, and move the line of fasteners to it"),
            );
        }
        None => return unknown(format!("whether `{}` holds fasteners is not said (`holds_fasteners`)", material.name)),
        Some(true) => {}
    }
    let sheathing = fastening.is_cladding && matches!(layer.kind, LayerKind::Solid | LayerKind::Existing);
    let thickness = sheathing.then(|| context.model.thickness_of(layer)).flatten()?;
    let least = limit.length().filter(|&least| thickness < least)?;
    let message = format!(
        "{} is fixed to sheathing of {}; {} is wanted",
        fastening.what,
        context.shown(thickness),
        context.shown(least)
    );
    Some(
        fault(message)
            .measured(context.measure(thickness))
            .wanted(context.measure(least))
            .also(layer.origin, "the sheathing")
            .help("fix through to the studs, or to furring"),
    )
}
