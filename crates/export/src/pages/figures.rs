//! Figures that the user may change and that no input of the job file holds: recipes, waste, packs. Each has a name.

use std::collections::{BTreeMap, BTreeSet};

use tankwright_geometry::Ratio;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::materials::{Factor, Row, Step};
use tankwright_quantities::stage::Stage;

use crate::book::Desk;
use crate::cells::{Allow, Cell, Show};
use crate::expr::{Expr, exact};
use crate::pages::owners::Owner;
use crate::trail::cell_name;

/// Most characters of a name that comes from words.
const LONGEST: usize = 44;

/// A figure with its name.
#[derive(Debug)]
pub(crate) struct Figure {
    /// The name of its cell.
    pub(crate) name: String,
    /// In words.
    pub(crate) what: String,
    /// The figure.
    pub(crate) value: Ratio,
}

/// Figures by what they are, each once, in the order in which they were met.
#[derive(Debug, Default)]
pub(crate) struct Figures {
    /// In order.
    pub(crate) all: Vec<Figure>,
    places: BTreeMap<(String, Ratio), usize>,
    taken: BTreeSet<String>,
}

impl Figures {
    /// Takes a figure in, where these words with this value are met first.
    pub(crate) fn name(&mut self, prefix: &str, what: &str, value: Ratio) {
        let next = self.all.len();
        let place = *self.places.entry((what.to_owned(), value)).or_insert(next);
        if place == next {
            let name = self.free(prefix, what);
            self.all.push(Figure { name, what: what.to_owned(), value });
        }
    }

    fn free(&mut self, prefix: &str, what: &str) -> String {
        let mut first = cell_name(prefix, what);
        while first.len() > LONGEST {
            let Some(end) = first.rfind('_') else { break };
            first.truncate(end);
        }
        let (mut name, mut n) = (first.clone(), 2_u32);
        while !self.taken.insert(name.to_lowercase()) {
            name = format!("{first}_no{n}");
            n += 1;
        }
        name
    }
}

/// The cell of a figure, for changing.
pub(crate) fn cell(desk: &mut Desk<'_>, value: Ratio, what: &str, allow: Allow) -> Cell {
    match exact(value) {
        Some(number) => Cell::number(number, Show::General),
        None => Cell::formula(desk.need(Expr::ratio(value), what), Show::General),
    }
    .input(allow)
}

/// What multiplies a use's quantity; `None` for nothing, or where a number is too large to write.
pub(crate) fn factor(desk: &mut Desk<'_>, steps: &[Step], recipes: &Recipes) -> Option<Expr> {
    let (mut over, mut under) = (Vec::new(), Vec::new());
    for step in steps {
        let what = step.says.to_string();
        match &step.factor {
            Factor::Number(n) => over.push(desk.need(recipes.expr(&what, *n), &what)),
            Factor::Times(len) => over.push(desk.need(desk.trail.metres(len), &what)),
            Factor::Over(len) => under.push(desk.need(desk.trail.metres(len), &what)),
        }
    }
    match (over.is_empty(), under.is_empty()) {
        (true, true) => None,
        (_, true) => Some(Expr::product(over)),
        _ => Some(Expr::product(over).over(Expr::product(under))),
    }
}

/// The figures of all recipes of a job.
#[derive(Debug, Default)]
pub(crate) struct Recipes(pub(crate) Figures);

impl Recipes {
    /// Gathers them.
    pub(crate) fn of(estimate: &Estimate, owners: &[Owner]) -> Self {
        let mut figures = Figures::default();
        for (used, owner) in estimate.materials.uses.iter().zip(owners) {
            if matches!(owner, Owner::Mark(_)) {
                continue;
            }
            for step in &used.steps {
                if let Factor::Number(n) = step.factor {
                    figures.name("recipe_", &step.says.to_string(), n);
                }
            }
        }
        Self(figures)
    }

    /// What multiplies a use that stands in no row of materials: figures by name where the page Materials has them.
    pub(crate) fn factor(&self, desk: &mut Desk<'_>, steps: &[Step]) -> Option<Expr> {
        let known = |step: &Step| match step.factor {
            Factor::Number(n) => self.expr(&step.says.to_string(), n).is_some(),
            Factor::Times(_) | Factor::Over(_) => true,
        };
        if steps.iter().all(known) {
            return factor(desk, steps, self);
        }
        let numbers = steps.iter().map(|s| match &s.factor {
            Factor::Number(n) => *n,
            Factor::Times(len) => len.value() / Ratio::int(10_000),
            Factor::Over(len) => Ratio::int(10_000) / len.value(),
        });
        let product = numbers.fold(Ratio::ONE, |product, n| product * n);
        Some(desk.need(Expr::ratio(product), "a factor"))
    }

    fn expr(&self, what: &str, value: Ratio) -> Option<Expr> {
        let place = *self.0.places.get(&(what.to_owned(), value))?;
        self.0.all.get(place).map(|f| Expr::Name(f.name.clone()))
    }
}

/// The rates of waste of a job.
#[derive(Debug, Default)]
pub(crate) struct Wastes {
    /// By material and per cent.
    pub(crate) figures: Figures,
}

impl Wastes {
    /// Gathers them.
    pub(crate) fn of(estimate: &Estimate) -> Self {
        let mut wastes = Self::default();
        for row in estimate.materials.rows.iter().filter(|r| !fixed(estimate, r)) {
            let value = tankwright_quantities::decimal::ratio(row.waste_percent);
            wastes.figures.name("waste_", &row.material, value);
        }
        wastes
    }

    /// The name of a row's waste; `None` where it is nothing by the recipe.
    pub(crate) fn of_row(&self, estimate: &Estimate, row: &Row) -> Option<&Figure> {
        if fixed(estimate, row) {
            return None;
        }
        let value = tankwright_quantities::decimal::ratio(row.waste_percent);
        let place = *self.figures.places.get(&(row.material.clone(), value))?;
        self.figures.all.get(place)
    }

    /// The name of a material's waste at a rate, where the page Materials has it.
    pub(crate) fn name(&self, material: &str, percent: Ratio) -> Option<String> {
        let place = *self.figures.places.get(&(material.to_owned(), percent))?;
        self.figures.all.get(place).map(|f| f.name.clone())
    }

    /// Must a rate stay above 0, lest its rows fall together with others?
    pub(crate) fn apart(&self, estimate: &Estimate, figure: &Figure) -> bool {
        let rows = &estimate.materials.rows;
        let own = |r: &&Row| {
            self.of_row(estimate, r).is_some_and(|f| f.name == figure.name) && !figure.value.is_zero()
        };
        let at = |r: &Row| -> (String, Stage) { (r.material.clone(), r.stage) };
        rows.iter().filter(own).any(|r| rows.iter().any(|o| fixed(estimate, o) && at(o) == at(r)))
    }
}

/// Is a row without waste by its recipe or its cutting plan, whatever the rate of the material?
pub(crate) fn fixed(estimate: &Estimate, row: &Row) -> bool {
    let materials = &estimate.materials;
    let planned = materials
        .materials
        .iter()
        .any(|m| m.id == row.material && m.rounding == tankwright_quantities::materials::Rounding::Plan);
    let inside = row.uses.iter().filter_map(|u| materials.uses.get(*u)).any(|u| u.waste_inside);
    row.waste_percent.is_zero() && (planned || inside)
}
