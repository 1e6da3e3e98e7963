//! From an open ledger with trails to its form.

use std::collections::BTreeMap;

use tankwright_geometry::{Atom, Kept, Len, Ratio, Test};

use crate::job::{Job, Scale};
use crate::ledger::book::{Book, Entry, factor};
use crate::ledger::figures::Figures;
use crate::ledger::form::{Booked, Check, Form, Group, Head, Inputs, Number, Part, Row, Share, Sum};
use crate::sheet::{Dim, Line, Times};
use crate::works::Unit;

/// Least common multiple; `None` where it grows too large.
fn multiple(a: i128, b: i128) -> Option<i128> {
    a.checked_mul(Ratio::of(a, b).denom())
}

struct Maker {
    form: Form,
    known: BTreeMap<Len, usize>,
    booked: BTreeMap<(usize, Booked), usize>,
    /// Whole multiple of every coefficient.
    coefs: i128,
}

impl Book<'_> {
    /// The form of this ledger, made of this job by these comparisons and lengths in words. `None` where it has none:
    /// it must then be booked anew each time. `at`: the job's inputs; `planes`: further lengths that are wanted.
    pub(crate) fn form<'l>(
        &self,
        job: &Job,
        (tests, fixed): &(Vec<Test>, Vec<Len>),
        at: &Inputs,
        planes: impl Iterator<Item = &'l Len> + Clone,
    ) -> Option<Form> {
        let form = Form { on: at.on, ..Form::default() };
        let mut make = Maker { form, known: BTreeMap::new(), booked: BTreeMap::new(), coefs: 1 };
        let lines = || self.entries.values().flat_map(|e| e.lines.iter().chain(&e.left_out));
        lines().try_for_each(|l| make.scale_line(l))?;
        for test in tests {
            match &test.kept {
                Kept::Difference(len) => make.scale(len)?,
                Kept::Product(lens, _) => lens.iter().try_for_each(|l| make.scale(l))?,
            }
        }
        fixed.iter().try_for_each(|l| make.scale(l))?;
        planes.clone().try_for_each(|l| make.scale(l))?;
        make.form.scale = make.coefs.checked_mul(at.per)?;
        self.entries.values().try_for_each(|e| make.item(e, job))?;
        // Inputs that are zero or plain numbers are held as they are: no length hangs on a change of theirs.
        for test in tests {
            make.check(test)?;
        }
        for len in fixed {
            let (at, value) = (make.len(len)?, make.scaled(len)?);
            make.push(Check::Same(at, value), &[at]);
        }
        for len in planes {
            let at = make.len(len)?;
            make.form.planes.push(at);
        }
        let mut form = make.form;
        form.checks.sort_by_key(|(_, check)| matches!(check, Check::Product(..)));
        self.comes_to_the_same(&mut form, at).then_some(form)
    }

    /// Does the form give back the ledger that it was made of?
    fn comes_to_the_same(&self, form: &mut Form, inputs: &Inputs) -> bool {
        let mut at = Figures::default();
        if !form.holds_on(inputs, u128::MAX) || form.figures(inputs, &mut at, true).is_none() {
            return false;
        }
        self.entries.values().enumerate().all(|(i, entry)| {
            let of = |g: &Group| g.item == i;
            let groups = || form.groups.iter().enumerate().filter(move |(_, g)| of(g));
            let value: Ratio = groups().map(|(n, g)| Ratio::int(at.value[n]) * g.value).sum();
            let exact: Ratio =
                groups().flat_map(|(n, g)| at.exact[n].iter().map(|p| Ratio::of(p.n, p.d) * g.exact)).sum();
            let lines = || entry.lines.iter().chain(&entry.left_out);
            value == entry.lines.iter().map(|l| l.value).sum() && exact == lines().map(|l| l.exact).sum()
        })
    }
}

impl Maker {
    /// Takes in the coefficients of a length.
    fn scale(&mut self, len: &Len) -> Option<()> {
        for term in len.terms() {
            match &term.atom {
                Atom::Share(two, whole) => {
                    two.iter().chain(whole.as_deref()).try_for_each(|l| self.scale(l))?;
                }
                Atom::Input(_) | Atom::Tenth => self.coefs = multiple(self.coefs, term.coef.denom())?,
            }
        }
        Some(())
    }

    fn scale_line(&mut self, line: &Line) -> Option<()> {
        line.dims.iter().try_for_each(|d| self.scale(&d.len))?;
        line.times.iter().try_for_each(|t| match t {
            Times::Strips { lift: a, course: b, .. } | Times::Spaces { over: a, at: b, .. } => {
                self.scale(a)?;
                self.scale(b)
            }
            _ => Some(()),
        })
    }

    /// Value in the form's scale.
    fn scaled(&self, len: &Len) -> Option<Part> {
        let value = len.value() * Ratio::int(self.form.scale);
        value.is_known().then_some(Part { n: value.numer(), d: value.denom() })
    }

    fn len(&mut self, len: &Len) -> Option<usize> {
        if let Some(at) = self.known.get(len) {
            return Some(*at);
        }
        let mut sum = Sum::default();
        for term in len.terms() {
            let coef = term.coef;
            match &term.atom {
                Atom::Input(id) => {
                    let coef = coef * Ratio::int(self.coefs);
                    sum.terms.push((id.0 as usize, i64::try_from(coef.numer()).ok()?));
                    sum.on |= 1 << (id.0 % 128);
                }
                Atom::Tenth => {
                    let fixed = (coef * Ratio::int(self.form.scale)).numer();
                    sum.fixed = i64::try_from(fixed).ok()?.into();
                }
                Atom::Share(two, whole) => {
                    let (of, part) = (self.len(&two[0])?, self.len(&two[1])?);
                    let whole = whole.as_deref().map(|w| self.len(w));
                    let whole = if let Some(at) = whole { Some(at?) } else { None };
                    for at in [Some(of), Some(part), whole].into_iter().flatten() {
                        sum.on |= self.form.sums.get(at)?.on;
                    }
                    let coef = Part { n: coef.numer(), d: coef.denom() };
                    sum.shares.push(Share { coef, of, part, whole });
                }
            }
        }
        self.form.sums.push(sum);
        let at = self.form.sums.len() - 1;
        self.known.insert(len.clone(), at);
        Some(at)
    }

    fn push(&mut self, check: Check, lens: &[usize]) {
        let on = self.on(lens.iter().copied());
        self.form.checks.push((on, check));
    }

    /// Bits of the inputs that lengths hang on.
    fn on(&self, lens: impl Iterator<Item = usize>) -> u128 {
        lens.filter_map(|l| self.form.sums.get(l)).fold(0, |on, s| on | s.on)
    }

    fn check(&mut self, test: &Test) -> Option<()> {
        match &test.kept {
            Kept::Difference(len) => {
                let at = self.len(len)?;
                self.push(Check::Sign(at, test.sign), &[at]);
            }
            Kept::Product(lens, limit) => {
                let lens = lens.iter().map(|l| self.len(l)).collect::<Option<Vec<_>>>()?;
                let limit = lens.iter().fold(*limit, |l, _| l * Ratio::int(self.form.scale));
                let limit = limit.is_known().then_some(Part { n: limit.numer(), d: limit.denom() })?;
                self.push(Check::Product(lens.clone(), limit, test.sign), &lens);
            }
        }
        Some(())
    }

    fn item(&mut self, entry: &Entry, job: &Job) -> Option<()> {
        let item = self.form.items.len();
        // Where the profile drops the thickness of a wall, all lines of an item must have the same one.
        let thick = |l: &Line| l.dims.iter().find(|d| d.dropped).map(|d| d.len.clone());
        if entry.unit == Unit::M2 && entry.lines.iter().any(|l| thick(l) != entry.thickness) {
            return None;
        }
        self.form.items.push(Head {
            base: entry.base().to_owned(),
            spec: entry.spec.clone(),
            stage: entry.stage,
            unit: entry.unit,
            unbilled: entry.unbilled,
            refers: entry.refers.iter().map(|(_, work)| *work).collect(),
        });
        entry.lines.iter().try_for_each(|l| self.row(item, l, false, job))?;
        entry.left_out.iter().try_for_each(|l| self.row(item, l, true, job))
    }

    fn row(&mut self, item: usize, line: &Line, kept: bool, job: &Job) -> Option<()> {
        let (mut count, mut numbers, mut k) = (1_i128, Vec::new(), Ratio::ONE);
        for times in &line.times {
            match times {
                Times::Count(n) => count = count.checked_mul((*n).into())?,
                Times::Input(id, n) => {
                    let plain = job.inputs.get(id.0 as usize).is_some_and(|i| i.scale == Scale::Plain);
                    plain.then_some(())?;
                    count = count.checked_mul((*n).into())?;
                }
                Times::Fraction(_) | Times::Pi | Times::MassPerMetre(_) => k = k * factor(times),
                Times::Strips { lift, course, every, .. } => {
                    numbers.push(Number::Strips(self.len(lift)?, self.len(course)?, every.1.into()));
                }
                Times::Spaces { over, at, .. } => {
                    numbers.push(Number::Spaces(self.len(over)?, self.len(at)?));
                }
            }
        }
        let (mut dims, mut value, mut exact) = (Vec::new(), k, k);
        let metre = Ratio::int(10_000);
        for Dim { len, step, dropped, up, .. } in &line.dims {
            let booked = match (dropped, up) {
                (true, _) => Booked::Dropped,
                (_, true) => Booked::Up((*step).into()),
                _ => Booked::Nearest((*step).into()),
            };
            if !dropped {
                value = value / metre;
            }
            exact = exact / metre / Ratio::int(self.form.scale);
            let at = self.len(len)?;
            let next = self.form.dims.len();
            let dim = *self.booked.entry((at, booked)).or_insert(next);
            if dim == next {
                self.form.dims.push((at, booked));
            }
            dims.push(dim);
        }
        let per = (0..line.dims.len()).try_fold(1_i128, |p, _| p.checked_mul(self.form.scale));
        let group = Group { item, value, exact, plain: per.filter(|_| k == Ratio::ONE) };
        let place = self.form.groups.iter().position(|g| *g == group).unwrap_or(self.form.groups.len());
        if place == self.form.groups.len() {
            self.form.groups.push(group);
        }
        let of_numbers = numbers.iter().flat_map(|number| match number {
            Number::Strips(a, b, _) | Number::Spaces(a, b) => [*a, *b],
        });
        let of_dims = dims.iter().filter_map(|d| self.form.dims.get(*d)).map(|(len, _)| *len);
        let on = self.on(of_dims.chain(of_numbers));
        self.form.rows.push(Row { group: place, count, numbers, dims, kept, on });
        Some(())
    }
}
