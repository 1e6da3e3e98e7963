//! What a tank displaces: everything between its outer faces, below a level of water.

use tankwright_geometry::cells::Painted;
use tankwright_geometry::{Cells, Cuts, Len, Ratio, Z};

use super::{Finished, METRE};
use crate::ledger::Claim;
use crate::stage::Stage;
use crate::works::{Weighs, Work};

/// Outside volume by level. From the highest point of the floor up every section is level, so that between two levels
/// the volume grows evenly. Water that stands lower counts as if it stood there: the safe side.
pub(super) struct Hull {
    /// Levels, m from ground, upwards; the volume below each, m3.
    marks: Vec<[Ratio; 2]>,
}

/// Levels from the highest point of the floor up, m, and the volume below each, m3; `None` where the numbers grow too
/// large.
fn layers(of: &Finished<'_>, claims: &[&Claim], low: &Len) -> Option<Vec<[Ratio; 2]>> {
    let body = |work: &Work| work.void || work.weighs != Weighs::Nothing;
    let levels = [Z::flat(Len::ZERO), Z::flat(low.clone())];
    let cuts = Cuts::of(claims.iter().map(|c| &c.block), levels.iter(), &of.site.floor)?;
    let painted = |c: &&Claim| Some(Painted { part: cuts.part(&c.block)?, rank: c.rank.0, round: c.round });
    let painted = claims.iter().map(painted).collect::<Option<Vec<_>>>()?;
    let cells = Cells::paint(&painted, cuts.size().0);
    let mut layers = vec![0_i128; cells.size()[2]];
    for cell in cells.all() {
        // A round hole in a wall shares its cell with the wall: together they are the whole of it.
        let counts = |n: Option<usize>| n.and_then(|n| claims.get(n)).is_some_and(|c| body(c.spec.work));
        if counts(cells.fill(cell).owner)
            && let Some(sum) = layers.get_mut(cell[2])
        {
            *sum = sum.checked_add(cuts.volume(&Cells::part(cell, None))?)?;
        }
    }
    let cubic = cuts.cubic()?;
    let (mut marks, mut below) = (Vec::new(), Ratio::ZERO);
    for (z, volume) in layers.into_iter().enumerate() {
        below = below + Ratio::of(volume, cubic);
        if let Some(level) = cuts.top(z).filter(|level| *level >= low.value()) {
            marks.push([level / METRE, below / (METRE * METRE * METRE)]);
        }
    }
    Some(marks)
}

impl Hull {
    /// Of all that weighs and all that it encloses; `before` a stage only what stands until then.
    pub(super) fn paint(of: &Finished<'_>, before: Option<Stage>) -> Self {
        let stands = |stage: Stage| before.is_none_or(|end| stage < end);
        let claims: Vec<_> =
            of.set.claims.iter().filter(|c| c.lifts.iter().all(|l| stands(l.stage))).collect();
        let low = of.site.floor.outlet.clone();
        let mut marks = layers(of, &claims, &low).unwrap_or_default();
        // Above the last thing that stands there is nothing to displace.
        while let [.., [_, under], [_, over]] = marks[..]
            && under == over
        {
            marks.pop();
        }
        Self { marks }
    }

    /// The highest level at which it still displaces more.
    pub(super) fn top(&self) -> Ratio {
        self.marks.last().map_or(Ratio::ZERO, |m| m[0])
    }

    /// Volume below a level, m3.
    pub(super) fn volume(&self, level: Ratio) -> Ratio {
        self.along(level, 0, 1)
    }

    /// The level below which a volume lies, m; none where it never holds so much.
    pub(super) fn level(&self, volume: Ratio) -> Option<Ratio> {
        self.marks.last().filter(|m| m[1] > volume)?;
        Some(self.along(volume, 1, 0))
    }

    /// One column of the marks from the other, evenly between them.
    fn along(&self, at: Ratio, from: usize, to: usize) -> Ratio {
        let Some(first) = self.marks.first() else { return Ratio::UNKNOWN };
        let mut last = first;
        for mark in &self.marks {
            if at <= mark[from] {
                let run = mark[from] - last[from];
                let part = if run.is_zero() { Ratio::ONE } else { (at - last[from]) / run };
                return if at <= first[from] { first[to] } else { last[to] + (mark[to] - last[to]) * part };
            }
            last = mark;
        }
        last[to]
    }
}
