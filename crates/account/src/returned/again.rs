//! A copy's own arithmetic, worked again: extensions, sections, summary, percentages, the sum in total.
//!
//! A sum is right where it is the sum of the amounts as printed, or of the right ones: one slip is told once, not again in
//! every sum above it.

use tankwright_crosscheck::arithmetic;
use tankwright_crosscheck::figure::{Figure, step};
use tankwright_crosscheck::read::Entry;
use tankwright_geometry::Ratio;
use tankwright_quantities::bill::AddedOn;
use tankwright_quantities::decimal;
use tankwright_quantities::words::Phrase;

use super::copy::{Copy, Finding, value};
use super::form::{ADDITIONS, Asks, Form, Sum};
use super::state::State;

/// Looks at the arithmetic of a copy; what is found joins its findings, in the order of the lines.
pub(super) fn check(form: &Form, copy: &mut Copy) {
    let again = Again::new(form, copy);
    let mut found = again.extensions();
    found.extend(again.sums());
    copy.findings.extend(found);
    copy.findings.sort_by_key(|f| f.line);
}

/// Looks at the sums that the form does not have, as the cross-check does.
pub(super) fn own_sums(entries: &[Entry], copy: &mut Copy) {
    let mine = |line: usize| copy.other_sums.iter().any(|(l, ..)| *l == line);
    let slips = arithmetic::check(entries).into_iter().filter(|s| s.what != "extension" && mine(s.line));
    let found: Vec<Finding> = slips
        .map(|s| {
            let (printed, should_be) = (s.printed.to_string(), s.should_be.to_string());
            let says = Phrase::with("returned-sum", &[&should_be, &printed]);
            let difference = Some(s.difference);
            Finding {
                line: s.line,
                what: "total",
                reference: String::new(),
                says,
                printed,
                should_be,
                difference,
            }
        })
        .collect();
    copy.findings.extend(found);
    copy.findings.sort_by_key(|f| f.line);
}

/// How far back a sum goes: to the sums printed nearest to it, to the rows as printed, to the right amounts.
#[derive(Clone, Copy, PartialEq, Eq)]
enum From {
    Sums,
    Rows,
    Right,
}

const WAYS: [From; 3] = [From::Sums, From::Rows, From::Right];

struct Again<'a> {
    form: &'a Form,
    copy: &'a Copy,
    /// Places that the copy's amounts are printed to, not beyond the currency's.
    places: u32,
}

impl<'a> Again<'a> {
    fn new(form: &'a Form, copy: &'a Copy) -> Self {
        let printed = copy.bids.iter().filter_map(|b| b.printed).map(|p| p.places).max();
        let digits = form.currency.digits;
        Self { form, copy, places: printed.map_or(digits, |p| p.min(digits)) }
    }

    /// Is a figure this amount? One printed finer than money is takes half of the smallest unit more or less.
    fn agrees(&self, printed: Figure, amount: Ratio) -> bool {
        let digits = self.form.currency.digits;
        if printed.places > digits {
            return (printed.value - amount).abs() * Ratio::int(2) < step(digits);
        }
        Figure { places: printed.places.max(self.places), ..printed }.prints(amount)
    }

    fn rounded(&self, amount: Ratio) -> Ratio {
        amount.round_half_away(step(self.places))
    }

    /// Quantity x rate of a row that is no percentage: by the form's quantity, and by the one printed.
    fn products(&self, row: usize) -> Vec<Ratio> {
        let (Some(bid), Some(form)) = (self.copy.bids.get(row), self.form.rows.get(row)) else {
            return Vec::new();
        };
        let (Some(rate), Asks::Rate(ours)) = (bid.rate, &form.asks) else { return Vec::new() };
        let theirs = bid.quantity.map(|q| q.value * rate.value);
        [Some(decimal::ratio(*ours) * rate.value), theirs].into_iter().flatten().collect()
    }

    fn extensions(&self) -> Vec<Finding> {
        let wrong = |(row, bid): (usize, &super::copy::Bid)| {
            let (line, printed) = (bid.line?, bid.printed?);
            let all = self.products(row);
            let right = *all.last()?;
            if all.iter().any(|a| self.agrees(printed, *a)) {
                return None;
            }
            let quantity = bid.quantity.map(Figure::shown).unwrap_or_default();
            let rate = bid.rate.map(Figure::shown).unwrap_or_default();
            let right = self.rounded(right);
            let args = vec![quantity, rate, self.shown(right), printed.shown()];
            let says = Phrase { key: "returned-extension", args };
            Some(self.finding("extension", line, row, says, printed, right))
        };
        self.copy.bids.iter().enumerate().filter_map(wrong).collect()
    }

    fn shown(&self, amount: Ratio) -> String {
        decimal::rounded(amount, self.form.currency.digits)
            .map_or_else(String::new, |d| decimal::shown(d, self.form.currency.digits))
    }

    fn finding(
        &self,
        what: &'static str,
        line: usize,
        row: usize,
        says: Phrase,
        printed: Figure,
        right: Ratio,
    ) -> Finding {
        let reference = self.form.rows.get(row).map(|r| r.reference.clone()).unwrap_or_default();
        let difference = decimal::rounded(printed.value - right, self.form.currency.digits);
        let (printed, should_be) = (printed.shown(), self.shown(right));
        Finding { line, what, reference, says, printed, should_be, difference }
    }

    /// The amount of a row that is no percentage.
    fn amount(&self, row: usize, from: From) -> Ratio {
        let Some(bid) = self.copy.bids.get(row) else { return Ratio::ZERO };
        let printed = bid.printed.filter(|_| from != From::Right || bid.state == State::Lump);
        let right = || self.products(row).first().map_or(Ratio::ZERO, |a| self.rounded(*a));
        printed.map_or_else(right, |p| p.value)
    }

    fn added(&self, letter: Option<char>, above: usize) -> Ratio {
        self.copy.added_to(letter, above).map(decimal::ratio).sum()
    }

    fn printed(&self, sum: Sum, from: From) -> Option<Ratio> {
        self.copy.sums.get(&sum).filter(|_| from == From::Sums).map(|(_, f)| f.value)
    }

    /// Rows of a section, the bidder's own among them.
    fn rows(&self, letter: char, from: From) -> Ratio {
        self.form.rows_of(letter).map(|i| self.amount(i, from)).sum::<Ratio>()
            + self.added(Some(letter), usize::MAX)
    }

    fn section(&self, letter: char, from: From) -> Ratio {
        let printed = |sum| self.printed(sum, from);
        let nearest = printed(Sum::Carried(letter)).or_else(|| printed(Sum::Section(letter)));
        nearest.unwrap_or_else(|| self.rows(letter, from))
    }

    fn measured(&self, from: From) -> Ratio {
        let letters = self.form.sections.iter().filter(|s| s.measured()).map(|s| s.letter);
        self.printed(Sum::Measured, from).unwrap_or_else(|| letters.map(|l| self.section(l, from)).sum())
    }

    /// All before an addition that stands on this line, without the additions before it.
    fn before(&self, from: From, line: usize) -> Ratio {
        let sides = self.form.sections.iter().filter(|s| !s.measured() && s.letter != ADDITIONS);
        let sides: Ratio = sides.map(|s| self.section(s.letter, from)).sum();
        self.measured(from) + sides + self.added(None, line)
    }

    /// The amounts of the additions, in order, each with its base.
    fn additions(&self, from: From) -> Vec<(usize, Ratio, Ratio)> {
        let mut done: Vec<(usize, Ratio, Ratio)> = Vec::new();
        for row in self.form.rows_of(ADDITIONS) {
            let Some(asks) = self.form.rows.get(row).map(|r| &r.asks) else { continue };
            let line = self.copy.bids.get(row).and_then(|b| b.line).unwrap_or(usize::MAX);
            let base = match asks {
                Asks::Rate(_) => Ratio::ZERO,
                Asks::Percent(AddedOn::Measured | AddedOn::Amount) => self.measured(from),
                Asks::Percent(AddedOn::Running) => {
                    self.before(from, line) + done.iter().map(|(_, _, a)| *a).sum::<Ratio>()
                }
                Asks::Percent(AddedOn::Titles(at)) => {
                    let of = at.iter().filter_map(|i| done.get(*i)).map(|(_, _, a)| *a);
                    self.measured(from) + of.sum::<Ratio>()
                }
            };
            let amount = match asks {
                Asks::Rate(_) => self.amount(row, from),
                Asks::Percent(_) => {
                    let bid = self.copy.bids.get(row);
                    let share = base * value(bid.and_then(|b| b.rate)) / Ratio::int(100);
                    let printed = bid.and_then(|b| b.printed).filter(|_| from != From::Right);
                    printed.map_or_else(|| self.rounded(share), |p| p.value)
                }
            };
            done.push((row, base, amount));
        }
        done
    }

    fn sums(&self) -> Vec<Finding> {
        let mut found = Vec::new();
        for (sum, (line, printed)) in &self.copy.sums {
            let below = |from| match sum {
                // What a sum itself prints is no witness for it.
                Sum::Section(l) => self.rows(*l, from),
                Sum::Carried(l) => {
                    self.printed(Sum::Section(*l), from).unwrap_or_else(|| self.rows(*l, from))
                }
                Sum::Measured => {
                    let letters = self.form.sections.iter().filter(|s| s.measured());
                    letters.map(|s| self.section(s.letter, from)).sum()
                }
                Sum::Total => {
                    self.before(from, usize::MAX)
                        + self.additions(from).iter().map(|(_, _, a)| *a).sum::<Ratio>()
                }
            };
            let ways = WAYS.map(below);
            if ways.iter().any(|w| self.agrees(*printed, *w)) {
                continue;
            }
            let right = self.rounded(ways[0]);
            let says = Phrase::with("returned-sum", &[&self.shown(right), &printed.shown()]);
            let mut finding = self.finding("total", *line, usize::MAX, says, *printed, right);
            finding.reference = match sum {
                Sum::Section(l) | Sum::Carried(l) => l.to_string(),
                Sum::Measured | Sum::Total => String::new(),
            };
            found.push(finding);
        }
        found.extend(self.percentages());
        found
    }

    /// Bases and amounts of the additions.
    fn percentages(&self) -> Vec<Finding> {
        let ways = WAYS.map(|from| self.additions(from));
        let mut found = Vec::new();
        for (i, (row, ..)) in ways[0].iter().enumerate() {
            let (Some(bid), Some(form)) = (self.copy.bids.get(*row), self.form.rows.get(*row)) else {
                continue;
            };
            let (Some(line), Asks::Percent(_)) = (bid.line, &form.asks) else { continue };
            let mut bases: Vec<Ratio> =
                ways.iter().filter_map(|w| w.get(i)).map(|(_, base, _)| *base).collect();
            if let Some(printed) = bid.quantity.filter(|q| !bases.iter().any(|b| self.agrees(*q, *b))) {
                let right = self.rounded(bases.first().copied().unwrap_or(Ratio::ZERO));
                let says = Phrase::with("returned-base", &[&self.shown(right), &printed.shown()]);
                found.push(self.finding("base", line, *row, says, printed, right));
            }
            // The share of the base as printed is right as far as this row goes.
            bases.extend(bid.quantity.map(|q| q.value));
            let (Some(printed), Some(rate)) = (bid.printed, bid.rate) else { continue };
            let share = |base: &Ratio| *base * rate.value / Ratio::int(100);
            if bases.iter().any(|b| self.agrees(printed, share(b))) {
                continue;
            }
            let right = self.rounded(bases.last().map_or(Ratio::ZERO, share));
            let args = vec![rate.shown(), self.shown(right), printed.shown()];
            let says = Phrase { key: "returned-percentage", args };
            found.push(self.finding("percentage", line, *row, says, printed, right));
        }
        found
    }
}
