//! For tests: a job, a row of it, and what each mistake makes of that row.

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::plain;
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::{job, rates};

use super::{Case, under, variants};
use crate::measure::{Booking, Drop, Row};
use crate::world::{Pick, World};

/// 2.00 + 1.00 x 1.50 m clear, 1.60 m high, walls 0.20, partition 0.10: outside 3.50 x 1.90.
pub(crate) const JOB: &str = "format = 1\n[job]\ntitle = \"t\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\n\
    profile = \"exact\"\n[tank]\nchambers = [\"2 m\", \"1 m\"]\nwidth = \"1.5 m\"\nheight = \"1.6 m\"\n\
    [tank.walls]\nthickness = \"200 mm\"\n[tank.partitions]\nthickness = \"100 mm\"\n\
    [tank.base]\nconcrete = { thickness = \"150 mm\", mix = \"1:2:4\" }\n\
    [tank.cover]\nthickness = \"100 mm\"\nmanholes = []\n";

/// What a mistake makes of a row of these works, exact, each way of it that there is.
pub(crate) fn made(job: &str, works: &[&str], id: &str) -> Vec<String> {
    let figures = |case: &Case<'_>| -> Vec<String> {
        let all = variants(case);
        let rows = all.iter().filter(|v| v.id == id).filter_map(|v| under(case, &[v]));
        rows.map(|r| plain(r.total(Booking::Exact))).collect()
    };
    with(job, works, figures)
}

/// Our own figure.
pub(crate) fn ours(job: &str, works: &[&str]) -> String {
    with(job, works, |case| plain(case.row.total(Booking::Exact)))
}

/// Does something with a row of these works.
pub(crate) fn with<T>(text: &str, works: &[&str], does: impl Fn(&Case<'_>) -> T) -> T {
    let (mut job, problems) = job::read("job.toml", text, &flow::job_tables());
    assert!(problems.is_empty(), "{problems:?}");
    job.trail = true;
    let (stock, settings) = (rates::builtin().0, Settings::default());
    let estimate = flow::estimate(&job, &stock, None, &settings);
    let estimate = estimate.unwrap_or_else(|e| unreachable!("{e:?}"));
    let world = World::new(&job, &estimate, &stock, &settings);
    let picks: Vec<Pick> = works.iter().map(|w| Pick { work: (*w).to_owned(), spec: None }).collect();
    let parts = world.parts(&picks, &[]).unwrap_or_default();
    let row = Row { parts, factor: Ratio::ONE, drop: Drop::Nothing };
    does(&Case { world: &world, picks: &picks, row: &row })
}
