//! The bill to be priced as CSV: empty rates, marks in the last column, the notes at the end.

use tankwright_account::returned::Form;
use tankwright_account::returned::form::{Line, MARK, head_mark, mark};
use tankwright_quantities::words::look_up;

use crate::csv::text as harmless;
use crate::format::say;

/// The form; amounts and sums are left to the bidder.
#[must_use]
pub fn form_csv(form: &Form) -> String {
    let mut out = ::csv::WriterBuilder::new().terminator(::csv::Terminator::CRLF).from_writer(Vec::new());
    // Writing to memory does not fail.
    let mut put = |cells: [String; 8]| drop(out.write_record(cells));
    let code = [form.currency.code.as_str()];
    let [reference, words, unit, quantity, remarks] =
        ["form-ref", "form-description", "form-unit", "form-quantity", "form-remarks"]
            .map(|k| look_up(k).to_owned());
    let [rate, amount] = ["form-rate", "form-amount"].map(|k| say(k, &code));
    put([reference, words, unit, quantity, rate, amount, remarks, head_mark(form)]);
    let text = |text: &str| {
        let mut cells: [String; 8] = Default::default();
        [cells[1], cells[7]] = [harmless(text), format!("{MARK}text")];
        cells
    };
    form.head().iter().for_each(|t| put(text(t)));
    for line in form.lines() {
        let mut cells: [String; 8] = Default::default();
        match &line {
            Line::Gap => continue,
            Line::Heading(letter, words) => [cells[0], cells[1]] = [letter.clone(), harmless(words)],
            Line::Sum(_, reference, words) => [cells[0], cells[1]] = [reference.clone(), harmless(words)],
            Line::Field(_, label) => cells[1] = harmless(label),
            Line::Row(i) => {
                let Some(row) = form.rows.get(*i) else { continue };
                [cells[0], cells[1], cells[2]] =
                    [row.reference.clone(), harmless(&row.words), harmless(&row.unit)];
                cells[3] = row.quantity().map(|q| q.normalize().to_string()).unwrap_or_default();
                cells[4] = row.stated.map(|s| s.normalize().to_string()).unwrap_or_default();
            }
        }
        cells[7] = mark(form, &line);
        put(cells);
    }
    put(text(look_up("form-notes")));
    form.notes.iter().for_each(|note| put(text(note)));
    out.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}
