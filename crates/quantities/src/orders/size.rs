//! What a pack holds, as people write it: `50 kg`, `94 lb`, `5 m3`, `20 m x 4 m`, `2500 nr`. Exact.

use rust_decimal::Decimal;

use crate::decimal::product;

/// Units as written, the own unit they belong to, and how much of it one is. All by definition: pound 0.45359237 kg,
/// yard 0.9144 m (international yard and pound agreement, 1959; NIST SP 811, appendix B: recalled), foot and inch a
/// third and a 36th of it.
const UNITS: [(&str, &str, &str); 35] = [
    ("kg", "kg", "1"),
    ("kgs", "kg", "1"),
    ("g", "kg", "0.001"),
    ("t", "kg", "1000"),
    ("tonne", "kg", "1000"),
    ("tonnes", "kg", "1000"),
    ("lb", "kg", "0.45359237"),
    ("lbs", "kg", "0.45359237"),
    ("m3", "m3", "1"),
    ("m³", "m3", "1"),
    ("ft3", "m3", "0.028316846592"),
    ("cft", "m3", "0.028316846592"),
    ("yd3", "m3", "0.764554857984"),
    ("m2", "m2", "1"),
    ("m²", "m2", "1"),
    ("ft2", "m2", "0.09290304"),
    ("sft", "m2", "0.09290304"),
    ("m", "m", "1"),
    ("cm", "m", "0.01"),
    ("mm", "m", "0.001"),
    ("ft", "m", "0.3048"),
    ("in", "m", "0.0254"),
    ("l", "l", "1"),
    ("litre", "l", "1"),
    ("litres", "l", "1"),
    ("ml", "l", "0.001"),
    ("nr", "nr", "1"),
    ("no", "nr", "1"),
    ("pcs", "nr", "1"),
    ("piece", "nr", "1"),
    ("pieces", "nr", "1"),
    ("brick", "nr", "1"),
    ("bricks", "nr", "1"),
    ("block", "nr", "1"),
    ("blocks", "nr", "1"),
];

/// Own units of materials.
pub(super) const OWN_UNITS: [&str; 6] = ["kg", "m3", "m2", "m", "l", "nr"];

/// An amount in one of the own units: kg, m3, m2, m, l, nr.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Size {
    /// How much, above zero.
    pub amount: Decimal,
    /// Own unit.
    pub unit: &'static str,
    /// As written, with single blanks.
    pub text: String,
}

/// Why a text is no size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SizeError {
    /// A number alone.
    NoUnit,
    /// No number in front, or one with a comma or too many digits.
    NoNumber,
    /// A unit that is not known, as written.
    Unit(String),
    /// Nothing.
    Zero,
    /// More than a million, or finer than can be kept.
    Range,
    /// Sides of a roll or body that are not lengths.
    Sides,
}

impl Size {
    /// Reads an amount with its unit; two lengths multiplied are m2, three are m3.
    ///
    /// # Errors
    /// See [`SizeError`].
    pub fn read(text: &str) -> Result<Self, SizeError> {
        let parts: Vec<&str> = split_sides(text);
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let read: Vec<(Decimal, &'static str)> = parts.iter().map(|p| single(p)).collect::<Result<_, _>>()?;
        let sides = read.len();
        if sides > 1 && (sides > 3 || read.iter().any(|(_, unit)| *unit != "m")) {
            return Err(SizeError::Sides);
        }
        let unit = match sides {
            1 => read.first().map_or("", |r| r.1),
            2 => "m2",
            _ => "m3",
        };
        let amount = read.iter().try_fold(Decimal::ONE, |whole, (side, _)| product(whole, *side));
        let amount = amount.ok_or(SizeError::Range)?;
        if amount.is_zero() {
            return Err(SizeError::Zero);
        }
        if amount > Decimal::from(1_000_000) || amount < Decimal::new(1, 6) {
            return Err(SizeError::Range);
        }
        Ok(Self { amount, unit, text })
    }

    /// The amount in a material's own unit; nothing where it is another kind. Litres and m3 are one kind.
    #[must_use]
    pub fn in_unit(&self, unit: &str) -> Option<Decimal> {
        let thousand = Decimal::from(1_000);
        match (self.unit, unit) {
            (own, asked) if own == asked => Some(self.amount),
            ("m3", "l") => product(self.amount, thousand),
            ("l", "m3") => product(self.amount, Decimal::new(1, 3)),
            _ => None,
        }
    }
}

/// Parts at an `x`, `×` or `*` that stands before a number.
fn split_sides(text: &str) -> Vec<&str> {
    let (mut parts, mut from) = (Vec::new(), 0);
    for (at, c) in text.char_indices().filter(|(_, c)| matches!(c, 'x' | 'X' | '×' | '*')) {
        let after = text.get(at + c.len_utf8()..).unwrap_or_default();
        if after.trim_start().starts_with(|c: char| c.is_ascii_digit()) {
            parts.push(text.get(from..at).unwrap_or_default());
            from = at + c.len_utf8();
        }
    }
    parts.push(text.get(from..).unwrap_or_default());
    parts
}

fn single(text: &str) -> Result<(Decimal, &'static str), SizeError> {
    let text = text.trim();
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    let (whole, part) = number.split_once('.').unwrap_or((number, "0"));
    let digits = |t: &str, most| !t.is_empty() && t.len() <= most && t.bytes().all(|b| b.is_ascii_digit());
    if !digits(whole, 7) || !digits(part, 6) || unit.starts_with(',') {
        return Err(SizeError::NoNumber);
    }
    let number: Decimal = number.parse().map_err(|_| SizeError::NoNumber)?;
    let unit = unit.trim().to_lowercase();
    if unit.is_empty() {
        return Err(SizeError::NoUnit);
    }
    let known = UNITS.iter().find(|(written, _, _)| *written == unit);
    let (_, own, factor) = known.ok_or_else(|| SizeError::Unit(unit.clone()))?;
    let factor: Decimal = factor.parse().map_err(|_| SizeError::Range)?;
    Ok((product(number, factor).ok_or(SizeError::Range)?, *own))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bill::fixture::d;

    fn read(text: &str) -> Result<(Decimal, &'static str), SizeError> {
        Size::read(text).map(|s| (s.amount.normalize(), s.unit))
    }

    #[test]
    fn sizes_as_people_write_them() {
        assert_eq!(read("50 kg"), Ok((d("50"), "kg")));
        assert_eq!(read("42.5kg"), Ok((d("42.5"), "kg")));
        assert_eq!(read("94 lb"), Ok((d("94") * d("0.45359237"), "kg"))); // 42.63768278
        assert_eq!(read("5 m3"), Ok((d("5"), "m3")));
        assert_eq!(read("100 cft"), Ok((d("100") * d("0.028316846592"), "m3")));
        assert_eq!(read("20 m x 4 m"), Ok((d("20") * d("4"), "m2")));
        assert_eq!(read("4 m x 2.1 m x 60 cm"), Ok((d("4") * d("2.1") * d("0.6"), "m3")));
        assert_eq!(read("40 ft"), Ok((d("40") * d("0.3048"), "m"))); // 12.192 m
        assert_eq!(read(" 2500  bricks "), Ok((d("2500"), "nr")));
        assert_eq!(Size::read("5 m3").map(|s| s.in_unit("l")), Ok(Some(d("5000"))));
        assert_eq!(Size::read("20 l").map(|s| s.in_unit("m3")), Ok(Some(d("0.02"))));
        assert_eq!(Size::read("5 t").map(|s| s.in_unit("m3")), Ok(None));
    }

    #[test]
    fn units_derive_from_yard_and_pound() {
        let is =
            |text: &str, sum: Decimal| assert_eq!(read(text).map(|r| r.0), Ok(sum.normalize()), "{text}");
        let (foot, inch) = (d("0.9144") / d("3"), d("0.9144") / d("36"));
        is("1 ft", foot);
        is("1 in", inch);
        is("1 ft2", foot * foot);
        is("1 ft3", foot * foot * foot);
        is("1 yd3", d("0.9144") * d("0.9144") * d("0.9144"));
        assert!(UNITS.iter().all(|(_, own, _)| OWN_UNITS.contains(own)));
    }

    #[test]
    fn what_is_no_size() {
        assert_eq!(read("500"), Err(SizeError::NoUnit));
        assert_eq!(read(""), Err(SizeError::NoNumber));
        assert_eq!(read("kg 50"), Err(SizeError::NoNumber));
        assert_eq!(read("1,000 kg"), Err(SizeError::NoNumber));
        assert_eq!(read("-5 kg"), Err(SizeError::NoNumber));
        assert_eq!(read("1.2.3 kg"), Err(SizeError::NoNumber));
        assert_eq!(read("0 kg"), Err(SizeError::Zero));
        assert_eq!(read("5 trips"), Err(SizeError::Unit("trips".into())));
        assert_eq!(read("1 box"), Err(SizeError::Unit("box".into())));
        assert_eq!(read("4 kg x 3 m"), Err(SizeError::Sides));
        assert_eq!(read("9999999 m x 9999999 m"), Err(SizeError::Range));
        assert_eq!(read("99999999999999999999999999999999 kg"), Err(SizeError::NoNumber));
        assert_eq!(read("é"), Err(SizeError::NoNumber));
    }
}
