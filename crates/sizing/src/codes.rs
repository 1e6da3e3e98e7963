//! Every code this crate can report, each with its meaning in one line.

/// Code and meaning. C: cautions, J: the job file, P: rule files, U: what is given on the command line.
pub const CODES: &[(&str, &str)] = &[
    ("C055", "a tank that does not comply with the sizing rule of its job"),
    ("C056", "a septic tank always needs emptying"),
    ("C057", "a sizing rule that no longer holds"),
    ("C058", "a sizing rule, or a figure in it, that is from memory"),
    ("J130", "a sizing rule that is not known"),
    ("J131", "a sizing rule that gives no size of a tank"),
    ("J132", "a value in the job file that no sizing rule can take"),
    ("P030", "a unit of a sizing rule that is not known"),
    ("P031", "a name in a sizing rule that is no input and no earlier step"),
    ("P032", "a step of a sizing rule that is of no kind, or of two"),
    ("P033", "rows, bands or results of a sizing rule that do not fit together"),
    ("P034", "a value that enters a step of a sizing rule in a unit it cannot have"),
    ("P035", "a sizing rule whose id is not its file's name"),
    ("P036", "a sizing rule that lacks what its kind must have"),
    ("P037", "a worked example of a sizing rule that does not come out"),
    ("U030", "a value for sizing that no rule has"),
    ("U031", "a word for sizing that is not one of the choices"),
    ("U032", "a number for sizing that cannot be read"),
    ("U033", "a number for sizing without a unit, or in one that does not fit"),
    ("U034", "a count for sizing that is not whole"),
    ("U035", "a number for sizing out of its range"),
    ("U036", "a percolation test slower than any soil that is tested"),
    ("U037", "a percolation test that cannot be read"),
    ("U038", "a soak pit's inlet without its depth"),
    ("U039", "a soak pit's inlet that is not above its base"),
    ("U040", "a sizing rule that is not known"),
    ("U041", "the sizing rule refuses what is given"),
    ("U042", "nothing is given to size by"),
    ("U043", "no sizing rule is named"),
    ("U044", "a sizing rule by which no tank can be proposed"),
    ("U045", "a soakage method by which no soak pits or trenches can be proposed"),
    ("U046", "a job file into which soak pits or trenches cannot be written"),
];

#[cfg(test)]
mod tests {
    #[test]
    fn codes_stand_once_and_in_order() {
        assert!(super::CODES.windows(2).all(|w| w[0].0 < w[1].0));
    }
}
