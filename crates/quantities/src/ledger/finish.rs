//! Closing the ledger: totals, roundings, and the decisions that lie between quantity and model.

use rust_decimal::Decimal;
use std::collections::BTreeMap;

use tankwright_geometry::Ratio;

use crate::decimal;
use crate::ledger::Spec;
use crate::ledger::book::{Book, Entry, clause};
use crate::model::Model;
use crate::rates::Rounding;
use crate::sheet::{Decision, Item, Line, Sheet, Times, Whole};
use crate::source::Source;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::{Proof, Unit};

/// Places of `exact`.
pub(crate) const EXACT_PLACES: u32 = 12;

/// What the items of a row of the bill have come to, one after the other: booked, and billed.
type Rows<'a> = BTreeMap<(&'a str, String, Unit, String), (Ratio, Ratio)>;

impl Book<'_> {
    /// Totals every item. `None` when a number grew beyond what can be reckoned exactly.
    #[must_use]
    pub fn close(self, model: &Model) -> Option<Sheet> {
        let profile = self.profile;
        let (referring, own): (Vec<_>, Vec<_>) =
            self.entries.into_iter().partition(|(_, e)| !e.refers.is_empty());
        // Items keep the place of their entry in the ledger, whenever they are totalled.
        let (mut items, mut voids) = (BTreeMap::new(), Vec::new());
        let proofs = proofs(&own, model);
        let mut rows = Rows::new();
        for ((place, entry), proof) in own.into_iter().zip(proofs) {
            let void = entry.spec.work.void;
            if let Some(item) = total(entry, proof, profile, &mut rows)? {
                if void {
                    voids.push(item);
                } else {
                    items.insert(place, item);
                }
            }
        }
        for (place, mut entry) in referring {
            for (note, work) in std::mem::take(&mut entry.refers) {
                for item in items.values().filter(|i: &&Item| i.work == work && i.unit == entry.unit) {
                    let value = decimal::ratio(item.quantity);
                    let net = decimal::ratio(item.net);
                    let exact = item.lines.iter().map(|l| l.exact / l.per).sum::<Ratio>();
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
                        per: Ratio::ONE,
                    });
                }
            }
            let proof = entry.proved.or(Some(Ratio::ZERO));
            if let Some(item) = total(entry, proof, profile, &mut rows)? {
                items.insert(place, item);
            }
        }
        Some(Sheet { items: items.into_values().collect(), voids })
    }
}

/// Lines and what the profile leaves out of them: exactly, in the work's own unit and in the item's.
fn exactly(entry: &Entry) -> [Ratio; 2] {
    let lines = || entry.lines.iter().chain(&entry.left_out);
    [lines().map(|l| l.exact).sum(), lines().map(|l| l.exact / l.per).sum()]
}

/// What proves each entry, in its own unit. Parts of one work and stage (edges and narrow faces in m, the rest in m2) are
/// proved together: what is left between them and the model falls on the first.
fn proofs(entries: &[((usize, String, Stage), Entry)], model: &Model) -> Vec<Option<Ratio>> {
    let together =
        |a: &Entry, b: &Entry| a.spec.work == b.spec.work && a.stage == b.stage && a.base() == b.base();
    let proof = |(i, (_, entry)): (usize, &((usize, String, Stage), Entry))| {
        if entry.spec.work.proof == Proof::Listed {
            return None;
        }
        let alike = || entries.iter().map(|(_, e)| e).filter(|e| together(e, entry));
        let [_, own] = exactly(entry);
        let first = entries.iter().position(|(_, e)| together(e, entry)) == Some(i);
        if !first {
            return Some(own);
        }
        let spec = Spec { spec: entry.base().to_owned(), ..entry.spec.clone() };
        let found = match entry.spec.work.proof {
            Proof::Listed => return None,
            Proof::Formula => alike().filter_map(|e| e.proved).sum(),
            Proof::Cells => model.volume(&spec, entry.stage),
            Proof::Faces(_) => model.area(&spec, entry.stage),
        };
        let all: Ratio = alike().map(|e| exactly(e)[0]).sum();
        let per = entry.lines.iter().chain(&entry.left_out).map(|l| l.per).next().unwrap_or(Ratio::ONE);
        Some(own + (found - all) / per)
    };
    entries.iter().enumerate().map(proof).collect()
}

#[expect(clippy::option_option, reason = "no item at all is different from a number that cannot be held")]
fn total(
    entry: Entry,
    proof: Option<Ratio>,
    profile: &crate::rates::Profile,
    rows: &mut Rows<'_>,
) -> Option<Option<Item>> {
    let Entry { spec, stage, unit, lines, left_out, mut decisions, judged, unbilled, .. } = entry;
    let exact_places = Rounding { places: EXACT_PLACES, of: 1, least: 0, source: Source::default() };
    let rounding = profile.places.get(&unit).unwrap_or(&exact_places);
    let booked: Ratio = lines.iter().map(|l| l.value).sum();
    let net_exact: Ratio =
        lines.iter().map(|l| l.net).sum::<Ratio>() + left_out.iter().map(|l| l.net).sum::<Ratio>();
    let by_row = profile.by_row.is_some() && booked.signum() >= 0;
    let whole = if by_row {
        // With the items before it in its row: it gets what the row grows by.
        let key = (spec.work.id, spec.spec.clone(), unit, spec.wording.to_string());
        let (sum, billed) = rows.entry(key).or_insert((Ratio::ZERO, Ratio::ZERO));
        *sum = *sum + booked;
        let before = std::mem::replace(billed, rounding.rounded(*sum));
        *billed - before
    } else {
        rounding.rounded(booked)
    };
    let rounded = decimal::rounded(whole, rounding.places)?;
    // Rounded deductions can be more than a rounded gross that they take up wholly.
    let quantity = rounded.max(Decimal::ZERO);
    let net = decimal::rounded(net_exact, EXACT_PLACES)?.max(Decimal::ZERO);
    let exact: Ratio =
        lines.iter().map(|l| l.exact).sum::<Ratio>() + left_out.iter().map(|l| l.exact).sum::<Ratio>();
    if quantity.is_zero() && net.is_zero() && exact.is_zero() {
        return Some(None);
    }
    for line in &lines {
        let gap = line.exact / line.per - line.value;
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
        let what = Phrase::new(if by_row { "rounded-row" } else { "rounded-total" });
        decisions.push(Decision { what, size: rest, clause: clause(&rounding.source) });
    }
    let below = decimal::ratio(rounded) - decimal::ratio(quantity);
    if !below.is_zero() {
        let clause = "our own limit: no quantity is below nothing".to_owned();
        decisions.push(Decision { what: Phrase::new("below-nothing"), size: below, clause });
    }
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
        places: rounding.places,
        whole: Whole { of: rounding.of, least: rounding.least, by_row: profile.by_row.is_some() },
        model: proof.filter(|_| spec.work.proof != Proof::Listed),
        decisions,
        judged,
        unbilled,
        made: spec.made,
        kept: left_out,
    }))
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
