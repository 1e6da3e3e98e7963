//! Closing the ledger: totals, roundings, and the decisions that lie between quantity and model.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use crate::decimal;
use crate::ledger::book::{Book, Entry, clause, metres};
use crate::model::Model;
use crate::sheet::{Decision, Item, Line, Sheet, Times};
use crate::words::Phrase;
use crate::works::{Proof, Unit};

/// Places of `exact`.
const EXACT_PLACES: u32 = 12;

impl Book<'_> {
    /// Totals every item. `None` when a number grew beyond what can be reckoned exactly.
    #[must_use]
    pub fn close(self, model: &Model) -> Option<Sheet> {
        let profile = self.profile;
        let (referring, own): (Vec<_>, Vec<_>) =
            self.entries.into_values().partition(|e| !e.refers.is_empty());
        let mut sheet = Sheet::default();
        for entry in own {
            let void = entry.spec.work.void;
            if let Some(item) = total(entry, model, profile)? {
                if void { sheet.voids.push(item) } else { sheet.items.push(item) }
            }
        }
        for mut entry in referring {
            for (note, work) in std::mem::take(&mut entry.refers) {
                for item in sheet.items.iter().filter(|i| i.work == work) {
                    let value = decimal::ratio(item.quantity);
                    let net = decimal::ratio(item.net);
                    let exact = item.lines.iter().map(|l| l.exact).sum::<Ratio>();
                    entry.proved = Some(entry.proved.unwrap_or(Ratio::ZERO) + item.model.unwrap_or(exact));
                    let left = item.model.unwrap_or(exact);
                    entry.lines.push(Line {
                        note: note.clone(),
                        times: vec![Times::Count(1)],
                        dims: Vec::new(),
                        of_item: Some(item.id.clone()),
                        value,
                        net,
                        exact: left,
                    });
                }
            }
            if let Some(item) = total(entry, model, profile)? {
                let at = sheet.items.partition_point(|i| {
                    let key = |i: &Item| (i.work.section, place(i.work.id), i.spec.clone(), i.stage);
                    key(i) < key(&item)
                });
                sheet.items.insert(at, item);
            }
        }
        Some(sheet)
    }
}

fn place(id: &str) -> usize {
    let mut works = crate::works::all();
    works.sort_by_key(|w| w.section);
    works.iter().position(|w| w.id == id).unwrap_or(usize::MAX)
}

#[expect(clippy::option_option, reason = "no item at all is different from a number that cannot be held")]
fn total(entry: Entry, model: &Model, profile: &crate::rates::Profile) -> Option<Option<Item>> {
    let Entry { spec, stage, unit, thickness, lines, left_out, mut decisions, proved, unbilled, .. } = entry;
    let places = profile.places.get(&unit).map_or((EXACT_PLACES, String::new()), |(p, s)| (*p, clause(s)));
    let booked: Ratio = lines.iter().map(|l| l.value).sum();
    let net_exact: Ratio = lines.iter().map(|l| l.net).sum::<Ratio>() + left_out[0];
    let rounded = decimal::rounded(booked, places.0)?;
    // Rounded deductions can be more than a rounded gross that they take up wholly.
    let quantity = rounded.max(Decimal::ZERO);
    let net = decimal::rounded(net_exact, EXACT_PLACES)?.max(Decimal::ZERO);
    let exact: Ratio = lines.iter().map(|l| l.exact).sum::<Ratio>() + left_out[1];
    if quantity.is_zero() && net.is_zero() && exact.is_zero() {
        return Some(None);
    }
    let by_area = unit == Unit::M2 && spec.work.unit == Unit::M3;
    let per = thickness.as_ref().filter(|_| by_area).map_or(Ratio::ONE, metres);
    for line in &lines {
        let gap = if by_area { line.exact / thick(line) } else { line.exact } - line.value;
        if !gap.is_zero() {
            let (note, clause) = if line.of_item.is_some() {
                (Phrase::with("of-item-gap", &[&line.note.to_string()]), String::new())
            } else {
                let from = if line.dims.iter().any(|d| d.step != 1) {
                    clause(&profile.step.1)
                } else {
                    exact_clause()
                };
                (Phrase::with("booked-dimension", &[&line.note.to_string()]), from)
            };
            decisions.push(Decision { what: note, size: gap, clause });
        }
    }
    let rest = booked - decimal::ratio(rounded);
    if !rest.is_zero() {
        decisions.push(Decision { what: Phrase::new("rounded-total"), size: rest, clause: places.1 });
    }
    let below = decimal::ratio(rounded) - decimal::ratio(quantity);
    if !below.is_zero() {
        let clause = "our own limit: no quantity is below nothing".to_owned();
        decisions.push(Decision { what: Phrase::new("below-nothing"), size: below, clause });
    }
    let model = match spec.work.proof {
        Proof::Listed => None,
        Proof::Formula => Some(proved.unwrap_or(Ratio::ZERO)),
        Proof::Cells => Some(model.volume(&spec, stage)),
        Proof::Faces(_) => Some(model.area(&spec, stage)),
    };
    let id = [spec.work.id, &spec.spec, stage.id()]
        .into_iter()
        .filter(|s| !s.is_empty())
        .collect::<Vec<_>>()
        .join("/");
    Some(Some(Item {
        id,
        work: spec.work,
        spec: spec.spec,
        stage,
        unit,
        wording: spec.wording,
        lines,
        quantity,
        net,
        places: places.0,
        model: model.map(|m| m / per),
        decisions,
        unbilled,
    }))
}

fn thick(line: &Line) -> Ratio {
    line.dims.iter().find(|d| d.dropped).map_or(Ratio::ONE, |d| metres(&d.len))
}

fn exact_clause() -> String {
    "design 3: dimensions are booked to 0.1 mm".to_owned()
}
