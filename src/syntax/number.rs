//! Numbers as exact fractions, from the text of a `measure`.

use super::tree::{ItemKind, Literal};
use crate::source::{FileId, Span};

/// Digits that one number may have. Enough for a wall in nanometres many times over, and far from the end of `i128`.
const MAX_DIGITS: usize = 18;

/// Why a number that the grammar accepts has no value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum NumberFault {
    /// More than [`MAX_DIGITS`] digits.
    TooLong,
    /// `1/0`.
    ZeroBelow,
}

/// Reads a whole measure: `3/4in`, `-8ft 6-1/2in`, `4:12`, `0.48 kPa`. `at` is the byte offset of `text` in the file.
pub(super) fn measure(text: &str, file: FileId, at: usize) -> Result<ItemKind, NumberFault> {
    let (first, used) = fraction(text)?;
    let rest = text.get(used..).unwrap_or("");
    if let Some(run) = rest.strip_prefix(':') {
        let (second, length) = fraction(run)?;
        let end = at + used + 1 + length;
        return Ok(ItemKind::Pitch(bare(first, file, at + used), bare(second, file, end)));
    }
    let unit = rest.trim_start_matches([' ', '\t']);
    let unit_at = at + used + (rest.len() - unit.len());
    if let Some(inches) = unit.strip_prefix("ft").filter(|behind| behind.starts_with([' ', '\t'])) {
        return feet_and_inches(text, first, inches, file, unit_at);
    }
    Ok(ItemKind::Quantity(with_unit(first, unit, file, unit_at)))
}

/// `inches` is the text behind `ft`. A minus before the feet counts for the inches too, so the length is their sum.
fn feet_and_inches(
    text: &str,
    feet: Fraction,
    inches: &str,
    file: FileId,
    ft_at: usize,
) -> Result<ItemKind, NumberFault> {
    let number = inches.trim_start_matches([' ', '\t']);
    let number_at = ft_at + 2 + (inches.len() - number.len());
    let (mut value, used) = fraction(number)?;
    if text.starts_with('-') {
        value.0 = -value.0;
    }
    let rest = number.get(used..).unwrap_or("");
    let unit = rest.trim_start_matches([' ', '\t']);
    let unit_at = number_at + used + (rest.len() - unit.len());
    Ok(ItemKind::FeetInches(with_unit(feet, "ft", file, ft_at), with_unit(value, unit, file, unit_at)))
}

type Fraction = (i128, i128);

fn bare(value: Fraction, file: FileId, end: usize) -> Literal {
    with_unit(value, "", file, end)
}

fn with_unit((numerator, denominator): Fraction, unit: &str, file: FileId, at: usize) -> Literal {
    Literal { numerator, denominator, unit: unit.into(), unit_span: Span::new(file, at, at + unit.len()) }
}

/// The number at the start of `text` and how many bytes it takes: `-`? then `6`, `6.25`, `3/4` or `6-1/2`.
fn fraction(text: &str) -> Result<(Fraction, usize), NumberFault> {
    let negative = text.starts_with('-');
    let mut used = usize::from(negative);
    let (whole, digits) = digits(text, used)?;
    used += digits;
    let mut total = digits;
    let mut value = (whole, 1);
    let next = text.as_bytes().get(used).copied();
    if next == Some(b'.') {
        let (after, count) = self::digits(text, used + 1)?;
        if count > 0 {
            let scale = 10_i128.checked_pow(count as u32).ok_or(NumberFault::TooLong)?;
            total += count;
            used += 1 + count;
            value = (add(whole, scale, after)?, scale);
        }
    } else if next == Some(b'/') {
        let (below, count) = self::digits(text, used + 1)?;
        if count > 0 {
            total += count;
            used += 1 + count;
            value = (whole, below);
        }
    } else if next == Some(b'-') {
        let (above, count) = self::digits(text, used + 1)?;
        let slash = used + 1 + count;
        if count > 0 && text.as_bytes().get(slash) == Some(&b'/') {
            let (below, more) = self::digits(text, slash + 1)?;
            if more > 0 {
                total += count + more;
                used = slash + 1 + more;
                value = (add(whole, below, above)?, below);
            }
        }
    }
    if total > MAX_DIGITS {
        return Err(NumberFault::TooLong);
    }
    if value.1 == 0 {
        return Err(NumberFault::ZeroBelow);
    }
    Ok(((if negative { -value.0 } else { value.0 }, value.1), used))
}

/// `whole × scale + rest`.
fn add(whole: i128, scale: i128, rest: i128) -> Result<i128, NumberFault> {
    whole.checked_mul(scale).and_then(|product| product.checked_add(rest)).ok_or(NumberFault::TooLong)
}

/// The digits from byte `from` on: their value and their count.
fn digits(text: &str, from: usize) -> Result<(i128, usize), NumberFault> {
    let mut value: i128 = 0;
    let mut count = 0;
    for byte in text.as_bytes().iter().skip(from).take_while(|byte| byte.is_ascii_digit()) {
        count += 1;
        if count > MAX_DIGITS {
            return Err(NumberFault::TooLong);
        }
        value = value * 10 + i128::from(byte - b'0');
    }
    Ok((value, count))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quantity(text: &str) -> (i128, i128, String) {
        match measure(text, FileId(0), 0) {
            Ok(ItemKind::Quantity(literal)) => (literal.numerator, literal.denominator, literal.unit.to_string()),
            other => panic!("{text}: {other:?}"),
        }
    }

    #[test]
    fn numbers_are_exact() {
        assert_eq!(quantity("19mm"), (19, 1, "mm".into()));
        assert_eq!(quantity("3/4in"), (3, 4, "in".into()));
        assert_eq!(quantity("-6-1/2in"), (-13, 2, "in".into()));
        assert_eq!(quantity("0.036W/(m.K)"), (36, 1000, "W/(m.K)".into()));
        assert_eq!(quantity("0.48 kPa"), (48, 100, "kPa".into()));
        assert_eq!(quantity("0"), (0, 1, String::new()));
        assert_eq!(quantity("-25degC"), (-25, 1, "degC".into()));
        assert_eq!(quantity("5%"), (5, 1, "%".into()));
    }

    #[test]
    fn a_minus_before_feet_counts_for_the_inches_too() {
        let Ok(ItemKind::FeetInches(feet, inches)) = measure("-8ft 6-1/2in", FileId(0), 10) else { panic!() };
        assert_eq!((feet.numerator, feet.denominator), (-8, 1));
        assert_eq!((inches.numerator, inches.denominator), (-13, 2));
        assert_eq!(feet.unit_span.range(), 12..14);
        assert_eq!(inches.unit_span.range(), 20..22);
    }

    #[test]
    fn absurd_numbers_are_refused_and_never_overflow() {
        assert_eq!(measure(&"9".repeat(19), FileId(0), 0), Err(NumberFault::TooLong));
        assert_eq!(measure(&"9".repeat(100_000), FileId(0), 0), Err(NumberFault::TooLong));
        assert_eq!(measure("999999999-999999999/999999999in", FileId(0), 0), Err(NumberFault::TooLong));
        assert_eq!(measure("3/0in", FileId(0), 0), Err(NumberFault::ZeroBelow));
        assert_eq!(measure("4:1234567890123456789", FileId(0), 0), Err(NumberFault::TooLong));
        assert!(measure(&"9".repeat(18), FileId(0), 0).is_ok());
    }
}
