//! Candidates of a search: priced by forms, they come to what an estimate says, row by row; refused, to the same words.

use std::cell::RefCell;
use std::collections::BTreeSet;

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use tankwright_geometry::Ratio;
use tankwright_quantities::candidate::{PricedRow, Pricer};
use tankwright_quantities::estimate::{Estimate, Failure};
use tankwright_quantities::flow::{Settings, estimate};
use tankwright_quantities::job::{Job, Scale};
use tankwright_quantities::rates::{self, PriceList, Stock};
use tankwright_tests::program::root;
use tankwright_tests::random::{Dice, Wish, job};
use tankwright_tests::{read, stock};

const SAMPLES: [&str; 8] =
    ["rest-house", "clinic", "school", "smallest", "textbook", "guest-house", "lined-pits", "built-rates"];

/// The job's own list.
fn prices(job: &Job) -> PriceList {
    let (name, text) = rates::builtin_prices(job.text("job.rates")).unwrap();
    rates::read_prices(&name, text).unwrap()
}

fn sample(name: &str) -> String {
    std::fs::read_to_string(root().join("samples").join(name).join("job.toml")).unwrap()
}

fn rows(e: &Estimate) -> Vec<PricedRow> {
    let all = e.bill.sections.iter().flat_map(|s| &s.rows);
    let mut rows: Vec<_> = all
        .map(|r| PricedRow {
            work: r.work.id,
            spec: r.spec.clone(),
            quantity: r.quantity.normalize(),
            amount: r.amount.unwrap().normalize(),
        })
        .collect();
    rows.sort();
    rows
}

/// How a job was priced.
#[derive(Clone, Copy, PartialEq, Eq)]
enum How {
    ByForms,
    Whole,
    /// Refused, or the list has no rate for what it came to.
    Not,
}

/// Prices a job both ways; says how.
fn agree(pricer: &mut Pricer<'_>, job: &Job, stock: &Stock, prices: &PriceList) -> How {
    let full = estimate(job, stock, Some(prices), &Settings::default());
    let seen = RefCell::new(None);
    let short = pricer.price(job, &|held| seen.replace(Some(held.clone())).is_none());
    let changed = || job.inputs.iter().map(|i| format!("{} = {:?}", i.path, i.value)).collect::<Vec<_>>();
    match (full, short) {
        (Ok(full), Ok(short)) => {
            assert_eq!(short.as_ref().map(|s| s.total), full.bill.total, "{:#?}", changed());
            assert_eq!(short.map(|s| s.plan), Some(full.outer_plan));
            assert_eq!(
                seen.take(),
                Some(full.capacity.clone()),
                "what it holds, asked once: {:#?}",
                changed()
            );
            if let Some(mut short) = pricer.rows() {
                short.sort();
                assert_eq!(short, rows(&full), "{:#?}", changed());
                return How::ByForms;
            }
            if full.bill.total.is_some() { How::Whole } else { How::Not }
        }
        (Err(Failure::Job(full)), Err(Failure::Job(short)))
        | (Err(Failure::Rates(full)), Err(Failure::Rates(short))) => {
            assert_eq!(full, short);
            How::Not
        }
        (full, short) => {
            panic!("{:?} against {short:?}: {:#?}", full.map(|e| e.bill.total), changed())
        }
    }
}

/// A walk of so many steps, each a few lengths of the base job moved by steps of 50 mm; how many forms priced. Only
/// the first of a kind may take the whole flow: an element whose lines have no form would slow every search and hide
/// what forms say of it.
fn walk(text: &str, seed: u64, steps: usize, any: bool) -> usize {
    let mut job = read(text, false).unwrap();
    let (stock, prices, settings) = (stock(), prices(&job), Settings::default());
    let mut pricer = Pricer::new(stock, &prices, &settings);
    let base: Vec<Ratio> = job.inputs.iter().map(|i| i.value).collect();
    let paths: Vec<String> = job.inputs.iter().map(|i| i.path.clone()).collect();
    let open = |i: &usize| {
        let searched = ["tank.chambers[", "tank.width", "tank.height"];
        // A cut of more than 50 mm is nothing that the reader lets pass.
        let length =
            job.inputs[*i].scale == Scale::Length && !base[*i].is_zero() && paths[*i] != "steel.kerf";
        // A rate that is built up hangs on the bars as sold: another length of them is a job of another kind.
        let sold = prices.builds_up() && paths[*i] == "steel.stock_length";
        length && !sold && (any || searched.iter().any(|s| paths[*i].starts_with(s)))
    };
    let open: Vec<usize> = (0..paths.len()).filter(open).collect();
    let mut dice = Dice::new(seed);
    let (mut by_forms, mut whole) = (0, 0);
    for _ in 0..steps {
        for (path, value) in paths.iter().zip(&base) {
            job.change(path, *value);
        }
        for _ in 0..dice.roll(1, 3) {
            let at = open[usize::try_from(dice.roll(0, open.len() as i64 - 1)).unwrap()];
            let to = base[at] + Ratio::from(dice.roll(-3, 6) * 500);
            // A thickness of nothing or less is nothing that the reader lets pass.
            if to.signum() == base[at].signum() {
                job.change(&paths[at], to);
            }
        }
        let how = agree(&mut pricer, &job, stock, &prices);
        by_forms += usize::from(how == How::ByForms);
        whole += usize::from(how == How::Whole);
    }
    assert_eq!(pricer.counts().doubted, 0, "{:?}", pricer.counts());
    let title = job.text("job.title");
    assert!(whole <= 1, "{title}: {whole} of {} by no form: {:?}", whole + by_forms, pricer.counts());
    by_forms
}

#[test]
fn a_walk_over_each_sample() {
    for name in SAMPLES {
        let by_forms = walk(&sample(name), 5, 14, false);
        // All but the first, and those that are refused.
        assert!(by_forms >= 6, "{name}: {by_forms}");
    }
}

/// Items in m that are proved together with the rest, totals rounded row by row: forms know them too.
#[test]
fn a_walk_under_each_profile() {
    for (name, profile) in [
        ("rest-house", "smm7"),
        ("clinic", "smm7"),
        ("clinic", "cesmm"),
        ("lined-pits", "nrm2"),
        ("guest-house", "is-1200"),
    ] {
        let text = sample(name);
        let own = text.lines().find(|l| l.starts_with("profile = ")).unwrap();
        let by_forms = walk(&text.replacen(own, &format!("profile = \"{profile}\""), 1), 7, 12, false);
        assert!(by_forms >= 5, "{name} {profile}: {by_forms}");
    }
}

#[test]
fn any_length_of_a_sample_may_change() {
    for name in SAMPLES {
        walk(&sample(name), 11, 15, true);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 25, rng_seed: RngSeed::Fixed(3), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn random_jobs_and_walks_over_them(seed in any::<u64>(), profile in 0..6_usize, any in any::<bool>()) {
        let profile = ["exact", "east-africa", "is-1200", "smm7", "nrm2", "cesmm"][profile];
        walk(&job(seed, Wish { profile, level: false }), seed, 5, any);
    }
}

#[test]
fn another_unit_face_or_flag_is_never_priced_by_the_forms_of_this_one() {
    let text = sample("rest-house");
    let (stock, prices) = (stock(), prices(&read(&text, false).unwrap()));
    let settings = Settings::default();
    let mut pricer = Pricer::new(stock, &prices, &settings);
    let changes = [
        ("termite = true", "termite = false"),
        ("face = \"tight\"", "face = \"open\""),
        ("mortar = \"1:4\"", "mortar = \"1:3\""),
        ("hoop_iron_every = 4", "hoop_iron_every = 3"),
        ("thickness = \"220 mm\"", "thickness = \"230 mm\""),
        ("short = \"Y10@150\"", "short = \"Y12@150\""),
        ("percent = \"15\"", "percent = \"16\""),
    ];
    let mut totals = BTreeSet::new();
    for (from, to) in std::iter::once(("", "")).chain(changes) {
        let changed = if from.is_empty() { text.clone() } else { text.replacen(from, to, 1) };
        assert!(from.is_empty() || changed != text, "{from}");
        let job = read(&changed, false).unwrap();
        agree(&mut pricer, &job, stock, &prices);
        assert!(agree(&mut pricer, &job, stock, &prices) == How::ByForms, "{to}: not by forms");
        totals.insert(pricer.price(&job, &|_| true).unwrap().unwrap().total);
        agree(&mut pricer, &read(&text, false).unwrap(), stock, &prices);
    }
    assert!(totals.len() >= 7, "{totals:?}");
    assert_eq!(pricer.counts().doubted, 0);
}

/// What an identity says of a form need not be measured.
#[test]
fn identities_spare_the_sums_of_nearly_every_candidate() {
    for name in SAMPLES {
        let (mut job, stock) = (read(&sample(name), false).unwrap(), stock());
        let (prices, settings) = (prices(&job), Settings::default());
        let mut pricer = Pricer::new(stock, &prices, &settings);
        let width = job.len("tank.width").value();
        for step in 0..30 {
            assert!(job.change("tank.width", width + Ratio::int(step * 10)));
            pricer.price(&job, &|_| true).unwrap();
        }
        let counts = pricer.counts();
        // One whole flow and one form of the ledger; the first by it is measured, an identity stands for all others.
        let one = (counts.whole, counts.ledgers_made, counts.measured, counts.by_forms);
        assert_eq!(one, (1, 1, 1, 29), "{name}: {counts:?}");
        // Bars of base, columns, ring beams, span beam and cover.
        assert!(name != "rest-house" || counts.bars_made == 5, "{counts:?}");
    }
}

/// So it is where chambers grow over a falling floor: what is divided by the clear length is an identity too.
#[test]
fn identities_hold_over_a_falling_floor() {
    let (mut job, stock) = (read(&sample("rest-house"), false).unwrap(), stock());
    let (prices, settings) = (prices(&job), Settings::default());
    let mut pricer = Pricer::new(stock, &prices, &settings);
    let paths = ["tank.chambers[0]", "tank.chambers[1]", "tank.height", "tank.base.fall"];
    for (n, path) in (1..).zip(paths) {
        let base = job.len(path).value();
        for step in 1..=6 {
            assert!(job.change(path, base + Ratio::int(step * 10)));
            agree(&mut pricer, &job, stock, &prices);
        }
        // Measured once for each input that begins to vary; the height brings a form of its own.
        let counts = pricer.counts();
        assert_eq!((counts.whole, counts.measured, counts.doubted), (1, n, 0), "{path}: {counts:?}");
        assert!(counts.ledgers_made <= 2, "{path}: {counts:?}");
    }
}

/// A level floor has no slope to measure, a cover below ground has soil over it: each is a kind of its own.
#[test]
fn what_becomes_nothing_or_changes_its_sign_is_another_kind() {
    for (name, path, was, tenths) in
        [("rest-house", "tank.base.fall", 600, 0), ("clinic", "tank.cover_top", 2_000, -2_000)]
    {
        let (mut job, stock) = (read(&sample(name), false).unwrap(), stock());
        let (prices, settings) = (prices(&job), Settings::default());
        let mut pricer = Pricer::new(stock, &prices, &settings);
        agree(&mut pricer, &job, stock, &prices);
        assert_eq!(job.len(path).value(), Ratio::int(was));
        job.change(path, Ratio::int(tenths));
        agree(&mut pricer, &job, stock, &prices);
        assert_eq!((pricer.counts().whole, pricer.counts().by_forms), (2, 0), "{path}");
    }
}

/// Chambers of one size share a row of the bill; on the way there and back they have two.
#[test]
fn inspection_chambers_that_come_to_one_size_share_a_row() {
    let of = |size: &str| format!("\n[[inspection_chambers]]\nsize = {size}\ndepth = 800\n");
    let text = format!("{}{}{}", sample("smallest"), of("[600, 600]"), of("[600, 450]"));
    let (mut job, stock) = (read(&text, false).unwrap(), stock());
    let prices = prices(&job);
    let settings = Settings::default();
    let mut pricer = Pricer::new(stock, &prices, &settings);
    for tenths in [4_500, 5_000, 6_000, 5_500] {
        assert!(job.change("inspection_chambers[1].size[1]", Ratio::int(tenths)));
        agree(&mut pricer, &job, stock, &prices);
    }
}

/// What cannot be built is refused in the words of the whole flow, and without it.
#[test]
fn what_is_refused_takes_no_whole_flow() {
    for name in ["rest-house", "clinic", "lined-pits"] {
        let mut job = read(&sample(name), false).unwrap();
        let (stock, prices, settings) = (stock(), prices(&job), Settings::default());
        let mut pricer = Pricer::new(stock, &prices, &settings);
        agree(&mut pricer, &job, stock, &prices);
        let paths = ["tank.chambers[0]", "tank.width", "tank.height", "steel.cover_to_steel"];
        let mut told = BTreeSet::new();
        for path in paths {
            let Some(base) = job.input(path).map(|(_, i)| i.value) else { continue };
            for tenths in [1, 500, 2_000, 6_000, 9_000, 50_000, 200_000] {
                job.change(path, Ratio::int(tenths));
                agree(&mut pricer, &job, stock, &prices);
                if let Err(Failure::Job(problems)) = pricer.price(&job, &|_| true) {
                    told.extend(problems.into_iter().map(|p| p.message));
                }
            }
            job.change(path, base);
        }
        let counts = pricer.counts();
        assert!(told.len() >= 3 && counts.refused >= 8, "{name}: {counts:?}, {told:?}");
        assert!(counts.whole <= 1, "{name}: {counts:?}");
    }
}

#[test]
fn who_declines_gets_no_price() {
    let job = read(&sample("smallest"), false).unwrap();
    let (stock, prices, settings) = (stock(), prices(&job), Settings::default());
    let mut pricer = Pricer::new(stock, &prices, &settings);
    for _ in 0..2 {
        assert_eq!(pricer.price(&job, &|held| held.full > 1_000_000).unwrap(), None);
    }
    assert!(pricer.price(&job, &|held| held.full > 1_000).unwrap().is_some());
}

#[test]
fn a_rate_built_from_bars_follows_the_length_they_are_sold_in() {
    let steel = "[steel]\nstock_length = \"12 m\"\n\n[steel.base]";
    let text = sample("built-rates").replacen("[steel.base]", steel, 1);
    let mut job = read(&text, false).unwrap();
    let (stock, mut prices, settings) = (stock(), prices(&job), Settings::default());
    // By the piece alone, and no word on its length.
    prices.rows.retain(|r| !r.code.starts_with("bars/") || r.unit == "nr");
    prices.rows.iter_mut().filter(|r| r.code.starts_with("bars/")).for_each(|r| r.description = "Bar".into());
    let mut pricer = Pricer::new(stock, &prices, &settings);
    let mut totals = Vec::new();
    for tenths in [120_000, 90_000, 120_000, 60_000] {
        assert!(job.change("steel.stock_length", Ratio::int(tenths)));
        agree(&mut pricer, &job, stock, &prices);
        totals.push(pricer.price(&job, &|_| true).unwrap().unwrap().total);
    }
    // A bar costs the same, whatever its length: shorter ones make dearer steel.
    assert!(totals[1] > totals[0] && totals[3] > totals[1] && totals[2] == totals[0], "{totals:?}");
}
