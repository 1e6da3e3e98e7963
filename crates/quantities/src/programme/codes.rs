//! Every code of this part, each with its meaning in one line.

/// Code and meaning.
pub const CODES: &[(&str, &str)] = &[
    ("J120", "a date of a pour before the work begins, or without a beginning"),
    ("J121", "pours in another order than their stages"),
    ("J122", "a date of a pour for a stage that pours nothing"),
];
