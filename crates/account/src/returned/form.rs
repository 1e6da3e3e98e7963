//! The bill to be priced by others, as plain data: rows without a rate or price of ours.

use rust_decimal::Decimal;
use tankwright_quantities::bill::AddedOn;
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::job::Job;
use tankwright_quantities::money::Currency;
use tankwright_quantities::pricing::added_on;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::Stock;
use tankwright_quantities::words::{Phrase, look_up};
use tankwright_quantities::works::Unit;

use super::notes;
use super::stamp::stamp;

/// Before every mark in a file: what follows is the id of a row.
pub const MARK: &str = "tw:";
/// Letters of what is not measured: preliminaries, provisional items, additions.
pub const PRELIMINARIES: char = 'P';
/// See [`PRELIMINARIES`].
pub const PROVISIONAL: char = 'Q';
/// See [`PRELIMINARIES`].
pub const ADDITIONS: char = 'X';

/// What the bidder says of himself and of his offer, in order: id and key of its label.
pub const FIELDS: [(&str, &str); 7] = [
    ("bidder", "form-bidder"),
    ("contact", "form-contact"),
    ("date", "form-date"),
    ("valid", "form-valid"),
    ("tax", "form-tax"),
    ("time", "form-time"),
    ("terms", "form-terms"),
];

/// How the amount of a row comes about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Asks {
    /// Quantity x rate.
    Rate(Decimal),
    /// Per cent of what this says.
    Percent(AddedOn),
}

/// A row to be priced.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FormRow {
    /// `row/concrete-base/1:2:4`, `P/1`, `X/2`: the same for the same row of the same job.
    pub id: String,
    /// `B3`, `P1`.
    pub reference: String,
    /// Section it stands in.
    pub letter: char,
    /// Wording.
    pub words: String,
    /// Unit.
    pub unit: String,
    /// Rate or percentage.
    pub asks: Asks,
    /// Rate or percentage that whoever asks has set; none: the bidder's.
    pub stated: Option<Decimal>,
}

impl FormRow {
    /// The quantity; none of a percentage.
    #[must_use]
    pub const fn quantity(&self) -> Option<Decimal> {
        match self.asks {
            Asks::Rate(quantity) => Some(quantity),
            Asks::Percent(_) => None,
        }
    }
}

/// A section: its letter, its title.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FormSection {
    /// Letter.
    pub letter: char,
    /// Title.
    pub title: String,
}

impl FormSection {
    /// Is it measured from the drawing?
    #[must_use]
    pub const fn measured(&self) -> bool {
        !matches!(self.letter, PRELIMINARIES | PROVISIONAL | ADDITIONS)
    }
}

/// A sum that the bidder's file shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sum {
    /// Of a section, at its end.
    Section(char),
    /// The same, in the summary.
    Carried(char),
    /// All measured works.
    Measured,
    /// Everything.
    Total,
}

/// One line of the form, in the order of the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Line {
    /// Head of a section or part.
    Heading(String, String),
    /// A row, by its place in [`Form::rows`].
    Row(usize),
    /// A sum, its reference and words.
    Sum(Sum, String, String),
    /// Something the bidder says: id and label.
    Field(&'static str, String),
    /// A free line between parts.
    Gap,
}

/// The bill to be priced.
#[derive(Clone, Debug)]
pub struct Form {
    /// Title of the job.
    pub job: String,
    /// Date of the job.
    pub date: String,
    /// Currency.
    pub currency: Currency,
    /// Sections in order, those of measured works first.
    pub sections: Vec<FormSection>,
    /// Rows in order.
    pub rows: Vec<FormRow>,
    /// What is read before pricing, line by line.
    pub notes: Vec<String>,
    /// Changes with any row: a copy of another form is known by it.
    pub stamp: String,
}

impl Form {
    /// The form of a job: what its bill asks for, whatever is priced in the job left out.
    ///
    /// # Errors
    /// `R048`, `R049`: an addition whose `on` cannot be followed, see [`added_on`].
    pub fn of(e: &Estimate, job: &Job, stock: &Stock) -> Result<Self, Vec<Problem>> {
        let on = added_on(job, stock)?;
        let mut form = Self {
            job: e.title.clone(),
            date: e.date.clone(),
            currency: e.bill.currency.clone(),
            sections: Vec::new(),
            rows: Vec::new(),
            notes: notes::of(e, job, stock),
            stamp: String::new(),
        };
        for section in &e.bill.sections {
            let title = look_up(&format!("section-{}", section.section.id())).to_owned();
            form.sections.push(FormSection { letter: section.letter, title });
            form.rows.extend(section.rows.iter().map(|r| FormRow {
                id: format!("row/{}/{}", r.work.id, r.spec),
                reference: r.reference.clone(),
                letter: section.letter,
                words: r.wording.to_string(),
                unit: r.unit.id().to_owned(),
                asks: Asks::Rate(r.quantity),
                stated: None,
            }));
        }
        form.side(job, "preliminaries", PRELIMINARIES);
        form.section(PRELIMINARIES, "form-preliminaries");
        form.side(job, "provisional", PROVISIONAL);
        form.sums(job);
        form.section(PROVISIONAL, "form-provisional");
        form.additions(job, on);
        form.stamp = stamp(&form);
        Ok(form)
    }

    /// Rows of the job file that are not measured. An amount of the job is ours unless it says that it is stated.
    fn side(&mut self, job: &Job, list: &str, letter: char) {
        for i in 0..job.count_of(list) {
            let path = |key: &str| format!("{list}[{i}].{key}");
            let unit = job.text(&path("unit"));
            let key = if job.has(&path("amount")) { "amount" } else { "rate" };
            let quantity = number(job, &path("quantity")).filter(|_| key == "rate");
            let unit = if unit.is_empty() || key == "amount" { Unit::Item.id() } else { unit };
            let stated = number(job, &path(key)).filter(|_| job.flag(&path("stated")));
            let id = format!("{letter}/{}", i + 1);
            self.push(letter, id, job.text(&path("title")), unit, quantity.unwrap_or(Decimal::ONE), stated);
        }
    }

    /// Prime-cost and provisional sums, which are told to every bidder; profit and attendance are theirs unless stated.
    fn sums(&mut self, job: &Job) {
        let say = |key, title: &str| Phrase::with(key, &[title]).to_string();
        for i in 0..job.count_of("prime_cost") {
            let path = |key: &str| format!("prime_cost[{i}].{key}");
            let (title, amount) =
                (job.text(&path("title")), number(job, &path("amount")).unwrap_or_default());
            let (id, words) = (format!("{PROVISIONAL}/prime-cost/{}", i + 1), say("side-prime-cost", title));
            self.push(PROVISIONAL, id.clone(), &words, Unit::Item.id(), Decimal::ONE, Some(amount));
            let Some(percent) = number(job, &path("percent")) else { continue };
            // So many times one per cent of the sum.
            let each = decimal::product(amount, Decimal::new(1, 2)).unwrap_or_default();
            let stated = Some(percent).filter(|_| job.flag(&path("stated")));
            self.push(PROVISIONAL, format!("{id}/on"), &say("side-attendance", title), "%", each, stated);
        }
        for i in 0..job.count_of("provisional_sum") {
            let path = |key: &str| format!("provisional_sum[{i}].{key}");
            let key = if job.flag(&path("defined")) { "side-sum-defined" } else { "side-sum-undefined" };
            let (id, amount) = (format!("{PROVISIONAL}/sum/{}", i + 1), number(job, &path("amount")));
            let words = say(key, job.text(&path("title")));
            self.push(PROVISIONAL, id, &words, Unit::Item.id(), Decimal::ONE, amount);
        }
    }

    fn push(
        &mut self,
        letter: char,
        id: String,
        words: &str,
        unit: &str,
        quantity: Decimal,
        stated: Option<Decimal>,
    ) {
        let reference = format!("{letter}{}", self.rows_of(letter).count() + 1);
        let (words, unit) = (words.to_owned(), unit.to_owned());
        self.rows.push(FormRow { id, reference, letter, words, unit, asks: Asks::Rate(quantity), stated });
    }

    fn additions(&mut self, job: &Job, on: Vec<AddedOn>) {
        for (i, on) in on.into_iter().enumerate() {
            let path = |key: &str| format!("additions.list[{i}].{key}");
            let fixed = !job.has(&path("percent")) && job.has(&path("amount"));
            let key = if fixed { "amount" } else { "percent" };
            self.rows.push(FormRow {
                id: format!("{ADDITIONS}/{}", i + 1),
                reference: format!("{ADDITIONS}{}", i + 1),
                letter: ADDITIONS,
                words: job.text(&path("title")).to_owned(),
                unit: if fixed { Unit::Item.id() } else { "%" }.to_owned(),
                asks: if fixed { Asks::Rate(Decimal::ONE) } else { Asks::Percent(on) },
                stated: number(job, &path(key)).filter(|_| job.flag(&path("stated"))),
            });
        }
        self.section(ADDITIONS, "form-additions");
    }

    fn section(&mut self, letter: char, title: &'static str) {
        if self.rows.iter().any(|r| r.letter == letter) {
            self.sections.push(FormSection { letter, title: look_up(title).to_owned() });
        }
    }

    /// Places of the rows of a section.
    pub fn rows_of(&self, letter: char) -> impl Iterator<Item = usize> + '_ {
        self.rows.iter().enumerate().filter(move |(_, r)| r.letter == letter).map(|(i, _)| i)
    }

    /// Title of the form, and the remark under it.
    #[must_use]
    pub fn head(&self) -> [String; 2] {
        let say = |key, args: &[&str]| Phrase::with(key, args).to_string();
        [say("form-title", &[&self.job]), say("form-remark", &[&self.date])]
    }

    /// Every line in the order of the file, without the notes.
    #[must_use]
    pub fn lines(&self) -> Vec<Line> {
        let say = |key, args: &[&str]| Phrase::with(key, args).to_string();
        let mut lines = Vec::new();
        for s in self.sections.iter().filter(|s| s.letter != ADDITIONS) {
            let letter = s.letter.to_string();
            lines.push(Line::Heading(letter.clone(), s.title.clone()));
            lines.extend(self.rows_of(s.letter).map(Line::Row));
            let words = say("form-section-total", &[&letter, &s.title]);
            lines.push(Line::Sum(Sum::Section(s.letter), String::new(), words));
            lines.push(Line::Gap);
        }
        lines.push(Line::Heading(String::new(), look_up("form-summary").to_owned()));
        for s in self.sections.iter().filter(|s| s.letter != ADDITIONS) {
            let words = say("form-carried", &[&s.letter.to_string(), &s.title]);
            lines.push(Line::Sum(Sum::Carried(s.letter), String::new(), words));
            if s.measured() && self.sections.iter().rfind(|o| o.measured()) == Some(s) {
                let words = look_up("form-measured").to_owned();
                lines.push(Line::Sum(Sum::Measured, String::new(), words));
            }
        }
        lines.extend(self.rows_of(ADDITIONS).map(Line::Row));
        let words = say("form-total", &[&self.currency.code]);
        lines.push(Line::Sum(Sum::Total, String::new(), words));
        lines.push(Line::Gap);
        lines.push(Line::Heading(String::new(), look_up("form-offer").to_owned()));
        lines.extend(FIELDS.iter().map(|(id, key)| Line::Field(id, look_up(key).to_owned())));
        lines
    }
}

/// The mark of a line, for the column nobody needs to see.
#[must_use]
pub fn mark(form: &Form, line: &Line) -> String {
    let id = match line {
        Line::Heading(..) => "text".to_owned(),
        Line::Row(i) => form.rows.get(*i).map(|r| r.id.clone()).unwrap_or_default(),
        Line::Sum(Sum::Section(letter), ..) => format!("total/{letter}"),
        Line::Sum(Sum::Carried(letter), ..) => format!("carried/{letter}"),
        Line::Sum(Sum::Measured, ..) => "measured".to_owned(),
        Line::Sum(Sum::Total, ..) => "total".to_owned(),
        Line::Field(id, _) => format!("field/{id}"),
        Line::Gap => return String::new(),
    };
    format!("{MARK}{id}")
}

/// The mark of the row of heads: with the stamp of the form.
#[must_use]
pub fn head_mark(form: &Form) -> String {
    format!("{MARK}form/{}", form.stamp)
}

/// A number of the job file as a decimal.
fn number(job: &Job, path: &str) -> Option<Decimal> {
    let value = job.number(path)?;
    (0..=12).find_map(|p| decimal::rounded(value, p).filter(|d| decimal::ratio(*d) == value))
}
