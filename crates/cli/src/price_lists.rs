//! Price lists by name and by path.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use tankwright_quantities::problem::{Place, Problem, Severity};
use tankwright_quantities::rates::{
    Map, Names, PriceKind, PriceList, PriceRow, ReadList, Reading, builtin_prices, read_map,
};
use tankwright_quantities::works::{self, Section};
pub(crate) use tankwright_run::list_names;
use tankwright_run::{ListText, of_bytes, price_list, sheets};

use crate::context::Context;
use crate::exit::Exit;
use crate::files::Kind;
use crate::{data, load};

/// Reads a price list: a built-in name, or a path (relative to `base`).
pub(crate) fn open_list(
    cx: &mut Context<'_>,
    name: &str,
    base: Option<&Path>,
    place: Option<Place>,
) -> Result<PriceList, (Exit, Vec<Problem>)> {
    open(cx, name, base, place, &Told::default()).map(|read| read.list)
}

/// What the command line says of a list besides.
#[derive(Debug, Default)]
pub(crate) struct Told {
    /// Currency, date, source, tax, decimal mark.
    pub(crate) reading: Reading<'static>,
    /// A map in place of the one beside the list.
    pub(crate) map: Option<String>,
}

/// The same, with how it was read.
pub(crate) fn open(
    cx: &mut Context<'_>,
    name: &str,
    base: Option<&Path>,
    place: Option<Place>,
    told: &Told,
) -> Result<ReadList, (Exit, Vec<Problem>)> {
    let (list, map) = find(cx, name, base, place)?;
    let cx = RefCell::new(cx);
    let stock = || Arc::unwrap_or_clone(data::stock(&mut cx.borrow_mut(), &mut load::Found::default()));
    let map = |names: &Names| open_map(&mut cx.borrow_mut(), told.map.as_deref(), map.as_deref(), names);
    price_list(&list, &told.reading, stock, map, |problems| (Exit::Rates, problems))
}

/// The map named on the command line, else the one beside the list, where it is there.
fn open_map(
    cx: &mut Context<'_>,
    named: Option<&str>,
    beside: Option<&Path>,
    names: &Names,
) -> Result<Option<Map>, (Exit, Vec<Problem>)> {
    let path = named.map(Path::new).or(beside).map(Path::to_owned);
    let Some(path) = path.filter(|p| cx.files.kind(p) != Kind::Nothing) else { return Ok(None) };
    let shown = cx.shown(&path);
    let text = cx.read(&shown, &path).map_err(|problem| (Exit::File, vec![problem]))?;
    read_map(&shown, &text, names).map(Some).map_err(|problems| (Exit::Rates, problems))
}

/// Finds a list and reads its text; and where its map would lie.
fn find(
    cx: &mut Context<'_>,
    name: &str,
    base: Option<&Path>,
    place: Option<Place>,
) -> Result<(ListText, Option<PathBuf>), (Exit, Vec<Problem>)> {
    let lower = name.to_lowercase();
    let refused = |exit, code, place: Option<Place>, message: String, label: &str, hint: String| {
        // A label stands beside carets; without a place there are none.
        let label = if place.is_some() { label } else { "" };
        Err((exit, vec![Problem::error(code, place, message).label(label).hint(hint)]))
    };
    if [".xls", ".ods"].iter().any(|e| lower.ends_with(e)) {
        let message = format!("`{name}`: spreadsheet files of this kind are not read");
        let hint = "save it as XLSX, or the sheet as CSV, UTF-8".to_owned();
        return refused(Exit::Rates, "R092", place, message, "not XLSX", hint);
    }
    let book = sheets::parts(name);
    let named = !name.contains(['/', '\\']) && !lower.ends_with(".csv") && book.is_none();
    let (file, sheet) = book.unwrap_or((name, None));
    let path = if named {
        let Some(path) = own_list(cx, name) else {
            let Some((path, text)) = builtin_prices(name) else {
                let message = format!("there is no built-in price list `{name}`");
                let own = own_names(cx);
                let own =
                    if own.is_empty() { String::new() } else { format!("; your own: {}", own.join(", ")) };
                let names = list_names().join(", ");
                let hint = format!(
                    "built in: {names}{own}; a file of your own has a name that ends in .csv or .xlsx"
                );
                return refused(Exit::Rates, "R090", place, message, "not a built-in list", hint);
            };
            cx.quote(&path, text);
            let (numbers, caution) = (BTreeSet::new(), None);
            return Ok((
                ListText { shown: path, text: text.to_owned(), numbers, caution, sheets: Vec::new() },
                None,
            ));
        };
        path
    } else {
        base.map_or_else(|| PathBuf::from(file), |b| b.join(file))
    };
    let shown = cx.shown(&path);
    let is_book =
        path.extension().is_some_and(|e| e.eq_ignore_ascii_case("xlsx") || e.eq_ignore_ascii_case("xlsm"));
    let map = Some(path.with_extension("map.csv"));
    let at = |mut problem: Problem| {
        // Shown where the job file names it, unless the trouble is inside the list.
        problem.place = problem.place.or_else(|| place.clone());
        problem
    };
    if is_book {
        let bytes = cx.read_bytes(&shown, &path).map_err(|p| (Exit::File, vec![at(p)]))?;
        let list = of_bytes(&shown, &bytes, sheet).map_err(|p| (Exit::Rates, vec![at(p)]))?;
        cx.quote(&list.shown, &list.text);
        return Ok((list, map));
    }
    let text = cx.read(&shown, &path).map_err(|p| (Exit::File, vec![at(p)]))?;
    Ok((ListText { shown, text, numbers: BTreeSet::new(), caution: None, sheets: Vec::new() }, map))
}

/// A list of the user's own by its name: CSV before XLSX.
fn own_list(cx: &Context<'_>, name: &str) -> Option<PathBuf> {
    let folder = cx.data.as_ref()?.join("prices");
    let paths = ["csv", "xlsx"].into_iter().map(|e| folder.join(format!("{name}.{e}")));
    paths.into_iter().find(|path| cx.files.kind(path) != Kind::Nothing)
}

/// Names of the user's own lists, as far as they are no built-in ones.
pub(crate) fn own_names(cx: &Context<'_>) -> Vec<String> {
    let files = cx.data.as_ref().and_then(|d| cx.files.list(&d.join("prices")).ok()).unwrap_or_default();
    let plain = |f: &String| {
        let name = f.strip_suffix(".csv").or_else(|| f.strip_suffix(".xlsx"))?;
        (!name.ends_with(".map") && !list_names().contains(&name)).then(|| name.to_owned())
    };
    let mut names: Vec<String> = files.iter().filter_map(plain).collect();
    names.dedup();
    names
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
        // Profiles measure walls by area or by volume, and what is narrow by length.
        let units = match (work.section, work.unit.id()) {
            (Section::Masonry, "m3") => "m2 or m3",
            (Section::Formwork | Section::Finishes | Section::SoakPit, "m2") => "m2 or m",
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
    use tankwright_quantities::rates::read_prices;

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
            work,excavation-trench,,cft,1,UGX,2026-10-01,me\n\
            work,brickwork-wall/220,,m2,1,UGX,2026-10-01,me\n\
            work,brickwork-wall/110,,m3,1,UGX,2026-10-01,me\n\
            work,brickwork-wall/330,,cft,1,UGX,2026-10-01,me\n\
            work,hoop-iron,,m2,1,UGX,2026-10-01,me\n\
            material,cement,,bag,1,UGX,2026-10-01,me\n";
        let found = read_prices("my.csv", text).map(|list| doubts(&list)).unwrap_or_default();
        let walls = found.get(2).map(|p| p.message.as_str());
        assert_eq!(walls, Some("`brickwork-wall/330` is measured in m2 or m3, this rate is for cft"));
        let seen: Vec<_> = found.iter().map(|p| (p.code, p.place.as_ref().map_or(0, |p| p.line))).collect();
        assert_eq!(seen, [("R093", 2), ("R094", 3), ("R094", 6), ("R094", 7)]);
    }
}
