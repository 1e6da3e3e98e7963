//! Papers of the hand-made estimate as files beside the code, for tests; `TANKWRIGHT_UPDATE=1` writes them anew.

use std::path::Path;

/// Compares a paper with the file of its name.
#[expect(clippy::panic, reason = "a test that cannot read or write its file has failed")]
pub(crate) fn same(name: &str, text: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/golden").join(name);
    if std::env::var_os("TANKWRIGHT_UPDATE").is_some() {
        std::fs::write(&path, text).unwrap_or_else(|e| panic!("{name}: {e}"));
    }
    let expected = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{name}: {e}"));
    assert_eq!(text, expected, "{name}");
    if name.ends_with(".txt") {
        assert!(text.lines().all(|l| l.chars().count() <= 100), "{name} is wider than 100 columns");
    }
}
