//! Every code this crate can report, each with its meaning in one line.

/// Code and meaning. J: `[cheapest]` of the job file, U: the command line.
pub const CODES: &[(&str, &str)] = &[
    ("J170", "a range of the search that cannot be read"),
    ("J171", "a range of the search that ends before it begins, or beyond what a tank can have"),
    ("J172", "a step of the search that is no step"),
    ("J173", "a number of chambers to search that a tank cannot have"),
    ("J174", "a masonry unit to search that is not known, or does not make that wall"),
    ("J175", "a word of the search that is not one of the choices"),
    ("J176", "a largest plan that cannot be read"),
    ("U050", "a range of the search that cannot be read"),
    ("U051", "a range of the search that ends before it begins, or beyond what a tank can have"),
    ("U052", "a step of the search that is no step"),
    ("U053", "a number of chambers to search that a tank cannot have"),
    ("U054", "a masonry unit to search that is not known, or does not make that wall"),
    ("U055", "a word of the search that is not one of the choices"),
    ("U056", "a largest plan that cannot be read"),
    ("U057", "more candidates than are searched"),
    ("U058", "a search that has nothing to look at, or nothing to give"),
    ("U059", "a job file in which a value cannot be replaced"),
];

/// What is wrong with a value of the search: its code is made of this and of where the value stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fault {
    /// A range.
    Range,
    /// Its ends.
    Ends,
    /// A step.
    Step,
    /// A number of chambers.
    Chambers,
    /// A masonry unit.
    Unit,
    /// A word.
    Word,
    /// A plan area.
    Plan,
}

impl Fault {
    /// The code on the command line.
    #[must_use]
    pub(crate) const fn option(self) -> &'static str {
        ["U050", "U051", "U052", "U053", "U054", "U055", "U056"][self as usize]
    }

    /// The code in the job file.
    #[must_use]
    pub(crate) const fn key(self) -> &'static str {
        ["J170", "J171", "J172", "J173", "J174", "J175", "J176"][self as usize]
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn codes_stand_once_and_in_order() {
        assert!(super::CODES.windows(2).all(|w| w[0].0 < w[1].0));
    }
}
