//! Cut ends of cladding near ground, roofs and decks that are not sealed.

use std::collections::BTreeSet;

use crate::checks::water::base_near_roof::nearest;
use crate::checks::water::low::{self, Foot};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::ground;
use crate::model::{FaceId, Layer, Limit};
use crate::source::Span;
use crate::units::Length;

/// `cladding.ends_raw`
pub struct CladdingEndsRaw;

static META: RuleMeta = RuleMeta {
    id: "cladding.ends_raw",
    catalogue: "FR-09",
    title: "cut ends of cladding near the ground or a roof are raw",
    grade: Grade::S2,
    before: "H5",
    limits: &["ends.near"],
    explain: "\
# What it checks
Cladding that takes up water and ends within `ends.near` of ground, roof or deck: its layer says `ends sealed`.

# Why
End grain and the cut edge of fibre-cement drink what splashes up. It freezes in there, and they come apart.

# Example
    layer boards boards.larch 20mm, controls rain, ends raw

# Better
    layer boards boards.larch 20mm, controls rain, ends sealed

# Basis
Makers require every cut to be primed or sealed, read in a trade article.

# Known gaps
Whether each cut was sealed is seen on the wall. Ends at joints and openings higher up are not asked.
",
};

impl Rule for CladdingEndsRaw {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut feet: Vec<Foot<'_, '_>> = Vec::new();
        for kind in ["base", "roof_line", "deck_line"] {
            feet.extend(low::feet(context, kind));
        }
        feet.retain(|foot| matches!(foot.absorbs, Some("much" | "little")));
        if feet.is_empty() {
            return;
        }
        let Some((limit, near)) = context.length_limit(&META, "ends.near", report) else { return };
        let mut once: BTreeSet<(FaceId, Span)> = BTreeSet::new();
        for foot in &feet {
            let layer = low::assembly(context, foot.run.face, foot.run.area).and_then(low::cladding);
            let Some(layer) = layer.filter(|layer| layer.ends_sealed != Some(true)) else { continue };
            if is_near(foot, near) && once.insert((foot.run.face, layer.origin)) {
                report.push(found(context, foot, layer, (limit, near)));
            }
        }
    }
}

/// Whether the foot of the cladding comes that near to what is below it.
fn is_near(foot: &Foot<'_, '_>, near: Length) -> bool {
    if foot.run.kind != "base" {
        return nearest(foot, near).flatten().is_some();
    }
    let line = ground::ground_line(foot.face);
    !line.is_empty() && !ground::too_near(foot.run.segment, &line, &[], near).is_empty()
}

fn found(context: &CheckContext<'_>, foot: &Foot<'_, '_>, layer: &Layer, (limit, near): (&Limit, Length)) -> Finding {
    let subject = foot.run.name.as_str();
    let finding = if layer.ends_sealed.is_none() {
        let missing = format!("whether the cut ends of `{}` are sealed (`ends sealed`)", layer.name);
        context.unknown(&META, subject, layer.origin, missing)
    } else {
        let message = format!(
            "the cut ends of `{}` are raw, and within {} of what splashes on them at `{}`",
            layer.name,
            context.shown(near),
            foot.run.name
        );
        context
            .fault(&META, subject, layer.origin, message)
            .against(limit)
            .help("prime or seal every cut before it goes up")
    };
    context.on_run(finding.also(foot.run.origin, "used here"), foot.run, foot.run.segment)
}
