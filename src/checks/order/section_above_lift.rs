//! A platform that is to stand higher than the machine goes.

use super::named;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Point;

/// `section.above_lift`
pub struct SectionAboveLift;

static META: RuleMeta = RuleMeta {
    id: "section.above_lift",
    catalogue: "",
    title: "the platform is to stand higher than the machine goes",
    grade: Grade::S2,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
No `deck` of a section is higher above the datum than the platform of the crew goes (`lift`). It can always tell; it asks
nothing where the crew does not say how high its platform goes.

# Why
The last courses of a gable are then done from a ladder on the platform, which is how people fall.

# Example
    crew us, lift 6000mm
    section gable on north, deck 6400mm

# Better
    crew us, lift 6000mm
    section gable on north, deck 5900mm

# Basis
The height as declared; the machine's own chart rules.

# Known gaps
Heights are above the datum of the house. Ground that lies lower takes as much off the reach of the machine.
",
};

impl Rule for SectionAboveLift {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let Some((crew, lift)) = context.model.crew.as_ref().and_then(|crew| Some((crew, crew.lift?))) else { return };
        for section in &context.model.sections {
            let Some(&deck) = section.decks.iter().max().filter(|deck| **deck > lift) else { continue };
            let message = format!(
                "a deck of `{}` is at {}; the platform goes to {}",
                section.name,
                context.shown(deck),
                context.shown(lift)
            );
            let finding = context
                .fault(&META, named(section), section.origin, message)
                .on_principle("the height as declared; the machine's own chart rules", false)
                .measured(context.measure(deck))
                .wanted(context.measure(lift))
                .help(
                    "lower the deck, take a machine that goes higher, or do this part from a scaffold (`out_of_reach`)",
                )
                .also(crew.origin, "said of the crew");
            let lane = context.order().lanes.iter().find(|lane| {
                lane.section.and_then(|at| context.model.sections.get(at)).is_some_and(|of| of.name == section.name)
            });
            report.push(match lane {
                Some(lane) => {
                    let (from, to) = (Point::new(lane.left, deck.min(lane.top)), Point::new(lane.right, lane.top));
                    context.on_face(finding, lane.face, &section.name, from, to)
                }
                None => finding,
            });
        }
    }
}
