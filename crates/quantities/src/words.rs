//! Words that appear on papers: keys with arguments; the English catalogue. Other languages stand in `languages`.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use crate::languages;

/// A phrase: a key of the catalogue and what fills its `{0}`, `{1}` ...
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Phrase {
    /// Key in `words/en.toml`.
    pub key: &'static str,
    /// Arguments, in order.
    pub args: Vec<String>,
}

impl Phrase {
    /// A phrase without arguments.
    #[must_use]
    pub const fn new(key: &'static str) -> Self {
        Self { key, args: Vec::new() }
    }

    /// A phrase with arguments.
    #[must_use]
    pub fn with(key: &'static str, args: &[&str]) -> Self {
        Self { key, args: args.iter().map(|a| (*a).to_owned()).collect() }
    }
}

impl std::fmt::Display for Phrase {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        // One pass, so that an argument that looks like `{1}` stays what it is.
        let mut rest = look_up(self.key);
        while let Some(open) = rest.find('{') {
            let (before, tail) = rest.split_at(open);
            f.write_str(before)?;
            let close = tail.find('}').map(|end| (&tail[1..end], &tail[end + 1..]));
            let filled = close.and_then(|(n, after)| Some((self.args.get(n.parse::<usize>().ok()?)?, after)));
            let Some((arg, after)) = filled else {
                f.write_str("{")?;
                rest = &tail[1..];
                continue;
            };
            match languages::argument(arg) {
                Some(said) => f.write_str(&said)?,
                None => f.write_str(arg)?,
            }
            rest = after;
        }
        f.write_str(rest)
    }
}

static ENGLISH: LazyLock<BTreeMap<String, String>> = LazyLock::new(|| {
    read(concat!(
        include_str!("../words/en.toml"),
        "\n",
        include_str!("../words/en-book.toml"),
        "\n",
        include_str!("../words/en-size.toml"),
        "\n",
        include_str!("../words/en-checks.toml"),
        "\n",
        include_str!("../words/en-cheapest.toml"),
        "\n",
        include_str!("../words/en-cross.toml"),
        "\n",
        include_str!("../words/en-build-up.toml"),
        "\n",
        include_str!("../words/en-vary.toml"),
        "\n",
        include_str!("../words/en-payments.toml"),
        "\n",
        include_str!("../words/en-draw.toml"),
        "\n",
        include_str!("../words/en-web.toml"),
        "\n",
        include_str!("../words/en-papers.toml"),
        "\n",
        include_str!("../words/en-returned.toml"),
        "\n",
        include_str!("../words/en-profiles.toml")
    ))
});

/// The words of a key in the language spoken here; in English where that lacks it, the key itself where both do (a tidy
/// test finds those).
#[must_use]
pub fn look_up(key: &str) -> &str {
    ENGLISH.get(key).map_or(key, |english| languages::word(key, english).unwrap_or(english))
}

/// The words of a key in English, whatever is spoken.
#[must_use]
pub fn in_english(key: &str) -> &str {
    ENGLISH.get(key).map_or(key, |s| s.as_str())
}

/// Every key of the catalogue, for the tidy test.
pub fn keys() -> impl Iterator<Item = &'static str> {
    ENGLISH.keys().map(String::as_str)
}

/// One `key = "words"` a line, under no heading: a subset of TOML that needs no tree.
fn read(text: &str) -> BTreeMap<String, String> {
    let entry = |line: &str| {
        let (key, value) = line.split_once(" = ")?;
        let value = value.trim().strip_prefix('"')?.strip_suffix('"')?;
        Some((key.trim().to_owned(), value.to_owned()))
    };
    text.lines().filter_map(entry).collect()
}
