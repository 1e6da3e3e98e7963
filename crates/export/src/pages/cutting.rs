//! Cutting: the plan as it was stored, and whether it still fits the schedule. It is not worked anew here: where
//! pieces, stock or cut no longer agree, a cell turns FALSE and the Summary asks for another run.

use std::collections::BTreeMap;

use tankwright_quantities::stage::Stage;
use tankwright_quantities::steel::{Cutting, Pattern};

use crate::book::{Desk, heads, stage_word, word, words};
use crate::cells::{At, Cell, Look, Page, PageId, Range, Show};
use crate::expr::{Expr, Order};

const MM: u16 = 1;
const PLAN: u16 = 2;
const SCHEDULE: u16 = 3;
const CUTS: u16 = 4;
const OFFCUT: u16 = 5;
const HOLDS: u16 = 6;
const WHOLE: Show = Show::Fixed(0);
const MILLIMETRES: Show = Show::UpTo(0, 1);

/// The page; none where nothing is cut.
pub(crate) fn page(desk: &mut Desk<'_>) -> Option<Page> {
    let plans = &desk.estimate.steel.cutting;
    if plans.is_empty() {
        return None;
    }
    let columns = heads(&[
        "book-cut-what",
        "book-mm",
        "book-in-plan",
        "book-in-schedule",
        "book-cuts",
        "book-offcut",
        "book-test-holds",
    ]);
    let mut page = Page::new(PageId::Cutting, &word("book-cutting"), &word("book-cutting-remark"), &columns);
    page.widest = vec![96, 10, 10, 10, 10, 10, 10];
    let mut row = 3;
    for plan in plans {
        let mut block =
            Block { page: &mut page, row, desk, pieces: BTreeMap::new(), stock: None, kerf: None };
        block.plan(plan);
        row = block.row + 1;
    }
    Some(page)
}

struct Block<'a, 'd> {
    page: &'a mut Page,
    row: u32,
    desk: &'a mut Desk<'d>,
    /// Where the length of each piece stands.
    pieces: BTreeMap<i64, At>,
    stock: Option<At>,
    kerf: Option<At>,
}

impl Block<'_, '_> {
    fn plan(&mut self, plan: &Cutting) {
        self.page.heading(self.row, words("book-cut-head", &[&plan.bar.id(), &plan.bars.to_string()]));
        self.row += 1;
        let proof = if plan.proved_least() {
            word("book-proved-least")
        } else {
            words("book-within-bound", &[&plan.bound.to_string()])
        };
        self.page.text(self.row, 0, proof);
        self.row += 1;
        self.stock = Some(self.given("book-stock-length", "steel.stock_length", plan.stock_mm));
        self.kerf = (plan.kerf_mm > 0).then(|| self.given("book-kerf", "steel.kerf", plan.kerf_mm));
        // Patterns stand below the pieces, which count them.
        let mut lengths: Vec<i64> = plan.patterns.iter().flat_map(|p| &p.pieces).map(|(mm, _)| *mm).collect();
        lengths.sort_unstable_by(|a, b| b.cmp(a));
        lengths.dedup();
        let first = self.row + rows(lengths.len());
        for mm in lengths {
            self.piece(plan, mm, first);
        }
        let mut bought: BTreeMap<Stage, Vec<Expr>> = BTreeMap::new();
        for pattern in &plan.patterns {
            let times = self.pattern(pattern, plan);
            bought.entry(pattern.stage).or_default().push(Expr::Cell(times));
        }
        let end = self.row;
        let holds = At { page: PageId::Cutting, row: first - rows(self.pieces.len()), col: HOLDS };
        if end > holds.row {
            self.desk.places.plan.push(Range { from: holds, to: end - 1 });
        }
        self.bought(plan, bought);
        if !plan.kept.is_empty() {
            let kept: Vec<String> = plan
                .kept
                .iter()
                .map(|(mm, n)| words("book-kept-offcut", &[&n.to_string(), &mm.to_string()]))
                .collect();
            self.page.text(self.row, 0, words("book-kept-offcuts", &[&kept.join(", ")]));
            self.row += 1;
        }
    }

    /// A length that the plan was made for, from the inputs where they hold it.
    fn given(&mut self, title: &'static str, path: &str, mm: i64) -> At {
        self.page.text(self.row, 0, word(title));
        let cell = match self.desk.trail.at_path(path) {
            Some(name) => Cell::formula(Expr::Mul(vec![name, Expr::int(1_000)]).round(1), MILLIMETRES),
            None => Cell::number(mm.into(), MILLIMETRES),
        };
        self.row += 1;
        self.page.put(self.row - 1, MM, cell)
    }

    /// A length of pieces: how many the plan cuts, how many the schedule has.
    fn piece(&mut self, plan: &Cutting, mm: i64, first: u32) {
        let row = self.row;
        self.row += 1;
        self.page.text(row, 0, word("book-piece"));
        self.pieces.insert(mm, self.page.put(row, MM, Cell::number(mm.into(), WHOLE)));
        let mut cut = Vec::new();
        for (at, pattern) in (first..).zip(&plan.patterns) {
            let n = pattern.pieces.iter().filter(|(l, _)| *l == mm).count();
            let times = Expr::Cell(At { page: PageId::Cutting, row: at, col: PLAN });
            match i64::try_from(n).unwrap_or(i64::MAX) {
                0 => {}
                1 => cut.push(times),
                n => cut.push(Expr::Mul(vec![times, Expr::int(n)])),
            }
        }
        let cut = self.page.put(row, PLAN, Cell::formula(Expr::total(cut), WHOLE));
        let (steel, places) = (&self.desk.estimate.steel, &self.desk.places.goods.marks);
        let (mut numbers, mut stays) = (Vec::new(), Vec::new());
        for (_, at) in steel.marks.iter().zip(places).filter(|(m, _)| m.bar == plan.bar && m.length_mm == mm)
        {
            numbers.extend(at.count.map(Expr::Cell));
            stays.extend(at.length.map(|l| Expr::Cell(l).is(Order::Equal, Expr::int(mm))));
        }
        let number = self.page.put(row, SCHEDULE, Cell::formula(Expr::total(numbers), WHOLE));
        stays.insert(0, Expr::Cell(cut).is(Order::Equal, Expr::Cell(number)));
        self.page.put(row, HOLDS, Cell::formula(Expr::And(stays), Show::Truth));
    }

    /// So many bars cut alike: stock = pieces + cuts + offcut.
    fn pattern(&mut self, pattern: &Pattern, plan: &Cutting) -> At {
        let row = self.row;
        self.row += 1;
        let mut counts: BTreeMap<(i64, Stage), i64> = BTreeMap::new();
        for piece in &pattern.pieces {
            *counts.entry(*piece).or_default() += 1;
        }
        let many = |((mm, stage), n): (&(i64, Stage), &i64)| {
            let (n, mm) = (n.to_string(), mm.to_string());
            if *stage == pattern.stage {
                words("book-pieces", &[&n, &mm])
            } else {
                words("book-pieces-for", &[&n, &mm, &stage_word(*stage)])
            }
        };
        let list: Vec<String> = counts.iter().rev().map(many).collect();
        self.page.text(row, 0, words("book-stage-use", &[&stage_word(pattern.stage), &list.join(" + ")]));
        let times = self.page.put(row, PLAN, Cell::number(pattern.times.into(), WHOLE));
        let mut by_length: BTreeMap<i64, i64> = BTreeMap::new();
        for ((mm, _), n) in counts {
            *by_length.entry(mm).or_default() += n;
        }
        let product = |(mm, n): (&i64, &i64)| {
            let length = self.pieces.get(mm).map(|at| Expr::Cell(*at));
            let length = length.unwrap_or(Expr::int(*mm));
            if *n == 1 { length } else { Expr::Mul(vec![length, Expr::int(*n)]) }
        };
        let sum = Expr::total(by_length.iter().rev().map(product).collect());
        let pieces = Expr::Cell(self.page.put(row, MM, Cell::formula(sum, WHOLE)));
        let offcut = Expr::Cell(self.page.put(row, OFFCUT, Cell::number(pattern.offcut_mm.into(), WHOLE)));
        let stock = self.stock.map_or(Expr::int(plan.stock_mm), Expr::Cell);
        let mut all = vec![pieces.clone()];
        let mut tests = Vec::new();
        if let Some(kerf) = self.kerf {
            let number = i64::try_from(pattern.pieces.len()).unwrap_or(i64::MAX);
            let cut = |n: i64| Expr::Neg(Box::new(Expr::Mul(vec![Expr::Cell(kerf), Expr::int(n)])));
            let left = |n: i64| Expr::Add(vec![stock.clone(), Expr::Neg(Box::new(pieces.clone())), cut(n)]);
            // The last cut may take what is left of the bar, and is not made where nothing is left.
            let lost = Expr::Add(vec![
                stock.clone(),
                Expr::Neg(Box::new(pieces.clone())),
                Expr::Neg(Box::new(Expr::Max(vec![Expr::int(0), left(number)]))),
            ]);
            let cuts = self.page.put(row, CUTS, Cell::formula(lost.round(1), MILLIMETRES));
            all.push(Expr::Cell(cuts));
            tests.push(left(number - 1).round(1).is(Order::Greater, Expr::int(-1)));
        }
        all.push(offcut);
        tests.insert(0, Expr::total(all).is(Order::Equal, stock));
        let holds = if tests.len() == 1 { tests.remove(0) } else { Expr::And(tests) };
        self.page.put(row, HOLDS, Cell::formula(holds, Show::Truth));
        times
    }

    /// Bars to buy, by stage and altogether.
    fn bought(&mut self, plan: &Cutting, bought: BTreeMap<Stage, Vec<Expr>>) {
        let material = format!("bars/{}", plan.bar.id());
        let mut all = Vec::new();
        for (stage, times) in bought {
            self.page.text(self.row, 0, words("book-bars-to-buy", &[&stage_word(stage)]));
            let at = self.page.put(self.row, PLAN, Cell::formula(Expr::total(times), WHOLE));
            self.row += 1;
            all.push(at);
            self.desk.places.goods.bought.insert((material.clone(), stage), at);
        }
        let total = if let [only] = all.as_slice() {
            Some(*only)
        } else {
            Range::over(&all).map(|range| {
                self.page.text(self.row, 0, word("book-bars-in-all"));
                let cell = Cell::formula(Expr::Sum(range), WHOLE).look(Look::Total);
                self.row += 1;
                self.page.put(self.row - 1, PLAN, cell)
            })
        };
        self.desk.places.goods.bars.push(total);
    }
}

fn rows(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX / 4)
}
