//! A product that grows factor by factor until it is put down as the use of a material.

use tankwright_geometry::{Len, Ratio};

use crate::decimal;
use crate::materials::{Factor, Step, Use};
use crate::sheet::Item;
use crate::source::Source;
use crate::stage::Stage;
use crate::words::Phrase;

/// A product so far.
#[derive(Clone, Debug)]
pub(super) struct Chain {
    /// Stage of the item.
    pub(super) stage: Stage,
    item: String,
    base: Ratio,
    over_break: bool,
    less: bool,
    steps: Vec<Step>,
    source: Source,
    inside: bool,
}

impl Chain {
    /// The net quantity of an item.
    pub(super) fn of(item: &Item, over_break: bool) -> Self {
        Self { item: item.id.clone(), over_break, ..Self::from(item.stage, decimal::ratio(item.net)) }
    }

    /// A quantity that is no item's.
    pub(super) fn from(stage: Stage, base: Ratio) -> Self {
        Self {
            stage,
            item: String::new(),
            base,
            over_break: false,
            less: false,
            steps: Vec::new(),
            source: Source::default(),
            inside: false,
        }
    }

    /// Times a figure.
    pub(super) fn number(mut self, n: Ratio, says: Phrase) -> Self {
        self.steps.push(Step { factor: Factor::Number(n), says, again: false });
        self
    }

    /// Over a number of uses.
    pub(super) fn again(mut self, uses: Ratio, says: Phrase) -> Self {
        self.steps.push(Step { factor: Factor::Number(Ratio::ONE / uses), says, again: true });
        self
    }

    /// Times a length in metres.
    pub(super) fn times(mut self, len: &Len, says: Phrase) -> Self {
        self.steps.push(Step { factor: Factor::Times(len.clone()), says, again: false });
        self
    }

    /// Over a length in metres.
    pub(super) fn over(mut self, len: &Len, says: Phrase) -> Self {
        self.steps.push(Step { factor: Factor::Over(len.clone()), says, again: false });
        self
    }

    /// Taken off.
    pub(super) const fn less(mut self) -> Self {
        self.less = true;
        self
    }

    /// The source that the use names; waste inside once is inside for good.
    pub(super) fn cite(mut self, source: &Source, inside: bool) -> Self {
        self.source = source.clone();
        self.inside |= inside;
        self
    }

    /// Has it waste inside?
    pub(super) const fn has_waste(&self) -> bool {
        self.inside
    }

    /// The product, signed.
    pub(super) fn amount(&self) -> Ratio {
        product(self.base, &self.steps, self.less)
    }

    /// The use of a material at a rate of waste.
    pub(super) fn put(self, material: &str, waste_percent: Ratio) -> Use {
        let amount = self.amount();
        Use {
            material: material.to_owned(),
            stage: self.stage,
            item: self.item,
            base: self.base,
            over_break: self.over_break,
            less: self.less,
            steps: self.steps,
            amount,
            waste_percent: if self.inside { Ratio::ZERO } else { waste_percent },
            source: self.source,
            waste_inside: self.inside,
        }
    }
}

/// Base times all steps, signed; lengths in metres.
pub(super) fn product(base: Ratio, steps: &[Step], less: bool) -> Ratio {
    let metre = Ratio::int(10_000);
    let product = steps.iter().fold(base, |product, step| match &step.factor {
        Factor::Number(n) => product * *n,
        Factor::Times(len) => product * (len.value() / metre),
        Factor::Over(len) => product / (len.value() / metre),
    });
    if less { -product } else { product }
}
