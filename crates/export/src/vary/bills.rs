//! Behind the client's page: bills of omissions and additions, star rates, quantities, settled items, additions, proof.

use tankwright_account::vary::report::{Account, Change, Entry, Settled};

use super::{from, head, measure, money, rate, settled_title, words};
use crate::format::{quantity, say, word};
use crate::text::table::{Col, Page, Table};

pub(super) fn bills(page: &mut Page, a: &Account) {
    bill(page, a, "paper-vary-omissions", |c| &c.omissions);
    bill(page, a, "paper-vary-additions", |c| &c.additions);
    stars(page, a);
    quantities(page, a);
    settled(page, a, "paper-vary-remeasured-head", &a.remeasured);
    settled(page, a, "paper-vary-prime-cost-head", &a.prime_cost);
    settled(page, a, "paper-vary-sums-head", &a.provisional_sums);
    dayworks(page, a);
    on_costs(page, a);
    proof(page, a);
}

/// A bill of entries, change by change, with its total.
fn bill(page: &mut Page, a: &Account, title: &'static str, of: fn(&Change) -> &Vec<Entry>) {
    if a.changes.iter().all(|c| of(c).is_empty()) {
        return;
    }
    page.heading(&head(title));
    let cols = [
        Col::Left(5),
        Col::Left(3),
        Col::Fill(34),
        Col::Left(4),
        Col::Right(9),
        Col::Right(10),
        Col::Right(13),
    ];
    let mut table = Table::new(0, &cols);
    let heads = [
        "paper-ref",
        "paper-vary-row",
        "paper-description",
        "paper-unit",
        "paper-quantity-head",
        "paper-rate",
        "paper-amount",
    ];
    table.row(heads.map(word));
    let mut all = Vec::new();
    for c in a.changes.iter().filter(|c| !of(c).is_empty()) {
        let name = if c.id.is_empty() { word("paper-vary-not-instructed").to_owned() } else { c.says() };
        table.row(["", "", format!("{} {name}", c.id).trim()]);
        for e in of(c) {
            let (quantity, rate) =
                e.worked.map(|(q, r)| (measure(q, &e.unit), rate(a, r))).unwrap_or_default();
            table.row([&e.reference, &e.row, &words(e), &e.unit, &quantity, &rate, &money(a, e.amount)]);
        }
        all.push(of(c).iter().map(|e| e.amount).sum::<rust_decimal::Decimal>());
    }
    let total = say("paper-vary-bill-total", &[word(title)]);
    table.row(["", "", &total, "", "", "", &money(a, all.into_iter().sum())]);
    page.table(&table);
}

fn stars(page: &mut Page, a: &Account) {
    if a.stars.is_empty() {
        return;
    }
    page.heading(&head("paper-vary-stars"));
    for (i, s) in a.stars.iter().enumerate() {
        let says = if s.code.is_empty() { s.says.clone() } else { format!("{} ({})", s.says, s.code) };
        page.line(
            2,
            6,
            &say("paper-vary-star", &[&(i + 1).to_string(), &says, &rate(a, s.rate), &s.unit, &from(s)]),
        );
        if !s.working.is_empty() {
            page.line(6, 8, &s.working);
        }
        let mut table =
            Table::new(6, &[Col::Fill(40), Col::Right(10), Col::Left(6), Col::Right(10), Col::Right(12)]);
        for l in &s.lines {
            let amount = rate(a, l.amount);
            match (&l.worked, l.percent) {
                (Some((unit, q, r)), _) => {
                    table.row([&l.title, &quantity(*q, 0), unit, &rate(a, *r), &amount]);
                }
                (None, p) => {
                    let percent = p.map(|p| quantity(p, 0)).unwrap_or_default();
                    table.row([&l.title, &percent, "%", "", &amount]);
                }
            }
        }
        if let Some(built) = s.built {
            let key = if built == s.rate { "paper-vary-built" } else { "paper-vary-say" };
            table.row([&say(key, &[&rate(a, s.rate)]), "", "", "", &rate(a, built)]);
        }
        page.table(&table);
    }
}

/// What differs, item by item.
fn quantities(page: &mut Page, a: &Account) {
    if a.compared.is_empty() {
        return;
    }
    page.heading(&head("paper-vary-compared"));
    let cols = [Col::Left(3), Col::Fill(40), Col::Left(4), Col::Right(10), Col::Right(10), Col::Right(10)];
    let mut table = Table::new(2, &cols);
    let heads = [
        "paper-vary-row",
        "paper-description",
        "paper-unit",
        "paper-vary-in-contract",
        "paper-vary-as-built",
        "paper-vary-net",
    ];
    table.row(heads.map(word));
    for c in &a.compared {
        let shown = |q: Option<_>| q.map_or_else(|| "-".to_owned(), |q| measure(q, &c.unit));
        let net = c.built.unwrap_or_default() - c.contract.unwrap_or_default();
        let sign = if net > rust_decimal::Decimal::ZERO { "+" } else { "" };
        let net = format!("{sign}{}", measure(net, &c.unit));
        table.row([&c.row, &c.says, &c.unit, &shown(c.contract), &shown(c.built), &net]);
    }
    page.table(&table);
}

fn settled(page: &mut Page, a: &Account, title: &'static str, list: &[Settled]) {
    if list.is_empty() {
        return;
    }
    page.heading(&head(title));
    let mut table = Table::new(2, &[Col::Fill(50), Col::Right(12), Col::Right(12), Col::Right(12)]);
    table.row(["", word("paper-vary-omit"), word("paper-vary-put"), word("paper-vary-net")]);
    for s in list {
        let (add, net) = match s.add {
            Some(add) => (money(a, add), money(a, s.net())),
            None => (word("paper-vary-open").to_owned(), String::new()),
        };
        table.row([settled_title(s), money(a, s.omit), add, net]);
        if let Some((unit, q, m, r)) = &s.worked {
            let figures = [measure(*q, unit), measure(*m, unit), unit.clone(), rate(a, *r)];
            table.across_at(4, &say("paper-vary-measured", &figures.each_ref().map(String::as_str)));
        }
        if let Some((goods, actual)) = s.goods.filter(|_| s.percent.is_some()) {
            let actual = actual.map_or_else(|| word("paper-vary-open").to_owned(), |g| money(a, g));
            table.across_at(4, &say("paper-vary-goods", &[&money(a, goods), &actual]));
        }
        if s.defined == Some(false) {
            table.across_at(4, word("paper-vary-undefined-says"));
        }
    }
    page.table(&table);
}

fn dayworks(page: &mut Page, a: &Account) {
    if a.dayworks.is_empty() {
        return;
    }
    page.heading(&head("paper-vary-dayworks-head"));
    let cols = [
        Col::Left(10),
        Col::Fill(36),
        Col::Right(8),
        Col::Left(4),
        Col::Right(10),
        Col::Right(12),
        Col::Right(12),
    ];
    let mut table = Table::new(0, &cols);
    let heads = [
        "paper-vary-date",
        "paper-description",
        "paper-quantity-head",
        "paper-unit",
        "paper-rate",
        "paper-vary-on-top",
        "paper-amount",
    ];
    table.row(heads.map(word));
    for d in &a.dayworks {
        let on_top = d.percent.map(|p| say("paper-vary-percent", &[&quantity(p, 0)])).unwrap_or_default();
        table.row([
            &d.date,
            &d.title,
            &measure(d.quantity, &d.unit),
            &d.unit,
            &rate(a, d.rate),
            &on_top,
            &money(a, d.amount),
        ]);
        if let Some(from) = &d.from {
            table.across_at(12, &crate::text::rate_source(from));
        }
    }
    page.table(&table);
}

fn on_costs(page: &mut Page, a: &Account) {
    if a.on_costs.is_empty() {
        return;
    }
    page.heading(&head("paper-vary-on-costs"));
    let mut table = Table::new(2, &[Col::Fill(46), Col::Right(14), Col::Right(14), Col::Right(12)]);
    table.row(["", word("paper-vary-in-contract"), word("paper-vary-now"), word("paper-vary-net")]);
    for o in &a.on_costs {
        let title =
            o.percent.map_or_else(|| o.title.clone(), |p| say("paper-percent", &[&quantity(p, 0), &o.title]));
        table.row([title, money(a, o.contract), money(a, o.now), money(a, o.now - o.contract)]);
    }
    page.table(&table);
}

fn proof(page: &mut Page, a: &Account) {
    page.heading(&head("paper-vary-proof"));
    for b in &a.balances {
        let (left, right) = (
            crate::format::value(b.left, a.currency.digits, 12),
            crate::format::value(b.right, a.currency.digits, 12),
        );
        page.line(2, 4, &say("paper-vary-balance", &[b.name, &b.says.to_string(), &left, &right]));
    }
}
