//! Every code of this part, each with its meaning in one line.

/// Code and meaning.
pub const CODES: &[(&str, &str)] = &[
    ("S001", "a list of goods received that is empty"),
    ("S002", "a column is missing"),
    ("S003", "the same column twice"),
    ("S004", "a column that nothing reads (caution)"),
    ("S005", "a row with more or fewer cells than the head"),
    ("S006", "a material that the job does not need"),
    ("S007", "a date that is not year-month-day"),
    ("S008", "an amount that is missing or no plain number"),
    ("S009", "an amount below zero"),
    ("S010", "a pack that cannot be read, or in another unit than the material"),
    ("S011", "a stage that is not known"),
    ("S012", "more rejected than received"),
    ("S013", "a count that does not say after which stage"),
    ("S014", "a material counted twice after one stage"),
    ("S015", "a list that is too large"),
    ("S016", "an amount that may be a number of packs (caution)"),
];
