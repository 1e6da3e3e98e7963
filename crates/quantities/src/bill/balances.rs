//! `bill`: every item stands in one row. `money`: the total is the sum of its parts. Both reckoned anew, in
//! fractions, from the sheet and from the rows' quantities and rates.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use super::draw_up::{is_billed, row_places};
use super::{AddedOn, Addition, Bill, BillRow, SideRow};
use crate::decimal::{plain, ratio, rounded};
use crate::estimate::Balance;
use crate::sheet::{Item, Sheet};
use crate::words::Phrase;

/// The balance `bill`, and `money` where the bill is priced.
#[must_use]
pub fn balances(bill: &Bill, sheet: &Sheet) -> Vec<Balance> {
    let mut all = vec![items(bill, sheet)];
    all.extend(bill.total.map(|total| money(bill, total)));
    all
}

/// Left: all billed items of the sheet; right: the items that the rows name. Units are not told apart in the two
/// sums; each row is held against its own items.
fn items(bill: &Bill, sheet: &Sheet) -> Balance {
    let billed = || sheet.items.iter().filter(|i| is_billed(i));
    let by_id: BTreeMap<&str, &Item> = billed().map(|i| (i.id.as_str(), i)).collect();
    let mut named: BTreeMap<&str, usize> = BTreeMap::new();
    let (mut right, mut breaks) = (Ratio::ZERO, Vec::new());
    if by_id.len() != billed().count() {
        breaks.push("two items of the sheet have the same id".to_owned());
    }
    for row in bill.sections.iter().flat_map(|s| &s.rows) {
        let mut sum = Ratio::ZERO;
        for id in &row.items {
            *named.entry(id.as_str()).or_default() += 1;
            match by_id.get(id.as_str()) {
                Some(item) if belongs(item, row) => sum = sum + ratio(item.quantity),
                Some(_) => breaks.push(format!("{}: {id} is another work", row.reference)),
                None => breaks.push(format!("{}: no billed item {id}", row.reference)),
            }
        }
        if rounded(sum, row_places(row.unit)) != Some(row.quantity) {
            breaks.push(format!("{}: items {}, row {}", row.reference, plain(sum), row.quantity));
        }
        right = right + sum;
    }
    for id in by_id.keys() {
        match named.get(id) {
            Some(1) => {}
            None => breaks.push(format!("{id} stands in no row")),
            Some(n) => breaks.push(format!("{id} stands in {n} rows")),
        }
    }
    let left = billed().map(|i| ratio(i.quantity)).sum();
    Balance { name: "bill", says: Phrase::new("balance-bill"), left, right, unit: "", breaks }
}

fn belongs(item: &Item, row: &BillRow) -> bool {
    item.work == row.work && item.spec == row.spec && item.unit == row.unit
}

/// Left: the grand total; right: rows + preliminaries + provisional items + additions.
fn money(bill: &Bill, total: Decimal) -> Balance {
    let mut check = Check { digits: bill.currency.digits, breaks: Vec::new() };
    let mut measured = Ratio::ZERO;
    for section in &bill.sections {
        let mut sum = Ratio::ZERO;
        for row in &section.rows {
            let rate = row.rate.as_ref().map_or(Ratio::UNKNOWN, |(rate, _)| ratio(*rate));
            sum = sum + check.rounded(&row.reference, ratio(row.quantity) * rate, row.amount);
            check.labour(row);
            check.built(row);
        }
        check.same(&format!("section {}", section.letter), sum, section.total);
        measured = measured + sum;
    }
    check.same("measured works", measured, bill.measured);
    check.client_buys(bill);
    let mut running = measured;
    for row in bill.preliminaries.iter().chain(&bill.provisional) {
        running = running + check.side(row);
    }
    let say = bill.say.and(bill.additions.len().checked_sub(1));
    for (i, addition) in bill.additions.iter().enumerate() {
        running = running
            + match bill.say.filter(|_| say == Some(i)) {
                Some(step) => check.offer(addition, running, ratio(step)),
                None => check.addition(bill, addition, i, measured, running),
            };
    }
    if bill.say.is_some() && say.is_none() {
        check.breaks.push("the offer is to be rounded, and no line does it".to_owned());
    }
    Balance {
        name: "money",
        says: Phrase::new("balance-money"),
        left: ratio(total),
        right: running,
        unit: "",
        breaks: check.breaks,
    }
}

struct Check {
    digits: u32,
    breaks: Vec<String>,
}

impl Check {
    /// What a figure must be, told where it is not.
    fn same(&mut self, what: &str, must: Ratio, is: Option<Decimal>) {
        if !must.is_known() || is.map(ratio) != Some(must) {
            let is = is.map_or_else(|| "nothing".to_owned(), |d| d.to_string());
            self.breaks.push(format!("{what}: {is}, reckoned {}", plain(must)));
        }
    }

    /// An amount rounded to the currency.
    fn rounded(&mut self, what: &str, exact: Ratio, is: Option<Decimal>) -> Ratio {
        let must = rounded(exact, self.digits).map_or(Ratio::UNKNOWN, ratio);
        self.same(what, must, is);
        must
    }

    fn side(&mut self, row: &SideRow) -> Ratio {
        match &row.worked {
            Some((_, quantity, rate)) => {
                self.rounded(&row.title, ratio(*quantity) * ratio(*rate), Some(row.amount))
            }
            None => ratio(row.amount),
        }
    }

    /// Full rate less materials is the rate, and the materials are what their parts cost.
    fn labour(&mut self, row: &BillRow) {
        let Some(labour) = &row.labour else { return };
        let (reference, full) = (&row.reference, ratio(labour.full_rate));
        let cost: Ratio = labour.parts.iter().map(|p| p.quantity * p.rate).sum();
        self.rounded(&format!("{reference}, materials"), cost, Some(labour.worth));
        let rate = row.rate.as_ref().map(|(rate, _)| *rate);
        self.same(&format!("{reference}, labour"), full - ratio(labour.materials), rate);
        if row.build_up.is_none() && !labour.parts.is_empty() && !row.quantity.is_zero() {
            self.rounded(&format!("{reference}, labour"), full - cost / ratio(row.quantity), rate);
        }
    }

    /// A built rate is what its lines make.
    fn built(&mut self, row: &BillRow) {
        let Some(worked) = &row.build_up else { return };
        let reference = &row.reference;
        self.breaks.extend(worked.breaks().into_iter().map(|b| format!("{reference}, built up: {b}")));
        self.same(&format!("{reference}, built up"), ratio(worked.rate), row.rate.as_ref().map(|(r, _)| *r));
    }

    /// What the client buys is the materials of the rows, those of no row, and the rest.
    fn client_buys(&mut self, bill: &Bill) {
        let Some(buys) = &bill.client_buys else { return };
        let rows = bill.sections.iter().flat_map(|s| &s.rows);
        let worth = rows.map(|r| r.labour.as_ref().map_or(Ratio::UNKNOWN, |l| ratio(l.worth))).sum();
        self.same("materials in the rates", worth, Some(buys.in_rates));
        if let Some(rest) = buys.rest {
            let besides = buys.besides.iter().map(|(_, cost)| cost.map_or(Ratio::UNKNOWN, ratio));
            self.same("all orders", worth + besides.sum() + ratio(rest), buys.orders);
        }
    }

    fn addition(
        &mut self,
        bill: &Bill,
        addition: &Addition,
        i: usize,
        measured: Ratio,
        running: Ratio,
    ) -> Ratio {
        let base = match &addition.on {
            AddedOn::Amount => return ratio(addition.amount),
            AddedOn::Running => running,
            AddedOn::Measured => measured,
            AddedOn::Titles(at) => {
                let earlier = |j: &usize| {
                    bill.additions.get(*j).filter(|_| *j < i).map_or(Ratio::UNKNOWN, |a| ratio(a.amount))
                };
                measured + at.iter().map(earlier).sum()
            }
        };
        self.same(&format!("{}, taken on", addition.title), base, Some(addition.base));
        let percent = addition.percent.map_or(Ratio::UNKNOWN, ratio);
        self.rounded(&addition.title, base * percent / Ratio::int(100), Some(addition.amount))
    }

    /// The last line brings the total up to the next multiple of the step, and no further.
    fn offer(&mut self, addition: &Addition, running: Ratio, step: Ratio) -> Ratio {
        let over = running / step - (running / step).floor();
        let must = if over.is_zero() { Ratio::ZERO } else { (Ratio::ONE - over) * step };
        self.same(&addition.title, must, Some(addition.amount));
        must
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bill::draw_up;
    use crate::bill::fixture::{d, full, job, ratio as r, sheet, stock};
    use crate::pricing::price;
    use crate::works::Unit;

    /// A change to a thing, and what is told of it.
    type Change<'a, T> = (&'a dyn Fn(&mut T), &'a str);

    fn priced() -> Bill {
        let job = job(&[
            ("preliminaries[0].title", "Setting out"),
            ("preliminaries[0].amount", "450000"),
            ("provisional[0].title", "Rock"),
            ("provisional[0].unit", "m3"),
            ("provisional[0].quantity", "1.5"),
            ("provisional[0].rate", "85001"),
            ("additions.say", "1000"),
            ("additions.list[0].title", "Contingency"),
            ("additions.list[0].percent", "5"),
            ("additions.list[1].title", "Transport"),
            ("additions.list[1].amount", "120000"),
            ("additions.list[2].title", "Tax"),
            ("additions.list[2].percent", "18"),
            ("additions.list[2].on", "measured|Contingency"),
        ]);
        let mut bill = draw_up(&sheet(), &job, &stock());
        let _ = price(&mut bill, &job, &stock(), &full(), "2026-11-25", None);
        bill
    }

    fn breaks(bill: &Bill, sheet: &Sheet) -> Vec<String> {
        balances(bill, sheet)
            .into_iter()
            .filter(|b| !b.holds())
            .map(|b| format!("{} {:?}", b.name, b.breaks))
            .collect()
    }

    #[test]
    fn both_close() {
        let all = balances(&priced(), &sheet());
        let names: Vec<_> = all.iter().map(|b| (b.name, b.holds())).collect();
        assert_eq!(names, [("bill", true), ("money", true)]);
        // 13.71 + 3.2 + 1.52 + 3.125 + 2.0004 + 1 + 2
        assert_eq!(all.first().map(|b| b.left), Some(r("26.5554")));
        assert_eq!(balances(&draw_up(&sheet(), &job(&[]), &stock()), &sheet()).len(), 1);
    }

    #[test]
    fn a_row_or_item_gone_astray_is_found() {
        let rows = |bill: &mut Bill, change: &dyn Fn(&mut Vec<BillRow>)| {
            if let Some(s) = bill.sections.first_mut() {
                change(&mut s.rows);
            }
        };
        let base = draw_up(&sheet(), &job(&[]), &stock());
        let changes: [Change<'_, Vec<BillRow>>; 6] = [
            (&|rows| rows.truncate(1), "stands in no row"),
            (&|rows| rows.extend(rows.clone()), "stands in 2 rows"),
            (&|rows| rows.iter_mut().for_each(|r| r.quantity += d("0.001")), "items 13.71, row 13.711"),
            (
                &|rows| rows.iter_mut().for_each(|r| r.items.push("concrete-base/1:2:4/base".into())),
                "is another work",
            ),
            (&|rows| rows.iter_mut().for_each(|r| r.spec.push('x')), "is another work"),
            (&|rows| rows.iter_mut().for_each(|r| r.unit = Unit::Nr), "is another work"),
        ];
        for (change, want) in changes {
            let mut bill = base.clone();
            rows(&mut bill, change);
            let told = breaks(&bill, &sheet()).join("; ");
            assert!(told.starts_with("bill") && told.contains(want), "{want}: {told}");
        }
        let mut more = sheet();
        more.items.iter_mut().for_each(|i| i.quantity = d("1"));
        assert!(!breaks(&base, &more).is_empty());
    }

    #[test]
    fn every_figure_that_is_off_by_one_is_found() {
        let one = Decimal::ONE;
        let changes: [Change<'_, Bill>; 10] = [
            (&|b| b.total = b.total.map(|t| t + one), "money []"),
            (&|b| b.measured = b.measured.map(|t| t + one), "measured works"),
            (&|b| b.sections.iter_mut().for_each(|s| s.total = s.total.map(|t| t + one)), "section A"),
            (
                &|b| {
                    b.sections
                        .iter_mut()
                        .flat_map(|s| &mut s.rows)
                        .for_each(|r| r.amount = r.amount.map(|a| a - one))
                },
                "A1",
            ),
            (&|b| b.sections.iter_mut().flat_map(|s| &mut s.rows).for_each(|r| r.rate = None), "A1"),
            (&|b| b.provisional.iter_mut().for_each(|r| r.amount += one), "Rock"),
            (&|b| b.preliminaries.iter_mut().for_each(|r| r.amount += one), "Contingency, taken on"),
            (&|b| b.additions.iter_mut().for_each(|a| a.amount += one), "Contingency"),
            (&|b| b.additions.iter_mut().for_each(|a| a.base += one), "Tax, taken on"),
            (&|b| b.say = Some(d("1000000")), "Rounding"),
        ];
        for (change, want) in changes {
            let mut bill = priced();
            change(&mut bill);
            let told = breaks(&bill, &sheet()).join("; ");
            assert!(told.starts_with("money") && told.contains(want), "{want}: {told}");
        }
    }
}
