//! The highest water in the ground against the base of a soak pit or field.

use tankwright_geometry::Ratio;

use crate::inputs::Inputs;
use crate::rule::Limit;
use crate::sized::short;
use crate::unit::Unit;

/// One rule's clearance, judged as far as the inputs allow.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Level {
    /// What is asked, m.
    pub asked: Ratio,
    /// What there is, m, where it is known.
    pub have: Option<Ratio>,
    /// Whether it is met; equal passes.
    pub met: Option<bool>,
    /// In words.
    pub words: String,
    /// Source.
    pub source: String,
}

/// Names of clearances that are judged here.
const PIT: &str = "water_under_pit";
const FIELD: &str = "water_under_field";
const GROUND: &str = "water_from_ground";

/// True for a limit that [`levels`] judges.
#[must_use]
pub fn is_level(limit: &Limit) -> bool {
    [PIT, FIELD, GROUND].contains(&limit.name.as_str())
}

/// Every clearance against water of a rule.
#[must_use]
pub fn levels(clear: &[Limit], inputs: &Inputs) -> Vec<Level> {
    clear.iter().filter_map(|l| level(l, inputs)).collect()
}

fn level(limit: &Limit, inputs: &Inputs) -> Option<Level> {
    let asked = limit.least.as_ref()?.number_in(&Unit::parse("m")?)?;
    let water = inputs.number("water-table");
    let (part, depth) = if limit.name == PIT { ("pit", "pit-depth") } else { ("drain", "drain-depth") };
    let base = inputs.number(depth);
    let say = |n: Ratio| format!("{} m", short(n));
    let verdict = |met: bool| if met { "met" } else { "NOT met" };
    let (have, words) = match (limit.name.as_str(), water, base) {
        (GROUND, Some(water), _) => {
            let met = verdict(water >= asked);
            (Some(water), format!("water {} below ground, {} asked: {met}", say(water), say(asked)))
        }
        (GROUND, None, _) => (None, format!("water at least {} below ground", say(asked))),
        (PIT | FIELD, Some(water), Some(base)) => {
            let have = water - base;
            let place = if have.signum() < 0 { "under water" } else { "above water" };
            let met = verdict(have >= asked);
            (
                Some(have),
                format!("base of the {part} {} {place}, {} asked: {met}", say(have.abs()), say(asked)),
            )
        }
        (PIT | FIELD, Some(water), None) => {
            let most = water - asked;
            let words = if most.signum() > 0 {
                format!("{} above water asked: base at most {} below ground", say(asked), say(most))
            } else {
                format!(
                    "{} above water asked: with water {} below ground there is no room",
                    say(asked),
                    say(water)
                )
            };
            (None, words)
        }
        (PIT | FIELD, None, _) => (None, format!("base at least {} above the highest water", say(asked))),
        _ => return None,
    };
    let words = if limit.words.is_empty() { words } else { format!("{words} ({})", limit.words) };
    Some(Level {
        asked,
        have,
        met: have.map(|h| h >= asked),
        words,
        source: crate::run::cited(&limit.source),
    })
}
