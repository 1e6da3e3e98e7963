//! Two designs side by side: figures with their differences, and what is written differently.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};
use tankwright_export::format::{NO_BREAK, grouped};
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::job::spans::Span;
use tankwright_quantities::words::look_up;

use crate::answer::{Ask, Came, Read};
use crate::desk::Desk;
use crate::problems::{Said, Text};

/// Two job files.
#[derive(Debug, Deserialize)]
pub(crate) struct Two {
    a: String,
    b: String,
}

/// Side by side.
#[derive(Debug, Default, Serialize)]
pub(crate) struct Compared {
    rows: Vec<Row>,
    changed: Vec<Changed>,
    /// What is wrong with either.
    problems: Vec<Said>,
}

/// A figure of both.
#[derive(Debug, Serialize)]
struct Row {
    what: String,
    unit: String,
    a: String,
    b: String,
    difference: String,
}

/// A value that is written differently.
#[derive(Debug, Serialize)]
struct Changed {
    path: String,
    a: String,
    b: String,
}

/// A figure: what it is, unit, places, value.
type Figure = (String, String, u32, Option<Decimal>);

impl Desk {
    /// Holds two designs against each other.
    pub(crate) fn compare(&self, two: Two) -> Compared {
        let read = |text: String| self.read(&Ask { text, ..Ask::default() }, false);
        let (a, b) = (read(two.a), read(two.b));
        let mut problems = Vec::new();
        let mut made = |read: &Read| match self.looked(read) {
            Came::Made(e, _) => Some(e),
            Came::Refused(wrong) => {
                let text = Text { name: &self.given.name, text: &read.text, spans: &read.spans };
                problems.extend(text.said(&wrong));
                None
            }
            Came::Fault(balances) => {
                problems.extend(crate::problems::plain(&[crate::answer::unbalanced(&balances)]));
                None
            }
        };
        let (first, second) = (made(&a), made(&b));
        let rows = first.zip(second).map(|(a, b)| rows(&a, &b)).unwrap_or_default();
        Compared { rows, changed: changed(&a, &b), problems }
    }
}

fn rows(a: &Estimate, b: &Estimate) -> Vec<Row> {
    let (mut left, right) = (figures(a), figures(b));
    let missing =
        right.iter().filter(|(what, unit, ..)| !left.iter().any(|(w, u, ..)| w == what && u == unit));
    let missing: Vec<Figure> = missing.map(|(w, u, p, _)| (w.clone(), u.clone(), *p, None)).collect();
    left.extend(missing);
    let row = |(what, unit, places, value): Figure| {
        let other = right.iter().find(|(w, u, ..)| *w == what && *u == unit).and_then(|(.., v)| *v);
        let said = |v: Option<Decimal>| v.map_or_else(|| "\u{2013}".to_owned(), |v| figure(v, places));
        let difference = match (value, other) {
            (None, None) => String::new(),
            (x, y) => {
                let d = y.unwrap_or_default().checked_sub(x.unwrap_or_default()).unwrap_or_default();
                if d.is_sign_positive() && !d.is_zero() {
                    format!("+{}", figure(d, places))
                } else {
                    figure(d, places)
                }
            }
        };
        Row { a: said(value), b: said(other), what, unit, difference }
    };
    left.into_iter().map(row).collect()
}

fn figure(value: Decimal, places: u32) -> String {
    grouped(value, places).replace(NO_BREAK, "\u{2009}").replace('-', "\u{2212}")
}

fn figures(e: &Estimate) -> Vec<Figure> {
    let bill = &e.bill;
    let (money, digits) = (bill.currency.code.clone(), bill.currency.digits);
    let word = |key: &str| look_up(key).to_owned();
    let litres = e.capacity.to_water_line.map(Decimal::from);
    let mut all = vec![
        (word("web-compare-total"), money.clone(), digits, bill.total),
        (word("web-compare-litres"), "l".to_owned(), 0, litres),
        (word("web-compare-plan"), "m2".to_owned(), 2, decimal::rounded(e.outer_plan, 2)),
        (word("web-compare-dug"), "m3".to_owned(), 2, Some(e.earth.dug_actual)),
        (word("web-compare-carted"), "m3".to_owned(), 2, Some(e.earth.carted_loose)),
    ];
    let sections = bill
        .sections
        .iter()
        .map(|s| (word(&format!("section-{}", s.section.id())), money.clone(), digits, s.total));
    all.extend(sections);
    all
}

/// Values that are written differently, or in one file only.
fn changed(a: &Read, b: &Read) -> Vec<Changed> {
    let plain = |spans: &BTreeMap<String, Span>| -> Vec<String> {
        spans.iter().filter(|(_, s)| s.plain).map(|(p, _)| p.clone()).collect()
    };
    let mut paths = plain(&a.spans);
    paths.extend(plain(&b.spans));
    paths.sort();
    paths.dedup();
    let said = |read: &Read, path: &str| {
        let span = read.spans.get(path).filter(|s| s.plain);
        span.and_then(|s| read.text.get(s.value.clone())).unwrap_or_default().trim_matches('"').to_owned()
    };
    let one = |path: String| Changed { a: said(a, &path), b: said(b, &path), path };
    paths.into_iter().map(one).filter(|c| c.a != c.b).collect()
}
