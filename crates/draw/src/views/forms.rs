//! Faces that are formed, unrolled: every face that proves the formwork of the ledger, by work and stage, equal ones
//! drawn once. What formulas prove instead of faces (curved forms) is named with its area.

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::{rounded, shown};
use tankwright_quantities::sheet::Item;
use tankwright_quantities::sketch::{Formed, Share};
use tankwright_quantities::words::{Phrase, look_up};
use tankwright_quantities::works::{Class, Unit};

use super::{Desk, Made, Sheet, nth};
use crate::letters::{NOTE, fitted, width};
use crate::paper::{Anchor, Fill, Paper, Pen, Point, Text};
use crate::sheet::{Callout, FIELD, list, list_height, mm, say, scaled, sheet};

/// So many different faces on a sheet.
const MOST: usize = 18;
const SCALES: [i64; 7] = [10, 20, 25, 50, 100, 200, 500];
/// Room of a title, of a number under its face, between faces and between works.
const TITLE: i64 = 560;
const NUMBER: i64 = 560;
const GAP: i64 = 350;
const APART: i64 = 700;

/// Equal faces.
#[derive(Clone)]
struct Panel {
    outline: Vec<[i64; 2]>,
    share: Share,
    flat: bool,
    times: i64,
    area: Ratio,
    number: usize,
}

/// Faces of one work in one stage.
#[derive(Clone)]
struct Group {
    title: String,
    panels: Vec<Panel>,
}

/// A group on paper: its width and height, its panels from its upper left corner.
struct Block {
    size: [i64; 2],
    panels: Vec<Point>,
}

/// An area, square metres as printed.
fn metres(area: Ratio) -> String {
    rounded(area, 3).map_or_else(String::new, |d| shown(d, 3))
}

fn size(outline: &[[i64; 2]]) -> [i64; 2] {
    [0, 1].map(|i| outline.iter().filter_map(|p| p.get(i)).copied().max().unwrap_or(0))
}

/// The face in its own plane, from its lower left corner: along and up; flat ones along and across the tank.
fn unrolled(face: &Formed) -> Vec<[i64; 2]> {
    let axes = match face.axis {
        0 => [1, 2],
        1 => [0, 2],
        _ => [0, 1],
    };
    let at = |c: &[i64; 3]| axes.map(|a| c.get(a).copied().unwrap_or(0));
    let points: Vec<[i64; 2]> = face.corners.iter().map(at).collect();
    let low = [0, 1].map(|i| points.iter().filter_map(|p| p.get(i)).copied().min().unwrap_or(0));
    points.into_iter().map(|[a, b]| [a - low[0], b - low[1]]).collect()
}

impl Panel {
    /// `2 times 2000 x 150, 0.600 m2`.
    fn words(&self) -> String {
        let [along, up] = size(&self.outline).map(mm);
        // Where the floor falls, one end is lower than the other.
        let end = |x: i64| {
            let own = || self.outline.iter().filter(|p| p[0] == x).map(|p| p[1]);
            own().max().unwrap_or(0) - own().min().unwrap_or(0)
        };
        let (a, b) = (end(0), end(size(&self.outline)[0]));
        let up = if a == b {
            up
        } else {
            Phrase::with("draw-form-to", &[&mm(a.min(b)), &mm(a.max(b))]).to_string()
        };
        let key = if self.flat { "draw-form-under" } else { "draw-form-side" };
        let mut says = Phrase::with(key, &[&along, &up]).to_string();
        if self.share != Share::Whole {
            says = Phrase::with("draw-and", &[&says, look_up("draw-form-round")]).to_string();
        }
        if self.times > 1 {
            says = Phrase::with("draw-times", &[&self.times.to_string(), &says]).to_string();
        }
        Phrase::with("draw-form-area", &[&says, &metres(self.area * Ratio::int(self.times.into()))])
            .to_string()
    }
}

/// Works in the order of the ledger.
fn groups(desk: Desk<'_>) -> Vec<Group> {
    let mut number = 0;
    let of = |item: &Item| -> Vec<Panel> {
        let own = desk.sketch.formed.iter().filter(|f| f.work == item.work.id && f.stage == item.stage);
        let mut panels: Vec<Panel> = Vec::new();
        for face in own.filter(|f| f.area.signum() != 0) {
            let (outline, flat) = (unrolled(face), face.axis == 2);
            let same = |p: &&mut Panel| {
                p.outline == outline && p.share == face.share && p.flat == flat && p.area == face.area
            };
            match panels.iter_mut().find(same) {
                Some(panel) => panel.times += 1,
                None => {
                    let (share, area) = (face.share, face.area);
                    panels.push(Panel { outline, share, flat, times: 1, area, number: 0 });
                }
            }
        }
        panels
    };
    let mut groups = Vec::new();
    for item in desk.sheet.items.iter().filter(|i| i.work.class == Class::Formwork) {
        let mut panels = of(item);
        if panels.is_empty() {
            continue;
        }
        let area: Ratio = panels.iter().map(|p| p.area * Ratio::int(p.times.into())).sum();
        for panel in &mut panels {
            number += 1;
            panel.number = number;
        }
        let stage = format!("stage-{}", item.stage.id());
        let words = [&item.wording.to_string(), look_up(&stage), &metres(area)];
        groups.push(Group { title: Phrase::with("draw-form-title", &words).to_string(), panels });
    }
    groups
}

/// Sheets of groups; a work with many faces goes on.
fn parted(groups: Vec<Group>) -> Vec<Vec<Group>> {
    let mut sheets: Vec<Vec<Group>> = Vec::new();
    let mut left = 0;
    for group in groups {
        let mut panels = group.panels.as_slice();
        // A work that fits on one sheet is not torn.
        if panels.len() > left && panels.len() <= MOST {
            left = 0;
        }
        while !panels.is_empty() {
            if left == 0 {
                sheets.push(Vec::new());
                left = MOST;
            }
            let (own, more) = panels.split_at(left.min(panels.len()));
            if let Some(last) = sheets.last_mut() {
                last.push(Group { title: group.title.clone(), panels: own.to_vec() });
            }
            left -= own.len();
            panels = more;
        }
    }
    sheets
}

/// Sheets of formed faces.
pub(crate) fn sheets(desk: Desk<'_>) -> Vec<Sheet<'_>> {
    let sheets = parted(groups(desk));
    let of = sheets.len();
    let made = |(i, groups): (usize, Vec<Group>)| {
        let id = nth("formwork", i);
        let title = look_up("draw-formwork");
        Sheet::new(&id.clone(), title, move || sheet_of(desk, &id, title.to_owned(), &groups, i == of))
    };
    (1..).zip(sheets).map(made).collect()
}

fn sheet_of(desk: Desk<'_>, id: &str, title: String, groups: &[Group], last: bool) -> Made {
    let wide = FIELD.0[2] - FIELD.0[0];
    let panels = || groups.iter().flat_map(|g| &g.panels);
    let mut notes: Vec<Callout> = panels()
        .map(|p| Callout { number: Some(p.number.to_string()), ..Callout::thing([0, 0], p.words()) })
        .collect();
    if last {
        let others = elsewhere(desk).into_iter();
        notes.extend(
            others.map(|text| Callout { number: Some("-".to_owned()), ..Callout::thing([0, 0], text) }),
        );
    }
    let high = FIELD.0[3] - FIELD.0[1] - list_height(&notes, wide) - 200;
    let (scale, blocks) = fitting(groups, [wide, high]);
    let mut paper = sheet();
    let mut says = vec![title.clone()];
    for ((at, block), group) in shelved(blocks, wide).iter().zip(groups) {
        let at = [FIELD.0[0] + at[0], FIELD.0[1] + at[1]];
        let text = fitted(&group.title, NOTE, wide);
        paper.text(Text::note([at[0], at[1] + 330], text, Anchor::Start));
        says.push(group.title.clone());
        for (panel, corner) in group.panels.iter().zip(&block.panels) {
            put(&mut paper, panel, [at[0] + corner[0], at[1] + corner[1]], scale);
        }
    }
    says.extend(panels().map(Panel::words));
    if last {
        let total: Ratio = desk.sketch.formed.iter().map(|f| f.area).sum();
        say(&mut paper, &Phrase::with("draw-form-total", &[&metres(total)]).to_string());
    }
    list(&mut paper, &notes, FIELD);
    // Faces: no size of the job file stands on it.
    let (id, shows) = (id.to_owned(), String::new());
    Made { id, shows, title, alt: says.join(". "), paper, scale: Some(scale) }
}

/// Formwork that no face proves: what it is, how much.
fn elsewhere(desk: Desk<'_>) -> Vec<String> {
    let drawn = |i: &&Item| desk.sketch.formed.iter().any(|f| f.work == i.work.id && f.stage == i.stage);
    let items = desk.sheet.items.iter().filter(|i| i.work.class == Class::Formwork && !drawn(i));
    let net = |i: &Item| {
        let key = if i.work.unit == Unit::M2 { "draw-form-other" } else { "draw-form-other-m" };
        Phrase::with(key, &[&i.wording.to_string(), &shown(i.net, 3)]).to_string()
    };
    items.map(net).collect()
}

/// The largest scale at which all groups fit.
fn fitting(groups: &[Group], [wide, high]: [i64; 2]) -> (i64, Vec<Block>) {
    let at = |scale: i64| -> Vec<Block> { groups.iter().map(|g| block(g, scale, wide)).collect() };
    let fits = |scale: &i64| {
        let shelved = shelved(at(*scale), wide);
        shelved.iter().all(|(at, b)| b.size[0] <= wide && at[1] + b.size[1] <= high)
    };
    let scale = SCALES.into_iter().find(fits).unwrap_or(1_000);
    (scale, at(scale))
}

fn block(group: &Group, scale: i64, wide: i64) -> Block {
    let mut size_of = [width(&group.title, NOTE).min(wide), TITLE];
    let (mut x, mut y, mut row) = (0, TITLE, 0);
    let mut panels = Vec::new();
    for panel in &group.panels {
        let [w, h] = size(&panel.outline).map(|n| scaled(n, scale));
        let room = w.max(width(&panel.number.to_string(), NOTE));
        if x > 0 && x + room > wide {
            (x, y, row) = (0, y + row + NUMBER, 0);
        }
        panels.push([x, y]);
        size_of[0] = size_of[0].max(x + room);
        x += room + GAP;
        row = row.max(h);
        size_of[1] = size_of[1].max(y + row + NUMBER);
    }
    Block { size: size_of, panels }
}

/// Blocks one beside the other, in rows.
fn shelved(blocks: Vec<Block>, wide: i64) -> Vec<(Point, Block)> {
    let (mut x, mut y, mut row) = (0, 0, 0);
    let mut placed = Vec::new();
    for block in blocks {
        if x > 0 && x + block.size[0] > wide {
            (x, y, row) = (0, y + row + 150, 0);
        }
        let at = [x, y];
        x += block.size[0] + APART;
        row = row.max(block.size[1]);
        placed.push((at, block));
    }
    placed
}

fn put(paper: &mut Paper, panel: &Panel, [x, y]: Point, scale: i64) {
    let [w, h] = size(&panel.outline).map(|n| scaled(n, scale));
    // Up on site is up on paper.
    let on = |[a, b]: &[i64; 2]| [x + scaled(*a, scale), y + h - scaled(*b, scale)];
    let outline: Vec<Point> = panel.outline.iter().map(on).collect();
    let circle = |paper: &mut Paper, pen| {
        paper.circle([x + w / 2, y + h / 2], w.min(h) / 2, Fill::White, Some(pen));
    };
    match panel.share {
        Share::Round => circle(paper, Pen::Cut),
        share => {
            paper.area(vec![outline], Fill::Face(0), Some(Pen::Cut), "formed");
            if share == Share::Corners {
                circle(paper, Pen::Seen);
            }
        }
    }
    let text = panel.number.to_string();
    let at = x + w.max(width(&text, NOTE)) / 2;
    paper.text(Text::note(
        [if w > width(&text, NOTE) { x + w / 2 } else { at }, y + h + 400],
        text,
        Anchor::Middle,
    ));
}

#[cfg(test)]
mod tests {
    use super::*;

    fn panel(outline: &[[i64; 2]]) -> Panel {
        let (share, area) = (Share::Whole, Ratio::of(1, 3));
        Panel { outline: outline.to_vec(), share, flat: false, times: 2, area, number: 1 }
    }

    #[test]
    fn a_face_says_both_ends_where_the_floor_falls() {
        let even = panel(&[[0, 0], [20_000, 0], [20_000, 1_500], [0, 1_500]]);
        assert_eq!(even.words(), "2 times 2000 x 150: 0.667 m2");
        let falling = panel(&[[0, 0], [20_000, 600], [20_000, 1_500], [0, 1_500]]);
        assert_eq!(falling.words(), "2 times 2000 x 90 to 150: 0.667 m2");
    }

    #[test]
    fn a_work_is_torn_only_where_it_fills_a_sheet() {
        let group = |n: usize| Group { title: String::new(), panels: vec![panel(&[[0, 0]]); n] };
        let sizes = |groups: Vec<Group>| -> Vec<Vec<usize>> {
            parted(groups).iter().map(|s| s.iter().map(|g| g.panels.len()).collect()).collect()
        };
        assert_eq!(sizes(vec![group(10), group(9)]), [[10], [9]]);
        assert_eq!(sizes(vec![group(10), group(8), group(20)]), [vec![10, 8], vec![18], vec![2]]);
    }
}
