//! Outlets at the top of the gap into which rain and snow blow.

use crate::checks::pieces::runs;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Face, GapEnd, Limit};
use crate::plan::Run;
use crate::units::Length;

/// `vent.faces_rain`
pub struct VentFacesRain;

static META: RuleMeta = RuleMeta {
    id: "vent.faces_rain",
    catalogue: "VE-07",
    title: "the outlet at the top looks into the rain",
    grade: Grade::S2,
    before: "H6",
    limits: &["outlet.shelter"],
    explain: "\
# What it checks
Each open end of the gap at a top, rake or parapet `faces down` or is `sheltered`. One that `faces out` lies under an eave that
stands out four times as far as the outlet lies below it, or more (`outlet.shelter`). None `faces up`.

# Why
Driven rain and powder snow come in by an outlet that looks at them, and melt in the gap.

# Example
    gap_end open 12mm, screen meshes.insect, faces up

# Better
    gap_end open 12mm, screen meshes.insect, faces sheltered

# Basis
Common practice; the ratio is that of head flashings, OBC 9.27.3.8.(3), read on a public page.

# Known gaps
How far a hood goes up and over is not known: the hold-point sheet asks for 25 mm.
",
};

impl Rule for VentFacesRain {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let open = runs(context).filter(|(run, _)| matches!(run.kind, "top" | "eave" | "rake" | "parapet"));
        let ends: Vec<_> = open.flat_map(|(run, place)| place.gap_ends.iter().map(move |end| (run, end))).collect();
        let ends: Vec<_> = ends.into_iter().filter(|(_, end)| end.open && end.joins == "outside").collect();
        if ends.is_empty() {
            return;
        }
        let Some((limit, most)) = context.number_limit(&META, "outlet.shelter", report) else { return };
        for (run, end) in ends {
            report.extend(judge(context, run, end, (limit, most)));
        }
    }
}

fn judge(context: &CheckContext<'_>, run: &Run, end: &GapEnd, (limit, most): (&Limit, f64)) -> Option<Finding> {
    let face = context.model.face(run.face)?;
    let place = |finding: Finding| context.on_run(finding.also(end.origin, "how the gap ends"), run, run.segment);
    let unknown = |missing: String| Some(place(context.unknown(&META, run.name.as_str(), run.origin, missing)));
    let (way, finding) = match end.faces {
        Some("down" | "sheltered") => return None,
        Some("out") => match sheltered(face, run, most) {
            Shelter::Yes => return None,
            Shelter::No => ("out", "no eave shelters it"),
            Shelter::Short => ("out", "the eave stands out too little to shelter it"),
            Shelter::Unsaid => return unknown(format!("how high the edge of the overhang of `{}` is", face.name)),
        },
        Some(_) => ("up", "rain and snow fall in"),
        None => return unknown(format!("which way the outlet of `{}` `faces`", run.name)),
    };
    let message = format!("the gap of `{}` opens {way} at its top: {finding}", run.name);
    let fault = context.fault(&META, run.name.as_str(), run.origin, message);
    let fault = if way == "out" { fault.against(limit) } else { fault.on_principle("common practice", false) };
    Some(place(fault.help("put it under the soffit or a hood that looks down, 25 mm (1 in) or more up and over")))
}

enum Shelter {
    Yes,
    No,
    Short,
    Unsaid,
}

/// Whether an eave stands out far enough over the outlet.
fn sheltered(face: &Face, run: &Run, most: f64) -> Shelter {
    let Some((out, height)) = face.overhang.filter(|(out, _)| *out > Length::ZERO) else { return Shelter::No };
    let Some(height) = height else { return Shelter::Unsaid };
    let low = run.segment.from.y.min(run.segment.to.y);
    let drop = (height - low).max(Length::ZERO);
    if drop.as_m() <= most * out.as_m() { Shelter::Yes } else { Shelter::Short }
}
