//! What an id names.

use tankwright_quantities::bill::{Addition, BillRow, BillSection, SideRow};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::materials::Material;
use tankwright_quantities::orders::Total;
use tankwright_quantities::sheet::Item;
use tankwright_quantities::steel::Mark;

pub(super) enum Found<'a> {
    Items(Vec<&'a Item>),
    Rows(Vec<&'a BillRow>),
    Section(&'a BillSection),
    Addition(&'a Addition),
    Side(&'a [SideRow], &'static str),
    Total,
    Measured,
    Earth,
    Capacity,
}

/// What is bought or cut.
pub(super) enum Goods<'a> {
    Material(&'a Material),
    Order(&'a Total),
    Mark(&'a Mark),
}

/// A material by its id, its orders behind `orders/`, a mark behind `mark/`.
pub(super) fn goods<'a>(e: &'a Estimate, id: &str) -> Option<Goods<'a>> {
    let id = id.trim();
    if let Some(m) = e.materials.materials.iter().find(|m| m.id == id) {
        return Some(Goods::Material(m));
    }
    if let Some(t) = e.orders.totals.iter().find(|t| id.strip_prefix("orders/") == Some(&t.material)) {
        return Some(Goods::Order(t));
    }
    let mark = e.steel.marks.iter().find(|m| id.strip_prefix("mark/") == Some(&m.mark));
    mark.map(Goods::Mark)
}

/// How many near ids are offered.
const NEAREST: usize = 5;

pub(super) fn find<'a>(e: &'a Estimate, id: &str) -> Result<Found<'a>, Vec<String>> {
    let id = id.trim();
    let items: Vec<_> = all_items(e).filter(|i| i.id == id).collect();
    if !items.is_empty() {
        return Ok(Found::Items(items));
    }
    let rows = || e.bill.sections.iter().flat_map(|s| &s.rows);
    let named: Vec<_> =
        rows().filter(|r| r.reference.eq_ignore_ascii_case(id) || r.work.id == id || code(r) == id).collect();
    if !named.is_empty() {
        return Ok(Found::Rows(named));
    }
    // Items that the bill does not show: voids, and what stands in the rate of another.
    let items: Vec<_> =
        all_items(e).filter(|i| i.work.id == id || joined(i.work.id, &i.spec) == id).collect();
    if !items.is_empty() {
        return Ok(Found::Items(items));
    }
    let lettered = |s: &&BillSection| s.section.id() == id || s.letter.to_string().eq_ignore_ascii_case(id);
    if let Some(s) = e.bill.sections.iter().find(lettered) {
        return Ok(Found::Section(s));
    }
    match id {
        "total" => return Ok(Found::Total),
        "measured" => return Ok(Found::Measured),
        "preliminaries" => return Ok(Found::Side(&e.bill.preliminaries, "paper-preliminaries")),
        "provisional" => return Ok(Found::Side(&e.bill.provisional, "paper-provisional")),
        "earth" => return Ok(Found::Earth),
        "capacity" => return Ok(Found::Capacity),
        _ => {}
    }
    let lower = id.to_lowercase();
    let addition = e.bill.additions.iter().find(|a| a.title.to_lowercase() == lower);
    addition.map_or_else(|| Err(nearest(e, &lower)), |a| Ok(Found::Addition(a)))
}

fn all_items(e: &Estimate) -> impl Iterator<Item = &Item> {
    e.sheet.items.iter().chain(&e.sheet.voids)
}

fn joined(work: &str, spec: &str) -> String {
    if spec.is_empty() { work.to_owned() } else { format!("{work}/{spec}") }
}

pub(super) fn code(row: &BillRow) -> String {
    joined(row.work.id, &row.spec)
}

pub(super) fn ids(e: &Estimate) -> Vec<String> {
    let mut all: Vec<String> = ["total", "measured", "preliminaries", "provisional", "earth", "capacity"]
        .into_iter()
        .map(str::to_owned)
        .collect();
    for s in &e.bill.sections {
        all.push(s.section.id().to_owned());
        for r in &s.rows {
            all.extend([r.reference.clone(), r.work.id.to_owned(), code(r)]);
        }
    }
    for i in all_items(e) {
        all.extend([i.work.id.to_owned(), joined(i.work.id, &i.spec), i.id.clone()]);
    }
    all.extend(e.bill.additions.iter().map(|a| a.title.clone()));
    all.extend(e.materials.materials.iter().map(|m| m.id.clone()));
    all.extend(e.orders.totals.iter().map(|t| format!("orders/{}", t.material)));
    all.extend(e.steel.marks.iter().map(|m| format!("mark/{}", m.mark)));
    let mut seen = std::collections::BTreeSet::new();
    all.retain(|id| seen.insert(id.clone()));
    all
}

/// Ids that hold the text first, then by the fewest letters to change; ties as on the papers.
fn nearest(e: &Estimate, wanted: &str) -> Vec<String> {
    // Long input is somebody's paste, not a slip of the finger.
    let wanted: String = wanted.chars().take(80).collect();
    let mut ranked: Vec<_> = ids(e)
        .into_iter()
        .map(|id| {
            let lower = id.to_lowercase();
            let (start, whole) = distances(&wanted, &lower);
            (wanted.is_empty() || !lower.contains(&wanted), start, whole, id)
        })
        .collect();
    ranked.sort_by_key(|(without, start, whole, _)| (*without, *start, *whole));
    ranked.into_iter().take(NEAREST).map(|(.., id)| id).collect()
}

/// Letters to insert, drop or change to make the first text the best start of the second, and the whole of it.
fn distances(a: &str, b: &str) -> (usize, usize) {
    let b: Vec<char> = b.chars().collect();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for (i, c) in a.chars().enumerate() {
        let mut row = vec![i + 1];
        for (j, d) in b.iter().enumerate() {
            let change = last[j] + usize::from(c != *d);
            row.push(change.min(last[j + 1] + 1).min(row[j] + 1));
        }
        last = row;
    }
    (last.iter().min().copied().unwrap_or(0), last.last().copied().unwrap_or(0))
}

#[cfg(test)]
mod tests {
    #[test]
    fn letters_to_change() {
        assert_eq!(super::distances("brikwork", "brickwork-wall"), (1, 6));
        assert_eq!(super::distances("", "abc"), (0, 3));
    }
}
