//! How far the work is at a date, what it is worth, and what is due now.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::job::{Day, Job, suggestion};
use tankwright_quantities::pricing::MoneyReader;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::stage::Stage;

use super::Asked;
use super::schedule::Schedule;
use super::spread::Spread;
use super::terms::{Terms, share};
use crate::paid::Paid;

/// What somebody saw on a day: per cent of stages, goods on the site, provisional items.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Looked {
    /// The day.
    pub date: Day,
    /// Per cent done; stages left out are as they were.
    pub done: BTreeMap<Stage, Decimal>,
    /// Worth of goods that are not built in yet.
    pub materials: Decimal,
    /// Provisional items done so far, at the bill's rates; left out: as it was.
    pub provisional: Option<Decimal>,
    /// By whom, or what was seen.
    pub note: String,
    /// Said on the command line, which has no word for goods and provisional items.
    pub of_line: bool,
}

/// A stage at a date.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Valued {
    /// Which.
    pub stage: Stage,
    /// What all of it is worth.
    pub worth: Decimal,
    /// Per cent done.
    pub percent: Decimal,
    /// What is done.
    pub done: Decimal,
}

/// The account at a date.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Valuation {
    /// The date.
    pub at: Day,
    /// The stage that was asked for in place of a day: it and all before it are taken as done.
    pub up_to: Option<Stage>,
    /// The last day on which somebody looked; none: nothing was seen yet.
    pub seen: Option<Day>,
    /// What was written down then.
    pub note: String,
    /// Every stage that is worth something.
    pub stages: Vec<Valued>,
    /// Provisional items done, with their share of the additions.
    pub provisional: Decimal,
    /// Goods on the site.
    pub materials: Decimal,
    /// Goods of an earlier valuation that the command line says nothing of: the day, and what they were worth.
    pub left_out: Option<(Day, Decimal)>,
    /// All of it.
    pub gross: Decimal,
    /// Held back of it.
    pub held: Decimal,
    /// Of what was held, what is due again: all is built, and the days have gone by.
    pub released: Decimal,
    /// What is due in all by now: the work less what is held, and never less than the deposit.
    pub owed: Decimal,
    /// Is that the deposit, because the work is not worth as much yet?
    pub deposit_stands: bool,
    /// Paid up to the date.
    pub paid: Decimal,
    /// Due now; nothing where more was paid.
    pub due: Decimal,
    /// Paid more than is due by now.
    pub ahead: Decimal,
}

/// What is wrong with where it was said.
struct Said<'a> {
    job: &'a Job,
    /// Path of the entry; none: the command line.
    entry: Option<String>,
}

impl Said<'_> {
    fn tell(&self, code: [&'static str; 2], key: &str, what: &str, label: &str, hint: &str) -> Problem {
        let [of_file, of_line] = code;
        match &self.entry {
            Some(entry) => {
                let path = format!("{entry}.{key}");
                let place = self.job.place(&path);
                Problem::error(of_file, place, format!("{path}: {what}")).label(label).hint(hint)
            }
            None => Problem::error(of_line, None, format!("--done: {what}")).hint(hint),
        }
    }
}

/// Every `[[valuation]]` of the job file in order of its day, with what the command line says as the last.
///
/// # Errors
/// J201 to J204, J209, R047, R050 of the job file, U060 and U061 of the command line, all together.
pub(super) fn looked(
    e: &Estimate,
    job: &Job,
    spread: &Spread,
    asked: &Asked,
) -> Result<Vec<Looked>, Vec<Problem>> {
    let mut problems = Vec::new();
    let mut all: Vec<(Looked, Said<'_>)> =
        (0..job.count_of("valuation")).filter_map(|i| read(e, job, i, &mut problems)).collect();
    all.sort_by_key(|(l, _)| l.date);
    for pair in all.windows(2) {
        if let [(first, _), (second, said)] = pair
            && first.date == second.date
        {
            let what = "this day has a valuation already";
            let hint = "one entry a day: put them together, or change a date";
            problems.push(said.tell(["J204", "U060"], "date", what, "the same day", hint));
        }
    }
    if let Some(at) = asked.at.filter(|_| !asked.done.is_empty()) {
        all.retain(|(l, _)| l.date < at);
        let said = Said { job, entry: None };
        let looked = of_line(e, asked, at, &said, &mut problems);
        all.push((looked, said));
    }
    let mut now: BTreeMap<Stage, (Decimal, Day)> = BTreeMap::new();
    for (looked, said) in &all {
        for (stage, percent) in &looked.done {
            check(e, spread, *stage, *percent, now.get(stage).copied(), said, &mut problems);
            now.insert(*stage, (*percent, looked.date));
        }
        let has = e.bill.provisional.iter().any(|r| !r.amount.is_zero());
        if looked.provisional.is_some_and(|p| !p.is_zero()) && !has {
            let what = "the bill has no provisional items";
            let hint = "leave it out, or give the job a [[provisional]] entry with its rate";
            problems.push(said.tell(["J209", "U060"], "provisional", what, "nothing to value", hint));
        }
    }
    if problems.is_empty() { Ok(all.into_iter().map(|(l, _)| l).collect()) } else { Err(problems) }
}

fn read<'a>(e: &Estimate, job: &'a Job, i: usize, problems: &mut Vec<Problem>) -> Option<(Looked, Said<'a>)> {
    let entry = format!("valuation[{i}]");
    let path = |key: &str| format!("{entry}.{key}");
    let date = Day::read(job.text(&path("date")))?;
    let money = MoneyReader { job, currency: Some(&e.bill.currency) };
    let mut done = BTreeMap::new();
    for stage in Stage::ALL {
        let percent = money.number(&path(&format!("done.{}", stage.id())), problems);
        done.extend(percent.map(|p| (stage, p)));
    }
    let materials = money.amount(&path("materials"), problems).unwrap_or_default();
    let provisional = money.amount(&path("provisional"), problems);
    let note = job.text(&path("note")).to_owned();
    Some((
        Looked { date, done, materials, provisional, note, of_line: false },
        Said { job, entry: Some(entry) },
    ))
}

/// What the command line says.
fn of_line(e: &Estimate, asked: &Asked, at: Day, said: &Said<'_>, problems: &mut Vec<Problem>) -> Looked {
    let mut done = BTreeMap::new();
    let ids: Vec<&str> = super::spread::stages(e).iter().map(|s| s.id()).collect();
    for (id, percent) in &asked.done {
        let hint =
            || format!("{}stages of this job: {}", suggestion(id, ids.iter().copied()), ids.join(", "));
        match Stage::ALL.into_iter().find(|s| s.id() == id) {
            Some(stage) if done.insert(stage, *percent).is_some() => {
                let what = format!("the stage {id} stands twice");
                problems.push(said.tell(["J204", "U060"], "", &what, "", "say each stage once"));
            }
            Some(_) => {}
            None => {
                let what = format!("there is no stage \"{id}\"");
                problems.push(said.tell(["J203", "U060"], "", &what, "", &hint()));
            }
        }
    }
    Looked { date: at, done, materials: Decimal::ZERO, provisional: None, note: String::new(), of_line: true }
}

fn check(
    e: &Estimate,
    spread: &Spread,
    stage: Stage,
    percent: Decimal,
    before: Option<(Decimal, Day)>,
    said: &Said<'_>,
    problems: &mut Vec<Problem>,
) {
    let (id, key) = (stage.id(), format!("done.{}", stage.id()));
    if !spread.stages.iter().any(|(s, _)| *s == stage) {
        let ids: Vec<&str> = super::spread::stages(e).iter().map(|s| s.id()).collect();
        let hint = format!("stages of this job: {}", ids.join(", "));
        let what = format!("this job has no stage {id}");
        problems.push(said.tell(["J203", "U060"], &key, &what, "not built in this job", &hint));
    } else if percent > Decimal::ONE_HUNDRED {
        let (what, label) = (format!("{id} is more than 100 per cent done"), format!("this is {percent}"));
        let hint = "a stage that grew is a variation: change the job, or have it agreed as one";
        problems.push(said.tell(["J201", "U061"], &key, &what, &label, hint));
    } else if let Some((most, day)) = before.filter(|(most, _)| percent < *most) {
        let what = format!("{id} was {most} per cent done on {day}, and is {percent} now");
        let hint = "work that is taken down again is a variation; else correct one of the two";
        problems.push(said.tell(["J202", "U061"], &key, &what, "less than before", hint));
    }
}

/// The account at a date. `None` beyond what can be reckoned exactly.
pub(super) fn valuation(
    e: &Estimate,
    (terms, spread, schedule): (&Terms, &Spread, &Schedule),
    looked: &[Looked],
    paid: &Paid,
    at: Day,
) -> Option<Valuation> {
    let (digits, total) = (e.bill.currency.digits, e.bill.total?);
    let mut now: BTreeMap<Stage, Decimal> = BTreeMap::new();
    let (mut provisional, mut built) = (Decimal::ZERO, None);
    let worthy = || spread.stages.iter().filter(|(_, w)| !w.total().is_zero());
    let up_to: Vec<&Looked> = looked.iter().filter(|l| l.date <= at).collect();
    for one in &up_to {
        now.extend(one.done.iter().map(|(s, p)| (*s, *p)));
        provisional = one.provisional.unwrap_or(provisional);
        let all = worthy().all(|(s, _)| now.get(s) == Some(&Decimal::ONE_HUNDRED));
        built = built.or(all.then_some(one.date));
    }
    let value = |(stage, worth): &(Stage, super::Worth)| {
        let (worth, percent) = (worth.total(), now.get(stage).copied().unwrap_or_default());
        Some(Valued { stage: *stage, worth, percent, done: share(percent, worth, digits)? })
    };
    let stages: Vec<Valued> = worthy().map(value).collect::<Option<_>>()?;
    let provisional = of_provisional(spread, provisional, digits)?;
    let last = up_to.last();
    let before = up_to.iter().rev().nth(1).filter(|b| !b.materials.is_zero());
    let left_out = before.filter(|_| last.is_some_and(|l| l.of_line)).map(|b| (b.date, b.materials));
    let materials = last.map_or(Decimal::ZERO, |l| l.materials);
    let gross =
        stages.iter().map(|v| v.done).try_fold(provisional.checked_add(materials)?, Decimal::checked_add)?;
    let held = terms.held(gross, total, digits)?;
    let rest = built.is_some_and(|day| at >= day.plus(i64::from(terms.days)));
    let released = match built {
        Some(_) if rest => held,
        Some(_) => terms.released(held, digits)?,
        None => Decimal::ZERO,
    };
    let net = gross - held + released;
    let deposit = schedule.deposit.amount;
    let paid = paid.up_to(at)?;
    let owed = net.max(deposit);
    let due = owed.checked_sub(paid)?;
    Some(Valuation {
        at,
        up_to: None,
        seen: last.map(|l| l.date),
        note: last.map(|l| l.note.clone()).unwrap_or_default(),
        stages,
        provisional,
        materials,
        left_out,
        gross,
        held,
        released,
        owed,
        deposit_stands: deposit > net,
        paid,
        due: due.max(Decimal::ZERO),
        ahead: (-due).max(Decimal::ZERO),
    })
}

/// Provisional items as measured, with the additions that the bill has on them.
fn of_provisional(spread: &Spread, done: Decimal, digits: u32) -> Option<Decimal> {
    use tankwright_quantities::decimal::{ratio, rounded};
    let bill = spread.provisional.provisional;
    if bill.is_zero() || done.is_zero() {
        return Some(Decimal::ZERO);
    }
    rounded(ratio(spread.provisional.total()) * ratio(done) / ratio(bill), digits)
}
