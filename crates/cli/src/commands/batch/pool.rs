//! Work done by threads, handed over in order. No more than a few answers wait at a time, so that memory stays flat.

use std::collections::BTreeMap;
use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// So many answers a thread may be ahead of the one that is waited for.
const AHEAD: usize = 8;
/// As a main thread has it: deep job files need it.
const STACK: usize = 8 << 20;
/// The caller is asked for a sign of life so often.
const EVERY: Duration = Duration::from_millis(200);

/// What threads share.
struct Desk<T> {
    next: usize,
    taken: usize,
    stop: bool,
    done: BTreeMap<usize, T>,
}

/// Does `work` for every number from `from` to before `to`, and gives the answers to `take` in order. `idle` is called
/// while the next answer is waited for. What `take` refuses ends the work.
pub(super) fn in_order<T: Send, E>(
    (from, to): (usize, usize),
    threads: usize,
    work: impl Fn(usize) -> T + Sync,
    mut take: impl FnMut(usize, T) -> Result<(), E>,
    mut idle: impl FnMut(),
) -> Result<(), E> {
    let desk = Mutex::new(Desk { next: from, taken: from, stop: false, done: BTreeMap::new() });
    let (ready, room) = (Condvar::new(), Condvar::new());
    let worker = || {
        let mut held = locked(&desk);
        loop {
            while !held.stop && held.next < to && held.next >= held.taken + threads * AHEAD {
                held = room.wait(held).unwrap_or_else(PoisonError::into_inner);
            }
            if held.stop || held.next >= to {
                return;
            }
            let mine = held.next;
            held.next += 1;
            drop(held);
            let answer = work(mine);
            held = locked(&desk);
            held.done.insert(mine, answer);
            ready.notify_one();
        }
    };
    std::thread::scope(|scope| {
        let mut running = 0;
        for _ in 0..threads.min(to - from.min(to)) {
            running += usize::from(
                std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, worker).is_ok(),
            );
        }
        for wanted in from..to {
            let mut held = locked(&desk);
            let answer = loop {
                if let Some(answer) = held.done.remove(&wanted) {
                    break answer;
                }
                if running == 0 {
                    // The system gives no thread at all: this one does the work.
                    held.next = wanted + 1;
                    break work(wanted);
                }
                let (again, time) = ready.wait_timeout(held, EVERY).unwrap_or_else(PoisonError::into_inner);
                held = again;
                if time.timed_out() {
                    drop(held);
                    idle();
                    held = locked(&desk);
                }
            };
            held.taken = wanted + 1;
            drop(held);
            room.notify_all();
            if let Err(ended) = take(wanted, answer) {
                locked(&desk).stop = true;
                room.notify_all();
                return Err(ended);
            }
        }
        Ok(())
    })
}

fn locked<T>(desk: &Mutex<T>) -> MutexGuard<'_, T> {
    desk.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicUsize, Ordering};

    use super::*;

    #[test]
    fn answers_come_in_order_and_no_thread_runs_far_ahead() {
        for threads in [1, 2, 7] {
            let (taken, ahead) = (AtomicUsize::new(0), AtomicUsize::new(0));
            let mut got = Vec::new();
            let work = |n: usize| {
                ahead.fetch_max(n.saturating_sub(taken.load(Ordering::SeqCst)), Ordering::SeqCst);
                // The first of every ten takes longest.
                std::thread::sleep(Duration::from_micros(if n.is_multiple_of(10) { 900 } else { 10 }));
                n * n
            };
            let take = |n, square| {
                got.push((n, square));
                taken.store(n + 1, Ordering::SeqCst);
                Ok::<(), ()>(())
            };
            assert_eq!(in_order((3, 200), threads, work, take, || {}), Ok(()));
            assert_eq!(got, (3..200).map(|n| (n, n * n)).collect::<Vec<_>>());
            // One more: `taken` is counted here a little later than there.
            assert!(ahead.into_inner() <= threads * AHEAD + 3, "{threads}");
        }
    }

    #[test]
    fn what_is_refused_ends_the_work() {
        let begun = AtomicUsize::new(0);
        let work = |n: usize| begun.fetch_max(n, Ordering::SeqCst);
        let ended = in_order((0, 100_000), 2, work, |n, _| if n == 5 { Err("full") } else { Ok(()) }, || {});
        assert_eq!(ended, Err("full"));
        assert!(begun.into_inner() <= 5 + 2 * AHEAD);
        assert_eq!(in_order((4, 4), 2, |n| n, |_, _| Err("never"), || {}), Ok(()));
    }
}
