//! Whether a drawn tank complies with a rule, by how much, and why not.

use tankwright_geometry::Ratio;
use tankwright_quantities::estimate::Capacity;
use tankwright_quantities::job::Job;

use crate::distances;
use crate::rule::{Kind, MeasuredTo, Rule};
use crate::shape::{self, Finding, Judged, Tank, three};
use crate::sized::Sized;
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

/// Judges a drawn tank by a rule's result; what cannot be judged is added to its list of things not checked.
pub(crate) fn judge(rule: &Rule, sized: &mut Sized, drawn: Drawn<'_>) -> Option<Verdict> {
    if rule.kind != Kind::Capacity {
        return None;
    }
    let mut v = Verdict { to_inlet: drawn.to_inlet(), asked: sized.capacity_l(), ..Verdict::default() };
    let Some(water) = drawn.to_water_line() else {
        v.complies = Some(false);
        v.reasons.push("no water line: the job draws no outlet, or its chambers are not joined".to_owned());
        return Some(v);
    };
    let capacity = drawn.capacity;
    let level = capacity.chambers.first().map_or(Ratio::ZERO, |c| c.level);
    if let Some(inlet) = capacity.inlet.filter(|z| *z <= level) {
        v.reasons.push(format!("the inlet is drowned: {} m under the water line", three(level - inlet)));
    }
    let beam = capacity.beam.map_or(capacity.cover, |b| b.min(capacity.cover));
    if level > beam {
        let over = three(level - beam);
        v.reasons.push(format!("the water stands {over} m above the underside of the cover or of a beam"));
    }
    let by_inlet = rule.measured_to == Some(MeasuredTo::Inlet);
    if by_inlet && v.to_inlet.is_none() {
        let words = "water up to the inlet, which the rule counts: no inlet over the water is drawn";
        sized.not_checked.push(format!("{words}; the water line is taken"));
    }
    let inlet = v.to_inlet.filter(|_| by_inlet);
    v.to = Some(if inlet.is_some() { MeasuredTo::Inlet } else { MeasuredTo::WaterLine });
    let provided = inlet.unwrap_or(water);
    v.provided = Some(provided);
    let exact = sized
        .main()
        .filter(|a| a.id == "capacity")
        .and_then(|a| Some(a.amount.number * Unit::parse(&a.amount.unit)?.in_terms_of(&Unit::parse("l")?)?));
    if let (Some(exact), Some(asked)) = (exact, v.asked) {
        let margin = |have: Ratio| have.floor() - asked;
        v.margin = Some(margin(provided));
        v.percent = Some((provided - exact) / exact * Ratio::int(100));
        if provided < exact {
            let short = three(asked - provided.floor());
            v.reasons.push(format!("it holds {} l, {short} l too little", three(provided.floor())));
        }
        let by_water = || (MeasuredTo::WaterLine, water >= exact, margin(water));
        v.other = inlet.map(|_| by_water()).filter(|o| o.1 != (provided >= exact));
    }
    let tank = Tank { job: drawn.job, capacity, volume: water / Ratio::int(1_000) };
    let Judged { found, not_checked } = shape::judge(rule, &tank);
    v.reasons.extend(found.iter().filter(|f| !f.met).map(|f| f.words.clone()));
    v.found = found;
    sized.not_checked.extend(not_checked);
    let (far, left) = distances::judge(rule, &sized.clear, drawn.job);
    v.reasons.extend(far.iter().filter(|f| !f.met).map(|f| f.words.clone()));
    v.found.extend(far);
    sized.not_checked.extend(left);
    v.complies = if v.reasons.is_empty() { exact.map(|_| true) } else { Some(false) };
    Some(v)
}
