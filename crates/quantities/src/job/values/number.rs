//! Plain numbers, factors and counts.

use tankwright_geometry::{Ratio, parse::decimal};
use toml::de::DeValue;

use super::{Flaw, integer, quoted, unfit};
use crate::job::codes;

/// Digits before the point at most: what follows from it must still multiply.
const DIGITS: usize = 15;

/// Reads a plain number, not negative: decimal text or a whole number.
pub(in crate::job) fn number(value: &DeValue<'_>, places: u32) -> Result<Ratio, Flaw> {
    match value {
        DeValue::Integer(whole) => {
            plain(&integer(whole).map_or_else(|| whole.to_string(), |n| n.to_string()), places)
        }
        DeValue::String(text) => plain(text.trim(), places),
        DeValue::Float(float) => Err(bare(float.as_str())),
        other => Err(unfit(other, "a number", "\"1234.50\" or 1234")),
    }
}

/// Reads a factor: as [`number`], or `1 in 4`.
pub(in crate::job) fn factor(value: &DeValue<'_>, places: u32) -> Result<Ratio, Flaw> {
    if let DeValue::String(text) = value
        && let Some((one, of)) = text.split_once(" in ")
    {
        let (one, of) = (plain(one.trim(), places)?, plain(of.trim(), places)?);
        if of.is_zero() {
            return Err(Flaw::new(codes::NOT_A_NUMBER, "nothing is divided by 0")
                .label(format!("{} has no value", quoted(text)))
                .hint("write \"0\" for no slope, or \"1 in 4\""));
        }
        return Ok(one / of);
    }
    number(value, places).map_err(|flaw| {
        let plain = flaw.code == codes::NOT_A_NUMBER || flaw.code == codes::WRONG_SHAPE;
        if plain { flaw.hint("write it as \"1 in 60\", or as a number alone: \"0.02\"") } else { flaw }
    })
}

/// Reads a whole number.
pub(in crate::job) fn count(value: &DeValue<'_>, least: i64, most: i64) -> Result<i64, Flaw> {
    let not = |this: &str| {
        Flaw::new(codes::NOT_A_COUNT, "a whole number is wanted here")
            .label(format!("this is {this}"))
            .hint("write it in digits only, as 4")
    };
    let (found, written) = match value {
        DeValue::Integer(whole) => (integer(whole), whole.to_string()),
        DeValue::String(text) => {
            let digits = text.trim();
            if digits.is_empty() || !digits.bytes().all(|b| b.is_ascii_digit()) {
                return Err(not(&quoted(text)));
            }
            (digits.parse().ok(), digits.to_owned())
        }
        DeValue::Float(float) => return Err(not(float.as_str())),
        other => return Err(unfit(other, "a whole number", "digits only, as 4")),
    };
    match found.and_then(|n| i64::try_from(n).ok()) {
        Some(n) if (least..=most).contains(&n) => Ok(n),
        _ => Err(Flaw::new(
            codes::COUNT_RANGE,
            format!("a whole number from {least} to {most} is wanted here"),
        )
        .label(format!("this is {written}"))
        .hint(format!("from {least} to {most}"))),
    }
}

fn plain(text: &str, places: u32) -> Result<Ratio, Flaw> {
    let this = quoted(text);
    let unsigned = text.trim_start_matches(['-', '+', '\u{2212}']);
    if unsigned.len() != text.len() {
        return Err(Flaw::new(codes::NUMBER_SIGN, "a number is written without a sign")
            .label(format!("{this} has a sign"))
            .hint(format!("write \"{}\"; nothing here can be negative", unsigned.trim())));
    }
    let inside = |c: char| matches!(c, ',' | '_' | '\'' | '\u{2019}') || c.is_whitespace();
    if text.contains(inside) && text.chars().all(|c| inside(c) || c == '.' || c.is_ascii_digit()) {
        let bare: String = text.chars().filter(|c| !inside(*c)).collect();
        return Err(Flaw::new(
            codes::NUMBER_COMMA,
            "a number is written without commas, blanks or marks inside",
        )
        .label("a separator could mean a point or a thousand")
        .hint(format!("write \"{bare}\" if thousands were meant, or a point for decimals")));
    }
    let Some(value) = decimal(text) else {
        let long =
            !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit() || b == b'.') && text.len() > DIGITS;
        if long && text.matches('.').count() < 2 {
            return Err(too_large(&this));
        }
        let stripped: String = text.chars().filter(|c| c.is_ascii_digit() || *c == '.').collect();
        let hint = if decimal(&stripped).is_some() {
            format!("write the number alone, as \"{stripped}\": no unit, no currency, no % sign")
        } else {
            "write digits with at most one point, as \"1234.50\"".to_owned()
        };
        return Err(Flaw::new(codes::NOT_A_NUMBER, "a plain number is wanted here")
            .label(format!("{this} is not one"))
            .hint(hint));
    };
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    if whole.trim_start_matches('0').len() > DIGITS {
        return Err(too_large(&this));
    }
    if part.trim_end_matches('0').len() > usize::try_from(places).unwrap_or(usize::MAX) {
        let most = if places == 0 { "no places".to_owned() } else { format!("at most {places} places") };
        return Err(Flaw::new(codes::NUMBER_PLACES, format!("{most} after the point are read here"))
            .label(format!("{this} has more"))
            .hint("round it yourself: a price or a percentage is never rounded silently"));
    }
    Ok(value)
}

fn too_large(this: &str) -> Flaw {
    Flaw::new(codes::NUMBER_RANGE, format!("at most {DIGITS} digits before the point are read"))
        .label(format!("{this} is too large"))
        .hint("is there a digit too many?")
}

fn bare(number: &str) -> Flaw {
    let number = if number.is_empty() { "1234.50" } else { number };
    Flaw::new(codes::NUMBER_FLOAT, "a number with a point is written in quotes, so that it stays exact")
        .label("bare number with a point")
        .hint(format!("write \"{number}\""))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn code(text: &str, places: u32) -> &'static str {
        plain(text, places).map_or_else(|f| f.code, |_| "")
    }

    #[test]
    fn each_slip_has_its_own_code() {
        for (text, want) in [
            ("1234.50", ""),
            (".5", ""),
            ("5.", ""),
            ("1.50000", ""),
            ("000000000000000000001", ""),
            ("1,234.50", codes::NUMBER_COMMA),
            ("1 234", codes::NUMBER_COMMA),
            ("12'000", codes::NUMBER_COMMA),
            ("-5", codes::NUMBER_SIGN),
            ("+5", codes::NUMBER_SIGN),
            ("5 %", codes::NOT_A_NUMBER),
            ("UGX 5", codes::NOT_A_NUMBER),
            ("1.2.3", codes::NOT_A_NUMBER),
            ("1e3", codes::NOT_A_NUMBER),
            ("", codes::NOT_A_NUMBER),
            (".", codes::NOT_A_NUMBER),
            ("1.234", codes::NUMBER_PLACES),
            ("1234567890123456", codes::NUMBER_RANGE),
            ("12345678901234567890123456789012345678901234567890", codes::NUMBER_RANGE),
        ] {
            assert_eq!(code(text, 2), want, "{text}");
        }
    }

    #[test]
    fn slopes_may_be_said_as_one_in_four() {
        let value = |text: &'static str| factor(&DeValue::String(text.into()), 3).ok();
        assert_eq!(value("1 in 4"), Some(Ratio::of(1, 4)));
        assert_eq!(value("1 in 3"), Some(Ratio::of(1, 3)));
        assert_eq!(value("0.5"), Some(Ratio::of(1, 2)));
        assert_eq!(value("1 in 0"), None);
        let hint = |text: &'static str| factor(&DeValue::String(text.into()), 3).map_err(|f| f.hint).err();
        for steep in ["steep", "2 %", "1:60"] {
            assert!(hint(steep).is_some_and(|h| h.contains("\"1 in 60\"")), "{steep}");
        }
    }
}
