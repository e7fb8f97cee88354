//! A section with work that hands do not reach from where they stand.

use super::{named, stops};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::Stop;
use crate::geometry::Point;
use crate::layout::ground;
use crate::model::{Face, Section};
use crate::units::Length;

/// `section.out_of_reach`
pub struct SectionOutOfReach;

static META: RuleMeta = RuleMeta {
    id: "section.out_of_reach",
    catalogue: "BL-10",
    title: "part of a section is out of reach",
    grade: Grade::S3,
    before: "H5",
    limits: &["reach.platform", "reach.below"],
    explain: "\
# What it checks
Every height of a section is in reach of hands: from the ground, or from one of the settings of its platform
(`deck`), up to the height of the shoulder (or what `reach` says) and a little below the deck. A section no higher
than that reach needs no `deck`: one setting at its foot does it.

# Why
What is done over the head, or from a ladder beside the lift, is done badly: nails are not flush, gaps are
guessed.

# Example
    section low on west up to 2700mm {
        deck 600mm
        reach 1500mm
    }

# Better
    section low on west up to 2700mm {
        deck 600mm
        deck 1500mm
        reach 1500mm
    }

# Basis
Common practice: the shoulder is about 1.5 m above the deck.

# Known gaps
Reach to the side is not judged, nor what stands in the way of the platform. The ground is taken at its lowest
place in the lane, as it is now.
",
};

impl Rule for SectionOutOfReach {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        if context.order().stops.is_empty() {
            return;
        }
        let Some((limit, usual)) = context.length_limit(&META, "reach.platform", report) else { return };
        let Some((_, below)) = context.length_limit(&META, "reach.below", report) else { return };
        for (stop, section) in stops(context) {
            let Some(face) = context.model.face(stop.face) else { continue };
            let reach = section.reach.unwrap_or(usual);
            let Some((bottom, top)) = extent(context, stop) else { continue };
            let stands = stands(face, stop, section);
            let (reached, next) = reached((bottom, top), &stands, reach, below);
            if reached >= top || (section.decks.is_empty() && top - bottom <= reach) {
                continue;
            }
            let finding = if section.decks.is_empty() {
                let missing = format!(
                    "heights of the platform of `{}` are not said (`deck`), and {} is more than hands reach from one",
                    section.name,
                    context.shown(top - bottom)
                );
                context.unknown(&META, named(section), section.origin, missing)
            } else {
                fault(context, section, (reached, next.unwrap_or(top)), reach).against(limit)
            };
            let (from, to) = (Point::new(stop.line.from.x, reached), Point::new(stop.line.to.x, next.unwrap_or(top)));
            report.push(context.on_face(finding, stop.face, &section.name, from, to));
        }
    }
}

/// The lowest and highest place of the wall in a section.
fn extent(context: &CheckContext<'_>, stop: &Stop) -> Option<(Length, Length)> {
    let outline = &context.plan.face(stop.face)?.outline;
    let lane = outline.clip_x(stop.line.from.x, stop.line.to.x).clip_y(stop.bottom, stop.line.from.y);
    lane.bounds().map(|bounds| (bounds.bottom, bounds.top))
}

/// Heights on which people stand, lowest first: the ground, and each setting of the platform.
fn stands(face: &Face, stop: &Stop, section: &Section) -> Vec<Length> {
    let (left, right) = (stop.line.from.x, stop.line.to.x);
    let line = ground::ground_line(face);
    let inside = line.iter().filter(|point| left <= point.x && point.x <= right).map(|point| point.y);
    let ends = [left, right].into_iter().filter_map(|x| ground::height(&line, x));
    let ground = inside.chain(ends).min();
    let mut stands: Vec<Length> = ground.into_iter().chain(section.decks.iter().copied()).collect();
    stands.sort_unstable();
    stands
}

/// How high hands get from below without a break, and where the next reach begins if there is one.
fn reached(
    (bottom, top): (Length, Length),
    stands: &[Length],
    reach: Length,
    below: Length,
) -> (Length, Option<Length>) {
    let mut reached = bottom;
    for &stand in stands {
        if stand - below > reached {
            return (reached, Some((stand - below).min(top)));
        }
        reached = reached.max(stand + reach);
    }
    (reached, None)
}

fn fault(context: &CheckContext<'_>, section: &Section, (low, high): (Length, Length), reach: Length) -> Finding {
    let message = format!(
        "nobody reaches `{}` from {} to {} above the datum: hands reach {} above the deck",
        section.name,
        context.shown(low),
        context.shown(high),
        context.shown(reach)
    );
    context
        .fault(&META, named(section), section.origin, message)
        .measured(context.measure(high - low))
        .help(format!("set the platform once more at {}, or move this work to the next lift", context.shown(low)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reach_runs_on_from_stand_to_stand() {
        let mm = Length::mm;
        let up = |stands: &[Length]| reached((mm(0), mm(2700)), stands, mm(1500), mm(300));
        assert_eq!(up(&[mm(-200), mm(1200)]), (mm(2700), None));
        assert_eq!(up(&[mm(-200)]), (mm(1300), None));
        assert_eq!(up(&[mm(-200), mm(1900)]), (mm(1300), Some(mm(1600))));
        assert_eq!(up(&[mm(200)]).0, mm(1700));
        assert_eq!(up(&[]), (mm(0), None));
    }
}
