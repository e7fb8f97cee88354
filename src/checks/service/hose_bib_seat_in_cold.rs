//! A tap whose seat, and with it the water, stays in the cold.

use crate::checks::pieces::{area_at, faces, wall};
use crate::checks::{CheckContext, Finding, Grade, Measure, Remedy, Rule, RuleMeta};
use crate::geometry::Point;
use crate::layout::stack;
use crate::model::{Block, Face, FaceId, Service};
use crate::units::{Length, display};

/// `hose_bib.seat_in_cold`
pub struct HoseBibSeatInCold;

static META: RuleMeta = RuleMeta {
    id: "hose_bib.seat_in_cold",
    catalogue: "FR-04",
    title: "an outside tap holds water in the cold",
    grade: Grade::S1,
    before: "H3",
    limits: &["hose_bib.seat_inside", "hose_bib.fall"],
    explain: "\
# What it checks
The seat of every `hose_bib` is inside the warm side of the wall by the length of the rule set: its stem, less
the block it stands on and all layers of the wall; or what `seat` says, and the lesser where both are given. And
the stem falls to the outside, so that it drains.

# Why
The barrel holds water up to its seat. In the cold part of a thicker wall it splits in January, and leaks in
April when it is opened.

# Example
    hose_bib garden 22mm at (110mm, 110mm), stem 250mm, fall 2%

# Better
    hose_bib garden 22mm at (110mm, 110mm), stem 450mm, fall 2%

# Basis
Government guidance: 150 mm inside the warm side. Fall: sources disagree (2 %, or 5 to 10 degrees); never to the
inside.

# Known gaps
A tap that is drained by hand each autumn is judged like any other. The stem is measured from the outer face of
its block.
",
};

impl Rule for HoseBibSeatInCold {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            for service in face.services.iter().filter(|service| service.kind == "hose_bib") {
                let found = [seat(context, id, face, service), fall(context, face, service)];
                let placed = found
                    .into_iter()
                    .flatten()
                    .map(|finding| context.on_face(finding, id, &service.name, service.at, service.at));
                report.extend(placed);
            }
        }
    }
}

fn seat(context: &CheckContext<'_>, id: FaceId, face: &Face, service: &Service) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, face.dotted(service), service.origin, missing));
    let Some((limit, least)) = context.limit("hose_bib.seat_inside").and_then(|limit| Some((limit, limit.length()?)))
    else {
        return unknown("no rule set in force has a limit `hose_bib.seat_inside`".to_owned());
    };
    let (inside, depth) = match (service.stem, service.seat) {
        (Some(stem), said) => match wall_depth(context, id, face, service) {
            // Of two facts that disagree, the worse one counts.
            Ok(depth) => match said.filter(|said| *said < stem - depth) {
                Some(said) => (said, None),
                None => (stem - depth, Some(depth)),
            },
            Err(_) if said.is_some() => (said.unwrap_or_default(), None),
            Err(missing) => return unknown(missing),
        },
        (None, Some(said)) => (said, None),
        (None, None) => {
            return unknown(format!("length of the stem of `{}` is not said (`stem`, or `seat`)", service.name));
        }
    };
    if inside >= least {
        return None;
    }
    let message = if inside < Length::ZERO {
        format!("the seat of `{}` is {} short of the warm side", service.name, context.shown(inside.abs()))
    } else {
        format!(
            "the seat of `{}` is {} inside the warm side; {} is wanted",
            service.name,
            context.shown(inside),
            context.shown(least)
        )
    };
    let (advice, remedy) = match depth {
        Some(depth) => {
            let (stem, depth) = (depth + least, context.shown(depth));
            let advice = format!("take a stem of {} or longer: wall and block are {depth} thick", context.shown(stem));
            (advice, Some(Remedy::Stem(stem)))
        }
        None => ("take a longer stem".to_owned(), None),
    };
    Some(
        context
            .fault(&META, face.dotted(service), service.origin, message)
            .against(limit)
            .measured(context.measure(inside))
            .wanted(context.measure(least))
            .advise(advice, remedy)
            .help("hose off in winter: no frost-proof tap drains with a hose on it"),
    )
}

/// From the outer face of what the tap stands on to the inner face of the wall; the error is the missing fact.
fn wall_depth(context: &CheckContext<'_>, id: FaceId, face: &Face, service: &Service) -> Result<Length, String> {
    let block = service.block.and_then(|at| face.blocks.get(at));
    let at: Point = block.map_or(service.at, |block| block.at);
    let area = area_at(context, id, at).or_else(|| area_at(context, id, service.at));
    let wall = area.and_then(|area| wall(context, id, area)).ok_or("the wall behind it is not known")?;
    let from = block.map_or(Ok(0), |block| under(context, wall, block))?;
    let pad = block.map_or(Ok(Length::ZERO), |block| {
        block.thickness.ok_or_else(|| format!("thickness of block `{}` is not said", block.name))
    })?;
    let layers = stack::between(context.model, wall, from, wall.layers.len())
        .map_err(|layer| format!("thickness of layer `{}` is not said", layer.name))?;
    Ok(pad + layers)
}

/// Index of the first layer behind a block.
fn under(context: &CheckContext<'_>, wall: &crate::model::Assembly, block: &Block) -> Result<usize, String> {
    let on = block.on.ok_or_else(|| format!("what block `{}` lies on is not said (`on …`)", block.name))?;
    stack::lies_on(context.model, wall, on).ok_or_else(|| format!("the wall behind block `{}` has no {on}", block.name))
}

fn fall(context: &CheckContext<'_>, face: &Face, service: &Service) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, face.dotted(service), service.origin, missing));
    let Some((limit, least)) = context.limit("hose_bib.fall").and_then(|limit| Some((limit, limit.slope()?))) else {
        return unknown("no rule set in force has a limit `hose_bib.fall`".to_owned());
    };
    let Some(fall) = service.fall else {
        return unknown(format!("fall of the stem of `{}` is not said (`fall`)", service.name));
    };
    if fall >= least {
        return None;
    }
    let measure = |slope: f64| Measure { value: Some(slope), shown: display::slope_percent(slope) };
    let message = if fall < 0.0 {
        format!("`{}` falls {} to the inside: its barrel never drains", service.name, display::slope_percent(-fall))
    } else {
        format!(
            "`{}` falls {} to the outside; {} is wanted",
            service.name,
            display::slope_percent(fall),
            display::slope_percent(least)
        )
    };
    Some(
        context
            .fault(&META, face.dotted(service), service.origin, message)
            .against(limit)
            .measured(measure(fall))
            .wanted(measure(least))
            .help("put a wedge under its flange, thick edge up"),
    )
}
