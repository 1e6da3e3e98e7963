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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bill::draw_up;
    use crate::bill::fixture::{d, full, job, ratio as r, sheet, stock};
    use crate::orders::{Pack, Total};
    use crate::pricing::price;
    use crate::source::Source;
    use crate::stage::Stage;

    fn used(material: &str, item: &str, amount: &str, waste: &str) -> Use {
        Use {
            material: material.to_owned(),
            stage: Stage::Base,
            item: item.to_owned(),
            base: Ratio::ONE,
            over_break: false,
            less: false,
            steps: Vec::new(),
            amount: r(amount),
            waste_percent: r(waste),
            source: Source::default(),
            waste_inside: false,
        }
    }

    fn total(material: &str, size: &str, rate: Option<&str>) -> Total {
        let words = ["bag".to_owned(), "bags".to_owned()];
        let (title, source) = (String::new(), String::new());
        Total {
            material: material.to_owned(),
            pack: Pack { size: d(size), title, words, source, default: true },
            ordered: d("0"),
            used: d("0"),
            packs: 0,
            packs_uncarried: 0,
            rate: rate.map(d),
            cost: None,
        }
    }

    #[test]
    fn a_row_is_its_materials_and_the_rest_is_labour() {
        let job = job(&[]);
        let mut bill = draw_up(&sheet(), &job, &stock());
        let told = price(&mut bill, &job, &stock(), &full(), "2026-11-25");
        assert!(bill.total.is_some(), "{told:?}");
        let uses = vec![
            used("cement", "concrete-base/1:2:4/base", "486.4", "2.5"),
            used("sand", "concrete-base/1:2:4/base", "0.7", "0"),
            used("cement", "brickwork-wall/220/walls-lower", "400", "0"),
            used("bricks", "brickwork-wall/220/walls-lower", "1600", "5"),
            used("tee/110", "pipe-tee/110/walls-upper", "2", "0"),
            used("water", "", "2000", "0"),
        ];
        let materials = Materials { uses, ..Materials::default() };
        let totals = vec![
            total("cement", "50", Some("36000")),
            total("sand", "0.5", Some("20000")),
            total("tee/110", "1", Some("15000")),
            total("water", "100", Some("200")),
        ];
        let split = split(&bill, &materials, &Orders { totals, ..Orders::default() });
        let row = |work: &str| {
            let at = bill.sections.iter().flat_map(|s| &s.rows).position(|r| r.work.id == work);
            at.and_then(|at| split.rows.get(at)).cloned()
        };
        // 486.4 kg with 2.5 % waste at 36000 / 50, 0.7 m3 at 40000; the row is 1.52 m3 at 400000.
        let cost = d("486.4") * d("1.025") * d("720") + d("0.7") * d("40000");
        let cost = crate::decimal::round(cost, 0);
        let base = row("concrete-base");
        assert_eq!(base.as_ref().and_then(|r| r.materials), Some(cost));
        assert_eq!(base.and_then(|r| r.labour), Some(d("1.52") * d("400000") - cost));
        // No rate for bricks: neither figure, and which is missing.
        let wall = row("brickwork-wall");
        assert_eq!(wall.as_ref().map(|r| (r.materials, r.labour)), Some((None, None)));
        assert_eq!(wall.map(|r| r.remarks), Some(vec![Phrase::with("split-no-rate", &["bricks"])]));
        // Tees that cost more than the row: no labour below zero.
        let tee = row("pipe-tee");
        assert_eq!(tee.as_ref().map(|r| (r.materials, r.labour)), Some((Some(d("30000")), None)));
        assert_eq!(tee.map(|r| r.remarks.len()), Some(1));
        // A dig has no materials.
        assert_eq!(row("excavation-pit").and_then(|r| r.materials), Some(d("0")));
        assert_eq!(split.besides, Some(d("2000") * d("2")));
        assert_eq!((split.materials, split.labour), (None, None));
    }
}
