//! Booking: a line's dimensions are rounded once, here, to the places of the profile.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use tankwright_geometry::{Amount, Floor, Judge, Len, PI, Ratio};

use crate::ledger::Spec;
use crate::ledger::units::{self, Named};
use crate::rates::Profile;
use crate::sheet::{Decision, Dim, Judged, Line, Times};
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::{Unit, Work};

/// Lengths of bars are whole steps of 25 mm (BS 8666), in tenths of a millimetre.
pub(crate) const BAR_STEP: i64 = 250;

/// A whole number of times.
#[must_use]
pub const fn count(n: i64) -> Times {
    Times::Count(n)
}

/// An item in the making.
#[derive(Debug)]
pub(super) struct Entry {
    pub(super) spec: Spec,
    /// The specification of what it is a part of: narrow faces and edges have items of their own, proved together with
    /// the rest.
    pub(super) base: Option<String>,
    pub(super) stage: Stage,
    pub(super) unit: Unit,
    /// Thickness of a wall measured in m2.
    pub(super) thickness: Option<Len>,
    pub(super) lines: Vec<Line>,
    /// What the profile leaves out.
    pub(super) left_out: Vec<Line>,
    pub(super) decisions: Vec<Decision>,
    pub(super) judged: Vec<Judged>,
    pub(super) proved: Option<Ratio>,
    pub(super) unbilled: bool,
    /// Refers to the items of these works.
    pub(super) refers: Vec<(Phrase, &'static Work)>,
}

impl Entry {
    /// The specification by which the model knows it.
    pub(super) fn base(&self) -> &str {
        self.base.as_deref().unwrap_or(&self.spec.spec)
    }
}

/// What a second formula gives, in the work's own unit.
#[derive(Debug)]
pub(crate) struct Second {
    pub(crate) work: &'static Work,
    pub(crate) spec: String,
    pub(crate) stage: Stage,
    pub(crate) amount: Amount,
}

impl Second {
    pub(crate) fn is_of(&self, work: &Work, spec: &str, stage: Stage) -> bool {
        self.work.id == work.id && self.spec == spec && self.stage == stage
    }
}

/// The open ledger.
#[derive(Debug)]
pub struct Book<'a> {
    /// How things are measured.
    pub profile: &'a Profile,
    /// Compares and remembers.
    pub judge: &'a Judge,
    /// The floor.
    pub floor: &'a Floor,
    pub(super) entries: BTreeMap<(usize, String, Stage), Entry>,
    /// What was proved, where nothing is booked.
    proofs: Option<Vec<Second>>,
    order: &'static BTreeMap<&'static str, usize>,
}

/// The place of each work in the bill.
static ORDER: LazyLock<BTreeMap<&'static str, usize>> = LazyLock::new(|| {
    let mut works = crate::works::all();
    works.sort_by_key(|w| w.section);
    works.iter().enumerate().map(|(i, w)| (w.id, i)).collect()
});

impl<'a> Book<'a> {
    /// An empty ledger.
    #[must_use]
    pub fn new(profile: &'a Profile, judge: &'a Judge, floor: &'a Floor) -> Self {
        Self { profile, judge, floor, entries: BTreeMap::new(), proofs: None, order: &ORDER }
    }

    /// A ledger for second formulas alone.
    pub(crate) fn of_proofs(profile: &'a Profile, judge: &'a Judge, floor: &'a Floor) -> Self {
        Self { proofs: Some(Vec::new()), ..Self::new(profile, judge, floor) }
    }

    pub(super) fn place(&self, spec: &Spec, stage: Stage) -> (usize, String, Stage) {
        (self.order.get(spec.work.id).copied().unwrap_or(usize::MAX), by_size(&spec.spec), stage)
    }

    pub(super) fn entry(&mut self, spec: &Spec, stage: Stage) -> &mut Entry {
        let (place, profile) = (self.place(spec, stage), self.profile);
        self.entries.entry(place).or_insert_with(|| {
            let (spec, mut decisions) = (units::stated(profile, spec), Vec::new());
            let rule = profile.in_rate.iter().find(|r| r.is(spec.work.id, &spec.spec));
            if let Some(rule) = rule {
                let clause = clause(&rule.source);
                decisions.push(Decision {
                    what: Phrase::new("in-rate-of-others"),
                    size: Ratio::ZERO,
                    clause,
                });
            }
            Entry {
                base: None,
                stage,
                unit: spec.work.unit,
                spec,
                thickness: None,
                lines: Vec::new(),
                left_out: Vec::new(),
                decisions,
                judged: Vec::new(),
                proved: None,
                unbilled: rule.is_some(),
                refers: Vec::new(),
            }
        })
    }

    /// Books a line: length, breadth (a wall's thickness), depth. A line with a zero dimension is no line.
    pub fn line(&mut self, spec: &Spec, stage: Stage, note: Phrase, times: &[Times], dims: &[&Len]) {
        let gross = times.iter().all(|t| factor(t).signum() > 0);
        let named = if gross { self.named(spec.work, times, dims) } else { None };
        self.line_in(spec, stage, note, times, dims, named.as_ref());
    }

    /// The same in the item of the faces that these belong to.
    pub(super) fn line_in(
        &mut self,
        spec: &Spec,
        stage: Stage,
        note: Phrase,
        times: &[Times],
        dims: &[&Len],
        named: Option<&Named>,
    ) {
        let wall = if named.is_none() { self.wall(spec, stage, dims) } else { None };
        let (drop, profile) = (named.or(wall.as_ref()), self.profile);
        if let Some(line) = self.made(spec, note, times, dims, drop) {
            let entry = self.entry_in(spec, stage, named);
            if let Some(wall) = wall.filter(|_| entry.thickness.is_none()) {
                entry.unit = Unit::M2;
                let source = profile.by_area(wall.width.value());
                entry.thickness = Some(wall.width);
                let (what, clause) =
                    (Phrase::new("in-square-metres"), source.map_or_else(String::new, clause));
                entry.decisions.push(Decision { what, size: Ratio::ZERO, clause });
            }
            push(&mut entry.lines, line);
        }
    }

    /// Books bars of one mark in kilograms: times x length x mass per metre. The length of a bar is rounded up by the
    /// standard of the goods in every profile, so that value, net and exact are one.
    pub fn bars(&mut self, spec: &Spec, stage: Stage, note: Phrase, times: &[Times], sum: &Len, length: i64) {
        let dim = Dim { len: sum.clone(), booked: length, step: BAR_STEP, dropped: false, up: true };
        let k = times.iter().fold(Ratio::ONE, |k, t| k * factor(t));
        let value = k * Ratio::of(length.into(), 10_000);
        let times = times.to_vec();
        let (net, exact, per) = (value, value, Ratio::ONE);
        let line = Line { note, times, dims: vec![dim], of_item: None, value, net, exact, per };
        self.entry(spec, stage).lines.push(line);
    }

    /// What the profile leaves out of the quantity: a listed decision, still in the net.
    pub fn leave_out(
        &mut self,
        spec: &Spec,
        stage: Stage,
        note: Phrase,
        times: &[Times],
        dims: &[&Len],
        clause: String,
    ) {
        self.leave_out_in((spec, stage, None), note, times, dims, clause);
    }

    /// The same in the item of the faces that these belong to.
    pub(super) fn leave_out_in(
        &mut self,
        (spec, stage, named): (&Spec, Stage, Option<&Named>),
        note: Phrase,
        times: &[Times],
        dims: &[&Len],
        clause: String,
    ) {
        let wall = if named.is_none() { self.wall(spec, stage, dims) } else { None };
        let Some(line) = self.made(spec, note, times, dims, named.or(wall.as_ref())) else { return };
        let entry = self.entry_in(spec, stage, named);
        entry.decisions.push(Decision { what: line.note.clone(), size: line.exact / line.per, clause });
        entry.left_out.push(line);
    }

    /// A second, different formula gives this exact amount, in the work's own unit of tenths of a millimetre.
    pub fn prove(&mut self, spec: &Spec, stage: Stage, tenths: Amount) {
        let scaled = tenths / scale(spec.work.unit.dims());
        if scaled.is_nothing() {
            return;
        }
        if let Some(proofs) = &mut self.proofs {
            let same = |p: &&mut Second| p.is_of(spec.work, &spec.spec, stage);
            match proofs.iter_mut().find(same) {
                Some(proof) => proof.amount = &proof.amount + scaled,
                None => {
                    let spec = (spec.work, spec.spec.clone());
                    proofs.push(Second { work: spec.0, spec: spec.1, stage, amount: scaled });
                }
            }
            return;
        }
        if scaled.value().is_zero() {
            return;
        }
        let entry = self.entry(spec, stage);
        entry.proved = Some(entry.proved.unwrap_or(Ratio::ZERO) + scaled.value());
    }

    /// Is nothing booked?
    pub(crate) fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// Every amount that [`prove`](Self::prove) gave to a ledger for these alone.
    pub(crate) fn proofs(&mut self) -> Vec<Second> {
        self.proofs.take().unwrap_or_default()
    }

    /// The item's quantity is the sum of the items of other works.
    pub fn refer(&mut self, spec: &Spec, stage: Stage, note: Phrase, to: &'static Work) {
        self.entry(spec, stage).refers.push((note, to));
    }

    /// A rule that changes no figure of its own: in which unit, band or class an item is measured.
    pub fn rule(&mut self, spec: &Spec, stage: Stage, what: Phrase, clause: String) {
        let place = self.place(spec, stage);
        if let Some(entry) = self.entries.get_mut(&place) {
            entry.decisions.push(Decision { what, size: Ratio::ZERO, clause });
        }
    }

    /// Measured, but kept in the rate of another item by this clause.
    pub fn keep_in_rate(&mut self, spec: &Spec, stage: Stage, note: Phrase, clause: String) {
        let entry = self.entry(spec, stage);
        entry.unbilled = true;
        entry.decisions.push(Decision { what: note, size: Ratio::ZERO, clause });
    }

    fn made(
        &self,
        spec: &Spec,
        note: Phrase,
        times: &[Times],
        dims: &[&Len],
        named: Option<&Named>,
    ) -> Option<Line> {
        let exact_dims: Vec<Len> = dims.iter().map(|d| (*d).clone()).collect();
        if exact_dims.iter().any(|d| !self.judge.positive(d)) || times.iter().any(|t| factor(t).is_zero()) {
            return None;
        }
        let last = exact_dims.len().saturating_sub(1);
        let book = |(i, len): (usize, Len)| {
            let step =
                if spec.work.slab && i == last { self.profile.slab_step.0 } else { self.profile.step.0 };
            let booked = len.value().round_half_away(step.into());
            let booked = i64::try_from(booked.numer()).unwrap_or(i64::MAX);
            Dim { len, booked, step, dropped: named.is_some_and(|n| n.drop == i), up: false }
        };
        let dims: Vec<Dim> = exact_dims.into_iter().enumerate().map(book).collect();
        let k = times.iter().fold(Ratio::ONE, |k, t| k * factor(t));
        let product = |f: &dyn Fn(&Dim) -> Ratio| dims.iter().fold(k, |p, d| p * f(d));
        let tenth = |d: &Dim| d.len.value().round_half_away(Ratio::ONE) / Ratio::int(10_000);
        let value = product(&|d| if d.dropped { Ratio::ONE } else { Ratio::of(d.booked.into(), 10_000) });
        let net = if spec.work.by_method { Ratio::ZERO } else { product(&tenth) };
        let exact = product(&|d| metres(&d.len));
        let per = named.map_or(Ratio::ONE, |n| metres(&n.width));
        Some(Line { note, times: times.to_vec(), dims, of_item: None, value, net, exact, per })
    }
}

/// A specification that sorts by its first number: 50 before 100, Y8 before Y10.
fn by_size(spec: &str) -> String {
    let letters = spec.bytes().take_while(u8::is_ascii_uppercase).count();
    let (letter, number) = spec.split_at(letters);
    if number.bytes().all(|b| b.is_ascii_digit()) {
        return format!("{letter}{number:>12}");
    }
    let digits = spec.bytes().take_while(u8::is_ascii_digit).count();
    format!("{}{spec}", " ".repeat(12_usize.saturating_sub(digits)))
}

/// A clause with its mark where it is from memory.
pub(super) fn clause(source: &crate::source::Source) -> String {
    source.to_string()
}

/// A length in metres, exact.
pub(super) fn metres(len: &Len) -> Ratio {
    len.value() / Ratio::int(10_000)
}

/// Tenths of a millimetre to the power n in a metre to the power n.
fn scale(n: usize) -> Ratio {
    (0..n).fold(Ratio::ONE, |s, _| s * Ratio::int(10_000))
}

/// The number a multiplier stands for.
#[must_use]
pub(crate) fn factor(times: &Times) -> Ratio {
    match times {
        Times::Count(n)
        | Times::Input(_, n)
        | Times::Strips { value: n, .. }
        | Times::Spaces { value: n, .. } => Ratio::from(*n),
        Times::Fraction(f) => *f,
        Times::Pi => PI,
        Times::MassPerMetre(kg) => *kg,
    }
}

/// Equal lines become one with more "times".
fn push(lines: &mut Vec<Line>, line: Line) {
    let same = |l: &&mut Line| {
        l.note == line.note
            && l.of_item.is_none()
            && l.dims == line.dims
            && l.times.len() == line.times.len()
            && l.times.iter().skip(1).eq(line.times.iter().skip(1))
    };
    if let (Some(Times::Count(n)), Some(old)) = (line.times.first(), lines.iter_mut().find(same))
        && let Some(Times::Count(m)) = old.times.first_mut()
        && m.signum() == n.signum()
    {
        *m += n;
        old.value = old.value + line.value;
        old.net = old.net + line.net;
        old.exact = old.exact + line.exact;
        return;
    }
    lines.push(line);
}

#[cfg(test)]
mod tests {
    use super::by_size;

    #[test]
    fn specifications_stand_by_their_first_number() {
        let mut specs = ["Y10", "100", "Y8", "1:4:8", "50", "1:2:4"];
        specs.sort_by_key(|s| by_size(s));
        assert_eq!(specs, ["1:2:4", "1:4:8", "50", "100", "Y8", "Y10"]);
    }
}
