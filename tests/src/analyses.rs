//! Rates built up from data given as text: build-up, price list and on-costs, by the program's own readers.
#![expect(clippy::unwrap_used, reason = "a test stops where it fails")]

use rust_decimal::Decimal;
use tankwright_quantities::build_up::{Asked, Lacking, Outline, Piece, Terms, Worked, priced};
use tankwright_quantities::made::Made;
use tankwright_quantities::rates::{read_prices, read_stock};
use tankwright_quantities::stage::Stage;
use tankwright_quantities::works;

use crate::{read, stock};

/// A build-up as data.
#[derive(Clone, Copy, Debug)]
pub struct Given<'a> {
    /// As in a file of `rates/build-ups/`: one entry, for the work `of`.
    pub build_up: &'a str,
    /// Rows of a price list: kind, code, description, unit, rate.
    pub prices: &'a [&'a str],
    /// As in a job file: `[on_costs]`.
    pub on_costs: &'a str,
    /// Code of the work.
    pub of: &'a str,
    /// In place of the entry's amount of work, with its unit.
    pub per: Option<(&'a str, &'a str)>,
}

/// Works it out, amounts to two places.
///
/// # Errors
/// What the list lacks.
///
/// # Panics
/// Where a text is none.
pub fn worked(given: Given<'_>) -> Result<Worked, Vec<Lacking>> {
    let mut stock = stock().clone();
    let file = ("build-ups/published.toml".to_owned(), given.build_up.to_owned());
    assert_eq!(read_stock(&[file], &mut stock), []);
    let rows: Vec<String> =
        given.prices.iter().map(|r| format!("{r},INR,2026-11-25,\"invented, as published\"\n")).collect();
    let list = format!("kind,code,description,unit,rate,currency,date,source\n{}", rows.concat());
    let prices = read_prices("published.csv", &list).unwrap();
    let head = "format = 1\n[job]\ntitle = \"x\"\ndate = \"2026-11-25\"\ncurrency = \"INR\"\n[tank]\nchambers = [\"1.6 m\", \"0.8 m\"]\nwidth = \"1.2 m\"\nheight = \"1.5 m\"\n";
    let job = read(&format!("{head}{}", given.on_costs), false).unwrap();
    let mut problems = Vec::new();
    let terms = Terms::read(&job, &stock, &mut problems);
    assert_eq!(problems, []);
    let (id, spec) = given.of.split_once('/').unwrap_or((given.of, ""));
    let work = works::all().into_iter().find(|w| w.id == id).unwrap();
    let unit = stock.build_ups.all.iter().find(|b| b.code == given.of).unwrap().unit.clone();
    let unit =
        [works::Unit::M3, works::Unit::M2, works::Unit::Kg].into_iter().find(|u| u.id() == unit).unwrap();
    let made = Made::default();
    let mut outline =
        Outline::of(&job, &stock, Piece { work, spec, made: &made, stage: Stage::Base, unit, width: None })
            .unwrap();
    if let Some((per, unit)) = given.per {
        (outline.per, outline.unit) = (d(per), unit.to_owned());
    }
    let asked = Asked { prices: &prices, terms: &terms, row: ("INR", "2026-11-25"), digits: 2 };
    let worked = priced(&outline, true, asked).map_err(|(lacking, word)| {
        assert_eq!(word, "");
        lacking
    })?;
    assert_eq!(worked.breaks(), Vec::<String>::new());
    Ok(worked)
}

/// A decimal.
#[must_use]
pub fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

/// Amounts of the lines of an analysis, then of its on-costs.
#[must_use]
pub fn amounts(worked: &Worked) -> (Vec<Decimal>, Vec<Decimal>) {
    (worked.lines.iter().map(|l| l.amount).collect(), worked.on_costs.iter().map(|o| o.amount).collect())
}

/// Decimals.
#[must_use]
pub fn all(texts: &[&str]) -> Vec<Decimal> {
    texts.iter().map(|t| d(t)).collect()
}
