//! Title block, scale bar and a legend of the hatchings that the sheet has.

use tankwright_quantities::words::{Phrase, look_up};

use super::{BLOCK, FRAME, scaled};
use crate::hatch;
use crate::letters::{HEAD, NOTE, TITLE, fitted, width};
use crate::paper::{Anchor, Fill, Paper, Pen, Point, Rect, Text};

/// What a title block says.
#[derive(Clone, Debug)]
pub(crate) struct Head<'a> {
    pub(crate) job: &'a str,
    pub(crate) title: &'a str,
    pub(crate) date: &'a str,
    pub(crate) profile: &'a str,
    /// Which sheet of how many; none for a sketch of a stage.
    pub(crate) sheet: Option<[usize; 2]>,
    /// None: not to scale.
    pub(crate) scale: Option<i64>,
}

/// Puts frame, block, legend and scale bar on a sheet.
pub(crate) fn finish(paper: &mut Paper, head: &Head<'_>) {
    frame(paper);
    let [left, right] = [FRAME.0[0], FRAME.0[2]];
    let (second, third) = (left + 13_400, right - 6_300);
    for x in [second, third] {
        paper.line(&[[x, BLOCK], [x, FRAME.0[3]]], Pen::Thin);
    }
    let mut put = |x: i64, y: i64, size: i64, text: &str, room: i64| {
        let text = fitted(text, size, room);
        paper.text(Text { size, ..Text::note([x + 300, BLOCK + y], text, Anchor::Start) });
    };
    let whole = second - left - 500;
    let size = [HEAD, TITLE].into_iter().find(|s| width(head.job, *s) <= whole).unwrap_or(NOTE);
    put(left, 800, size, head.job, whole);
    let size = if width(head.title, TITLE) <= whole { TITLE } else { NOTE };
    put(left, 1_600, size, head.title, whole);
    let middle = third - second - 500;
    let scale = head.scale.map_or_else(
        || look_up("draw-no-scale").to_owned(),
        |s| Phrase::with("draw-scale", &[&s.to_string()]).to_string(),
    );
    put(second, 560, NOTE, &scale, middle);
    put(second, 1_120, NOTE, look_up("draw-in-mm"), middle);
    put(second, 1_680, NOTE, &Phrase::with("draw-profile", &[head.profile]).to_string(), middle);
    let end = right - third - 500;
    let numbered = |[sheet, of]: [usize; 2]| {
        Phrase::with("draw-sheet-of", &[&sheet.to_string(), &of.to_string(), head.date]).to_string()
    };
    put(third, 560, NOTE, &head.sheet.map_or_else(|| head.date.to_owned(), numbered), end);
    put(third, 1_120, NOTE, look_up("draw-not-checked"), end);
    put(third, 1_680, NOTE, look_up("draw-until-checked"), end);
    legend(paper);
    if let Some(scale) = head.scale {
        bar(paper, scale);
    }
}

fn frame(paper: &mut Paper) {
    let outline = |rect: Rect| vec![rect.corners().to_vec()];
    paper.area(outline(FRAME), Fill::None, Some(Pen::Frame), "");
    paper.line(&[[FRAME.0[0], BLOCK], [FRAME.0[2], BLOCK]], Pen::Frame);
}

/// A swatch and a word for each hatching, in rows from below, clear of the scale bar.
fn legend(paper: &mut Paper) {
    let hatches: Vec<_> = paper.fills().into_iter().filter_map(|f| Some((f, hatch::of(f)?))).collect();
    let room = FRAME.0[2] - FRAME.0[0] - 6_200;
    let mut rows: Vec<(i64, Vec<_>)> = vec![(0, Vec::new())];
    for (fill, hatch) in hatches {
        let word = look_up(hatch.word);
        let long = 850 + width(word, NOTE) + 450;
        if rows.last().is_some_and(|(sum, row)| sum + long > room && !row.is_empty()) {
            rows.push((0, Vec::new()));
        }
        if let Some((sum, row)) = rows.last_mut() {
            row.push((*sum, fill, word));
            *sum += long;
        }
    }
    for (i, (_, row)) in (0..).zip(rows.into_iter().rev()) {
        let y = BLOCK - 650 - i * 600;
        for (at, fill, word) in row {
            let x = FRAME.0[0] + 400 + at;
            let swatch = Rect([x, y, x + 700, y + 450]);
            paper.area(vec![swatch.corners().to_vec()], fill, Some(Pen::Seen), "");
            paper.text(Text::note([x + 850, y + 350], word, Anchor::Start));
        }
    }
}

/// A bar of four fields, at least 32 mm long.
fn bar(paper: &mut Paper, scale: i64) {
    // Fields of 1, 2 or 5 times a power of ten, in millimetres, 8 to 12 mm long on paper.
    let steps = [10, 20, 50, 100, 200, 500, 1_000, 2_000, 5_000, 10_000, 20_000];
    let field = steps.into_iter().find(|mm| scaled(mm * 10, scale) >= 800).unwrap_or(20_000);
    let long = scaled(field * 10, scale);
    let unit = " mm";
    let (x, y) = (FRAME.0[2] - 1_250 - 4 * long, BLOCK - 900);
    for i in 0..4 {
        let a = x + i * long;
        let fill = if i % 2 == 0 { Fill::Black } else { Fill::White };
        paper.area(vec![Rect([a, y, a + long, y + 130]).corners().to_vec()], fill, Some(Pen::Thin), "");
    }
    let mut put = |at: Point, text: String| paper.text(Text::note(at, text, Anchor::Middle));
    for i in [0, 2] {
        put([x + i * long, y + 520], (i * field).to_string());
    }
    put([x + 4 * long, y + 520], format!("{}{unit}", 4 * field));
}
