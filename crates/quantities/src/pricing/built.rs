//! Rates built up, where the list does not price a work directly: all that is missing is told at once.

use std::collections::{BTreeMap, BTreeSet};

use super::rates::{Rate, adds_to, place};
use crate::bill::{BillRow, RateFrom, code, rate_row};
use crate::build_up::{Asked, Cost, Lacking, Outline, Why, Worked, priced};
use crate::problem::Problem;
use crate::rates::{PriceKind, PriceList, PriceRow};

/// A rate as built up.
#[derive(Debug)]
pub(super) struct Built {
    /// What gives the row's rate.
    pub(super) worked: Worked,
    /// The rate with its materials, where the row's is one of labour.
    pub(super) full: Option<Worked>,
}

/// Who needs a row that is lacking: references of the bill, and the row that prices the first work itself.
type Needed = (Lacking, Vec<String>, String);

/// Builds rates row by row, and remembers what is lacking.
#[derive(Debug)]
pub(super) struct Builder<'a> {
    asked: Asked<'a>,
    /// The client buys the materials.
    labour_only: bool,
    /// Rates of labour are asked for with their materials too.
    with_full: bool,
    lacking: BTreeMap<(PriceKind, String), Needed>,
    problems: Vec<Problem>,
}

impl<'a> Builder<'a> {
    pub(super) const fn new(asked: Asked<'a>, labour_only: bool, with_full: bool) -> Self {
        Self { asked, labour_only, with_full, lacking: BTreeMap::new(), problems: Vec::new() }
    }

    /// Is the rate of a row built up by this list? A list of works alone is not meant to build anything up.
    pub(super) fn builds(&self, row: &BillRow) -> bool {
        row.outline.is_some() && self.asked.prices.builds_up()
    }

    /// The rate of a row with where it comes from; why there is none is told by [`Self::tell`].
    pub(super) fn build(&mut self, row: &BillRow) -> Option<(Rate, Built)> {
        let outline = row.outline.as_deref()?;
        if outline.mixed {
            self.problems.push(mixed(row));
            return None;
        }
        let rate = self.worked(row, outline, !self.labour_only);
        let both = self.labour_only && self.with_full;
        let full = if both { Some(self.worked(row, outline, true)?) } else { None };
        let worked = rate?;
        Some((found(&worked, self.asked.prices), Built { worked, full }))
    }

    fn worked(&mut self, row: &BillRow, outline: &Outline, materials: bool) -> Option<Worked> {
        let (lacking, word) = match priced(outline, materials, self.asked) {
            Ok(worked) => return Some(worked),
            Err(why) => why,
        };
        if lacking.is_empty() {
            self.problems.push(self.unsound(row, outline, &word));
        }
        let (currency, date) = self.asked.row;
        for one in lacking {
            let key = (one.kind, one.code.clone());
            let itself = || rate_row(row, currency, date);
            let (_, rows, _) = self.lacking.entry(key).or_insert_with(|| (one, Vec::new(), itself()));
            if !rows.contains(&row.reference) {
                rows.push(row.reference.clone());
            }
        }
        None
    }

    fn unsound(&self, row: &BillRow, outline: &Outline, word: &str) -> Problem {
        if word.is_empty() {
            return super::too_large(self.asked.prices);
        }
        let (reference, code, file) = (&row.reference, &outline.code, &outline.file);
        let what = format!(
            "{reference}: a percentage of the build-up `{code}` is taken on `{word}`, which it has not"
        );
        let hint = format!("see {file}: name materials, labour, plant, or the code of an earlier line");
        Problem::error("R102", None, what).hint(hint)
    }

    /// All that the list lacks, each row once with the rows of the bill that need it.
    pub(super) fn tell(self, problems: &mut Vec<Problem>) {
        let list = self.asked.prices;
        let to = adds_to(&list.name);
        problems.extend(self.problems);
        for (Lacking { kind, code, why, row, .. }, rows, itself) in self.lacking.into_values() {
            let (kind, needs) = (kind.id(), rows.join(", "));
            let first = rows.first().map_or("", String::as_str);
            let more = if rows.len() > 1 { ", and so for the others" } else { "" };
            let add = format!(
                "add this row to {to}, with rate and source: {row}; or price {first} itself{more}: {itself}"
            );
            let at = |line: usize| list.rows.iter().find(|r| r.line == line).and_then(|r| place(list, r));
            problems.push(match why {
                Why::Missing => {
                    let what = format!(
                        "{} has no rate for {kind} `{code}`, which the build-ups of {needs} need",
                        list.name
                    );
                    Problem::error("R100", None, what).hint(add)
                }
                Why::Unit(line, unit) => {
                    let what = format!(
                        "the rate for {kind} `{code}` is for {unit}: the build-ups of {needs} cannot use it"
                    );
                    Problem::error("R100", at(line), what).label("nothing is converted").hint(add)
                }
                Why::Empty(line) => {
                    let what =
                        format!("{kind} `{code}` has an empty rate, and the build-ups of {needs} need it");
                    let hint = format!(
                        "fill in rate, date and source; nothing is priced at zero unless the rate says 0; or price {first} itself{more}: {itself}"
                    );
                    Problem::error("R100", at(line), what).label("no rate in this row").hint(hint)
                }
            });
        }
    }
}

fn mixed(row: &BillRow) -> Problem {
    let code = code(row);
    let what = format!(
        "{} `{code}` holds works of different bricks, mortars or coats: no one build-up is theirs",
        row.reference
    );
    let hint = "give the work a row of its own in the price list, or make them alike";
    Problem::error("R106", None, what).hint(hint)
}

/// The rate and its source: the list and the build-up, with the oldest date.
fn found(worked: &Worked, prices: &PriceList) -> Rate {
    let (code, file) = worked.build_up.clone();
    let date = dates(worked).min().unwrap_or_default().to_owned();
    let from =
        RateFrom { code, list: prices.name.clone(), line: 0, date, source: file, less_specific: false };
    (worked.rate, from)
}

/// Dates of all rates in an analysis.
pub(super) fn dates(worked: &Worked) -> impl Iterator<Item = &str> {
    froms(worked).map(|f| f.date.as_str())
}

fn froms(worked: &Worked) -> impl Iterator<Item = &RateFrom> {
    worked.lines.iter().filter_map(|l| match &l.line.cost {
        Cost::Priced { from, .. } => from.as_deref(),
        Cost::Percent(..) => None,
    })
}

/// Rows of the list that built rates use, each once.
pub(super) fn used<'p>(prices: &'p PriceList, built: &[Option<Built>]) -> Vec<&'p PriceRow> {
    let lines: BTreeSet<usize> =
        built.iter().flatten().flat_map(|b| froms(&b.worked)).map(|f| f.line).collect();
    prices.rows.iter().filter(|r| lines.contains(&r.line)).collect()
}
