//! How long one estimate takes inside the process, and one candidate of a walk over chambers, width and height: data
//! and job read beforehand, microseconds of the processor (Linux).
#![allow(clippy::print_stdout, clippy::unwrap_used, reason = "a benchmark, not the program")]

use tankwright_geometry::Ratio;
use tankwright_quantities::candidate::Pricer;
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::{job, rates};

/// Nanoseconds of the processor that this thread has had: others may want it at the same time.
fn cpu() -> u64 {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap();
    text.split(' ').next().unwrap().parse().unwrap()
}

fn main() {
    let (stock, _) = rates::builtin();
    let (name, text) = rates::builtin_prices("demo-ugx").unwrap();
    let prices = rates::read_prices(&name, text).unwrap();
    for file in std::env::args().skip(1) {
        let text = std::fs::read_to_string(&file).unwrap();
        let (mut job, problems) = job::read(&file, &text, &flow::job_tables());
        assert!(problems.is_empty(), "{problems:?}");
        let settings = Settings::default();
        let start = cpu();
        for _ in 0..50 {
            let done = flow::estimate(&job, &stock, Some(&prices), &settings);
            assert!(done.is_ok());
        }
        println!("{file}: {} us an estimate", (cpu() - start) / 50_000);
        // 14 x 13 x 8 x 8 jobs in steps of 50 mm; the second round meets no new structure.
        let paths = ["tank.chambers[0]", "tank.chambers[1]", "tank.width", "tank.height"];
        let base = paths.map(|p| job.input(p).unwrap().1.value);
        let steps = [14, 13, 8, 8];
        let mut pricer = Pricer::new(&stock, &prices, &settings);
        for round in ["first", "second"] {
            let (start, before, mut refused, mut n) = (cpu(), pricer.counts(), 0, 0_u64);
            let mut sum = rust_decimal::Decimal::ZERO;
            for i in 0..steps.iter().product::<i128>() {
                let mut rest = i;
                for ((path, base), count) in paths.iter().zip(base).zip(steps) {
                    job.change(path, base + Ratio::int((rest % count - count / 3) * 500));
                    rest /= count;
                }
                n += 1;
                match pricer.price(&job, &|_| true) {
                    Ok(priced) => sum += priced.unwrap().total,
                    Err(_) => refused += 1,
                }
            }
            let tenths = (cpu() - start) / 100 / n;
            let c = pricer.counts();
            println!(
                "  {round} round: {}.{} us a candidate ({n}, {refused} refused, sum {sum}); forms made: ledger {}, bars {}; \
                 by forms {} (measured one by one {}), whole {}, doubted {}",
                tenths / 10,
                tenths % 10,
                c.ledgers_made - before.ledgers_made,
                c.bars_made - before.bars_made,
                c.by_forms - before.by_forms,
                c.measured - before.measured,
                c.whole - before.whole,
                c.doubted - before.doubted
            );
        }
    }
}
