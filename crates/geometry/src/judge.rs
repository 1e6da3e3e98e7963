//! Comparisons that shape the take-off, remembered once where a workbook must watch over them.

use std::cell::RefCell;
use std::cmp::Ordering;
use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};

use crate::{Atom, InputId, Len, Ratio};

/// What was compared with nothing.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kept {
    /// A difference of two lengths.
    Difference(Len),
    /// A product of lengths less a limit, the limit in tenths of a millimetre to the same power.
    Product(Vec<Len>, Ratio),
}

/// One remembered comparison: `kept` has this sign.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Test {
    /// The quantity whose sign matters.
    pub kept: Kept,
    /// Less, equal or greater than nothing.
    pub sign: Ordering,
}

/// Compares lengths; remembers each comparison once if told to.
#[derive(Debug, Default)]
pub struct Judge {
    memory: Option<RefCell<BTreeMap<Kept, Ordering>>>,
    /// What says what can be built, and no line hangs on.
    limits: RefCell<BTreeMap<Kept, Ordering>>,
    fixed: RefCell<BTreeSet<Len>>,
    /// Pairs compared already, by where their trails stand; they are held, so that nothing else comes to stand there.
    seen: RefCell<BTreeMap<[usize; 2], [Len; 2]>>,
    any_sign: BTreeSet<InputId>,
}

impl Judge {
    /// `remember`: keep the comparisons; `any_sign`: inputs that may be negative.
    #[must_use]
    pub fn new(remember: bool, any_sign: BTreeSet<InputId>) -> Self {
        let memory = remember.then(RefCell::default);
        Self { memory, any_sign, ..Self::default() }
    }

    /// The order of two lengths.
    pub fn cmp(&self, a: &Len, b: &Len) -> Ordering {
        let order = a.value().cmp(&b.value());
        if let Some(memory) = &self.memory
            && self.is_new(a, b)
        {
            self.remember(memory, a - b, order);
        }
        order
    }

    /// Blocks share their planes: most pairs come many times.
    fn is_new(&self, a: &Len, b: &Len) -> bool {
        let (Some(first), Some(second)) = (a.trail_at(), b.trail_at()) else { return true };
        match self.seen.borrow_mut().entry([first, second]) {
            Entry::Occupied(_) => false,
            Entry::Vacant(place) => {
                place.insert([a.clone(), b.clone()]);
                true
            }
        }
    }

    /// The order of two lengths where it says what can be built: no page needs to watch it, but who reckons another
    /// job by the lines of this one must.
    pub fn limit(&self, a: &Len, b: &Len) -> Ordering {
        let order = a.value().cmp(&b.value());
        if self.memory.is_some() {
            self.remember(&self.limits, a - b, order);
        }
        order
    }

    fn remember(&self, memory: &RefCell<BTreeMap<Kept, Ordering>>, diff: Len, order: Ordering) {
        if !diff.terms().is_empty() && !self.certain(&diff, order) {
            let (diff, order) = upright(diff, order);
            memory.borrow_mut().insert(Kept::Difference(diff), order);
        }
    }

    /// Is the length more than nothing?
    pub fn positive(&self, a: &Len) -> bool {
        self.cmp(a, &Len::ZERO).is_gt()
    }

    /// The larger of two.
    pub fn max<'a>(&self, a: &'a Len, b: &'a Len) -> &'a Len {
        if self.cmp(a, b).is_lt() { b } else { a }
    }

    /// The smaller of two.
    pub fn min<'a>(&self, a: &'a Len, b: &'a Len) -> &'a Len {
        if self.cmp(a, b).is_gt() { b } else { a }
    }

    /// The order of a product of lengths and a limit in tenths of a millimetre to the same power.
    pub fn cmp_product(&self, dims: &[&Len], limit: Ratio) -> Ordering {
        let order = dims.iter().fold(Ratio::ONE, |p, d| p * d.value()).cmp(&limit);
        if let Some(memory) = &self.memory {
            let dims = dims.iter().map(|d| (*d).clone()).collect();
            memory.borrow_mut().insert(Kept::Product(dims, limit), order);
        }
        order
    }

    /// A length that stands in words, or is taken without its trail: where it changes, more changes than lines show.
    pub fn fix(&self, len: &Len) {
        if self.memory.is_some() && !len.terms().is_empty() {
            self.fixed.borrow_mut().insert(len.clone());
        }
    }

    /// Takes everything remembered since the last time: comparisons, limits among them, and lengths that stand in words.
    pub fn take(&self) -> (Vec<Test>, Vec<Len>) {
        let mut tests = self.tests();
        tests.extend(self.limits.take().into_iter().map(|(kept, sign)| Test { kept, sign }));
        if let Some(memory) = &self.memory {
            memory.borrow_mut().clear();
            self.seen.borrow_mut().clear();
        }
        (tests, self.fixed.take().into_iter().collect())
    }

    /// Everything remembered, in a fixed order.
    #[must_use]
    pub fn tests(&self) -> Vec<Test> {
        let Some(memory) = &self.memory else { return Vec::new() };
        memory.borrow().iter().map(|(kept, sign)| Test { kept: kept.clone(), sign: *sign }).collect()
    }

    /// A strict result that holds for any positive inputs needs no watching.
    fn certain(&self, diff: &Len, order: Ordering) -> bool {
        let sign = match order {
            Ordering::Equal => return false,
            Ordering::Less => -1,
            Ordering::Greater => 1,
        };
        diff.terms().iter().all(|t| {
            t.coef.signum() == sign
                && match &t.atom {
                    Atom::Input(id) => !self.any_sign.contains(id),
                    Atom::Tenth => true,
                    Atom::Share(..) => false,
                }
        })
    }
}

/// The same comparison asked from either side is kept once: the first coefficient is positive.
fn upright(diff: Len, order: Ordering) -> (Len, Ordering) {
    if diff.terms().first().is_some_and(|t| t.coef.signum() < 0) {
        (-&diff, order.reverse())
    } else {
        (diff, order)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keeps_what_can_change_and_only_once() {
        let judge = Judge::new(true, BTreeSet::new());
        let (a, b) = (Len::input(InputId(0), 10.into(), true), Len::input(InputId(1), 4.into(), true));
        assert!(judge.cmp(&a, &b).is_gt());
        assert!(judge.cmp(&b, &a).is_lt());
        assert!(judge.positive(&(&a + &b)));
        assert_eq!(judge.tests().len(), 1);
        assert!(judge.cmp(&(&a + &b), &b).is_gt());
        assert_eq!(judge.tests().len(), 1);
    }
    fn inputs() -> (Len, Len) {
        (Len::input(InputId(0), 10.into(), true), Len::input(InputId(1), 4.into(), true))
    }

    #[test]
    fn one_that_does_not_remember_compares_all_the_same() {
        let (judge, (a, b)) = (Judge::default(), inputs());
        assert!(judge.cmp(&a, &b).is_gt() && judge.limit(&b, &a).is_lt() && judge.cmp(&a, &a).is_eq());
        assert_eq!((judge.max(&a, &b), judge.min(&a, &b)), (&a, &b));
        assert_eq!((judge.max(&b, &a), judge.min(&b, &a)), (&a, &b));
        assert!(judge.positive(&a) && !judge.positive(&Len::ZERO) && !judge.positive(&(&b - &a)));
        assert!(judge.cmp_product(&[&a, &b], Ratio::int(10 * 4)).is_eq());
        assert!(judge.cmp_product(&[&a, &b], Ratio::int(41)).is_lt());
        judge.fix(&a);
        assert_eq!((judge.tests(), judge.take()), (Vec::new(), (Vec::new(), Vec::new())));
    }

    #[test]
    fn what_is_remembered_stands_upright_and_is_taken_once() {
        let (judge, (a, b)) = (Judge::new(true, BTreeSet::new()), inputs());
        let test = |kept, sign| Test { kept, sign };
        judge.cmp(&b, &a);
        let difference = test(Kept::Difference(&a - &b), Ordering::Greater);
        assert_eq!(judge.tests(), std::slice::from_ref(&difference), "the first coefficient is positive");
        judge.limit(&(&a + &a), &b);
        assert_eq!(judge.tests(), std::slice::from_ref(&difference), "a limit shapes no line");
        judge.cmp_product(&[&a, &b], Ratio::int(39));
        let product = test(Kept::Product(vec![a.clone(), b.clone()], Ratio::int(39)), Ordering::Greater);
        judge.fix(&a);
        judge.fix(&Len::ZERO);
        let limit = test(Kept::Difference(&(&a + &a) - &b), Ordering::Greater);
        assert_eq!(judge.take(), (vec![difference, product, limit], vec![a]));
        assert_eq!(judge.take(), (Vec::new(), Vec::new()));
    }

    #[test]
    fn a_result_is_certain_only_for_what_cannot_be_negative_or_equal() {
        let (a, b) = inputs();
        let kept = |any: &[InputId], from: &Len, to: &Len| {
            let judge = Judge::new(true, any.iter().copied().collect());
            judge.cmp(from, to);
            judge.tests().len()
        };
        let more = &(&a + &b) + &Len::fixed(3);
        assert_eq!((kept(&[], &more, &b), kept(&[], &b, &more)), (0, 0), "a + 3 is positive whatever a is");
        assert_eq!(kept(&[InputId(0)], &more, &b), 1, "unless a may be negative");
        assert_eq!(kept(&[InputId(1)], &more, &b), 0);
        assert_eq!(kept(&[], &a, &b), 1);
        let same = Len::input(InputId(2), 10.into(), true);
        assert_eq!(kept(&[], &a, &same), 1, "equal today");
        let share = Len::share(&a, &b, &more);
        assert_eq!(kept(&[], &share, &Len::ZERO), 1, "a share may turn round");
    }
}
