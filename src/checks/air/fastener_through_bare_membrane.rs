//! Screws of furring through a membrane that nothing backs.

use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Assembly, Furring, Limit};
use crate::units::Length;

/// `fastener.through_bare_membrane`
pub struct FastenerThroughBareMembrane;

static META: RuleMeta = RuleMeta {
    id: "fastener.through_bare_membrane",
    catalogue: "AI-12",
    title: "furring screws go through a membrane into nothing that grips them",
    grade: Grade::S3,
    before: "H4",
    limits: &["sheathing.nail_base"],
    explain: "\
# What it checks
Furring that is fixed into the sheathing and not into studs: either the membrane under it grips the shank (`self_sealing yes`),
or the sheathing is as thick as `sheathing.nail_base`.

# Why
A screw into air or into thin board turns loose in its hole, and air and water follow the shank.

# Example
    fasten screws.structural 6mm x 80mm, into sheathing, every 300mm

# Better
    fasten screws.structural 6mm x 140mm, into studs, every 300mm

# Basis
Common practice: on studs; a self-sealing layer or tape under furring where rain drives.

# Known gaps
Strips that miss the studs they should hit are told by `fastener.misses`.
",
};

impl Rule for FastenerThroughBareMembrane {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (face, area, wall) in walls(context) {
            let loose = |furring: &&Furring| {
                furring.fasten.as_ref().is_some_and(|fasten| matches!(fasten.into, Some("sheathing" | "plane")))
            };
            let Some((gap, furring)) =
                wall.gaps().find_map(|(layer, gap)| Some((layer, gap.furring.iter().find(loose)?)))
            else {
                continue;
            };
            let Some(limit) = context.length_limit(&META, "sheathing.nail_base", report) else { return };
            let subject = format!("{}.{}", area_name(context, face, area), gap.name);
            report.extend(judge(context, wall, furring, limit, subject));
        }
    }
}

fn judge(
    context: &CheckContext<'_>,
    wall: &Assembly,
    furring: &Furring,
    (limit, least): (&Limit, Length),
    subject: String,
) -> Option<Finding> {
    let (plane, membrane) = wall.drainage_plane().filter(|(_, layer)| context.model.is_membrane(&layer.stuff))?;
    let sheathing = context.model.sheathing(wall).filter(|at| *at > plane).and_then(|at| wall.layers.get(at));
    let at = furring.fasten.as_ref().map_or(furring.origin, |fasten| fasten.origin);
    let thick = sheathing.map(|layer| context.model.thickness_of(layer));
    if let Some(Some(thick)) = thick
        && thick >= least
    {
        return None;
    }
    match context.model.product_of(&membrane.stuff).and_then(|product| product.self_sealing) {
        Some(true) => return None,
        Some(false) => {}
        None => {
            let missing = format!("whether `{}` grips the shank of a screw (`self_sealing`)", membrane.name);
            return Some(context.unknown(&META, subject, at, missing));
        }
    }
    let (behind, own) = match (sheathing, thick) {
        (Some(layer), Some(Some(thick))) => (format!("{} of `{}`", context.shown(thick), layer.name), thick),
        (Some(layer), _) => {
            let missing = format!("how thick `{}` is", layer.name);
            return Some(context.unknown(&META, subject, at, missing));
        }
        (None, _) => ("nothing".to_owned(), Length::ZERO),
    };
    let message = format!("furring screws go through `{}` into {behind}: nothing grips them", membrane.name);
    Some(
        context
            .fault(&META, subject, at, message)
            .against(limit)
            .measured(context.measure(own))
            .wanted(context.measure(least))
            .help("set the strips on studs and fix into them, or lay a self-sealing strip under them"),
    )
}
