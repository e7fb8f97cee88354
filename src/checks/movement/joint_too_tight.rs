//! A gap that closes on the first hot day.

use crate::checks::pieces::{area_name, faces, runs_beside_trims, walls};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Segment;
use crate::layout::{holes, stack};
use crate::model::{FaceId, Material, Product, Trim, Where};
use crate::physics::movement;
use crate::source::Span;
use crate::units::{Length, display};

/// `joint.too_tight`
pub struct JointTooTight;

static META: RuleMeta = RuleMeta {
    id: "joint.too_tight",
    catalogue: "MO-01",
    title: "a gap is too small for the heat",
    grade: Grade::S2,
    before: "H5",
    limits: &["joint.least", "temperature.light", "temperature.mid", "temperature.dark"],
    explain: "\
# What it checks
The gap at the ends of trims and at butt joints of boards against g + αL(T_hot - T_set): what is to be left (the
maker's gap, or the rule set's), plus what the piece grows from the day it goes on to the hottest its colour
gets in the sun. Wood and fibre-cement are held to the maker's gap alone: moisture moves them more than heat.

# Why
Boards and trims that have no room buckle, and pull their fasteners.

# Example
    trim base_channel channels.two_part along base {
        gap 3mm
        set at -10degC
    }

# Better
    trim base_channel channels.two_part along base {
        gap 7mm
        set at -10degC
    }

# Basis
Expansion: the material. Hottest surface: the limits `temperature.*`, common practice. The maker's number wins.

# Known gaps
A piece is as long as the longest stock length, or the edge if that is shorter, and grows to one side of its
fixed point.
",
};

/// What moves.
struct Piece<'c> {
    subject: String,
    name: String,
    at: Span,
    product: Option<&'c Product>,
    material: Option<&'c Material>,
    length: Option<Length>,
    gap: Option<Length>,
    set: Option<f64>,
    clauses: (&'static str, &'static str),
    line: Option<(FaceId, Segment)>,
}

impl Rule for JointTooTight {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for piece in boards(context).iter().chain(&trims(context)) {
            report.extend(judge(context, piece).map(|finding| match piece.line {
                Some((face, line)) => context.on_face(finding, face, &piece.name, line.from, line.to),
                None => finding,
            }));
        }
    }
}

fn boards<'c>(context: &CheckContext<'c>) -> Vec<Piece<'c>> {
    let model = context.model;
    let mut found = Vec::new();
    for (face, area, wall) in walls(context) {
        let Some(layer) = stack::cladding(wall).and_then(|at| wall.layers.get(at)) else { continue };
        let product = model.product_of(&layer.stuff);
        // A layer that says nothing is laid as its maker says.
        if layer.joint_gap.is_none() && product.is_some_and(|product| product.joint_gap.is_some()) {
            continue;
        }
        found.push(Piece {
            subject: format!("{}.{}", area_name(context, face, area), layer.name),
            name: layer.name.clone(),
            at: layer.origin,
            product,
            material: model.material_of(&layer.stuff),
            length: product.and_then(|product| product.stock.iter().copied().max()),
            gap: layer.joint_gap,
            set: layer.applied,
            clauses: ("joint_gap", "applied at"),
            line: None,
        });
    }
    found
}

fn trims<'c>(context: &CheckContext<'c>) -> Vec<Piece<'c>> {
    let mut found = Vec::new();
    for (id, face) in faces(context.model) {
        let runs = runs_beside_trims(context, id, face);
        for trim in &face.trims {
            let product = context.model.product(trim.product);
            let line = holes::trim_line(face, &runs, trim);
            let edge = line.map(|line| line.length());
            let stock = product.and_then(|product| product.stock.iter().copied().max());
            let piece = match (edge, stock) {
                (Some(edge), Some(stock)) => Some(edge.min(stock)),
                (edge, stock) => edge.or(stock),
            };
            found.push(Piece {
                subject: format!("{}.{}", face.name, trim.name),
                name: trim.name.clone(),
                at: trim.origin,
                product,
                material: product.and_then(|product| context.model.material(product.of?)),
                length: piece.map(|length| if fixed_in_the_middle(trim) { length / 2 } else { length }),
                gap: trim.gap,
                set: trim.set_at,
                clauses: ("gap", "set at"),
                line: line.map(|line| (id, line)),
            });
        }
    }
    found
}

fn fixed_in_the_middle(trim: &Trim) -> bool {
    matches!(trim.fixed.as_slice(), [Where::Centre])
}

fn judge(context: &CheckContext<'_>, piece: &Piece<'_>) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, piece.subject.clone(), piece.at, missing));
    let maker = piece.product.and_then(|product| product.joint_gap.as_ref()).map(|gap| gap.value);
    let limit = context.limit("joint.least");
    let Some(least) = maker.or_else(|| limit.and_then(|limit| limit.length())) else {
        return unknown(
            "no rule set in force has a limit `joint.least`, and the product says no `joint_gap`".to_owned(),
        );
    };
    let Some(gap) = piece.gap else {
        return unknown(format!("gap left at the ends of `{}` is not said (`{}`)", piece.name, piece.clauses.0));
    };
    let needed = match growth(context, piece) {
        Growth::Mm(least_growth, most_growth) => {
            let (low, high) = (least.as_m() + least_growth, least.as_m() + most_growth);
            // Half a tenth of a millimetre is below what a tape shows.
            if gap.as_m() >= high - 5e-5 {
                return None;
            }
            if gap.as_m() >= low - 5e-5 {
                return unknown(format!(
                    "temperature when `{}` goes on is not said (`{}`)",
                    piece.name, piece.clauses.1
                ));
            }
            if piece.set.is_some() { high } else { low }
        }
        Growth::Missing(missing) => return unknown(missing),
    };
    let whole = Length::mm((needed * 1000.0 - 0.05).ceil() as i64);
    let when = piece.set.map_or_else(String::new, |set| format!("at {} ", display::temperature(set, context.units())));
    let message =
        format!("{when}leave {} at the ends of `{}`, not {}", context.shown(whole), piece.name, context.shown(gap));
    let finding = context
        .fault(&META, piece.subject.clone(), piece.at, message)
        .measured(context.measure(gap))
        .wanted(context.measure(whole))
        .help("slot all holes but the fixed one, so that it can move");
    Some(match (maker, piece.product, limit) {
        (Some(_), Some(product), _) => {
            let whose = format!("the maker's gap for `{}` (common practice where the maker is silent)", product.name);
            finding.on_principle(&whose, false).also(product.origin, "the product")
        }
        (_, _, Some(limit)) => finding.against(limit),
        _ => finding,
    })
}

/// How far a piece grows, in metres: least and most where the day is not known.
enum Growth {
    Mm(f64, f64),
    Missing(String),
}

fn growth(context: &CheckContext<'_>, piece: &Piece<'_>) -> Growth {
    let Some(material) = piece.material else {
        return Growth::Missing(format!("material of `{}` is not said", piece.name));
    };
    if matches!(material.kind, "wood" | "wood_board" | "fibre_cement")
        && piece.product.is_some_and(|p| p.joint_gap.is_some())
    {
        return Growth::Mm(0.0, 0.0);
    }
    let Some(expansion) = material.expansion.as_ref().map(|expansion| expansion.value) else {
        return Growth::Missing(format!("thermal expansion of `{}` is not said", material.name));
    };
    let Some(length) = piece.length else {
        return Growth::Missing(format!("stock length of `{}` is not said", piece.name));
    };
    let Some(colour) = piece.product.and_then(|product| product.surface).or(material.surface) else {
        return Growth::Missing(format!("whether the surface of `{}` is light, mid or dark is not said", piece.name));
    };
    let name = format!("temperature.{colour}");
    let Some(hottest) = context.limit(&name).and_then(|limit| limit.number()) else {
        return Growth::Missing(format!("no rule set in force has a limit `{name}`"));
    };
    let grown = |set: f64| movement::gap_when_set(0.0, expansion, length.as_m(), set, hottest);
    if let Some(set) = piece.set {
        return Growth::Mm(grown(set), grown(set));
    }
    // Without a day: from a hot one, on which nothing is left to grow, to the coldest of the climate.
    let climate = context.model.site.as_ref().and_then(|site| site.climate.as_ref());
    match climate.and_then(|climate| climate.extremes) {
        Some((coldest, _)) => Growth::Mm(0.0, grown(coldest)),
        None => {
            Growth::Missing(format!("temperature when `{}` goes on is not said (`{}`)", piece.name, piece.clauses.1))
        }
    }
}
