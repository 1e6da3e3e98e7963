//! The tree keeps its own rules.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use tankwright_quantities::{elements, flow, job, rates, words, works};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_path_buf()
}

fn files(under: &Path, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(under).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files(&path, ending));
        } else if path.extension().is_some_and(|e| e == ending) {
            found.push(path);
        }
    }
    found.sort();
    found
}

fn sources() -> Vec<(PathBuf, String)> {
    let all = ["crates", "tests"].iter().flat_map(|d| files(&root().join(d), "rs"));
    all.map(|p| (p.clone(), std::fs::read_to_string(p).unwrap())).collect()
}

/// Every quoted word of lower-case letters, digits and dashes in a text.
fn quoted(text: &str) -> BTreeSet<&str> {
    let word = |s: &&str| {
        !s.is_empty() && s.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')
    };
    text.split('"').filter(word).collect()
}

#[test]
fn files_stay_short_and_begin_by_saying_what_they_are() {
    for (path, text) in sources() {
        let lines = text.lines().count();
        assert!(lines <= 420, "{} has {lines} lines", path.display());
        assert!(text.starts_with("//!"), "{} does not begin with a line of documentation", path.display());
    }
}

#[test]
fn pure_crates_have_no_floats_files_clocks_or_hash_maps() {
    for (path, text) in sources() {
        let name = path.to_string_lossy().into_owned();
        if !["geometry", "quantities", "sizing", "cheapest", "crosscheck", "account"]
            .iter()
            .any(|c| name.contains(&format!("/crates/{c}/src")))
        {
            continue;
        }
        for banned in
            ["f64", "f32", "std::fs", "std::env", "SystemTime", "Instant::", "HashMap", "HashSet", "println!"]
        {
            let code: String = text.lines().filter(|l| !l.trim_start().starts_with("//")).collect();
            assert!(!code.contains(banned), "{name} uses {banned}");
        }
    }
}

#[test]
fn after_the_ledger_nothing_knows_an_element() {
    let element_files = files(&root().join("crates/quantities/src/elements"), "rs");
    assert_eq!(element_files.len() - 1, elements::ALL.len(), "every file in elements/ is in the one list");
    for (path, text) in sources() {
        let name = path.strip_prefix(root()).unwrap().to_string_lossy().into_owned();
        let generic = name.contains("/crates/export/src")
            || name.contains("/crates/cli/src")
            || name.contains("/bill")
            || name.contains("/pricing");
        assert!(!generic || !text.contains("elements::"), "{name} knows elements");
    }
}

#[test]
fn every_work_is_listed_once_and_worded() {
    let mut seen = BTreeSet::new();
    for work in works::all() {
        assert!(seen.insert(work.id), "{} is listed twice", work.id);
        let worded = words::keys().any(|k| k == work.id || k.starts_with(&format!("{}-", work.id)));
        assert!(worded, "{} has no wording", work.id);
    }
}

#[test]
fn words_are_neither_missing_nor_unused() {
    let used: BTreeSet<String> = sources().iter().flat_map(|(_, t)| quoted(t)).map(str::to_owned).collect();
    let built = ["section-", "stage-"];
    for key in words::keys() {
        assert!(used.contains(key) || built.iter().any(|b| key.starts_with(b)), "the word {key} is not used");
    }
    let known: BTreeSet<&str> = words::keys().collect();
    for (path, text) in sources() {
        let name = path.to_string_lossy().into_owned();
        if name.ends_with("handmade.rs") || name.ends_with("fixture.rs") || !name.contains("/crates/") {
            continue;
        }
        for call in ["Phrase::new(\"", "Phrase::with(\"", "look_up(\""] {
            for rest in text.split(call).skip(1) {
                let key = rest.split('"').next().unwrap();
                assert!(known.contains(key), "{name} uses the word {key}, which the catalogue lacks");
            }
        }
    }
}

#[test]
fn the_table_of_fields_has_no_faults() {
    assert_eq!(job::faults(&flow::job_tables()), Vec::<String>::new());
}

#[test]
fn built_in_data_read_without_a_problem() {
    let (stock, problems) = rates::builtin();
    assert!(problems.is_empty(), "{problems:?}");
    assert!(stock.profiles.contains_key("exact") && stock.profiles.contains_key("east-africa"));
}

#[test]
fn nothing_committed_names_this_machine() {
    let parent = root().parent().unwrap().to_string_lossy().into_owned() + "/";
    for (path, text) in sources() {
        assert!(!text.contains(&parent), "{} names a folder of this machine", path.display());
    }
}

/// Whoever sets out asks `site.judge`, `site.less` or `site.same`: a search trusts that what they said holds as long as
/// they would say it again.
#[test]
fn elements_compare_no_lengths_by_themselves() {
    let room = root().join("crates/quantities/src");
    let mut all = files(&room.join("elements"), "rs");
    all.extend(["site.rs", "levels.rs", "strips.rs", "band.rs"].map(|f| room.join(f)));
    // What is said of holes on papers, and a fall in words.
    let papers = ["site.batter.value() >= v.value", ".filter(|_| drop.signum() > 0)"];
    let figure = |word: &str| word.contains(".value()") || word.contains(".signum()");
    for path in all {
        let text = std::fs::read_to_string(&path).unwrap();
        for line in text.lines().filter(|l| !papers.iter().any(|p| l.contains(p))) {
            for sign in [" < ", " > ", " <= ", " >= ", " == "] {
                for (at, _) in line.match_indices(sign) {
                    let before = line[..at].rsplit(' ').next().unwrap();
                    let after = line[at + sign.len()..].split(' ').next().unwrap();
                    assert!(!figure(before) && !figure(after), "{}: {line}", path.display());
                }
            }
        }
    }
}
