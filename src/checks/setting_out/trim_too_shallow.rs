//! A casing or corner that the cladding stands proud of.

use crate::checks::pieces::{Once, Piece, called, pieces};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::stack;
use crate::units::Length;

/// `trim.too_shallow`
pub struct TrimTooShallow;

static META: RuleMeta = RuleMeta {
    id: "trim.too_shallow",
    catalogue: "BL-09",
    title: "a trim does not cover the ends of the cladding",
    grade: Grade::S2,
    before: "H2",
    limits: &["trim.reveal"],
    explain: "\
# What it checks
The `depth` of every trim against which boards end (at heads, jambs, corners and sides) against all layers outboard
of the sheathing, and the reveal of the rule set.

# Why
Cladding that stands proud of its trim shows its end grain to the rain.

# Example
    detail side {
        like details.corner_boards(depth = 45mm)      // over 50 mm of insulation
    }

# Better
    detail side {
        like details.corner_boards(depth = 95mm)      // 50 + 19 + 20, and a reveal of 6 mm
    }

# Basis
A reveal of 3 to 6 mm: common practice.

# Known gaps
Shims are not counted. A trim that lies on the cladding covers it whatever its depth. Trims at tops and rakes,
where boards end below or behind, are left out.
",
};

/// Kinds of run at whose trims boards end.
const ENDS: [&str; 6] = ["head", "jamb", "corner", "left", "right", "side"];

impl Rule for TrimTooShallow {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for piece in pieces(context) {
            let beside = piece.run.is_some_and(|run| ENDS.contains(&run.kind));
            if piece.spec.kind != "trim" || piece.spec.on == Some("cladding") || !beside {
                continue;
            }
            let finding = judge(context, &piece);
            report.extend(finding.filter(|_| once.first(&piece)).map(|finding| piece.on_wall(context, finding)));
        }
    }
}

fn judge(context: &CheckContext<'_>, piece: &Piece<'_>) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, piece.name.clone(), piece.spec.origin, missing));
    let wall = piece.wall(context)?;
    // Without a gap behind the cladding there is nothing to stand out of.
    stack::cladding(wall)?;
    let inner = context.model.sheathing(wall).or_else(|| wall.frame().map(|(frame, _)| frame))?;
    let Some((limit, reveal)) = context.limit("trim.reveal").and_then(|limit| Some((limit, limit.length()?))) else {
        return unknown("no rule set in force has a limit `trim.reveal`".to_owned());
    };
    let what = called(piece.spec);
    let Some(depth) = context.model.product_of(&piece.spec.stuff).and_then(|product| product.depth) else {
        return unknown(format!("depth of `{what}` is not said (`depth` of its product)"));
    };
    let layers = match stack::between(context.model, wall, 0, inner) {
        Ok(layers) => layers,
        Err(layer) => return unknown(format!("thickness of layer `{}` is not said", layer.name)),
    };
    let wanted = layers + reveal;
    if depth >= wanted {
        return None;
    }
    let message = if depth < layers {
        format!("the cladding stands {} proud of `{what}`", context.shown(layers - depth))
    } else if depth == layers {
        format!("the cladding is flush with `{what}`; a reveal of {} is wanted", context.shown(reveal))
    } else {
        let left: Length = depth - layers;
        format!(
            "`{what}` stands only {} proud of the cladding; {} is wanted",
            context.shown(left),
            context.shown(reveal)
        )
    };
    Some(
        context
            .fault(&META, piece.name.clone(), piece.spec.origin, message)
            .against(limit)
            .measured(context.measure(depth))
            .wanted(context.measure(wanted))
            .help(format!("take a trim of `depth {}` or more", context.shown(wanted))),
    )
}
