//! Where elements lay out their bars.

use tankwright_geometry::{InputId, Len, Ratio};

use super::bars::{Bars, KEYS, check, lap, split};
use super::cutting::Planning;
use super::laps::spliced;
use super::shapes::{Shape, least_round};
use crate::decimal;
use crate::ledger::{BAR_STEP, Book, Spec};
use crate::problem::Problem;
use crate::sheet::Times;
use crate::site::Site;
use crate::stage::Stage;
use crate::steel::{BarKind, Mark, Number, Schedule};
use crate::words::Phrase;
use crate::works::reinforcement;

/// Members in the order of the schedule, within a stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Order {
    /// Mesh in the base.
    Base,
    /// Starter bars.
    Starters,
    /// Columns.
    Columns,
    /// Ring beams.
    RingBeams,
    /// Beams on walls.
    WallBeams,
    /// Over openings.
    Lintels,
    /// Beam under the cover.
    SpanBeam,
    /// Mesh in the cover.
    Cover,
    /// Beside manholes.
    Trimmers,
    /// Chairs between layers.
    Chairs,
}

/// A kind of bar that an element asks for.
#[derive(Debug)]
pub struct Want<'w> {
    /// Which member it belongs to.
    pub order: Order,
    /// What it reinforces, in words.
    pub member: Phrase,
    /// The bars.
    pub bars: &'w Bars,
    /// One bar.
    pub shape: Shape,
    /// Equal members.
    pub members: usize,
    /// Bars in each.
    pub each: Times,
    /// When it is fixed.
    pub stage: Stage,
    /// What a bender must know besides.
    pub remarks: Vec<Phrase>,
}

/// Bars on plan: the ends of each.
pub type Lines = Vec<[[i64; 2]; 2]>;

/// Collects marks while elements reinforce their members.
#[derive(Debug)]
pub struct Bench<'a> {
    /// The site.
    pub site: &'a Site<'a>,
    /// Concrete over the bars.
    pub cover: Len,
    pub(super) marks: Vec<(Order, Mark)>,
    /// Where the bars of each lie, if that is asked for.
    pub(super) laid: Option<Vec<Lines>>,
    /// Members whose details can be drawn.
    pub(super) details: super::details::Details,
    remarks: Vec<Phrase>,
}

impl<'a> Bench<'a> {
    /// An empty bench. Bars that are not known are reported on the job.
    #[must_use]
    pub fn new(site: &'a Site<'a>) -> Self {
        let job = site.job;
        KEYS.iter().filter(|k| job.has(k)).for_each(|key| check(site, key));
        Self {
            site,
            cover: job.len("steel.cover_to_steel"),
            marks: Vec::new(),
            laid: Some(Vec::new()),
            details: super::details::Details::default(),
            remarks: Vec::new(),
        }
    }

    /// An empty bench of a job whose bars are known.
    pub(crate) fn again(site: &'a Site<'a>) -> Self {
        Self {
            site,
            cover: site.job.len("steel.cover_to_steel"),
            marks: Vec::new(),
            laid: None,
            details: super::details::Details::default(),
            remarks: Vec::new(),
        }
    }

    /// The bars at a key; nothing where the job gives none there, or unknown ones (which is refused).
    #[must_use]
    pub fn bars(&self, path: &str) -> Option<Bars> {
        let kind = split(self.site.job.text(path))?;
        self.of_kind(kind, path)
    }

    /// Bars of a kind that the job does not give at this key itself.
    pub(crate) fn of_kind(&self, kind: BarKind, path: &str) -> Option<Bars> {
        let job = self.site.job;
        let data = &self.site.stock.bars;
        let size = data.sizes.get(&kind.diameter).filter(|_| data.grades.contains_key(&kind.grade))?.clone();
        let (id, n) = job.count(&format!("{path}.number"));
        let number = if id == InputId(u32::MAX) { Times::Count(0) } else { Times::Input(id, n) };
        let spacing = job.len(&format!("{path}.spacing"));
        Some(Bars { kind, size, spacing, number, path: path.to_owned() })
    }

    /// A member's size less the concrete over its bars on both sides.
    #[must_use]
    pub fn inside(&self, size: &Len) -> Len {
        size - &self.cover.times(2)
    }

    /// The lap of a diameter.
    #[must_use]
    pub fn lap(&self, diameter: u32) -> Len {
        lap(self.site.job, diameter)
    }

    /// Bars side by side over a length, at most their spacing apart, with the actual spacing in words.
    /// Nothing where there is no such length, which is refused.
    #[must_use]
    pub fn spaces(&self, bars: &Bars, over: &Len) -> Option<(Times, Phrase)> {
        if !self.site.judge.positive(over) {
            self.too_small(bars, over);
            return None;
        }
        // Whole spaces rounded up, so that the actual spacing never exceeds the one asked for.
        let spaces = -(-(over.value() / bars.spacing.value())).floor();
        let n = i64::try_from(spaces.numer()).unwrap_or(i64::MAX / 2);
        let times = Times::Spaces { over: over.clone(), at: bars.spacing.clone(), value: n + 1 };
        let actual = over.value() / Ratio::int(10) / spaces;
        let actual = decimal::rounded(actual, 1).map_or_else(String::new, |d| d.to_string());
        Some((times, Phrase::with("bars-spacing", &[&actual])))
    }

    /// Says something about the whole schedule.
    pub fn remark(&mut self, says: Phrase) {
        if !self.remarks.contains(&says) {
            self.remarks.push(says);
        }
    }

    /// Adds bars: legs lengthened to what can be bent, bars longer than stock lapped, lengths rounded up.
    pub fn add(&mut self, want: Want<'_>) {
        self.lay(want, Vec::new);
    }

    /// The same for bars whose places on plan are known.
    pub fn lay(&mut self, want: Want<'_>, lines: impl Fn() -> Lines) {
        let Want { order, member, bars, shape, members, each, stage, mut remarks } = want;
        let Some(shape) = self.bendable(bars, shape, &mut remarks) else { return };
        let Some(pieces) = self.in_stock(bars, shape, &mut remarks) else { return };
        for (shape, n) in pieces {
            let members = n.saturating_mul(members as u64);
            let number = Number { members, each: each.clone() };
            let mark = self.mark(&member, bars, &shape, number, stage, &remarks);
            self.marks.push((order, mark));
            if let Some(laid) = &mut self.laid {
                laid.push(lines());
            }
        }
    }

    fn mark(
        &self,
        member: &Phrase,
        bars: &Bars,
        shape: &Shape,
        number: Number,
        stage: Stage,
        remarks: &[Phrase],
    ) -> Mark {
        let sum = shape.sum(&bars.size);
        let steps = -(-(sum.value() / Ratio::from(BAR_STEP))).floor();
        let length_mm = i64::try_from((steps * Ratio::of(BAR_STEP.into(), 10)).numer()).unwrap_or(i64::MAX);
        let each = crate::ledger::factor(&number.each).numer();
        let count = u64::try_from(each).unwrap_or(0).saturating_mul(number.members);
        let metres = Ratio::of(i128::from(length_mm), 1_000);
        let kg = self.site.stock.bars.mass_per_metre(bars.kind.diameter);
        Mark {
            mark: String::new(),
            member: member.clone(),
            bar: bars.kind.clone(),
            shape: shape.code(),
            count,
            number,
            dims: shape.dims(),
            sum,
            length_mm,
            mass: Ratio::int(i128::from(count)) * metres * kg,
            stage,
            remarks: remarks.to_vec(),
        }
    }

    /// The shape with legs that can be bent; nothing where it cannot be bent at all, which is refused.
    fn bendable(&self, bars: &Bars, shape: Shape, remarks: &mut Vec<Phrase>) -> Option<Shape> {
        let (judge, size) = (self.site.judge, &bars.size);
        let least = Len::fixed(size.projection);
        let mut leg = |leg: Len| {
            if judge.cmp(&leg, &least).is_ge() {
                return leg;
            }
            let says = Phrase::with("bars-leg", &[&self.site.mm(&leg), &self.site.mm(&least)]);
            if !remarks.contains(&says) {
                remarks.push(says);
            }
            least.clone()
        };
        let whole = |a: &Len| {
            let fits = judge.positive(a);
            if !fits {
                self.too_small(bars, a);
            }
            fits
        };
        let shape = match shape {
            Shape::Corner { a, b } if b.is_zero() => Shape::Straight { a },
            Shape::Ends { a, b, c } if a.is_zero() && c.is_zero() => Shape::Straight { a: b },
            other => other,
        };
        Some(match shape {
            Shape::Straight { a } => {
                whole(&a).then_some(())?;
                Shape::Straight { a }
            }
            Shape::Corner { a, b } => {
                whole(&a).then_some(())?;
                Shape::Corner { a: leg(a), b: leg(b) }
            }
            Shape::Ends { a, b, c } => {
                let (a, c) = (leg(a), leg(c));
                self.two_bends(bars, &[&b], true, remarks)?;
                Shape::Ends { a, b, c }
            }
            Shape::Link { a, b, .. } => {
                self.two_bends(bars, &[&a, &b], true, remarks)?;
                Shape::Link { a, b, c: Len::fixed(size.projection_links) }
            }
            Shape::Chair { a, b, c, d } => {
                let (c, d) = (leg(c), leg(d));
                self.two_bends(bars, &[&a, &b], false, remarks)?;
                Shape::Chair { a, b, c, d }
            }
        })
    }

    /// Sides between two bends: what cannot be bent is refused, what is less than the standard asks is said.
    /// `outer`: a side is the member's own size less the concrete on both sides.
    fn two_bends(&self, bars: &Bars, sides: &[&Len], outer: bool, remarks: &mut Vec<Phrase>) -> Option<()> {
        let (site, judge) = (self.site, self.site.judge);
        let (least, standard) = (least_round(&bars.size), Len::fixed(bars.size.two_bends));
        for side in sides {
            if judge.cmp(side, &least).is_lt() {
                let (bar, mm) = (bars.kind.id(), site.mm(&least));
                let what = format!("{}: the bar does not fit into its member", bars.path);
                let left = site.mm(side);
                let cover = site.mm(&self.cover);
                let outside = site.mm(&(*side + &self.cover.times(2)));
                let label = if outer {
                    format!(
                        "a member of {outside} mm leaves {left} mm between {cover} mm of concrete on both sides"
                    )
                } else {
                    format!("{left} mm are left inside {cover} mm of concrete on both sides")
                };
                let problem = Problem::error("J088", site.job.place(&bars.path), what).label(label).hint(
                    format!("{bar} bent twice needs {mm} mm: less cover, a thinner bar or a larger member"),
                );
                site.job.report(problem);
                return None;
            }
            if judge.cmp(side, &standard).is_lt() {
                remarks.push(Phrase::with("bars-tight", &[&site.mm(side), &site.mm(&standard)]));
            }
        }
        Some(())
    }

    /// The bar, or the pieces it is lapped from; nothing where it cannot be had, which is refused.
    fn in_stock(&self, bars: &Bars, shape: Shape, remarks: &mut Vec<Phrase>) -> Option<Vec<(Shape, u64)>> {
        let (site, judge) = (self.site, self.site.judge);
        let stock = site.job.len("steel.stock_length");
        judge.fix(&stock);
        let odd = stock.value() - (stock.value() / Ratio::from(BAR_STEP)).floor() * Ratio::from(BAR_STEP);
        // Pieces are whole steps of 25 mm.
        let piece = &stock - &Len::fixed(i64::try_from(odd.numer()).unwrap_or(0));
        let sum = shape.sum(&bars.size);
        if judge.cmp(&sum, &piece).is_le() {
            return Some(vec![(shape, 1)]);
        }
        let lap = self.lap(bars.kind.diameter);
        let Some(pieces) = spliced(&shape, &bars.size, &piece, &lap, judge) else {
            let what = format!("{}: a bar longer than bars are sold", bars.path);
            let place = site.job.place("steel.stock_length").filter(|_| site.job.given("steel.stock_length"));
            let problem = Problem::error("J090", place.or_else(|| site.job.place(&bars.path)), what)
                .label(format!("bars of {} mm; this one needs {} mm", site.mm(&stock), site.mm(&sum)))
                .hint(format!(
                    "it cannot be made of pieces that lap by {} mm: buy longer bars",
                    site.mm(&lap)
                ));
            site.job.report(problem);
            return None;
        };
        remarks.push(Phrase::with("bars-lapped", &[&pieces.number.to_string(), &site.mm(&lap)]));
        Some(pieces.of)
    }

    fn too_small(&self, bars: &Bars, left: &Len) {
        let site = self.site;
        let what = format!("{}: nothing of the member is left between its concrete covers", bars.path);
        let problem = Problem::error("J089", site.job.place(&bars.path), what)
            .label(format!("{} mm are left for the bars", site.mm(left)))
            .hint(format!("cover_to_steel is {} mm on each side", site.mm(&self.cover)));
        site.job.report(problem);
    }

    /// Marks in the order of stages and members, numbered.
    fn numbered(&self) -> Vec<Mark> {
        let number = |(i, n): (usize, usize)| {
            let (_, mark) = self.marks.get(n)?;
            Some(Mark { mark: (i + 1).to_string(), ..mark.clone() })
        };
        self.in_order().into_iter().enumerate().filter_map(number).collect()
    }

    /// Books every mark as a line of the ledger: work `bars`, by grade and diameter.
    pub fn book(&self, book: &mut Book<'_>) {
        for mark in self.numbered() {
            let data = &self.site.stock.bars;
            let title = data.grades.get(&mark.bar.grade).map_or("", |g| g.title.as_str());
            let spec = Spec::of(&reinforcement::BARS, &mark.bar.id(), &[title]);
            let note = Phrase::with("bars-mark", &[&mark.mark, &mark.member.to_string()]);
            let members = i64::try_from(mark.number.members).unwrap_or(i64::MAX);
            let kg = data.mass_per_metre(mark.bar.diameter);
            let times = [Times::Count(members), mark.number.each.clone(), Times::MassPerMetre(kg)];
            book.bars(&spec, mark.stage, note, &times, &mark.sum, mark.length_mm.saturating_mul(10));
        }
    }

    /// Begins the cutting plans of all that is laid out.
    #[must_use]
    pub fn plan(&self) -> Planning {
        let mm = |path| self.site.job.len(path).value() / Ratio::int(10);
        let whole = |r: Ratio| i64::try_from(r.floor().numer()).unwrap_or(0);
        let stock = whole(mm("steel.stock_length"));
        // A cut that is not whole millimetres takes the next whole one.
        let kerf = -whole(Ratio::ZERO - mm("steel.kerf"));
        Planning::begin(self.numbered(), stock, kerf)
    }

    /// The schedule with its cutting plans, which are those of the same bars.
    #[must_use]
    pub fn close(mut self, planning: Planning) -> Schedule {
        if !self.marks.is_empty() {
            self.closing_remarks();
        }
        let marks = self.numbered();
        let mut kinds: Vec<BarKind> = marks.iter().map(|m| m.bar.clone()).collect();
        kinds.sort();
        kinds.dedup();
        let data = &self.site.stock.bars;
        let mass_per_metre =
            kinds.into_iter().map(|k| (k.clone(), data.mass_per_metre(k.diameter))).collect();
        let (cutting, uncut) = match planning.end() {
            Ok(cutting) => (cutting, Vec::new()),
            Err(kinds) => (Vec::new(), kinds.iter().map(ToString::to_string).collect()),
        };
        let laid = self.laid();
        Schedule { marks, cutting, uncut, laid, mass_per_metre, remarks: self.remarks }
    }

    fn closing_remarks(&mut self) {
        let job = self.site.job;
        self.remarks.insert(0, Phrase::new("bars-standard"));
        let kerf = job.len("steel.kerf").value() / Ratio::int(10);
        if kerf != kerf.floor() {
            let whole = crate::decimal::plain(kerf.floor() + Ratio::ONE);
            self.remark(Phrase::with("bars-kerf", &[&crate::decimal::plain(kerf), &whole]));
        }
        let spacers = job.count("steel.spacers").1;
        let cover = self.site.mm(&self.cover);
        self.remark(if spacers > 0 {
            Phrase::with("bars-spacers", &[&spacers.to_string(), &cover])
        } else {
            Phrase::with("bars-no-spacers", &[&cover])
        });
    }
}
