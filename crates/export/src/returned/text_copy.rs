//! One returned copy on the paper: its arithmetic, what it changed, what is open, rows and words of the bidder's own.

use tankwright_account::returned::{Comparison, Copy, Finding, Side, State};

use super::shared::{letter, rate};
use super::text::money;
use crate::format::{group, say, word};
use crate::text::table::Page;

/// A state in a word.
pub(super) fn state(state: State) -> &'static str {
    match state {
        State::Priced | State::Lump => "",
        State::Zero => "0",
        State::Nil => word("paper-returned-nil"),
        State::Included => word("paper-returned-included"),
        State::Dash => "-",
        State::NotPriced => word("paper-returned-not-priced"),
        State::Words => word("paper-returned-words"),
        State::Blank => word("paper-returned-blank"),
        State::Missing => word("paper-returned-missing"),
    }
}

/// The part of a copy.
pub(super) fn copy(page: &mut Page, c: &Comparison, i: usize, copy: &Copy, side: &Side) {
    page.heading(&format!("{}  {}", letter(i), copy.name));
    origin(page, copy);
    let slips: Vec<&Finding> = copy.findings.iter().filter(|f| arithmetic(f.what)).collect();
    if slips.is_empty() {
        page.line(2, 4, word("paper-returned-clean"));
    }
    for f in slips {
        let by = f.difference.map(|d| format!(" ({})", money(c, d))).unwrap_or_default();
        let says = parted(&f.says.to_string());
        let args = [&f.line.to_string(), of(f), word(key(f.what)), &by, &says];
        page.line(2, 4, &say("paper-returned-slip", &args));
    }
    for f in copy.findings.iter().filter(|f| !arithmetic(f.what)) {
        let says = f.says.to_string();
        page.line(
            2,
            4,
            &say("paper-returned-changed", &[&f.line.to_string(), of(f), word(key(f.what)), &says]),
        );
    }
    open(page, c, copy, side);
    own(page, c, copy);
    for (id, text) in copy.fields.iter().filter(|(id, _)| matches!(*id, "contact" | "time" | "terms")) {
        let label = match *id {
            "contact" => "form-contact",
            "time" => "form-time",
            _ => "form-terms",
        };
        page.line(2, 4, &say("paper-returned-says", &[word(label), text]));
    }
    for (form, bid) in c.form.rows.iter().zip(&copy.bids).filter(|(_, b)| !b.remark.is_empty()) {
        page.line(2, 4, &say("paper-returned-remark", &[&form.reference, &bid.remark]));
    }
    for (line, text) in &copy.words {
        page.line(2, 4, &say("paper-returned-text", &[&line.to_string(), text]));
    }
    if !copy.unread.is_empty() {
        page.line(2, 4, &say("paper-returned-unread", &[&copy.unread.join(", ")]));
    }
}

/// Long figures of a text with their thousands set apart.
fn parted(text: &str) -> String {
    let mut out = String::new();
    let mut digits = String::new();
    for c in text.chars().chain([' ']) {
        let of_figure = c.is_ascii_digit() || c == '.' && !digits.is_empty();
        if of_figure {
            digits.push(c);
            continue;
        }
        out.push_str(&group(&digits));
        digits.clear();
        out.push(c);
    }
    out.pop();
    out
}

fn origin(page: &mut Page, copy: &Copy) {
    let key = match copy.same_form {
        Some(true) => return,
        Some(false) => "paper-returned-other-form",
        None => "paper-returned-no-stamp",
    };
    page.line(2, 4, word(key));
}

fn arithmetic(what: &str) -> bool {
    matches!(what, "extension" | "total" | "base" | "percentage")
}

fn of(f: &Finding) -> &str {
    if f.reference.is_empty() { word("paper-returned-summary") } else { &f.reference }
}

fn key(what: &str) -> &'static str {
    match what {
        "extension" => "paper-returned-what-extension",
        "total" => "paper-returned-what-total",
        "base" => "paper-returned-what-base",
        "percentage" => "paper-returned-what-percentage",
        "quantity" => "paper-returned-what-quantity",
        "unit" => "paper-returned-what-unit",
        "words" => "paper-returned-what-words",
        "stated" => "paper-returned-what-stated",
        _ => "paper-returned-what-negative",
    }
}

/// Rows without an answer, what would fill them; then the answers that are no figure.
fn open(page: &mut Page, c: &Comparison, copy: &Copy, side: &Side) {
    let says = |row: usize| {
        let bid = copy.bids.get(row)?;
        let form = c.form.rows.get(row)?;
        let plain = state(bid.state);
        let same = bid.words.is_empty() || bid.words.eq_ignore_ascii_case(plain);
        Some((form, if same { plain.to_owned() } else { format!("{plain} `{}`", bid.words) }))
    };
    for f in &side.filled {
        let Some((form, how)) = says(f.row) else { continue };
        let shown = |r| crate::money::rate(rate(c, r), &c.form.currency);
        let text = match (f.rates, f.of) {
            (Some([rate, _]), 0) => {
                say("paper-returned-open-ours", &[&form.reference, &how, &shown(rate), &form.words])
            }
            (Some([only, _]), 1) => {
                say("paper-returned-open-one", &[&form.reference, &how, &shown(only), &form.words])
            }
            (Some([high, mean]), _) => {
                say("paper-returned-open", &[&form.reference, &how, &shown(high), &shown(mean), &form.words])
            }
            (None, _) => say("paper-returned-open-none", &[&form.reference, &how, &form.words]),
        };
        page.line(2, 4, &text);
    }
    let answered = |s: State| matches!(s, State::Nil | State::Included | State::Zero | State::Lump);
    for (row, bid) in copy.bids.iter().enumerate().filter(|(_, b)| answered(b.state)) {
        let Some((form, how)) = says(row) else { continue };
        let key = if bid.state == State::Lump { "paper-returned-lump" } else { "paper-returned-answer" };
        page.line(2, 4, &say(key, &[&form.reference, &how, &form.words]));
    }
    if !side.filled.is_empty() {
        let [high, mean] = side.complete.each_ref().map(|r| money(c, r.total));
        let key = if high == mean { "paper-returned-estimate-one" } else { "paper-returned-estimate" };
        page.line(2, 4, &say(key, &[&c.form.currency.code, &high, &mean]));
    }
}

/// Rows and sums that the form does not have.
fn own(page: &mut Page, c: &Comparison, copy: &Copy) {
    for a in &copy.added {
        let amount = a.amount.map_or_else(|| word("paper-returned-none").to_owned(), |d| money(c, d));
        let key = match (&a.twice, a.under) {
            (Some(_), _) => "paper-returned-twice",
            (None, true) => "paper-returned-under",
            (None, false) => "paper-returned-added",
        };
        let twice = a.twice.clone().unwrap_or_default();
        page.line(2, 4, &say(key, &[&a.line.to_string(), &amount, &twice, &a.text]));
    }
    let sums = copy.other_sums.iter().map(|(line, text, figure)| {
        let amount = crate::money::rate(figure.decimal(), &c.form.currency);
        say("paper-returned-sum", &[&line.to_string(), &amount, text])
    });
    let sums: Vec<String> = sums.collect();
    if !sums.is_empty() {
        page.line(2, 4, &say("paper-returned-sums", &[&sums.join("; ")]));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_figures_are_parted() {
        assert_eq!(parted("21.4 x 15800 is 338120.5"), "21.4 x 15\u{a0}800 is 338\u{a0}120.5");
        assert_eq!(parted(""), "");
    }
}
