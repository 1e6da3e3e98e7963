//! Dimensions: a block for each item, a row for each line, every figure live from the inputs.

use std::collections::BTreeMap;

use tankwright_quantities::sheet::{Dim, Item, Line, Times};

use crate::book::{Desk, ItemAt, heads, word, words};
use crate::cells::{At, Cell, Look, Page, PageId, Range, Show};
use crate::expr::Expr;
use crate::trail::{EXACT_PLACES, PI_NAME, booked, booked_up};

const TIMES: u16 = 1;
const FIRST_DIM: u16 = 2;
const VALUE: u16 = 5;
const UNIT: u16 = 6;
const NAMED: u16 = 7;
const WORKING: u16 = 8;

pub(crate) fn page(desk: &mut Desk<'_>) -> Page {
    let columns = heads(&[
        "book-line",
        "book-times",
        "book-length",
        "book-breadth",
        "book-depth",
        "book-value",
        "book-unit",
        "book-named-only",
        "book-working",
    ]);
    let mut page =
        Page::new(PageId::Dimensions, &word("book-dimensions"), &word("book-dimensions-remark"), &columns);
    page.widest = vec![40, 14, 12, 12, 12, 16, 6, 12, 64];
    let sheet = &desk.estimate.sheet;
    // Totals first: a line may refer to an item that comes later.
    let mut row = 3;
    let mut totals = BTreeMap::new();
    for item in sheet.items.iter().chain(&sheet.voids) {
        let total = row + 1 + count(item.lines.len());
        totals.entry(item.id.as_str()).or_insert(At { page: PageId::Dimensions, row: total, col: VALUE });
        row = total + 2;
        if sheet.items.last().is_some_and(|last| std::ptr::eq(last, item)) {
            row += 1;
        }
    }
    let mut block = Block { page: &mut page, row: 3, totals: &totals, desk };
    let items = sheet.items.iter().map(|i| block.item(i)).collect();
    if !sheet.items.is_empty() {
        if !sheet.voids.is_empty() {
            block.page.heading(block.row, word("book-voids"));
        }
        block.row += 1;
    }
    let voids = sheet.voids.iter().map(|i| block.item(i)).collect();
    desk.places.items = items;
    desk.places.voids = voids;
    page
}

struct Block<'a, 'd> {
    page: &'a mut Page,
    row: u32,
    totals: &'a BTreeMap<&'a str, At>,
    desk: &'a mut Desk<'d>,
}

impl Block<'_, '_> {
    fn item(&mut self, item: &Item) -> ItemAt {
        let title = if item.unbilled {
            words("book-item-unbilled", &[&item.wording.to_string()])
        } else {
            item.wording.to_string()
        };
        self.page.heading(self.row, title);
        self.page.put(self.row, WORKING, Cell::text(item.id.clone()).look(Look::Heading));
        self.row += 1;
        let mut lines = Vec::with_capacity(item.lines.len());
        for line in &item.lines {
            lines.push(self.line(item, line));
            self.row += 1;
        }
        let values: Vec<At> = lines.iter().map(|l: &(Vec<At>, At)| l.1).collect();
        let sum = Range::over(&values).map_or(Expr::int(0), Expr::Sum).settle(EXACT_PLACES, item.places);
        // Rounded deductions can be more than their gross: nothing is left then.
        let less = item.lines.iter().any(|l| l.value < tankwright_geometry::Ratio::ZERO);
        let sum = if less { Expr::Max(vec![Expr::int(0), sum]) } else { sum };
        let show = Show::UpTo(item.places.min(2), item.places.min(4));
        let total = self.page.put(self.row, VALUE, Cell::formula(sum, show).look(Look::Total));
        self.page.put(self.row, UNIT, Cell::text(item.unit.id()).look(Look::Total));
        self.row += 2;
        ItemAt { lines, total: Some(total) }
    }

    fn line(&mut self, item: &Item, line: &Line) -> (Vec<At>, At) {
        let row = self.row;
        self.page.text(row, 0, line.note.to_string());
        let times = self.times(item, &line.times);
        let cell = match times {
            Expr::Number(n) => Cell::number(n, Show::General),
            expr @ (Expr::Div(..) | Expr::Mul(_)) => Cell::formula(expr, Show::UpTo(1, 4)),
            expr => Cell::formula(expr, Show::General),
        };
        let mut factors = vec![Expr::Cell(self.page.put(row, TIMES, cell))];
        let (mut dims, mut working, mut col) = (Vec::new(), Vec::new(), FIRST_DIM);
        if let Some(of) = &line.of_item {
            let total = self.totals.get(of.as_str()).map(|at| Expr::Cell(*at));
            factors.push(self.desk.need(total, &format!("a line of {}: no item {of}", item.id)));
            working.push(words("book-quantity-of", &[of]));
        }
        let mut named = NAMED;
        for dim in &line.dims {
            let at = if dim.dropped { named } else { col };
            // A sheet has three columns for dimensions and one for what the wording names.
            if at > if dim.dropped { NAMED } else { VALUE - 1 } {
                self.desk.need(None, &format!("a line of {} with so many dimensions", item.id));
                continue;
            }
            let cell = self.dim(item, row, at, dim);
            let trail = self.desk.trail.words(&dim.len);
            if dim.dropped {
                named += 1;
                working.push(words("book-not-multiplied", &[&trail]));
            } else {
                col += 1;
                factors.push(Expr::Cell(cell));
                working.push(trail);
            }
            dims.push(cell);
        }
        self.page.text(row, WORKING, working.join("; "));
        let value = Cell::formula(Expr::product(factors), Show::UpTo(2, 4));
        (dims, self.page.put(row, VALUE, value))
    }

    fn dim(&mut self, item: &Item, row: u32, col: u16, dim: &Dim) -> At {
        let metres = self.desk.trail.metres_to_book(&dim.len);
        let expr = metres.and_then(|e| if dim.up { booked_up(e, dim.step) } else { booked(e, dim.step) });
        let expr = self.desk.need(expr, &format!("a dimension of {}", item.id));
        self.page.put(row, col, Cell::formula(expr, Show::UpTo(2, 4)))
    }

    fn times(&mut self, item: &Item, times: &[Times]) -> Expr {
        let factors = times.iter().map(|t| {
            let expr = self.one_times(t);
            self.desk.need(expr, &format!("a multiplier of {}", item.id))
        });
        Expr::product(factors.collect())
    }

    fn one_times(&self, times: &Times) -> Option<Expr> {
        let trail = &self.desk.trail;
        let named = |(id, value): (tankwright_geometry::InputId, i64)| {
            if value == 0 { Some(Expr::int(0)) } else { trail.name(id) }
        };
        match times {
            Times::Count(n) => Some(Expr::int(*n)),
            Times::Fraction(f) => {
                let (n, d) = (i64::try_from(f.numer()).ok()?, i64::try_from(f.denom()).ok()?);
                Some(if d == 1 { Expr::int(n) } else { Expr::int(n).over(Expr::int(d)) })
            }
            Times::Pi => Some(Expr::Name(PI_NAME.to_owned())),
            Times::Input(id, value) => named((*id, *value)),
            Times::MassPerMetre(kg) => Expr::ratio(*kg),
            Times::Spaces { over, at, .. } => {
                let spaces = trail.metres(over)?.over(trail.metres(at)?).round(9);
                Some(Expr::Add(vec![Expr::Up(Box::new(spaces)), Expr::int(1)]))
            }
            Times::Strips { lift, course, every, .. } => {
                // ROUND keeps a whole number of courses whole where a spreadsheet reckons in binary.
                let courses = trail.metres(lift)?.over(trail.metres(course)?).round(9);
                let less_one = Expr::Add(vec![Expr::Floor(Box::new(courses)), Expr::int(-1)]);
                let strips = Expr::Floor(Box::new(less_one.over(named(*every)?)));
                Some(Expr::Max(vec![Expr::int(0), strips]))
            }
        }
    }
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX / 2)
}
