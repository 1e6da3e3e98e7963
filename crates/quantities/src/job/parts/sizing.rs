//! The rule that the tank's size is held against, and what it asks: the words of `tankwright size`, with `_` for `-`.

use crate::job::field::{Fallback, Field, Kind, Presence};

const fn key(key: &'static str, kind: Kind, help: &'static str) -> Field {
    Field::value(key, kind, Fallback::Nothing, help)
}

const PLAIN: Kind = Kind::Number { places: 6 };

/// The table. Values with units are texts: the rules read them.
pub(super) static FIELDS: &[Field] = &[
    Field::part("sizing", Presence::Always, "the rule that the tank's size is held against"),
    key("sizing.rule", Kind::Text, "its id, as `tankwright rules sizing` lists them"),
    key("sizing.persons", Kind::Count { least: 1, most: 10_000 }, "left out: as tank.persons"),
    key("sizing.bedrooms", Kind::Count { least: 1, most: 1_000 }, "bedrooms of the house"),
    key("sizing.fixture_units", PLAIN, "drainage fixture units"),
    key("sizing.flow", Kind::Text, "waste water of a day, as \"1.2 m3/d\""),
    key("sizing.water_use", Kind::Text, "water that a person uses in a day, as \"120 l/p/d\""),
    key("sizing.years", PLAIN, "years between emptyings"),
    key("sizing.temperature", PLAIN, "mean of the coldest month, degrees Celsius"),
    key("sizing.wastes", Kind::Choice(&["all", "black"]), "all waste water, or from toilets only"),
    key("sizing.grinder", Kind::Flag, "kitchen waste is ground into the drain"),
    key("sizing.effluent", Kind::Choice(&["septic", "treated"]), "what is to soak away"),
    key("sizing.percolation", Kind::Text, "percolation test, as \"20 s/mm\", or its readings"),
    key("sizing.soil", Kind::Text, "soil at the depth where water soaks away, as the rules name it"),
    key("sizing.soil_class", Kind::Text, "class of the soil, as texas-ii or upc-sand"),
    key("sizing.trench_width", Kind::Text, "width of a drainage trench"),
    key("sizing.trench_depth", Kind::Text, "depth of a trench below its pipe"),
];
