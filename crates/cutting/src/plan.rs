//! What is answered: patterns and how often each is cut.

/// Offcuts from this length on are worth keeping: in mm.
pub const KEPT: i64 = 300;

/// One way to cut a bar.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pattern {
    /// Place of the stock in the instance.
    pub stock: usize,
    /// Length and number of the pieces, longest first, each length once.
    pub pieces: Vec<(i64, u64)>,
    /// How many bars are cut this way.
    pub times: u64,
}

impl Pattern {
    /// Number of pieces in one bar.
    #[must_use]
    pub fn number(&self) -> u64 {
        self.pieces.iter().fold(0, |sum, (_, n)| sum.saturating_add(*n))
    }

    /// What is left of a bar of this length: less pieces and cuts. A bar that is used up whole needs no last cut.
    #[must_use]
    pub fn offcut(&self, stock_length: i64, kerf: i64) -> i64 {
        let used = self
            .pieces
            .iter()
            .fold(0_i128, |sum, (l, n)| sum + (i128::from(*l) + i128::from(kerf)) * i128::from(*n));
        let left = i128::from(stock_length) - used;
        i64::try_from(left.max(0)).unwrap_or(0)
    }
}

/// A plan.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Plan {
    /// Patterns, in order of stock, then of pieces, longest first; no two alike.
    pub patterns: Vec<Pattern>,
}

/// What the checker finds in a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Totals {
    /// Bars at a price.
    pub bought: u64,
    /// Bars at price 0.
    pub free: u64,
    /// Price of all bars.
    pub cost: i128,
}

/// A plan, what it costs, and what no plan can be below.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// The plan, checked.
    pub plan: Plan,
    /// Its totals, from the check.
    pub totals: Totals,
    /// No plan costs less than this.
    pub bound: i128,
}

impl Answer {
    /// Whether no plan can cost less: plan and bound meet.
    #[must_use]
    pub fn proved_least(&self) -> bool {
        self.totals.cost == self.bound
    }
}
