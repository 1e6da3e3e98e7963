//! What the command line says about stock, offcuts, the cut and the time.

use std::time::Duration;

use tankwright_geometry::{LengthError, parse_length};

/// `--stock`: a length, and where bars are bought by price, price and number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct StockArg {
    /// Length in mm.
    pub(crate) mm: i64,
    /// Price as written, in parts of 10 000.
    pub(crate) price: Option<i64>,
    /// At most so many.
    pub(crate) limit: Option<u64>,
}

/// `--offcut`: a length and how many there are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct OffcutArg {
    /// Length in mm.
    pub(crate) mm: i64,
    /// How many.
    pub(crate) number: u64,
}

/// Parts of one unit of money.
pub(crate) const PARTS: i64 = 10_000;
/// The most offcuts of one length.
const MOST_OFFCUTS: u64 = 1_000_000;

/// Why a text is not a length in whole millimetres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum NoLength {
    /// Not a length at all.
    Text(LengthError),
    /// Finer than a millimetre.
    Finer,
}

impl NoLength {
    /// What is wrong, in words that stand behind "a length".
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Finer | Self::Text(LengthError::TooFine) => "finer than a whole millimetre",
            Self::Text(LengthError::NotALength) => "that is not a number with a unit",
            Self::Text(LengthError::NoUnit) => "with a point and without a unit",
            Self::Text(LengthError::Comma) => "with a comma: thousands and decimals cannot be told apart",
            Self::Text(LengthError::UnknownUnit) => "in a unit that is not m, cm, mm, ft or in",
            Self::Text(LengthError::TooLong) => "over 100 m",
        }
    }
}

/// A length with its unit, or whole millimetres.
pub(crate) fn millimetres(text: &str) -> Result<i64, NoLength> {
    let text = text.trim();
    let digits = text.strip_prefix('-').unwrap_or(text);
    let bare = !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit());
    let tenths = if bare { parse_length(&format!("{text} mm")) } else { parse_length(text) };
    match tenths {
        Ok(tenths) if tenths % 10 == 0 => Ok(tenths / 10),
        Ok(_) => Err(NoLength::Finer),
        Err(e) => Err(NoLength::Text(e)),
    }
}

fn above_zero(text: &str) -> Result<i64, String> {
    match millimetres(text) {
        Ok(mm) if mm > 0 => Ok(mm),
        Ok(_) => Err("a length is more than 0".to_owned()),
        Err(e) => Err(format!("a length {}; as 12m or 12000", e.words())),
    }
}

fn number(text: &str) -> Result<u64, String> {
    let digits = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    let number = if digits { text.parse().unwrap_or(u64::MAX) } else { 0 };
    match number {
        1..=MOST_OFFCUTS => Ok(number),
        _ => Err("a number behind * is whole, from 1 to 1000000".to_owned()),
    }
}

/// Digits with at most one point and four places, above 0.
fn price(text: &str) -> Result<i64, String> {
    let wrong =
        || "a price has digits and at most one point with four places, above 0: 1900 or 18.50".to_owned();
    let (whole, part) = text.split_once('.').unwrap_or((text, "0"));
    let digits =
        |t: &str, most: usize| (1..=most).contains(&t.len()) && t.bytes().all(|b| b.is_ascii_digit());
    if !digits(whole, 8) || !digits(part, 4) {
        return Err(wrong());
    }
    let parts = format!("{whole}{part:0<4}").parse::<i64>().map_err(|_| wrong())?;
    if parts > 0 { Ok(parts) } else { Err(wrong()) }
}

/// `12m`, `6m=1900`, `6m=1900*5`.
pub(crate) fn stock(text: &str) -> Result<StockArg, String> {
    let (rest, limit) = match text.split_once('*') {
        Some((rest, n)) => (rest, Some(number(n.trim())?)),
        None => (text, None),
    };
    let (length, cost) = match rest.split_once('=') {
        Some((length, cost)) => (length, Some(price(cost.trim())?)),
        None => (rest, None),
    };
    Ok(StockArg { mm: above_zero(length)?, price: cost, limit })
}

/// `2.4m`, `2.4m*3`.
pub(crate) fn offcut(text: &str) -> Result<OffcutArg, String> {
    let (length, n) = text.split_once('*').unwrap_or((text, "1"));
    Ok(OffcutArg { mm: above_zero(length)?, number: number(n.trim())? })
}

/// The width of a cut.
pub(crate) fn kerf(text: &str) -> Result<i64, String> {
    match millimetres(text) {
        Ok(mm @ 0..=100) => Ok(mm),
        Ok(_) => Err("a cut is 0 to 100 mm wide; saws take 1 to 5 mm".to_owned()),
        Err(e) => Err(format!("a length {}; as 3mm or 0", e.words())),
    }
}

/// `10s`, `500ms`, `2min`.
pub(crate) fn time(text: &str) -> Result<Duration, String> {
    let text = text.trim();
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    let (digits, unit) = text.split_at(end);
    let wrong = || "a time is a whole number with s, ms or min, at most a day: 10s".to_owned();
    let number: u64 = digits.parse().map_err(|_| wrong())?;
    let millis = match unit.trim() {
        "ms" => 1,
        "s" => 1_000,
        "min" => 60_000,
        _ => return Err(wrong()),
    };
    let all = number.checked_mul(millis).filter(|ms| (1..=86_400_000).contains(ms));
    all.map(Duration::from_millis).ok_or_else(wrong)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_people_write() {
        let bar = |mm, price, limit| Ok(StockArg { mm, price, limit });
        assert_eq!(stock("12m"), bar(12_000, None, None));
        assert_eq!(stock("12000"), bar(12_000, None, None));
        assert_eq!(stock("6 m = 1900"), bar(6_000, Some(19_000_000), None));
        assert_eq!(stock("6m=18.5*4"), bar(6_000, Some(185_000), Some(4)));
        assert_eq!(offcut("2.4m*3"), Ok(OffcutArg { mm: 2_400, number: 3 }));
        assert_eq!(offcut("2400"), Ok(OffcutArg { mm: 2_400, number: 1 }));
        assert_eq!((kerf("3mm"), kerf("0")), (Ok(3), Ok(0)));
        assert_eq!(time("10s"), Ok(Duration::from_secs(10)));
        assert_eq!(time("500 ms"), Ok(Duration::from_millis(500)));
        assert_eq!(millimetres("10 ft"), Ok(3_048));
    }

    #[test]
    fn refuses_the_rest() {
        for text in
            ["", "m", "0", "-2m", "12.5", "12,5m", "6m=", "6m=0", "6m=1e3", "6m=-4", "6m*0", "6m*x", "101m"]
        {
            assert!(stock(text).is_err(), "{text}");
        }
        for text in ["2.4m*", "2.4m*0", "*3", "2.4m*1000001", "2.4m*18446744073709551616"] {
            assert!(offcut(text).is_err(), "{text}");
        }
        for text in ["-1", "0.5mm", "101mm", "thin"] {
            assert!(kerf(text).is_err(), "{text}");
        }
        for text in ["", "10", "s", "0s", "-1s", "1.5s", "2h", "99999999999999999999s", "99999999min"] {
            assert!(time(text).is_err(), "{text}");
        }
        assert_eq!(millimetres("1 in"), Err(NoLength::Finer));
    }
}
