//! Every code of this part, each with its meaning in one line.

/// Code and meaning.
pub const CODES: &[(&str, &str)] = &[
    ("J110", "a pack without its unit"),
    ("J111", "the strength class of cement given as a pack"),
    ("J112", "a pack that cannot be read"),
    ("J113", "a pack in a unit that its material is not ordered in"),
    ("J114", "a pack or a lead time of a material that is not known"),
    ("J115", "a pack of nothing, or beyond all measure"),
    ("J116", "a tolerance of a whole pack or more"),
    ("J117", "a lead time that is not a number of whole days"),
    ("J118", "a stage in two groups of deliveries, or twice in one"),
    ("J119", "a pack of bars that is not the stock length"),
];
