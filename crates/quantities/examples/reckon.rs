//! Products, sums and roundings as the program makes them, line by line, for a check from outside.
//!
//! In: `product A B`, `sum A B ...`, `round A PLACES`, `amount A B PLACES` (a product, rounded), `share A B PLACES` (a
//! quotient, rounded). Out: the result by decimals and by fractions, `none` where it cannot be held; `-` where only one
//! of them is there.
#![allow(clippy::print_stdout, clippy::unwrap_used, clippy::panic, reason = "a check, not the program")]

use std::io::{BufRead, BufWriter, Write};

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::{plain, product, ratio, round, rounded};

fn shown(d: Option<Decimal>) -> String {
    d.map_or_else(|| "none".to_owned(), |d| d.normalize().to_string())
}

fn main() {
    let mut out = BufWriter::new(std::io::stdout().lock());
    for line in std::io::stdin().lock().lines() {
        let line = line.unwrap();
        let mut words = line.split(' ');
        let what = words.next().unwrap();
        let given: Vec<Decimal> = words.map(|w| w.parse().unwrap()).collect();
        let places = || u32::try_from(given.last().unwrap().mantissa()).unwrap();
        let fractions: Vec<Ratio> = given.iter().map(|d| ratio(*d)).collect();
        let (one, other) = match what {
            "product" => (shown(product(given[0], given[1])), plain(fractions[0] * fractions[1])),
            "sum" => {
                let sum = given.iter().try_fold(Decimal::ZERO, |sum, d| sum.checked_add(*d));
                (shown(sum), plain(fractions.iter().copied().sum()))
            }
            "round" => (shown(Some(round(given[0], places()))), shown(rounded(fractions[0], places()))),
            "amount" => ("-".to_owned(), shown(rounded(fractions[0] * fractions[1], places()))),
            "share" => ("-".to_owned(), shown(rounded(fractions[0] / fractions[1], places()))),
            _ => panic!("{line}"),
        };
        writeln!(out, "{one} {other}").unwrap();
    }
}
