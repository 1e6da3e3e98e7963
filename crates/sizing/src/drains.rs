//! What the drawn drainage trenches offer to a soakage method, against what it asks.

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::{rounded, shown};
use tankwright_quantities::job::Job;

use crate::rule::{Kind, Rule, TrenchCounts};
use crate::shape::three;
use crate::sized::{Sized, up};
use crate::unit::Unit;
use crate::verdict::Drawn;

/// The drawn trenches by one method.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drains {
    /// How many are drawn.
    pub number: Ratio,
    /// Their length in all, m.
    pub length: Ratio,
    /// Their bottoms, m2.
    pub base: Ratio,
    /// Both sides below the pipe, m2.
    pub walls: Ratio,
    /// Metres of trench like these that the method asks for, up to a tenth, where a trench counts.
    pub needed: Option<Ratio>,
    /// Enough? `None` where the method as seen does not say.
    pub complies: Option<bool>,
    /// In words.
    pub words: String,
}

/// Steps of the length that is asked for, m.
const STEP: Ratio = Ratio::of(1, 10);

/// Judges the trenches of a job by a method's result.
pub(crate) fn judge(rule: &Rule, sized: &mut Sized, drawn: Drawn<'_>) -> Option<Drains> {
    if rule.kind != Kind::Soakage || !drawn.job.has("drain") {
        return None;
    }
    let [number, length, base, walls] = sums(drawn.job);
    let drains = |words, complies, needed| Drains { number, length, base, walls, needed, complies, words };
    let (have, unit) = match rule.trench {
        TrenchCounts::Walls => (walls, "m2"),
        TrenchCounts::Length => (length, "m"),
        TrenchCounts::Base | TrenchCounts::No | TrenchCounts::Unstated => (base, "m2"),
    };
    let asked = sized.main().and_then(|a| {
        let turned = Unit::parse(&a.amount.unit)?.in_terms_of(&Unit::parse(unit)?)?;
        Some(a.amount.number * turned)
    });
    let counts = rule.trench != TrenchCounts::No && have.signum() > 0;
    let Some(asked) = asked.filter(|a| a.signum() > 0 && counts) else {
        let words = format!("a drainage trench does not count: this method asks for {}", rule.surface);
        return Some(drains(words, Some(false), None));
    };
    if drawn.job.has("soak_pit") {
        sized.not_checked.push("soak pits and drainage trenches together: each is judged alone".to_owned());
    }
    let needed = up(asked / have * length, STEP);
    let percent = rounded(have / asked * Ratio::int(100), 1).map_or_else(String::new, |d| shown(d, 1));
    let verdict = if have >= asked { "enough" } else { "NOT enough" };
    let what = match rule.trench {
        TrenchCounts::Walls => " of sides",
        TrenchCounts::Length => "",
        TrenchCounts::Base | TrenchCounts::No | TrenchCounts::Unstated => " of base",
    };
    let mut words = format!(
        "drains drawn: {} of {} {unit}{what}, {percent} %: {verdict}; {} m needed, {} m drawn",
        three(have),
        three(asked),
        three(needed),
        three(length)
    );
    if rule.trench == TrenchCounts::Unstated {
        words = format!("if the base of a trench counts, which is not stated: {words}");
    }
    let complies = match rule.trench {
        TrenchCounts::Unstated if base + walls >= asked => None,
        _ => Some(have >= asked),
    };
    Some(drains(words, complies, Some(needed)))
}

/// Number, length, bottoms, both sides below the pipe of all trenches: metres.
fn sums(job: &Job) -> [Ratio; 4] {
    let mut sums = [Ratio::ZERO; 4];
    for i in 0..job.count_of("drain") {
        let metres = |key: &str| job.len(&format!("drain[{i}].{key}")).value() / Ratio::int(10_000);
        let number = Ratio::from(job.count(&format!("drain[{i}].number")).1);
        let length = number * metres("length");
        let sides = length * metres("stone_below") * Ratio::int(2);
        let all = [number, length, length * metres("width"), sides];
        sums.iter_mut().zip(all).for_each(|(sum, one)| *sum = *sum + one);
    }
    sums
}
