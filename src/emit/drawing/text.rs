//! How wide text is, how it wraps, and how a length is written in both units.
//!
//! Widths are the advance widths of Helvetica (Adobe's published font metrics, thousandths of the font size) [P];
//! Arial and Liberation Sans share them. Other characters get a safe guess.

use crate::units::Length;

/// Height of Helvetica's capitals as a share of the font size [P].
pub const CAPITAL: f64 = 0.718;

/// Advance widths of the characters from space to tilde.
const WIDTHS: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556,
    556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833,
    722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556,
    556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334,
    260, 334, 584,
];

/// The width of a text in mm, for capitals `size` mm high. Heavy letters are taken as 7 % wider [C].
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

/// Breaks a text at spaces so that no line is wider than `limit` mm; a single longer word keeps its line.
pub fn wrap(text: &str, limit: f64, size: f64, bold: bool) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
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

/// Which unit leads; the other follows smaller.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Lead {
    /// Millimetres first.
    #[default]
    Metric,
    /// Feet and inches first.
    Inch,
}

impl Lead {
    /// A length in the leading and the following unit: millimetres bare, inches with their marks.
    pub fn pair(self, length: Length) -> (String, String) {
        match self {
            Lead::Metric => (millimetres(length), inches(length)),
            Lead::Inch => (inches(length), millimetres(length)),
        }
    }

    /// A length in both units on one line, for notes: `1830 mm (6'-0")`.
    pub fn phrase(self, length: Length) -> String {
        match self {
            Lead::Metric => format!("{} mm ({})", millimetres(length), inches(length)),
            Lead::Inch => format!("{} ({} mm)", inches(length), millimetres(length)),
        }
    }

    /// The note that stands on every sheet.
    pub fn note(self) -> &'static str {
        match self {
            Lead::Metric => "millimetres lead; feet and inches to 1/16 follow",
            Lead::Inch => "feet and inches to 1/16 lead; millimetres follow",
        }
    }
}

/// Millimetres, to a tenth where they are not whole: `1830`, `6.4`.
pub fn millimetres(length: Length) -> String {
    let tenths = round_div(i128::from(length.0), 100_000);
    let sign = if tenths < 0 { "-" } else { "" };
    let (whole, tenth) = (tenths.abs() / 10, tenths.abs() % 10);
    if tenth == 0 { format!("{sign}{whole}") } else { format!("{sign}{whole}.{tenth}") }
}

/// Inches to the nearest 1/16; with feet from two feet on: `5 5/16"`, `6'-0"`.
pub fn inches(length: Length) -> String {
    let sixteenths = round_div(i128::from(length.0) * 16, i128::from(Length::INCH.0));
    let sign = if sixteenths < 0 { "-" } else { "" };
    let (whole, part) = (sixteenths.abs() / 16, sixteenths.abs() % 16);
    let fraction = fraction(part);
    if whole >= 24 {
        let (feet, rest) = (whole / 12, whole % 12);
        let gap = if fraction.is_empty() { "" } else { " " };
        return format!("{sign}{feet}'-{rest}{gap}{fraction}\"");
    }
    match (whole, fraction.is_empty()) {
        (_, true) => format!("{sign}{whole}\""),
        (0, false) => format!("{sign}{fraction}\""),
        (_, false) => format!("{sign}{whole} {fraction}\""),
    }
}

/// Sixteenths in lowest terms; empty for none.
fn fraction(sixteenths: i128) -> String {
    let (mut top, mut bottom) = (sixteenths, 16);
    while top != 0 && top % 2 == 0 {
        (top, bottom) = (top / 2, bottom / 2);
    }
    if top == 0 { String::new() } else { format!("{top}/{bottom}") }
}

/// Divides and rounds half away from zero.
fn round_div(value: i128, by: i128) -> i128 {
    let half = if value < 0 { -by / 2 } else { by / 2 };
    (value + half) / by
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_read_in_both_units() {
        let pair = |length| Lead::Metric.pair(length);
        let own = |a: &str, b: &str| (a.to_owned(), b.to_owned());
        assert_eq!(pair(Length::mm(135)), own("135", "5 5/16\""));
        assert_eq!(pair(Length::FOOT * 6), own("1828.8", "6'-0\""));
        assert_eq!(pair(Length(6_350_000)), own("6.4", "1/4\""));
        assert_eq!(pair(Length::mm(-19)), own("-19", "-3/4\""));
        assert_eq!(pair(Length::INCH * 23 + Length(25_399_999)), own("609.6", "2'-0\""));
        assert_eq!(pair(Length::ZERO), own("0", "0\""));
        assert_eq!(Lead::Inch.phrase(Length::mm(2440)), "8'-0 1/16\" (2440 mm)");
        assert_eq!(pair(Length(i64::MIN)).0.len(), "-9223372036854.8".len());
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
