//! Painting a view of the cells: what is cut with its hatching, what is seen as thin lines.

use std::collections::BTreeSet;

use tankwright_quantities::space::Space;
use tankwright_quantities::works::Drawn;

use crate::cut::{Cut, Eye, Grid, outlines, rounds};
use crate::paper::{Fill, Paper, Pen};
use crate::sheet::Placing;

/// Cells by what fills them.
pub(crate) type Looks = Grid<Option<usize>>;

/// Is it empty?
pub(crate) fn is_void(space: &Space, look: Option<usize>) -> bool {
    look.and_then(|l| space.looks.get(l)).is_some_and(tankwright_quantities::space::Look::is_void)
}

/// Is it solid?
pub(crate) fn is_solid(space: &Space, look: Option<usize>) -> bool {
    look.is_some() && !is_void(space, look)
}

/// Paper under everything that belongs to the tank, so that no ground shows through its rooms.
pub(crate) fn clear(paper: &mut Paper, placing: &Placing, cut: &Looks) {
    let all = outlines(cut, |c| c.is_some());
    paper.area(placing.outlines(&all), Fill::White, None, "");
}

/// What is cut, part by part.
pub(crate) fn solids(paper: &mut Paper, placing: &Placing, space: &Space, cut: &Looks) {
    let mut looks: BTreeSet<usize> = cut.all().filter_map(|(_, c)| c).collect();
    looks.retain(|l| is_solid(space, Some(*l)));
    for look in looks {
        let Some(own) = space.looks.get(look) else { continue };
        let found = outlines(cut, |c| c == Some(look));
        let fill = if own.drawn == Drawn::Nothing { Fill::White } else { Fill::Of(own.drawn) };
        paper.area(placing.outlines(&found), fill, Some(Pen::Cut), own.part);
    }
}

/// What the eye meets behind the cut, as thin lines; what lies only before it, as lines of its own sort.
pub(crate) fn seen(paper: &mut Paper, placing: &Placing, cut: &Cut<'_>, eye: Eye) {
    let behind = cut.seen(eye, |_| false);
    for line in behind.edges(|c| c.is_some()) {
        paper.line(&line.map(|p| placing.point(p)), Pen::Seen);
    }
    for (middle, across) in rounds(cut, &behind) {
        let radius = crate::sheet::scaled(across, placing.scale) / 2;
        paper.circle(placing.point(middle), radius, Fill::White, Some(Pen::Seen));
    }
    let other = if eye == Eye::Down { Eye::Up } else { Eye::Down };
    let before = cut.seen(other, |_| false);
    let shown: BTreeSet<usize> = behind.all().filter_map(|(_, c)| c).map(|(look, _)| look).collect();
    let own = cut.cut();
    // A cell that is cut hides what lies before it as well: only edges in the open are drawn.
    let only = before.map(|at, c| {
        let open = own.cell(at).flatten().is_none_or(|l| is_void(cut.space, Some(l)));
        open.then_some(c.map(|(look, _)| look).filter(|l| !shown.contains(l)))
    });
    for line in only.edges(|c| c.is_some()) {
        paper.line(&line.map(|p| placing.point(p)), Pen::Before);
    }
}
