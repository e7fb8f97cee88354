//! A strip that bends out between its fasteners in the wind.

use super::Fastening;
use super::loads::{between_strips, number, pressure, suction, worst_of_faces};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Direction, FaceId};
use crate::physics::fastening;
use crate::units::Length;

/// `furring.span_too_long`
pub struct FurringSpanTooLong;

static META: RuleMeta = RuleMeta {
    id: "furring.span_too_long",
    catalogue: "",
    title: "strips span too far between their fasteners",
    grade: Grade::S2,
    before: "H3",
    limits: &["furring.stress", "furring.modulus", "furring.deflection_share"],
    explain: "\
# What it checks
Strips of wood as beams over many fasteners, pulled outward by the wind of the corner zone: stress and deflection
between two fasteners against the limits. Indicative: an engineer confirms.

# Why
Between far-apart screws a strip bows out in every gust, and the cladding works loose from it.

# Example
    furring spruce 19mm x 64mm, every 24in on centre, vertical
    fasten  screws.structural 6mm x 140mm, into studs, every 1200mm

# Better
    furring spruce 19mm x 64mm, every 24in on centre, vertical
    fasten  screws.structural 6mm x 140mm, into studs, every 400mm

# Basis
Even load on a continuous beam: wl²/10 and wl⁴/145EI, textbook. Strength and stiffness of strips: common practice.

# Known gaps
Knots, joints in strips and fasteners that give are not counted. Strips of metal are not judged.
",
};

impl Rule for FurringSpanTooLong {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        report.extend(worst_of_faces(context, judge));
    }
}

fn judge(context: &CheckContext<'_>, id: FaceId, one: &Fastening<'_>) -> Option<(f64, Finding)> {
    let wood = one.of.is_some_and(|material| matches!(material.kind, "wood" | "wood_board"));
    if !one.is_furring || !wood {
        return None;
    }
    let furring = one.wall.gap()?.1.furring.first()?;
    let unknown = |missing: String| {
        Some((f64::INFINITY, context.unknown(&META, one.subject.clone(), one.fasten.origin, missing)))
    };
    // What is missing of the site or the face is asked by the rule about wind.
    let wind = suction(context, id).ok()?;
    let numbers = ["furring.stress", "furring.modulus", "furring.deflection_share"].map(|name| number(context, name));
    let [Ok((limit, stress)), Ok((_, modulus)), Ok((_, share))] = numbers else {
        return unknown(numbers.into_iter().find_map(Result::err).unwrap_or_default());
    };
    let lying = furring.direction == Some(Direction::Horizontal);
    let studs = one.wall.frame().and_then(|(_, frame)| frame.spacing).filter(|_| lying);
    let Some(span) = one.fasten.spacing.or(studs) else {
        return unknown(format!("spacing of the fasteners of {} is not said (`every`)", one.what));
    };
    let (Some(width), Some(across)) = (furring.width, between_strips(furring)) else {
        return unknown(format!("width or spacing of {} is not said", one.what));
    };
    let load = wind.corner * across.as_m();
    let (width, thickness) = (width.as_m(), furring.thickness.as_m());
    let longest = fastening::longest_span(load, width, thickness, modulus, stress, share);
    if span.as_m() <= longest {
        return None;
    }
    let whole = Length::snap_m((longest * 100.0).floor() / 100.0);
    let message = format!(
        "strips of {} x {} span {} between fasteners; {} at the most",
        context.shown(furring.thickness),
        context.shown(Length::snap_m(width)),
        context.shown(span),
        context.shown(whole)
    );
    let finding = context
        .fault(&META, one.subject.clone(), one.fasten.origin, message)
        .against(limit)
        .measured(context.measure(span))
        .wanted(context.measure(whole))
        .also(furring.origin, "the strips")
        .help(format!(
            "{} of suction on strips {} apart (indicative, an engineer confirms)",
            pressure(context, wind.corner),
            context.shown(across)
        ))
        .help(format!("fix them every {} or closer, or take thicker strips", context.shown(whole)));
    Some((span.as_m() / longest.max(1e-9), finding))
}
