//! Soils, masonry units, currencies and the checklist of preliminaries.

use std::collections::BTreeMap;

use tankwright_geometry::Ratio;

use crate::money::Currency;
use crate::rates::{Bars, Profile, Recipes};
use crate::source::Source;

/// A kind of ground.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Soil {
    /// `firm-clay`.
    pub id: String,
    /// As printed.
    pub title: String,
    /// Loose volume over volume in the ground, as 1.25.
    pub swell: (Ratio, Source),
    /// Tonnes per cubic metre as it lies in the ground.
    pub weight: (Ratio, Source),
    /// Do vertical sides stand for the time of the work, as far as the entry can say?
    pub sides_stand: (bool, Source),
}

/// A brick or block.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MasonryUnit {
    /// `brick-220x105x65`.
    pub id: String,
    /// As printed.
    pub title: String,
    /// Length, breadth, height, tenths of a millimetre.
    pub size: [i64; 3],
    /// Joint, tenths of a millimetre.
    pub joint: i64,
    /// Wall thicknesses it makes, tenths of a millimetre.
    pub walls: Vec<i64>,
    /// Hollow blocks have cells.
    pub hollow: bool,
    /// Share of it that is cells, where its maker says so or it was measured.
    pub voids: Option<Ratio>,
    /// Share of the joints that is mortar: 1 for a full bed, less where only webs and shells are bedded.
    pub filled: Ratio,
    /// Where the size was read.
    pub source: Source,
}

/// One thing a job usually needs that the drawing does not show.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CheckItem {
    /// `watchman`.
    pub id: String,
    /// As printed.
    pub title: String,
    /// Words that show a preliminary covers it, lower case.
    pub words: Vec<String>,
    /// Phrases taken out of a title before the words are looked for, lower case.
    pub not: Vec<String>,
    /// Source.
    pub source: Source,
}

/// All built-in data but price lists, by id.
#[derive(Clone, Debug, Default)]
pub struct Stock {
    /// Measurement profiles.
    pub profiles: BTreeMap<String, Profile>,
    /// Soils.
    pub soils: BTreeMap<String, Soil>,
    /// Masonry units.
    pub units: BTreeMap<String, MasonryUnit>,
    /// Currencies, by ISO 4217 code.
    pub currencies: BTreeMap<String, (Currency, Source)>,
    /// Bars: grades, diameters, mass, laps.
    pub bars: Bars,
    /// Checklist of preliminaries, in order.
    pub checklist: Vec<CheckItem>,
    /// What works are made of.
    pub recipes: Recipes,
    /// Limits, loads and weights of the checks, by id.
    pub checks: BTreeMap<String, super::Figure>,
    /// Tables of the checks, by id.
    pub tables: BTreeMap<String, super::Table>,
    /// Packs, in the order of the file.
    pub packs: Vec<super::PackEntry>,
    /// Days, waits, hold points and cautions of the programme.
    pub times: super::Times,
    /// Build-ups of rates, standing on-costs.
    pub build_ups: super::BuildUps,
    /// What the user's own files replaced or added, as `soil firm-clay, from my-rates/soils.toml`.
    pub overridden: Vec<String>,
}

impl CheckItem {
    /// Does a preliminary of this title cover the item? Whole words count, case does not.
    #[must_use]
    pub fn covers(&self, title: &str) -> bool {
        let mut title = spaced(title);
        for phrase in &self.not {
            title = title.replace(&spaced(phrase), " ");
        }
        self.words.iter().any(|word| title.contains(&spaced(word)))
    }
}

/// Lower case, words parted and closed in by single blanks.
fn spaced(text: &str) -> String {
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).collect();
    format!(" {} ", words.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_covers_by_whole_words() {
        let item = CheckItem {
            id: "water".into(),
            title: "water for the works".into(),
            words: vec!["water".into(), "set out".into()],
            not: vec!["free from water".into()],
            source: Source::default(),
        };
        assert!(item.covers("Water, tools"));
        assert!(item.covers("to SET-OUT"));
        assert!(!item.covers("Waterproofing"));
        assert!(!item.covers("Keeping free from water"));
        assert!(item.covers("Keeping free from water; buying water"));
        assert!(!item.covers(""));
    }
}
