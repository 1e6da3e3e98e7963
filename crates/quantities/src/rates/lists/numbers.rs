//! Rates as people write them: `1,234.50`, `1 234,50`, `12,34,567`, `18,000/=`. What can be read in two ways is given
//! back as both; the rest of the list may settle it.

use rust_decimal::Decimal;

/// Which sign parts the decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// `1,234.50`.
    Point,
    /// `1.234,50`.
    Comma,
}

/// A number as written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Seen {
    /// It says nothing of the list's decimal mark: `1234`, `1 234`.
    Plain(Decimal),
    /// It can only be read with this mark: `1,234.50`.
    With(Decimal, Mark),
    /// Thousands or decimals: `1,234`, `1.234`. The value with each mark.
    Either {
        /// Read with a decimal point.
        point: Decimal,
        /// Read with a decimal comma.
        comma: Decimal,
    },
}

/// Why a text is no rate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum NoNumber {
    /// Below nothing; true where it is a zero with a sign.
    Negative(bool),
    /// More digits than are kept.
    Long,
    /// Digits parted in no way that is known.
    Parted,
    /// Not digits.
    Other,
}

/// Most digits before the mark, and behind it.
const WHOLE: usize = 15;
const PART: usize = 6;

/// Blanks and other signs that part thousands and never decimals.
const BLANKS: [char; 6] = [' ', '\u{a0}', '\u{202f}', '\'', '\u{2019}', '_'];

/// Words of money beside a number that say nothing more, without points, lower case.
const MONEY: [&str; 15] = [
    "sh", "shs", "ush", "ugsh", "ksh", "kshs", "tsh", "tshs", "rs", "\u{20b9}", "\u{20a6}", "$", "birr",
    "br", "only",
];

/// Reads a number; `currency` may stand beside it.
pub(crate) fn read(text: &str, currency: &str) -> Result<Seen, NoNumber> {
    let seen = read_bare(text, currency)?;
    // `/=` and `/-` stand where the cents would: what is before them is whole.
    let whole = text.trim_end().ends_with("/=") || text.trim_end().ends_with("/-");
    Ok(match seen {
        Seen::Either { point, .. } if whole && text.contains(',') => Seen::With(point, Mark::Point),
        Seen::Either { comma, .. } if whole => Seen::With(comma, Mark::Comma),
        seen => seen,
    })
}

fn read_bare(text: &str, currency: &str) -> Result<Seen, NoNumber> {
    let text = bare(text, currency);
    let sign = text.strip_prefix(['-', '\u{2212}']).map(str::trim_start);
    if let Some(rest) = sign.filter(|r| r.starts_with(|c: char| c.is_ascii_digit())) {
        return Err(NoNumber::Negative(rest.bytes().all(|b| !b.is_ascii_digit() || b == b'0')));
    }
    let known = |c: char| c.is_ascii_digit() || c == '.' || c == ',' || BLANKS.contains(&c);
    if !text.starts_with(|c: char| c.is_ascii_digit()) || !text.chars().all(known) {
        return Err(NoNumber::Other);
    }
    let (mut groups, mut signs) = (vec![String::new()], Vec::new());
    for c in text.chars() {
        if c.is_ascii_digit() {
            groups.iter_mut().next_back().into_iter().for_each(|g| g.push(c));
        } else {
            signs.push(if BLANKS.contains(&c) { ' ' } else { c });
            groups.push(String::new());
        }
    }
    if groups.iter().any(String::is_empty) {
        return Err(NoNumber::Parted);
    }
    let whole = thousands(&groups, &signs).then(|| decimal(&groups, ""));
    let parted = match (signs.split_last(), groups.split_last()) {
        (Some((mark @ ('.' | ','), before)), Some((part, groups)))
            if !before.contains(mark) && thousands(groups, before) =>
        {
            Some((decimal(groups, part), *mark))
        }
        _ => None,
    };
    let mark = |sign: char| if sign == '.' { Mark::Point } else { Mark::Comma };
    match (whole, parted, signs.first()) {
        (Some(whole), None, None | Some(' ')) => Ok(Seen::Plain(whole?)),
        (Some(whole), None, Some(',')) => Ok(Seen::With(whole?, Mark::Point)),
        (Some(whole), None, _) => Ok(Seen::With(whole?, Mark::Comma)),
        (None, Some((value, sign)), _) => Ok(Seen::With(value?, mark(sign))),
        (Some(whole), Some((value, '.')), _) => Ok(Seen::Either { point: value?, comma: whole? }),
        (Some(whole), Some((value, _)), _) => Ok(Seen::Either { point: whole?, comma: value? }),
        (None, None, _) => Err(NoNumber::Parted),
    }
}

/// The number without the currency and what shops put behind it: `18,000/=`, `KSh 1,200`.
fn bare<'t>(text: &'t str, currency: &str) -> &'t str {
    let mut text = text.trim();
    for tail in ["/=", "/-", ".-", "=", "/"] {
        text = text.strip_suffix(tail).map_or(text, str::trim_end);
    }
    let money = |word: &str| {
        let word = word.trim_matches('.').to_lowercase();
        !word.is_empty() && (MONEY.contains(&word.as_str()) || word == currency.to_lowercase())
    };
    let first = text.find(|c: char| c.is_ascii_digit() || c == '-' || c == '\u{2212}').unwrap_or(0);
    let (front, rest) = text.split_at(first);
    if money(front.trim()) {
        text = rest;
    }
    let end = text.rfind(|c: char| c.is_ascii_digit()).map_or(text.len(), |i| i + 1);
    let (rest, back) = text.split_at(end);
    if money(back.trim()) { rest.trim_end() } else { text }
}

/// Are these groups parted as thousands are: by threes, or by twos and a last three with commas?
fn thousands(groups: &[String], signs: &[char]) -> bool {
    let Some((first, rest)) = groups.split_first() else { return false };
    let Some((last, middle)) = rest.split_last() else { return true };
    let one = signs.windows(2).all(|w| w.first() == w.last());
    let threes = (1..=3).contains(&first.len()) && middle.iter().all(|g| g.len() == 3);
    let twos = signs.first() == Some(&',') && first.len() <= 2 && middle.iter().all(|g| g.len() == 2);
    one && last.len() == 3 && !first.starts_with('0') && (threes || twos)
}

fn decimal(groups: &[String], part: &str) -> Result<Decimal, NoNumber> {
    let whole = groups.concat();
    if whole.len() > WHOLE || part.len() > PART {
        return Err(NoNumber::Long);
    }
    let text = if part.is_empty() { whole } else { format!("{whole}.{part}") };
    Decimal::from_str_exact(&text).map_err(|_| NoNumber::Long)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bill::fixture::d;

    fn plain(text: &str) -> String {
        match read(text, "UGX") {
            Ok(Seen::Plain(v)) => v.to_string(),
            Ok(Seen::With(v, Mark::Point)) => format!("{v} point"),
            Ok(Seen::With(v, Mark::Comma)) => format!("{v} comma"),
            Ok(Seen::Either { point, comma }) => format!("{point} or {comma}"),
            Err(no) => format!("{no:?}"),
        }
    }

    #[test]
    fn numbers_as_people_write_them() {
        for (text, want) in [
            ("12500", "12500"),
            ("12500.50", "12500.50 point"),
            ("12500,50", "12500.50 comma"),
            ("1,234.50", "1234.50 point"),
            ("1.234,50", "1234.50 comma"),
            ("1 234,50", "1234.50 comma"),
            ("1 234.50", "1234.50 point"),
            ("1\u{a0}234", "1234"),
            ("1'234.50", "1234.50 point"),
            ("12,34,567", "1234567 point"),
            ("12,34,567.50", "1234567.50 point"),
            ("1,234,567", "1234567 point"),
            ("1.234.567", "1234567 comma"),
            ("1 234 567", "1234567"),
            ("12,5", "12.5 comma"),
            ("0.500", "0.500 point"),
            ("1234.567", "1234.567 point"),
            ("1 234,567", "1234.567 comma"),
            ("1,234", "1234 or 1.234"),
            ("1.234", "1.234 or 1234"),
            ("18,000/=", "18000 point"),
            ("18.000/-", "18000 comma"),
            ("UGX 1,500.50/=", "1500.50 point"),
            ("UGX 18,000.00", "18000.00 point"),
            ("18000 ugx", "18000"),
            ("Shs. 1,800,000/-", "1800000 point"),
            ("Rs.450", "450"),
            ("\u{20b9} 12,34,567", "1234567 point"),
            ("0", "0"),
            ("0.000001", "0.000001 point"),
        ] {
            assert_eq!(plain(text), want, "{text}");
        }
    }

    #[test]
    fn what_is_no_rate() {
        for (text, want) in [
            ("-5", "Negative(false)"),
            ("\u{2212} 0.00", "Negative(true)"),
            ("UGX -1200", "Negative(false)"),
            ("-1200 UGX", "Negative(false)"),
            ("cheap", "Other"),
            ("1e3", "Other"),
            ("", "Other"),
            ("USD 5", "Other"),
            ("12,345,67", "Parted"),
            ("1,23,45", "Parted"),
            ("1..5", "Parted"),
            ("1,", "Parted"),
            ("12 5", "Parted"),
            ("1,2.3,4", "Parted"),
            ("0.0000001", "Long"),
            ("9999999999999999", "Long"),
        ] {
            assert_eq!(plain(text), want, "{text}");
        }
    }

    #[test]
    fn every_value_survives_each_spelling() {
        for value in ["1234.50", "1234567.25", "999.99", "1000.01", "123456789012.5"] {
            let (whole, part) = value.split_once('.').unwrap_or((value, ""));
            let threes = |sign: &str| -> String {
                let at = |i: usize| i > 0 && (whole.len() - i).is_multiple_of(3);
                whole
                    .char_indices()
                    .map(|(i, c)| if at(i) { format!("{sign}{c}") } else { c.to_string() })
                    .collect()
            };
            for text in [
                format!("{}.{part}", threes(",")),
                format!("{},{part}", threes(".")),
                format!("{},{part}", threes(" ")),
                format!("{}.{part}", threes("'")),
                format!("{whole},{part}"),
            ] {
                let seen = read(&text, "");
                assert!(matches!(seen, Ok(Seen::With(v, _)) if v == d(value)), "{text}: {seen:?}");
            }
        }
    }
}
