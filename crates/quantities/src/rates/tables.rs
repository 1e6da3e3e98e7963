//! Tables of numbers that checks read: one row a value of `of`, columns by name. Reads `tables.toml`.

use std::collections::BTreeMap;

use tankwright_geometry::{Ratio, parse};

use super::entry::{Fields, is_id};
use super::read::{Kept, each_of, put};
use super::stock::Stock;
use crate::source::Source;

/// A table as one source prints it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// `slab-two-way`.
    pub id: String,
    /// What it is, with its units.
    pub says: String,
    /// What the rows go by, rising.
    pub of: Vec<Ratio>,
    /// Columns by name, as long as `of`.
    pub columns: BTreeMap<String, Vec<Ratio>>,
    /// Source.
    pub source: Source,
}

impl Table {
    /// The number of a column in the row of exactly this value.
    #[must_use]
    pub fn at(&self, column: &str, x: Ratio) -> Option<Ratio> {
        let row = self.of.iter().position(|of| *of == x)?;
        self.columns.get(column)?.get(row).copied()
    }

    /// The number of a column in a straight line between its rows; nothing outside them.
    #[must_use]
    pub fn between(&self, column: &str, x: Ratio) -> Option<Ratio> {
        if let Some(there) = self.at(column, x) {
            return Some(there);
        }
        let next = self.of.iter().position(|of| *of > x).filter(|n| *n > 0 && x.is_known())?;
        let (numbers, of) = (self.columns.get(column)?, &self.of);
        let [(x0, y0), (x1, y1)] = [next - 1, next].map(|i| (of.get(i), numbers.get(i)));
        let (x0, y0, x1, y1) = (*x0?, *y0?, *x1?, *y1?);
        Some(y0 + (y1 - y0) * (x - x0) / (x1 - x0))
    }
}

impl Kept for Table {
    fn put(self, into: &mut Stock) -> String {
        let id = self.id.clone();
        into.tables.insert(id.clone(), self);
        id
    }
}

/// Reads the file over what the stock holds.
pub(super) fn read(top: &Fields<'_, '_>, path: &str, into: &mut Stock) {
    each_of(top, "table", "id", table, |t| put(into, "table", path, t));
    top.done();
}

/// Numbers of a list; none may be missing.
fn numbers<'d>(f: &Fields<'_, 'd>, key: &'d str) -> Option<Vec<Ratio>> {
    let read: Option<Vec<_>> = f.texts(key)?.iter().map(|t| parse::decimal(t)).collect();
    if read.is_none() {
        f.report("P010", f.span_of(key), format!("`{key}` holds what is not a number"), "as \"0.062\"");
    }
    read
}

fn table(f: &Fields<'_, '_>) -> Option<Table> {
    let (id, says, of) = (f.id("id"), f.text("says"), numbers(f, "of"));
    let part = f.part("columns");
    let source = f.source();
    f.done();
    let (of, part) = (of?, part?);
    if of.windows(2).any(|w| w.first() >= w.last()) {
        f.report("P011", f.span_of("of"), "`of` does not rise".into(), "from the least to the largest");
        return None;
    }
    let mut columns = BTreeMap::new();
    for name in part.keys() {
        let numbers = numbers(&part, name)?;
        if numbers.len() != of.len() || !is_id(name) {
            let message = format!("`{name}` is not a column of this table");
            f.report("P011", part.span_of(name), message, "a name and as many numbers as `of` has");
            return None;
        }
        columns.insert(name.to_owned(), numbers);
    }
    Some(Table { id: id?, says: says?, of, columns, source: source? })
}

#[cfg(test)]
mod tests {
    use super::super::read_stock;
    use super::*;

    const GOOD: &str = "[[table]]\nid = \"t\"\nsays = \"a table\"\nof = [\"1\", \"2\", \"4\"]\nfrom = \"2026\"\n\
                        source = \"invented\"\n[table.columns]\na = [\"10\", \"20\", \"30\"]\n";

    fn told(text: &str) -> (Vec<&'static str>, Stock) {
        let mut stock = Stock::default();
        let problems = read_stock(&[("tables.toml".to_owned(), text.to_owned())], &mut stock);
        (problems.iter().map(|p| p.code).collect(), stock)
    }

    #[test]
    fn between_rows_it_goes_in_a_straight_line_and_ends_with_them() {
        let (problems, stock) = told(GOOD);
        assert!(problems.is_empty());
        let t = &stock.tables["t"];
        let at = |n, d| t.between("a", Ratio::of(n, d));
        assert_eq!(at(3, 1), Some(Ratio::int(25))); // 20 + 10 x 1/2
        assert_eq!([at(1, 1), at(4, 1)], [Some(Ratio::int(10)), Some(Ratio::int(30))]);
        assert_eq!([at(1, 2), at(9, 2), t.between("b", Ratio::ONE), t.at("a", Ratio::int(3))], [None; 4]);
    }

    /// Rows of IS 456 Table 27, read in other texts, against crossing strips of equal deflection (Grashof, Rankine):
    /// r4 / 8 (1 + r4) the short way, r2 / 8 (1 + r4) the long way, to half of the last place printed.
    #[test]
    fn two_way_slabs_are_those_of_crossing_strips() {
        let (stock, _) = crate::rates::builtin();
        let table = &stock.tables["slab-two-way"];
        for (row, r) in table.of.iter().enumerate() {
            let square = *r * *r;
            let under = Ratio::int(8) * (Ratio::ONE + square * square);
            for (column, over) in [("short", square * square), ("long", square)] {
                let off = (table.columns[column][row] - over / under).abs();
                assert!(off <= Ratio::of(1, 2_000), "{column} at {r:?}: {off:?}");
            }
        }
    }

    #[test]
    fn every_sine_belongs_to_its_angle() {
        let (stock, _) = crate::rates::builtin();
        let sine = |degrees: i64| stock.tables["sine"].at("sine", degrees.into()).unwrap_or(Ratio::UNKNOWN);
        assert_eq!((sine(0), sine(30)), (Ratio::ZERO, Ratio::of(1, 2)));
        // sin(a + 1) + sin(a - 1) = 2 sin a cos 1, with the same cosine for every a; sin 45 squared is a half.
        let cosine = (sine(31) + sine(29)) / (sine(30) * Ratio::int(2));
        for a in 1..45 {
            let off = (sine(a + 1) + sine(a - 1) - sine(a) * cosine * Ratio::int(2)).abs();
            assert!(off < Ratio::of(3, 10_000_000_000), "{a} degrees");
        }
        assert!((sine(45) * sine(45) - sine(30)).abs() < Ratio::of(1, 1_000_000_000));
    }

    #[test]
    fn each_mistake_has_its_code() {
        let one = |changed: &str, by: &str| told(&GOOD.replacen(changed, by, 1)).0;
        assert_eq!(one("\"10\"", "\"ten\""), ["P010"]);
        assert_eq!(one("\"10\", ", ""), ["P011"]);
        assert_eq!(one("\"2\"", "\"1\""), ["P011"]);
        assert_eq!(one("id = \"t\"", "id = \"T\""), ["P013"]);
        assert_eq!(one("source", "colour"), ["P006", "P005"]);
        assert_eq!(told(&GOOD.repeat(2)).0, ["P014"]);
    }
}
