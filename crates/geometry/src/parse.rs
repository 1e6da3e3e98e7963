//! Lengths as people write them: "2.00 m", "150 mm", "45 cm", "5 ft 6 in".

use crate::Ratio;

/// Why a text is not a length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthError {
    /// Not a number followed by a unit.
    NotALength,
    /// A number without a unit.
    NoUnit,
    /// A comma: thousands or decimals cannot be told apart.
    Comma,
    /// A unit that is not m, cm, mm, ft or in.
    UnknownUnit,
    /// Finer than a tenth of a millimetre.
    TooFine,
    /// Longer than 100 m.
    TooLong,
}

/// The longest length, in tenths of a millimetre: 100 m.
pub const LONGEST: i64 = 1_000_000;

/// Reads a length with its unit, in tenths of a millimetre, exactly or not at all.
///
/// # Errors
/// See [`LengthError`].
///
/// ```
/// # use tankwright_geometry::parse_length;
/// assert_eq!(parse_length("2.00 m"), Ok(20_000));
/// assert_eq!(parse_length("5 ft 6 in"), Ok(16_764));
/// ```
pub fn parse_length(text: &str) -> Result<i64, LengthError> {
    let text = text.trim();
    if text.contains(',') {
        return Err(LengthError::Comma);
    }
    let (sign, mut rest) = match text.strip_prefix('-') {
        Some(rest) => (-1, rest.trim_start()),
        None => (1, text.strip_prefix('+').unwrap_or(text)),
    };
    let mut total = Ratio::ZERO;
    let mut last = Ratio::UNKNOWN;
    while !rest.is_empty() {
        let end = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
        let number = decimal(&rest[..end]).ok_or(LengthError::NotALength)?;
        rest = rest[end..].trim_start();
        let end = rest.find(|c: char| c.is_ascii_digit() || c.is_whitespace()).unwrap_or(rest.len());
        let unit = match &rest[..end] {
            "m" => Ratio::int(10_000),
            "cm" => Ratio::int(100),
            "mm" => Ratio::int(10),
            "ft" | "'" => Ratio::int(3048),
            "in" | "\"" => Ratio::int(254),
            "" => return Err(LengthError::NoUnit),
            _ => return Err(LengthError::UnknownUnit),
        };
        if last.is_known() && (last != Ratio::int(3048) || unit != Ratio::int(254)) {
            return Err(LengthError::NotALength);
        }
        total = total + number * unit;
        last = unit;
        rest = rest[end..].trim_start();
    }
    if !last.is_known() {
        return Err(LengthError::NotALength);
    }
    if !total.is_known() || total > Ratio::from(LONGEST) {
        return Err(LengthError::TooLong);
    }
    if total.denom() != 1 {
        return Err(LengthError::TooFine);
    }
    Ok(sign * i64::try_from(total.numer()).map_err(|_| LengthError::TooLong)?)
}

/// A plain decimal number as an exact fraction: digits with at most one point.
#[must_use]
pub fn decimal(text: &str) -> Option<Ratio> {
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let digits = format!("{whole}{part}");
    if digits.is_empty() || digits.len() > 27 || !digits.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let n: i128 = digits.parse().ok()?;
    let scale = 10_i128.checked_pow(u32::try_from(part.len()).ok()?)?;
    Some(Ratio::of(n, scale))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_people_write() {
        for (text, tenths) in [
            ("2.00 m", 20_000),
            ("150 mm", 1_500),
            ("150mm", 1_500),
            ("-200 mm", -2_000),
            ("45 cm", 4_500),
            ("4.2 m", 42_000),
            ("6 in", 1_524),
            ("5 ft 6 in", 16_764),
            ("10 ft", 30_480),
            ("0.1 mm", 1),
            ("100 m", 1_000_000),
        ] {
            assert_eq!(parse_length(text), Ok(tenths), "{text}");
        }
    }

    #[test]
    fn refuses_the_rest() {
        use LengthError as E;
        for (text, why) in [
            ("", E::NotALength),
            ("m", E::NotALength),
            ("2.00", E::NoUnit),
            ("2,00 m", E::Comma),
            ("1.2.3 m", E::NotALength),
            ("2 miles", E::UnknownUnit),
            ("0.01 mm", E::TooFine),
            ("0.25 in", E::TooFine),
            ("100.1 m", E::TooLong),
            ("2 m 50 cm", E::NotALength),
            ("2 m 6 in", E::NotALength),
            ("2 ft 3 ft", E::NotALength),
            ("5 ft 6 in 2 in", E::NotALength),
            ("99999999999999999999999999 m", E::TooLong),
            ("2 m\u{301}", E::UnknownUnit),
        ] {
            assert_eq!(parse_length(text), Err(why), "{text}");
        }
    }
    #[test]
    fn decimals_are_plain_digits_as_many_as_a_fraction_holds() {
        for (text, n, d) in [("12", 12, 1), ("1.50", 3, 2), (".5", 1, 2), ("5.", 5, 1), ("007", 7, 1)] {
            assert_eq!(decimal(text), Some(Ratio::of(n, d)), "{text}");
        }
        let nines = 10_i128.pow(27) - 1;
        assert_eq!(decimal(&"9".repeat(27)), Some(Ratio::int(nines)));
        for text in ["", ".", "1e3", "-1", "+1", " 1", "1.2.3", "1,5", &"9".repeat(28), &"0".repeat(40)] {
            assert_eq!(decimal(text), None, "{text}");
        }
    }
}
