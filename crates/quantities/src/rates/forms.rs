//! Ids and dates as data files write them.

/// Lower-case letters, digits, points and hyphens; starts and ends with a letter or digit.
pub fn is_id(text: &str) -> bool {
    let inner = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit();
    text.len() <= 60
        && text.bytes().all(|b| inner(b) || b == b'-' || b == b'.')
        && text.bytes().next().is_some_and(inner)
        && text.bytes().next_back().is_some_and(inner)
}

/// A year, year and month, or day.
pub(super) fn is_since(text: &str) -> bool {
    let full = match text.len() {
        4 => format!("{text}-01-01"),
        7 => format!("{text}-01"),
        _ => text.to_owned(),
    };
    is_date(&full)
}

/// A day of the calendar, `2026-11-25`.
pub fn is_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let digits = |t: &str, n: usize| t.len() == n && t.bytes().all(|b| b.is_ascii_digit());
    let [y, m, d] = parts[..] else { return false };
    if !(digits(y, 4) && digits(m, 2) && digits(d, 2)) {
        return false;
    }
    let number = |t: &str| t.parse::<u32>().unwrap_or(0);
    let (y, m, d) = (number(y), number(m), number(d));
    let leap = y % 4 == 0 && (y % 100 != 0 || y % 400 == 0);
    let days = match m {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => 0,
    };
    y >= 1800 && (1..=days).contains(&d)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_those_of_the_calendar() {
        for good in ["2024-02-29", "2000-02-29", "2026-11-30", "1800-01-31"] {
            assert!(is_date(good), "{good}");
        }
        let odd = ["2026-1-01", "2026-11-1", "026-11-01", "2026-11-01-01", "2026-1x-01"];
        for bad in ["2023-02-29", "1900-02-29", "2026-11-31", "2026-13-01", "2026-11-00", "1799-12-31"] {
            assert!(!is_date(bad), "{bad}");
        }
        assert!(odd.iter().all(|t| !is_date(t)));
        assert!(is_since("1976") && is_since("1976-05") && !is_since("1976-13") && !is_since("76"));
    }
}
