//! How much work may be done. Counted in steps, so that every machine stops at the same place.

/// The effort a caller allows.
#[derive(Clone, Copy)]
pub struct Effort<'a> {
    /// Steps of the inner loops, about 10^9 a second. The search ends when they are used up.
    pub steps: u64,
    /// Asked now and then; the search ends when it says so. `None`: the answer depends on nothing but the list.
    pub stop: Option<&'a dyn Fn() -> bool>,
}

impl Effort<'_> {
    /// So many steps, and nothing else.
    #[must_use]
    pub const fn steps(steps: u64) -> Self {
        Self { steps, stop: None }
    }
}

/// Counts the work.
pub(crate) struct Meter<'a> {
    effort: Effort<'a>,
    done: u64,
    asked: u64,
    over: bool,
}

/// The caller's stop is asked once in so many steps.
const EACH: u64 = 200_000;

impl<'a> Meter<'a> {
    pub(crate) fn new(effort: Effort<'a>) -> Self {
        Self { effort, done: 0, asked: 0, over: false }
    }

    /// Books work.
    pub(crate) fn add(&mut self, steps: usize) {
        self.done = self.done.saturating_add(u64::try_from(steps).unwrap_or(u64::MAX));
        if self.done >= self.effort.steps {
            self.over = true;
        }
        if self.done.saturating_sub(self.asked) >= EACH {
            self.asked = self.done;
            self.over = self.over || self.effort.stop.is_some_and(|stop| stop());
        }
    }

    /// A meter for a part of the work, with at most so many steps; book it with [`Self::take`].
    pub(crate) fn part(&self, steps: u64) -> Self {
        let steps = steps.min(self.effort.steps.saturating_sub(self.done));
        Self { effort: Effort { steps, stop: self.effort.stop }, done: 0, asked: 0, over: self.over }
    }

    /// Books the work of a part.
    pub(crate) fn take(&mut self, part: &Self) {
        self.add(usize::try_from(part.done).unwrap_or(usize::MAX));
    }

    /// Whether to end.
    pub(crate) fn over(&self) -> bool {
        self.over
    }
}
