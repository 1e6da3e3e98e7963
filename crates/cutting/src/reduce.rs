//! Pairs that some least plan has, one stock in any number: taken out before the search.

use crate::form::{Bar, Column, Cuts, Kind};

/// Takes pairs out of the kinds; they are columns of the plan.
pub(crate) fn reduce(kinds: &mut [Kind], bar: Bar) -> Cuts {
    let mut taken = Cuts::new();
    exact(kinds, bar.room, &mut taken);
    while companion(kinds, bar.room, &mut taken) {}
    taken
}

fn take(kinds: &mut [Kind], a: usize, b: Option<usize>, times: i64, taken: &mut Cuts) {
    let parts = match b {
        None => vec![(a, 1)],
        Some(b) if a == b => vec![(a, 2)],
        Some(b) => vec![(a.min(b), 1), (a.max(b), 1)],
    };
    parts.iter().for_each(|&(k, n)| kinds[k].need -= n * times);
    taken.push((Column { bar: 0, parts }, times));
}

/// Two pieces that fill a bar: whatever else stands with one of them can take the other's place.
fn exact(kinds: &mut [Kind], room: i64, taken: &mut Cuts) {
    for a in 0..kinds.len() {
        let size = room - kinds[a].size;
        // Longest first.
        let Ok(b) = kinds.binary_search_by(|k| size.cmp(&k.size)) else { continue };
        let times = if a == b { kinds[a].need / 2 } else { kinds[a].need.min(kinds[b].need) };
        if times > 0 && a <= b {
            take(kinds, a, Some(b), times, taken);
        }
    }
}

/// The longest piece, where at most one other fits beside it: the longest that does.
fn companion(kinds: &mut [Kind], room: i64, taken: &mut Cuts) -> bool {
    let Some(long) = kinds.iter().position(|k| k.need > 0) else { return false };
    let left = room - kinds[long].size;
    let number = kinds[long].need;
    // The two shortest that are left beside one of the longest.
    let mut two = Vec::new();
    for (i, k) in kinds.iter().enumerate().rev() {
        let need = if i == long { k.need - 1 } else { k.need };
        (0..need.min(2)).for_each(|_| two.push(k.size));
        if two.len() >= 2 {
            break;
        }
    }
    let pair = two.iter().take(2).sum::<i64>();
    let alone = two.first().is_none_or(|s| *s > left);
    if alone {
        take(kinds, long, None, number, taken);
        return true;
    }
    if (two.len() >= 2 && pair <= left) || (number >= 2 && kinds[long].size <= left) {
        return false;
    }
    let fits = |k: &&Kind| k.need > 0 && k.size <= left;
    let Some(other) = kinds.iter().find(fits).map(|k| k.size) else { return false };
    let Some(other) = kinds.iter().position(|k| k.size == other) else { return false };
    if other == long {
        return false;
    }
    // One at a time would do; as long as both last, the reason stays the same.
    let times = number.min(kinds[other].need);
    take(kinds, long, Some(other), times, taken);
    true
}
