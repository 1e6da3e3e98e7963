//! Lists as people keep them: what is read, and every trap once.

use super::*;
use crate::bill::fixture::d;
use crate::problem::Problem;

const NOTES: &str = "Currency: KES\nDate: 2026-10-01\nSource: shop\n";

fn names() -> Names {
    Names::new(&builtin().0)
}

fn read(text: &str) -> Result<ReadList, Vec<Problem>> {
    let names = names();
    read_list("p.csv", text, &Reading { names: Some(&names), ..Reading::default() })
}

/// Code, unit, rate of every row; else the codes of the problems, with line and the bytes pointed at.
fn seen(text: &str) -> Vec<String> {
    match read(text) {
        Ok(read) => {
            let row = |r: &PriceRow| {
                let rate = r.rate.map_or_else(|| "-".to_owned(), |r| r.normalize().to_string());
                format!("{} {} {} {rate}", r.kind.id(), r.code, r.unit)
            };
            read.list.rows.iter().map(row).collect()
        }
        Err(problems) => {
            let tell = |p: &Problem| {
                let (line, span) = p.place.as_ref().map_or((0, 0..0), |p| (p.line, p.span.clone()));
                format!("{} {line} {}", p.code, text.get(span).unwrap_or("not a place"))
            };
            problems.iter().filter(|p| p.code != "R003").map(tell).collect()
        }
    }
}

fn with(head: &str, rows: &str) -> Vec<String> {
    seen(&format!("{NOTES}{head}\n{rows}"))
}

#[test]
fn columns_in_any_order_and_under_many_heads() {
    for head in ["UNIT PRICE,uom,Item", "Rate (KES),Units,Description of work", "price,U/M,Particulars"] {
        assert_eq!(with(head, "\"1,500.00\",bags,Cement\n"), ["material cement bags 1500"], "{head}");
    }
    assert_eq!(
        with("No.,Item,Qty,Unit,Rate,Amount", "1,Cement,2,bag,1500.00,3000\n"),
        ["material cement bag 1500"]
    );
    assert_eq!(
        seen(&format!("{}Item;Unit;Price\nCement;bag;1.500,50\n", NOTES.replace(',', ";"))),
        ["material cement bag 1500.5"]
    );
    assert_eq!(
        seen(&format!("{NOTES}Item\tUnit\tPrice\nCement\tbag\t1 500,50\n")),
        ["material cement bag 1500.5"]
    );
}

#[test]
fn headings_totals_blank_lines_and_heads_again_price_nothing() {
    let rows = "MATERIALS,,\n\nCement,bag,1500.00\nSub-total,,1500.00\nItem,Unit,Rate\nBuilding sand,m3,2000\n,,3500\n\
        Total,,3500.00\nPrices hold for a month,,\n";
    assert_eq!(with("Item,Unit,Rate", rows), ["material cement bag 1500", "material sand-building m3 2000"]);
    let how = read(&format!("{NOTES}Item,Unit,Rate\n{rows}")).map(|r| (r.how.headings, r.how.totals)).ok();
    assert_eq!(how, Some((2, 3)));
}

#[test]
fn a_heading_says_the_kind_and_a_code_is_taken_as_it_is() {
    let rows = "LABOUR,,,\ncarpenter,Carpenter,day,900\nWORKS,,,\nbars/Y12,Bars,kg,180\nMATERIALS,,,\nbars/Y12,Bars,kg,150\n";
    assert_eq!(
        with("Code,Item,Unit,Rate", rows),
        ["labour carpenter day 900", "work bars/Y12 kg 180", "material bars/Y12 kg 150"]
    );
}

#[test]
fn thousands_or_decimals_the_rest_of_the_list_tells() {
    let head = "Item,Unit,Rate";
    let two = |a: &str, b: &str| with(head, &format!("Cement,bag,\"{a}\"\nWater,l,\"{b}\"\n"));
    assert_eq!(two("1,500", "0.50"), ["material cement bag 1500", "material water l 0.5"]);
    assert_eq!(two("1.500", "0,50"), ["material cement bag 1500", "material water l 0.5"]);
    assert_eq!(two("1,500", "12,34,567"), ["material cement bag 1500", "material water l 1234567"]);
    assert_eq!(two("1,500", "7"), ["R009 5 \"1,500\""]);
    assert_eq!(two("1.500", "7"), ["R009 5 \"1.500\""]);
    assert_eq!(two("1.500,00", "1,500.00"), ["R056 6 \"1,500.00\""]);
    // Shillings of Uganda have no cents.
    let text = format!("{NOTES}{head}\nCement,bag,\"36,000\"\nWater,l,20\n").replace("KES", "UGX");
    assert_eq!(seen(&text), ["material cement bag 36000", "material water l 20"]);
}

#[test]
fn in_our_own_form_a_point_is_a_decimal_point_and_a_thousand_is_asked_about() {
    let text = "kind,code,description,unit,rate,currency,date,source\nmaterial,cement,,bag,36.000,KES,2026-10-01,s\n";
    assert_eq!(seen(text), ["material cement bag 36"]);
    let told = read(text).map(|r| r.list.cautions.iter().map(|p| p.code).collect::<Vec<_>>());
    assert_eq!(told, Ok(vec!["R064"]));
    let plain = text.replace("36.000", "36.000,KES,2026-10-01,s\nmaterial,water,,l,0.50");
    let told = read(&plain).map(|r| r.list.cautions.len());
    assert_eq!(told, Ok(0));
}

#[test]
fn rates_for_many_are_divided_exactly() {
    let head = "Item,Unit,Rate";
    for row in [
        "Burnt bricks,1000 nr,12500",
        "Burnt bricks,%o nr,12500",
        "Burnt bricks,per 1000,12500",
        "Burnt bricks,100 nr,1250",
    ] {
        assert_eq!(with(head, &format!("{row}\n")), ["material bricks nr 12.5"], "{row}");
    }
    assert_eq!(with("Item,Unit,Price per 1000", "Burnt bricks,nr,12500\n"), ["material bricks nr 12.5"]);
    assert_eq!(
        with("Item,Unit,Rate,Per", "Burnt bricks,nr,12500,1000\nCement,bag,900,\n"),
        ["material bricks nr 12.5", "material cement bag 900"]
    );
    assert_eq!(with("Item,Unit,Price per 1000", "Burnt bricks,100 nr,1250\n"), ["R057 5 100 nr"]);
    assert_eq!(with("Item,Unit,Rate,Per", "Burnt bricks,nr,12500,dozen\n"), ["R057 5 dozen"]);
    assert_eq!(with("Code,Item,Unit,Rate", "bricks,Bricks per 1000,nr,12500\n"), ["R057 5 nr"]);
    assert_eq!(with("Code,Item,Unit,Rate", "bricks,Bricks,ton,12500\n"), ["R057 5 ton"]);
}

#[test]
fn tax_is_taken_out_exactly_and_said() {
    let row = "Cement,bag,1160\n";
    let of = |line: &str, head: &str, row: &str| seen(&format!("{NOTES}{line}\n{head}\n{row}"));
    let plain = "Item,Unit,Rate";
    let net = ["material cement bag 1000"]; // 1160 / 1.16
    assert_eq!(of("Prices include 16 % VAT", plain, row), net);
    assert_eq!(of("", "Item,Unit,Rate incl. 16% VAT", row), net);
    assert_eq!(of("", "Item,Unit,Rate incl. VAT,VAT %", "Cement,bag,1160,16\n"), net);
    assert_eq!(
        of("VAT included", "Item,Unit,Rate,VAT", "Cement,bag,1160,16 %\nWater,l,5,exempt\n"),
        ["material cement bag 1000", "material water l 5"]
    );
    assert_eq!(of("Prices exclude VAT", plain, row), ["material cement bag 1160"]);
    assert_eq!(of("", "Item,Unit,Rate incl. VAT,Rate excl. VAT", "Cement,bag,1160,1000\n"), net);
    // 1000 / 1.16 does not end: six places.
    assert_eq!(of("Prices include 16 % VAT", plain, "Cement,bag,1000\n"), ["material cement bag 862.068966"]);
    let source = read(&format!("{NOTES}Prices include 16 % VAT\n{plain}\n{row}"))
        .map(|r| r.list.rows[0].source.clone());
    assert_eq!(source, Ok("shop (1160 with 16 % tax)".to_owned()));
    assert_eq!(of("Prices include VAT", plain, row), ["R058 6 1160"]);
    assert_eq!(of("", "Item,Unit,Rate,VAT %", "Cement,bag,1160,16\n"), ["R058 6 16"]);
    assert_eq!(of("", "Item,Unit,Rate incl. VAT,VAT %", "Cement,bag,1160,0.16\n"), ["R058 6 0.16"]);
    assert_eq!(of("", "Item,Unit,Rate,VAT", "Cement,bag,1160,perhaps\n"), ["R058 6 perhaps"]);
    assert_eq!(of("Prices include 16 % VAT\nPrices exclude VAT", plain, row), ["R058 5 Prices exclude VAT"]);
}

#[test]
fn what_is_said_nowhere_is_asked_once() {
    let told = seen("Item,Unit,Rate\nCement,bag,1\nWater,l,1\n");
    assert_eq!(told, ["R013 1 Item,Unit,Rate", "R018 1 Item,Unit,Rate", "R019 1 Item,Unit,Rate"]);
    assert_eq!(
        seen("Item,Unit,Rate KES,Date,Source\nCement,bag,1,1 Oct 2026,shop\nWater,l,1,1/2/2026,\n"),
        ["R013 3 1/2/2026", "R018 3 "]
    );
    assert_eq!(seen("Item,Rate\nCement,1\n"), ["R002 1 Item,Rate"]);
    assert_eq!(with("Item,Unit,Unit price,Unit rate", "Cement,bag,1,2\n"), ["R059 4 Unit rate"]);
    assert_eq!(with("Item,Unit,Rate", "Cement,bag,1,500\n"), ["R005 5 Cement,bag,1,500"]);
}

#[test]
fn rows_of_no_code_are_listed_and_never_checked() {
    let text =
        format!("{NOTES}Item,Unit,Rate\nCement,bag,1\nWheelbarrow,ton,dear\nWhite cement 40kg,bag,2\n");
    let read = read(&text);
    let open: Vec<_> =
        read.iter().flat_map(|r| &r.how.unmatched).map(|u| (u.line, u.perhaps.is_some())).collect();
    assert_eq!(open, [(6, false), (7, true)]);
    let told: Vec<_> = read.iter().flat_map(|r| &r.list.cautions).map(|p| p.message.clone()).collect();
    assert_eq!(told, ["2 rows have no code of ours and price nothing: lines 6, 7"]);
}

#[test]
fn a_price_on_request_is_an_empty_rate_and_the_same_thing_twice_is_refused() {
    assert_eq!(
        with("Item,Unit,Rate", "Cement,bag,POA\nWater,l,-\n"),
        ["material cement bag -", "material water l -"]
    );
    assert_eq!(
        with("Item,Unit,Rate", "Cement 50kg,bag,1\n\"Cement, bag of 50 kg\",bag,2\n"),
        ["R011 6 \"Cement, bag of 50 kg\""]
    );
}

/// Only a code or only words are enough: it is a rate whose unit is lacking, and no sum of those above.
#[test]
fn a_row_without_its_unit_is_told_and_no_total() {
    for (head, row) in
        [("Item,Unit,Rate", "Building sand,,2000"), ("Code,Item,Unit,Rate", "sand-building,,,2000")]
    {
        assert_eq!(with(head, &format!("{row}\n")), ["R017 5 "], "{row}");
    }
}

/// The day of the list stands for a day that is not given, never for one that cannot be read.
#[test]
fn a_day_that_cannot_be_read_is_told_whatever_day_the_list_has() {
    let row = |day: &str| with("Item,Unit,Rate,Date", &format!("Cement,bag,1,{day}\n"));
    assert_eq!(row(""), ["material cement bag 1"]);
    assert_eq!(row("1/2/2026"), ["R013 5 1/2/2026"]);
    assert_eq!(row("last week"), ["R013 5 last week"]);
}

#[test]
fn notes_below_a_table_hold_for_all_of_it() {
    let text = "Item,Unit,Rate\nCement,bag,1160\nCurrency: KES,,\nDate: 2026-10-01,,\nSource: shop,,\nPrices include 16 % VAT,,\n";
    assert_eq!(seen(text), ["material cement bag 1000"]); // 1160 / 1.16
}

#[test]
fn a_list_without_heads_shows_the_first_of_its_fullest_rows() {
    let text = "Price list of the shop,,,\nCiment,sac,12000\nSable,m3,9000\nGravier,m3,8000\n";
    let names = names();
    let looked = look_at("p.csv", text, &Reading { names: Some(&names), ..Reading::default() });
    let heads: Vec<_> = looked.how.heads.iter().map(|h| (h.head.as_str(), h.sample.as_str())).collect();
    assert_eq!(heads, [("Ciment", "Sable"), ("sac", "m3"), ("12000", "9000")]);
}

#[test]
fn a_code_that_is_a_work_and_a_material_asks_for_its_kind() {
    let why = |code: &str, unit: &str| {
        let text = format!("{NOTES}Code,Item,Unit,Rate\n{code},Something,{unit},9\ncement,Cement,bag,1\n");
        let read = read(&text);
        read.iter().flat_map(|r| &r.how.unmatched).map(|u| u.why.clone()).collect::<Vec<_>>()
    };
    assert_eq!(why("pipe/160", "m"), ["`pipe/160` is a work and a material: a column `kind` says which"]);
    assert_eq!(why("zzz/160", "m"), ["`zzz/160` is not a code of ours"]);
}

#[test]
fn ditto_is_the_unit_above() {
    assert_eq!(
        with("Item,Unit,Rate", "Building sand,cu.m,1\nPlaster sand,do,2\n"),
        ["material sand-building m3 1", "material sand-plaster m3 2"]
    );
}

#[test]
fn cells_that_a_spreadsheet_holds_as_numbers_are_not_doubted() {
    let names = names();
    let text = format!("{NOTES}Item,Unit,Rate\nWater,l,1.234\n");
    let reading = Reading { numbers: [(5, 2)].into(), names: Some(&names), ..Reading::default() };
    let rate = read_list("p.csv", &text, &reading).map(|r| r.list.rows[0].rate);
    assert_eq!(rate, Ok(Some(d("1.234"))));
    let told = Reading { mark: Some(Mark::Comma), names: Some(&names), ..Reading::default() };
    let rate = read_list("p.csv", &text, &told).map(|r| r.list.rows[0].rate);
    assert_eq!(rate, Ok(Some(d("1234"))));
}

#[test]
fn works_known_by_sizes_are_told() {
    let text = format!(
        "{NOTES}Item,Unit,Rate\nExcavate pit n.e. 1.50 m deep,CM,15000\n150 mm concrete base,m3,400000\nhalf brick wall,m2,9\n"
    );
    let read = read(&text);
    let rows: Vec<_> = read.iter().flat_map(|r| &r.list.rows).map(|r| r.code.as_str()).collect();
    assert_eq!(rows, ["excavation-pit/0-1.5", "concrete-base"]);
    let told: Vec<_> =
        read.iter().flat_map(|r| &r.list.cautions).map(|p| (p.code, p.message.clone())).collect();
    assert_eq!(
        told,
        [
            (
                "R098",
                "rows known by their words and sizes: lines 5 excavation-pit/0-1.5, 6 concrete-base"
                    .to_owned()
            ),
            ("R060", "1 row has no code of ours and prices nothing: line 7".to_owned()),
        ]
    );
}
