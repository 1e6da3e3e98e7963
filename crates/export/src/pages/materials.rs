//! Materials: what each item needs, stage by stage; recipe figures and waste stand once, at the foot.

use tankwright_geometry::{Len, Ratio};
use tankwright_quantities::decimal;
use tankwright_quantities::materials::{Factor, Material, Row, Use};

use crate::book::{Desk, RowAt, heads, stage_word, word, words};
use crate::cells::{Allow, At, Cell, Look, Page, PageId, Range, Show};
use crate::expr::{Expr, Order};
use crate::pages::bill::SPARE;
use crate::pages::figures::{self, Figure, Recipes, Wastes};
use crate::pages::net;
use crate::pages::owners::{self, Owner};

const BASE: u16 = 1;
const FACTOR: u16 = 2;
const NET: u16 = 3;
const OVER: u16 = 4;
const WASTE: u16 = 5;
const GROSS: u16 = 6;
const PRESENT: u16 = 7;
const WORKING: u16 = 8;
/// Places of a row's amounts.
const PLACES: u32 = 3;
const AMOUNT: Show = Show::UpTo(2, PLACES);

/// The page; none where nothing is used.
pub(crate) fn page(desk: &mut Desk<'_>) -> Option<Page> {
    let estimate = desk.estimate;
    let materials = &estimate.materials;
    if materials.rows.is_empty() {
        return None;
    }
    let columns = heads(&[
        "book-what-for",
        "book-net-of-item",
        "book-factor",
        "book-net-amount",
        "book-over-break",
        "book-waste",
        "book-with-waste",
        "book-at-once",
        "book-working",
    ]);
    let mut page =
        Page::new(PageId::Materials, &word("book-materials"), &word("book-materials-remark"), &columns);
    page.widest = vec![66, 14, 14, 14, 14, 9, 16, 14, 84];
    let owners = owners::of(estimate);
    let (recipes, wastes) = (Recipes::of(estimate, &owners), Wastes::of(estimate));
    desk.places.goods.rows = vec![RowAt::default(); materials.rows.len()];
    let mut sheet = Sheet {
        page: &mut page,
        row: 3,
        recipes: &recipes,
        wastes: &wastes,
        owners: &owners,
        desk,
        at_once: Vec::new(),
    };
    for material in &materials.materials {
        sheet.material(material);
    }
    let listed = |r: &&Row| !materials.materials.iter().any(|m| m.id == r.material);
    for row in materials.rows.iter().filter(listed) {
        sheet.desk.need(None, &format!("{}: no such material", row.material));
    }
    sheet.wastes();
    sheet.recipes();
    Some(page)
}

struct Sheet<'a, 'd> {
    page: &'a mut Page,
    row: u32,
    recipes: &'a Recipes,
    wastes: &'a Wastes,
    owners: &'a [Owner],
    desk: &'a mut Desk<'d>,
    /// Of each use of the row in hand, where any of them serves again: over-break or not, what stands on the site at
    /// once, and the same exactly.
    at_once: Vec<(bool, Expr, Ratio)>,
}

impl Sheet<'_, '_> {
    /// A material: a heading with its total, its rows.
    fn material(&mut self, material: &Material) {
        let rows: Vec<(usize, &Row)> = self
            .desk
            .estimate
            .materials
            .rows
            .iter()
            .enumerate()
            .filter(|(_, r)| r.material == material.id)
            .collect();
        if rows.is_empty() {
            return;
        }
        let head = self.row;
        self.page.heading(head, words("book-material", &[&material.title, &material.unit]));
        self.page.put(head, WORKING, Cell::text(material.id.clone()).look(Look::Heading));
        self.row += 1;
        let gross: Vec<Expr> = rows.into_iter().map(|(i, row)| Expr::Cell(self.stage(i, row))).collect();
        let all = Expr::total(gross);
        let all = if matches!(all, Expr::Add(_)) { all.round(PLACES) } else { all };
        self.page.put(head, GROSS, Cell::formula(all, AMOUNT).look(Look::Total));
        self.row += 1;
    }

    /// A row of the estimate: its uses, then their sums; a use alone stands in the row itself.
    fn stage(&mut self, place: usize, row: &Row) -> At {
        let estimate = self.desk.estimate;
        let uses: Vec<&Use> = row.uses.iter().filter_map(|u| estimate.materials.uses.get(*u)).collect();
        let marks: Vec<usize> = row
            .uses
            .iter()
            .filter_map(|u| if let Some(Owner::Mark(m)) = self.owners.get(*u) { Some(*m) } else { None })
            .collect();
        self.at_once.clear();
        let mut at = match uses.as_slice() {
            uses if !marks.is_empty() && marks.len() == uses.len() => self.marks(row, uses, &marks),
            [only] => self.alone(row, only),
            uses => self.several(row, uses),
        };
        let look = if at.uses.is_empty() { Look::Body } else { Look::Total };
        let parts: Vec<Expr> = at.parts.iter().flatten().map(|at| Expr::Cell(*at)).collect();
        let waste = self.wastes.of_row(estimate, row).map(|f| Expr::Name(f.name.clone()));
        let mut gross = Expr::total(parts);
        if matches!(gross, Expr::Add(_)) {
            gross = gross.round(PLACES);
        }
        // Nothing is written for a waste of 0 that no rate can change: the page says so.
        if let Some(waste) = waste {
            let cell = self.page.put(self.row, WASTE, Cell::formula(waste, Show::General).look(look));
            at.waste = Some(cell);
            let more = Expr::Add(vec![Expr::int(1), Expr::Cell(cell).over(Expr::int(100))]);
            let exact = PLACES + 2 + row.waste_percent.normalize().scale() + SPARE;
            gross = Expr::Mul(vec![gross, more]).settle(exact, PLACES);
        }
        let gross = self.page.put(self.row, GROSS, Cell::formula(gross, AMOUNT).look(look));
        at.gross = Some(gross);
        at.present = self.present(row, at.waste, look);
        self.row += 1;
        if let Some(slot) = self.desk.places.goods.rows.get_mut(place) {
            *slot = at;
        }
        gross
    }

    /// What stands on the site at once, where the row has anything that serves again: with waste, as `gross`.
    fn present(&mut self, row: &Row, waste: Option<At>, look: Look) -> Option<At> {
        let all = std::mem::take(&mut self.at_once);
        if all.is_empty() {
            return None;
        }
        let sum = |over: bool| {
            let own = || all.iter().filter(move |(o, _, _)| *o == over);
            let exact = own().map(|(_, _, exact)| *exact).sum();
            let parts: Vec<Expr> = own().map(|(_, expr, _)| expr.clone()).collect();
            (!parts.is_empty()).then(|| settled(Expr::total(parts), exact))
        };
        let mut present = Expr::total([sum(false), sum(true)].into_iter().flatten().collect());
        if matches!(present, Expr::Add(_)) {
            present = present.round(PLACES);
        }
        if let Some(waste) = waste {
            let more = Expr::Add(vec![Expr::int(1), Expr::Cell(waste).over(Expr::int(100))]);
            let exact = PLACES + 2 + row.waste_percent.normalize().scale() + SPARE;
            present = Expr::Mul(vec![present, more]).settle(exact, PLACES);
        }
        Some(self.page.put(self.row, PRESENT, Cell::formula(present, AMOUNT).look(look)))
    }

    /// Bars: all marks of the row in one cell.
    fn marks(&mut self, row: &Row, uses: &[&Use], marks: &[usize]) -> RowAt {
        self.page.text(self.row, 0, stage_word(row.stage));
        let amount = owners::metres(self.desk, marks);
        let amount = self.desk.need(amount, &row.material);
        let exact = uses.iter().map(|u| u.amount).sum();
        let net = self.page.put(self.row, NET, Cell::formula(settled(amount, exact), AMOUNT));
        let all = &self.desk.estimate.steel.marks;
        let names: Vec<&str> = marks.iter().filter_map(|m| Some(all.get(*m)?.mark.as_str())).collect();
        self.page.text(self.row, WORKING, words("book-of-marks", &[&names.join(", ")]));
        RowAt { parts: [Some(net), None], ..RowAt::default() }
    }

    fn alone(&mut self, row: &Row, only: &Use) -> RowAt {
        let Used { title, amount, at_once } = self.used(only, row.uses.first().copied(), only.waste_inside);
        if serves_again(only) {
            self.at_once.push((only.over_break, at_once, only.at_once()));
        }
        self.page.text(self.row, 0, words("book-stage-use", &[&stage_word(row.stage), &title]));
        let amount = self.amount(only, settled(amount, only.amount));
        let parts = if only.over_break { [None, Some(amount)] } else { [Some(amount), None] };
        RowAt { parts, ..RowAt::default() }
    }

    fn several(&mut self, row: &Row, uses: &[&Use]) -> RowAt {
        let mut at = RowAt::default();
        let first = self.row;
        // Said of each use only where it does not hold for all.
        let all = uses.iter().all(|u| u.waste_inside);
        let again = uses.iter().any(|u| serves_again(u));
        for (used, place) in uses.iter().zip(&row.uses) {
            let Used { title, amount, at_once } = self.used(used, Some(*place), used.waste_inside && !all);
            if again {
                let cell = self.page.put(self.row, PRESENT, Cell::formula(at_once, AMOUNT));
                self.at_once.push((used.over_break, Expr::Cell(cell), used.at_once()));
            }
            self.page.text(self.row, 0, title);
            at.uses.push(self.amount(used, amount));
            self.row += 1;
        }
        for (part, over) in at.parts.iter_mut().zip([false, true]) {
            let own = || uses.iter().filter(move |u| u.over_break == over);
            if own().next().is_none() {
                continue;
            }
            let col = if over { OVER } else { NET };
            let range = Range { from: At { page: PageId::Materials, row: first, col }, to: self.row - 1 };
            let exact: Ratio = own().map(|u| u.amount).sum();
            let sum = Cell::formula(settled(Expr::Sum(range), exact), AMOUNT).look(Look::Total);
            *part = Some(self.page.put(self.row, col, sum));
        }
        self.page.put(self.row, 0, Cell::text(stage_word(row.stage)).look(Look::Total));
        if all {
            self.page.text(self.row, WORKING, word("book-waste-inside"));
        }
        at
    }

    fn amount(&mut self, used: &Use, amount: Expr) -> At {
        let col = if used.over_break { OVER } else { NET };
        self.page.put(self.row, col, Cell::formula(amount, AMOUNT))
    }

    /// Base, factor and working of a use.
    fn used(&mut self, used: &Use, place: Option<usize>, inside: bool) -> Used {
        let estimate = self.desk.estimate;
        let row = self.row;
        let owner = place.and_then(|p| self.owners.get(p)).copied();
        let (title, base) = match owner {
            Some(Owner::Item) => {
                let title = net::find(estimate, &used.item)
                    .map(|i| words("book-material", &[&i.wording.to_string(), i.work.unit.id()]));
                (title.unwrap_or_default(), self.net(&used.item))
            }
            Some(Owner::Steel(stage)) => (word("book-all-bars"), owners::steel(self.desk, stage)),
            _ => (word("book-own-quantity"), Expr::ratio(used.base)),
        };
        let base = self.desk.need(base, &format!("{}: no quantity of {}", used.material, used.item));
        let cell = match base {
            Expr::Number(n) => Cell::number(n, AMOUNT),
            base => Cell::formula(base, AMOUNT),
        };
        let mut factors = vec![Expr::Cell(self.page.put(row, BASE, cell))];
        if let Some(factor) = figures::factor(self.desk, &used.steps, self.recipes) {
            let cell = Cell::formula(factor, Show::UpTo(0, 6));
            factors.push(Expr::Cell(self.page.put(row, FACTOR, cell)));
        }
        let mut working: Vec<String> = used.steps.iter().map(|s| self.step(s)).collect();
        if inside {
            working.push(word("book-waste-inside"));
        }
        self.page.text(row, WORKING, working.join("; "));
        let whole: Vec<_> = used.steps.iter().filter(|s| !s.again).cloned().collect();
        let whole =
            factors.first().cloned().into_iter().chain(figures::factor(self.desk, &whole, self.recipes));
        let signed = |amount: Expr| if used.less { Expr::Neg(Box::new(amount)) } else { amount };
        let at_once = signed(Expr::product(whole.collect()));
        Used { title, amount: signed(Expr::product(factors)), at_once }
    }

    fn step(&self, step: &tankwright_quantities::materials::Step) -> String {
        let says = step.says.to_string();
        match &step.factor {
            Factor::Number(_) => words("book-times-figure", &[&says]),
            Factor::Times(len) => words("book-times-figure", &[&self.length(len, &says)]),
            Factor::Over(len) => words("book-over-figure", &[&self.length(len, &says)]),
        }
    }

    /// A length as the job file names it; what it is where no input does.
    fn length(&self, len: &Len, says: &str) -> String {
        if len.terms().is_empty() { says.to_owned() } else { self.desk.trail.words(len) }
    }

    /// Where the net quantity of an item stands.
    fn net(&self, id: &str) -> Option<Expr> {
        let (sheet, places) = (&self.desk.estimate.sheet, &self.desk.places);
        let of = |items: &[tankwright_quantities::sheet::Item]| items.iter().position(|i| i.id == id);
        let at = match of(&sheet.items) {
            Some(i) => places.items.get(i),
            None => places.voids.get(of(&sheet.voids)?),
        };
        at?.net.map(Expr::Cell)
    }

    fn wastes(&mut self) {
        let wastes = self.wastes;
        if wastes.figures.all.is_empty() {
            return;
        }
        self.page.heading(self.row, word("book-wastes"));
        self.row += 1;
        for figure in &wastes.figures.all {
            let apart = wastes.apart(self.desk.estimate, figure);
            self.figure(figure, if apart { Allow::Positive } else { Allow::NotNegative });
            if apart {
                let stays = Expr::Name(figure.name.clone()).is(Order::Greater, Expr::int(0));
                let at = self.page.put(self.row - 1, FACTOR, Cell::formula(stays, Show::Truth));
                self.desk.places.kept.extend(Range::over(&[at]));
            }
        }
        self.row += 1;
    }

    fn recipes(&mut self) {
        let recipes = self.recipes;
        if recipes.0.all.is_empty() {
            return;
        }
        self.page.heading(self.row, word("book-recipes"));
        self.row += 1;
        for figure in &recipes.0.all {
            self.figure(figure, Allow::Positive);
        }
    }

    fn figure(&mut self, figure: &Figure, allow: Allow) {
        self.page.text(self.row, 0, &figure.what);
        let cell = figures::cell(self.desk, figure.value, &figure.what, allow);
        let at = self.page.put(self.row, BASE, cell);
        self.desk.names.insert(figure.name.clone(), at);
        self.page.text(self.row, WORKING, words("book-named", &[&figure.name]));
        self.row += 1;
    }
}

/// A use as written.
struct Used {
    title: String,
    amount: Expr,
    /// The same without the division by numbers of uses.
    at_once: Expr,
}

fn serves_again(used: &Use) -> bool {
    used.steps.iter().any(|s| s.again)
}

/// An amount to its three places. A spreadsheet reckons in binary: rounding first where that noise ends takes it off,
/// unless the figure itself lies so near to a half that the first rounding would decide.
fn settled(amount: Expr, exact: Ratio) -> Expr {
    let digits = exact.abs().floor().numer().checked_ilog10().map_or(1, |d| d + 1);
    let fine = 14_u32.saturating_sub(digits).clamp(6, 12);
    let twice = decimal::rounded(exact, fine).and_then(|d| decimal::rounded(decimal::ratio(d), PLACES));
    if twice == decimal::rounded(exact, PLACES) { amount.settle(fine, PLACES) } else { amount.round(PLACES) }
}
