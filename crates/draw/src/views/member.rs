//! One picture of a detail: the member with its bars, what stands about it, the boards of its formed faces.

use tankwright_quantities::sketch::{Detail, Span};
use tankwright_quantities::space::tenths;
use tankwright_quantities::steel::Mark;
use tankwright_quantities::words::{Phrase, look_up};
use tankwright_quantities::works::Drawn;

use super::across::{free, places, windowed};
use super::detail::{Bars, each};
use super::levels::spoken;
use super::paint::is_solid;
use super::{Desk, note_of};
use crate::cut::{Cut, View, outlines};
use crate::paper::{Fill, Paper, Pen, Point, Rect};
use crate::sheet::{Along, Callout, PITCH, Placing, Words, callouts, chain, in_order, scaled};

/// Thickness of a board that forms a face, as drawn: common practice, no source.
const BOARD: i64 = 250;

/// One picture in the making.
pub(super) struct One<'a> {
    pub(super) desk: Desk<'a>,
    pub(super) detail: &'a Detail,
    pub(super) bars: Bars<'a>,
    pub(super) placing: Placing,
    pub(super) window: [[i64; 2]; 2],
    pub(super) tile: Rect,
}

impl One<'_> {
    /// The section with its bars.
    pub(super) fn across(&self, paper: &mut Paper, says: &mut Vec<String>) {
        let detail = self.detail;
        if let Some(over) = detail.over {
            return self.over(paper, says, over);
        }
        let view = [View::Cross, View::Long, View::Plan].into_iter().find(|v| v.axes()[2] == detail.axis);
        let view = view.unwrap_or(View::Plan);
        let at = free(&self.desk.space, detail, view);
        let mut notes = Vec::new();
        if let Some(at) = at {
            notes = self.round(paper, view, at);
        }
        self.member(paper, detail.rect);
        let formed = self.formed(paper, view, at);
        let bars = self.ends(paper);
        let [u, v] = detail.rect;
        let point = |at: [i64; 2], mark: &Mark| self.note(at, mark);
        let right = |n: usize| bars.iter().rev().nth(n).copied().unwrap_or([u[1], v[1]]);
        for (i, mark) in self.bars.main.iter().chain(&self.bars.starters).enumerate() {
            notes.push(point(right(i % 2), mark));
        }
        let in_link = detail.cover + Bars::diameter(&self.bars.links) / 2;
        let many = i64::try_from(self.bars.links.len()).unwrap_or(1) + 1;
        for (i, mark) in (1..).zip(&self.bars.links) {
            notes.push(point([u[1] - in_link, v[0] + (v[1] - v[0]) * i / many], mark));
        }
        if let Some(at) = formed {
            notes.push(Callout::thing(at, look_up("draw-formed").to_owned()));
        }
        let covered = |s: Span| vec![s[0], s[0] + detail.cover, s[1] - detail.cover, s[1]];
        self.chains(paper, says, [vec![covered(u), u.to_vec()], vec![covered(v), v.to_vec()]]);
        self.put(paper, notes);
    }

    /// A mark of the schedule, where it points.
    pub(super) fn note(&self, at: [i64; 2], mark: &Mark) -> Callout {
        let spacing = mark.remarks.iter().find(|r| r.key == "bars-spacing").and_then(|s| s.args.first());
        let bars = match spacing {
            Some(spacing) => Phrase::with("draw-spaced", &[&mark.bar.id(), spacing]).to_string(),
            None => format!("{} {}", each(mark), mark.bar.id()),
        };
        let text = Phrase::with("draw-and", &[&bars, &mark.member.to_string()]).to_string();
        Callout { number: Some(mark.mark.clone()), ..Callout::thing(at, text) }
    }

    /// What stands about the member, and a note on each part of it.
    pub(super) fn round(&self, paper: &mut Paper, view: View, at: usize) -> Vec<Callout> {
        let space = &self.desk.space;
        let cut = Cut::flat(space, view, at).cut();
        let cells = windowed(&cut, self.window);
        let [u, v] = self.detail.rect;
        let own = |[a, b]: [i64; 2]| (u[0]..=u[1]).contains(&a) && (v[0]..=v[1]).contains(&b);
        let mut notes: Vec<Callout> = Vec::new();
        let mut looks: Vec<usize> = cells.all().filter_map(|(_, c)| c.flatten()).collect();
        looks.sort_unstable();
        looks.dedup();
        for n in looks.into_iter().filter(|n| is_solid(space, Some(*n))) {
            let Some(look) = space.looks.get(n) else { continue };
            let fill = if look.drawn == Drawn::Nothing { Fill::White } else { Fill::Of(look.drawn) };
            let found = outlines(&cells, |c| c == Some(Some(n)));
            // The member itself is told by its title.
            let middle = |[u, v]: [usize; 2]| {
                let (p, q) = (cells.corner([u, v]), cells.corner([u + 1, v + 1]));
                ([i64::midpoint(p[0], q[0]), i64::midpoint(p[1], q[1])], (q[0] - p[0]) * (q[1] - p[1]).abs())
            };
            let all = cells.all().filter(|(_, c)| *c == Some(Some(n))).map(|(at, _)| middle(at));
            let largest =
                all.filter(|(at, size)| !own(*at) && *size > 0).max_by_key(|(at, size)| (*size, at[0]));
            if let Some((at, _)) = largest {
                paper.area(self.placing.outlines(&found), fill, None, "");
                notes.push(Callout::thing(at, note_of(look)));
            }
        }
        for line in cells.edges(|c| c.is_some()) {
            paper.line(&line.map(|p| self.placing.point(p)), Pen::Seen);
        }
        notes
    }

    /// The member, white so that its bars are read.
    fn member(&self, paper: &mut Paper, [u, v]: [Span; 2]) {
        let rect = Rect::of(self.placing.point([u[0], v[0]]), self.placing.point([u[1], v[1]]));
        paper.area(vec![rect.corners().to_vec()], Fill::White, Some(Pen::Cut), "member");
    }

    /// Boards at the faces that are formed; the middle of the one farthest to the right.
    fn formed(&self, paper: &mut Paper, view: View, at: Option<usize>) -> Option<[i64; 2]> {
        let detail = self.detail;
        let [a, b, sight] = view.axes();
        let space = &self.desk.space;
        let planes = |i: usize| match sight {
            0 => space.x.get(i).copied(),
            1 => space.y.get(i).copied(),
            _ => (i < space.z.len()).then(|| space.level(i, detail.rect[0][0])),
        };
        let stands = at.and_then(|i| Some(i64::midpoint(planes(i)?, planes(i + 1)?)))?;
        let mut found: Vec<[i64; 2]> = Vec::new();
        for face in &self.desk.sketch.formed {
            let ends = |axis: usize| {
                let all = face.corners.iter().filter_map(|c| c.get(axis).copied());
                [all.clone().min().unwrap_or(0), all.max().unwrap_or(0)]
            };
            let [from, to] = ends(sight);
            if face.axis == sight || stands < from || stands > to {
                continue;
            }
            let k = usize::from(face.axis == b);
            let (flat, other) = (ends(face.axis)[0], ends(if k == 1 { a } else { b }));
            let [own, across] = [detail.rect[k], detail.rect[1 - k]];
            let run = [other[0].max(across[0]), other[1].min(across[1])];
            let side = if (flat - own[0]).abs() <= 1 { -1 } else { 1 };
            if run[0] >= run[1] || (flat - own[0]).abs() > 1 && (flat - own[1]).abs() > 1 {
                continue;
            }
            let corner = |flat: i64, run: i64| if k == 0 { [flat, run] } else { [run, flat] };
            let (p, q) = (corner(flat, run[0]), corner(flat + side * BOARD, run[1]));
            let rect = Rect::of(self.placing.point(p), self.placing.point(q));
            paper.area(vec![rect.corners().to_vec()], Fill::White, Some(Pen::Thin), "board");
            found.push([i64::midpoint(p[0], q[0]), i64::midpoint(p[1], q[1])]);
        }
        found.into_iter().max_by_key(|p| (p[0], p[1]))
    }

    /// Link and ends of the bars; where these are, left before right.
    fn ends(&self, paper: &mut Paper) -> Vec<[i64; 2]> {
        let ([u, v], cover) = (self.detail.rect, self.detail.cover);
        let link = Bars::diameter(&self.bars.links);
        if link > 0 {
            let by = cover + link / 2;
            let corners = [
                [u[0] + by, v[0] + by],
                [u[1] - by, v[0] + by],
                [u[1] - by, v[1] - by],
                [u[0] + by, v[1] - by],
            ];
            let mut points: Vec<Point> = corners.iter().map(|p| self.placing.point(*p)).collect();
            points.extend(points.first().copied());
            paper.line(&points, Pen::Bar);
            // Its two hooks, round the bar in a corner.
            let hook = 5 * link;
            for [from, to] in [[[0, 0], [hook, -hook]], [[link, 0], [hook + link, -hook]]] {
                let corner = [u[0] + by, v[1] - by];
                let ends = [from, to].map(|d| self.placing.point([corner[0] + d[0], corner[1] + d[1]]));
                paper.line(&ends, Pen::Bar);
            }
        }
        let bar = Bars::diameter(&self.bars.main);
        let n = self.bars.main.iter().map(|m| each(m)).max().unwrap_or(0);
        let by = cover + link + bar / 2;
        let inner = [[u[0] + by, u[1] - by], [v[0] + by, v[1] - by]];
        let mut found = places(n, inner, self.detail.axis == 2);
        found.sort_unstable();
        for at in &found {
            let radius = scaled(bar, self.placing.scale) / 2;
            paper.circle(self.placing.point(*at), radius.max(35), Fill::Black, None);
        }
        found
    }

    /// An upright member from its side.
    pub(super) fn beside(&self, paper: &mut Paper, says: &mut Vec<String>) {
        let (detail, space) = (self.detail, &self.desk.space);
        let Some(up) = detail.upright else { return };
        let middle = i64::midpoint(detail.rect[1][0], detail.rect[1][1]);
        let row = space.y.iter().rposition(|y| *y <= middle).unwrap_or(0);
        let mut notes = self.round(paper, View::Long, row);
        let ([x0, x1], [floor, under]) = (detail.rect[0], detail.run);
        self.member(paper, [[x0, x1], detail.run]);
        let dim = |of: &[&Mark], name: char| {
            let dims = of.first().map(|m| m.dims.as_slice()).unwrap_or_default();
            dims.iter().find(|d| d.0 == name).map_or(0, |d| tenths(&d.1))
        };
        let (link, bar) = (Bars::diameter(&self.bars.links), Bars::diameter(&self.bars.main));
        let by = detail.cover + link + bar / 2;
        let [left, right] = [x0 + by, x1 - by];
        if let Some(links) = self.bars.links.first() {
            let spaces = (each(links) - 1).max(1);
            let level = |i: i64| floor + (under - floor) * i / spaces;
            for i in 0..=spaces {
                let ends = [x0 + detail.cover, x1 - detail.cover].map(|x| self.placing.point([x, level(i)]));
                paper.line(&ends, Pen::Pipe);
            }
            notes.push(self.note([x1 - detail.cover, level(spaces / 2)], links));
        }
        let (high, leg) = (floor + dim(&self.bars.main, 'A'), dim(&self.bars.main, 'B'));
        let line = |points: &[[i64; 2]]| points.iter().map(|p| self.placing.point(*p)).collect::<Vec<_>>();
        let edge = self.window[1][0];
        for (i, x) in (0..).zip([left, right]) {
            // Legs one over the other, so that both are seen.
            let top = high - i * 3 * bar;
            paper.line(&line(&[[x, floor], [x, top], [(x + leg).min(edge), top]]), Pen::Bar);
        }
        if let Some(main) = self.bars.main.first() {
            notes.push(self.note([right, (3 * high + floor) / 4], main));
        }
        let (foot, bottom) = (dim(&self.bars.starters, 'B'), floor - up.below + detail.cover);
        let top = bottom + dim(&self.bars.starters, 'A');
        if let Some(starters) = self.bars.starters.first() {
            for (i, x) in (0..).zip([left + 2 * bar, right - 2 * bar]) {
                let low = bottom + i * 3 * bar;
                paper.line(&line(&[[(x + foot).min(edge), low], [x, low], [x, top]]), Pen::Bar);
            }
            notes.push(self.note([right - 2 * bar, i64::midpoint(top, floor)], starters));
        }
        let mut levels = vec![floor - up.below, floor, under, up.slab];
        let mut own = vec![floor - up.below, floor];
        if !self.bars.starters.is_empty() {
            own.extend([top, up.slab]);
        }
        levels.sort_unstable();
        self.chains(paper, says, [vec![vec![x0, x1]], vec![own, levels]]);
        self.put(paper, notes);
    }

    /// Chains under the picture and left of it.
    pub(super) fn chains(&self, paper: &mut Paper, says: &mut Vec<String>, [across, up]: [Vec<Vec<i64>>; 2]) {
        let low = self.placing.point(self.window[0]);
        let high = self.placing.point(self.window[1]);
        let mut line = low[1].max(high[1]) + 550;
        for stops in across {
            let stops: Vec<_> = stops.iter().map(|a| (self.placing.point([*a, 0])[0], *a)).collect();
            says.push(spoken("draw-alt-across", &chain(paper, Along::Right, line, &stops)));
            line += PITCH;
        }
        let mut line = low[0].min(high[0]) - 350;
        for stops in up {
            let stops: Vec<_> = stops.iter().map(|b| (self.placing.point([0, *b])[1], *b)).collect();
            says.push(spoken("draw-alt-down", &chain(paper, Along::Up, line, &stops)));
            line -= PITCH;
        }
    }

    pub(super) fn put(&self, paper: &mut Paper, mut notes: Vec<Callout>) {
        for note in &mut notes {
            note.at = self.placing.point(note.at);
        }
        in_order(&mut notes);
        let edge = self.placing.point(self.window[0])[0].max(self.placing.point(self.window[1])[0]) + 150;
        callouts(paper, &notes, Words::Beside, [edge, edge + 550], [self.tile.0[1] + 700, self.tile.0[3]]);
    }
}
