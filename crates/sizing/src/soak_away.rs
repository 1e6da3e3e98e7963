//! Soak pits or drainage trenches that would take the water by a named method. Which of the two follows from the surface
//! that counts there; what the method leaves open is our own choice, said so. Numbers, lengths and depths only: who writes
//! them into a job file has the file read and judged again.

use tankwright_geometry::{PI, Ratio};
use tankwright_quantities::rates::{FigureValue, Stock};

use crate::inputs::Inputs;
use crate::rule::{Kind, PitCounts, Rule, TrenchCounts};
use crate::shape::three;
use crate::size::size;
use crate::sized::{Sized, up};
use crate::unit::Unit;

/// Most pits and most trenches of a job file.
const MOST_PITS: Ratio = Ratio::int(20);
const MOST_TRENCHES: Ratio = Ratio::int(50);
/// Steps of lengths and depths, m.
const STEP: Ratio = Ratio::of(1, 10);

/// What the method and the job leave open: the figure that counts in `rates/checks.toml`, m. An unknown one ends the
/// proposal.
fn left_open<'s>(stock: &'s Stock, id: &str) -> Result<&'s FigureValue, String> {
    stock.checks.get(id).and_then(|f| f.value("")).ok_or_else(|| format!("the data lack the figure {id}"))
}

/// What the site gives besides the inputs of the method; metres, depths below ground.
#[derive(Clone, Copy, Debug, Default)]
pub struct Ground {
    /// Where the water comes out of its pipe.
    pub inlet: Option<Ratio>,
    /// Diameter and depth of the pit that is drawn.
    pub pit: Option<[Ratio; 2]>,
}

/// What would take the water; metres.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SoakAway {
    /// Equal pits.
    Pits {
        /// How many.
        number: Ratio,
        /// Of the dig.
        diameter: Ratio,
        /// From ground.
        depth: Ratio,
        /// Where water enters, from ground.
        inlet: Ratio,
    },
    /// Equal trenches.
    Trenches {
        /// How many.
        number: Ratio,
        /// Of one.
        length: Ratio,
        /// Width.
        width: Ratio,
        /// Stone under the pipe.
        stone: Ratio,
    },
}

/// A proposal, and which of it is ours.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proposed {
    /// What to build.
    pub what: SoakAway,
    /// In words.
    pub notes: Vec<String>,
}

/// Pits or trenches for what a method asks.
///
/// # Errors
/// Every reason why there are none.
pub fn propose(rule: &Rule, inputs: &Inputs, ground: Ground, stock: &Stock) -> Result<Proposed, Vec<String>> {
    if rule.kind != Kind::Soakage {
        return Err(vec![format!("it is a rule of another kind: {}", rule.kind.id())]);
    }
    let sized = size(rule, inputs).map_err(|refused| refused.reasons)?;
    let no = |why: &str| Err(vec![why.to_owned()]);
    match (rule.pit, rule.trench) {
        (PitCounts::Wall, _) => pits(rule, &sized, inputs, (ground, stock)).map_err(|why| vec![why]),
        (_, TrenchCounts::Base | TrenchCounts::Walls | TrenchCounts::Length) => {
            trenches(rule, &sized, inputs, (ground, stock)).map_err(|why| vec![why])
        }
        (PitCounts::Unstated, _) | (_, TrenchCounts::Unstated) => {
            no("which surface counts is not stated in what was seen: draw pits or trenches by hand")
        }
        (PitCounts::No, TrenchCounts::No) => no("neither a pit nor a trench counts by it"),
    }
}

/// What the method asks, in a unit.
fn asked(sized: &Sized, unit: &str) -> Option<Ratio> {
    let amount = &sized.main()?.amount;
    let turned = Unit::parse(&amount.unit)?.in_terms_of(&Unit::parse(unit)?)?;
    Some(amount.number * turned).filter(|n| n.signum() > 0)
}

/// The deepest base that stays above the water in the ground.
fn deepest(
    rule: &Rule,
    inputs: &Inputs,
    (name, figure): (&str, &FigureValue),
    notes: &mut Vec<String>,
) -> Result<Option<Ratio>, String> {
    let least = |name: &str| {
        let limit = rule.clear.iter().find(|l| l.name == name)?;
        limit.least.as_ref()?.number_in(&Unit::parse("m")?)
    };
    let Some(water) = inputs.number("water-table") else {
        notes.push("the highest water in the ground is not given: not looked at".to_owned());
        return Ok(None);
    };
    if let Some(from_ground) = least("water_from_ground").filter(|asked| water < *asked) {
        let (water, asked) = (three(water), three(from_ground));
        return Err(format!("water stands {water} m below ground, the method asks for {asked} m"));
    }
    let above = least(name).unwrap_or_else(|| {
        let above = three(figure.value);
        notes.push(format!("base {above} m above the water: the method states none; {}", figure.source));
        figure.value
    });
    Ok(Some(water - above))
}

fn pits(
    rule: &Rule,
    sized: &Sized,
    inputs: &Inputs,
    (ground, stock): (Ground, &Stock),
) -> Result<Proposed, String> {
    let mut notes = Vec::new();
    let area = asked(sized, "m2").ok_or("it gives no area")?;
    let inlet = ground.inlet.filter(|i| i.signum() > 0).ok_or(
        "the level at which water enters is not known: give the length of the outlet's pipe, or invert under [soak_pit]",
    )?;
    let open = |id| left_open(stock, id);
    let water = open("water-under-pit")?;
    let (wide, below) = (open("soak-pit-diameter")?.value, open("soak-below-inlet")?.value);
    let [diameter, drawn] = ground.pit.unwrap_or([wide, up(inlet + below, STEP)]);
    if ground.pit.is_none() {
        let [d, deep] = [diameter, below].map(three);
        notes.push(format!("pits {d} m in diameter, {deep} m deep below the inlet: our own choice"));
    }
    let mut depth = drawn;
    if let Some(most) = deepest(rule, inputs, ("water_under_pit", water), &mut notes)?
        && most < drawn
    {
        depth = (most / STEP).floor() * STEP;
        notes.push(format!("{} m deep, not {} m: the water in the ground", three(depth), three(drawn)));
    }
    if depth - inlet < open("soak-shallowest")?.value {
        return Err(format!(
            "{} m are left for a pit below its inlet at {} m: trenches lie higher",
            three((depth - inlet).max(Ratio::ZERO)),
            three(inlet)
        ));
    }
    let number = up(area / (PI * diameter * (depth - inlet)), Ratio::ONE);
    if number > MOST_PITS {
        return Err(format!("it asks for {} pits of this size: make them wider or deeper", three(number)));
    }
    Ok(Proposed { what: SoakAway::Pits { number, diameter, depth, inlet }, notes })
}

fn trenches(
    rule: &Rule,
    sized: &Sized,
    inputs: &Inputs,
    (ground, stock): (Ground, &Stock),
) -> Result<Proposed, String> {
    let mut notes = Vec::new();
    let inlet = ground
        .inlet
        .filter(|i| i.signum() > 0)
        .ok_or("the level at which water comes is not known: give the length of the outlet's pipe")?;
    let given = |name: &str, own: Ratio, what: &str, notes: &mut Vec<String>| {
        inputs.number(name).unwrap_or_else(|| {
            notes.push(format!("{what} {} m: our own choice", three(own)));
            own
        })
    };
    let open = |id| left_open(stock, id);
    let water = open("water-under-field")?;
    let longest = open("trench-longest")?;
    let width = given("trench-width", open("trench-width")?.value, "trenches as wide as", &mut notes);
    let own = if rule.trench == TrenchCounts::Walls { "trench-stone-sides" } else { "trench-stone" };
    let stone = given("trench-depth", open(own)?.value, "stone under the pipe", &mut notes);
    let length = match rule.trench {
        TrenchCounts::Length => asked(sized, "m"),
        TrenchCounts::Walls => asked(sized, "m2").map(|area| area / (stone * Ratio::int(2))),
        TrenchCounts::Base | TrenchCounts::No | TrenchCounts::Unstated => {
            asked(sized, "m2").map(|area| area / width)
        }
    };
    let length = length.ok_or("it gives no length of trench")?;
    if let Some(most) = deepest(rule, inputs, ("water_under_field", water), &mut notes)?
        && inlet + stone > most
    {
        return Err(format!(
            "the trenches would be {} m deep and may be {} m over the water in the ground: raise the outlet",
            three(inlet + stone),
            three(most.max(Ratio::ZERO))
        ));
    }
    let number = up(length / longest.value, Ratio::ONE);
    if number > MOST_TRENCHES {
        return Err(format!("it asks for {} m of trench: more than a job file holds", three(length)));
    }
    let what = SoakAway::Trenches { number, length: up(length / number, STEP), width, stone };
    if number > Ratio::ONE {
        notes.push(format!("none longer than {} m: {}", three(longest.value), longest.source));
    }
    Ok(Proposed { what, notes })
}

#[cfg(test)]
#[expect(clippy::panic, reason = "a test stops where it fails")]
mod tests {
    use super::*;
    use crate::builtin;

    fn by(rule: &str, given: &[(&str, &str)], ground: Ground) -> Result<Proposed, Vec<String>> {
        let (rules, _) = builtin();
        let inputs = Inputs::read(given.iter().copied()).unwrap_or_else(|p| panic!("{p:?}"));
        let (stock, _) = tankwright_quantities::rates::builtin();
        propose(rules.rules.get(rule).unwrap_or_else(|| panic!("{rule}")), &inputs, ground, &stock)
    }

    const HOUSE: [(&str, &str); 4] =
        [("persons", "14"), ("water-use", "120 l/p/d"), ("soil", "loam"), ("percolation", "20 s/mm")];
    const DRAWN: Ground =
        Ground { inlet: Some(Ratio::of(14, 25)), pit: Some([Ratio::int(2), Ratio::int(3)]) };

    #[test]
    fn the_rest_house_gets_five_pits_by_who() {
        // 67.2 m2 over pi x 2.00 x 2.44.
        let what = SoakAway::Pits {
            number: Ratio::int(5),
            diameter: Ratio::int(2),
            depth: Ratio::int(3),
            inlet: Ratio::of(14, 25),
        };
        assert_eq!(by("who-pit", &HOUSE, DRAWN).map(|p| p.what), Ok(what));
    }

    #[test]
    fn water_in_the_ground_makes_pits_shallower_and_more() {
        // 4.3 - 2.0 = 2.30 m deep: 67.2 / (pi x 2.00 x 1.74) = 6.15.
        let wet = [&HOUSE[..], &[("water-table", "4.3 m")]].concat();
        match by("who-pit", &wet, DRAWN).map(|p| p.what) {
            Ok(SoakAway::Pits { number, depth, .. }) => {
                assert_eq!((number, depth), (Ratio::int(7), Ratio::of(23, 10)));
            }
            other => panic!("{other:?}"),
        }
        let flood = [&HOUSE[..], &[("water-table", "3.0 m")]].concat();
        assert!(by("who-pit", &flood, DRAWN).is_err_and(|why| why[0].contains("trenches lie higher")));
    }

    #[test]
    fn trenches_by_floor_sides_and_length() {
        for (rule, number, length, stone) in [
            // 70 m2 over 0.6: 116.67 m in four.
            ("ad-h2-field", 4, Ratio::of(292, 10), Ratio::of(3, 10)),
            // 67.2 m2 over twice 0.6: 56 m in two.
            ("who-trench", 2, Ratio::int(28), Ratio::of(3, 5)),
            // At least 40 m.
            ("ontario", 2, Ratio::int(20), Ratio::of(3, 10)),
        ] {
            let what =
                SoakAway::Trenches { number: Ratio::int(number), length, width: Ratio::of(3, 5), stone };
            assert_eq!(by(rule, &HOUSE, DRAWN).map(|p| p.what), Ok(what), "{rule}");
        }
    }

    #[test]
    fn what_cannot_be_proposed_says_why() {
        for (rule, ground, why) in [
            ("who-pit", Ground::default(), "the level at which water enters is not known"),
            ("ad-h2-field", Ground::default(), "the level at which water comes is not known"),
            ("is-2470-2", DRAWN, "which surface counts is not stated"),
            ("media-1250", DRAWN, "neither a pit nor a trench counts"),
            ("bs-6297-1983", DRAWN, "a rule of another kind"),
            ("sls-pit", DRAWN, "a soak pit by this rule is for"),
        ] {
            let got = by(rule, &HOUSE, ground).err().unwrap_or_default();
            assert!(got.iter().any(|w| w.contains(why)), "{rule} {got:?}");
        }
    }
}
