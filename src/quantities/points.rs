//! What stands at single places: services and their seals, blocks, points of edges, breaks at floors.

use super::row::{Amount, Group, Row};
use super::{Counting, Wall, arithmetic, edges, fasteners};
use crate::model::{DetailId, PartSpec, Service};
use crate::units::Length;

pub(super) fn count<'m>(counting: &mut Counting<'m>, wall: Wall<'m>) {
    for service in &wall.face.services {
        service_parts(counting, wall, service);
    }
    blocks(counting, wall);
    floors(counting, wall);
    let nodes = counting.plan.nodes.iter().filter(|node| node.face == wall.id);
    let points: Vec<(DetailId, String)> = nodes.filter_map(|node| Some((node.detail?, node.name.clone()))).collect();
    for (detail, name) in points {
        pieces(counting, wall, Some(detail), &name, &|_| true);
    }
    kick_outs(counting, wall);
}

/// Every part of a detail as one piece.
fn pieces(
    counting: &mut Counting<'_>,
    wall: Wall<'_>,
    detail: Option<DetailId>,
    place: &str,
    wanted: &dyn Fn(&PartSpec) -> bool,
) {
    let model = counting.model;
    let Some(detail) = detail.and_then(|id| model.detail(id)) else { return };
    for spec in detail.edge.parts.iter().filter(|spec| wanted(spec)) {
        let group = model.product_of(&spec.stuff).map_or(Group::Other, |product| Group::of(product.kind));
        let what = spec.name.as_deref().unwrap_or(spec.kind).replace('_', " ");
        let row = Row::new(group, &what, &wall.face.name, place, Amount::Count(1), "one piece");
        counting.rows.push(row.of_stuff(model, &spec.stuff));
    }
}

fn service_parts(counting: &mut Counting<'_>, wall: Wall<'_>, service: &Service) {
    let place = format!("{}.{}", wall.face.name, service.name);
    // What seals the service is named with it; the detail's part of that kind is the same thing.
    let own = service.seal.as_ref().and_then(|(kind, product)| Some((*kind, (*product)?)));
    pieces(counting, wall, service.detail, &place, &|spec| own.is_none_or(|(kind, _)| spec.kind != kind));
    let Some((kind, product)) = own else { return };
    let round = service.width.or(service.sleeve);
    let (group, amount, basis) = match (kind, round) {
        ("tape", Some(diameter)) => (
            Group::Tapes,
            Amount::Length(arithmetic::pipe_tape(diameter)),
            "π(d + 50 mm) + 0.1 m (common practice, no source)",
        ),
        _ => (Group::Seals, Amount::Count(1), "one piece"),
    };
    let row = Row::new(group, kind, &wall.face.name, &place, amount, basis);
    counting.rows.push(row.of_id(counting.model, product));
}

fn blocks(counting: &mut Counting<'_>, wall: Wall<'_>) {
    for (block, shape) in wall.face.blocks.iter().zip(&wall.plan.blocks) {
        let place = format!("{}.{}", wall.face.name, block.name);
        let model = counting.model;
        if let (Some(stuff), Some(shape)) = (&block.cut_from, shape) {
            let row = Row::new(
                Group::Sheets,
                "block",
                &wall.face.name,
                &place,
                Amount::Area(shape.area()),
                "front face of the block",
            );
            counting.rows.push(row.of_stuff(model, stuff));
        }
        // The cap that the block names is the cap of its detail.
        pieces(counting, wall, block.detail, &place, &|spec| block.flashing.is_none() || spec.kind != "flashing");
        if let Some(fasten) = &block.fasten {
            let width = shape.as_ref().map_or(Length::ZERO, |shape| shape.bounds().width());
            fasteners::along(counting, &wall.face.name, &place, fasten, width);
        }
    }
}

/// Kick-outs that a roof names, where no detail has one.
fn kick_outs(counting: &mut Counting<'_>, wall: Wall<'_>) {
    let face = &wall.face.name;
    if counting.rows.iter().any(|row| row.face == *face && row.what == "kick out") {
        return;
    }
    for roof in &wall.face.roofs {
        let Some((_, stuff, _)) = &roof.kick_out else { continue };
        let place = format!("{face}.{}", roof.name);
        let row = Row::new(Group::Flashings, "kick out", face, &place, Amount::Count(1), "one piece");
        counting.rows.push(match stuff {
            Some(stuff) => row.of_stuff(counting.model, stuff),
            None => Row { item: "kick-out, product not said".to_owned(), ..row },
        });
    }
}

/// Parts that cross the wall at a floor.
fn floors(counting: &mut Counting<'_>, wall: Wall<'_>) {
    for floor in &wall.face.floor_lines {
        let Some(detail) = floor.detail.and_then(|id| counting.model.detail(id)) else { continue };
        let clad = wall.plan.areas.iter().flat_map(|area| area.net.x_intervals_at(floor.height));
        let stretches: Vec<Length> = clad.map(|(from, to)| to - from).collect();
        let length: Length = stretches.iter().copied().sum();
        for spec in &detail.edge.parts {
            let name = format!("{}.{}.{}", wall.face.name, floor.name, spec.name.as_deref().unwrap_or(spec.kind));
            edges::count_part(counting, wall, None, &name, spec, length);
        }
        for screen in detail.edge.gap_ends.iter().filter(|end| end.open).filter_map(|end| end.screen) {
            let place = format!("{}.{}", wall.face.name, floor.name);
            let row = Row::new(
                Group::Screens,
                "open end of the gap",
                &wall.face.name,
                &place,
                Amount::Length(length),
                "length of the open end",
            );
            counting.rows.push(row.of_id(counting.model, screen));
        }
        for with in detail.edge.air.iter().filter_map(|joint| joint.with.as_ref()) {
            let place = format!("{}.{}", wall.face.name, floor.name);
            let group = counting.model.product_of(with).map_or(Group::Seals, |product| Group::of(product.kind));
            let row = Row::new(
                group,
                "air barrier at the floor",
                &wall.face.name,
                &place,
                Amount::Length(length),
                "length of the floor line",
            );
            counting.rows.push(row.of_stuff(counting.model, with));
        }
    }
}
