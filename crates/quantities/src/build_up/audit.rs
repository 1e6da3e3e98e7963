//! What an on-cost leaves out, and an analysis reckoned anew.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use super::work_out::share;
use super::{Cost, Group, PLACES, Way, Worked};
use crate::decimal::{plain, ratio, rounded};

/// An on-cost that is not taken on everything before it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftOut {
    /// Its place in the chain.
    pub on_cost: usize,
    /// What it leaves out of the cost, by group.
    pub groups: Vec<(Group, Decimal)>,
    /// Earlier on-costs it leaves out, by place.
    pub earlier: Vec<usize>,
    /// What it would be more on everything before it.
    pub more: Decimal,
}

/// Goes through the chain of on-costs: which are taken on less than all before them, and what that is worth.
#[must_use]
pub fn audit(worked: &Worked) -> Vec<LeftOut> {
    let mut found = Vec::new();
    for (at, done) in worked.on_costs.iter().enumerate() {
        let out = |i: &usize| !done.lines.contains(i);
        let sum = |group: Group| {
            let own = worked.lines.iter().enumerate().filter(|(i, l)| l.line.group == group && out(i));
            own.map(|(_, l)| l.amount).sum::<Decimal>()
        };
        let groups: Vec<(Group, Decimal)> =
            Group::ALL.into_iter().map(|g| (g, sum(g))).filter(|(_, sum)| !sum.is_zero()).collect();
        let earlier: Vec<usize> = (0..at).filter(|i| !done.earlier.contains(i)).collect();
        if groups.is_empty() && earlier.is_empty() {
            continue;
        }
        let before: Decimal = worked.on_costs.iter().take(at).map(|o| o.amount).sum();
        let whole = rounded(share(&done.on_cost, ratio(worked.cost + before)), worked.places());
        let more = whole.unwrap_or(done.amount) - done.amount;
        found.push(LeftOut { on_cost: at, groups, earlier, more });
    }
    found
}

impl Worked {
    /// Every figure that is not what those before it make, reckoned anew in fractions; none for a sound analysis.
    #[must_use]
    pub fn breaks(&self) -> Vec<String> {
        let mut breaks = Vec::new();
        let mut same = |what: &str, is: Decimal, must: Ratio| {
            if ratio(is) != must {
                breaks.push(format!("{what}: {is}, reckoned {}", plain(must)));
            }
        };
        let to = |value: Ratio, places: u32| rounded(value, places).map_or(Ratio::UNKNOWN, ratio);
        let mut cost = Ratio::ZERO;
        for (i, done) in self.lines.iter().enumerate() {
            let exact = match &done.line.cost {
                Cost::Priced { quantity, rate, .. } => {
                    same(&done.line.title, done.quantity, to(*quantity, PLACES));
                    ratio(done.quantity) * ratio(*rate)
                }
                Cost::Percent(percent, _) => {
                    let on = done.on.iter().filter(|on| **on < i).filter_map(|on| self.lines.get(*on));
                    same(&done.line.title, done.quantity, on.map(|l| ratio(l.amount)).sum());
                    ratio(done.quantity) * ratio(*percent) / Ratio::int(100)
                }
            };
            let exact = done.line.say.map_or(exact, |say| say.of(exact));
            same(&done.line.title, done.amount, to(exact, self.places()));
            cost = cost + ratio(done.amount);
        }
        same("cost", self.cost, cost);
        let mut total = cost;
        for (i, done) in self.on_costs.iter().enumerate() {
            let (title, percent) = (&done.on_cost.title, ratio(done.on_cost.percent));
            let lines = done.lines.iter().filter_map(|at| self.lines.get(*at)).map(|l| ratio(l.amount));
            let earlier = done.earlier.iter().filter(|at| **at < i).filter_map(|at| self.on_costs.get(*at));
            let base = lines.chain(earlier.map(|o| ratio(o.amount))).sum();
            same(title, done.base, base);
            let amount = if done.on_cost.gross_up {
                base / (Ratio::ONE - percent / Ratio::int(100)) - base
            } else {
                base * percent / Ratio::int(100)
            };
            same(title, done.amount, to(amount, self.places()));
            total = total + ratio(done.amount);
        }
        same("total", self.total, total);
        same("per unit", self.each, to(total / ratio(self.per), self.digits));
        let mut rate = ratio(self.each);
        for (say, said) in &self.says {
            let (step, said) = (ratio(say.to), ratio(*said));
            let over = said - rate;
            let near = match say.way {
                Way::Up => over.signum() >= 0 && over < step,
                Way::Down => over.signum() <= 0 && -over < step,
                Way::Nearest => over.abs() * Ratio::int(2) <= step,
            };
            if !near || (said / step).denom() != 1 {
                breaks.push(format!("said {}, of {}", plain(said), plain(rate)));
            }
            rate = said;
        }
        if ratio(self.rate) != rate {
            breaks.push(format!("rate: {}, reckoned {}", self.rate, plain(rate)));
        }
        breaks
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use rust_decimal::Decimal;

    use super::super::tests::analysis;
    use super::super::{Say, work_out};

    /// Said a whole step beyond what the way and the step allow, with a rate that follows.
    #[test]
    fn a_step_too_far_is_found() {
        for (say, by) in [("up 10", 10), ("down 10", -10), ("nearest 10", 10)] {
            let mut analysis = analysis(Vec::new());
            analysis.says = Say::read_all(say).unwrap_or_default();
            let mut done = work_out(&analysis).unwrap();
            assert_eq!(done.breaks(), Vec::<String>::new());
            done.says.iter_mut().for_each(|(_, said)| *said += Decimal::from(by));
            done.rate += Decimal::from(by);
            assert_eq!(done.breaks().len(), 1, "{say}");
        }
    }
}
