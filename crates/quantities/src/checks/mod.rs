//! Checks of a drawn job: one subject a file, all of the same shape. A check without its input says so: it is never
//! passed in silence. Limits, loads and weights with their sources stand in `rates/checks.toml`.

pub mod bending;
mod desk;
mod panels;
pub mod pressure;

use tankwright_geometry::Ratio;

use crate::decimal;
use crate::estimate::Capacity;
use crate::ledger::SetOut;
use crate::problem::Place;
use crate::rates::{FigureValue, Stock};
use crate::sheet::Sheet;
use crate::site::Site;
use crate::stage::Stage;
use crate::steel::Schedule;
use crate::words::Phrase;

/// Tenths of a millimetre in a millimetre and in a metre.
const MM: Ratio = Ratio::int(10);
const METRE: Ratio = Ratio::int(10_000);
const TWO: Ratio = Ratio::int(2);

/// How a check came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// What is asked is met.
    Met,
    /// What is asked is not met.
    NotMet,
    /// A screening found nothing against it: for an engineer to confirm.
    Screened,
    /// Never passed here: a person who may judge it must.
    Flagged,
    /// An input is lacking; `says` names it.
    NotChecked,
}

impl Verdict {
    /// Stable word in JSON: `met`, `not-met`, `screened`, `flagged`, `not-checked`.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Met => "met",
            Self::NotMet => "not-met",
            Self::Screened => "screened",
            Self::Flagged => "flagged",
            Self::NotChecked => "not-checked",
        }
    }
}

/// One check.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Check {
    /// Stable id, kebab case: `flotation-finished`, `distance-well`.
    pub id: &'static str,
    /// How it came out.
    pub verdict: Verdict,
    /// In words, one line: what is asked, what there is.
    pub says: Phrase,
    /// The working, a line a step; what is printed is what is multiplied.
    pub working: Vec<Phrase>,
    /// Source of the limit or method; "our own limit" or "common practice, no source" where there is none.
    pub source: String,
    /// Stages on whose card it belongs; none: only on the papers of the whole job.
    pub stages: &'static [Stage],
    /// Place in the job file.
    pub place: Option<Place>,
}

/// What checks look at.
#[derive(Clone, Copy, Debug)]
pub struct Finished<'a> {
    /// Levels and shared dimensions.
    pub site: &'a Site<'a>,
    /// Claims of every part.
    pub set: &'a SetOut,
    /// The closed ledger: quantities for weights.
    pub sheet: &'a Sheet,
    /// What the tank holds.
    pub capacity: &'a Capacity,
    /// Bars.
    pub bars: &'a Schedule,
}

/// Every subject, one word each: declares the module and puts its `check` into the one list.
macro_rules! subjects {
    ($($file:ident)*) => {
        $(mod $file;)*

        /// The one list, in the order printed.
        static ALL: &[fn(&Finished<'_>, &mut Vec<Check>)] = &[$($file::check),*];
    };
}

mod hull;

pub use flotation::Floating;

subjects! { flotation distances levels manholes slab span_beam wall }

/// Every check of a drawn job.
#[must_use]
pub fn checks(of: &Finished<'_>) -> Vec<Check> {
    let mut found = Vec::new();
    for check in ALL {
        check(of, &mut found);
    }
    found
}

/// The value that counts of a figure of `rates/checks.toml`; a test finds ids that are not there.
pub(crate) fn limit<'a>(stock: &'a Stock, id: &str) -> Option<&'a FigureValue> {
    stock.checks.get(id)?.value("")
}

/// At most so many places, half away from zero.
pub(crate) fn number(n: Ratio, places: u32) -> String {
    decimal::rounded(n, places).map_or_else(|| decimal::plain(n), |d| d.to_string())
}

/// At most so many places, down: a factor that is not reached never reads as if it were.
pub(crate) fn down(n: Ratio, places: u32) -> String {
    let scale = (0..places).fold(Ratio::ONE, |s, _| s * Ratio::int(10));
    number((n * scale).floor() / scale, places)
}

/// At most so many places, up: what is lacking, and how deep water must stay.
pub(crate) fn up(n: Ratio, places: u32) -> String {
    let scale = (0..places).fold(Ratio::ONE, |s, _| s * Ratio::int(10));
    number(-((-n * scale).floor()) / scale, places)
}

/// Metres as printed, to the millimetre.
pub(crate) fn metres(m: Ratio) -> String {
    number(m, 3)
}
