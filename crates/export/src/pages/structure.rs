//! Structure: each comparison that shaped the lines, as a sign that must stay.

use tankwright_geometry::{Kept, Ratio, Test};

use crate::book::{Desk, heads, word, words};
use crate::cells::{At, Cell, Page, PageId, Range, Show};
use crate::expr::{Expr, Order};

pub(crate) fn page(desk: &mut Desk<'_>) -> Page {
    let columns = heads(&["book-compared", "book-test-holds"]);
    let mut page =
        Page::new(PageId::Structure, &word("book-structure"), &word("book-structure-remark"), &columns);
    page.widest = vec![120, 10];
    // Hundreds of rows that only the Summary reads: on paper the head is enough.
    page.printed = Some((Some(2), 2));
    let mut kept = Vec::new();
    for (row, test) in (3..).zip(&desk.estimate.tests) {
        kept.push(line(&mut page, row, test, desk));
    }
    not_billed(&mut page, &mut kept, desk);
    if kept.is_empty() {
        page.text(3, 0, word("book-no-tests"));
    }
    desk.places.kept.extend(Range::over(&kept));
    page
}

/// An item whose total was rounded to nothing has no row in the bill: it must stay nothing.
fn not_billed(page: &mut Page, kept: &mut Vec<At>, desk: &mut Desk<'_>) {
    for (i, item) in desk.estimate.sheet.items.iter().enumerate() {
        if item.unbilled || !item.quantity.is_zero() {
            continue;
        }
        let total = desk.places.items.get(i).and_then(|at| at.total).map(Expr::Cell);
        let total = desk.need(total, &format!("the total of {}", item.id));
        let row = 3 + u32::try_from(kept.len()).unwrap_or(u32::MAX / 2);
        page.text(row, 0, words("book-equal-zero", &[&item.id]));
        let holds = total.round(item.places).is(Order::Equal, Expr::int(0));
        kept.push(page.put(row, 1, Cell::formula(holds, Show::Truth)));
    }
}

fn line(page: &mut Page, row: u32, test: &Test, desk: &mut Desk<'_>) -> At {
    let trail = desk.trail;
    let (expr, text, exact) = match &test.kept {
        Kept::Difference(len) => (trail.metres(len), trail.words(len), len.value() / Ratio::int(10_000)),
        Kept::Product(dims, limit) => {
            let power = u32::try_from(dims.len()).unwrap_or(9);
            let unit = Ratio::int(10_i128.checked_pow(4 * power).unwrap_or(0));
            let factors: Option<Vec<Expr>> = dims.iter().map(|d| trail.metres(d)).collect();
            let expr = factors.and_then(|f| {
                let less = Expr::ratio(-(*limit / unit))?;
                Some(Expr::Add(vec![Expr::product(f), less]))
            });
            let words: Vec<String> = dims.iter().map(|d| format!("({})", trail.words(d))).collect();
            let limit_words = tankwright_quantities::decimal::plain(*limit / unit);
            let value = dims.iter().fold(Ratio::ONE, |p, d| p * d.value()) - *limit;
            (expr, format!("{} - {limit_words}", words.join(" x ")), value / unit)
        }
    };
    let expr = desk.need(expr, &text);
    let order = Order::from(test.sign);
    let says = match order {
        Order::Less => "book-less-than-zero",
        Order::Equal => "book-equal-zero",
        Order::Greater => "book-more-than-zero",
    };
    page.text(row, 0, words(says, &[&text]));
    // One cell a comparison: a workbook has hundreds of them.
    let holds = expr.round(places(exact)).is(order, Expr::int(0));
    page.put(row, 1, Cell::formula(holds, Show::Truth))
}

/// Six places, more only where six would make nothing of a difference that is there.
fn places(value: Ratio) -> u32 {
    let vanishes = |p: &u32| {
        let step = Ratio::of(1, 10_i128.checked_pow(*p).unwrap_or(1));
        value.round_half_away(step).is_zero() && !value.is_zero()
    };
    (6..15).find(|p| !vanishes(p)).unwrap_or(15)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_differences_keep_their_sign() {
        assert_eq!(places(Ratio::ZERO), 6);
        assert_eq!(places(Ratio::of(1, 10_000)), 6);
        assert_eq!(places(Ratio::of(-3, 100_000_000)), 8);
    }
}
