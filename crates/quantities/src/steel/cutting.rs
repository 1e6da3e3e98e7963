//! Cutting plans: by grade and diameter the fewest bars for the whole job, proved; then as late as can be.
//!
//! The search is in the crate `cutting` and counts its steps, so that every machine finds the same plan. What it
//! finds is counted anew here before anyone sees it.

use std::collections::BTreeMap;
use std::fmt;
use std::panic::resume_unwind;
use std::thread::JoinHandle;

use tankwright_cutting::plan::{KEPT, Pattern as Cut};
use tankwright_cutting::{
    Effort, InStages, Instance, Piece, Plan, StageAnswer, StagePiece, Stock, check, solve_in_stages,
};

use super::{BarKind, Cutting, Mark, Pattern};
use crate::stage::Stage;

/// Steps of the search for the fewest bars: a tenth of a second or two, where a list is hard.
const FEWEST: Effort<'_> = Effort::steps(200_000_000);
/// Steps of a search for later ones, for each stage: some milliseconds.
const LATER: Effort<'_> = Effort::steps(10_000_000);

/// A grade and diameter without a plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Uncut {
    /// Grade and diameter.
    pub bar: BarKind,
    /// Why.
    pub why: Why,
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// A mark is longer than a bar: its number and length in mm.
    TooLong {
        /// The mark.
        mark: String,
        /// Its cutting length, mm.
        length_mm: i64,
    },
    /// Lengths or numbers beyond what is cut: its words.
    Refused(String),
    /// A fault of this program: a plan that does not pass the check.
    Fault(String),
}

impl fmt::Display for Uncut {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let id = self.bar.id();
        match &self.why {
            Why::TooLong { mark, length_mm } => {
                write!(f, "{id}: mark {mark}, {length_mm} mm, longer than a bar")
            }
            Why::Refused(what) => write!(f, "{id}: no cutting plan: {what}"),
            Why::Fault(what) => write!(f, "{id}: the cutting plan does not pass its check: {what}"),
        }
    }
}

/// Plans, or every kind of bar that has none.
type Plans = Result<Vec<Cutting>, Vec<Uncut>>;

/// A plan in the making: a search takes as long as all the measuring, and waits for none of it.
#[derive(Debug)]
pub struct Planning(JoinHandle<Plans>);

impl Planning {
    /// Begins a [`plan`].
    pub(super) fn begin(marks: Vec<Mark>, stock_mm: i64, kerf_mm: i64) -> Self {
        Self(std::thread::spawn(move || plan(&marks, stock_mm, kerf_mm)))
    }

    /// Waits for it.
    pub(super) fn end(self) -> Plans {
        self.0.join().unwrap_or_else(|panic| resume_unwind(panic))
    }
}

/// Plans the cutting of all marks, by grade and diameter, from bars of one length. Lengths in mm.
///
/// # Errors
/// Every kind of bar that has no plan.
pub fn plan(marks: &[Mark], stock_mm: i64, kerf_mm: i64) -> Plans {
    let mut kinds: BTreeMap<&BarKind, Vec<&Mark>> = BTreeMap::new();
    for mark in marks.iter().filter(|m| m.count > 0) {
        kinds.entry(&mark.bar).or_default().push(mark);
    }
    let one = |(bar, marks): &(&BarKind, Vec<&Mark>)| of_kind(bar, marks, stock_mm, kerf_mm);
    let kinds: Vec<_> = kinds.into_iter().collect();
    // The searches are most of what an estimate takes, and none knows of another.
    let done: Vec<_> = std::thread::scope(|scope| {
        let one = &one;
        let others: Vec<_> = kinds.iter().skip(1).map(|kind| scope.spawn(|| one(kind))).collect();
        let first = kinds.first().map(one);
        let join = |of: std::thread::ScopedJoinHandle<'_, _>| of.join().unwrap_or_else(|p| resume_unwind(p));
        first.into_iter().chain(others.into_iter().map(join)).collect()
    });
    let (mut plans, mut uncut) = (Vec::new(), Vec::new());
    for ((bar, _), done) in kinds.iter().zip(done) {
        match done {
            Ok(plan) => plans.push(plan),
            Err(why) => uncut.extend(why.into_iter().map(|why| Uncut { bar: (*bar).clone(), why })),
        }
    }
    if uncut.is_empty() { Ok(plans) } else { Err(uncut) }
}

fn of_kind(bar: &BarKind, marks: &[&Mark], stock_mm: i64, kerf_mm: i64) -> Result<Cutting, Vec<Why>> {
    let long = marks.iter().filter(|m| m.length_mm > stock_mm);
    let long: Vec<Why> =
        long.map(|m| Why::TooLong { mark: m.mark.clone(), length_mm: m.length_mm }).collect();
    if !long.is_empty() {
        return Err(long);
    }
    let mut stages: Vec<Stage> = marks.iter().map(|m| m.stage).collect();
    stages.sort_unstable();
    stages.dedup();
    let piece = |m: &&Mark| {
        let stage = stages.binary_search(&m.stage).unwrap_or(0);
        StagePiece { length: m.length_mm, count: m.count, stage }
    };
    let list = InStages { pieces: marks.iter().map(piece).collect(), stock: stock_mm, kerf: kerf_mm };
    let answer = solve_in_stages(&list, FEWEST, LATER).map_err(|failure| {
        let words = format!("{failure:?}");
        vec![match failure {
            tankwright_cutting::Failure::Refused(_) => Why::Refused(words),
            tankwright_cutting::Failure::Fault(_) => Why::Fault(words),
        }]
    })?;
    let plan = written(bar, &list, &stages, &answer);
    match wrong(marks, &plan) {
        None => Ok(plan),
        Some(what) => Err(vec![Why::Fault(what)]),
    }
}

/// An answer in the words of the schedule.
fn written(bar: &BarKind, list: &InStages, stages: &[Stage], answer: &StageAnswer) -> Cutting {
    let stage = |place: usize| stages.get(place).copied().unwrap_or(Stage::SetOut);
    let mut kept: BTreeMap<i64, u64> = BTreeMap::new();
    let mut patterns = Vec::with_capacity(answer.bars.len());
    for cut in &answer.bars {
        let mut pieces = Vec::new();
        for &(length, place, number) in &cut.pieces {
            pieces.extend((0..number).map(|_| (length, stage(place))));
        }
        let used: i64 = pieces.iter().map(|(mm, _)| mm + list.kerf).sum();
        let offcut_mm = (list.stock - used).max(0);
        if offcut_mm >= KEPT {
            *kept.entry(offcut_mm).or_default() += cut.times;
        }
        patterns.push(Pattern { stage: stage(cut.stage()), times: cut.times, pieces, offcut_mm });
    }
    let bought = stages.iter().zip(&answer.bought).map(|(s, n)| (*s, *n)).filter(|b| b.1 > 0).collect();
    Cutting {
        bar: bar.clone(),
        stock_mm: list.stock,
        kerf_mm: list.kerf,
        bars: answer.total(),
        bound: answer.bound,
        latest: answer.latest,
        patterns,
        bought,
        kept: kept.into_iter().rev().collect(),
    }
}

/// What is wrong with a plan, if anything: checked as a whole by the crate's checker, by stages here.
fn wrong(marks: &[&Mark], plan: &Cutting) -> Option<String> {
    let instance = Instance {
        pieces: marks.iter().map(|m| Piece { length: m.length_mm, count: m.count }).collect(),
        stocks: vec![Stock { length: plan.stock_mm, price: 1, limit: None }],
        kerf: plan.kerf_mm,
    };
    let cut = |p: &Pattern| Cut {
        stock: 0,
        pieces: p.pieces.iter().map(|(mm, _)| (*mm, 1)).collect(),
        times: p.times,
    };
    match check(&instance, &Plan { patterns: plan.patterns.iter().map(cut).collect() }) {
        Err(fault) => return Some(format!("{fault:?}")),
        Ok(totals) if totals.bought != plan.bars => return Some(format!("{} bars are cut", totals.bought)),
        Ok(_) => {}
    }
    let mut left: BTreeMap<(i64, Stage), i128> = BTreeMap::new();
    for mark in marks {
        *left.entry((mark.length_mm, mark.stage)).or_default() += i128::from(mark.count);
    }
    let mut bought: BTreeMap<Stage, u64> = BTreeMap::new();
    for pattern in &plan.patterns {
        for piece in &pattern.pieces {
            *left.entry(*piece).or_default() -= i128::from(pattern.times);
        }
        if pattern.pieces.iter().map(|(_, stage)| *stage).min() != Some(pattern.stage) {
            return Some(format!("a bar for {} without a piece for it", pattern.stage.id()));
        }
        *bought.entry(pattern.stage).or_default() += pattern.times;
    }
    if let Some(((mm, stage), n)) = left.into_iter().find(|(_, n)| *n != 0) {
        return Some(format!("{n} pieces of {mm} mm for {} are not cut", stage.id()));
    }
    let same = plan.bought.iter().copied().eq(bought) && plan.bound <= plan.bars;
    (!same).then(|| "bars bought by stage are not the bars of the plan".to_owned())
}

#[cfg(test)]
pub(super) mod tests {
    use tankwright_geometry::{Len, Ratio};

    use super::*;
    use crate::sheet::Times;
    use crate::steel::Number;
    use crate::words::Phrase;

    const STAGES: [Stage; 4] = [Stage::Base, Stage::WallsLower, Stage::RingBeam, Stage::Cover];

    pub(in crate::steel) fn mark(diameter: u32, length_mm: i64, count: u64, stage: Stage) -> Mark {
        Mark {
            mark: length_mm.to_string(),
            member: Phrase::new("bars-base-short"),
            bar: BarKind { grade: "Y".to_owned(), diameter },
            shape: "00",
            count,
            number: Number { members: 1, each: Times::Count(1) },
            dims: Vec::new(),
            sum: Len::fixed(length_mm * 10),
            length_mm,
            mass: Ratio::ZERO,
            stage,
            remarks: Vec::new(),
        }
    }

    #[test]
    fn fewest_bars_come_before_late_ones() -> Result<(), Vec<Uncut>> {
        // Stage 1 alone needs one bar (4 + 3 + 3); the rest then three. Three bars hold all: 4 + 6, 3 + 7, 3 + 7.
        let [first, second] = [Stage::Base, Stage::Cover];
        let marks = [(4, 1, first), (3, 2, first), (6, 1, second), (7, 2, second)];
        let marks = marks.map(|(m, n, stage)| mark(12, m * 1_000, n, stage));
        let plans = plan(&marks, 10_000, 0)?;
        assert_eq!(plans.len(), 1);
        let only = &plans[0];
        assert_eq!((only.bars, only.bound, only.latest), (3, 3, true));
        assert_eq!(only.bought, [(first, 3)]);
        assert_eq!(only.patterns[0].pieces, [(7_000, second), (3_000, first)]);
        assert_eq!((only.patterns[0].stage, only.patterns[0].times), (first, 2));
        assert!(only.kept.is_empty());
        Ok(())
    }

    #[test]
    fn kinds_are_planned_apart_and_offcuts_are_kept() -> Result<(), Vec<Uncut>> {
        // 12 000 - 4 x 2750 - 4 x 3 = 988; 12 000 - 2 x 5850 - 2 x 3 = 294, too short to keep.
        let marks =
            [mark(10, 2_750, 8, Stage::Base), mark(8, 5_850, 2, Stage::Cover), mark(8, 900, 0, Stage::Cover)];
        let plans = plan(&marks, 12_000, 3)?;
        let of = |p: &Cutting| (p.bar.id(), p.bars, p.bought.clone(), p.kept.clone());
        assert_eq!(plans.len(), 2);
        assert_eq!(of(&plans[0]), ("Y8".to_owned(), 1, vec![(Stage::Cover, 1)], vec![]));
        assert_eq!(of(&plans[1]), ("Y10".to_owned(), 2, vec![(Stage::Base, 2)], vec![(988, 2)]));
        assert_eq!(plan(&[], 12_000, 3)?, []);
        Ok(())
    }

    #[test]
    fn what_is_longer_than_a_bar_is_refused_by_its_mark() {
        let marks = [
            mark(10, 12_025, 1, Stage::Base),
            mark(10, 13_000, 1, Stage::Base),
            mark(8, 12_000, 1, Stage::Base),
        ];
        let why = plan(&marks, 12_000, 3).map_err(|u| u.iter().map(ToString::to_string).collect::<Vec<_>>());
        let long = |mm| format!("Y10: mark {mm}, {mm} mm, longer than a bar");
        assert_eq!(why, Err(vec![long(12_025), long(13_000)]));
        let refused = |mm, n, kerf| plan(&[mark(8, mm, n, Stage::Base)], 12_000, kerf).is_err();
        assert!(refused(0, 1, 0) && refused(-5, 1, 0) && refused(5, u64::MAX, 0) && refused(5, 1, -1));
        assert!(plan(&[mark(8, 5, 1, Stage::Base)], 0, 0).is_err());
    }

    #[test]
    fn random_marks_are_all_there_and_no_bar_too_many() -> Result<(), Vec<Uncut>> {
        let mut seed = 5_u64;
        let mut dice = |below: u64| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) % below
        };
        let (mut least, mut latest) = (0, 0);
        for round in 0..60 {
            let mut marks = Vec::new();
            for _ in 0..=dice(8) {
                let mm = i64::try_from(12 + dice(400)).unwrap_or(12) * 25;
                let stage = STAGES[usize::try_from(dice(4)).unwrap_or(0)];
                marks.push(mark(10, mm, 1 + dice(25), stage));
            }
            let kerf = [0, 3, 5][round % 3];
            let plans = plan(&marks, 12_000, kerf)?;
            assert_eq!(plan(&marks, 12_000, kerf)?, plans);
            let pieces = marks.iter().map(|m| Piece { length: m.length_mm, count: m.count }).collect();
            let stocks = vec![Stock { length: 12_000, price: 1, limit: None }];
            let whole = tankwright_cutting::solve(&Instance { pieces, stocks, kerf }, FEWEST);
            assert_eq!(whole.map(|a| a.totals.bought), Ok(plans[0].bars));
            assert_eq!(plans[0].bought.iter().map(|b| b.1).sum::<u64>(), plans[0].bars);
            for stage in STAGES {
                let asked: u64 = marks.iter().filter(|m| m.stage == stage).map(|m| m.count).sum();
                let cut = plans[0].patterns.iter().map(|p| {
                    let pieces = p.pieces.iter().filter(|(_, s)| *s == stage).count();
                    u64::try_from(pieces).unwrap_or(0) * p.times
                });
                assert_eq!(cut.sum::<u64>(), asked, "{marks:?}");
            }
            least += usize::from(plans[0].proved_least());
            latest += usize::from(plans[0].latest);
        }
        assert!(least == 60 && latest >= 50, "{least} least, {latest} latest");
        Ok(())
    }

    #[test]
    fn a_plan_that_was_touched_does_not_pass() -> Result<(), Vec<Uncut>> {
        let marks = [mark(10, 2_750, 9, Stage::Base), mark(10, 900, 7, Stage::Cover)];
        let good = plan(&marks, 12_000, 3)?.remove(0);
        let asked: Vec<&Mark> = marks.iter().collect();
        let found = |change: &dyn Fn(&mut Cutting)| {
            let mut plan = good.clone();
            change(&mut plan);
            wrong(&asked, &plan).is_some()
        };
        assert!(!found(&|_| ()));
        assert!(found(&|c| c.bars += 1));
        assert!(found(&|c| c.bound = c.bars + 1));
        assert!(found(&|c| c.kerf_mm = 2_000));
        assert!(found(&|c| c.patterns[0].times += 1));
        assert!(found(&|c| c.patterns[0].pieces[0].1 = Stage::Cover));
        assert!(found(&|c| c.patterns[0].pieces[0].0 += 25));
        assert!(found(&|c| c.patterns[0].stage = Stage::Finish));
        assert!(found(&|c| c.bought[0].1 += 1));
        assert!(found(&|c| c.bought.clear()));
        Ok(())
    }
}
