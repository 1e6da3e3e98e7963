//! Pseudo-random bills: the total is the sum of its parts, and the balances close.

use rust_decimal::Decimal;

use super::*;
use crate::bill::fixture::{Dice, item, job, prices, stock};
use crate::bill::{balances, draw_up};
use crate::decimal;
use crate::sheet::Sheet;
use crate::stage::Stage;
use crate::works::Unit;

#[test]
fn the_total_of_random_bills_is_the_sum_of_their_parts() {
    let mut dice = Dice(20_261_125);
    let (works, stock) = (crate::works::all(), stock());
    for round in 0..300 {
        let currency = if dice.roll(2) == 0 { "UGX" } else { "KES" };
        let digits = if currency == "UGX" { 0 } else { 2 };
        let money = |n: u64| Decimal::new(i64::try_from(n).unwrap_or(0), digits).to_string();
        let (mut items, mut rows) = (Vec::new(), Vec::new());
        for work in works.iter().filter(|w| !w.void) {
            let n = dice.roll(4);
            for stage in Stage::ALL.into_iter().take(usize::try_from(n).unwrap_or(0)) {
                let places = if work.unit == Unit::Nr || work.unit == Unit::Item { 0 } else { 12 };
                let mantissa =
                    i64::try_from(dice.roll(1 << 30)).unwrap_or(0) * if places == 0 { 1 } else { 9_973 };
                let mut made = item(work, "", stage, "0");
                made.quantity = Decimal::new(mantissa, places);
                items.push(made);
            }
            rows.push((
                work.id,
                work.unit.id(),
                Decimal::new(i64::try_from(dice.roll(9_000_000)).unwrap_or(0), 3).to_string(),
            ));
        }
        let rows: Vec<(&str, &str, &str)> = rows.iter().map(|(a, b, c)| (*a, *b, c.as_str())).collect();
        let mut list = prices(&rows);
        list.currency = currency.into();
        let figures = [money(dice.roll(90_000_000)), money(dice.roll(900_000)), money(1 + dice.roll(5_000))];
        let [amount, fixed, say] = &figures;
        let (percent, quantity) = (
            Decimal::new(1 + i64::from(round), 1).to_string(),
            Decimal::new(i64::from(round), 2).to_string(),
        );
        let more = [
            ("job.currency", currency),
            ("preliminaries[0].title", "Tools"),
            ("preliminaries[0].amount", amount),
            ("provisional[0].title", "Rock"),
            ("provisional[0].unit", "m3"),
            ("provisional[0].quantity", &quantity),
            ("provisional[0].rate", "85000.37"),
            ("additions.list[0].title", "a"),
            ("additions.list[0].percent", &percent),
            ("additions.list[1].title", "b"),
            ("additions.list[1].amount", fixed),
            ("additions.list[2].title", "c"),
            ("additions.list[2].percent", "16"),
            ("additions.list[2].on", "measured|b"),
            ("additions.say", say),
        ];
        let sheet = Sheet { items, voids: Vec::new() };
        let job = job(&more);
        let mut bill = draw_up(&sheet, &job, &stock);
        let told = price(&mut bill, &job, &stock, &list, "2026-11-25", None);
        assert!(told.iter().all(|p| p.severity == Severity::Caution), "{round}: {told:?}");
        let rows = bill.sections.iter().flat_map(|s| &s.rows).filter_map(|r| r.amount);
        let sides = bill.preliminaries.iter().chain(&bill.provisional).map(|r| r.amount);
        let parts: Decimal = rows.chain(sides).chain(bill.additions.iter().map(|a| a.amount)).sum();
        assert_eq!(bill.total, Some(parts), "{round}");
        assert_eq!(Some(decimal::round(parts, digits)), bill.total, "{round}");
        assert!(balances(&bill, &sheet).iter().all(crate::estimate::Balance::holds), "{round}");
    }
}
