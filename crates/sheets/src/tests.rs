//! Files written here, read back; and files that are none.

use rust_xlsxwriter::{ExcelDateTime, Format, Workbook, XlsxError};

use super::*;

fn book() -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet().set_name("Prices")?;
    sheet.merge_range(0, 0, 0, 2, "Hill Road Hardware", &Format::new())?;
    sheet.write(2, 0, "Item")?.write(2, 1, "Unit")?.write(2, 2, "Price")?;
    sheet.write(3, 0, "Cement, \"grey\"")?.write(3, 1, "bag")?.write(3, 2, 0.300_000_000_000_000_04)?;
    let day = Format::new().set_num_format("yyyy-mm-dd");
    sheet.write_with_format(3, 3, &ExcelDateTime::from_ymd(2026, 10, 1)?, &day)?;
    sheet.write(4, 2, 18_000)?.write(4, 4, "two\nlines")?.write(4, 5, true)?;
    book.add_worksheet().set_name("Empty")?;
    book.save_to_buffer()
}

#[test]
fn rows_as_people_see_them() -> Result<(), XlsxError> {
    let sheets = read(&book()?, &Limits::USUAL).unwrap_or_default();
    let names: Vec<&str> = sheets.iter().map(|s| s.name.as_str()).collect();
    assert_eq!(names, ["Prices", "Empty"]);
    let first = sheets.first().map(Sheet::csv).unwrap_or_default();
    let want = "Hill Road Hardware,Hill Road Hardware,Hill Road Hardware\n\nItem,Unit,Price\n\
        \"Cement, \"\"grey\"\"\",bag,0.3,2026-10-01\n,,18000,,two lines,TRUE\n";
    assert_eq!(first, want);
    let numbers = sheets.first().map(Sheet::numbers).unwrap_or_default();
    assert_eq!(numbers.into_iter().collect::<Vec<_>>(), [(4, 2), (5, 2)]);
    Ok(())
}

#[test]
fn limits_hold() -> Result<(), XlsxError> {
    let bytes = book()?;
    let what = |limits: &Limits| match read(&bytes, limits) {
        Err(Trouble::TooLarge(what, _)) => what,
        _ => "",
    };
    let usual = Limits::USUAL;
    assert_eq!(what(&Limits { file: 100, ..usual }), "bytes");
    assert_eq!(what(&Limits { unpacked: 2_000, ..usual }), "bytes when unpacked");
    assert_eq!(what(&Limits { parts: 3, ..usual }), "parts in the file");
    assert_eq!(what(&Limits { cells: 5, ..usual }), "cells");
    assert_eq!(what(&Limits { text: 10, ..usual }), "bytes of text");
    assert_eq!(what(&Limits { rows: 3, ..usual }), "rows");
    assert_eq!(what(&Limits { columns: 2, ..usual }), "columns");
    Ok(())
}

#[test]
fn a_cell_at_the_end_of_the_sheet_costs_nothing() -> Result<(), XlsxError> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write(0, 0, "a")?.write(1_048_575, 16_383, "z")?;
    let far = read(&book.save_to_buffer()?, &Limits::USUAL);
    assert_eq!(far, Err(Trouble::TooLarge("rows", 200_000)));
    let mut book = Workbook::new();
    book.add_worksheet().merge_range(0, 0, 300, 250, "everywhere", &Format::new())?;
    let merged = read(&book.save_to_buffer()?, &Limits::USUAL).unwrap_or_default();
    let csv = merged.first().map(Sheet::csv).unwrap_or_default();
    assert_eq!(csv, "everywhere\n");
    Ok(())
}

#[test]
fn a_part_that_lies_about_its_size_is_found_out() -> Result<(), XlsxError> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for row in 0..2_000 {
        sheet.write(row, 0, "the same words again and again")?;
    }
    let mut bytes = book.save_to_buffer()?;
    // Every size in the directory at the end of the file is set to 1.
    let mark = [b'P', b'K', 1, 2];
    let places: Vec<usize> =
        bytes.windows(4).enumerate().filter(|(_, w)| *w == mark).map(|(i, _)| i).collect();
    for at in places {
        bytes.get_mut(at + 24..at + 28).into_iter().for_each(|size| size.copy_from_slice(&[1, 0, 0, 0]));
    }
    let small = Limits { unpacked: 20_000, ..Limits::USUAL };
    assert!(read(&bytes, &small).is_err());
    Ok(())
}

#[test]
fn nonsense_is_refused_calmly() -> Result<(), XlsxError> {
    let bytes = book()?;
    assert!(matches!(read(b"", &Limits::USUAL), Err(Trouble::Damaged(_))));
    assert!(matches!(read(b"PK\x03\x04 no more", &Limits::USUAL), Err(Trouble::Damaged(_))));
    assert_eq!(read(&[0xd0, 0xcf, 0x11, 0xe0, 1, 2], &Limits::USUAL), Err(Trouble::OldOrLocked));
    for end in (0..bytes.len()).step_by(97) {
        assert!(read(bytes.get(..end).unwrap_or_default(), &Limits::USUAL).is_err(), "{end}");
    }
    // One byte changed at a time: rows or trouble, no fall. A seed of our own.
    let mut seed = 7_usize;
    for _ in 0..300 {
        seed = seed.wrapping_mul(1_103_515_245).wrapping_add(12_345) % 2_147_483_648;
        let mut changed = bytes.clone();
        let at = seed % changed.len();
        changed
            .get_mut(at)
            .into_iter()
            .for_each(|b| *b = b.wrapping_add(1 + u8::try_from(seed % 250).unwrap_or(0)));
        let _ = read(&changed, &Limits::USUAL);
    }
    Ok(())
}

#[test]
fn addresses() {
    let names: Vec<String> =
        [(7, 3), (1, 26), (1, 27), (5, 702), (5, 703)].map(|(r, c)| address(r, c)).into();
    assert_eq!(names, ["C7", "Z1", "AA1", "ZZ5", "AAA5"]);
}
