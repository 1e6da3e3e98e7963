//! Materials of so much of a work by itself: what a rate is built up from.

use std::collections::BTreeSet;

use tankwright_geometry::{Judge, Ratio};

use crate::decimal::rounded;
use crate::job::Job;
use crate::materials::chain::Chain;
use crate::materials::desk::Desk;
use crate::materials::{Material, Use, choices};
use crate::rates::Stock;
use crate::sheet::{Item, Sheet};
use crate::source::Source;
use crate::words::Phrase;
use crate::works::MadeOf;

/// Uses of an item as it stands, by the job's own choices of recipes and waste. Bars are metres by their mass, with
/// their wire; whose lengths are planned elsewhere have no waste here.
#[must_use]
pub fn uses_of(job: &Job, stock: &Stock, item: Item) -> Vec<Use> {
    // What shapes the uses was compared, and what is wrong told, where the job's own materials were reckoned.
    let judge = Judge::new(false, BTreeSet::new());
    let choices = choices::read(job, &stock.recipes, &mut Vec::new());
    let mut desk = Desk::new(stock, &judge, choices);
    if item.work.made_of == MadeOf::Bars {
        bars(&mut desk, stock, &item);
    } else {
        desk.sheet(&Sheet { items: vec![item], voids: Vec::new() });
    }
    desk.uses
}

fn bars(desk: &mut Desk<'_>, stock: &Stock, item: &Item) {
    let diameter = item.spec.trim_start_matches(|c: char| c.is_ascii_alphabetic()).parse().unwrap_or(0);
    let mass = stock.bars.mass_per_metre(diameter);
    if mass.is_zero() {
        return;
    }
    let says = Phrase::with("materials-bar-mass", &[&item.spec]);
    let source = Source { text: "own definition: mass by the density of steel".into(), ..Source::default() };
    let metres = Chain::of(item, false).number(Ratio::ONE / mass, says).cite(&source, false);
    desk.put(metres, &format!("bars/{}", item.spec));
    if let Some(wire) = desk.times(Chain::of(item, false), "binding-wire") {
        desk.put(wire, "binding-wire");
    }
}

/// A material by its id, as the trade knows it; its use in metres, kilograms ... with waste.
#[must_use]
pub fn material(stock: &Stock, id: &str) -> Option<Material> {
    let goods = stock.recipes.goods.get(stock.recipes.place(id)?)?;
    let last = id.rsplit('/').next().unwrap_or_default();
    let name = stock.units.get(last).map_or(last, |u| u.title.as_str());
    Some(Material {
        id: id.to_owned(),
        title: goods.title.replace("{0}", name),
        unit: goods.unit.clone(),
        supplier: goods.supplier.clone(),
        rounding: goods.rounding,
        source: goods.source.clone(),
    })
}

impl Use {
    /// With waste, exact.
    #[must_use]
    pub fn gross(&self) -> Ratio {
        self.amount * (Ratio::int(100) + self.waste_percent) / Ratio::int(100)
    }
}

/// A decimal that an item's net quantity is held in.
pub(crate) fn net(quantity: Ratio) -> Option<rust_decimal::Decimal> {
    rounded(quantity, crate::ledger::EXACT_PLACES)
}
