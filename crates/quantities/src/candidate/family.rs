//! Jobs of a kind: they differ in lengths alone. The forms that were met among them.

use std::borrow::Cow;
use std::ops::Range;
use std::sync::Arc;

use tankwright_geometry::Ratio;

use crate::candidate::drawing::Drawing;
use crate::candidate::identity::{Class, Measured};
use crate::candidate::price::Tariff;
use crate::candidate::proof::Pairs;
use crate::candidate::{Counts, Priced};
use crate::capacity;
use crate::elements::ALL;
use crate::estimate::{Capacity, Estimate};
use crate::flow::{self, Settings};
use crate::job::{Job, Scale, Values};
use crate::ledger::{Book, Figures, Form, Inputs, SetOut, bit};
use crate::materials;
use crate::model::{self, Model, Plans};
use crate::open_space::{Space, Spaces};
use crate::problem::Problem;
use crate::rates::{PriceList, Profile, Stock};
use crate::site::Site;
use crate::steel::Bench;

/// So many forms of a kind are kept.
const FORMS: usize = 512;

/// So many orders of planes are kept for a form.
const CLASSES: usize = 256;

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
    /// Of a ledger: what it looks like.
    pub(super) drawing: Option<Drawing>,
    /// Orders of its planes that were met, the latest first.
    pub(super) classes: Vec<Class>,
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
    /// With what the whole flow would say.
    Refused(Vec<Problem>),
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
        let mut family = Self {
            values: job.values.clone(),
            first: job.inputs.iter().map(|i| (i.value, i.scale)).collect(),
            profile: profile.id.clone(),
            stock,
            set: SetOut::default(),
            forms: Forms {
                inputs: Inputs { per, values: vec![0; job.inputs.len()], ..Inputs::default() },
                tariff,
                ledgers: Vec::new(),
                bars: ALL.iter().map(|_| Vec::new()).collect(),
            },
        };
        family.take(job)?;
        // So far nothing has varied.
        let inputs = &mut family.forms.inputs;
        (inputs.varied, inputs.moved) = (Vec::new(), Vec::new());
        Some(family)
    }

    /// The ledger's form in front, to be spoilt by a test.
    #[cfg(test)]
    pub(super) fn ledger(&mut self) -> Option<&mut Made> {
        self.forms.ledgers.first_mut()
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
        self.forms.tariff.holds(job).then_some(())?;
        let inputs = &mut self.forms.inputs;
        inputs.turn += 1;
        inputs.on = 0;
        for (i, (input, (first, scale))) in job.inputs.iter().zip(&self.first).enumerate() {
            let value = input.value;
            if value != *first {
                // A zero is structure, not size; a plain number may stand in words.
                if *scale == Scale::Plain || value.signum() != first.signum() || !value.is_known() {
                    return None;
                }
                inputs.on |= bit(i);
            }
            let (n, d) = (value.numer(), value.denom());
            let whole = match (d == inputs.per, inputs.per % d) {
                (true, _) => n,
                (false, 0) => n.checked_mul(inputs.per / d)?,
                _ => return None,
            };
            inputs.put(i, i64::try_from(whole).ok()?)?;
        }
        (job.inputs.len() == self.first.len()).then_some(())
    }

    /// Reckons a job that the family took.
    pub(super) fn reckon(
        &mut self,
        job: &Job,
        wanted: &dyn Fn(&Capacity) -> bool,
        (plans, spaces): (&mut Plans, &mut Spaces),
        counts: &mut Counts,
    ) -> Reckoned {
        let missing = self.forms.missing();
        if let Some(done) = missing.is_none().then(|| self.reckon_proved(wanted)).flatten() {
            return done;
        }
        // Where the forms of all bars hold, nothing is wrong with them.
        let refusal = |site: &Site<'_>| match &missing {
            Some((_, bars)) if bars.contains(&true) => flow::refusal(ALL, site),
            _ => flow::refusal(&[], site),
        };
        let Some(profile) = self.stock.profiles.get(&self.profile) else { return Reckoned::Not };
        let judge = flow::judge(job);
        let site = Site::set_out(job, &self.stock, profile, &judge);
        let set = &mut self.set;
        flow::set_out_into(ALL, &site, set);
        if job.has_problems() {
            return refusal(&site).map_or(Reckoned::Not, Reckoned::Refused);
        }
        let space = Space::paint(&site, set, spaces, capacity::levels(&site).into_iter());
        let mut rooms = Vec::new();
        let capacity = capacity::of_space(&site, space.as_ref(), &mut rooms);
        if !wanted(&capacity) {
            return Reckoned::Declined;
        }
        let forms = &mut self.forms;
        if let Some((ledger, bars)) = &missing {
            forms.make((job, &self.stock, profile), *ledger, bars, counts);
        }
        if !forms.found() {
            return refusal(&site).map_or(Reckoned::Not, Reckoned::Refused);
        }
        let model = Model::painted(&site, set, plans);
        let mut book = Book::of_proofs(profile, &judge, &site.floor);
        flow::prove(ALL, &site, &model, &mut book);
        let Some(ledger) = forms.ledgers.first_mut() else { return Reckoned::Not };
        if !ledger.proved(&site, &model, &mut book) {
            forms.ledgers.swap_remove(0);
            counts.doubted += 1;
            return Reckoned::Not;
        }
        let plan = flow::outer_plan(&site);
        let (space, capacity) = (space.as_ref(), &capacity);
        let measured =
            Measured { model: &model, cuts: model::cuts(&site, set), space, rooms, capacity, plan };
        ledger.meet(&forms.inputs, &measured);
        counts.measured += 1;
        forms.priced(plan)
    }

    /// The same where no form is missing, the order of their planes is known, and all balances are identities.
    fn reckon_proved(&mut self, wanted: &dyn Fn(&Capacity) -> bool) -> Option<Reckoned> {
        let forms = &mut self.forms;
        let inputs = &forms.inputs;
        let ledger = forms.ledgers.first_mut()?;
        let (capacity, plan) = ledger.known(inputs)?;
        if !wanted(&capacity) {
            return Some(Reckoned::Declined);
        }
        forms.figures(false)?;
        Some(forms.priced(plan))
    }
}

impl Made {
    /// Capacity and plan where they are known by identities.
    fn known(&mut self, inputs: &Inputs) -> Option<(Capacity, Ratio)> {
        let (drawing, varied) = (self.drawing.as_ref()?, inputs.varied.len());
        self.form.lens(inputs, &mut self.figures)?;
        let (lens, planes) = (&self.figures.lens, &self.form.planes);
        let at = self.classes.iter().position(|c| c.holds(varied, lens, planes))?;
        self.classes.swap(0, at);
        let proved = self.classes.first()?.proved()?;
        Some((proved.capacity(drawing, &inputs.values)?, proved.plan(&inputs.values)?))
    }

    /// Takes in the class of a candidate that was measured and whose balances closed.
    fn meet(&mut self, inputs: &Inputs, measured: &Measured<'_>) {
        let (lens, planes) = (&self.figures.lens, &self.form.planes);
        if self.classes.iter().any(|c| c.holds(inputs.varied.len(), lens, planes)) {
            return;
        }
        // What was proved while fewer inputs varied says nothing of more.
        self.classes.retain(|c| c.varied() == inputs.varied.len());
        if let Some(class) = Class::of(self, inputs, measured) {
            self.classes.truncate(CLASSES - 1);
            self.classes.insert(0, class);
        }
    }
}

impl Forms<'_> {
    /// Brings the forms that hold to the front of their lists; gives those that are missing: the ledger, and bars by
    /// element.
    fn missing(&mut self) -> Option<(bool, Vec<bool>)> {
        let Self { inputs, ledgers, bars, .. } = self;
        let front = |list: &mut Vec<Made>| {
            let at = list.iter_mut().position(|m| m.form.holds(inputs));
            if let Some(at) = at {
                list.swap(0, at);
            }
            at.is_some()
        };
        let ledger = front(ledgers);
        let found = bars.iter_mut().fold(ledger, |all, b| front(b) && all);
        (!found).then(|| (!ledger, bars.iter_mut().map(|b| !front(b)).collect()))
    }

    /// Reckons the figures of the forms in front, where none is missing any more.
    fn found(&mut self) -> bool {
        !self.ledgers.is_empty() && self.bars.iter().all(|b| !b.is_empty()) && self.figures(true).is_some()
    }

    /// Reckons the forms in front; `exact`: the exact sums of the ledger too.
    fn figures(&mut self, exact: bool) -> Option<()> {
        let inputs = &self.inputs;
        let first = |of: &mut Made, exact| of.form.figures(inputs, &mut of.figures, exact);
        self.ledgers.iter_mut().take(1).try_for_each(|m| first(m, exact))?;
        self.bars.iter_mut().filter_map(|b| b.first_mut()).try_for_each(|m| first(m, false))
    }

    fn priced(&mut self, plan: Ratio) -> Reckoned {
        let made = self.ledgers.iter().take(1).chain(self.bars.iter().filter_map(|b| b.first()));
        self.tariff.total(made).map_or(Reckoned::Not, |total| Reckoned::Priced(Priced { total, plan }))
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
        let mut keep = |list: &mut Vec<Made>, form: Option<Form>, drawing: Option<Drawing>| match form
            .and_then(|f| tariff.enter(f, &job, stock))
        {
            Some((made, grown)) => {
                again |= grown;
                list.truncate(FORMS - 1);
                list.insert(0, Made { drawing, ..made });
            }
            None => list.clear(),
        };
        let open = || Book::new(profile, &judge, &site.floor);
        let shared = judge.take();
        if ledger {
            let mut set = flow::set_out(ALL, &site);
            let mut book = open();
            let drawing = Drawing::of(&site, &set);
            flow::measure(ALL, &site, &mut book, &mut set);
            let mut known = judge.take();
            known.0.extend(shared.0.iter().cloned());
            known.1.extend(shared.1.iter().cloned());
            counts.ledgers_made += 1;
            let planes = drawing.planes.iter().map(|(_, len)| len);
            let form = book.form(&job, &known, &self.inputs, planes);
            keep(&mut self.ledgers, form, Some(drawing));
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
                let form = book.form(&job, &known, &self.inputs, std::iter::empty());
                keep(list, form.filter(|_| !refused), None);
            }
        }
        if again {
            // The parts of an item have changed: forms that were entered before count in others.
            self.tariff.enter_again(self.ledgers.iter_mut().chain(self.bars.iter_mut().flatten()));
        }
    }
}
