//! Sections through the tank: along it and across it.

use tankwright_quantities::sketch::{Dig, Pipe, Span};
use tankwright_quantities::space::{Level, Space};
use tankwright_quantities::words::look_up;
use tankwright_quantities::works::Drawn;

use super::levels::{notes, spoken};
use super::paint::{self, Looks, is_solid, is_void};
use super::{Desk, Made, dims, fittings};
use crate::cut::{Cut, Eye, View, outlines};
use crate::paper::{Fill, Paper, Pen, Point, Rect};
use crate::sheet::{Along, Arranged, FIELD, Margins, PITCH, Placing, chain, scaled, sheet};

/// Ground shown beside and under the dig.
const EARTH: i64 = 900;
const UNDER: i64 = 600;
/// A hair over the edge of a hole, so that no hatching is left there.
const EDGE: i64 = 15;

/// A section: the cut through the cells, and what the view needs to know of its plane.
pub(crate) struct Section<'a> {
    pub(crate) id: &'static str,
    pub(crate) desk: Desk<'a>,
    pub(crate) cut: Cut<'a>,
    pub(crate) eye: Eye,
    /// Where the plane stands along the tank, for a cross section.
    pub(crate) at: i64,
}

impl Section<'_> {
    /// The axis to the right: 0 along, 1 across.
    pub(crate) fn axis(&self) -> usize {
        self.cut.view.axes()[0]
    }

    /// The dig on this view: bottom corners and top corners, from left to right.
    fn dig(&self, dig: &Dig) -> Vec<[i64; 2]> {
        let (axis, floor) = (self.axis(), &self.desk.space.floor);
        let ([b0, b1], [t0, t1]) = (dig.bottom[axis], dig.top[axis]);
        let low = |x: i64| floor.at(x) - dig.below_floor;
        let highest = floor.outlet - dig.below_floor;
        let mut points = vec![[t0, 0], [b0, highest]];
        if axis == 0 {
            points.extend([b0, 0, floor.length, b1].map(|x| [x, low(x)]));
        } else {
            points.extend([b0, b1].map(|y| [y, low(self.at)]));
        }
        points.extend([[b1, highest], [t1, 0]]);
        points.dedup();
        points
    }

    fn bounds(&self, cut: &Looks) -> [[i64; 2]; 2] {
        let [mut low, mut high] = cut.bounds(|c| c.is_some()).unwrap_or([[0, 0], [1, 1]]);
        for [a, b] in self.desk.sketch.digs.iter().flat_map(|d| self.dig(d)) {
            (low, high) = ([low[0].min(a), low[1].min(b)], [high[0].max(a), high[1].max(b)]);
        }
        for heap in &self.desk.sketch.heaps {
            high[1] = high[1].max(heap.z[1]);
        }
        [low, [high[0], high[1].max(self.fitted_top()).max(0)]]
    }

    /// The sheet.
    pub(crate) fn draw(&self) -> Made {
        self.draw_in(FIELD)
    }

    /// The same in a field of its own.
    pub(crate) fn draw_in(&self, field: Rect) -> Made {
        let space = &self.desk.space;
        let cut = self.cut.cut();
        let bounds = self.bounds(&cut);
        let rows = i64::try_from(dims::rows(space, &cut).len()).unwrap_or(1) + 1;
        let margins = Margins([EARTH + 3 * PITCH + 500, 700, EARTH, UNDER + rows * PITCH + 550]);
        let arranged =
            Arranged::of(bounds, true, margins, [notes(self, &cut), self.fittings_named()].concat(), field);
        let placing = arranged.placing;
        let mut paper = sheet();
        let (low, high) = (placing.point(bounds[0]), placing.point(bounds[1]));
        let ground = placing.point([0, 0])[1];
        let earth = Rect([low[0] - EARTH, ground, high[0] + EARTH, low[1] + UNDER]);
        self.ground(&mut paper, &placing, &earth, &cut);
        self.water(&mut paper, &placing);
        paint::solids(&mut paper, &placing, space, &cut);
        paint::seen(&mut paper, &placing, &self.cut, self.eye);
        self.fresh(&mut paper, &placing);
        self.pipes(&mut paper, &placing, &earth);
        self.fittings(&mut paper, &placing);
        let title = look_up(self.title_key()).to_owned();
        let mut says = vec![title.clone()];
        self.chains(&mut paper, &placing, &self.standing(&cut), &earth, &mut says);
        self.inside(&mut paper, &placing, &earth);
        arranged.put(&mut paper, [earth.0[2], earth.0[2] + 250]);
        let alt = says.join(". ");
        let (id, shows) = (self.id.to_owned(), "tank".to_owned());
        Made { id, shows, title, alt, paper, scale: Some(placing.scale) }
    }

    fn title_key(&self) -> &'static str {
        if self.axis() == 0 { "draw-long-section" } else { "draw-cross-section" }
    }

    /// Ground as it lies, the dig, soil put back, and the ground line where nothing stands in it.
    fn ground(&self, paper: &mut Paper, placing: &Placing, earth: &Rect, cut: &Looks) {
        let (space, sketch) = (&self.desk.space, &self.desk.sketch);
        paper.area(vec![earth.corners().to_vec()], Fill::Earth, None, "");
        // Soil lies on a cover below ground.
        let top = |u: usize| {
            let solid = (0..cut.size[1]).rev().find(|v| cut.cell([u, *v]).flatten().is_some());
            solid.map_or(0, |v| cut.corner([u, v + 1])[1])
        };
        let buried = (0..cut.size[0]).any(|u| top(u) < 0);
        for dig in &sketch.digs {
            let outline: Vec<Point> = self.dig(dig).into_iter().map(|p| placing.point(p)).collect();
            let back = space.now.is_none_or(|now| dig.stages[1] <= now);
            let fill = if back && (dig.filled || buried) { Fill::Of(Drawn::Soil) } else { Fill::White };
            // Of a hole that is open at a stage nothing of the ground's hatching shows at the edge.
            let open = |p: &Point| if p[1] == earth.0[1] { [p[0], p[1] - EDGE] } else { *p };
            let area = match fill {
                Fill::White if space.now.is_some() => outline.iter().map(open).collect(),
                _ => outline.clone(),
            };
            paper.area(vec![area], fill, None, "");
            paper.line(&outline, Pen::Seen);
        }
        for heap in &sketch.heaps {
            let [a, b] = heap.plan[self.axis()];
            let rect = Rect::of(placing.point([a, heap.z[1]]), placing.point([b, heap.z[0]]));
            paper.area(vec![rect.corners().to_vec()], Fill::Of(Drawn::Soil), Some(Pen::Seen), "");
        }
        paint::clear(paper, placing, cut);
        for dig in &sketch.digs {
            let [dug, back] = dig.stages.map(|s| space.now == Some(s));
            if dug || back && dig.filled {
                let outline: Vec<Point> = self.dig(dig).into_iter().map(|p| placing.point(p)).collect();
                paper.line(&outline, Pen::New);
            }
        }
        // The ground line runs where no part of the tank reaches up to it.
        let zero = (0..=cut.size[1]).find(|v| space.z.get(*v) == Some(&Level { off: 0, follows: false }));
        let Some(zero) = zero else { return };
        let stands = |u: usize| {
            let [under, over] =
                [zero.checked_sub(1), Some(zero)].map(|v| v.and_then(|v| cut.cell([u, v])).flatten());
            under.is_some() || over.is_some()
        };
        let columns = (0..cut.size[0]).filter(|u| stands(*u));
        let mut gaps: Vec<[i64; 2]> =
            columns.map(|u| [u, u + 1].map(|u| placing.point(cut.corner([u, zero]))[0])).collect();
        // Nor over a pit that is open still.
        let open = sketch.digs.iter().filter(|d| space.now.is_some_and(|now| d.stages[1] > now));
        gaps.extend(open.map(|d| d.top[self.axis()].map(|a| placing.point([a, 0])[0])));
        gaps.sort_unstable();
        let mut from = earth.0[0];
        for [a, b] in gaps {
            if a > from {
                paper.line(&[[from, earth.0[1]], [a, earth.0[1]]], Pen::Ground);
            }
            from = from.max(b);
        }
        paper.line(&[[from, earth.0[1]], [earth.0[2], earth.0[1]]], Pen::Ground);
    }

    /// Water in rooms and openings, up to the level of its chamber.
    fn water(&self, paper: &mut Paper, placing: &Placing) {
        let waters = &self.desk.sketch.waters;
        let mut levels: Vec<i64> = waters.iter().map(|w| w.level).collect();
        levels.sort_unstable();
        levels.dedup();
        for level in levels {
            let of: Vec<[Span; 2]> = waters.iter().filter(|w| w.level == level).map(|w| w.plan).collect();
            let refined = refine(&self.desk.space, level);
            let cut = Cut { space: &refined, view: self.cut.view, at: self.cut.at.clone() };
            let grid = cut.cut();
            let wet = grid.map(|at, look| {
                let under = grid.corner([at[0], at[1] + 1])[1] <= level;
                under && is_void(&refined, look) && self.within(&grid, at, &of)
            });
            let found = outlines(&wet, |w| w);
            paper.area(placing.outlines(&found), Fill::Water, None, "water");
            let row = (0..wet.size[1])
                .find(|v| wet.all().any(|([_, w], is)| w == *v && is && wet.corner([0, v + 1])[1] == level));
            let Some(row) = row else { continue };
            let wet_at = |u: usize| u < wet.size[0] && wet.cell([u, row]) == Some(true);
            let mut from = None;
            for u in 0..=wet.size[0] {
                match (from, wet_at(u)) {
                    (None, true) => from = Some(u),
                    (Some(a), false) => {
                        let ends = [a, u].map(|u| placing.point(wet.corner([u, row + 1])));
                        paper.line(&ends, Pen::Water);
                        from = None;
                    }
                    _ => {}
                }
            }
        }
    }

    /// Does a cell belong to one of these chambers, or to an opening beside one?
    fn within(&self, grid: &Looks, [u, v]: [usize; 2], of: &[[Span; 2]]) -> bool {
        if self.axis() == 1 {
            return of.iter().any(|plan| plan[0][0] <= self.at && self.at < plan[0][1]);
        }
        let [a, b] = [grid.corner([u, v])[0], grid.corner([u + 1, v])[0]];
        let touches = |plan: &[Span; 2]| plan[0][0] <= a && b <= plan[0][1];
        let first = of.iter().map(|p| p[0][0]).min();
        let last = of.iter().map(|p| p[0][1]).max();
        let between = first.is_some_and(|f| f <= a) && last.is_some_and(|l| b <= l);
        of.iter().any(touches) || between
    }

    /// Pipes on this side of what is cut.
    fn pipes(&self, paper: &mut Paper, placing: &Placing, earth: &Rect) {
        let axis = self.axis();
        for pipe in &self.desk.sketch.pipes {
            let [p, q] = pipe.ends.map(|[x, y, z]| if axis == 0 { [x, z] } else { [y, z] });
            if axis == 1 && !self.in_sight(pipe) {
                continue;
            }
            let pen = fittings::pen(&self.desk.space, pipe.stage, Pen::Pipe);
            let half = scaled(pipe.diameter, placing.scale) / 2;
            let ends = [placing.point(p), placing.point(q)];
            if ends[0] == ends[1] {
                paper.circle(ends[0], half, Fill::White, Some(pen));
                continue;
            }
            let ends = clipped(ends, [earth.0[0], earth.0[2]]);
            let upright = (ends[0][0] - ends[1][0]).abs() < (ends[0][1] - ends[1][1]).abs();
            let off = if upright { [half, 0] } else { [0, half] };
            let [a, b] = ends;
            let corner = |p: Point, s: i64| [p[0] + s * off[0], p[1] + s * off[1]];
            let sides = [[corner(a, 1), corner(b, 1)], [corner(a, -1), corner(b, -1)]];
            let outline = vec![sides[0][0], sides[0][1], sides[1][1], sides[1][0]];
            paper.area(vec![outline], Fill::White, Some(pen), "pipe");
        }
    }

    /// Is nothing solid between the plane and a pipe behind it?
    fn in_sight(&self, pipe: &Pipe) -> bool {
        let space = &self.desk.space;
        let [[x0, y, z0], [x1, _, z1]] = pipe.ends;
        let (x, z) = (x0.min(x1), i64::midpoint(z0, z1));
        let place = |planes: &[i64], at: i64| planes.iter().rposition(|p| *p <= at);
        let (Some(from), Some(to), Some(y)) =
            (place(&space.x, self.at), place(&space.x, x), place(&space.y, y))
        else {
            return false;
        };
        let layer = |x: usize| {
            let at = space.x.get(x).copied().unwrap_or(0);
            (0..space.size()[2]).rev().find(|v| space.level(*v, at) <= z)
        };
        let open = |x: usize| layer(x).is_some_and(|layer| is_void(space, space.look([x, y, layer])));
        x >= self.at && (from..to).all(open)
    }

    /// Chains of dimensions under the view and to its left.
    fn chains(
        &self,
        paper: &mut Paper,
        placing: &Placing,
        cut: &Looks,
        earth: &Rect,
        says: &mut Vec<String>,
    ) {
        let space = &self.desk.space;
        let to = |a: i64| (placing.point([a, 0])[0], a);
        let Some([low, high]) = cut.bounds(|c| c.is_some()) else {
            return self.chains_of_dig(paper, placing, earth, says);
        };
        let mut line = earth.0[3] + 500;
        for mut inner in dims::rows(space, cut) {
            inner.extend([low[0], high[0]]);
            let found = chain(paper, Along::Right, line, &inner.into_iter().map(to).collect::<Vec<_>>());
            says.push(spoken("draw-alt-across", &found));
            line += PITCH;
        }
        let mut outer = vec![low[0], high[0]];
        let digs = self.desk.sketch.digs.iter().filter(|d| d.filled || space.now.is_some());
        outer.extend(digs.flat_map(|d| d.bottom[self.axis()]));
        chain(paper, Along::Right, line, &outer.into_iter().map(to).collect::<Vec<_>>());
        let Some(first) = dims::roomy(space, cut).or_else(|| self.low(cut)) else { return };
        let up = |b: i64| (placing.point([0, b])[1], b);
        let mut room = dims::column(space, cut, first, 0);
        if space.now.is_some() {
            // A room has no height yet while nothing covers it.
            let top = cut.bounds(|c| is_solid(space, c)).map_or(0, |b| b[1][1]);
            room.retain(|b| *b <= top);
        }
        let solid = self.standing(&self.cut.solid());
        let wall = dims::walled(space, &solid, first);
        let wall = wall.map(|u| dims::column(space, &solid, u, 1)).unwrap_or_default();
        let whole = vec![wall.first().copied().unwrap_or(0), wall.last().copied().unwrap_or(0)];
        let mut line = earth.0[0] - 650;
        let mut before = Vec::new();
        for stops in [room, wall, whole] {
            if stops == before || stops.first() == stops.last() {
                continue;
            }
            let found = chain(paper, Along::Up, line, &stops.iter().map(|b| up(*b)).collect::<Vec<_>>());
            says.push(spoken("draw-alt-down", &found));
            line -= PITCH;
            before = stops;
        }
    }
}

/// Both ends within the ground that is shown, on the same straight line.
fn clipped([a, b]: [Point; 2], [left, right]: [i64; 2]) -> [Point; 2] {
    let clip = |p: Point, other: Point| {
        let x = p[0].clamp(left, right);
        let run = other[0] - p[0];
        let y = if run == 0 || x == p[0] { p[1] } else { p[1] + (other[1] - p[1]) * (x - p[0]) / run };
        [x, y]
    };
    [clip(a, b), clip(b, a)]
}

/// The same space with one more flat level.
fn refine(space: &Space, level: i64) -> Space {
    space.with_level(level)
}

/// The long section, its plane stepping where holes are.
pub(crate) fn long(desk: Desk<'_>) -> Section<'_> {
    let cut = crate::cut::long_at(&desk.space);
    Section { id: "long-section", desk, cut, eye: Eye::Down, at: 0 }
}

/// The cross section.
pub(crate) fn cross(desk: Desk<'_>) -> Section<'_> {
    let cut = crate::cut::cross_at(&desk.space);
    let at = cut.at.first().copied().unwrap_or(0);
    let planes = &desk.space.x;
    let middle = planes.get(at).zip(planes.get(at + 1)).map_or(0, |(a, b)| i64::midpoint(*a, *b));
    debug_assert!(cut.view == View::Cross);
    Section { id: "cross-section", desk, cut, eye: Eye::Up, at: middle }
}

impl<'a> Section<'a> {
    /// The same plane through the tank as it stands at a stage.
    pub(crate) fn standing_in(self, desk: Desk<'a>) -> Self {
        Self { desk, cut: Cut { space: &desk.space, ..self.cut }, ..self }
    }
}
