//! Drainage mats that are crushed where the cladding is fastened through them.

use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Assembly, FaceId, Limit};
use crate::units::{Length, display};

/// `mat.crushed`
pub struct MatCrushed;

static META: RuleMeta = RuleMeta {
    id: "mat.crushed",
    catalogue: "VE-12",
    title: "the mat that makes the gap is crushed by its fasteners",
    grade: Grade::S3,
    before: "H3",
    limits: &["mat.installed", "mat.open"],
    explain: "\
# What it checks
A gap that is made by a mat alone: what is left of it where the cladding is fastened through it (`pressed to`) is no less than
`mat.installed`, and no less of it is open than `mat.open`.

# Why
A driven screw crushes a mat. The depth on paper is not the depth on the wall.

# Example
    gap cavity 10mm vented, mat mats.drainage 10mm, pressed to 6mm

# Better
    gap cavity 13mm vented, mat mats.drainage 13mm, pressed to 10mm

# Basis
Decision 1790 of a board of appeal, British Columbia, read in a summary: 9.5 mm and 80 % open as installed was what was argued.

# Known gaps
Where strips make the gap, a mat behind them is not asked for. What is left is as declared; feel it at a fastener.
",
};

impl Rule for MatCrushed {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let made = |(_, _, assembly): &(FaceId, usize, &Assembly)| {
            assembly.gap().is_some_and(|(_, gap)| gap.mat.is_some() && gap.furring.is_empty())
        };
        let found: Vec<_> = walls(context).into_iter().filter(made).collect();
        if found.is_empty() {
            return;
        }
        let Some(depth) = context.length_limit(&META, "mat.installed", report) else { return };
        let Some(open) = context.number_limit(&META, "mat.open", report) else { return };
        report.extend(found.into_iter().filter_map(|wall| judge(context, wall, depth, open)));
    }
}

fn judge(
    context: &CheckContext<'_>,
    (face, area, assembly): (FaceId, usize, &Assembly),
    (limit, least): (&Limit, Length),
    (open_limit, most_closed): (&Limit, f64),
) -> Option<Finding> {
    let (layer, gap) = assembly.gap()?;
    let (stuff, _) = gap.mat.as_ref()?;
    let subject = format!("{}.{}", area_name(context, face, area), layer.name);
    let Some(left) = gap.pressed else {
        let missing = format!("what is left of `{}` under its fasteners (`pressed to`)", stuff.name);
        return Some(context.unknown(&META, subject, gap.origin, missing));
    };
    if left < least {
        let message = format!("of `{}` only {} are left where it is fastened through", stuff.name, context.shown(left));
        let finding = context.fault(&META, subject, gap.origin, message).against(limit);
        let finding = finding.measured(context.measure(left)).wanted(context.measure(least));
        return Some(finding.help("put a spacer at each fastener, or take a deeper mat"));
    }
    let open = context.model.product_of(stuff).and_then(|product| product.open.as_ref())?.value.0;
    if open >= most_closed {
        return None;
    }
    let message = format!("only {} of `{}` is open", display::percent(open), stuff.name);
    let finding = context.fault(&META, subject, gap.origin, message).against(open_limit);
    let measure = |share: f64| crate::checks::Measure { value: Some(share), shown: display::percent(share) };
    Some(finding.measured(measure(open)).wanted(measure(most_closed)).help("take a mat that is more open"))
}
