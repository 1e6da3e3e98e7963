//! Languages: one file of words each, spoken on one thread within a scope. English stands wherever a word is lacking.

use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

/// A language that papers can be written in.
#[derive(Debug)]
pub struct Language {
    /// `sw`: as in BCP 47.
    pub id: &'static str,
    /// By key of the English catalogue.
    words: BTreeMap<String, String>,
    /// What our data say, by their English text. `{0}` stands for any text.
    texts: BTreeMap<String, String>,
}

/// What was written in a language.
#[derive(Debug)]
pub struct Written<T> {
    /// The paper.
    pub paper: T,
    /// Keys that the language lacks: they stand in English. In order.
    pub lacking: Vec<String>,
    /// Texts of data that it lacks: they stand as they are. In order.
    pub left: Vec<String>,
}

/// The language of the catalogue that all others are held against.
pub const ENGLISH: &str = "en";

/// **The one list**: another language is a file and a line here.
static FILES: [(&str, &str); 2] =
    [("fr", include_str!("../words/fr.toml")), ("sw", include_str!("../words/sw.toml"))];

static LANGUAGES: LazyLock<Vec<Language>> = LazyLock::new(|| {
    let one = |(id, text): &(&'static str, &str)| {
        let (words, texts) = read(text);
        Language { id, words, texts }
    };
    FILES.iter().map(one).collect()
});

/// Keeps a figure and its unit on one line.
const NO_BREAK: &str = "\u{a0}";

thread_local! {
    /// Who speaks on this thread; nobody is English.
    static SPOKEN: Cell<Option<&'static Language>> = const { Cell::new(None) };
    static LACKING: RefCell<[BTreeSet<String>; 2]> = const { RefCell::new([BTreeSet::new(), BTreeSet::new()]) };
}

/// Every language, English first.
pub fn all() -> impl Iterator<Item = &'static Language> {
    std::iter::once(english()).chain(LANGUAGES.iter())
}

/// English: the first of them.
#[must_use]
pub fn english() -> &'static Language {
    static NOBODY: Language = Language { id: ENGLISH, words: BTreeMap::new(), texts: BTreeMap::new() };
    &NOBODY
}

/// The language of an id.
#[must_use]
pub fn find(id: &str) -> Option<&'static Language> {
    all().find(|l| l.id == id)
}

impl Language {
    /// What its speakers call it.
    #[must_use]
    pub fn name(&self) -> &str {
        self.words.get("language-name").map_or("English", String::as_str)
    }

    /// Its keys with their words, for the tidy test.
    pub fn words(&self) -> impl Iterator<Item = (&str, &str)> {
        self.words.iter().map(|(k, w)| (k.as_str(), w.as_str()))
    }

    /// Its texts of data, English and its own, for the tidy test.
    pub fn texts(&self) -> impl Iterator<Item = (&str, &str)> {
        self.texts.iter().map(|(k, w)| (k.as_str(), w.as_str()))
    }
}

/// Puts back who spoke before, also where what was asked did not come to its end.
struct Before(Option<&'static Language>);

impl Drop for Before {
    fn drop(&mut self) {
        SPOKEN.set(self.0);
    }
}

/// Does something with every word on this thread in a language; others are not touched.
pub fn within<T>(language: &'static Language, write: impl FnOnce() -> T) -> Written<T> {
    LACKING.take();
    let paper = {
        let _before = Before(SPOKEN.replace(Some(language).filter(|l| l.id != ENGLISH)));
        write()
    };
    let [lacking, left] = LACKING.take().map(|all| all.into_iter().collect());
    Written { paper, lacking, left }
}

/// The id of what is spoken here: `en` outside of any scope.
#[must_use]
pub fn spoken() -> &'static str {
    SPOKEN.get().map_or(ENGLISH, |l| l.id)
}

/// The spoken word of a key; nothing in English, and where it is lacking.
pub(crate) fn word(key: &str, english: &str) -> Option<&'static str> {
    let language = SPOKEN.get()?;
    let word = language.words.get(key);
    if word.is_none() && says_anything(english) {
        LACKING.with_borrow_mut(|l| l[0].insert(key.to_owned()));
    }
    word.map(String::as_str)
}

/// A text of our data as it is spoken; the user's own stays as it is.
#[must_use]
pub fn text(english: &str) -> String {
    let Some(language) = SPOKEN.get() else { return english.to_owned() };
    language.said(english).unwrap_or_else(|| {
        if says_anything(english) {
            LACKING.with_borrow_mut(|l| l[1].insert(english.to_owned()));
        }
        english.to_owned()
    })
}

/// Where something is from: what our data say of it is spoken, titles of publications stay as they are.
#[must_use]
pub fn source(english: &str) -> String {
    argument(english).unwrap_or_else(|| english.to_owned())
}

/// What fills a place of a phrase, as it is spoken.
pub(crate) fn argument(text: &str) -> Option<String> {
    SPOKEN.get().map(|language| language.said_or_left(text))
}

/// A number of English form with the spoken decimal sign.
#[must_use]
pub fn figure(number: String) -> String {
    match SPOKEN.get() {
        Some(language) if is_number(&number) => language.decimal(&number),
        _ => number,
    }
}

/// More than places and signs?
fn says_anything(english: &str) -> bool {
    english.chars().filter(|c| c.is_alphabetic()).count() > 1
}

/// `1 234.50`, `-0.5`.
fn is_number(text: &str) -> bool {
    let digits = text.strip_prefix('-').unwrap_or(text);
    digits.starts_with(|c: char| c.is_ascii_digit())
        && digits.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ' ' | '\u{a0}'))
        && digits.matches('.').count() <= 1
}

impl Language {
    fn decimal(&self, number: &str) -> String {
        match self.words.get("language-decimal") {
            Some(sign) => number.replace('.', sign),
            None => number.to_owned(),
        }
    }

    /// Words for a text; nothing where there are none.
    fn said(&self, english: &str) -> Option<String> {
        if let Some(own) = self.texts.get(english) {
            return Some(own.clone());
        }
        if is_number(english) {
            return Some(self.decimal(english));
        }
        // The pattern with most letters of its own.
        let fit = |(pattern, own): (&String, &String)| {
            let (before, after) = pattern.split_once("{0}")?;
            let inside = english.strip_prefix(before)?.strip_suffix(after).filter(|t| !t.is_empty())?;
            Some((pattern.len(), own.replace("{0}", &self.said_or_left(inside))))
        };
        if let Some((_, own)) = self.texts.iter().filter_map(fit).max_by_key(|(n, _)| *n) {
            return Some(own);
        }
        // Lists are said one by one; so are amounts, `2.5 m`, where each of their words is known.
        if let Some(between) = ["; ", ", "].into_iter().find(|b| english.contains(b)) {
            let parts: Vec<_> = english.split(between).map(|t| (self.said(t), t)).collect();
            let any = parts.iter().any(|(said, _)| said.is_some());
            let all = parts.into_iter().map(|(said, t)| said.unwrap_or_else(|| t.to_owned()));
            return any.then(|| all.collect::<Vec<_>>().join(between));
        }
        let between = [" ", NO_BREAK].into_iter().find(|b| english.contains(b))?;
        let words: Option<Vec<_>> = english.split(between).map(|t| self.said(t)).collect();
        words.map(|w| w.join(between))
    }

    fn said_or_left(&self, english: &str) -> String {
        self.said(english).unwrap_or_else(|| english.to_owned())
    }
}

/// One `key = "words"` a line for words, one `"English" = "words"` for texts of data; a subset of TOML.
fn read(text: &str) -> (BTreeMap<String, String>, BTreeMap<String, String>) {
    let (mut words, mut texts) = (BTreeMap::new(), BTreeMap::new());
    for line in text.lines() {
        let Some((key, value)) = line.split_once(" = ") else { continue };
        let Some(value) = value.trim().strip_prefix('"').and_then(|v| v.strip_suffix('"')) else { continue };
        match key.trim().strip_prefix('"').and_then(|k| k.strip_suffix('"')) {
            Some(english) => texts.insert(english.to_owned(), value.to_owned()),
            None => words.insert(key.trim().to_owned(), value.to_owned()),
        };
    }
    (words, texts)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use super::*;
    use crate::words::look_up;

    #[test]
    fn a_language_is_spoken_within_its_scope_and_thread() {
        let french = find("fr").unwrap();
        let other = || std::thread::spawn(|| look_up("stage-cover").to_owned()).join().unwrap();
        let written = within(french, || (look_up("stage-cover").to_owned(), other(), spoken()));
        assert_eq!(written.paper, ("dalle de couverture".to_owned(), "cover".to_owned(), "fr"));
        assert_eq!((look_up("stage-cover"), spoken()), ("cover", "en"));
        let fell = std::panic::catch_unwind(|| within(french, || assert!(look_up("wall").is_empty())));
        assert!(fell.is_err());
        assert_eq!(spoken(), "en", "who spoke before speaks again");
    }

    #[test]
    fn what_is_lacking_stands_in_english_and_is_told() {
        let nobody = "a-key-that-nobody-has";
        let written = within(find("sw").unwrap(), || look_up(nobody).to_owned());
        assert_eq!(written.paper, nobody);
        let lacks = within(find("fr").unwrap(), || look_up("paper-client-head").to_owned());
        assert_eq!(lacks.paper, "materials by the client, not in the total");
        assert_eq!(lacks.lacking, ["paper-client-head"]);
        assert!(within(find("en").unwrap(), || look_up("paper-client-head").len()).lacking.is_empty());
    }

    #[test]
    fn numbers_and_texts_of_data() {
        let said = within(find("fr").unwrap(), || {
            [
                text("cement"),
                text("pipe 110 mm"),
                text("2.50 m"),
                figure("1 234.5".into()),
                text("IS 2470.1, 5.3.5"),
            ]
        });
        assert_eq!(said.paper, ["ciment", "tuyau 110 mm", "2,50 m", "1 234,5", "IS 2470.1, 5.3.5"]);
        assert_eq!(said.left, ["IS 2470.1, 5.3.5"]);
    }
}
