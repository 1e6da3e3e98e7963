//! A row of the bill taken apart into signed lines whose dimensions a mistake may change, and put together again.

use std::collections::BTreeMap;

use tankwright_geometry::{Atom, InputId, Len, PI, Ratio};
use tankwright_quantities::decimal;
use tankwright_quantities::sheet::{Item, Line, Sheet, Times, Whole};
use tankwright_quantities::words::Phrase;
use tankwright_quantities::works::{Unit, Work};

use crate::figure::Figure;

/// A dimension of a line, metres.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dim {
    /// Exact, as a mistake leaves it.
    pub value: Ratio,
    /// As our ledger has it, with its trail.
    pub len: Len,
    /// Step to which the profile books it, metres.
    pub step: Ratio,
    /// Named in the wording: a wall's thickness where walls are in m2, the narrow side of what is in m.
    pub thickness: bool,
    /// Booked up to the next step by the standard of the goods.
    pub up: bool,
}

/// A line as it takes part in a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Which item it comes from: its id.
    pub item: String,
    /// Kind of work.
    pub work: &'static Work,
    /// What the item is billed in.
    pub unit: Unit,
    /// Places the profile keeps of the item.
    pub places: u32,
    /// And how else it rounds; rounded by row, all items of one work and specification are one.
    pub whole: Whole,
    /// Specification.
    pub spec: String,
    /// What it is.
    pub note: Phrase,
    /// All that multiplies it, with its sign.
    pub times: Ratio,
    /// How many of its kind the job has, a factor of `times`: 2 of two soak pits.
    pub number: Ratio,
    /// A circle: two equal dimensions are its diameter.
    pub round: bool,
    /// Length, breadth, depth.
    pub dims: Vec<Dim>,
    /// Does it count? What the profile leaves out stands by, and a mistake may take it in.
    pub counts: bool,
    /// Why it does not.
    pub out: Out,
}

/// Why a line does not count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Out {
    /// It counts.
    No,
    /// The profile keeps a void, or leaves reveals away.
    Kept,
    /// The item is in the rate of another.
    InRate,
}

/// How the lines are booked: people round in one of these ways.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Booking {
    /// Dimensions and totals of items by the profile.
    Profile,
    /// Dimensions by the profile, the total not rounded.
    Dimensions,
    /// Dimensions to 0.1 mm, nothing else rounded.
    Exact,
    /// Nothing rounded at all.
    Plain,
}

/// All ways, the profile's own first.
pub const BOOKINGS: [Booking; 4] = [Booking::Profile, Booking::Dimensions, Booking::Exact, Booking::Plain];

/// A row of lines, with a factor on all of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Lines.
    pub parts: Vec<Part>,
    /// Bulking, waste.
    pub factor: Ratio,
    /// Which dimensions their unit leaves away.
    pub drop: Drop,
}

/// What a flatter unit leaves away of each line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drop {
    /// Nothing.
    Nothing,
    /// What the wording names: thicknesses of walls, m3 in m2; narrow sides, m2 in m.
    Thickness,
    /// The last dimension: beds in m2, edges in m.
    Last,
}

impl Row {
    /// The quantity, in m, m2, m3 ..., booked in one of the ways.
    #[must_use]
    pub fn total(&self, booking: Booking) -> Ratio {
        let mut items: BTreeMap<[&str; 2], (Ratio, &Part)> = BTreeMap::new();
        for part in self.parts.iter().filter(|p| p.counts) {
            let key = if part.whole.by_row { [part.work.id, &part.spec] } else { [part.item.as_str(), ""] };
            let sum = items.entry(key).or_insert((Ratio::ZERO, part));
            sum.0 = sum.0 + part.value(booking, self.drop);
        }
        let whole = |(sum, part): &(Ratio, &Part)| {
            if booking == Booking::Profile { part.whole.rounded(*sum, part.places) } else { *sum }
        };
        items.values().map(whole).sum::<Ratio>() * self.factor
    }

    /// Does one of the ways print this figure, `unit` of ours being one of theirs?
    #[must_use]
    pub fn prints(&self, figure: Figure, unit: Ratio) -> Option<Booking> {
        BOOKINGS.into_iter().find(|b| figure.prints(self.total(*b) / unit))
    }

    /// Totals by every way: two rows with the same are the same.
    #[must_use]
    pub fn totals(&self) -> [Ratio; 4] {
        BOOKINGS.map(|b| self.total(b))
    }
}

impl Part {
    fn value(&self, booking: Booking, drop: Drop) -> Ratio {
        let last = self.dims.len().saturating_sub(1);
        let counts = |i: usize, d: &Dim| match drop {
            Drop::Nothing => true,
            Drop::Thickness => !d.thickness,
            Drop::Last => i != last,
        };
        let used = self.dims.iter().enumerate().filter(|(i, d)| counts(*i, d));
        used.fold(self.times, |p, (_, d)| p * d.booked(booking))
    }
}

impl Dim {
    fn booked(&self, booking: Booking) -> Ratio {
        if self.up {
            let n = self.value / self.step;
            let whole = n.floor();
            return if whole == n { self.value } else { (whole + Ratio::ONE) * self.step };
        }
        match booking {
            Booking::Plain => self.value,
            Booking::Exact => self.value.round_half_away(Ratio::of(1, 10_000)),
            Booking::Profile | Booking::Dimensions => self.value.round_half_away(self.step),
        }
    }

    /// Gives it another value.
    pub fn set(&mut self, value: Ratio) {
        self.value = value;
    }
}

/// The lines of items, those of the profile's own decisions standing by.
#[must_use]
pub fn parts(sheet: &Sheet, items: &[&Item]) -> Vec<Part> {
    let mut all = Vec::new();
    for item in items {
        for line in &item.lines {
            match line.of_item.as_deref().and_then(|id| sheet.find(id)) {
                Some(of) => all.extend(parts(sheet, &[of]).into_iter().map(|p| Part {
                    work: item.work,
                    unit: item.unit,
                    ..p
                })),
                None => all.push(part(item, line, if item.unbilled { Out::InRate } else { Out::No })),
            }
        }
        all.extend(item.kept.iter().map(|line| part(item, line, Out::Kept)));
    }
    all
}

fn part(item: &Item, line: &Line, out: Out) -> Part {
    let metre = Ratio::int(10_000);
    let dim = |(i, d): (usize, &tankwright_quantities::sheet::Dim)| Dim {
        value: d.len.value() / metre,
        len: d.len.clone(),
        step: Ratio::from(d.step) / metre,
        thickness: d.dropped || item.work.by_area && i == 1,
        up: d.up,
    };
    let number = |t: &Times| match t {
        Times::Count(n)
        | Times::Input(_, n)
        | Times::Strips { value: n, .. }
        | Times::Spaces { value: n, .. } => Ratio::from(*n),
        Times::Fraction(f) | Times::MassPerMetre(f) => *f,
        Times::Pi => PI,
    };
    let of_job = |t: &Times| match t {
        Times::Input(_, n) => Ratio::from(*n),
        _ => Ratio::ONE,
    };
    Part {
        item: item.id.clone(),
        work: item.work,
        unit: item.unit,
        places: item.places,
        whole: item.whole,
        spec: item.spec.clone(),
        note: line.note.clone(),
        times: line.times.iter().map(number).fold(Ratio::ONE, |a, b| a * b),
        number: line.times.iter().map(of_job).fold(Ratio::ONE, |a, b| a * b),
        round: line.times.contains(&Times::Pi),
        dims: line.dims.iter().enumerate().map(dim).collect(),
        counts: out == Out::No,
        out,
    }
}

/// A length with some inputs at other values (tenths of a millimetre, or plain numbers), in metres.
#[must_use]
pub fn revalued(len: &Len, at: &dyn Fn(InputId) -> Ratio) -> Ratio {
    tenths(len, at) / Ratio::int(10_000)
}

fn tenths(len: &Len, at: &dyn Fn(InputId) -> Ratio) -> Ratio {
    if len.terms().is_empty() {
        return len.value();
    }
    let atom = |a: &Atom| match a {
        Atom::Input(id) => at(*id),
        Atom::Tenth => Ratio::ONE,
        Atom::Share(of, whole) => {
            let top = tenths(&of[0], at) * tenths(&of[1], at);
            whole.as_ref().map_or(top, |w| top / tenths(w, at))
        }
    };
    len.terms().iter().map(|t| t.coef * atom(&t.atom)).sum()
}

/// The inputs a length is made of.
pub fn inputs_of(len: &Len, into: &mut std::collections::BTreeSet<InputId>) {
    for term in len.terms() {
        match &term.atom {
            Atom::Input(id) => {
                into.insert(*id);
            }
            Atom::Tenth => {}
            Atom::Share(of, whole) => {
                of.iter().chain(whole.as_deref()).for_each(|l| inputs_of(l, into));
            }
        }
    }
}

/// A decimal for people: at most six places.
#[must_use]
pub fn plain(value: Ratio) -> String {
    decimal::rounded(value, 6).map_or_else(|| decimal::plain(value), |d| d.to_string())
}
