//! Figures and tables as checks take them, with their sources, and figures as they are printed.

use std::collections::BTreeMap;

use tankwright_geometry::Ratio;

use crate::checks::Finished;
use crate::rates::{Figure, Table};
use crate::source::Source;

/// Gives figures and keeps the sources of those that were asked for.
#[derive(Debug)]
pub(super) struct Desk<'a> {
    figures: &'a BTreeMap<String, Figure>,
    tables: &'a BTreeMap<String, Table>,
    sources: Vec<String>,
}

impl<'a> Desk<'a> {
    /// Nothing asked for yet.
    pub(super) fn new(of: &Finished<'a>) -> Self {
        Self { figures: &of.site.stock.checks, tables: &of.site.stock.tables, sources: Vec::new() }
    }

    /// The figure that counts; unknown where the data lack it, which nothing passes.
    pub(super) fn figure(&mut self, id: &str) -> Ratio {
        self.choice(id, "")
    }

    /// The figure for a word, where there is one for it, else the one that counts.
    pub(super) fn choice(&mut self, id: &str, word: &str) -> Ratio {
        let figure = self.figures.get(id);
        let Some(value) = figure.and_then(|f| f.value(word).or_else(|| f.value(""))) else {
            return Ratio::UNKNOWN;
        };
        self.note(&value.source);
        value.value
    }

    /// A table.
    pub(super) fn table(&mut self, id: &str) -> Option<&'a Table> {
        let table = self.tables.get(id)?;
        self.note(&table.source);
        Some(table)
    }

    fn note(&mut self, source: &Source) {
        let text = source.to_string();
        if !self.sources.contains(&text) {
            self.sources.push(text);
        }
    }

    /// Every source so far, in one line.
    pub(super) fn source(&self) -> String {
        self.sources.join("; ")
    }
}

/// A figure as it is printed, and so as it is multiplied on.
pub(super) fn printed(value: Ratio, places: u32) -> Ratio {
    10_i128.checked_pow(places).map_or(Ratio::UNKNOWN, |scale| value.round_half_away(Ratio::of(1, scale)))
}

/// In words: a decimal, as many places as it has.
pub(super) fn says(value: Ratio) -> String {
    crate::decimal::plain(value)
}

/// Is there enough? Never where either is unknown.
pub(super) fn reaches(has: Ratio, asks: Ratio) -> bool {
    has.is_known() && asks.is_known() && has >= asks
}
