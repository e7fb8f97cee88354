//! A kit that is too heavy for the platform it goes up on.

use super::named;
use crate::checks::{CheckContext, Finding, Grade, Measure, Remedy, Rule, RuleMeta};
use crate::geometry::Point;
use crate::kits::{self, Kit, Verdict};
use crate::model::Section;

/// `section.overloaded`
pub struct SectionOverloaded;

static META: RuleMeta = RuleMeta {
    id: "section.overloaded",
    catalogue: "",
    title: "a section loads the platform with more than it may carry",
    grade: Grade::S1,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
For every section whose platform has a rating (`platform`, of the section or of the crew): the pieces of its kit, the
fasteners, tapes and screens that go with them, the people and their tools weigh no more than that. A kit that goes up
in several loads (`loads`) is judged by the heaviest of them.

# Why
A platform that is loaded past its rating tips, drops or breaks, with people on it.

# Example
    section low on west up to 2700mm {
        platform 250kg
    }

# Better
    section low on west up to 2700mm {
        platform 250kg
        loads 3
    }

# Basis
The rating is the one that is declared. It is indicative: the load chart of the machine itself rules, with its wind
speed, its ground, and where on the platform the load may lie.

# Known gaps
Wind, side pulls and the place of the load on the platform are not judged, nor offcuts and rubbish. Boards are as dry
as the density of their product says: wet ones are heavier.
",
};

impl Rule for SectionOverloaded {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let model = context.model;
        let rated = model.crew.as_ref().is_some_and(|crew| crew.platform.is_some())
            || model.sections.iter().any(|section| section.platform.is_some());
        if model.sections.is_empty() || !rated {
            return;
        }
        let kits = kits::loads(model, context.plan, context.order());
        let mut found: Vec<(usize, Finding)> = Vec::new();
        for kit in &kits {
            let Some((at, section)) = kit.section.and_then(|at| Some((at, model.sections.get(at)?))) else { continue };
            found.extend(judge(context, kit, section).map(|finding| (at, finding)));
        }
        found.sort_by_key(|(at, _)| *at);
        report.extend(found.into_iter().map(|(_, finding)| finding));
    }
}

fn judge(context: &CheckContext<'_>, kit: &Kit, section: &Section) -> Option<Finding> {
    let load = &kit.load;
    let rating = load.rating?;
    let finding = match load.verdict() {
        Verdict::Over(_) => {
            let which = if load.loads > 1 { "the heaviest load of" } else { "the kit of" };
            let people = load.people.map_or("", |_| " with the people on it");
            let message = format!(
                "{which} `{}`{people} weighs {}; the platform may carry {}",
                section.name,
                masses(load.total()),
                masses(rating)
            );
            let room = rating - (load.total() - load.pieces);
            let (advice, remedy) = match fewest(load.kit, room) {
                Some(loads) => (
                    format!("take it up in {loads} loads (`loads {loads}`), or make the section smaller"),
                    Some(Remedy::Loads(loads)),
                ),
                None => ("people and tools alone leave no room: take a platform that carries more".to_owned(), None),
            };
            context
                .fault(&META, named(section), section.origin, message)
                .on_principle("the rating as declared; indicative, the machine's own load chart rules", true)
                .measured(Measure { value: Some(load.total()), shown: masses(load.total()) })
                .wanted(Measure { value: Some(rating), shown: masses(rating) })
                .advise(advice, remedy)
        }
        Verdict::CannotTell(missing) => {
            let words = format!("{}; what is known weighs {}", missing.join(", "), masses(load.total()));
            context
                .unknown(&META, named(section), section.origin, words)
                .help("declare a `crew` with `people`, `tools` and `sundries`, and `weight` or `mass` of each product")
        }
        Verdict::Within(_) | Verdict::NoRating => return None,
    };
    let lane = context.order().lanes.get(kit.lane)?;
    let (from, to) = (Point::new(lane.left, lane.bottom), Point::new(lane.right, lane.top));
    Some(context.on_face(finding, kit.face, &section.name, from, to))
}

/// The fewest loads of a kit that leave each within this room, a little given away because pieces are whole.
fn fewest(kit: f64, room: f64) -> Option<u64> {
    (room > 0.0 && kit > 0.0).then(|| ((kit / (room * 0.95)).ceil() as u64).max(2)).filter(|loads| *loads <= 100)
}

fn masses(kg: f64) -> String {
    format!("{kg:.0} kg ({:.0} lb)", kg / 0.453_592_37)
}
