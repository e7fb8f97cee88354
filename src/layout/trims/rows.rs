//! Rows of holes on one piece: marks from its left (or lower) end, each worked out by itself.

use crate::layout::holes;
use crate::units::Length;

/// From the edge of a strip to a fastener that is not in its middle. Common practice, no source.
const IN_STRIP: Length = Length::mm(12);

/// Where a hole belongs along a line, and what carries it there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Along the line.
    pub at: Length,
    /// Half the width of the strip or stud; zero where only the middle will do.
    pub half: Length,
}

impl From<Length> for Place {
    fn from(at: Length) -> Self {
        Self { at, half: Length::ZERO }
    }
}

/// How the marks of a row are found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Rule {
    /// Places along the whole line: on strips or studs, mid-bay, or true spacing from its end.
    Places(Vec<Place>),
    /// Both ends of each piece alike, at most so far apart.
    BothEnds(Length),
}

/// One hole to make.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mark {
    /// From the left (or lower) end of the piece, along its long edge.
    pub at: Length,
    /// In a lap: drill both lengths together, slot the lower one.
    pub paired: bool,
    /// Length of the slot it must be; none for a round hole.
    pub slot: Option<Length>,
    /// The one point that does not slide.
    pub fixed: bool,
}

/// One row of one piece.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceRow {
    /// `fix`, `weep`, `vent`.
    pub purpose: &'static str,
    /// Diameter, or height of a slot.
    pub size: Length,
    /// Length of a slot that the row itself asks for.
    pub slot: Option<Length>,
    /// `face`, `floor`, `back`.
    pub leg: Option<&'static str>,
    /// The rule in words.
    pub rule: String,
    /// In order from the left (or lower) end.
    pub marks: Vec<Mark>,
    /// Places where a hole would have come, and why it does not: from the left end.
    pub left_out: Vec<(Length, &'static str)>,
    /// The missing fact, if it could not be set out.
    pub lacks: Option<String>,
}

/// What keeps holes clear of the ends of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Clear {
    /// Least distance from each end: end distance, mitre.
    pub ends: [Length; 2],
    /// Laps at each end; zero where there is none.
    pub laps: [Length; 2],
}

/// Least distance of a hole from the long point of a mitre: `x_min = y·tan φ + c/cos φ`, `c = max(3d, 12 mm)`; `y` from the long
/// edge, `φ` in degrees from square. Trade arithmetic, common practice, no source.
pub fn from_mitre(across: Length, degrees: f64, diameter: Length) -> Length {
    let (angle, clear) = (degrees.abs().min(80.0).to_radians(), (diameter * 3).max(Length::mm(12)));
    Length::snap_mm(across.as_mm() * libm::tan(angle) + clear.as_mm() / libm::cos(angle))
}

/// Marks of a piece that starts at `start` along its line, and what was left out. `fixing` holes may lie in laps, as pairs.
pub fn on_piece(
    rule: &Rule,
    start: Length,
    length: Length,
    clear: Clear,
    fixing: bool,
) -> (Vec<Mark>, Vec<(Length, &'static str)>) {
    let mark = |at: Length, paired: bool| Mark { at, paired, slot: None, fixed: false };
    let (mut marks, mut left_out) = (Vec::new(), Vec::new());
    match rule {
        Rule::BothEnds(most) => {
            let [left, right] = [0, 1].map(|end: usize| clear.ends[end].max(clear.laps[end]));
            let room = length - left - right;
            if room <= Length::ZERO {
                marks.push(mark(length / 2, false));
            } else {
                marks.extend(holes::both_ends(room, Length::ZERO, *most).into_iter().map(|at| mark(left + at, false)));
            }
        }
        Rule::Places(places) => {
            let own = places.iter().map(|&place| reached(place, start, length, clear, fixing));
            for at in own.filter(|&at| at >= Length::ZERO && at <= length) {
                let paired = at < clear.laps[0] || at > length - clear.laps[1];
                if at < clear.ends[0] || at > length - clear.ends[1] {
                    left_out.push((at, "too near the end"));
                } else if paired && !fixing {
                    left_out.push((at, "in the lap"));
                } else {
                    marks.push(mark(at, paired));
                }
            }
        }
    }
    (marks, left_out)
}

/// Where the hole of a place comes on a piece: in the middle of what carries, or, where that lies too near to an end, at the end
/// distance if the strip still carries there. Holes in laps stay in the middle, for two lengths share them.
fn reached(place: Place, start: Length, length: Length, clear: Clear, fixing: bool) -> Length {
    let at = place.at - start;
    let room = if fixing { (place.half - IN_STRIP).max(Length::ZERO) } else { Length::ZERO };
    let [first, last] = [clear.ends[0], length - clear.ends[1]];
    if at < first && first - at <= room && clear.laps[0] == Length::ZERO {
        first
    } else if at > last && at - last <= room && clear.laps[1] == Length::ZERO {
        last
    } else {
        at
    }
}
