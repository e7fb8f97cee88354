//! A fastener that does not reach far enough into what should hold it.

use super::{fastenings, on_wall};
use crate::checks::{CheckContext, Finding, Grade, Remedy, Rule, RuleMeta};
use crate::loads::{Fastening, reach, reach_from};

/// `fastener.too_short`
pub struct FastenerTooShort;

static META: RuleMeta = RuleMeta {
    id: "fastener.too_short",
    catalogue: "FA-02",
    title: "a fastener is too short for what it passes",
    grade: Grade::S1,
    before: "H4",
    limits: &[
        "fastener.penetration",
        "fastener.penetration_shingle",
        "furring_screw.penetration",
        "fastener.past_steel",
    ],
    explain: "\
# What it checks
Length of the fastener, less what it holds and every layer it passes, against the depth it must go into furring,
studs or sheathing. Going right through a strip or a nail base is enough. Furring screws through insulation have
their own depth.

# Why
The gap was made deeper, or insulation was added, and the screw stayed the same. It holds in nothing.

# Example
    gap cavity 38mm ventilated {
        furring spruce 38mm x 64mm, every 16in on centre, vertical
        fasten  screws.structural 6mm x 80mm, into studs
    }

# Better
    gap cavity 38mm ventilated {
        furring spruce 38mm x 64mm, every 16in on centre, vertical
        fasten  screws.structural 6mm x 140mm, into studs
    }

# Basis
NBC 9.27.5.7, public code site: through the nail base, or 25 mm into framing; shingles 19 mm. 9.24.1: 10 mm past
steel. Furring screws: 38 mm into the stud, trade article.

# Known gaps
Heads are taken to lie flush. Wrinkles, shims and points of screws are not taken off.
",
};

impl Rule for FastenerTooShort {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for fastening in fastenings(context) {
            report.extend(judge(context, &fastening).map(|finding| on_wall(context, &fastening, finding)));
        }
    }
}

fn judge(context: &CheckContext<'_>, fastening: &Fastening<'_>) -> Option<Finding> {
    let fasten = fastening.fasten;
    // What it holds in at all is told by `fasten.missing`.
    let into = fasten.into?;
    let unknown = |missing: String| Some(context.unknown(&META, fastening.subject.clone(), fastening.at, missing));
    let Some(length) = fasten.length else {
        return unknown(format!("length of the fastener of {} is not said", fastening.what));
    };
    let reach = match reach(context.model, fastening, into) {
        Ok(Some(reach)) => reach,
        Ok(None) => return None,
        Err(missing) => return unknown(missing),
    };
    let holds = reach.bite(length);
    if holds >= reach.wanted {
        // Long enough on the innermost surface it can lie on: on the outermost too?
        let far = fastening.or_behind.map(|behind| reach_from(context.model, fastening, into, behind));
        return match far {
            Some(Ok(Some(far))) if length < far.passes + far.wanted => {
                unknown(format!("what {} lies on is not said (`on …`)", fastening.what))
            }
            _ => None,
        };
    }
    let needed = reach.passes + reach.wanted;
    let name = context.model.product_name(fasten.product);
    let message = format!(
        "`{name}` of {} goes {} into the {into}; {} is wanted",
        context.shown(length),
        context.shown(holds),
        context.shown(reach.wanted)
    );
    let lengths = context.model.product(fasten.product).map_or(&[][..], |product| &product.lengths);
    let (advice, remedy) = match lengths.iter().filter(|&&length| length >= needed).min() {
        Some(&next) => {
            let passes = context.shown(reach.passes);
            let advice = format!("take the {} one: {passes} is passed on the way", context.shown(next));
            (advice, Some(Remedy::FastenerLength(next)))
        }
        None => {
            let needed = context.shown(needed);
            (format!("`{name}` is not sold long enough: {needed} is needed; take another fastener"), None)
        }
    };
    let finding = context
        .fault(&META, fastening.subject.clone(), fastening.at, message)
        .against(reach.limit)
        .measured(context.measure(holds))
        .wanted(context.measure(reach.wanted));
    Some(finding.advise(advice, remedy))
}
