//! What to do about a finding, for edits and programs: the help says the same to people.

use crate::units::Length;

/// A step that mends a finding, with the number the rule worked out.
#[derive(Clone, Debug, PartialEq)]
pub enum Remedy {
    /// Lap two lengths by this.
    Lap(Length),
    /// A stem this long.
    Stem(Length),
    /// Lay boards at this exposure.
    Exposure(Length),
    /// Make a layer thicker by this.
    Thicken(Length),
    /// Raise the base by this.
    RaiseBase(Length),
    /// Shift a row of holes by this, to the right as seen from outside.
    ShiftRow(Length),
    /// Move a joint from one place to another, from the left end.
    MoveJoint {
        /// Where it is.
        from: Length,
        /// Where it belongs.
        to: Length,
    },
    /// Set slots lower by this.
    LowerSlots(Length),
    /// End a section at this height, on this course line.
    EndSection {
        /// Above the datum.
        height: Length,
        /// Number of the course line.
        course: i64,
    },
    /// Set fasteners so far apart.
    Spacing {
        /// Away from the corners; `None`: as it is.
        field: Option<Length>,
        /// At the corners.
        corner: Option<Length>,
    },
    /// A fastener of this length.
    FastenerLength(Length),
    /// Fall of a flashing, as rise over run.
    Slope(f64),
    /// Take a kit up in so many loads.
    Loads(u64),
    /// The word of the language that belongs there.
    Word(String),
}
