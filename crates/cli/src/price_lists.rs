//! Price lists by name and by path.

use std::path::{Path, PathBuf};

use tankwright_quantities::problem::{Place, Problem, Severity};
use tankwright_quantities::rates::{
    PriceKind, PriceList, PriceRow, builtin_files, builtin_prices, read_prices,
};
use tankwright_quantities::works::{self, Section};

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

/// A work that the price lists know and no bill asks for yet.
const LATER: &str = "bars";

/// Rows that no bill will ask for: a work that is not known, or in a unit it is not measured in. A job may name any
/// of its own, so these are cautions.
pub(crate) fn doubts(list: &PriceList) -> Vec<Problem> {
    let works = works::all();
    let of_work = list.rows.iter().filter(|r| r.kind == PriceKind::Work && !r.code.starts_with(LATER));
    let told = of_work.filter_map(|row| {
        let id = row.code.split('/').next().unwrap_or_default();
        let Some(work) = works.iter().find(|w| w.id == id) else {
            let text = format!("`{}` is not a work: no bill asks for this row", row.code);
            return Some(doubt(
                "R093",
                list,
                row,
                text,
                "`tankwright rules works` lists the works".to_owned(),
            ));
        };
        // Profiles measure walls by area or by volume.
        let units = match (work.section, work.unit.id()) {
            (Section::Masonry, "m3") => "m2 or m3",
            (_, unit) => unit,
        };
        let text = || format!("`{}` is measured in {units}, this rate is for {}", row.code, row.unit);
        let hint = format!("a bill finds this row only where its unit is written {units}");
        let known = units.split(" or ").any(|u| u == row.unit);
        (!known).then(|| doubt("R094", list, row, text(), hint))
    });
    told.collect()
}

fn doubt(code: &'static str, list: &PriceList, row: &PriceRow, text: String, hint: String) -> Problem {
    let place = Place { file: list.name.clone(), span: row.span.clone(), line: row.line };
    let problem = Problem::error(code, Some(place), text).hint(hint);
    Problem { severity: Severity::Caution, ..problem }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_of_the_built_in_lists_can_be_asked_for() {
        for name in list_names() {
            let list = builtin_prices(name).map(|(path, text)| read_prices(&path, text));
            let doubts = list.and_then(Result::ok).map(|list| doubts(&list));
            assert_eq!(doubts, Some(Vec::new()), "{name}");
        }
    }

    #[test]
    fn rows_that_nothing_asks_for_are_doubted() {
        let text = "kind,code,description,unit,rate,currency,date,source\n\
            work,excavation-trenc,,m3,1,UGX,2026-10-01,me\n\
            work,excavation-trench,,cum,1,UGX,2026-10-01,me\n\
            work,brickwork-wall/220,,m2,1,UGX,2026-10-01,me\n\
            work,brickwork-wall/110,,m3,1,UGX,2026-10-01,me\n\
            work,brickwork-wall/330,,sqm,1,UGX,2026-10-01,me\n\
            work,hoop-iron,,m2,1,UGX,2026-10-01,me\n\
            material,cement,,bag,1,UGX,2026-10-01,me\n";
        let found = read_prices("my.csv", text).map(|list| doubts(&list)).unwrap_or_default();
        let walls = found.get(2).map(|p| p.message.as_str());
        assert_eq!(walls, Some("`brickwork-wall/330` is measured in m2 or m3, this rate is for sqm"));
        let seen: Vec<_> = found.iter().map(|p| (p.code, p.place.as_ref().map_or(0, |p| p.line))).collect();
        assert_eq!(seen, [("R093", 2), ("R094", 3), ("R094", 6), ("R094", 7)]);
    }
}
