//! A hollow corner post: a ladder for mice.

use crate::checks::pieces::{Once, called, faces, pieces};
use crate::checks::trims::{Laid, judge_each};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Product, Stuff};

/// `corner_post.hollow`
pub struct CornerPostHollow;

static META: RuleMeta = RuleMeta {
    id: "corner_post.hollow",
    catalogue: "PE-03",
    title: "mice climb the inside of a hollow corner post",
    grade: Grade::S2,
    before: "H4",
    limits: &[],
    explain: "\
# What it checks
A profile at an upright edge whose product is `hollow yes` has a cap or a screen in its detail; one laid as a trim has its
lower end closed (`low_end closed`). A corner product says whether it is hollow.

# Why
Corner posts are a listed way in: the mouse enters at the foot and leaves in the attic.

# Example
    part trim corners.hollow_post

# Better
    part trim corners.hollow_post
    part cap meshes.insect, name foot_screen

# Basis
Public guidance on rodents. No clause; it warns.

# Known gaps
Whether the cap drains is not asked.
",
};

impl Rule for CornerPostHollow {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for piece in pieces(context) {
            let Some(run) = piece.run.filter(|run| run.segment.is_vertical() && piece.spec.kind == "trim") else {
                continue;
            };
            let capped = context.plan.parts_of(run).any(|part| matches!(part.spec.kind, "cap" | "screen" | "closure"));
            let Some(product) = context.model.product_of(&piece.spec.stuff).filter(|_| !capped) else { continue };
            let finding =
                judge(context, product, (&piece.name, &piece.spec.stuff, called(piece.spec)), piece.spec.origin);
            report.extend(finding.filter(|_| once.first(&piece)).map(|finding| piece.on_wall(context, finding)));
        }
        if faces(context.model).any(|(_, face)| !face.trims.is_empty()) {
            report.extend(judge_each(context, laid));
        }
    }
}

fn laid(context: &CheckContext<'_>, laid: &Laid<'_>) -> Option<Finding> {
    if !laid.line.is_vertical() || laid.trim.low_end == Some("closed") {
        return None;
    }
    let stuff = Stuff { name: laid.product.name.clone(), ..Stuff::default() };
    judge(context, laid.product, (&laid.subject, &stuff, &laid.trim.name), laid.trim.origin)
}

fn judge(
    context: &CheckContext<'_>,
    product: &Product,
    (subject, stuff, name): (&str, &Stuff, &str),
    at: crate::source::Span,
) -> Option<Finding> {
    match product.hollow {
        Some(false) => None,
        None if product.kind != "corner" => None,
        None => Some(context.unknown(&META, subject, at, format!("whether `{}` is hollow (`hollow`)", stuff.name))),
        Some(true) => {
            let message = format!("`{name}` is hollow and open at its foot: mice climb it");
            let finding = context.fault(&META, subject, at, message).on_principle("public guidance on rodents", false);
            Some(finding.help("close its foot with a screened cap that drains, or take boards"))
        }
    }
}
