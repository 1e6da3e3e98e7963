//! Calendar dates as text, `2026-11-25`: no clock, no time zones.

/// Why a text is not a date.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DateError {
    /// Not written as year-month-day, `2026-11-25`.
    Form,
    /// No such month, or no such day in it; the last day of that month, 0 where the month is wrong.
    NoSuchDay(u32),
}

/// Checks a date of the years 1900 to 2999.
///
/// # Errors
/// See [`DateError`].
pub fn check(text: &str) -> Result<(), DateError> {
    parts(text).map(|_| ())
}

/// Days from `a` to `b`, negative where `b` is earlier; `None` where one of them is not a date.
///
/// ```
/// # use tankwright_quantities::job::date::days_between;
/// assert_eq!(days_between("2026-02-28", "2026-03-01"), Some(1));
/// ```
#[must_use]
pub fn days_between(a: &str, b: &str) -> Option<i64> {
    Some(number(b)? - number(a)?)
}

fn parts(text: &str) -> Result<[u32; 3], DateError> {
    let shaped = text.len() == 10
        && text
            .bytes()
            .enumerate()
            .all(|(i, b)| if i == 4 || i == 7 { b == b'-' } else { b.is_ascii_digit() });
    if !shaped {
        return Err(DateError::Form);
    }
    let number =
        |from, to| text.get(from..to).and_then(|t: &str| t.parse::<u32>().ok()).ok_or(DateError::Form);
    let (year, month, day) = (number(0, 4)?, number(5, 7)?, number(8, 10)?);
    if !(1900..3000).contains(&year) {
        return Err(DateError::Form);
    }
    let last = last_day(year, month);
    if day == 0 || day > last { Err(DateError::NoSuchDay(last)) } else { Ok([year, month, day]) }
}

fn last_day(year: u32, month: u32) -> u32 {
    match month {
        2 if year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400)) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    }
}

/// Days since the start of the year 0, the year begun in March so that the leap day comes last.
fn number(text: &str) -> Option<i64> {
    let [year, month, day] = parts(text).ok()?.map(i64::from);
    let (year, month) = if month < 3 { (year - 1, month + 9) } else { (year, month - 3) };
    Some(365 * year + year / 4 - year / 100 + year / 400 + (153 * month + 2) / 5 + day - 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn knows_the_calendar() {
        for good in ["2026-11-25", "2024-02-29", "2000-02-29", "1999-12-31"] {
            assert_eq!(check(good), Ok(()), "{good}");
        }
        for (bad, last) in [
            ("2026-02-29", 28),
            ("2100-02-29", 28),
            ("2026-04-31", 30),
            ("2026-13-01", 0),
            ("2026-01-00", 31),
        ] {
            assert_eq!(check(bad), Err(DateError::NoSuchDay(last)), "{bad}");
        }
        for bad in ["", "25-11-2026", "2026-11-5", "2026/11/25", "0000-01-01", "2026-11-\u{e9}", "２026-1-1"]
        {
            assert_eq!(check(bad), Err(DateError::Form), "{bad}");
        }
    }

    #[test]
    fn counts_days() {
        assert_eq!(days_between("2026-08-27", "2026-11-25"), Some(4 + 30 + 31 + 25));
        assert_eq!(days_between("2026-11-25", "2026-08-27"), Some(-(4 + 30 + 31 + 25)));
        assert_eq!(days_between("2024-01-01", "2025-01-01"), Some(366));
        assert_eq!(days_between("1900-01-01", "2000-01-01"), Some(100 * 365 + 24));
        assert_eq!(days_between("2026-11-25", "tomorrow"), None);
    }
}
