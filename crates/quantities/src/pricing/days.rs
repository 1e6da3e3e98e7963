//! Days between two dates, for the age of a rate.

/// Days from `a` to `b`, negative where `b` is earlier; `None` where one of them is not a date.
pub(super) fn between(a: &str, b: &str) -> Option<i64> {
    Some(number(b)? - number(a)?)
}

/// Days since the start of the year 0, the year begun in March so that the leap day comes last.
fn number(text: &str) -> Option<i64> {
    let part =
        |from, to| text.get(from..to).filter(|t: &&str| t.bytes().all(|b| b.is_ascii_digit()))?.parse().ok();
    let (year, month, day): (i64, i64, i64) = (part(0, 4)?, part(5, 7)?, part(8, 10)?);
    if text.len() != 10 || !(1..=12).contains(&month) || !(1..=31).contains(&day) {
        return None;
    }
    let (year, month) = if month < 3 { (year - 1, month + 9) } else { (year, month - 3) };
    Some(365 * year + year / 4 - year / 100 + year / 400 + (153 * month + 2) / 5 + day - 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_days() {
        assert_eq!(between("2026-08-27", "2026-11-25"), Some(4 + 30 + 31 + 25));
        assert_eq!(between("2026-11-25", "2026-08-27"), Some(-(4 + 30 + 31 + 25)));
        assert_eq!(between("2024-01-01", "2025-01-01"), Some(366));
        assert_eq!(between("1900-01-01", "2000-01-01"), Some(100 * 365 + 24));
        assert_eq!(between("2026-11-25", "tomorrow"), None);
        assert_eq!(between("2026-11-2é", "2026-13-01"), None);
    }
}
