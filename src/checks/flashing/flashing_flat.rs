//! A ledge that falls to the wall, or too little.

use super::ledges;
use crate::checks::pieces::{Once, Piece, called, pieces};
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::Limit;
use crate::physics::movement;
use crate::units::display;

/// `flashing.flat`
pub struct FlashingFlat;

static META: RuleMeta = RuleMeta {
    id: "flashing.flat",
    catalogue: "DR-16",
    title: "a flashing falls too little to the outside",
    grade: Grade::S1,
    before: "H4",
    limits: &["flashing.slope", "sill.slope", "frame.shrinkage"],
    explain: "\
# What it checks
Every ledge (flashing, cap, apron, sill, coping, pan) must fall to the outside by the slope of the rule set. One
that `shrinks with frame` must still do so when the floors below it have dried and settled.

# Why
Water that stands on a ledge looks for the splice and the screw, and goes in there. A ledge bent at 6 % whose
inner edge rides down with the frame while its outer edge stays ends flat, or worse.

# Example
    part flashing aluminium 0.6mm {
        slope 2%
    }

# Better
    part flashing aluminium 0.6mm {
        slope 6deg
    }

# Basis
NBC 9.27.3.8.(4)(b), public copy: 6 % to the outside after expected shrinkage. Shrinkage: note to the clause,
0.002 of the depth of horizontal wood for one percent of moisture. A pan: the installation standard for windows.

# Known gaps
All floors at or below the ledge count as settling. The ledge is taken to be as deep as the layers it crosses,
plus its drip.
",
};

impl Rule for FlashingFlat {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        let pans = pieces(context).into_iter().filter(|piece| piece.spec.kind == "pan" && piece.lies());
        for piece in ledges(context).into_iter().chain(pans) {
            let finding = judge(context, &piece);
            report.extend(finding.filter(|_| once.first(&piece)).map(|finding| piece.on_wall(context, finding)));
        }
    }
}

fn judge(context: &CheckContext<'_>, piece: &Piece<'_>) -> Option<Finding> {
    let what = called(piece.spec);
    let unknown = |missing: String| Some(context.unknown(&META, piece.name.clone(), piece.spec.origin, missing));
    let name = if piece.spec.kind == "pan" { "sill.slope" } else { "flashing.slope" };
    let Some((limit, wanted)) = context.limit(name).and_then(|limit| Some((limit, limit.slope()?))) else {
        return unknown(format!("no rule set in force has a limit `{name}`"));
    };
    let Some(built) = piece.spec.slope else {
        return unknown(format!("slope of `{what}` is not said"));
    };
    if !piece.spec.shrinks_with_frame {
        return (built < wanted).then(|| too_flat(context, piece, built, limit, wanted));
    }
    match settling(context, piece) {
        Err(missing) => unknown(missing),
        Ok((ledge, drop)) => {
            let left = movement::slope_after(built, ledge, drop)?;
            let start = movement::slope_to_start_with(wanted, ledge, drop)?;
            (left < wanted).then(|| {
                too_flat(context, piece, left, limit, wanted)
                    .help(format!(
                        "the floors below settle by {:.1} mm over a ledge of {:.0} mm: bend it to {}, or free its outer edge \
                         so that it rides down with the frame",
                        drop * 1000.0,
                        ledge * 1000.0,
                        display::slope_percent(start)
                    ))
            })
        }
    }
}

fn too_flat(context: &CheckContext<'_>, piece: &Piece<'_>, slope: f64, limit: &Limit, wanted: f64) -> Finding {
    let shown = display::slope_percent(slope);
    let how = match slope {
        _ if piece.spec.shrinks_with_frame && slope < 0.0 => {
            format!("tilts {} back to the wall when the frame has shrunk", display::slope_percent(-slope))
        }
        _ if piece.spec.shrinks_with_frame => format!("is left with {shown} of fall when the frame has shrunk"),
        slope if slope < 0.0 => format!("falls {} to the wall", display::slope_percent(-slope)),
        0.0 => "is flat".to_owned(),
        _ => format!("falls only {shown} to the outside"),
    };
    let message = format!("`{}` {how}; {} is wanted", called(piece.spec), display::slope_percent(wanted));
    let measure = |value: f64| Measure { value: Some(value), shown: display::slope_percent(value) };
    let finding = context
        .fault(&META, piece.name.clone(), piece.spec.origin, message)
        .against(limit)
        .measured(measure(slope))
        .wanted(measure(wanted))
        .with_defences(piece.defences(context));
    if piece.spec.shrinks_with_frame {
        finding
    } else {
        finding.help(format!("bend it, or pack its inner edge, to `slope {}` or more", display::slope_percent(wanted)))
    }
}

/// Depth of the ledge and how far its inner edge sinks, in metres; the error is the missing fact.
fn settling(context: &CheckContext<'_>, piece: &Piece<'_>) -> Result<(f64, f64), String> {
    let limit = context.limit("frame.shrinkage").and_then(|limit| limit.number());
    let per_percent = limit.ok_or("no rule set in force has a limit `frame.shrinkage`")?;
    let face = context.model.face(piece.face).ok_or("the face is not known")?;
    let height = piece.segment.from.y.max(piece.segment.to.y);
    let below: Vec<_> = face.floor_lines.iter().filter(|line| line.height <= height).collect();
    if below.is_empty() {
        return Err(format!("no `floor_line` of `{}` at or below it says how the frame settles", face.name));
    }
    let mut drop = 0.0;
    for line in below {
        let wood = line.wood.ok_or_else(|| format!("`wood` of floor line `{}` is not said", line.name))?;
        let (from, to) =
            line.moisture.ok_or_else(|| format!("`moisture` of floor line `{}` is not said", line.name))?;
        drop += movement::frame_shrinkage(wood.as_m(), from, to, per_percent);
    }
    let wall = piece.wall(context).ok_or("the wall behind it is not known")?;
    let on = piece.spec.on.ok_or_else(|| format!("what `{}` lies on is not said", called(piece.spec)))?;
    let behind = stack::lies_on(context.model, wall, on).ok_or_else(|| format!("the wall has no {on}"))?;
    let crossed = stack::between(context.model, wall, 0, behind)
        .map_err(|layer| format!("thickness of layer `{}` is not said", layer.name))?;
    let stands_off = piece.spec.drip.and_then(|(_, out)| out).unwrap_or_default();
    let ledge = (crossed + stands_off).as_m();
    if ledge > 0.0 { Ok((ledge, drop)) } else { Err("depth of the ledge cannot be told".to_owned()) }
}
