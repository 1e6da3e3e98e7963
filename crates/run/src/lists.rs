//! Price lists from texts and from the bytes of spreadsheet files.

use std::collections::BTreeSet;

use tankwright_quantities::problem::{Problem, Severity};
use tankwright_quantities::rates::{Looked, Map, Names, ReadList, Reading, Stock, builtin_files, look_at};

use crate::sheets;

/// Names of the built-in price lists.
#[must_use]
pub fn list_names() -> Vec<&'static str> {
    let name = |path: &'static str| path.strip_prefix("prices/")?.strip_suffix(".csv");
    builtin_files().iter().filter_map(|(path, _)| name(path)).collect()
}

/// A list as found: its name on papers, its text, what is known of it.
#[derive(Clone, Debug)]
pub struct ListText {
    /// Its name on papers.
    pub shown: String,
    /// Its text; of a sheet, line n is row n.
    pub text: String,
    /// Cells that are numbers in a sheet: line and place in the row.
    pub numbers: BTreeSet<(usize, usize)>,
    /// Other sheets that may be meant.
    pub caution: Option<Problem>,
    /// Sheets of its file with something in them; none of a text.
    pub sheets: Vec<String>,
}

/// The sheet of a spreadsheet file that is asked for, else the first that is a price list.
///
/// # Errors
/// A file that cannot be read, or has no such sheet: codes R070 to R073, R092.
pub fn of_bytes(shown: &str, bytes: &[u8], sheet: Option<&str>) -> Result<ListText, Problem> {
    let sheet = sheets::open(shown, bytes, sheet, &sheets::Wanted::PRICES)?;
    let sheets::SheetText { name, text, numbers, caution, all, .. } = sheet;
    Ok(ListText { shown: name, text, numbers, caution, sheets: all })
}

/// Reads a list. A list in another form than ours needs names, and `map` says which of its rows are what; `refused`
/// puts problems into the caller's kind of refusal.
///
/// # Errors
/// What is wrong with the list or its map.
pub fn price_list<E>(
    list: &ListText,
    told: &Reading<'static>,
    stock: impl FnOnce() -> Stock,
    map: impl FnOnce(&Names) -> Result<Option<Map>, E>,
    refused: impl Fn(Vec<Problem>) -> E,
) -> Result<ReadList, E> {
    look_at_list(list, told, stock, map)?.in_order().map_err(refused)
}

/// The same, with what could be read of a list that is wrong somewhere.
///
/// # Errors
/// What is wrong with its map.
pub fn look_at_list<E>(
    list: &ListText,
    told: &Reading<'static>,
    stock: impl FnOnce() -> Stock,
    map: impl FnOnce(&Names) -> Result<Option<Map>, E>,
) -> Result<Looked, E> {
    let mut reading = Reading { numbers: list.numbers.clone(), ..told.clone() };
    let plain = look_at(&list.shown, &list.text, &reading);
    let wrong = plain.problems.iter().any(|p| p.severity == Severity::Error);
    let mut looked = if plain.how.own_form && plain.list.is_some() && !wrong {
        plain
    } else {
        let names = Names::new(&stock()).asked(&told.asked);
        let map = map(&names)?;
        (reading.names, reading.map) = (Some(&names), map.as_ref());
        look_at(&list.shown, &list.text, &reading)
    };
    looked.problems.extend(list.caution.clone());
    Ok(looked)
}
