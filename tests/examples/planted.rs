//! How often the cross-check names the mistakes that were planted: `cargo run --release -p tankwright-tests --example
//! planted -- [JOBS]`.
#![expect(clippy::print_stdout, reason = "it is a report")]

use tankwright_tests::planted::{Tally, plant};

fn main() {
    let jobs: u64 = std::env::args().nth(1).and_then(|n| n.parse().ok()).unwrap_or(100);
    let (mut planted, mut found) = (0, 0);
    for (profile, places) in [("exact", 3), ("east-africa", 2)] {
        for many in [1, 2] {
            let mut tally = Tally::default();
            (0..jobs).for_each(|seed| plant(seed, profile, many, &mut tally));
            let (a, b) = tally.of(many);
            (planted, found) = (planted + a, found + b);
            println!(
                "{profile}, {places} places, {many} at once: {b} of {a} planted are among the explanations ({}); \
                 of the others {} are named in part; {} without effect; {} of {} explanations do not give the figure",
                percent(b, a),
                tally.partly,
                tally.without_effect,
                tally.listed.1,
                tally.listed.0,
            );
            if many == 1 {
                for (ids, (a, b)) in &tally.by {
                    println!("    {:28} {b:5} of {a:5}", ids.join(" + "));
                }
            }
            tally.missed.iter().for_each(|m| println!("    {m}"));
        }
    }
    println!("all: {found} of {planted} ({})", percent(found, planted));
}

fn percent(part: usize, whole: usize) -> String {
    let tenths = part * 1000 / whole.max(1);
    format!("{}.{} %", tenths / 10, tenths % 10)
}
