//! Frost on wet layers: hours of it, and thaws after it.

use crate::physics::hourly::Run;

/// A cell that holds more of its free saturation than this is wet enough for frost to count: ours, near the share at which
/// masonry is told to suffer (from memory).
pub(super) const WET: f64 = 0.8;

/// Of one layer in the second year.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Frost {
    /// Hours below 0 °C with a wet cell in it.
    pub hours: usize,
    /// Thaws after such an hour, of the cell that thaws most often.
    pub thaws: usize,
}

/// Follows one layer.
pub(super) struct Watch {
    piece: usize,
    /// Of each cell: whether it froze while wet and has not thawed, and how often it thawed.
    cells: Vec<(bool, usize)>,
    hours: usize,
}

impl Watch {
    pub fn of(piece: usize) -> Self {
        Self { piece, cells: Vec::new(), hours: 0 }
    }

    /// Looks at the layer at the end of an hour.
    pub fn note(&mut self, run: &Run<'_>) {
        let now: Vec<(f64, f64)> = run.filling(self.piece).collect();
        self.see(&now);
    }

    fn see(&mut self, now: &[(f64, f64)]) {
        self.cells.resize(now.len(), (false, 0));
        let mut any = false;
        for ((celsius, filled), (frozen, thaws)) in now.iter().zip(&mut self.cells) {
            if *celsius < 0.0 && *filled > WET {
                any = true;
                *frozen = true;
            } else if *celsius >= 0.0 && *frozen {
                *frozen = false;
                *thaws += 1;
            }
        }
        self.hours += usize::from(any);
    }

    /// What came of it; nothing for a layer that takes no water.
    pub fn frost(&self) -> Option<Frost> {
        let thaws = self.cells.iter().map(|(_, thaws)| *thaws).max()?;
        Some(Frost { hours: self.hours, thaws })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thaw_counts_once_and_only_after_frost_on_what_is_wet() {
        let mut watch = Watch::of(0);
        assert_eq!(watch.frost(), None);
        // Dry frost, wet frost for two hours, dried in frost, thaw, wet thaw, wet frost.
        for hour in [(-3.0, 0.5), (-3.0, 0.9), (-1.0, 0.85), (-1.0, 0.7), (1.0, 0.7), (2.0, 0.9), (-0.5, 0.95)] {
            watch.see(&[hour, (5.0, 0.2)]);
        }
        assert_eq!(watch.frost(), Some(Frost { hours: 3, thaws: 1 }));
    }
}
