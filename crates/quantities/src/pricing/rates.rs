//! A rate for every row of the bill, and what is to be said about the rates used.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use crate::bill::{Bill, BillRow, RateFrom, code, rate_row};
use crate::job::days_between;
use crate::pricing::amounts::extended;
use crate::pricing::built::{self, Builder, Built};
use crate::pricing::sum;
use crate::problem::{Place, Problem, Severity};
use crate::rates::{Lookup, PriceList, PriceRow};

/// Days after which a rate is old (the project's own rule; common practice, no source).
const OLD: i64 = 90;

/// A rate with where it comes from.
pub(super) type Rate = (Decimal, RateFrom);

/// Rates as found, row by row in bill order.
#[derive(Debug, Default)]
pub(super) struct Found {
    /// `None` where a problem is told.
    pub(super) rates: Vec<Option<Rate>>,
    /// How it was built up, where the list does not price the work itself.
    pub(super) built: Vec<Option<Built>>,
}

/// The rate of every row, built up where the list has none for the work; cautions about dates.
pub(super) fn look_up(
    bill: &Bill,
    prices: &PriceList,
    date: &str,
    mut builder: Builder<'_>,
    problems: &mut Vec<Problem>,
) -> Found {
    let mut wanting = BTreeMap::new();
    let mut used = Vec::new();
    let mut found = Found::default();
    for row in bill.sections.iter().flat_map(|s| &s.rows) {
        let seen = prices.find(row.work.id, &row.spec, row.unit.id());
        if let Lookup::Found { row: at, exact } = seen {
            used.push(at);
            found.rates.push(at.rate.map(|rate| (rate, from(prices, at, &code(row), exact))));
            found.built.push(None);
            continue;
        }
        if seen == Lookup::Missing && builder.builds(row) {
            let (rate, built) = builder.build(row).unzip();
            found.rates.push(rate);
            found.built.push(built);
            continue;
        }
        found.rates.push(None);
        found.built.push(None);
        // Rows that differ in words alone need one rate: told once.
        wanting
            .entry((code(row), row.unit))
            .or_insert_with(|| problem(&bill.currency.code, row, seen, prices, date));
    }
    problems.extend(wanting.into_values());
    builder.tell(problems);
    let in_builds = built::used(prices, &found.built);
    problems.extend(ages(
        &in_builds,
        ["rate in the build-ups is", "rates in the build-ups are"],
        prices,
        date,
    ));
    problems.extend(ages(
        &used,
        ["row of the bill is priced with rates", "rows of the bill are priced with rates"],
        prices,
        date,
    ));
    found
}

/// The net dig is what the plain code of a pit means: `excavation-pit/net/0-1.5` is `excavation-pit/0-1.5`.
fn plain_net(code: &str) -> String {
    code.strip_suffix("/net").map_or_else(|| code.replacen("/net/", "/", 1), str::to_owned)
}

fn from(prices: &PriceList, row: &PriceRow, full: &str, exact: bool) -> RateFrom {
    RateFrom {
        code: row.code.clone(),
        list: prices.name.clone(),
        line: row.line,
        date: row.date.clone(),
        source: row.source.clone(),
        less_specific: !exact && row.code != plain_net(full),
    }
}

pub(super) fn place(prices: &PriceList, row: &PriceRow) -> Option<Place> {
    Some(Place { file: prices.name.clone(), span: row.span.clone(), line: row.line })
}

fn problem(currency: &str, row: &BillRow, seen: Lookup<'_>, prices: &PriceList, date: &str) -> Problem {
    let (code, unit, list) = (code(row), row.unit.id(), &prices.name);
    let (to, new) = (adds_to(list), rate_row(row, currency, date));
    let add = format!("add this row to {to}, with rate and source: {new}");
    match seen {
        Lookup::WrongUnit { row: at } => {
            let message = format!("`{code}` is measured in {unit}, its rate is for {}", at.unit);
            Problem::error("R041", place(prices, at), message).label(format!("the bill wants {unit}")).hint(
                if crate::rates::lists::units::same(&at.unit, unit) {
                    format!("if that is meant, write the unit as {unit}")
                } else {
                    format!("nothing is converted: ask for a price per {unit}, and {add}")
                },
            )
        }
        Lookup::Empty { row: at } => {
            let message = format!("`{code}` in {unit} has an empty rate");
            let hint = "fill in rate, date and source; nothing is priced at zero unless the rate says 0";
            Problem::error("R042", place(prices, at), message).label("no rate in this row").hint(hint)
        }
        Lookup::Missing | Lookup::Found { .. } => {
            Problem::error("R040", None, format!("{list} has no rate for `{code}` in {unit}")).hint(add)
        }
    }
}

/// The list that a row is added to, in words.
pub(super) fn adds_to(list: &str) -> &str {
    if builtin(list) {
        "a copy of this built-in list (`tankwright rates --export DIR` writes one)"
    } else {
        list
    }
}

/// Is the list one that only a copy of can be changed?
fn builtin(list: &str) -> bool {
    let name = list.strip_prefix("rates/prices/").and_then(|n| n.strip_suffix(".csv"));
    name.is_some_and(|n| crate::rates::builtin_prices(n).is_some())
}

/// One caution for each date that is too old, too late or no date; `what` in words, for one and for many.
pub(super) fn ages(used: &[&PriceRow], what: [&str; 2], prices: &PriceList, date: &str) -> Vec<Problem> {
    let mut by_date: BTreeMap<&str, (usize, &PriceRow)> = BTreeMap::new();
    for at in used {
        by_date.entry(&at.date).or_insert((0, at)).0 += 1;
    }
    let mut told = Vec::new();
    for (of, (count, at)) in by_date {
        let says = match days_between(of, date) {
            Some(age) if age > OLD => format!("{age} days before the job's date {date}"),
            Some(age) if age < 0 => format!("later than the job's date {date}"),
            Some(_) => continue,
            None => format!("and the job's date is {date}: how old they are cannot be told"),
        };
        let [one, many] = what;
        let words = if count == 1 { one } else { many };
        let message = format!("{count} {words} of {of}, {says}");
        let hint = "ask for today's price, then change rate and date of the row";
        told.push(caution("R045", place(prices, at), message).hint(hint));
    }
    told
}

fn caution(code: &'static str, place: Option<Place>, message: String) -> Problem {
    Problem { severity: Severity::Caution, ..Problem::error(code, place, message) }
}

/// Puts rates and amounts on the rows and totals on the sections; `None` where a figure is too large.
pub(super) fn apply(bill: &mut Bill, found: Found, problems: &mut Vec<Problem>) -> Option<()> {
    let digits = bill.currency.digits;
    let mut found = found.rates.into_iter().zip(found.built);
    for section in &mut bill.sections {
        for row in &mut section.rows {
            let (rate, built) = found.next()?;
            let (rate, from) = rate?;
            row.build_up = built.map(|b| Box::new(b.worked));
            let amount = extended(row.quantity, rate, digits)?;
            if amount.is_zero() {
                problems.push(nothing(row, rate, &from));
            }
            (row.rate, row.amount) = (Some((rate, from)), Some(amount));
        }
        section.total = Some(sum(section.rows.iter().filter_map(|r| r.amount))?);
    }
    bill.measured = Some(sum(bill.sections.iter().filter_map(|s| s.total))?);
    Some(())
}

/// A row that comes to nothing is told: a rate of 0 may be meant, or may be a price nobody asked for.
fn nothing(row: &BillRow, rate: Decimal, from: &RateFrom) -> Problem {
    let (reference, code, unit) = (&row.reference, code(row), row.unit.id());
    let message = if row.build_up.is_some() {
        format!("{reference} `{code}` comes to nothing: built up it is {rate} for 1 {unit}")
    } else if rate.is_zero() && row.labour.as_ref().is_some_and(|l| !l.full_rate.is_zero()) {
        let (line, list) = (from.line, &from.list);
        format!(
            "{reference} `{code}` comes to nothing: its materials are all of its rate on line {line} of {list}"
        )
    } else if rate.is_zero() {
        format!("{reference} `{code}` comes to nothing: its rate on line {} of {} is 0", from.line, from.list)
    } else {
        format!("{reference} `{code}` comes to nothing: {} {unit} at {rate} rounds to 0", row.quantity)
    };
    caution("R046", None, message).hint("if this work costs something, it is missing in the total")
}

/// The list's name and the first and last date of the rates used, `more` among them.
pub(super) fn dates(bill: &Bill, prices: &PriceList, more: &[String]) -> (String, String, String) {
    let rows = || bill.sections.iter().flat_map(|s| &s.rows);
    let used = rows().filter_map(|r| r.rate.as_ref()).map(|(_, from)| from.date.as_str());
    let built = rows().filter_map(|r| r.build_up.as_deref()).flat_map(built::dates);
    let used: Vec<&str> = used.chain(built).chain(more.iter().map(String::as_str)).collect();
    let of = |date: Option<&&str>| date.map(|d| (*d).to_owned()).unwrap_or_default();
    (prices.name.clone(), of(used.iter().min()), of(used.iter().max()))
}
