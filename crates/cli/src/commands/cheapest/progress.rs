//! How far a search is, where a person looks on.
//!
//! Only the thread that waits for the search writes: standard error is locked by it for the whole run.

use std::cell::RefCell;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;

use tankwright_cheapest::{Ended, Report, Start, Watch, report};

use crate::context::Context;

/// The bar is drawn anew so often.
const EVERY: Duration = Duration::from_millis(200);
/// Columns of the bar.
const WIDE: u64 = 40;

/// Searches, with a bar where it is wanted.
pub(super) fn watched(cx: &mut Context<'_>, start: Start<'_>, wanted: bool) -> Result<Report, Ended> {
    let all = start.candidates();
    let own = start.space.grid.count();
    let (beyond, threads) = (all - own, start.threads);
    let noun = if own == 1 { "candidate" } else { "candidates" };
    cx.note(&format!("{own} {noun}, and {beyond} one step beyond the limits; threads: {threads}\n"));
    let done = AtomicU64::new(0);
    let cx = RefCell::new(cx);
    let draw = || {
        std::thread::park_timeout(EVERY);
        cx.borrow_mut().note(&bar(done.load(Ordering::Relaxed), all));
    };
    let idle = wanted.then_some(&draw as &dyn Fn());
    let result = report(start, Watch { done: &done, idle, stop: &|| false });
    if wanted {
        cx.borrow_mut().note(&format!("\r{}\r", " ".repeat(78)));
    }
    result
}

/// `[########------] 40 %, 12345 of 30000`.
fn bar(done: u64, all: u64) -> String {
    let of = |whole: u64| whole.saturating_mul(done.min(all)).checked_div(all).unwrap_or(0);
    let full = usize::try_from(of(WIDE)).unwrap_or(0);
    let rest = usize::try_from(WIDE).unwrap_or(0).saturating_sub(full);
    format!("\r[{}{}] {:3} %, {done} of {all}", "#".repeat(full), "-".repeat(rest), of(100))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_fills_and_never_runs_over() {
        assert_eq!(bar(0, 0), format!("\r[{}]   0 %, 0 of 0", "-".repeat(40)));
        assert_eq!(bar(15, 60), format!("\r[{}{}]  25 %, 15 of 60", "#".repeat(10), "-".repeat(30)));
        assert_eq!(bar(60, 60), format!("\r[{}] 100 %, 60 of 60", "#".repeat(40)));
        assert!(bar(5_000_000, 5_000_000).len() <= 78);
    }
}
