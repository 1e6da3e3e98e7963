//! Notes of a section: levels with their names, and each part once.

use tankwright_quantities::words::Phrase;

use super::note_of;
use super::paint::Looks;
use super::section::Section;
use crate::sheet::{Callout, mm};

/// Levels and parts, in site coordinates.
pub(crate) fn notes(section: &Section<'_>, cut: &Looks) -> Vec<Callout> {
    let space = &section.desk.space;
    let mut notes: Vec<Callout> = Vec::new();
    let Some([low, high]) = cut.bounds(|c| c.is_some()) else { return notes };
    let ground = std::iter::once((Phrase::new("draw-ground"), 0));
    let marks = section.desk.sketch.marks.iter().map(|m| (m.title.clone(), m.level));
    let mut levels: Vec<(i64, String)> = Vec::new();
    // Levels at the ends of the tank belong to its long section.
    let marked = |key: &str| MARKED.contains(&key) || section.axis() == 0 && AT_ENDS.contains(&key);
    for (title, level) in ground.chain(marks).filter(|(t, _)| marked(t.key)) {
        if level < low[1] || level > high[1] {
            continue;
        }
        match levels.iter_mut().find(|l| l.0 == level) {
            Some(same) => same.1 = together(&same.1, &title.to_string()),
            None => levels.push((level, title.to_string())),
        }
    }
    for (level, text) in levels {
        notes.push(Callout::level([0, level], metres(level), text));
    }
    // Each part once, at the largest of its cells that lies farthest to the right.
    for (n, look) in space.looks.iter().enumerate() {
        let own = cut.all().filter(|(_, c)| *c == Some(n) && !look.is_void());
        let best = own.max_by_key(|([u, v], _)| {
            let ([a, b], [c, d]) = (cut.corner([*u, *v]), cut.corner([u + 1, v + 1]));
            (*u / 2, (c - a) * (d - b))
        });
        if let Some(([u, v], _)) = best {
            let ([a, b], [c, d]) = (cut.corner([u, v]), cut.corner([u + 1, v + 1]));
            let at = [i64::midpoint(a, c), i64::midpoint(b, d)];
            notes.push(Callout::thing(at, note_of(look)));
        }
    }
    notes
}

/// Levels that a section of the tank marks: those of ring beams stand in its chain.
const MARKED: [&str; 5] =
    ["draw-ground", "level-cover-top", "level-cover-bottom", "level-masonry-top", "level-invert-outlet"];
const AT_ENDS: [&str; 5] =
    ["level-invert-inlet", "level-floor-outlet", "level-floor-inlet", "level-dig-outlet", "level-dig-inlet"];

/// Two names of one level: what they share where one says only at which end, else both.
fn together(one: &str, other: &str) -> String {
    let stem = |name: &str| name.rsplit_once(", ").map(|(stem, _)| stem.to_owned());
    match (stem(one), stem(other)) {
        (Some(a), Some(b)) if a == b => a,
        _ => Phrase::with("draw-and", &[one, other]).to_string(),
    }
}

/// A level in metres, three places, with its sign.
pub(crate) fn metres(level: i64) -> String {
    let sign = match level.signum() {
        0 => "±",
        1 => "+",
        _ => "-",
    };
    // Tenths of a millimetre to whole millimetres, the nearest.
    let mm = (level.abs() + 5) / 10;
    format!("{sign}{}.{:03}", mm / 1_000, mm % 1_000)
}

/// A chain in words: `along: 220, 2000, 110, 1000, 220 mm`.
pub(crate) fn spoken(key: &'static str, figures: &[i64]) -> String {
    let list: Vec<String> = figures.iter().map(|f| mm(*f)).collect();
    Phrase::with(key, &[&list.join(", ")]).to_string()
}
