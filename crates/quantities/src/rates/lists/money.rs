//! The rate of a row: which of two readings, for how many units, how much of it is tax. Exact, rounded once.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use super::columns::Columns;
use super::heads::{Column, percent};
use super::notes::tax_said;
use super::numbers::{self, Mark, NoNumber, Seen};
use super::units::{self, UnitSeen};
use crate::decimal::{plain, ratio, rounded};
use crate::placed::PlacedRow as Row;
use crate::rates::price_read::{Named, Reader, Worked};

/// Places of a rate that does not end before.
const PLACES: u32 = 6;

/// What people write where there is no price yet.
const LATER: [&str; 12] = [
    "-",
    "\u{2013}",
    "\u{2014}",
    "poa",
    "on request",
    "price on request",
    "call",
    "ask",
    "tba",
    "tbc",
    "n/a",
    "na",
];

/// A rate, and what is said of it beside its source.
pub(super) struct Rate {
    pub(super) value: Decimal,
    pub(super) note: String,
}

impl Reader<'_> {
    /// Finds the list's decimal mark: from numbers that can be read in one way only.
    pub(in crate::rates) fn marks(&mut self, table: &[Row], columns: &Columns) {
        let mut first: Option<(Mark, usize)> = self.mark.map(|m| (m, 0));
        for row in table {
            let named = Named { row, columns };
            if self.is_number(&named) || !self.is_row(&named) {
                continue;
            }
            let currency = self.notes.currency.clone().unwrap_or_default();
            let Ok(Seen::With(_, mark)) = numbers::read(named.cell(Column::Rate), &currency) else {
                continue;
            };
            match first {
                None => first = Some((mark, row.line)),
                Some((other, line)) if other != mark => {
                    let label = match line {
                        0 => "otherwise than is said of the list".to_owned(),
                        line => format!("otherwise than line {line}"),
                    };
                    let hint = "write all rates of a list in one way: 1,234.50 or 1.234,50";
                    let message = "rates with a decimal point and rates with a decimal comma in one list";
                    self.at("R056", &named, Column::Rate, [message, &label, hint]);
                    break;
                }
                Some(_) => {}
            }
        }
        self.mark = first.map(|(mark, _)| mark);
    }

    /// Is the rate a number of a spreadsheet, which needs no reading?
    fn is_number(&self, named: &Named<'_>) -> bool {
        named.columns.at(Column::Rate).is_some_and(|i| self.reading.numbers.contains(&(named.row.line, i)))
    }

    /// `None`: wrong and reported. `Some(None)`: left empty.
    pub(super) fn rate(
        &mut self,
        named: &Named<'_>,
        unit: Option<&UnitSeen>,
        currency: &str,
        code: &str,
    ) -> Option<Option<Rate>> {
        let text = named.cell(Column::Rate);
        if text.is_empty() || (!named.columns.own_form && LATER.contains(&text.to_lowercase().as_str())) {
            return Some(None);
        }
        let written = self.written(named, currency);
        let per = self.per(named, unit?);
        let tax = self.tax(named);
        let (written, per, tax) = (written?, per?, tax?);
        if per == 1 && tax.is_none() {
            return Some(Some(Rate { value: written, note: String::new() }));
        }
        let hundred = Ratio::int(100);
        let with = tax.map_or(Ratio::ONE, |p| (hundred + ratio(p)) / hundred);
        let exact = ratio(written) / Ratio::int(i128::from(per)) / with;
        let Some(value) = rounded(exact, PLACES) else {
            let message = "a rate that is not a number";
            self.at("R008", named, Column::Rate, [message, "too large to be reckoned exactly", ""]);
            return None;
        };
        let many = if per == 1 { String::new() } else { format!(" for {per}") };
        let with = tax.map(|p| format!(" with {} % tax", plain(ratio(p)))).unwrap_or_default();
        let note = format!("{text}{many}{with}");
        self.how.worked.push(Worked {
            line: named.row.line,
            code: code.to_owned(),
            written: text.to_owned(),
            per,
            tax,
            rate: value,
        });
        Some(Some(Rate { value, note }))
    }

    /// The number that is written.
    fn written(&mut self, named: &Named<'_>, currency: &str) -> Option<Decimal> {
        let text = named.cell(Column::Rate);
        let (code, message, label) = match numbers::read(text, currency) {
            Ok(Seen::Plain(value) | Seen::With(value, _)) => return Some(value),
            Ok(Seen::Either { point, .. }) if self.is_number(named) => return Some(point),
            Ok(Seen::Either { point, comma }) => match self.settled(text, currency, named.columns.own_form) {
                Some(Mark::Point) if text.contains('.') && self.mark.is_none() => {
                    let message = format!("`{text}` is read as {point}");
                    let hint = "our own form has a decimal point and no thousands: is a thousand meant, leave the point out";
                    let span = self.span(named, Column::Rate);
                    self.caution("R064", named.row, span, [&message, &format!("not as {comma}"), hint]);
                    return Some(point);
                }
                Some(Mark::Point) => return Some(point),
                Some(Mark::Comma) => return Some(comma),
                None => {
                    let span = self.span(named, Column::Rate);
                    self.unclear.push((named.row.line, span, [point, comma]));
                    return None;
                }
            },
            Err(NoNumber::Negative(zero)) => {
                ("R010", "a negative rate", if zero { "write 0 without a sign" } else { "less than nothing" })
            }
            Err(NoNumber::Long) => {
                let label = "at most 15 digits before the point and 6 behind it, one at least";
                ("R008", "a rate that is not a number", label)
            }
            Err(NoNumber::Parted) => {
                ("R008", "a rate that is not a number", "its digits are parted in no way that is known")
            }
            Err(NoNumber::Other) => ("R008", "a rate that is not a number", "not digits alone"),
        };
        let hint = "digits and at most one point: 12500 or 12500.50";
        self.at(code, named, Column::Rate, [message, label, hint]);
        None
    }

    /// One problem for all rates of two readings: one word settles them.
    pub(in crate::rates) fn of_two_readings(&mut self) {
        let Some((line, span, [point, comma])) = self.unclear.first().cloned() else { return };
        let message = match self.unclear.len() {
            1 => "a rate with a thousands separator".to_owned(),
            n => {
                let lines: Vec<String> = self.unclear.iter().take(12).map(|u| u.0.to_string()).collect();
                let more = if n > lines.len() { " ..." } else { "" };
                format!("{n} rates with a thousands separator: lines {}{more}", lines.join(", "))
            }
        };
        let hint = format!(
            "{point} or {comma}? Write rates as 12500 or 12500.50; one rate of the list with its decimals, as 1,234.50, also tells, and so does `--decimal`"
        );
        let label = "thousands and decimals cannot be told apart";
        let row = Row { line, ..Row::default() };
        self.report("R009", &row, span, [&message, label, &hint]);
    }

    /// The decimal mark by which a number of two readings is read.
    fn settled(&self, text: &str, currency: &str, own_form: bool) -> Option<Mark> {
        let thousands = if text.contains(',') { Mark::Point } else { Mark::Comma };
        // Our own form has always had a decimal point.
        let own = (own_form && text.contains('.')).then_some(Mark::Point);
        // Three places of a currency that has none are thousands.
        let whole = || self.reading.names.is_some_and(|n| n.whole(currency)).then_some(thousands);
        self.mark.or(own).or_else(whole)
    }

    /// For how many units the rate is.
    fn per(&mut self, named: &Named<'_>, unit: &UnitSeen) -> Option<u32> {
        let cell = named.cell(Column::Per);
        let of_head = named.columns.head(Column::Rate).and_then(|h| h.per).unwrap_or(1);
        let Some(of_cell) = units::per(cell) else {
            let hint = "1, 100 or 1000";
            self.at("R057", named, Column::Per, ["a rate for a number of units that is not known", "", hint]);
            return None;
        };
        let mut said: Vec<u32> = [unit.per, of_cell, of_head].into_iter().filter(|n| *n > 1).collect();
        said.dedup();
        let words = named.cell(Column::Description).to_lowercase();
        let in_words = ["per 1000", "per 1,000", "per thousand", "per 100", "per hundred", "%o"]
            .into_iter()
            .find(|w| words.contains(w));
        match (&said[..], in_words) {
            ([], None) => Some(1),
            ([one], _) => Some(*one),
            ([], Some(word)) => {
                let message = format!("its words say `{word}`, its unit is `{}`", named.cell(Column::Unit));
                let hint =
                    "write what the rate is for as the unit: `1000 nr`, or `nr` and the words without it";
                self.at("R057", named, Column::Unit, [&message, "one, or many?", hint]);
                None
            }
            (_, _) => {
                let message = "for how many units the rate is, is said in two ways";
                self.at("R057", named, Column::Unit, [message, "", "say it once: `1000 nr`"]);
                None
            }
        }
    }

    /// The per cent of tax in the rate. `None`: unclear and reported. `Some(None)`: no tax in it.
    fn tax(&mut self, named: &Named<'_>) -> Option<Option<Decimal>> {
        let text = named.cell(Column::Tax);
        let rate_head = named.columns.head(Column::Rate).map(|h| h.tax.clone()).unwrap_or_default();
        let tax_head = named.columns.head(Column::Tax).map(|h| h.tax.clone()).unwrap_or_default();
        let cell = tax_said(&format!("vat {text}"));
        let of_cell = match text.to_lowercase().as_str() {
            "yes" | "y" => Some(true),
            "no" | "n" | "none" | "exempt" | "zero" | "nil" | "0" | "0%" | "0 %" => Some(false),
            _ => cell.included,
        };
        let cell_percent = percent(text).or(cell.percent);
        if !text.is_empty() && of_cell.is_none() && cell_percent.is_none() {
            let hint = "per cent, as 18 %; or incl, excl";
            self.at("R058", named, Column::Tax, ["what is said of tax is not understood", "", hint]);
            return None;
        }
        let option = self.reading.tax;
        let included = of_cell
            .or(rate_head.included)
            .or(tax_head.included)
            .or(self.notes.tax.included)
            .or_else(|| option.map(|_| true));
        let percent =
            cell_percent.or(rate_head.percent).or(tax_head.percent).or(self.notes.tax.percent).or(option);
        let named_somewhere = rate_head.named || self.notes.tax.named || !text.is_empty();
        self.how.tax_said |= included.is_some();
        let (message, label, hint) = match (included, percent) {
            (Some(false), _) => return Some(None),
            (None, None) if !named_somewhere => return Some(None),
            (Some(true), Some(p)) if p.is_zero() => return Some(None),
            (Some(true), Some(p)) if p < Decimal::ONE => {
                let label = "a share, or per cent?";
                ("less than one per cent of tax", label, "write per cent: 18, not 0.18")
            }
            (Some(true), Some(p)) => return Some(Some(p)),
            (Some(true), None) => {
                let hint = "say it in a line above the table: `Prices include 18 % VAT`";
                ("tax is in the rate, and nothing says how much", "", hint)
            }
            (None, _) => {
                let hint =
                    "say it in a line above the table: `Prices exclude VAT`, or `Prices include 18 % VAT`";
                ("tax is named, and nothing says whether the rate has it in it", "", hint)
            }
        };
        let column = if named.columns.at(Column::Tax).is_some() { Column::Tax } else { Column::Rate };
        self.at("R058", named, column, [message, label, hint]);
        None
    }
}
