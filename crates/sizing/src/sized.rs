//! What comes out: the result with all its workings, as plain data.

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::{plain, rounded};

use crate::levels::Level;
use crate::pits::Pits;
use crate::rule::{Kind, Limit, MeasuredTo, Status};
use crate::shape::Finding;
use crate::verdict::Verdict;

/// A number and its unit as text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Amount {
    /// Exact.
    pub number: Ratio,
    /// `m3/d`; empty for a plain number.
    pub unit: String,
}

impl Amount {
    /// At most six places; for papers.
    #[must_use]
    pub fn shown(&self) -> String {
        let text = short(self.number);
        if self.unit.is_empty() { text } else { format!("{text} {}", self.unit) }
    }
}

/// A number with at most six places, ties away from zero.
#[must_use]
pub fn short(number: Ratio) -> String {
    rounded(number, 6).map_or_else(|| plain(number), |d| d.to_string())
}

/// An input as the rule took it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Taken {
    /// `persons`.
    pub name: String,
    /// `14`, `1.68 m3/d`, `all`.
    pub value: String,
    /// `given`, `default`, or how it was reckoned.
    pub how: String,
}

/// One step as worked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Worked {
    /// Its id.
    pub step: String,
    /// As printed.
    pub title: String,
    /// What it gave; nothing for a row.
    pub value: Option<Amount>,
    /// Named values of a row.
    pub row: Vec<(String, Amount)>,
    /// The sum in figures.
    pub how: String,
    /// What the rule adds in words: raised, rounded, a remark.
    pub notes: Vec<String>,
    /// Where the step comes from, if not from where the rule does.
    pub source: String,
}

/// One answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// Id of its step.
    pub id: String,
    /// As printed.
    pub title: String,
    /// Exact.
    pub amount: Amount,
    /// Rounded up: capacity to the whole litre, areas and lengths to a tenth.
    pub asked: Amount,
}

/// A second reading of the rule.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Beside {
    /// Why.
    pub words: String,
    /// Its answer.
    pub answer: Answer,
    /// Its workings.
    pub working: Vec<Worked>,
}

/// A chamber that would do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chamber {
    /// Finished length, m.
    pub length: Ratio,
    /// Finished width, m.
    pub width: Ratio,
    /// Depth of water, m.
    pub depth: Ratio,
    /// Its water, litres.
    pub litres: Ratio,
    /// Its part of the whole.
    pub share: Ratio,
}

/// Dimensions that would do: finished, inside.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Proposal {
    /// From the inlet on.
    pub chambers: Vec<Chamber>,
    /// Litres of all.
    pub litres: Ratio,
    /// Which of it is the rule's and which ours.
    pub notes: Vec<String>,
}

/// How long the tank lasts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Emptied {
    /// Every so many years by the rule.
    pub every: Option<Ratio>,
    /// Sludge by then by the rule, litres.
    pub sludge: Option<Ratio>,
    /// Years until sludge is half of the water, at so many litres a person a year.
    pub half_full: Vec<(Ratio, Ratio)>,
}

/// A caution: words, who asks for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// `emptying`.
    pub id: &'static str,
    /// The words.
    pub words: String,
    /// Source, or `our own`.
    pub source: String,
}

/// A rule's own particulars, on every result and refusal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct About {
    /// `bs-6297-1983`.
    pub rule: String,
    /// What it reckons.
    pub kind: Kind,
    /// Title, body, year, clause.
    pub cite: String,
    /// Where it was read; empty when it was not.
    pub seen: String,
    /// True where it, or a step of it, is from memory.
    pub recalled: bool,
    /// A to C, M from memory.
    pub confidence: String,
    /// Whether it holds.
    pub status: Status,
    /// Since when or why not.
    pub status_note: String,
    /// To which level a tank counts.
    pub measured_to: Option<MeasuredTo>,
    /// Which surface counts.
    pub surface: String,
}

/// A rule's result.
#[derive(Clone, Debug)]
pub struct Sized {
    /// Which rule.
    pub about: About,
    /// Inputs as taken.
    pub inputs: Vec<Taken>,
    /// Steps, in order.
    pub working: Vec<Worked>,
    /// Answers, the first is the main one; none where the rule gives no result.
    pub answers: Vec<Answer>,
    /// Why there is none.
    pub no_result: String,
    /// Other readings.
    pub beside: Vec<Beside>,
    /// Dimensions that would do (capacity).
    pub proposal: Proposal,
    /// Limits of the shape.
    pub shape: Vec<Limit>,
    /// Distances.
    pub clear: Vec<Limit>,
    /// Levels against water in the ground.
    pub levels: Vec<Level>,
    /// Emptying (capacity).
    pub emptied: Option<Emptied>,
    /// Doubts of the rule itself.
    pub doubts: Vec<String>,
    /// Cautions.
    pub cautions: Vec<Caution>,
    /// What could not be looked at, and why.
    pub not_checked: Vec<String>,
    /// Inputs that the rule does not use.
    pub unused: Vec<String>,
    /// Of a drawn tank (capacity).
    pub verdict: Option<Verdict>,
    /// Of drawn soak pits (soakage).
    pub pits: Option<Pits>,
    /// Distances from a drawn soak pit (soakage).
    pub distances: Vec<Finding>,
}

impl Sized {
    /// The answer that counts.
    #[must_use]
    pub fn main(&self) -> Option<&Answer> {
        self.answers.first()
    }

    /// Required litres, rounded up (capacity).
    #[must_use]
    pub fn capacity_l(&self) -> Option<Ratio> {
        self.main().filter(|a| a.id == "capacity").map(|a| a.asked.number)
    }
}

/// Why a rule gives nothing for these inputs.
#[derive(Clone, Debug)]
pub struct Refused {
    /// Which rule.
    pub about: About,
    /// All reasons.
    pub reasons: Vec<String>,
    /// Inputs that are missing, by name.
    pub needs: Vec<String>,
    /// Steps up to there.
    pub working: Vec<Worked>,
}

/// Rounds up to a multiple of a step.
#[must_use]
pub fn up(value: Ratio, step: Ratio) -> Ratio {
    -(-value / step).floor() * step
}
