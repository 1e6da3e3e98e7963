//! What works are made of: published mixes, named figures, recipes, goods and their waste.

use std::collections::BTreeMap;

use tankwright_geometry::Ratio;

use crate::materials::Rounding;
use crate::source::Source;

/// Materials of 1 m3 of concrete or mortar, as one source prints them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mix {
    /// `cpwd-1-2-4`.
    pub id: String,
    /// Proportions by volume, as the job writes them: `1:2:4`.
    pub mix: String,
    /// Whose figures: the word that `[materials] concrete` names.
    pub origin: String,
    /// Kilograms of cement.
    pub cement: Ratio,
    /// Cubic metres of sand, loose.
    pub sand: Ratio,
    /// Cubic metres of aggregate, loose; none in mortar.
    pub aggregate: Ratio,
    /// Has the source waste in its figures?
    pub waste_inside: bool,
    /// The one that counts where the job names no origin.
    pub used: bool,
    /// Source.
    pub source: Source,
}

/// One source's value of a figure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FigureValue {
    /// What `[materials.figures]` names.
    pub id: String,
    /// Value.
    pub value: Ratio,
    /// Has the source waste in it?
    pub waste_inside: bool,
    /// The one that counts.
    pub used: bool,
    /// Source.
    pub source: Source,
}

/// A number with a name that recipes multiply by or divide by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    /// `dry-concrete`.
    pub id: String,
    /// What it is, with its unit.
    pub says: String,
    /// Values by source, at least one, exactly one of them used.
    pub values: Vec<FigureValue>,
}

impl Figure {
    /// The value of an id; of an empty id the one that counts.
    #[must_use]
    pub fn value(&self, id: &str) -> Option<&FigureValue> {
        self.values.iter().find(|v| if id.is_empty() { v.used } else { v.id == id })
    }
}

/// One of the goods of a recipe: figures multiplied, then divided.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecipeGood {
    /// Material; `/SPEC` at its end stands for the item's specification.
    pub material: String,
    /// Figures multiplied.
    pub times: Vec<String>,
    /// Figures divided by.
    pub over: Vec<String>,
}

/// Goods of 1 unit of a work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recipe {
    /// `hardcore-bed`, or `earthwork-support.close` for one specification.
    pub id: String,
    /// Unit of the work.
    pub unit: String,
    /// Goods.
    pub goods: Vec<RecipeGood>,
    /// Source.
    pub source: Source,
}

/// A coat of mortar: area x thickness x figures.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Coat {
    /// `plaster`, `screed`.
    pub id: String,
    /// Which sand goes into it.
    pub sand: String,
    /// Figures multiplied.
    pub times: Vec<String>,
    /// Source.
    pub source: Source,
}

/// A material as the trade knows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Goods {
    /// `cement`, `pipe` (which covers `pipe/110`).
    pub id: String,
    /// As printed; `{0}` is the last part of the id.
    pub title: String,
    /// Its own unit.
    pub unit: String,
    /// Who sells it.
    pub supplier: String,
    /// How it is rounded.
    pub rounding: Rounding,
    /// Source.
    pub source: Source,
}

/// Everything that materials are reckoned from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Recipes {
    /// Concrete by mix and origin.
    pub concrete: Vec<Mix>,
    /// Mortar by mix and origin.
    pub mortar: Vec<Mix>,
    /// Figures, by id.
    pub figures: BTreeMap<String, Figure>,
    /// Recipes, by id.
    pub recipes: BTreeMap<String, Recipe>,
    /// Coats, by id.
    pub coats: BTreeMap<String, Coat>,
    /// Mix of blocks that are made on the site.
    pub made_blocks: Option<(String, Source)>,
    /// Goods, in the order printed.
    pub goods: Vec<Goods>,
    /// Waste, per cent, by material.
    pub waste: BTreeMap<String, (Ratio, Source)>,
}

/// A material's id, then what covers it: `bars/Y12`, `bars`. The most specific wins.
pub fn covering(material: &str) -> impl Iterator<Item = &str> {
    std::iter::successors(Some(material), |id| id.rfind('/').map(|at| &id[..at]))
}

impl Recipes {
    /// Place of the goods that cover a material, in the order printed.
    #[must_use]
    pub fn place(&self, material: &str) -> Option<usize> {
        covering(material).find_map(|id| self.goods.iter().position(|g| g.id == id))
    }

    /// Waste of a material, per cent, with its source, and the id that covers it.
    #[must_use]
    pub fn waste<'a>(&self, material: &'a str) -> Option<(&'a str, &(Ratio, Source))> {
        covering(material).find_map(|id| self.waste.get(id).map(|w| (id, w)))
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_most_specific_comes_first() {
        let all: Vec<_> = super::covering("bricks/brick-220x105x65").collect();
        assert_eq!(all, ["bricks/brick-220x105x65", "bricks"]);
        assert_eq!(super::covering("cement").collect::<Vec<_>>(), ["cement"]);
    }
}
