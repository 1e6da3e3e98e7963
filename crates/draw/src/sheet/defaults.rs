//! Values that a sheet shows and the job file does not give: one line over the drawing, each with its value.

use tankwright_quantities::estimate::DefaultUsed;
use tankwright_quantities::words::Phrase;

use super::{FIELD, FRAME};
use crate::letters::{NOTE, width};
use crate::paper::{Anchor, Paper, Text};

/// Line of the note, between frame and drawing.
const LINE: i64 = 1_400;

/// Does a key of the job file, as papers name it, stand in a table, or in a list of this name?
fn stands_in(table: &str, path: &str) -> bool {
    let rest = path.strip_prefix(table).filter(|_| !table.is_empty());
    rest.is_some_and(|rest| rest.starts_with(['.', '[', 's', ' ']))
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

/// Puts the note on a sheet that shows a table of the job file; what has no room on its line is counted.
pub(crate) fn note(paper: &mut Paper, table: &str, defaults: &[DefaultUsed]) {
    let own = defaults.iter().filter(|d| stands_in(table, &d.path) && is_drawn(&d.value));
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
        assert!(stands_in("tank", "tank.walls.thickness") && !stands_in("tank", "steel.lap"));
        assert!(stands_in("soak_pit", "soak_pit.number") && stands_in("drain", "drain 2.pipe.diameter"));
        assert!(stands_in("inspection_chamber", "inspection_chambers[0].base.mix"));
        assert!(stands_in("steel", "steel.lap") && !stands_in("", "tank.walls.thickness"));
        assert_eq!(named("inspection_chambers[0].base.mix"), "inspection chambers 1 base mix");
        assert!(is_drawn("1:2:4") && is_drawn("110 mm") && !is_drawn("trowelled") && !is_drawn("2026-11-25"));
    }
}
