//! Every code of this room, each with its meaning in one line.

/// Code and meaning.
pub const CODES: &[(&str, &str)] = &[
    ("R100", "rows of a price list that the build-ups of a bill lack"),
    ("R101", "an on-cost grossed up by 100 % or more"),
    ("R102", "an on-cost is taken on what does not stand before it"),
    ("R103", "on-costs: a `say` or a day that cannot be read"),
    ("R104", "an on-cost leaves a part of the cost out (caution)"),
    ("R105", "the same on-cost stands in the rates and under [additions] (caution)"),
    ("R106", "one row holds works of different makings: no build-up prices it"),
];
