//! Flags, choices, proportions, free text and dates.

use tankwright_geometry::{Ratio, parse::decimal};
use toml::de::DeValue;

use super::{Flaw, quoted, unfit};
use crate::decimal::plain;
use crate::job::near::nearest;
use crate::job::{codes, date as calendar};

/// Longest free text, in characters.
const LONGEST: usize = 200;

/// Reads yes or no.
pub(in crate::job) fn flag(value: &DeValue<'_>) -> Result<bool, Flaw> {
    match value {
        DeValue::Boolean(b) => Ok(*b),
        other => {
            let word = other.as_str().map(|t| t.trim().to_lowercase()).unwrap_or_default();
            let hint = match &*word {
                "yes" | "true" | "on" | "y" => "write true, without quotes",
                "no" | "false" | "off" | "n" | "none" => "write false, without quotes",
                _ => "write true or false, without quotes",
            };
            Err(Flaw::new(codes::NOT_A_FLAG, "true or false is wanted here")
                .label(format!("this is {}", super::what(other)))
                .hint(hint))
        }
    }
}

/// Reads one of some words.
pub(in crate::job) fn choice(value: &DeValue<'_>, words: &[&'static str]) -> Result<String, Flaw> {
    let list = || words.iter().map(|w| format!("\"{w}\"")).collect::<Vec<_>>().join(", ");
    let DeValue::String(text) = value else { return Err(unfit(value, "a word", &list())) };
    if words.contains(&text.as_ref()) {
        return Ok(text.to_string());
    }
    let hint = match nearest(text, words.iter().copied()) {
        Some((_, word)) => format!("did you mean \"{word}\"? it may be {}", list()),
        None => format!("it may be {}", list()),
    };
    Err(Flaw::new(codes::NOT_A_CHOICE, format!("{} cannot stand here", quoted(text)))
        .label("not one of the known words")
        .hint(hint))
}

/// Reads proportions by volume; gives them without blanks and closing zeros.
pub(in crate::job) fn mix(value: &DeValue<'_>, parts: usize) -> Result<String, Flaw> {
    let example =
        if parts == 2 { "\"1:4\", cement to sand" } else { "\"1:2:4\", cement to sand to aggregate" };
    let DeValue::String(text) = value else { return Err(unfit(value, "a mix", example)) };
    let this = quoted(text);
    let shares: Option<Vec<Ratio>> = text.split(':').map(|p| decimal(p.trim())).collect();
    let Some(shares) = shares else {
        return Err(Flaw::new(codes::NOT_A_MIX, "this is not a mix")
            .label(format!("{this} is not numbers with : between them"))
            .hint(format!("write it as {example}")));
    };
    if shares.len() != parts {
        return Err(Flaw::new(codes::MIX_PARTS, format!("a mix of {parts} parts is wanted here"))
            .label(match shares.len() {
                1 => "this is one part".to_owned(),
                n => format!("this has {n} parts"),
            })
            .hint(format!("write it as {example}")));
    }
    let within = |s: &Ratio| *s > Ratio::ZERO && *s <= Ratio::int(12) && (*s * Ratio::int(100)).denom() == 1;
    if shares.first() != Some(&Ratio::ONE) || !shares.iter().all(within) {
        return Err(Flaw::new(codes::MIX_RANGE, "a mix starts with 1 and has no part over 12")
            .label(format!("{this} does not"))
            .hint("divide all parts by the cement; at most two places after a point"));
    }
    Ok(shares.into_iter().map(plain).collect::<Vec<_>>().join(":"))
}

/// Reads a text of one line.
pub(in crate::job) fn free(value: &DeValue<'_>) -> Result<String, Flaw> {
    let DeValue::String(text) = value else {
        return Err(unfit(value, "a text", "words in quotes, as \"...\""));
    };
    let text = text.trim();
    let broken = text.chars().any(|c| c.is_control() || matches!(c, '\u{2028}' | '\u{2029}'));
    let flaw = |what: &str, label: String| Err(Flaw::new(codes::BAD_TEXT, what).label(label));
    if text.is_empty() {
        return flaw("the text is empty", "nothing between the quotes".to_owned())
            .map_err(|f: Flaw| f.hint("write something, or leave the key out where it may be left out"));
    }
    if broken {
        return flaw(
            "the text must stand on one line",
            "a line break, tab or control character is inside".to_owned(),
        )
        .map_err(|f: Flaw| f.hint("put it on one line, with blanks between the words"));
    }
    let long = text.chars().count();
    if long > LONGEST {
        return flaw(&format!("a text has at most {LONGEST} characters"), format!("this has {long}"))
            .map_err(|f: Flaw| f.hint("shorten it"));
    }
    Ok(text.to_owned())
}

/// Reads a date, as text or bare.
pub(in crate::job) fn date(value: &DeValue<'_>) -> Result<String, Flaw> {
    let text = match value {
        DeValue::String(text) => text.trim().to_owned(),
        DeValue::Datetime(bare) => bare.to_string(),
        other => return Err(unfit(other, "a date", "\"2026-11-25\"")),
    };
    match calendar::check(&text) {
        Ok(()) => Ok(text),
        Err(calendar::DateError::Form) => Err(Flaw::new(codes::NOT_A_DATE, "this is not a date")
            .label(format!("{} is not year-month-day", quoted(&text)))
            .hint("write it as \"2026-11-25\"")),
        Err(calendar::DateError::NoSuchDay(last)) => Err(no_such_day(&quoted(&text), last)),
    }
}

fn no_such_day(this: &str, last: u32) -> Flaw {
    let hint = match last {
        0 => "months go from 01 to 12, after the year".to_owned(),
        n => format!("that month ends on {n}"),
    };
    Flaw::new(codes::NO_SUCH_DAY, "the calendar has no such day")
        .label(format!("{this} does not exist"))
        .hint(hint)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mixed(text: &'static str, parts: usize) -> Result<String, &'static str> {
        mix(&DeValue::String(text.into()), parts).map_err(|f| f.code)
    }

    #[test]
    fn mixes() {
        assert_eq!(mixed("1:2:4", 3), Ok("1:2:4".to_owned()));
        assert_eq!(mixed(" 1 : 1.50 : 3 ", 3), Ok("1:1.5:3".to_owned()));
        assert_eq!(mixed("1:4", 3), Err(codes::MIX_PARTS));
        assert_eq!(mixed("C20", 3), Err(codes::NOT_A_MIX));
        assert_eq!(mixed("1:2:", 3), Err(codes::NOT_A_MIX));
        assert_eq!(mixed("2:4", 2), Err(codes::MIX_RANGE));
        assert_eq!(mixed("1:13", 2), Err(codes::MIX_RANGE));
        assert_eq!(mixed("1:0", 2), Err(codes::MIX_RANGE));
        assert_eq!(mixed("1:-4", 2), Err(codes::NOT_A_MIX));
    }

    #[test]
    fn texts_are_one_line() {
        let read = |text: String| free(&DeValue::String(text.into())).map_err(|f| f.code);
        assert_eq!(read(" hill road ".to_owned()), Ok("hill road".to_owned()));
        assert_eq!(read("x".repeat(200)), Ok("x".repeat(200)));
        for bad in [String::new(), "  ".to_owned(), "a\nb".to_owned(), "a\tb".to_owned(), "x".repeat(201)] {
            assert_eq!(read(bad), Err(codes::BAD_TEXT));
        }
    }
}
