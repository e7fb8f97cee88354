//! A flashing that ends short of what it covers.

use super::ledges;
use crate::checks::pieces::{Once, Piece, called};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta, trims};
use crate::model::{Limit, Opening, Where};
use crate::plan::RunPlace;
use crate::units::Length;

/// `flashing.too_short`
pub struct FlashingTooShort;

static META: RuleMeta = RuleMeta {
    id: "flashing.too_short",
    catalogue: "LA-12",
    title: "a flashing ends short of what it covers",
    grade: Grade::S2,
    before: "H4",
    limits: &["flashing.beyond"],
    explain: "\
# What it checks
A flashing that says how far it runs past the trims (`beyond`) runs as far as the rule set wants. A folded trim
laid `along` a head between two places is as long as opening, trims and that length at both ends.

# Why
Water runs off the end of the flashing straight onto the jamb.

# Example
    head {
        part flashing flashings.aluminium_coil, beyond 0mm
    }

# Better
    head {
        part flashing flashings.aluminium_coil, beyond 10mm, end_dams 25mm
    }

# Basis
10 mm past the trim on each side, or an end in dams: common practice.

# Known gaps
It can always tell. A flashing that says nothing is taken to end in dams, and `flashing.no_end_dam` looks for those.
",
};

impl Rule for FlashingTooShort {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for piece in ledges(context) {
            let Some(beyond) = piece.spec.beyond else { continue };
            let Some(limit) = context.length_limit(&META, "flashing.beyond", report) else { return };
            let finding = short(context, &piece, beyond, limit).filter(|_| once.first(&piece));
            report.extend(finding.map(|finding| piece.on_wall(context, finding)));
        }
        let Some(limit) = context.limit("flashing.beyond").and_then(|limit| Some((limit, limit.length()?))) else {
            return;
        };
        report.extend(trims::judge_each(context, |context, laid| along_head(context, laid, limit)));
    }
}

fn short(context: &CheckContext<'_>, piece: &Piece<'_>, beyond: Length, limit: (&Limit, Length)) -> Option<Finding> {
    let (limit, least) = limit;
    if beyond >= least {
        return None;
    }
    let message = format!(
        "`{}` runs {} past what it covers; {} is wanted",
        called(piece.spec),
        context.shown(beyond),
        context.shown(least)
    );
    let finding = context.fault(&META, piece.name.clone(), piece.spec.origin, message).against(limit);
    let finding = finding.measured(context.measure(beyond)).wanted(context.measure(least));
    Some(finding.help(format!("cut it {} longer at each end", context.shown(least - beyond))))
}

/// A folded trim along a head that is shorter than the opening with its trims.
fn along_head(context: &CheckContext<'_>, laid: &trims::Laid<'_>, (limit, least): (&Limit, Length)) -> Option<Finding> {
    let opening = laid.trim.along.strip_suffix(".head").filter(|_| laid.product.kind == "flashing")?;
    let opening: &Opening = context.model.face(laid.face)?.openings.iter().find(|one| one.name == opening)?;
    let trim = opening.trims.map_or(Length::ZERO, |(width, _)| width) + opening.reveal.unwrap_or_default();
    let runs = context.plan.runs.iter().filter(|run| run.face == laid.face && run.kind == "head");
    let head = runs.filter(|run| matches!(run.place, RunPlace::Opening(_))).find(|run| run.origin == opening.origin)?;
    let wanted = head.segment.length() + (trim + least) * 2;
    // Laid along the head without places, its length follows from the opening: only given places can be short.
    let (Some(Where::At(from)), Some(Where::At(to))) = (laid.trim.from, laid.trim.to) else { return None };
    let is = (to - from).abs();
    if is >= wanted {
        return None;
    }
    let message = format!(
        "`{}` is {} long over `{}`; {} is wanted",
        laid.trim.name,
        context.shown(is),
        opening.name,
        context.shown(wanted)
    );
    let finding = context.fault(&META, laid.subject.clone(), laid.trim.origin, message).against(limit);
    Some(finding.measured(context.measure(is)).wanted(context.measure(wanted)))
}
