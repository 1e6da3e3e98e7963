//! Dimensions that would do: from a volume, by the rule's limits where it gives them, else by ours, said so.

use rust_decimal::MathematicalOps;
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::{ratio, rounded};

use crate::rule::{Limit, Rule};
use crate::run::Run;
use crate::sized::{Chamber, Proposal, short, up};
use crate::take::Value;
use crate::unit::{Quantity, Unit};

/// Depth of water where a rule gives none, m.
const DEPTH: Ratio = Ratio::of(3, 2);
/// Least width where a rule gives none: a bricklayer must be able to work (practice, recalled), m.
const WIDTH: Ratio = Ratio::of(3, 4);
/// Dimensions go up to the next 10 mm.
const STEP: Ratio = Ratio::of(1, 100);
/// Chambers where a rule gives none.
const CHAMBERS: [Ratio; 2] = [Ratio::int(2), Ratio::ONE];

/// For which volumes a limit holds, m3.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Volumes {
    up_to: Option<Ratio>,
    over: Option<Ratio>,
}

impl Volumes {
    pub(crate) fn of(l: &Limit) -> Self {
        let cubic = |q: &Quantity| Unit::parse("m3").and_then(|u| q.number_in(&u));
        Self { up_to: l.up_to.as_ref().and_then(cubic), over: l.over.as_ref().and_then(cubic) }
    }

    pub(crate) fn hold(self, volume: Ratio) -> bool {
        self.up_to.is_none_or(|most| volume <= most) && self.over.is_none_or(|least| volume > least)
    }
}

/// The limit of a name that holds for this volume (m3).
#[must_use]
pub fn limit<'r>(limits: &'r [Limit], name: &str, volume: Ratio) -> Option<&'r Limit> {
    limits.iter().find(|l| l.name == name && Volumes::of(l).hold(volume))
}

fn metres(q: Option<&Quantity>) -> Option<Ratio> {
    q.and_then(|q| q.number_in(&Unit::parse("m")?))
}

fn litres(q: Option<&Quantity>) -> Option<Ratio> {
    q.and_then(|q| q.number_in(&Unit::parse("l")?))
}

/// Chambers for so many litres.
pub(crate) fn propose(rule: &Rule, run: &Run, wanted: Ratio) -> Proposal {
    let volume = wanted / Ratio::int(1_000);
    let find = |name: &str| limit(&rule.shape, name, volume);
    let mut notes = Vec::new();
    let shares: Vec<Ratio> = match find("chambers").filter(|l| !l.ratio.is_empty()) {
        Some(l) => l.ratio.clone(),
        None => {
            notes.push(
                "two thirds and one third: our own proposal, the rule as seen says nothing of chambers"
                    .into(),
            );
            CHAMBERS.to_vec()
        }
    };
    let all: Ratio = shares.iter().copied().sum();
    let own = |i: usize| match rule.dimensions.as_ref().and_then(|d| run.values.get(d.get(i)?)) {
        Some(Value::Number(q)) => metres(Some(q)),
        _ => None,
    };
    if let (Some(length), Some(width), Some(depth)) = (own(0), own(1), own(2))
        // What is asked is rounded up to the litre; the rule's own size is not.
        && length * width * depth > volume - Ratio::of(1, 1_000)
    {
        notes.push("length, width and depth are the rule's own".into());
        let mut lengths: Vec<Ratio> = shares.iter().map(|s| up(length * *s / all, STEP)).collect();
        let before: Ratio = lengths.iter().rev().skip(1).copied().sum();
        if let Some(last) = lengths.last_mut() {
            *last = length - before;
        }
        return made(rule, &lengths, width, depth, notes);
    }
    let depth = depth(find("water_depth"), &mut notes);
    let times = long(find("length_to_width"), all / shares.last().copied().unwrap_or(Ratio::ONE));
    let mut width = rounded(volume / (times * depth), 20)
        .and_then(|square| square.sqrt())
        .map_or(Ratio::UNKNOWN, |root| up(ratio(root), STEP));
    match metres(find("least_width").or_else(|| find("first_width")).and_then(|l| l.least.as_ref())) {
        Some(least) => width = width.max(up(least, STEP)),
        None if width < WIDTH => {
            notes.push("0.75 m wide so that a bricklayer can work: practice, recalled".into());
            width = WIDTH;
        }
        None => {}
    }
    let total = volume / (width * depth);
    let mut lengths: Vec<Ratio> = shares.iter().map(|s| up(total * *s / all, STEP)).collect();
    // A manhole stands over each chamber: the shortest is as long as the least manhole, the others in their shares.
    let access = metres(find("access").and_then(|l| l.least.as_ref()));
    let least_share = shares.iter().copied().min().unwrap_or(Ratio::ONE);
    let mut depth = depth;
    if let Some(access) = access.filter(|a| total * least_share / all < *a) {
        lengths = shares.iter().map(|s| up(access * *s / least_share, STEP)).collect();
        notes.push("long enough for a manhole over each chamber".into());
        if let Some(least) = metres(find("water_depth").and_then(|l| l.least.as_ref())) {
            let long: Ratio = lengths.iter().copied().sum();
            depth = depth.min(up(least, STEP).max(up(volume / (width * long), STEP)));
            notes.push(format!("and therefore {} m of water", short(depth)));
        }
    }
    let area = width * depth * Ratio::int(1_000);
    for (i, name) in ["first_chamber", "second_chamber"].into_iter().enumerate() {
        let least = litres(find(name).and_then(|l| l.least.as_ref()));
        if let (Some(least), Some(length)) = (least, lengths.get_mut(i)) {
            *length = (*length).max(up(least / area, STEP));
        }
    }
    if let (Some(least), Some(first)) =
        (metres(find("first_length").and_then(|l| l.least.as_ref())), lengths.first_mut())
    {
        *first = (*first).max(up(least, STEP));
    }
    made(rule, &lengths, width, depth, notes)
}

fn depth(limit: Option<&Limit>, notes: &mut Vec<String>) -> Ratio {
    let least = metres(limit.and_then(|l| l.least.as_ref()));
    let most = metres(limit.and_then(|l| l.most.as_ref()));
    let depth = least.map_or(DEPTH, |l| DEPTH.max(up(l, STEP)));
    let depth = most.map_or(depth, |m| depth.min((m / STEP).floor() * STEP));
    notes.push(match limit {
        Some(_) => format!("water {} m deep: our own choice within the rule's limits", short(depth)),
        None => format!("water {} m deep: our own choice, the rule as seen says nothing of it", short(depth)),
    });
    depth
}

/// Length over width: as the shares make it when the last chamber is square, within the rule's limits.
fn long(limit: Option<&Limit>, square: Ratio) -> Ratio {
    let bound = |q: Option<&Quantity>| q.map(|q| q.number);
    let times = bound(limit.and_then(|l| l.least.as_ref())).map_or(square, |least| square.max(least));
    bound(limit.and_then(|l| l.most.as_ref())).map_or(times, |most| times.min(most))
}

fn made(rule: &Rule, lengths: &[Ratio], width: Ratio, depth: Ratio, mut notes: Vec<String>) -> Proposal {
    let of = |length: Ratio| length * width * depth * Ratio::int(1_000);
    let litres: Ratio = lengths.iter().map(|l| of(*l)).sum();
    let chamber = |length: &Ratio| Chamber {
        length: *length,
        width,
        depth,
        litres: of(*length),
        share: of(*length) / litres,
    };
    judge(rule, lengths.iter().copied().sum(), width, depth, litres, &mut notes);
    if !litres.is_known() {
        return Proposal { notes: vec!["too large for a proposal".into()], ..Proposal::default() };
    }
    Proposal { chambers: lengths.iter().map(chamber).collect(), litres, notes }
}

/// What of the proposal breaks a limit of the rule itself: some rules contradict themselves.
fn judge(rule: &Rule, length: Ratio, width: Ratio, depth: Ratio, litres: Ratio, notes: &mut Vec<String>) {
    let volume = litres / Ratio::int(1_000);
    let mut against = |name: &str, words: &str, have: Ratio, number: &dyn Fn(&Quantity) -> Option<Ratio>| {
        let Some(limit) = limit(&rule.shape, name, volume) else { return };
        if let Some(least) = limit.least.as_ref().and_then(number).filter(|least| have < *least) {
            notes.push(format!("{words} {} is under the rule's least, {}", short(have), short(least)));
        }
        if let Some(most) = limit.most.as_ref().and_then(number).filter(|most| have > *most) {
            notes.push(format!("{words} {} is over the rule's most, {}", short(have), short(most)));
        }
    };
    let in_metres = |q: &Quantity| metres(Some(q));
    against("water_depth", "depth of water", depth, &in_metres);
    against("least_width", "width", width, &in_metres);
    against("least_length", "length", length, &in_metres);
    against("length_to_width", "length over width", length / width, &|q| Some(q.number));
}
