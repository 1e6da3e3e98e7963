//! By stage: what the works of each stage cost and what is bought for it, live. The charts of the Summary read it.

use std::cmp::Reverse;

use tankwright_account::payments::stages;
use tankwright_quantities::orders::StageOrder;
use tankwright_quantities::programme::EventKind;
use tankwright_quantities::stage::Stage;

use crate::book::{Desk, StageAt, StagesAt, heads, stage_word, word, words};
use crate::cells::{At, Cell, Look, Page, PageId, Range, Show};
use crate::expr::{Expr, Order};

const STARTS: u16 = 1;
const WORKS: u16 = 2;
const GOODS: u16 = 3;
/// Materials that have a column of their own: those that cost most.
const APART: usize = 3;
/// Places beyond those of the money in which a share is settled before it is rounded.
const FINE: u32 = 9;

/// The page; none where nothing has a price.
pub(crate) fn page(desk: &mut Desk<'_>) -> Option<Page> {
    let estimate = desk.estimate;
    let priced = desk.places.measured.is_some();
    let bought = desk.places.goods.cost.is_some();
    if !priced && !bought {
        return None;
    }
    let code = &estimate.bill.currency.code;
    let mut columns = heads(&["book-stage", "book-starts"]);
    columns.push(word("book-works"));
    let groups = if bought { groups(desk) } else { Vec::new() };
    columns.extend(groups.iter().map(|(title, _)| words("book-bought", &[title])));
    if bought {
        columns.push(words("book-bought", &[&word("book-all-goods")]));
        columns.push(word("book-so-far"));
    }
    let mut page =
        Page::new(PageId::Stages, &words("book-by-stage", &[code]), &word("book-by-stage-remark"), &columns);
    page.widest = vec![44, 12, 18, 18, 18, 18, 18, 18, 18];
    let built = stages(estimate);
    let delivered = |s: &Stage| estimate.orders.stages.iter().any(|o| o.stage == *s);
    let stages: Vec<Stage> = Stage::ALL.into_iter().filter(|s| built.contains(s) || delivered(s)).collect();
    let first = 3;
    let below = first + u32::try_from(stages.len()).unwrap_or(0) + 2;
    // Shares stand below; the works of a stage are added up from them and from the bill.
    let mut works = vec![Vec::new(); stages.len()];
    if priced {
        shares(&mut page, desk, &stages, &mut works, below);
    }
    let show = Show::Money(estimate.bill.currency.digits);
    let mut places = StagesAt::default();
    let (mut row, mut so_far) = (first, None);
    for (stage, works) in stages.iter().zip(works) {
        let bought_for = |s: &&StageOrder| s.stage == *stage && s.lines.iter().any(|l| l.cost.is_some());
        if works.is_empty() && !estimate.orders.stages.iter().any(|s| bought_for(&s)) {
            continue;
        }
        page.text(row, 0, stage_word(*stage));
        page.text(row, STARTS, start(desk, *stage));
        let mut at = StageAt { stage: Some(*stage), ..StageAt::default() };
        if priced {
            at.works = Some(page.put(row, WORKS, Cell::formula(Expr::total(works), show)));
        }
        let parts: Vec<At> = (GOODS..)
            .zip(&groups)
            .map(|(col, (_, of))| {
                let costs =
                    of.iter().filter_map(|m| desk.places.goods.orders.get(&(m.clone(), *stage))?.cost);
                let costs = costs.map(Expr::Cell).collect();
                page.put(row, col, Cell::formula(Expr::total(costs), show))
            })
            .collect();
        if let Some(last) = parts.last() {
            let all = Expr::total(parts.iter().map(|p| Expr::Cell(*p)).collect());
            let all = page.put(row, last.col + 1, Cell::formula(all, show));
            let sum = so_far.into_iter().chain([all]).map(Expr::Cell).collect();
            so_far = Some(page.put(row, last.col + 2, Cell::formula(Expr::total(sum), show)));
            (at.bought, at.so_far) = (Some(all), so_far);
        }
        at.parts = parts;
        places.stages.push(at);
        row += 1;
    }
    page.put(row, 0, Cell::text(word("book-whole-job")).look(Look::Total));
    let mut sum = |col: u16, of: Vec<At>| {
        let total = Range::over(&of).map(Expr::Sum)?;
        Some(page.put(row, col, Cell::formula(total, show).look(Look::Total)))
    };
    places.works = sum(WORKS, places.stages.iter().filter_map(|s| s.works).collect());
    for (i, col) in (GOODS..).take(groups.len()).enumerate() {
        sum(col, places.stages.iter().filter_map(|s| s.parts.get(i).copied()).collect());
    }
    let all = places.stages.iter().filter_map(|s| s.bought).collect::<Vec<_>>();
    places.bought = all.first().and_then(|at| sum(at.col, all.clone()));
    desk.places.stages = places;
    Some(page)
}

/// The first day of a stage; nothing where the job gives no start.
fn start(desk: &Desk<'_>, stage: Stage) -> String {
    let events = desk.estimate.programme.events.iter();
    let first = events.filter(|e| e.kind == EventKind::Stage && e.stage == stage).map(|e| e.from).min();
    first.map(|day| day.to_string()).unwrap_or_default()
}

/// Materials by column: the dearest each alone, all others together.
fn groups(desk: &Desk<'_>) -> Vec<(String, Vec<String>)> {
    let mut totals: Vec<_> = desk.estimate.orders.totals.iter().collect();
    totals.sort_by_key(|t| Reverse(t.cost));
    let title = |id: &str| {
        let found = desk.estimate.materials.materials.iter().find(|m| m.id == id);
        found.map_or_else(|| id.to_owned(), |m| m.title.clone())
    };
    let apart = if totals.len() == APART + 1 { APART + 1 } else { APART };
    let rest = totals.split_off(totals.len().min(apart));
    let mut groups: Vec<_> = totals.iter().map(|t| (title(&t.material), vec![t.material.clone()])).collect();
    if !rest.is_empty() {
        groups.push((word("book-other-goods"), rest.iter().map(|t| t.material.clone()).collect()));
    }
    groups
}

/// The amounts of the bill, row by row, to the stages of their items; what one stage has alone stays on the bill.
fn shares(page: &mut Page, desk: &Desk<'_>, stages: &[Stage], works: &mut [Vec<Expr>], row: u32) {
    let (bill, sheet) = (&desk.estimate.bill, &desk.estimate.sheet);
    let (mut row, mut headed) = (row, false);
    let rows = bill.sections.iter().zip(&desk.places.sections);
    let rows = rows.flat_map(|(s, at)| s.rows.iter().zip(at.rows.iter().filter_map(|r| r.1)));
    for (line, amount) in rows {
        let mut of: Vec<(usize, Vec<Expr>)> = Vec::new();
        for (item, at) in
            sheet.items.iter().zip(&desk.places.items).filter(|(i, _)| line.items.contains(&i.id))
        {
            let (Some(n), Some(at)) = (stages.iter().position(|s| *s == item.stage), at.total) else {
                continue;
            };
            match of.iter_mut().find(|(stage, _)| *stage == n) {
                Some((_, quantities)) => quantities.push(Expr::Cell(at)),
                None => of.push((n, vec![Expr::Cell(at)])),
            }
        }
        of.sort_by_key(|(stage, _)| *stage);
        if let [(only, _)] = of.as_slice() {
            works.get_mut(*only).into_iter().for_each(|w| w.push(Expr::Cell(amount)));
            continue;
        }
        if !headed {
            page.heading(row, word("book-shared-rows"));
            page.put(row + 1, 0, Cell::text(word("book-shared-remark")).look(Look::Remark));
            (row, headed) = (row + 2, true);
        }
        for (row, stage) in (row..).zip(of.iter().filter_map(|(stage, _)| stages.get(*stage))) {
            page.text(row, 0, words("book-share-of", &[&line.reference, &stage_word(*stage)]));
        }
        row = shared(page, (amount, bill.currency.digits), &of, works, row);
    }
}

/// One row of the bill among its stages: each the rounded running total less what went before, so that nothing is lost.
fn shared(
    page: &mut Page,
    (amount, digits): (At, u32),
    of: &[(usize, Vec<Expr>)],
    works: &mut [Vec<Expr>],
    row: u32,
) -> u32 {
    let mut row = row;
    let whole = Expr::total(of.iter().flat_map(|(_, q)| q.clone()).collect());
    let (mut running, mut before): (Vec<Expr>, Vec<Expr>) = (Vec::new(), Vec::new());
    for (i, (stage, quantities)) in of.iter().enumerate() {
        running.extend(quantities.iter().cloned());
        let up_to = if i + 1 == of.len() {
            Expr::Cell(amount)
        } else {
            let part = Expr::Mul(vec![Expr::Cell(amount), Expr::total(running.clone())]).over(whole.clone());
            let none = whole.clone().is(Order::Equal, Expr::int(0));
            none.choose(Expr::int(0), part.round(digits + FINE).round(digits))
        };
        let less = before.iter().cloned().map(|b| Expr::Neg(Box::new(b)));
        let share = Expr::total([up_to].into_iter().chain(less).collect());
        let at = page.put(row, WORKS, Cell::formula(share, Show::Money(digits)));
        before.push(Expr::Cell(at));
        works.get_mut(*stage).into_iter().for_each(|w| w.push(Expr::Cell(at)));
        row += 1;
    }
    row
}
