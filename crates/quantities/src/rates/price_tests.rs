//! Every code of the price reader once, with its place; and what it must take without complaint.

use std::collections::BTreeSet;

use super::*;
use crate::problem::{Problem, Severity};

const HEAD: &str = "kind,code,description,unit,rate,currency,date,source\n";
const GOOD: &str = "work,screed,Screed,m2,14000,UGX,2026-10-01,shop\n";

fn refused(text: &str) -> Vec<Problem> {
    read_prices("p.csv", text).err().unwrap_or_default()
}

/// Code, line and the bytes pointed at, of every problem.
fn seen(text: &str) -> Vec<(&'static str, usize, String)> {
    let tell = |p: &Problem| {
        let (line, span) = p.place.as_ref().map_or((0, 0..0), |p| (p.line, p.span.clone()));
        (p.code, line, text.get(span).unwrap_or("not a place").to_owned())
    };
    refused(text).iter().map(tell).collect()
}

fn with(rows: &str) -> Vec<(&'static str, usize, String)> {
    seen(&format!("{HEAD}{GOOD}{rows}"))
}

fn one(code: &'static str, line: usize, text: &str) -> Vec<(&'static str, usize, String)> {
    vec![(code, line, text.to_owned())]
}

#[test]
fn each_mistake_has_its_code_and_its_cell() {
    let none: Vec<(&str, usize, String)> = Vec::new();
    assert_eq!(with(""), none);
    assert_eq!(with("job,a,,m2,1,UGX,2026-10-01,s\n"), one("R006", 3, "job"));
    assert_eq!(with("work,,,m2,1,UGX,2026-10-01,s\n"), one("R007", 3, ""));
    assert_eq!(with("work,\"a b\",,m2,1,UGX,2026-10-01,s\n"), one("R007", 3, "\"a b\""));
    assert_eq!(with("work,a,,m2,cheap,UGX,2026-10-01,s\n"), one("R008", 3, "cheap"));
    assert_eq!(with("work,a,,m2,1e3,UGX,2026-10-01,s\n"), one("R008", 3, "1e3"));
    assert_eq!(
        with("work,a,\"x, \"\"y\"\"\",m2,\"12,500\",UGX,2026-10-01,s\n"),
        one("R009", 3, "\"12,500\"")
    );
    assert_eq!(with("work,a,,m2,12 50,UGX,2026-10-01,s\n"), one("R008", 3, "12 50"));
    assert_eq!(with("work,a,,m2,1.234.56,UGX,2026-10-01,s\n"), one("R008", 3, "1.234.56"));
    assert_eq!(
        with("work,a,,m2,1.50,UGX,2026-10-01,s\nwork,b,,m2,\"1,50\",UGX,2026-10-01,s\n"),
        one("R056", 4, "\"1,50\"")
    );
    assert_eq!(with("work,a,,cm,1,UGX,2026-10-01,s\n"), one("R057", 3, "cm"));
    assert_eq!(with("work,a,,m2,-5,UGX,2026-10-01,s\n"), one("R010", 3, "-5"));
    assert_eq!(with(&format!("\n{GOOD}")), one("R011", 4, "screed"));
    assert_eq!(with("work,a,,m2,1,KES,2026-10-01,s\n"), one("R012", 3, "KES"));
    assert_eq!(with("work,a,,m2,1,UGX,01/10/2026,s\n"), one("R013", 3, "01/10/2026"));
    assert_eq!(with("work,a,,m2,1,UGX,2026-02-29,s\n"), one("R013", 3, "2026-02-29"));
    assert_eq!(with("work,a,\"two\nlines\",m2,1,UGX,2026-10-01,s\n"), one("R014", 3, "work,a,\"two"));
    assert_eq!(with("work,a,,,1,UGX,2026-10-01,s\n"), one("R017", 3, ""));
    assert_eq!(with("work,a,,m2,1,UGX,2026-10-01,\n"), one("R018", 3, ""));
    assert_eq!(with("work,a,,m2,1,ugx,2026-10-01,s\n"), one("R019", 3, "ugx"));
    assert_eq!(
        with("work,a,,m2,12,500,UGX,2026-10-01,s\n"),
        one("R005", 3, "work,a,,m2,12,500,UGX,2026-10-01,s")
    );
    assert_eq!(seen(""), one("R001", 1, ""));
    assert_eq!(seen(HEAD), one("R001", 1, HEAD.trim_end()));
    assert_eq!(seen("kind;code\nwork;a\n"), one("R002", 1, "kind;code"));
    assert_eq!(seen("kind,code,kind\n"), [("R002", 1, "kind,code,kind".into()), ("R004", 1, "kind".into())]);
    assert_eq!(seen(&" ".repeat(10_000_001)), one("R015", 1, ""));
    let many = format!("{HEAD}{}", GOOD.repeat(20_001));
    assert_eq!(seen(&many), one("R016", 1, HEAD.trim_end()));
}

#[test]
fn all_mistakes_of_a_row_are_told_together() {
    let codes: Vec<&str> = with("job,,,,-1,x,y,\n").into_iter().map(|(code, ..)| code).collect();
    assert_eq!(codes, ["R006", "R007", "R017", "R010", "R019", "R013", "R018"]);
}

#[test]
fn messages_name_both_lines_and_give_a_way_out() {
    let text = format!("{HEAD}{GOOD}work,a,,m2,\"1,500\",UGX,2026-10-01,s\n{GOOD}");
    let problems = refused(&text);
    let messages: Vec<&str> = problems.iter().map(|p| p.message.as_str()).collect();
    let twice = "`screed` in m2 stands twice, on lines 2 and 4";
    assert_eq!(messages, ["a rate with a thousands separator", twice]);
    assert!(problems.iter().all(|p| p.hint.is_some()));
}

#[test]
fn byte_order_mark_crlf_any_column_order_and_blank_lines_are_taken() -> Result<(), String> {
    let text = "\u{feff}Source,rate,unit,code,kind,date,currency,description\r\n\r\n\
                \"=cmd(), shop\",14000.50,m2,screed,work,2026-10-01,KES,\"+1 \"\"neat\"\"\"\r\n\
                ,,,,,,,\r\n\
                ,,m3,backfill,Work,,KES,@fill\r\n";
    let list = read_prices("p.csv", text).map_err(|p| format!("{p:?}"))?;
    assert_eq!((list.currency.as_str(), list.rows.len(), list.cautions.len()), ("KES", 2, 0));
    let [screed, backfill] = &list.rows[..] else { return Err("rows".into()) };
    assert_eq!(screed.rate.map(|r| r.to_string()).as_deref(), Some("14000.50"));
    assert_eq!((screed.source.as_str(), screed.description.as_str()), ("=cmd(), shop", "+1 \"neat\""));
    assert_eq!((screed.line, backfill.line), (3, 5));
    assert_eq!(text.get(backfill.span.clone()), Some(",,m3,backfill,Work,,KES,@fill"));
    assert_eq!((backfill.rate, backfill.description.as_str()), (None, "@fill"));
    Ok(())
}

#[test]
fn a_column_that_nothing_reads_is_a_caution() -> Result<(), String> {
    let text = "kind,code,description,unit,rate,currency,date,source,shop\nwork,a,,m2,1,UGX,2026-10-01,s,x\n";
    let list = read_prices("p.csv", text).map_err(|p| format!("{p:?}"))?;
    let told: Vec<_> = list.cautions.iter().map(|p| (p.code, p.severity)).collect();
    assert_eq!(told, [("R003", Severity::Caution)]);
    Ok(())
}

#[test]
fn the_same_code_may_stand_once_for_each_unit_and_kind() {
    let rows = "work,wall/220,,m2,1,UGX,2026-10-01,s\nwork,wall/220,,m3,1,UGX,2026-10-01,s\n\
                material,wall/220,,m3,1,UGX,2026-10-01,s\n";
    assert_eq!(with(rows), Vec::new());
}

#[test]
fn no_text_makes_it_fall_over() {
    let bits = ["\"", ",", "\n", "\r", "\u{feff}", "é", "a", "\0", HEAD, GOOD, "-", "9999999999999999", "."];
    // Every text of up to three of these, behind a head and bare.
    for a in bits {
        for b in bits {
            for c in bits {
                for lead in ["", HEAD] {
                    let text = format!("{lead}{a}{b}{c}");
                    for problem in refused(&text) {
                        let place = problem.place.map(|p| text.get(p.span).is_some());
                        assert_eq!(place, Some(true), "{text:?}");
                    }
                }
            }
        }
    }
}

#[test]
fn the_codes_in_the_list_are_the_codes_in_the_source() {
    let source = [
        include_str!("price_read.rs"),
        include_str!("lists/columns.rs"),
        include_str!("lists/cells.rs"),
        include_str!("lists/money.rs"),
        include_str!("lists/map.rs"),
        include_str!("entry.rs"),
        include_str!("read.rs"),
        include_str!("read_profile.rs"),
        include_str!("read_method.rs"),
    ]
    .concat();
    let is_code =
        |t: &&str| t.len() == 4 && t.starts_with(['P', 'R']) && t[1..].bytes().all(|b| b.is_ascii_digit());
    let used: BTreeSet<&str> = source.split('"').filter(is_code).collect();
    let listed: BTreeSet<&str> = CODES.iter().map(|(code, _)| *code).collect();
    assert_eq!(used, listed);
    assert_eq!(listed.len(), CODES.len());
}
