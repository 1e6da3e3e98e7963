//! Over-break of a tight pit: the faces of what stands against the earth, from the claims themselves.
//!
//! No element knows it. A work says what fills the room behind it; this file finds the faces, books them gross, and
//! the deductions follow like those of any other face. Measured in m2, never billed: recipes multiply by the allowance.

use tankwright_geometry::{Axis, Block, Len, Z};

use crate::band::outer_planes;
use crate::ledger::deduct::in_lift;
use crate::ledger::{Book, Carrier, Claim, Face, SetOut, Side, Spec, count};
use crate::made::Made;
use crate::site::Site;
use crate::words::{Phrase, look_up};
use crate::works::{Behind, voids};

/// Books gross lines and adds faces for everything that stands against the earth on the outer plan.
pub fn add(site: &Site<'_>, book: &mut Book<'_>, set: &mut SetOut) {
    let allowance = site.job.len("tank.pit.over_break");
    if site.open || allowance.is_zero() {
        return;
    }
    let mut faces = Vec::new();
    for claim in &set.claims {
        let Some(spec) = filling(claim, &allowance) else { continue };
        for (x, y, look) in outer_planes(site) {
            let Some(block) = against(site, claim, [&x, &y], look) else { continue };
            let face = Face::new(
                &spec,
                claim.rank,
                Carrier::On(claim.spec.work),
                look,
                claim.spec.work.stage,
                block.clone(),
            );
            for lift in &claim.lifts {
                let Some(piece) = in_lift(&block, Some(look.0), lift, book.judge, book.floor) else {
                    continue;
                };
                let [dx, dy, dz] = piece.dims(book.judge, book.floor);
                let run = if look.0 == Axis::X { dy } else { dx };
                let note = Phrase::with("beside", &[look_up(claim.part)]);
                book.line(&spec, lift.stage, note, &[count(1)], &[&run, &dz]);
            }
            faces.push(face.in_lifts(&claim.lifts));
        }
    }
    set.faces.extend(faces);
}

/// What fills the over-break behind a claim; its specification names the mix or the packing.
#[must_use]
pub fn filling(claim: &Claim, allowance: &Len) -> Option<Spec> {
    let own = &claim.spec;
    let name = match own.work.behind {
        Behind::Nothing => return None,
        Behind::Packing => "packing".to_owned(),
        Behind::Same if own.spec.is_empty() => own.work.id.to_owned(),
        Behind::Same => own.spec.clone(),
    };
    let made = Made { thickness: Some(allowance.clone()), ..own.made.clone() };
    let spec = Spec { spec: name.clone(), ..Spec::plain(&voids::OVER_BREAK) };
    let key = if own.work.behind == Behind::Packing { "over-break-packing" } else { "over-break-same" };
    Some(spec.worded(key, &[&name]).made(made))
}

/// The side of a claim that lies in an outer plane, as far as it is below ground.
fn against(
    site: &Site<'_>,
    claim: &Claim,
    plane: [&[Len; 2]; 2],
    (axis, side): (Axis, Side),
) -> Option<Block> {
    let end = usize::from(side == Side::High);
    let (own, at) =
        if axis == Axis::X { (&claim.block.x, &plane[0][0]) } else { (&claim.block.y, &plane[1][0]) };
    if !site.judge.cmp(&own[end], at).is_eq() {
        return None;
    }
    let mut block = claim.block.clone();
    if axis == Axis::X {
        block.x = [at.clone(), at.clone()];
    } else {
        block.y = [at.clone(), at.clone()];
    }
    let [low, high] = &claim.block.z;
    if !high.follows && site.judge.positive(&high.off) {
        if !low.follows && site.judge.cmp(&low.off, &Len::ZERO).is_ge() {
            return None;
        }
        block.z[1] = Z::flat(Len::ZERO);
    }
    Some(block)
}
