//! What an item is made of. Recipes read this; measuring and pricing never do.

use tankwright_geometry::Len;

/// Makings of an item beyond its specification; empty where the work needs none.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Made {
    /// Proportions of the mortar or concrete: `1:4`. Of concrete the specification says it, and this stays empty; of
    /// masonry empty means laid dry.
    pub mix: String,
    /// Id of the masonry unit: `brick-220x105x65`.
    pub unit: String,
    /// Thickness of a wall, a coat or the over-break.
    pub thickness: Option<Len>,
    /// Waterproofer in the mortar or paste.
    pub waterproofed: bool,
    /// Mix that fills the cells of hollow blocks; empty: they stay hollow.
    pub cells_mix: String,
}

impl Made {
    /// Nothing to say.
    pub const NOTHING: Self = Self {
        mix: String::new(),
        unit: String::new(),
        thickness: None,
        waterproofed: false,
        cells_mix: String::new(),
    };
}
