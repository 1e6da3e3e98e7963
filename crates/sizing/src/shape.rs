//! A drawn tank against the limits that a rule gives for its shape: each judged by its name, or said not to be.

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::{rounded, shown};
use tankwright_quantities::estimate::{Capacity, Chamber, Way};
use tankwright_quantities::job::Job;

use crate::propose::Volumes;
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

/// A limit, its figures turned once into the unit in which it is judged.
#[derive(Debug)]
pub(crate) struct Bound<'r> {
    pub(crate) limit: &'r Limit,
    pub(crate) unit: &'static str,
    pub(crate) least: Option<Ratio>,
    pub(crate) most: Option<Ratio>,
    /// Can it be judged by figures at all?
    sound: bool,
    span: Volumes,
}

/// One limit of the shape, held against a tank: the only place where they are compared.
pub(crate) enum Point<'b, 'r> {
    /// A figure and its bounds, `of` what: a chamber by its place, or in words.
    Figure { bound: &'b Bound<'r>, of: Of, have: Ratio },
    /// The division into chambers, and whether it fits.
    Shares { limit: &'r Limit, fits: bool },
    /// Fewer manholes than chambers.
    Manholes { limit: &'r Limit, holes: usize },
    /// Not judged.
    Open { name: &'r str, of: Of, why: Why<'r> },
}

/// Of what a figure is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Of {
    Tank,
    Chamber(usize),
    ToBeam,
    ToCover,
}

/// Why a limit is not judged.
pub(crate) enum Why<'r> {
    OtherVolume,
    NotInJob,
    NoFigures(&'r str),
    Dip,
    Division(&'r Limit),
}

impl Point<'_, '_> {
    /// Is the limit met? What is not judged does not count against a tank.
    pub(crate) fn met(&self) -> bool {
        match self {
            Self::Figure { bound, have, .. } => {
                bound.least.is_none_or(|n| *have >= n) && bound.most.is_none_or(|n| *have <= n)
            }
            Self::Shares { fits, .. } => *fits,
            Self::Manholes { .. } => false,
            Self::Open { .. } => true,
        }
    }
}

/// The limits of a rule's shape, by name.
#[derive(Debug)]
pub(crate) struct Limits<'r>(Vec<(&'r str, Vec<Bound<'r>>)>);

impl<'r> Limits<'r> {
    pub(crate) fn of(rule: &'r Rule) -> Self {
        let mut names: Vec<&str> = rule.shape.iter().map(|l| l.name.as_str()).collect();
        names.dedup();
        let of = |name| rule.shape.iter().filter(move |l| l.name == name).map(Bound::of).collect();
        Self(names.into_iter().map(|name| (name, of(name))).collect())
    }

    /// Holds a tank against every limit, in the rule's order.
    pub(crate) fn look<'b>(&'b self, tank: &Tank<'_>, see: &mut dyn FnMut(Point<'b, 'r>)) {
        for (name, bounds) in &self.0 {
            match bounds.iter().find(|b| b.span.hold(tank.volume)) {
                Some(bound) => bound.look(tank, see),
                None => see(Point::Open { name, of: Of::Tank, why: Why::OtherVolume }),
            }
        }
    }
}

/// The unit in which a limit is judged.
fn unit_of(name: &str) -> &'static str {
    match name {
        "length_to_width" => "1",
        "plan_area" | "opening_area" => "m2",
        "first_chamber" | "second_chamber" | "least_volume" => "l",
        _ => "m",
    }
}

impl<'r> Bound<'r> {
    fn of(limit: &'r Limit) -> Self {
        let unit = unit_of(&limit.name);
        let number = |q: &Option<Quantity>| q.as_ref().and_then(|q| q.number_in(&Unit::parse(unit)?));
        let (least, most) = (number(&limit.least), number(&limit.most));
        let sound = (least.is_some() || limit.least.is_none()) && (most.is_some() || limit.most.is_none());
        let sound = sound && (least.is_some() || most.is_some());
        Self { limit, unit, least, most, sound, span: Volumes::of(limit) }
    }

    fn look<'b>(&'b self, tank: &Tank<'_>, see: &mut dyn FnMut(Point<'b, 'r>)) {
        let chambers = &tank.capacity.chambers;
        let level = chambers.first().map_or(Ratio::ZERO, |c| c.level);
        let first = chambers.first();
        let ways = || chambers.iter().filter_map(|c| Some((c, c.way.as_ref()?)));
        let all: Ratio = chambers.iter().map(|c| c.length).sum();
        let width = chambers.iter().map(|c| c.width).min();
        let litres = |m3: Ratio| m3 * Ratio::int(1_000);
        let name = self.limit.name.as_str();
        let mut say = |of, have| see(self.point(of, have));
        match name {
            "chambers" => see(self.shares(tank)),
            "water_depth" => {
                chambers.iter().enumerate().for_each(|(i, c)| say(Of::Chamber(i + 1), Some(c.depth)))
            }
            "least_width" => say(Of::Tank, width),
            "least_length" => say(Of::Tank, Some(all)),
            "length_to_width" => say(Of::Tank, width.filter(|w| !w.is_zero()).map(|w| all / w)),
            "plan_area" => say(Of::Tank, width.map(|w| all * w)),
            "first_length" => say(Of::Tank, first.map(|c| c.length)),
            "first_width" => say(Of::Tank, first.map(|c| c.width)),
            "first_chamber" => say(Of::Tank, first.map(|c| litres(c.volume))),
            "second_chamber" => say(Of::Tank, chambers.get(1).map(|c| litres(c.volume))),
            "least_volume" => say(Of::Tank, Some(litres(tank.volume))),
            "free_space" => match tank.capacity.beam.filter(|b| *b < tank.capacity.cover) {
                Some(beam) => say(Of::ToBeam, Some(beam - level)),
                None => say(Of::ToCover, Some(tank.capacity.cover - level)),
            },
            "inlet_above_water" | "inlet_drop" => say(Of::Tank, tank.capacity.inlet.map(|z| z - level)),
            "opening_area" if ways().next().is_some() => ways().for_each(|(_, w)| say(Of::Tank, w.area)),
            "opening_below_water" if ways().next().is_some() => {
                ways().for_each(|(c, w)| say(Of::Tank, Some(c.level - w.top)));
            }
            "partition_above_water" if ways().next().is_some() => {
                let top = |w: &Way| w.partition.unwrap_or(tank.capacity.cover);
                ways().for_each(|(c, w)| say(Of::Tank, Some(top(w) - c.level)));
            }
            "wall_thickness" => {
                let wall = tank.job.input("tank.walls.thickness");
                say(Of::Tank, wall.map(|(_, i)| i.value / Ratio::int(10_000)));
            }
            "access" => see(self.access(tank)),
            "inlet_dip" | "outlet_dip" => see(self.open(Of::Tank, Why::Dip)),
            _ => see(self.open(Of::Tank, Why::NotInJob)),
        }
    }

    fn open<'b>(&self, of: Of, why: Why<'r>) -> Point<'b, 'r> {
        Point::Open { name: &self.limit.name, of, why }
    }

    /// A figure in the bound's unit.
    fn point<'b>(&'b self, of: Of, have: Option<Ratio>) -> Point<'b, 'r> {
        match have {
            None => self.open(of, Why::NotInJob),
            Some(_) if !self.sound => self.open(of, Why::NoFigures(&self.limit.words)),
            Some(have) => Point::Figure { bound: self, of, have },
        }
    }

    /// Shares of the volume, within what plaster may make of them.
    fn shares<'b>(&self, tank: &Tank<'_>) -> Point<'b, 'r> {
        let (chambers, ratio) = (&tank.capacity.chambers, &self.limit.ratio);
        if ratio.is_empty() || chambers.len() > ratio.len() {
            return self.open(Of::Tank, Why::Division(self.limit));
        }
        let all: Ratio = ratio.iter().copied().sum();
        let close = |(c, r): (&Chamber, &Ratio)| {
            let (share, own) = (c.volume / tank.volume, *r / all);
            (share - own).abs() <= own * ALLOWED
        };
        let fits = chambers.len() == ratio.len() && chambers.iter().zip(ratio).all(close);
        Point::Shares { limit: self.limit, fits }
    }

    /// A manhole over each chamber, none smaller than asked.
    fn access<'b>(&'b self, tank: &Tank<'_>) -> Point<'b, 'r> {
        let holes = tank.job.count_of("tank.cover.manholes");
        if holes < tank.capacity.chambers.len() {
            return Point::Manholes { limit: self.limit, holes };
        }
        let side = |i: usize, j: usize| tank.job.input(&format!("tank.cover.manholes[{i}][{j}]"));
        let sides = (0..holes).flat_map(|i| [side(i, 0), side(i, 1)]).flatten();
        self.point(Of::Tank, sides.map(|(_, i)| i.value / Ratio::int(10_000)).min())
    }
}

/// What was found at one limit, in words.
pub(crate) fn word(point: &Point<'_, '_>, tank: &Tank<'_>, judged: &mut Judged) {
    let met = point.met();
    let mut found = |limit: &Limit, words| {
        judged.found.push(Finding { name: limit.name.clone(), words, met });
    };
    match point {
        Point::Figure { bound, of, have } => found(bound.limit, figure(bound, *of, *have)),
        Point::Shares { limit, .. } => found(limit, divided(limit, tank)),
        Point::Manholes { limit, holes } => {
            let chambers = tank.capacity.chambers.len();
            found(limit, format!("access: {holes} manholes for {chambers} chambers"));
        }
        Point::Open { name, of, why } => judged.not_checked.push(open(&what(name, *of), why, tank)),
    }
}

/// `water depth of chamber 1`.
fn what(name: &str, of: Of) -> String {
    let name = name.replace('_', " ");
    match of {
        Of::Tank => name,
        Of::Chamber(i) => format!("{name} of chamber {i}"),
        Of::ToBeam => format!("{name} to the lowest beam"),
        Of::ToCover => format!("{name} to the cover"),
    }
}

fn open(what: &str, why: &Why<'_>, tank: &Tank<'_>) -> String {
    match why {
        Why::OtherVolume => format!("{what}: the rule has it for another volume"),
        Why::NotInJob => format!("{what}: not in the job file"),
        Why::NoFigures(words) => format!("{what}: {}", if words.is_empty() { "not judged" } else { words }),
        Why::Dip => format!("{what}: how deep the pipe reaches under water is not in the job file"),
        Why::Division(l) => {
            let more = if l.words.is_empty() { String::new() } else { format!(" ({})", l.words) };
            let (asked, have) = (asked_shares(l), tank.capacity.chambers.len());
            format!("division into chambers: the rule says {asked}{more}, the tank has {have}")
        }
    }
}

fn figure(bound: &Bound<'_>, of: Of, have: Ratio) -> String {
    let unit = if bound.unit == "1" { String::new() } else { format!(" {}", bound.unit) };
    let asked = match (bound.least, bound.most) {
        (Some(a), Some(b)) => format!("{} to {}{unit}", three(a), three(b)),
        (Some(a), None) => format!("at least {}{unit}", three(a)),
        (_, b) => format!("at most {}{unit}", b.map(three).unwrap_or_default()),
    };
    format!("{} {}{unit}, asked {asked}", what(&bound.limit.name, of), three(have))
}

/// `2 : 1`.
fn asked_shares(l: &Limit) -> String {
    let asked: Vec<String> = l.ratio.iter().map(|r| short(*r)).collect();
    asked.join(" : ")
}

fn divided(l: &Limit, tank: &Tank<'_>) -> String {
    let percent = |c: &Chamber| {
        let share = rounded(c.volume / tank.volume * Ratio::int(100), 1);
        share.map_or_else(String::new, |d| shown(d, 1))
    };
    let percents: Vec<String> = tank.capacity.chambers.iter().map(percent).collect();
    format!(
        "division into chambers {} % of the water, asked {}, each share within 5 % of its own (our own allowance)",
        percents.join(" : "),
        asked_shares(l)
    )
}

/// At most three places.
pub(crate) fn three(n: Ratio) -> String {
    rounded(n, 3).map_or_else(|| short(n), |d| d.normalize().to_string())
}
