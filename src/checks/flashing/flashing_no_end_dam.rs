//! A flashing whose ends let its water into the gap or the jamb.

use super::ledges;
use crate::checks::pieces::{Once, Piece, called};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::Limit;
use crate::units::Length;

/// `flashing.no_end_dam`
pub struct FlashingNoEndDam;

static META: RuleMeta = RuleMeta {
    id: "flashing.no_end_dam",
    catalogue: "DR-18",
    title: "a flashing ends without a dam",
    grade: Grade::S1,
    before: "H4",
    limits: &["end_dam.height", "end_dam.per_pressure"],
    explain: "\
# What it checks
Ledges over openings, between claddings, at bases, blocks and vents turn up at both ends, as high as the rule
set says: the more of a fixed height and a tenth of the driving-rain pressure, in mm for Pa.

# Why
Water that runs along a ledge leaves it at the end. Without a dam it leaves into the jamb or behind the
cladding.

# Example
    part flashing aluminium 0.6mm {
        slope 6deg
    }

# Better
    part flashing aluminium 0.6mm {
        slope    6deg
        end_dams 25mm
    }

# Basis
NBC 9.27.3.8.(4)(c): that a dam is required was read, its height is from memory. 22 to 25 mm is the habit on
site.

# Known gaps
A flashing that laps another flashing of its detail, and a coping, are taken to go on. Ends at corners are not
told apart.
",
};

impl Rule for FlashingNoEndDam {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for piece in ledges(context) {
            let goes_on = piece.spec.kind == "coping" || piece.spec.kind == "sill";
            let laps = piece.spec.laps.iter().any(|lap| matches!(lap.what, "flashing" | "pan"));
            let finding = if goes_on || laps { None } else { judge(context, &piece) };
            report.extend(finding.filter(|_| once.first(&piece)).map(|finding| piece.on_wall(context, finding)));
        }
    }
}

fn judge(context: &CheckContext<'_>, piece: &Piece<'_>) -> Option<Finding> {
    let what = called(piece.spec);
    let unknown = |missing: String| Some(context.unknown(&META, piece.name.clone(), piece.spec.origin, missing));
    let Some((limit, least)) = context.limit("end_dam.height").and_then(|limit| Some((limit, limit.length()?))) else {
        return unknown("no rule set in force has a limit `end_dam.height`".to_owned());
    };
    let built = piece.spec.end_dams.unwrap_or(Length::ZERO);
    if built < least {
        return Some(too_low(context, piece, built, limit, least));
    }
    // Above the fixed height the pressure may ask for more; without that part of the limit it does not.
    let by_pressure = context.limit("end_dam.per_pressure")?;
    let share = by_pressure.number()?;
    let site = context.model.site.as_ref();
    let own = site.and_then(|site| site.driving_rain);
    let Some(pressure) = own.or_else(|| site?.climate.as_ref()?.driving_rain) else {
        return unknown(format!(
            "driving-rain pressure of the site is not said; `{what}` has dams of {}",
            context.shown(built)
        ));
    };
    let asked = Length::snap_m(share * pressure);
    (built < asked).then(|| {
        too_low(context, piece, built, by_pressure, asked)
            .help(format!("driving rain of {pressure:.0} Pa asks for more here"))
    })
}

fn too_low(context: &CheckContext<'_>, piece: &Piece<'_>, built: Length, limit: &Limit, wanted: Length) -> Finding {
    let what = called(piece.spec);
    let message = if built == Length::ZERO {
        format!("the ends of `{what}` have no dams")
    } else {
        format!("the end dams of `{what}` are {} high; {} is wanted", context.shown(built), context.shown(wanted))
    };
    context
        .fault(&META, piece.name.clone(), piece.spec.origin, message)
        .against(limit)
        .measured(context.measure(built))
        .wanted(context.measure(wanted))
        .help(format!("fold dams of {} at both ends, and notch the trim or cladding over them", context.shown(wanted)))
}
