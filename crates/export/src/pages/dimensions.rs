//! Dimensions: a block for each item, a row for each line, every figure live from the inputs.

use std::collections::BTreeMap;

use tankwright_geometry::Ratio;
use tankwright_quantities::sheet::{Dim, Item, Line, Times};

use crate::book::{Desk, ItemAt, heads, word, words};
use crate::cells::{At, Cell, Look, Page, PageId, Range, Show};
use crate::expr::{Expr, Order};
use crate::pages::net::{self, Net, as_booked, booked_exactly};
use crate::pages::times;
use crate::trail::{EXACT_PLACES, booked, booked_up};

const TIMES: u16 = 1;
const FIRST_DIM: u16 = 2;
const VALUE: u16 = 5;
const UNIT: u16 = 6;
const NET: u16 = 7;
const NAMED: u16 = 8;
const WORKING: u16 = 9;

/// How a net value is shown.
const SHOW_NET: Show = Show::UpTo(2, 4);

pub(crate) fn page(desk: &mut Desk<'_>) -> Page {
    let columns = heads(&[
        "book-line",
        "book-times",
        "book-length",
        "book-breadth",
        "book-depth",
        "book-value",
        "book-unit",
        "book-net",
        "book-named-only",
        "book-working",
    ]);
    let mut page =
        Page::new(PageId::Dimensions, &word("book-dimensions"), &word("book-dimensions-remark"), &columns);
    page.widest = vec![40, 14, 12, 12, 12, 16, 6, 16, 12, 64];
    let sheet = &desk.estimate.sheet;
    // Totals first: a line may refer to an item that comes later.
    let mut row = 3;
    let nets = net::needed(desk.estimate);
    let mut totals = BTreeMap::new();
    for item in sheet.items.iter().chain(&sheet.voids) {
        let by_line = nets.get(item.id.as_str()) == Some(&Net::Lines);
        let total = row + 1 + count(item.lines.len() + if by_line { item.kept.len() } else { 0 });
        totals.entry(item.id.as_str()).or_insert(At { page: PageId::Dimensions, row: total, col: VALUE });
        row = total + 2;
        if sheet.items.last().is_some_and(|last| std::ptr::eq(last, item)) {
            row += 1;
        }
    }
    let mut block =
        Block { page: &mut page, row: 3, totals: &totals, nets: &nets, rows: BTreeMap::new(), desk };
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
    nets: &'a BTreeMap<&'a str, Net>,
    /// What is booked and billed so far in a row of the bill whose items are rounded together.
    rows: BTreeMap<String, (Vec<Expr>, Vec<Expr>)>,
    desk: &'a mut Desk<'d>,
}

/// The row of the bill that an item stands in.
fn row_of(item: &Item) -> String {
    [item.work.id, &item.spec, item.unit.id(), &item.wording.to_string()].join("/")
}

/// A total as the profile rounds it.
fn rounded(item: &Item, sum: Expr) -> Expr {
    let of = i64::from(item.whole.of);
    let step = |e: Expr| Expr::product(vec![e, Expr::int(of)]);
    let whole = match of {
        1 => sum.clone().settle(EXACT_PLACES, item.places),
        _ => step(sum.clone().over(Expr::int(of)).settle(EXACT_PLACES, item.places)),
    };
    if item.whole.least == 0 {
        return whole;
    }
    let least = Expr::int(item.whole.least.into());
    let some = sum.round(EXACT_PLACES).is(Order::Greater, Expr::int(0)).choose(least, Expr::int(0));
    Expr::Max(vec![whole, some])
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
        let net = self.nets.get(item.id.as_str()).copied();
        if net == Some(Net::Lines) {
            for line in &item.kept {
                self.kept(item, line);
                self.row += 1;
            }
        }
        let sum = Range::over(&values).map_or(Expr::int(0), Expr::Sum);
        // Rounded deductions can be more than their gross: nothing is left then.
        let less = item.lines.iter().any(|l| l.value < Ratio::ZERO);
        let at_least = |sum| if less { Expr::Max(vec![Expr::int(0), sum]) } else { sum };
        let sum = if item.whole.by_row {
            self.with_its_row(item, at_least(sum))
        } else {
            at_least(rounded(item, sum))
        };
        let show = Show::UpTo(item.places.min(2), item.places.min(4));
        let total = self.page.put(self.row, VALUE, Cell::formula(sum, show).look(Look::Total));
        if let Some((_, totals)) = self.rows.get_mut(&row_of(item)) {
            totals.push(Expr::Cell(total));
        }
        self.page.put(self.row, UNIT, Cell::text(item.unit.id()).look(Look::Total));
        let net = net.map(|net| self.net(item, net, &values, total));
        self.row += 2;
        ItemAt { lines, total: Some(total), net }
    }

    /// What the row of the bill grows by with this item: all that is booked in it so far, rounded, less what the items
    /// before it have.
    fn with_its_row(&mut self, item: &Item, sum: Expr) -> Expr {
        let (sums, totals) = self.rows.entry(row_of(item)).or_default();
        sums.push(sum);
        let all = if let [only] = &sums[..] { only.clone() } else { Expr::Add(sums.clone()) };
        let all = rounded(item, all);
        if totals.is_empty() {
            return all;
        }
        let before = totals.iter().map(|t| Expr::Neg(Box::new(t.clone())));
        Expr::Add(std::iter::once(all).chain(before).collect())
    }

    /// The item's net quantity, on the row of its total.
    fn net(&mut self, item: &Item, net: Net, values: &[At], total: At) -> At {
        let sum = match net {
            Net::Total => return total,
            Net::Unrounded => Range::over(values),
            Net::Lines => values.first().map(|v| Range { from: At { col: NET, ..*v }, to: self.row - 1 }),
        };
        let sum = sum.map_or(Expr::int(0), Expr::Sum).round(EXACT_PLACES);
        let less = item.lines.iter().chain(&item.kept).any(|l| l.net < Ratio::ZERO);
        let sum = if less { Expr::Max(vec![Expr::int(0), sum]) } else { sum };
        self.page.put(self.row, NET, Cell::formula(sum, SHOW_NET).look(Look::Total))
    }

    /// A line that the profile leaves out of the quantity: it counts in the net alone.
    fn kept(&mut self, item: &Item, line: &Line) {
        let note = words("book-kept-line", &[&line.note.to_string()]);
        self.page.text(self.row, 0, note);
        let times = self.times(item, &line.times);
        let mut factors = vec![self.multiplier(times)];
        for (col, dim) in (FIRST_DIM..).zip(&line.dims) {
            if col >= VALUE {
                self.desk.need(None, &format!("a line of {} with so many dimensions", item.id));
                break;
            }
            let exact = self.exactly(item, dim);
            factors.push(Expr::Cell(self.page.put(self.row, col, Cell::formula(exact, Show::UpTo(2, 4)))));
        }
        let trails: Vec<String> = line.dims.iter().map(|d| self.desk.trail.words(&d.len)).collect();
        self.page.text(self.row, WORKING, trails.join("; "));
        self.page.put(self.row, NET, Cell::formula(Expr::product(factors), SHOW_NET));
    }

    /// A dimension as profile `exact` books it.
    fn exactly(&mut self, item: &Item, dim: &Dim) -> Expr {
        let expr = self.desk.trail.metres_to_book(&dim.len).and_then(|e| booked(e, 1));
        self.desk.need(expr, &format!("a net dimension of {}", item.id))
    }

    /// The cell of what multiplies a line.
    fn multiplier(&mut self, times: Expr) -> Expr {
        let cell = match times {
            Expr::Number(n) => Cell::number(n, Show::General),
            expr @ (Expr::Div(..) | Expr::Mul(_)) => Cell::formula(expr, Show::UpTo(1, 4)),
            expr => Cell::formula(expr, Show::General),
        };
        Expr::Cell(self.page.put(self.row, TIMES, cell))
    }

    fn line(&mut self, item: &Item, line: &Line) -> (Vec<At>, At) {
        let row = self.row;
        let by_line = self.nets.get(item.id.as_str()) == Some(&Net::Lines);
        self.page.text(row, 0, line.note.to_string());
        let times = self.times(item, &line.times);
        let mut factors = vec![self.multiplier(times)];
        let mut nets = factors.clone();
        let (mut dims, mut working, mut col) = (Vec::new(), Vec::new(), FIRST_DIM);
        if let Some(of) = &line.of_item {
            let total = self.totals.get(of.as_str()).map(|at| Expr::Cell(*at));
            factors.push(self.desk.need(total, &format!("a line of {}: no item {of}", item.id)));
            nets.extend(self.net_of(of).map(Expr::Cell));
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
            if by_line {
                let exact = booked_exactly(dim);
                nets.push(if exact { Expr::Cell(cell) } else { self.exactly(item, dim) });
            }
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
        let value = self.page.put(row, VALUE, value);
        if by_line {
            let same = as_booked(line, self.nets);
            let net = if same { Expr::Cell(value) } else { Expr::product(nets) };
            self.page.put(row, NET, Cell::formula(net, SHOW_NET));
        }
        (dims, value)
    }

    /// Where an item's net quantity stands.
    fn net_of(&self, id: &str) -> Option<At> {
        let total = self.totals.get(id).copied()?;
        Some(if self.nets.get(id)? == &Net::Total { total } else { At { col: NET, ..total } })
    }

    fn dim(&mut self, item: &Item, row: u32, col: u16, dim: &Dim) -> At {
        let metres = self.desk.trail.metres_to_book(&dim.len);
        let expr = metres.and_then(|e| if dim.up { booked_up(e, dim.step) } else { booked(e, dim.step) });
        let expr = self.desk.need(expr, &format!("a dimension of {}", item.id));
        self.page.put(row, col, Cell::formula(expr, Show::UpTo(2, 4)))
    }

    fn times(&mut self, item: &Item, times: &[Times]) -> Expr {
        let factors = times.iter().map(|t| {
            let expr = times::one(&self.desk.trail, t);
            self.desk.need(expr, &format!("a multiplier of {}", item.id))
        });
        Expr::product(factors.collect())
    }
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX / 2)
}
