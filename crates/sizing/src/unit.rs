//! Units of sizing rules: exact factors, and what may be turned into what.

use tankwright_geometry::{Ratio, parse::decimal};

/// What a unit is made of: length, time, year, person, temperature, bedroom, fixture unit.
///
/// A year is not 365 days here: sums per year and per day would differ by dust that turns 2400 l into 2401.
type Powers = [i8; 7];

const LENGTH: Powers = [1, 0, 0, 0, 0, 0, 0];
const AREA: Powers = [2, 0, 0, 0, 0, 0, 0];
const VOLUME: Powers = [3, 0, 0, 0, 0, 0, 0];
const TIME: Powers = [0, 1, 0, 0, 0, 0, 0];
const YEAR: Powers = [0, 0, 1, 0, 0, 0, 0];
const PERSON: Powers = [0, 0, 0, 1, 0, 0, 0];
const WARMTH: Powers = [0, 0, 0, 0, 1, 0, 0];
const BEDROOM: Powers = [0, 0, 0, 0, 0, 1, 0];
const FIXTURE: Powers = [0, 0, 0, 0, 0, 0, 1];

/// Names of a unit, the first as printed; what it is made of; its size in m, m2, m3, s.
type Row = (&'static [&'static str], Powers, Ratio);

/// US gallon of 231 cubic inches; imperial gallon of 4.54609 l.
const SYMBOLS: &[Row] = &[
    (&["mm"], LENGTH, Ratio::of(1, 1_000)),
    (&["cm"], LENGTH, Ratio::of(1, 100)),
    (&["m", "metre", "metres"], LENGTH, Ratio::ONE),
    (&["in", "inch", "inches"], LENGTH, Ratio::of(254, 10_000)),
    (&["ft", "foot", "feet"], LENGTH, Ratio::of(3_048, 10_000)),
    (&["m2", "m\u{b2}"], AREA, Ratio::ONE),
    (&["ft2"], AREA, Ratio::of(9_290_304, 100_000_000)),
    (&["cm2"], AREA, Ratio::of(1, 10_000)),
    (&["l", "L", "litre", "litres", "liter", "liters"], VOLUME, Ratio::of(1, 1_000)),
    (&["m3", "m\u{b3}"], VOLUME, Ratio::ONE),
    (&["usgal", "gal"], VOLUME, Ratio::of(3_785_411_784, 1_000_000_000_000)),
    (&["impgal"], VOLUME, Ratio::of(454_609, 100_000_000)),
    (&["s", "sec", "second", "seconds"], TIME, Ratio::ONE),
    (&["min", "minute", "minutes"], TIME, Ratio::int(60)),
    (&["h", "hr", "hour", "hours"], TIME, Ratio::int(3_600)),
    (&["d", "day", "days"], TIME, Ratio::int(86_400)),
    (&["yr", "y", "year", "years"], YEAR, Ratio::ONE),
    (&["p", "person", "persons", "people", "head", "c", "cap"], PERSON, Ratio::ONE),
    (&["degC", "C", "\u{b0}C"], WARMTH, Ratio::ONE),
    (&["bedroom", "bedrooms", "bed"], BEDROOM, Ratio::ONE),
    (&["fixture-unit", "fixture-units", "dfu"], FIXTURE, Ratio::ONE),
    (&["1"], [0; 7], Ratio::ONE),
];

/// A unit: what it measures, and its exact size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unit {
    text: String,
    powers: Powers,
    size: Ratio,
}

impl Unit {
    /// A plain number.
    #[must_use]
    pub fn one() -> Self {
        Self { text: "1".to_owned(), powers: [0; 7], size: Ratio::ONE }
    }

    /// Reads `m3/p/d`, `min/25mm`; `None` where a part is not known.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let mut unit = Self { text: String::new(), powers: [0; 7], size: Ratio::ONE };
        if text.len() > 40 {
            return None;
        }
        for (i, part) in text.split('/').enumerate() {
            let part: String = part.chars().filter(|c| !c.is_whitespace()).collect();
            let (shown, powers, size) = symbol(&part)?;
            for (have, more) in unit.powers.iter_mut().zip(powers) {
                *have = have.checked_add(if i == 0 { more } else { -more })?;
            }
            unit.size = if i == 0 { size } else { unit.size / size };
            if i > 0 {
                unit.text.push('/');
            }
            unit.text.push_str(&shown);
        }
        (unit.size.is_known() && unit.size.signum() > 0).then_some(unit)
    }

    /// As printed: `m3/d`; nothing for a plain number.
    #[must_use]
    pub fn shown(&self) -> &str {
        if self.text == "1" { "" } else { &self.text }
    }

    /// Whether values of one can be said in the other.
    #[must_use]
    pub fn is_like(&self, other: &Self) -> bool {
        self.powers == other.powers
    }

    /// How many of `other` one of these is; `None` where they measure different things.
    #[must_use]
    pub fn in_terms_of(&self, other: &Self) -> Option<Ratio> {
        self.is_like(other).then(|| self.size / other.size)
    }

    /// The unit turned over, for rates given as millimetres an hour: `min/25mm` for `25mm/min`.
    #[must_use]
    pub fn is_upside_down_of(&self, other: &Self) -> bool {
        self.powers.iter().zip(other.powers).all(|(a, b)| *a == -b)
    }

    /// Its size in m and s: for rates turned over.
    #[must_use]
    pub const fn size(&self) -> Ratio {
        self.size
    }
}

fn symbol(part: &str) -> Option<(String, Powers, Ratio)> {
    let named = |name: &str| SYMBOLS.iter().find(|(names, ..)| names.contains(&name));
    if let Some((names, powers, size)) = named(part) {
        return Some(((*names.first()?).to_owned(), *powers, *size));
    }
    let end = part.find(|c: char| !c.is_ascii_digit() && c != '.')?;
    let (digits, rest) = part.split_at(end);
    let (times, (names, powers, size)) = (decimal(digits)?, named(rest)?);
    Some((format!("{digits}{}", names.first()?), *powers, times * *size))
}

/// A number in a unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quantity {
    /// How many.
    pub number: Ratio,
    /// Of what.
    pub unit: Unit,
}

impl Quantity {
    /// Reads `0.20 m3/d`; a number alone is a plain number.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim();
        let (minus, rest) = text.strip_prefix('-').map_or((false, text), |r| (true, r.trim_start()));
        let end = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
        let (digits, unit) = rest.split_at(end);
        let number = decimal(digits)?;
        let unit = if unit.trim().is_empty() { Unit::one() } else { Unit::parse(unit.trim())? };
        Some(Self { number: if minus { -number } else { number }, unit })
    }

    /// The number of `unit` it is; `None` where they measure different things.
    #[must_use]
    pub fn number_in(&self, unit: &Unit) -> Option<Ratio> {
        self.unit.in_terms_of(unit).map(|f| self.number * f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn turned(text: &str, unit: &str) -> Option<Ratio> {
        Quantity::parse(text)?.number_in(&Unit::parse(unit)?)
    }

    #[test]
    fn factors_are_exact() {
        assert_eq!(turned("1.68 m3/d", "l/d"), Some(Ratio::int(1680)));
        assert_eq!(turned("20 s/mm", "min/25mm"), Some(Ratio::of(20 * 25, 60)));
        assert_eq!(turned("20 s/mm", "min/in"), Some(Ratio::of(20 * 254, 600)));
        assert_eq!(turned("20 s/mm", "min/6in"), Some(Ratio::of(20 * 254 * 6, 600)));
        assert_eq!(turned("1 usgal", "l"), Some(Ratio::of(3_785_411_784, 1_000_000_000)));
        assert_eq!(turned("225 l/person/day", "m3/p/d"), Some(Ratio::of(225, 1000)));
        assert_eq!(turned("10 ft2", "m2"), Some(Ratio::of(9_290_304, 10_000_000)));
    }

    #[test]
    fn what_measures_something_else_is_not_turned() {
        assert_eq!(turned("1 l/d", "l/p/d"), None);
        assert_eq!(turned("1 l/yr", "l/d"), None, "a year is a unit of its own");
        for text in ["", "m", "1 furlong", "1 m//d", "1 0m", "1,5 m", "1 m3/0d"] {
            assert_eq!(Quantity::parse(text), None, "{text}");
        }
    }
}
