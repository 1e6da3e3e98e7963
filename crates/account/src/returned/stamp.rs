//! The stamp of a form: changes with any row, so that a copy of another form is known.

use tankwright_quantities::fingerprint::Fingerprint;

use super::form::{Asks, Form};

/// Sixteen hexadecimal digits over every row, as far as its price hangs on it.
#[must_use]
pub(super) fn stamp(form: &Form) -> String {
    let mut print = Fingerprint::default();
    let mut add = |text: &str| print.add(text.bytes().chain([0]));
    add(&form.job);
    add(&form.currency.code);
    for row in &form.rows {
        let asks = match &row.asks {
            Asks::Rate(quantity) => quantity.normalize().to_string(),
            Asks::Percent(on) => format!("{on:?}"),
        };
        let stated = row.stated.map(|s| s.normalize().to_string()).unwrap_or_default();
        [&row.id, &row.words, &row.unit, &asks, &stated].into_iter().for_each(|text| add(text));
    }
    format!("{:016x}", print.done())
}

#[cfg(test)]
mod tests {
    use crate::returned::fixture::form;

    #[test]
    fn another_quantity_is_another_form() {
        let (one, mut two) = (form(), form());
        assert_eq!(one.stamp, super::stamp(&one));
        assert_eq!(one.stamp.len(), 16);
        two.rows[0].words.push('.');
        assert_ne!(super::stamp(&two), one.stamp);
    }
}
