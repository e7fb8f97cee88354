//! A strip whose upper edge faces the water and is held by adhesive alone.

use crate::checks::pieces::{Once, Piece, called, pieces, rigid};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::Lap;

/// `lap.held_by_adhesive`
pub struct LapHeldByAdhesive;

static META: RuleMeta = RuleMeta {
    id: "lap.held_by_adhesive",
    catalogue: "AI-09",
    title: "the upper edge of a strip faces the water and is held by adhesive alone",
    grade: Grade::S2,
    before: "H3",
    limits: &["head_flashing.tape_lap"],
    explain: "\
# What it checks
Sheets and tapes of details that lie across the wall and carry water, and that lap over the drainage plane above them instead
of under it. At heads, a lap of `head_flashing.tape_lap` is taken where a rule set in force has that limit.

# Why
A reversed lap is saved by its tape until the tape lets go. Then every drop on the plane runs in behind the strip.

# Example
    part flap membranes.self_adhered, laps over water by 75mm, controls water and air

# Better
    part flap membranes.self_adhered, laps under water by 75mm, controls water and air

# Basis
Common practice; a board of appeal in British Columbia (1965) took a taped head flashing.

# Known gaps
Rigid flashings are told by `head.flashing_over_membrane` and `membrane.behind_base_flashing`, sheets of layers by
`membrane.reversed_lap`.
",
};

impl Rule for LapHeldByAdhesive {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for piece in pieces(context) {
            let finding = judge(context, &piece).filter(|_| once.first(&piece));
            report.extend(finding.map(|finding| piece.on_wall(context, finding)));
        }
    }
}

/// Places where water runs down onto the upper edge of a strip that lies there.
const BELOW_A_WALL: [&str; 7] = ["base", "step", "head", "transition", "deck_line", "roof_line", "floor_line"];

fn judge(context: &CheckContext<'_>, piece: &Piece<'_>) -> Option<Finding> {
    let kind = piece.run.map_or("floor_line", |run| run.kind);
    let spec = piece.spec;
    let plane = |lap: &&Lap| matches!(lap.what, "water" | "membrane" | "upper" | "air");
    let reversed = spec.laps.iter().filter(plane).find(|lap| !lap.under)?;
    let asked =
        BELOW_A_WALL.contains(&kind) && piece.lies() && spec.controls.water && !rigid(context.model, &spec.stuff);
    if !asked || spec.laps.iter().filter(plane).any(|lap| lap.under) {
        return None;
    }
    let name = called(spec);
    if kind == "head"
        && let Some(limit) = context.limit("head_flashing.tape_lap")
        && let Some(least) = limit.length()
    {
        let Some(by) = reversed.by else {
            let missing = format!("how far `{name}` laps over the plane (`laps over water by …`)");
            return Some(context.unknown(&META, piece.name.as_str(), spec.origin, missing));
        };
        return (by < least).then(|| {
            let message =
                format!("`{name}` is stuck to the plane by {}; {} is wanted", context.shown(by), context.shown(least));
            let finding = context.fault(&META, piece.name.as_str(), spec.origin, message).against(limit);
            finding.measured(context.measure(by)).wanted(context.measure(least)).help("lap it under the membrane above")
        });
    }
    let message = format!("`{name}` laps over the plane above it: adhesive alone keeps the water out");
    let finding = context.fault(&META, piece.name.as_str(), spec.origin, message);
    Some(
        finding
            .on_principle("common practice: laps shed by gravity, tape is the second line", false)
            .help("cut a slit in the membrane above, tuck the strip in, and tape the slit: `laps under water by …`"),
    )
}
