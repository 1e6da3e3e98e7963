//! Does the empty tank float? Weight over uplift, finished, and before its cover is cast.
//!
//! Weights come from the ledger by what a work weighs by, the volume from the claims. Not counted, on the safe side:
//! blinding, bars, manhole covers, pipes, friction of the soil on the walls, soil on the base beyond the walls, soil
//! heaped on the cover. Soil over a cover below ground counts as it weighs under water.

use tankwright_geometry::Ratio;

use super::hull::Hull;
use super::{Check, Finished, Verdict, down, limit, metres, number, up};
use crate::rates::{FigureValue, Stock};
use crate::sheet::Item;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::Weighs;

/// A tank in water. Any units that go together: kN, m3 and kN/m3; or pounds, cubic feet and pounds a cubic foot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Floating {
    /// What holds it down.
    pub weight: Ratio,
    /// Outside volume below the water.
    pub volume: Ratio,
    /// Weight of a unit of water.
    pub water: Ratio,
}

impl Floating {
    /// Uplift.
    #[must_use]
    pub fn uplift(&self) -> Ratio {
        self.volume * self.water
    }

    /// Weight over uplift.
    #[must_use]
    pub fn factor(&self) -> Ratio {
        self.weight / self.uplift()
    }

    /// Weight that is lacking to a factor; nothing or less where it is reached.
    #[must_use]
    pub fn short(&self, factor: Ratio) -> Ratio {
        self.uplift() * factor - self.weight
    }

    /// The largest volume below water at which a factor is still reached.
    #[must_use]
    pub fn most(&self, factor: Ratio) -> Ratio {
        self.weight / (self.water * factor)
    }
}

/// One of the two cases: its id, the stage it ends before, the cards it belongs on. Words: met, not met, no water
/// table given, never under the factor, water below the dig.
struct Case {
    id: &'static str,
    before: Option<Stage>,
    says: [&'static str; 5],
    stages: &'static [Stage],
}

const CASES: [Case; 2] = [
    Case {
        id: "flotation-finished",
        before: None,
        says: [
            "check-float-finished",
            "check-float-finished-not",
            "check-float-finished-unknown",
            "check-float-finished-never",
            "check-float-finished-dry",
        ],
        stages: &[Stage::Finish],
    },
    Case {
        id: "flotation-walls",
        before: Some(Stage::Cover),
        says: [
            "check-float-walls",
            "check-float-walls-not",
            "check-float-walls-unknown",
            "check-float-walls-never",
            "check-float-walls-dry",
        ],
        stages: &[Stage::WallsLower, Stage::WallsUpper],
    },
];

/// Both cases.
pub(super) fn check(of: &Finished<'_>, found: &mut Vec<Check>) {
    found.extend(CASES.iter().filter_map(|case| one(of, case)));
}

fn one(of: &Finished<'_>, case: &Case) -> Option<Check> {
    let (job, stock) = (of.site.job, of.site.stock);
    let figure = stock.checks.get("flotation-factor")?;
    let asked = figure.value("")?;
    let hull = Hull::paint(of, case.before);
    let mut working = Vec::new();
    let mut weight = weight(of, case.before, &mut working)?;
    if case.before.is_none() {
        weight = weight + soil(of, &hull, &mut working)?;
    }
    let top = hull.top().min(Ratio::ZERO);
    let given = job.input("ground.water_table").map(|(_, i)| -i.value / Ratio::int(10_000));
    // Below everything that is dug it lifts nothing; below the floor it counts as if it stood there.
    let deepest = &of.site.dig_depth() + &of.site.floor.fall;
    let dry = given.is_some_and(|z| -z >= deepest.value() / Ratio::int(10_000));
    let floor = of.site.floor.outlet.value() / Ratio::int(10_000);
    let water = given.map_or(top, |z| z.min(top).max(floor));
    let float =
        Floating { weight, volume: six(hull.volume(water)), water: limit(stock, "weight-water")?.value };
    working.push(Phrase::with("check-float-weight", &[&number(float.weight, 3)]));
    let factor = down(float.factor(), 3);
    if !dry {
        let (m3, kn) = (number(float.volume, 6), number(float.uplift(), 3));
        let args = [&metres(-water), &m3, &number(float.water, 3), &kn];
        working.push(Phrase::with("check-float-uplift", &args.map(String::as_str)));
        let args = [&number(float.weight, 3), &kn, &factor];
        working.push(Phrase::with("check-float-factor", &args.map(String::as_str)));
    }
    for value in &figure.values {
        working.push(reached(&hull, &float, value));
    }
    working.push(Phrase::new("check-float-left-out"));
    let safe = hull.level(float.most(asked.value)).filter(|z| *z < top).map(|z| up(-z, 3));
    let limit = number(asked.value, 3);
    let short = float.short(asked.value);
    let (verdict, says) = match (given, &safe) {
        (None, Some(safe)) => (Verdict::NotChecked, Phrase::with(case.says[2], &[&limit, safe])),
        (None, None) => (Verdict::Met, Phrase::with(case.says[3], &[&factor, &limit])),
        (Some(_), _) if dry => (Verdict::Met, Phrase::new(case.says[4])),
        (Some(_), Some(safe)) if short.signum() > 0 => {
            let in_it = short / float.water;
            let args =
                [&factor, &metres(-water), &limit, &up(short, 3), &up(in_it, 2), safe, &over(of, short)];
            (Verdict::NotMet, Phrase::with(case.says[1], &args.map(String::as_str)))
        }
        _ => (Verdict::Met, Phrase::with(case.says[0], &[&factor, &metres(-water), &limit])),
    };
    Some(Check {
        id: case.id,
        verdict,
        says,
        working,
        source: asked.source.to_string(),
        stages: case.stages,
        place: job.place("ground.water_table"),
    })
}

/// Rounded to six places: what is printed is what is multiplied.
fn six(n: Ratio) -> Ratio {
    n.round_half_away(Ratio::of(1, 1_000_000))
}

/// How much soil under water on the whole cover would make up for it, m.
fn over(of: &Finished<'_>, short: Ratio) -> String {
    let plan = of.site.outer_length().value() * of.site.outer_width().value() / Ratio::int(100_000_000);
    submerged(of.site.stock).map_or_else(String::new, |soil| up(short / plan / soil, 3))
}

/// Weight of soil under water, kN/m3.
fn submerged(stock: &Stock) -> Option<Ratio> {
    Some(limit(stock, "weight-soil")?.value - limit(stock, "weight-water")?.value)
}

/// Weights of the ledger, kN.
fn weight(of: &Finished<'_>, before: Option<Stage>, working: &mut Vec<Phrase>) -> Option<Ratio> {
    let stands = |i: &&Item| before.is_none_or(|end| i.stage < end);
    let mut sum = Ratio::ZERO;
    for (kind, id, says) in [
        (Weighs::Concrete, "weight-concrete", "check-float-concrete"),
        (Weighs::Masonry, "weight-brickwork", "check-float-masonry"),
        (Weighs::Coat, "weight-mortar", "check-float-coat"),
    ] {
        let items = of.sheet.items.iter().filter(stands).filter(|i| i.work.weighs == kind);
        let volume = six(items.map(|i| solid(of.site.stock, i)).sum());
        let each = limit(of.site.stock, id)?;
        if !volume.is_zero() {
            let (m3, kn) = (number(volume, 6), number(volume * each.value, 3));
            let args = [&m3, &number(each.value, 3), &kn, &each.source.to_string()];
            working.push(Phrase::with(says, &args.map(String::as_str)));
        }
        sum = sum + volume * each.value;
    }
    Some(sum)
}

/// What of an item weighs, m3.
fn solid(stock: &Stock, item: &Item) -> Ratio {
    // Not rounded at all, whatever the profile books or leaves out.
    let net: Ratio = item.lines.iter().chain(&item.kept).map(|l| l.exact).sum();
    match item.work.weighs {
        Weighs::Coat => {
            let t = item.made.thickness.as_ref().map_or(Ratio::ZERO, |t| t.value() / Ratio::int(10_000));
            net * t
        }
        Weighs::Masonry if item.made.cells_mix.is_empty() => {
            let unit = stock.units.get(&item.made.unit).filter(|u| u.hollow);
            let unknown = || limit(stock, "hollow-cells").map_or(Ratio::ONE, |v| v.value);
            net * (Ratio::ONE - unit.map_or(Ratio::ZERO, |u| u.voids.unwrap_or_else(unknown)))
        }
        Weighs::Nothing => Ratio::ZERO,
        Weighs::Concrete | Weighs::Masonry => net,
    }
}

/// Soil over a cover below ground, as it weighs under water, kN: the plan of the tank less what stands there.
fn soil(of: &Finished<'_>, hull: &Hull, working: &mut Vec<Phrase>) -> Option<Ratio> {
    let deep = (-of.site.cover_top.value() / Ratio::int(10_000)).max(Ratio::ZERO);
    if deep.is_zero() {
        return Some(deep);
    }
    let plan = of.site.outer_length().value() * of.site.outer_width().value() / Ratio::int(100_000_000);
    let volume = six(plan * deep - (hull.volume(Ratio::ZERO) - hull.volume(-deep)));
    let each = submerged(of.site.stock)?;
    let args = [&number(volume, 6), &number(each, 3), &number(volume * each, 3)];
    working.push(Phrase::with("check-float-soil", &args.map(String::as_str)));
    Some(volume * each)
}

/// Down to where water may stand for one of the published factors.
fn reached(hull: &Hull, float: &Floating, value: &FigureValue) -> Phrase {
    let (limit, source) = (number(value.value, 3), value.source.to_string());
    match hull.level(float.most(value.value)).filter(|z| z.signum() < 0) {
        Some(z) => Phrase::with("check-float-level", &[&limit, &up(-z, 4), &source]),
        None => Phrase::with("check-float-always", &[&limit, &source]),
    }
}
