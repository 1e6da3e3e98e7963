//! Every code that a problem or caution of this crate can have. Each list stands beside what raises it.

use crate::elements::ALL;
use crate::{
    build_up, cautions, flow, job, levels, materials, orders, pricing, programme, rates, steel, store,
};

/// Code and meaning, in order of the codes. J: job file, R: price lists, P: other data, S: goods received, C: cautions.
#[must_use]
pub fn all() -> Vec<(&'static str, &'static str)> {
    let lists = [
        job::codes::CODES,
        flow::CODES,
        levels::CODES,
        steel::CODES,
        materials::CODES,
        orders::CODES,
        programme::CODES,
        rates::CODES,
        pricing::CODES,
        build_up::CODES,
        store::CODES,
        cautions::CODES,
    ];
    let elements = ALL.iter().map(|e| e.codes());
    let mut all: Vec<_> = lists.into_iter().chain(elements).flatten().copied().collect();
    all.sort_unstable();
    all
}

#[cfg(test)]
mod tests {
    #[test]
    fn no_code_stands_for_two_things() {
        let all = super::all();
        assert!(all.windows(2).all(|w| w[0].0 < w[1].0), "{all:?}");
        assert!(all.iter().all(|(_, means)| !means.is_empty() && !means.ends_with('.')));
    }
}
