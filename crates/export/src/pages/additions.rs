//! The foot of the bill: additions in order, the rounding of the offered total, the total in figures and words.

use rust_decimal::Decimal;
use tankwright_quantities::bill::{AddedOn, Addition};
use tankwright_quantities::decimal;

use crate::book::{word, words};
use crate::cells::{Allow, At, Cell, Look, Range, Show};
use crate::expr::{Expr, Order};
use crate::pages::bill::{AMOUNT, Bill, QUANTITY, RATE, SPARE, TITLE, UNIT};

/// Most characters of a text within a formula.
const LONGEST_IN_FORMULA: usize = 250;

/// Writes additions and total, where the bill is priced.
pub(crate) fn add(bill: &mut Bill<'_, '_>) {
    let estimate = bill.desk.estimate;
    let (Some(measured), Some(stored)) = (bill.desk.places.measured, estimate.bill.total) else { return };
    let additions = &estimate.bill.additions;
    if !additions.is_empty() {
        bill.page.put(bill.row, TITLE, Cell::text(word("book-additions")).look(Look::Heading));
        bill.page.put(bill.row, QUANTITY, Cell::text(word("book-per-cent")).look(Look::Head));
        bill.page.put(bill.row, RATE, Cell::text(word("book-on")).look(Look::Head));
        bill.row += 1;
    }
    for (i, addition) in additions.iter().enumerate() {
        let say = estimate.bill.say.filter(|s| i + 1 == additions.len() && *s > Decimal::ZERO);
        let placed = match say.filter(|_| addition.percent.is_none()) {
            Some(say) => rounded_up(bill, addition, say, measured),
            None => addition_row(bill, addition, measured),
        };
        bill.desk.places.additions.push(placed);
    }
    let running = running(bill, measured);
    let title = words("book-grand-total", &[&estimate.bill.currency.code]);
    let total = bill.sum(&title, running);
    bill.desk.places.total = Some(total);
    let same = Expr::Cell(total)
        .round(bill.digits())
        .is(Order::Equal, Expr::Number(decimal::round(stored, bill.digits())));
    // The words must not outlive their figure, nor stand where they are not printed.
    let amount = &estimate.bill.total_in_words;
    let mut holds = amount.clone();
    if amount.is_empty() || amount.encode_utf16().count() > LONGEST_IN_FORMULA {
        bill.page.text(bill.row, TITLE, amount);
        bill.row += u32::from(!amount.is_empty());
        holds = word("book-words-hold");
    }
    let text = same.choose(Expr::Text(holds), Expr::Text(word("book-words-stale")));
    bill.page.put(bill.row, TITLE, Cell::formula(text, Show::General));
    bill.row += 1;
}

/// All before this row: measured works, preliminaries, provisional items, earlier additions.
fn running(bill: &Bill<'_, '_>, measured: At) -> Expr {
    let places = &bill.desk.places;
    let mut terms = vec![Expr::Cell(measured)];
    for side in [&places.preliminaries, &places.provisional] {
        terms.extend(Range::over(side).map(Expr::Sum));
    }
    let earlier: Vec<At> = places.additions.iter().map(|a| a.1).collect();
    terms.extend(Range::over(&earlier).map(Expr::Sum));
    Expr::total(terms)
}

fn addition_row(bill: &mut Bill<'_, '_>, addition: &Addition, measured: At) -> (Option<At>, At) {
    let row = bill.row;
    bill.row += 1;
    bill.page.text(row, TITLE, &addition.title);
    let base = match (&addition.on, addition.percent) {
        (AddedOn::Amount, _) | (_, None) => {
            let cell = Cell::number(addition.amount, bill.money()).input(Allow::Any);
            return (None, bill.page.put(row, AMOUNT, cell));
        }
        (AddedOn::Running, _) => running(bill, measured),
        (AddedOn::Measured, _) => Expr::Cell(measured),
        (AddedOn::Titles(of), _) => {
            let mut terms = vec![Expr::Cell(measured)];
            for i in of {
                let at = bill.desk.places.additions.get(*i).map(|a| Expr::Cell(a.1));
                terms.push(bill.desk.need(at, &format!("{}: no addition {i}", addition.title)));
            }
            Expr::total(terms)
        }
    };
    bill.page.text(row, UNIT, "%");
    let percent = Cell::number(addition.percent.unwrap_or_default(), Show::General);
    let percent = bill.page.put(row, QUANTITY, percent.input(Allow::NotNegative));
    let base = bill.page.put(row, RATE, Cell::formula(base, bill.money()));
    let share = Expr::Mul(vec![Expr::Cell(base), Expr::Cell(percent)]).over(Expr::int(100));
    // A hundredth of money x per cent.
    let exact = bill.digits() + addition.percent.map_or(0, |p| p.normalize().scale()) + 2 + SPARE;
    let amount = Cell::formula(share.settle(exact, bill.digits()), bill.money());
    (Some(base), bill.page.put(row, AMOUNT, amount))
}

/// What brings the total up to a multiple of `say`.
fn rounded_up(bill: &mut Bill<'_, '_>, addition: &Addition, say: Decimal, measured: At) -> (Option<At>, At) {
    let row = bill.row;
    bill.row += 1;
    bill.page.text(row, TITLE, &addition.title);
    let on = running(bill, measured);
    bill.page.text(row, UNIT, word("book-step"));
    let step = Cell::number(say, Show::Fixed(say.normalize().scale())).input(Allow::Positive);
    let step = bill.page.put(row, QUANTITY, step);
    let base = bill.page.put(row, RATE, Cell::formula(on, bill.money()));
    let steps = Expr::Cell(base).over(Expr::Cell(step)).round(guard(say, bill.digits()));
    let up = Expr::Mul(vec![Expr::Up(Box::new(steps)), Expr::Cell(step)]);
    let amount =
        Expr::Add(vec![up, Expr::Neg(Box::new(Expr::Cell(base)))]).round(bill.digits().max(say.scale()));
    let amount = bill.page.put(row, AMOUNT, Cell::formula(amount, bill.money()));
    (Some(base), amount)
}

/// Places that tell every money amount over `say` from a whole number, and hide what binary reckoning adds.
fn guard(say: Decimal, digits: u32) -> u32 {
    let whole = u32::try_from(say.trunc().to_string().len()).unwrap_or(6);
    (digits + whole + 1).max(6)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cent_over_a_million_is_seen() {
        // 0.01 / 1 000 000 = 0.00000001: eight places needed, ten kept.
        assert_eq!(guard(Decimal::from(1_000_000), 2), 10);
        assert_eq!(guard(Decimal::new(5, 2), 2), 6);
    }
}
