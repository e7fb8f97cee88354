//! What stands at single places: services and their seals, blocks, points of edges, brackets.

use super::row::{Amount, Group, Row};
use super::{Counting, Wall, arithmetic, edges, fasteners};
use crate::model::{DetailId, PartSpec, Service, Stuff};
use crate::plan::RunPlace;
use crate::units::{Length, display};

pub(super) fn count<'m>(counting: &mut Counting<'m>, wall: Wall<'m>) {
    for service in &wall.face.services {
        service_parts(counting, wall, service);
    }
    blocks(counting, wall);
    let nodes = counting.plan.nodes.iter().filter(|node| node.face == wall.id);
    let points: Vec<(DetailId, String)> = nodes.filter_map(|node| Some((node.detail?, node.name.clone()))).collect();
    for (detail, name) in points {
        pieces(counting, wall, Some(detail), &name, &|_| true);
    }
    kick_outs(counting, wall);
    brackets(counting, wall);
    ledgers(counting, wall);
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

/// Rows of brackets: each bracket with the parts of its detail, one at each end of every stretch of wall.
fn brackets(counting: &mut Counting<'_>, wall: Wall<'_>) {
    for (_, run) in counting.plan.runs_of(wall.id) {
        let RunPlace::Brackets(index) = run.place else { continue };
        let Some(row) = wall.face.bracket_rows.get(index) else { continue };
        let model = counting.model;
        let count = row.count(run.segment.length());
        let mut push = |what: &str, stuff: &Stuff| {
            let group = model.product_of(stuff).map_or(Group::Other, |product| Group::of(product.kind));
            let amount = Amount::Count(count.unwrap_or(0));
            let line = Row::new(group, what, &wall.face.name, &run.name, amount, "one at each end, and at the spacing");
            let line = line.of_stuff(model, stuff);
            counting.rows.push(if count.is_some() { line } else { line.lacks("the spacing of the row (`every`)") });
        };
        let detail = run.detail.and_then(|id| model.detail(id));
        let parts = || detail.into_iter().flat_map(|detail| &detail.edge.parts);
        if !parts().any(|part| part.kind == "bracket") {
            push("bracket", &row.stuff);
        }
        for part in parts() {
            let what = part.name.as_deref().unwrap_or(part.kind).replace('_', " ");
            push(&what, if part.kind == "bracket" && row.stuff != Stuff::default() { &row.stuff } else { &part.stuff });
        }
        if let Some(fasten) = &row.fasten {
            let each = u64::try_from(fasten.rows.unwrap_or(1).max(1)).unwrap_or(1);
            let amount = Amount::Count(count.unwrap_or(0).saturating_mul(each));
            let line = Row::new(Group::Fasteners, "of brackets", &wall.face.name, &run.name, amount, "each bracket");
            let line = line.of_id(model, fasten.product).note(fasteners::size(fasten));
            counting.rows.push(if count.is_some() { line } else { line.lacks("the spacing of the row (`every`)") });
        }
    }
}

/// Ledgers and what holds them; flashings and spacers are parts of their details.
fn ledgers(counting: &mut Counting<'_>, wall: Wall<'_>) {
    for ledger in &wall.face.ledgers {
        let (from, to) = edges::between(wall, Some(ledger.from), Some(ledger.to));
        let length = (to - from).abs();
        let place = format!("{}.{}", wall.face.name, ledger.name);
        let product = counting.model.product_of(&ledger.stuff);
        let group = product.map_or(Group::Other, |product| Group::of(product.kind));
        let row = Row::new(group, "ledger", &wall.face.name, &place, Amount::Length(length), "its length");
        let row = row.of_stuff(counting.model, &ledger.stuff);
        counting.rows.push(row.note(format!("{} x {}", display::mm(ledger.depth), display::mm(ledger.height))));
        if let Some(fasten) = &ledger.fasten {
            fasteners::along(counting, &wall.face.name, &place, fasten, length);
        }
    }
}
