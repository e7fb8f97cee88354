//! Strips that are deeper than their gap and run on through the insulation behind it, with counter strips behind them.

use super::slabs::{Crossing, Slab};
use crate::figures::Trust;
use crate::figures::layers::insulates;
use crate::layout::stack;
use crate::model::{Assembly, Furring, Layer, LayerKind, Model, Stuff};
use crate::physics::resistance::resistance;
use crate::units::{Length, Range};

/// One line of strips, from and to so deep behind the gap.
struct Strips<'w> {
    stuff: &'w Stuff,
    from: Length,
    to: Length,
    width: Option<Length>,
    spacing: Option<Length>,
}

/// Tells the layers behind the gap, which lie in `slabs`, what runs through them; the error is the missing fact.
pub(super) fn mark(model: &Model, wall: &Assembly, slabs: &mut [Slab], trust: &mut Trust) -> Result<(), String> {
    let Some(gap) = stack::gap(wall) else { return Ok(()) };
    for strips in strips(wall) {
        let mut outer = Length::ZERO;
        for (layer, slab) in wall.layers.iter().skip(gap + 1).zip(slabs.iter_mut()) {
            if model.is_membrane(&layer.stuff) {
                continue;
            }
            if !matches!(layer.kind, LayerKind::Solid | LayerKind::Existing) || !insulates(model, layer) {
                break;
            }
            let thick = model.thickness_within(layer).ok_or_else(|| format!("thickness of `{}`", layer.name))?.1;
            let (from, to) = (strips.from.max(outer), strips.to.min(outer + thick));
            if to > from && slab.beside.is_empty() {
                slab.crossed.push(crossing(model, layer, &strips, to - from, trust)?);
            }
            outer += thick;
        }
    }
    Ok(())
}

/// All that reaches behind the gap, outermost first.
fn strips(wall: &Assembly) -> Vec<Strips<'_>> {
    let Some((_, gap)) = wall.gap() else { return Vec::new() };
    let behind = |depth: Length| (depth - gap.depth.1).max(Length::ZERO);
    let each = |furring: &'_ Furring| -> Vec<(Length, Length)> {
        let inner = furring.counter.as_ref().map_or(Length::ZERO, |(_, counter)| *counter);
        vec![(Length::ZERO, furring.thickness), (furring.thickness, furring.thickness + inner)]
    };
    let mut found = Vec::new();
    for furring in &gap.furring {
        let stuffs = [Some(&furring.stuff), furring.counter.as_ref().map(|(stuff, _)| stuff)];
        let widths = [furring.width, furring.counter_width.or(furring.width)];
        for ((stuff, width), (from, to)) in stuffs.into_iter().zip(widths).zip(each(furring)) {
            let Some(stuff) = stuff.filter(|_| behind(to) > behind(from)) else { continue };
            found.push(Strips { stuff, from: behind(from), to: behind(to), width, spacing: furring.spacing });
        }
    }
    found
}

fn crossing(
    model: &Model,
    layer: &Layer,
    strips: &Strips<'_>,
    depth: Length,
    trust: &mut Trust,
) -> Result<Crossing, String> {
    let name = &strips.stuff.name;
    if model.material_of(strips.stuff).is_some_and(|material| material.kind == "metal") {
        return Err(super::slabs::no_sum_for_metal(name));
    }
    let width = strips.width.ok_or_else(|| format!("width of `{name}`"))?;
    let spacing = strips.spacing.ok_or_else(|| format!("how far apart `{name}` stands (`every`)"))?;
    let mut so_much = |stuff: &Stuff| -> Result<Range, String> {
        let conductivity = model.material_of(stuff).and_then(|material| material.conductivity.as_ref());
        let conductivity = conductivity.ok_or_else(|| format!("conductivity of `{}` (`conductivity`)", stuff.name))?;
        trust.sourced(conductivity, || format!("conductivity of {}", stuff.name.replace('_', " ")));
        let ends = (conductivity.value.high, conductivity.value.low);
        let both = resistance(depth.as_m(), ends.0).zip(resistance(depth.as_m(), ends.1));
        let (least, most) = both.ok_or_else(|| format!("conductivity of `{}` above 0", stuff.name))?;
        Ok(Range::between(least, most))
    };
    let fill = so_much(&layer.stuff)?;
    let strip = so_much(strips.stuff)?;
    let share = if spacing > Length::ZERO { width.as_m() / spacing.as_m() } else { 1.0 };
    Ok(Crossing { fill, share: share.min(1.0), strip })
}
