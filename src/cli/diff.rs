//! The difference of two texts, line by line, kept short for the terminal.

use std::fmt::Write as _;

/// Most lines shown for one file.
const SHOWN: usize = 60;
/// Largest table of pairs of lines that is filled; beyond it the whole middle counts as changed.
const PAIRS: usize = 4_000_000;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Step<'a> {
    Same,
    Old(&'a str),
    New(&'a str),
}

/// Lines that go, with `-`, and lines that come, with `+`, each stretch under the number of its line in the old text.
pub(super) fn diff(old: &str, new: &str) -> String {
    let steps = steps(&lines(old), &lines(new));
    let (mut out, mut line, mut shown, mut left) = (String::new(), 1_usize, 0, 0);
    let mut within = false;
    for step in steps {
        let (sign, text) = match step {
            Step::Same => {
                (line, within) = (line + 1, false);
                continue;
            }
            Step::Old(text) => ('-', text),
            Step::New(text) => ('+', text),
        };
        if shown < SHOWN {
            if !within {
                let _ = writeln!(out, "  line {line}");
            }
            let _ = writeln!(out, "  {sign} {}", visible(text));
            shown += 1;
        } else {
            left += 1;
        }
        within = true;
        line += usize::from(sign == '-');
    }
    if left > 0 {
        let _ = writeln!(out, "  and {left} more");
    }
    out
}

fn lines(text: &str) -> Vec<&str> {
    text.split_inclusive('\n').collect()
}

/// A line without its end; blanks at its end and other line ends are made visible, for they may be the difference.
fn visible(line: &str) -> String {
    let line = line.strip_suffix('\n').unwrap_or(line);
    let bare = line.trim_end();
    let tail = line.get(bare.len()..).unwrap_or("").replace(' ', "·").replace('\t', "→").replace('\r', "␍");
    let safe: String = bare.chars().map(|c| if c.is_control() && c != '\t' { '?' } else { c }).collect();
    safe + &tail
}

fn steps<'a>(old: &[&'a str], new: &[&'a str]) -> Vec<Step<'a>> {
    let head = old.iter().zip(new).take_while(|(a, b)| a == b).count();
    let (old, new) = (old.get(head..).unwrap_or(&[]), new.get(head..).unwrap_or(&[]));
    let tail = old.iter().rev().zip(new.iter().rev()).take_while(|(a, b)| a == b).count();
    let old = old.get(..old.len() - tail).unwrap_or(&[]);
    let new = new.get(..new.len() - tail).unwrap_or(&[]);
    let mut steps = vec![Step::Same; head];
    steps.extend(middle(old, new));
    steps.extend(vec![Step::Same; tail]);
    steps
}

/// The longest common sequence of lines, by the table of its lengths.
fn middle<'a>(old: &[&'a str], new: &[&'a str]) -> Vec<Step<'a>> {
    if old.len().saturating_mul(new.len()) > PAIRS {
        return old.iter().map(|line| Step::Old(line)).chain(new.iter().map(|line| Step::New(line))).collect();
    }
    let wide = new.len() + 1;
    let mut longest = vec![0_u32; (old.len() + 1) * wide];
    let at = |table: &[u32], i: usize, j: usize| table.get(i * wide + j).copied().unwrap_or(0);
    for (i, a) in old.iter().enumerate().rev() {
        for (j, b) in new.iter().enumerate().rev() {
            let value = if a == b {
                at(&longest, i + 1, j + 1) + 1
            } else {
                at(&longest, i + 1, j).max(at(&longest, i, j + 1))
            };
            if let Some(cell) = longest.get_mut(i * wide + j) {
                *cell = value;
            }
        }
    }
    let (mut i, mut j, mut steps) = (0, 0, Vec::new());
    loop {
        match (old.get(i), new.get(j)) {
            (Some(a), Some(b)) if a == b => {
                steps.push(Step::Same);
                (i, j) = (i + 1, j + 1);
            }
            (Some(a), b) if b.is_none() || at(&longest, i + 1, j) >= at(&longest, i, j + 1) => {
                steps.push(Step::Old(a));
                i += 1;
            }
            (_, Some(b)) => {
                steps.push(Step::New(b));
                j += 1;
            }
            _ => return steps,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_changed_line_is_shown_with_its_number() {
        assert_eq!(diff("a\nb\nc\n", "a\nB\nc\n"), "  line 2\n  - b\n  + B\n");
        assert_eq!(diff("a\nb\nc\nd\n", "b\nc\nx\nd\n"), "  line 1\n  - a\n  line 4\n  + x\n");
        assert_eq!(diff("a  \r\n", "a\n"), "  line 1\n  - a··␍\n  + a\n");
        assert_eq!(diff("", "a\n"), "  line 1\n  + a\n");
        assert_eq!(diff("a\n", "a\n"), "");
    }

    #[test]
    fn a_long_difference_is_cut() {
        let old: String = (0..500).map(|at| format!("old {at}\n")).collect();
        let shown = diff(&old, "");
        assert_eq!(shown.lines().count(), SHOWN + 2);
        assert!(shown.ends_with("  and 440 more\n"), "{shown}");
    }
}
