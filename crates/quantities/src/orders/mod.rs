//! Orders: what to buy for each stage, in packs; what is left is carried to the next stage.

mod balance;
pub mod carry;
mod codes;
pub(crate) mod cost;
pub(crate) mod packs;
mod place;
mod settings;
mod size;
mod split;
#[cfg(test)]
pub(crate) mod tests;

pub use balance::balance;
pub use carry::Step;
pub use codes::CODES;
pub use place::place;
pub use size::{Size, SizeError};
pub use split::{Besides, Part, Split, split};

use rust_decimal::Decimal;

use crate::stage::Stage;
use crate::words::Phrase;

/// A pack as bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pack {
    /// How much of the material it holds, in the material's unit.
    pub size: Decimal,
    /// As printed: `50 kg bag`, `5 m3 trip`, `12 m bar`, `piece`.
    pub title: String,
    /// Word for one and for many: `bag`, `bags`.
    pub words: [String; 2],
    /// Where the size comes from: the job file, or an entry of `rates/packs.toml` with its source.
    pub source: String,
    /// Not the user's own.
    pub default: bool,
}

/// One material in one stage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// Material, as in `materials`.
    pub material: String,
    /// In store before the stage, in the material's unit.
    pub opening: Decimal,
    /// Delivered for it.
    pub ordered: Decimal,
    /// Used in it.
    pub used: Decimal,
    /// What must be on the site at once in it: more than `used` for what serves again and again.
    pub present: Decimal,
    /// Left after it: opening + ordered - used, to the last digit.
    pub closing: Decimal,
    /// Packs ordered, reserve included.
    pub packs: u64,
    /// Packs of these that are a reserve for a pour.
    pub reserve: u64,
    /// What was not rounded up because of the tolerance, in the material's unit; zero for none.
    pub let_off: Decimal,
    /// Stages this delivery serves; more than one for bulk goods and bars.
    pub serves: Vec<Stage>,
    /// Money; none where the price list has no row for the material.
    pub cost: Option<Decimal>,
}

/// Orders of a stage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StageOrder {
    /// Stage.
    pub stage: Stage,
    /// Lines, in the order of materials; only those with something in, in use or left.
    pub lines: Vec<Line>,
}

/// A material over the whole job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Total {
    /// Material.
    pub material: String,
    /// Pack.
    pub pack: Pack,
    /// Ordered, in the material's unit.
    pub ordered: Decimal,
    /// Used.
    pub used: Decimal,
    /// Packs.
    pub packs: u64,
    /// Packs if every stage were rounded up by itself and nothing carried: what carrying saves.
    pub packs_uncarried: u64,
    /// Rate per pack, where a price list has it.
    pub rate: Option<Decimal>,
    /// Money.
    pub cost: Option<Decimal>,
}

/// What papers and the programme must know of a material besides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Good {
    /// Material, as in `totals`.
    pub material: String,
    /// As printed.
    pub title: String,
    /// Its own unit.
    pub unit: String,
    /// Who sells it.
    pub supplier: String,
    /// Days from order to delivery.
    pub lead_days: u32,
    /// Not the user's own.
    pub lead_default: bool,
}

/// Orders of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Orders {
    /// By stage; only stages with lines.
    pub stages: Vec<StageOrder>,
    /// By material.
    pub totals: Vec<Total>,
    /// One for each total, in the same order.
    pub goods: Vec<Good>,
    /// Part of a pack that is not rounded up.
    pub tolerance: Decimal,
    /// Groups of stages whose bulk goods come together, as the job states them.
    pub groups: Vec<Vec<Stage>>,
    /// What a buyer must know, in words: materials without a rate, choices made.
    pub remarks: Vec<Phrase>,
    /// Money of all orders; none without a price list or where a rate is missing.
    pub cost: Option<Decimal>,
}
