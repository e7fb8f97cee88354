//! Finds the name a person probably meant.

/// The candidate nearest to `given`: at most a third of its letters wrong. Ties go to the first by name.
pub fn nearest<'a>(given: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let allowed = (given.chars().count() / 3).max(1);
    candidates
        .into_iter()
        .map(|candidate| (distance(given, candidate), candidate))
        .filter(|&(far, candidate)| far <= allowed && candidate != given)
        .min()
        .map(|(_, candidate)| candidate)
}

/// A ready line of help, or nothing when no candidate is near.
pub fn did_you_mean<'a>(given: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<String> {
    nearest(given, candidates).map(|name| format!("did you mean `{name}`?"))
}

/// Edit distance with adjacent swaps counted as one slip, in characters.
fn distance(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let mut rows = vec![(0..=b.len()).collect::<Vec<usize>>()];
    for i in 1..=a.len() {
        let mut row = vec![i];
        for j in 1..=b.len() {
            let substituted = rows[i - 1][j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut best = substituted.min(rows[i - 1][j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                best = best.min(rows[i - 2][j - 2] + 1);
            }
            row.push(best);
        }
        rows.push(row);
    }
    rows[a.len()][b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_finds_its_word_and_a_stranger_finds_none() {
        let words = ["furring", "flashing", "fasten", "gap"];
        assert_eq!(nearest("furing", words), Some("furring"));
        assert_eq!(nearest("falshing", words), Some("flashing"));
        assert_eq!(nearest("window", words), None);
        assert_eq!(nearest("gap", words), None);
    }
}
