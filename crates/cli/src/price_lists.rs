//! Price lists by name and by path.

use std::path::{Path, PathBuf};

use tankwright_quantities::problem::{Place, Problem};
use tankwright_quantities::rates::{PriceList, builtin_files, builtin_prices, read_prices};

use crate::context::Context;
use crate::exit::Exit;
use crate::files::Kind;

/// Names of the built-in price lists.
pub(crate) fn list_names() -> Vec<&'static str> {
    let name = |path: &'static str| path.strip_prefix("prices/")?.strip_suffix(".csv");
    builtin_files().iter().filter_map(|(path, _)| name(path)).collect()
}

/// Reads a price list: a built-in name, or a path (relative to `base`).
pub(crate) fn open_list(
    cx: &mut Context<'_>,
    name: &str,
    base: Option<&Path>,
    place: Option<Place>,
) -> Result<PriceList, (Exit, Vec<Problem>)> {
    let lower = name.to_lowercase();
    let refused = |exit, code, place: Option<Place>, message: String, label: &str, hint: String| {
        // A label stands beside carets; without a place there are none.
        let label = if place.is_some() { label } else { "" };
        Err((exit, vec![Problem::error(code, place, message).label(label).hint(hint)]))
    };
    if [".xlsx", ".xls", ".ods"].iter().any(|e| lower.ends_with(e)) {
        let message = format!("`{name}`: price lists from spreadsheet files come later");
        let hint = "save the sheet as CSV, UTF-8, and name that file".to_owned();
        return refused(Exit::Rates, "R092", place, message, "a spreadsheet file", hint);
    }
    let named = !name.contains(['/', '\\']) && !lower.ends_with(".csv");
    let own = cx.data.as_ref().filter(|_| named).map(|d| d.join("prices").join(format!("{name}.csv")));
    let own = own.filter(|path| cx.files.kind(path) != Kind::Nothing);
    let path = match (own, named) {
        (Some(path), _) => path,
        (None, false) => base.map_or_else(|| PathBuf::from(name), |b| b.join(name)),
        (None, true) => {
            let Some((path, text)) = builtin_prices(name) else {
                let message = format!("there is no built-in price list `{name}`");
                let names = list_names().join(", ");
                let hint = format!("built in: {names}; a file of your own has a name that ends in .csv");
                return refused(Exit::Rates, "R090", place, message, "not a built-in list", hint);
            };
            cx.quote(&path, text);
            return read_prices(&path, text).map_err(|problems| (Exit::Rates, problems));
        }
    };
    let shown = path.display().to_string();
    match cx.read(&shown, &path) {
        Ok(text) => read_prices(&shown, &text).map_err(|problems| (Exit::Rates, problems)),
        Err(mut problem) => {
            // Shown where the job file names it, unless the trouble is inside the list.
            problem.place = problem.place.or(place);
            Err((Exit::File, vec![problem]))
        }
    }
}
