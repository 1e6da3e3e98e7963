//! Bars as data: grades, diameters with what a bender must keep to, mass, laps.

use std::collections::BTreeMap;

use tankwright_geometry::{PI, Ratio};

use crate::source::Source;

/// A grade of steel, by the letter of the drawing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Grade {
    /// `Y`: letters mean different things in different countries.
    pub letter: String,
    /// As printed: `High-yield bars`.
    pub title: String,
    /// Ribbed, or plain and round.
    pub ribbed: bool,
    /// Where the letter was read.
    pub source: Source,
}

/// What a bender must keep to for one diameter; tenths of a millimetre, BS 8666:2005 table 2.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BarSize {
    /// Diameter, whole mm.
    pub diameter: u32,
    /// Least radius of a bend, r.
    pub radius: i64,
    /// Least end projection, P.
    pub projection: i64,
    /// Least end projection of links, P.
    pub projection_links: i64,
    /// Least overall size of two bends near each other.
    pub two_bends: i64,
    /// Where they were read.
    pub source: Source,
}

/// A published lap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LapRule {
    /// `bs8110-30-tension`.
    pub id: String,
    /// As printed.
    pub title: String,
    /// Is this the rule that a job's lap is compared with?
    pub used: bool,
    /// So many diameters, where the rule says it so.
    pub diameters: Option<Ratio>,
    /// Diameter in mm and lap in tenths of a millimetre, where the rule is a table.
    pub table: Vec<(u32, i64)>,
    /// Where it was read.
    pub source: Source,
}

impl LapRule {
    /// The lap of a diameter in tenths of a millimetre; nothing where the table lacks it.
    #[must_use]
    pub fn lap(&self, diameter: u32) -> Option<Ratio> {
        let row = self.table.iter().find(|(d, _)| *d == diameter).map(|(_, l)| Ratio::from(*l));
        row.or_else(|| self.diameters.map(|n| n * Ratio::int(10) * Ratio::from(i64::from(diameter))))
    }
}

/// Everything known of bars.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Bars {
    /// By letter.
    pub grades: BTreeMap<String, Grade>,
    /// By diameter, mm.
    pub sizes: BTreeMap<u32, BarSize>,
    /// Kilograms in a cubic metre of steel.
    pub density: Option<(Ratio, Source)>,
    /// Published laps, by id.
    pub laps: BTreeMap<String, LapRule>,
}

impl Bars {
    /// Kilograms in a metre of a bar, rounded once to three places: what is printed and multiplied.
    #[must_use]
    pub fn mass_per_metre(&self, diameter: u32) -> Ratio {
        let density = self.density.as_ref().map_or(Ratio::ZERO, |(d, _)| *d);
        let d = Ratio::of(i128::from(diameter), 1_000);
        (density * PI * d * d * Ratio::of(1, 4)).round_half_away(Ratio::of(1, 1_000))
    }

    /// The published lap that a job's own is compared with.
    #[must_use]
    pub fn lap_rule(&self) -> Option<&LapRule> {
        self.laps.values().find(|l| l.used)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kilograms_in_a_metre_are_those_of_the_published_table() -> Result<(), String> {
        let (stock, _) = crate::rates::builtin();
        // 7850 x pi / 4 x d2, three places: notes on quantities 4.1, column "0.00785 x area".
        for (d, kg) in
            [(6, 222), (8, 395), (10, 617), (12, 888), (16, 1_578), (20, 2_466), (25, 3_853), (32, 6_313)]
        {
            if stock.bars.mass_per_metre(d) != Ratio::of(kg, 1_000) || !stock.bars.sizes.contains_key(&d) {
                return Err(format!("{d} mm"));
            }
        }
        Ok(())
    }
}
