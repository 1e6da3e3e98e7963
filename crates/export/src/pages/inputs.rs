//! Inputs: every length, count and factor of the job file as a named cell.

use tankwright_geometry::{PI, PI_TEXT, Ratio};
use tankwright_quantities::job::{Given, Input, Scale};

use crate::book::{Desk, heads, word, words};
use crate::cells::{Allow, At, Cell, Page, PageId, Range, Show};
use crate::expr::{Expr, Order, exact};
use crate::format::short_name;
use crate::trail::PI_NAME;

const FIRST: u32 = 3;

pub(crate) fn page(desk: &mut Desk<'_>) -> Page {
    let columns = heads(&[
        "book-input",
        "book-value",
        "book-unit",
        "book-where-from",
        "book-cell-name",
        "book-input-kept",
        "book-note",
    ]);
    let mut page = Page::new(PageId::Inputs, &word("book-inputs"), &word("book-inputs-remark"), &columns);
    page.widest = vec![44, 14, 8, 36, 44, 10, 32];
    let mut kept = Vec::new();
    let names = desk.trail.names;
    for ((row, input), name) in (FIRST..).zip(desk.trail.inputs).zip(names) {
        kept.push(line(&mut page, row, input, name, desk));
    }
    desk.places.kept.extend(Range::over(&kept));
    let row = FIRST + u32::try_from(desk.trail.inputs.len()).unwrap_or(0);
    page.text(row, 0, word("book-pi"));
    let pi = exact(PI).unwrap_or_default();
    let at = page.put(row, 1, Cell::number(pi, Show::General));
    desk.names.insert(PI_NAME.to_owned(), at);
    page.text(row, 3, words("book-pi-from", &[PI_TEXT]));
    page.text(row, 4, PI_NAME);
    page
}

fn line(page: &mut Page, row: u32, input: &Input, name: &str, desk: &mut Desk<'_>) -> At {
    page.text(row, 0, short_name(&input.path));
    let value = if input.scale == Scale::Length { input.value / Ratio::int(10_000) } else { input.value };
    let (allow, note) = match (input.any_sign, value.is_zero()) {
        (true, _) => (Allow::Any, "book-any-sign"),
        (false, true) => (Allow::Zero, "book-zero-is-structure"),
        (false, false) if value.signum() < 0 => (Allow::Any, "book-any-sign"),
        (false, false) => (Allow::Positive, "book-over-zero"),
    };
    let show = if input.scale == Scale::Length { Show::UpTo(3, 4) } else { Show::General };
    // A batter of 1 in 3 is no decimal: its cell holds the quotient.
    let mut cell = match exact(value) {
        Some(number) => Cell::number(number, show),
        None => Cell::formula(desk.need(quotient(value), &input.path), show),
    }
    .input(allow);
    if allow == Allow::Zero {
        // A zero is not for changing here: it looks like the rest of the row and takes nothing but 0.
        cell.look = crate::cells::Look::Body;
    }
    let at = page.put(row, 1, cell);
    desk.names.insert(name.to_owned(), at);
    page.text(row, 2, if input.scale == Scale::Length { "m" } else { "" });
    let from = match &input.given {
        Given::Here(place) => format!("{}:{}", place.file, place.line),
        Given::Default(source) => words("book-default-from", &[source]),
        Given::Nothing => word("book-left-out"),
    };
    page.text(row, 3, from);
    page.text(row, 4, name);
    page.text(row, 6, word(note));
    let of = || Expr::Name(name.to_owned());
    let is_number = Expr::IsNumber(Box::new(of()));
    let kept = match allow {
        Allow::Any => is_number,
        Allow::Zero => Expr::And(vec![is_number, of().is(Order::Equal, Expr::int(0))]),
        _ => Expr::And(vec![is_number, of().is(Order::Greater, Expr::int(0))]),
    };
    page.put(row, 5, Cell::formula(kept, Show::Truth))
}

fn quotient(value: Ratio) -> Option<Expr> {
    Some(Expr::ratio(Ratio::int(value.numer()))?.over(Expr::ratio(Ratio::int(value.denom()))?))
}
