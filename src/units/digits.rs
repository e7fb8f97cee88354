//! Decimal digits of a float, rounded once, half away from zero, the same on every machine.

/// How far a number is written out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keep {
    /// So many digits from the first that is not 0.
    Significant(u8),
    /// So many digits behind the point.
    Places(u8),
}

/// Plain decimal without trailing zeros; rounds the shortest decimal that stands for the float, so 0.285 to two places is 0.29.
/// `-0` is `0`. What is not finite is `no value`; beyond 10^21 or below 10^-21 it is written `1.5e22`.
pub fn decimal(value: f64, keep: Keep) -> String {
    if !value.is_finite() {
        return "no value".to_owned();
    }
    let shortest = format!("{:e}", value.abs());
    let (mantissa, exponent) = shortest.split_once('e').unwrap_or((&shortest, "0"));
    let digits = mantissa.bytes().filter(u8::is_ascii_digit).map(|digit| digit - b'0').collect();
    let point = exponent.parse::<i32>().unwrap_or(0) + 1;
    let Some((digits, point)) = rounded(digits, point, keep) else {
        return "0".to_owned();
    };
    let sign = if value < 0.0 { "-" } else { "" };
    format!("{sign}{}", written(&digits, point))
}

/// The digits kept and where the point stands (before digit `point`); `None` if nothing is left.
fn rounded(mut digits: Vec<u8>, mut point: i32, keep: Keep) -> Option<(Vec<u8>, i32)> {
    let kept = match keep {
        Keep::Significant(count) => i32::from(count.max(1)),
        Keep::Places(places) => point + i32::from(places),
    };
    let kept = usize::try_from(kept).ok()?;
    let up = digits.get(kept).is_some_and(|&next| next >= 5);
    digits.truncate(kept);
    if up {
        let nines = digits.iter().rev().take_while(|&&digit| digit == 9).count();
        digits.truncate(digits.len() - nines);
        match digits.last_mut() {
            Some(last) => *last += 1,
            None => {
                digits.push(1);
                point += 1;
            }
        }
    }
    while digits.last() == Some(&0) {
        digits.pop();
    }
    (!digits.is_empty()).then_some((digits, point))
}

fn written(digits: &[u8], point: i32) -> String {
    let text: String = digits.iter().map(|&digit| char::from(b'0' + digit)).collect();
    let length = digits.len() as i32;
    if !(-20..=21).contains(&point) {
        let (first, rest) = text.split_at(1);
        let dot = if rest.is_empty() { "" } else { "." };
        return format!("{first}{dot}{rest}e{}", point - 1);
    }
    let zeros = |count: i32| "0".repeat(usize::try_from(count).unwrap_or(0));
    if point <= 0 {
        format!("0.{}{text}", zeros(-point))
    } else if point >= length {
        format!("{text}{}", zeros(point - length))
    } else {
        let (whole, part) = text.split_at(usize::try_from(point).unwrap_or(0));
        format!("{whole}.{part}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn rounds_half_away_from_zero_once() {
        let cases = [
            (0.285, Keep::Places(2), "0.29"),
            (-0.125, Keep::Places(2), "-0.13"),
            (0.05, Keep::Places(1), "0.1"),
            (0.049, Keep::Places(1), "0"),
            (0.5, Keep::Places(0), "1"),
            (99.96, Keep::Places(1), "100"),
            (9.996, Keep::Significant(3), "10"),
            (1234.0, Keep::Significant(2), "1200"),
            (-0.0, Keep::Places(1), "0"),
            (-0.04, Keep::Places(1), "0"),
            (0.036, Keep::Significant(3), "0.036"),
        ];
        for (value, keep, wanted) in cases {
            assert_eq!(decimal(value, keep), wanted, "{value}");
        }
        assert_eq!(decimal(1.5e22, Keep::Significant(3)), "1.5e22");
        assert_eq!(decimal(f64::NAN, Keep::Places(1)), "no value");
    }

    proptest! {
        #[test]
        fn comes_back_within_half_a_step(value in -1e9..1e9f64, places in 0..6u8) {
            let shown: f64 = decimal(value, Keep::Places(places)).parse().unwrap();
            prop_assert!((shown - value).abs() <= 0.5 * 10f64.powi(-i32::from(places)) + 1e-6 * 1e-6 * value.abs());
        }

        #[test]
        fn no_float_panics(bits: u64, digits: u8) {
            let _ = decimal(f64::from_bits(bits), Keep::Places(digits));
            let _ = decimal(f64::from_bits(bits), Keep::Significant(digits));
        }
    }
}
