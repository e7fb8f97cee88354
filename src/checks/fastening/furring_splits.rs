//! A strip that the screw through it splits.

use super::fastenings;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::loads::{Fastening, length, strip_width};
use crate::model::Furring;

/// `furring.splits`
pub struct FurringSplits;

static META: RuleMeta = RuleMeta {
    id: "furring.splits",
    catalogue: "FA-05",
    title: "a screw splits the strip it goes through",
    grade: Grade::S3,
    before: "H3",
    limits: &["furring.width_diameters", "furring.end_distance"],
    explain: "\
# What it checks
Strips of wood: width against the diameter of the screw that holds them, and the distance of the last screw to the
end of the strip.

# Why
A split strip holds nothing, and an hour later nobody sees it.

# Example
    furring spruce 19mm x 38mm, every 16in on centre, vertical
    fasten  screws.structural 6mm x 140mm, into studs, every 300mm, end_distance 30mm

# Better
    furring spruce 19mm x 64mm, every 16in on centre, vertical
    fasten  screws.structural 6mm x 140mm, into studs, every 300mm, end_distance 75mm

# Basis
A wider strip for big screws: trade article. Eight diameters, and 75 mm or a drilled hole at ends: common practice.

# Known gaps
Drilled holes, self-drilling points and knots are not known. Strips of plywood split less.
",
};

impl Rule for FurringSplits {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for fastening in fastenings(context).iter().filter(|one| one.is_furring) {
            let Some((layer, gap)) = fastening.wall.gap() else { continue };
            let wood = fastening.of.is_none_or(|material| matches!(material.kind, "wood" | "wood_board"));
            if let Some(furring) = gap.furring.first().filter(|_| wood) {
                report.extend(judge(context, fastening, &layer.name, furring));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, one: &Fastening<'_>, gap: &str, furring: &Furring) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, one.subject.clone(), one.at, missing));
    let (narrow, ends) = match (strip_width(context.model, one), length(context.model, "furring.end_distance")) {
        (Ok(narrow), Ok(ends)) => (narrow, ends),
        (Err(missing), _) | (_, Err(missing)) => return unknown(missing),
    };
    let Some(width) = furring.width else {
        return unknown(format!("width of the strips of `{gap}` is not said"));
    };
    let fault = |message: String| context.fault(&META, one.subject.clone(), one.at, message);
    let narrowest = narrow.1;
    if width < narrowest {
        let diameter = one.fasten.diameter.unwrap_or_default();
        let message = format!(
            "a screw of {} splits a strip {} wide; {} is wanted",
            context.shown(diameter),
            context.shown(width),
            context.shown(narrowest)
        );
        return Some(
            fault(message)
                .against(narrow.0)
                .measured(context.measure(width))
                .wanted(context.measure(narrowest))
                .also(furring.origin, "the strips")
                .help("take a wider strip, or a thinner screw"),
        );
    }
    match one.fasten.end_distance {
        None => unknown(format!(
            "how far the last screw stays from the end of a strip of `{gap}` is not said (`end_distance`)"
        )),
        Some(end) if end < ends.1 => Some(
            fault(format!(
                "the last screw stays {} from the end of a strip; {} is wanted",
                context.shown(end),
                context.shown(ends.1)
            ))
            .against(ends.0)
            .measured(context.measure(end))
            .wanted(context.measure(ends.1))
            .help("move it in, or drill the strip before"),
        ),
        Some(_) => None,
    }
}
