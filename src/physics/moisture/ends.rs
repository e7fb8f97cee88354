//! Which walls to reckon where layers are known only within bounds, so that what comes of them holds what comes of any wall between.
//!
//! How warm a place is hangs on its share of the whole resistance: more outboard of it brings it nearer to the room, more inboard
//! nearer to the outside. So at every place the share is least with all that is outboard at its least and all that is inboard at its
//! most, and greatest the other way round; a layer that holds the place counts to one side or the other, since the share runs one way
//! with its resistance too. In a month colder than the room the first is the coldest the place can be, in a warmer one the second.
//! Saturation falls with warmth, so that with the colder place no less vapour stays behind. A split for each layer that is not known,
//! both ways round, holds them all; all at least and all at most are among them. Where water gathers at several places at once no one
//! wall has them all at their coldest: the ends then hold each place by itself, and the sum as nearly as random walls have shown.

use crate::units::Range;

/// The resistances to reckon with: the ends of `layers`, outermost first, split before each that is not exact, both ways round;
/// one answer where all are exact, else two for each that is not.
pub fn splits(layers: &[Range]) -> Vec<Vec<f64>> {
    let open: Vec<usize> = (0..layers.len()).filter(|at| layers.get(*at).is_some_and(|one| !one.is_exact())).collect();
    let turned = |split: usize, outer_is_low: bool| -> Vec<f64> {
        let end = |(at, one): (usize, &Range)| if (at < split) == outer_is_low { one.low } else { one.high };
        layers.iter().enumerate().map(end).collect()
    };
    if open.is_empty() {
        return vec![turned(0, true)];
    }
    open.iter().flat_map(|split| [turned(*split, true), turned(*split, false)]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_open_layer_is_split_at_both_ways_round() {
        let known = Range::exactly(1.0);
        assert_eq!(splits(&[known, known]), [[1.0, 1.0]]);
        let open = Range::between(2.0, 3.0);
        assert_eq!(splits(&[known, open]), [[1.0, 3.0], [1.0, 2.0]]);
        let all = splits(&[open, known, open]);
        // All at most, all at least, and both split before the last.
        assert_eq!(all, [[3.0, 1.0, 3.0], [2.0, 1.0, 2.0], [2.0, 1.0, 3.0], [3.0, 1.0, 2.0]]);
    }
}
