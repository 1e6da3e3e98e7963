//! What can be wrong with a second take-off, code by code.

/// Code and meaning in one line.
pub const CODES: &[(&str, &str)] = &[
    ("T001", "a second take-off with nothing in it"),
    ("T002", "a second take-off whose columns cannot be told: no heads, no figures, or no words"),
    ("T003", "a second take-off that is too large"),
    ("T004", "a map whose columns are not those the program writes"),
    ("T005", "a map that names a line the list does not have"),
    ("T006", "a map that names a work this job does not have"),
    ("T007", "a caution: a unit of the second take-off that is not known"),
    ("T008", "a caution: a quantity of the second take-off that is no figure"),
    ("T009", "trade words of one's own that cannot be read"),
];
