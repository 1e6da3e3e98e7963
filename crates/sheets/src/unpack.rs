//! The parts of the file, before anybody reads them in earnest: how many, how large, how large in truth, and what the
//! reader's library would make of them. It keeps a copy of a style for every format and of a path for every sheet, and
//! room for as many strings as the file says it holds; a small file can ask for all the memory there is.

use std::io::{Cursor, Read, copy};

use zip::ZipArchive;
use zip::read::ZipFile;

use crate::scan::Scan;
use crate::{Limits, Trouble};

/// Bytes of a list of styles, or of relations.
const LIST: u64 = 10_000_000;
/// Tags of a list of styles: each may become a style.
const STYLES: u64 = 300_000;
/// Tags of the table of strings.
const STRINGS: u64 = 4_000_000;
/// Bytes that a sheet takes before anybody reads it, besides its path.
const SHEET: u64 = 200;
/// Bytes of copies that the library makes.
const COPIES: u64 = 200_000_000;

/// Looks the parts over: the sizes they claim first, then what really comes out, and no more than that. The answer is
/// the size of the largest.
pub(crate) fn look_over(bytes: &[u8], limits: &Limits) -> Result<u64, Trouble> {
    let mut parts = ZipArchive::new(Cursor::new(bytes)).map_err(|e| Trouble::Damaged(e.to_string()))?;
    if parts.len() > limits.parts {
        return Err(Trouble::TooLarge("parts in the file", u64::try_from(limits.parts).unwrap_or(u64::MAX)));
    }
    let too_large = Trouble::TooLarge("bytes when unpacked", limits.unpacked);
    let mut claimed = 0_u64;
    for i in 0..parts.len() {
        let part = parts.by_index_raw(i).map_err(|e| Trouble::Damaged(e.to_string()))?;
        claimed = claimed.saturating_add(part.size());
    }
    if claimed > limits.unpacked {
        return Err(too_large);
    }
    let (mut left, mut largest, mut sheets, mut longest) = (limits.unpacked, 0, 0_u64, 0);
    for i in 0..parts.len() {
        let part = parts.by_index(i).map_err(|e| Trouble::Damaged(e.to_string()))?;
        let name = name(&part)?;
        let mut scan = Scan::default();
        copy(&mut part.take(left.saturating_add(1)), &mut scan)
            .map_err(|e| Trouble::Damaged(e.to_string()))?;
        left = left.checked_sub(scan.bytes).ok_or_else(|| too_large.clone())?;
        largest = scan.bytes.max(largest);
        sheets = sheets.saturating_add(scan.sheets);
        if name.ends_with(".rels") {
            longest = scan.longest.max(longest);
        }
        fits(&name, &scan)?;
    }
    if sheets.saturating_mul(longest.saturating_add(SHEET)) > COPIES {
        return Err(Trouble::TooLarge("bytes in names of sheets", COPIES));
    }
    Ok(largest)
}

/// Is the part one that the library can take?
fn fits(name: &str, scan: &Scan) -> Result<(), Trouble> {
    let styles = name.ends_with("styles.xml");
    if (styles || name.ends_with(".rels")) && scan.bytes > LIST {
        return Err(Trouble::TooLarge("bytes of styles or of relations", LIST));
    }
    if styles && scan.tags > STYLES {
        return Err(Trouble::TooLarge("styles", STYLES));
    }
    if styles && scan.tags.saturating_mul(scan.longest) > COPIES {
        return Err(Trouble::TooLarge("bytes of styles", COPIES));
    }
    if name.ends_with("sharedstrings.xml") && scan.tags.max(scan.strings) > STRINGS {
        return Err(Trouble::TooLarge("strings", STRINGS));
    }
    Ok(())
}

fn name<R: Read>(part: &ZipFile<'_, R>) -> Result<String, Trouble> {
    part.name().map(|n| n.to_lowercase()).map_err(|e| Trouble::Damaged(e.to_string()))
}
