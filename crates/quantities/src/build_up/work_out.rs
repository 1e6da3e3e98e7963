//! The evaluator: quantities and amounts rounded once each, percentages of what stands before them.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use super::{Analysis, Cost, Group, Line, OnCost, PLACES, Worked, WorkedLine, WorkedOnCost};
use crate::decimal::{ratio, rounded};
use crate::pricing::LARGEST;

/// Words for all lines in `on`.
pub(super) const COST: &str = "cost";

const HUNDRED: Ratio = Ratio::int(100);

/// Works an analysis out: what is printed is what is multiplied. A quantity is rounded to [`PLACES`], an amount to the
/// currency and two places at least, the rate of one unit to the currency; then it is said as the steps ask.
///
/// # Errors
/// The word of an `on` that names nothing before it; an empty word where a figure is too large to be reckoned exactly.
pub fn work_out(analysis: &Analysis) -> Result<Worked, String> {
    let places = analysis.digits.max(2);
    let mut lines: Vec<WorkedLine> = Vec::new();
    for line in &analysis.lines {
        let done = self::line(line, &lines, places)?;
        lines.push(done);
    }
    let cost = sum(lines.iter().map(|l| l.amount))?;
    let mut on_costs: Vec<WorkedOnCost> = Vec::new();
    for on_cost in &analysis.on_costs {
        let done = self::on_cost(on_cost, &lines, &on_costs, places)?;
        on_costs.push(done);
    }
    let total = sum(on_costs.iter().map(|o| o.amount).chain([cost]))?;
    let each = held(ratio(total) / ratio(analysis.per), analysis.digits)?;
    let mut rate = each;
    let mut says = Vec::new();
    for say in &analysis.says {
        // A multiple of the step has no more places than the step.
        rate = held(say.of(ratio(rate)), say.to.scale().max(analysis.digits))?;
        says.push((*say, rate));
    }
    Ok(Worked {
        build_up: (String::new(), String::new()),
        per: analysis.per,
        unit: analysis.unit.clone(),
        lines,
        cost,
        on_costs,
        total,
        each,
        says,
        rate,
        digits: analysis.digits,
        day: None,
    })
}

fn line(line: &Line, before: &[WorkedLine], places: u32) -> Result<WorkedLine, String> {
    let (quantity, exact, on) = match &line.cost {
        Cost::Priced { quantity, rate, .. } => {
            let quantity = held(*quantity, PLACES)?;
            (quantity, ratio(quantity) * ratio(*rate), Vec::new())
        }
        Cost::Percent(percent, on) => {
            let on = lines_of(on, before)?;
            let base = sum(on.iter().filter_map(|i| before.get(*i)).map(|l| l.amount))?;
            (base, ratio(base) * ratio(*percent) / HUNDRED, on)
        }
    };
    let mut amount = held(exact, places)?;
    if let Some(say) = line.say {
        amount = held(say.of(exact), places)?;
    }
    Ok(WorkedLine { line: line.clone(), quantity, amount, on })
}

/// The lines that words name, in order, each once: groups, codes, `cost` or nothing for all.
fn lines_of(words: &[String], before: &[WorkedLine]) -> Result<Vec<usize>, String> {
    let all = || (0..before.len()).collect::<Vec<_>>();
    if words.is_empty() {
        return Ok(all());
    }
    let mut found: Vec<usize> = Vec::new();
    for word in words {
        found.extend(named(word, before).ok_or_else(|| word.clone())?);
    }
    found.sort_unstable();
    found.dedup();
    Ok(found)
}

/// The lines of one word; nothing where it is no word for lines. A group without lines has none.
fn named(word: &str, before: &[WorkedLine]) -> Option<Vec<usize>> {
    if word == COST {
        return Some((0..before.len()).collect());
    }
    let group = Group::ALL.into_iter().find(|g| g.id() == word);
    let fits = |l: &WorkedLine| group.map_or(l.line.code == word, |g| l.line.group == g);
    let found: Vec<usize> = (0..before.len()).filter(|i| before.get(*i).is_some_and(fits)).collect();
    (group.is_some() || !found.is_empty()).then_some(found)
}

fn on_cost(
    on_cost: &OnCost,
    lines: &[WorkedLine],
    before: &[WorkedOnCost],
    places: u32,
) -> Result<WorkedOnCost, String> {
    let (mut on, mut earlier) = (Vec::new(), Vec::new());
    if on_cost.on.is_empty() {
        (on, earlier) = ((0..lines.len()).collect(), (0..before.len()).collect());
    }
    for word in &on_cost.on {
        match before.iter().position(|o| o.on_cost.title == *word) {
            Some(at) => earlier.push(at),
            None => on.extend(named(word, lines).ok_or_else(|| word.clone())?),
        }
    }
    for list in [&mut on, &mut earlier] {
        list.sort_unstable();
        list.dedup();
    }
    let amounts = on.iter().filter_map(|i| lines.get(*i)).map(|l| l.amount);
    let base = sum(amounts.chain(earlier.iter().filter_map(|i| before.get(*i)).map(|o| o.amount)))?;
    let amount = held(share(on_cost, ratio(base)), places)?;
    Ok(WorkedOnCost { on_cost: on_cost.clone(), lines: on, earlier, base, amount })
}

/// The percentage of a base, or what it is where the base with it makes the whole.
pub(super) fn share(on_cost: &OnCost, base: Ratio) -> Ratio {
    let percent = ratio(on_cost.percent);
    base * percent / if on_cost.gross_up { HUNDRED - percent } else { HUNDRED }
}

fn held(value: Ratio, places: u32) -> Result<Decimal, String> {
    rounded(value, places).filter(|d| d.abs() <= Decimal::from(LARGEST)).ok_or_else(String::new)
}

fn sum(mut amounts: impl Iterator<Item = Decimal>) -> Result<Decimal, String> {
    amounts.try_fold(Decimal::ZERO, |sum, a| sum.checked_add(a)).ok_or_else(String::new)
}
