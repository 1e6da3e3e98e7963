//! The bill of the hand-made estimate: every row priced, sides, every kind of addition. Invented.

use rust_decimal::Decimal;
use tankwright_quantities::bill::{AddedOn, Addition, Bill, BillRow, BillSection, RateFrom, SideRow};
use tankwright_quantities::decimal;
use tankwright_quantities::money::Currency;
use tankwright_quantities::sheet::Sheet;
use tankwright_quantities::works::Unit;

/// The bill of the sheet.
pub(crate) fn bill(sheet: &Sheet) -> Bill {
    let round = |d: Decimal| decimal::round(d, 2);
    let mut sections: Vec<BillSection> = Vec::new();
    for (i, item) in sheet.items.iter().enumerate().filter(|(_, i)| !i.unbilled) {
        let new = sections.last().is_none_or(|s| s.section != item.work.section);
        if new {
            let letter = char::from(b'A' + u8::try_from(sections.len()).unwrap_or(0));
            sections.push(BillSection { section: item.work.section, letter, rows: Vec::new(), total: None });
        }
        let Some(section) = sections.last_mut() else { continue };
        let rate = Decimal::new(1_234_567 + i64::try_from(i).unwrap_or(0), 2);
        let quantity = decimal::round(item.quantity, if item.unit == Unit::Nr { 0 } else { 3 });
        let from = RateFrom {
            code: item.work.id.into(),
            list: "prices.csv".into(),
            line: 10 + i,
            date: "2026-10-01".into(),
            source: "=invented, demo".into(),
            less_specific: i == 2,
        };
        section.rows.push(BillRow {
            reference: format!("{}{}", section.letter, section.rows.len() + 1),
            work: item.work,
            spec: item.spec.clone(),
            wording: item.wording.clone(),
            unit: item.unit,
            quantity,
            items: vec![item.id.clone()],
            rate: Some((rate, from)),
            amount: Some(round(quantity * rate)),
            labour: None,
            outline: None,
            build_up: None,
        });
    }
    for section in &mut sections {
        section.total = section.rows.iter().map(|r| r.amount).sum();
    }
    let measured: Decimal = sections.iter().filter_map(|s| s.total).sum();
    let side = |title: &str, worked: Option<(i64, i64)>, amount: i64| {
        let worked = worked.map(|(q, r)| ("m3".to_owned(), Decimal::new(q, 1), Decimal::from(r)));
        let amount = worked.as_ref().map_or(Decimal::from(amount), |(_, q, r)| round(q * r));
        SideRow { title: title.into(), worked, amount }
    };
    let preliminaries = vec![side("+Setting out", None, 4500), side("Watchman", Some((125, 333)), 0)];
    let provisional = vec![side("Rock, extra over", Some((10, 850)), 0)];
    let sides: Decimal = preliminaries.iter().chain(&provisional).map(|s| s.amount).sum();
    let mut running = measured + sides;
    let mut additions: Vec<Addition> = Vec::new();
    let chain = [
        ("Contingency", Some(5), AddedOn::Running),
        ("Overhead", Some(15), AddedOn::Measured),
        ("Transport", None, AddedOn::Amount),
        ("Tax", Some(18), AddedOn::Titles(vec![0, 1])),
        ("Say", None, AddedOn::Amount),
    ];
    let step = Decimal::from(1000);
    for (title, percent, on) in chain {
        let base = match &on {
            AddedOn::Measured => measured,
            AddedOn::Titles(of) => {
                measured + of.iter().filter_map(|i| additions.get(*i)).map(|a| a.amount).sum::<Decimal>()
            }
            AddedOn::Running | AddedOn::Amount => running,
        };
        let percent = percent.map(Decimal::from);
        let amount = match percent {
            Some(p) => round(base * p / Decimal::ONE_HUNDRED),
            None if title == "Say" => (running / step).ceil() * step - running,
            None => Decimal::new(12_345, 2),
        };
        running += amount;
        additions.push(Addition { title: title.into(), percent, base, on, amount });
    }
    Bill {
        currency: Currency {
            code: "KES".into(),
            digits: 2,
            unit: "shillings".into(),
            minor: "cents".into(),
            ..Currency::default()
        },
        sections,
        measured: Some(measured),
        preliminaries,
        not_priced: vec!["Permits".into()],
        provisional,
        additions,
        say: Some(step),
        total: Some(running),
        total_in_words: "so many shillings".into(),
        price_list: Some(("prices.csv".into(), "2026-10-01".into(), "2026-10-01".into())),
        client_buys: None,
    }
}
