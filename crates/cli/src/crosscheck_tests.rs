//! The cross-check over a disk in memory: its map, words of one's own, what is refused.

use rust_xlsxwriter::{Format, Workbook, XlsxError};

use crate::fake::Fake;
use crate::run;

const JOB: &str = include_str!("../../../samples/smallest/job.toml");
const LIST: &str =
    "description,unit,quantity\nBrick walls,m3,2.40\nMasonry of the tank by Otim,m3,2.40\nPaint,m2,4\n";

fn with(files: &Fake, line: &str) -> (i32, String, String) {
    let args: Vec<String> = std::iter::once("tankwright").chain(line.split(' ')).map(str::to_owned).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = run(&args, &mut out, &mut err, files);
    (code, String::from_utf8_lossy(&out).into_owned(), String::from_utf8_lossy(&err).into_owned())
}

#[test]
fn the_map_is_written_once_and_then_read() {
    let files = Fake::with(&[("job.toml", JOB), ("other.csv", LIST)]);
    let line = "crosscheck job.toml other.csv --map map.csv";
    let (code, first, err) = with(&files, line);
    assert!(code == 0 && err.contains("map.csv is written"), "{err}");
    let map = String::from_utf8(files.get("map.csv").unwrap_or_default()).unwrap_or_default();
    assert!(
        map.contains("2,brickwork-wall,yes,,2.40 m3,Brick walls\r\n4,,no,,4 m2,Paint\r\n")
            || map.contains("\r\n4,,no,")
    );
    files.put("map.csv", map.replace("\r\n4,,", "\r\n4,-,").as_bytes());
    let (code, second, err) = with(&files, line);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(first.contains("nothing in its words") && second.contains("left aside by the map"), "{second}");
    assert!(second.lines().all(|l| l.chars().count() <= 100));
    let kept = files.get("map.csv").unwrap_or_default();
    assert!(String::from_utf8_lossy(&kept).contains("\r\n4,-,"));
}

#[test]
fn words_of_ones_own_stand_in_place_of_the_built_in_ones() {
    let words = include_str!("../../../rates/wording.toml");
    let own = words.replace("\"brickwork\", \"brick work\"", "\"tofali\", \"brick work\"");
    let list = "description,unit,quantity\nTofali,m3,2.40\n";
    let files = Fake::with(&[("job.toml", JOB), ("other.csv", list), ("own/wording.toml", &own)]);
    let (_, out, _) = with(&files, "crosscheck job.toml other.csv --format csv");
    assert!(out.contains("unmatched,2,"), "{out}");
    let (code, out, err) = with(&files, "--data own crosscheck job.toml other.csv --format csv");
    assert!(code == 0 && out.contains("item,2,brickwork-wall,"), "{out}{err}");
    files.put("own/wording.toml", b"[heads]\nunit = [");
    let (code, out, err) = with(&files, "--data own crosscheck job.toml other.csv");
    assert_eq!((code, out.as_str()), (4, ""));
    assert!(err.starts_with("error[T009]") && err.contains("own/wording.toml:2"), "{err}");
}

#[test]
fn a_list_that_is_not_there_or_says_nothing() {
    let files =
        Fake::with(&[("job.toml", JOB), ("empty.csv", ""), ("doubt.csv", "item,unit,qty\nWall,yards,3\n")]);
    assert_eq!(with(&files, "crosscheck job.toml nowhere.csv").0, 6);
    let (code, out, err) = with(&files, "crosscheck job.toml empty.csv");
    assert!(code == 3 && out.is_empty() && err.contains("T001"), "{err}");
    let (code, out, err) = with(&files, "crosscheck job.toml doubt.csv");
    assert!(
        code == 0 && !out.is_empty() && err.contains("caution[T007]") && err.contains("Wall,yards,3"),
        "{err}"
    );
}

/// A cover, and a bill with a merged heading, a blank row and numbers as a spreadsheet holds them.
fn book(heads: bool) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    book.add_worksheet().set_name("Cover")?.write(0, 0, "Kato Builders, page 1")?;
    for name in ["Bill", "Older bill"] {
        let sheet = book.add_worksheet().set_name(name)?;
        if heads {
            sheet.write(1, 0, "Description")?.write(1, 1, "Unit")?.write(1, 2, "Qty")?;
        }
        sheet.merge_range(2, 0, 2, 2, "MASONRY", &Format::new())?;
        sheet.write(4, 0, "Brick walls")?.write(4, 1, "m3")?.write(4, 2, 2.4)?;
        sheet.write(5, 0, "Level bottom of pit")?.write(5, 1, "m2")?.write(5, 2, 1.25)?;
        sheet.write(7, 0, "Concrete in base")?.write(7, 1, "yards")?.write(7, 2, 4)?;
    }
    book.save_to_buffer()
}

#[test]
fn a_spreadsheet_is_read_with_its_own_rows() -> Result<(), XlsxError> {
    let files = Fake::with(&[("job.toml", JOB)]);
    files.put("other.xlsx", &book(true)?);
    let (code, out, err) = with(&files, "crosscheck job.toml other.xlsx --format csv");
    assert_eq!(code, 0, "{err}");
    let paper = with(&files, "crosscheck job.toml other.xlsx").1;
    let row = |start: &str| out.lines().find(|l| l.starts_with(start)).unwrap_or_default().to_owned();
    // 2.4 is a number beside 1.25: it stands for 2.40.
    assert!(paper.contains("2.40") && paper.contains("other.xlsx#Bill"), "{paper}");
    assert!(row("item,5,brickwork-wall,").contains("Brick walls,m3,2.81,2.4,"), "{out}");
    assert!(row("item,6,bottom-trim,").contains(",1.25,"), "{out}");
    assert!(row("unmatched,8,").contains("concrete-base"), "{out}");
    assert!(!out.contains("MASONRY"), "{out}");
    assert!(err.contains("of `other.xlsx` the sheet `Bill` is read, and not Older bill"), "{err}");
    assert!(
        err.contains("caution[T007]: the unit `yards` is not known\n  other.xlsx#Bill, row 8\n"),
        "{err}"
    );
    assert!(err.contains("Concrete in base,yards,4"), "{err}");
    let (code, out, err) = with(&files, "crosscheck job.toml other.xlsx#Older\u{a0}bill");
    assert!(
        code == 3 && out.is_empty() && err.contains("R072") && err.contains("Cover, Bill, Older bill"),
        "{err}"
    );
    let (code, out, _) = with(&files, "crosscheck job.toml other.xlsx#Bill --format json --map map.csv");
    assert!(code == 0 && out.contains("\"other.xlsx#Bill\""), "{out}");
    let map = files.get("map.csv").unwrap_or_default();
    assert!(String::from_utf8_lossy(&map).contains("\r\n5,brickwork-wall,yes,,2.40 m3,Brick walls"));
    Ok(())
}

#[test]
fn a_spreadsheet_that_cannot_be_read() -> Result<(), XlsxError> {
    let files = Fake::with(&[("job.toml", JOB), ("text.xlsx", "description,unit,qty\n")]);
    let code = |name: &str| {
        let (code, out, err) = with(&files, &format!("crosscheck job.toml {name}"));
        (code, out.is_empty(), err.lines().next().unwrap_or_default().to_owned())
    };
    let damaged = "error[R070]: `text.xlsx` cannot be read as a spreadsheet file";
    assert_eq!(code("text.xlsx"), (3, true, damaged.to_owned()));
    assert_eq!(code("nowhere.xlsx#Bill").0, 6);
    let mut book = Workbook::new();
    book.add_worksheet().write(0, 0, "Kato Builders")?;
    files.put("letter.xlsx", &book.save_to_buffer()?);
    let none = "error[R073]: no sheet of `letter.xlsx` is a take-off or a bill";
    assert_eq!(code("letter.xlsx"), (3, true, none.to_owned()));
    // A row past the last that is looked at.
    let mut book = Workbook::new();
    book.add_worksheet().write(0, 0, "Description")?.write(300_000, 1, 4)?;
    files.put("far.xlsx", &book.save_to_buffer()?);
    let far = "error[R071]: `far.xlsx` has more than 200000 rows";
    assert_eq!(code("far.xlsx"), (3, true, far.to_owned()));
    Ok(())
}

#[test]
fn a_spreadsheet_without_heads_is_told_by_its_cells() -> Result<(), XlsxError> {
    let files = Fake::with(&[("job.toml", JOB)]);
    files.put("other.xlsx", &book(false)?);
    let (code, out, err) = with(&files, "crosscheck job.toml other.xlsx --format csv");
    assert!(code == 0 && out.contains("item,5,brickwork-wall,"), "{out}{err}");
    Ok(())
}
