//! Jobs of a kind: they differ in lengths alone. The forms that were met among them.

use std::borrow::Cow;
use std::ops::Range;
use std::sync::Arc;

use tankwright_geometry::Ratio;

use crate::candidate::price::Tariff;
use crate::candidate::proof::Pairs;
use crate::candidate::{Counts, Priced};
use crate::capacity::{self, Spaces};
use crate::elements::ALL;
use crate::estimate::{Capacity, Estimate};
use crate::flow::{self, Settings};
use crate::job::{Job, Scale, Values};
use crate::ledger::{Book, Figures, Form, Inputs, SetOut};
use crate::materials;
use crate::model::{Model, Plans};
use crate::rates::{PriceList, Profile, Stock};
use crate::site::Site;
use crate::steel::Bench;

/// So many forms of a kind are kept.
const FORMS: usize = 512;

/// A form with its figures for the job at hand, and how its items are priced.
#[derive(Debug, Default)]
pub(super) struct Made {
    pub(super) form: Form,
    pub(super) figures: Figures,
    /// Of each item: its place in the tariff.
    pub(super) items: Vec<usize>,
    /// Of each item: its groups, which stand together.
    pub(super) groups: Vec<Range<usize>>,
    /// Of each group: what a product counts in the parts of its item.
    pub(super) parts: Vec<i128>,
    pub(super) pairs: Option<Pairs>,
}

/// Jobs of a kind.
#[derive(Debug)]
pub(super) struct Family<'a> {
    values: Arc<Values>,
    /// The first one's inputs.
    first: Vec<(Ratio, Scale)>,
    stock: Cow<'a, Stock>,
    profile: String,
    /// Where candidates are set out, one after the other.
    set: SetOut,
    forms: Forms<'a>,
}

/// Forms of a kind, those for the job at hand in front.
#[derive(Debug)]
struct Forms<'a> {
    inputs: Inputs,
    tariff: Tariff<'a>,
    ledgers: Vec<Made>,
    /// Bars, element by element.
    bars: Vec<Vec<Made>>,
}

/// What came of a candidate.
#[derive(Debug)]
pub(super) enum Reckoned {
    Priced(Priced),
    Declined,
    /// Not by forms: the whole flow must say.
    Not,
}

impl<'a> Family<'a> {
    /// The family of a job with an estimate; `None` where bills need more than the ledger.
    pub(super) fn of(
        job: &Job,
        stock: &'a Stock,
        prices: &'a PriceList,
        settings: &Settings,
        done: &Estimate,
    ) -> Option<Self> {
        let stock = materials::with_own_units(job, stock).ok()?;
        let profile = flow::known(job, &stock, settings).ok()?;
        if job.text("job.supply") == "labour-only" {
            return None;
        }
        let mut per = 1_i128;
        for input in &job.inputs {
            per = per.checked_mul(Ratio::of(per, input.value.denom()).denom())?;
        }
        let tariff = Tariff::of(job, &stock, profile, prices, done)?;
        Some(Self {
            values: job.values.clone(),
            first: job.inputs.iter().map(|i| (i.value, i.scale)).collect(),
            profile: profile.id.clone(),
            stock,
            set: SetOut::default(),
            forms: Forms {
                inputs: Inputs { per, ..Inputs::default() },
                tariff,
                ledgers: Vec::new(),
                bars: ALL.iter().map(|_| Vec::new()).collect(),
            },
        })
    }

    /// The ledger's form in front, to be spoilt by a test.
    #[cfg(test)]
    pub(super) fn ledger(&mut self) -> Option<&mut Form> {
        self.forms.ledgers.first_mut().map(|m| &mut m.form)
    }

    /// The rows of the bill reckoned last.
    pub(super) fn rows(&self) -> Option<Vec<crate::candidate::PricedRow>> {
        self.forms.tariff.rows()
    }

    /// Is the job of this kind? Then its inputs are taken.
    pub(super) fn takes(&mut self, job: &Job) -> bool {
        if !Arc::ptr_eq(&self.values, &job.values) {
            if *self.values != *job.values {
                return false;
            }
            self.values = job.values.clone();
        }
        self.take(job).is_some()
    }

    fn take(&mut self, job: &Job) -> Option<()> {
        let Inputs { values, per, on } = &mut self.forms.inputs;
        values.clear();
        *on = 0;
        for (i, (input, (first, scale))) in job.inputs.iter().zip(&self.first).enumerate() {
            let value = input.value;
            if value != *first {
                // A zero is structure, not size; a plain number may stand in words.
                if *scale == Scale::Plain || value.signum() != first.signum() || !value.is_known() {
                    return None;
                }
                *on |= 1 << (i % 128);
            }
            let (n, d) = (value.numer(), value.denom());
            if d == *per {
                values.push(i64::try_from(n).ok()?);
            } else if *per % d == 0 {
                values.push(i64::try_from(n.checked_mul(*per / d)?).ok()?);
            } else {
                return None;
            }
        }
        (values.len() == self.first.len()).then_some(())
    }

    /// Reckons a job that the family took.
    pub(super) fn reckon(
        &mut self,
        job: &Job,
        wanted: &dyn Fn(&Capacity) -> bool,
        (plans, spaces): (&mut Plans, &mut Spaces),
        counts: &mut Counts,
    ) -> Reckoned {
        let Some(profile) = self.stock.profiles.get(&self.profile) else { return Reckoned::Not };
        let judge = flow::judge(job);
        let site = Site::set_out(job, &self.stock, profile, &judge);
        let set = &mut self.set;
        flow::set_out_into(ALL, &site, set);
        if job.has_problems() {
            return Reckoned::Not;
        }
        if !wanted(&capacity::capacity_in(&site, set, spaces)) {
            return Reckoned::Declined;
        }
        let forms = &mut self.forms;
        if !forms.find((job, &self.stock, profile), counts) {
            return Reckoned::Not;
        }
        let model = Model::painted(&site, set, plans);
        let mut book = Book::of_proofs(profile, &judge, &site.floor);
        flow::prove(ALL, &site, &model, &mut book);
        let Some(ledger) = forms.ledgers.first_mut() else { return Reckoned::Not };
        if !ledger.proved(&site, &model, &book) {
            forms.ledgers.swap_remove(0);
            counts.doubted += 1;
            return Reckoned::Not;
        }
        let made = forms.ledgers.iter().take(1).chain(forms.bars.iter().filter_map(|b| b.first()));
        match forms.tariff.total(made) {
            Some(total) => Reckoned::Priced(Priced { total, plan: flow::outer_plan(&site) }),
            None => Reckoned::Not,
        }
    }
}

impl Forms<'_> {
    /// Brings the forms that hold to the front of their lists and reckons their figures; makes those that are missing.
    fn find(&mut self, of: (&Job, &Stock, &Profile), counts: &mut Counts) -> bool {
        let Self { inputs, ledgers, bars, .. } = self;
        let front = |list: &mut Vec<Made>| {
            let at = list.iter_mut().position(|m| m.form.holds(&inputs.values, inputs.on));
            if let Some(at) = at {
                list.swap(0, at);
            }
            at.is_some()
        };
        let ledger = front(ledgers);
        let missing: Vec<bool> = bars.iter_mut().map(|b| !front(b)).collect();
        if !ledger || missing.contains(&true) {
            self.make(of, !ledger, &missing, counts);
        }
        let inputs = &self.inputs;
        let mut all =
            self.ledgers.iter_mut().take(1).chain(self.bars.iter_mut().filter_map(|b| b.first_mut()));
        all.all(|m| m.form.figures(&inputs.values, &mut m.figures).is_some())
            && !self.ledgers.is_empty()
            && self.bars.iter().all(|b| !b.is_empty())
    }

    /// Books a job with trails and keeps the forms of what was missing. Without one the lists are empty.
    fn make(
        &mut self,
        (job, stock, profile): (&Job, &Stock, &Profile),
        ledger: bool,
        bars: &[bool],
        counts: &mut Counts,
    ) {
        let job = job.trailed();
        let judge = flow::judge(&job);
        let site = Site::set_out(&job, stock, profile, &judge);
        let tariff = &mut self.tariff;
        let mut again = false;
        let mut keep = |list: &mut Vec<Made>, form: Option<Form>| match form
            .and_then(|f| tariff.enter(f, &job, stock))
        {
            Some((made, grown)) => {
                again |= grown;
                list.truncate(FORMS - 1);
                list.insert(0, made);
            }
            None => list.clear(),
        };
        let open = || Book::new(profile, &judge, &site.floor);
        let shared = judge.take();
        if ledger {
            let mut set = flow::set_out(ALL, &site);
            let mut book = open();
            flow::measure(ALL, &site, &mut book, &mut set);
            let mut known = judge.take();
            known.0.extend(shared.0.iter().cloned());
            known.1.extend(shared.1.iter().cloned());
            counts.ledgers_made += 1;
            keep(&mut self.ledgers, book.form(&job, &known, &self.inputs));
        }
        for ((element, list), missing) in ALL.iter().zip(&mut self.bars).zip(bars) {
            if *missing {
                let mut bench = Bench::again(&site);
                element.reinforce(&site, &mut bench);
                let mut book = open();
                bench.book(&mut book);
                let mut known = judge.take();
                known.0.extend(shared.0.iter().cloned());
                let refused = !job.take_problems().is_empty();
                counts.bars_made += u64::from(!book.is_empty());
                keep(list, if refused { None } else { book.form(&job, &known, &self.inputs) });
            }
        }
        if again {
            // The parts of an item have changed: forms that were entered before count in others.
            self.tariff.enter_again(self.ledgers.iter_mut().chain(self.bars.iter_mut().flatten()));
        }
    }
}
