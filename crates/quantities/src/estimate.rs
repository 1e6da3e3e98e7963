//! An estimate as plain data: the one thing that exports, commands and pages receive.

use rust_decimal::Decimal;
use tankwright_geometry::{Ratio, Test};

use crate::bill::Bill;
use crate::job::Input;
use crate::problem::Problem;
use crate::sheet::Sheet;
use crate::stage::Stage;
use crate::words::Phrase;

/// Two sides that must agree.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Balance {
    /// Binding name: `earth`, `space`, `model`, `faces`, `bill`, `money` ...
    pub name: &'static str,
    /// In words: what the sides are.
    pub says: Phrase,
    /// Left side, exact.
    pub left: Ratio,
    /// Right side, exact.
    pub right: Ratio,
    /// Unit of both.
    pub unit: &'static str,
    /// Where it does not close: which item, by how much.
    pub breaks: Vec<String>,
}

impl Balance {
    /// Does it close, to the last digit?
    #[must_use]
    pub fn holds(&self) -> bool {
        self.breaks.is_empty() && self.left.is_known() && self.left == self.right
    }
}

/// The four numbers of the earth, cubic metres.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Earth {
    /// Billed net.
    pub dug_net: Decimal,
    /// Dug in fact: with working space and over-break.
    pub dug_actual: Decimal,
    /// Backfill and soil cover.
    pub put_back: Decimal,
    /// Taken away, as it lay in the ground.
    pub carted_bank: Decimal,
    /// Taken away, loose.
    pub carted_loose: Decimal,
    /// Loads and their size in m3, where the job says what a load is and earth is carted.
    pub loads: Option<(u64, Decimal)>,
}

/// A level or length of the setting-out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// In words.
    pub title: Phrase,
    /// Below the site datum (+) or a plain length, metres as printed: three places.
    pub metres: String,
    /// The stage that makes it, where it is measured before that stage is paid.
    pub stage: Option<Stage>,
}

/// What the tank holds. Levels are metres from ground, up; all figures exact.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Capacity {
    /// Litres to the water line (of each chamber its own), rounded down; `None` without one.
    pub to_water_line: Option<u64>,
    /// Litres to the underside of the cover, rounded down.
    pub full: u64,
    /// Chambers from the inlet; none where no water line is known: no outlet, or chambers not joined.
    pub chambers: Vec<Chamber>,
    /// Invert of the inlet.
    pub inlet: Option<Ratio>,
    /// Invert at the far end of the pipe from the outlet: where water reaches the soak pit or drain.
    pub soak_inlet: Option<Ratio>,
    /// Bottom of the deepest drainage trench.
    pub drain_bottom: Option<Ratio>,
    /// Underside of the cover.
    pub cover: Ratio,
    /// Underside of the lowest beam under the cover or on the walls.
    pub beam: Option<Ratio>,
}

/// A chamber as finished: between plastered faces, over the screed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Chamber {
    /// Along the tank, m.
    pub length: Ratio,
    /// Across it, m.
    pub width: Ratio,
    /// Water line.
    pub level: Ratio,
    /// Mean depth of water, m.
    pub depth: Ratio,
    /// Water to the water line, m3.
    pub volume: Ratio,
    /// Water to the level of the inlet, m3, where there is an inlet.
    pub to_inlet: Option<Ratio>,
    /// How the water leaves for the next chamber.
    pub way: Option<Way>,
}

/// The way through or over a partition, as finished.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// Its top.
    pub top: Ratio,
    /// Its sill.
    pub sill: Ratio,
    /// Area of all openings of the partition, m2; none for an air gap alone.
    pub area: Option<Ratio>,
    /// Top of the partition, where it ends under an air gap.
    pub partition: Option<Ratio>,
}

/// Whether the tank complies with the sizing rule its job names. Quantities know no rules: who calls the flow says it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sizing {
    /// Id of the rule.
    pub rule: String,
    /// In words, one line.
    pub says: Phrase,
    /// Litres asked, rounded up; `None` where the rule gives none for this job.
    pub asked_l: Option<Ratio>,
    /// Litres provided to the level the rule measures to, rounded down.
    pub provided_l: Option<Ratio>,
    /// Provided less asked.
    pub margin_l: Option<Ratio>,
    /// Does it comply in all that was judged?
    pub complies: Option<bool>,
    /// Why not.
    pub reasons: Vec<String>,
    /// What was not looked at.
    pub not_checked: Vec<String>,
}

/// A caution with the source that asks for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// Stable code, `C001`.
    pub code: &'static str,
    /// In words.
    pub says: Phrase,
    /// Source, or "common practice, no source".
    pub source: String,
    /// Place in the job file.
    pub place: Option<crate::problem::Place>,
    /// Stages on whose card it stands.
    pub stages: &'static [Stage],
    /// Papers of the whole job on which it stands.
    pub on: On,
}

/// Papers of the whole job that a caution belongs on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum On {
    /// Screen, take-off, bill and workbook.
    #[default]
    Job,
    /// The paper of `size`.
    Size,
    /// Both.
    JobAndSize,
    /// None: only on the cards of its stages.
    Cards,
}

impl Caution {
    /// A caution on the papers of the whole job, without a place.
    #[must_use]
    pub fn new(code: &'static str, says: Phrase, source: &str) -> Self {
        Self { code, says, source: source.to_owned(), place: None, stages: &[], on: On::Job }
    }

    /// With its place in the job file.
    #[must_use]
    pub fn at(self, place: Option<crate::problem::Place>) -> Self {
        Self { place, ..self }
    }

    /// With the stages on whose card it stands.
    #[must_use]
    pub fn cards(self, stages: &'static [Stage]) -> Self {
        Self { stages, ..self }
    }

    /// On other papers than those of the whole job.
    #[must_use]
    pub fn on(self, on: On) -> Self {
        Self { on, ..self }
    }
}

/// A default used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DefaultUsed {
    /// Path.
    pub path: String,
    /// As text.
    pub value: String,
    /// Source.
    pub source: String,
}

/// Everything about a job: the one thing that exports, commands and pages receive.
#[derive(Clone, Debug)]
pub struct Estimate {
    /// Title of the job.
    pub title: String,
    /// Date of the job.
    pub date: String,
    /// Job file name.
    pub file: String,
    /// What is built, one line of words each.
    pub scope: Vec<Phrase>,
    /// Profile id and title.
    pub profile: (String, String),
    /// Lengths, counts and factors of the job file; trails name them by position.
    pub inputs: Vec<Input>,
    /// Comparisons that shaped the lines; empty without trails.
    pub tests: Vec<Test>,
    /// The ledger.
    pub sheet: Sheet,
    /// Balances, all of which close.
    pub balances: Vec<Balance>,
    /// The four numbers.
    pub earth: Earth,
    /// Capacity.
    pub capacity: Capacity,
    /// Checks of the drawn job.
    pub checks: Vec<crate::checks::Check>,
    /// Outer plan of the tank, m2.
    pub outer_plan: Ratio,
    /// What the sizing rule of the job says of it.
    pub sizing: Option<Sizing>,
    /// Levels, sides and diagonals for setting out.
    pub setting_out: Vec<Mark>,
    /// The painted space, for drawings.
    pub space: crate::space::Space,
    /// What drawings show besides.
    pub sketch: crate::sketch::Sketch,
    /// Bars: schedule and cutting plans.
    pub steel: crate::steel::Schedule,
    /// Materials by stage.
    pub materials: crate::materials::Materials,
    /// Orders by stage.
    pub orders: crate::orders::Orders,
    /// When what is built.
    pub programme: crate::programme::Programme,
    /// The bill; rates and amounts only where a price list was used.
    pub bill: Bill,
    /// Cautions.
    pub cautions: Vec<Caution>,
    /// Defaults used.
    pub defaults: Vec<DefaultUsed>,
    /// Sources used: what for, and the source.
    pub sources: Vec<(String, String)>,
}

impl Estimate {
    /// Cautions on screen, take-off, bill and workbook.
    pub fn cautions_of_job(&self) -> impl Iterator<Item = &Caution> {
        self.cautions.iter().filter(|c| matches!(c.on, On::Job | On::JobAndSize))
    }

    /// Cautions on the paper of `size`.
    pub fn cautions_of_size(&self) -> impl Iterator<Item = &Caution> {
        self.cautions.iter().filter(|c| matches!(c.on, On::Size | On::JobAndSize))
    }
}

/// Why there is no estimate.
#[derive(Clone, Debug)]
pub enum Failure {
    /// The job file is refused (exit 3).
    Job(Vec<Problem>),
    /// The price list is refused (exit 4).
    Rates(Vec<Problem>),
    /// A balance does not close (exit 5): a defect of the program.
    Balance(Vec<Balance>),
}
