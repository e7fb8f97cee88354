//! What lies along edges: parts of details, screens of open ends, tapes of joints, and profiles.

use super::row::{Amount, Group, Row};
use super::{Counting, Wall, arithmetic, fasteners};
use crate::layout::{folds, holes, trims};
use crate::model::{Block, FaceId, Joint, PartSpec, Place};
use crate::plan::{Part, Run, RunPlace};
use crate::units::{Length, display};

/// Parts that are one piece wherever they stand.
const SINGLE: [&str; 8] = ["kick_out", "saddle", "collar", "sleeve", "gasket", "hood", "box", "frame"];

pub(super) fn count<'m>(counting: &mut Counting<'m>, wall: Wall<'m>) {
    let (model, plan) = (counting.model, counting.plan);
    for (_, run) in plan.runs_of(wall.id) {
        let Some(detail) = run.detail.and_then(|id| model.detail(id)) else { continue };
        if matches!(run.place, RunPlace::Brackets(_)) || trims::made_on_the_other_face(model, plan, run) {
            continue;
        }
        let parts: Vec<&Part> = plan.parts_of(run).collect();
        for part in &parts {
            count_part(counting, wall, Some(run), &part.name, &part.spec, part.segment.length());
        }
        ends_of_gap(counting, wall, run, detail.place(run.kind));
        for joint in &detail.place(run.kind).air {
            let made_by_a_part = parts.iter().any(|part| {
                joint
                    .with
                    .as_ref()
                    .is_some_and(|with| with.product == part.spec.stuff.product && with.product.is_some())
            });
            if !made_by_a_part {
                tape_of_joint(counting, wall, run, joint);
            }
        }
    }
    let caps = plan.parts.iter().filter(|part| part.face == wall.id && part.run.is_none());
    for part in caps.collect::<Vec<_>>() {
        count_part(counting, wall, None, &part.name, &part.spec, part.segment.length());
    }
    screens_of_vents(counting, wall);
    profiles(counting, wall);
    casings(counting, wall);
}

/// A part along a stretch of edge, with its folds, its isolation, its tape and its fasteners.
pub(super) fn count_part(
    counting: &mut Counting<'_>,
    wall: Wall<'_>,
    run: Option<&Run>,
    name: &str,
    spec: &PartSpec,
    length: Length,
) {
    let model = counting.model;
    let product = model.product_of(&spec.stuff);
    let group = product.map_or(Group::Other, |product| Group::of(product.kind));
    let group = if product.is_none() && spec.kind == "trim" { Group::Trims } else { group };
    let what = spec.name.as_deref().unwrap_or(spec.kind).replace('_', " ");
    let face = &wall.face.name;
    if SINGLE.contains(&spec.kind) {
        if at_an_end(counting, run, spec.kind) {
            return;
        }
        let row = Row::new(group, &what, face, name, Amount::Count(1), "one piece");
        counting.rows.push(row.of_stuff(model, &spec.stuff));
        return;
    }
    let (cut, how) = folds::cut_length(wall.face, run, spec, length);
    let mut row = Row::new(group, &what, face, name, Amount::Length(length), &how).of_stuff(model, &spec.stuff);
    row.laid = (cut != length).then_some(Amount::Length(cut));
    row.note = section_words(counting, wall, run, name, spec, group);
    counting.rows.push(row);
    if let Some(stuff) = &spec.isolated {
        let row = Row::new(Group::Tapes, "isolation", face, name, Amount::Length(cut), "along the part")
            .of_stuff(model, stuff);
        counting.rows.push(row);
    }
    if let Some(tape) = spec.taped {
        let row =
            Row::new(Group::Tapes, "upper edge", face, name, Amount::Length(cut), "along the part").of_id(model, tape);
        counting.rows.push(row);
    }
    if let Some(fasten) = &spec.fasten {
        fasteners::along(counting, face, name, fasten, cut);
    }
}

/// Whether the point at an end of a stretch has a part of this kind: then it is that one piece, counted there.
fn at_an_end(counting: &Counting<'_>, run: Option<&Run>, kind: &str) -> bool {
    let Some(run) = run else { return false };
    let at = |node: &&crate::plan::Node| node.face == run.face && [run.segment.from, run.segment.to].contains(&node.at);
    let details = counting.plan.nodes.iter().filter(at).filter_map(|node| counting.model.detail(node.detail?));
    details.flat_map(|detail| &detail.edge.parts).any(|part| part.kind == kind)
}

/// Width of strips, girth of folded metal where its legs are known.
fn section_words(
    counting: &Counting<'_>,
    wall: Wall<'_>,
    run: Option<&Run>,
    name: &str,
    spec: &PartSpec,
    group: Group,
) -> String {
    if let Some(width) = spec.width {
        return format!("{} wide", display::mm(width));
    }
    if let Some(wraps) = spec.wraps {
        return format!("{} each way round the corner", display::mm(wraps));
    }
    if group != Group::Flashings || spec.kind == "pan" {
        return String::new();
    }
    match folds::legs(counting.model, wall.face, area_of(wall, run, name), cap_of(wall, name), spec) {
        Ok(legs) => {
            format!("girth {}, bends not taken off", display::mm(legs.iter().map(|leg| leg.length).sum()))
        }
        Err(_) => "girth not told: a leg is not said".to_owned(),
    }
}

/// The area a part lies in: that of its run, or the one at the height of its floor, vent or block.
fn area_of(wall: Wall<'_>, run: Option<&Run>, name: &str) -> usize {
    let face = wall.face;
    let owns = |owner: &str| name.starts_with(&format!("{}.{owner}.", face.name));
    let floors = face.floor_lines.iter().filter(|line| owns(&line.name)).map(|line| line.height);
    let vents = face.vents.iter().filter(|vent| owns(&vent.name)).map(|vent| vent.height);
    let blocks = face.blocks.iter().filter(|block| owns(&block.name)).map(|block| block.at.y);
    let height = floors.chain(vents).chain(blocks).next();
    run.and_then(|run| run.area).or_else(|| height.map(|height| folds::area_at(face, height))).unwrap_or(0)
}

/// The block whose cap a part is, by its dotted name.
fn cap_of<'m>(wall: Wall<'m>, name: &str) -> Option<&'m Block> {
    wall.face.blocks.iter().find(|block| name.starts_with(&format!("{}.{}.", wall.face.name, block.name)))
}

/// Screens of the open ends of the gap.
fn ends_of_gap(counting: &mut Counting<'_>, wall: Wall<'_>, run: &Run, place: &Place) {
    for end in place.gap_ends.iter().filter(|end| end.open) {
        let Some(screen) = end.screen else { continue };
        let row = Row::new(
            Group::Screens,
            "open end of the gap",
            &wall.face.name,
            &run.name,
            Amount::Length(run.segment.length()),
            "length of the open end",
        );
        let slot =
            end.slot.map_or_else(|| "slot as deep as the gap".to_owned(), |slot| format!("slot {}", display::mm(slot)));
        counting.rows.push(row.of_id(counting.model, screen).note(slot));
    }
}

fn screens_of_vents(counting: &mut Counting<'_>, wall: Wall<'_>) {
    for vent in &wall.face.vents {
        let Some(screen) = vent.screen else { continue };
        let (from, to) = between(wall, vent.from, vent.to);
        let length: Length = wall
            .plan
            .outline
            .x_intervals_at(vent.height)
            .into_iter()
            .map(|(a, b)| (b.min(to) - a.max(from)).max(Length::ZERO))
            .sum();
        let place = format!("{}.{}", wall.face.name, vent.name);
        let row = Row::new(
            Group::Screens,
            "row of slots",
            &wall.face.name,
            &place,
            Amount::Length(length),
            "length of the row",
        );
        counting.rows.push(row.of_id(counting.model, screen).note(format!("slot {}", display::mm(vent.slot))));
    }
}

/// Two places along the face.
pub(super) fn between(
    wall: Wall<'_>,
    from: Option<crate::model::Where>,
    to: Option<crate::model::Where>,
) -> (Length, Length) {
    use crate::model::Where;
    let bounds = wall.plan.outline.bounds().unwrap_or_default();
    let place = |place: Option<Where>, end: Length| match place {
        None => end,
        Some(Where::Left) => bounds.left,
        Some(Where::Right) => bounds.right,
        Some(Where::Centre) => Length((bounds.left.0 + bounds.right.0) / 2),
        Some(Where::At(x)) => x,
    };
    (place(from, bounds.left), place(to, bounds.right))
}

/// The tape, strip or bead that carries the air barrier across, where no part of the detail is that strip.
fn tape_of_joint(counting: &mut Counting<'_>, wall: Wall<'_>, run: &Run, joint: &Joint) {
    let Some(with) = &joint.with else { return };
    let model = counting.model;
    let group = model.product_of(with).map_or(Group::Seals, |product| Group::of(product.kind));
    let round_an_opening = matches!(run.place, RunPlace::Opening(_));
    let length = run.segment.length() + if round_an_opening { arithmetic::CORNER_OVERLAP } else { Length::ZERO };
    let basis = if round_an_opening {
        "length and 150 mm overlap at each corner (common practice, no source)"
    } else {
        "length of the edge"
    };
    let what = format!("air barrier to {}", joint.target);
    let row = Row::new(group, &what, &wall.face.name, &run.name, Amount::Length(length), basis);
    counting.rows.push(row.of_stuff(model, with));
}

/// Profiles along edges, with their holes' screws.
fn profiles(counting: &mut Counting<'_>, wall: Wall<'_>) {
    let runs: Vec<&Run> = counting.plan.runs_of(wall.id).map(|(_, run)| run).collect();
    let lengths = trims::of_profiles(counting.model, counting.plan, wall.id, trims::CUT_FOR);
    for trim in &wall.face.trims {
        let place = format!("{}.{}", wall.face.name, trim.name);
        let Some(line) = holes::trim_line(wall.face, &runs, trim) else { continue };
        let product = counting.model.product(trim.product);
        let length = line.length();
        let mut row = Row::new(
            Group::Trims,
            "profile",
            &wall.face.name,
            &place,
            Amount::Length(length),
            "length of the edge it lies on",
        )
        .of(product);
        let pieces: Vec<_> = lengths.iter().filter(|piece| piece.name == place).collect();
        let longest = pieces.iter().map(|piece| piece.length).max();
        if let Some(longest) = longest.filter(|_| product.is_some_and(|product| !product.stock.is_empty())) {
            row.laid = Some(Amount::Length(pieces.iter().map(|piece| piece.length).sum()));
            row.note = format!("{} pieces of at most {}, laps counted", pieces.len(), display::mm(longest));
        }
        counting.rows.push(row);
        if let Some(stuff) = &trim.isolated {
            let row = Row::new(
                Group::Tapes,
                "isolation",
                &wall.face.name,
                &place,
                Amount::Length(length),
                "along the profile",
            );
            counting.rows.push(row.of_stuff(counting.model, stuff));
        }
        screws_of_profile(counting, wall, wall.id, trim, &place);
    }
}

fn screws_of_profile(counting: &mut Counting<'_>, wall: Wall<'_>, id: FaceId, trim: &crate::model::Trim, place: &str) {
    let Some(fasten) = &trim.fasten else { return };
    let fixing: Vec<_> = trim.holes.iter().filter(|row| row.purpose == "fix").collect();
    let found: Result<u64, String> = fixing
        .iter()
        .map(|row| holes::holes(counting.model, counting.plan, id, trim, row).map(|holes| holes.len() as u64))
        .sum();
    let row = Row::new(
        Group::Fasteners,
        "for a profile",
        &wall.face.name,
        place,
        Amount::Count(0),
        "one in each fixing hole",
    );
    let row = row.of_id(counting.model, fasten.product).note(fasteners::size(fasten));
    counting.rows.push(match found {
        _ if fixing.is_empty() => row.lacks("no fixing holes were said"),
        Ok(count) => Row { net: Some(Amount::Count(count)), ..row },
        Err(fact) => row.lacks(&fact),
    });
}

/// Trims round openings that no part of the detail is.
fn casings(counting: &mut Counting<'_>, wall: Wall<'_>) {
    for opening in &wall.face.openings {
        let Some((width, _)) = opening.trims else { continue };
        let detail = opening.detail.and_then(|id| counting.model.detail(id));
        let has_trims =
            |kind: &str| detail.is_some_and(|detail| detail.place(kind).parts.iter().any(|part| part.kind == "trim"));
        if has_trims("head") || has_trims("jamb") {
            continue;
        }
        let shape = trims::Shape { kind: "trim", ..trims::Shape::default() };
        let beyond =
            |kind: &str| trims::reach(kind, shape, trims::trim_and_reveal(Some(opening))).0.into_iter().sum::<Length>();
        let head = opening.width + beyond("head");
        let jambs = (opening.height + beyond("jamb")) * 2;
        let place = format!("{}.{}", wall.face.name, opening.name);
        let basis = "head over two jambs, square-cut, with reveals; no sill";
        let row = Row::new(Group::Trims, "casing", &wall.face.name, &place, Amount::Length(head + jambs), basis);
        let row = Row { item: "casing, product not said".to_owned(), ..row };
        counting.rows.push(row.note(format!("{} wide", display::mm(width))));
    }
}
