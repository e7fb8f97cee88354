//! A ledge that tilts back to the wall as the frame settles.

use crate::checks::flashing::ledges;
use crate::checks::pieces::{Once, Piece, called};
use crate::checks::{CheckContext, Finding, Grade, Remedy, Rule, RuleMeta};
use crate::layout::stack;
use crate::loads::settling;
use crate::physics::movement;
use crate::units::display;

/// `flashing.slope_lost`
pub struct FlashingSlopeLost;

static META: RuleMeta = RuleMeta {
    id: "flashing.slope_lost",
    catalogue: "MO-05",
    title: "a flashing loses its slope when the frame has shrunk",
    grade: Grade::S2,
    before: "H4",
    limits: &["flashing.slope", "frame.shrinkage"],
    explain: "\
# What it checks
Every ledge that `shrinks with frame`, its inner edge riding down while its outer edge stays: slope as bent, less
what the floors below take of it as they dry, against the slope of the rule set.

# Why
A ledge bent at 6 % whose inner edge rides down with the frame while its outer edge stays ends flat, or worse.

# Example
    part flashing aluminium 0.6mm {
        slope   6%
        shrinks with frame
    }

# Better
    part flashing aluminium 0.6mm {
        slope   26%
        shrinks with frame
    }

# Basis
NBC 9.27.3.8.(4)(b), public copy: 6 % to the outside after expected shrinkage. Shrinkage: note to the clause,
0.002 of the depth of horizontal wood for one percent of moisture.

# Known gaps
All floors at or below the ledge count as settling. The ledge is taken to be as deep as the layers it crosses,
plus its drip.
",
};

impl Rule for FlashingSlopeLost {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for piece in ledges(context).into_iter().filter(|piece| piece.spec.shrinks_with_frame) {
            let finding = judge(context, &piece);
            report.extend(finding.filter(|_| once.first(&piece)).map(|finding| piece.on_wall(context, finding)));
        }
    }
}

fn judge(context: &CheckContext<'_>, piece: &Piece<'_>) -> Option<Finding> {
    let what = called(piece.spec);
    let unknown = |missing: String| Some(context.unknown(&META, piece.name.clone(), piece.spec.origin, missing));
    let Some((limit, wanted)) = context.limit("flashing.slope").and_then(|limit| Some((limit, limit.slope()?))) else {
        return unknown("no rule set in force has a limit `flashing.slope`".to_owned());
    };
    // One without a slope, or too flat from the start, is told by `flashing.flat`.
    let built = piece.spec.slope.filter(|built| *built >= wanted)?;
    let (ledge, drop) = match settles(context, piece) {
        Ok(settles) => settles,
        Err(missing) => return unknown(missing),
    };
    let left = movement::slope_after(built, ledge, drop)?;
    let start = movement::slope_to_start_with(wanted, ledge, drop)?;
    if left >= wanted {
        return None;
    }
    let how = if left < 0.0 {
        format!("tilts {} back to the wall when the frame has shrunk", display::slope_percent(-left))
    } else {
        format!("is left with {} of fall when the frame has shrunk", display::slope_percent(left))
    };
    Some(
        context
            .fault(&META, piece.name.clone(), piece.spec.origin, format!("`{what}` {how}; {} is wanted", display::slope_percent(wanted)))
            .against(limit)
            .measured(context.slope_measure(left))
            .wanted(context.slope_measure(wanted))
            .advise(
                format!(
                    "the floors below settle by {:.1} mm over a ledge of {:.0} mm: bend it to {}, or free its outer edge \
                     so that it rides down with the frame",
                    drop * 1000.0,
                    ledge * 1000.0,
                    display::slope_percent(start)
                ),
                Remedy::Slope(start),
            ),
    )
}

/// Depth of the ledge and how far its inner edge sinks, in metres; the error is the missing fact.
fn settles(context: &CheckContext<'_>, piece: &Piece<'_>) -> Result<(f64, f64), String> {
    let face = context.model.face(piece.face).ok_or("the face is not known")?;
    let height = piece.segment.from.y.max(piece.segment.to.y);
    let drop = settling::below(context.model, face, height)?;
    let wall = piece.wall(context).ok_or("the wall behind it is not known")?;
    let on = piece.spec.on.ok_or_else(|| format!("what `{}` lies on is not said", called(piece.spec)))?;
    let behind = stack::lies_on(context.model, wall, on).ok_or_else(|| format!("the wall has no {on}"))?;
    let crossed = stack::between(context.model, wall, 0, behind)
        .map_err(|layer| format!("thickness of layer `{}` is not said", layer.name))?;
    let stands_off = piece.spec.drip.and_then(|(_, out)| out).unwrap_or_default();
    let ledge = (crossed + stands_off).as_m();
    if ledge > 0.0 { Ok((ledge, drop)) } else { Err("depth of the ledge cannot be told".to_owned()) }
}
