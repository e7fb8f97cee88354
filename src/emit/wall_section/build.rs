//! The layers of an assembly as slabs between two depths from the outside, with their hatches and their words.

use crate::emit::drawing::Hatch;
use crate::model::{Assembly, Fasten, Frame, Furring, Gap, Layer, LayerKind, Model, Openness, Stuff};
use crate::units::{Length, System, display};

/// One layer in the cut.
pub(super) struct Slab<'m> {
    pub layer: &'m Layer,
    /// Its outer face, from the outside of the wall.
    pub from: Length,
    /// Its inner face; the same as the outer one for a sheet and for a layer that says no thickness.
    pub to: Length,
    /// A membrane, film or paint.
    pub is_sheet: bool,
    /// No thickness was said.
    pub unknown: bool,
}

impl<'m> Slab<'m> {
    /// The gap, if it is one.
    pub fn gap(&self) -> Option<&'m Gap> {
        match &self.layer.kind {
            LayerKind::Gap(gap) => Some(gap),
            _ => None,
        }
    }

    /// The framing, if it is that.
    pub fn frame(&self) -> Option<&'m Frame> {
        match &self.layer.kind {
            LayerKind::Frame(frame) => Some(frame),
            _ => None,
        }
    }
}

/// Outside to inside.
pub(super) fn slabs<'m>(model: &Model, assembly: &'m Assembly) -> Vec<Slab<'m>> {
    let mut depth = Length::ZERO;
    let mut slabs = Vec::new();
    for layer in &assembly.layers {
        let thickness = model.thickness_of(layer);
        let to = Length(depth.0.saturating_add(thickness.unwrap_or(Length::ZERO).0.max(0)));
        let is_sheet = model.is_membrane(&layer.stuff);
        slabs.push(Slab { layer, from: depth, to, is_sheet, unknown: thickness.is_none() });
        depth = to;
    }
    slabs
}

/// The hatch of a material where it is cut across its run (`across`), or along it.
pub(crate) fn hatch(model: &Model, stuff: &Stuff, across: bool) -> Hatch {
    let material = model.material_of(stuff);
    match material.map(|material| material.kind) {
        Some("wood") if across => Hatch::EndGrain,
        Some("wood" | "wood_board") => Hatch::Board,
        Some("metal") => Hatch::Metal,
        Some("foam") => Hatch::InsulationBoard,
        Some("mineral" | "fibre") => Hatch::Insulation,
        Some("concrete" | "masonry" | "gypsum" | "fibre_cement") => Hatch::Concrete,
        Some("membrane" | "sealant") => Hatch::Membrane,
        _ => Hatch::Board,
    }
}

/// How the layer is named beside the drawing: name, what it is of, thickness, what it controls.
pub(super) fn words(model: &Model, slab: &Slab<'_>, lead: System) -> (String, String) {
    let layer = slab.layer;
    let both = |length| display::both(length, lead);
    let mut parts: Vec<String> = Vec::new();
    if !layer.stuff.name.is_empty() {
        parts.push(layer.stuff.name.clone());
    }
    match &layer.kind {
        LayerKind::Gap(gap) => parts.extend(gap_words(gap, lead)),
        LayerKind::Frame(frame) => parts.extend(frame_words(frame, lead)),
        LayerKind::Existing => parts.push("there before".to_owned()),
        LayerKind::Solid => {}
    }
    if slab.unknown {
        parts.push("thickness not said".to_owned());
    } else if !(slab.is_sheet && slab.from == slab.to) && slab.gap().is_none() {
        parts.push(both(Length(slab.to.0 - slab.from.0)));
    }
    if let Some(lap) = layer.lap {
        let way = layer.lapped.map(|way| format!(" {}", way.replace('_', " "))).unwrap_or_default();
        parts.push(format!("laps {}{way}", both(lap)));
    }
    parts.extend(layer.seam.and_then(|seam| model.product(seam)).map(|tape| format!("seams {}", tape.name)));
    parts.extend(layer.exposure.map(|(least, most)| {
        if least == most {
            format!("exposure {}", both(least))
        } else {
            format!("exposure {} to {}", display::mm_figure(least), both(most))
        }
    }));
    (layer.name.clone(), parts.join(" · "))
}

fn gap_words(gap: &Gap, lead: System) -> Vec<String> {
    let depth = if gap.depth.0 == gap.depth.1 {
        format!("gap {}", display::both(gap.depth.0, lead))
    } else {
        format!("gap {} to {}", display::mm_figure(gap.depth.0), display::both(gap.depth.1, lead))
    };
    let open = match gap.openness {
        Some(Openness::Ventilated) => "ventilated: open at bottom and top",
        Some(Openness::Vented) => "vented: open at the bottom only",
        None => "vented or ventilated not said",
    };
    vec![depth, open.to_owned()]
}

fn frame_words(frame: &Frame, lead: System) -> Vec<String> {
    let mut parts = vec![format!("{} × {}", display::mm_figure(frame.width), display::mm_figure(frame.depth))];
    parts.extend(frame.spacing.map(|spacing| format!("every {} on centre", display::both(spacing, lead))));
    parts.extend(frame.fill.as_ref().map(|fill| format!("filled with {}", fill.name)));
    parts
}

/// A strip in the gap, with the depths of its two faces.
pub(super) struct Strip<'m> {
    pub furring: &'m Furring,
    pub from: Length,
    pub to: Length,
}

/// Strips of a gap, the outermost first.
pub(super) fn strips<'m>(slab: &Slab<'m>) -> Vec<Strip<'m>> {
    let mut depth = slab.from;
    let mut strips = Vec::new();
    for furring in slab.gap().into_iter().flat_map(|gap| &gap.furring) {
        let to = Length(depth.0.saturating_add(furring.thickness.0.max(0)));
        strips.push(Strip { furring, from: depth, to });
        depth = to;
    }
    strips
}

/// A fastener in the cut: from its head inwards.
pub(super) struct Shank<'m> {
    pub fasten: &'m Fasten,
    /// What it holds: `boards`, `furring`.
    pub of: String,
    /// Its head.
    pub from: Length,
    /// Its tip; the head if its length was not said.
    pub to: Length,
    /// Outer face of what it holds in, if it is in the cut.
    pub into: Option<Length>,
}

/// Fasteners of the layers and of the strips that say their length.
pub(super) fn shanks<'m>(model: &'m Model, slabs: &[Slab<'m>]) -> Vec<Shank<'m>> {
    let mut found = Vec::new();
    for slab in slabs {
        let strips = strips(slab);
        let own = slab.layer.fasten.as_ref().filter(|_| slab.gap().is_none());
        let of_strips =
            strips.iter().filter_map(|strip| Some((strip.furring.fasten.as_ref()?, "furring".to_owned(), strip.from)));
        let all = own.map(|fasten| (fasten, slab.layer.name.clone(), slab.from)).into_iter().chain(of_strips);
        for (fasten, of, from) in all {
            let length = fasten.length.or_else(|| model.product(fasten.product)?.lengths.first().copied());
            let Some(length) = length else { continue };
            let into = fasten.into.and_then(|into| face_of(slabs, into));
            let to = Length(from.0.saturating_add(length.0.max(0)));
            if !found.iter().any(|known: &Shank<'_>| known.from == from && known.to == to && known.of == of) {
                found.push(Shank { fasten, of, from, to, into });
            }
        }
    }
    found
}

/// The outer face of what a fastener says it holds in.
fn face_of(slabs: &[Slab<'_>], into: &str) -> Option<Length> {
    match into {
        "furring" => slabs.iter().find_map(|slab| strips(slab).first().map(|strip| strip.from)),
        "sheathing" => {
            let inner = slabs.iter().position(|slab| slab.frame().is_some())?;
            slabs.iter().take(inner).rev().find(|slab| !slab.is_sheet).map(|slab| slab.from)
        }
        _ => slabs.iter().find(|slab| slab.frame().is_some()).map(|slab| slab.from),
    }
}
