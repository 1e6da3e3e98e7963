//! Whether a drawn tank complies with a rule, by how much, and why not.

use tankwright_geometry::Ratio;
use tankwright_quantities::estimate::Capacity;
use tankwright_quantities::job::Job;

use crate::distances;
use crate::rule::{Kind, MeasuredTo, Rule};
use crate::shape::{self, Finding, Judged, Limits, Point, Tank, three};
use crate::sized::{Answer, Sized};
use crate::unit::Unit;

/// A tank as drawn: its job, and what the flow made of it.
#[derive(Clone, Copy, Debug)]
pub struct Drawn<'a> {
    /// The job.
    pub job: &'a Job,
    /// What the tank holds.
    pub capacity: &'a Capacity,
}

impl Drawn<'_> {
    /// Water to the water lines, litres, exact; `None` where no water line is known.
    #[must_use]
    pub fn to_water_line(&self) -> Option<Ratio> {
        let chambers = &self.capacity.chambers;
        (!chambers.is_empty()).then(|| chambers.iter().map(|c| c.volume).sum::<Ratio>() * Ratio::int(1_000))
    }

    /// Water to the level of the inlet, litres, exact; `None` without an inlet, or with one under water.
    #[must_use]
    pub fn to_inlet(&self) -> Option<Ratio> {
        let chambers = &self.capacity.chambers;
        let over = self.capacity.inlet? > chambers.first()?.level;
        let all: Option<Vec<Ratio>> = chambers.iter().map(|c| c.to_inlet).collect();
        Some(all?.into_iter().sum::<Ratio>() * Ratio::int(1_000)).filter(|_| over)
    }
}

/// The verdict of one rule.
#[derive(Clone, Debug, Default)]
pub struct Verdict {
    /// Does the tank comply in all that was judged? `None` where the rule gives no capacity.
    pub complies: Option<bool>,
    /// To which level the rule counts.
    pub to: Option<MeasuredTo>,
    /// Litres to that level, exact.
    pub provided: Option<Ratio>,
    /// Litres asked, rounded up.
    pub asked: Option<Ratio>,
    /// Litres to the level of the inlet, exact.
    pub to_inlet: Option<Ratio>,
    /// Provided, rounded down, less asked.
    pub margin: Option<Ratio>,
    /// The same in per cent of what is asked, from exact figures.
    pub percent: Option<Ratio>,
    /// To the other level, where the answer differs: complies, margin.
    pub other: Option<(MeasuredTo, bool, Ratio)>,
    /// Limits of the shape.
    pub found: Vec<Finding>,
    /// Why not.
    pub reasons: Vec<String>,
}

/// What a rule asks of a tank, reckoned once: many tanks can be held against it.
#[derive(Debug)]
pub struct Asks<'r> {
    /// Litres, exact.
    exact: Option<Ratio>,
    by_inlet: bool,
    limits: Limits<'r>,
}

/// One thing that was looked at: the only place where a tank is compared with what is asked.
enum Look<'b, 'r> {
    NoWater,
    /// The inlet is so far under the water line, m.
    Drowned(Ratio),
    /// The water reaches the underside of the cover or of a beam, and stands so far above it, m.
    Over(Ratio),
    NoInlet,
    Held(Held),
    Shape(Point<'b, 'r>),
}

/// Litres to the levels that matter.
struct Held {
    water: Ratio,
    inlet: Option<Ratio>,
    provided: Ratio,
    exact: Option<Ratio>,
}

impl Held {
    fn enough(&self, litres: Ratio) -> bool {
        self.exact.is_none_or(|exact| litres >= exact)
    }
}

/// One thing in which a tank does not comply.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Miss<'a> {
    /// `capacity`, `water_line`, `drowned_inlet`, `water_over_cover`, or the limit's name: `least_width`.
    pub name: &'a str,
    /// Missed by so much; `None` where there is no measure of it.
    pub by: Option<Ratio>,
    /// What is asked, in the unit of `by`.
    pub asked: Option<Ratio>,
    /// `l`, `m`, `m2`, `1`.
    pub unit: &'static str,
}

impl<'r> Asks<'r> {
    /// What a rule of the size of tanks asks, from its result for the job's inputs.
    #[must_use]
    pub fn of(rule: &'r Rule, sized: &Sized) -> Self {
        let litres = |a: &Answer| Unit::parse(&a.amount.unit)?.in_terms_of(&Unit::parse("l")?);
        let main = sized.main().filter(|a| a.id == "capacity");
        let exact = main.and_then(|a| Some(a.amount.number * litres(a)?));
        let by_inlet = rule.measured_to == Some(MeasuredTo::Inlet);
        Self { exact, by_inlet, limits: Limits::of(rule) }
    }

    /// Litres, exact; `None` where the rule gives no capacity: then no tank complies.
    #[must_use]
    pub const fn litres(&self) -> Option<Ratio> {
        self.exact
    }

    /// Litres that count for the rule, exact: to the inlet where it says so and there is one, else to the water line.
    #[must_use]
    pub fn provided(&self, drawn: Drawn<'_>) -> Option<Ratio> {
        drawn.to_inlet().filter(|_| self.by_inlet).or_else(|| drawn.to_water_line())
    }

    /// Shows everything in which a tank does not comply, without a word: none means that it complies in all that is
    /// judged. The same comparisons as the verdict's.
    pub fn misses(&self, drawn: Drawn<'_>, see: &mut dyn FnMut(Miss<'_>)) {
        let plain = |name| Miss { name, by: None, asked: None, unit: "m" };
        self.look(drawn, &mut |look| match look {
            Look::NoWater => see(plain("water_line")),
            Look::Drowned(by) => see(Miss { by: Some(by), ..plain("drowned_inlet") }),
            Look::Over(by) => see(Miss { by: Some(by), ..plain("water_over_cover") }),
            Look::NoInlet => {}
            Look::Held(h) if h.enough(h.provided) => {}
            Look::Held(h) => {
                let by = h.exact.map(|exact| exact - h.provided);
                see(Miss { name: "capacity", by, asked: h.exact, unit: "l" });
            }
            Look::Shape(p) if p.met() => {}
            Look::Shape(Point::Figure { bound, have, .. }) => {
                let asked = bound.least.filter(|n| have < *n).or(bound.most);
                let by = asked.map(|n| (n - have).abs());
                see(Miss { name: &bound.limit.name, by, asked, unit: bound.unit });
            }
            Look::Shape(Point::Shares { limit, .. } | Point::Manholes { limit, .. }) => {
                see(plain(&limit.name))
            }
            Look::Shape(Point::Open { .. }) => {}
        });
    }

    fn look<'b>(&'b self, drawn: Drawn<'_>, see: &mut dyn FnMut(Look<'b, 'r>)) {
        let Some(water) = drawn.to_water_line() else { return see(Look::NoWater) };
        let capacity = drawn.capacity;
        let level = capacity.chambers.first().map_or(Ratio::ZERO, |c| c.level);
        if let Some(inlet) = capacity.inlet.filter(|z| *z <= level) {
            see(Look::Drowned(level - inlet));
        }
        let beam = capacity.beam.map_or(capacity.cover, |b| b.min(capacity.cover));
        if level >= beam {
            see(Look::Over(level - beam));
        }
        let inlet = if self.by_inlet { drawn.to_inlet() } else { None };
        if self.by_inlet && inlet.is_none() {
            see(Look::NoInlet);
        }
        see(Look::Held(Held { water, inlet, provided: inlet.unwrap_or(water), exact: self.exact }));
        let tank = Tank { job: drawn.job, capacity, volume: water / Ratio::int(1_000) };
        self.limits.look(&tank, &mut |point| see(Look::Shape(point)));
    }
}

/// Judges a drawn tank by a rule's result; what cannot be judged is added to its list of things not checked.
pub(crate) fn judge(rule: &Rule, sized: &mut Sized, drawn: Drawn<'_>) -> Option<Verdict> {
    if rule.kind != Kind::Capacity {
        return None;
    }
    let asks = Asks::of(rule, sized);
    let mut v = Verdict { to_inlet: drawn.to_inlet(), asked: sized.capacity_l(), ..Verdict::default() };
    let water = drawn.to_water_line().unwrap_or(Ratio::ZERO);
    let tank = Tank { job: drawn.job, capacity: drawn.capacity, volume: water / Ratio::int(1_000) };
    let mut shape = Judged::default();
    let mut known = true;
    asks.look(drawn, &mut |look| match look {
        Look::NoWater => {
            known = false;
            v.reasons
                .push("no water line: the job draws no outlet, or its chambers are not joined".to_owned());
        }
        Look::Drowned(by) => {
            v.reasons.push(format!("the inlet is drowned: {} m under the water line", three(by)));
        }
        Look::Over(by) => {
            let words = "the water reaches the underside of the cover or of a beam, and stands";
            v.reasons.push(format!("{words} {} m above it", three(by)));
        }
        Look::NoInlet => {
            let words = "water up to the inlet, which the rule counts: no inlet over the water is drawn";
            sized.not_checked.push(format!("{words}; the water line is taken"));
        }
        Look::Held(held) => v.hold(&held),
        Look::Shape(point) => shape::word(&point, &tank, &mut shape),
    });
    if !known {
        v.complies = Some(false);
        return Some(v);
    }
    v.reasons.extend(shape.found.iter().filter(|f| !f.met).map(|f| f.words.clone()));
    v.found = shape.found;
    sized.not_checked.extend(shape.not_checked);
    let (far, left) = distances::judge(rule, &sized.clear, drawn.job);
    v.reasons.extend(far.iter().filter(|f| !f.met).map(|f| f.words.clone()));
    v.found.extend(far);
    sized.not_checked.extend(left);
    v.complies = if v.reasons.is_empty() { asks.exact.map(|_| true) } else { Some(false) };
    Some(v)
}

impl Verdict {
    /// What the tank holds against what is asked.
    fn hold(&mut self, held: &Held) {
        self.to = Some(if held.inlet.is_some() { MeasuredTo::Inlet } else { MeasuredTo::WaterLine });
        self.provided = Some(held.provided);
        let (Some(exact), Some(asked)) = (held.exact, self.asked) else { return };
        let margin = |have: Ratio| have.floor() - asked;
        self.margin = Some(margin(held.provided));
        self.percent = Some((held.provided - exact) / exact * Ratio::int(100));
        let enough = held.enough(held.provided);
        if !enough {
            let short = three(asked - held.provided.floor());
            self.reasons.push(format!("it holds {} l, {short} l too little", three(held.provided.floor())));
        }
        let by_water = || (MeasuredTo::WaterLine, held.enough(held.water), margin(held.water));
        self.other = held.inlet.map(|_| by_water()).filter(|o| o.1 != enough);
    }
}
