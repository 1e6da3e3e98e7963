//! A row of a price list, cell by cell.

use std::ops::Range;

use super::columns::Columns;
use super::days::{self, NoDay};
use super::heads::Column;
use super::notes::Notes;
use super::units::{self, TwoMeanings, UnitSeen};
use crate::placed::PlacedRow as Row;
use crate::rates::price_read::{Named, Reader};
use crate::rates::read::is_currency;
use crate::rates::{PriceKind, PriceRow};

/// What the rows so far have given.
#[derive(Debug, Default)]
pub(in crate::rates) struct Given {
    /// Currency, and the line that named it.
    pub(in crate::rates) currency: Option<(String, usize)>,
}

/// What a row is, in a list as people keep it.
#[derive(PartialEq, Eq)]
enum Line {
    Row,
    Heading,
    Total,
    Head,
}

/// How a row begins that adds up others.
const TOTALS: [&str; 9] =
    ["total", "sub total", "subtotal", "grand total", "page total", "carried", "brought", "c f", "b f"];

/// Marks for `the same unit again`.
const DITTO: [&str; 6] = ["ditto", "do", "\"", "''", "-do-", "\u{201d}"];

impl Reader<'_> {
    /// Takes what a line outside the table says.
    pub(in crate::rates) fn note(&mut self, row: &Row) {
        let notes = Notes::read(&row.cells.iter().collect::<Vec<_>>());
        let unclear = matches!(notes.date, Some(Err(NoDay::Order)));
        if unclear && self.reading.date.is_none() {
            self.unclear_day(row, row.span.clone());
        }
        if self.notes.take(notes) {
            let hint = "say once whether the rates have tax in them, and how much";
            let message = "tax is said in two ways";
            self.report(
                "R058",
                row,
                row.span.clone(),
                [message, "otherwise than before, or both at once", hint],
            );
        }
    }

    /// A line without unit and rate: words for people.
    pub(in crate::rates) fn is_heading(&self, named: &Named<'_>) -> bool {
        self.line(named) == Line::Heading
    }

    /// A row that may price something: no heading, no sum.
    pub(in crate::rates) fn is_row(&self, named: &Named<'_>) -> bool {
        named.columns.own_form || self.line(named) == Line::Row
    }

    fn line(&self, named: &Named<'_>) -> Line {
        if named.columns.again(named.row) {
            return Line::Head;
        }
        let (unit, rate) = (named.cell(Column::Unit), named.cell(Column::Rate));
        let mut texts: Vec<&str> = named.row.cells.iter().map(str::trim).filter(|c| !c.is_empty()).collect();
        let adds = texts.iter().any(|t| adds_up(t));
        texts.dedup();
        if texts.len() == 1 && named.row.cells.iter().filter(|c| !c.trim().is_empty()).count() > 1 {
            return Line::Heading;
        }
        let known = !named.cell(Column::Description).is_empty() || !named.cell(Column::Code).is_empty();
        match (unit.is_empty(), rate.is_empty()) {
            (true, _) if adds => Line::Total,
            (true, true) => Line::Heading,
            (true, false) if !known => Line::Total,
            _ => Line::Row,
        }
    }

    pub(in crate::rates) fn row(
        &mut self,
        row: &Row,
        head: &Row,
        columns: &Columns,
        given: &mut Given,
    ) -> Option<PriceRow> {
        let named = Named { row, columns };
        if columns.own_form {
            self.well_formed(row, head.cells.len())?;
        } else {
            match self.line(&named) {
                Line::Row => {}
                Line::Heading => {
                    self.how.headings += 1;
                    self.kind = kind_of_heading(row).or(self.kind);
                    return None;
                }
                Line::Total => {
                    self.how.totals += 1;
                    return None;
                }
                Line::Head => return None,
            }
            // An unquoted comma parts a rate or a text.
            if row.cells.iter().skip(columns.width()).any(|c| !c.trim().is_empty()) {
                self.cells_differ(row, columns.width());
                return None;
            }
        }
        let unit = self.unit(&named);
        let (kind, code) = if columns.own_form {
            (self.kind(&named), self.code(&named))
        } else {
            let seen = unit.as_ref().map(|u| u.unit.as_str()).unwrap_or_default();
            let (kind, code) = self.known(&named, seen)?;
            (Some(kind), Some(code))
        };
        let unit = self.unit_told(&named, unit);
        let currency = self.currency(&named, given);
        let rate = self.rate(&named, unit.as_ref(), &currency, code.as_deref().unwrap_or_default());
        let priced = !matches!(rate, Some(None));
        let (date, source) = self.dated(&named, priced);
        let (kind, code, rate) = (kind?, code?, rate?);
        let rate = rate.map(|r| (r.value, r.note));
        let note = rate.as_ref().map(|(_, note)| note.as_str()).unwrap_or_default();
        let source = if note.is_empty() { source } else { format!("{source} ({note})") };
        Some(PriceRow {
            kind,
            code,
            description: one_line(named.cell(Column::Description)),
            unit: unit.map(|u| u.unit).unwrap_or_default(),
            rate: rate.map(|(value, _)| value),
            date,
            source,
            line: row.line,
            span: row.span.clone(),
        })
    }

    /// A row of our own form: one line, as many cells as the head.
    fn well_formed(&mut self, row: &Row, width: usize) -> Option<()> {
        if row.cells.iter().any(|c| c.contains(char::is_control)) {
            let label = "one cell goes on over the end of the line, or holds a control character";
            let hint =
                "write each cell on one line; a quotation mark that is not closed also looks like this";
            let end =
                self.text.get(row.span.clone()).and_then(|t| t.find(['\r', '\n'])).unwrap_or(row.span.len());
            let first_line = row.span.start..row.span.start + end;
            self.report("R014", row, first_line, ["a line break inside a cell", label, hint]);
            return None;
        }
        if row.cells.len() != width {
            self.cells_differ(row, width);
            return None;
        }
        Some(())
    }

    fn cells_differ(&mut self, row: &Row, width: usize) {
        let label = format!("{} cells, the head has {width}", row.cells.len());
        let hint =
            "a comma inside a text or a rate parts it: put the text in quotes, write rates without commas";
        let message = "a row with more or fewer cells than the head";
        self.report("R005", row, row.span.clone(), [message, &label, hint]);
    }

    fn kind(&mut self, named: &Named<'_>) -> Option<PriceKind> {
        let text = named.cell(Column::Kind).to_lowercase();
        let kind = PriceKind::ALL.into_iter().find(|k| k.id() == text);
        if kind.is_none() {
            let hint = "one of: work, material, labour, plant";
            self.at(
                "R006",
                named,
                Column::Kind,
                [&format!("`{text}` is not a kind of price"), "not known", hint],
            );
        }
        kind
    }

    fn code(&mut self, named: &Named<'_>) -> Option<String> {
        let code = named.cell(Column::Code);
        if code.is_empty() || code.contains(char::is_whitespace) {
            let message = if code.is_empty() { "a row without a code" } else { "a code with blanks in it" };
            let hint = "a work, or a work and its specification: concrete-base/1:2:4";
            self.at("R007", named, Column::Code, [message, "", hint]);
            return None;
        }
        Some(code.to_owned())
    }

    fn unit(&mut self, named: &Named<'_>) -> Result<UnitSeen, TwoMeanings> {
        let text = named.cell(Column::Unit);
        if !named.columns.own_form && DITTO.contains(&text.to_lowercase().as_str()) {
            return units::read(&self.unit);
        }
        self.unit = text.to_owned();
        units::read(text)
    }

    fn unit_told(&mut self, named: &Named<'_>, seen: Result<UnitSeen, TwoMeanings>) -> Option<UnitSeen> {
        match seen {
            Ok(seen) if seen.unit.is_empty() => {
                let hint = "m3, m2, m, kg, nr, item; or a pack, as bag";
                self.at("R017", named, Column::Unit, ["a row without a unit", "empty", hint]);
                Some(seen)
            }
            Ok(seen) => Some(UnitSeen { unit: one_line(&seen.unit), ..seen }),
            Err(TwoMeanings(which)) => {
                let message = format!("the unit `{}` has two meanings", named.cell(Column::Unit));
                let hint = "write m3 for the cubic metre, t for 1000 kg";
                self.at("R057", named, Column::Unit, [&message, which, hint]);
                None
            }
        }
    }

    /// Date and source: asked of a row with a rate; a date that is given must be one.
    fn dated(&mut self, named: &Named<'_>, priced: bool) -> (String, String) {
        let of_list = self.reading.date.clone().or_else(|| self.notes.date.clone().and_then(Result::ok));
        let written = named.cell(Column::Date);
        let date = match (days::read(written), of_list) {
            (Ok(day), _) => day,
            (Err(_), Some(day)) if written.is_empty() => day,
            (Err(NoDay::Order), _) => {
                let span = self.span(named, Column::Date);
                self.unclear_day(named.row, span);
                written.to_owned()
            }
            (Err(NoDay::Other), _) => {
                if (priced || !written.is_empty()) && named.columns.at(Column::Date).is_some() {
                    let label = if written.is_empty() { "empty" } else { "" };
                    let hint =
                        "year-month-day, as 2026-10-01; a spreadsheet may have changed how it is written";
                    self.at("R013", named, Column::Date, ["a date that is not year-month-day", label, hint]);
                }
                written.to_owned()
            }
        };
        let of_list = self.reading.source.clone().or_else(|| self.notes.source.clone()).unwrap_or_default();
        let source = match named.cell(Column::Source) {
            "" => of_list,
            own => one_line(own),
        };
        if priced && source.is_empty() && named.columns.at(Column::Source).is_some() {
            let hint = "who said so: a shop, a quotation, your last job";
            self.at("R018", named, Column::Source, ["a row without a source", "empty", hint]);
        }
        (date, one_line(&source))
    }

    fn unclear_day(&mut self, row: &Row, span: Range<usize>) {
        let hint = "year-month-day, as 2026-10-01; a spreadsheet may have changed how it is written";
        self.report("R013", row, span, ["a date that is not year-month-day", "day or month first?", hint]);
    }

    /// Currency of the row, empty where it is not known.
    fn currency(&mut self, named: &Named<'_>, first: &mut Given) -> String {
        let of_list = self.notes.currency.clone().or_else(|| self.reading.currency.clone());
        let own = named.cell(Column::Currency);
        let of_head = named.columns.head(Column::Rate).and_then(|h| h.currency.clone());
        let code = if own.is_empty() && !named.columns.own_form {
            of_head.or(of_list)
        } else {
            Some(own.to_owned())
        };
        let code = code.unwrap_or_default();
        if !is_currency(&code) {
            let message = "a currency is three capital letters";
            let label = if code.is_empty() { "empty" } else { "" };
            if named.columns.at(Column::Currency).is_some() {
                self.at("R019", named, Column::Currency, [message, label, "as UGX (ISO 4217)"]);
            }
            return String::new();
        }
        let Some((earlier, line)) = &first.currency else {
            first.currency = Some((code.clone(), named.row.line));
            return code;
        };
        if *earlier != code {
            let label = format!("{earlier} on line {line}");
            let column = if own.is_empty() { Column::Rate } else { Column::Currency };
            self.at(
                "R012",
                named,
                column,
                ["two currencies in one list", &label, "one list for each currency"],
            );
        }
        code
    }

    /// What is said nowhere for the whole list is told once, at its head.
    pub(in crate::rates) fn said(&mut self, head: &Row, columns: &Columns) {
        if columns.own_form {
            return;
        }
        let span = head.span.clone();
        let of_head = columns.head(Column::Rate).and_then(|h| h.currency.as_ref());
        let known = of_head.or(self.notes.currency.as_ref()).or(self.reading.currency.as_ref());
        if columns.at(Column::Currency).is_none() && known.is_none() {
            let hint = "write a line `Currency: UGX` above the table, or a column `currency`";
            self.report(
                "R019",
                head,
                span.clone(),
                ["nothing says in what currency the rates are", "", hint],
            );
        }
        let day =
            self.reading.date.is_some() || self.notes.date.as_ref().is_some_and(|d| *d != Err(NoDay::Other));
        if columns.at(Column::Date).is_none() && !day {
            let hint =
                "write a line `Date: 2026-10-01` above the table, or a column `date`; or say it with `--of`";
            self.report("R013", head, span.clone(), ["nothing says of what day the rates are", "", hint]);
        }
        let source = self.reading.source.is_some() || self.notes.source.is_some();
        if columns.at(Column::Source).is_none() && !source {
            let hint = "write a line `Source: who said so` above the table, or a column `source`; or say it with `--source`";
            self.report("R018", head, span, ["nothing says where the rates come from", "", hint]);
        }
    }
}

/// Does a text name a sum of rows?
fn adds_up(text: &str) -> bool {
    let words: String =
        text.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    TOTALS.iter().any(|t| words.strip_prefix(t).is_some_and(|r| r.is_empty() || r.starts_with(' ')))
}

/// Materials, labour, plant: a heading of one of these words says what stands below it.
fn kind_of_heading(row: &Row) -> Option<PriceKind> {
    let text = row.cells.iter().map(str::trim).find(|c| c.len() > 2).unwrap_or_default().to_lowercase();
    let words: Vec<&str> = text.split(|c: char| !c.is_alphabetic()).filter(|w| w.len() > 1).collect();
    let [word] = words[..] else { return None };
    match word {
        "material" | "materials" => Some(PriceKind::Material),
        "labour" | "labor" => Some(PriceKind::Labour),
        "plant" | "equipment" => Some(PriceKind::Plant),
        "work" | "works" => Some(PriceKind::Work),
        _ => None,
    }
}

/// A cell as one line.
pub(in crate::rates) fn one_line(text: &str) -> String {
    if text.contains(char::is_control) {
        let spaced: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        return spaced.split_whitespace().collect::<Vec<_>>().join(" ");
    }
    text.to_owned()
}
