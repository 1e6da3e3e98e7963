//! Small sheets, jobs, price lists and stocks for the tests of bill and prices.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use crate::decimal;
use crate::job::{Given, Job, Value};
use crate::materials::Use;
use crate::problem::Place;
use crate::rates::{PriceKind, PriceList, PriceRow, Stock, builtin};
use crate::sheet::{Item, Sheet};
use crate::source::Source;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::{Work, concrete, earthwork, finishes, masonry, pipework};

pub(crate) fn d(text: &str) -> Decimal {
    text.parse().unwrap_or_default()
}

pub(crate) fn item(work: &'static Work, spec: &str, stage: Stage, quantity: &str) -> Item {
    let id = [work.id, spec, stage.id()].into_iter().filter(|s| !s.is_empty()).collect::<Vec<_>>().join("/");
    Item {
        id,
        work,
        spec: spec.to_owned(),
        stage,
        unit: work.unit,
        wording: Phrase::with(work.id, &[spec, "", ""]),
        lines: Vec::new(),
        quantity: d(quantity),
        net: d(quantity),
        places: 12,
        model: None,
        decisions: Vec::new(),
        judged: Vec::new(),
        whole: crate::sheet::Whole::default(),
        unbilled: false,
        made: crate::made::Made::NOTHING,
        kept: Vec::new(),
    }
}

/// Seven items in six rows.
pub(crate) fn sheet() -> Sheet {
    let items = vec![
        item(&earthwork::EXCAVATION_PIT, "0-1.5", Stage::Dig, "13.71"),
        item(&earthwork::EXCAVATION_PIT, "1.5-3.0", Stage::Dig, "3.2"),
        item(&concrete::CONCRETE_BASE, "1:2:4", Stage::Base, "1.52"),
        item(&masonry::BRICKWORK_WALL, "220", Stage::WallsLower, "3.125"),
        item(&masonry::BRICKWORK_WALL, "220", Stage::WallsUpper, "2.0004"),
        item(&finishes::WATER_TEST, "", Stage::Plaster, "1"),
        item(&pipework::PIPE_TEE, "110", Stage::WallsUpper, "2"),
    ];
    Sheet { items, voids: Vec::new() }
}

pub(crate) fn stock() -> Stock {
    builtin().0
}

/// A job in UGX of 2026-11-25 with these values; lists of texts are parted by `|`.
pub(crate) fn job(more: &[(&str, &str)]) -> Job {
    let mut values = BTreeMap::new();
    let head = [("job.currency", "UGX"), ("job.date", "2026-11-25")];
    for (line, (path, text)) in head.iter().chain(more).enumerate() {
        let value = match path.rsplit('.').next().unwrap_or_default() {
            "say" if path.starts_with("on_costs") => Value::Text((*text).to_owned()),
            "percent" | "amount" | "quantity" | "rate" | "say" | "hours" => {
                Value::Number(decimal::ratio(d(text)))
            }
            "on" | "covers" => Value::Texts(text.split('|').map(str::to_owned).collect()),
            _ => Value::Text((*text).to_owned()),
        };
        let given = Given::Here(Place { file: "job.toml".into(), span: line..line + 1, line: line + 1 });
        values.insert((*path).to_owned(), (value, given.clone()));
        if let Some((list, _)) = path.split_once('[') {
            let entry = path.split_once(']').map(|(entry, _)| format!("{entry}]")).unwrap_or_default();
            let group = values.entry(list.to_owned()).or_insert((Value::Group(Vec::new()), given));
            if let Value::Group(entries) = &mut group.0
                && !entries.contains(&entry)
            {
                entries.push(entry);
            }
        }
    }
    let mut job = Job::default();
    (job.file, job.values) = ("job.toml".into(), std::sync::Arc::new(values.into_iter().collect()));
    job
}

/// A price list in UGX of 2026-10-01; rows are code, unit, rate (may be empty).
pub(crate) fn prices(rows: &[(&str, &str, &str)]) -> PriceList {
    let row = |(i, (code, unit, rate)): (usize, &(&str, &str, &str))| PriceRow {
        kind: PriceKind::Work,
        code: (*code).into(),
        description: String::new(),
        unit: (*unit).into(),
        rate: rate.parse().ok(),
        date: "2026-10-01".into(),
        source: "invented, demo".into(),
        line: i + 2,
        span: 10 * i..10 * i + 9,
    };
    PriceList {
        name: "my.csv".into(),
        currency: "UGX".into(),
        rows: rows.iter().enumerate().map(row).collect(),
        cautions: Vec::new(),
    }
}

/// A rate for every row of [`sheet`].
pub(crate) fn full() -> PriceList {
    prices(&[
        ("excavation-pit", "m3", "18000"),
        ("excavation-pit/1.5-3.0", "m3", "22000"),
        ("concrete-base/1:2:4", "m3", "400000"),
        ("brickwork-wall/220", "m3", "290000"),
        ("water-test", "item", "75000"),
        ("pipe-tee/110", "nr", "14500"),
    ])
}

/// A pseudo-random sequence: the same on every machine.
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    /// 0 to `below` - 1.
    pub(crate) fn roll(&mut self, below: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % below
    }
}

pub(crate) fn ratio(text: &str) -> Ratio {
    decimal::ratio(d(text))
}

/// A use of a material by an item of the base, of an amount and a rate of waste.
pub(crate) fn used(material: &str, item: &str, amount: &str, waste: &str) -> Use {
    Use {
        material: material.to_owned(),
        stage: Stage::Base,
        item: item.to_owned(),
        base: Ratio::ONE,
        over_break: false,
        less: false,
        steps: Vec::new(),
        amount: ratio(amount),
        waste_percent: ratio(waste),
        source: Source::default(),
        waste_inside: false,
    }
}
