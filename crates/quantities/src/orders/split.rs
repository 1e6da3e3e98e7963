//! Contracts where the client buys: each row of the bill parted into its materials and the labour.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use super::Orders;
use crate::bill::{Bill, BillRow};
use crate::decimal::{ratio, rounded};
use crate::materials::{Materials, Use};
use crate::words::Phrase;

/// A row of the bill, parted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SplitRow {
    /// `A1`, as in the bill.
    pub reference: String,
    /// What its materials cost at the list's prices, waste included, rounded to the currency; none where a rate is
    /// missing.
    pub materials: Option<Decimal>,
    /// Amount less materials: labour, plant and what else is in the rate; none where either is not known, or where
    /// the materials alone cost more than the row.
    pub labour: Option<Decimal>,
    /// Why a figure is missing, in words.
    pub remarks: Vec<Phrase>,
}

/// The bill, parted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Split {
    /// One for each row of the bill, in its order.
    pub rows: Vec<SplitRow>,
    /// Materials of no row: over-break, test water, binding wire, works in the rate of another; none where a rate is
    /// missing.
    pub besides: Option<Decimal>,
    /// Sum of the rows' materials, without `besides`; none where one is missing.
    pub materials: Option<Decimal>,
    /// Sum of the rows' labour.
    pub labour: Option<Decimal>,
}

/// Parts a priced bill: materials are the gross quantities of the uses of a row's items at the rates of the orders.
#[must_use]
pub fn split(bill: &Bill, materials: &Materials, orders: &Orders) -> Split {
    // A pack's rate by what it holds: the same money for a kg whatever is bought.
    let rates: BTreeMap<&str, Ratio> = orders
        .totals
        .iter()
        .filter_map(|t| Some((t.material.as_str(), ratio(t.rate?) / ratio(t.pack.size))))
        .collect();
    let digits = bill.currency.digits;
    let mut in_rows = vec![false; materials.uses.len()];
    let rows = || bill.sections.iter().flat_map(|s| &s.rows);
    let mut parted = Vec::new();
    for row in rows() {
        let (mut uses, mut remarks) = (Vec::new(), Vec::new());
        for (i, used) in materials.uses.iter().enumerate().filter(|(_, u)| row.items.contains(&u.item)) {
            uses.push(used);
            if let Some(seen) = in_rows.get_mut(i) {
                *seen = true;
            }
        }
        let cost = cost(&uses, &rates, &mut remarks).and_then(|c| rounded(c, digits));
        let labour = labour(row, cost, &mut remarks);
        parted.push(SplitRow { reference: row.reference.clone(), materials: cost, labour, remarks });
    }
    let rest: Vec<&Use> =
        materials.uses.iter().zip(&in_rows).filter(|(_, seen)| !**seen).map(|(u, _)| u).collect();
    let sum = |of: fn(&SplitRow) -> Option<Decimal>| {
        parted.iter().try_fold(Decimal::ZERO, |sum, row| sum.checked_add(of(row)?))
    };
    Split {
        besides: cost(&rest, &rates, &mut Vec::new()).and_then(|c| rounded(c, digits)),
        materials: sum(|r| r.materials),
        labour: sum(|r| r.labour),
        rows: parted,
    }
}

/// Gross quantities times rates, not rounded; materials without a rate are told, each once.
fn cost(uses: &[&Use], rates: &BTreeMap<&str, Ratio>, remarks: &mut Vec<Phrase>) -> Option<Ratio> {
    let (mut sum, mut whole) = (Ratio::ZERO, true);
    let hundred = Ratio::int(100);
    for used in uses {
        let Some(rate) = rates.get(used.material.as_str()) else {
            let remark = Phrase::with("split-no-rate", &[&used.material]);
            if !remarks.contains(&remark) {
                remarks.push(remark);
            }
            whole = false;
            continue;
        };
        sum = sum + used.amount * (hundred + used.waste_percent) / hundred * *rate;
    }
    (whole && sum.is_known()).then_some(sum)
}

fn labour(row: &BillRow, materials: Option<Decimal>, remarks: &mut Vec<Phrase>) -> Option<Decimal> {
    let labour = row.amount?.checked_sub(materials?)?;
    if labour < Decimal::ZERO {
        let (amount, cost) = (row.amount?.to_string(), materials?.to_string());
        remarks.push(Phrase::with("split-negative", &[&row.reference, &cost, &amount]));
        return None;
    }
    Some(labour)
}
