//! The balance `materials`: rows against the ledger, reckoned anew. Every use starts from its item's net quantity and
//! is multiplied out again; sums by material, stage and waste, rounded as stated, must be the rows to the last digit.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use crate::decimal::{plain, ratio, rounded};
use crate::estimate::Balance;
use crate::materials::{Factor, Materials, PLACES, Row, Use};
use crate::sheet::{Item, Sheet};
use crate::stage::Stage;
use crate::steel::Schedule;
use crate::words::Phrase;
use crate::works::MadeOf;

/// Sums without over-break, and of over-break, by material, stage and waste.
type Sums<'a> = BTreeMap<(&'a str, Stage, Decimal), [Ratio; 2]>;

/// Left: gross amounts of all rows; right: recipe x ledger + over-break + waste, rounded to three places where a row
/// is. Units are not told apart in the two sums; each row is held against its own uses.
#[must_use]
pub fn balance(materials: &Materials, sheet: &Sheet, schedule: &Schedule) -> Balance {
    let mut breaks = Vec::new();
    let by_id: BTreeMap<&str, &Item> =
        sheet.items.iter().chain(&sheet.voids).map(|i| (i.id.as_str(), i)).collect();
    let mut sums = Sums::new();
    for u in &materials.uses {
        let of = || format!("{}, {}, {}", u.material, u.stage.id(), u.item);
        let base = by_id.get(u.item.as_str()).map_or(u.base, |i| ratio(i.net));
        if base != u.base {
            breaks.push(format!("{}: the item says {}, the use {}", of(), plain(base), plain(u.base)));
        }
        if !u.item.is_empty() && by_id.get(u.item.as_str()).is_none_or(|i| i.stage != u.stage) {
            breaks.push(format!("{}: no such item in this stage", of()));
        }
        if u.waste_inside && !u.waste_percent.is_zero() {
            breaks.push(format!("{}: waste inside the recipe, and {} % more", of(), plain(u.waste_percent)));
        }
        let percent = rounded(u.waste_percent, 6).unwrap_or(Decimal::MIN);
        let sum = sums.entry((&u.material, u.stage, percent)).or_insert([Ratio::ZERO; 2]);
        let side = &mut sum[usize::from(u.over_break)];
        *side = *side + product(u, base, true);
    }
    forgotten(materials, sheet, &mut breaks);
    bars(materials, schedule, &mut breaks);
    let (left, right) = rows(materials, sums, &mut breaks);
    Balance { name: "materials", says: Phrase::new("balance-materials"), left, right, unit: "", breaks }
}

/// Multiplied out from the last factor to the first, with the numbers of uses or without.
fn product(u: &Use, base: Ratio, worn: bool) -> Ratio {
    let metres = |l: &tankwright_geometry::Len| l.value() * Ratio::of(1, 10_000);
    let factors = u.steps.iter().rev().filter(|s| worn || !s.again).map(|s| match &s.factor {
        Factor::Number(n) => *n,
        Factor::Times(l) => metres(l),
        Factor::Over(l) => Ratio::ONE / metres(l),
    });
    let product = factors.fold(Ratio::ONE, |p, f| p * f) * base;
    if u.less { Ratio::ZERO - product } else { product }
}

fn rows<'a>(materials: &'a Materials, mut sums: Sums<'a>, breaks: &mut Vec<String>) -> (Ratio, Ratio) {
    let (mut left, mut right) = (Ratio::ZERO, Ratio::ZERO);
    let unknown = [Ratio::UNKNOWN; 2];
    for row in &materials.rows {
        let of = format!("{}, {}, {} %", row.material, row.stage.id(), row.waste_percent);
        let found = sums.remove(&(&row.material, row.stage, row.waste_percent));
        if found.is_none() {
            breaks.push(format!("{of}: the row has no use, or stands twice"));
        }
        let [net, over] = found.unwrap_or(unknown).map(|s| rounded(s, PLACES));
        if (net, over) != (Some(row.net), Some(row.over_break)) {
            let say = |d: Option<Decimal>| d.map_or_else(|| "unknown".to_owned(), |d| d.to_string());
            let (net, over) = (say(net), say(over));
            breaks.push(format!("{of}: uses {net} and {over}, row {} and {}", row.net, row.over_break));
        }
        let built = net.zip(over).map_or(Ratio::UNKNOWN, |(n, o)| ratio(n) + ratio(o));
        let waste = built * ratio(row.waste_percent) * Ratio::of(1, 100);
        let gross = (built + waste).round_half_away(Ratio::of(1, 10_i128.pow(PLACES)));
        if gross != ratio(row.gross) {
            breaks.push(format!("{of}: gross {}, row {}", plain(gross), row.gross));
        }
        at_once(materials, row, &of, breaks);
        left = left + ratio(row.gross);
        right = right + gross;
    }
    for (material, stage, percent) in sums.into_keys() {
        breaks.push(format!("{material}, {}, {percent} %: uses that stand in no row", stage.id()));
    }
    (left, right)
}

/// What stands on the site at once: the uses of the row multiplied out again, numbers of uses left out.
fn at_once(materials: &Materials, row: &Row, of: &str, breaks: &mut Vec<String>) {
    let sum = |over: bool| {
        let uses = row.uses.iter().filter_map(|p| materials.uses.get(*p)).filter(|u| u.over_break == over);
        let all: Ratio = uses.map(|u| product(u, u.base, false)).sum();
        all.round_half_away(Ratio::of(1, 10_i128.pow(PLACES)))
    };
    let more = Ratio::ONE + ratio(row.waste_percent) * Ratio::of(1, 100);
    let present = ((sum(false) + sum(true)) * more).round_half_away(Ratio::of(1, 10_i128.pow(PLACES)));
    if present != ratio(row.present) {
        breaks.push(format!("{of}: on the site at once {}, row {}", plain(present), row.present));
    }
}

/// Items that something is bought for, and that no use names.
fn forgotten(materials: &Materials, sheet: &Sheet, breaks: &mut Vec<String>) {
    let named: BTreeSet<&str> = materials.uses.iter().map(|u| u.item.as_str()).collect();
    for item in sheet.items.iter().chain(&sheet.voids) {
        let bought = !matches!(item.work.made_of, MadeOf::Nothing | MadeOf::Bars);
        if bought && !item.net.is_zero() && !named.contains(item.id.as_str()) {
            breaks.push(format!("{}: no material is used for it", item.id));
        }
    }
}

/// Metres of bars and kilograms tied, against the schedule.
fn bars(materials: &Materials, schedule: &Schedule, breaks: &mut Vec<String>) {
    let mut metres: BTreeMap<(String, Stage), Ratio> = BTreeMap::new();
    for mark in &schedule.marks {
        let sum = metres.entry((format!("bars/{}", mark.bar.id()), mark.stage)).or_insert(Ratio::ZERO);
        *sum = *sum + Ratio::int(mark.count.into()) * Ratio::from(mark.length_mm) / Ratio::int(1000);
    }
    for u in materials.uses.iter().filter(|u| u.material.starts_with("bars/")) {
        let sum = metres.entry((u.material.clone(), u.stage)).or_insert(Ratio::ZERO);
        *sum = *sum - u.amount;
    }
    for ((bar, stage), left) in metres.into_iter().filter(|(_, left)| !left.is_zero()) {
        breaks.push(format!("{bar}, {}: schedule less uses {} m", stage.id(), plain(left)));
    }
}
