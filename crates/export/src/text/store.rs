//! The account of the store: what came, what should have been used, what should be there, what was counted.

use rust_decimal::Decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::stage::Stage;
use tankwright_quantities::store::{StoreAccount, StoreRow};

use super::goods::{self, amount, with_unit};
use super::table::{Col, Page, Table};
use crate::format::{say, word};

/// The account, stage by stage; what is missing or over at the end in words.
#[must_use]
pub fn store(e: &Estimate, account: &StoreAccount) -> String {
    let mut page = Page::default();
    super::head(&mut page, e);
    page.line(0, 2, word("paper-store-head"));
    for stage in Stage::ALL {
        let rows: Vec<_> = account.rows.iter().filter(|r| r.stage == stage).collect();
        if !rows.is_empty() {
            page.heading(&goods::stage(stage).to_uppercase());
            page.table(&table(&rows));
        }
    }
    if account.rows.is_empty() {
        page.line(0, 2, word("paper-store-none"));
    }
    let lines = || e.orders.stages.iter().flat_map(|o| o.lines.iter().map(move |l| (o.stage, l)));
    let again =
        |r: &StoreRow| lines().any(|(s, l)| s == r.stage && l.material == r.material && l.present > l.used);
    if account.rows.iter().any(again) {
        page.blank();
        page.line(0, 2, word("paper-store-worn"));
    }
    findings(&mut page, account);
    page.done()
}

fn table(rows: &[&StoreRow]) -> Table {
    let heads = [
        "paper-material",
        "paper-in-store",
        "paper-ordered",
        "paper-received",
        "paper-to-use",
        "paper-should-be",
        "paper-counted",
        "paper-difference",
    ];
    let figures = heads.iter().skip(1).map(|_| Col::Right(8));
    let mut table = Table::new(2, &std::iter::once(Col::Fill(18)).chain(figures).collect::<Vec<_>>());
    table.heads(heads);
    for r in rows {
        let kept = r.received - r.rejected;
        let [counted, off] = [r.counted.map(amount), r.difference.map(signed)];
        let dash = || "-".to_owned();
        let figures = [r.opening, r.ordered, kept, r.used, r.should_be].map(amount);
        let found = [counted.unwrap_or_else(dash), off.unwrap_or_else(dash)];
        let title = format!("{}, {}", r.title, r.unit);
        table.row(std::iter::once(title).chain(figures).chain(found));
        if !r.rejected.is_zero() {
            let args = [&with_unit(r.received, &r.unit), &with_unit(r.rejected, &r.unit)];
            table.across_at(4, &say("paper-store-sent-back", &args.map(String::as_str)));
        }
    }
    table
}

/// With its sign, so that what is missing is not read as what is over.
fn signed(value: Decimal) -> String {
    if value > Decimal::ZERO { format!("+{}", amount(value)) } else { amount(value) }
}

/// What somebody must look into.
fn findings(page: &mut Page, account: &StoreAccount) {
    let mut all = Vec::new();
    let told = |material: &str| {
        account.rows.iter().any(|r| r.material == material && (!r.received.is_zero() || r.counted.is_some()))
    };
    for r in account.rows.iter().filter(|r| told(&r.material)) {
        let stage = goods::stage(r.stage);
        let of = |n: Decimal| with_unit(n.abs(), &r.unit);
        if let Some(d) = r.difference.filter(|d| !d.is_zero()) {
            let key = if d < Decimal::ZERO { "paper-store-missing" } else { "paper-store-over" };
            all.push(say(key, &[&of(d), &stage, &r.title]));
        } else if r.should_be < Decimal::ZERO && r.counted.is_none() && !r.used.is_zero() {
            all.push(say("paper-store-short", &[&of(r.should_be), &stage, &r.title]));
        }
    }
    let mut silent: Vec<&str> = Vec::new();
    for r in account.rows.iter().filter(|r| !told(&r.material)) {
        if !silent.contains(&r.title.as_str()) {
            silent.push(&r.title);
        }
    }
    if !silent.is_empty() {
        all.push(say("paper-store-silent", &[&silent.join("; ")]));
    }
    if all.is_empty() {
        return;
    }
    page.heading(word("paper-store-look"));
    all.iter().for_each(|text| page.line(2, 4, text));
}

#[cfg(test)]
mod tests {
    use super::store;
    use crate::goods_handmade::account;
    use crate::{golden, handmade};

    #[test]
    fn an_account_of_two_stages() {
        golden::same("store.txt", &store(&handmade::estimate(), &account()));
    }

    #[test]
    fn nothing_came() {
        let mut account = account();
        account.rows.clear();
        assert!(store(&handmade::estimate(), &account).contains("nothing in the list"));
    }
}
