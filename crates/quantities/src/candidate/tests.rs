//! A form that is wrong is caught by the model, and the right price comes all the same.
#![expect(clippy::unwrap_used, reason = "a test stops where it fails")]

use super::*;
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
    let rows = pricer.families[0].ledger().unwrap().rows.len();
    let (mut planted, mut at) = (0, 0);
    while at < rows {
        let form = pricer.families[0].ledger().unwrap();
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
