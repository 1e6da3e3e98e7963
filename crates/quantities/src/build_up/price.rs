//! A price list's rates put to an outline; or every row that the list lacks for it.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use super::{Analysis, Cost, Group, Line, Made, Outline, OutlineLine, Terms, Want, Worked, work_out};
use crate::bill::{RateFrom, cell, material_row};
use crate::decimal::{plain, ratio};
use crate::orders::cost::{self, NoRate};
use crate::rates::{PriceKind, PriceList, PriceRow, lists};
use crate::words::Phrase;

/// A row that a price list lacks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lacking {
    /// Material, labour or plant.
    pub kind: PriceKind,
    /// Code.
    pub code: String,
    /// The unit of the row to add.
    pub unit: String,
    /// Why what is there does not serve.
    pub why: Why,
    /// The row to add, without rate and source.
    pub row: String,
}

/// Why a list does not price a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// It has no such row.
    Missing,
    /// The row of this line is for another unit or pack: the unit or size it speaks of.
    Unit(usize, String),
    /// The row of this line is left empty.
    Empty(usize),
}

/// What a price list is asked with.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// The list.
    pub prices: &'a PriceList,
    /// On-costs and the rest.
    pub terms: &'a Terms,
    /// Currency and date of rows to add.
    pub row: (&'a str, &'a str),
    /// Minor digits of the currency.
    pub digits: u32,
}

/// Prices an outline; without `materials` it is the rate of labour, plant and sundries alone.
///
/// # Errors
/// Every row that the list lacks; none of them where a figure is too large or a percentage is taken on what is not
/// there: then the word it names.
pub fn priced(
    outline: &Outline,
    materials: bool,
    asked: Asked<'_>,
) -> Result<Worked, (Vec<Lacking>, String)> {
    let (mut lines, mut lacking, mut hours) = (Vec::new(), Vec::new(), false);
    for line in outline.lines.iter().filter(|l| materials || l.group != Group::Materials) {
        match cost(line, asked, &mut hours) {
            Ok((title, cost)) => lines.push(Line {
                group: line.group,
                code: line.code.clone(),
                title,
                cost,
                say: line.say,
                source: line.source.clone(),
            }),
            Err(one) if lacking.contains(&one) => {}
            Err(one) => lacking.push(one),
        }
    }
    if !lacking.is_empty() {
        return Err((lacking, String::new()));
    }
    let analysis = Analysis {
        per: outline.per,
        unit: outline.unit.clone(),
        lines,
        on_costs: asked.terms.on_costs.clone(),
        says: asked.terms.says.clone(),
        digits: asked.digits,
    };
    let worked = work_out(&analysis).map_err(|word| (Vec::new(), word))?;
    let build_up = (outline.code.clone(), outline.file.clone());
    let day = hours.then(|| (asked.terms.day, asked.terms.day_source.clone()));
    Ok(Worked { build_up, day, ..worked })
}

fn cost(line: &OutlineLine, asked: Asked<'_>, hours: &mut bool) -> Result<(String, Cost), Lacking> {
    match &line.want {
        Want::Percent(percent, on) => Ok((line.title.clone(), Cost::Percent(*percent, on.clone()))),
        Want::Goods { material, pack, quantity, uses, working } => {
            let (code, date) = asked.row;
            let lacking = |why| Lacking {
                kind: PriceKind::Material,
                code: material.id.clone(),
                unit: material.unit.clone(),
                why,
                row: material_row(material, pack, code, date),
            };
            let row = cost::rate(asked.prices, material, pack).map_err(|why| {
                lacking(match why {
                    NoRate::Missing | NoRate::TooLarge => Why::Missing,
                    NoRate::Unit(at) => Why::Unit(at.line, at.unit.clone()),
                    NoRate::Size(at, size) => Why::Unit(at.line, size),
                    NoRate::Empty(at) => Why::Empty(at.line),
                })
            })?;
            let (_, at) = row;
            let rate = at.rate.ok_or_else(|| lacking(Why::Empty(at.line)))?;
            // By its own unit the list's rate stands as it is; by the pack the quantity is in packs.
            let own = at.unit == material.unit;
            let size = if own { Decimal::ONE } else { pack.size };
            let title = if own { line.title.clone() } else { format!("{}, {}", line.title, pack.title) };
            let cost = Cost::Priced {
                quantity: *quantity / ratio(size),
                working: working.clone(),
                unit: at.unit.clone(),
                rate,
                from: Some(Box::new(from(asked.prices, at, &material.id))),
                made: (!uses.is_empty()).then(|| Made { pack: size, uses: uses.clone() }),
            };
            Ok((title, cost))
        }
        Want::Amount { quantity, unit, working } => amount(line, (*quantity, unit, working), asked, hours),
    }
}

fn amount(
    line: &OutlineLine,
    (quantity, unit, working): (Ratio, &str, &str),
    asked: Asked<'_>,
    hours: &mut bool,
) -> Result<(String, Cost), Lacking> {
    let kind = match line.group {
        Group::Materials => PriceKind::Material,
        Group::Labour => PriceKind::Labour,
        Group::Plant | Group::Sundries => PriceKind::Plant,
    };
    let rows = || asked.prices.rows.iter().filter(|r| r.kind == kind && r.code == line.code);
    let time = Time::of(unit);
    let fits = |r: &&PriceRow| {
        r.unit == unit || lists::same_unit(&r.unit, unit) || (time.is_some() && Time::of(&r.unit) == time)
    };
    let turned = |r: &&PriceRow| time.is_some() && Time::of(&r.unit).is_some();
    let lacking = |why| {
        let (currency, date) = asked.row;
        let words = &line.code.replace('-', " ");
        let unit = if time.is_some() { "day" } else { unit };
        let row = [kind.id(), &line.code, words, unit, "", currency, date, ""].map(cell).join(",");
        Lacking { kind, code: line.code.clone(), unit: unit.to_owned(), why, row }
    };
    let at = rows()
        .find(fits)
        .or_else(|| rows().find(turned))
        .ok_or_else(|| lacking(rows().next().map_or(Why::Missing, |r| Why::Unit(r.line, r.unit.clone()))))?;
    let rate = at.rate.ok_or_else(|| lacking(Why::Empty(at.line)))?;
    let day = ratio(asked.terms.day);
    let shown = || if working.is_empty() { plain(quantity) } else { working.to_owned() };
    let (quantity, working) = match (time, Time::of(&at.unit)) {
        (Some(Time::Hour), Some(Time::Day)) => {
            *hours = true;
            (quantity / day, Phrase::with("build-up-hours", &[&shown(), &plain(day)]).to_string())
        }
        (Some(Time::Day), Some(Time::Hour)) => {
            *hours = true;
            (quantity * day, Phrase::with("build-up-days", &[&shown(), &plain(day)]).to_string())
        }
        _ => (quantity, working.to_owned()),
    };
    let words = if at.description.is_empty() { &line.code } else { &at.description };
    let title = match line.title.as_str() {
        "" => words.clone(),
        does => format!("{words}, {does}"),
    };
    let unit = at.unit.clone();
    let from = Some(Box::new(from(asked.prices, at, &line.code)));
    Ok((title, Cost::Priced { quantity, working, unit, rate, from, made: None }))
}

fn from(prices: &PriceList, row: &PriceRow, code: &str) -> RateFrom {
    RateFrom {
        code: row.code.clone(),
        list: prices.name.clone(),
        line: row.line,
        date: row.date.clone(),
        source: row.source.clone(),
        less_specific: row.code != code,
    }
}

/// How a list pays for time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Time {
    Hour,
    Day,
}

impl Time {
    fn of(unit: &str) -> Option<Self> {
        match unit.to_lowercase().trim_end_matches('.') {
            "h" | "hr" | "hrs" | "hour" | "hours" | "man-hour" | "manhour" => Some(Self::Hour),
            "d" | "day" | "days" | "man-day" | "manday" => Some(Self::Day),
            _ => None,
        }
    }
}
