//! Two price lists side by side, and a job priced under both.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use crate::bill::{Bill, BillRow, code};
use crate::decimal::{ratio, rounded};
use crate::rates::{PriceKind, PriceList, PriceRow};

/// One code and unit in two lists.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pair {
    /// Kind.
    pub kind: PriceKind,
    /// Code.
    pub code: String,
    /// Unit.
    pub unit: String,
    /// Words of the first list that has it.
    pub description: String,
    /// Rate in the first list.
    pub a: Option<Decimal>,
    /// Rate in the second.
    pub b: Option<Decimal>,
    /// Second less first.
    pub difference: Option<Decimal>,
    /// The difference in per cent of the first, to one place.
    pub percent: Option<Decimal>,
}

/// Every code and unit that either list has, by kind, code and unit.
#[must_use]
pub fn compare(a: &PriceList, b: &PriceList) -> Vec<Pair> {
    let mut rows: BTreeMap<(PriceKind, &str, &str), [Option<&PriceRow>; 2]> = BTreeMap::new();
    for (i, list) in [a, b].into_iter().enumerate() {
        for row in &list.rows {
            let pair = rows.entry((row.kind, &row.code, &row.unit)).or_default();
            pair.get_mut(i).into_iter().for_each(|slot| *slot = Some(row));
        }
    }
    let pair = |((kind, code, unit), [x, y]): ((PriceKind, &str, &str), [Option<&PriceRow>; 2])| {
        let (a, b) = (x.and_then(|r| r.rate), y.and_then(|r| r.rate));
        let difference = b.zip(a).and_then(|(b, a)| b.checked_sub(a));
        Pair {
            kind,
            code: code.to_owned(),
            unit: unit.to_owned(),
            description: x.or(y).map(|r| r.description.clone()).unwrap_or_default(),
            a,
            b,
            difference,
            percent: percent(a, difference),
        }
    };
    rows.into_iter().map(pair).collect()
}

fn percent(of: Option<Decimal>, difference: Option<Decimal>) -> Option<Decimal> {
    let of = of.filter(|a| !a.is_zero())?;
    rounded(ratio(difference?) * Ratio::int(100) / ratio(of), 1)
}

/// A row of a bill under two lists.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BillPair {
    /// `B3`; empty for what follows the measured works.
    pub reference: String,
    /// Code.
    pub code: String,
    /// Unit.
    pub unit: String,
    /// Quantity.
    pub quantity: Decimal,
    /// Rates.
    pub rates: [Decimal; 2],
    /// Amounts.
    pub amounts: [Decimal; 2],
    /// Second amount less first.
    pub difference: Decimal,
}

/// A job under two lists.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Repriced {
    /// Rows whose amounts differ, the largest difference first.
    pub rows: Vec<BillPair>,
    /// Rows whose amounts are the same.
    pub same: usize,
    /// Measured works.
    pub measured: [Decimal; 2],
    /// What follows them: preliminaries, provisional items, additions.
    pub besides: [Decimal; 2],
    /// Totals.
    pub totals: [Decimal; 2],
}

/// The bills of one job under two lists; nothing where one is not priced.
#[must_use]
pub fn reprice(a: &Bill, b: &Bill) -> Option<Repriced> {
    let rows = |bill: &Bill| -> Vec<BillRow> { bill.sections.iter().flat_map(|s| s.rows.clone()).collect() };
    let mut pairs = Vec::new();
    for (x, y) in rows(a).iter().zip(rows(b).iter()) {
        let (rates, amounts) = ([x.rate.as_ref()?.0, y.rate.as_ref()?.0], [x.amount?, y.amount?]);
        pairs.push(BillPair {
            reference: x.reference.clone(),
            code: code(x),
            unit: x.unit.id().to_owned(),
            quantity: x.quantity,
            rates,
            amounts,
            difference: amounts[1].checked_sub(amounts[0])?,
        });
    }
    let all = pairs.len();
    pairs.retain(|p| !p.difference.is_zero());
    let same = all - pairs.len();
    // Stable: rows of one size stay in bill order.
    pairs.sort_by_key(|p| std::cmp::Reverse(p.difference.abs()));
    let (measured, totals) = ([a.measured?, b.measured?], [a.total?, b.total?]);
    let besides = [totals[0].checked_sub(measured[0])?, totals[1].checked_sub(measured[1])?];
    Some(Repriced { rows: pairs, same, measured, besides, totals })
}

/// A list in our own form, as CSV.
#[must_use]
pub fn own_form(list: &PriceList) -> String {
    let mut text = "kind,code,description,unit,rate,currency,date,source\n".to_owned();
    for row in &list.rows {
        let rate = row.rate.map(|r| r.to_string()).unwrap_or_default();
        let cells = [
            row.kind.id(),
            &row.code,
            &row.description,
            &row.unit,
            &rate,
            &list.currency,
            &row.date,
            &row.source,
        ];
        text.push_str(&cells.map(crate::bill::cell).join(","));
        text.push('\n');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bill::fixture::d;
    use crate::rates::{builtin_prices, read_prices};

    #[test]
    fn two_lists_by_code_and_unit() -> Result<(), String> {
        let list = |rows: &str| {
            let text = format!("kind,code,description,unit,rate,currency,date,source\n{rows}");
            read_prices("p.csv", &text).map_err(|p| format!("{p:?}"))
        };
        let a = list(
            "work,x,,m2,80,UGX,2026-10-01,s\nwork,y,,m,3,UGX,2026-10-01,s\nwork,z,,m,0,UGX,2026-10-01,s\n",
        )?;
        let b = list(
            "work,x,,m2,90,UGX,2026-10-01,s\nwork,y,,m2,3,UGX,2026-10-01,s\nwork,z,,m,1,UGX,2026-10-01,s\n",
        )?;
        let pairs = compare(&a, &b);
        let seen: Vec<_> =
            pairs.iter().map(|p| (p.code.as_str(), p.a, p.b, p.difference, p.percent)).collect();
        let some = |t: &str| Some(d(t));
        assert_eq!(
            seen,
            [
                ("x", some("80"), some("90"), some("10"), some("12.5")), // 10 / 80
                ("y", some("3"), None, None, None),
                ("y", None, some("3"), None, None),
                ("z", some("0"), some("1"), some("1"), None),
            ]
        );
        Ok(())
    }

    #[test]
    fn our_own_form_reads_back_the_same() -> Result<(), String> {
        for name in ["demo-ugx", "demo-kes", "demo-inr"] {
            let (path, text) = builtin_prices(name).ok_or("no list")?;
            let list = read_prices(&path, text).map_err(|p| format!("{p:?}"))?;
            let again = read_prices(&path, &own_form(&list)).map_err(|p| format!("{p:?}"))?;
            let plain = |l: &PriceList| -> Vec<PriceRow> {
                l.rows.iter().cloned().map(|r| PriceRow { span: 0..0, ..r }).collect()
            };
            assert_eq!(plain(&list), plain(&again));
        }
        Ok(())
    }
}
