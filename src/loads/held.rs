//! What holds what: the cladding and the furring of a wall with their fasteners, and where in the wall each lies.

use crate::geometry::Segment;
use crate::layout::stack;
use crate::model::{Assembly, FaceId, Fasten, Furring, LayerKind, Material, Model};
use crate::source::Span;
use crate::units::Length;

/// One fastening: what is held, by what, where in the wall.
pub struct Fastening<'m> {
    /// Dotted name of what is held.
    pub subject: String,
    /// What is held, as said in a sentence: "`boards`", "furring of `cavity`".
    pub what: String,
    /// The material of what is held, if it is said.
    pub of: Option<&'m Material>,
    /// The fastener.
    pub fasten: &'m Fasten,
    /// The wall behind.
    pub wall: &'m Assembly,
    /// Thickness of what is held under the head; the error is the missing fact.
    pub held: Result<Length, String>,
    /// Index of the first layer behind what is held; where it is not said what it lies on, that of the innermost it can lie on.
    pub behind: Option<usize>,
    /// Where it is not said: index of the outermost layer it can lie on.
    pub or_behind: Option<usize>,
    /// It holds furring.
    pub is_furring: bool,
    /// It holds shingles.
    pub is_shingle: bool,
    /// It holds cladding.
    pub is_cladding: bool,
    /// Where it is on the wall.
    pub place: Option<(FaceId, Segment)>,
    /// The line a fault is told at: the fastener, or for a part of a detail the place where the detail is used.
    pub at: Span,
}

impl<'m> Fastening<'m> {
    /// One of which no more is known than what it fastens, by what, on which wall.
    pub fn plain(subject: String, fasten: &'m Fasten, wall: &'m Assembly) -> Self {
        Self {
            subject,
            what: String::new(),
            of: None,
            fasten,
            wall,
            held: Ok(Length::ZERO),
            behind: None,
            or_behind: None,
            is_furring: false,
            is_shingle: false,
            is_cladding: false,
            place: None,
            at: fasten.origin,
        }
    }
}

/// What holds the cladding and the furring of one wall; `area` is the dotted name of where it stands.
pub fn of_layers<'m>(model: &'m Model, area: &str, wall: &'m Assembly) -> Vec<Fastening<'m>> {
    let mut found = Vec::new();
    let cladding = stack::cladding(wall);
    for (at, layer) in wall.layers.iter().enumerate() {
        let subject = format!("{area}.{}", layer.name);
        if let LayerKind::Gap(gap) = &layer.kind {
            for furring in &gap.furring {
                let Some(fasten) = &furring.fasten else { continue };
                let counter = furring.counter.as_ref().map_or(Length::ZERO, |(_, depth)| *depth);
                found.push(Fastening {
                    what: format!("the furring of `{}`", layer.name),
                    of: model.material_of(&furring.stuff),
                    held: Ok((furring.thickness + counter).max(gap.depth.1)),
                    behind: Some(at + 1),
                    is_furring: true,
                    ..Fastening::plain(subject.clone(), fasten, wall)
                });
            }
        } else if let Some(fasten) = &layer.fasten {
            let kind = model.product_of(&layer.stuff).map(|product| product.kind);
            found.push(Fastening {
                what: format!("`{}`", layer.name),
                of: model.material_of(&layer.stuff),
                held: model.thickness_of(layer).ok_or_else(|| format!("thickness of `{}` is not said", layer.name)),
                behind: Some(at + 1),
                is_shingle: kind == Some("shingle"),
                is_cladding: cladding == Some(at),
                ..Fastening::plain(subject, fasten, wall)
            });
        }
    }
    found
}

/// Widest distance between regular strips, as declared.
pub fn between_strips(furring: &Furring) -> Option<Length> {
    let mut marks = furring.marks.clone();
    marks.sort_unstable();
    let widest = marks.iter().zip(marks.iter().skip(1)).map(|(one, next)| *next - *one).max();
    widest.or(furring.spacing)
}
