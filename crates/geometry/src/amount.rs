//! Sums and products of lengths that remember what they are made of, as far as the lengths do.

use std::iter::Sum;
use std::ops::{Add, Div, Mul, Neg, Sub};
use std::sync::Arc;

use crate::{Len, Ratio};

/// What an amount is made of.
#[derive(Debug)]
pub enum Made {
    /// A length.
    Len(Len),
    /// A sum.
    Sum(Amount, Amount),
    /// A product.
    Product(Amount, Amount),
    /// A quotient.
    Quotient(Amount, Amount),
    /// What somebody else finds, by its place in a list of what was asked.
    Found(usize),
}

/// An amount in tenths of a millimetre to any power. Built of lengths without trails it is its value alone.
#[derive(Clone, Debug)]
pub struct Amount {
    value: Ratio,
    made: Option<Arc<Made>>,
}

impl Amount {
    /// Nothing.
    pub const ZERO: Self = Self { value: Ratio::ZERO, made: None };

    /// What somebody else will find: it has no value yet.
    #[must_use]
    pub fn found(place: usize) -> Self {
        Self { value: Ratio::ZERO, made: Some(Arc::new(Made::Found(place))) }
    }

    /// The exact value.
    #[must_use]
    pub const fn value(&self) -> Ratio {
        self.value
    }

    /// What it is made of; `None` for a value alone.
    #[must_use]
    pub fn made(&self) -> Option<&Made> {
        self.made.as_deref()
    }

    /// Nothing, and nothing that could become more?
    #[must_use]
    pub const fn is_nothing(&self) -> bool {
        self.made.is_none() && self.value.is_zero()
    }

    fn of(value: Ratio, a: &Self, b: &Self, made: fn(Self, Self) -> Made) -> Self {
        let trail = a.made.is_some() || b.made.is_some();
        Self { value, made: trail.then(|| Arc::new(made(a.clone(), b.clone()))) }
    }
}

impl From<Ratio> for Amount {
    fn from(value: Ratio) -> Self {
        Self { value, made: None }
    }
}

impl From<&Len> for Amount {
    fn from(len: &Len) -> Self {
        let made = (!len.terms().is_empty()).then(|| Arc::new(Made::Len(len.clone())));
        Self { value: len.value(), made }
    }
}

impl Len {
    /// The same as an amount.
    #[must_use]
    pub fn amount(&self) -> Amount {
        self.into()
    }
}

/// An operator between amounts, by value or by reference, and plain ratios.
macro_rules! operator {
    ($trait:ident $name:ident $value:expr, $made:expr) => {
        impl $trait<&Amount> for &Amount {
            type Output = Amount;
            fn $name(self, o: &Amount) -> Amount {
                let value: fn(Ratio, Ratio) -> Ratio = $value;
                let made: fn(Amount, Amount) -> Made = $made;
                Amount::of(value(self.value, o.value), self, o, made)
            }
        }
        impl $trait<Amount> for Amount {
            type Output = Amount;
            fn $name(self, o: Amount) -> Amount {
                $trait::$name(&self, &o)
            }
        }
        impl $trait<&Amount> for Amount {
            type Output = Amount;
            fn $name(self, o: &Amount) -> Amount {
                $trait::$name(&self, o)
            }
        }
        impl $trait<Amount> for &Amount {
            type Output = Amount;
            fn $name(self, o: Amount) -> Amount {
                $trait::$name(self, &o)
            }
        }
        impl $trait<Ratio> for Amount {
            type Output = Amount;
            fn $name(self, o: Ratio) -> Amount {
                $trait::$name(&self, &Amount::from(o))
            }
        }
        impl $trait<Ratio> for &Amount {
            type Output = Amount;
            fn $name(self, o: Ratio) -> Amount {
                $trait::$name(self, &Amount::from(o))
            }
        }
    };
}

operator!(Add add |a, b| a + b, Made::Sum);
operator!(Sub sub |a, b| a - b, |a, b| Made::Sum(a, -b));
operator!(Mul mul |a, b| a * b, Made::Product);
operator!(Div div |a, b| a / b, Made::Quotient);

impl Neg for Amount {
    type Output = Self;
    fn neg(self) -> Self {
        if self.made.is_none() { Self::from(-self.value) } else { self * Ratio::int(-1) }
    }
}

impl Sum for Amount {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, |a, b| a + b)
    }
}

#[cfg(test)]
#[expect(clippy::panic, reason = "a test stops where it fails")]
mod tests {
    use super::*;
    use crate::InputId;

    #[test]
    fn only_lengths_with_trails_leave_one() {
        let len = |trail| Len::input(InputId(0), 20.into(), trail).amount();
        let area = |trail| len(trail) * len(trail) - Ratio::int(100);
        assert_eq!((area(false).value(), area(true).value()), (Ratio::int(300), Ratio::int(300)));
        assert!(area(false).made().is_none());
        assert!(matches!(area(true).made(), Some(Made::Sum(..))));
        assert!(Amount::from(Ratio::ZERO).is_nothing());
        assert!(!(len(true) - len(true)).is_nothing());
    }
    #[test]
    fn every_operator_keeps_its_value_and_says_what_it_is_made_of() {
        let len = |id, tenths: i64| Len::input(InputId(id), tenths.into(), true).amount();
        let (a, b) = (len(0, 20), len(1, 8));
        let of = |amount: &Amount| (amount.value(), format!("{:?}", amount.made()));
        let (sum, less, product, quotient) = (&a + &b, &a - &b, &a * &b, &a / &b);
        assert_eq!(sum.value(), Ratio::int(20 + 8));
        assert_eq!(less.value(), Ratio::int(20 - 8));
        assert_eq!(product.value(), Ratio::int(20 * 8));
        assert_eq!(quotient.value(), Ratio::of(20, 8));
        assert!(
            matches!(sum.made(), Some(Made::Sum(..))) && matches!(product.made(), Some(Made::Product(..)))
        );
        assert!(matches!(quotient.made(), Some(Made::Quotient(..))));
        // A difference is a sum with what is taken away turned round.
        let Some(Made::Sum(_, away)) = less.made() else { panic!("{less:?}") };
        assert_eq!((away.value(), of(away)), (Ratio::int(-8), of(&-b.clone())));
        // By value, by reference, and with a plain number.
        for (left, right) in [(a.clone() + b.clone(), a.clone() + &b), (&a + b.clone(), a.clone() + &b)] {
            assert_eq!((of(&left), of(&right)), (of(&sum), of(&sum)));
        }
        assert_eq!((a.clone() * Ratio::int(3)).value(), (&a * Ratio::int(3)).value());
        assert_eq!((-Amount::from(Ratio::int(3))).value(), Ratio::int(-3));
        assert!((-Amount::from(Ratio::int(3))).made().is_none());
        assert_eq!((-a.clone()).value(), Ratio::int(-20));
        assert!(matches!((-a.clone()).made(), Some(Made::Product(..))));
        let all: Amount = [a.clone(), b.clone(), Ratio::int(5).into()].into_iter().sum();
        assert_eq!(all.value(), Ratio::int(20 + 8 + 5));
        let found = Amount::found(4);
        assert!(
            matches!(found.made(), Some(Made::Found(4))) && found.value().is_zero() && !found.is_nothing()
        );
        assert!(!Amount::from(Ratio::ONE).is_nothing());
    }
}
