//! Lettering: how wide a text is, in whole hundredths of a millimetre. Heights are those of capitals (ISO 3098).

use crate::advances::{EM, RANGES, SINGLE};

/// Height of capitals in the face, units of [`EM`].
const CAPITAL: i64 = 1493;

/// A height of capitals as a size of the face, both hundredths of a millimetre.
const fn sized(capital: i64) -> i64 {
    (capital * EM + CAPITAL / 2) / CAPITAL
}

/// Figures and notes: capitals of 2.5 mm.
pub const NOTE: i64 = sized(250);
/// The title of a sheet: 3.5 mm.
pub const TITLE: i64 = sized(350);
/// The title of the job: 5 mm.
pub const HEAD: i64 = sized(500);

/// Width of a text at a size of the face; a character that the face lacks counts a whole em.
#[must_use]
pub fn width(text: &str, size: i64) -> i64 {
    let units: i64 = text.chars().map(|c| i64::from(advance(c))).sum();
    (units * size + EM - 1) / EM
}

fn advance(c: char) -> u16 {
    let code = u32::from(c);
    let ranged = RANGES.iter().find_map(|(first, widths)| {
        let at = usize::try_from(code.checked_sub(*first)?).ok()?;
        widths.get(at).copied()
    });
    let single = || SINGLE.iter().find(|(of, _)| *of == code).map(|(_, w)| *w);
    ranged.or_else(single).filter(|w| *w > 0).unwrap_or(2048)
}

/// How far letters reach over and under their line at a size: the face's capitals, accents kept out, and its tails.
#[must_use]
pub const fn reach(size: i64) -> [i64; 2] {
    [size * 78 / 100, size * 24 / 100]
}

/// A text in lines no wider than this; a word that is wider stands alone, cut with an ellipsis.
#[must_use]
pub fn wrapped(text: &str, size: i64, room: i64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let word = fitted(word, size, room);
        match lines.last_mut() {
            Some(line) if width(&format!("{line} {word}"), size) <= room => {
                line.push(' ');
                line.push_str(&word);
            }
            _ => lines.push(word),
        }
    }
    lines
}

/// A text that fits, its end cut where it must be.
#[must_use]
pub fn fitted(text: &str, size: i64, room: i64) -> String {
    if width(text, size) <= room {
        return text.to_owned();
    }
    let mut short = text.to_owned();
    while short.pop().is_some() && width(&format!("{short}\u{2026}"), size) > room {}
    format!("{short}\u{2026}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_are_those_of_the_face() {
        // Three figures of 1303 units each, at 3.43 mm: 3 x 1303 x 343 / 2048, rounded up.
        assert_eq!(width("220", NOTE), (3 * 1303 * NOTE + 2047) / 2048);
        assert_eq!(NOTE, 343);
        assert_eq!(width("\u{4e00}", 100), 100);
    }

    #[test]
    fn long_texts_are_wrapped_and_long_words_cut() {
        let room = width("bottom of", NOTE);
        assert_eq!(wrapped("bottom of dig", NOTE, room), ["bottom of", "dig"]);
        let cut = fitted("Donaudampfschiff", NOTE, room);
        assert!(cut.ends_with('\u{2026}') && width(&cut, NOTE) <= room);
    }
}
