//! Lengths: whole millimetres, or text with a unit.

use tankwright_geometry::parse::LONGEST;
use tankwright_geometry::{LengthError, Ratio, parse_length};
use toml::de::DeValue;

use super::{Flaw, integer, quoted, unfit};
use crate::decimal::plain;
use crate::job::codes;

/// Reads a length, in tenths of a millimetre.
pub(in crate::job) fn length(value: &DeValue<'_>, least: i64, most: i64) -> Result<i64, Flaw> {
    let tenths = match value {
        DeValue::Integer(whole) => {
            let tenths = integer(whole).and_then(|mm| mm.checked_mul(10)).and_then(|t| i64::try_from(t).ok());
            tenths.ok_or_else(|| too_long(&quoted(&whole.to_string()), most))?
        }
        DeValue::String(text) => parse_length(text).map_err(|e| explain(text, e, most))?,
        DeValue::Float(float) => return Err(bare(float.as_str())),
        other => return Err(unfit(other, "a length", "\"1.50 m\" or \"150 mm\"")),
    };
    if tenths < least {
        let what = if least == 0 {
            "a length that is not negative".to_owned()
        } else {
            format!("at least {}", shown(least))
        };
        return Err(Flaw::new(codes::LENGTH_SHORT, format!("{what} is wanted here"))
            .label(format!("this is {}", shown(tenths)))
            .hint(limits(least, most)));
    }
    if tenths > most {
        return Err(too_long(&shown(tenths), most));
    }
    Ok(tenths)
}

/// Reads a length from 0, or `None` for the word.
pub(in crate::job) fn length_or(value: &DeValue<'_>, word: &str) -> Result<Option<i64>, Flaw> {
    match value {
        DeValue::String(text) if text.trim() == word => Ok(None),
        _ => length(value, 0, LONGEST).map(Some).map_err(|mut flaw| {
            flaw.hint = format!("{}; or write \"{word}\"", flaw.hint);
            flaw
        }),
    }
}

/// A length for messages: metres from 1 m up where whole centimetres say it, else millimetres.
pub(in crate::job) fn shown(tenths: i64) -> String {
    if tenths != 0 && tenths % 10_000 == 0 {
        return format!("{} m", tenths / 10_000);
    }
    if tenths.abs() >= 10_000 && tenths % 100 == 0 {
        let sign = if tenths < 0 { "-" } else { "" };
        return format!("{sign}{}.{:02} m", tenths.abs() / 10_000, tenths.abs() % 10_000 / 100);
    }
    format!("{} mm", plain(Ratio::of(tenths.into(), 10)))
}

fn limits(least: i64, most: i64) -> String {
    format!("from {} to {}", shown(least), shown(most))
}

fn too_long(this: &str, most: i64) -> Flaw {
    let hint =
        if most == LONGEST { "whole numbers are millimetres; is the unit the one you mean?" } else { "" };
    Flaw::new(codes::LENGTH_LONG, format!("at most {} is wanted here", shown(most)))
        .label(format!("this is {this}"))
        .hint(if hint.is_empty() { format!("{} or less", shown(most)) } else { hint.to_owned() })
}

fn bare(number: &str) -> Flaw {
    let number = if number.is_empty() { "2.0" } else { number };
    Flaw::new(codes::LENGTH_FLOAT, "a number with a point does not say its unit")
        .label("metres or millimetres?")
        .hint(format!(
            "write \"{number} m\" or \"{number} mm\", in quotes; a whole number alone is millimetres"
        ))
}

fn explain(text: &str, error: LengthError, most: i64) -> Flaw {
    let this = quoted(text);
    let number = text.trim();
    match error {
        LengthError::NoUnit => Flaw::new(codes::LENGTH_NO_UNIT, "a length needs its unit")
            .label(format!("{this} has no unit"))
            .hint(format!("write \"{number} m\", \"{number} cm\" or \"{number} mm\"")),
        LengthError::Comma => Flaw::new(codes::LENGTH_COMMA, "a length is written without commas")
            .label("the comma could mean a point or a thousand")
            .hint(format!(
                "write \"{}\" with a point, or leave the comma out",
                text.trim().replace(',', ".")
            )),
        LengthError::UnknownUnit => Flaw::new(codes::LENGTH_UNIT, "the unit is not known")
            .label(format!("{this} ends in no known unit"))
            .hint("units are m, cm, mm, ft and in (small letters)"),
        LengthError::TooFine => {
            Flaw::new(codes::LENGTH_FINE, "a length is given to a tenth of a millimetre at most")
                .label(format!("{this} is finer"))
                .hint("round it to whole millimetres, or to one place")
        }
        LengthError::TooLong => too_long(&this, most.min(LONGEST)),
        LengthError::NotALength => Flaw::new(codes::NOT_A_LENGTH, "this is not a length")
            .label(format!("{this} is not a number and a unit"))
            .hint("write one number and its unit, as \"1.50 m\", \"150 mm\" or \"5 ft 6 in\""),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shows_lengths_as_people_say_them() {
        for (tenths, text) in [
            (0, "0 mm"),
            (500, "50 mm"),
            (10_000, "1 m"),
            (1_000_000, "100 m"),
            (15_500, "1.55 m"),
            (15_505, "1550.5 mm"),
            (-15_500, "-1.55 m"),
            (-5, "-0.5 mm"),
        ] {
            assert_eq!(shown(tenths), text);
        }
    }
}
