//! Where the client buys the materials: the list's rates less what the materials of each row cost.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use super::built::Built;
use super::rates::{Found, adds_to, ages, place};
use super::{amounts, sum};
use crate::bill::{Bill, BillRow, ClientBuys, Labour, PricedPart, RateFrom, code, material_row};
use crate::decimal::{product, ratio, round, rounded};
use crate::materials::{Material, Materials};
use crate::orders::cost::{self, NoRate};
use crate::orders::{Orders, Pack, Part, split};
use crate::problem::Problem;
use crate::rates::{PriceList, PriceRow};
use crate::sheet::Sheet;

/// What a bill of labour is reckoned with besides the rates of its works.
#[derive(Clone, Copy, Debug)]
pub struct Goods<'a> {
    /// The ledger.
    pub sheet: &'a Sheet,
    /// Materials of the job.
    pub materials: &'a Materials,
    /// Orders of the job: their packs are what the list's materials are priced by.
    pub orders: &'a Orders,
}

/// The rates of a bill, parted.
pub(super) struct Parted {
    /// One for each row of the bill.
    pub(super) rows: Vec<Labour>,
    /// What the client buys.
    pub(super) buys: ClientBuys,
    /// Dates of the rates of materials used.
    pub(super) dates: Vec<String>,
}

/// The rate of a material: money for one of its own unit.
type PerUnit<'a> = Result<(Ratio, &'a PriceRow), NoRate<'a>>;

struct Parting<'a> {
    bill: &'a Bill,
    goods: Goods<'a>,
    prices: &'a PriceList,
    date: &'a str,
    rates: BTreeMap<&'a str, PerUnit<'a>>,
}

/// Parts the rates found, where the list has a row for any material of the job; the rates found become those of
/// labour. Nothing where the list has none, or where a problem is told (R052 to R055).
pub(super) fn part(
    bill: &Bill,
    goods: Goods<'_>,
    prices: &PriceList,
    date: &str,
    found: &mut Found,
    problems: &mut Vec<Problem>,
) -> Option<Parted> {
    if !prices_any(goods, prices) {
        return None;
    }
    let rate = |total: &'_ crate::orders::Total| {
        let material = goods.materials.materials.iter().find(|m| m.id == total.material)?;
        let rate = cost::rate(prices, material, &total.pack);
        Some((material.id.as_str(), rate.map(|(r, row)| (ratio(r) / ratio(total.pack.size), row))))
    };
    let rates = goods.orders.totals.iter().filter_map(rate).collect();
    Parting { bill, goods, prices, date, rates }.part(found, problems)
}

/// Does the list price any material of the job?
pub(super) fn prices_any(goods: Goods<'_>, prices: &PriceList) -> bool {
    goods.materials.materials.iter().any(|m| !cost::rows(prices, m).is_empty())
}

impl<'a> Parting<'a> {
    fn part(&self, found: &mut Found, problems: &mut Vec<Problem>) -> Option<Parted> {
        let split = split(self.bill, self.goods.materials, self.goods.sheet);
        self.without_rate(&split.rows, problems);
        let rows = self.bill.sections.iter().flat_map(|s| &s.rows);
        let mut parted = Vec::new();
        let mut used: BTreeMap<usize, &PriceRow> = BTreeMap::new();
        for (((row, parts), found), built) in rows.zip(&split.rows).zip(&mut found.rates).zip(&found.built) {
            let Some(parts) = self.priced(parts, &mut used) else { continue };
            let Some((full, from)) = found.as_mut() else { continue };
            if let Some(built) = built {
                parted.extend(self.built(*full, built, parts));
                continue;
            }
            let Some(labour) = self.labour(row, *full, parts) else {
                problems.push(super::too_large(self.prices));
                continue;
            };
            if labour.materials > *full {
                problems.push(self.below_zero(row, from, &labour));
            }
            *full = labour.full_rate - labour.materials;
            parted.push(labour);
        }
        let used: Vec<&PriceRow> = used.into_values().collect();
        problems.extend(ages(
            &used,
            ["rate of a material is", "rates of materials are"],
            self.prices,
            self.date,
        ));
        let besides = split.besides.into_iter().map(|b| (b.says, self.worth(&b.parts))).collect();
        let buys = self.buys(&parted, besides);
        if buys.is_none() {
            problems.push(super::too_large(self.prices));
        }
        Some(Parted { rows: parted, buys: buys?, dates: used.iter().map(|r| r.date.clone()).collect() })
    }

    fn priced(&self, parts: &[Part], used: &mut BTreeMap<usize, &'a PriceRow>) -> Option<Vec<PricedPart>> {
        let mut priced = Vec::new();
        for part in parts {
            let (rate, row) = self.rates.get(part.material.as_str())?.as_ref().ok()?;
            used.insert(row.line, row);
            let from = RateFrom {
                code: row.code.clone(),
                list: self.prices.name.clone(),
                line: row.line,
                date: row.date.clone(),
                source: row.source.clone(),
                less_specific: row.code != part.material,
            };
            let (material, quantity) = (part.material.clone(), part.quantity);
            priced.push(PricedPart { material, quantity, rate: *rate, from });
        }
        Some(priced)
    }

    /// The full rate less the materials, rounded once; a row without materials keeps its rate as it stands.
    fn labour(&self, row: &BillRow, full: Decimal, parts: Vec<PricedPart>) -> Option<Labour> {
        let digits = self.bill.currency.digits;
        let cost: Ratio = parts.iter().map(|p| p.quantity * p.rate).sum();
        let worth = amounts::held(rounded(cost, digits)?)?;
        let rate = if parts.is_empty() || row.quantity.is_zero() {
            full
        } else {
            amounts::held(rounded(ratio(full) - cost / ratio(row.quantity), digits)?)?
        };
        Some(Labour { full_rate: full, materials: full.checked_sub(rate)?, worth, parts })
    }

    /// A built rate is one of labour already; the full one was built up beside it.
    fn built(&self, rate: Decimal, built: &Built, parts: Vec<PricedPart>) -> Option<Labour> {
        let full_rate = built.full.as_ref()?.rate;
        let cost: Ratio = parts.iter().map(|p| p.quantity * p.rate).sum();
        let worth = amounts::held(rounded(cost, self.bill.currency.digits)?)?;
        Some(Labour { full_rate, materials: full_rate.checked_sub(rate)?, worth, parts })
    }

    /// What materials cost, rounded to the currency; nothing where one has no rate.
    fn worth(&self, parts: &[Part]) -> Option<Decimal> {
        let cost = |p: &Part| Some(p.quantity * self.rates.get(p.material.as_str())?.as_ref().ok()?.0);
        let cost = parts.iter().map(cost).try_fold(Ratio::ZERO, |sum, cost| Some(sum + cost?))?;
        amounts::held(rounded(cost, self.bill.currency.digits)?)
    }

    fn buys(
        &self,
        rows: &[Labour],
        besides: Vec<(crate::words::Phrase, Option<Decimal>)>,
    ) -> Option<ClientBuys> {
        let orders = self.goods.orders;
        let in_rates = sum(rows.iter().map(|r| r.worth))?;
        let all = besides.iter().map(|(_, cost)| *cost).collect::<Option<Vec<_>>>();
        let rest = orders
            .cost
            .zip(all)
            .and_then(|(cost, besides)| cost.checked_sub(sum(besides.into_iter().chain([in_rates]))?));
        let titles = orders.totals.iter().filter(|t| t.rate.is_none()).map(|t| self.title(&t.material));
        Some(ClientBuys {
            in_rates,
            besides,
            rest,
            orders: orders.cost,
            orders_priced: sum(orders.totals.iter().filter_map(|t| t.cost))?,
            no_rate: titles.collect(),
        })
    }

    fn material(&self, id: &str) -> Option<(&Material, &Pack)> {
        let material = self.goods.materials.materials.iter().find(|m| m.id == id)?;
        let total = self.goods.orders.totals.iter().find(|t| t.material == id)?;
        Some((material, &total.pack))
    }

    fn title(&self, id: &str) -> String {
        self.material(id).map_or(id, |(m, _)| m.title.as_str()).to_owned()
    }

    /// Materials that a row of the bill needs and the list does not price, each once with all its rows.
    fn without_rate(&self, rows: &[Vec<Part>], problems: &mut Vec<Problem>) {
        for (id, rate) in &self.rates {
            let Err(why) = rate else { continue };
            let asks = self.bill.sections.iter().flat_map(|s| &s.rows).zip(rows);
            let asks: Vec<&str> = asks
                .filter(|(_, parts)| parts.iter().any(|p| p.material == *id))
                .map(|(row, _)| row.reference.as_str())
                .collect();
            let known = self.material(id).filter(|_| !asks.is_empty());
            problems
                .extend(known.map(|(material, pack)| self.no_rate(why, material, pack, &asks.join(", "))));
        }
    }

    fn no_rate(&self, why: &NoRate<'_>, material: &Material, pack: &Pack, asks: &str) -> Problem {
        let (list, id, unit) = (&self.prices.name, &material.id, &material.unit);
        let row = material_row(material, pack, &self.bill.currency.code, self.date);
        let add = format!("add this row to {}, with rate and source: {row}", adds_to(list));
        let why_asked = format!("labour-only: its cost is taken out of the rates of {asks}");
        match why {
            NoRate::Missing => {
                let message =
                    format!("{list} has no rate for the material `{id}`, which the bill needs in {asks}");
                Problem::error("R052", None, message).hint(format!("{why_asked}; {add}"))
            }
            NoRate::Unit(at) => {
                let message = format!(
                    "the material `{id}` is bought in {unit} or as {}, its rate is for {}",
                    pack.title, at.unit
                );
                Problem::error("R053", place(self.prices, at), message)
                    .label(format!("needed in {asks}"))
                    .hint(format!("{why_asked}; nothing is converted: {add}"))
            }
            NoRate::Size(at, other) => {
                let message = format!(
                    "the rate of the material `{id}` is for {other}, and it is bought as {}",
                    pack.title
                );
                Problem::error("R053", place(self.prices, at), message)
                    .label(format!("needed in {asks}"))
                    .hint(format!("{why_asked}; say the pack you buy under [packs] of the job file, or price this one instead: {row}"))
            }
            NoRate::Empty(at) => {
                let message =
                    format!("the material `{id}` has an empty rate, and the bill needs it in {asks}");
                let hint = "fill in rate, date and source; nothing is priced at zero unless the rate says 0";
                Problem::error("R054", place(self.prices, at), message)
                    .label("no rate in this row")
                    .hint(format!("{why_asked}; {hint}"))
            }
            NoRate::TooLarge => super::too_large(self.prices),
        }
    }

    fn below_zero(&self, row: &BillRow, from: &RateFrom, labour: &Labour) -> Problem {
        let digits = self.bill.currency.digits;
        let (reference, code, unit, list) = (&row.reference, code(row), row.unit.id(), &self.prices.name);
        let (full, materials) = (labour.full_rate.normalize(), round(labour.materials, digits).normalize());
        let part = |p: &PricedPart| {
            let unit = self.material(&p.material).map_or("", |(m, _)| m.unit.as_str());
            let shown = |r: Ratio, places| rounded(r, places).map_or_else(String::new, |d| d.to_string());
            let worth = shown(p.quantity * p.rate, digits);
            format!("{} {} {unit}, {worth}", p.material, shown(p.quantity, 3))
        };
        let parts = labour.parts.iter().map(part).collect::<Vec<_>>().join("; ");
        let message = format!(
            "{reference} `{code}`: the rate of {full} for 1 {unit} is less than its materials alone, {materials}"
        );
        let at = self.prices.rows.iter().find(|r| r.line == from.line);
        let whole = product(row.quantity, labour.full_rate).map(|d| round(d, digits).normalize().to_string());
        Problem::error("R055", at.and_then(|r| place(self.prices, r)), message)
            .label("no labour is left in this rate")
            .hint(format!(
                "labour-only: rates of works in {} hold labour and materials; {} {unit} come to {} and need {parts}: ask again for this rate or for those of the materials",
                adds_to(list),
                row.quantity,
                whole.unwrap_or_default()
            ))
    }
}
