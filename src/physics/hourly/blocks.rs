//! Rows of two equations each, tied to the rows beside them: elimination downward, answers upward.

/// Two by two, row by row.
pub(super) type Block = [f64; 4];
/// Two numbers of one cell.
pub(super) type Pair = [f64; 2];

/// One row: `before` × answer above + `own` × answer + `after` × answer below = `right`.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Row {
    pub before: Block,
    pub own: Block,
    pub after: Block,
    pub right: Pair,
}

/// Answers of all rows, put in `right`; false where a row has none.
pub(super) fn solve(rows: &mut [Row]) -> bool {
    for at in 0..rows.len() {
        if at > 0 {
            let (after, right) = (rows[at - 1].after, rows[at - 1].right);
            let before = rows[at].before;
            let (taken, shift) = (times(&before, &after), apply(&before, &right));
            let row = &mut rows[at];
            (0..4).for_each(|k| row.own[k] -= taken[k]);
            (0..2).for_each(|k| row.right[k] -= shift[k]);
        }
        let Some(inverse) = inverse(&rows[at].own) else { return false };
        let row = &mut rows[at];
        row.after = times(&inverse, &row.after);
        row.right = apply(&inverse, &row.right);
    }
    for at in (1..rows.len()).rev() {
        let below = rows[at].right;
        let row = &mut rows[at - 1];
        let shift = apply(&row.after, &below);
        (0..2).for_each(|k| row.right[k] -= shift[k]);
    }
    rows.iter().all(|row| row.right[0].is_finite() && row.right[1].is_finite())
}

fn times(a: &Block, b: &Block) -> Block {
    [a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3], a[2] * b[0] + a[3] * b[2], a[2] * b[1] + a[3] * b[3]]
}

fn apply(a: &Block, x: &Pair) -> Pair {
    [a[0] * x[0] + a[1] * x[1], a[2] * x[0] + a[3] * x[1]]
}

fn inverse(a: &Block) -> Option<Block> {
    let scale = 1.0 / (a[0] * a[3] - a[1] * a[2]);
    scale.is_finite().then(|| [a[3] * scale, -a[1] * scale, -a[2] * scale, a[0] * scale])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_rows_give_back_what_they_were_made_from() {
        let answers = [[1.0, -2.0], [0.5, 3.0], [4.0, 0.25]];
        let mut rows = [Row::default(); 3];
        for (at, row) in rows.iter_mut().enumerate() {
            let k = at as f64;
            row.before = if at > 0 { [0.3, 0.1 * k, -0.2, 0.4] } else { Block::default() };
            row.own = [5.0 + k, 1.0, -0.5, 4.0];
            row.after = if at < 2 { [0.2, -0.3, 0.1, 0.6] } else { Block::default() };
            let mut right = apply(&row.own, &answers[at]);
            for (block, other) in [(row.before, at.wrapping_sub(1)), (row.after, at + 1)] {
                if let Some(answer) = answers.get(other) {
                    let part = apply(&block, answer);
                    (0..2).for_each(|k| right[k] += part[k]);
                }
            }
            row.right = right;
        }
        assert!(solve(&mut rows));
        for (row, answer) in rows.iter().zip(answers) {
            assert!((row.right[0] - answer[0]).abs() < 1e-12 && (row.right[1] - answer[1]).abs() < 1e-12);
        }
        assert!(!solve(&mut [Row::default()]));
    }
}
