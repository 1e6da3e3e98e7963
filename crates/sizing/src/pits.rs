//! What the drawn soak pits offer to a soakage method, against what it asks.

use tankwright_geometry::{PI, Ratio};
use tankwright_quantities::decimal::{rounded, shown};

use crate::inputs::Inputs;
use crate::rule::{Kind, PitCounts, Rule};
use crate::shape::three;
use crate::sized::{Sized, up};
use crate::unit::Unit;
use crate::verdict::Drawn;

/// The drawn pits by one method.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pits {
    /// How many are drawn.
    pub number: Ratio,
    /// Wall of one below its inlet, m2.
    pub wall: Ratio,
    /// Base of one, m2.
    pub base: Ratio,
    /// Pits of this size that the method asks for, where their wall counts.
    pub needed: Option<Ratio>,
    /// Water that the drawn pits take in a day, litres, where the method says it of their wall.
    pub takes: Option<Ratio>,
    /// Enough? `None` where the method as seen does not say.
    pub complies: Option<bool>,
    /// In words.
    pub words: String,
}

/// Judges the pits of a job; what cannot be judged is added to the list of things not checked.
pub(crate) fn judge(rule: &Rule, sized: &mut Sized, inputs: &Inputs, drawn: Drawn<'_>) -> Option<Pits> {
    if rule.kind != Kind::Soakage || !drawn.job.has("soak_pit") {
        return None;
    }
    let number = Ratio::from(drawn.job.count("soak_pit.number").1);
    let diameter = inputs.number("pit-diameter")?;
    let base = PI * diameter * diameter / Ratio::int(4);
    let Some(water) = inputs.number("pit-water") else {
        sized.not_checked.push("the drawn soak pit: the level of its inlet is not known".to_owned());
        return None;
    };
    let wall = PI * diameter * water;
    let pits = |words, complies, needed, takes| Pits { number, wall, base, needed, takes, complies, words };
    let area = sized.main().and_then(|a| {
        let unit = Unit::parse(&a.amount.unit)?.in_terms_of(&Unit::parse("m2")?)?;
        Some(a.amount.number * unit)
    });
    let Some(asked) = area.filter(|a| a.signum() > 0 && rule.pit != PitCounts::No) else {
        let words = format!("a soak pit does not count: this method asks for {}", rule.surface);
        return Some(pits(words, Some(false), None, None));
    };
    let have = wall * number;
    let needed = up(asked / wall, Ratio::ONE);
    let percent = rounded(have / asked * Ratio::int(100), 1).map_or_else(String::new, |d| shown(d, 1));
    let verdict = if have >= asked { "enough" } else { "NOT enough" };
    let mut words = format!(
        "drawn: {} of {} m2, {percent} %: {verdict}; {} of this size needed, {} drawn",
        three(have),
        three(asked),
        three(needed),
        three(number)
    );
    // Only where the area grows with the flow.
    let by_flow = rule.inputs.iter().any(|i| i.name == "flow");
    let flow = sized.inputs.iter().find(|i| i.name == "flow").filter(|_| by_flow);
    let litres = flow.and_then(|f| crate::unit::Quantity::parse(&f.value)?.number_in(&Unit::parse("l/d")?));
    let takes = litres.map(|l| l * have / asked);
    if let (Some(takes), Some(all)) = (takes, litres) {
        words = format!("{words}; takes {} l of {} l a day", three(takes.floor()), three(all));
    }
    if drawn.job.has("soak_pit.lining") {
        words.push_str("; the wall of the dig, the lining stands in it (our own reading; New York 75-A counts lining and stone)");
    }
    if rule.pit == PitCounts::Unstated {
        words = format!("if the wall of a pit counts, which is not stated: {words}");
    }
    let complies = match rule.pit {
        PitCounts::Unstated if (wall + base) * number >= asked => None,
        _ => Some(have >= asked),
    };
    Some(pits(words, complies, Some(needed), takes))
}
