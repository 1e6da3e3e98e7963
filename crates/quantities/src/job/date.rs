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

/// A calendar day that can be counted on from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Day(i64);

impl Day {
    /// Reads `2026-11-25`.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        number(text).map(Self)
    }

    /// So many days later; earlier where negative.
    #[must_use]
    pub const fn plus(self, days: i64) -> Self {
        Self(self.0.saturating_add(days))
    }

    /// Days from this one to another.
    #[must_use]
    pub const fn until(self, other: Self) -> i64 {
        other.0 - self.0
    }

    /// Year, month, day.
    #[must_use]
    pub const fn ymd(self) -> [i64; 3] {
        // Back from days since 0000-03-01, era by era of 400 years.
        let era = self.0.div_euclid(146_097);
        let day = self.0.rem_euclid(146_097);
        let year = (day - day / 1_460 + day / 36_524 - day / 146_096) / 365;
        let of_year = day - (365 * year + year / 4 - year / 100);
        let month = (5 * of_year + 2) / 153;
        let date = of_year - (153 * month + 2) / 5 + 1;
        let (month, next) = if month < 10 { (month + 3, 0) } else { (month - 9, 1) };
        [year + era * 400 + next, month, date]
    }

    /// Monday is 0.
    #[must_use]
    pub const fn weekday(self) -> i64 {
        // 0000-03-01 was a Wednesday.
        (self.0 + 2).rem_euclid(7)
    }
}

impl std::fmt::Display for Day {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let [year, month, day] = self.ymd();
        write!(f, "{year:04}-{month:02}-{day:02}")
    }
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
    fn a_day_is_what_it_was_read_from() {
        let first = Day::read("1900-01-01").unwrap_or(Day(0));
        for n in 0..(1_100 * 365) {
            let day = first.plus(n);
            if day.ymd()[0] < 3000 {
                assert_eq!(Day::read(&day.to_string()), Some(day));
            }
        }
        // A Wednesday by any calendar on the wall.
        assert_eq!(Day::read("2026-11-25").map(Day::weekday), Some(2));
        assert_eq!(first.weekday(), 0);
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
