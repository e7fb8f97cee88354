//! Tape on a surface, or on a day, that it does not hold on.

use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::model::{Layer, Product};
use crate::units::display;

/// `tape.wrong_surface`
pub struct TapeWrongSurface;

static META: RuleMeta = RuleMeta {
    id: "tape.wrong_surface",
    catalogue: "AI-08",
    title: "the tape of a seam does not hold on its surface",
    grade: Grade::S2,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
The tape of every layer with a `seam`: what the layer is of stands among what the tape `bonds to`, or among what it
is `primed to` and the layer says `primer yes`; and the day it goes on (`applied at`) is no colder than the tape
`works from`.

# Why
On a waxy, textured or cold surface tape lets go in the first winter, and the air barrier with it.

# Example
    layer sheathing sheets.osb 11mm, controls air, seam tapes.butyl, applied at -12degC

# Better
    layer sheathing sheets.osb 11mm, controls air, seam tapes.acrylic_cold, applied at -12degC

# Basis
The maker's word, as the product declares it; its source stands in the message.

# Known gaps
Damp and dust are not declared. Tapes and strips of details are not judged, only seams of layers.
",
};

impl Rule for TapeWrongSurface {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (face, area, wall) in walls(context) {
            for layer in &wall.layers {
                let Some(id) = layer.seam else { continue };
                let Some(tape) = context.model.product(id) else { continue };
                let subject = format!("{}.{}", area_name(context, face, area), layer.name);
                let tape = (tape, context.model.product_name(id));
                report
                    .extend(surface(context, layer, &tape, &subject).or_else(|| cold(context, layer, &tape, &subject)));
            }
        }
    }
}

/// What the tape meets: the schema's word for the kind of material.
fn kind_of(context: &CheckContext<'_>, layer: &Layer) -> Option<&'static str> {
    if context.model.is_membrane(&layer.stuff) {
        return Some("membrane");
    }
    context.model.material_of(&layer.stuff).map(|material| material.kind).filter(|kind| !kind.is_empty())
}

fn surface(
    context: &CheckContext<'_>,
    layer: &Layer,
    (tape, name): &(&Product, String),
    subject: &str,
) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, subject, layer.origin, missing));
    let Some(kind) = kind_of(context, layer) else {
        return unknown(format!("what kind of material `{}` is of (`kind`)", layer.name));
    };
    if tape.bonds.is_empty() && tape.primed.is_empty() {
        return unknown(format!("what `{name}` bonds to (`bonds`)"));
    }
    if tape.bonds.contains(&kind) {
        return None;
    }
    let words = kind.replace('_', " ");
    let primed = tape.primed.contains(&kind);
    if primed && layer.primer == Some(true) {
        return None;
    }
    if primed && layer.primer.is_none() {
        return unknown(format!(
            "whether `{}` is primed: `{name}` holds on {words} over primer only (`primer`)",
            layer.name
        ));
    }
    let (message, help) = if primed {
        (
            format!("`{name}` holds on {words} over primer only, and `{}` is not primed", layer.name),
            "prime it: `primer yes`",
        )
    } else {
        (format!("`{name}` does not hold on {words}, of which `{}` is", layer.name), "take a tape that bonds to it")
    };
    let finding = context.fault(&META, subject, layer.origin, message).also(tape.origin, "what the tape bonds to");
    Some(finding.on_principle("the maker's word, as the product declares it", false).help(help))
}

fn cold(
    context: &CheckContext<'_>,
    layer: &Layer,
    (tape, name): &(&Product, String),
    subject: &str,
) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, subject, layer.origin, missing));
    let Some(least) = &tape.works_from else {
        return unknown(format!("the coldest day on which `{name}` holds (`works from`)"));
    };
    let Some(day) = layer.applied else {
        return unknown(format!("how cold it is when the seams of `{}` are taped (`applied at`)", layer.name));
    };
    if day >= least.value {
        return None;
    }
    let shown = |celsius: f64| Measure { value: Some(celsius), shown: display::temperature(celsius, context.units()) };
    let (own, wanted) = (shown(day), shown(least.value));
    let message = format!("`{name}` goes on `{}` at {}; it holds from {} up", layer.name, own.shown, wanted.shown);
    let basis = if least.source.is_empty() { "the maker's word, as the product declares it" } else { &*least.source };
    let finding = context.fault(&META, subject, layer.origin, message).also(least.origin, "as the tape declares");
    Some(
        finding
            .on_principle(basis, false)
            .measured(own)
            .wanted(wanted)
            .help("wait for a warmer day, warm the wall, or take a tape for the cold"),
    )
}
