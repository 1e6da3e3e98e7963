//! Orders: for each material a block over the stages: in store, bought in packs, used, left.

use rust_decimal::Decimal;
use tankwright_quantities::decimal;
use tankwright_quantities::materials::{Material, Rounding};
use tankwright_quantities::orders::{Line, Total};
use tankwright_quantities::stage::Stage;

use crate::book::{Desk, OrderAt, heads, stage_word, word, words};
use crate::cells::{Allow, At, Cell, Look, Page, PageId, Range, Show};
use crate::expr::Expr;
use crate::pages::bill::SPARE;
use crate::trail::cell_name;

const OPENING: u16 = 1;
const PACKS: u16 = 2;
const ORDERED: u16 = 3;
const USED: u16 = 4;
const PRESENT: u16 = 5;
const CLOSING: u16 = 6;
const COST: u16 = 7;
const NOTE: u16 = 8;
const TOLERANCE: &str = "pack_tolerance";
/// Places of a number of packs, beyond which there is only what binary reckoning adds.
const PACK_PLACES: u32 = 9;

/// The page; none where nothing is bought.
pub(crate) fn page(desk: &mut Desk<'_>) -> Option<Page> {
    let orders = &desk.estimate.orders;
    if orders.totals.is_empty() {
        return None;
    }
    let mut columns = heads(&[
        "book-stage",
        "book-opening",
        "book-packs",
        "book-ordered",
        "book-used",
        "book-at-once",
        "book-closing",
    ]);
    columns.push(words("book-cost-in", &[&desk.estimate.bill.currency.code]));
    columns.push(word("book-note"));
    let mut page = Page::new(PageId::Orders, &word("book-orders"), &word("book-orders-remark"), &columns);
    page.widest = vec![40, 14, 10, 14, 14, 14, 14, 18, 70];
    page.text(3, 0, word("book-tolerance"));
    let tolerance = Cell::number(orders.tolerance, Show::General).input(Allow::NotNegative);
    desk.names.insert(TOLERANCE.to_owned(), page.put(3, PACKS, tolerance));
    page.text(3, NOTE, words("book-tolerance-note", &[TOLERANCE]));
    if !desk.places.plan.is_empty() {
        page.text(4, 0, word("book-plan-fits"));
        let fits = Expr::All(desk.places.plan.clone());
        let fits = fits.choose(Expr::Text(word("book-ok")), Expr::Text(word("book-plan-stale")));
        page.put(4, NOTE, Cell::formula(fits, Show::General));
    }
    let mut sheet = Sheet { page: &mut page, row: 6, desk };
    for total in &orders.totals {
        let placed = sheet.material(total);
        sheet.desk.places.goods.totals.push(placed);
    }
    sheet.cost();
    sheet.row += 1;
    for remark in &orders.remarks {
        let cell = Cell::text(remark.to_string()).look(Look::Remark);
        sheet.page.put(sheet.row, 0, cell);
        sheet.row += 1;
    }
    Some(page)
}

struct Sheet<'a, 'd> {
    page: &'a mut Page,
    row: u32,
    desk: &'a mut Desk<'d>,
}

/// A material's block while it is written.
struct Block<'a> {
    total: &'a Total,
    material: &'a Material,
    /// The pack's size.
    pack: Expr,
    /// Stages with use or delivery.
    lines: Vec<(Stage, &'a Line)>,
    /// First row.
    first: u32,
}

impl Sheet<'_, '_> {
    fn material(&mut self, total: &Total) -> OrderAt {
        let estimate = self.desk.estimate;
        let found = estimate.materials.materials.iter().find(|m| m.id == total.material);
        let Some(material) = found else {
            self.desk.need(None, &format!("orders: no material {}", total.material));
            return OrderAt::default();
        };
        let head = self.row;
        self.page.heading(head, words("book-material", &[&material.title, &material.unit]));
        let pack = self.pack(material, total);
        let stages = estimate.orders.stages.iter();
        let lines = stages.flat_map(|s| s.lines.iter().map(|l| (s.stage, l)));
        // A stage in which goods only lie in store changes nothing.
        let busy = |l: &Line| !l.used.is_zero() || !l.ordered.is_zero() || l.packs > 0;
        let lines: Vec<(Stage, &Line)> =
            lines.filter(|(_, l)| l.material == total.material && busy(l)).collect();
        let block = Block { total, material, pack, lines, first: head + 1 };
        self.row += 1;
        let mut rows: Vec<OrderAt> = Vec::with_capacity(block.lines.len());
        for (i, (stage, line)) in block.lines.iter().enumerate() {
            let opening = i.checked_sub(1).and_then(|p| rows.get(p)?.closing);
            let row = self.line(&block, i, *stage, line, opening);
            self.desk.places.goods.orders.insert((total.material.clone(), *stage), row.clone());
            rows.push(row);
            self.row += 1;
        }
        let sums = if let [only] = rows.as_slice() { only.clone() } else { self.sums(&rows, places(total)) };
        self.row += 1;
        sums
    }

    /// The pack: its size for changing, on the heading's row; a bar's length belongs to the cutting plan.
    fn pack(&mut self, material: &Material, total: &Total) -> Expr {
        let size = total.pack.size;
        let (row, title) = (self.row, &total.pack.title);
        let name = cell_name("pack_", &material.id);
        let planned = self.planned(material);
        let cell = Cell::number(size, Show::General);
        let cell = if planned { cell.look(Look::Total) } else { cell.input(Allow::Positive) };
        let at = self.page.put(row, PACKS, cell);
        let [one, _] = &total.pack.words;
        let unit =
            if *one == material.unit { one.clone() } else { words("book-in-a-pack", &[&material.unit, one]) };
        self.page.text(row, ORDERED, unit);
        let note = if planned {
            words("book-pack-of-plan", &[title, &total.pack.source])
        } else {
            words("book-pack-note", &[title, &name, &total.pack.source])
        };
        self.page.text(row, NOTE, note);
        if planned {
            return Expr::Cell(at);
        }
        self.desk.names.insert(name.clone(), at);
        Expr::Name(name)
    }

    fn line(
        &mut self,
        block: &Block<'_>,
        i: usize,
        stage: Stage,
        line: &Line,
        opening: Option<At>,
    ) -> OrderAt {
        let row = self.row;
        let show = Show::UpTo(0, 3);
        self.page.text(row, 0, stage_word(stage));
        let opening = opening.map(|at| self.page.put(row, OPENING, Cell::formula(Expr::Cell(at), show)));
        let used = self.used(block, stage).map(|used| self.page.put(row, USED, Cell::formula(used, show)));
        let present = self.present(block, stage);
        let present = present.map(|of| self.page.put(row, PRESENT, Cell::formula(of, show)));
        let packs = self.packs(block, i, stage, line, opening, [used, present]);
        let packs = packs.map(|packs| {
            let cell = if let Expr::Number(n) = packs {
                Cell::number(n, Show::Fixed(0))
            } else {
                Cell::formula(packs, Show::Fixed(0))
            };
            self.page.put(row, PACKS, cell)
        });
        let places = places(block.total);
        let ordered = packs.map(|packs| {
            let ordered = Expr::Mul(vec![Expr::Cell(packs), block.pack.clone()]).round(places);
            self.page.put(row, ORDERED, Cell::formula(ordered, show))
        });
        let mut left: Vec<Expr> = [opening, ordered].into_iter().flatten().map(Expr::Cell).collect();
        left.extend(used.map(|at| Expr::Neg(Box::new(Expr::Cell(at)))));
        let closing = self.page.put(row, CLOSING, Cell::formula(Expr::total(left).round(places), show));
        let cost = packs.and_then(|packs| self.money(block, packs));
        self.page.text(row, NOTE, note(line, &block.material.unit));
        OrderAt { opening, packs, ordered, used, present, closing: Some(closing), cost }
    }

    /// Used in a stage: the rows of Materials.
    fn used(&self, block: &Block<'_>, stage: Stage) -> Option<Expr> {
        let rows = self.desk.estimate.materials.rows.iter().zip(&self.desk.places.goods.rows);
        let own = rows.filter(|(r, _)| r.material == block.total.material && r.stage == stage);
        let used: Vec<Expr> = own.filter_map(|(_, at)| at.gross.map(Expr::Cell)).collect();
        (!used.is_empty()).then(|| {
            let used = Expr::total(used);
            if matches!(used, Expr::Add(_)) { used.round(3) } else { used }
        })
    }

    /// On the site at once in a stage, where that is more than what is worn off.
    fn present(&self, block: &Block<'_>, stage: Stage) -> Option<Expr> {
        let rows = self.desk.estimate.materials.rows.iter().zip(&self.desk.places.goods.rows);
        let own = || rows.clone().filter(|(r, _)| r.material == block.total.material && r.stage == stage);
        own().any(|(_, at)| at.present.is_some()).then(|| {
            let all = own().filter_map(|(_, at)| at.present.or(at.gross).map(Expr::Cell)).collect();
            let all = Expr::total(all);
            if matches!(all, Expr::Add(_)) { all.round(3) } else { all }
        })
    }

    /// Packs to order for a stage; `None` for a stage that has no delivery of its own.
    fn packs(
        &mut self,
        block: &Block<'_>,
        i: usize,
        stage: Stage,
        line: &Line,
        opening: Option<At>,
        [used, present]: [Option<At>; 2],
    ) -> Option<Expr> {
        let reserve = (line.reserve > 0).then(|| {
            let named = self.desk.trail.at_path(&format!("orders.reserve_bags.{}", stage.id()));
            named.unwrap_or_else(|| Expr::Number(line.reserve.into()))
        });
        let needed = match block.material.rounding {
            Rounding::Plan if self.planned(block.material) => {
                let key = (block.total.material.clone(), stage);
                return self.desk.places.goods.bought.get(&key).map(|at| Expr::Cell(*at));
            }
            Rounding::Delivery | Rounding::Plan => used.map(|used| {
                let opening = opening.map(|at| Expr::Neg(Box::new(Expr::Cell(at))));
                let needed = greater(used, present);
                Expr::total([Some(needed), opening].into_iter().flatten().collect())
            }),
            Rounding::Bulk => self.opened(block, i),
        };
        // The first purchase is never let off to nothing.
        let least = Expr::int(i64::from(needed.is_some() && self.first_use(block, i)));
        let up = needed.map(|needed| {
            let packs = needed.over(block.pack.clone());
            let less = Expr::Neg(Box::new(Expr::Name(TOLERANCE.to_owned())));
            let up = Expr::Up(Box::new(Expr::Add(vec![packs, less]).round(PACK_PLACES)));
            Expr::Max(vec![least, up])
        });
        let terms: Vec<Expr> = up.into_iter().chain(reserve).collect();
        (!terms.is_empty()).then(|| Expr::total(terms))
    }

    /// Is a material bought by a cutting plan? Without a plan bars are bought like other goods.
    fn planned(&self, material: &Material) -> bool {
        let plans = &self.desk.estimate.steel.cutting;
        let of = |bar: &str| plans.iter().any(|c| c.bar.id() == bar);
        material.rounding == Rounding::Plan && material.id.strip_prefix("bars/").is_some_and(of)
    }

    /// Is nothing delivered before this stage?
    fn first_use(&self, block: &Block<'_>, i: usize) -> bool {
        block.lines.iter().take(i).all(|(_, l)| l.packs == 0)
    }

    /// Bulk goods, where a group of stages first uses them: the use of all groups opened so far, less what came.
    fn opened(&self, block: &Block<'_>, i: usize) -> Option<Expr> {
        let group = |stage: Stage| self.desk.estimate.orders.groups.iter().position(|g| g.contains(&stage));
        let uses = |l: &Line| !l.used.is_zero();
        let at = |row: usize, col| At {
            page: PageId::Orders,
            row: block.first + u32::try_from(row).unwrap_or(u32::MAX / 4),
            col,
        };
        let own = group(block.lines.get(i)?.0);
        let before = block.lines.iter().take(i).filter(|(_, l)| uses(l));
        let opened: Vec<_> = before.map(|(s, _)| group(*s)).collect();
        if opened.contains(&own) || !uses(block.lines.get(i)?.1) {
            return None;
        }
        let came = |terms: &mut Vec<Expr>| {
            let before = block.lines.iter().enumerate().take(i).filter(|(_, (_, l))| l.packs > 0);
            terms.extend(before.map(|(row, _)| Expr::Neg(Box::new(Expr::Cell(at(row, ORDERED))))));
        };
        let (mut terms, mut most) = (Vec::new(), Vec::new());
        for (row, (stage, line)) in block.lines.iter().enumerate() {
            if !uses(line) || (group(*stage) != own && !opened.contains(&group(*stage))) {
                continue;
            }
            if row >= i && self.present(block, *stage).is_some() {
                let mut until = terms.clone();
                until.push(greater(at(row, USED), Some(at(row, PRESENT))));
                came(&mut until);
                most.push(Expr::total(until));
            }
            terms.push(Expr::Cell(at(row, USED)));
        }
        came(&mut terms);
        most.push(Expr::total(terms));
        Some(if most.len() == 1 { most.remove(0) } else { Expr::Max(most) })
    }

    fn money(&mut self, block: &Block<'_>, packs: At) -> Option<At> {
        let (rate, places) = self.desk.places.prices.get(&block.total.material).cloned()?;
        let digits = self.desk.estimate.bill.currency.digits;
        let cost = Expr::Mul(vec![Expr::Cell(packs), rate]).settle(places + SPARE, digits);
        Some(self.page.put(self.row, COST, Cell::formula(cost, Show::Money(digits))))
    }

    /// The whole job: sums of the stages.
    fn sums(&mut self, rows: &[OrderAt], fine: u32) -> OrderAt {
        let row = self.row;
        self.page.put(row, 0, Cell::text(word("book-whole-job")).look(Look::Total));
        let digits = self.desk.estimate.bill.currency.digits;
        let of = |cells: Vec<At>| Some(Range { from: *cells.first()?, to: cells.last()?.row });
        let mut sum = |get: fn(&OrderAt) -> Option<At>, col, places: u32, show| {
            let range = of(rows.iter().filter_map(get).collect())?;
            let cell = Cell::formula(Expr::Sum(range).round(places), show).look(Look::Total);
            Some(self.page.put(row, col, cell))
        };
        let placed = OrderAt {
            packs: sum(|r| r.packs, PACKS, 0, Show::Fixed(0)),
            ordered: sum(|r| r.ordered, ORDERED, fine, Show::UpTo(0, 3)),
            used: sum(|r| r.used, USED, fine, Show::UpTo(0, 3)),
            cost: sum(|r| r.cost, COST, digits, Show::Money(digits)),
            ..OrderAt::default()
        };
        self.row += 1;
        placed
    }

    /// Money of all orders.
    fn cost(&mut self) {
        if self.desk.estimate.orders.cost.is_none() {
            return;
        }
        let all = self.desk.places.goods.totals.iter().filter_map(|t| t.cost.map(Expr::Cell)).collect();
        let digits = self.desk.estimate.bill.currency.digits;
        self.page.heading(self.row, word("book-orders-cost"));
        let cell = Cell::formula(Expr::total(all).round(digits), Show::Money(digits)).look(Look::Total);
        self.desk.places.goods.cost = Some(self.page.put(self.row, COST, cell));
        self.row += 1;
    }
}

/// What must be there: what is worn off, or what stands on the site at once.
fn greater(used: At, present: Option<At>) -> Expr {
    let all: Vec<Expr> = std::iter::once(used).chain(present).map(Expr::Cell).collect();
    if all.len() == 1 { Expr::Cell(used) } else { Expr::Max(all) }
}

/// Places that hold every amount of a material exactly.
fn places(total: &Total) -> u32 {
    total.pack.size.normalize().scale().max(3) + SPARE
}

/// What a buyer must know of a delivery.
fn note(line: &Line, unit: &str) -> String {
    let mut notes = Vec::new();
    if line.reserve > 0 {
        notes.push(word("book-reserve"));
    }
    if line.let_off > Decimal::ZERO {
        let let_off = decimal::plain(decimal::ratio(line.let_off));
        notes.push(words("book-let-off", &[&let_off, unit]));
    }
    if line.serves.len() > 1 {
        let stages: Vec<String> = line.serves.iter().map(|s| stage_word(*s)).collect();
        notes.push(words("book-serves", &[&stages.join(", ")]));
    }
    notes.join("; ")
}
