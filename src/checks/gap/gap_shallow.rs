//! A gap that is too shallow once wrinkles and tapes have taken their share.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Area, Face, Gap, Limit};
use crate::units::Length;

/// `gap.shallow`
pub struct GapShallow;

static META: RuleMeta = RuleMeta {
    id: "gap.shallow",
    catalogue: "DR-14",
    title: "the gap is too shallow",
    grade: Grade::S2,
    before: "H3",
    limits: &["gap.depth", "gap.bulge"],
    explain: "\
# What it checks
The least declared depth of the gap, less its `bulge`, against `gap.depth`. Where no bulge is declared, a gap that keeps the
limit even less `gap.bulge` is clear, and one that breaks it even without is a fault.

# Why
Wrinkled membrane, stacks of tape, screw heads and bulging insulation close a thin gap; water and air then stand still.

# Example
    gap cavity 10mm ventilated, bulge 3mm

# Better
    gap cavity 19mm ventilated, bulge 3mm

# Basis
NBC 9.27.2.2.(1)(a), public copy: 10 mm, full height and width. The bulge of sheet membrane, 3 mm, is common practice.

# Known gaps
A drainage mat in place of furring is judged by its depth alone, not by how open it is.
",
};

impl Rule for GapShallow {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let gaps: Vec<(&Face, &Area, &Gap)> = context
            .model
            .faces
            .iter()
            .flat_map(|face| face.areas.iter().map(move |area| (face, area)))
            .filter_map(|(face, area)| Some((face, area, context.model.assembly(area.assembly)?.gap()?.1)))
            .collect();
        if gaps.is_empty() {
            return;
        }
        let Some((limit, least)) = context.length_limit(&META, "gap.depth", report) else { return };
        let Some((_, usual)) = context.length_limit(&META, "gap.bulge", report) else { return };
        for (face, area, gap) in gaps {
            report.extend(judge(context, (face, area), gap, (limit, least), usual));
        }
    }
}

fn judge(
    context: &CheckContext<'_>,
    (face, area): (&Face, &Area),
    gap: &Gap,
    (limit, least): (&Limit, Length),
    usual: Length,
) -> Option<Finding> {
    let (net, depth) = (gap.net_depth(), gap.depth.0);
    let subject = format!("{}.{}", face.name, area.name);
    if net >= least {
        let told = gap.bulge.is_some() || depth - usual >= least;
        let missing = format!(
            "how much of the {} wrinkles and tapes take: add `bulge` to the gap, {} is usual",
            context.shown(depth),
            context.shown(usual)
        );
        let unknown = || context.unknown(&META, subject, area.origin, missing).also(gap.origin, "the gap");
        return (!told).then(unknown);
    }
    let taken = gap.bulge.map_or_else(String::new, |bulge| {
        format!(": {} less {} for bulges", context.shown(depth), context.shown(bulge))
    });
    let message = format!("the gap of `{}` is {} deep{taken}", area.name, context.shown(net));
    let finding = context
        .fault(&META, subject, area.origin, message)
        .against(limit)
        .measured(context.measure(net))
        .wanted(context.measure(least))
        .also(gap.origin, "the gap")
        .help(format!("deepen the furring by {} or more", context.shown(least - net)));
    let (id, index) = (context.model.face_named(&face.name)?, face.areas.iter().position(|one| one.name == area.name)?);
    let bounds = context.plan.face(id).and_then(|plan| plan.areas.get(index)?.whole.bounds());
    Some(match bounds {
        Some(bounds) => {
            let from = crate::geometry::Point::new(bounds.left, bounds.bottom);
            context.on_face(finding, id, &area.name, from, crate::geometry::Point::new(bounds.right, bounds.top))
        }
        None => finding,
    })
}
