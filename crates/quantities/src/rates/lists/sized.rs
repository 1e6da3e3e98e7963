//! Works by words and sizes: "Excavate pit n.e. 1.50 m deep" is our "Excavate pit by hand, not deeper than 1.5 m".
//!
//! Words count only where they are ours to the last one, as everywhere; but a size may be written as people write it, and
//! what only says that it is a size (deep, thick, not exceeding) is no word.

use std::collections::BTreeMap;

use tankwright_geometry::{Ratio, parse};

use super::names::{FILL, plain};
use crate::decimal;
use crate::works;

/// Words that only say what a figure is, where a dig begins, or that it is by hand, as ours are.
const OF_SIZES: [&str; 24] = [
    "mm",
    "m",
    "metre",
    "meter",
    "thick",
    "thickness",
    "deep",
    "depth",
    "deeper",
    "not",
    "exceeding",
    "over",
    "than",
    "n",
    "e",
    "max",
    "maximum",
    "below",
    "from",
    "ground",
    "level",
    "by",
    "hand",
    "up",
];

/// A text as words and sizes.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
struct Key {
    /// In order of the alphabet.
    words: Vec<String>,
    /// Lengths in mm, mixes as written; `<1500` and `>4500` for depths that end or begin there.
    sizes: Vec<String>,
}

/// Works of the built-in lists by words and sizes.
#[derive(Clone, Debug, Default)]
pub(super) struct Sizes {
    /// Unit and code.
    of: BTreeMap<Key, Vec<(String, String)>>,
}

impl Sizes {
    /// Takes a row of a built-in list.
    pub(super) fn add(&mut self, description: &str, unit: &str, code: &str) {
        let whom = self.of.entry(key(description)).or_default();
        let named = (unit.to_owned(), code.to_owned());
        if !whom.contains(&named) {
            whom.push(named);
        }
    }

    /// The one work that words, sizes and unit name. The thickness of a slab may be said where its rate is by volume.
    pub(super) fn work(&self, description: &str, unit: &str) -> Option<&str> {
        let mut key = key(description);
        if key.sizes.is_empty() || key.words.is_empty() {
            return None;
        }
        if let Some(code) = self.one(&key, unit) {
            return Some(code);
        }
        let thick = |s: &String| {
            s.bytes().all(|b| b.is_ascii_digit() || b == b'.')
                && s.split('.').next().is_some_and(|w| w.len() < 4)
        };
        let at = key.sizes.iter().position(thick)?;
        key.sizes.remove(at);
        let code = self.one(&key, unit)?;
        let slab = works::all()
            .iter()
            .any(|w| w.slab && Some(w.id) == code.split('/').next() && w.unit.id() == unit);
        (slab && !key.sizes.iter().any(thick)).then_some(code)
    }

    fn one(&self, key: &Key, unit: &str) -> Option<&str> {
        let whom = self.of.get(key)?;
        let mut codes: Vec<&str> =
            whom.iter().filter(|(u, _)| u == unit).map(|(_, code)| code.as_str()).collect();
        codes.sort_unstable();
        codes.dedup();
        if let [one] = codes[..] { Some(one) } else { None }
    }
}

fn key(text: &str) -> Key {
    let tokens = plain(text);
    let digit = |t: &str| t.starts_with(|c: char| c.is_ascii_digit());
    let (mut words, mut mixes, mut numbers) = (Vec::new(), Vec::new(), Vec::new());
    for (i, token) in tokens.iter().enumerate() {
        match (digit(token), parse::decimal(token)) {
            (true, Some(number)) => {
                // A figure without a unit has that of the next one: `1.5 to 3.0 m`.
                let after = tokens.get(i + 1..).unwrap_or_default();
                let unit = after.iter().find(|t| matches!(t.as_str(), "m" | "mm" | "metre" | "meter"));
                numbers.push((number, unit.is_some_and(|u| u != "mm")));
            }
            (true, None) => mixes.push(token.clone()),
            (false, _) if FILL.contains(&token.as_str()) || OF_SIZES.contains(&token.as_str()) => {}
            (false, _) => words.push(token.clone()),
        }
    }
    words.sort_unstable();
    let mm = |(number, metres): &(Ratio, bool)| {
        decimal::plain(if *metres { *number * Ratio::int(1000) } else { *number })
    };
    let mut sizes: Vec<String> = match numbers[..] {
        [depth @ (_, true)] => vec![format!("{}{}", bound(&tokens), mm(&depth))],
        [(from, _), depth @ (_, true)] if from.is_zero() => vec![format!("<{}", mm(&depth))],
        _ => numbers.iter().map(mm).collect(),
    };
    sizes.extend(mixes);
    sizes.sort_unstable();
    Key { words, sizes }
}

/// Whether a single depth ends there, begins there, or is the depth itself.
fn bound(tokens: &[String]) -> &'static str {
    let has = |word: &str| tokens.iter().any(|t| t == word);
    let ends =
        has("not") || (has("n") && has("e")) || has("max") || has("maximum") || has("up") || has("below");
    match (ends, has("deeper") || has("exceeding") || has("over")) {
        (true, _) => "<",
        (false, true) => ">",
        (false, false) => "",
    }
}

#[cfg(test)]
mod tests {
    use crate::rates::builtin;
    use crate::rates::lists::names::Names;

    #[test]
    fn sizes_as_people_write_them() {
        let names = Names::new(&builtin().0);
        let by = |text: &str, unit: &str| names.by_sizes(text, unit);
        let some = |code: &str| Some(code.to_owned());
        for text in [
            "Excavate pit n.e. 1.50 m deep",
            "Excavate pit not exceeding 1.5m deep",
            "EXCAVATE PIT, depth 0 - 1.5 m",
            "Excavate pit by hand, from ground level, depth 0-1.5 m",
        ] {
            assert_eq!(by(text, "m3"), some("excavation-pit/0-1.5"), "{text}");
        }
        assert_eq!(by("Excavate pit 1.50 - 3.00 m deep", "m3"), some("excavation-pit/1.5-3.0"));
        assert_eq!(by("Excavate pit 1500 to 3000 mm deep", "m3"), some("excavation-pit/1.5-3.0"));
        assert_eq!(by("Excavate pit exceeding 4.5 m", "m3"), some("excavation-pit/4.5-"));
        assert_eq!(by("Concrete 1:2:4 in base", "m3"), some("concrete-base/1:2:4"));
        assert_eq!(by("150 mm concrete base", "m3"), some("concrete-base"));
        assert_eq!(by("Concrete base 1:2:4, 150mm thick", "m3"), some("concrete-base/1:2:4"));
    }

    #[test]
    fn what_is_not_ours_to_the_last_word_names_nothing() {
        let names = Names::new(&builtin().0);
        for (text, unit) in [
            ("Excavate pit n.e. 2.00 m deep", "m3"),
            ("Excavate pit 1.50 m deep", "m3"),
            ("Excavate pit by machine n.e. 1.50 m deep", "m3"),
            ("150 mm concrete base", "m2"),
            ("Concrete base", "m3"),
            ("150 mm reinforced concrete base", "m3"),
            ("1500 mm concrete base", "m3"),
            ("half brick wall", "m2"),
            ("Pipe 150 mm", "m"),
            ("1.5 m", "m3"),
        ] {
            assert_eq!(names.by_sizes(text, unit), None, "{text}");
        }
    }
}
