//! A list worked through on two threads. Each part is made by itself, so that the answer is that of one.

use std::panic::resume_unwind;

/// What `make` makes of each, in order: the first half by weight here, the rest on another thread.
pub fn in_halves<T: Sync, U: Send>(
    list: &[T],
    weight: impl Fn(&T) -> usize,
    make: impl Fn(&T) -> U + Sync,
) -> Vec<U> {
    let all: usize = list.iter().map(&weight).sum();
    let mut before = 0;
    let half = list.iter().take_while(|one| {
        before += weight(one);
        before * 2 <= all
    });
    let (first, second) = list.split_at(half.count());
    std::thread::scope(|scope| {
        let rest = scope.spawn(|| second.iter().map(&make).collect::<Vec<_>>());
        let mut made: Vec<U> = first.iter().map(&make).collect();
        made.extend(rest.join().unwrap_or_else(|panic| resume_unwind(panic)));
        made
    })
}

#[cfg(test)]
mod tests {
    use super::in_halves;

    #[test]
    fn every_one_is_made_in_order_however_the_weight_lies() {
        for list in [vec![], vec![7], vec![9, 1, 1], vec![1, 1, 9], vec![0, 0, 0], vec![3, 3, 3, 3]] {
            let twice: Vec<usize> = list.iter().map(|n| n * 2).collect();
            assert_eq!(in_halves(&list, |n| *n, |n| n * 2), twice, "{list:?}");
        }
    }
}
