//! A price list: rows of works (and, later, materials, labour and plant) with rate, date and source.

use rust_decimal::Decimal;

use crate::problem::Problem;

/// What a row prices.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PriceKind {
    /// A work, complete.
    Work,
    /// A material.
    Material,
    /// Labour.
    Labour,
    /// Plant.
    Plant,
}

impl PriceKind {
    /// All, in the order of the documentation.
    pub const ALL: [Self; 4] = [Self::Work, Self::Material, Self::Labour, Self::Plant];

    /// As written in the column `kind`.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Work => "work",
            Self::Material => "material",
            Self::Labour => "labour",
            Self::Plant => "plant",
        }
    }
}

/// One row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PriceRow {
    /// Work, material, labour or plant.
    pub kind: PriceKind,
    /// `concrete-base/1:2:4`.
    pub code: String,
    /// The list's own words.
    pub description: String,
    /// Unit, as `m3`.
    pub unit: String,
    /// Rate in the list's currency; `None` where the cell is empty.
    pub rate: Option<Decimal>,
    /// `2026-10-01`.
    pub date: String,
    /// Who said so.
    pub source: String,
    /// Line in the file, from 1.
    pub line: usize,
    /// Bytes of that line in the text.
    pub span: std::ops::Range<usize>,
}

/// A price list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PriceList {
    /// Built-in name or the path as the user gave it.
    pub name: String,
    /// ISO 4217 code of its rows.
    pub currency: String,
    /// All rows, in file order.
    pub rows: Vec<PriceRow>,
    /// Cautions met while reading: columns that nothing reads.
    pub cautions: Vec<Problem>,
}

impl PriceList {
    /// Does the list price labour or plant? Works that it does not price are built up only then.
    #[must_use]
    pub fn builds_up(&self) -> bool {
        self.rows.iter().any(|r| matches!(r.kind, PriceKind::Labour | PriceKind::Plant))
    }
}
