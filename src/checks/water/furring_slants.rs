//! Furring that slants across the gap.

use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Direction, Gap};

/// `furring.slants`
pub struct FurringSlants;

static META: RuleMeta = RuleMeta {
    id: "furring.slants",
    catalogue: "VE-06",
    title: "slanting furring leads the water aside and leaves dead pockets",
    grade: Grade::S3,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
Strips of furring that run at an angle have upright strips (`counter`) or a drainage mat behind them.

# Why
A slanting strip takes the water of every bay to one side, and the corners above it get no air. It drains only if each strip
falls all the way to an open end.

# Example
    furring furring.spruce 19mm x 64mm, every 12in on centre, diagonal 45deg

# Better
    furring furring.spruce 19mm x 64mm {
        every 12in on centre
        diagonal 45deg
        counter furring.spruce 19mm x 64mm
    }

# Basis
Practitioners, no source: the first layer stands upright.

# Known gaps
It can always tell: a strip that does not say which way it runs is asked for by `furring.dams`.
",
};

impl Rule for FurringSlants {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (face, area, assembly) in walls(context) {
            let Some((layer, gap)) = assembly.gap().filter(|(_, gap)| slants(gap)) else { continue };
            let Some(furring) = gap.furring.iter().find(|one| matches!(one.direction, Some(Direction::Diagonal(_))))
            else {
                continue;
            };
            let subject = format!("{}.{}", area_name(context, face, area), layer.name);
            let message = format!(
                "the strips of `{}` slant across the gap: water runs to one side, and the corners above them stay still",
                furring.stuff.name
            );
            report.push(
                context
                    .fault(&META, subject, furring.origin, message)
                    .on_principle("common practice: the first layer of strips stands upright", false)
                    .help("put upright strips behind them (`counter`), or set them upright"),
            );
        }
    }
}

/// Whether slanting strips lie on the plane itself.
fn slants(gap: &Gap) -> bool {
    let upright = || gap.furring.iter().any(|one| one.direction == Some(Direction::Vertical));
    gap.mat.is_none()
        && !upright()
        && gap.furring.iter().any(|one| matches!(one.direction, Some(Direction::Diagonal(_))) && one.counter.is_none())
}
