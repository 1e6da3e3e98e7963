//! The paper of the account: one page for the client, then the bills it rests on.

use rust_decimal::Decimal;
use tankwright_account::vary::report::{Account, Change, Payment};
use tankwright_quantities::amount_words::amount_words;

use super::{bills, head, key, less, measure, money, rate, record, settled_title};
use crate::format::{NO_BREAK, quantity, say, word};
use crate::text::table::{Col, Page, Table};

/// The account as a paper of at most 100 columns.
#[must_use]
pub fn text(a: &Account) -> String {
    let mut page = Page::default();
    page.apart(&a.contract.title, &[a.date.as_str(), &a.profile.0, &a.currency.code].join("   "));
    page.line(0, 2, &say("paper-vary-head", &[&a.now.file, &a.contract.file, &a.contract.date]));
    statement(&mut page, a);
    changed(&mut page, a);
    bills::bills(&mut page, a);
    page.done()
}

/// From the contract sum to the balance.
fn statement(page: &mut Page, a: &Account) {
    page.heading(&head("paper-vary-statement"));
    let s = &a.sums;
    let mut table = Table::new(2, &[Col::Fill(70), Col::Right(20)]);
    let mut put = |text: &str, amount: String| table.row([text, &amount]);
    put(word("paper-vary-contract"), money(a, s.contract));
    let lines = [
        ("paper-vary-less", Decimal::ZERO - s.omissions, !s.omissions.is_zero()),
        ("paper-vary-add", s.additions, !s.additions.is_zero()),
        ("paper-vary-dayworks", s.dayworks, !a.dayworks.is_empty()),
        ("paper-vary-remeasured", s.remeasured, !a.remeasured.is_empty()),
        ("paper-vary-prime-cost", s.prime_cost, !a.prime_cost.is_empty()),
        ("paper-vary-sums", s.provisional_sums, !a.provisional_sums.is_empty()),
    ];
    for (key, amount, _) in lines.iter().filter(|(.., there)| *there) {
        put(word(key), money(a, *amount));
    }
    for o in a.on_costs.iter().filter(|o| o.now != o.contract) {
        let percent = o.percent.map(|p| quantity(p, 0));
        let text = match (o.left_out, &percent) {
            (true, _) => say("paper-vary-left-out", &[&o.title]),
            (false, Some(p)) => say("paper-vary-follows", &[&o.title, p]),
            (false, None) => o.title.clone(),
        };
        put(&text, money(a, o.now - o.contract));
    }
    put(word("paper-vary-adjusted"), format!("{}{NO_BREAK}{}", a.currency.code, money(a, s.adjusted)));
    page.table(&table);
    page.line(2, 4, &amount_words(s.adjusted, &a.currency));
    paid(page, a, &a.payment);
    a.notes.iter().for_each(|note| page.line(2, 4, &note.to_string()));
}

fn paid(page: &mut Page, a: &Account, p: &Payment) {
    let mut table = Table::new(2, &[Col::Fill(70), Col::Right(20)]);
    let held = match (p.percent, p.limit) {
        (None, _) => word("paper-vary-no-retention").to_owned(),
        (Some(percent), None) => say("paper-vary-retention", &[&quantity(percent, 0)]),
        (Some(percent), Some(limit)) => {
            say("paper-vary-retention-limit", &[&quantity(percent, 0), &quantity(limit, 0)])
        }
    };
    table.row([held, less(a, p.retention)]);
    for (date, amount, note) in &p.receipts {
        let text = say("paper-vary-receipt", &[date, note]);
        table.row([text.trim_end_matches([' ', ':']), &less(a, *amount)]);
    }
    if p.receipts.is_empty() {
        table.row([word("paper-vary-nothing-paid").to_owned(), less(a, p.paid)]);
    } else if p.receipts.len() > 1 {
        table.row([say("paper-vary-paid", &[&money(a, p.paid)]), String::new()]);
    }
    let due = if p.due.is_sign_negative() { "paper-vary-overpaid" } else { "paper-vary-due" };
    table.row([word(due).to_owned(), format!("{}{NO_BREAK}{}", a.currency.code, money(a, p.due.abs()))]);
    page.table(&table);
    if p.percent.is_some() {
        let (first, days) = (money(a, p.when_built), p.days.to_string());
        page.line(2, 4, &say("paper-vary-released", &[&first, &days]));
    }
}

/// Every change on a line or two of its own: why, when, by whom, what it is worth.
fn changed(page: &mut Page, a: &Account) {
    page.heading(&head("paper-vary-changes"));
    let mut table = Table::new(
        2,
        &[Col::Left(5), Col::Fill(30), Col::Right(10), Col::Right(10), Col::Right(10), Col::Right(10)],
    );
    let heads = [
        "",
        "paper-vary-why",
        "paper-vary-omitted",
        "paper-vary-added",
        "paper-vary-net",
        "paper-vary-worth",
    ];
    table.row(heads.map(|key| if key.is_empty() { "" } else { word(key) }));
    for c in &a.changes {
        change(&mut table, a, c);
    }
    let mut plain = |tag: &str, text: &str, net: String, worth: String, more: String| {
        table.row([word(tag), text, "", "", &net, &worth]);
        if !more.is_empty() {
            table.across_at(7, &more);
        }
    };
    let settled = [
        ("paper-vary-tag-measured", &a.remeasured),
        ("paper-vary-tag-prime", &a.prime_cost),
        ("paper-vary-tag-sum", &a.provisional_sums),
    ];
    for (tag, list) in settled {
        for s in list {
            let (net, worth) = match s.add {
                Some(_) => (money(a, s.net()), money(a, s.worth)),
                None => (word("paper-vary-open").to_owned(), String::new()),
            };
            plain(tag, &settled_title(s), net, worth, record(&s.date, &s.by, &s.note, &s.photo));
        }
    }
    for d in &a.dayworks {
        let measured = format!("{} {}", measure(d.quantity, &d.unit), d.unit);
        let text = say("paper-vary-daywork", &[&d.title, measured.trim_end(), &rate(a, d.rate)]);
        plain(
            "paper-vary-tag-daywork",
            &text,
            money(a, d.amount),
            money(a, d.worth),
            record(&d.date, &d.by, &d.note, ""),
        );
    }
    let left_out: Vec<&str> = a.on_costs.iter().filter(|o| o.left_out).map(|o| o.title.as_str()).collect();
    if !left_out.is_empty() {
        let text = say("paper-vary-left-out", &[&left_out.join(", ")]);
        table.row(["", &text, "", "", "", &money(a, a.sums.left_out)]);
    }
    table.row(["", word("paper-vary-all"), "", "", "", &money(a, a.sums.adjusted - a.sums.contract)]);
    if a.changes.is_empty() && a.dayworks.is_empty() && settled.iter().all(|(_, l)| l.is_empty()) {
        table.across_at(0, word("paper-vary-no-change"));
    }
    page.table(&table);
    page.line(2, 4, word("paper-vary-worth-says"));
}

fn change(table: &mut Table, a: &Account, c: &Change) {
    let figures = [c.omitted, c.added, c.net(), c.worth].map(|d| money(a, d));
    let [omitted, added, net, worth] = figures.each_ref().map(String::as_str);
    if c.id.is_empty() {
        table.row(["-", &head("paper-vary-not-instructed"), omitted, added, net, worth]);
        return table.across_at(7, word("paper-vary-not-instructed-says"));
    }
    table.row([&c.id, &c.says(), omitted, added, net, worth]);
    let photo = if c.photo.is_empty() {
        word("paper-vary-no-photo").to_owned()
    } else {
        say("paper-vary-photo", &[&c.photo])
    };
    table.across_at(7, &say("paper-vary-instructed", &[&c.date, &c.by, &photo]));
    if !c.note.is_empty() {
        table.across_at(7, &c.note);
    }
    c.keys.iter().for_each(|k| table.across_at(7, &key(k)));
}
