//! Polynomials of the inputs that vary in a search: two ways of reckoning that come to the same polynomial come to the
//! same figure for every candidate.
//!
//! An input that never varied is its value. What is divided by (the clear length, where the floor falls) has a sign of
//! its own for its reciprocal, and is multiplied out before a polynomial is called nothing.

use std::collections::BTreeMap;

use tankwright_geometry::{Amount, Atom, Len, Made, Ratio};

use crate::ledger::{Form, Inputs, Sum};

/// Powers of the signs of a term: four bits each, inputs first, then reciprocals.
type Powers = u64;

/// Signs for inputs.
const INPUTS: usize = 12;
/// Signs in all.
const SIGNS: usize = 16;
/// The largest degree that four bits hold.
const DEGREE: u32 = 15;

const fn power(of: Powers, sign: usize) -> u32 {
    (of >> (4 * sign) & 15) as u32
}

fn degree(of: Powers) -> u32 {
    (0..SIGNS).map(|s| power(of, s)).sum()
}

/// A polynomial; `lost` where it could not be held, which spreads and never proves anything.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Poly {
    terms: BTreeMap<Powers, Ratio>,
    lost: bool,
}

impl Poly {
    pub(super) const LOST: Self = Self { terms: BTreeMap::new(), lost: true };

    pub(super) fn fixed(value: Ratio) -> Self {
        Self::term(0, value)
    }

    fn term(powers: Powers, value: Ratio) -> Self {
        let mut sum = Self::default();
        sum.put(powers, value);
        sum
    }

    fn put(&mut self, powers: Powers, value: Ratio) {
        let sum = self.terms.get(&powers).map_or(value, |v| *v + value);
        self.lost |= !sum.is_known();
        if sum.is_zero() {
            self.terms.remove(&powers);
        } else {
            self.terms.insert(powers, sum);
        }
    }

    pub(super) fn plus(&mut self, other: &Self, times: Ratio) {
        self.lost |= other.lost;
        other.terms.iter().for_each(|(p, v)| self.put(*p, *v * times));
    }

    pub(super) fn less(&self, other: &Self) -> Self {
        let mut sum = self.clone();
        sum.plus(other, Ratio::int(-1));
        sum
    }

    pub(super) fn times(&self, other: &Self) -> Self {
        let high = |p: &Self| p.terms.keys().map(|k| degree(*k)).max().unwrap_or(0);
        if self.lost || other.lost || high(self) + high(other) > DEGREE {
            return Self::LOST;
        }
        let mut product = Self::default();
        for (p, v) in &self.terms {
            other.terms.iter().for_each(|(q, w)| product.put(p + q, *v * *w));
        }
        product
    }

    pub(super) fn scaled(&self, times: Ratio) -> Self {
        let mut sum = Self::default();
        sum.plus(self, times);
        sum
    }

    /// Its value where nothing varies in it.
    fn plain(&self) -> Option<Ratio> {
        match (self.lost, self.terms.len(), self.terms.get(&0)) {
            (false, 0, _) => Some(Ratio::ZERO),
            (false, 1, Some(value)) => Some(*value),
            _ => None,
        }
    }

    /// One sign replaced.
    fn replaced(&self, sign: usize, by: &Self) -> Self {
        let mut sum = Self { lost: self.lost, ..Self::default() };
        for (p, v) in &self.terms {
            let n = power(*p, sign);
            let rest = Self::term(p & !(15 << (4 * sign)), *v);
            sum.plus(&(0..n).fold(rest, |r, _| r.times(by)), Ratio::ONE);
        }
        sum
    }
}

/// What polynomials are made of: the inputs that vary, and what is divided by.
#[derive(Debug)]
pub(super) struct Ring<'a> {
    inputs: &'a Inputs,
    /// Of each sign of an input: what it is by lengths that coincide; itself where nothing says more.
    images: Vec<(usize, Poly)>,
    wholes: Vec<Poly>,
}

impl<'a> Ring<'a> {
    /// `None` where too many inputs vary.
    pub(super) fn of(inputs: &'a Inputs) -> Option<Self> {
        let sign = |(i, at): (usize, &usize)| (*at, Poly::term(1 << (4 * i), Ratio::ONE));
        let images = || inputs.varied.iter().enumerate().map(sign).collect();
        (inputs.varied.len() <= INPUTS).then(|| Self { inputs, images: images(), wholes: Vec::new() })
    }

    /// Something is nothing for all candidates that are meant: one input follows from the others. `None` where that
    /// cannot be said of one.
    pub(super) fn tie(&mut self, nothing: &Poly) -> Option<()> {
        if nothing.plain().is_some_and(|v| v.is_zero()) {
            return Some(());
        }
        if nothing.lost || nothing.terms.keys().any(|p| degree(*p) > 1 || p >> (4 * INPUTS) != 0) {
            return None;
        }
        let (powers, coef) = nothing.terms.iter().next_back().filter(|(p, _)| **p != 0)?;
        let sign = (0..INPUTS).find(|s| power(*powers, *s) == 1)?;
        let own = Poly::term(*powers, Ratio::ONE);
        let image = own.less(&nothing.scaled(Ratio::ONE / *coef));
        self.images.iter_mut().for_each(|(_, p)| *p = p.replaced(sign, &image));
        Some(())
    }

    /// An input in its whole parts.
    fn input(&self, at: usize) -> Poly {
        let value = || self.inputs.values.get(at).map_or(Poly::LOST, |v| Poly::fixed(Ratio::from(*v)));
        self.images.iter().find(|(input, _)| *input == at).map_or_else(value, |(_, image)| image.clone())
    }

    /// A length, tenths of a millimetre.
    pub(super) fn len(&mut self, len: &Len) -> Poly {
        if len.terms().is_empty() {
            return Poly::fixed(len.value());
        }
        let mut sum = Poly::default();
        for term in len.terms() {
            match &term.atom {
                Atom::Tenth => sum.plus(&Poly::fixed(term.coef), Ratio::ONE),
                Atom::Input(id) => {
                    sum.plus(&self.input(id.0 as usize), term.coef * Ratio::of(1, self.inputs.per));
                }
                Atom::Share(two, whole) => {
                    let mut share = self.len(&two[0]).times(&self.len(&two[1]));
                    if let Some(whole) = whole {
                        let whole = self.len(whole);
                        share = share.times(&self.one_by(&whole));
                    }
                    sum.plus(&share, term.coef);
                }
            }
        }
        sum
    }

    /// A length of a form, in the form's scale.
    pub(super) fn sum(&mut self, form: &Form, at: usize) -> Poly {
        let Some(Sum { terms, fixed, shares, .. }) = form.sum(at) else { return Poly::LOST };
        let mut sum = Poly::fixed(Ratio::int(*fixed));
        terms.iter().for_each(|(input, coef)| sum.plus(&self.input(*input), Ratio::from(*coef)));
        for share in shares {
            let mut product = self.sum(form, share.of).times(&self.sum(form, share.part));
            let whole = match share.whole {
                Some(at) => self.sum(form, at),
                None => Poly::fixed(Ratio::int(form.scale())),
            };
            product = product.times(&self.one_by(&whole));
            sum.plus(&product, Ratio::of(share.coef.n, share.coef.d));
        }
        sum
    }

    /// An amount; `found`: what was asked of the model.
    pub(super) fn amount(&mut self, amount: &Amount, found: &[Poly]) -> Poly {
        match amount.made() {
            None => Poly::fixed(amount.value()),
            Some(Made::Len(len)) => self.len(len),
            Some(Made::Sum(a, b)) => {
                let mut sum = self.amount(a, found);
                sum.plus(&self.amount(b, found), Ratio::ONE);
                sum
            }
            Some(Made::Product(a, b)) => self.amount(a, found).times(&self.amount(b, found)),
            Some(Made::Quotient(a, b)) => {
                let whole = self.amount(b, found);
                self.amount(a, found).times(&self.one_by(&whole))
            }
            Some(Made::Found(at)) => found.get(*at).cloned().unwrap_or(Poly::LOST),
        }
    }

    /// The reciprocal.
    pub(super) fn one_by(&mut self, whole: &Poly) -> Poly {
        if let Some(value) = whole.plain() {
            let one = Ratio::ONE / value;
            return if one.is_known() { Poly::fixed(one) } else { Poly::LOST };
        }
        let Some((_, first)) = whole.terms.iter().next_back() else { return Poly::LOST };
        // The same but for a factor has the same sign: whole numbers, the last one positive.
        let all = whole.terms.values();
        let per = all.fold(Ratio::ONE, |per, v| per * Ratio::int(Ratio::of(per.numer(), v.denom()).denom()));
        let factor = per * Ratio::int(first.signum());
        let whole = whole.scaled(factor);
        let of_inputs = whole.terms.keys().all(|p| p >> (4 * INPUTS) == 0);
        let at = self.wholes.iter().position(|w| *w == whole).unwrap_or(self.wholes.len());
        if whole.lost || !of_inputs || INPUTS + at >= SIGNS {
            return Poly::LOST;
        }
        if at == self.wholes.len() {
            self.wholes.push(whole);
        }
        Poly::term(1 << (4 * (INPUTS + at)), factor)
    }

    /// Is it nothing, whatever the inputs are?
    pub(super) fn is_nothing(&self, poly: &Poly) -> bool {
        let mut poly = poly.clone();
        for (at, whole) in self.wholes.iter().enumerate() {
            let sign = INPUTS + at;
            let high = poly.terms.keys().map(|p| power(*p, sign)).max().unwrap_or(0);
            let mut sum = Poly { lost: poly.lost, ..Poly::default() };
            for (p, v) in &poly.terms {
                let rest = Poly::term(p & !(15 << (4 * sign)), *v);
                let n = high - power(*p, sign);
                sum.plus(&(0..n).fold(rest, |r, _| r.times(whole)), Ratio::ONE);
            }
            poly = sum;
        }
        !poly.lost && poly.terms.is_empty()
    }

    /// For whole numbers; `None` where it is lost.
    pub(super) fn compiled(&self, poly: &Poly) -> Option<Compiled> {
        let mut per = 1_i128;
        for value in poly.terms.values() {
            per = per.checked_mul(Ratio::of(per, value.denom()).denom())?;
        }
        let mut over = Vec::new();
        for (at, whole) in self.wholes.iter().enumerate() {
            let high = poly.terms.keys().map(|p| power(*p, INPUTS + at)).max().unwrap_or(0);
            if high > 0 {
                over.push((INPUTS + at, high, self.compiled(whole)?));
            }
        }
        let inputs = self.inputs.varied.clone();
        let whole = |(p, v): (&Powers, &Ratio)| Some((*p, v.numer().checked_mul(per / v.denom())?));
        let terms = poly.terms.iter().map(whole).collect::<Option<_>>()?;
        (!poly.lost).then_some(Compiled { terms, per, over, inputs })
    }
}

/// A polynomial to be reckoned in whole numbers.
#[derive(Debug)]
pub(super) struct Compiled {
    terms: Vec<(Powers, i128)>,
    per: i128,
    /// What is divided by: its sign, how often, and what it is.
    over: Vec<(usize, u32, Compiled)>,
    /// The input of each sign.
    inputs: Vec<usize>,
}

impl Compiled {
    /// Its value; `None` where a number grows too large.
    pub(super) fn value(&self, inputs: &[i64]) -> Option<Ratio> {
        let (n, d) = self.parts(inputs)?;
        Some(Ratio::of(n, d))
    }

    fn parts(&self, inputs: &[i64]) -> Option<(i128, i128)> {
        let (mut sum, mut per) = (0_i128, self.per);
        let mut wholes = [0_i128; SIGNS];
        for (sign, high, whole) in &self.over {
            let (n, _) = whole.parts(inputs)?;
            *wholes.get_mut(*sign)? = n;
            per = per.checked_mul(n.checked_pow(*high)?)?;
        }
        for (powers, coef) in &self.terms {
            let mut product = *coef;
            let mut rest = powers & ((1 << (4 * INPUTS)) - 1);
            let mut sign = 0;
            while rest != 0 {
                for _ in 0..rest & 15 {
                    product = product.checked_mul((*inputs.get(*self.inputs.get(sign)?)?).into())?;
                }
                (rest, sign) = (rest >> 4, sign + 1);
            }
            for (sign, high, _) in &self.over {
                for _ in power(*powers, *sign)..*high {
                    product = product.checked_mul(wholes[*sign])?;
                }
            }
            sum = sum.checked_add(product)?;
        }
        Some((sum, per))
    }
}

#[cfg(test)]
mod tests;
