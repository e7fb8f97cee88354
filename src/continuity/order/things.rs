//! What stands on a face as tasks: pads, what passes through, profiles, pieces in the gap, and patches at points.

use super::walls::{Wall, stage};
use super::{Draft, Entry, Kind, Phase, TaskId, Why};
use crate::geometry::{Point, Segment};
use crate::layout::holes;
use crate::model::{PartSpec, Service};
use crate::plan::Run;

/// Makes the tasks of everything that stands on a face.
pub(super) fn place<'m>(draft: &mut Draft<'m>, wall: &Wall<'m>) {
    let blocks = blocks(draft, wall);
    for service in &wall.face.services {
        let block = service.block.and_then(|at| blocks.get(at)).copied().flatten();
        passes_through(draft, wall, service, block);
    }
    trims(draft, wall);
    in_the_gap(draft, wall);
    points(draft, wall);
}

fn blocks<'m>(draft: &mut Draft<'m>, wall: &Wall<'m>) -> Vec<Option<TaskId>> {
    let mut made = Vec::new();
    for (block, shape) in wall.face.blocks.iter().zip(&wall.plan.blocks) {
        let Some(bounds) = shape.as_ref().map(|shape| shape.bounds()) else {
            made.push(None);
            continue;
        };
        let (low, high) = (Point::new(bounds.left, bounds.bottom), Point::new(bounds.right, bounds.bottom));
        let line = Segment::new(low, high);
        let column = wall.column_at(line.midpoint(), None).and_then(|at| wall.columns.get(at));
        let on_cladding = block.on == Some("cladding");
        let task = draft.add(Entry {
            lane: column.map(|column| column.lane),
            phase: Phase::Sections,
            stage: if on_cladding { stage::TOP_TRIM } else { stage::TRIM },
            by: block.by.unwrap_or("crew"),
            detail: block.detail,
            origin: block.origin,
            ..wall.entry(Kind::Block, block.name.clone(), "", line)
        });
        if let Some(column) = column {
            match block.on {
                Some("cladding") => column.cladding.into_iter().for_each(|on| draft.tie(on, task, Why::Held)),
                on => {
                    if on == Some("furring") {
                        column.furring.into_iter().for_each(|on| draft.tie(on, task, Why::Held));
                    } else {
                        wall.test.into_iter().for_each(|test| draft.tie(test, task, Why::Tested));
                    }
                    column.cladding.into_iter().for_each(|boards| draft.tie(task, boards, Why::Fitted));
                }
            }
        }
        made.push(Some(task));
    }
    made
}

/// The trade whose service it is, for bringing it to the wall and for its fixture.
fn trade(service: &Service) -> &'static str {
    service.by.unwrap_or(match service.owner {
        Some("owner" | "crew") | None => "crew",
        Some(trade) => trade,
    })
}

fn passes_through<'m>(draft: &mut Draft<'m>, wall: &Wall<'m>, service: &'m Service, block: Option<TaskId>) {
    let here = Segment::new(service.at, service.at);
    let column = wall.column_at(service.at, None).and_then(|at| wall.columns.get(at));
    let entry = |kind, name: String, rank| Entry {
        stage: 2,
        rank,
        detail: service.detail,
        origin: service.origin,
        ..wall.entry(kind, name, service.name.clone(), here)
    };
    let rough = draft.add(Entry {
        phase: Phase::Others,
        by: trade(service),
        ..entry(Kind::RoughIn, if service.sleeve.is_some() { "sleeve" } else { "rough-in" }.to_owned(), 0)
    });
    let membrane = column.and_then(|column| wall.membranes.get(column.area)).copied().flatten();
    let mut last = rough;
    if let Some((seal, _)) = service.seal.filter(|(seal, _)| *seal != "none") {
        let collar = draft.add(entry(Kind::Collar, seal.to_owned(), 1));
        draft.tie(rough, collar, Why::Stands);
        membrane.into_iter().for_each(|membrane| draft.tie(membrane, collar, Why::Stands));
        last = collar;
    }
    let look = draft.add(entry(Kind::Hold("H3"), format!("look at {}", service.name), 2));
    draft.tie(last, look, Why::Tested);
    wall.test.into_iter().for_each(|test| draft.tie(look, test, Why::Tested));
    let fixture = draft.add(Entry {
        lane: column.map(|column| column.lane),
        phase: Phase::SecondFix,
        by: trade(service),
        ..entry(Kind::Fixture, if service.capped { "cap" } else { service.kind }.to_owned(), 3)
    });
    draft.tie(look, fixture, Why::Stands);
    match (block, column.and_then(|column| column.cladding)) {
        (Some(block), _) => draft.tie(block, fixture, Why::Held),
        (None, Some(boards)) => draft.tie(boards, fixture, Why::Behind),
        (None, None) => {}
    }
}

fn trims<'m>(draft: &mut Draft<'m>, wall: &Wall<'m>) {
    if wall.face.trims.is_empty() {
        return;
    }
    let runs: Vec<&Run> = draft.plan.runs_of(wall.id).map(|(_, run)| run).collect();
    for trim in &wall.face.trims {
        let Some(line) = holes::trim_line(wall.face, &runs, trim) else { continue };
        let mut lanes: Vec<usize> = Vec::new();
        for column in wall.touched(line).into_iter().filter_map(|at| wall.columns.get(at)) {
            if lanes.contains(&column.lane) {
                continue;
            }
            lanes.push(column.lane);
            let task = draft.add(Entry {
                lane: Some(column.lane),
                phase: Phase::Sections,
                stage: stage::TRIM,
                by: trim.by.unwrap_or("crew"),
                origin: trim.origin,
                ..wall.entry(Kind::Trim, trim.name.clone(), "", line)
            });
            let on_cladding = trim.on == Some("cladding");
            match (trim.on, column.cladding) {
                (Some("cladding"), Some(boards)) => draft.tie(boards, task, Why::Held),
                (_, Some(boards)) => draft.tie(task, boards, Why::Fitted),
                _ => {}
            }
            if trim.on == Some("furring") {
                column.furring.into_iter().for_each(|on| draft.tie(on, task, Why::Held));
            } else if !on_cladding {
                wall.test.into_iter().for_each(|test| draft.tie(test, task, Why::Tested));
            }
        }
    }
}

/// Fire stops and loose pieces: on the plane, before the boards.
fn in_the_gap<'m>(draft: &mut Draft<'m>, wall: &Wall<'m>) {
    let Some(bounds) = wall.plan.outline.bounds() else { return };
    let stops = wall.face.fire_stops.iter().map(|stop| {
        let left = super::lanes::along(stop.from, bounds, bounds.left);
        let right = super::lanes::along(stop.to, bounds, bounds.right);
        (&stop.name, Segment::new(Point::new(left, stop.at), Point::new(right, stop.at)), stop.origin)
    });
    let nailers = wall
        .face
        .nailers
        .iter()
        .map(|piece| (&piece.name, Segment::new(piece.from, Point::new(piece.to, piece.from.y)), piece.origin));
    for (name, line, origin) in stops.chain(nailers) {
        let Some(column) = wall.column_at(line.midpoint(), None).and_then(|at| wall.columns.get(at)) else { continue };
        let task = draft.add(Entry {
            lane: Some(column.lane),
            phase: Phase::Sections,
            stage: stage::TRIM,
            origin,
            ..wall.entry(Kind::Trim, name.clone(), "", line)
        });
        wall.test.into_iter().for_each(|test| draft.tie(test, task, Why::Tested));
        column.cladding.into_iter().for_each(|boards| draft.tie(task, boards, Why::Behind));
    }
}

/// Patches and flashings at the points where planes meet.
fn points<'m>(draft: &mut Draft<'m>, wall: &Wall<'m>) {
    let model = draft.model;
    let start = draft.plan.nodes.partition_point(|node| node.face < wall.id);
    let nodes = draft.plan.nodes.get(start..).unwrap_or_default().iter().take_while(|node| node.face == wall.id);
    for node in nodes {
        let Some(detail) = node.detail.and_then(|id| model.detail(id)).filter(|detail| !detail.broken) else {
            continue;
        };
        let mut made: Vec<(&PartSpec, TaskId)> = Vec::new();
        for (rank, spec) in detail.edge.parts.iter().enumerate() {
            let usual = if matches!(spec.kind, "step_flashing" | "kick_out" | "saddle") { "roofer" } else { "crew" };
            let task = draft.add(Entry {
                stage: 2,
                by: spec.by.unwrap_or(usual),
                rank,
                detail: node.detail,
                origin: spec.origin,
                ..wall.entry(
                    Kind::Part,
                    spec.name.clone().unwrap_or_else(|| spec.kind.to_owned()),
                    node.kind,
                    Segment::new(node.at, node.at),
                )
            });
            wall.test.into_iter().for_each(|test| draft.tie(task, test, Why::Tested));
            made.push((spec, task));
        }
        for &(spec, task) in &made {
            for lap in &spec.laps {
                for &(_, other) in made.iter().filter(|(other, at)| other.kind == lap.what && *at != task) {
                    if lap.under { draft.tie(task, other, Why::Under) } else { draft.tie(other, task, Why::Over) }
                }
            }
        }
    }
}
