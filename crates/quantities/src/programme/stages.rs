//! Which stages a job has, and when each is done.

use super::Taken;
use crate::job::{Day, Job};
use crate::problem::Problem;
use crate::rates::{Times, Wait};
use crate::sheet::Sheet;
use crate::stage::Stage;
use crate::works::{self, MadeOf};

/// A stage in the calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Span {
    pub(super) stage: Stage,
    /// First day of work.
    pub(super) from: Day,
    /// Last day of work.
    pub(super) to: Day,
    /// The day its concrete is poured, where it has any.
    pub(super) pour: Option<Day>,
    /// Earliest day by what has to harden before; later than `from` where a real date was earlier.
    pub(super) earliest: Day,
}

impl Span {
    /// What hardens counts from here.
    pub(super) fn done(&self) -> Day {
        self.pour.unwrap_or(self.to)
    }
}

/// Working days: all, or all but one day of the week (Monday is 0).
#[derive(Clone, Copy, Debug)]
pub(super) struct Week(pub(super) Option<i64>);

impl Week {
    pub(super) fn of(job: &Job) -> Self {
        Self(match job.text("programme.rest_day") {
            "friday" => Some(4),
            "saturday" => Some(5),
            "sunday" => Some(6),
            _ => None,
        })
    }

    /// This day, or the next one on which work goes on.
    pub(super) fn from(self, day: Day) -> Day {
        if self.0 == Some(day.weekday()) { day.plus(1) } else { day }
    }

    /// This day, or the last one before it on which work went on.
    pub(super) fn until(self, day: Day) -> Day {
        if self.0 == Some(day.weekday()) { day.plus(-1) } else { day }
    }

    /// The last of so many working days, the first of them `day`.
    pub(super) fn last(self, day: Day, days: u32) -> Day {
        (1..days).fold(day, |day, _| self.from(day.plus(1)))
    }
}

/// Stages of a job, in order: those with an item, setting out and finishing always, striking where a soffit is formed.
pub(super) fn present(sheet: &Sheet) -> Vec<Stage> {
    let soffits: Vec<&str> = works::all().iter().filter_map(|w| w.forms.soffit).map(|w| w.id).collect();
    let has = |stage: Stage| match stage {
        Stage::SetOut | Stage::Finish => true,
        Stage::Strike => sheet.items.iter().any(|i| soffits.contains(&i.work.id)),
        _ => sheet.items.iter().any(|i| i.stage == stage),
    };
    Stage::ALL.into_iter().filter(|s| has(*s)).collect()
}

/// Is there an item of one of these works (`bars`, or `bars@base` in that stage)? Of no works: always.
pub(super) fn any(sheet: &Sheet, works: &[String], stage: Option<Stage>) -> bool {
    let one = |work: &String| {
        let (id, at) = work.split_once('@').map_or((work.as_str(), None), |(id, at)| (id, Some(at)));
        let here = |s: Stage| at.is_none_or(|at| at == s.id()) && stage.is_none_or(|stage| stage == s);
        sheet.items.iter().any(|i| i.work.id == id && here(i.stage))
    };
    works.is_empty() || works.iter().any(one)
}

/// Is concrete poured in a stage?
pub(super) fn pours(sheet: &Sheet, stage: Stage) -> bool {
    sheet.items.iter().any(|i| i.stage == stage && i.work.made_of == MadeOf::Concrete)
}

/// The longest of the waits of a kind that count after a stage, in days; of none: those that count after every stage.
pub(crate) fn longest<'a>(
    times: &'a Times,
    sheet: &Sheet,
    kind: &str,
    after: impl Into<Option<Stage>>,
) -> Option<&'a Wait> {
    let after = after.into();
    let fits = |w: &&Wait| w.used && w.kind == kind && w.after == after && any(sheet, &w.works, None);
    times.waits.iter().filter(fits).max_by_key(|w| w.days)
}

/// First and last day of the water test, after the curing of a stage that ends on `done`.
pub(super) fn water_test(times: &Times, sheet: &Sheet, stage: Stage, done: Day) -> Option<[Day; 2]> {
    let test = longest(times, sheet, "water-test", stage)?;
    let cured = longest(times, sheet, "curing", stage).map_or(done, |w| done.plus(w.days.into()));
    Some([cured.plus(1), cured.plus(1 + i64::from(test.days))])
}

/// The first day on which what stands on a stage may begin.
fn ready(times: &Times, sheet: &Sheet, span: &Span) -> Day {
    let done = span.done();
    let after = |kind| longest(times, sheet, kind, span.stage).map(|w| done.plus(i64::from(w.days)));
    let tested = water_test(times, sheet, span.stage, done).map(|[_, to]| to.plus(1));
    // Plaster is cured before anything goes on, concrete while it does.
    let cured = after("curing").map(|d| d.plus(1));
    [Some(span.to.plus(1)), after("load"), cured, tested].into_iter().flatten().max().unwrap_or(span.to)
}

/// All stages one after the other from the first day, real dates of pours over planned ones.
pub(super) fn spans(
    job: &Job,
    times: &Times,
    sheet: &Sheet,
    taken: &[Taken],
    start: Day,
    problems: &mut Vec<Problem>,
) -> Vec<Span> {
    let week = Week::of(job);
    let mut spans: Vec<Span> = Vec::new();
    let mut real: Option<(Stage, Day)> = None;
    for Taken { stage, days, .. } in taken {
        let (stage, days) = (*stage, *days);
        let mut earliest = spans.last().map_or(start, |last| ready(times, sheet, last));
        if stage == Stage::Strike {
            let props = spans.iter().filter_map(|s| {
                longest(times, sheet, "props", s.stage).map(|w| s.done().plus(w.days.into()))
            });
            earliest = earliest.max(props.max().unwrap_or(earliest));
        }
        let mut from = week.from(earliest);
        let mut to = week.last(from, days);
        let mut pour = pours(sheet, stage).then_some(to);
        let path = format!("programme.poured.{}", stage.id());
        if let Some(day) = pour.and_then(|_| Day::read(job.text(&path))) {
            problems.extend(out_of_order(job, &path, stage, day, start, real));
            let least = real.map_or(start, |(_, on)| on.max(start));
            real = Some((stage, day));
            if day < from {
                from = day.plus(1 - i64::from(days)).max(least).min(day);
                // What went before was done earlier than planned, too.
                for before in &mut spans {
                    before.to = before.to.min(from).max(start);
                    before.from = before.from.min(before.to);
                    before.pour = before.pour.map(|p| p.min(before.to));
                }
            }
            (to, pour) = (day, Some(day));
        }
        spans.push(Span { stage, from, to, pour, earliest });
    }
    spans
}

fn out_of_order(
    job: &Job,
    path: &str,
    stage: Stage,
    day: Day,
    start: Day,
    before: Option<(Stage, Day)>,
) -> Option<Problem> {
    if day < start {
        let what = format!("{path}: {} is poured before the work begins", stage.id());
        let problem = Problem::error("J120", job.place(path), what).label(format!("the start is {start}"));
        return Some(problem.hint("change the date, or programme.start"));
    }
    let (earlier, on) = before.filter(|(_, on)| *on > day)?;
    let what = format!("{path}: {} is poured before {}", stage.id(), earlier.id());
    let problem = Problem::error("J121", job.place(path), what);
    Some(
        problem
            .label(format!("{} was poured on {on}", earlier.id()))
            .hint("stages stand on one another: look at both dates"),
    )
}

/// Dates of pours that nothing can be made of.
pub(super) fn idle_pours(job: &Job, sheet: &Sheet, problems: &mut Vec<Problem>) {
    for stage in Stage::ALL {
        let path = format!("programme.poured.{}", stage.id());
        if !job.has(&path) {
            continue;
        }
        if !job.has("programme.start") {
            let what = format!("{path}: there is no start to count from");
            let problem = Problem::error("J120", job.place(&path), what).label("no programme.start");
            problems.push(problem.hint("write start = \"2026-12-01\" under [programme]"));
        } else if !pours(sheet, stage) {
            let what = format!("{path}: no concrete is poured in the stage {}", stage.id());
            let problem = Problem::error("J122", job.place(&path), what).label("nothing to pour");
            let with: Vec<&str> =
                Stage::ALL.into_iter().filter(|s| pours(sheet, *s)).map(Stage::id).collect();
            problems.push(problem.hint(format!("stages of this job with concrete: {}", with.join(", "))));
        }
    }
}
