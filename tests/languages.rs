//! Languages of the stage cards: files that fit the English catalogue, cards without a word missing, figures that do not
//! hang on words, threads that do not hear each other.

use std::collections::BTreeSet;

use tankwright_export::json;
use tankwright_export::text::{stage_card, stage_ids};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::languages::{self, Language, Written};
use tankwright_quantities::rates::builtin_files;
use tankwright_quantities::words;
use tankwright_tests::program::{root, run};
use tankwright_tests::{SAMPLES, measured};

fn job(sample: &str) -> String {
    std::fs::read_to_string(root().join("samples").join(sample).join("job.toml")).unwrap()
}

fn others() -> impl Iterator<Item = &'static Language> {
    languages::all().filter(|l| l.id != languages::ENGLISH)
}

/// Places of a phrase, each as often as it stands there; sorted, as languages put them in another order.
fn places(words: &str) -> Vec<&str> {
    let mut all: Vec<&str> = words.split('{').skip(1).filter_map(|t| t.split('}').next()).collect();
    all.sort_unstable();
    all.dedup();
    all
}

fn estimate(sample: &str) -> Estimate {
    measured(&job(sample), None).unwrap_or_else(|f| panic!("{sample}: {f:?}"))
}

/// All cards of a sample, estimated and written in a language; a word that the estimate lacked stands on none of them.
fn cards(sample: &str, language: &'static Language) -> Written<Vec<String>> {
    cards_of(sample, language, || estimate(sample))
}

fn cards_of(sample: &str, language: &'static Language, job: impl Fn() -> Estimate) -> Written<Vec<String>> {
    let made = languages::within(language, job);
    let e = made.paper;
    let all = || stage_ids(&e).iter().filter_map(|id| stage_card(&e, id)).collect::<Vec<_>>();
    let written = languages::within(language, all);
    for key in made.lacking {
        let english = words::in_english(&key);
        // A word alone may be another language's too.
        let long = english.split("{0}").map(str::trim).find(|t| t.contains(' '));
        let there = |card: &String| long.is_some_and(|t| card.contains(t));
        assert!(
            !written.paper.iter().any(there),
            "{sample}, {}: {key} is on a card, in English",
            language.id
        );
    }
    written
}

#[test]
fn a_language_has_no_unknown_key_and_the_places_of_the_english() {
    let keys: BTreeSet<&str> = words::keys().collect();
    let mut data: String = builtin_files().iter().map(|(_, text)| *text).collect();
    // What a key of the job file may say, and units.
    let rooms = ["elements/cover.rs", "job/parts/ground.rs", "works/mod.rs", "checks/slab.rs"];
    let room = |file| std::fs::read_to_string(root().join("crates/quantities/src").join(file)).unwrap();
    data.extend(rooms.map(room));
    let mut unknown = Vec::new();
    assert_eq!(others().map(|l| l.id).collect::<Vec<_>>(), ["fr", "sw"]);
    for l in others() {
        for (key, own) in l.words() {
            assert!(keys.contains(key), "{}: the English catalogue has no {key}", l.id);
            assert!(!own.trim().is_empty(), "{}: {key} says nothing", l.id);
            assert_eq!(places(own), places(words::in_english(key)), "{}: {key}", l.id);
        }
        for (english, own) in l.texts() {
            assert!(!own.trim().is_empty(), "{}: `{english}` says nothing", l.id);
            assert_eq!(places(own), places(english), "{}: `{english}`", l.id);
            let ours = |part: &str| part.len() < 4 || data.contains(part) || english.contains("our own");
            let parts =
                english.split("{0}").map(str::trim).filter(|p| !["(recalled)", "in)", "item"].contains(p));
            let known = parts.into_iter().all(|p| ours(p) || ours(p.split(" (").next().unwrap()));
            if !known {
                unknown.push(format!("{}: {english}", l.id));
            }
        }
    }
    assert!(unknown.is_empty(), "our data do not say: {unknown:#?}");
}

#[test]
fn the_cards_of_the_samples_lack_no_word() {
    for sample in SAMPLES {
        for l in others() {
            let written = cards(sample, l);
            assert!(written.lacking.is_empty(), "{sample}, {}: {:?}", l.id, written.lacking);
            assert!(written.left.is_empty(), "{sample}, {}: {:?}", l.id, written.left);
            assert!(
                written.paper.iter().all(|card| !card.contains("before this stage")),
                "{sample}, {}",
                l.id
            );
        }
    }
}

#[test]
fn nor_do_they_under_another_profile() {
    for (sample, profile) in [
        ("rest-house", "is-1200"),
        ("rest-house", "smm7"),
        ("clinic", "cesmm"),
        ("clinic", "nrm2"),
        ("school", "cesmm"),
        ("guest-house", "is-1200"),
        ("guest-house", "smm7"),
    ] {
        let text = job(sample);
        let (before, after) = text.split_once("profile = \"").unwrap();
        let text = format!("{before}profile = \"{profile}\"{}", after.split_once('"').unwrap().1);
        for l in others() {
            let made = || measured(&text, None).unwrap_or_else(|f| panic!("{sample} {profile}: {f:?}"));
            let written = cards_of(sample, l, made);
            assert!(written.lacking.is_empty(), "{sample} {profile}, {}: {:?}", l.id, written.lacking);
            assert!(written.left.is_empty(), "{sample} {profile}, {}: {:?}", l.id, written.left);
        }
    }
}

#[test]
fn figures_do_not_hang_on_words() {
    // Everything of the papers that is a figure: digits alone, in order, of the JSON that other programs read.
    let digits = |text: String| {
        text.split(|c: char| !c.is_ascii_digit())
            .filter(|t| !t.is_empty())
            .map(str::to_owned)
            .collect::<Vec<_>>()
    };
    for sample in SAMPLES {
        let figures = |l| {
            let e = languages::within(l, || estimate(sample)).paper;
            let items: Vec<_> =
                e.sheet.items.iter().map(|i| (i.work.id, i.stage, i.quantity, i.net)).collect();
            (items, digits(json::orders(&e, None)), e.bill.total)
        };
        let english = figures(languages::find("en").unwrap());
        for l in others() {
            assert!(figures(l) == english, "{sample}: {} changes figures", l.id);
        }
    }
}

#[test]
fn threads_do_not_hear_each_other() {
    let cards = |id: &str| cards("rest-house", languages::find(id).unwrap()).paper;
    let alone = ["en", "fr", "sw"].map(cards);
    let together: Vec<_> = std::thread::scope(|all| {
        let one = |id| all.spawn(move || self::cards("rest-house", languages::find(id).unwrap()).paper);
        ["en", "fr", "sw"].map(one).into_iter().map(|t| t.join().unwrap()).collect()
    });
    assert_eq!(together, alone);
    assert!(alone[0] != alone[1] && alone[1] != alone[2]);
}

#[test]
fn dates_numbers_and_the_user_s_own_words() {
    let text = job("rest-house").replacen("title = \"Rest house", "title = \"cement", 1);
    let card = |id: &str| {
        let written = languages::within(languages::find(id).unwrap(), || {
            let e = measured(&text, None).unwrap_or_else(|f| panic!("{f:?}"));
            stage_card(&e, "base").unwrap()
        });
        written.paper.replace('\u{a0}', " ")
    };
    let (french, swahili) = (card("fr"), card("sw"));
    for says in
        ["RADIER", "ciment", "sam. 12 déc. 2026", "0,664 m3", "9 sacs de 50 kg", "7 barres de 12 m", "1:2:4"]
    {
        assert!(french.contains(says), "{says}: {french}");
    }
    for says in ["SAKAFU YA CHINI", "saruji", "Jmo 12 Des 2026", "0.664 m3", "mifuko 9 ya 50 kg", "1:2:4"] {
        assert!(swahili.contains(says), "{says}: {swahili}");
    }
    // The job's title is the user's, whatever it says.
    assert!(french.starts_with("cement, hill road") && swahili.starts_with("cement, hill road"));
}

#[test]
fn a_language_without_a_file_is_refused() {
    let done = run("cards samples/rest-house/job.toml --out never.pdf --lang tlh");
    assert_eq!(done.code, 2);
    assert!(done.err.contains("error[U009]: there are no words in the language `tlh`"), "{}", done.err);
    assert!(done.err.contains("known: en (English), fr (français), sw (Kiswahili)"), "{}", done.err);
}
