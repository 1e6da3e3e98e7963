//! The chain of additions, and the offered total rounded up as its last line.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use crate::bill::{AddedOn, Addition, Bill};
use crate::decimal;
use crate::pricing::amounts::{Reader, extended, held};
use crate::pricing::sum;
use crate::problem::Problem;
use crate::words::Phrase;

/// The name of the measured works in `on`.
const MEASURED: &str = "measured";

/// An addition as the job file asks for it.
#[derive(Clone, Debug)]
pub(super) struct Step {
    title: String,
    /// Per cent and what it is taken on, or a fixed amount.
    how: How,
}

#[derive(Clone, Debug)]
enum How {
    Percent(Decimal, AddedOn),
    Amount(Decimal),
}

impl Step {
    /// Without its title, where only the total is asked for.
    pub(super) fn untitled(mut self) -> Self {
        self.title = String::new();
        self
    }
}

/// Reads all additions; one with a problem is left out, and the problem told.
pub(super) fn steps(money: &Reader<'_>, problems: &mut Vec<Problem>) -> Vec<Step> {
    (0..money.job.count_of("additions.list")).filter_map(|i| step(money, i, problems)).collect()
}

fn step(money: &Reader<'_>, i: usize, problems: &mut Vec<Problem>) -> Option<Step> {
    let entry = format!("additions.list[{i}]");
    let path = |key: &str| format!("{entry}.{key}");
    let title = money.job.text(&path("title")).to_owned();
    let how = if money.job.has(&path("percent")) {
        let percent = money.number(&path("percent"), problems);
        let on = taken_on(money, i, &path("on"), problems);
        How::Percent(percent?, on?)
    } else if money.job.has(&path("amount")) {
        How::Amount(money.amount(&path("amount"), problems)?)
    } else {
        problems.push(money.missing(&entry, "give percent (with or without on), or amount alone"));
        return None;
    };
    Some(Step { title, how })
}

/// What each addition is taken on; one with a problem is left out.
pub(super) fn all_taken_on(money: &Reader<'_>, problems: &mut Vec<Problem>) -> Vec<AddedOn> {
    let on = |i| format!("additions.list[{i}].on");
    (0..money.job.count_of("additions.list")).filter_map(|i| taken_on(money, i, &on(i), problems)).collect()
}

/// What the percentage of addition `i` is taken on.
fn taken_on(money: &Reader<'_>, i: usize, path: &str, problems: &mut Vec<Problem>) -> Option<AddedOn> {
    let names = money.job.texts(path);
    if names.is_empty() {
        return Some(AddedOn::Running);
    }
    let before: Vec<&str> = (0..i).map(|j| money.job.text(&format!("additions.list[{j}].title"))).collect();
    let mut refuse = |code, message: String, hint: String| {
        let problem = Problem::error(code, money.job.place(path), message).label("taken on this");
        problems.push(problem.hint(hint));
    };
    let mut at = Vec::new();
    let mut clear = true;
    for name in names.iter().filter(|n| *n != MEASURED) {
        let stands: Vec<usize> = (0..i).filter(|j| before.get(*j) == Some(&name.as_str())).collect();
        let (message, hint) = match stands[..] {
            [one] if !at.contains(&one) => {
                at.push(one);
                continue;
            }
            [_] => (format!("{path} names `{name}` twice"), "name it once".to_owned()),
            [] => {
                let known = [&[MEASURED], &before[..]].concat().join(", ");
                (
                    format!("{path}: no addition `{name}` stands before this one"),
                    format!("it may name: {known}"),
                )
            }
            _ => (
                format!("{path}: more than one addition is called `{name}`"),
                "give each a title of its own".to_owned(),
            ),
        };
        clear = false;
        refuse("R048", message, hint);
    }
    if !names.iter().any(|n| n == MEASURED) {
        let all = [MEASURED].into_iter().chain(names.iter().map(String::as_str));
        let list = all.map(|n| format!("\"{n}\"")).collect::<Vec<_>>().join(", ");
        let hint = format!("write on = [{list}], or give the addition as an amount");
        refuse("R049", format!("{path} leaves out the measured works: that is not reckoned here"), hint);
        clear = false;
    }
    if !clear {
        return None;
    }
    at.sort_unstable();
    Some(if at.is_empty() { AddedOn::Measured } else { AddedOn::Titles(at) })
}

/// Adds up the bill: gives the total; `None` where a figure is too large.
pub(super) fn add_up(bill: &mut Bill, steps: &[Step]) -> Option<Decimal> {
    let measured = bill.measured?;
    let sides = bill.preliminaries.iter().chain(&bill.provisional).map(|r| r.amount);
    let mut running = sum(sides.chain([measured]))?;
    let mut done: Vec<Addition> = Vec::new();
    for Step { title, how } in steps {
        let (percent, on, base, amount) = match how {
            How::Amount(amount) => (None, &AddedOn::Amount, Decimal::ZERO, *amount),
            How::Percent(percent, on) => {
                let base = base(on, measured, running, &done)?;
                let share = decimal::product(*percent, Decimal::new(1, 2))?;
                (Some(*percent), on, base, extended(base, share, bill.currency.digits)?)
            }
        };
        running = sum([running, amount])?;
        done.push(Addition { title: title.clone(), percent, base, on: on.clone(), amount });
    }
    if let Some(step) = bill.say {
        let amount = up_to(running, step)?;
        let title = Phrase::new("addition-say").to_string();
        done.push(Addition { title, percent: None, base: running, on: AddedOn::Amount, amount });
        running = sum([running, amount])?;
    }
    bill.additions = done;
    Some(running)
}

fn base(on: &AddedOn, measured: Decimal, running: Decimal, done: &[Addition]) -> Option<Decimal> {
    match on {
        AddedOn::Running => Some(running),
        AddedOn::Measured => Some(measured),
        AddedOn::Titles(at) => {
            sum(at.iter().filter_map(|i| done.get(*i)).map(|a| a.amount).chain([measured]))
        }
        AddedOn::Amount => Some(Decimal::ZERO),
    }
}

/// What is missing to the next multiple of a step: 0 on a multiple.
fn up_to(total: Decimal, step: Decimal) -> Option<Decimal> {
    let (total, step) = (decimal::ratio(total), decimal::ratio(step));
    let whole = Ratio::ZERO - (Ratio::ZERO - total / step).floor();
    held(super::amounts::exact(whole * step - total)?)
}
