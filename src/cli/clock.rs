//! Today's date: from the arguments, or from the clock of the system.

use std::time::{SystemTime, UNIX_EPOCH};

use super::Outer;
use crate::eval::Date;

/// The date given as `2026-11-25`, or today by the clock of the system (in universal time). A text that is no date is an
/// error.
pub fn today(given: Option<&str>) -> Result<Date, Outer> {
    match given {
        Some(text) => parse(text).ok_or_else(|| Outer::Date(text.to_owned())),
        None => {
            let seconds = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
            Ok(civil((seconds / 86_400) as i64))
        }
    }
}

fn parse(text: &str) -> Option<Date> {
    let mut parts = text.split('-');
    let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
    let digits = |part: &str, long: usize| part.len() == long && part.bytes().all(|byte| byte.is_ascii_digit());
    if parts.next().is_some() || !digits(year, 4) || !digits(month, 2) || !digits(day, 2) {
        return None;
    }
    let date = Date { year: year.parse().ok()?, month: month.parse().ok()?, day: day.parse().ok()? };
    (1..=12).contains(&date.month).then_some(())?;
    (1..=days_in(date.year, date.month)).contains(&date.day).then_some(date)
}

fn days_in(year: i32, month: u8) -> u8 {
    match month {
        2 if year % 4 == 0 && (year % 100 != 0 || year % 400 == 0) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

/// The Gregorian date of a day counted from 1970-01-01, by counting from 1 March of year 0 in eras of 400 years
/// (146 097 days).
fn civil(days: i64) -> Date {
    let shifted = days + 719_468;
    let era = shifted.div_euclid(146_097);
    let of_era = shifted.rem_euclid(146_097);
    let year_of_era = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
    let day_of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let shifted_month = (5 * day_of_year + 2) / 153;
    let day = day_of_year - (153 * shifted_month + 2) / 5 + 1;
    let month = if shifted_month < 10 { shifted_month + 3 } else { shifted_month - 9 };
    let year = year_of_era + era * 400 + i64::from(month <= 2);
    Date { year: year as i32, month: month as u8, day: day as u8 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_since_1970_as_dates() {
        assert_eq!(civil(0).to_string(), "1970-01-01");
        assert_eq!(civil(11_016).to_string(), "2000-02-29");
        assert_eq!(civil(11_017).to_string(), "2000-03-01");
        assert_eq!(civil(20_782).to_string(), "2026-11-25");
        assert_eq!(civil(-1).to_string(), "1969-12-31");
    }

    #[test]
    fn only_dates_that_exist_are_read() {
        assert!(parse("2028-02-29").is_some());
        for wrong in
            ["2027-02-29", "2026-13-01", "2026-00-01", "2026-1-1", "26-01-01", "2026-01-01-", "", "x", "2026-04-31"]
        {
            assert_eq!(parse(wrong), None, "{wrong}");
        }
    }
}
