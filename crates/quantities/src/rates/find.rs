//! Which row of a price list prices a work: the most specific code wins, then its unit must match.

use super::{PriceKind, PriceList, PriceRow};

/// What a look-up found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lookup<'a> {
    /// A row with a rate in the unit asked for.
    Found {
        /// The row.
        row: &'a PriceRow,
        /// False where a less specific code priced a specification.
        exact: bool,
    },
    /// The most specific row is for another unit.
    WrongUnit {
        /// The row.
        row: &'a PriceRow,
    },
    /// The most specific row has no rate.
    Empty {
        /// The row.
        row: &'a PriceRow,
    },
    /// No row at all.
    Missing,
}

impl PriceList {
    /// The row for a work, its specification (may be empty) and its unit.
    ///
    /// Codes are tried in this order: `work/a/b/c`, leading parts dropped (`work/b/c`, `work/c`), trailing
    /// parts dropped (`work/a/b`, `work/a`), then `work`. The first code that any row of kind work has decides.
    #[must_use]
    pub fn find(&self, work: &str, spec: &str, unit: &str) -> Lookup<'_> {
        for code in candidates(work, spec) {
            let rows = || self.rows.iter().filter(|r| r.kind == PriceKind::Work && r.code == code);
            let Some(first) = rows().next() else { continue };
            let exact = spec.is_empty() || code.len() == work.len() + 1 + spec.len();
            return match rows().find(|r| r.unit == unit) {
                Some(row) if row.rate.is_some() => Lookup::Found { row, exact },
                Some(row) => Lookup::Empty { row },
                None => Lookup::WrongUnit { row: first },
            };
        }
        Lookup::Missing
    }
}

pub(super) fn candidates(work: &str, spec: &str) -> Vec<String> {
    let parts: Vec<&str> = if spec.is_empty() { Vec::new() } else { spec.split('/').collect() };
    let code = |parts: &[&str]| format!("{work}/{}", parts.join("/"));
    let mut codes: Vec<String> = (0..parts.len()).map(|i| code(&parts[i..])).collect();
    codes.extend((1..parts.len()).rev().map(|i| code(&parts[..i])));
    codes.push(work.to_owned());
    codes
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(rows: &[(&str, &str, Option<i64>)]) -> PriceList {
        let row = |(i, (code, unit, rate)): (usize, &(&str, &str, Option<i64>))| PriceRow {
            kind: if *code == "cement" { PriceKind::Material } else { PriceKind::Work },
            code: (*code).into(),
            description: String::new(),
            unit: (*unit).into(),
            rate: rate.map(Into::into),
            date: "2026-10-01".into(),
            source: "test".into(),
            line: i + 2,
            span: 0..0,
        };
        let rows = rows.iter().enumerate().map(row).collect();
        PriceList { name: "t".into(), currency: "UGX".into(), rows, cautions: Vec::new() }
    }

    /// Line found and whether exact; what else in words.
    fn found(l: &PriceList, work: &str, spec: &str, unit: &str) -> (usize, &'static str) {
        match l.find(work, spec, unit) {
            Lookup::Found { row, exact: true } => (row.line, "exact"),
            Lookup::Found { row, exact: false } => (row.line, "less specific"),
            Lookup::WrongUnit { row } => (row.line, "unit"),
            Lookup::Empty { row } => (row.line, "empty"),
            Lookup::Missing => (0, "missing"),
        }
    }

    #[test]
    fn codes_are_tried_from_the_whole_to_the_plain() {
        let want = ["w/a/b/c", "w/b/c", "w/c", "w/a/b", "w/a", "w"];
        assert_eq!(candidates("w", "a/b/c"), want);
        assert_eq!(candidates("w", ""), ["w"]);
    }

    #[test]
    fn the_most_specific_row_wins_then_its_unit_must_match() {
        let l = list(&[
            ("pit", "m3", Some(1)),       // line 2
            ("pit/0-1.5", "m3", Some(2)), // 3
            ("wall/220", "m3", Some(3)),  // 4
            ("wall/220", "m2", Some(4)),  // 5
            ("wall/110", "m2", Some(5)),  // 6
            ("wall", "m3", Some(6)),      // 7
            ("cover/1:2:4", "m3", None),  // 8
            ("cover", "m3", Some(7)),     // 9
            ("cement", "m3", Some(8)),    // 10, a material
        ]);
        assert_eq!(found(&l, "pit", "0-1.5", "m3"), (3, "exact"));
        assert_eq!(found(&l, "pit", "net/0-1.5", "m3"), (3, "less specific"));
        assert_eq!(found(&l, "pit", "0-1.5/hand", "m3"), (3, "less specific"));
        assert_eq!(found(&l, "pit", "1.5-3.0", "m3"), (2, "less specific"));
        assert_eq!(found(&l, "pit", "", "m3"), (2, "exact"));
        assert_eq!(found(&l, "wall", "220", "m2"), (5, "exact"));
        assert_eq!(found(&l, "wall", "220", "m3"), (4, "exact"));
        assert_eq!(found(&l, "wall", "110", "m3"), (6, "unit"));
        assert_eq!(found(&l, "cover", "1:2:4", "m3"), (8, "empty"));
        assert_eq!(found(&l, "cement", "", "m3"), (0, "missing"));
        assert_eq!(found(&l, "wal", "", "m3"), (0, "missing"));
    }
}
