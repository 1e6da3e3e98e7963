//! Item by item: what each is made of, by its work's own word for it.

use tankwright_geometry::Ratio;

use crate::estimate::Capacity;
use crate::materials::chain::Chain;
use crate::materials::desk::Desk;
use crate::materials::mixes::MixKind;
use crate::sheet::{Item, Sheet};
use crate::stage::Stage;
use crate::steel::Schedule;
use crate::words::Phrase;
use crate::works::{self, MadeOf};

impl Desk<'_> {
    /// Everything of the ledger that something is bought for.
    pub(super) fn sheet(&mut self, sheet: &Sheet) {
        for item in sheet.items.iter().chain(&sheet.voids) {
            // What is missing in the data has been noted as a problem.
            let _ = match item.work.made_of {
                MadeOf::Nothing | MadeOf::Bars => None,
                MadeOf::Concrete => self.concrete_item(item),
                MadeOf::Masonry => self.masonry(item),
                MadeOf::Coat(id) => self.coat(item, id),
                MadeOf::Recipe(id) => self.recipe(item, Chain::of(item, false), id),
                MadeOf::OverBreak => self.over_break(item),
            };
        }
    }

    fn concrete_item(&mut self, item: &Item) -> Option<()> {
        self.concrete(Chain::of(item, false), mix_of(item))?;
        self.put_water(item, "curing-concrete")
    }

    fn coat(&mut self, item: &Item, id: &str) -> Option<()> {
        let (Some(coat), Some(thick)) = (self.recipes().coats.get(id), item.made.thickness.as_ref()) else {
            self.lacks(&format!("the coat {id}"));
            return None;
        };
        let mut volume = Chain::of(item, false).times(thick, Phrase::new("materials-thickness"));
        for figure in &coat.times {
            volume = self.times(volume, figure)?;
        }
        let says = if coat.times.is_empty() { "materials-mixed-screed" } else { "materials-mixed-plaster" };
        let kind = MixKind { says, sand: &coat.sand, waterproofed: item.made.waterproofed };
        self.mortar(&volume, &item.made.mix, kind)?;
        self.put_water(item, "curing-coat")
    }

    /// Goods of a recipe; `ID.SPEC` goes before `ID`.
    fn recipe(&mut self, item: &Item, base: Chain, id: &str) -> Option<()> {
        let recipes = &self.recipes().recipes;
        let Some(recipe) = recipes.get(&format!("{id}.{}", item.spec)).or_else(|| recipes.get(id)) else {
            self.lacks(&format!("the recipe {id}"));
            return None;
        };
        for good in &recipe.goods {
            let mut chain = base.clone().cite(&recipe.source, false);
            for figure in &good.times {
                chain = self.times(chain, figure)?;
            }
            for figure in &good.over {
                chain = self.over(chain, figure)?;
            }
            match good.material.strip_suffix("/SPEC") {
                Some(kind) if item.spec.is_empty() => self.put(chain, kind),
                Some(kind) => self.put(chain, &format!("{kind}/{}", item.spec)),
                None if good.material == "cement" => self.cement(chain, item.made.waterproofed)?,
                None => self.put(chain, &good.material),
            }
        }
        Some(())
    }

    /// The room dug beyond the net face of a tight pit: packing, or more of what stands before it.
    fn over_break(&mut self, item: &Item) -> Option<()> {
        let allowance = item.made.thickness.as_ref()?;
        let volume = Chain::of(item, true).times(allowance, Phrase::new("materials-allowance"));
        if item.spec == "packing" {
            return self.packing(item, volume);
        }
        if let Some(MadeOf::Recipe(id)) =
            works::all().into_iter().find(|w| w.id == item.spec).map(|w| w.made_of)
        {
            return self.recipe(item, volume, id);
        }
        self.concrete(volume, mix_of(item))
    }

    /// Water for curing, by the item's own quantity.
    pub(super) fn put_water(&mut self, item: &Item, figure: &str) -> Option<()> {
        let water = self.times(Chain::of(item, false), figure)?;
        self.put(water, "water");
        Some(())
    }

    /// Water of the test: the tank full to the underside of the cover.
    pub(super) fn test_water(&mut self, sheet: &Sheet, capacity: &Capacity) {
        let test = sheet.items.iter().find(|i| i.work == &works::finishes::WATER_TEST);
        if let Some(item) = test {
            let says = Phrase::new("materials-test-water");
            let full = Chain::from(item.stage, Ratio::int(capacity.full.into())).number(Ratio::ONE, says);
            let own = crate::source::Source {
                text: "own definition: filled once, to the underside of the cover".into(),
                ..crate::source::Source::default()
            };
            self.put(full.cite(&own, false), "water");
        }
    }

    /// Bars by mark, and the wire that ties those of a stage.
    pub(super) fn bars(&mut self, schedule: &Schedule) {
        let source = crate::source::Source {
            text: "own definition: bars of the schedule, at their cutting length".into(),
            ..crate::source::Source::default()
        };
        for mark in &schedule.marks {
            let says = Phrase::with("materials-bar-length", &[&mark.mark]);
            let metres = Ratio::from(mark.length_mm) / Ratio::int(1000);
            let chain = Chain::from(mark.stage, Ratio::int(mark.count.into())).number(metres, says);
            self.put(chain.cite(&source, false), &format!("bars/{}", mark.bar.id()));
        }
        for stage in Stage::ALL {
            let kg: Ratio = schedule.marks.iter().filter(|m| m.stage == stage).map(|m| m.mass).sum();
            if !kg.is_zero()
                && let Some(wire) = self.times(Chain::from(stage, kg), "binding-wire")
            {
                self.put(wire, "binding-wire");
            }
        }
    }
}

/// The mix that a specification begins with.
fn mix_of(item: &Item) -> &str {
    item.spec.split('/').next().unwrap_or_default()
}
