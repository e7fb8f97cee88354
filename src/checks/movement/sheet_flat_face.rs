//! A flat face of thin metal that ripples in low sun.

use crate::checks::pieces::{Once, area_name, called, pieces, walls};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::stack;
use crate::source::Span;
use crate::units::Length;

/// `sheet.flat_face`
pub struct SheetFlatFace;

static META: RuleMeta = RuleMeta {
    id: "sheet.flat_face",
    catalogue: "MO-08",
    title: "a wide flat face of metal ripples in low sun",
    grade: Grade::S4,
    before: "H5",
    limits: &["sheet.flat_width", "sheet.flat_length"],
    explain: "\
# What it checks
Panels of metal, and metal parts of details: those both wider and longer than the rule set says have ribs or a
folded edge. An observation: nothing leaks.

# Why
Thin flat metal ripples (oil-canning); owners see it in low sun and complain. A thicker sheet helps little.

# Example
    product flat panel of std.materials.aluminium {
        sheet  600mm x 3050mm
        ribbed no
    }

# Better
    product ribbed panel of std.materials.aluminium {
        sheet  600mm x 3050mm
        ribbed yes
    }

# Basis
About 250 mm and 2.4 m: trade article.

# Known gaps
Thickness, finish and the number of fasteners are not weighed. Slots help.
",
};

impl Rule for SheetFlatFace {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (face, area, wall) in walls(context) {
            let Some(layer) = stack::cladding(wall).and_then(|at| wall.layers.get(at)) else { continue };
            let metal = context.model.material_of(&layer.stuff).map(|material| material.kind) == Some("metal");
            let Some(product) = context.model.product_of(&layer.stuff).filter(|one| one.kind == "panel" && metal)
            else {
                continue;
            };
            let sheet = Sheet {
                subject: &format!("{}.{}", area_name(context, face, area), layer.name),
                name: &layer.name,
                at: layer.origin,
                width: product.sheet.iter().copied().min().or(product.width),
                length: product.sheet.iter().copied().max().or(product.stock.iter().copied().max()),
                broken: product.ribbed,
            };
            report.extend(judge(context, &sheet));
        }
        let mut once = Once::default();
        for piece in pieces(context) {
            let metal = context.model.material_of(&piece.spec.stuff).map(|material| material.kind) == Some("metal");
            // Pieces that are folded one by one are short.
            if !metal || piece.spec.kind == "step_flashing" || piece.spec.width.is_none() {
                continue;
            }
            let sheet = Sheet {
                subject: &piece.name,
                name: called(piece.spec),
                at: piece.spec.origin,
                width: piece.spec.width,
                length: Some(piece.segment.length()),
                broken: Some(piece.spec.hem.is_some()),
            };
            let finding = judge(context, &sheet).filter(|_| once.first(&piece));
            report.extend(finding.map(|finding| piece.on_wall(context, finding)));
        }
    }
}

struct Sheet<'c> {
    subject: &'c str,
    name: &'c str,
    at: Span,
    width: Option<Length>,
    length: Option<Length>,
    broken: Option<bool>,
}

fn judge(context: &CheckContext<'_>, sheet: &Sheet<'_>) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, sheet.subject, sheet.at, missing));
    let limit = |name: &str| context.limit(name).and_then(|limit| Some((limit, limit.length()?)));
    let (Some((limit, wide)), Some((_, long))) = (limit("sheet.flat_width"), limit("sheet.flat_length")) else {
        return unknown("no rule set in force has limits `sheet.flat_width` and `sheet.flat_length`".to_owned());
    };
    if sheet.broken == Some(true) {
        return None;
    }
    let (Some(width), Some(length)) = (sheet.width, sheet.length) else {
        return unknown(format!("size of `{}` is not said (`sheet`)", sheet.name));
    };
    if width <= wide || length <= long {
        return None;
    }
    if sheet.broken.is_none() {
        return unknown(format!("whether the face of `{}` is broken by ribs is not said (`ribbed`)", sheet.name));
    }
    let message = format!(
        "`{}` is flat over {} x {}; over {} it ripples in low sun",
        sheet.name,
        context.shown(width),
        context.shown(length),
        context.shown(wide)
    );
    Some(
        context
            .fault(&META, sheet.subject, sheet.at, message)
            .against(limit)
            .measured(context.measure(width))
            .wanted(context.measure(wide))
            .help("break the face with ribs or a folded edge, and fix it only as the loads need"),
    )
}
