//! CSV by RFC 4180: comma, quotes where needed, CR LF. Numbers have a point and no grouping.
//!
//! A text cell that starts with `=`, `+`, `-`, `@`, one of their wide forms, tab or an end of line gets a single quote
//! before it, so that no spreadsheet takes a title for a formula; number cells are never touched.

mod goods;
mod store;

pub use goods::{bars, materials, orders};
pub use store::store;

use rust_decimal::Decimal;
use tankwright_quantities::bill::SideRow;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::sheet::{Item, Times};

use crate::format::{metres_plain, multiplier};
use crate::json::{exact, money, plain};
use crate::text::money::client_lines;
use crate::text::rate_source;

const TAKEOFF: [&str; 17] = [
    "item", "work", "spec", "section", "stage", "row", "text", "times", "dim_1", "dim_2", "dim_3", "of_item",
    "value", "unit", "clause", "billed", "void",
];
const BILL: [&str; 11] =
    ["section", "row", "ref", "work", "spec", "description", "unit", "quantity", "rate", "amount", "source"];
/// What a bill of labour has besides: the list's rate, and the materials in it per unit and in all.
const LABOUR: [&str; 3] = ["full_rate", "materials", "materials_amount"];

/// The take-off: per item one row `item` with its quantity, one `net`, then its `line` and `decision` rows.
#[must_use]
pub fn takeoff(e: &Estimate) -> String {
    let mut out = Out::new(&TAKEOFF);
    for (items, void) in [(&e.sheet.items, "no"), (&e.sheet.voids, "yes")] {
        items.iter().for_each(|i| item(&mut out, i, void));
    }
    out.done()
}

fn item(out: &mut Out, item: &Item, void: &str) {
    let mut put =
        |row: &str, words: &str, numbers: [String; 4], of: &str, value: &str, unit: &str, clause: &str| {
            let [times, a, b, c] = numbers;
            out.row([
                text(&item.id),
                text(item.work.id),
                text(&item.spec),
                text(item.work.section.id()),
                text(item.stage.id()),
                text(row),
                text(words),
                times,
                a,
                b,
                c,
                text(of),
                value.to_owned(),
                text(unit),
                text(clause),
                text(if item.unbilled || item.work.void { "no" } else { "yes" }),
                text(void),
            ]);
        };
    let (unit, none) = (item.unit.id(), || std::array::from_fn(|_| String::new()));
    put("item", &item.wording.to_string(), none(), "", &plain(item.quantity), unit, "");
    put("net", "", none(), "", &plain(item.net), item.work.unit.id(), "");
    for line in &item.lines {
        let mut dims = line.dims.iter().filter(|d| !d.dropped).map(|d| metres_plain(d.booked));
        let mut next = || dims.next().unwrap_or_default();
        let numbers = [times(&line.times), next(), next(), next()];
        let of = line.of_item.as_deref().unwrap_or_default();
        put("line", &line.note.to_string(), numbers, of, &exact(line.value), unit, "");
    }
    for d in &item.decisions {
        put("decision", &d.what.to_string(), none(), "", &exact(d.size), unit, &d.clause);
    }
}

/// Multipliers as one cell: `2`, `-1 x 0.25 x 3.1415926536`. A quarter is 0.25: `1/4` reads as a date in spreadsheets.
fn times(times: &[Times]) -> String {
    let one = |t: &Times| match t {
        Times::Fraction(f) => exact(*f),
        other => multiplier(other),
    };
    times.iter().map(one).collect::<Vec<_>>().join(" x ")
}

/// The bill: a row per bill row, preliminary, provisional item and addition, totals between.
#[must_use]
pub fn bill(e: &Estimate) -> String {
    let b = &e.bill;
    let labour: &[&str] = if b.client_buys.is_some() { &LABOUR } else { &[] };
    let mut out = Out::new(&[&BILL, labour].concat());
    let amount = |d| money(b, d).unwrap_or_default();
    for s in &b.sections {
        let id = s.section.id();
        for r in &s.rows {
            let (rate, source) =
                r.rate.as_ref().map(|(v, from)| (plain(*v), rate_source(from))).unwrap_or_default();
            let cells = [
                text(id),
                text("row"),
                text(&r.reference),
                text(r.work.id),
                text(&r.spec),
                text(&r.wording.to_string()),
                text(r.unit.id()),
                plain(r.quantity),
                rate,
                amount(r.amount),
                text(&source),
            ];
            let parts =
                r.labour.as_ref().map(|l| [plain(l.full_rate), plain(l.materials), amount(Some(l.worth))]);
            out.row(cells.into_iter().chain(parts.into_iter().flatten()));
        }
        out.sum(id, "section-total", "", amount(s.total));
    }
    out.sum("", "measured-total", "", amount(b.measured));
    let side = |row: &'static str, rows: &[SideRow], out: &mut Out| {
        for r in rows {
            let (unit, n, rate) =
                r.worked.as_ref().map(|(u, n, r)| (text(u), plain(*n), plain(*r))).unwrap_or_default();
            let e = String::new;
            out.row([
                e(),
                text(row),
                e(),
                e(),
                e(),
                text(&r.title),
                unit,
                n,
                rate,
                amount(Some(r.amount)),
                e(),
            ]);
        }
    };
    side("preliminary", &b.preliminaries, &mut out);
    side("provisional", &b.provisional, &mut out);
    b.not_priced.iter().for_each(|title| out.sum("", "not-priced", title, String::new()));
    for a in &b.additions {
        let (unit, percent) = a.percent.map(|p| ("%".to_owned(), plain(p))).unwrap_or_default();
        let e = String::new;
        let base = if a.percent.is_some() { amount(Some(a.base)) } else { e() };
        out.row([
            e(),
            text("addition"),
            e(),
            e(),
            e(),
            text(&a.title),
            unit,
            percent,
            base,
            amount(Some(a.amount)),
            e(),
        ]);
    }
    out.sum("", "total", &b.total_in_words, amount(b.total));
    for (words, cost) in b.client_buys.iter().flat_map(client_lines) {
        out.sum("", "client-buys", &words, amount(cost));
    }
    out.done()
}

/// What makes a spreadsheet read a text as a formula, where a text starts with it.
const STARTS: [char; 11] =
    ['=', '+', '-', '@', '\t', '\r', '\n', '\u{FF1D}', '\u{FF0B}', '\u{FF0D}', '\u{FF20}'];

/// A text cell, made harmless.
#[must_use]
pub fn text(cell: &str) -> String {
    if cell.starts_with(STARTS) { format!("'{cell}") } else { cell.to_owned() }
}

/// A cell that holds a number, or what somebody wrote where a number belongs: the number stays, other text is made
/// harmless.
#[must_use]
pub fn figure(cell: &str) -> String {
    let plain = cell.bytes().all(|b| b.is_ascii_digit() || matches!(b, b'.' | b'-'));
    if plain && cell.parse::<Decimal>().is_ok() { cell.to_owned() } else { text(cell) }
}

/// Rows into memory.
pub(crate) struct Out {
    csv: csv::Writer<Vec<u8>>,
    columns: usize,
}

impl Out {
    pub(crate) fn new(heads: &[&str]) -> Self {
        let mut out = Self::rows(heads.len());
        out.row(heads.iter().map(|h| (*h).to_owned()));
        out
    }

    /// Rows without a head.
    pub(crate) fn rows(columns: usize) -> Self {
        let csv = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
        Self { csv, columns }
    }

    pub(crate) fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        let mut cells: Vec<Vec<u8>> = cells.into_iter().map(String::into_bytes).collect();
        cells.resize(self.columns, Vec::new());
        // Memory cannot refuse a row, and all rows of a table have the same number of cells.
        let _ = self.csv.write_record(cells);
    }

    fn sum(&mut self, section: &str, row: &str, words: &str, amount: String) {
        let e = String::new;
        self.row([text(section), text(row), e(), e(), e(), text(words), e(), e(), e(), amount, e()]);
    }

    pub(crate) fn done(self) -> String {
        self.csv.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handmade;

    #[test]
    fn what_a_spreadsheet_would_reckon_is_a_text() {
        for bad in [
            "=1+1",
            "+1 x 2",
            "-1 x 2",
            "@SUM(A1)",
            "\t=1",
            "\r=1",
            "\n=1",
            "\u{FF1D}1+1",
            "\u{FF20}x",
            "=",
            "-",
        ] {
            assert_eq!(text(bad), format!("'{bad}"));
            assert_eq!(figure(bad), format!("'{bad}"));
        }
        for good in ["", "wall = 220", "'=1", "1-2", "a\n=1"] {
            assert_eq!((text(good), figure(good)), (good.to_owned(), good.to_owned()));
        }
        // A number below 0 is a number where one belongs, a text where words do.
        assert_eq!((figure("-1.50"), text("-1.50")), ("-1.50".to_owned(), "'-1.50".to_owned()));
        for bad in ["+1.50", "-1e5", "-1_0", "--1"] {
            assert_eq!(figure(bad), format!("'{bad}"));
        }
    }

    #[test]
    fn a_bill() {
        let expected = r#"section,row,ref,work,spec,description,unit,quantity,rate,amount,source
earthworks,row,A1,excavation-pit,,"Excavate pit, not deeper than 3.0 m",m3,13.71,12000,164520,"rates/prices/demo-ugx.csv:3, 2026-10-01, invented, demo"
earthworks,section-total,,,,,,,,164520,
masonry,row,E1,brickwork-wall,220,"Brick walls, 220 mm thick, in mortar 1:4",m2,10.25,46500,476625,"rates/prices/demo-ugx.csv:31, 2026-10-01, invented, demo"
masonry,section-total,,,,,,,,476625,
,measured-total,,,,,,,,641145,
,preliminary,,,,Setting out,,,,450000,
,provisional,,,,"Rock, extra over",m3,1,85000,85000,
,not-priced,,,,water,,,,,
,not-priced,,,,watchman,,,,,
,addition,,,,Contingency,%,5,1176145,58807,
,addition,,,,Value added tax,%,18,699952,125991,
,addition,,,,Rounding of the offer,,,,57,
,total,,,,one million three hundred and sixty-one thousand shillings,,,,1361000,
"#;
        assert_eq!(bill(&handmade::estimate()), expected.replace('\n', "\r\n"));
    }

    #[test]
    fn lines_of_a_take_off() {
        let text = takeoff(&handmade::estimate());
        assert!(text.contains(
            "brickwork-wall/220/walls-lower,brickwork-wall,220,masonry,walls-lower,line,\"less pipe hole, inlet\",\
             -1 x 0.25 x 3.1415926536,0.11,0.11,,,-0.00950331777714,m2,,yes,no\r\n"
        ));
    }

    #[test]
    fn a_title_never_becomes_a_formula() {
        let mut e = handmade::estimate();
        e.bill.preliminaries[0].title = "=cmd|' /C calc'!A0".to_owned();
        e.bill.provisional[0].title = "-2+3, \"rock\"".to_owned();
        e.bill.additions[0].title = "\tx".to_owned();
        let text = bill(&e);
        assert!(text.contains(",'=cmd|' /C calc'!A0,"), "{text}");
        assert!(text.contains(",\"'-2+3, \"\"rock\"\"\","), "{text}");
        assert!(text.contains(",'\tx,"), "{text}");
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        assert!(reader.records().all(|r| r.is_ok_and(|r| r.len() == BILL.len())));
    }
}
