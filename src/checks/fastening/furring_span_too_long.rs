//! A strip that bends out between its fasteners in the wind.

use super::worst::{pressure, worst_of_faces};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::loads::{Fastening, StripSpan, strip_span, suction};
use crate::model::FaceId;
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
    // What is missing of the site or the face is asked by the rule about wind.
    let wind = suction(context.model, context.plan, id).ok()?;
    let StripSpan { furring, span, longest, width, across, strength: (limit, _), .. } =
        match strip_span(context.model, &wind, one)? {
            Ok(strip) => strip,
            Err(missing) => {
                let finding = context.unknown(&META, one.subject.clone(), one.fasten.origin, missing);
                return Some((f64::INFINITY, finding));
            }
        };
    if span.as_m() <= longest {
        return None;
    }
    let whole = Length::snap_m((longest * 100.0).floor() / 100.0);
    let message = format!(
        "strips of {} x {} span {} between fasteners; {} at the most",
        context.shown(furring.thickness),
        context.shown(width),
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
