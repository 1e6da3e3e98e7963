//! A form that is wrong is caught by the model, and the right price comes all the same.
#![expect(clippy::unwrap_used, reason = "a test stops where it fails")]

use super::*;
use crate::ledger::{Figures, Form, Row};
use crate::works::Proof;
use crate::{job, rates};

const TANK: &str = "format = 1
[job]
title = \"a tank\"
date = \"2026-11-25\"
currency = \"UGX\"
rates = \"demo-ugx\"
[tank]
chambers = [1600, 800]
width = 1200
height = 1500
[tank.base]
fall = 40
[tank.plaster]
thickness = 20
";

#[test]
fn a_planted_wrong_form_is_caught() {
    let (stock, _) = rates::builtin();
    let (name, text) = rates::builtin_prices("demo-ugx").unwrap();
    let prices = rates::read_prices(&name, text).unwrap();
    let (job, problems) = job::read("job.toml", TANK, &flow::job_tables());
    assert!(problems.is_empty(), "{problems:?}");
    let settings = Settings::default();
    let mut pricer = Pricer::new(&stock, &prices, &settings);
    let price = |pricer: &mut Pricer<'_>| pricer.price(&job, &|_| true).unwrap();
    let right = price(&mut pricer);
    assert_eq!(price(&mut pricer), right);
    assert_eq!((pricer.counts().by_forms, pricer.counts().doubted), (1, 0));
    let rows = pricer.families[0].ledger().unwrap().form.rows.len();
    let (mut planted, mut at) = (0, 0);
    while at < rows {
        let made = pricer.families[0].ledger().unwrap();
        made.classes.clear();
        made.figures = Figures::default();
        let form = &mut made.form;
        let item = form.groups[form.rows[at].group].item;
        let proved = form.items[item].spec.work.proof != Proof::Listed;
        if proved {
            form.rows[at].count += 1;
            planted += 1;
        }
        assert_eq!(price(&mut pricer), right);
        assert_eq!(pricer.counts().doubted, planted, "row {at}");
        // Made anew.
        assert_eq!(price(&mut pricer), right);
        at += 5;
    }
    assert!(planted >= 3);
}

#[test]
fn what_is_right_here_alone_is_never_believed_for_others() {
    let (stock, _) = rates::builtin();
    let (name, text) = rates::builtin_prices("demo-ugx").unwrap();
    let prices = rates::read_prices(&name, text).unwrap();
    let (mut job, _) = job::read("job.toml", TANK, &flow::job_tables());
    let settings = Settings::default();
    let mut pricer = Pricer::new(&stock, &prices, &settings);
    let width = job.input("tank.width").unwrap().0.0 as usize;
    let mut price = |pricer: &mut Pricer<'_>, tenths: i64| {
        assert!(job.change("tank.width", Ratio::from(tenths)));
        pricer.price(&job, &|_| true).unwrap().unwrap()
    };
    for tenths in [12_000, 12_500, 13_000, 12_000] {
        price(&mut pricer, tenths);
    }
    let (narrow, wide) = (price(&mut pricer, 12_000), price(&mut pricer, 13_000));
    let proved = pricer.counts();
    // The first of a kind, one to see what varies, one to prove it: from then on nothing is measured one by one.
    assert!(proved.measured <= 2, "{proved:?}");
    assert_eq!(price(&mut pricer, 12_000), narrow);
    assert_eq!(pricer.counts().measured, proved.measured);

    // A length of the lines that hangs on the width is made to be what it is here.
    let made = pricer.families[0].ledger().unwrap();
    let on_width =
        |form: &Form, len: &usize| form.sum(*len).unwrap().terms.iter().any(|(input, _)| *input == width);
    let len = {
        let form = &made.form;
        let cells = |row: &&Row| form.items[form.groups[row.group].item].spec.work.proof == Proof::Cells;
        let mut lens = form.rows.iter().filter(cells).flat_map(|row| form.factors(row).unwrap());
        lens.find(|len| on_width(form, len)).unwrap()
    };
    let value = made.figures.lens[len].n;
    made.form.freeze(len, value);
    made.classes.clear();
    made.figures = Figures::default();
    for _ in 0..2 {
        assert_eq!(price(&mut pricer, 12_000), narrow);
    }
    let doubted = pricer.counts();
    assert_eq!((doubted.measured, doubted.doubted), (proved.measured + 2, 0), "{doubted:?}");
    assert_eq!(price(&mut pricer, 13_000), wide);
    assert_eq!(pricer.counts().doubted, 1);
}

#[test]
fn a_wrong_second_formula_is_no_identity() {
    let (stock, _) = rates::builtin();
    let (name, text) = rates::builtin_prices("demo-ugx").unwrap();
    let prices = rates::read_prices(&name, text).unwrap();
    let (job, _) = job::read("job.toml", TANK, &flow::job_tables());
    let settings = Settings::default();
    let mut pricer = Pricer::new(&stock, &prices, &settings);
    let mut price = || pricer.price(&job, &|_| true).unwrap();
    let right = [price(), price(), price()];
    assert_eq!(right[0], right[2]);
    let measured = pricer.counts().measured;
    assert_eq!(measured, 1);
    let made = pricer.families[0].ledger().unwrap();
    let seconds = &mut made.drawing.as_mut().unwrap().seconds;
    seconds[0].amount = seconds[0].amount.clone() * Ratio::of(1001, 1000);
    made.classes.clear();
    for n in 1..=2 {
        assert_eq!(pricer.price(&job, &|_| true).unwrap(), right[0]);
        assert_eq!(pricer.counts().measured, measured + n);
    }
}
