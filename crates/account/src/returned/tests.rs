//! Copies of a small form: what is planted is found, and nothing else.

#![expect(clippy::unwrap_used, reason = "a test stops where it fails")]

use rust_decimal::Decimal;
use tankwright_quantities::sheet::Sheet;

use super::fixture::{copy, csv, form, priced};
use super::form::Sum;
use super::{By, Copy, Given, State, read};

/// Rates of the eight rows; the contingency is stated.
const RATES: [&str; 8] = ["9000", "1250.50", "420", "15000", "2100", "5", "12.5", "16"];

type Cells = Vec<[String; 8]>;

fn changed(change: impl FnOnce(&mut Cells)) -> Copy {
    let mut rows = priced(&form(), &RATES);
    change(&mut rows);
    copy(&csv(&rows))
}

/// The row with a reference, or with words.
fn at<'a>(rows: &'a mut Cells, name: &str) -> &'a mut [String; 8] {
    rows.iter_mut().find(|r| r[0] == name && !r[2].is_empty() || r[1] == name).unwrap()
}

fn found(copy: &Copy) -> Vec<(&str, &str)> {
    copy.findings.iter().map(|f| (f.what, f.reference.as_str())).collect()
}

#[test]
fn a_clean_copy_has_nothing_to_be_found() {
    let copy = changed(|_| ());
    assert_eq!(found(&copy), []);
    assert!(copy.bids.iter().all(|b| b.state == State::Priced && b.by == Some(By::Mark)));
    assert_eq!((copy.same_form, copy.added.len(), copy.words.len()), (Some(true), 0, 0), "{:?}", copy.words);
    // 1.03 x 9 000 = 9 270; 13.65 x 1 250.50 = 17 069.325; 15.9 x 420 = 6 678; 15 000; 1.5 x 2 100 = 3 150:
    // 9 270 + 17 069.33 + 6 678 + 15 000 + 3 150 = 51 167.33; 5 % 2 558.37; 12.5 % of 53 725.70 = 6 715.71;
    // 16 % of 60 441.41 = 9 670.63; together 70 112.04
    assert_eq!(copy.sums[&Sum::Total].1.shown(), "70112.04");
}

#[test]
fn one_slip_is_told_once() {
    let shift = |name: &'static str, cell: usize, to: &'static str| {
        found(&changed(|rows| at(rows, name)[cell] = to.into()))
            .iter()
            .map(|f| format!("{} {}", f.0, f.1))
            .collect::<Vec<_>>()
    };
    assert_eq!(shift("A2", 5, "17096.33"), ["extension A2"]);
    assert_eq!(shift("total of A Walls, carried to summary", 5, "26339.30"), ["total A"]);
    assert_eq!(shift("from A Walls", 5, "26393.33"), ["total A"]);
    assert_eq!(shift("measured works", 5, "33017.34"), ["total "]);
    assert_eq!(shift("sum in total, KES", 5, "70112.40"), ["total "]);
    assert_eq!(shift("X2", 3, "53725.07"), ["base X2"]);
    assert_eq!(shift("X2", 5, "6715.17"), ["percentage X2"]);
    assert_eq!(shift("A1", 3, "1.30"), ["quantity A1"]);
    assert_eq!(shift("A1", 2, "m2"), ["unit A1"]);
    assert_eq!(shift("A1", 2, "Cu.M"), [""; 0]);
    assert_eq!(shift("A1", 1, "Concrete 1:3:6 in base"), ["words A1"]);
    assert_eq!(shift("X1", 4, "4"), ["stated X1", "percentage X1"]);
}

#[test]
fn a_bidder_who_works_on_with_his_slip_is_told_of_the_slip_alone() {
    // 17 096.33 for 17 069.33, 27.00 over, and every sum above it carries the 27.00: 26 366.33, 33 044.33, then
    // 51 194.33 x 1.05 = 2 559.72; 12.5 % of 53 754.05 = 6 719.26; 16 % of 60 473.31 = 9 675.73; 70 149.04
    let copy = changed(|rows| {
        at(rows, "A2")[5] = "17096.33".into();
        at(rows, "total of A Walls, carried to summary")[5] = "26366.33".into();
        at(rows, "from A Walls")[5] = "26366.33".into();
        at(rows, "measured works")[5] = "33044.33".into();
        for (name, base, amount) in
            [("X1", "51194.33", "2559.72"), ("X2", "53754.05", "6719.26"), ("X3", "60473.31", "9675.73")]
        {
            [at(rows, name)[3], at(rows, name)[5]] = [base.into(), amount.into()];
        }
        at(rows, "sum in total, KES")[5] = "70149.04".into();
    });
    assert_eq!(found(&copy), [("extension", "A2")]);
    assert_eq!(copy.findings[0].difference, Some(Decimal::new(2700, 2)));
}

#[test]
fn marks_lost_and_rows_of_the_bidder() {
    let copy = changed(|rows| {
        at(rows, "A2")[0] = "7".into();
        rows.iter_mut().for_each(|r| r[7].clear());
        let own: [&str; 8] = ["", "Cleaning", "item", "1", "500", "500.00", "asked for by phone", ""];
        let place = rows.iter().position(|r| r[0] == "B1").unwrap();
        rows.insert(place, own.map(str::to_owned));
        rows.push(["", "Discount for cash", "", "", "", "-1000", "", ""].map(str::to_owned));
        rows.push(["", "Prices hold if cement does.", "", "", "", "", "", ""].map(str::to_owned));
        at(rows, "Name of the bidder")[2] = "Kato & Sons".into();
    });
    assert_eq!((copy.same_form, copy.name.as_str()), (None, "Kato & Sons"));
    assert_eq!(copy.known_by(By::Reference), 7);
    assert_eq!(copy.bids[1].by, Some(By::Words));
    let added: Vec<_> = copy.added.iter().map(|a| (a.text.as_str(), a.letter, a.under, a.amount)).collect();
    assert_eq!(
        added,
        [
            ("Cleaning asked for by phone", Some('B'), false, Some(Decimal::from(500))),
            ("Discount for cash", None, true, Some(Decimal::from(-1000))),
        ]
    );
    assert_eq!(copy.words.iter().map(|w| w.1.as_str()).collect::<Vec<_>>(), ["Prices hold if cement does."]);
    // His own row is in none of the printed sums.
    assert_eq!(found(&copy), [("total", "B")]);
}

#[test]
fn open_rows_and_rows_left_out() {
    let copy = changed(|rows| {
        [at(rows, "A1")[4], at(rows, "A1")[5]] = [String::new(), "no rate".into()];
        [at(rows, "A2")[4], at(rows, "A2")[5]] = ["-".into(), String::new()];
        [at(rows, "B1")[4], at(rows, "B1")[6]] = [String::new(), "included in A2".into()];
        rows.retain(|r| r[0] != "Q1");
        let again = at(rows, "P1").clone();
        rows.push(again);
    });
    let states: Vec<State> = copy.bids.iter().map(|b| b.state).collect();
    assert_eq!(states[..3], [State::Blank, State::Dash, State::Lump]);
    assert_eq!((states[3], states[4]), (State::Priced, State::Missing));
    assert_eq!(copy.added[0].twice.as_deref(), Some("P1"));
}

#[test]
fn what_is_no_copy_is_refused() {
    let code = |text: &str| {
        let rows = tankwright_crosscheck::rows::of_csv(text);
        let given = Given { file: "x.csv", rows: &rows, unread: &[] };
        let read = read(&form(), &Sheet::default(), tankwright_crosscheck::wording::builtin(), given);
        read.err().map(|p| p[0].code)
    };
    assert_eq!(code("\n,,\n"), Some("B001"));
    assert_eq!(code("only words\nand more\n"), Some("B002"));
    assert_eq!(code("description,unit,quantity,rate\nPaint,m2,1,5\n"), Some("B003"));
    assert_eq!(code(&"a,b\n".repeat(20_001)), Some("B004"));
}
