//! A concealed space in which fire runs up the wall.

use std::collections::BTreeMap;

use crate::checks::pieces::{area_name, faces, runs, wall};
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::geometry::{Bounds, Point};
use crate::model::{Assembly, Face, FaceId, Gap, Layer, LayerKind, Limit, Stuff, Where};
use crate::units::Length;

/// `fire.gap_too_deep`
pub struct FireGapTooDeep;

static META: RuleMeta = RuleMeta {
    id: "fire.gap_too_deep",
    catalogue: "F-01",
    title: "the gap is too deep to go without fire blocks",
    grade: Grade::S1,
    before: "H3",
    limits: &["fire.gap_depth", "fire.height", "fire.length", "fire.flame_spread"],
    explain: "\
# What it checks
A gap deeper than the rule set allows, or two gaps joined by crossed strips, is blocked at every so many metres
of height (and of length, where nothing upright divides it); unless nothing in it burns, or nothing in it is
above the flame-spread rating.

# Why
Crossed strips turn two gaps of 19 mm into one of 38 mm, and the flame runs up behind the cladding.

# Example
    furring spruce 19mm x 64mm, horizontal, every 16in on centre, counter spruce 19mm x 64mm

# Better
    furring spruce 19mm x 64mm, vertical, every 16in on centre
    mat     mats.drainage 6mm

# Basis
OBC 9.10.16.2, public code site: no block needed for one space of 25 mm or less; otherwise 3 m up and 20 m
along. A board of appeal in British Columbia (1985) asked for a block in a wall with two layers of 19 mm, 4.2 m
high.

# Known gaps
Only fire stops of the face and edges whose detail says `fire stopped` or `open_state` count. Stops that cross
part of the wall only are taken at their word.
",
};

impl Rule for FireGapTooDeep {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut shelves: BTreeMap<FaceId, Vec<Length>> = BTreeMap::new();
        for (run, _) in runs(context).filter(|(run, place)| run.kind == "transition" && blocks(place.fire)) {
            shelves.entry(run.face).or_default().push(run.segment.from.y);
        }
        for (id, face) in faces(context.model) {
            for at in 0..face.areas.len() {
                let Some(assembly) = wall(context, id, at) else { continue };
                let Some((layer, gap)) = assembly.gap() else { continue };
                let bounds = context.plan.face(id).and_then(|plan| plan.areas.get(at)?.whole.bounds());
                let Some(bounds) = bounds else { continue };
                let subject = format!("{}.{}", area_name(context, id, at), layer.name);
                let shelves = shelves.get(&id).map_or(&[][..], |heights| heights);
                let space = Space { id, face, assembly, layer, gap, bounds, subject, shelves };
                match judge(context, &space) {
                    Ok(found) => report.extend(found),
                    Err(missing) => report.push(context.unknown(&META, space.subject.clone(), layer.origin, missing)),
                }
            }
        }
    }
}

struct Space<'c> {
    id: FaceId,
    face: &'c Face,
    assembly: &'c Assembly,
    layer: &'c Layer,
    gap: &'c Gap,
    bounds: Bounds,
    subject: String,
    /// Heights of lines between areas whose detail stops fire.
    shelves: &'c [Length],
}

/// A limit that is a length, or what is missing.
fn length<'m>(context: &CheckContext<'m>, name: &str) -> Result<(&'m Limit, Length), String> {
    let found = context.limit(name).and_then(|limit| Some((limit, limit.length()?)));
    found.ok_or_else(|| format!("no rule set in force has a limit `{name}`"))
}

fn judge(context: &CheckContext<'_>, space: &Space<'_>) -> Result<Option<Finding>, String> {
    let crossed =
        space.gap.furring.iter().filter_map(|furring| Some(furring.thickness + furring.counter.as_ref()?.1)).max();
    let depth = crossed.map_or(space.gap.depth.1, |both| both.max(space.gap.depth.1));
    let (_, shallow) = length(context, "fire.gap_depth")?;
    if depth <= shallow {
        return Ok(None);
    }
    let (limit, height) = length(context, "fire.height")?;
    let (along_limit, along) = length(context, "fire.length")?;
    let (tallest, foot) = tallest_free(context, space);
    let level = space.gap.furring.iter().any(|furring| furring.direction == Some(crate::model::Direction::Horizontal));
    let wide = (crossed.is_some() || level || space.gap.furring.is_empty()) && space.bounds.width() > along;
    if tallest <= height && !wide {
        return Ok(None);
    }
    if is_exempt(context, space)? {
        return Ok(None);
    }
    let what = match crossed {
        Some(_) => format!("two spaces join into one of {}", context.shown(depth)),
        None => format!("the gap is {} deep", context.shown(depth)),
    };
    let finding = if tallest > height {
        let message = format!("{what}: {} high without a fire block", context.shown(tallest));
        context
            .fault(&META, space.subject.clone(), space.layer.origin, message)
            .against(limit)
            .measured(context.measure(tallest))
            .wanted(context.measure(height))
            .help(format!(
                "block it at the floors, at most {} apart, with a flashing above each block",
                context.shown(height)
            ))
    } else {
        let message = format!("{what}: {} long without a fire block", context.shown(space.bounds.width()));
        let measured = Measure { value: Some(space.bounds.width().as_m()), shown: context.shown(space.bounds.width()) };
        context
            .fault(&META, space.subject.clone(), space.layer.origin, message)
            .against(along_limit)
            .measured(measured)
            .wanted(context.measure(along))
            .help(format!("put an upright strip through the whole depth at most every {}", context.shown(along)))
    };
    let finding = finding.help(format!("or keep to one space of {}, furring and mat together", context.shown(shallow)));
    let (from, to) = (Point::new(space.bounds.left, foot), Point::new(space.bounds.left, foot + tallest));
    Ok(Some(context.on_face(finding, space.id, &space.layer.name, from, to)))
}

/// The greatest height without a block, and its foot. Edges that are open to the air do not block.
fn tallest_free(context: &CheckContext<'_>, space: &Space<'_>) -> (Length, Length) {
    let (bottom, top) = (space.bounds.bottom, space.bounds.top);
    let spans = |from: Option<Where>, to: Option<Where>| {
        matches!(from, None | Some(Where::Left)) && matches!(to, None | Some(Where::Right))
    };
    let stops = space.face.fire_stops.iter().filter(|stop| spans(stop.from, stop.to)).map(|stop| stop.at);
    let floors = space.face.floor_lines.iter().filter(|line| {
        let detail = line.detail.and_then(|id| context.model.detail(id)).filter(|detail| !detail.broken);
        detail.is_some_and(|detail| blocks(detail.edge.fire))
    });
    let mut levels: Vec<Length> =
        stops.chain(floors.map(|line| line.height)).chain(space.shelves.iter().copied()).collect();
    levels.retain(|level| *level > bottom && *level < top);
    levels.push(top);
    levels.sort_unstable();
    let mut foot = bottom;
    let mut tallest = (Length::ZERO, bottom);
    for level in levels {
        if level - foot > tallest.0 {
            tallest = (level - foot, foot);
        }
        foot = level;
    }
    tallest
}

fn blocks(fire: Option<&str>) -> bool {
    matches!(fire, Some("stopped" | "open_state"))
}

/// Nothing that bounds the gap or stands in it burns, or all of it is slow to spread flame.
fn is_exempt(context: &CheckContext<'_>, space: &Space<'_>) -> Result<bool, String> {
    let at = space.assembly.layers.iter().position(|layer| matches!(layer.kind, LayerKind::Gap(_))).unwrap_or(0);
    let sides = [at.checked_sub(1), Some(at + 1)].into_iter().flatten();
    let lining = sides.filter_map(|side| space.assembly.layers.get(side)).map(|layer| &layer.stuff);
    // The strips themselves are not a lining, and are there by the code's own drawing.
    let lining: Vec<&Stuff> = lining.collect();
    let spread = context.limit("fire.flame_spread").and_then(|limit| limit.number());
    let mut silent = None;
    for stuff in lining {
        let Some(material) = context.model.material_of(stuff) else {
            silent = Some(format!("material of `{}` is not said", stuff.name));
            continue;
        };
        let slow = material.flame_spread.zip(spread).map(|(own, most)| own <= most);
        match (material.combustible, slow) {
            (Some(false), _) | (_, Some(true)) => {}
            (Some(true), _) | (_, Some(false)) => return Ok(false),
            (None, None) => silent = Some(format!("whether `{}` burns is not said (`combustible`)", material.name)),
        }
    }
    silent.map_or(Ok(true), Err)
}
