//! Bills with usual mistakes planted in them, singly and in pairs, and whether the cross-check names what was planted.

use std::collections::BTreeMap;

use tankwright_crosscheck::figure::Figure;
use tankwright_crosscheck::measure::{BOOKINGS, Booking, Drop, Row};
use tankwright_crosscheck::mistakes::{Case, Variant, under};
use tankwright_crosscheck::rows::of_csv;
use tankwright_crosscheck::search::effective;
use tankwright_crosscheck::wording;
use tankwright_crosscheck::world::{Pick, World};
use tankwright_crosscheck::{Report, crosscheck};
use tankwright_geometry::Ratio;
use tankwright_quantities::bill::BillRow;
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::works::Unit;

use crate::random::{Dice, Wish, job};
use crate::{read, stock};

/// What came of the mistakes that were planted.
#[derive(Clone, Debug, Default)]
pub struct Tally {
    /// Planted and not without effect, and of these found: by the mistakes.
    pub by: BTreeMap<Vec<&'static str>, (usize, usize)>,
    /// Not counted: they change nothing that is printed, or no more than fewer of them do.
    pub without_effect: usize,
    /// Not found, but fewer of the same mistakes were named, made in another way: that gives the figure as well.
    pub partly: usize,
    /// Explanations listed, and of these such as do not give the figure.
    pub listed: (usize, usize),
    /// What was not found, in words.
    pub missed: Vec<String>,
}

impl Tally {
    /// Planted and found, with so many mistakes together.
    #[must_use]
    pub fn of(&self, many: usize) -> (usize, usize) {
        let sets = self.by.iter().filter(|(ids, _)| ids.len() == many);
        sets.fold((0, 0), |(a, b), (_, (x, y))| (a + x, b + y))
    }

    fn note(&mut self, ids: Vec<&'static str>, found: bool) {
        let (planted, of) = self.by.entry(ids).or_default();
        *planted += 1;
        *of += usize::from(found);
    }
}

/// A row of a bill with a planted figure.
struct Planted {
    line: usize,
    ids: Vec<&'static str>,
    figure: Figure,
}

/// Plants in one random job: `many` mistakes together in every row where so many change something. Bills under
/// `exact` print three places, others two.
pub fn plant(seed: u64, profile: &'static str, many: usize, tally: &mut Tally) {
    let text = job(seed, Wish { profile, level: false });
    let Ok(job) = read(&text, true) else { return };
    let (stock, settings) = (stock(), Settings::default());
    let Ok(estimate) = flow::estimate(&job, stock, None, &settings) else { return };
    let world = World::new(&job, &estimate, stock, &settings);
    let dice = &mut Dice::new(seed.wrapping_mul(97).wrapping_add(many as u64));
    let (mut csv, mut line) = (String::from("description,unit,quantity\n"), 1);
    let mut all = Vec::new();
    for row in estimate.bill.sections.iter().flat_map(|s| &s.rows) {
        line += 1;
        let right = row.quantity.to_string();
        let planted = planted(&world, row, many, dice, tally);
        let quantity = planted.as_ref().map_or(right, |(_, figure)| figure.shown());
        csv.push_str(&format!("\"{}\",{},{quantity}\n", row.wording, row.unit.id()));
        all.extend(planted.map(|(ids, figure)| Planted { line, ids, figure }));
    }
    let report =
        crosscheck(&world, wording::builtin(), "planted.csv", &of_csv(&csv), None).unwrap_or_default();
    for one in all {
        judge(seed, &world, &report, &one, tally);
    }
}

/// The bill of a random job held against the job it was made from: what does not agree, in words; and its rows.
pub fn untouched(seed: u64, profile: &'static str) -> (Vec<String>, usize) {
    let text = job(seed, Wish { profile, level: false });
    let Ok(job) = read(&text, true) else { return (Vec::new(), 0) };
    let (stock, settings) = (stock(), Settings::default());
    let Ok(estimate) = flow::estimate(&job, stock, None, &settings) else { return (Vec::new(), 0) };
    let world = World::new(&job, &estimate, stock, &settings);
    let mut csv = String::from("description,unit,quantity\n");
    let rows: Vec<&BillRow> = estimate.bill.sections.iter().flat_map(|s| &s.rows).collect();
    for row in &rows {
        csv.push_str(&format!("\"{}\",{},{}\n", row.wording, row.unit.id(), row.quantity));
    }
    let report = crosscheck(&world, wording::builtin(), "own.csv", &of_csv(&csv), None).unwrap_or_default();
    let mut wrong = Vec::new();
    for (i, row) in rows.iter().enumerate() {
        let held = report.rows.iter().find(|r| r.lines.contains(&(i + 2)));
        if held.is_none_or(|r| !r.agrees || r.works != [row.work.id] || r.lines.len() > 1) {
            wrong.push(format!("job {seed}: {} {} `{}`", row.work.id, row.spec, row.wording));
        }
    }
    wrong.extend(report.missing.iter().map(|m| format!("job {seed}: {} {} is missing", m.work, m.spec)));
    (wrong, rows.len())
}

/// Mistakes for a row and the figure they give, where each of them changes what is printed.
fn planted(
    world: &World<'_>,
    bill: &BillRow,
    many: usize,
    dice: &mut Dice,
    tally: &mut Tally,
) -> Option<(Vec<&'static str>, Figure)> {
    if bill.unit == Unit::Item {
        return None;
    }
    let picks = [Pick { work: bill.work.id.to_owned(), spec: Some(bill.spec.clone()) }];
    let row = base(world, &picks, bill.unit)?;
    let case = Case { world, picks: &picks, row: &row };
    let ways = effective(&case);
    let mut ids: Vec<&str> = ways.iter().map(|v| v.id).collect();
    ids.dedup();
    let mut chosen: Vec<&str> = Vec::new();
    while chosen.len() < many.min(ids.len()) {
        let id = dice.pick(&ids);
        if !chosen.contains(&id) {
            chosen.push(id);
        }
    }
    let way = |id: &&str, dice: &mut Dice| {
        let of: Vec<&Variant> = ways.iter().filter(|v| v.id == *id).collect();
        of[dice.roll(0, of.len() as i64 - 1) as usize]
    };
    let mut set: Vec<&Variant> = chosen.iter().map(|id| way(id, dice)).collect();
    if set.len() < many {
        return None;
    }
    set.sort_by_key(|v| ways.iter().position(|w| w.id == v.id));
    let booking = BOOKINGS[dice.roll(0, 2) as usize];
    let places = match bill.unit {
        Unit::Nr => 0,
        _ if world.estimate.profile.0 == "exact" => 3,
        _ => 2,
    };
    let printed = |set: &[&Variant]| print(&case, set, booking, places);
    let figure = printed(&set)?;
    // Fewer of them, also under another way of rounding, must not print the same.
    let fewer =
        (0..set.len()).map(|i| set.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, v)| *v).collect());
    let same = |some: Vec<&Variant>| {
        BOOKINGS.iter().any(|b| print(&case, &some, *b, places).is_some_and(|f| f.value == figure.value))
    };
    if figure.value.signum() <= 0 || fewer.into_iter().any(same) || same(Vec::new()) {
        tally.without_effect += 1;
        return None;
    }
    Some((set.iter().map(|v| v.id).collect(), figure))
}

fn base(world: &World<'_>, picks: &[Pick], unit: Unit) -> Option<Row> {
    let parts = world.parts(picks, &[])?;
    let by_area = parts.first().is_some_and(|p| p.work.unit == Unit::M3 && unit == Unit::M2);
    Some(Row { parts, factor: Ratio::ONE, drop: if by_area { Drop::Thickness } else { Drop::Nothing } })
}

fn print(case: &Case<'_>, set: &[&Variant], booking: Booking, places: u32) -> Option<Figure> {
    let amount = under(case, set)?.total(booking);
    let figure = Figure { value: Ratio::ZERO, places };
    amount.is_known().then(|| Figure { value: figure.rounds(amount), places })
}

fn judge(seed: u64, world: &World<'_>, report: &Report, one: &Planted, tally: &mut Tally) {
    let row = report.rows.iter().find(|r| r.lines.contains(&one.line));
    let found = row.is_some_and(|r| r.explained.iter().any(|e| e.mistakes == one.ids));
    tally.note(one.ids.clone(), found);
    let Some(row) = row else {
        tally.missed.push(format!("job {seed}, line {}: {:?} is not matched", one.line, one.ids));
        return;
    };
    if !found {
        let some = |e: &[&str]| e.iter().all(|id| one.ids.contains(id));
        tally.partly += usize::from(row.explained.iter().any(|e| some(&e.mistakes)));
        let instead = row.explained.first().map(|e| e.mistakes.join(" + ")).unwrap_or_default();
        let words = format!("{} {} {}", row.works.join("+"), row.unit, one.figure.shown());
        tally.missed.push(format!("job {seed}: {words}, ours {}: {:?}, found {instead}", row.ours, one.ids));
    }
    let Some(parts) = world.parts(&row.picks, &[]) else { return };
    let base = Row { parts, factor: Ratio::ONE, drop: row.drop };
    let case = Case { world, picks: &row.picks, row: &base };
    let ways = effective(&case);
    for e in &row.explained {
        let ways: Option<Vec<&Variant>> = e
            .mistakes
            .iter()
            .zip(&e.says)
            .map(|(id, says)| ways.iter().find(|v| v.id == *id && v.says == *says))
            .collect();
        // Slips of a figure are no way of measuring.
        let Some(ways) = ways else { continue };
        tally.listed.0 += 1;
        let gives = under(&case, &ways).is_some_and(|r| r.prints(one.figure, Ratio::ONE).is_some());
        tally.listed.1 += usize::from(!gives);
        if !gives {
            let words = format!("{} {}", row.works.join("+"), one.figure.shown());
            tally.missed.push(format!("job {seed}: {words}: {:?} does not give it", e.mistakes));
        }
    }
}
