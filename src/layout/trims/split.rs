//! A line of trim cut into lengths that are sold: laps or gaps between them, joints on what carries.

use crate::units::Length;

/// Shortest piece worth fixing where another cut avoids it. Common practice, no source.
const SHORT: Length = Length::mm(300);

/// How two lengths meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Join {
    /// One over the other by so much.
    Lap(Length),
    /// Apart by so much.
    Gap(Length),
}

impl Join {
    /// What both lengths have beyond the middle of the joint; negative for a gap.
    fn over(self) -> Length {
        match self {
            Join::Lap(lap) => lap,
            Join::Gap(gap) => -gap,
        }
    }
}

/// Starts and lengths of the pieces of a line of `length`, `ends` left free at both ends. Joints lie in the middle of supports (places
/// along the line) where some are given and one is in reach; else at full lengths, the last two alike where the rest is short.
pub fn split(
    length: Length,
    stock: Option<Length>,
    join: Join,
    ends: [Length; 2],
    supports: &[Length],
) -> Vec<(Length, Length)> {
    let (from, to) = (ends[0], length - ends[1]);
    let Some(stock) = stock.filter(|&stock| stock > Length::ZERO && to - from > stock) else {
        return vec![(from, (to - from).max(Length::ZERO))];
    };
    let over = join.over();
    let half = over / 2;
    // A lap that eats the length leaves nothing to gain from one more piece.
    if stock - over <= Length::MM {
        return vec![(from, (to - from).max(Length::ZERO))];
    }
    let mut pieces = Vec::new();
    let mut start = from;
    while to - start > stock && pieces.len() < 10_000 {
        let reach = start + stock - half;
        let rest_after = |joint: Length| to - (joint - half);
        let fits = |joint: &Length| *joint > start + half.abs() && *joint <= reach;
        let far = supports.iter().copied().filter(fits).filter(|&joint| rest_after(joint) >= SHORT).max();
        let free = || if to - reach + half < SHORT { start + (to - start) / 2 } else { reach };
        let joint = far.unwrap_or_else(free);
        pieces.push((start, joint + half - start));
        start = joint - half;
    }
    pieces.push((start, to - start));
    pieces
}
