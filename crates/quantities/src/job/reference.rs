//! The key reference: every key with what may stand there, its default and one line of help.

use super::field::{Fallback, Field, Kind, Presence};
use super::values::shown;

/// The key reference of some tables, a row a key: key, what it takes, what holds where it is left out, help.
#[must_use]
pub fn reference(tables: &[&'static [Field]]) -> Vec<[String; 4]> {
    tables.iter().copied().flatten().map(row).collect()
}

fn row(field: &'static Field) -> [String; 4] {
    let takes = match field.kind {
        None if field.key.ends_with("[]") => "list of parts".to_owned(),
        None => "part".to_owned(),
        Some(kind) => takes(kind),
    };
    let left_out = match (field.kind, field.presence, field.fallback) {
        (None, Presence::Always, _) => "defaults hold".to_owned(),
        (None, ..) => "not there".to_owned(),
        (_, _, Fallback::Required) => "must be given".to_owned(),
        (Some(Kind::Length { least: ..=0, .. }), _, Fallback::Nothing) => "0".to_owned(),
        (Some(Kind::Flag), _, Fallback::Nothing) => "false".to_owned(),
        (_, _, Fallback::Nothing) => "nothing".to_owned(),
        (_, _, Fallback::Default(text, source)) => format!("{text} ({source})"),
    };
    [field.key.to_owned(), takes, left_out, field.help.to_owned()]
}

/// What may stand at a key, in a few words.
#[must_use]
pub fn takes(kind: Kind) -> String {
    let range = |least, most| format!("{} to {}", shown(least), shown(most));
    match kind {
        Kind::Length { least, most } => format!("length, {}", range(least, most)),
        Kind::Lengths { least, most, count } => format!("1 to {count} lengths, {}", range(least, most)),
        Kind::Size { least, most } => format!("two lengths, {}", range(least, most)),
        Kind::Sizes { least, most } => format!("list of two lengths, {}", range(least, most)),
        Kind::Count { least, most } => format!("whole number, {least} to {most}"),
        Kind::Number { places: 0 } => "whole number".to_owned(),
        Kind::Number { places } => format!("number in quotes, {places} places"),
        Kind::Factor { places } => format!("number in quotes, {places} places, or \"1 in 4\""),
        Kind::LengthOr(word) => format!("length, or \"{word}\""),
        Kind::Flag => "true or false".to_owned(),
        Kind::Choice(words) => words.join(" | "),
        Kind::Mix { parts: 2 } => "mix, as 1:4".to_owned(),
        Kind::Mix { .. } => "mix, as 1:2:4".to_owned(),
        Kind::Bars { spaced: true } => "bars by spacing, as Y10@150".to_owned(),
        Kind::Bars { spaced: false } => "bars by number, as 4Y12".to_owned(),
        Kind::Lap => "lap, as 40d, or length".to_owned(),
        Kind::Text => "text".to_owned(),
        Kind::Date => "date, as 2026-11-25".to_owned(),
        Kind::Texts => "list of texts".to_owned(),
        Kind::Groups(_) => "list of lists of words".to_owned(),
        Kind::Open => "keys of your own".to_owned(),
        Kind::Changes => "keys of this file, in quotes".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::reference;

    #[test]
    fn a_list_of_parts_is_told_from_a_part() {
        let rows = reference(&crate::flow::job_tables());
        let takes = |key: &str| rows.iter().find(|r| r[0] == key).map(|r| r[1].as_str());
        assert_eq!(takes("additions.list[]"), Some("list of parts"));
        assert_eq!(takes("additions"), Some("part"));
    }
}
