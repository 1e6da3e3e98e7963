//! Every problem code of this crate. Each list stands beside what raises it.

/// Code and meaning, in order of the codes.
#[must_use]
pub fn all() -> Vec<(&'static str, &'static str)> {
    let lists = [crate::paid::CODES, crate::payments::CODES, crate::returned::CODES, crate::vary::CODES];
    let mut all: Vec<_> = lists.into_iter().flatten().copied().collect();
    all.sort_unstable();
    all
}
