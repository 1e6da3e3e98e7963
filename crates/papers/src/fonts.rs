//! The two faces of all papers, bundled: DejaVu Sans, regular and bold (its licence lies beside them).

use std::sync::LazyLock;

use skrifa::charmap::Charmap;
use skrifa::instance::{LocationRef, Size};
use skrifa::metrics::GlyphMetrics;
use skrifa::{FontRef, MetadataProvider};

use crate::Hundredths;

/// Name of the family, as drawings ask for it.
pub(crate) const FAMILY: &str = "DejaVu Sans";

static REGULAR: &[u8] = include_bytes!("../fonts/DejaVuSans.ttf");
static BOLD: &[u8] = include_bytes!("../fonts/DejaVuSans-Bold.ttf");

/// Letters up to here are measured once and kept: Latin, Greek and Cyrillic, and the signs of papers.
const KEPT: u32 = 0x2300;

static FACES: LazyLock<[Option<Face>; 2]> = LazyLock::new(|| [Face::of(REGULAR), Face::of(BOLD)]);

/// A face as papers ask it.
struct Face {
    map: Charmap<'static>,
    metrics: GlyphMetrics<'static>,
    /// Units to the em.
    em: i64,
    /// By letter its width in units; nothing where the face lacks it.
    kept: Vec<Option<i64>>,
}

impl Face {
    fn of(bytes: &'static [u8]) -> Option<Self> {
        let font = FontRef::new(bytes).ok()?;
        let (size, plain) = (Size::unscaled(), LocationRef::default());
        let em = i64::from(font.metrics(size, plain).units_per_em).max(1);
        let (map, metrics) = (font.charmap(), font.glyph_metrics(size, plain));
        let mut face = Self { map, metrics, em, kept: Vec::new() };
        face.kept = (0..KEPT).map(|n| char::from_u32(n).and_then(|c| face.measured(c))).collect();
        Some(face)
    }

    /// The width of a letter in units; `None` where the face lacks it.
    fn width(&self, letter: char) -> Option<i64> {
        let kept = usize::try_from(u32::from(letter)).ok().and_then(|n| self.kept.get(n));
        kept.copied().unwrap_or_else(|| self.measured(letter))
    }

    // Unscaled advances are whole numbers of units.
    #[expect(clippy::cast_possible_truncation, reason = "whole, and far below the limit")]
    fn measured(&self, letter: char) -> Option<i64> {
        self.map.map(letter).map(|g| self.metrics.advance_width(g).map_or(0, |w| w as i64))
    }
}

/// The bytes of a face.
pub(crate) const fn bytes(bold: bool) -> &'static [u8] {
    if bold { BOLD } else { REGULAR }
}

/// Has the face this letter?
pub(crate) fn has(bold: bool, letter: char) -> bool {
    FACES[usize::from(bold)].as_ref().is_some_and(|face| face.width(letter).is_some())
}

/// How wide a text is in a size, both in hundredths of a millimetre, rounded up.
pub(crate) fn width(text: &str, size: Hundredths, bold: bool) -> Hundredths {
    let Some(face) = &FACES[usize::from(bold)] else { return 0 };
    let units: i64 = text.chars().filter_map(|c| face.width(c)).sum();
    Hundredths::try_from((units * i64::from(size) + face.em - 1) / face.em).unwrap_or(Hundredths::MAX)
}

/// Breaks at spaces; what is held together by `\u{a0}` only where it is wider than a line, a word only where that is.
pub(crate) fn wrap(text: &str, size: Hundredths, bold: bool, room: [Hundredths; 2]) -> Vec<String> {
    let (mut lines, mut line) = (Vec::new(), String::new());
    let fits = |line: &str, n: usize| width(line, size, bold) <= room[usize::from(n > 0)].max(size);
    let narrow = room[0].min(room[1]).max(size);
    let held = |word: &str| width(word, size, bold) <= narrow;
    let words = text.split(' ').flat_map(|word| word.split(if held(word) { ' ' } else { '\u{a0}' }));
    for word in words {
        let joined = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
        if fits(&joined, lines.len()) {
            line = joined;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for letter in word.chars() {
            line.push(letter);
            if !fits(&line, lines.len()) && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::take(&mut line));
                line.push(letter);
            }
        }
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_are_those_of_the_face() {
        // DejaVu Sans, 2048 units to the em: figures 1303, "W" 2025 (tables hmtx and cmap, read with fontTools).
        assert_eq!(width("0", 2048, false), 1303);
        assert_eq!(width("W", 2048, false), 2025);
        assert_eq!(width("00", 1000, false), (2 * 1303 * 1000 + 2047) / 2048);
        assert!(width("abc", 350, true) > width("abc", 350, false));
        assert!(has(false, '⌀') && has(true, '₹') && has(false, '³') && !has(false, '房'));
    }

    #[test]
    fn no_figure_is_broken_that_can_stand_in_a_line() {
        let broken = |text: &str, as_wide: &str| {
            let room = width(as_wide, 350, false);
            wrap(text, 350, false, [room; 2])
        };
        let held = "2\u{a0}bars of\u{a0}12\u{a0}m";
        assert_eq!(broken(held, "of 12 m "), ["2\u{a0}bars", "of\u{a0}12\u{a0}m"]);
        assert_eq!(broken("2\u{a0}bars\u{a0}of\u{a0}12\u{a0}m", "2 bars of 1"), ["2 bars of", "12 m"]);
        assert_eq!(broken("1\u{a0}200\u{a0}litres", "1 200 litre"), ["1 200", "litres"]);
        assert_eq!(broken("hollow", "holl"), ["holl", "ow"]);
    }
}
