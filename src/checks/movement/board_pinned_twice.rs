//! Wide boards held by two rows, which dry and split between them.

use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::Layer;

/// `board.pinned_twice`
pub struct BoardPinnedTwice;

static META: RuleMeta = RuleMeta {
    id: "board.pinned_twice",
    catalogue: "MO-07",
    title: "wide boards are pinned by two rows of fasteners",
    grade: Grade::S3,
    before: "H5",
    limits: &["board.one_row"],
    explain: "\
# What it checks
Cladding of solid wood boards: those wider than the rule set says have one row of fasteners, not two.

# Why
A board of 180 mm shrinks by five millimetres as it dries. Two rows hold it at full width, and it splits between.

# Example
    layer boards boards.larch 20mm {
        fasten screws.stainless 4.5mm x 50mm, into furring, rows 2
    }

# Better
    layer boards boards.larch 20mm {
        fasten screws.stainless 4.5mm x 50mm, into furring, rows 1
    }

# Basis
One row, or clips, for boards over about 150 mm: common practice.

# Known gaps
A row that is said by nobody counts as one, as in the take-off. Slots and clips are not known.
",
};

impl Rule for BoardPinnedTwice {
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
    let fasten = layer.fasten.as_ref().filter(|fasten| fasten.rows.is_some_and(|rows| rows > 1))?;
    let product = context.model.product_of(&layer.stuff);
    if product.is_some_and(|product| product.kind != "board") {
        return None;
    }
    let unknown = |missing: String| Some(context.unknown(&META, subject, fasten.origin, missing));
    let Some(material) = context.model.material_of(&layer.stuff) else {
        return unknown(format!("material of `{}` is not said", layer.name));
    };
    if material.kind != "wood" {
        return None;
    }
    let Some((limit, most)) = context.limit("board.one_row").and_then(|limit| Some((limit, limit.length()?))) else {
        return unknown("no rule set in force has a limit `board.one_row`".to_owned());
    };
    let width = product.and_then(|product| product.size.get(1).copied().or(product.width));
    let Some(width) = width else {
        return unknown(format!("width of the boards of `{}` is not said (`size`)", layer.name));
    };
    (width > most).then(|| {
        let rows = fasten.rows.unwrap_or_default();
        let message = format!(
            "boards {} wide are pinned by {rows} rows; over {} one row lets them shrink",
            context.shown(width),
            context.shown(most)
        );
        context
            .fault(&META, subject, fasten.origin, message)
            .against(limit)
            .measured(context.measure(width))
            .wanted(context.measure(most))
            .help("drop the upper row and let the next board hold the edge, or take narrower boards")
    })
}
