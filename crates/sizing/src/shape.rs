//! A drawn tank against the limits that a rule gives for its shape: each judged by its name, or said not to be.

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::{rounded, shown};
use tankwright_quantities::estimate::{Capacity, Chamber, Way};
use tankwright_quantities::job::Job;

use crate::propose::limit;
use crate::rule::{Limit, Rule};
use crate::sized::short;
use crate::unit::{Quantity, Unit};

/// Allowed off a rule's shares: plaster makes 2 : 1 of masonry something else. Our own.
const ALLOWED: Ratio = Ratio::of(5, 100);

/// One limit as judged.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// `water_depth`.
    pub name: String,
    /// What, what is asked, what there is.
    pub words: String,
    /// Is it met?
    pub met: bool,
}

/// All that is judged, and what is not, with its reason.
#[derive(Clone, Debug, Default)]
pub(crate) struct Judged {
    pub(crate) found: Vec<Finding>,
    pub(crate) not_checked: Vec<String>,
}

/// A drawn tank.
pub(crate) struct Tank<'a> {
    pub(crate) job: &'a Job,
    pub(crate) capacity: &'a Capacity,
    /// Water to the water line, m3.
    pub(crate) volume: Ratio,
}

/// Judges every limit of the rule's shape.
pub(crate) fn judge(rule: &Rule, tank: &Tank<'_>) -> Judged {
    let mut judged = Judged::default();
    let mut names: Vec<&str> = rule.shape.iter().map(|l| l.name.as_str()).collect();
    names.dedup();
    for name in names {
        match limit(&rule.shape, name, tank.volume) {
            Some(limit) => one(limit, tank, &mut judged),
            None => judged.not_checked.push(format!("{}: the rule has it for another volume", said(name))),
        }
    }
    judged
}

fn one(l: &Limit, tank: &Tank<'_>, judged: &mut Judged) {
    let chambers = &tank.capacity.chambers;
    let level = chambers.first().map_or(Ratio::ZERO, |c| c.level);
    let first = chambers.first();
    let ways = || chambers.iter().filter_map(|c| Some((c, c.way.as_ref()?)));
    let all: Ratio = chambers.iter().map(|c| c.length).sum();
    let width = chambers.iter().map(|c| c.width).min();
    let metres = |m: Ratio| (m, "m");
    let litres = |m3: Ratio| (m3 * Ratio::int(1_000), "l");
    let over_inlet = || tank.capacity.inlet.map(|z| metres(z - level));
    match l.name.as_str() {
        "chambers" => shares(l, tank, judged),
        "water_depth" => each(l, chambers, |c| metres(c.depth), judged),
        "least_width" => say(l, "", width.map(metres), judged),
        "least_length" => say(l, "", Some(metres(all)), judged),
        "length_to_width" => say(l, "", width.filter(|w| !w.is_zero()).map(|w| (all / w, "1")), judged),
        "plan_area" => say(l, "", width.map(|w| (all * w, "m2")), judged),
        "first_length" => say(l, "", first.map(|c| metres(c.length)), judged),
        "first_width" => say(l, "", first.map(|c| metres(c.width)), judged),
        "first_chamber" => say(l, "", first.map(|c| litres(c.volume)), judged),
        "second_chamber" => say(l, "", chambers.get(1).map(|c| litres(c.volume)), judged),
        "least_volume" => say(l, "", Some(litres(tank.volume)), judged),
        "free_space" => {
            let (over, what) = match tank.capacity.beam.filter(|b| *b < tank.capacity.cover) {
                Some(beam) => (beam, "to the lowest beam"),
                None => (tank.capacity.cover, "to the cover"),
            };
            say(l, what, Some(metres(over - level)), judged);
        }
        "inlet_above_water" | "inlet_drop" => say(l, "", over_inlet(), judged),
        "opening_area" if ways().next().is_some() => {
            let area = |w: &Way| w.area.map(|a| (a, "m2"));
            ways().for_each(|(_, w)| say(l, "", area(w), judged));
        }
        "opening_below_water" if ways().next().is_some() => {
            ways().for_each(|(c, w)| say(l, "", Some(metres(c.level - w.top)), judged));
        }
        "partition_above_water" if ways().next().is_some() => {
            let top = |w: &Way| w.partition.unwrap_or(tank.capacity.cover);
            ways().for_each(|(c, w)| say(l, "", Some(metres(top(w) - c.level)), judged));
        }
        "wall_thickness" => {
            let wall =
                tank.job.input("tank.walls.thickness").map(|(_, i)| metres(i.value / Ratio::int(10_000)));
            say(l, "", wall, judged);
        }
        "access" => access(l, tank, judged),
        "inlet_dip" | "outlet_dip" => {
            let words =
                format!("{}: how deep the pipe reaches under water is not in the job file", said(&l.name));
            judged.not_checked.push(words);
        }
        name => judged.not_checked.push(format!("{}: not in the job file", said(name))),
    }
}

/// `water depth`.
fn said(name: &str) -> String {
    name.replace('_', " ")
}

fn each(
    l: &Limit,
    chambers: &[Chamber],
    have: impl Fn(&Chamber) -> (Ratio, &'static str),
    judged: &mut Judged,
) {
    for (i, c) in chambers.iter().enumerate() {
        say(l, &format!("of chamber {}", i + 1), Some(have(c)), judged);
    }
}

/// Judges a figure in a unit by least and most.
fn say(l: &Limit, of: &str, have: Option<(Ratio, &'static str)>, judged: &mut Judged) {
    let what = format!("{} {of}", said(&l.name)).trim_end().to_owned();
    let Some((have, unit)) = have else {
        judged.not_checked.push(format!("{what}: not in the job file"));
        return;
    };
    let number = |q: &Option<Quantity>| q.as_ref().and_then(|q| q.number_in(&Unit::parse(unit)?));
    let (least, most) = (number(&l.least), number(&l.most));
    let sound = (least.is_some() || l.least.is_none()) && (most.is_some() || l.most.is_none());
    if !sound || (least.is_none() && most.is_none()) {
        judged
            .not_checked
            .push(format!("{what}: {}", if l.words.is_empty() { "not judged" } else { &l.words }));
        return;
    }
    let met = least.is_none_or(|n| have >= n) && most.is_none_or(|n| have <= n);
    let unit = if unit == "1" { String::new() } else { format!(" {unit}") };
    let asked = match (least, most) {
        (Some(a), Some(b)) => format!("{} to {}{unit}", three(a), three(b)),
        (Some(a), None) => format!("at least {}{unit}", three(a)),
        (_, b) => format!("at most {}{unit}", b.map(three).unwrap_or_default()),
    };
    let words = format!("{what} {}{unit}, asked {asked}", three(have));
    judged.found.push(Finding { name: l.name.clone(), words, met });
}

/// Shares of the volume, within what plaster may make of them.
fn shares(l: &Limit, tank: &Tank<'_>, judged: &mut Judged) {
    let chambers = &tank.capacity.chambers;
    let asked: Vec<String> = l.ratio.iter().map(|r| short(*r)).collect();
    let asked = asked.join(" : ");
    let have = chambers.len();
    if l.ratio.is_empty() || have > l.ratio.len() {
        let more = if l.words.is_empty() { String::new() } else { format!(" ({})", l.words) };
        let words = format!("division into chambers: the rule says {asked}{more}, the tank has {have}");
        judged.not_checked.push(words);
        return;
    }
    let all: Ratio = l.ratio.iter().copied().sum();
    let fits = |(c, r): (&Chamber, &Ratio)| {
        let (share, own) = (c.volume / tank.volume, *r / all);
        (share - own).abs() <= own * ALLOWED
    };
    let met = have == l.ratio.len() && chambers.iter().zip(&l.ratio).all(fits);
    let percent = |c: &Chamber| {
        let share = rounded(c.volume / tank.volume * Ratio::int(100), 1);
        share.map_or_else(String::new, |d| shown(d, 1))
    };
    let percents: Vec<String> = chambers.iter().map(percent).collect();
    let words = format!(
        "division into chambers {} % of the water, asked {asked}, each share within 5 % of its own (our own allowance)",
        percents.join(" : ")
    );
    judged.found.push(Finding { name: l.name.clone(), words, met });
}

/// A manhole over each chamber, none smaller than asked.
fn access(l: &Limit, tank: &Tank<'_>, judged: &mut Judged) {
    let holes = tank.job.count_of("tank.cover.manholes");
    let chambers = tank.capacity.chambers.len();
    if holes < chambers {
        let words = format!("access: {holes} manholes for {chambers} chambers");
        judged.found.push(Finding { name: l.name.clone(), words, met: false });
        return;
    }
    let side = |i: usize, j: usize| tank.job.input(&format!("tank.cover.manholes[{i}][{j}]"));
    let sides = (0..holes).flat_map(|i| [side(i, 0), side(i, 1)]).flatten();
    let least = sides.map(|(_, i)| i.value / Ratio::int(10_000)).min();
    say(l, "", least.map(|m| (m, "m")), judged);
}

/// At most three places.
pub(crate) fn three(n: Ratio) -> String {
    rounded(n, 3).map_or_else(|| short(n), |d| d.normalize().to_string())
}
