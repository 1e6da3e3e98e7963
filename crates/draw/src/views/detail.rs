//! Details of reinforced members: each cut across where nothing stands in its way, with its bars by their marks, the
//! concrete over them and the faces that are formed. Upright ones are shown from their side as well.

use tankwright_quantities::sketch::Detail;
use tankwright_quantities::stage::Stage;
use tankwright_quantities::steel::Mark;
use tankwright_quantities::words::{Phrase, look_up};

use super::member::One;
use super::{Desk, Made, Sheet, nth};
use crate::letters::{TITLE, fitted};
use crate::paper::{Anchor, Rect, Text};
use crate::sheet::{FIELD, Margins, PITCH, Placing, caution, scaled, sheet};

/// What is shown round a member, and under and over an upright one.
const ROUND: i64 = 750;
const ENDS: i64 = 1_000;
/// Scales of details.
const SCALES: [i64; 5] = [5, 10, 20, 25, 50];
/// Room beside a picture: for its chains, its notes; over it for its title.
const LEFT: i64 = 2 * PITCH + 300;
const NOTES: i64 = 6_300;
const OVER: i64 = 750;
/// Sheets: id, title, and whether their members stand upright.
const SHEETS: [(&str, &str, bool); 2] = [("beams", "draw-beams", false), ("columns", "draw-columns", true)];

/// A picture on a sheet.
#[derive(Clone, Copy)]
enum Picture {
    Across,
    Beside,
    Face,
}

/// Bars of a member by what they do.
pub(super) struct Bars<'a> {
    pub(super) main: Vec<&'a Mark>,
    pub(super) links: Vec<&'a Mark>,
    pub(super) starters: Vec<&'a Mark>,
}

impl<'a> Bars<'a> {
    fn of(desk: Desk<'a>, detail: &Detail) -> Self {
        let own = desk.steel.marks.iter().filter(|m| detail.marks.contains(&m.mark));
        // Links are closed (shape 51); what an upright member has in the base is there before it.
        let (links, other): (Vec<_>, Vec<_>) = own.partition(|m| m.shape == "51");
        let before = |m: &&Mark| detail.upright.is_some() && m.stage == Stage::Base;
        let (starters, main) = other.into_iter().partition(before);
        Self { main, links, starters }
    }

    pub(super) fn diameter(of: &[&Mark]) -> i64 {
        of.first().map_or(0, |m| i64::from(m.bar.diameter) * 10)
    }
}

/// So many bars of a mark in one member.
pub(super) fn each(mark: &Mark) -> i64 {
    i64::try_from(mark.count / mark.number.members.max(1)).unwrap_or(0)
}

/// Sheets of details, four pictures on each.
pub(crate) fn sheets(desk: Desk<'_>) -> Vec<Sheet<'_>> {
    let mut made = Vec::new();
    for (id, title, upright) in SHEETS {
        let details = desk.sketch.details.iter().filter(|d| d.upright.is_some() == upright);
        let pictures: Vec<(&Detail, Picture)> = details
            .flat_map(|d| {
                let beside = d.upright.map(|_| (d, Picture::Beside));
                let face = d.over.map(|_| (d, Picture::Face));
                std::iter::once((d, Picture::Across)).chain(beside).chain(face)
            })
            .collect();
        for (i, pictures) in (1..).zip(pictures.chunks(4)) {
            let (id, pictures) = (nth(id, i), pictures.to_vec());
            made.push(Sheet::new(&id.clone(), look_up(title), move || sheet_of(desk, &id, title, &pictures)));
        }
    }
    made
}

fn sheet_of(desk: Desk<'_>, id: &str, title: &'static str, pictures: &[(&Detail, Picture)]) -> Made {
    let mut paper = sheet();
    let tiles = tiles(pictures.len());
    let windows: Vec<_> = pictures.iter().map(|(d, picture)| window(d, *picture)).collect();
    // One scale for the members of a sheet; upright ones seen from the side have their own.
    let own = |i: usize| {
        let [low, high] = windows.get(i).copied().unwrap_or_default();
        let Rect([a, b, c, d]) = room(tiles.get(i).copied().unwrap_or(FIELD));
        let fits =
            |s: &&i64| scaled(high[0] - low[0], **s) <= c - a && scaled(high[1] - low[1], **s) <= d - b;
        SCALES.iter().find(fits).copied().unwrap_or(100)
    };
    let common = |(d, picture): &(&Detail, Picture)| matches!(picture, Picture::Across) && d.over.is_none();
    let across = (0..pictures.len()).filter(|i| pictures.get(*i).is_some_and(common));
    let widest = across.map(own).max().unwrap_or(10);
    let mut says = vec![look_up(title).to_owned()];
    let mut scales = Vec::new();
    for (i, ((detail, picture), tile)) in pictures.iter().zip(&tiles).enumerate() {
        let scale = if common(&(*detail, *picture)) { widest } else { own(i) };
        scales.push(scale);
        let field = room(*tile);
        let window = windows.get(i).copied().unwrap_or_default();
        let placing = Placing::at(
            window,
            detail.axis != 2 || !matches!(picture, Picture::Across),
            Margins([0; 4]),
            field,
            Some(scale),
        );
        let key = match picture {
            Picture::Across => "draw-detail-at",
            Picture::Beside => "draw-detail-side",
            Picture::Face => "draw-detail-face",
        };
        let name = Phrase::with(key, &[&detail.title.to_string(), &scale.to_string()]).to_string();
        let text = fitted(&name, TITLE, tile.0[2] - tile.0[0]);
        paper.text(Text { size: TITLE, ..Text::note([tile.0[0], tile.0[1] + 500], text, Anchor::Start) });
        says.push(name);
        let one = One { desk, detail, bars: Bars::of(desk, detail), placing, window, tile: *tile };
        match picture {
            Picture::Across => one.across(&mut paper, &mut says),
            Picture::Beside => one.beside(&mut paper, &mut says),
            Picture::Face => one.face(&mut paper, &mut says),
        }
    }
    caution(&mut paper, "draw-engineer");
    scales.dedup();
    let scale = scales.first().copied().filter(|_| scales.len() == 1);
    let [id, shows, title] = [id, "steel", look_up(title)].map(str::to_owned);
    Made { id, shows, title, alt: says.join(". "), paper, scale }
}

/// Parts of the field: one, two beside each other, or four.
fn tiles(n: usize) -> Vec<Rect> {
    let Rect([left, top, right, bottom]) = FIELD;
    let (middle, half) = (i64::midpoint(left, right), i64::midpoint(top, bottom));
    let gap = 300;
    match n {
        0 | 1 => vec![FIELD],
        2 => vec![Rect([left, top, middle - gap, bottom]), Rect([middle + gap, top, right, bottom])],
        _ => [[top, half - gap], [half + gap, bottom]]
            .into_iter()
            .flat_map(|[a, b]| [Rect([left, a, middle - gap, b]), Rect([middle + gap, a, right, b])])
            .collect(),
    }
}

/// Where the picture lies in its part of the field.
const fn room(Rect([left, top, right, bottom]): Rect) -> Rect {
    Rect([left + LEFT, top + OVER, right - NOTES, bottom - 2 * PITCH - 300])
}

fn window(detail: &Detail, picture: Picture) -> [[i64; 2]; 2] {
    let [u, v] = detail.rect;
    if let Some(over) = detail.over {
        let along = if matches!(picture, Picture::Face) { detail.run } else { u };
        return [[along[0] - ROUND, over.sill - ROUND], [along[1] + ROUND, v[1] + 2 * ROUND]];
    }
    match (picture, detail.upright) {
        (Picture::Beside, Some(up)) => {
            let low = detail.run[0] - up.below - ENDS;
            [[u[0] - 2 * ROUND, low], [u[1] + 4 * ROUND, up.slab + ENDS]]
        }
        _ => [[u[0] - ROUND, v[0] - ROUND], [u[1] + ROUND, v[1] + ROUND]],
    }
}
