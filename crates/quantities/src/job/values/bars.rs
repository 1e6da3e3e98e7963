//! Bars in the notation of the drawing office (`4Y12`, `Y10@150`), and laps (`40d`).

use tankwright_geometry::{LengthError, Ratio, parse_length};
use toml::de::DeValue;

use super::{Flaw, length, quoted, unfit};
use crate::job::codes;

/// Least and most spacing of bars, tenths of a millimetre.
const SPACING: (i64, i64) = (250, 20_000);
/// Most bars side by side.
const NUMBER: i64 = 100;
/// Most diameters in a lap.
const LAP: i64 = 200;

/// Bars as written: letter and diameter, and how many or how far apart.
#[derive(Debug, PartialEq, Eq)]
pub(in crate::job) struct Notation {
    /// Grade letter and diameter, `Y12`.
    pub(in crate::job) bar: String,
    /// Number of bars, or spacing in tenths of a millimetre.
    pub(in crate::job) amount: i64,
}

/// A lap as written.
#[derive(Debug, PartialEq, Eq)]
pub(in crate::job) enum Lap {
    /// So many diameters.
    Diameters(i64),
    /// A length, tenths of a millimetre.
    Length(i64),
}

const fn example(spaced: bool) -> &'static str {
    if spaced { "\"Y10@150\"" } else { "\"4Y12\"" }
}

/// Reads bars: with a spacing (`Y10@150`) or with a number (`4Y12`).
pub(in crate::job) fn bars(value: &DeValue<'_>, spaced: bool) -> Result<Notation, Flaw> {
    let DeValue::String(text) = value else { return Err(unfit(value, "bars", example(spaced))) };
    let this = quoted(text);
    let wrong = |label: String| {
        let hint = if spaced {
            "write letter, diameter in mm, @ and spacing in mm, as \"Y10@150\""
        } else {
            "write number, letter and diameter in mm, as \"4Y12\""
        };
        Flaw::new(codes::NOT_BARS, "this is not a bar notation").label(label).hint(hint)
    };
    let bare: String = text.chars().filter(|c| !c.is_whitespace()).collect();
    let (bars, at) = bare.split_once('@').map_or((bare.as_str(), None), |(b, at)| (b, Some(at)));
    let digits = |t: &str| t.bytes().take_while(u8::is_ascii_digit).count();
    let (number, rest) = bars.split_at(digits(bars));
    let letters = rest.bytes().take_while(u8::is_ascii_alphabetic).count();
    let (letter, diameter) = rest.split_at(letters);
    if letter.is_empty() || letter.len() > 2 || diameter.is_empty() || digits(diameter) != diameter.len() {
        let plain = number.len() == bars.len() || rest.to_lowercase() == "mm";
        return Err(wrong(if plain {
            format!("{this} has no letter for the grade")
        } else {
            format!("{this} is not read")
        }));
    }
    let diameter = diameter.trim_start_matches('0');
    if diameter.is_empty() || diameter.len() > 3 {
        return Err(wrong(format!("{this}: no bar has this diameter")));
    }
    let bar = format!("{letter}{diameter}");
    match (spaced, number, at) {
        (true, "", Some(at)) => spacing(at, &this).map(|amount| Notation { bar, amount }),
        (false, number, None) if !number.is_empty() => {
            count(number, &this).map(|amount| Notation { bar, amount })
        }
        (true, _, None) if !number.is_empty() => {
            Err(Flaw::new(codes::BARS_COUNTED, "bars by their spacing are wanted here")
                .label(format!("{this} says how many, not how far apart"))
                .hint(format!("write the spacing in mm: \"{bar}@150\"; the number follows from the length")))
        }
        (false, "", Some(_)) => Err(Flaw::new(codes::BARS_SPACED, "a number of bars is wanted here")
            .label(format!("{this} says how far apart, not how many"))
            .hint(format!("write how many: \"4{bar}\""))),
        (_, _, Some(_)) if !number.is_empty() => {
            Err(wrong(format!("{this} has both a number and a spacing")))
        }
        (true, ..) => Err(wrong(format!("{this} has no spacing"))),
        (false, ..) => Err(wrong(format!("{this} has no number"))),
    }
}

fn spacing(at: &str, this: &str) -> Result<i64, Flaw> {
    let not = || {
        Flaw::new(codes::NOT_BARS, "this is not a bar notation")
            .label(format!("{this}: the spacing is not whole millimetres"))
            .hint("write the spacing in mm, in digits only, as \"Y10@150\"")
    };
    let tenths = match parse_length(at) {
        Ok(tenths) => tenths,
        Err(LengthError::NoUnit) if at.bytes().all(|b| b.is_ascii_digit()) => {
            at.parse::<i64>().ok().and_then(|mm| mm.checked_mul(10)).unwrap_or(1_000_000)
        }
        Err(LengthError::TooLong) => 1_000_000,
        Err(_) => return Err(not()),
    };
    let (least, most) = SPACING;
    if tenths == 0 {
        return Err(Flaw::new(codes::BARS_NONE, "bars cannot stand 0 mm apart")
            .label(format!("{this} has a spacing of zero"))
            .hint("write the spacing in mm, as @150; leave the part out where there are no bars"));
    }
    if !(least..=most).contains(&tenths) {
        let mm = crate::decimal::plain(Ratio::of(tenths.into(), 10));
        let label =
            if tenths < least { format!("{this} is {mm} mm") } else { format!("{this} is more than 2 m") };
        return Err(Flaw::new(codes::BARS_RANGE, "bars stand from 25 mm to 2 m apart")
            .label(label)
            .hint("the spacing is in mm, as @150"));
    }
    Ok(tenths)
}

fn count(number: &str, this: &str) -> Result<i64, Flaw> {
    match number.parse::<i64>() {
        Ok(0) => Err(Flaw::new(codes::BARS_NONE, "no bars cannot be scheduled")
            .label(format!("{this} has a number of zero"))
            .hint("write how many, as 4Y12; leave the part out where there are no bars")),
        Ok(n) if n <= NUMBER => Ok(n),
        _ => Err(Flaw::new(codes::BARS_RANGE, format!("at most {NUMBER} bars stand side by side"))
            .label(format!("{this} are more"))
            .hint("number first, then letter and diameter in mm, as 4Y12")),
    }
}

/// Reads a lap: so many diameters (`40d`), or a length.
pub(in crate::job) fn lap(value: &DeValue<'_>) -> Result<Lap, Flaw> {
    if let DeValue::String(text) = value {
        let bare: String = text.chars().filter(|c| !c.is_whitespace()).collect();
        if let Some(times) = bare.strip_suffix(['d', 'D']).filter(|t| !t.is_empty()) {
            let found = times.parse::<i64>().ok().filter(|n| (1..=LAP).contains(n));
            return found.map(Lap::Diameters).ok_or_else(|| {
                Flaw::new(codes::NOT_A_LAP, "this is not a lap")
                    .label(format!("{} is not 1 to {LAP} whole diameters", quoted(text)))
                    .hint("write so many diameters, as \"40d\", or a length, as \"500 mm\"")
            });
        }
    }
    match length(value, 10, 100_000) {
        Ok(tenths) => Ok(Lap::Length(tenths)),
        Err(flaw) if flaw.code == codes::WRONG_SHAPE => Err(unfit(value, "a lap", "\"40d\" or \"500 mm\"")),
        Err(flaw) if flaw.code == codes::LENGTH_NO_UNIT => {
            let number = value.as_str().map(str::trim).unwrap_or_default();
            Err(Flaw::new(codes::NOT_A_LAP, "this is not a lap")
                .label(format!("{number} diameters, or {number} mm?"))
                .hint(format!("write \"{number}d\" for diameters, or \"{number} mm\"")))
        }
        Err(flaw) => Err(Flaw { code: codes::NOT_A_LAP, ..flaw }
            .hint("write so many diameters, as \"40d\", or a length, as \"500 mm\"")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &'static str, spaced: bool) -> Result<(String, i64), &'static str> {
        bars(&DeValue::String(text.into()), spaced).map(|n| (n.bar, n.amount)).map_err(|f| f.code)
    }

    #[test]
    fn notations() {
        let ok = |bar: &str, n: i64| Ok((bar.to_owned(), n));
        assert_eq!(read("4Y12", false), ok("Y12", 4));
        assert_eq!(read(" 4 Y 08 ", false), ok("Y8", 4));
        assert_eq!(read("Y10@150", true), ok("Y10", 1_500));
        assert_eq!(read("R8 @ 150 mm", true), ok("R8", 1_500));
        assert_eq!(read("Y10@0.15 m", true), ok("Y10", 1_500));
        for (text, spaced, code) in [
            ("4Y12", true, codes::BARS_COUNTED),
            ("Y10@150", false, codes::BARS_SPACED),
            ("4Y10@150", true, codes::NOT_BARS),
            ("4Y10@150", false, codes::NOT_BARS),
            ("Y10", true, codes::NOT_BARS),
            ("Y10", false, codes::NOT_BARS),
            ("Y10@", true, codes::NOT_BARS),
            ("Y10@15.5", true, codes::NOT_BARS),
            ("Y10@-150", true, codes::NOT_BARS),
            ("Y10mm@150", true, codes::NOT_BARS),
            ("4Nos12", false, codes::NOT_BARS),
            ("12", false, codes::NOT_BARS),
            ("", false, codes::NOT_BARS),
            ("4Ø12", false, codes::NOT_BARS),
            ("4Y0", false, codes::NOT_BARS),
            ("Y10@0", true, codes::BARS_NONE),
            ("0Y12", false, codes::BARS_NONE),
            ("Y10@1", true, codes::BARS_RANGE),
            ("Y10@99999999999999999999", true, codes::BARS_RANGE),
            ("999Y12", false, codes::BARS_RANGE),
            ("99999999999999999999Y12", false, codes::BARS_RANGE),
        ] {
            assert_eq!(read(text, spaced), Err(code), "{text}");
        }
    }

    #[test]
    fn laps() {
        let read = |text: &'static str| lap(&DeValue::String(text.into())).map_err(|f| f.code);
        assert_eq!(read("40d"), Ok(Lap::Diameters(40)));
        assert_eq!(read("40 D"), Ok(Lap::Diameters(40)));
        assert_eq!(read("500 mm"), Ok(Lap::Length(5_000)));
        for bad in ["0d", "d", "40", "40.5d", "0 mm", "long", "900d"] {
            assert_eq!(read(bad), Err(codes::NOT_A_LAP), "{bad}");
        }
    }
}
