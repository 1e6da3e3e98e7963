//! The verb over a disk in memory. The lists are invented.

use serde_json::Value;

use crate::fake::Fake;
use crate::run;

fn with(list: &str, line: &str) -> (i32, String, String) {
    let files = Fake::with(&[("list.csv", list)]);
    let args: Vec<String> =
        ["tankwright", "cut", "list.csv"].into_iter().chain(line.split(' ')).map(str::to_owned).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = run(&args, &mut out, &mut err, &files);
    (code, String::from_utf8_lossy(&out).into_owned(), String::from_utf8_lossy(&err).into_owned())
}

const LIST: &str = "mark,length,count\nA1,5 m,2\nA2,2400,3\nA3,2400,1\n\"B, long\",1.9 m,1\n=1+1,650,4\n";

#[test]
fn a_list_for_the_one_who_cuts() {
    let (code, out, err) = with(LIST, "--stock 12m --kerf 3mm");
    // The second bar would be 4 x 2403 + 4 x 653 = 12224 long: two bars do not do.
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(
        out.contains("Bars to buy: 3 of 12000 mm.\nProved least: no plan needs fewer than 3.\n"),
        "{out}"
    );
    // 10000 + 9600 + 1900 + 2600 = 24100 of 36000; every piece has a cut of 3 but where a bar is used up.
    assert!(out.contains("pieces                   24100 mm   66.9 %"), "{out}");
    assert!(out.lines().all(|l| l.chars().count() <= 100));

    let list = "mark,length,count\nA1,5 m,2\nA2,2400,3\nA3,2400,1\n\"B, long\",1.9 m,1\n,797,3\n";
    let (_, out, _) = with(list, "--stock 12m --kerf 3mm");
    // 2 x 5003 + 1903 = 11909, left 12000 - 11909 = 91; 4 x 2403 + 3 x 800 = 12012 > 12003: three bars again.
    assert!(out.contains("3 of 12000 mm"), "{out}");
    let (_, out, _) = with(list, "--stock 12012 --kerf 3mm");
    let expected = "\
CUTTING LIST of list.csv
From bars of 12012 mm.
Pieces: 10. Each cut takes 3 mm; lengths in mm.

 nr     times   from         left  pieces
  1       1 x  bar 12012      103  2 x 5000 (A1), 1 x 1900 (B, long)
  2       1 x  bar 12012        0  4 x 2400 (3 A2, 1 A3), 3 x 797

Where a length has several marks, their numbers are over all bars of the pattern.

Bars to buy: 2 of 12012 mm.
Proved least: no plan needs fewer than 2.
Checked: every piece is cut once, no bar is overfull, no stock is used up twice.
Aims, in this order: 1 the fewest bars bought; 2 a pattern that fits a cheaper or shorter stock is
cut from it. The number of patterns is not weighed.
Offcuts to keep (300 mm and more): none.

stock used               24024 mm  100.0 %
pieces                   23891 mm   99.4 %
cuts                        30 mm    0.1 %
offcuts to keep              0 mm    0.0 %
waste                      103 mm    0.4 %
";
    assert_eq!(out, expected);
}

#[test]
fn json_has_the_agreed_fields() -> serde_json::Result<()> {
    let (code, out, _) = with(LIST, "--stock 12m --kerf 3mm --format json");
    let json: Value = serde_json::from_str(&out)?;
    assert_eq!(code, 0);
    let cutting = &json["cutting"][0];
    for (key, value) in [
        ("grade", Value::from("")),
        ("diameter", Value::from(0)),
        ("stock_mm", Value::from(12_000)),
        ("kerf_mm", Value::from(3)),
        ("bars", Value::from(3)),
        ("bound", Value::from(3)),
        ("proved_least", Value::from(true)),
        ("aim", Value::from("bars")),
    ] {
        assert_eq!(cutting[key], value, "{key}");
    }
    let mut pieces: Vec<i64> = Vec::new();
    for pattern in cutting["patterns"].as_array().into_iter().flatten() {
        let own: Vec<i64> =
            pattern["pieces_mm"].as_array().into_iter().flatten().flat_map(Value::as_i64).collect();
        let used: i64 = own.iter().map(|l| l + 3).sum();
        assert_eq!(pattern["offcut_mm"], Value::from((12_000 - used).max(0)));
        (0..pattern["times"].as_i64().unwrap_or(0)).for_each(|_| pieces.extend(&own));
    }
    pieces.sort_unstable();
    assert_eq!(pieces, [650, 650, 650, 650, 1900, 2400, 2400, 2400, 2400, 5000, 5000]);
    Ok(())
}

#[test]
fn prices_and_offcuts() {
    // One piece of 5 m and one of 2.4 m: 12 + 0, 6 + 0, or 6 + 6; the offcut holds 2.4 m exactly.
    let list = "length,count\n5m,1\n2.4m,1\n";
    for (line, says) in [
        ("--stock 12m=19 --stock 6m=10.5", "Bars to buy: 1 of 12000 mm; cost 19.\n"),
        ("--stock 12m=22 --stock 6m=10.5", "Bars to buy: 2 of 6000 mm; cost 21.\n"),
        (
            "--stock 12m=19 --stock 6m=10.5 --offcut 2.4m",
            "Bars to buy: 1 of 6000 mm; offcuts used: 1; cost 10.5.\n",
        ),
        ("--stock 12m=22 --stock 6m=10.5*1", "Bars to buy: 1 of 12000 mm; cost 22.\n"),
        ("--stock 6m=7 --offcut 2399*9", "Bars to buy: 2 of 6000 mm; cost 14.\n"),
        ("--stock 6m --offcut 5m*2 --offcut 5m", "Bars to buy: none; offcuts used: 2.\n"),
    ] {
        let (code, out, err) = with(list, line);
        assert_eq!((code, err.as_str()), (0, ""), "{line}");
        assert!(out.contains(says) && out.contains("Proved least"), "{line}\n{out}");
    }
}

#[test]
fn csv_has_a_row_for_each_length_and_no_formula() {
    let (code, out, _) = with(LIST, "--stock 12m --kerf 3mm --format csv");
    assert_eq!(code, 0);
    assert!(
        out.starts_with(
            "pattern,times,stock_mm,from,length_mm,number,marks,offcut_mm\r\n1,1,12000,bar,5000,"
        )
    );
    assert!(out.contains(",'=1+1,"), "{out}");
}

#[test]
fn every_bad_list_has_its_code_and_place() {
    let row = |cells: &str| format!("length,count,mark\n{cells}\n");
    for (list, code, place) in [
        (String::new(), "K001", "list.csv:1"),
        ("length,count\n".to_owned(), "K001", "list.csv:1:1"),
        ("length,count\n".to_owned() + &"5,1\n".repeat(100_001), "K002", "list.csv:1:1"),
        ("length,number\n5,1\n".to_owned(), "K003", "list.csv:1:1"),
        ("length;count\n5;1\n".to_owned(), "K003", "list.csv:1:1"),
        ("2400,5\n1800,3\n".to_owned(), "K003", "list.csv:1:1"),
        ("length,count,count\n5,1,1\n".to_owned(), "K005", "list.csv:1:14"),
        (row("5,1"), "K006", "list.csv:2:1"),
        (row("5,1,\"a\nb\""), "K007", "list.csv:2:1"),
        (row("\n5 miles,1,"), "K008", "list.csv:3:1"),
        (row("2.5,1,"), "K008", "list.csv:2:1"),
        (row(",1,a"), "K008", "list.csv:2:1"),
        (row("0.5 mm,1,"), "K009", "list.csv:2:1"),
        (row("0,1,"), "K010", "list.csv:2:1"),
        (row("-5,1,"), "K010", "list.csv:2:1"),
        (row("5,1.5,"), "K011", "list.csv:2:3"),
        (row("5,,a"), "K011", "list.csv:2:3"),
        (row("5,0,"), "K012", "list.csv:2:3"),
        (row("5,99999999999999999999,"), "K013", "list.csv:2:3"),
        (row("12001,1,"), "K014", "list.csv:2:1"),
    ] {
        let (exit, out, err) = with(&list, "--stock 12m");
        let start = &list[..list.len().min(60)];
        assert_eq!((exit, out.as_str()), (3, ""), "{start}");
        assert!(err.starts_with(&format!("error[{code}]: ")) && err.contains(place), "{start}\n{err}");
        assert!(err.contains("hint: "), "{err}");
    }
    let (exit, out, err) = with(&row("6,4,a\n3,1800,b"), "--stock 12m");
    assert!(exit == 0 && out.contains("Proved least") && err.starts_with("caution[K015]: "), "{err}");
    assert!(err.contains("write 6 m if metres are meant") && err.matches("K015").count() == 1, "{err}");
    let (_, _, err) = with(&row("2.4 m,4,a"), "--stock 12");
    assert!(err.contains("write --stock 12m"), "{err}");
    let (exit, out, err) = with("length,count,colour\n5m,1,red\n", "--stock 12m");
    assert!(exit == 0 && !out.is_empty() && err.starts_with("caution[K004]: "), "{err}");
    let (exit, _, err) = with(&row("x,y,\n5,0,"), "--stock 12m");
    assert!(exit == 3 && err.ends_with("\n3 errors\n"), "{err}");
}

#[test]
fn a_wrong_command_line() {
    let many: String = (1..65).map(|mm| format!(" --offcut {mm}mm")).collect();
    for (line, code) in [
        ("--stock 12m --stock 6m", "U003"),
        ("--stock 12m=5 --stock 6m", "U003"),
        ("--stock 12m=5 --stock 12000=6", "U004"),
        ("--stock 12m --stock 12000", "error[U004]"),
        ("--stock 12m*4", "U005"),
        (&format!("--stock 12m{many}"), "U006"),
        ("--kerf 3mm", "error: "),
        ("--stock 12m --kerf thick", "error: "),
        ("--stock 12m --time 10", "error: "),
    ] {
        let (exit, out, err) = with("length,count\n5,1\n", line);
        assert_eq!((exit, out.as_str()), (2, ""), "{line}");
        assert!(err.contains(code), "{line}\n{err}");
    }
    let (exit, _, err) = with("length,count\n5m,1\n", "--stock 12m --data x");
    assert_eq!((exit, err.as_str()), (0, ""));
}

#[test]
fn long_lists_end_in_time_with_an_honest_answer() {
    let rows: String = (1..=10_000).map(|i| format!("{} mm,1000000\n", i * 7919 % 12_000 + 1)).collect();
    let (code, out, err) = with(&format!("length,count\n{rows}"), "--stock 12m --kerf 3mm --time 300ms");
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("roved least"), "{}", &out[out.len().saturating_sub(2_000)..]);
    let (code, out, _) = with("length,count\n1mm,1000000\n1mm,1000000\n", "--stock 12m --time 300ms");
    // 2 000 000 / 12 000 = 166 bars and 8000 more.
    assert!(code == 0 && out.contains("Proved least: no plan needs fewer than 167."), "{out}");
}
