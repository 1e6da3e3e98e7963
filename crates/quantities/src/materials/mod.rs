//! Materials: recipe x quantity, stage by stage, waste once. Nothing here measures: it reads the closed ledger.

mod balance;
mod chain;
mod choices;
mod codes;
mod desk;
mod goods;
mod masonry;
mod mixes;
mod one;
mod own_units;
mod rows;
#[cfg(test)]
mod tests;

pub use balance::balance;
pub use codes::CODES;
pub use masonry::Skins;
pub(crate) use one::net;
pub use one::{material, uses_of};
pub use own_units::with_own_units;
pub use rows::PLACES;

use rust_decimal::Decimal;
use tankwright_geometry::{Len, Ratio};

use crate::decimal;
use crate::problem::{Problem, in_order};
use crate::source::Source;
use crate::stage::Stage;
use crate::words::Phrase;

/// A factor of a recipe.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Factor {
    /// A figure of the recipe.
    Number(Ratio),
    /// Times a length in metres: a coat's thickness.
    Times(Len),
    /// Over a length in metres: a wall's thickness.
    Over(Len),
}

/// A factor and what it is, in words: "kg of cement in 1 m3", "filling of joints".
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// The factor.
    pub factor: Factor,
    /// In words.
    pub says: Phrase,
    /// One over the number of uses: of what serves again and again a stage wears off this share, but all of it must
    /// be on the site at once.
    pub again: bool,
}

/// What a material is needed for: one product.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Use {
    /// Material: `cement`, `bars/Y12`.
    pub material: String,
    /// Stage of the item.
    pub stage: Stage,
    /// Id of the ledger's item, whose *net* quantity is used; empty where the quantity is no item's
    /// (test water, binding wire), then `base` alone says it.
    pub item: String,
    /// The item's net quantity, or what stands for it, in its own unit.
    pub base: Ratio,
    /// Over-break, not the work itself.
    pub over_break: bool,
    /// Taken off (the volume of the bricks in a wall's mortar).
    pub less: bool,
    /// Factors, in order.
    pub steps: Vec<Step>,
    /// base x steps, signed, in the material's unit, exact.
    pub amount: Ratio,
    /// Waste on it, per cent; 0 where the recipe has it inside.
    pub waste_percent: Ratio,
    /// The recipe's source; says whether waste is inside.
    pub source: Source,
    /// Waste inside the recipe?
    pub waste_inside: bool,
}

impl Use {
    /// What must be on the site at once: the amount without the division by the number of uses.
    #[must_use]
    pub fn at_once(&self) -> Ratio {
        let uses = self.steps.iter().filter(|s| s.again).map(|s| &s.factor);
        uses.fold(self.amount, |amount, factor| match factor {
            Factor::Number(n) if !n.is_zero() => amount / *n,
            _ => amount,
        })
    }
}

/// A row: one material in one stage at one rate of waste.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Material.
    pub material: String,
    /// Stage.
    pub stage: Stage,
    /// Uses of `Materials::uses`, by place.
    pub uses: Vec<usize>,
    /// Sum of the uses that are not over-break, three places.
    pub net: Decimal,
    /// Sum of the uses that are, three places.
    pub over_break: Decimal,
    /// Per cent.
    pub waste_percent: Decimal,
    /// (net + over-break) x (1 + waste), three places: what is used up.
    pub gross: Decimal,
    /// What must be on the site at once in this stage: as `gross`, without the division by the number of uses.
    pub present: Decimal,
}

/// How a material is rounded to packs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rounding {
    /// Up to whole packs at each delivery, what is left carried to the next stage.
    Delivery,
    /// Once for the job or a stated group of stages: goods that come by the load.
    Bulk,
    /// By the cutting plan.
    Plan,
}

/// A material of the job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Material {
    /// `cement`, `sand-plaster`, `bricks/brick-220x105x65`, `bars/Y12`.
    pub id: String,
    /// As printed.
    pub title: String,
    /// Its own unit: kg, m3, m2, m, nr, l.
    pub unit: String,
    /// Who sells it: `hardware`, `quarry`, `brickyard`, `site` ... of `rates/materials.toml`.
    pub supplier: String,
    /// How it is rounded.
    pub rounding: Rounding,
    /// Where entry and waste come from.
    pub source: Source,
}

/// Materials of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Materials {
    /// In the order of `rates/materials.toml`.
    pub materials: Vec<Material>,
    /// Every use.
    pub uses: Vec<Use>,
    /// By material, then stage, then waste.
    pub rows: Vec<Row>,
    /// Mixed goods for the site: mix in words, stage, m3 with over-break and without waste.
    pub mixes: Vec<(Phrase, Stage, Decimal)>,
    /// Choices made and their source, in words: which recipe, which waste, what is a default.
    pub remarks: Vec<(Phrase, String)>,
}

/// Materials of a closed ledger.
///
/// # Errors
/// A mix, unit or recipe that is not known, with its place in the job file.
pub fn reckon(
    site: &crate::site::Site<'_>,
    sheet: &crate::sheet::Sheet,
    schedule: &crate::steel::Schedule,
    capacity: &crate::estimate::Capacity,
) -> Result<Materials, Vec<Problem>> {
    let mut problems = Vec::new();
    let choices = choices::read(site.job, &site.stock.recipes, &mut problems);
    let mut desk = desk::Desk::new(site.stock, site.judge, choices);
    desk.sheet(sheet);
    desk.test_water(sheet, capacity);
    desk.bars(schedule);
    desk.idle_waste();
    let desk::Desk { uses, mixes, remarks, problems: lacking, .. } = desk;
    problems.extend(lacking);

    let too_large = || {
        let problem = Problem::error("J071", None, "the materials grow beyond what can be reckoned exactly");
        problem.hint("a tank of this size is far beyond this tool; look for a slip in the units")
    };
    let rows = rows::rows(&uses, site.stock).unwrap_or_else(|| {
        problems.push(too_large());
        Vec::new()
    });
    let materials = rows::materials(&rows, site.stock);
    for row in rows.iter().filter(|r| site.stock.recipes.place(&r.material).is_none()) {
        let what = format!("no data file has the material {}", row.material);
        problems
            .push(Problem::error(codes::DATA, None, what).hint("add it to your own rates/materials.toml"));
    }
    let ids: Vec<String> = materials.iter().map(|m| m.id.clone()).collect();
    choices::unused_waste(site.job, &ids, &mut problems);
    let mixes = mixes.into_iter().filter_map(|((says, stage), m3)| {
        let m3 = decimal::rounded(m3, PLACES)?;
        (!m3.is_zero()).then_some((says, stage, m3))
    });
    let mixes = mixes.collect();
    in_order(&mut problems);
    if problems.is_empty() { Ok(Materials { materials, uses, rows, mixes, remarks }) } else { Err(problems) }
}
