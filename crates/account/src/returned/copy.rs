//! A returned copy as plain data, and how its rows become one.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_crosscheck::figure::Figure;
use tankwright_crosscheck::read::{Entry, Kind};
use tankwright_crosscheck::wording::{Wording, spaced};
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;
use tankwright_quantities::words::Phrase;

use super::cells::{Cells, Sheet};
use super::form::{ADDITIONS, Asks, FIELDS, Form, FormRow, Line, Sum};
use super::matching::{By, Target};
use super::state::{self, Said, State, money};

/// How a row of the form is answered in a copy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bid {
    /// How.
    pub state: State,
    /// By what the row was known; none where it is missing.
    pub by: Option<By>,
    /// Line of the copy.
    pub line: Option<usize>,
    /// Words that stand for a rate.
    pub words: String,
    /// Quantity as printed, where it is a figure.
    pub quantity: Option<Figure>,
    /// Rate, or percentage, as printed.
    pub rate: Option<Figure>,
    /// Amount as printed.
    pub printed: Option<Figure>,
    /// The bidder's remark.
    pub remark: String,
}

/// A row that the form does not have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Added {
    /// Line of the copy.
    pub line: usize,
    /// Its words, its reference before them.
    pub text: String,
    /// Unit, quantity and rate as printed.
    pub unit: String,
    /// See `unit`.
    pub quantity: String,
    /// See `unit`.
    pub rate: String,
    /// What it adds, as printed, or quantity x rate; none where neither can be read.
    pub amount: Option<Decimal>,
    /// Section it stands in; none: outside of all.
    pub letter: Option<char>,
    /// Stands under the total of the form, and is in none of its sums.
    pub under: bool,
    /// A second time a row of the form, by its mark.
    pub twice: Option<String>,
}

/// Something that differs from the form, or is reckoned wrongly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// Line of the copy.
    pub line: usize,
    /// `extension`, `total`, `base`, `percentage`, `quantity`, `unit`, `words`, `stated`, `negative`: for ever.
    pub what: &'static str,
    /// Row of the form; empty for a sum.
    pub reference: String,
    /// In words.
    pub says: Phrase,
    /// As printed.
    pub printed: String,
    /// As it should be.
    pub should_be: String,
    /// Printed less right, where both are money.
    pub difference: Option<Decimal>,
}

/// A copy.
#[derive(Clone, Debug)]
pub struct Copy {
    /// Name of the file.
    pub file: String,
    /// The bidder, as he says, else the file's name.
    pub name: String,
    /// What he says of himself and of his offer, by id of the field; those left empty are not there.
    pub fields: Vec<(&'static str, String)>,
    /// Was it made from this form? `None`: its stamp is lost.
    pub same_form: Option<bool>,
    /// Answers, in the order of the form's rows.
    pub bids: Vec<Bid>,
    /// Sums as printed: line, figure.
    pub sums: BTreeMap<Sum, (usize, Figure)>,
    /// Rows that the form does not have.
    pub added: Vec<Added>,
    /// Sums that the form does not have: line, words, amount.
    pub other_sums: Vec<(usize, String, Figure)>,
    /// Words that the form does not have: line, text.
    pub words: Vec<(usize, String)>,
    /// What differs and what is reckoned wrongly.
    pub findings: Vec<Finding>,
    /// Sheets of the file that were not read.
    pub unread: Vec<String>,
}

impl Copy {
    /// What the bidder says of a field.
    #[must_use]
    pub fn field(&self, id: &str) -> &str {
        self.fields.iter().find(|(i, _)| *i == id).map_or("", |(_, text)| text.as_str())
    }

    /// Rows of the bidder's own in a section, or outside of all but above a line; none that stand under the total.
    pub(super) fn added_to(&self, letter: Option<char>, above: usize) -> impl Iterator<Item = Decimal> + '_ {
        let here = move |a: &&Added| match letter {
            Some(_) => a.letter == letter,
            None => a.letter.is_none_or(|l| l == ADDITIONS) && a.line < above,
        };
        self.added.iter().filter(|a| !a.under).filter(here).filter_map(|a| a.amount)
    }

    /// How many rows were known by this.
    #[must_use]
    pub fn known_by(&self, by: By) -> usize {
        self.bids.iter().filter(|b| b.by == Some(by)).count()
    }
}

/// What the reading of a copy needs.
pub(super) struct Reader<'a> {
    pub(super) form: &'a Form,
    pub(super) words: &'a Wording,
    pub(super) sheet: &'a Sheet,
    pub(super) found: &'a [Option<(Target, By)>],
    /// What the cross-check made of the lines.
    pub(super) entries: &'a BTreeMap<usize, &'a Entry>,
}

impl Reader<'_> {
    /// The copy, its arithmetic not yet looked at.
    pub(super) fn copy(&self, file: &str, unread: &[String]) -> Copy {
        let stamp = self.sheet.stamp.as_ref();
        let missing = || Bid {
            state: State::Missing,
            by: None,
            line: None,
            words: String::new(),
            quantity: None,
            rate: None,
            printed: None,
            remark: String::new(),
        };
        let mut copy = Copy {
            file: file.to_owned(),
            name: String::new(),
            fields: Vec::new(),
            same_form: stamp.map(|s| *s == self.form.stamp),
            bids: self.form.rows.iter().map(|_| missing()).collect(),
            sums: BTreeMap::new(),
            added: Vec::new(),
            other_sums: Vec::new(),
            words: Vec::new(),
            findings: Vec::new(),
            unread: unread.to_vec(),
        };
        let known = self.known();
        for (line, text) in &self.sheet.above {
            if !known.contains(&spaced(text)) {
                copy.words.push((*line, text.clone()));
            }
        }
        let mut at = Where { letters: self.letters(), under: false };
        for (i, (cells, found)) in self.sheet.rows.iter().zip(self.found).enumerate() {
            match found {
                Some((Target::Row(row), by)) => self.row(&mut copy, cells, *row, *by),
                Some((Target::Sum(sum), _)) => {
                    if let Some(figure) = money(&cells.amount, &self.form.currency.code) {
                        copy.sums.insert(*sum, (cells.line, figure));
                    }
                    at.under |= *sum == Sum::Total;
                    self.beside(&mut copy, cells, &known);
                }
                Some((Target::Field(id), _)) if !cells.beside().is_empty() => {
                    copy.fields.push((id, cells.beside()));
                }
                Some((Target::Field(_), _)) => {}
                None => {
                    self.unknown(&mut copy, cells, &known, (at.letters.get(i).copied().flatten(), at.under))
                }
            }
        }
        copy.fields.sort_by_key(|(id, _)| FIELDS.iter().position(|(f, _)| f == id));
        copy.name = match copy.field("bidder") {
            "" => file.rsplit(['/', '\\']).next().unwrap_or(file).to_owned(),
            name => name.to_owned(),
        };
        self.last_total(&mut copy);
        copy
    }

    /// Everything that the form itself says in words.
    fn known(&self) -> Vec<String> {
        let lines = self.form.lines();
        let of = |l: &Line| match l {
            Line::Heading(letter, text) => vec![text.clone(), format!("{letter} {text}")],
            Line::Sum(_, _, text) | Line::Field(_, text) => vec![text.clone()],
            Line::Row(_) | Line::Gap => Vec::new(),
        };
        let own = ["form-open-rows", "form-all-rows", "form-notes", "form-no-rate"];
        let own = own.iter().map(|k| tankwright_quantities::words::look_up(k).to_owned());
        let all = lines.iter().flat_map(of).chain(self.form.head()).chain(self.form.notes.clone()).chain(own);
        let mut all: Vec<String> = all.map(|t| spaced(&t)).collect();
        all.push(spaced(&self.form.head().join(" ")));
        all
    }

    /// The section each row stands in: that of the next row or sum of the form where there is one above its own sum.
    fn letters(&self) -> Vec<Option<char>> {
        let mut letters = vec![None; self.found.len()];
        let mut next = None;
        for (letter, found) in letters.iter_mut().zip(self.found).rev() {
            match found {
                Some((Target::Row(i), _)) => next = self.form.rows.get(*i).map(|r| r.letter),
                Some((Target::Sum(Sum::Section(section)), _)) => next = Some(*section),
                Some(_) => next = None,
                None => {}
            }
            *letter = next;
        }
        letters
    }

    /// What is written beside a sum, and is no figure.
    fn beside(&self, copy: &mut Copy, cells: &Cells, known: &[String]) {
        let mut said = vec![cells.remark.clone()];
        if money(&cells.amount, &self.form.currency.code).is_none() {
            said.push(cells.amount.clone());
        }
        said.extend(cells.rest.iter().cloned());
        said.retain(|t| !t.is_empty() && !known.contains(&spaced(t)));
        if !said.is_empty() {
            copy.words.push((cells.line, format!("{}: {}", cells.words, said.join(" "))));
        }
    }

    fn row(&self, copy: &mut Copy, cells: &Cells, at: usize, by: By) {
        let (Some(row), Some(bid)) = (self.form.rows.get(at), copy.bids.get_mut(at)) else { return };
        let Said { state, rate, amount, words } = self.said(cells);
        let mut remark = vec![cells.remark.clone()];
        remark.extend(cells.rest.iter().cloned());
        remark.retain(|t| !t.is_empty());
        let quantity = money(&cells.quantity, &self.form.currency.code);
        let remark = remark.join(" ");
        *bid = Bid {
            state,
            by: Some(by),
            line: Some(cells.line),
            words,
            quantity,
            rate,
            printed: amount,
            remark,
        };
        changed(&mut copy.findings, row, cells, self.words, quantity);
        if let Some(stated) = row.stated.filter(|s| rate.is_none_or(|r| r.value != decimal::ratio(*s))) {
            let printed = rate.map_or_else(|| cells.rate.clone(), Figure::shown);
            let [stated, printed] = [stated.normalize().to_string(), printed];
            let says = Phrase::with("returned-stated", &[&stated, &printed]);
            copy.findings.push(differs("stated", cells.line, row, says, printed, stated));
        }
        if let Some(rate) = rate.filter(|r| r.value.signum() < 0) {
            let says = Phrase::with("returned-negative", &[&rate.shown()]);
            copy.findings.push(differs("negative", cells.line, row, says, rate.shown(), String::new()));
        }
    }

    fn said(&self, cells: &Cells) -> Said {
        let unread = tankwright_quantities::words::look_up("form-no-rate");
        let cells = state::Cells { rate: &cells.rate, amount: &cells.amount, remark: &cells.remark };
        state::read(cells, self.words, &self.form.currency.code, unread)
    }

    /// A row that is no line of the form: a row of the bidder's own, a sum, words.
    fn unknown(&self, copy: &mut Copy, cells: &Cells, known: &[String], at: (Option<char>, bool)) {
        let entry = self.entries.get(&cells.line);
        let code = &self.form.currency.code;
        let [quantity, rate, printed] =
            [&cells.quantity, &cells.rate, &cells.amount].map(|text| money(text, code));
        let kind = entry.map_or(Kind::Words, |e| e.kind);
        if matches!(kind, Kind::Total | Kind::Brought)
            && let Some(figure) = printed
        {
            copy.other_sums.push((cells.line, cells.words.clone(), figure));
            return;
        }
        let line = kind == Kind::Line || rate.is_some() || printed.is_some();
        if !line {
            let text = cells.whole();
            let own = [&text, &cells.words].iter().any(|t| known.contains(&spaced(t)));
            if !own && !text.is_empty() {
                copy.words.push((cells.line, text));
            }
            return;
        }
        let worked = || Some(quantity?.value * rate?.value);
        let amount = printed.map(|p| p.value).or_else(worked).map(|a| match entry {
            Some(e) if e.less => -a.abs(),
            _ => a,
        });
        let twice = self.form.rows.iter().find(|r| !cells.id.is_empty() && r.id == cells.id);
        let mut text = [cells.reference.as_str(), &cells.words, &cells.remark].map(str::trim).to_vec();
        text.retain(|t| !t.is_empty());
        copy.added.push(Added {
            line: cells.line,
            text: text.join(" "),
            unit: cells.unit.clone(),
            quantity: cells.quantity.clone(),
            rate: cells.rate.clone(),
            amount: amount.and_then(|a| decimal::rounded(a, self.form.currency.digits)),
            letter: at.0,
            under: at.1,
            twice: twice.map(|r| r.reference.clone()),
        });
    }

    /// Where no line is the form's total, the last sum of the copy is, if nothing with an amount follows it.
    fn last_total(&self, copy: &mut Copy) {
        if copy.sums.contains_key(&Sum::Total) {
            return;
        }
        let last = copy.bids.iter().filter(|b| b.printed.is_some()).filter_map(|b| b.line).max().unwrap_or(0);
        if let Some(at) = copy.other_sums.iter().rposition(|(line, ..)| *line > last) {
            let (line, _, figure) = copy.other_sums.remove(at);
            copy.sums.insert(Sum::Total, (line, figure));
        }
    }
}

/// Where a row of the bidder's own stands.
struct Where {
    letters: Vec<Option<char>>,
    under: bool,
}

fn differs(
    what: &'static str,
    line: usize,
    row: &FormRow,
    says: Phrase,
    printed: String,
    should_be: String,
) -> Finding {
    Finding { line, what, reference: row.reference.clone(), says, printed, should_be, difference: None }
}

/// Words, unit and quantity against the form.
fn changed(
    findings: &mut Vec<Finding>,
    row: &FormRow,
    cells: &Cells,
    words: &Wording,
    quantity: Option<Figure>,
) {
    let mut add = |what, says: Phrase, printed: &str, right: &str| {
        findings.push(differs(what, cells.line, row, says, printed.to_owned(), right.to_owned()));
    };
    if spaced(&cells.words) != spaced(&row.words) {
        add("words", Phrase::with("returned-words", &[&row.words, &cells.words]), &cells.words, &row.words);
    }
    let unit = |text: &str| words.unit(text).map(|u| (u.is.clone(), u.factor));
    let same = unit(&cells.unit).is_some_and(|u| Some(u) == unit(&row.unit));
    if !same && cells.unit.trim().to_lowercase() != row.unit.to_lowercase() {
        add("unit", Phrase::with("returned-unit", &[&row.unit, &cells.unit]), &cells.unit, &row.unit);
    }
    // The base of a percentage is the bidder's own sum: its arithmetic is looked at with the others.
    let Asks::Rate(ours) = row.asks else { return };
    if quantity.is_none_or(|q| q.value != decimal::ratio(ours)) {
        let ours = ours.normalize().to_string();
        let printed = quantity.map_or_else(|| cells.quantity.clone(), Figure::shown);
        add("quantity", Phrase::with("returned-quantity", &[&ours, &printed]), &printed, &ours);
    }
}

/// What a figure is as a fraction; nothing is nothing.
pub(super) fn value(figure: Option<Figure>) -> Ratio {
    figure.map_or(Ratio::ZERO, |f| f.value)
}
