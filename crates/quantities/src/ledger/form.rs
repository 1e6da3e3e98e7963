//! The ledger of one structure as sums over the job's inputs: what a workbook does with its cells, in whole numbers.
//!
//! Every booked dimension is a linear form over inputs, and every comparison that shaped the lines is remembered. Where
//! all of them fall out as before, another job of the same kind has the same lines, and only figures change.

use std::cmp::Ordering;

use tankwright_geometry::Ratio;

use crate::ledger::Spec;
use crate::stage::Stage;
use crate::works::{Unit, Work};

/// The inputs of a job in whole parts.
#[derive(Clone, Debug, Default)]
pub(crate) struct Inputs {
    pub(crate) values: Vec<i64>,
    /// So many parts make one.
    pub(crate) per: i128,
    /// Bits of those that differ from the family's own.
    pub(crate) on: u128,
    /// Those that ever differed, in the order in which they did.
    pub(crate) varied: Vec<usize>,
    /// Jobs taken so far.
    pub(crate) turn: u64,
    /// Of each that varied: the turn in which it changed last.
    pub(crate) moved: Vec<u64>,
}

/// Bit of an input.
pub(crate) const fn bit(input: usize) -> u128 {
    1 << (input % 128)
}

impl Inputs {
    /// Gives an input its value in this turn.
    pub(crate) fn put(&mut self, at: usize, value: i64) -> Option<()> {
        let own = self.values.get_mut(at)?;
        if *own != value {
            *own = value;
            let place = self.varied.iter().position(|v| *v == at).unwrap_or(self.varied.len());
            if place == self.varied.len() {
                self.varied.push(at);
                self.moved.push(0);
            }
            self.moved[place] = self.turn;
        }
        Some(())
    }

    /// Bits of those that have changed since a turn; all where there was none.
    pub(super) fn since(&self, turn: u64) -> u128 {
        if turn == 0 {
            return u128::MAX;
        }
        let moved = self.varied.iter().zip(&self.moved).filter(|(_, m)| **m > turn);
        moved.fold(0, |on, (input, _)| on | bit(*input))
    }
}

/// A fraction that is not reduced; the denominator is positive.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Part {
    pub(crate) n: i128,
    pub(crate) d: i128,
}

impl Part {
    pub(crate) fn plus(self, o: Self) -> Option<Self> {
        if self.d == o.d {
            return Some(Self { n: self.n.checked_add(o.n)?, d: self.d });
        }
        if self.d == 1 {
            return Some(Self { n: self.n.checked_mul(o.d)?.checked_add(o.n)?, d: o.d });
        }
        let n = self.n.checked_mul(o.d)?.checked_add(o.n.checked_mul(self.d)?)?;
        Some(Self { n, d: self.d.checked_mul(o.d)? })
    }
}

/// `coef x of x part / whole`, of lengths that stand before; `whole` left out: a plain factor.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Share {
    pub(crate) coef: Part,
    pub(crate) of: usize,
    pub(crate) part: usize,
    pub(crate) whole: Option<usize>,
}

/// A length: whole multiples of inputs, a fixed part, shares.
#[derive(Clone, Debug, Default)]
pub(crate) struct Sum {
    pub(crate) terms: Vec<(usize, i64)>,
    pub(crate) fixed: i128,
    pub(crate) shares: Vec<Share>,
    /// Bits of the inputs that it hangs on.
    pub(crate) on: u128,
}

/// What must fall out as before.
#[derive(Clone, Debug)]
pub(super) enum Check {
    /// The sign of a length.
    Sign(usize, Ordering),
    /// The order of a product and a limit in the form's scale.
    Product(Vec<usize>, Part, Ordering),
    /// The length itself: it stands in words.
    Same(usize, Part),
}

/// A multiplier that follows the dimensions.
#[derive(Clone, Copy, Debug)]
pub(super) enum Number {
    /// Whole strips: lift, course, every so many.
    Strips(usize, usize, i128),
    /// Bars over a length, at most so far apart.
    Spaces(usize, usize),
}

/// How a dimension is booked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Booked {
    /// To the nearest step.
    Nearest(i128),
    /// Up to the next step: value, net and exact are one.
    Up(i128),
    /// Not multiplied.
    Dropped,
}

/// A line: into which group it is summed, how many times, what is multiplied.
#[derive(Clone, Debug)]
pub(crate) struct Row {
    pub(crate) group: usize,
    pub(crate) count: i128,
    pub(super) numbers: Vec<Number>,
    /// A place in `Form::dims`.
    pub(super) dims: Vec<usize>,
    /// Left out of the quantity.
    pub(super) kept: bool,
    /// Bits of the inputs that it hangs on.
    pub(super) on: u128,
}

/// Lines of an item that are multiplied alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Group {
    /// Item of this form.
    pub(crate) item: usize,
    /// What else multiplies every line: pi, fractions, a mass per metre, and the parts of a metre.
    pub(crate) value: Ratio,
    /// The same for exact sums.
    pub(crate) exact: Ratio,
    /// Nothing else multiplies the exact products: so many parts of the form's scale make one of a tenth of a millimetre
    /// to their power.
    pub(crate) plain: Option<i128>,
}

/// An item of the ledger.
#[derive(Clone, Debug)]
pub(crate) struct Head {
    pub(crate) spec: Spec,
    /// The specification by which the model knows it: narrow faces and edges are proved together with the rest.
    pub(crate) base: String,
    pub(crate) stage: Stage,
    pub(crate) unit: Unit,
    pub(crate) unbilled: bool,
    /// Its quantity is also that of all items of these works.
    pub(crate) refers: Vec<&'static Work>,
}

impl Head {
    /// The places of the items that are proved together with this one, itself too; none where an earlier one is the first.
    pub(crate) fn parts(&self, all: &[Self]) -> Vec<usize> {
        let same = |h: &Self| {
            (h.spec.work, h.stage, h.base.as_str()) == (self.spec.work, self.stage, self.base.as_str())
        };
        let parts: Vec<_> = (0..all.len()).filter(|k| same(&all[*k])).collect();
        let first = parts.first().and_then(|k| all.get(*k));
        if first.is_some_and(|h| h.spec.spec == self.spec.spec) { parts } else { Vec::new() }
    }
}

/// The form.
#[derive(Clone, Debug, Default)]
pub(crate) struct Form {
    /// Bits of the inputs that differed from the family's own when it was made.
    pub(super) on: u128,
    /// Parts of a tenth of a millimetre that lengths are reckoned in.
    pub(super) scale: i128,
    pub(super) sums: Vec<Sum>,
    pub(super) checks: Vec<(u128, Check)>,
    /// The turn in which it held last.
    pub(super) held: u64,
    pub(super) dims: Vec<(usize, Booked)>,
    /// Lengths that no line needs, but who draws the structure does.
    pub(crate) planes: Vec<usize>,
    pub(crate) rows: Vec<Row>,
    pub(crate) groups: Vec<Group>,
    pub(crate) items: Vec<Head>,
}

impl Form {
    /// Have these inputs the same structure?
    pub(crate) fn holds(&mut self, inputs: &Inputs) -> bool {
        // Where it held before, only what has changed since can tell; else what the form's own inputs differ in.
        self.holds_on(inputs, inputs.since(self.held) & (inputs.on | self.on | inputs.since(1)))
    }

    /// The same by those checks alone that hang on some of these bits.
    pub(super) fn holds_on(&mut self, inputs: &Inputs, on: u128) -> bool {
        let differs =
            |(of, check): &(u128, Check)| of & on != 0 && !self.same(check, &inputs.values).unwrap_or(false);
        let Some(first) = self.checks.iter().position(differs) else {
            self.held = inputs.turn;
            return true;
        };
        // What told them apart is asked first the next time.
        self.checks.swap(0, first);
        false
    }

    fn same(&self, check: &Check, inputs: &[i64]) -> Option<bool> {
        Some(match check {
            Check::Sign(sum, sign) => self.length(*sum, inputs)?.n.cmp(&0) == *sign,
            Check::Same(sum, was) => {
                let is = self.length(*sum, inputs)?;
                is.n.checked_mul(was.d)? == was.n.checked_mul(is.d)?
            }
            Check::Product(sums, limit, order) => {
                let mut product = Part { n: limit.d, d: limit.n };
                for sum in sums {
                    let Part { n, d } = self.length(*sum, inputs)?;
                    product = Part { n: product.n.checked_mul(n)?, d: product.d.checked_mul(d)? };
                }
                product.n.cmp(&product.d) == *order
            }
        })
    }

    /// One length, with the shares it is made of.
    fn length(&self, sum: usize, inputs: &[i64]) -> Option<Part> {
        self.added(self.sums.get(sum)?, inputs, &|i| self.length(i, inputs))
    }

    pub(super) fn added(
        &self,
        sum: &Sum,
        inputs: &[i64],
        other: &dyn Fn(usize) -> Option<Part>,
    ) -> Option<Part> {
        let mut n = sum.fixed;
        for (input, coef) in &sum.terms {
            // Two numbers of 64 bits: their product fits, and so do all that a length can have.
            n += i128::from(*inputs.get(*input)?) * i128::from(*coef);
        }
        let mut total = Part { n, d: 1 };
        for share in &sum.shares {
            let (of, part) = (other(share.of)?, other(share.part)?);
            let whole = share.whole.map_or(Some(Part { n: self.scale, d: 1 }), other)?;
            let n = of.n.checked_mul(part.n)?.checked_mul(whole.d)?.checked_mul(share.coef.n)?;
            let d = of.d.checked_mul(part.d)?.checked_mul(whole.n)?.checked_mul(share.coef.d)?;
            let sign = d.signum();
            if sign == 0 {
                return None;
            }
            total = total.plus(Part { n: n.checked_mul(sign)?, d: d.checked_mul(sign)? })?;
        }
        Some(total)
    }

    /// Parts of a tenth of a millimetre that lengths are reckoned in.
    pub(crate) fn scale(&self) -> i128 {
        self.scale
    }

    /// A length.
    pub(crate) fn sum(&self, at: usize) -> Option<&Sum> {
        self.sums.get(at)
    }

    /// Lengths that must be nothing, or what they were, as long as the form holds.
    pub(crate) fn ties(&self) -> impl Iterator<Item = (usize, Part)> {
        self.checks.iter().filter_map(|(_, check)| match check {
            Check::Sign(sum, Ordering::Equal) => Some((*sum, Part { n: 0, d: 1 })),
            Check::Same(sum, was) => Some((*sum, *was)),
            _ => None,
        })
    }

    /// The lengths that a line multiplies, where nothing but these and whole numbers make it.
    pub(crate) fn factors(&self, row: &Row) -> Option<impl Iterator<Item = usize>> {
        let whole = row.numbers.is_empty();
        let dims: Vec<_> = row.dims.iter().filter_map(|d| self.dims.get(*d)).collect();
        let exact = dims.iter().all(|(_, how)| !matches!(how, Booked::Up(_)));
        (whole && exact).then(|| dims.into_iter().map(|(len, _)| *len))
    }

    /// A length made to be what it is here, for a test.
    #[cfg(test)]
    pub(crate) fn freeze(&mut self, len: usize, value: i128) {
        if let Some(sum) = self.sums.get_mut(len) {
            (sum.terms, sum.shares, sum.fixed) = (Vec::new(), Vec::new(), value);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A form whose one check hangs on the very input that changes, and on nothing else.
    #[test]
    fn what_changed_alone_is_asked_of_what_hangs_on_it_alone() {
        let sums = vec![Sum { terms: vec![(0, 1)], fixed: -10, on: bit(0), ..Sum::default() }];
        let checks = vec![(bit(0), Check::Sign(0, Ordering::Greater))];
        let mut form = Form { sums, checks, on: bit(0), ..Form::default() };
        let mut inputs = Inputs { values: vec![15], per: 1, on: bit(0), turn: 1, ..Inputs::default() };
        assert!(form.holds(&inputs));
        for (value, holds) in [(11, true), (9, false), (12, true)] {
            inputs.turn += 1;
            assert_eq!(inputs.put(0, value), Some(()));
            assert_eq!(form.holds(&inputs), holds, "{value}");
        }
    }
}
