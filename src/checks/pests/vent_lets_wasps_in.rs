//! A slot at the top in which wasps build.

use super::{Hole, openings};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::Limit;
use crate::units::Length;

/// `vent.lets_wasps_in`
pub struct VentLetsWaspsIn;

static META: RuleMeta = RuleMeta {
    id: "vent.lets_wasps_in",
    catalogue: "PE-02",
    title: "wasps build in an opening at the top",
    grade: Grade::S3,
    before: "H6",
    limits: &["wasp.opening", "pest.opening"],
    explain: "\
# What it checks
Openings by which air leaves at the top: a slot that a mouse does not pass but a wasp does has a screen, and the holes of a
screen there are no larger than the rule set says.

# Why
A nest shuts the slot, and the gap behind it no longer breathes.

# Example
    gap_end open 5mm, faces sheltered

# Better
    gap_end open 5mm, screen meshes.insect, faces sheltered

# Basis
Common practice: 3 to 4 mm holes are the usual compromise; a finer mesh clogs sooner. No source. It warns.

# Known gaps
Larger slots without a screen are told by `opening.unscreened`. How soon a mesh clogs is counted in its aged share.
",
};

impl Rule for VentLetsWaspsIn {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let Some(mesh) = context.length_limit(&META, "wasp.opening", report) else { return };
        let Some((_, mouse)) = context.length_limit(&META, "pest.opening", report) else { return };
        for hole in openings(context).iter().filter(|hole| hole.is_outlet) {
            if hole.least.is_some_and(|slot| slot > mesh.1) {
                let finding = judge(context, hole, mesh, mouse);
                report.extend(finding.map(|finding| hole.on_wall(context, finding)));
            }
        }
    }
}

fn judge(
    context: &CheckContext<'_>,
    hole: &Hole<'_>,
    (limit, most): (&Limit, Length),
    mouse: Length,
) -> Option<Finding> {
    let fault = |message: String, found: Length| {
        let finding = context.fault(&META, hole.subject.as_str(), hole.at, message).against(limit);
        Some(finding.measured(context.measure(found)).wanted(context.measure(most)))
    };
    let Some(screen) = hole.screen else {
        // A larger one is told as a door for mice.
        let slot = hole.least.filter(|slot| *slot <= mouse)?;
        let message = format!("`{}` is open {} with no screen: wasps build in it", hole.subject, context.shown(slot));
        return fault(message, slot).map(|finding| finding.help("put a screen in it: `screen meshes.insect`"));
    };
    let name = context.model.product_name(screen);
    let opening = context.model.product(screen).and_then(|screen| screen.opening.as_ref()).map(|opening| opening.value);
    match opening {
        // Larger holes, and holes not said behind a slot for mice, are told there.
        Some(opening) if opening > most && opening <= mouse => {
            let message = format!("the holes of `{name}` are {}: wasps pass them", context.shown(opening));
            fault(message, opening).map(|finding| finding.help("take a mesh of 1.5 to 4 mm; the finest clogs first"))
        }
        Some(_) => None,
        None if hole.least.is_some_and(|slot| slot <= mouse) => {
            let missing = format!("size of the holes of `{name}` (`opening`)");
            Some(context.unknown(&META, hole.subject.as_str(), hole.at, missing))
        }
        None => None,
    }
}
