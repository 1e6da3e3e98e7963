//! Price lists in any spelling read as they do in our own form; nonsense is refused calmly.

use proptest::prelude::*;
use rust_decimal::Decimal;

use tankwright_quantities::rates::{
    Names, PriceList, PriceRow, Reading, builtin, builtin_prices, read_list, read_prices,
};

/// Spellings of our units, the first our own.
const UNITS: [(&str, &[&str]); 7] = [
    ("m3", &["m3", "m³", "cu.m", "CM", "cum", "Cu. m", "cubic metre"]),
    ("m2", &["m2", "m²", "sq.m", "SM", "sqm"]),
    ("m", &["m", "LM", "rm", "metres", "lin. m"]),
    ("nr", &["nr", "No", "No.", "pcs", "each", "Nos"]),
    ("kg", &["kg", "KGS", "kilos"]),
    ("item", &["item", "L.S.", "sum"]),
    ("l", &["l", "Ltr", "litres"]),
];

const HEADS: [[&str; 5]; 4] = [
    ["kind", "code", "description", "unit", "rate"],
    ["Type", "Item code", "Particulars", "UOM", "Unit price"],
    ["Category", "Ref", "Item", "Units", "Price (UGX)"],
    ["TYPE", "CODE", "MATERIAL", "UNIT", "RATE"],
];

/// Parts a whole number: by threes, or by twos before the last three.
fn parted(whole: &str, sign: &str, twos: bool) -> String {
    let at =
        |left: usize| if twos { left == 3 || (left > 3 && left % 2 == 1) } else { left.is_multiple_of(3) };
    let digit = |(i, c): (usize, char)| {
        if i > 0 && at(whole.len() - i) { format!("{sign}{c}") } else { c.to_string() }
    };
    whole.chars().enumerate().map(digit).collect()
}

/// The rate in one of the ways of writing, always with two places.
fn written(rate: Decimal, way: usize) -> String {
    let text = tankwright_quantities::decimal::shown(rate, 2);
    let (whole, part) = text.split_once('.').unwrap();
    match way {
        0 => format!("{whole}.{part}"),
        1 => format!("{}.{part}", parted(whole, ",", false)),
        2 => format!("{},{part}", parted(whole, " ", false)),
        3 => format!("{},{part}", parted(whole, ".", false)),
        4 => format!("{}.{part}", parted(whole, ",", true)),
        _ => format!("UGX {}.{part}", parted(whole, "'", false)),
    }
}

struct Spelling {
    head: usize,
    way: usize,
    sign: char,
    order: Vec<usize>,
    unit: usize,
    noise: bool,
}

/// A list as somebody might keep it.
fn kept(list: &PriceList, how: &Spelling) -> String {
    let cell = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
    let line = |cells: [&str; 5]| {
        let cells: Vec<String> = how.order.iter().map(|i| cell(cells[*i])).collect();
        format!("{}\n", cells.join(&how.sign.to_string()))
    };
    let mut text = format!(
        "Price list\nCurrency: UGX\n{}\n{}\n\n",
        cell("Date: 1 Oct 2026"),
        cell("Source: invented, demo")
    );
    text.push_str(&line(HEADS[how.head]));
    for (i, row) in list.rows.iter().enumerate() {
        if how.noise && i % 9 == 4 {
            text.push_str(&line(["", "", "Rows that follow", "", ""]));
            text.push_str(&line(["", "", "Sub-total", "", "1.00"]));
            text.push('\n');
        }
        let spellings = UNITS.iter().find(|(unit, _)| *unit == row.unit).map(|(_, s)| *s);
        let unit = spellings.map_or(row.unit.as_str(), |s| s[(how.unit + i) % s.len()]);
        let rate = row.rate.map(|r| written(r, how.way)).unwrap_or_default();
        text.push_str(&line([row.kind.id(), &row.code, &row.description, unit, &rate]));
    }
    text
}

/// The rows without where they stand.
fn plain(list: &PriceList) -> Vec<PriceRow> {
    let row =
        |r: &PriceRow| PriceRow { rate: r.rate.map(|r| r.normalize()), line: 0, span: 0..0, ..r.clone() };
    list.rows.iter().map(row).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn any_spelling_reads_as_our_own_form(
        head in 0_usize..4,
        way in 0_usize..6,
        sign in prop::sample::select(vec![',', ';', '\t']),
        order in Just(vec![0_usize, 1, 2, 3, 4]).prop_shuffle(),
        unit in 0_usize..7,
        noise: bool,
    ) {
        let (path, text) = builtin_prices("demo-ugx").unwrap();
        let own = read_prices(&path, text).unwrap();
        let names = Names::new(&builtin().0);
        let how = Spelling { head, way, sign, order, unit, noise };
        let kept = kept(&own, &how);
        let reading = Reading { names: Some(&names), ..Reading::default() };
        let read = read_list("kept.csv", &kept, &reading);
        prop_assert!(read.is_ok(), "{:?}\n{}", read.err().map(|p| p.first().cloned()), kept.lines().take(12).collect::<Vec<_>>().join("\n"));
        let read = read.unwrap();
        prop_assert_eq!(read.list.currency.as_str(), "UGX");
        prop_assert_eq!(plain(&read.list), plain(&own));
        prop_assert!(read.how.unmatched.is_empty() && !read.how.own_form);
    }

    #[test]
    fn nonsense_is_refused_with_places_in_the_text(bytes in prop::collection::vec(any::<u8>(), 0..400), lead in 0_usize..3) {
        let lead = ["", "Item,Unit,Rate\n", "Currency: UGX\nCode;Unit;Price incl. VAT;Date\n"][lead];
        let text = format!("{lead}{}", String::from_utf8_lossy(&bytes));
        let names = Names::default();
        let read = read_list("n.csv", &text, &Reading { names: Some(&names), ..Reading::default() });
        for problem in read.map_or_else(|p| p, |r| r.list.cautions) {
            let place = problem.place.map(|p| text.get(p.span).is_some());
            prop_assert_eq!(place, Some(true));
        }
    }
}
