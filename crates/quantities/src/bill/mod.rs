//! The bill: items grouped by work and specification, then priced (see [`crate::pricing`]).

mod balances;
mod blank;
mod draw_up;
#[cfg(test)]
pub(crate) mod fixture;

pub use balances::balances;
pub(crate) use blank::{HEAD, cell, material_row};
pub use blank::{blank_rates, code, rate_row};
pub use draw_up::{draw_up, row_places};

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use crate::build_up::{Outline, Worked};
use crate::money::Currency;
use crate::words::Phrase;
use crate::works::{Section, Unit, Work};

/// Where a row's rate comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RateFrom {
    /// Code of the row that priced it.
    pub code: String,
    /// `rates/prices/demo-ugx.csv` or the user's path.
    pub list: String,
    /// Line in the list.
    pub line: usize,
    /// Date of the row.
    pub date: String,
    /// Source the row names.
    pub source: String,
    /// A plain work id priced a specification.
    pub less_specific: bool,
}

/// One row: all items of a work and specification.
#[derive(Clone, Debug)]
pub struct BillRow {
    /// `A1`, `B3`: section letter and number.
    pub reference: String,
    /// Work.
    pub work: &'static Work,
    /// Specification or empty.
    pub spec: String,
    /// Bill wording.
    pub wording: Phrase,
    /// Unit.
    pub unit: Unit,
    /// Sum of the items, rounded to three places (kg two, nr none).
    pub quantity: Decimal,
    /// Ids of the items.
    pub items: Vec<String>,
    /// Rate, where a price list was used.
    pub rate: Option<(Decimal, RateFrom)>,
    /// Quantity x rate, rounded to the currency.
    pub amount: Option<Decimal>,
    /// How the rate was parted, where the client buys the materials: `rate` is then that of the labour.
    pub labour: Option<Labour>,
    /// What a rate of it is built up from, where no price list prices it directly.
    pub outline: Option<Box<Outline>>,
    /// The rate as it was built up.
    pub build_up: Option<Box<Worked>>,
}

/// A rate without its materials.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Labour {
    /// The list's rate for the work: labour, materials and what else is in it.
    pub full_rate: Decimal,
    /// Materials in it per unit: the full rate less the rate of the labour.
    pub materials: Decimal,
    /// What the row's materials cost at the list's prices, waste included, rounded to the currency.
    pub worth: Decimal,
    /// The materials.
    pub parts: Vec<PricedPart>,
}

/// A material with its price.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PricedPart {
    /// Material, as in `materials`.
    pub material: String,
    /// In its own unit, with waste, exact.
    pub quantity: Ratio,
    /// Money for one of its own units, exact.
    pub rate: Ratio,
    /// The row of the list.
    pub from: RateFrom,
}

/// What the client buys, where the bill is one of labour.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClientBuys {
    /// Materials of the rows: sum of [`Labour::worth`].
    pub in_rates: Decimal,
    /// Materials of no row: what for, and what they cost; none where a rate is missing.
    pub besides: Vec<(Phrase, Option<Decimal>)>,
    /// What goods in whole packs, offcuts and rounding add; none where a rate is missing.
    pub rest: Option<Decimal>,
    /// All orders, in packs; none where a rate is missing.
    pub orders: Option<Decimal>,
    /// The orders that have a rate.
    pub orders_priced: Decimal,
    /// Titles of materials without a rate.
    pub no_rate: Vec<String>,
}

/// A section of measured works.
#[derive(Clone, Debug)]
pub struct BillSection {
    /// Which.
    pub section: Section,
    /// `A`, `B` ...
    pub letter: char,
    /// Rows, in order.
    pub rows: Vec<BillRow>,
    /// Sum of the amounts.
    pub total: Option<Decimal>,
}

/// A row that is not measured from the drawing: a preliminary or a provisional item.
#[derive(Clone, Debug)]
pub struct SideRow {
    /// The job file's own title.
    pub title: String,
    /// Unit, quantity and rate, where given so.
    pub worked: Option<(String, Decimal, Decimal)>,
    /// Amount.
    pub amount: Decimal,
}

/// One addition of the chain.
#[derive(Clone, Debug)]
pub struct Addition {
    /// The job file's own title.
    pub title: String,
    /// Per cent, where it is a percentage.
    pub percent: Option<Decimal>,
    /// What the percentage was taken on (running total, measured works, named titles); the total before the
    /// rounding of the offer; 0 for a fixed amount.
    pub base: Decimal,
    /// How the base was made: indices of earlier additions, see `on`.
    pub on: AddedOn,
    /// Amount.
    pub amount: Decimal,
}

/// What a percentage is taken on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum AddedOn {
    /// All before it: measured works, preliminaries, provisional items and earlier additions.
    Running,
    /// The measured works alone.
    Measured,
    /// The measured works and these earlier additions (their positions).
    Titles(Vec<usize>),
    /// A fixed amount.
    Amount,
}

/// The bill of a job, priced where a price list was used.
#[derive(Clone, Debug)]
pub struct Bill {
    /// Currency.
    pub currency: Currency,
    /// Measured works.
    pub sections: Vec<BillSection>,
    /// Sum of the sections.
    pub measured: Option<Decimal>,
    /// Preliminaries of the job file.
    pub preliminaries: Vec<SideRow>,
    /// Titles of the checklist that are neither priced nor set to 0.
    pub not_priced: Vec<String>,
    /// Provisional items, re-measured later.
    pub provisional: Vec<SideRow>,
    /// Additions in order; the rounding of the offered total is the last one where `[additions] say` asks,
    /// also where it comes to 0: a live workbook needs the row.
    pub additions: Vec<Addition>,
    /// `say` step, where given: the last addition brings the total up to a multiple of it.
    pub say: Option<Decimal>,
    /// Grand total.
    pub total: Option<Decimal>,
    /// In words.
    pub total_in_words: String,
    /// Name of the price list, its dates from-to.
    pub price_list: Option<(String, String, String)>,
    /// What the client buys, where rates are of labour alone.
    pub client_buys: Option<ClientBuys>,
}
