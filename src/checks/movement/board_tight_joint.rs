//! Ends of boards that drink, or that have no room to swell.

use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::Layer;
use crate::units::Length;

/// `board.tight_joint`
pub struct BoardTightJoint;

static META: RuleMeta = RuleMeta {
    id: "board.tight_joint",
    catalogue: "MO-10",
    title: "ends of boards are tight or unsealed",
    grade: Grade::S3,
    before: "H5",
    limits: &["joint.gap"],
    explain: "\
# What it checks
Cladding of wood or fibre-cement: cut ends are sealed (`ends sealed`), and where the maker says no gap, a joint is
not laid tight.

# Why
End grain drinks. Tight boards swell, push each other off the wall, and crush their ends.

# Example
    layer boards boards.larch 20mm {
        ends raw
    }

# Better
    layer boards boards.larch 20mm {
        ends sealed
    }

# Basis
Prime the ends, and 1.5 to 3 mm at joints: trade articles. Some makers want moderate contact: the maker's sheet
wins.

# Known gaps
A gap that is smaller than the maker's is told by the rule about heat. Moisture on the day is not known.
",
};

impl Rule for BoardTightJoint {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (face, area, wall) in walls(context) {
            if let Some(layer) = stack::cladding(wall).and_then(|at| wall.layers.get(at)) {
                let subject = format!("{}.{}", area_name(context, face, area), layer.name);
                report.extend(judge(context, &subject, layer));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, subject: &str, layer: &Layer) -> Option<Finding> {
    let kind = context.model.material_of(&layer.stuff).map(|material| material.kind);
    if !matches!(kind, Some("wood" | "wood_board" | "fibre_cement")) {
        return None;
    }
    let unknown = |missing: String| Some(context.unknown(&META, subject, layer.origin, missing));
    let Some((limit, gap)) = context.limit("joint.gap").and_then(|limit| Some((limit, limit.length()?))) else {
        return unknown("no rule set in force has a limit `joint.gap`".to_owned());
    };
    let maker = context.model.product_of(&layer.stuff).and_then(|product| product.joint_gap.as_ref());
    let fault = |message: String| context.fault(&META, subject, layer.origin, message).against(limit);
    if maker.is_none() && layer.joint_gap == Some(Length::ZERO) {
        return Some(
            fault(format!("boards of `{}` are laid tight; {} lets them swell", layer.name, context.shown(gap)))
                .measured(context.measure(Length::ZERO))
                .wanted(context.measure(gap))
                .help(format!("leave {} at joints and ends, or what the maker says", context.shown(gap))),
        );
    }
    match layer.ends_sealed {
        None => unknown(format!("whether cut ends of `{}` are sealed is not said (`ends`)", layer.name)),
        Some(false) => Some(
            fault(format!("cut ends of `{}` are left raw", layer.name))
                .help("prime or oil every cut end before it goes up (`ends sealed`)"),
        ),
        Some(true) => None,
    }
}
