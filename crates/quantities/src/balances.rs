//! The books must agree, on every run, to the last digit.

use tankwright_geometry::{Amount, Ratio};

use crate::decimal;
use crate::estimate::Balance;
use crate::model::Model;
use crate::sheet::{Decision, Item, Sheet};
use crate::site::Site;
use crate::words::Phrase;
use crate::works::{Earth, Proof, Unit};

/// Exact quantity of an item in the item's unit: what is billed and all its decisions.
#[must_use]
pub fn explained(item: &Item) -> Ratio {
    decimal::ratio(item.quantity) + item.decisions.iter().map(|d: &Decision| d.size).sum::<Ratio>()
}

/// Exact quantity of an item in the work's own unit (a wall in m2 times its thickness).
#[must_use]
pub fn own(item: &Item) -> Ratio {
    let thick = || item.lines.iter().flat_map(|l| &l.dims).find(|d| d.dropped);
    let per = thick().map_or(Ratio::ONE, |d| d.len.value() / Ratio::int(10_000));
    explained(item) * per
}

/// `earth`, `space`, `model` and `faces`.
#[must_use]
pub fn of_measurement(site: &Site<'_>, sheet: &Sheet, model: &Model) -> Vec<Balance> {
    vec![earth(sheet), space(site, sheet, model), proved(sheet, model), faces(sheet, model)]
}

/// Sum of the exact quantities of all items that do this to the ground, m3.
#[must_use]
pub fn earth_sum(sheet: &Sheet, role: Earth) -> Ratio {
    sheet.items.iter().filter(|i| i.work.earth == role).map(own).sum()
}

fn earth(sheet: &Sheet) -> Balance {
    let [dug, back, away] = [Earth::Dug, Earth::PutBack, Earth::Away].map(|r| earth_sum(sheet, r));
    let says = Phrase::new("balance-earth");
    Balance { name: "earth", says, left: dug, right: back + away, unit: "m3", breaks: Vec::new() }
}

/// The prism of the outer plan between dig bottom and cover top, m3.
pub(crate) fn prism(site: &Site<'_>) -> Amount {
    let plan = site.outer_length().amount() * site.outer_width().amount();
    let depth = &(&site.cover_top - &site.floor.outlet) + &site.layers_deep();
    // The fall deepens the strip under the inlet wall wholly, the clear length by half.
    let fall = site.floor.fall.amount() * (&site.wall + &site.length.half()).amount();
    (plan * depth.amount() + fall * site.outer_width().amount()) / Ratio::int(1_000_000_000_000)
}

fn space(site: &Site<'_>, sheet: &Sheet, model: &Model) -> Balance {
    let built = sheet.items.iter().chain(&sheet.voids).filter(|i| i.work.proof == Proof::Cells);
    let inside = built.map(|i| own(i) - model.beyond(i.work.id, &i.spec, i.stage)).sum();
    let mut breaks = Vec::new();
    if !model.unclaimed.is_zero() {
        breaks.push(format!("unclaimed {} m3", decimal::plain(model.unclaimed)));
    }
    let left = prism(site).value();
    Balance { name: "space", says: Phrase::new("balance-space"), left, right: inside, unit: "m3", breaks }
}

fn gap(item: &Item) -> Option<String> {
    let model = item.model?;
    let rest = model - explained(item);
    (!rest.is_zero()).then(|| {
        let (m, e) = (decimal::plain(model), decimal::plain(explained(item)));
        format!("{}: lines {e}, model {m} {}", item.id, item.unit.id())
    })
}

fn proved(sheet: &Sheet, model: &Model) -> Balance {
    let all = || sheet.items.iter().chain(&sheet.voids);
    let mut breaks: Vec<_> =
        all().filter(|i| !matches!(i.work.proof, Proof::Faces(_))).filter_map(gap).collect();
    // What the model found and no item measures.
    for (work, spec, stage, volume) in model.all_volumes() {
        let measured = all().any(|i| i.work.id == work && i.spec == spec && i.stage == stage);
        if !measured && !volume.is_zero() {
            breaks.push(format!(
                "{work}/{spec}/{}: no item, model {} m3",
                stage.id(),
                decimal::plain(volume)
            ));
        }
    }
    let cells = || all().filter(|i| i.work.proof == Proof::Cells);
    let left = cells().map(own).sum();
    let right = model.all_volumes().map(|(.., v)| v).sum();
    Balance { name: "model", says: Phrase::new("balance-model"), left, right, unit: Unit::M3.id(), breaks }
}

fn faces(sheet: &Sheet, model: &Model) -> Balance {
    let all = || sheet.items.iter().chain(&sheet.voids);
    let items = || all().filter(|i| matches!(i.work.proof, Proof::Faces(_)));
    let mut breaks: Vec<_> = items().filter_map(gap).collect();
    for (work, _, stage, area) in model.all_areas() {
        if !items().any(|i| i.work.id == work && i.stage == stage) && !area.is_zero() {
            breaks.push(format!("{work}/{}: no item, model {} m2", stage.id(), decimal::plain(area)));
        }
    }
    let left = items().map(explained).sum();
    let right = model.all_areas().map(|(.., a)| a).sum();
    Balance { name: "faces", says: Phrase::new("balance-faces"), left, right, unit: Unit::M2.id(), breaks }
}
