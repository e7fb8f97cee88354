//! How wide text is, how it wraps, and a length as dimension lines carry it.
//!
//! Widths are the advance widths of Helvetica in thousandths of the font size, from memory;
//! Arial and Liberation Sans share them. Other characters get a safe guess.

use crate::units::{Length, System, display};

/// Height of Helvetica's capitals as a share of the font size, from memory.
pub const CAPITAL: f64 = 0.718;

/// Advance widths of the characters from space to tilde.
const WIDTHS: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556,
    556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833,
    722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556,
    556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334,
    260, 334, 584,
];

/// The width of a text in mm, for capitals `size` mm high. Heavy letters are taken as 7 % wider, a guess of ours.
pub fn width(text: &str, size: f64, bold: bool) -> f64 {
    let thousandths: u32 = text.chars().map(advance).sum();
    f64::from(thousandths) / 1000.0 * size / CAPITAL * if bold { 1.07 } else { 1.0 }
}

/// In thousandths of the font size.
fn advance(character: char) -> u32 {
    let index = (character as usize).wrapping_sub(' ' as usize);
    match WIDTHS.get(index) {
        Some(width) => u32::from(*width),
        None if (character as u32) < 0x300 => 600,
        None => 1000,
    }
}

/// Breaks a text at spaces so that no line is wider than `limit` mm; a single longer word keeps its line. A space that does not
/// break holds its words together.
pub fn wrap(text: &str, limit: f64, size: f64, bold: bool) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let breaks = |letter: char| letter.is_whitespace() && letter != '\u{a0}';
    for word in text.split(breaks).filter(|word| !word.is_empty()) {
        match lines.last_mut() {
            Some(line) if width(&format!("{line} {word}"), size, bold) <= limit => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// Cuts a text with an ellipsis so that it is no wider than `limit` mm.
pub fn cut(text: &str, limit: f64, size: f64, bold: bool) -> String {
    if width(text, size, bold) <= limit {
        return text.to_owned();
    }
    let mut kept: String = text.to_owned();
    while !kept.is_empty() && width(&kept, size, bold) + width("…", size, bold) > limit {
        kept.pop();
    }
    format!("{}…", kept.trim_end())
}

/// A length for a dimension line, in the leading and the following unit: millimetres bare, inches with their unit.
pub fn pair(length: Length, lead: System) -> (String, String) {
    let (metric, imperial) = (display::mm_figure(length), display::length(length, System::Imperial));
    match lead {
        System::Metric => (metric, imperial),
        System::Imperial => (imperial, metric),
    }
}

/// The note on units that stands on every sheet.
pub fn note(lead: System) -> &'static str {
    match lead {
        System::Metric => "millimetres lead; feet and inches to 1/16 follow",
        System::Imperial => "feet and inches to 1/16 lead; millimetres follow",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_read_in_both_units() {
        let own = |a: &str, b: &str| (a.to_owned(), b.to_owned());
        assert_eq!(pair(Length::mm(135), System::Metric), own("135", "5-5/16 in"));
        assert_eq!(pair(Length::FOOT * 6, System::Imperial), own("6 ft", "1828.8"));
    }

    #[test]
    fn wrapping_keeps_every_word_and_every_limit() {
        let text = "screened base keeps the gap open to the outside over its whole length";
        let lines = wrap(text, 30.0, 2.5, false);
        assert_eq!(lines.join(" "), text);
        assert!(lines.len() > 2 && lines.iter().all(|line| width(line, 2.5, false) <= 30.0));
    }

    #[test]
    fn a_cut_text_fits() {
        let short = cut("a title that is far too long for its cell", 30.0, 5.0, true);
        assert!(short.ends_with('…') && width(&short, 5.0, true) <= 30.0, "{short}");
        assert_eq!(cut("short", 30.0, 2.5, false), "short");
    }
}
