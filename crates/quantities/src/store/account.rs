//! The account: what the list says, held against orders and materials, stage by stage.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::{Entry, StoreAccount, StoreRow, read};
use crate::job::Day;
use crate::materials::Materials;
use crate::orders::Orders;
use crate::problem::Problem;
use crate::programme::{EventKind, Programme};
use crate::stage::Stage;

/// The account of a list. Goods without a stage are for the first stage whose order is not yet there; a count must
/// say after which stage it was made.
///
/// # Errors
/// All problems of the list, codes `S001` to `S015`.
pub fn account(
    text: &str,
    file: &str,
    orders: &Orders,
    materials: &Materials,
) -> Result<StoreAccount, Vec<Problem>> {
    account_of(text, file, orders, materials, &Programme::default())
}

/// As [`account`]; where the programme has dates, a count without a stage belongs to the stage of its day.
///
/// # Errors
/// As [`account`].
pub fn account_of(
    text: &str,
    file: &str,
    orders: &Orders,
    materials: &Materials,
    programme: &Programme,
) -> Result<StoreAccount, Vec<Problem>> {
    let (entries, cautions) = read(text, file, orders)?;
    let mut book = Book { orders, programme, sums: BTreeMap::new(), problems: Vec::new() };
    let mut sorted: Vec<&Entry> = entries.iter().collect();
    sorted.sort_by(|a, b| a.date.cmp(&b.date));
    for entry in sorted {
        book.receive(entry);
        book.count(entry);
    }
    if book.problems.is_empty() {
        return book.rows(materials, cautions).ok_or_else(|| vec![too_large()]);
    }
    crate::problem::in_order(&mut book.problems);
    Err(book.problems)
}

fn too_large() -> Problem {
    Problem::error("S008", None, "the amounts of the list are too large together").hint("look for a slip")
}

#[derive(Clone, Debug, Default)]
struct Sums {
    received: Decimal,
    rejected: Decimal,
    counted: Option<Decimal>,
}

struct Book<'a> {
    orders: &'a Orders,
    programme: &'a Programme,
    sums: BTreeMap<(String, Stage), Sums>,
    problems: Vec<Problem>,
}

impl Book<'_> {
    /// Ordered of a material, by stage.
    fn ordered(&self, material: &str) -> Vec<(Stage, Decimal)> {
        let of = |o: &crate::orders::StageOrder| {
            let line = o.lines.iter().find(|l| l.material == material && !l.ordered.is_zero())?;
            Some((o.stage, line.ordered))
        };
        self.orders.stages.iter().filter_map(of).collect()
    }

    fn at(&mut self, material: &str, stage: Stage) -> &mut Sums {
        self.sums.entry((material.to_owned(), stage)).or_default()
    }

    fn receive(&mut self, entry: &Entry) {
        if entry.received.is_zero() {
            return;
        }
        let ordered = self.ordered(&entry.material);
        let open = |(stage, ordered): &&(Stage, Decimal)| {
            let there = self.sums.get(&(entry.material.clone(), *stage));
            there.map_or(Decimal::ZERO, |s| s.received - s.rejected) < *ordered
        };
        let by_order = ordered.iter().find(open).or(ordered.last()).map(|(stage, _)| *stage);
        let stage = entry.stage.or(by_order).unwrap_or(Stage::SetOut);
        let sums = self.at(&entry.material, stage);
        // At most 20 000 rows of at most 10^15 each: far from what a decimal holds.
        sums.received += entry.received;
        sums.rejected += entry.rejected;
    }

    fn count(&mut self, entry: &Entry) {
        let Some(counted) = entry.counted else { return };
        let Some(stage) = entry.stage.or_else(|| self.by_date(&entry.date)) else {
            let problem =
                Problem::error("S013", Some(entry.place.clone()), "after which stage was this counted?");
            let hint =
                "add a column stage with base, walls-lower ..., or give the job a [programme] with a start";
            self.problems.push(problem.label("no stage").hint(hint));
            return;
        };
        if self.at(&entry.material, stage).counted.is_some() {
            let what = format!("{} is counted twice after the stage {}", entry.material, stage.id());
            let problem = Problem::error("S014", Some(entry.place.clone()), what).label("the second count");
            self.problems.push(problem.hint("keep the later one"));
            return;
        }
        self.at(&entry.material, stage).counted = Some(counted);
    }

    /// The stage that was at work on a day, or the last one before it.
    fn by_date(&self, date: &str) -> Option<Stage> {
        let day = Day::read(date)?;
        let begun = self.programme.events.iter().filter(|e| e.kind == EventKind::Stage && e.from <= day);
        begun.map(|e| e.stage).max()
    }

    fn rows(&self, materials: &Materials, cautions: Vec<Problem>) -> Option<StoreAccount> {
        let until = self.sums.keys().map(|(_, stage)| *stage).max().unwrap_or(Stage::SetOut);
        let mut rows: Vec<StoreRow> = Vec::new();
        for good in &self.orders.goods {
            let ordered: BTreeMap<Stage, Decimal> = self.ordered(&good.material).into_iter().collect();
            let mut opening = Decimal::ZERO;
            for stage in Stage::ALL.into_iter().filter(|s| *s <= until) {
                let used = materials.rows.iter().filter(|r| r.material == good.material && r.stage == stage);
                let used = used.map(|r| r.gross).try_fold(Decimal::ZERO, |sum, g| sum.checked_add(g))?;
                let sums = self.sums.get(&(good.material.clone(), stage)).cloned().unwrap_or_default();
                let ordered = ordered.get(&stage).copied().unwrap_or_default();
                let came = sums.received.checked_sub(sums.rejected)?;
                let should_be = opening.checked_add(came)?.checked_sub(used)?;
                let difference = match sums.counted {
                    Some(counted) => Some(counted.checked_sub(should_be)?),
                    None => None,
                };
                let still = [opening, ordered, sums.received, used].iter().all(Decimal::is_zero);
                if !(still && sums.counted.is_none()) {
                    rows.push(StoreRow {
                        stage,
                        material: good.material.clone(),
                        title: good.title.clone(),
                        unit: good.unit.clone(),
                        opening,
                        ordered,
                        received: sums.received,
                        rejected: sums.rejected,
                        used,
                        should_be,
                        counted: sums.counted,
                        difference,
                    });
                }
                // What was counted is what the next stage begins with: a loss is told once.
                opening = sums.counted.unwrap_or(should_be);
            }
        }
        rows.sort_by_key(|r| r.stage);
        Some(StoreAccount { rows, until, cautions })
    }
}
