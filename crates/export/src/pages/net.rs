//! Net quantities: what materials are reckoned from. A column of its own where a profile books otherwise than `exact`.

use std::collections::BTreeMap;

use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::sheet::{Dim, Item, Line};
use tankwright_quantities::steel::BarKind;

/// Places of profile `exact`.
const EXACT: u32 = 12;

/// How an item's net quantity comes about on its sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Net {
    /// It is the item's total.
    Total,
    /// The same lines, not rounded to the profile's places.
    Unrounded,
    /// Each line has a net value, and lines that the profile leaves out count too.
    Lines,
}

/// The items of which something needs the net, by id.
pub(crate) fn needed(estimate: &Estimate) -> BTreeMap<&str, Net> {
    let mut found = BTreeMap::new();
    for used in &estimate.materials.uses {
        add(estimate, &used.item, &mut found);
    }
    found
}

/// An item of the ledger, billed or not.
pub(crate) fn find<'a>(estimate: &'a Estimate, id: &str) -> Option<&'a Item> {
    estimate.sheet.items.iter().chain(&estimate.sheet.voids).find(|i| i.id == id)
}

fn add<'a>(estimate: &'a Estimate, id: &str, found: &mut BTreeMap<&'a str, Net>) {
    let Some(item) = find(estimate, id) else { return };
    if found.contains_key(item.id.as_str()) {
        return;
    }
    // The place is taken first: a reference that came back here would end.
    found.insert(&item.id, Net::Total);
    for of in item.lines.iter().filter_map(|l| l.of_item.as_deref()) {
        add(estimate, of, found);
    }
    let net = if !item.kept.is_empty() || !item.lines.iter().all(|l| as_booked(l, found)) {
        Net::Lines
    } else if item.places >= EXACT || item.lines.iter().all(whole) {
        Net::Total
    } else {
        Net::Unrounded
    };
    found.insert(&item.id, net);
}

/// Is a line's net its value, whatever the inputs?
pub(crate) fn as_booked(line: &Line, nets: &BTreeMap<&str, Net>) -> bool {
    let of = line.of_item.as_deref();
    line.dims.iter().all(booked_exactly) && of.is_none_or(|id| nets.get(id) == Some(&Net::Total))
}

/// Is a dimension booked as `exact` books it?
pub(crate) fn booked_exactly(dim: &Dim) -> bool {
    !dim.dropped && (dim.up || dim.step == 1)
}

/// Is it a whole number, whatever the inputs?
fn whole(line: &Line) -> bool {
    use tankwright_quantities::sheet::Times;
    let counted = |t: &Times| {
        matches!(t, Times::Count(_) | Times::Input(..) | Times::Strips { .. } | Times::Spaces { .. })
    };
    line.dims.is_empty() && line.of_item.is_none() && line.times.iter().all(counted)
}

/// Does an item measure bars of this kind?
pub(crate) fn is_of(item: &Item, bar: &BarKind) -> bool {
    item.work.id == "bars" && item.spec == bar.id()
}
