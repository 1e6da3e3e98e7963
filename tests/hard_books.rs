//! Spreadsheet files made to fill the memory or the day: refused within limits, in a process of 512 MB.

use std::fmt::Write as _;
use std::fs;
use std::io::{Cursor, Write};
use std::path::Path;
use std::time::{Duration, Instant};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

use crate::hard_use::{room, said, shell};

const MAIN: &str = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const DOC: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

/// Far more than any of it takes, even in a debug build on a busy machine.
const PATIENCE: Duration = Duration::from_secs(20);

/// Names and texts of the parts of a book.
type Parts = Vec<(String, String)>;

/// A book of one sheet, before something in it is made hostile.
fn parts() -> Parts {
    let head = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>";
    let relation = |id: &str, kind: &str, to: &str| {
        format!("<Relationship Id=\"{id}\" Type=\"{DOC}/{kind}\" Target=\"{to}\"/>")
    };
    let relations = |all: &str| {
        format!(
            "{head}<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">{all}</Relationships>"
        )
    };
    let row = |n: usize, cells: [&str; 6]| {
        let cell = |(i, text): (usize, &&str)| {
            format!(
                "<c r=\"{}{n}\" t=\"inlineStr\"><is><t>{text}</t></is></c>",
                char::from(b'A' + u8::try_from(i).unwrap())
            )
        };
        format!("<row r=\"{n}\">{}</row>", cells.iter().enumerate().map(cell).collect::<String>())
    };
    let rows = row(1, ["description", "unit", "rate", "currency", "date", "source"])
        + &row(2, ["Cement", "bag", "1", "UGX", "2026-10-01", "invented"]);
    [
        ("_rels/.rels", relations(&relation("r", "officeDocument", "xl/workbook.xml"))),
        ("xl/_rels/workbook.xml.rels", relations(&relation("r1", "worksheet", "worksheets/sheet1.xml"))),
        ("xl/workbook.xml", format!("{head}<workbook xmlns=\"{MAIN}\" xmlns:r=\"{DOC}\"><sheets><sheet name=\"P\" sheetId=\"1\" r:id=\"r1\"/></sheets></workbook>")),
        ("xl/styles.xml", format!("{head}<styleSheet xmlns=\"{MAIN}\"><fonts><font><name val=\"x\"/></font></fonts><cellXfs><xf fontId=\"0\"/></cellXfs></styleSheet>")),
        ("xl/sharedStrings.xml", format!("{head}<sst xmlns=\"{MAIN}\" count=\"1\" uniqueCount=\"1\"><si><t>x</t></si></sst>")),
        ("xl/worksheets/sheet1.xml", format!("{head}<worksheet xmlns=\"{MAIN}\"><dimension ref=\"A1:F2\"/><sheetData>{rows}</sheetData></worksheet>")),
    ]
    .map(|(name, text)| (name.to_owned(), text))
    .into()
}

fn packed(parts: &[(String, String)]) -> Vec<u8> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in parts {
        zip.start_file(
            name.as_str(),
            SimpleFileOptions::default().compression_method(CompressionMethod::Deflated),
        )
        .unwrap();
        zip.write_all(text.as_bytes()).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

/// The book with a text in one of its parts replaced.
fn with(part: &str, from: &str, to: &str) -> Parts {
    let mut parts = parts();
    let (_, text) = parts.iter_mut().find(|(name, _)| name.ends_with(part)).unwrap();
    assert!(text.contains(from), "{part} has no {from}");
    *text = text.replacen(from, to, 1);
    parts
}

fn many(count: usize, one: impl Fn(usize) -> String) -> String {
    (0..count).fold(String::new(), |mut all, n| {
        let _ = write!(all, "{}", one(n));
        all
    })
}

/// Runs a command on a book with 512 MB of address space; code and messages.
fn taken(dir: &Path, bytes: &[u8], args: &[&str]) -> (Option<i32>, String) {
    fs::write(dir.join("list.xlsx"), bytes).unwrap();
    let start = Instant::now();
    let run = shell(dir, "ulimit -v 524288; exec \"$0\" \"$@\"", args);
    assert!(start.elapsed() < PATIENCE, "{:?}", start.elapsed());
    (run.status.code(), said(&run))
}

#[test]
fn books_made_to_fill_the_memory_are_refused() {
    let dir = room("books");
    fs::write(dir.join("job.toml"), include_str!("../samples/smallest/job.toml")).unwrap();
    let list = ["bill", "job.toml", "--rates", "list.xlsx"];
    let second = ["crosscheck", "job.toml", "list.xlsx"];
    // The book itself is read: what is wrong with it is that it prices one thing only.
    let (code, err) = taken(&dir, &packed(&parts()), &list);
    assert!(code == Some(4) && err.contains("error[R04"), "{err}");
    let spaces = |n: usize| " ".repeat(n);
    let blank_rows = || many(400_000, |_| "<row><c/></row>".to_owned());
    let cells = |at: &dyn Fn(usize) -> String, n: usize| {
        many(n, |i| format!("<row r=\"{}\"><c r=\"{}\"><v>1</v></c></row>", i + 3, at(i)))
    };
    let in_sheet = |rows: &str| with("sheet1.xml", "</sheetData>", &format!("{rows}</sheetData>"));
    let moved = |target: &str, name: &str, text: String| {
        let mut parts = with("workbook.xml.rels", "worksheets/sheet1.xml", target);
        parts.push((name.to_owned(), text));
        parts
    };
    let relation =
        |n: usize, to: &str| format!("<Relationship Id=\"s{n}\" Type=\"{DOC}/worksheet\" Target=\"{to}\"/>");
    let many_sheets = |count: usize, to: &str, sheet: &str| {
        let mut parts = with(
            "workbook.xml",
            "</sheets>",
            &(many(count, |n| format!("<sheet name=\"s{n}\" sheetId=\"{n}\" r:id=\"s1\"/>")) + "</sheets>"),
        );
        for (name, text) in &mut parts {
            if name.ends_with("workbook.xml.rels") {
                *text = text.replace("</Relationships>", &(relation(1, to) + "</Relationships>"));
            } else if name.ends_with("sheet1.xml") {
                *text = text.replace("</sheetData>", &format!("{sheet}</sheetData>"));
            }
        }
        parts
    };
    let books: Vec<(&str, Parts, &str)> = vec![
        ("a part of 101 MB", in_sheet(&spaces(101_000_000)), "bytes when unpacked"),
        (
            "a sheet with a picture's name",
            moved("media/sheet1.xml", "xl/media/sheet1.xml", spaces(101_000_000)),
            "bytes when unpacked",
        ),
        (
            "a table that says it is large",
            with("sharedStrings.xml", "uniqueCount=\"1\"", "uniqueCount=\"1000000000000\""),
            "strings",
        ),
        (
            "one that says it is larger",
            with("sharedStrings.xml", "uniqueCount=\"1\"", "uniqueCount = '99999999999999999999'"),
            "strings",
        ),
        (
            "a table of empty strings",
            with("sharedStrings.xml", "<si>", &format!("{}<si>", "<si/>".repeat(5_000_000))),
            "strings",
        ),
        (
            "a font with a long name",
            with("styles.xml", "<xf fontId=\"0\"/>", &"<xf fontId=\"0\"/>".repeat(20_000))
                .into_iter()
                .map(|(n, t)| (n, t.replace("val=\"x\"", &format!("val=\"{}\"", "x".repeat(1_000_000)))))
                .collect(),
            "bytes of styles",
        ),
        ("many styles", with("styles.xml", "<xf fontId=\"0\"/>", &"<xf/>".repeat(1_000_000)), "styles"),
        (
            "many sheets of a long path",
            many_sheets(20_000, &format!("worksheets/{}", "x".repeat(1_000_000)), ""),
            "bytes in names of sheets",
        ),
        (
            "one large sheet many times",
            many_sheets(500, "worksheets/sheet1.xml", &blank_rows()),
            "bytes, sheet by sheet",
        ),
        ("a row beyond the end", in_sheet("<row r=\"1048576\"><c r=\"A1048576\"><v>1</v></c></row>"), "rows"),
        ("a column beyond the end", in_sheet("<row r=\"3\"><c r=\"XFD3\"><v>1</v></c></row>"), "columns"),
        ("a million rows", in_sheet(&cells(&|i| format!("A{}", i + 3), 1_000_000)), "rows"),
        (
            "cells far apart",
            in_sheet(&cells(&|i| format!("KN{}", i + 3), 150_000)),
            "cells, empty ones between them too",
        ),
        (
            "long empty sheets",
            many_sheets(40, "worksheets/sheet1.xml", "<row r=\"199999\"><c r=\"A199999\"><v>1</v></c></row>"),
            "cells, empty ones between them too",
        ),
        (
            "merged over and over",
            in_sheet(&cells(&|i| format!("J{}", i + 3), 3_000))
                .into_iter()
                .map(|(n, t)| {
                    (
                        n,
                        t.replace(
                            "</worksheet>",
                            &format!(
                                "<mergeCells>{}</mergeCells></worksheet>",
                                "<mergeCell ref=\"A1:J3000\"/>".repeat(200_000)
                            ),
                        ),
                    )
                })
                .collect(),
            "merged cells",
        ),
        (
            "a giant cell, many times",
            with("sharedStrings.xml", "<t>x</t>", &format!("<t>{}</t>", "y".repeat(1_000_000)))
                .into_iter()
                .map(|(n, t)| {
                    (
                        n,
                        t.replace(
                            "</sheetData>",
                            &(many(200, |i| {
                                format!("<row r=\"{0}\"><c r=\"A{0}\" t=\"s\"><v>0</v></c></row>", i + 3)
                            }) + "</sheetData>"),
                        ),
                    )
                })
                .collect(),
            "bytes of text",
        ),
    ];
    for (name, parts, what) in &books {
        let bytes = packed(parts);
        assert!(bytes.len() < 10_000_000, "{name}: {} bytes", bytes.len());
        for args in [&list[..], &second] {
            let (code, err) = taken(&dir, &bytes, args);
            let refused = code.is_some_and(|c| [3, 4, 6].contains(&c))
                && err.starts_with("error[R071]: `list.xlsx` has more than ");
            assert!(
                refused && err.contains(what) && err.len() < 1_000,
                "{name}: {code:?} {}",
                err.chars().take(800).collect::<String>()
            );
            if name.len() % 4 > 0 {
                break;
            }
        }
    }
    fs::remove_dir_all(dir).unwrap();
}

#[test]
fn books_that_play_tricks_are_read_as_they_stand_or_refused() {
    let dir = room("tricks");
    let job = include_str!("../samples/smallest/job.toml");
    fs::write(dir.join("job.toml"), job).unwrap();
    fs::write(dir.join("secret.txt"), "a secret of this machine").unwrap();
    let laughs = many(9, |n| format!("<!ENTITY l{} \"{}\">", n + 1, format!("&l{n};").repeat(10)));
    let secret = dir.join("secret.txt").display().to_string();
    let sst = format!("<sst xmlns=\"{MAIN}\" count");
    let doctype = |inside: &str| format!("<!DOCTYPE sst [<!ENTITY l0 \"ha\">{inside}]>{sst}");
    let entity = |inside: &str, used: &str| {
        let mut parts = with("sharedStrings.xml", &sst, &doctype(inside));
        for (name, text) in &mut parts {
            *text = text.replace("<t>x</t>", &format!("<t>{used}</t>"));
            if name.ends_with("sheet1.xml") {
                *text = text.replace("t=\"inlineStr\"><is><t>Cement</t></is>", "t=\"s\"><v>0</v>");
            }
        }
        parts
    };
    let giant = with("sheet1.xml", "Cement", &"z".repeat(20_000_000));
    let books = [
        ("billion laughs", entity(&laughs, "&l9;")),
        ("a file of the machine", entity(&format!("<!ENTITY f SYSTEM \"file://{secret}\">"), "&f;")),
        ("no such entity", entity("", "&nothing;")),
        ("absurd dimensions", with("sheet1.xml", "A1:F2", "A1:XFD1048576")),
        ("dimensions backwards", with("sheet1.xml", "A1:F2", "ZZZZZZ99999999999:A0")),
        ("a cell nowhere", with("sheet1.xml", "r=\"A2\"", "r=\"ZZZZZZZZZZ99999999999999\"")),
        ("a row nowhere", with("sheet1.xml", "<row r=\"2\">", "<row r=\"99999999999999999999\">")),
        (
            "a string nowhere",
            with("sheet1.xml", "t=\"inlineStr\"><is><t>Cement</t></is>", "t=\"s\"><v>4000000000</v>"),
        ),
        ("a giant cell", giant),
        (
            "a workbook that is its own sheet",
            with("workbook.xml.rels", "worksheets/sheet1.xml", "workbook.xml"),
        ),
        ("a sheet outside", with("workbook.xml.rels", "worksheets/sheet1.xml", &format!("../..{secret}"))),
        ("a sheet at its end", with("sheet1.xml", "</sheetData></worksheet>", "<row><c><is><t>")),
    ];
    for (name, parts) in books {
        let (code, err) = taken(&dir, &packed(&parts), &["bill", "job.toml", "--rates", "list.xlsx"]);
        assert!(code == Some(4), "{name}: {code:?} {}", err.chars().take(800).collect::<String>());
        assert!(
            err.contains("error[R0") && !err.contains("panic") && !err.contains("fault of the program"),
            "{name}: {err}"
        );
        assert!(
            !err.contains("a secret") && !err.contains("hahaha") && err.len() < 8_000,
            "{name}: {} bytes",
            err.len()
        );
    }
    fs::remove_dir_all(dir).unwrap();
}
