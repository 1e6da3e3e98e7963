//! Payments of small jobs with their sums written out; random jobs hold what must always hold.
#![expect(clippy::panic, reason = "a test stops where it fails")]

use rust_decimal::Decimal;
use tankwright_quantities::estimate::{Estimate, Failure};
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::job::{self, Day, Job};
use tankwright_quantities::rates;
use tankwright_quantities::stage::Stage;

use super::*;

/// Two rooms, no preliminaries: the bill is that of the sample `smallest`.
const SMALL: &str = "format = 1
[job]
title = \"Two rooms\"
date = \"2026-11-25\"
currency = \"UGX\"
rates = \"demo-ugx\"
[tank]
chambers = [\"1.60 m\", \"0.80 m\"]
width = \"1.20 m\"
height = \"1.50 m\"
";

fn d(text: &str) -> Decimal {
    text.parse().unwrap_or_default()
}

fn day(text: &str) -> Option<Day> {
    Day::read(text)
}

/// The job with its estimate at the built-in prices in UGX.
fn priced(text: &str) -> (Job, Estimate) {
    let (job, told) = job::read("job.toml", text, &flow::job_tables());
    assert!(told.is_empty(), "{told:?}");
    let (stock, _) = rates::builtin();
    let (name, text) = rates::builtin_prices("demo-ugx").unwrap_or_default();
    let list = rates::read_prices(&name, text).unwrap_or_else(|p| panic!("{p:?}"));
    match flow::estimate(&job, &stock, Some(&list), &Settings::default()) {
        Ok(e) => (job, e),
        Err(failure) => panic!("{failure:?}"),
    }
}

fn with(more: &str) -> (Job, Estimate) {
    priced(&format!("{SMALL}{more}"))
}

fn refused(more: &str, asked: &Asked) -> Vec<&'static str> {
    let (job, e) = with(more);
    match payments(&e, &job, asked) {
        Err(Failure::Job(problems)) => {
            assert!(problems.iter().all(|p| p.hint.is_some()), "{problems:?}");
            assert!(problems.iter().all(|p| p.place.is_some() || p.code.starts_with('U')), "{problems:?}");
            problems.iter().map(|p| p.code).collect()
        }
        _ => Vec::new(),
    }
}

fn at(text: &str) -> Asked {
    Asked { at: day(text), ..Asked::default() }
}

/// Kind, worth, held, credited, due of every payment.
fn rows(p: &Payments<'_>) -> Vec<(Kind, [Decimal; 4])> {
    p.schedule.payments.iter().map(|p| (p.kind, [p.worth.total(), p.held, p.credited, p.due])).collect()
}

fn row(kind: Kind, figures: [&str; 4]) -> (Kind, [Decimal; 4]) {
    (kind, figures.map(d))
}

#[test]
fn each_row_goes_to_the_stages_of_its_items_and_the_deposit_is_worked_off_in_order() {
    let (job, e) = with("");
    let p = payments(&e, &job, &Asked::default()).unwrap_or_else(|f| panic!("{f:?}"));
    // 7.53 x 15000 + 1.25 x 22000 + 5.02 x 1500 + 8.78 x 16000 = 112950 + 27500 + 7530 + 140480
    let dig = "288460";
    // walls 12.78 x 57000 + partition 1.80 x 62000 + hoop iron 51.12 x 1800 = 728460 + 111600 + 92016
    let walls = "932076";
    // slab 0.75 x 480000 + soffit 2.88 x 27000 = 360000 + 77760
    let cover = "437760";
    // What is ordered for the base: 4 bags x 36000, 3 lots of sand x 20000, 3 of aggregate x 45000, 200 l x 20
    let goods: Decimal = e
        .orders
        .stages
        .iter()
        .filter(|o| o.stage == Stage::Base)
        .flat_map(|o| &o.lines)
        .filter_map(|l| l.cost)
        .sum();
    assert_eq!(goods, d("144000") + d("60000") + d("135000") + d("4000"));
    assert_eq!(
        rows(&p),
        [
            row(Kind::Deposit, ["0", "0", "0", "343000"]),
            // all of it by the deposit: 343000 - 288460 = 54540 is left
            row(Kind::Stage(Stage::Dig), [dig, "0", dig, "0"]),
            // 0.50 x 400000 - 54540
            row(Kind::Stage(Stage::Base), ["200000", "0", "54540", "145460"]),
            row(Kind::Stage(Stage::WallsLower), [walls, "0", "0", walls]),
            row(Kind::Stage(Stage::Plaster), ["120000", "0", "0", "120000"]),
            row(Kind::Stage(Stage::Cover), [cover, "0", "0", cover]),
        ]
    );
    assert_eq!(p.terms.defaults.len(), 1);
    assert!(p.cautions.iter().any(|c| c.code == "C102"), "the client is ahead when the dig is done");
}

#[test]
fn additions_go_by_what_they_were_taken_on_and_preliminaries_where_the_job_says() {
    let more = "[[preliminaries]]\ntitle = \"Pegs\"\namount = \"10000\"\nstage = \"set-out\"\n\
        [[preliminaries]]\ntitle = \"Store\"\namount = \"100000\"\n\
        [[provisional]]\ntitle = \"Rock\"\namount = \"50000\"\n\
        [additions]\nlist = [{ title = \"Profit\", percent = \"10\", on = \"measured\" },\n\
        { title = \"Tax\", percent = \"18\" }]\n[payments]\ndeposit = \"none\"\n";
    let (job, e) = with(more);
    let p = payments(&e, &job, &Asked::default()).unwrap_or_else(|f| panic!("{f:?}"));
    let of = |stage| p.spread.of(stage);
    // 100000 x 288460 / 1978296 = 14581.235; 10000 belong to the setting out alone
    assert_eq!(of(Stage::Dig).preliminaries, d("14581"));
    assert_eq!(
        of(Stage::SetOut),
        Worth { preliminaries: d("10000"), additions: d("1800"), ..Worth::default() }
    );
    // profit 28846, tax 18 % of 288460 + 14581 + 28846 = 331887: 59739.66, by running totals 59740
    assert_eq!(of(Stage::Dig).additions, d("28846") + d("59740"));
    // no profit on rock: 18 % of 50000
    assert_eq!(
        p.spread.provisional,
        Worth { provisional: d("50000"), additions: d("9000"), ..Worth::default() }
    );
    assert_eq!(Some(p.spread.total()), e.bill.total);
    assert!(rows(&p).iter().all(|(kind, _)| *kind != Kind::Deposit));
    assert_eq!(p.schedule.payments.last().map(|p| (p.kind, p.due)), Some((Kind::Provisional, d("59000"))));
}

const HELD: &str = "[payments]\ndeposit = \"10 %\"\nretention = \"5\"\nretention_limit = \"2.5\"\n\
    retention_release = \"40\"\nretention_days = 90\n[programme]\nstart = \"2026-12-01\"\n";

#[test]
fn what_is_held_is_at_most_the_limit_and_comes_back_in_two_parts() {
    let (job, e) = with(HELD);
    let p = payments(&e, &job, &Asked::default()).unwrap_or_else(|f| panic!("{f:?}"));
    // deposit 10 % of 1978296; 5 % of 288460, of 200000, and of 932076 up to 2.5 % of the total, 49457.4
    let walls = d("49457") - d("14423") - d("10000");
    let all = rows(&p);
    let held: Vec<Decimal> = all.iter().map(|(_, r)| r[1]).collect();
    assert_eq!(held, [d("0"), d("14423"), d("10000"), walls, d("0"), d("0"), d("0"), d("0")]);
    assert_eq!(all.first().map(|(_, r)| r[3]), Some(d("197830")));
    // 40 % of 49457 when all is built, the rest 90 days later
    assert_eq!(
        all.get(6..),
        Some(
            &[
                row(Kind::Completion, ["0", "0", "0", "19783"]),
                row(Kind::Retention, ["0", "0", "0", "29674"])
            ][..]
        )
    );
    let [done, later] = [6, 7].map(|i| p.schedule.payments.get(i).and_then(|p| p.date));
    assert_eq!(later, done.map(|d| d.plus(90)));
    assert_eq!(Some(p.schedule.total()), e.bill.total);
    // Work done in the plaster is paid after its water test: cured 7 days, then filled for a day.
    let plaster = p.schedule.of(Stage::Plaster).and_then(|p| p.date);
    let work =
        e.programme.events.iter().find(|v| {
            v.stage == Stage::Plaster && v.kind == tankwright_quantities::programme::EventKind::Stage
        });
    assert!(plaster > work.map(|w| w.to), "{plaster:?} {work:?}");
}

#[test]
fn the_account_is_work_done_less_what_is_held_and_paid() {
    let more = format!(
        "{HELD}[[valuation]]\ndate = \"2026-12-10\"\ndone = {{ dig = \"100\", base = \"60\" }}\n\
        materials = \"30000\"\n[[paid]]\ndate = \"2026-12-01\"\namount = \"197830\"\n"
    );
    let (job, e) = with(&more);
    let of = |asked: &Asked| {
        let p = payments(&e, &job, asked).unwrap_or_else(|f| panic!("{f:?}"));
        p.valuation.unwrap_or_else(|| panic!("no valuation"))
    };
    let v = of(&at("2026-12-10"));
    // 288460 + 60 % of 200000 + 30000; 5 % of it held; the deposit paid before
    let gross = d("288460") + d("120000") + d("30000");
    assert_eq!((v.gross, v.held, v.paid), (gross, d("21923"), d("197830")));
    assert_eq!(v.due, gross - d("21923") - d("197830"));
    assert!(!v.deposit_stands && v.ahead.is_zero());
    // Before anything was seen the deposit stands, and it was paid.
    let v = of(&at("2026-12-05"));
    assert_eq!((v.gross, v.owed, v.due, v.ahead), (d("0"), d("197830"), d("0"), d("0")));
    assert!(v.deposit_stands && v.seen.is_none());
    // The day before it was paid it is due.
    assert_eq!(of(&at("2026-11-30")).due, d("197830"));
    // The command line goes on from the last valuation, and says nothing of its goods.
    let done = vec![("base".to_owned(), d("100")), ("walls-lower".to_owned(), d("12.5"))];
    let v = of(&Asked { done, ..at("2026-12-14") });
    // 12.5 % of 932076 = 116509.5
    let gross = d("288460") + d("200000") + d("116510");
    assert_eq!((v.gross, v.left_out.map(|l| l.1)), (gross, Some(d("30000"))));
    assert_eq!(v.due, gross - d("30249") - d("197830"), "5 % of 604970 is 30248.5");
}

#[test]
fn when_all_is_built_a_part_of_what_is_held_is_due_and_the_rest_later() {
    let all = ["dig", "base", "walls-lower", "plaster", "cover"].map(|s| format!("{s} = \"100\"")).join(", ");
    let (job, e) = with(&format!("{HELD}[[valuation]]\ndate = \"2027-01-10\"\ndone = {{ {all} }}\n"));
    let total = e.bill.total.unwrap_or_default();
    for (on, released) in [("2027-01-10", "19783"), ("2027-04-09", "19783"), ("2027-04-10", "49457")] {
        let p = payments(&e, &job, &at(on)).unwrap_or_else(|f| panic!("{f:?}"));
        let v = p.valuation.unwrap_or_else(|| panic!("no valuation"));
        assert_eq!((v.gross, v.held, v.released), (total, d("49457"), d(released)), "{on}");
        assert_eq!(v.due, total - d("49457") + d(released), "{on}");
    }
}

#[test]
fn the_client_who_buys_pays_no_deposit() {
    let text = SMALL.replace("rates = ", "supply = \"labour-only\"\nrates = ");
    let (job, e) = priced(&text);
    let p = payments(&e, &job, &Asked::default()).unwrap_or_else(|f| panic!("{f:?}"));
    assert!(p.client_buys && p.cash.is_none());
    assert!(p.schedule.deposit.amount.is_zero());
    assert_eq!(p.terms.defaults.first().map(|d| d.value.as_str()), Some("none"));
    // What he must have bought is what the orders cost, stage by stage.
    let costs: Option<Vec<Decimal>> = p.goods.iter().map(|g| g.cost).collect();
    assert_eq!(costs.map(|c| c.into_iter().sum()), e.orders.cost);
    let (job, e) = priced(&format!("{text}[payments]\ndeposit = \"materials\"\n"));
    assert!(matches!(payments(&e, &job, &Asked::default()), Err(Failure::Job(p)) if p[0].code == "J206"));
}

#[test]
fn money_in_and_out_is_what_is_paid_less_the_goods() {
    let (job, e) = with("[payments]\nretention = \"5\"\n");
    let p = payments(&e, &job, &Asked::default()).unwrap_or_else(|f| panic!("{f:?}"));
    let cash = p.cash.unwrap_or_default();
    let mut hand = d("343000");
    for r in &cash.rows {
        assert_eq!((r.before, r.after), (hand - r.goods, hand - r.goods + r.received));
        hand = r.after;
    }
    assert_eq!(cash.left, e.bill.total.unwrap_or_default() - e.orders.cost.unwrap_or_default());
    // 718500 for walls, with what the first two stages left: 343000 - 343000 + 136960
    assert_eq!(cash.lowest().map(|r| r.stage), Some(Stage::WallsLower));
}

#[test]
fn goods_without_a_rate_give_no_deposit_and_are_named() {
    let (job, mut e) = with("");
    let lines = e.orders.stages.iter_mut().filter(|o| o.stage == Stage::Base).flat_map(|o| &mut o.lines);
    lines.filter(|l| l.material == "cement").for_each(|l| l.cost = None);
    e.orders.cost = None;
    let p = payments(&e, &job, &Asked::default()).unwrap_or_else(|f| panic!("{f:?}"));
    assert_eq!(
        (p.schedule.deposit.amount, p.schedule.deposit.no_rate.as_slice()),
        (d("0"), &["cement".to_owned()][..])
    );
    assert!(p.cautions.iter().any(|c| c.code == "C100") && p.cash.is_none());
    assert_eq!(Some(p.schedule.total()), e.bill.total);
}

#[test]
fn what_cannot_be_is_refused_all_together() {
    let none = &Asked::default();
    for (more, codes) in [
        (
            "[payments]\ndeposit = \"some\"\nretention = \"100\"\nretention_release = \"101\"\n",
            &["J205", "J208", "J208"][..],
        ),
        ("[payments]\ndeposit = \"5.5\"\n", &["J205"]),
        ("[payments]\ndeposit = \"101 %\"\n", &["J205"]),
        ("[payments]\ndeposit = \"9000000\"\n", &["J207"]),
        ("[payments]\ndeposit = \"99 %\"\nretention = \"5\"\n", &["J207"]),
        ("[payments]\ndeposit_stages = [\"roof\"]\n", &["J203"]),
        ("[payments]\ndeposit_stages = [\"strike\"]\n", &["J206"]),
        ("[payments]\ndeposit = \"none\"\ndeposit_stages = [\"base\"]\n", &["J206"]),
        ("[[preliminaries]]\ntitle = \"a\"\namount = \"1\"\nstage = \"soak-pit\"\n", &["J203"]),
        ("[[paid]]\ndate = \"2026-12-01\"\namount = \"0\"\n", &["J200"]),
        (
            "[[valuation]]\ndate = \"2026-12-10\"\ndone = { dig = \"101\", soak-pit = \"10\", base = \"50\" }\n\
            [[valuation]]\ndate = \"2026-12-12\"\ndone = { base = \"49.9\" }\nprovisional = \"5\"\n\
            [[valuation]]\ndate = \"2026-12-12\"\n",
            &["J201", "J203", "J202", "J209", "J204"],
        ),
    ] {
        assert_eq!(refused(more, none), codes, "{more}");
    }
    let seen = "[[valuation]]\ndate = \"2026-12-10\"\ndone = { base = \"50\" }\n";
    let asked = |done: &[(&str, &str)]| Asked {
        done: done.iter().map(|(s, p)| ((*s).to_owned(), d(p))).collect(),
        ..at("2026-12-11")
    };
    let twice = asked(&[("roof", "1"), ("dig", "1"), ("dig", "2"), ("base", "40"), ("cover", "101")]);
    assert_eq!(refused(seen, &twice), ["U060", "U060", "U061", "U061"]);
    assert_eq!(refused(seen, &asked(&[("soak-pit", "1")])), ["U060"]);
}
