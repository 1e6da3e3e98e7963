//! Price lists and second take-offs that are dropped on the page.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};
use tankwright_quantities::problem::{Problem, Severity};
use tankwright_quantities::rates::entry::is_date;
use tankwright_quantities::rates::lists::own_form;
use tankwright_quantities::rates::{
    By, Column, Headed, Heads, Looked, Map, Mark, Names, Reading, Unmatched, head_key, map_text, read_map,
    write_map,
};
use tankwright_run::{ListText, look_at_list, of_bytes, sheets};

use crate::desk::Desk;
use crate::problems::{Said, plain};

/// What is said of a file besides its bytes.
#[derive(Debug, Deserialize)]
pub(crate) struct Head {
    name: String,
    #[serde(default)]
    currency: String,
    #[serde(default)]
    date: String,
    #[serde(default)]
    source: String,
    /// Per cent of tax in its rates.
    #[serde(default)]
    tax: String,
    /// The sheet that is read of a spreadsheet file; empty: the first that is a price list.
    #[serde(default)]
    sheet: String,
    /// Its decimal mark: `point`, `comma`.
    #[serde(default)]
    decimal: String,
    /// What its heads are: a column of ours, or `-`.
    #[serde(default)]
    heads: BTreeMap<String, String>,
    /// What its rows price: description, unit, kind, code.
    #[serde(default)]
    map: Vec<[String; 4]>,
}

/// A file as it was taken.
#[derive(Debug, Default, Serialize)]
pub(crate) struct Taken {
    name: String,
    taken: bool,
    rows: usize,
    problems: Vec<Said>,
    lists: Vec<String>,
    /// In our own form: nothing is to be asked.
    own_form: bool,
    currency: String,
    /// Sheets of its file, and which of them is read.
    sheets: Vec<String>,
    sheet: String,
    heads: Vec<HeadSaid>,
    lines: Vec<Line>,
}

/// A column of a list.
#[derive(Debug, Serialize)]
struct HeadSaid {
    head: String,
    /// What it was taken as; empty where nothing reads it.
    column: &'static str,
    sample: String,
}

/// A line of a list, and what it prices.
#[derive(Debug, Default, Serialize)]
struct Line {
    line: usize,
    description: String,
    unit: String,
    rate: String,
    kind: &'static str,
    code: String,
    /// By what it is known: `map`, `code`, `words`, `sizes`; `out` where it is left out on purpose.
    by: &'static str,
    why: String,
    /// Who might be meant.
    perhaps: String,
}

/// A file's own name, safe to show and to write into a job file.
fn file_name(name: &str) -> String {
    let last = name.rsplit(['/', '\\']).next().unwrap_or_default();
    // What kind of file it is is kept however long its name.
    let (stem, ending) =
        last.rfind('.').filter(|at| last.len() - at < 8).map_or((last, ""), |at| last.split_at(at));
    let plain = |text: &str, most: usize| -> String {
        text.chars().filter(|c| !c.is_control() && !"\"'#<>|*?:".contains(*c)).take(most).collect()
    };
    format!("{}{}", plain(stem, 72).trim(), plain(ending, 8).trim())
}

/// A list's name on the page: with its sheet, where one is chosen, as a job file names it.
fn list_name(head: &Head) -> String {
    let name = file_name(&head.name);
    match sheets::parts(&name) {
        Some((file, _)) if !head.sheet.is_empty() => format!("{file}#{}", head.sheet),
        _ => name,
    }
}

/// A list as far as it can be read, the text of its map, the sheets of its file.
struct Seen {
    looked: Looked,
    decided: String,
    sheets: Vec<String>,
}

fn wrong(message: String, hint: &str) -> Problem {
    Problem::error("W003", None, message).hint(hint)
}

/// A text as it came.
pub(crate) fn text_of(name: &str, bytes: &[u8]) -> Result<String, Problem> {
    let text = std::str::from_utf8(bytes).map_err(|_| {
        let hint = "save it again with the encoding UTF-8, or as XLSX";
        wrong(format!("`{name}` is not UTF-8 text"), hint)
    })?;
    Ok(text.strip_prefix('\u{feff}').unwrap_or(text).to_owned())
}

/// What the page says of a list, as the command line says it; what cannot be is told, and left away.
fn told(head: &Head) -> (Reading<'static>, Vec<Problem>) {
    let mut problems = Vec::new();
    let said = |text: &String| Some(text.trim().to_owned()).filter(|t| !t.is_empty());
    let currency = said(&head.currency).map(|c| c.to_uppercase());
    if currency.as_ref().is_some_and(|c| c.len() != 3 || !c.bytes().all(|b| b.is_ascii_uppercase())) {
        let message = format!("`{}` is no currency", head.currency.trim());
        problems.push(wrong(message, "three capital letters, as UGX (ISO 4217)"));
    }
    let date = said(&head.date);
    if date.as_ref().is_some_and(|d| !is_date(d)) {
        let message = format!("`{}` is not year-month-day", head.date.trim());
        problems.push(wrong(message, "as 2026-10-01"));
    }
    let tax = said(&head.tax).map(|t| percent(&t));
    if tax == Some(None) {
        let message = format!("`{}` is no per cent of tax", head.tax.trim());
        problems.push(wrong(message, "from 1 to 100, as 18"));
    }
    let mark = match head.decimal.as_str() {
        "point" => Some(Mark::Point),
        "comma" => Some(Mark::Comma),
        _ => None,
    };
    let column = |name: &str| Column::ALL.into_iter().find(|c| c.name() == name);
    let heads: Heads = head.heads.iter().map(|(head, name)| (head_key(head), column(name))).collect();
    let source = said(&head.source);
    (Reading { currency, date, source, tax: tax.flatten(), mark, heads, ..Reading::default() }, problems)
}

/// Per cent of a tax, as the command line takes it.
fn percent(text: &str) -> Option<Decimal> {
    let text = text.trim_end_matches('%').trim_end();
    let good = |n: &Decimal| *n >= Decimal::ONE && *n <= Decimal::ONE_HUNDRED && n.scale() <= 6;
    text.parse().ok().filter(good)
}

/// `prices.csv` of `prices.csv#Sheet`, without its ending.
fn stem(name: &str) -> &str {
    let file = sheets::parts(name).map_or(name, |(file, _)| file);
    file.rsplit_once('.').map_or(file, |(stem, _)| stem)
}

impl Desk {
    /// Takes a price list.
    pub(crate) fn take_list(&self, head: &Head, bytes: &[u8]) -> Taken {
        let name = list_name(head);
        let (Looked { list, how, problems }, of_file) = match self.look_at(&name, head, bytes) {
            Ok(it) => (it.looked, it.sheets),
            // Where no sheet does, one of them may still be chosen.
            Err(problems) => (Looked { problems, ..Looked::default() }, sheets::names(bytes)),
        };
        let shown = list.as_ref().map_or(&name, |l| &l.name);
        let sheet = sheets::parts(shown).and_then(|(_, sheet)| sheet).unwrap_or_default().to_owned();
        let good = problems.iter().all(|p| p.severity == Severity::Caution);
        let mut lines: Vec<Line> = Vec::new();
        for row in list.iter().flat_map(|l| &l.rows) {
            lines.push(Line {
                line: row.line,
                description: row.description.clone(),
                unit: row.unit.clone(),
                rate: row.rate.map(|r| r.normalize().to_string()).unwrap_or_default(),
                kind: row.kind.id(),
                code: row.code.clone(),
                by: how.by.get(&row.line).map_or("", |by| By::id(*by)),
                ..Line::default()
            });
        }
        lines.extend(how.unmatched.iter().map(|row| open(row, "")));
        lines.extend(how.left_out.iter().map(|row| open(row, "out")));
        lines.sort_by_key(|l| l.line);
        let rows = list.as_ref().map_or(0, |l| l.rows.len());
        let currency = list.as_ref().map(|l| l.currency.clone()).unwrap_or_default();
        let taken = match list.filter(|_| good) {
            Some(list) => {
                let cautions = problems.clone();
                self.keep_list(name.clone(), tankwright_quantities::rates::PriceList { cautions, ..list });
                true
            }
            None => false,
        };
        let heads = how.heads.iter().map(head_said).collect();
        let (own_form, problems) = (how.own_form, plain(&problems));
        let (lists, sheets) = (self.list_names(), of_file);
        Taken { name, taken, rows, problems, lists, own_form, currency, sheets, sheet, heads, lines }
    }

    /// The list in our own form, as `rates --plain` prints it; or its map, as `rates --map` writes it. With its name.
    pub(crate) fn list_paper(
        &self,
        head: &Head,
        map: bool,
        bytes: &[u8],
    ) -> Result<(String, String), Vec<Problem>> {
        let name = list_name(head);
        let Seen { looked, decided, .. } = self.look_at(&name, head, bytes)?;
        if map {
            let text = write_map(Some(&decided), &looked.how.unmatched);
            return Ok((format!("{}.map.csv", stem(&name)), text));
        }
        Ok((format!("{}-plain.csv", stem(&name)), own_form(&looked.in_order()?.list)))
    }

    /// A list as far as it can be read, and the text of its map.
    fn look_at(&self, name: &str, head: &Head, bytes: &[u8]) -> Result<Seen, Vec<Problem>> {
        let lower = name.to_lowercase();
        let list = if let Some((file, sheet)) = sheets::parts(name) {
            of_bytes(file, bytes, sheet).map_err(|p| vec![p])?
        } else if lower.ends_with(".csv") {
            let text = text_of(name, bytes).map_err(|p| vec![p])?;
            ListText {
                shown: name.to_owned(),
                text,
                numbers: Default::default(),
                caution: None,
                sheets: Vec::new(),
            }
        } else {
            let hint = "a price list is a CSV or XLSX file";
            return Err(vec![wrong(format!("`{name}` is no price list"), hint)]);
        };
        let (told, mut wrong) = told(head);
        let rows: Vec<[&str; 4]> = head.map.iter().map(|row| row.each_ref().map(String::as_str)).collect();
        let decided = map_text(&rows);
        let of_map = format!("{}.map.csv", stem(name));
        let map = |names: &Names| -> Result<Option<Map>, Vec<Problem>> {
            if rows.is_empty() {
                return Ok(None);
            }
            // One entry that cannot be does not take the others away.
            let read = read_map(&of_map, &decided, names);
            Ok(read.map_err(|problems| wrong.extend(problems)).ok())
        };
        let mut looked = look_at_list(&list, &told, || self.given.data.stock.clone(), map)?;
        wrong.append(&mut looked.problems);
        Ok(Seen { looked: Looked { problems: wrong, ..looked }, decided, sheets: list.sheets })
    }

    /// Takes a second take-off; it is read with the job it is held against.
    pub(crate) fn take_second(&self, head: &Head, bytes: Vec<u8>) -> Taken {
        let name = file_name(&head.name);
        let lower = name.to_lowercase();
        let known = sheets::parts(&lower).is_some() || lower.ends_with(".csv");
        let problem = (!known).then(|| {
            wrong(
                format!("`{name}` is neither CSV nor XLSX"),
                "save it as one of them, or as your program exports it",
            )
        });
        let problems = plain(&problem.into_iter().collect::<Vec<_>>());
        if known {
            self.keep_second(name.clone(), bytes);
        }
        Taken { name, taken: known, problems, lists: self.list_names(), ..Taken::default() }
    }
}

fn head_said(it: &Headed) -> HeadSaid {
    let column = it.column.map_or("", Column::name);
    HeadSaid { head: it.head.clone(), column, sample: it.sample.clone() }
}

fn open(row: &Unmatched, by: &'static str) -> Line {
    let perhaps = row.perhaps.as_ref().map(|(kind, code)| format!("{} {code}", kind.id()));
    Line {
        line: row.line,
        description: row.description.clone(),
        unit: row.unit.clone(),
        rate: row.rate.clone(),
        by,
        why: row.why.clone(),
        perhaps: perhaps.unwrap_or_default(),
        ..Line::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_lose_what_could_harm() {
        let [long, short] = [300, 72].map(|n| format!("{}.xlsx", "n".repeat(n)));
        for (name, plain) in [
            ("prices.csv", "prices.csv"),
            ("../../etc/passwd.csv", "passwd.csv"),
            ("C:\\lists\\a b.xlsx", "a b.xlsx"),
            ("a\"b\n<i>.csv", "abi.csv"),
            ("", ""),
            (long.as_str(), short.as_str()),
            ("no ending. at all of it", "no ending. at all of it"),
        ] {
            assert_eq!(file_name(name), plain, "{name}");
        }
    }
}
