//! The account of the store as JSON: fields are only ever added. Amounts are decimal strings.

use serde::Serialize;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::store::StoreAccount;

use super::{JobOut, job, plain, write};

#[derive(Serialize)]
struct StoreOut<'a> {
    format: u8,
    job: JobOut<'a>,
    /// The last stage the list names.
    until: &'static str,
    rows: Vec<RowOut<'a>>,
}

#[derive(Serialize)]
struct RowOut<'a> {
    stage: &'static str,
    material: &'a str,
    title: &'a str,
    unit: &'a str,
    opening: String,
    ordered: String,
    received: String,
    rejected: String,
    used: String,
    should_be: String,
    counted: Option<String>,
    /// Counted less what should be there.
    difference: Option<String>,
}

/// The account as JSON.
#[must_use]
pub fn store(e: &Estimate, account: &StoreAccount) -> String {
    let rows = account.rows.iter().map(|r| RowOut {
        stage: r.stage.id(),
        material: &r.material,
        title: &r.title,
        unit: &r.unit,
        opening: plain(r.opening),
        ordered: plain(r.ordered),
        received: plain(r.received),
        rejected: plain(r.rejected),
        used: plain(r.used),
        should_be: plain(r.should_be),
        counted: r.counted.map(plain),
        difference: r.difference.map(plain),
    });
    write(&StoreOut { format: 1, job: job(e), until: account.until.id(), rows: rows.collect() })
}

#[cfg(test)]
mod tests {
    use super::store;
    use crate::{goods_handmade::account, handmade};
    use serde_json::{Value, json};

    #[test]
    fn fields_of_the_account() -> serde_json::Result<()> {
        let out: Value = serde_json::from_str(&store(&handmade::estimate(), &account()))?;
        assert_eq!((&out["format"], &out["until"]), (&json!(1), &json!("walls-lower")));
        let row = &out["rows"][0];
        assert_eq!(
            (&row["material"], &row["received"], &row["counted"]),
            (&json!("cement"), &json!("350"), &Value::Null)
        );
        // 60 - (-2 + 250 - 177.642)
        assert_eq!(out["rows"][2]["difference"], "-10.358");
        Ok(())
    }
}
