//! For tests: a small form, and a copy of it priced row by row.

use rust_decimal::Decimal;
use tankwright_crosscheck::figure;
use tankwright_crosscheck::rows::of_csv;
use tankwright_crosscheck::wording::builtin;
use tankwright_geometry::Ratio;
use tankwright_quantities::bill::AddedOn;
use tankwright_quantities::decimal;
use tankwright_quantities::money::Currency;
use tankwright_quantities::sheet::Sheet;

use super::copy::Copy;
use super::form::{
    ADDITIONS, Asks, Form, FormRow, FormSection, Line, PRELIMINARIES, PROVISIONAL, Sum, head_mark, mark,
};
use super::rank::reckon;
use super::stamp::stamp;
use super::{Given, read};

fn row(id: &str, reference: &str, words: &str, unit: &str, quantity: &str) -> FormRow {
    FormRow {
        id: id.into(),
        reference: reference.into(),
        letter: reference.chars().next().unwrap_or('A'),
        words: words.into(),
        unit: unit.into(),
        asks: Asks::Rate(quantity.parse().unwrap_or_default()),
        stated: None,
    }
}

/// Two sections, a preliminary, a provisional item, three additions of which the first is stated.
pub(super) fn form() -> Form {
    let percent = |n: u8, words: &str, stated: Option<i64>| FormRow {
        asks: Asks::Percent(AddedOn::Running),
        stated: stated.map(Decimal::from),
        ..row(&format!("X/{n}"), &format!("X{n}"), words, "%", "")
    };
    let section = |letter, title: &str| FormSection { letter, title: title.into() };
    let mut form = Form {
        job: "Two rooms".into(),
        date: "2026-11-25".into(),
        currency: Currency {
            code: "KES".into(),
            digits: 2,
            unit: "shillings".into(),
            minor: "cents".into(),
            ..Currency::default()
        },
        sections: vec![
            section('A', "Walls"),
            section('B', "Pipes"),
            section(PRELIMINARIES, "Preliminaries"),
            section(PROVISIONAL, "Provisional items"),
            section(ADDITIONS, "Additions"),
        ],
        rows: vec![
            row("row/base/", "A1", "Concrete in base", "m3", "1.03"),
            row("row/walls/", "A2", "Brick walls in mortar", "m2", "13.65"),
            row("row/pipe/110", "B1", "Pipe 110 mm, laid", "m", "15.9"),
            row("P/1", "P1", "Setting out", "item", "1"),
            row("Q/1", "Q1", "Rock, extra over", "m3", "1.5"),
            percent(1, "Contingency", Some(5)),
            percent(2, "Overhead and profit", None),
            percent(3, "Value added tax", None),
        ],
        notes: vec!["Read this first.".into()],
        stamp: String::new(),
    };
    form.stamp = stamp(&form);
    form
}

/// The copy that a CSV text is.
#[expect(clippy::panic, reason = "a test stops where it fails")]
pub(super) fn copy(csv: &str) -> Copy {
    let given = Given { file: "kato.csv", rows: &of_csv(csv), unread: &[] };
    read(&form(), &Sheet::default(), builtin(), given).unwrap_or_else(|p| panic!("{p:?}")).0
}

/// The form as a priced copy: heads, then each line with its mark. Rates by row; amounts and sums worked out.
pub(super) fn priced(form: &Form, rates: &[&str]) -> Vec<[String; 8]> {
    let money = |d: Decimal| decimal::shown(d, 2);
    let all: Vec<Option<Ratio>> = rates.iter().map(|r| figure::read(r).map(|f| f.value)).collect();
    let right = reckon(form, None, &all).unwrap_or_default();
    let section = |l: char| right.sections.iter().find(|(s, _)| *s == l).map(|(_, d)| *d).unwrap_or_default();
    let mut running: Decimal = right.sections.iter().map(|(_, d)| *d).sum();
    let head = ["ref", "description", "unit", "quantity", "rate (KES)", "amount (KES)", "remarks"];
    let mut out =
        vec![[0, 1, 2, 3, 4, 5, 6, 7].map(|i: usize| head.get(i).map_or(head_mark(form), |h| (*h).into()))];
    for line in form.lines() {
        let id = mark(form, &line);
        let mut cells: [String; 8] = Default::default();
        match line {
            Line::Gap => continue,
            Line::Heading(letter, text) => [cells[0], cells[1]] = [letter, text],
            Line::Field(_, text) => cells[1] = text,
            Line::Sum(sum, _, text) => {
                cells[1] = text;
                cells[5] = money(match sum {
                    Sum::Section(l) | Sum::Carried(l) => section(l),
                    Sum::Measured => right.measured,
                    Sum::Total => right.total,
                });
            }
            Line::Row(i) => {
                let row = &form.rows[i];
                let amount = right.amounts[i];
                let quantity = row.quantity().map_or_else(|| money(running), |q| q.to_string());
                if row.quantity().is_none() {
                    running += amount;
                }
                let priced = [quantity, rates[i].to_owned(), money(amount)];
                [cells[0], cells[1], cells[2]] = [row.reference.clone(), row.words.clone(), row.unit.clone()];
                [cells[3], cells[4], cells[5]] = priced;
            }
        }
        cells[7] = id;
        out.push(cells);
    }
    out
}

/// Cells as a CSV text.
pub(super) fn csv(rows: &[[String; 8]]) -> String {
    let cell = |c: &String| {
        if c.contains([',', '"']) { format!("\"{}\"", c.replace('"', "\"\"")) } else { c.clone() }
    };
    rows.iter().map(|r| r.iter().map(cell).collect::<Vec<_>>().join(",") + "\n").collect()
}
