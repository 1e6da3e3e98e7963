//! What is to be said of price lists: what a job misses in them, what is old, what is far from the others.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use crate::bill::code;
use crate::build_up::{Lacking, Outline, Why, lacking};
use crate::decimal::{product, ratio, shown};
use crate::estimate::Estimate;
use crate::orders::cost::{self, NoRate};
use crate::rates::entry::is_date;
use crate::rates::{Lookup, PriceKind, PriceList, PriceRow};

/// What was found, in the order in which it is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fault {
    /// The job needs it and the list has it not.
    Missing,
    /// The list has it without a rate.
    Empty,
    /// The list has it for another unit or pack.
    Unit,
    /// The list has no row for the work, and all that builds its rate up.
    Built,
    /// Its day is too long ago.
    Old,
    /// Another list has a rate far from it.
    Far,
}

impl Fault {
    /// As printed and in JSON.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Missing => "missing",
            Self::Empty => "empty",
            Self::Unit => "unit",
            Self::Built => "built",
            Self::Old => "old",
            Self::Far => "far",
        }
    }
}

/// One finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// What.
    pub fault: Fault,
    /// List.
    pub list: String,
    /// Line of the list, where it has one.
    pub line: Option<usize>,
    /// Code.
    pub code: String,
    /// Unit.
    pub unit: String,
    /// Rate.
    pub rate: Option<Decimal>,
    /// In words.
    pub says: String,
}

fn of_row(fault: Fault, list: &PriceList, row: &PriceRow, says: String) -> Finding {
    Finding {
        fault,
        list: list.name.clone(),
        line: Some(row.line),
        code: row.code.clone(),
        unit: row.unit.clone(),
        rate: row.rate,
        says,
    }
}

/// What a job's bill and orders miss in a list. Materials are looked for where the list prices any.
#[must_use]
pub fn missing(e: &Estimate, list: &PriceList) -> Vec<Finding> {
    let mut told: BTreeMap<(String, String), Finding> = BTreeMap::new();
    for row in e.bill.sections.iter().flat_map(|s| &s.rows) {
        let (code, unit) = (code(row), row.unit.id());
        let needs = format!("{} needs {unit}", row.reference);
        let finding = match list.find(row.work.id, &row.spec, unit) {
            Lookup::Found { .. } => continue,
            Lookup::Empty { row } => of_row(Fault::Empty, list, row, needs),
            Lookup::WrongUnit { row } => of_row(Fault::Unit, list, row, needs),
            Lookup::Missing => match row.outline.as_deref().filter(|o| list.builds_up() && !o.mixed) {
                Some(outline) => {
                    for (key, finding) in to_build(outline, list, &e.date, &row.reference) {
                        told.entry(key).or_insert(finding);
                    }
                    continue;
                }
                None => none(list, &code, unit, needs),
            },
        };
        told.entry((code, unit.to_owned())).or_insert(finding);
    }
    if list.rows.iter().any(|r| r.kind == PriceKind::Material) {
        for total in &e.orders.totals {
            let Some(material) = e.materials.materials.iter().find(|m| m.id == total.material) else {
                continue;
            };
            let bought = format!("bought as {}", total.pack.title);
            let finding = match cost::rate(list, material, &total.pack) {
                Ok(_) | Err(NoRate::TooLarge) => continue,
                Err(NoRate::Missing) => none(list, &material.id, &material.unit, bought),
                Err(NoRate::Unit(row)) => of_row(Fault::Unit, list, row, bought),
                Err(NoRate::Size(row, other)) => {
                    of_row(Fault::Unit, list, row, format!("{bought}, this is for {other}"))
                }
                Err(NoRate::Empty(row)) => of_row(Fault::Empty, list, row, bought),
            };
            told.entry((material.id.clone(), material.unit.clone())).or_insert(finding);
        }
    }
    told.into_values().collect()
}

/// What a work that the list does not price lacks to be built up, by code and unit.
fn to_build(
    outline: &Outline,
    list: &PriceList,
    date: &str,
    reference: &str,
) -> Vec<((String, String), Finding)> {
    let lacking = lacking(outline, list, date);
    if lacking.is_empty() {
        let says = format!("{reference} is built up by {}", outline.file);
        let built = Finding { fault: Fault::Built, ..none(list, &outline.code, &outline.unit, says) };
        return vec![((format!("{reference}, built"), outline.unit.clone()), built)];
    }
    let one = |l: Lacking| {
        let needs = format!("{} to build up {reference}", l.kind.id());
        let at = |line: usize| list.rows.iter().find(|r| r.line == line);
        let finding = match l.why {
            Why::Missing => none(list, &l.code, &l.unit, needs),
            Why::Unit(line, _) => of_row(Fault::Unit, list, at(line)?, needs),
            Why::Empty(line) => of_row(Fault::Empty, list, at(line)?, needs),
        };
        Some(((l.code, l.unit), finding))
    };
    lacking.into_iter().filter_map(one).collect()
}

fn none(list: &PriceList, code: &str, unit: &str, says: String) -> Finding {
    Finding {
        fault: Fault::Missing,
        list: list.name.clone(),
        line: None,
        code: code.to_owned(),
        unit: unit.to_owned(),
        rate: None,
        says,
    }
}

/// Rows with a rate whose day is more than so many months before a date.
#[must_use]
pub fn old(list: &PriceList, date: &str, months: u32) -> Vec<Finding> {
    let Some(limit) = before(date, months) else { return Vec::new() };
    let is_old = |r: &&PriceRow| r.rate.is_some() && is_date(&r.date) && r.date < limit;
    let says = |r: &PriceRow| format!("of {}, before {limit}", r.date);
    list.rows.iter().filter(is_old).map(|r| of_row(Fault::Old, list, r, says(r))).collect()
}

/// The day so many months before, as text that sorts.
fn before(date: &str, months: u32) -> Option<String> {
    if !is_date(date) {
        return None;
    }
    let number = |t: Option<&str>| t?.parse::<u32>().ok();
    let (y, m) = (number(date.get(..4))?, number(date.get(5..7))?);
    let at = (y * 12 + m - 1).checked_sub(months)?;
    Some(format!("{:04}-{:02}{}", at / 12, at % 12 + 1, date.get(7..)?))
}

/// Rows that another list of the same currency prices so many times higher or lower: each pair once.
#[must_use]
pub fn far(lists: &[&PriceList], limit: Decimal) -> Vec<Finding> {
    let mut told = Vec::new();
    for (i, a) in lists.iter().enumerate() {
        for b in lists.iter().skip(i + 1).filter(|b| b.currency == a.currency) {
            for row in &a.rows {
                let same = |r: &&PriceRow| (r.kind, &r.code, &r.unit) == (row.kind, &row.code, &row.unit);
                let Some(other) = b.rows.iter().find(same) else { continue };
                let (Some(here), Some(there)) = (row.rate, other.rate) else { continue };
                let over = |x: Decimal, y: Decimal| product(y, limit).is_some_and(|most| x > most);
                if over(here, there) || over(there, here) {
                    let times = match ratio(here) / ratio(there) {
                        _ if there.is_zero() => String::new(),
                        times => crate::decimal::rounded(times, 2)
                            .map_or_else(String::new, |t| format!(", {} times", shown(t, 2))),
                    };
                    let says = format!("{there} on line {} of {}{times}", other.line, b.name);
                    told.push(of_row(Fault::Far, a, row, says));
                }
            }
        }
    }
    told
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bill::fixture::d;
    use crate::rates::read_prices;

    fn list(name: &str, rows: &[(&str, &str, &str, &str)]) -> PriceList {
        let mut text = "kind,code,description,unit,rate,currency,date,source\n".to_owned();
        for (code, unit, rate, date) in rows {
            text.push_str(&format!("work,{code},,{unit},{rate},UGX,{date},s\n"));
        }
        read_prices(name, &text).unwrap_or(PriceList {
            name: String::new(),
            currency: String::new(),
            rows: Vec::new(),
            cautions: Vec::new(),
        })
    }

    fn told(findings: &[Finding]) -> Vec<String> {
        findings.iter().map(|f| format!("{} {:?} {}: {}", f.fault.id(), f.line, f.code, f.says)).collect()
    }

    #[test]
    fn months_are_counted_back() {
        let of = |date, months| before(date, months).unwrap_or_default();
        assert_eq!(of("2026-11-25", 3), "2026-08-25");
        assert_eq!(of("2026-01-31", 1), "2025-12-31");
        assert_eq!(of("2026-03-31", 13), "2025-02-31"); // no day, and yet it sorts
        assert_eq!(before("25/11/2026", 3), None);
    }

    #[test]
    fn old_and_far() {
        let a = list("a.csv", &[("x", "m2", "100", "2026-08-24"), ("y", "m", "10", "2026-08-25")]);
        let b = list("b.csv", &[("x", "m2", "201", "2026-10-01"), ("y", "m", "20", "2026-10-01")]);
        assert_eq!(told(&old(&a, "2026-11-25", 3)), ["old Some(2) x: of 2026-08-24, before 2026-08-25"]);
        // 201 is more than 2 x 100; 20 is not more than 2 x 10.
        assert_eq!(told(&far(&[&a, &b], d("2"))), ["far Some(2) x: 201 on line 2 of b.csv, 0.50 times"]);
    }

    /// A list of works alone is no list of materials; where it prices one, it lacks the others.
    #[test]
    fn materials_are_missed_where_a_list_prices_any() {
        let job = "format = 1\n[job]\ntitle = \"t\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\n[tank]\n\
            chambers = [1600]\nwidth = 1200\nheight = 1500\n";
        let (job, _) = crate::job::read("job.toml", job, &crate::flow::job_tables());
        let stock = crate::rates::builtin().0;
        let e = crate::flow::estimate(&job, &stock, None, &crate::flow::Settings::default()).ok();
        let bought = |kind: &str| {
            let row = format!("{kind},cement,,bag,1,UGX,2026-11-25,s\n");
            let text = format!("kind,code,description,unit,rate,currency,date,source\n{row}");
            let list =
                read_prices("p.csv", &text.replace("work,cement,,bag", "work,excavation-pit,,m3")).ok();
            let findings = e.as_ref().zip(list).map(|(e, list)| missing(e, &list)).unwrap_or_default();
            let bought = findings.iter().filter(|f| f.says.starts_with("bought as")).count();
            (bought, findings.iter().any(|f| f.code == "cement"), findings.len() > bought)
        };
        assert_eq!(bought("work"), (0, false, true));
        let (lacks, cement, works) = bought("material");
        assert!(lacks >= 3 && !cement && works, "{lacks}");
    }
}
