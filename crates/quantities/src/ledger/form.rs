//! The ledger of one structure as sums over the job's inputs: what a workbook does with its cells, in whole numbers.
//!
//! Every booked dimension is a linear form over inputs, and every comparison that shaped the lines is remembered. Where
//! all of them fall out as before, another job of the same kind has the same lines, and only figures change.

use std::cmp::Ordering;

use tankwright_geometry::{Ratio, nearest};

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
pub(super) struct Share {
    pub(super) coef: Part,
    pub(super) of: usize,
    pub(super) part: usize,
    pub(super) whole: Option<usize>,
}

/// A length: whole multiples of inputs, a fixed part, shares.
#[derive(Clone, Debug, Default)]
pub(super) struct Sum {
    pub(super) terms: Vec<(usize, i64)>,
    pub(super) fixed: i128,
    pub(super) shares: Vec<Share>,
    /// Bits of the inputs that it hangs on.
    pub(super) on: u128,
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

/// The form.
#[derive(Clone, Debug, Default)]
pub(crate) struct Form {
    /// Bits of the inputs that differed from the family's own when it was made.
    pub(super) on: u128,
    /// Parts of a tenth of a millimetre that lengths are reckoned in.
    pub(super) scale: i128,
    pub(super) sums: Vec<Sum>,
    pub(super) checks: Vec<(u128, Check)>,
    pub(super) dims: Vec<(usize, Booked)>,
    pub(crate) rows: Vec<Row>,
    pub(crate) groups: Vec<Group>,
    pub(crate) items: Vec<Head>,
}

/// What a form comes to.
#[derive(Debug, Default)]
pub(crate) struct Figures {
    lens: Vec<Part>,
    booked: Vec<i128>,
    /// By group: products of booked dimensions, tenths of a millimetre.
    pub(crate) value: Vec<i128>,
    /// By group: exact products in the form's scale, by denominator.
    pub(crate) exact: Vec<Vec<Part>>,
}

/// The largest whole number not above `n / d`, `d` positive. Division of 128 bits is slow: most figures fit in 64.
fn floor(n: i128, d: i128) -> i128 {
    match (i64::try_from(n), i64::try_from(d)) {
        (Ok(n), Ok(d)) if d > 0 => n.div_euclid(d).into(),
        _ => n.div_euclid(d),
    }
}

impl Form {
    /// Have these inputs, in whole parts, the same structure? `on`: bits of those that differ from the family's own.
    pub(crate) fn holds(&mut self, inputs: &[i64], on: u128) -> bool {
        let on = on | self.on;
        let differs =
            |(of, check): &(u128, Check)| of & on != 0 && !self.same(check, inputs).unwrap_or(false);
        let Some(first) = self.checks.iter().position(differs) else { return true };
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

    fn added(&self, sum: &Sum, inputs: &[i64], other: &dyn Fn(usize) -> Option<Part>) -> Option<Part> {
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

    /// Reckons every line for inputs for which the form [`holds`](Self::holds); `None` where a number grows too large.
    pub(crate) fn figures(&self, inputs: &[i64], at: &mut Figures) -> Option<()> {
        let mut lens = std::mem::take(&mut at.lens);
        lens.clear();
        for sum in &self.sums {
            let len = self.added(sum, inputs, &|i| lens.get(i).copied())?;
            lens.push(len);
        }
        at.lens = lens;
        at.booked.clear();
        for (len, booked) in &self.dims {
            let Part { n, d } = *at.lens.get(*len)?;
            at.booked.push(match booked {
                Booked::Nearest(step) => nearest(n, d.checked_mul(self.scale)?.checked_mul(*step)?)? * step,
                Booked::Up(step) => {
                    let per = d.checked_mul(self.scale)?.checked_mul(*step)?;
                    -floor(-n, per) * step
                }
                Booked::Dropped => 1,
            });
        }
        at.value.clear();
        at.value.resize(self.groups.len(), 0);
        at.exact.iter_mut().for_each(Vec::clear);
        at.exact.resize(self.groups.len(), Vec::new());
        self.rows.iter().try_for_each(|row| self.row(row, at))
    }

    fn row(&self, row: &Row, at: &mut Figures) -> Option<()> {
        let mut count = row.count;
        for number in &row.numbers {
            let quotient = |a: usize, b: usize| -> Option<(i128, i128)> {
                let (a, b) = (at.lens.get(a)?, at.lens.get(b)?);
                let d = b.n.checked_mul(a.d).filter(|d| *d > 0)?;
                Some((a.n.checked_mul(b.d)?, d))
            };
            count = count.checked_mul(match number {
                Number::Strips(lift, course, every) => {
                    let (n, d) = quotient(*lift, *course)?;
                    (floor(n, d) - 1).max(0) / every
                }
                Number::Spaces(over, apart) => {
                    let (n, d) = quotient(*over, *apart)?;
                    1 - floor(-n, d)
                }
            })?;
        }
        let (mut value, mut exact) = (count, Part { n: count, d: 1 });
        for dim in &row.dims {
            let ((len, how), booked) = (self.dims.get(*dim)?, at.booked.get(*dim)?);
            value = value.checked_mul(*booked)?;
            let Part { n, d } = match how {
                Booked::Up(_) => Part { n: booked.checked_mul(self.scale)?, d: 1 },
                _ => *at.lens.get(*len)?,
            };
            exact.n = exact.n.checked_mul(n)?;
            if d != 1 {
                exact.d = exact.d.checked_mul(d)?;
            }
        }
        if !row.kept {
            let sum = at.value.get_mut(row.group)?;
            *sum = sum.checked_add(value)?;
        }
        let sums = at.exact.get_mut(row.group)?;
        match sums.iter_mut().find(|s| s.d == exact.d) {
            Some(sum) => sum.n = sum.n.checked_add(exact.n)?,
            None => sums.push(exact),
        }
        Some(())
    }
}
