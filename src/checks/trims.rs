//! Trims along edges as rules walk them: where each lies, and how many stock lengths it is made of.

use crate::checks::pieces::{faces, runs_beside_trims};
use crate::checks::{CheckContext, Finding};
use crate::geometry::Segment;
use crate::layout::holes;
use crate::model::{FaceId, Material, Product, Trim};
use crate::units::Length;

/// One trim where it lies.
pub struct Laid<'c> {
    /// The face.
    pub face: FaceId,
    /// As declared.
    pub trim: &'c Trim,
    /// What it is.
    pub product: &'c Product,
    /// What that is of, if said.
    pub material: Option<&'c Material>,
    /// Dotted name: `north.base_channel`.
    pub subject: String,
    /// From where to where.
    pub line: Segment,
}

/// Asks a rule of every trim, and puts each finding at its place on the wall.
pub fn judge_each<'c>(
    context: &CheckContext<'c>,
    judge: impl Fn(&CheckContext<'c>, &Laid<'c>) -> Option<Finding>,
) -> Vec<Finding> {
    let placed = laid(context).into_iter().filter_map(|piece| {
        let finding = judge(context, &piece)?;
        Some(context.on_face(finding, piece.face, &piece.trim.name, piece.line.from, piece.line.to))
    });
    placed.collect()
}

/// All trims of sound faces that lie on something.
fn laid<'c>(context: &CheckContext<'c>) -> Vec<Laid<'c>> {
    let model = context.model;
    let mut found = Vec::new();
    for (id, face) in faces(model) {
        let runs = runs_beside_trims(context, id, face);
        for trim in &face.trims {
            let placed = holes::trim_line(face, &runs, trim).zip(model.product(trim.product));
            found.extend(placed.map(|(line, product)| Laid {
                face: id,
                trim,
                product,
                material: product.of.and_then(|of| model.material(of)),
                subject: format!("{}.{}", face.name, trim.name),
                line,
            }));
        }
    }
    found
}

impl Laid<'_> {
    /// The longest length it is sold in.
    pub fn stock(&self) -> Option<Length> {
        self.product.stock.iter().copied().max().filter(|stock| *stock > Length::ZERO)
    }

    /// Whether it takes more than one length; `None` if no stock length is said.
    pub fn is_joined(&self) -> Option<bool> {
        Some(self.line.length() > self.stock()?)
    }

    /// Of how many lengths it is made at least, laps taken off; `None` if no stock length is said.
    pub fn lengths(&self) -> Option<i64> {
        let (line, stock, lap) = (self.line.length(), self.stock()?, self.trim.lap.unwrap_or_default());
        let covers = (stock - lap).max(Length::mm(1));
        let rest = (line - stock).max(Length::ZERO).0;
        Some(1 + rest / covers.0 + i64::from(rest % covers.0 > 0))
    }
}
