//! How long one estimate takes inside the process, data and job read beforehand: microseconds, best of the rounds.
#![allow(
    clippy::print_stdout,
    clippy::float_arithmetic,
    clippy::unwrap_used,
    reason = "a benchmark, not the program"
)]

use std::time::Instant;

use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::{job, rates};

fn main() {
    let (stock, _) = rates::builtin();
    let (name, text) = rates::builtin_prices("demo-ugx").unwrap();
    let prices = rates::read_prices(&name, text).unwrap();
    for file in std::env::args().skip(1) {
        let text = std::fs::read_to_string(&file).unwrap();
        let (job, problems) = job::read(&file, &text, &flow::job_tables());
        assert!(problems.is_empty(), "{problems:?}");
        let mut best = f64::MAX;
        for _ in 0..200 {
            let start = Instant::now();
            let done = flow::estimate(&job, &stock, Some(&prices), &Settings::default());
            best = best.min(start.elapsed().as_secs_f64() * 1e6);
            assert!(done.is_ok());
        }
        println!("{file}: {best:.0} us");
    }
}
