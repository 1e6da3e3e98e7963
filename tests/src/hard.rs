//! The doors by which words of other people come in, each as one function of bytes: for `fuzz/`, which throws bytes at
//! them, and for the test that throws every case of `tests/corpus/` again. What comes in may be refused; it may not
//! panic, hang, or make a refusal that cannot be shown.
#![expect(clippy::panic, reason = "a door that does not hold stops the test")]

use std::sync::LazyLock;

use tankwright_crosscheck::{read as second, rows, wording};
use tankwright_geometry::parse;
use tankwright_quantities::estimate::Failure;
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::{Names, Reading, read_list};
use tankwright_run::{Data, sheets};
use tankwright_web::{Given, Page};

/// A door: its name, which is the folder of its cases, and what takes the bytes.
pub type Door = (&'static str, fn(&[u8]));

/// Every door.
pub const DOORS: [Door; 8] = [
    ("job", job),
    ("list", list),
    ("list-book", list_book),
    ("second", other),
    ("second-book", other_book),
    ("values", values),
    ("bars", bars),
    ("page", page),
];

static NAMES: LazyLock<Names> = LazyLock::new(|| Names::new(crate::stock()));

/// The longest job text: a job of that length is measured in a moment.
const LONGEST: usize = 20_000;

/// A job file: read, and if it is one, measured and its books balanced.
pub fn job(bytes: &[u8]) {
    if let Some(text) = text(bytes, LONGEST) {
        take_job(text);
    }
}

fn take_job(text: &str) {
    match crate::read(text, true) {
        Err(problems) => shown(&problems, text),
        Ok(job) => match flow::estimate(&job, crate::stock(), None, &Settings::default()) {
            Ok(e) => assert!(e.balances.iter().all(|b| b.left == b.right), "{:?}", e.balances),
            Err(Failure::Job(problems) | Failure::Rates(problems)) => shown(&problems, text),
            Err(failure) => panic!("{failure:?}"),
        },
    }
}

/// A price list as text.
pub fn list(bytes: &[u8]) {
    if let Some(text) = text(bytes, 200_000) {
        take_list(text);
    }
}

fn take_list(text: &str) {
    for names in [None, Some(&*NAMES)] {
        if let Err(problems) = read_list("list.csv", text, &Reading { names, ..Reading::default() }) {
            shown(&problems, text);
        }
    }
}

/// A price list in a spreadsheet file.
pub fn list_book(bytes: &[u8]) {
    match sheets::open("list.xlsx", bytes, None, &sheets::Wanted::PRICES) {
        Ok(sheet) => take_list(&sheet.text),
        Err(problem) => shown(&[problem], ""),
    }
}

/// A second take-off as text.
pub fn other(bytes: &[u8]) {
    if let Some(text) = text(bytes, 200_000) {
        take_other(&rows::of_csv(text), text);
    }
}

fn take_other(rows: &[rows::Row], text: &str) {
    if let Err(problems) = second::read("other.csv", rows, wording::builtin()) {
        shown(&problems, text);
    }
}

/// A second take-off in a spreadsheet file.
pub fn other_book(bytes: &[u8]) {
    match tankwright_run::rows(
        "other.xlsx",
        bytes,
        None,
        (wording::builtin(), tankwright_run::Shape::TakeOff),
    ) {
        Ok((sheet, rows)) => take_other(&rows, &sheet.text),
        Err(problem) => shown(&[problem], ""),
    }
}

/// A length or a number as people write it: by itself, and at keys of every kind of figure.
pub fn values(bytes: &[u8]) {
    let Some(value) = text(bytes, 200) else { return };
    let _ = (parse::parse_length(value), parse::decimal(value));
    let value = quoted(value);
    for (from, to) in [
        ("width = \"1.20 m\"", format!("width = {value}")),
        ("chambers = [\"1.60 m\", \"0.80 m\"]", format!("chambers = [{value}, \"0.80 m\"]")),
        ("[tank]", format!("[ground]\nwater_table = {value}\n[orders]\ntolerance = {value}\n[tank]")),
        ("[tank]", format!("[[preliminaries]]\ntitle = \"Store\"\namount = {value}\n[tank]")),
        (
            "[tank]",
            format!(
                "[packs]\ncement = {value}\n[sizing]\nrule = \"who-1992\"\npersons = 8\nwater_use = {value}\n[tank]"
            ),
        ),
        ("[tank]", format!("[tank.base.concrete]\nmix = {value}\n[tank]")),
        ("2026-11-25\"", format!("2026-11-25\"\nsupply = {value}")),
    ] {
        take_job(&SMALLEST.replacen(from, &to, 1));
    }
}

/// Bars as drawings write them, at keys of both kinds.
pub fn bars(bytes: &[u8]) {
    let Some(value) = text(bytes, 200) else { return };
    let value = quoted(value);
    let mesh = format!(
        "[steel.base]\nshort = {value}\nlong = {value}\n[steel.cover]\nshort = \"Y10@150\"\nlong = \"Y10@200\"\n"
    );
    take_job(&format!("{SMALLEST}{mesh}trimmers = {value}\n[steel]\nlap = {value}\n"));
    take_job(&format!("{SMALLEST}{mesh}"));
}

/// What is asked of the page: a path on the first line, then what is sent.
pub fn page(bytes: &[u8]) {
    static PAGE: LazyLock<Page> = LazyLock::new(|| {
        let data = Data {
            stock: crate::stock().clone(),
            rules: tankwright_sizing::builtin().0,
            whence: String::new(),
        };
        let text = SMALLEST.to_owned();
        let (name, stem) = ("job.toml".to_owned(), "job".to_owned());
        Page::new(Given {
            name,
            stem,
            text,
            data,
            lists: Vec::new(),
            firm: None,
            words: None,
            samples: Vec::new(),
        })
    });
    let end = bytes.iter().position(|b| *b == b'\n').unwrap_or(bytes.len());
    let (path, rest) = bytes.split_at(end);
    let (Ok(path), true) = (std::str::from_utf8(path), bytes.len() <= LONGEST) else { return };
    // A search runs on by itself and outlives the case.
    if path != "/cheapest" {
        let (status, body) = PAGE.post(path, rest.get(1..).unwrap_or_default());
        assert!(status < 500, "{status}: {}", String::from_utf8_lossy(&body));
    }
}

const SMALLEST: &str = include_str!("../../samples/smallest/job.toml");

fn text(bytes: &[u8], longest: usize) -> Option<&str> {
    std::str::from_utf8(bytes).ok().filter(|t| t.len() <= longest)
}

/// A text as a job file writes it.
fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string().replace('\u{7f}', "\\u007f")
}

/// A refusal can be shown: there is one, it has words, and its place is inside the text.
fn shown(problems: &[Problem], text: &str) {
    assert!(!problems.is_empty());
    for p in problems {
        assert!(!p.message.is_empty() && !p.code.is_empty());
        if let Some(place) = &p.place
            && !text.is_empty()
        {
            assert!(text.get(place.span.clone()).is_some(), "{p:?}");
        }
    }
}
