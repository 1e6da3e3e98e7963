//! The account of the store as CSV: a row for each stage and material.

use tankwright_quantities::store::StoreAccount;

use super::{Out, text};
use crate::json::plain;

const STORE: [&str; 12] = [
    "stage",
    "material",
    "title",
    "unit",
    "opening",
    "ordered",
    "received",
    "rejected",
    "used",
    "should_be",
    "counted",
    "difference",
];

/// The account as CSV.
#[must_use]
pub fn store(account: &StoreAccount) -> String {
    let mut out = Out::new(&STORE);
    let maybe = |n: Option<rust_decimal::Decimal>| n.map_or_else(String::new, plain);
    for r in &account.rows {
        out.row([
            text(r.stage.id()),
            text(&r.material),
            text(&r.title),
            text(&r.unit),
            plain(r.opening),
            plain(r.ordered),
            plain(r.received),
            plain(r.rejected),
            plain(r.used),
            plain(r.should_be),
            maybe(r.counted),
            maybe(r.difference),
        ]);
    }
    out.done()
}

#[cfg(test)]
mod tests {
    use super::store;
    use crate::golden;
    use crate::goods_handmade::account;

    #[test]
    fn rows_of_the_account() {
        golden::same("store.csv", &store(&account()));
    }
}
