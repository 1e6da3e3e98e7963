//! Chains of dimensions: ticks, figures in millimetres, small ones moved out with a leader.

use crate::letters::{NOTE, width};
use crate::paper::{Anchor, Paper, Pen, Point, Text};

/// Which way a chain runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Along {
    /// To the right; figures over the line.
    Right,
    /// Up the paper; figures left of the line, read from the right.
    Up,
}

/// From one chain to the next.
pub(crate) const PITCH: i64 = 950;

/// Figures over their line, and those moved out under it.
const OVER: i64 = 90;
const UNDER: i64 = 430;

/// Tenths of a millimetre as a drawing has them: millimetres, a tenth only where there is one.
pub(crate) fn mm(tenths: i64) -> String {
    let (whole, part) = (tenths.unsigned_abs() / 10, tenths.unsigned_abs() % 10);
    let sign = if tenths < 0 { "-" } else { "" };
    if part == 0 { format!("{sign}{whole}") } else { format!("{sign}{whole}.{part}") }
}

/// A chain at `line` through stops: place on paper along it, and on site in tenths of a millimetre. Returns its figures.
pub(crate) fn chain(paper: &mut Paper, along: Along, line: i64, stops: &[(i64, i64)]) -> Vec<i64> {
    let mut stops = stops.to_vec();
    stops.sort_unstable();
    stops.dedup_by_key(|s| s.1);
    let (Some(first), Some(last)) = (stops.first().copied(), stops.last().copied()) else {
        return Vec::new();
    };
    if stops.len() < 2 {
        return Vec::new();
    }
    let at = |u: i64, v: i64| -> Point {
        match along {
            Along::Right => [u, v],
            Along::Up => [v, u],
        }
    };
    paper.line(&[at(first.0, line), at(last.0, line)], Pen::Thin);
    for (u, _) in &stops {
        paper.line(&[at(*u, line - 300), at(*u, line + 150)], Pen::Thin);
        paper.line(&[at(u - 110, line + 110), at(u + 110, line - 110)], Pen::Tick);
    }
    let turned = along == Along::Up;
    let text = |words: String| Text { turned, ..Text::note([0, 0], words, Anchor::Middle) };
    let pairs = || stops.iter().zip(stops.iter().skip(1));
    let figure = |(a, b): (&(i64, i64), &(i64, i64))| (b.1 - a.1).abs();
    let fits = |(a, b): (&(i64, i64), &(i64, i64))| width(&mm((b.1 - a.1).abs()), NOTE) + 120 <= b.0 - a.0;
    // Those that have their room first: the others look for what is left.
    for pair in pairs().filter(|p| fits(*p)) {
        let middle = i64::midpoint(pair.0.0, pair.1.0);
        let note = text(mm(figure(pair)));
        let places = [at(middle, line - OVER), at(middle, line + UNDER), at(middle, line - OVER - 450)];
        put(paper, note, &places);
    }
    for pair in pairs().filter(|p| !fits(*p)) {
        let middle = i64::midpoint(pair.0.0, pair.1.0);
        let note = text(mm(figure(pair)));
        let half = width(&note.text, NOTE) / 2 + 60;
        let aside = (0..40).flat_map(|i| [i * half / 2, -(i * half / 2)]);
        let places: Vec<Point> = aside.map(|a| at(middle + a, line + UNDER)).collect();
        if let Some(put) = put(paper, note, &places) {
            let u = if turned { put.at[1] } else { put.at[0] };
            let end = if (u - middle).abs() <= half { middle } else { u - (u - middle).signum() * half };
            paper.line(&[at(middle, line), at(end, line + UNDER - 290)], Pen::Thin);
        }
    }
    pairs().map(figure).collect()
}

fn put(paper: &mut Paper, note: Text, places: &[Point]) -> Option<Text> {
    paper.try_text(note, places.iter().copied())
}
