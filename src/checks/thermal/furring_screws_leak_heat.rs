//! Screws of the furring that carry much of the heat.

use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::figures::heat::{self, screws};
use crate::model::{Fasten, Limit};
use crate::units::Range;

/// `furring.screws_leak_heat`
pub struct FurringScrewsLeakHeat;

static META: RuleMeta = RuleMeta {
    id: "furring.screws_leak_heat",
    catalogue: "TH-05",
    title: "the screws of the furring carry much of the heat",
    grade: Grade::S4,
    before: "H0",
    limits: &["fastener.heat_loss"],
    explain: "\
# What it checks
What the screws of the furring add to the heat that the wall loses, where they go through insulation outside: no more
than the share the rule set allows.

# Why
Eight long steel screws in every square metre are a radiator. Nobody adds them up.

# Example
    fasten screws.structural 8mm x 240mm, into studs, every 200mm

# Better
    fasten screws.stainless_long 6mm x 240mm, into studs, every 400mm

# Basis
ISO 6946:2017, annex F: α·λ·A·n/d₀·(R₁/R)² with α 0.8, from memory. One study measured 2 to 16 percent. The limit is
common practice.

# Known gaps
The whole shank is counted as steel; a screw's core is thinner. Studs count as their filling. Screws of the cladding that
go through to the studs are not added.
",
};

impl Rule for FurringScrewsLeakHeat {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (face, area, wall) in walls(context) {
            let Some((layer, gap)) = wall.gap() else { continue };
            let subject = format!("{}.{}", area_name(context, face, area), layer.name);
            for furring in &gap.furring {
                let Some(fasten) = &furring.fasten else { continue };
                let through = screws::of_furring(context.model, wall, furring);
                let loss = through.map(|through| heat::share_of_screws(context.model, wall, &through?));
                match loss {
                    Some(Ok(loss)) => report.extend(judge(context, fasten, &subject, loss)),
                    Some(Err(missing)) => report.push(context.unknown(&META, subject.as_str(), fasten.origin, missing)),
                    None => {}
                }
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, fasten: &Fasten, subject: &str, loss: Range) -> Option<Finding> {
    let limit = context.limit("fastener.heat_loss").and_then(|limit: &Limit| Some((limit, limit.number()?)));
    let Some((limit, most)) = limit else {
        return Some(context.unknown(&META, subject, fasten.origin, "a limit `fastener.heat_loss`"));
    };
    if loss.high <= most {
        return None;
    }
    let shown = |share: Range| {
        let (low, high) = (format!("{:.0}", share.low * 100.0), format!("{:.0} %", share.high * 100.0));
        let shown = if high == format!("{low} %") { high } else { format!("{low} to {high}") };
        Measure { value: Some(share.high), shown }
    };
    let name = context.model.product_name(fasten.product);
    if loss.low <= most {
        let (found, wanted) = (shown(loss), shown(most.into()));
        return Some(context.in_part(&META, subject, fasten.origin, (found, wanted)).against(limit));
    }
    let message = format!("`{name}` through the insulation adds {} to the heat the wall loses", shown(loss).shown);
    let finding = context.fault(&META, subject, fasten.origin, message).against(limit);
    Some(finding.measured(shown(loss)).wanted(shown(most.into())).help("take stainless screws, thinner ones, or fewer"))
}
