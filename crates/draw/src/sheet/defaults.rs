//! Values that a sheet shows and the job file does not give: one line over the drawing, each with its value.

use tankwright_quantities::estimate::DefaultUsed;
use tankwright_quantities::words::Phrase;

use super::{FIELD, FRAME};
use crate::letters::{NOTE, width};
use crate::paper::{Anchor, Paper, Text};

/// Line of the note, between frame and drawing.
const LINE: i64 = 1_400;

/// Does a sheet show what a key of the job file gives? Sections and plans show the tank; what stands by itself is named
/// as its table is; details and plans of bars show bars.
fn shows(id: &str, path: &str) -> bool {
    let of = |part: &str| path.strip_prefix(part).is_some_and(|rest| rest.starts_with(['.', '[', 's', ' ']));
    let own = id.trim_end_matches(|c: char| c.is_ascii_digit() || c == '-').replace('-', "_");
    match id.split('-').next().unwrap_or_default() {
        "plan" | "long" | "cross" => of("tank"),
        "base" | "cover" | "beams" | "columns" => of("steel"),
        _ => of(&own),
    }
}

/// A size, a mix or a number: what a drawing can show.
fn is_drawn(value: &str) -> bool {
    value.starts_with(|c: char| c.is_ascii_digit()) && !value.contains(['%', '-'])
}

/// A path as on papers, lists counted from 1.
fn named(path: &str) -> String {
    let path = path.trim_start_matches("tank.").trim_start_matches("steel.").replace(['_', '.'], " ");
    let mut parts = path.split('[');
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |name, part| {
        let (index, rest) = part.split_once(']').unwrap_or((part, ""));
        let n = index.parse::<u32>().map_or(0, |n| n.saturating_add(1));
        format!("{name} {n}{rest}")
    })
}

/// Puts the note on a sheet; what has no room on its line is counted.
pub(crate) fn note(paper: &mut Paper, id: &str, defaults: &[DefaultUsed]) {
    let own = defaults.iter().filter(|d| shows(id, &d.path) && is_drawn(&d.value));
    let says: Vec<String> = own.map(|d| format!("{} {}", named(&d.path), d.value)).collect();
    if says.is_empty() {
        return;
    }
    let room = FIELD.0[2] - FIELD.0[0];
    let words = |kept: usize| {
        let list = says.get(..kept).unwrap_or_default().join("; ");
        match says.len() - kept {
            0 => Phrase::with("draw-defaults", &[&list]),
            more => Phrase::with("draw-defaults-more", &[&list, &more.to_string()]),
        }
        .to_string()
    };
    let kept = (1..=says.len()).rev().find(|kept| width(&words(*kept), NOTE) <= room).unwrap_or(0);
    paper.text(Text::note([FRAME.0[0] + 400, LINE], words(kept), Anchor::Start));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sheet_tells_the_defaults_of_what_it_shows() {
        assert!(shows("long-section", "tank.walls.thickness") && !shows("long-section", "steel.lap"));
        assert!(shows("soak-pit", "soak_pit.number") && shows("drain-2", "drain 2.pipe.diameter"));
        assert!(shows("inspection-chamber", "inspection_chambers[0].base.mix"));
        assert!(shows("beams", "steel.lap") && !shows("formwork", "tank.walls.thickness"));
        assert_eq!(named("inspection_chambers[0].base.mix"), "inspection chambers 1 base mix");
        assert!(is_drawn("1:2:4") && is_drawn("110 mm") && !is_drawn("trowelled") && !is_drawn("2026-11-25"));
    }
}
