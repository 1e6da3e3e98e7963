//! Earth put back and carted: the whole dig in place of what is left of it.

use std::collections::BTreeSet;

use tankwright_quantities::words::{Phrase, look_up};
use tankwright_quantities::works::Earth;

use super::{Act, Case, Mistake, lines};
use crate::measure::{Part, Row};
use crate::world::Pick;

/// Everything dug is put back: the tank is not taken out.
pub(super) const BACKFILL_WHOLE_DIG: Mistake =
    Mistake { id: "backfill-whole-dig", ways: |c| whole_dig(c, Earth::PutBack) };
/// Everything dug is carted: what is put back is not taken out.
pub(super) const DISPOSAL_WHOLE_DIG: Mistake =
    Mistake { id: "disposal-whole-dig", ways: |c| whole_dig(c, Earth::Away) };
/// What is put back somewhere is carted as well.
pub(super) const DISPOSAL_WITHOUT_BACKFILL: Mistake =
    Mistake { id: "disposal-without-backfill", ways: without_backfill };

/// The fill over a buried cover is taken on the slab's own plan, not on that of the pit.
pub(super) const FILL_ON_SLAB: Mistake = Mistake { id: "fill-on-slab-plan", ways: fill_on_slab };

fn fill_on_slab(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    let over = |p: &&Part| p.note.key == "over-cover" && p.work.earth == Earth::PutBack;
    let Some(line) = case.row.parts.iter().find(over) else { return Vec::new() };
    let Some(depth) = line.dims.last().map(|d| d.value) else { return Vec::new() };
    let stage = |p: &Part| p.item.rsplit('/').next().unwrap_or_default().to_owned();
    let of = stage(line);
    // Beside the fill over the slab nothing is filled: what runs down along the tank starts at the slab.
    let change = move |row: &mut Row| {
        let beside = |p: &&mut Part| p.note.key != "over-cover" && p.dims.len() == 3 && stage(p) == of;
        for dim in row.parts.iter_mut().filter(beside).filter_map(|p| p.dims.last_mut()) {
            dim.set(dim.value - depth);
        }
    };
    vec![lines(Phrase::new("cross-fill-slab"), change)]
}

fn whole_dig(case: &Case<'_>, of: Earth) -> Vec<(Phrase, Act)> {
    if !case.row.parts.iter().all(|p| p.work.earth == of) {
        return Vec::new();
    }
    let dug = works(case, Earth::Dug);
    let set = |some: Vec<&str>| {
        let names: Vec<&str> = some.iter().map(|id| look_up(id)).collect();
        let key = if of == Earth::Away { "cross-disposal-dig" } else { "cross-backfill-dig" };
        (Phrase::with(key, &[&names.join("; ")]), Act::Picks(picks(&some)))
    };
    // A pit with its pockets or without, with the trench, with the soak pit: whatever somebody calls the dig.
    let mut sets: BTreeSet<Vec<&str>> = BTreeSet::new();
    for bits in 1..(1_usize << dug.len().min(5)) {
        sets.insert(dug.iter().enumerate().filter(|(i, _)| bits >> i & 1 == 1).map(|(_, w)| *w).collect());
    }
    sets.into_iter().map(set).collect()
}

fn without_backfill(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    if !case.row.parts.iter().all(|p| p.work.earth == Earth::Away) {
        return Vec::new();
    }
    let back = works(case, Earth::PutBack);
    let with = |some: &[&str]| {
        let names: Vec<&str> = some.iter().map(|id| look_up(id)).collect();
        let all = case.picks.iter().cloned().chain(picks(some)).collect();
        (Phrase::with("cross-disposal-backfill", &[&names.join("; ")]), Act::Picks(all))
    };
    let mut ways: Vec<_> = back.iter().map(|w| with(&[w])).collect();
    if back.len() > 1 {
        ways.push(with(&back));
    }
    ways
}

fn works(case: &Case<'_>, of: Earth) -> Vec<&'static str> {
    let items = case.world.estimate.sheet.items.iter().filter(|i| i.work.earth == of && !i.unbilled);
    let ids: BTreeSet<&'static str> = items.map(|i| i.work.id).collect();
    ids.into_iter().collect()
}

fn picks(works: &[&str]) -> Vec<Pick> {
    works.iter().map(|w| Pick { work: (*w).to_owned(), spec: None }).collect()
}

#[cfg(test)]
mod tests {
    use crate::mistakes::fixture::{JOB, made, ours};

    fn job() -> String {
        JOB.replace("[tank.base]\n", "[tank.pit]\nface = \"open\"\nworking_space = \"250 mm\"\n[tank.base]\n")
    }

    // Dig 4.00 x 2.40 x 1.85 = 17.76; the tank 3.50 x 1.90 x 1.85 = 12.3025; put back 5.4575.
    #[test]
    fn the_whole_dig() {
        assert_eq!(ours(&job(), &["backfill"]), "5.4575");
        assert_eq!(made(&job(), &["backfill"], "backfill-whole-dig"), ["17.76"]);
        assert_eq!(ours(&job(), &["disposal"]), "12.3025");
        assert_eq!(made(&job(), &["disposal"], "disposal-whole-dig"), ["17.76"]);
        assert_eq!(made(&job(), &["disposal"], "disposal-without-backfill"), ["17.76"]);
        assert!(made(&job(), &["excavation-pit"], "disposal-whole-dig").is_empty());
    }

    #[test]
    fn fill_over_a_buried_cover() {
        let job = job().replace("height = \"1.6 m\"\n", "height = \"1.6 m\"\ncover_top = \"-300 mm\"\n");
        // Ring (4.00 x 2.40 - 3.50 x 1.90) x 1.85 = 5.4575 and 4.00 x 2.40 x 0.30 = 2.88; 3.50 x 1.90 x 0.30 = 1.995
        assert_eq!(ours(&job, &["backfill"]), "8.3375");
        assert_eq!(made(&job, &["backfill"], "fill-on-slab-plan"), ["7.4525"]);
    }
}
