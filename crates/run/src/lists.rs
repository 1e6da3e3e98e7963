//! Price lists from texts and from the bytes of spreadsheet files.

use std::collections::BTreeSet;

use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::{Map, Names, ReadList, Reading, Stock, builtin_files, read_list};

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
}

/// The sheet of a spreadsheet file that is asked for, else the first that is a price list.
///
/// # Errors
/// A file that cannot be read, or has no such sheet: codes R070 to R073, R092.
pub fn of_bytes(shown: &str, bytes: &[u8], sheet: Option<&str>) -> Result<ListText, Problem> {
    let sheet = sheets::open(shown, bytes, sheet, &sheets::Wanted::PRICES)?;
    let sheets::SheetText { name, text, numbers, caution, .. } = sheet;
    Ok(ListText { shown: name, text, numbers, caution })
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
    let mut reading = Reading { numbers: list.numbers.clone(), ..told.clone() };
    let read = match read_list(&list.shown, &list.text, &reading) {
        Ok(read) if read.how.own_form => Ok(read),
        _ => {
            let names = Names::new(&stock());
            let map = map(&names)?;
            (reading.names, reading.map) = (Some(&names), map.as_ref());
            read_list(&list.shown, &list.text, &reading)
        }
    };
    match read {
        Ok(mut read) => {
            read.list.cautions.extend(list.caution.clone());
            Ok(read)
        }
        Err(mut problems) => {
            problems.extend(list.caution.clone());
            Err(refused(problems))
        }
    }
}
