//! Their own arithmetic: dimensions multiplied, quantities priced, pages and totals added again.

use tankwright_geometry::{Ratio, parse};
use tankwright_quantities::words::Phrase;

use crate::figure::Figure;
use crate::own::{self, made, of_digits};
use crate::read::{Entry, Kind};
use crate::report::{Explanation, Slip};
use crate::wording::Makes;

/// Every slip, in the order of the lines.
#[must_use]
pub fn check(entries: &[Entry]) -> Vec<Slip> {
    let mut slips: Vec<Slip> =
        entries.iter().filter(|e| e.kind == Kind::Line).filter_map(own::slip).collect();
    slips.extend(entries.iter().filter(|e| e.kind == Kind::Line).filter_map(extension));
    slips.extend(totals(entries, |e| e.amount));
    let priced = entries.iter().any(|e| e.kind == Kind::Line && e.amount.is_some());
    if !priced {
        slips.extend(totals(entries, |e| e.quantity));
    }
    slips.sort_by_key(|s| s.line);
    slips
}

/// Quantity x rate against the amount.
#[must_use]
pub fn extension(entry: &Entry) -> Option<Slip> {
    let (quantity, rate, printed) = (entry.quantity?, entry.rate?, entry.amount?);
    let product = quantity.value * rate.value;
    let right = match entry.makes {
        Makes::Product => product,
        Makes::Share => product / Ratio::int(100),
        Makes::Rounding => return None,
    };
    if printed.prints(right) {
        return None;
    }
    let mut explained = vec![Explanation {
        mistakes: vec!["extension-wrong"],
        says: vec![Phrase::with("cross-extension", &[&quantity.shown(), &rate.shown()])],
    }];
    if printed.cut_off(right) {
        explained.push(one("cut-not-rounded", Phrase::new("cross-cut")));
    }
    explained.extend(of_digits(printed, right));
    Some(made("extension", entry, printed, right, explained))
}

fn one(id: &'static str, says: Phrase) -> Explanation {
    Explanation { mistakes: vec![id], says: vec![says] }
}

fn totals(entries: &[Entry], of: fn(&Entry) -> Option<Figure>) -> Vec<Slip> {
    let (mut slips, mut adding) = (Vec::new(), Adding::NEW);
    for entry in entries {
        let Some(figure) = of(entry) else { continue };
        // Money has no unit; quantities are added in ours, lines of another kind apart.
        if let Some(unit) = entry.unit.as_ref().filter(|_| entry.amount.is_none()) {
            adding.kind = Some(unit.is.clone());
            adding.factor = unit.factor;
        }
        match (entry.kind, percent(&entry.text)) {
            (Kind::Brought, _) => {
                if let Some(last) = adding.last.filter(|l| !figure.prints(*l)) {
                    let explained = of_digits(figure, last).into_iter().collect();
                    slips.push(made("brought", entry, figure, last, explained));
                }
                adding.subtotals.pop();
                adding.add(entry.line, figure.value);
            }
            // "Add 10 %": of what came before it.
            (_, Some(percent)) if entry.rate.is_none() && entry.dims.is_empty() && adding.any() => {
                slips.extend(adding.percentage(entry, figure, percent));
            }
            (Kind::Line, _) => adding.add(entry.line, figure.value),
            (Kind::Total, _) => slips.extend(adding.total(entry, figure)),
            (Kind::Words, _) => {}
        }
    }
    slips
}

/// What is being added, in our units.
struct Adding {
    /// Since the last total: line, amount, unit.
    since: Vec<(usize, Ratio, Option<String>)>,
    /// Totals that are not yet in another total.
    subtotals: Vec<(usize, Ratio)>,
    /// All lines.
    all: Ratio,
    last: Option<Ratio>,
    /// Unit of the line at hand, and how many of ours it is.
    kind: Option<String>,
    factor: Ratio,
}

impl Adding {
    const NEW: Self = Self {
        since: Vec::new(),
        subtotals: Vec::new(),
        all: Ratio::ZERO,
        last: None,
        kind: None,
        factor: Ratio::ONE,
    };

    fn any(&self) -> bool {
        !self.since.is_empty() || self.last.is_some()
    }

    fn add(&mut self, line: usize, value: Ratio) {
        let value = value * self.factor;
        self.since.push((line, value, self.kind.clone()));
        self.all = self.all + value;
    }

    /// Lines since the last total, of the unit of the total.
    fn lines(&self) -> impl Iterator<Item = (usize, Ratio)> + '_ {
        self.since.iter().filter(|(_, _, kind)| *kind == self.kind).map(|(line, value, _)| (*line, *value))
    }

    fn sum(&self) -> Ratio {
        self.lines().map(|(_, v)| v).sum()
    }

    /// Everything that a total here may be of: lines since the last one, totals, both, the last total and what was
    /// added to it, all lines.
    fn candidates(&self) -> Vec<Ratio> {
        let since = self.sum();
        let subtotals: Ratio = self.subtotals.iter().map(|(_, v)| *v).sum();
        let mut all = Vec::new();
        if !self.since.is_empty() {
            all.push(since);
        }
        if !self.subtotals.is_empty() {
            all.push(subtotals + since);
        }
        all.extend(self.last.map(|l| l + since));
        all.push(self.all);
        all.into_iter().map(|c| c / self.factor).collect()
    }

    fn total(&mut self, entry: &Entry, printed: Figure) -> Option<Slip> {
        let candidates = self.candidates();
        let grand = self.since.is_empty() || !printed.prints(self.sum() / self.factor);
        let good = candidates.iter().any(|c| printed.prints(*c));
        let slip = (!good).then(|| {
            let wide = ["grand", "summary", "whole"].iter().any(|w| entry.text.to_lowercase().contains(w));
            let right = if wide { candidates.get(1) } else { candidates.first() };
            let right = right.or(candidates.first()).copied().unwrap_or(Ratio::ZERO);
            made("total", entry, printed, right, self.why(printed, right))
        });
        if grand && good {
            self.subtotals.clear();
        }
        self.close(entry.line, printed);
        slip
    }

    /// A total stands for what came before it.
    fn close(&mut self, line: usize, printed: Figure) {
        let value = printed.value * self.factor;
        self.subtotals.push((line, value));
        self.since.clear();
        self.last = Some(value);
    }

    /// A line summed twice or left out, a total added in again, digits.
    fn why(&self, printed: Figure, right: Ratio) -> Vec<Explanation> {
        let gives = |v: Ratio| printed.prints(v);
        let mut explained = Vec::new();
        for (line, value) in self.lines().map(|(l, v)| (l, v / self.factor)) {
            if gives(right + value) {
                explained.push(one("counted-twice", Phrase::with("cross-sum-twice", &[&line.to_string()])));
            }
            if gives(right - value) {
                explained
                    .push(one("line-left-out", Phrase::with("cross-sum-left-out", &[&line.to_string()])));
            }
        }
        for (line, value) in self.subtotals.iter().map(|(l, v)| (l, *v / self.factor)) {
            if gives(right + value) {
                explained
                    .push(one("subtotal-added", Phrase::with("cross-sum-subtotal", &[&line.to_string()])));
            }
        }
        if printed.cut_off(right) {
            explained.push(one("cut-not-rounded", Phrase::new("cross-cut")));
        }
        explained.extend(of_digits(printed, right));
        explained
    }

    /// A percentage: the addition alone, or the total with it.
    fn percentage(&mut self, entry: &Entry, printed: Figure, percent: Ratio) -> Option<Slip> {
        let share = percent / Ratio::int(100);
        let candidates = self.candidates();
        let added = candidates.iter().any(|c| printed.prints(*c * share));
        let whole = candidates.iter().any(|c| printed.prints(*c * (Ratio::ONE + share)));
        let slip = |right: Ratio| {
            made("percentage", entry, printed, right, of_digits(printed, right).into_iter().collect())
        };
        if whole || entry.kind == Kind::Total {
            let first = candidates.first().copied().unwrap_or(Ratio::ZERO);
            self.subtotals.clear();
            self.close(entry.line, printed);
            return (!whole).then(|| slip(first * (Ratio::ONE + share)));
        }
        let base = self.last.unwrap_or_else(|| self.sum()) / self.factor;
        // Near the whole with its addition: that is what was meant.
        let near = |c: &&Ratio| printed.value >= **c && printed.value <= **c * Ratio::int(2);
        let right = candidates.iter().find(near).map_or(base * share, |c| *c * (Ratio::ONE + share));
        self.add(entry.line, printed.value);
        (!added).then(|| slip(right))
    }
}

/// The per cent a text names: `Add 10 %`, `VAT 18%`.
fn percent(text: &str) -> Option<Ratio> {
    let before = text.split_once('%')?.0.trim_end();
    let start = before.rfind(|c: char| !(c.is_ascii_digit() || c == '.')).map_or(0, |i| i + 1);
    parse::decimal(before.get(start..)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::read;
    use crate::rows::of_csv;
    use crate::wording::builtin;

    fn slips(csv: &str) -> Vec<(usize, &'static str, String, Vec<&'static str>)> {
        let theirs = read("x.csv", &of_csv(csv), builtin()).unwrap_or_default();
        let ids = |s: &Slip| s.explained.iter().map(|e| e.mistakes[0]).collect();
        check(&theirs.entries).iter().map(|s| (s.line, s.what, s.should_be.to_string(), ids(s))).collect()
    }

    const HEAD: &str = "description,unit,quantity,rate,amount\n";

    #[test]
    fn a_bill_that_adds_up() {
        let good = "EARTH,,,,\ndig,m3,2,10,20\ncart,m3,3,5,15\nCarried to summary,,,,35\nWALLS,,,,\n\
                    walls,m2,4,5,20\nSub-total,,,,20\nTotal,,,,55\nVAT 18 %,,,,9.90\nGrand total,,,,64.90\n";
        assert_eq!(slips(&format!("{HEAD}{good}")), []);
    }

    #[test]
    fn percentages_by_their_unit_and_totals_behind_their_names() {
        // As the bill of our own workbook has it: 5 % of 55 is 2.75, 57.75 up to the next 10 is 60.
        let ours = "EARTH,,,,\ndig,m3,2,10,20\ncart,m3,3,5,15\n\"A Earth, total\",,,,35\nWALLS,,,,\nwalls,m2,4,5,20\n\
                    \"B Walls, total\",,,,20\nMeasured works,,,,55\nContingency,%,5,55,2.75\nRounding,up to,10,57.75,2.25\n\
                    \"Total, UGX\",,,,60\n";
        assert_eq!(slips(&format!("{HEAD}{ours}")), []);
        let bad = ours.replace("2.75\n", "27.50\n").replace("2.25", "-22.50");
        let found = slips(&format!("{HEAD}{bad}"));
        assert_eq!(found.iter().map(|s| (s.1, s.2.as_str())).collect::<Vec<_>>(), [("extension", "2.75")]);
        // What is measured in total is a line.
        let line = "\"dig, in total\",m3,2,10,20\nwalls,m2,4,5,20\nTotal,,,,40\n";
        assert_eq!(slips(&format!("{HEAD}{line}")), []);
    }

    #[test]
    fn extensions_and_sums() {
        // 3 x 5 = 15; 20 + 51 = 71, not 91: line 2 twice; the total 91 and its VAT 18 % 16.38, not 13.68
        let bad = "dig,m3,2,10,20\ncart,m3,3,5,51\nTotal,,,,91\nVAT 18 %,,,,13.68\n";
        let found = slips(&format!("{HEAD}{bad}"));
        assert_eq!(found[0], (3, "extension", "15".into(), vec!["extension-wrong", "digits-swapped"]));
        assert_eq!(found[1], (4, "total", "71".into(), vec!["counted-twice"]));
        assert_eq!((found[2].0, found[2].1, found[2].2.as_str()), (5, "percentage", "16.38"));
    }

    #[test]
    fn a_subtotal_added_in_again() {
        // 1.22 + 0.29 + 0.42 = 1.93; 1.22 + 0.29 + 1.93 = 3.44 by mistake
        let bad = "mortar,m3,1.22,,\nplaster,m3,0.29,,\nTotal,m3,1.51,,\nslab,m3,0.42,,\nTotal,m3,1.94,,\n";
        let found = slips(&format!("{HEAD}{bad}"));
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!((found[0].0, found[0].1), (6, "total"));
    }

    #[test]
    fn pages_carried_and_brought() {
        let bad =
            "dig,m3,2,10,20\nCarried forward,,,,20\nBrought forward,,,,22\ncart,m3,3,5,15\nTotal,,,,37\n";
        assert_eq!(slips(&format!("{HEAD}{bad}"))[0].1, "brought");
    }
}
