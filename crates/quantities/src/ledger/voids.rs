//! What the profile says of a void, or of the end of a beam, in a measured extent: kept or deducted, and why.

use tankwright_geometry::{Len, PI, Ratio};

use crate::ledger::Spec;
use crate::ledger::book::{Book, clause};
use crate::rates::Boundary;
use crate::sheet::Judged;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::{Class, Unit, Work};

/// A void as it lies in what is measured.
pub(super) struct Void<'a> {
    /// Both sides on the face; of a circle, its square.
    pub(super) face: [&'a Len; 2],
    /// How deep it goes.
    pub(super) depth: Option<&'a Len>,
    pub(super) round: bool,
    /// At the edge.
    pub(super) edge: bool,
    /// Of two faces of one void the second.
    pub(super) second: bool,
}

/// What the profile says of it.
pub(super) struct Verdict {
    pub(super) kept: bool,
    limit: Option<Ratio>,
    unit: Unit,
    why: &'static str,
    pub(super) clause: String,
}

/// Square tenths of a millimetre in a square metre.
const SQUARE: i128 = 100_000_000;

impl Verdict {
    /// As the ledger lists it. `k`: a share of the square, of a circle.
    pub(super) fn listed(&self, part: &'static str, times: i64, void: &Void<'_>) -> Judged {
        let mut dims = vec![void.face[0], void.face[1]];
        if self.unit == Unit::M3 {
            dims.extend(void.depth);
        }
        let share = if void.round { PI * Ratio::of(1, 4) } else { Ratio::ONE };
        let size = dims.iter().fold(share, |p, d| p * d.value() / Ratio::int(10_000));
        let limit = self.limit.map(crate::decimal::plain).unwrap_or_default();
        Judged {
            what: Phrase::new(part),
            times,
            size,
            unit: self.unit,
            limit: self.limit,
            kept: self.kept,
            why: Phrase::with(self.why, &[&limit, self.unit.id()]),
            clause: self.clause.clone(),
        }
    }
}

impl Book<'_> {
    /// Is a void kept in a work of this kind?
    pub(super) fn of_void(&self, work: &Work, void: &Void<'_>) -> Verdict {
        let p = self.profile;
        let says = |kept, limit, unit, why, clause| Verdict { kept, limit, unit, why, clause };
        if let Some((widest, source)) = p.pipes.get(&work.class).filter(|_| void.round) {
            let kept = self.judge.cmp(void.face[0], &Len::fixed(*widest)).is_le();
            let quarter =
                PI * Ratio::of(1, 4) * Ratio::from(*widest) * Ratio::from(*widest) / Ratio::int(SQUARE);
            let limit = crate::decimal::rounded(quarter, 4).map(crate::decimal::ratio);
            return says(kept, limit, Unit::M2, if kept { "pipe-kept" } else { "void-over" }, clause(source));
        }
        let Some(rule) = p.voids.get(&work.class) else {
            return says(false, None, Unit::M2, "void-no-limit", String::new());
        };
        let limit = Some(rule.shown());
        if let (Boundary::Face | Boundary::Part, source) = &p.boundary
            && void.edge
        {
            let clause = source.as_ref().map_or_else(String::new, clause);
            return says(false, limit, rule.unit, "void-at-edge", clause);
        }
        let mut dims = void.face.to_vec();
        if rule.unit == Unit::M3 {
            let Some(depth) = void.depth else {
                return says(false, limit, Unit::M2, "void-over", clause(&rule.source));
            };
            dims.push(depth);
        }
        let square = |limit: Ratio| if void.round { limit / (PI * Ratio::of(1, 4)) } else { limit };
        if self.judge.cmp_product(&dims, square(rule.limit)).is_le() {
            return says(true, limit, rule.unit, "void-under", clause(&rule.source));
        }
        if let Some((most, source)) = p.one_face.as_ref().filter(|_| work.class == Class::Plaster)
            && self.judge.cmp_product(&dims, square(*most)).is_le()
        {
            let limit = Some(*most / Ratio::int(SQUARE));
            let why = if void.second { "void-second-face" } else { "void-first-face" };
            return says(void.second, limit, Unit::M2, why, clause(source));
        }
        says(false, limit, rule.unit, "void-over", clause(&rule.source))
    }

    /// By which clause the reveals of an opening are not measured.
    pub fn no_reveals(&self, work: &Work, face: [&Len; 2]) -> Option<String> {
        let rule = self.profile.voids.get(&work.class)?;
        let (limit, source) = match &self.profile.one_face {
            Some((most, source)) if work.class == Class::Plaster => (*most, source),
            _ => (rule.limit, &rule.source),
        };
        self.judge.cmp_product(&face, limit).is_le().then(|| clause(source))
    }

    /// Is the end of a beam, of these sides, kept?
    pub(super) fn of_end(&self, work: &Work, of: &Work, void: &Void<'_>) -> Option<Verdict> {
        let (most, source) = self.profile.ends.get(&work.class)?;
        // Formwork is not reduced where concrete meets concrete; masonry against it is no beam.
        if work.class == Class::Formwork && of.class != Class::Concrete {
            return None;
        }
        let kept = most.is_none_or(|most| self.judge.cmp_product(&void.face, most).is_le());
        let limit = most.map(|most| most / Ratio::int(SQUARE));
        let why = match (limit, kept) {
            (None, _) => "end-any",
            (_, true) => "end-under",
            (_, false) => "end-over",
        };
        Some(Verdict { kept, limit, unit: Unit::M2, why, clause: clause(source) })
    }

    /// Lists a void or an end, equal ones together.
    pub(super) fn list(&mut self, place: (usize, String, Stage), judged: Judged) {
        let Some(entry) = self.entries.get_mut(&place) else { return };
        let same = |j: &&mut Judged| Judged { times: judged.times, ..(**j).clone() } == judged;
        match entry.judged.iter_mut().find(same) {
            Some(old) => old.times += judged.times,
            None => entry.judged.push(judged),
        }
    }

    /// A void that an element takes off its own work, or leaves in: it lies inside. Gives the clause that keeps it.
    pub fn void(
        &mut self,
        spec: &Spec,
        stage: Stage,
        part: &'static str,
        times: i64,
        (face, depth): ([&Len; 2], Option<&Len>),
    ) -> Option<String> {
        let void = Void { face, depth, round: false, edge: false, second: false };
        let verdict = self.of_void(spec.work, &void);
        let place = self.place(spec, stage);
        self.list(place, verdict.listed(part, times, &void));
        verdict.kept.then_some(verdict.clause)
    }
}
