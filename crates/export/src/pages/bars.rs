//! Bars: a row for each mark, its number and dimensions live from the inputs; then the mass by diameter.

use tankwright_geometry::Ratio;
use tankwright_quantities::steel::{BarKind, Mark};

use crate::book::{Desk, MarkAt, heads, stage_word, word, words};
use crate::cells::{At, Cell, Look, Page, PageId, Show};
use crate::expr::Expr;
use crate::pages::{net, times};
use crate::trail::EXACT_PLACES;

const MEMBER: u16 = 1;
const BAR: u16 = 2;
const SHAPE: u16 = 3;
const NUMBER: u16 = 4;
const FIRST_DIM: u16 = 5;
const SUM: u16 = 10;
const LENGTH: u16 = 11;
const MASS: u16 = 12;
const STAGE: u16 = 13;
const REMARKS: u16 = 14;
/// A cutting length is a multiple of so many millimetres.
const STEP: i64 = 25;

/// The page; none where there is no steel.
pub(crate) fn page(desk: &mut Desk<'_>) -> Option<Page> {
    let steel = &desk.estimate.steel;
    if steel.marks.is_empty() {
        return None;
    }
    let mut columns = heads(&["book-mark", "book-member", "book-bar", "book-shape", "book-bars-number"]);
    columns.extend(["A", "B", "C", "D", "E"].map(|d| words("book-in-mm", &[d])));
    columns.extend(heads(&["book-bar-sum", "book-cut-length", "book-kg", "book-stage", "book-note"]));
    let mut page = Page::new(PageId::Bars, &word("book-bars"), &word("book-bars-remark"), &columns);
    page.widest = vec![6, 32, 6, 6, 9, 9, 9, 9, 9, 9, 10, 10, 12, 18, 48];
    // Mass per metre stands below the marks; they refer to it.
    let foot = 3 + rows(steel.marks.len()) + 2;
    let mass_at = |bar: &BarKind| {
        let place = steel.mass_per_metre.iter().position(|(b, _)| b == bar)?;
        Some(At { page: PageId::Bars, row: foot + rows(place), col: LENGTH })
    };
    for (row, mark) in (3..).zip(&steel.marks) {
        let placed = line(&mut page, row, mark, mass_at(&mark.bar), desk);
        desk.places.goods.marks.push(placed);
    }
    page.heading(foot - 1, word("book-by-diameter"));
    let per_metre = [(LENGTH, "book-kg-per-metre"), (MASS, "book-kg"), (STAGE, "book-on-dimensions")];
    for (col, key) in per_metre {
        page.put(foot - 1, col, Cell::text(word(key)).look(Look::Head));
    }
    for (row, (bar, mass)) in (foot..).zip(&steel.mass_per_metre) {
        let placed = total(&mut page, row, bar, *mass, desk);
        desk.places.goods.masses.push(placed);
    }
    let last = foot + rows(steel.mass_per_metre.len()) + 1;
    for (row, remark) in (last..).zip(&steel.remarks) {
        page.put(row, 0, Cell::text(remark.to_string()).look(Look::Remark));
    }
    Some(page)
}

fn line(page: &mut Page, row: u32, mark: &Mark, mass: Option<At>, desk: &mut Desk<'_>) -> MarkAt {
    let what = format!("mark {}", mark.mark);
    match mark.mark.parse::<u32>() {
        Ok(n) => drop(page.put(row, 0, Cell::number(n.into(), Show::General))),
        Err(_) => page.text(row, 0, &mark.mark),
    }
    page.text(row, MEMBER, mark.member.to_string());
    page.text(row, BAR, mark.bar.id());
    page.text(row, SHAPE, mark.shape);
    let each = times::one(&desk.trail, &mark.number.each);
    let mut number = vec![desk.need(each, &what)];
    if mark.number.members != 1 {
        let members = i64::try_from(mark.number.members).ok().map(Expr::int);
        number.insert(0, desk.need(members, &what));
    }
    let number = page.put(row, NUMBER, Cell::formula(Expr::product(number), Show::Fixed(0)));
    let mut dims = Vec::with_capacity(mark.dims.len());
    for (letter, len) in &mark.dims {
        let col = "ABCDE".find(*letter).and_then(|i| u16::try_from(i).ok());
        let expr = desk.trail.millimetres(len).filter(|_| col.is_some());
        let expr = desk.need(expr, &format!("{what}: dimension {letter}"));
        let cell = Cell::formula(expr, Show::UpTo(0, 1));
        dims.push(page.put(row, FIRST_DIM + col.unwrap_or(0), cell));
    }
    let sum = desk.trail.millimetres(&mark.sum);
    let sum = desk.need(sum, &format!("{what}: sum"));
    let sum = page.put(row, SUM, Cell::formula(sum, Show::UpTo(0, 1)));
    // Up to the next step; what binary reckoning adds is taken off first.
    let steps = Expr::Cell(sum).over(Expr::int(STEP)).round(9);
    let length = Expr::Mul(vec![Expr::Up(Box::new(steps)), Expr::int(STEP)]);
    let length = page.put(row, LENGTH, Cell::formula(length, Show::Fixed(0)));
    let mass = desk.need(mass.map(Expr::Cell), &format!("{what}: no mass per metre"));
    let kg = Expr::Mul(vec![Expr::Cell(number), Expr::Cell(length), mass]).over(Expr::int(1_000));
    let mass = page.put(row, MASS, Cell::formula(kg, Show::UpTo(2, 3)));
    page.text(row, STAGE, stage_word(mark.stage));
    let remarks: Vec<String> = mark.remarks.iter().map(ToString::to_string).collect();
    page.text(row, REMARKS, remarks.join("; "));
    MarkAt { count: Some(number), dims, sum: Some(sum), length: Some(length), mass: Some(mass) }
}

/// A grade and diameter: mass per metre, mass of the marks, mass on the dimension sheets.
fn total(page: &mut Page, row: u32, bar: &BarKind, mass: Ratio, desk: &mut Desk<'_>) -> [At; 2] {
    let what = bar.id();
    page.text(row, BAR, &what);
    let expr = desk.need(Expr::ratio(mass), &what);
    page.put(row, LENGTH, of(expr, Show::Fixed(3)));
    let marks = desk.estimate.steel.marks.iter().zip(&desk.places.goods.marks);
    let kg: Vec<Expr> =
        marks.filter(|(m, _)| m.bar == *bar).filter_map(|(_, at)| at.mass.map(Expr::Cell)).collect();
    let kg = page.put(
        row,
        MASS,
        Cell::formula(Expr::total(kg).round(EXACT_PLACES), Show::UpTo(2, 3)).look(Look::Total),
    );
    let sheet = &desk.estimate.sheet;
    let items = sheet.items.iter().zip(&desk.places.items).filter(|(i, _)| net::is_of(i, bar));
    let totals: Vec<Expr> = items.filter_map(|(_, at)| at.total.map(Expr::Cell)).collect();
    let sheets = page.put(row, STAGE, Cell::formula(Expr::total(totals), Show::UpTo(2, 3)));
    [kg, sheets]
}

fn of(expr: Expr, show: Show) -> Cell {
    match expr {
        Expr::Number(n) => Cell::number(n, show),
        expr => Cell::formula(expr, show),
    }
}

fn rows(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX / 4)
}
