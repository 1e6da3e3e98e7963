//! Days as people write them, to year-month-day.

use crate::rates::entry::is_date;

/// Why a text is no day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum NoDay {
    /// Day or month first: both can be.
    Order,
    /// Not a day.
    Other,
}

const MONTHS: [&str; 12] =
    ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

/// Reads a day: `2026-10-01`, `2026/10/1`, `1 Oct 2026`, `October 1, 2026`, `25/10/2026`.
pub(crate) fn read(text: &str) -> Result<String, NoDay> {
    let text = text.trim();
    if is_date(text) {
        return Ok(text.to_owned());
    }
    // A spreadsheet's midnight.
    let text = text.strip_suffix("00:00:00").map_or(text, |t| t.trim_end_matches([' ', 'T']));
    let parts: Vec<&str> = text.split(['-', '/', '.', ' ', ',']).filter(|p| !p.is_empty()).collect();
    let [a, b, c] = parts[..] else { return Err(NoDay::Other) };
    let number = |t: &str, most: usize| {
        let good = (1..=most).contains(&t.len()) && t.bytes().all(|b| b.is_ascii_digit());
        good.then(|| t.parse::<u32>().ok()).flatten()
    };
    let day = |t: &str| {
        let bare = ["st", "nd", "rd", "th"].iter().find_map(|e| t.strip_suffix(e)).unwrap_or(t);
        number(bare, 2)
    };
    let month = |t: &str| {
        let t = t.to_lowercase();
        let long = t.len() >= 3 && t.chars().all(char::is_alphabetic);
        MONTHS.iter().position(|m| long && t.starts_with(m)).and_then(|i| u32::try_from(i + 1).ok())
    };
    let year = |t: &str| match t.len() {
        4 => number(t, 4),
        2 => number(t, 2).map(|y| 2000 + y),
        _ => None,
    };
    let (y, m, d) = if let (Some(d), Some(m)) = (day(a), month(b)) {
        (year(c), m, d)
    } else if let (Some(m), Some(d)) = (month(a), day(b)) {
        (year(c), m, d)
    } else if a.len() == 4 {
        (year(a), number(b, 2).unwrap_or(0), number(c, 2).unwrap_or(0))
    } else if let (Some(a), Some(b), true) = (number(a, 2), number(b, 2), c.len() == 4) {
        match (a > 12, b > 12) {
            (true, false) => (year(c), b, a),
            (false, true) => (year(c), a, b),
            (false, false) if a == b => (year(c), a, b),
            (false, false) => return Err(NoDay::Order),
            (true, true) => return Err(NoDay::Other),
        }
    } else {
        return Err(NoDay::Other);
    };
    let text = format!("{:04}-{m:02}-{d:02}", y.ok_or(NoDay::Other)?);
    if is_date(&text) { Ok(text) } else { Err(NoDay::Other) }
}

/// The first day written anywhere in a line of words; an unclear one is given as its trouble.
pub(crate) fn find(text: &str) -> Option<Result<String, NoDay>> {
    let words: Vec<&str> = text.split([' ', ':', '(', ')', ';']).filter(|w| !w.is_empty()).collect();
    let mut unclear = None;
    for from in 0..words.len() {
        for n in [3, 1] {
            let Some(some) = words.get(from..from + n) else { continue };
            match read(some.join(" ").trim_end_matches(['.', ','])) {
                Ok(day) => return Some(Ok(day)),
                Err(NoDay::Order) => unclear = Some(Err(NoDay::Order)),
                Err(NoDay::Other) => {}
            }
        }
    }
    unclear
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_as_people_write_them() {
        for text in [
            "2026-10-25",
            "2026/10/25",
            "2026.10.25",
            "25 Oct 2026",
            "25-Oct-2026",
            "25-oct-26",
            "Oct 25, 2026",
            "25th October 2026",
            "25/10/2026",
            "10/25/2026",
            "25.10.2026",
            "2026-10-25 00:00:00",
            "2026-10-25T00:00:00",
        ] {
            assert_eq!(read(text), Ok("2026-10-25".to_owned()), "{text}");
        }
        assert_eq!(read("5/5/2026"), Ok("2026-05-05".to_owned()));
        assert_eq!(read("1/10/2026"), Err(NoDay::Order));
        for text in
            ["", "2026", "Oct 2026", "31 Feb 2026", "2026-02-29", "1/10/26", "32/13/2026", "soon", "a b c"]
        {
            assert_eq!(read(text), Err(NoDay::Other), "{text}");
        }
    }

    #[test]
    fn a_day_in_a_line() {
        assert_eq!(find("Prices of 1 Oct 2026, ex yard"), Some(Ok("2026-10-01".to_owned())));
        assert_eq!(find("Date: 2026-10-01"), Some(Ok("2026-10-01".to_owned())));
        assert_eq!(find("Date: 1/10/2026"), Some(Err(NoDay::Order)));
        assert_eq!(find("Price list, October 2026"), None);
    }
}
