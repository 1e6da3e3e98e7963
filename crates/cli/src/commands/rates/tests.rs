//! The command over a disk in memory.

use rust_xlsxwriter::{ExcelDateTime, Format, Workbook, XlsxError};

use rust_decimal::Decimal;

use crate::fake::Fake;

const JOB: &str = include_str!("../../../../../samples/rest-house/job.toml");
const PRICES: &str = include_str!("../../../../../rates/prices/demo-ugx.csv");

fn with(files: &Fake, line: &str) -> (i32, String, String) {
    let args: Vec<String> = std::iter::once("tankwright").chain(line.split(' ')).map(str::to_owned).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = crate::run(&args, &mut out, &mut err, files);
    (code, String::from_utf8_lossy(&out).into_owned(), String::from_utf8_lossy(&err).into_owned())
}

/// A supplier's list as one gets it.
const SUPPLIER: &str = "Hill Road Hardware;;;;\n\
    Date;1 Oct 2026;;;\nSupplier: Hill Road Hardware;;;;\nAll prices in UGX, VAT 18 % included;;;;\n;;;;\n\
    No.;Item;Unit;Unit price;Remarks\n;MATERIALS;;;\n1;Cement 50kg;Bag;37,760;\n2;Building sand;cu.m;47,200.00;\n\
    3;Burnt bricks;per 1000;259,600;kiln\n4;OPC white;bag;90,000;\n5;Hinges;pcs;2,000;\nSub-total;;;436,560;\n";

#[test]
fn a_suppliers_list_is_read_and_what_it_leaves_open_is_listed() {
    let files = Fake::with(&[("s.csv", SUPPLIER)]);
    let (code, out, err) = with(&files, "rates s.csv --format csv");
    assert_eq!(code, 0, "{err}");
    // 37 760 / 1.18 = 32 000; 47 200 / 1.18 = 40 000; 259 600 / 1000 / 1.18 = 220
    for line in [
        "price lists,s.csv,UGX,3,2026-10-01,2026-10-01,0,3 sources",
        "as read,s.csv,3,2,0,1,1,taken out of 3 rates",
        "without a code,s.csv,11,OPC white,bag,\"90,000\",its words are none of ours,",
        "worked out,s.csv,8,cement,\"37,760\",,18 %,32000",
        "worked out,s.csv,9,sand-building,\"47,200.00\",,18 %,40000",
        "worked out,s.csv,10,bricks,\"259,600\",1000,18 %,220",
    ] {
        assert!(out.lines().any(|l| l.starts_with(line)), "{line}\n{out}");
    }
    assert!(
        err.contains("caution[R060]: 2 rows have no code of ours and price nothing: lines 11, 12"),
        "{err}"
    );
    assert!(err.contains("caution[R003]: nothing reads the columns `No.`, `Remarks`"), "{err}");

    let (code, out, _) = with(&files, "rates s.csv --plain");
    assert_eq!(code, 0);
    assert!(out.contains("material,cement,Cement 50kg,Bag,32000,UGX,2026-10-01,\"Hill Road Hardware (37,760 with 18 % tax)\"\n"), "{out}");
    files.put("plain.csv", out.as_bytes());
    assert_eq!(with(&files, "rates plain.csv").0, 0);
}

#[test]
fn a_map_is_written_filled_in_and_read_beside_the_list() {
    let files = Fake::with(&[("s.csv", SUPPLIER)]);
    let (code, out, err) = with(&files, "rates s.csv --map s.map.csv");
    assert_eq!(code, 0, "{err}");
    assert!(out.contains("2 rows are open") && out.contains("it lies beside s.csv"), "{out}");
    let map = files.get("s.map.csv").map(|b| String::from_utf8_lossy(&b).into_owned()).unwrap_or_default();
    assert!(map.contains("\nHinges,pcs,,,"), "{map}");
    let filled = map
        .replace("OPC white,bag,,,", "OPC white,bag,,waterproofer,")
        .replace("Hinges,pcs,,,", "Hinges,pcs,,-,");
    files.put("s.map.csv", filled.as_bytes());
    let (code, out, err) = with(&files, "rates s.csv --format csv");
    assert_eq!(code, 0, "{err}");
    assert!(out.contains("\nas read,s.csv,4,0,1,1,1,"), "{out}");
    assert!(!err.contains("R060"), "{err}");
    let (_, out, _) = with(&files, "rates s.csv --map s.map.csv");
    assert_eq!(out, "s.map.csv: nothing to add, 0 rows are open\n");
    assert_eq!(files.get("s.map.csv"), Some(filled.into_bytes()));
    files.put("s.map.csv", b"description,unit,kind,code\nHinges,pcs,,hinge,\n");
    let (code, _, err) = with(&files, "rates s.csv");
    assert_eq!(code, 4);
    assert!(err.contains("error[R062]: `hinge` is not a code of ours\n  s.map.csv:2:"), "{err}");
}

#[test]
fn what_a_list_does_not_say_the_command_line_may() {
    let files = Fake::with(&[("s.csv", "Item,Unit,Price\nCement,bag,\"37,000\"\n")]);
    let (code, _, err) = with(&files, "rates s.csv");
    assert_eq!(code, 4);
    for code in ["R013", "R018", "R019"] {
        assert_eq!(err.matches(&format!("error[{code}]")).count(), 1, "{err}");
    }
    let said = "rates s.csv --plain --currency KES --source shop --of 2026-10-01 --tax 16 --decimal point";
    let (code, out, err) = with(&files, said);
    assert_eq!(code, 0, "{err}");
    // 37 000 / 1.16 = 31 896.551 724 1...
    assert!(
        out.ends_with(
            "material,cement,Cement,bag,31896.551724,KES,2026-10-01,\"shop (37,000 with 16 % tax)\"\n"
        ),
        "{out}"
    );
}

fn book() -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    book.add_worksheet().set_name("Cover")?.write(0, 0, "Hill Road Hardware")?;
    let sheet = book.add_worksheet().set_name("Prices")?;
    sheet.merge_range(0, 0, 0, 4, "Hill Road Hardware, prices in UGX", &Format::new())?;
    // Heads in two rows: item and unit merged down, price merged across.
    for (column, head) in ["Item", "Unit"].into_iter().enumerate() {
        let column = u16::try_from(column).unwrap_or(0);
        sheet.merge_range(2, column, 3, column, head, &Format::new())?;
    }
    sheet.merge_range(2, 2, 2, 3, "Price", &Format::new())?;
    sheet.write(3, 2, "incl. VAT")?.write(3, 3, "excl. VAT")?;
    sheet.merge_range(2, 4, 3, 4, "Date", &Format::new())?;
    sheet.merge_range(2, 5, 3, 5, "Source", &Format::new())?;
    let day = Format::new().set_num_format("dd/mm/yyyy");
    let date = ExcelDateTime::from_ymd(2026, 10, 1)?;
    for (row, item, unit, with, without) in [
        (4, "Cement", "bag", 42_480.0, 36_000.0),
        (6, "Water", "l", 1.452, 1.234),
        (7, "Nails", "kg", 0.354, 0.300_000_000_000_000_04),
    ] {
        sheet.write(row, 0, item)?.write(row, 1, unit)?.write(row, 2, with)?.write(row, 3, without)?;
        sheet.write_with_format(row, 4, &date, &day)?.write(row, 5, "Hill Road")?;
    }
    sheet.write(8, 0, "Total")?.write(8, 3, 36_001.534)?;
    book.save_to_buffer()
}

#[test]
fn a_spreadsheet_is_read_like_any_list() -> Result<(), XlsxError> {
    let files = Fake::default();
    files.put("s.xlsx", &book()?);
    let (code, out, err) = with(&files, "rates s.xlsx --plain");
    assert_eq!(code, 0, "{err}");
    let want = "kind,code,description,unit,rate,currency,date,source\n\
        material,cement,Cement,bag,36000,UGX,2026-10-01,Hill Road\n\
        material,water,Water,l,1.234,UGX,2026-10-01,Hill Road\n\
        material,nails,Nails,kg,0.3,UGX,2026-10-01,Hill Road\n";
    assert_eq!(out, want);
    let (code, _, err) = with(&files, "rates s.xlsx#Cover");
    assert_eq!(code, 4);
    assert!(err.starts_with("error[R002]: columns missing: "), "{err}");
    let (_, _, err) = with(&files, "rates s.xlsx#Stock");
    assert_eq!(err, "error[R072]: `s.xlsx` has no sheet `Stock`\nhint: its sheets: Cover, Prices\n");
    Ok(())
}

#[test]
fn a_problem_of_a_spreadsheet_names_sheet_and_cell() -> Result<(), XlsxError> {
    let mut book = Workbook::new();
    for name in ["March", "October"] {
        let sheet = book.add_worksheet().set_name(name)?;
        for (column, head) in ["Item", "Unit", "Price", "Currency", "Date", "Source"].into_iter().enumerate()
        {
            sheet.write(1, u16::try_from(column).unwrap_or(0), head)?;
        }
        for (column, text) in
            ["Cement, grey", "bag", "dear", "UGX", "2026-10-01", "shop"].into_iter().enumerate()
        {
            sheet.write(3, u16::try_from(column).unwrap_or(0), text)?;
        }
        sheet.write(3, 0, "Cement")?;
    }
    let files = Fake::default();
    files.put("s.xlsx", &book.save_to_buffer()?);
    let (code, _, err) = with(&files, "rates s.xlsx");
    assert_eq!(code, 4);
    let want = "caution[R074]: of `s.xlsx` the sheet `March` is read, and not October\n\
        hint: another is named as s.xlsx#October\n\n\
        error[R008]: a rate that is not a number\n  s.xlsx#March, C4\n\
        4 | Cement,bag,dear,UGX,2026-10-01,shop\n  |            ^^^^ not digits alone\n\
        hint: digits and at most one point: 12500 or 12500.50\n";
    assert_eq!(err, want);
    Ok(())
}

#[test]
fn files_that_are_no_spreadsheets() {
    let files = Fake::default();
    files.put("s.xlsx", b"PK\x03\x04 and no more");
    files.put("old.xlsx", &[0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1]);
    files.put("large.xlsx", &vec![0; 10_000_001]);
    for (name, code, exit) in [
        ("s.xlsx", "R070", 4),
        ("old.xlsx", "R092", 4),
        ("large.xlsx", "R071", 4),
        ("none.xlsx", "F001", 6),
        ("s.ods", "R092", 4),
    ] {
        let (ended, out, err) = with(&files, &format!("rates {name}"));
        assert_eq!((ended, out.as_str()), (exit, ""), "{name}");
        assert!(err.starts_with(&format!("error[{code}]: ")), "{err}");
    }
}

#[test]
fn a_spreadsheet_without_a_list() -> Result<(), XlsxError> {
    let mut book = Workbook::new();
    book.add_worksheet().set_name("Notes")?.write(0, 0, "Ring the shop")?;
    let files = Fake::default();
    files.put("s.xlsx", &book.save_to_buffer()?);
    let (code, _, err) = with(&files, "rates s.xlsx");
    assert_eq!(code, 4);
    assert!(err.starts_with("error[R073]: no sheet of `s.xlsx` is a price list\n"), "{err}");
    Ok(())
}

#[test]
fn findings_of_a_job() {
    let list = PRICES
        .replace("work,backfill,", "work,backfil,")
        .replace(",9000,UGX,2026-10-01", ",9000,UGX,2026-08-01");
    let files = Fake::with(&[("job.toml", JOB), ("my.csv", &list)]);
    let (code, out, err) = with(&files, "rates my.csv demo-ugx --for job.toml --format csv");
    assert_eq!(code, 0, "{err}");
    assert!(out.contains("\nfindings,built,my.csv,,backfill,m3,,"), "{out}");
    let built = |l: &&str| l.starts_with("labour,") || l.starts_with("plant,");
    let works: Vec<&str> = list.lines().filter(|l| !built(l)).collect();
    files.put("works.csv", works.join("\n").as_bytes());
    let (_, out, _) = with(&files, "rates works.csv --for job.toml --format csv");
    assert!(out.contains("\nfindings,missing,works.csv,,backfill,m3,,"), "{out}");
    let (_, out, _) = with(&files, "rates my.csv demo-ugx --for job.toml --format csv");
    assert!(out.contains("\nfindings,old,my.csv,"), "{out}");
    assert!(!out.contains("findings,far"), "{out}");
    files.put("dear.csv", PRICES.replace(",36000,", ",90000,").as_bytes());
    let (_, out, _) = with(&files, "rates dear.csv demo-ugx");
    let words = out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("far dear.csv") && words.contains("2.50 times"), "{out}");
    assert!(out.contains("far: more than 2 times the rate of another list"), "{out}");
    assert!(out.contains("old: not looked for"), "{out}");
}

#[test]
fn build_ups_of_ones_own_ask_for_their_own_rows() {
    let files = Fake::with(&[("job.toml", JOB)]);
    let (code, works, err) = with(&files, "rates --blank job.toml");
    assert_eq!((code, err.as_str()), (0, ""));
    let (code, built, err) = with(&files, "rates --blank job.toml --build-ups");
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(works.contains("\nwork,backfill,") && !built.contains("work,backfill,"), "{built}");
    assert!(built.contains("\nlabour,labourer,labourer,day,,UGX,") && !built.contains("rammer"), "{built}");
    let own = "[[build_up]]\nof = [\"backfill\"]\nper = \"1 m3\"\n\
               labour = [{ who = \"labourer\", days = \"0.5\" }]\nplant = [{ what = \"rammer\", hours = \"1\" }]\n\
               from = \"2026\"\nsource = \"own definition\"\n";
    files.put("mine/build-ups/earth.toml", own.as_bytes());
    let (code, built, err) = with(&files, "rates --blank job.toml --build-ups --data mine");
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(built.contains("\nplant,rammer,rammer,day,,UGX,"), "{built}");
    files.put("mine/build-ups/earth.toml", own.replace("backfill", "backfil").as_bytes());
    let (code, _, err) = with(&files, "rates --blank job.toml --build-ups --data mine");
    assert_eq!(code, 4);
    assert!(err.starts_with("error[P012]: `backfil` is no work\n  mine/build-ups/earth.toml:2:6\n"), "{err}");
    for words in [
        "demo-ugx --build-ups",
        "demo-ugx --force",
        "--blank job.toml --plain",
        "--export there --for job.toml",
    ] {
        assert_eq!(with(&files, &format!("rates {words}")).0, 2, "{words}");
    }
}

#[test]
fn two_lists_and_a_job_under_both() {
    // Backfill costs 1000 more a cubic metre, and nothing else differs.
    let dear = PRICES.replace("ram\",m3,9000,", "ram\",m3,10000,");
    let files = Fake::with(&[("job.toml", JOB), ("dear.csv", &dear)]);
    let (code, out, err) = with(&files, "rates demo-ugx dear.csv --compare --for job.toml --format json");
    assert_eq!(code, 0, "{err}");
    let json: serde_json::Value = serde_json::from_str(&out).unwrap_or_default();
    let text = |path: &str| json.pointer(path).and_then(|v| v.as_str()).unwrap_or_default().to_owned();
    let number = |path: &str| text(path).parse::<Decimal>().unwrap_or(Decimal::MIN);
    assert_eq!(text("/rows that differ/0/rate b"), "10000");
    let more = number("/rows that differ/0/quantity") * Decimal::from(1000);
    assert_eq!(number("/rows that differ/0/b less a"), more.normalize(), "{out}");
    assert!(json.pointer("/rows that differ/1").is_none(), "{out}");
    assert_eq!(text("/the job/3/sum"), "total");
    assert_eq!(number("/the job/3/b less a"), number("/the job/3/b") - number("/the job/3/a"));
    let (code, _, err) = with(&files, "rates demo-ugx demo-kes --compare");
    assert_eq!(code, 4);
    assert!(err.starts_with("error[R063]: demo-ugx is in UGX, demo-kes in KES\n"), "{err}");
    assert_eq!(with(&files, "rates demo-ugx --compare").0, 2);
}

#[test]
fn lists_kept_at_home_are_found_by_name() {
    let mut files =
        Fake::with(&[("job.toml", JOB), ("/home/me/.local/share/tankwright/prices/mine.csv", PRICES)]);
    assert_eq!(with(&files, "bill job.toml --rates mine").0, 4);
    files.variables.insert("HOME".into(), "/home/me".into());
    let (code, out, err) = with(&files, "bill job.toml --rates mine");
    assert_eq!(code, 0, "{err}");
    assert!(out.contains("~/.local/share/tankwright/prices/mine.csv") && !out.contains("/home/me"), "{out}");
    let (_, out, _) = with(&files, "rates");
    assert!(out.lines().any(|l| l.trim_start().starts_with("mine ")), "{out}");
    // Soils, units, packs and profiles too; papers say where they lay.
    let soils = concat!(include_str!("../../../../../rates/soils.toml"), "# mine\n");
    files.put("/home/me/.local/share/tankwright/soils.toml", soils.as_bytes());
    let (_, out, _) = with(&files, "takeoff job.toml");
    let out = out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        out.contains("own data: soil firm-clay") && out.contains("found in ~/.local/share/tankwright"),
        "{out}"
    );
    assert!(!out.contains("/home/me"), "{out}");
    // What XDG says goes before, a folder on the command line before both.
    files.variables.insert("XDG_DATA_HOME".into(), "/data".into());
    assert_eq!(with(&files, "bill job.toml --rates mine").0, 4);
    files.put("/data/tankwright/prices/mine.csv", PRICES.as_bytes());
    let (_, out, _) = with(&files, "bill job.toml --rates mine");
    assert!(out.contains("$XDG_DATA_HOME/tankwright/prices/mine.csv"), "{out}");
    files.put("own/prices/other.csv", PRICES.as_bytes());
    assert_eq!(with(&files, "bill job.toml --rates mine --data own").0, 4);
}

/// A blank list of a job with rates in it, with our codes and without.
fn filled(files: &Fake, line: &str) -> [String; 2] {
    let (code, blank, err) = with(files, line);
    assert_eq!(code, 0, "{err}");
    let row = |(n, line): (usize, &str)| match n {
        0 => line.to_owned(),
        _ => line.replace(",,UGX,2026-11-25,", &format!(",{}00,UGX,2026-11-25,invented", n + 10)),
    };
    let coded: Vec<String> = blank.lines().enumerate().map(row).collect();
    let bare: Vec<&str> = coded.iter().filter_map(|l| l.splitn(3, ',').nth(2)).collect();
    [coded.join("\n"), bare.join("\n")]
}

#[test]
fn a_list_with_the_words_of_the_jobs_own_bill_needs_no_codes() {
    for profile in ["exact", "east-africa", "is-1200", "smm7", "nrm2", "cesmm"] {
        for way in ["", " --build-ups"] {
            let job = JOB.replace("\"east-africa\"", &format!("\"{profile}\""));
            let files = Fake::with(&[("job.toml", &job)]);
            let [coded, bare] = filled(&files, &format!("rates --blank job.toml{way}"));
            // The same name, so that papers say the same.
            files.put("prices.csv", coded.as_bytes());
            let (code, priced, err) = with(&files, "bill job.toml --rates prices.csv --format csv");
            assert_eq!(code, 0, "{profile}{way}: {err}");
            files.put("prices.csv", bare.as_bytes());
            let (code, same, err) = with(&files, "bill job.toml --rates prices.csv --format csv");
            assert_eq!((code, &same), (0, &priced), "{profile}{way}: {err}");
            assert!(!err.contains("R060"), "{profile}{way}: {err}");
            let (code, out, err) = with(&files, "rates prices.csv --for job.toml");
            assert_eq!(code, 0, "{profile}{way}: {err}");
            assert!(!out.contains("missing  "), "{profile}{way}: {out}");
            // Without a job they stay open, and the map names them.
            let (_, _, err) = with(&files, "rates prices.csv");
            assert!(err.contains("R060"), "{profile}{way}: {err}");
        }
    }
}

#[test]
fn words_of_another_size_or_unit_price_nothing() {
    let files = Fake::with(&[("job.toml", JOB)]);
    let [_, bare] = filled(&files, "rates --blank job.toml");
    let open = |list: &str| {
        files.put("prices.csv", list.as_bytes());
        let (code, out, err) = with(&files, "bill job.toml --rates prices.csv");
        assert_eq!(code, 4, "{out}");
        err
    };
    let err = open(&bare.replace("Walls 220 mm thick", "Walls 230 mm thick"));
    assert!(err.contains("R060") && err.contains("brickwork-wall/220"), "{err}");
    let err = open(&bare.replace("in mortar 1:4\",m2", "in mortar 1:4\",m3"));
    assert!(err.contains("R060") && err.contains("brickwork-wall/220"), "{err}");
    // Two rows that say the same are told, as ever.
    let twice: Vec<&str> =
        bare.lines().flat_map(|l| if l.contains("Walls 220") { vec![l, l] } else { vec![l] }).collect();
    assert!(open(&twice.join("\n")).contains("error[R0"));
}
