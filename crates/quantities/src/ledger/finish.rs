//! Closing the ledger: totals, roundings, and the decisions that lie between quantity and model.

use rust_decimal::Decimal;
use std::collections::BTreeMap;

use tankwright_geometry::Ratio;

use crate::decimal;
use crate::ledger::book::{Book, Entry, clause, metres};
use crate::model::Model;
use crate::sheet::{Decision, Item, Line, Sheet, Times};
use crate::words::Phrase;
use crate::works::{Proof, Unit};

/// Places of `exact`.
pub(crate) const EXACT_PLACES: u32 = 12;

impl Book<'_> {
    /// Totals every item. `None` when a number grew beyond what can be reckoned exactly.
    #[must_use]
    pub fn close(self, model: &Model) -> Option<Sheet> {
        let profile = self.profile;
        let (referring, own): (Vec<_>, Vec<_>) =
            self.entries.into_iter().partition(|(_, e)| !e.refers.is_empty());
        // Items keep the place of their entry in the ledger, whenever they are totalled.
        let (mut items, mut voids) = (BTreeMap::new(), Vec::new());
        for (place, entry) in own {
            let void = entry.spec.work.void;
            if let Some(item) = total(entry, model, profile)? {
                if void {
                    voids.push(item);
                } else {
                    items.insert(place, item);
                }
            }
        }
        for (place, mut entry) in referring {
            for (note, work) in std::mem::take(&mut entry.refers) {
                for item in items.values().filter(|i: &&Item| i.work == work) {
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
                items.insert(place, item);
            }
        }
        Some(Sheet { items: items.into_values().collect(), voids })
    }
}

#[expect(clippy::option_option, reason = "no item at all is different from a number that cannot be held")]
fn total(entry: Entry, model: &Model, profile: &crate::rates::Profile) -> Option<Option<Item>> {
    let Entry { spec, stage, unit, thickness, lines, left_out, mut decisions, proved, unbilled, .. } = entry;
    let places = profile.places.get(&unit).map_or((EXACT_PLACES, String::new()), |(p, s)| (*p, clause(s)));
    let booked: Ratio = lines.iter().map(|l| l.value).sum();
    let net_exact: Ratio =
        lines.iter().map(|l| l.net).sum::<Ratio>() + left_out.iter().map(|l| l.net).sum::<Ratio>();
    let rounded = decimal::rounded(booked, places.0)?;
    // Rounded deductions can be more than a rounded gross that they take up wholly.
    let quantity = rounded.max(Decimal::ZERO);
    let net = decimal::rounded(net_exact, EXACT_PLACES)?.max(Decimal::ZERO);
    let exact: Ratio =
        lines.iter().map(|l| l.exact).sum::<Ratio>() + left_out.iter().map(|l| l.exact).sum::<Ratio>();
    if quantity.is_zero() && net.is_zero() && exact.is_zero() {
        return Some(None);
    }
    let by_area = unit == Unit::M2 && spec.work.unit == Unit::M3;
    let per = thickness.as_ref().filter(|_| by_area).map_or(Ratio::ONE, metres);
    for line in &lines {
        let gap = if by_area { line.exact / thick(line) } else { line.exact } - line.value;
        if !gap.is_zero() {
            let note = |key| Phrase::with(key, &[&line.note.to_string()]);
            let (note, clause) = match line.of_item {
                Some(_) => (note("of-item-gap"), crate::words::look_up("clause-of-item").to_owned()),
                None => (note("booked-dimension"), booking_clause(line, profile)),
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
        made: spec.made,
        kept: left_out,
    }))
}

fn thick(line: &Line) -> Ratio {
    line.dims.iter().find(|d| d.dropped).map_or(Ratio::ONE, |d| metres(&d.len))
}

/// The clauses by which the dimensions of a line were rounded.
fn booking_clause(line: &Line, profile: &crate::rates::Profile) -> String {
    let moved = |d: &&crate::sheet::Dim| d.len.value() != Ratio::from(d.booked);
    let mut clauses: Vec<String> = Vec::new();
    for dim in line.dims.iter().filter(|d| !d.dropped).filter(moved) {
        let slab = dim.step == profile.slab_step.0 && dim.step != profile.step.0;
        let text = clause(if slab { &profile.slab_step.1 } else { &profile.step.1 });
        if !clauses.contains(&text) {
            clauses.push(text);
        }
    }
    clauses.join("; ")
}
