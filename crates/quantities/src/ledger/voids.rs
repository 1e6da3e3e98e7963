//! What the profile says of a void, or of the end of a beam, in a measured extent: kept or deducted, and why.

use tankwright_geometry::{Axis, Block, Len, PI, Ratio, block};

use crate::ledger::book::{Book, clause};
use crate::ledger::deduct::{Cut, Own, meet};
use crate::ledger::{Side, Spec};
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

/// A void, or the end of a beam, that the profile keeps: in which words, and the clause. What it deducts is listed too.
pub(super) fn kept(
    book: &mut Book<'_>,
    own: &Own<'_>,
    cut: &Cut<'_>,
    piece: &Block,
    dims: [&Len; 3],
) -> Option<(&'static str, String)> {
    let end = cut.runs.is_some() && cut.runs == own.flat.or(own.thickness);
    if !cut.void && !end {
        return None;
    }
    // Its size is that of the whole void, not of what lies in one lift; an edge of a face may be that of the lift.
    let by_part = book.profile.boundary.0 != Boundary::Face && own.flat.is_none();
    let whole = own.parts.first().filter(|_| by_part);
    let whole = whole.and_then(|part| meet(part, cut.block, None, book.judge, book.floor));
    let whole_dims = whole.as_ref().map(|b| b.dims(book.judge, book.floor));
    let (piece, of_part) = (whole.as_ref().unwrap_or(piece), own.parts.first().filter(|_| by_part));
    let dims = whole_dims.as_ref().map_or(dims, |[x, y, z]| [x, y, z]);
    let within = |of: &Block| {
        let judge = book.judge;
        let inside =
            |a: &[Len; 2], b: &[Len; 2]| [judge.cmp(&a[0], &b[0]).is_gt(), judge.cmp(&a[1], &b[1]).is_lt()];
        let z = |i: usize| {
            let order = block::cmp_z(&piece.z[i], &of.z[i], &piece.x, judge, book.floor);
            if i == 0 { order.is_gt() } else { order.is_lt() }
        };
        [inside(&piece.x, &of.x), inside(&piece.y, &of.y), [z(0), z(1)]]
    };
    // Where the profile has no limit nothing is compared.
    let limited = cut.void && book.profile.voids.contains_key(&own.spec.work.class);
    let axes = if limited { within(of_part.copied().unwrap_or(&own.block)) } else { [[false; 2]; 3] };
    let all = [Axis::X, Axis::Y, Axis::Z];
    // A void goes through a wall's thickness, or through a slab from face to face.
    let spans = |a: &Axis| axes[*a as usize] == [false, false];
    let through = own.flat.or(own.thickness).or_else(|| all.into_iter().rev().find(spans));
    let through = through.unwrap_or(Axis::Z);
    let on_face: Vec<usize> = all.into_iter().filter(|a| *a != through).map(|a| a as usize).collect();
    let [a, b] = on_face[..] else { return None };
    let strictly = |axes: &[[bool; 2]; 3]| [a, b].iter().all(|i| axes[*i] == [true, true]);
    let mut edge = limited && !strictly(&axes);
    if edge && book.profile.boundary.0 == Boundary::Part {
        edge = !own.parts.iter().any(|part| strictly(&within(part)));
    }
    // A hollow that does not come out on the other side is part of the edge.
    let comes_out = own.flat.is_some() || spans(&through);
    let void = Void {
        face: [dims[a], dims[b]],
        depth: (own.flat.is_none() && comes_out).then_some(dims[through as usize]),
        round: cut.round,
        edge: edge || !comes_out,
        second: own.side == Some(Side::High),
    };
    let (key, verdict) = if cut.void {
        ("void-kept", book.of_void(own.spec.work, &void))
    } else {
        ("end-kept", book.of_end(own.spec.work, cut.work, &void)?)
    };
    let place = book.target(own.spec, own.stage, own.named.as_ref());
    book.list(place, verdict.listed(cut.part, 1, &void));
    verdict.kept.then_some((key, verdict.clause))
}
