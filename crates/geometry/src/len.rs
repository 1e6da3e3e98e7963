//! A length with its trail: a linear form over named inputs, like terms cancelled.

use std::ops::{Add, Neg, Sub};
use std::sync::Arc;

use crate::Ratio;

/// The place of an input in the job's list of inputs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct InputId(pub u32);

/// What a term multiplies.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Atom {
    /// An input of the job file.
    Input(InputId),
    /// A tenth of a millimetre: lengths that no input names.
    Tenth,
    /// `of x part / whole`, as a share of the fall; `whole` left out means 1 (a batter).
    Share(Box<[Len; 2]>, Option<Box<Len>>),
}

/// A coefficient and its atom.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Term {
    /// How many times.
    pub coef: Ratio,
    /// Of what.
    pub atom: Atom,
}

/// A length in tenths of a millimetre, exact, with the terms that make it.
///
/// Built without a trail (no input carries a term) the terms stay empty and only values are reckoned:
/// the same code serves both.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Len {
    /// Shared by its copies, `None` for none: lengths are copied about far more often than made.
    terms: Option<Arc<[Term]>>,
    value: Ratio,
}

impl Len {
    /// Nothing; it has no terms, so a sum with it leaves no trace.
    pub const ZERO: Self = Self::plain(Ratio::ZERO);

    /// A value alone.
    const fn plain(value: Ratio) -> Self {
        Self { terms: None, value }
    }

    fn of(terms: Vec<Term>, value: Ratio) -> Self {
        Self { terms: (!terms.is_empty()).then(|| terms.into()), value }
    }

    /// An input of the job. An input that is 0 leaves no term: a job's zeros are structure, not size.
    #[must_use]
    pub fn input(id: InputId, tenths: Ratio, trail: bool) -> Self {
        if tenths.is_zero() || !trail {
            return Self::plain(tenths);
        }
        Self::of(vec![Term { coef: Ratio::ONE, atom: Atom::Input(id) }], tenths)
    }

    /// A length that no input names, in tenths of a millimetre.
    #[must_use]
    pub fn fixed(tenths: i64) -> Self {
        if tenths == 0 {
            return Self::ZERO;
        }
        Self::of(vec![Term { coef: tenths.into(), atom: Atom::Tenth }], tenths.into())
    }

    /// `of x part / whole`: a share of the fall, or the run of a slope.
    #[must_use]
    pub fn share(of: &Self, part: &Self, whole: &Self) -> Self {
        let value = of.value * part.value / whole.value;
        if of.value.is_zero() || part.value.is_zero() {
            return Self::ZERO;
        }
        if part == whole {
            return of.clone();
        }
        if &part.times(2) == whole {
            return of.half();
        }
        let atom = || Atom::Share(Box::new([of.clone(), part.clone()]), Some(Box::new(whole.clone())));
        trailed(of, value, atom)
    }

    /// `self x factor`, where the factor is an input that is a plain number.
    #[must_use]
    pub fn scaled(&self, factor: &Self) -> Self {
        let value = self.value * factor.value;
        if value.is_zero() {
            return Self::ZERO;
        }
        trailed(self, value, || Atom::Share(Box::new([self.clone(), factor.clone()]), None))
    }

    /// `self x n`.
    #[must_use]
    pub fn times(&self, n: impl Into<Ratio>) -> Self {
        let n = n.into();
        if n.is_zero() {
            return Self::ZERO;
        }
        let value = self.value * n;
        if self.terms.is_none() {
            return Self::plain(value);
        }
        let terms = self.terms().iter().map(|t| Term { coef: t.coef * n, atom: t.atom.clone() });
        Self::of(terms.collect(), value)
    }

    /// Half.
    #[must_use]
    pub fn half(&self) -> Self {
        self.times(Ratio::of(1, 2))
    }

    /// The exact value, tenths of a millimetre.
    #[must_use]
    pub const fn value(&self) -> Ratio {
        self.value
    }

    /// The terms, in a fixed order.
    #[must_use]
    pub fn terms(&self) -> &[Term] {
        self.terms.as_deref().unwrap_or_default()
    }

    /// Where its trail stands in memory, 0 for exactly nothing; `None` for a value that has no trail. As long as a
    /// length with this trail is held, another of the same place is the same length.
    pub(crate) fn trail_at(&self) -> Option<usize> {
        match &self.terms {
            Some(terms) => Some(Arc::as_ptr(terms).cast::<Term>().addr()),
            None => self.value.is_zero().then_some(0),
        }
    }

    /// Is it exactly nothing?
    #[must_use]
    pub const fn is_zero(&self) -> bool {
        self.value.is_zero()
    }

    fn merged(&self, other: &Self, sign: Ratio) -> Self {
        let value = self.value + if sign.signum() < 0 { -other.value } else { other.value };
        if self.terms.is_none() && other.terms.is_none() {
            // Without trails there is nothing to merge.
            return Self::plain(value);
        }
        let mut terms = Vec::with_capacity(self.terms().len() + other.terms().len());
        let (mut a, mut b) = (self.terms().iter().peekable(), other.terms().iter().peekable());
        loop {
            let take = match (a.peek(), b.peek()) {
                (None, None) => break,
                (Some(_), None) => std::cmp::Ordering::Less,
                (None, Some(_)) => std::cmp::Ordering::Greater,
                (Some(x), Some(y)) => x.atom.cmp(&y.atom),
            };
            let x = if take.is_le() { a.next() } else { None };
            let y = if take.is_ge() { b.next() } else { None };
            let coef = x.map_or(Ratio::ZERO, |t| t.coef) + y.map_or(Ratio::ZERO, |t| t.coef * sign);
            if let Some(t) = x.or(y).filter(|_| !coef.is_zero()) {
                terms.push(Term { coef, atom: t.atom.clone() });
            }
        }
        Self::of(terms, value)
    }
}

fn trailed(of: &Len, value: Ratio, atom: impl FnOnce() -> Atom) -> Len {
    if of.terms.is_none() || value.is_zero() {
        return Len::plain(value);
    }
    Len::of(vec![Term { coef: Ratio::ONE, atom: atom() }], value)
}

impl Add for &Len {
    type Output = Len;
    fn add(self, o: &Len) -> Len {
        self.merged(o, Ratio::ONE)
    }
}

impl Sub for &Len {
    type Output = Len;
    fn sub(self, o: &Len) -> Len {
        self.merged(o, Ratio::int(-1))
    }
}

impl Add<&Self> for Len {
    type Output = Self;
    fn add(self, o: &Self) -> Self {
        &self + o
    }
}

impl Sub<&Self> for Len {
    type Output = Self;
    fn sub(self, o: &Self) -> Self {
        &self - o
    }
}

impl Neg for &Len {
    type Output = Len;
    fn neg(self) -> Len {
        if self.terms.is_none() { Len::plain(-self.value) } else { self.times(-1) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn input(id: u32, tenths: i64) -> Len {
        Len::input(InputId(id), tenths.into(), true)
    }

    #[test]
    fn like_terms_cancel() {
        let (a, b) = (input(0, 20_000), input(1, 1_100));
        let sum = &(&a + &b) + &b;
        assert_eq!(&(&sum - &b) - &b, a);
        assert_eq!(&a - &a, Len::ZERO);
        assert_eq!((&sum - &a).terms().len(), 1);
    }

    #[test]
    fn a_share_of_the_whole_is_the_whole() {
        let (fall, l) = (input(0, 600), input(1, 31_100));
        assert_eq!(Len::share(&fall, &l, &l), fall);
        assert_eq!(Len::share(&fall, &l.half(), &l).value(), Ratio::int(300));
        assert_eq!(Len::share(&Len::ZERO, &l.half(), &l), Len::ZERO);
    }
    /// Coefficient and atom of each term.
    fn terms(len: &Len) -> Vec<(Ratio, Atom)> {
        len.terms().iter().map(|t| (t.coef, t.atom.clone())).collect()
    }

    #[test]
    fn sums_and_multiples_keep_value_and_terms() {
        let (a, b) = (input(0, 20), input(1, 8));
        let atom = |id| Atom::Input(InputId(id));
        let expected = |x: i128, y: i128| vec![(Ratio::int(x), atom(0)), (Ratio::int(y), atom(1))];
        for (len, value, times) in [
            (&a + &b, 20 + 8, (1, 1)),
            (a.clone() + &b, 20 + 8, (1, 1)),
            (&a - &b, 20 - 8, (1, -1)),
            (a.clone() - &b, 20 - 8, (1, -1)),
            (-&(&a - &b), 8 - 20, (-1, 1)),
            (&a.times(3) - &b.times(2), 3 * 20 - 2 * 8, (3, -2)),
            (&a.times(3).times(2) + &b, 6 * 20 + 8, (6, 1)),
        ] {
            assert_eq!((len.value(), terms(&len)), (Ratio::int(value), expected(times.0, times.1)));
        }
        assert_eq!(a.times(0), Len::ZERO);
        assert_eq!(terms(&a.half()), [(Ratio::of(1, 2), atom(0))]);
        let plain = |tenths: i64| Len::input(InputId(0), tenths.into(), false);
        for (len, value) in [(&plain(7) - &plain(2), 7 - 2), (-&plain(7), -7), (plain(7).times(4), 7 * 4)] {
            assert_eq!((len.value(), len.terms()), (Ratio::int(value), &[][..]));
        }
    }

    #[test]
    fn shares_and_slopes_are_their_quotient_with_a_trail_only_of_what_has_one() {
        let (fall, part, whole) = (input(0, 60), input(1, 7), input(2, 35));
        let plain = |tenths: i64| Len::input(InputId(0), tenths.into(), false);
        let share = Len::share(&fall, &part, &whole);
        assert_eq!(share.value(), Ratio::of(60 * 7, 35));
        let made = Atom::Share(Box::new([fall.clone(), part.clone()]), Some(Box::new(whole.clone())));
        assert_eq!(terms(&share), [(Ratio::ONE, made)]);
        let slope = fall.scaled(&part);
        assert_eq!(slope.value(), Ratio::int(60 * 7));
        assert_eq!(terms(&slope), [(Ratio::ONE, Atom::Share(Box::new([fall.clone(), part.clone()]), None))]);
        assert_eq!(Len::share(&plain(60), &part, &whole), plain(12));
        assert_eq!(plain(60).scaled(&part), plain(420));
        // Nothing, though it has terms: today's zero is structure.
        let nothing = &fall - &input(3, 60);
        assert!(nothing.is_zero() && !nothing.terms().is_empty());
        assert_eq!(Len::share(&nothing, &whole, &whole), Len::ZERO);
        assert_eq!((nothing.scaled(&part), fall.scaled(&Len::ZERO)), (Len::ZERO, Len::ZERO));
    }
}
