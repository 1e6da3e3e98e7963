//! Returned copies as JSON: fields are only ever added. Money, rates and quantities are decimal strings, lines numbers.

use rust_decimal::Decimal;
use serde::Serialize;
use tankwright_account::returned::form::{Asks, Sum};
use tankwright_account::returned::{Added, Bid, By, Comparison, Copy, Finding, Reckoned, Side};
use tankwright_crosscheck::figure::Figure;
use tankwright_quantities::amount_words::amount_words;
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;

use super::shared::{letter, rate, times};
use crate::json::{plain, write};

#[derive(Serialize)]
struct Out<'a> {
    format: u8,
    job: &'a str,
    profile: &'a str,
    currency: &'a str,
    /// The form that the job gives now.
    form: &'a str,
    /// How many times the median of the others is far.
    ratio: String,
    /// What the form comes to at our rates; none where the job is not priced.
    ours: Option<String>,
    bidders: Vec<BidderOut<'a>>,
    rows: Vec<RowOut<'a>>,
    far: Vec<FarOut<'a>>,
}

#[derive(Serialize)]
struct BidderOut<'a> {
    bidder: String,
    file: &'a str,
    name: &'a str,
    /// What he says of himself, by id of the field.
    says: Vec<[&'a str; 2]>,
    /// Made from this form? None: its stamp is lost.
    same_form: Option<bool>,
    known_by: KnownOut,
    printed: Option<String>,
    corrected: String,
    corrected_in_words: String,
    rank: Option<usize>,
    measured: String,
    sections: Vec<SectionOut>,
    outside: String,
    complete_highest: String,
    complete_average: String,
    rank_complete: Option<usize>,
    open: Vec<OpenOut<'a>>,
    findings: Vec<FindingOut<'a>>,
    added: Vec<AddedOut<'a>>,
    other_sums: Vec<SumOut<'a>>,
    words: Vec<WordsOut<'a>>,
    unread_sheets: &'a [String],
}

#[derive(Serialize)]
struct KnownOut {
    mark: usize,
    reference: usize,
    words: usize,
}

#[derive(Serialize)]
struct SectionOut {
    id: String,
    total: String,
}

#[derive(Serialize)]
struct OpenOut<'a> {
    #[serde(rename = "ref")]
    reference: &'a str,
    state: &'static str,
    /// What would fill it; none where nobody priced the row.
    highest: Option<String>,
    average: Option<String>,
    /// How many rates that is of; 0: ours.
    of: usize,
}

#[derive(Serialize)]
struct FindingOut<'a> {
    line: usize,
    what: &'a str,
    #[serde(rename = "ref")]
    reference: &'a str,
    printed: &'a str,
    should_be: &'a str,
    difference: Option<String>,
    says: String,
}

#[derive(Serialize)]
struct AddedOut<'a> {
    line: usize,
    text: &'a str,
    unit: &'a str,
    quantity: &'a str,
    rate: &'a str,
    amount: Option<String>,
    section: Option<String>,
    /// Under the total: in none of the sums.
    under: bool,
    /// A second time this row.
    twice: Option<&'a str>,
}

#[derive(Serialize)]
struct SumOut<'a> {
    line: usize,
    text: &'a str,
    amount: String,
}

#[derive(Serialize)]
struct WordsOut<'a> {
    line: usize,
    text: &'a str,
}

#[derive(Serialize)]
struct RowOut<'a> {
    #[serde(rename = "ref")]
    reference: &'a str,
    id: &'a str,
    description: &'a str,
    unit: &'a str,
    quantity: Option<String>,
    /// What the form states: a rate or a percentage.
    stated: Option<String>,
    ours: Option<String>,
    lowest: Option<String>,
    highest: Option<String>,
    median: Option<String>,
    bids: Vec<BidOut<'a>>,
}

#[derive(Serialize)]
struct BidOut<'a> {
    bidder: String,
    line: Option<usize>,
    state: &'static str,
    known_by: Option<&'static str>,
    /// As printed.
    rate: Option<String>,
    printed: Option<String>,
    /// What counts.
    amount: String,
    far: Option<&'static str>,
    words: &'a str,
    remark: &'a str,
}

#[derive(Serialize)]
struct FarOut<'a> {
    #[serde(rename = "ref")]
    reference: &'a str,
    bidder: String,
    rate: String,
    median: String,
    of: usize,
    side: &'static str,
}

fn money(c: &Comparison, amount: Decimal) -> String {
    decimal::shown(amount, c.form.currency.digits)
}

fn figure(figure: Option<Figure>) -> Option<String> {
    figure.map(|f| plain(f.decimal()))
}

fn finding(f: &Finding) -> FindingOut<'_> {
    FindingOut {
        line: f.line,
        what: f.what,
        reference: &f.reference,
        printed: &f.printed,
        should_be: &f.should_be,
        difference: f.difference.map(plain),
        says: f.says.to_string(),
    }
}

fn added<'a>(c: &Comparison, a: &'a Added) -> AddedOut<'a> {
    AddedOut {
        line: a.line,
        text: &a.text,
        unit: &a.unit,
        quantity: &a.quantity,
        rate: &a.rate,
        amount: a.amount.map(|d| money(c, d)),
        section: a.letter.map(String::from),
        under: a.under,
        twice: a.twice.as_deref(),
    }
}

fn bidder<'a>(c: &'a Comparison, i: usize, copy: &'a Copy, side: &Side) -> BidderOut<'a> {
    let open = |f: &tankwright_account::returned::Filled| {
        let row = c.form.rows.get(f.row)?;
        let [highest, average] =
            [0, 1].map(|n: usize| f.rates.and_then(|r| r.get(n).map(|r| plain(rate(c, *r)))));
        let state = copy.bids.get(f.row)?.state.id();
        Some(OpenOut { reference: &row.reference, state, highest, average, of: f.of })
    };
    let total = |r: &Reckoned| money(c, r.total);
    let section = |(id, total): &(char, Decimal)| SectionOut { id: id.to_string(), total: money(c, *total) };
    BidderOut {
        bidder: letter(i),
        file: &copy.file,
        name: &copy.name,
        says: copy.fields.iter().map(|(id, text)| [*id, text.as_str()]).collect(),
        same_form: copy.same_form,
        known_by: KnownOut {
            mark: copy.known_by(By::Mark),
            reference: copy.known_by(By::Reference),
            words: copy.known_by(By::Words),
        },
        printed: copy.sums.get(&Sum::Total).map(|(_, f)| plain(f.decimal())),
        corrected: total(&side.corrected),
        corrected_in_words: amount_words(side.corrected.total, &c.form.currency),
        rank: side.rank,
        measured: money(c, side.corrected.measured),
        sections: side.corrected.sections.iter().map(section).collect(),
        outside: money(c, side.corrected.outside),
        complete_highest: total(&side.complete[0]),
        complete_average: total(&side.complete[1]),
        rank_complete: side.rank_complete,
        open: side.filled.iter().filter_map(open).collect(),
        findings: copy.findings.iter().map(finding).collect(),
        added: copy.added.iter().map(|a| added(c, a)).collect(),
        other_sums: copy
            .other_sums
            .iter()
            .map(|(line, text, f)| SumOut { line: *line, text, amount: plain(f.decimal()) })
            .collect(),
        words: copy.words.iter().map(|(line, text)| WordsOut { line: *line, text }).collect(),
        unread_sheets: &copy.unread,
    }
}

fn bid<'a>(c: &Comparison, row: usize, i: usize, bid: &'a Bid) -> BidOut<'a> {
    let amount = c.sides.get(i).and_then(|s| s.corrected.amounts.get(row)).copied().unwrap_or_default();
    let far = c.far.iter().find(|f| f.row == row && f.copy == i);
    BidOut {
        bidder: letter(i),
        line: bid.line,
        state: bid.state.id(),
        known_by: bid.by.map(By::id),
        rate: figure(bid.rate),
        printed: figure(bid.printed),
        amount: money(c, amount),
        far: far.map(|f| if f.high() { "high" } else { "low" }),
        words: &bid.words,
        remark: &bid.remark,
    }
}

/// The comparison as JSON.
#[must_use]
pub fn json(e: &Estimate, c: &Comparison) -> String {
    let shown = |r: tankwright_geometry::Ratio| plain(rate(c, r));
    let row = |(n, row): (usize, &'_ tankwright_account::returned::Across)| {
        let form = c.form.rows.get(n)?;
        let bids = c.copies.iter().enumerate().filter_map(|(i, copy)| Some(bid(c, n, i, copy.bids.get(n)?)));
        Some(RowOut {
            reference: &form.reference,
            id: &form.id,
            description: &form.words,
            unit: &form.unit,
            quantity: match form.asks {
                Asks::Rate(q) => Some(plain(q)),
                Asks::Percent(_) => None,
            },
            stated: form.stated.map(plain),
            ours: row.own.map(shown),
            lowest: row.range.map(|[low, _]| shown(low)),
            highest: row.range.map(|[_, high]| shown(high)),
            median: row.median.map(shown),
            bids: bids.collect(),
        })
    };
    let far = |f: &tankwright_account::returned::Far| FarOut {
        reference: c.form.rows.get(f.row).map_or("", |r| r.reference.as_str()),
        bidder: letter(f.copy),
        rate: shown(f.rate),
        median: shown(f.median),
        of: f.of,
        side: if f.high() { "high" } else { "low" },
    };
    write(&Out {
        format: 1,
        job: &e.title,
        profile: &e.profile.0,
        currency: &c.form.currency.code,
        form: &c.form.stamp,
        ratio: times(c.ratio),
        ours: c.own.as_ref().map(|r| money(c, r.total)),
        bidders: c
            .copies
            .iter()
            .zip(&c.sides)
            .enumerate()
            .map(|(i, (copy, side))| bidder(c, i, copy, side))
            .collect(),
        rows: c.rows.iter().enumerate().filter_map(row).collect(),
        far: c.far.iter().map(far).collect(),
    })
}
