//! How far a frame settles as its horizontal wood dries.

use super::number;
use crate::model::{Face, FloorLine, Model};
use crate::physics::movement;
use crate::units::Length;

/// How far the frame settles at one floor, in metres; the error is the missing fact.
pub fn of_floor(model: &Model, line: &FloorLine) -> Result<f64, String> {
    let (_, per_percent) = number(model, "frame.shrinkage")?;
    let wood = line.wood.ok_or_else(|| format!("`wood` of floor line `{}` is not said", line.name))?;
    let (from, to) = line.moisture.ok_or_else(|| format!("`moisture` of floor line `{}` is not said", line.name))?;
    Ok(movement::frame_shrinkage(wood.as_m(), from, to, per_percent))
}

/// How far the frame settles below a height, in metres: all floors at or below it.
pub fn below(model: &Model, face: &Face, height: Length) -> Result<f64, String> {
    let lines: Vec<_> = face.floor_lines.iter().filter(|line| line.height <= height).collect();
    if lines.is_empty() {
        return Err(format!("no `floor_line` of `{}` at or below it says how the frame settles", face.name));
    }
    lines.into_iter().map(|line| of_floor(model, line)).sum()
}
