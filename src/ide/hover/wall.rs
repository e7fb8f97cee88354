//! A wall as layers: thickness, resistance, transmittance, which layer keeps what out.

use super::{Desk, gap, list, made_by};
use crate::figures::heat;
use crate::figures::layers::{first_inboard, insulates, permeance};
use crate::ide::shown::{self, quantity};
use crate::model::{Assembly, Layer, LayerKind, Model};
use crate::source::Span;
use crate::syntax::Statement;
use crate::units::{Dimension, Length, Range, System, display};

/// What the layers of a wall come to; absent where a fact is missing.
#[derive(Clone, Debug, PartialEq)]
pub struct Sums {
    /// All layers together; sheets count as nothing.
    pub thickness: Option<Length>,
    /// From room air to outside air where no stud stands, m²·K/W; the error is the missing fact.
    pub resistance: Result<Range, String>,
}

/// What the layers of a wall come to. A gap and what stands outboard of it do not count for heat.
pub fn sums(model: &Model, wall: &Assembly) -> Sums {
    let thickness = wall.layers.iter().map(|layer| model.thickness_of(layer)).sum();
    Sums { thickness, resistance: heat::between(model, wall) }
}

/// The wall a declaration makes, with the arguments it has first.
fn find<'g>(desk: &Desk<'g>, keyword: Span) -> Option<&'g Assembly> {
    desk.glance.model.assemblies.iter().find(|wall| made_by(wall.origin, keyword))
}

/// An assembly.
pub(super) fn assembly(desk: &Desk<'_>, keyword: Span) -> Vec<String> {
    let Some(wall) = find(desk, keyword) else { return Vec::new() };
    let model = &desk.glance.model;
    let layers: Vec<String> =
        wall.layers.iter().enumerate().map(|(at, layer)| line(model, (wall, at), layer, desk.units)).collect();
    let sums = sums(model, wall);
    let mut lines = vec!["from outside to inside:".to_owned(), list(&layers)];
    lines.push(match sums.thickness {
        Some(thickness) => format!("thickness {}", display::both(thickness, desk.units)),
        None => "thickness: cannot tell, a layer has none".to_owned(),
    });
    lines.push(heat_line(&sums, desk.units));
    lines.push(list(&controls(model, wall)));
    lines
}

/// R and U where no stud stands in one line, or what is missing to tell.
pub(super) fn heat_line(sums: &Sums, units: System) -> String {
    match &sums.resistance {
        Ok(whole) if whole.low > 0.0 => format!(
            "between studs {}, U {}; the gap and what is outside of it left out (ISO 6946, from memory)",
            within(*whole, |value| shown::resistance(value, units)),
            within(whole.through(|whole| 1.0 / whole), |value| quantity(value, Dimension::TRANSMITTANCE, units))
        ),
        Ok(_) => String::new(),
        Err(missing) => format!("RSI and U: cannot tell, {missing} is missing"),
    }
}

/// One figure, or the least and the most.
fn within(range: Range, shown: impl Fn(f64) -> String) -> String {
    if range.is_exact() { shown(range.low) } else { format!("{} to {}", shown(range.low), shown(range.high)) }
}

/// The same with studs, strips, screws and the air of the gap counted, for a wall that stands on a face.
pub(super) fn standing_line(found: &heat::Told, units: System) -> String {
    match found {
        Ok((sums, sure)) => format!(
            "with studs {}, U {} with screws (ISO 6946; {})",
            within(sums.total, |value| shown::resistance(value, units)),
            within(sums.transmittance, |value| quantity(value, Dimension::TRANSMITTANCE, units)),
            sure.whole.sure.phrase()
        ),
        Err(missing) => format!("RSI and U with studs: cannot tell, {missing} is missing"),
    }
}

/// One layer in a line: name, what of, thickness, resistance where it counts: not outside of the gap.
fn line(model: &Model, (wall, at): (&Assembly, usize), layer: &Layer, units: System) -> String {
    let counted = at >= first_inboard(wall);
    let what = match &layer.kind {
        LayerKind::Gap(gap) => {
            let depth = if gap.depth.0 == gap.depth.1 {
                display::both(gap.depth.0, units)
            } else {
                format!("{} to {}", display::both(gap.depth.0, units), display::both(gap.depth.1, units))
            };
            return format!("{}: gap, {depth}", layer.name);
        }
        LayerKind::Frame(frame) => match &frame.fill {
            Some(fill) => format!("{}, filled with {}", layer.stuff.name, fill.name),
            None => layer.stuff.name.clone(),
        },
        LayerKind::Solid | LayerKind::Existing => layer.stuff.name.clone(),
    };
    let thick = match model.thickness_of(layer) {
        Some(thickness) if thickness > Length::ZERO => format!(", {}", display::both(thickness, units)),
        Some(_) | None => String::new(),
    };
    let warm = match heat::through_fill(model, layer) {
        Ok(value) if value.low > 0.0 && counted => {
            format!(", {}", within(value, |value| shown::resistance(value, units)))
        }
        Ok(_) | Err(_) => String::new(),
    };
    format!("{}: {what}{thick}{warm}", layer.name)
}

/// Drainage plane, air barrier, order of vapour.
fn controls(model: &Model, wall: &Assembly) -> Vec<String> {
    let plane = wall.drainage_plane().map_or("none said".to_owned(), |(_, layer)| layer.name.clone());
    let air: Vec<&str> = wall.air_layers().map(|(_, layer)| layer.name.as_str()).collect();
    let air = match air.as_slice() {
        [] => "none said".to_owned(),
        [one] => (*one).to_owned(),
        more => format!("more than one: {}", more.join(", ")),
    };
    let mut lines = vec![format!("drainage plane: {plane}"), format!("air barrier: {air}")];
    lines.extend(vapour(model, wall));
    lines
}

/// From the room outward, how open each layer is; the tightest is named with its side of the insulation.
fn vapour(model: &Model, wall: &Assembly) -> Option<String> {
    let inner = wall.layers.get(first_inboard(wall)..)?;
    let told: Vec<(usize, &Layer, f64)> = inner
        .iter()
        .enumerate()
        .filter_map(|(at, layer)| Some((at, layer, permeance(model, layer)?.tightest)))
        .filter(|(_, _, value)| value.is_finite())
        .collect();
    let (place, tightest, value) = told.iter().min_by(|one, other| one.2.total_cmp(&other.2))?;
    let warm = inner.iter().rposition(|layer| insulates(model, layer));
    let side = match warm {
        Some(warm) if *place > warm => ", inside of the insulation",
        Some(warm) if *place < warm => ", outside of insulation",
        _ => "",
    };
    let order: Vec<String> =
        told.iter().rev().map(|(_, layer, value)| format!("{} {}", layer.name, perm(*value))).collect();
    Some(format!(
        "vapour: tightest is {} ({}){side}; from the room out: {}",
        tightest.name,
        perm(*value),
        order.join(", ")
    ))
}

fn perm(value: f64) -> String {
    quantity(value, Dimension::PERMEANCE, System::Metric)
}

/// A layer, or what stands in one.
pub(super) fn layer(desk: &Desk<'_>, outer: &Statement, statement: &Statement) -> Vec<String> {
    let Some(wall) = find(desk, outer.keyword.span) else { return Vec::new() };
    let here = |layer: &Layer| made_by(layer.origin, statement.keyword.span);
    let Some((at, layer)) = wall.layers.iter().enumerate().find(|(_, layer)| here(layer)) else { return Vec::new() };
    let model = &desk.glance.model;
    let mut lines = vec![line(model, (wall, at), layer, desk.units)];
    if let LayerKind::Gap(own) = &layer.kind {
        lines.extend(gap::lines(desk, wall, own));
        return lines;
    }
    if let Some(open) = permeance(model, layer).filter(|open| open.tightest.is_finite()) {
        let both = quantity(open.tightest, Dimension::PERMEANCE, desk.units);
        let wet = if open.openest > open.tightest {
            format!(" dry, {} wet", quantity(open.openest, Dimension::PERMEANCE, desk.units))
        } else {
            String::new()
        };
        lines.push(format!("vapour: lets through {both}{wet}"));
    }
    if let Err(missing) = heat::through_fill(model, layer) {
        lines.push(format!("RSI: cannot tell, {missing} is missing"));
    }
    if let Some(out) = model.thickness_outboard_of(wall, at) {
        lines.push(format!("its outer face lies {} behind the outside of the wall", display::both(out, desk.units)));
    }
    lines
}
