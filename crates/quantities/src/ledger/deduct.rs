//! Deductions and abutments, from the claims of higher rank: no element knows another.

use tankwright_geometry::{Axis, Block, Floor, Judge, Len, Ratio, Z};

use crate::ledger::units::Named;
use crate::ledger::voids::kept;
use crate::ledger::{Book, Carrier, Claim, Face, Lift, SetOut, Side, Spec};
use crate::rates::Boundary;
use crate::sheet::Times;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::{FaceRule, Proof, Work};

/// A block to be taken out of a measured extent.
#[derive(Clone)]
pub(super) struct Cut<'a> {
    pub(super) part: &'static str,
    pub(super) work: &'static Work,
    pub(super) void: bool,
    /// The way a beam, board or partition runs.
    pub(super) runs: Option<Axis>,
    pub(super) round: bool,
    pub(super) block: &'a Block,
    /// Parts of higher rank that have the block's place: there it takes nothing.
    pub(super) holes: Vec<&'a Block>,
    /// The clause by which it stays out of the quantity, so that nothing of it is given back.
    pub(super) left: Option<String>,
}

/// What is being measured: a claim in one lift, or a face in one lift.
pub(super) struct Own<'a> {
    pub(super) spec: &'a Spec,
    pub(super) stage: Stage,
    /// Axis of a face's plane.
    pub(super) flat: Option<Axis>,
    /// The way a face looks.
    pub(super) side: Option<Side>,
    /// Axis of a wall's thickness.
    pub(super) thickness: Option<Axis>,
    pub(super) block: Block,
    /// The parts whose edge counts as the edge of what is measured; none: its own.
    pub(super) parts: Vec<&'a Block>,
    /// A narrow face: which dimension is named, and its width.
    pub(super) named: Option<Named>,
}

/// Books every deduction that follows from the claims, for all claims and faces.
pub fn deduct(book: &mut Book<'_>, set: &SetOut) {
    for claim in &set.claims {
        let higher = by_rank(set.claims.iter().filter(|c| c.rank < claim.rank));
        let cuts: Vec<_> = higher.into_iter().map(cut).collect();
        for lift in &claim.lifts {
            let Some(block) = in_lift(&claim.block, None, lift, book.judge, book.floor) else { continue };
            let own = Own {
                spec: &claim.spec,
                stage: lift.stage,
                flat: None,
                side: None,
                thickness: claim.thickness,
                block,
                parts: vec![&claim.block],
                named: None,
            };
            book_cuts(book, &own, &cuts);
        }
    }
    for face in &set.faces {
        let mut cuts = already(face, set, book);
        cuts.extend(by_rank(set.claims.iter()).into_iter().filter_map(|c| blocking(face, c, set, book)));
        let parts = carriers(face, set, book);
        for lift in &face.lifts {
            let Some(block) = in_lift(&face.block, Some(face.axis), lift, book.judge, book.floor) else {
                continue;
            };
            let [dx, dy, dz] = block.dims(book.judge, book.floor);
            let named = book.named(face.spec.work, &[], &flat_dims(face.axis, [&dx, &dy, &dz]));
            let own = Own {
                spec: &face.spec,
                stage: lift.stage,
                flat: Some(face.axis),
                side: Some(face.side),
                thickness: None,
                block,
                parts: parts.clone(),
                named,
            };
            book_cuts(book, &own, &cuts);
        }
    }
}

fn by_rank<'a>(claims: impl Iterator<Item = &'a Claim>) -> Vec<&'a Claim> {
    let mut claims: Vec<_> = claims.collect();
    claims.sort_by_key(|c| c.rank);
    claims
}

fn cut(c: &Claim) -> Cut<'_> {
    let work = c.spec.work;
    Cut {
        part: c.part,
        work,
        void: work.void,
        runs: c.runs,
        round: c.round,
        block: &c.block,
        holes: Vec::new(),
        left: None,
    }
}

/// The parts that carry a face, where the profile looks at their edges.
fn carriers<'a>(face: &Face, set: &'a SetOut, book: &Book<'_>) -> Vec<&'a Block> {
    if book.profile.boundary.0 != Boundary::Part {
        return Vec::new();
    }
    let behind = |c: &&Claim| {
        carries(face, c.spec.work) && !face.block.apart(&c.block, Some(face.axis), book.judge) && {
            let [low, high] = face.block.touches(&c.block, face.axis, book.judge, book.floor);
            if face.side == Side::High { low } else { high }
        }
    };
    set.claims.iter().filter(behind).map(|c| &c.block).collect()
}

/// Faces of higher rank for the same work, in the same plane: what they line or form is not lined or formed twice.
fn already<'a>(face: &Face, set: &'a SetOut, book: &Book<'_>) -> Vec<Cut<'a>> {
    let plane = |f: &Face| match f.axis {
        Axis::X => f.block.x[0].clone(),
        Axis::Y => f.block.y[0].clone(),
        Axis::Z => f.block.z[0].off.clone(),
    };
    let same = |f: &&Face| {
        f.rank < face.rank
            && f.spec.work == face.spec.work
            && (f.axis, f.side) == (face.axis, face.side)
            && (f.axis != Axis::Z || f.block.z[0].follows == face.block.z[0].follows)
            && book.judge.cmp(&plane(f), &plane(face)).is_eq()
    };
    let cut = |f: &'a Face| Cut {
        part: "face-of-another",
        work: f.spec.work,
        void: false,
        runs: None,
        round: false,
        block: &f.block,
        holes: Vec::new(),
        left: None,
    };
    set.faces.iter().filter(same).map(cut).collect()
}

/// Does a claim take something off a face? Behind it: what does not carry the work. Before it: every solid, except
/// where a void has the solid's place.
fn blocking<'a>(face: &Face, claim: &'a Claim, set: &'a SetOut, book: &Book<'_>) -> Option<Cut<'a>> {
    let touch = |c: &Claim| {
        if face.block.apart(&c.block, Some(face.axis), book.judge) {
            return (false, false);
        }
        let [low, high] = face.block.touches(&c.block, face.axis, book.judge, book.floor);
        if face.side == Side::High { (low, high) } else { (high, low) }
    };
    let (behind, before) = touch(claim);
    let work = claim.spec.work;
    // A pipe hole comes off the wall and off its inner face, and off nothing else.
    if claim.round && face.spec.work.proof == Proof::Faces(FaceRule::Outside) {
        return None;
    }
    if behind && claim.rank < face.rank && !carries(face, work) {
        // Where a part of higher rank stands in its place and carries the work, nothing is lost; but what goes
        // through the plane covers it all the same.
        let kept = |c: &&Claim| {
            (!before || work.void)
                && c.rank < claim.rank
                && carries(face, c.spec.work)
                && c.block.meet(&claim.block, book.judge, book.floor).is_some()
                && touch(c).0
        };
        return Some(Cut { holes: set.claims.iter().filter(kept).map(|c| &c.block).collect(), ..cut(claim) });
    }
    if !before || face.covered || work.void {
        return None;
    }
    // A pipe hole is filled by its pipe: what stands before it stays covered.
    let opens = |c: &&Claim| c.spec.work.void && !c.round && c.rank < claim.rank && touch(c).1;
    let voids = set.claims.iter().filter(opens);
    Some(Cut { holes: voids.map(|c| &c.block).collect(), ..cut(claim) })
}

fn carries(face: &Face, work: &Work) -> bool {
    match face.carrier {
        Carrier::Formed => {
            let f = &work.forms;
            [f.inside, f.outside, f.soffit, f.hole].into_iter().flatten().any(|w| w == face.spec.work)
        }
        Carrier::Lined => work.lined,
        Carrier::On(on) => work == on,
    }
}

pub(super) fn in_lift(
    block: &Block,
    flat: Option<Axis>,
    lift: &Lift,
    judge: &Judge,
    floor: &Floor,
) -> Option<Block> {
    if flat == Some(Axis::Z) {
        return Some(block.clone());
    }
    let slab = Block { x: block.x.clone(), y: block.y.clone(), z: lift.z.clone() };
    meet(block, &slab, flat, judge, floor)
}

pub(super) fn meet(a: &Block, b: &Block, flat: Option<Axis>, judge: &Judge, floor: &Floor) -> Option<Block> {
    flat.map_or_else(|| a.meet(b, judge, floor), |axis| a.meet_across(b, axis, judge, floor))
}

fn book_cuts(book: &mut Book<'_>, own: &Own<'_>, cuts: &[Cut<'_>]) {
    let met: Vec<(Cut<'_>, Block)> = cuts
        .iter()
        .filter_map(|c| Some((c.clone(), meet(&own.block, c.block, own.flat, book.judge, book.floor)?)))
        .collect();
    take(book, own, &met, None, -1, None);
}

/// Takes the pieces off one after the other; what an earlier one already took is added back as its own line.
///
/// A wall with a column in its corner and a ring beam round it: "less column" takes the corner over the whole lift,
/// "less ring beam" takes the beam over the outer width, and "column in ring beam" gives back the corner of the beam
/// that both have taken. `left` is the clause by which all of this stays out of the quantity.
fn take(
    book: &mut Book<'_>,
    own: &Own<'_>,
    met: &[(Cut<'_>, Block)],
    inside: Option<&'static str>,
    sign: i64,
    left: Option<&str>,
) {
    let mut outs: Vec<Option<String>> = Vec::new();
    for (i, (cut, piece)) in met.iter().enumerate() {
        let hole = |h: &&Block| meet(piece, h, own.flat, book.judge, book.floor);
        let holes: Vec<Block> = cut.holes.iter().filter_map(hole).collect();
        let earlier = || {
            let before = met[..i].iter().zip(&outs).map(|((c, e), out)| (c, e, out.clone()));
            before.chain(holes.iter().map(|h| (cut, h, None)))
        };
        if earlier().any(|(_, e, _)| piece.within(e, book.judge, book.floor)) {
            outs.push(None);
            continue;
        }
        let note = match inside {
            None => Phrase { key: "less", args: vec![crate::words::look_up(cut.part).to_owned()] },
            Some(outer) => {
                let args = [cut.part, outer].map(|k| crate::words::look_up(k).to_owned());
                Phrase { key: "part-in-part", args: args.to_vec() }
            }
        };
        let again: Vec<_> = earlier()
            .filter_map(|(c, e, left)| {
                let c = Cut { holes: Vec::new(), left, ..c.clone() };
                Some((c, meet(piece, e, own.flat, book.judge, book.floor)?))
            })
            .collect();
        let left = left.or(cut.left.as_deref());
        let left = book_piece(book, own, cut, piece, (note, inside.is_none()), sign, left);
        take(book, own, &again, Some(cut.part), -sign, left.as_deref());
        outs.push(left);
    }
}

/// Books a piece, or leaves it out by the clause that it gives back.
fn book_piece(
    book: &mut Book<'_>,
    own: &Own<'_>,
    cut: &Cut<'_>,
    piece: &Block,
    (note, whole): (Phrase, bool),
    sign: i64,
    left: Option<&str>,
) -> Option<String> {
    let [dx, dy, dz] = piece.dims(book.judge, book.floor);
    let thickness = own.thickness.map(|axis| if axis == Axis::X { &dx } else { &dy });
    let dims: Vec<&Len> = match (own.flat, own.thickness) {
        (Some(axis), _) => flat_dims(axis, [&dx, &dy, &dz]).to_vec(),
        (None, Some(Axis::X)) => vec![&dy, &dx, &dz],
        (None, _) => vec![&dx, &dy, &dz],
    };
    let mut times = vec![Times::Count(sign)];
    if cut.round {
        times.extend([Times::Fraction(Ratio::of(1, 4)), Times::Pi]);
    }
    let named = own.named.as_ref();
    let to = (own.spec, own.stage, named);
    if let Some(clause) = left {
        book.leave_out_in(to, note, &times, &dims, clause.to_owned());
        return Some(clause.to_owned());
    }
    if whole && let Some((key, clause)) = kept(book, own, cut, piece, [&dx, &dy, &dz]) {
        book.leave_out_in(to, Phrase { key, args: note.args }, &times, &dims, clause.clone());
        return Some(clause);
    }
    if let (Some(part), Some(axis)) = (thickness, own.thickness)
        && let Some(source) = book.wall_clause(own.spec, own.stage)
    {
        let clause = super::book::clause(source);
        let [ox, oy, _] = own.block.dims(book.judge, book.floor);
        if book.judge.cmp(part, if axis == Axis::X { &ox } else { &oy }).is_lt() {
            let what = Phrase { key: "part-thickness-kept", args: note.args };
            book.leave_out_in(to, what, &times, &dims, clause.clone());
            return Some(clause);
        }
    }
    if let Some(named) =
        named.filter(|n| dims.get(n.drop).is_some_and(|d| book.judge.cmp(d, &n.width).is_lt()))
    {
        let clause = book.named_clause(own.spec.work);
        let what = Phrase { key: "part-width-kept", args: note.args };
        book.leave_out_in((own.spec, own.stage, Some(named)), what, &times, &dims, clause.clone());
        return Some(clause);
    }
    book.line_in(own.spec, own.stage, note, &times, &dims, named);
    None
}

/// The two dimensions of a face, in the order in which its lines are written.
const fn flat_dims(axis: Axis, [dx, dy, dz]: [&Len; 3]) -> [&Len; 2] {
    match axis {
        Axis::X => [dy, dz],
        Axis::Y => [dx, dz],
        Axis::Z => [dx, dy],
    }
}

/// A lift from the floor or a level up to a level.
impl Lift {
    /// One stage for a whole height.
    #[must_use]
    pub fn one(stage: Stage, z: [Z; 2]) -> Vec<Self> {
        vec![Self { stage, z }]
    }
}
