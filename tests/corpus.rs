//! Every case of `tests/corpus/` thrown at its door again: no panic, no long wait, no refusal that cannot be shown.

use std::fs;
use std::time::{Duration, Instant};

use tankwright_tests::hard::DOORS;
use tankwright_tests::program::root;

/// Far more than any case takes, even in a debug build on a busy machine.
const PATIENCE: Duration = Duration::from_secs(30);

#[test]
fn every_case_is_taken_or_refused() {
    let corpus = root().join("tests/corpus");
    for (name, door) in DOORS {
        let mut cases: Vec<_> = fs::read_dir(corpus.join(name)).unwrap().map(|e| e.unwrap().path()).collect();
        cases.sort();
        assert!(cases.len() >= 5, "{name}: {} cases", cases.len());
        for case in cases {
            let bytes = fs::read(&case).unwrap();
            let started = Instant::now();
            let ended = std::panic::catch_unwind(|| door(&bytes));
            assert!(ended.is_ok(), "{} is not taken", case.display());
            assert!(started.elapsed() < PATIENCE, "{} took {:?}", case.display(), started.elapsed());
        }
    }
    // And no folder that no door is thrown at.
    let folders = fs::read_dir(corpus).unwrap().filter(|e| e.as_ref().unwrap().path().is_dir()).count();
    assert_eq!(folders, DOORS.len());
}
