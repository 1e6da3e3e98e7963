//! Letters of a line as glyphs of a bundled face: ligatures and kerning as the face has them.
//!
//! The writer of the file shapes texts too, but reads the whole face anew for each of them.

use std::sync::LazyLock;

use krilla::text::{GlyphId, KrillaGlyph};
use rustybuzz::{Direction, Face, UnicodeBuffer};

use crate::fonts;

static FACES: LazyLock<[Option<Face<'static>>; 2]> =
    LazyLock::new(|| [false, true].map(|bold| Face::from_slice(fonts::bytes(bold), 0)));

/// A text of one line, from left to right; nothing where the face cannot be read.
#[expect(clippy::cast_precision_loss, clippy::float_arithmetic, reason = "the file wants shares of an em")]
pub(crate) fn glyphs(text: &str, bold: bool) -> Vec<KrillaGlyph> {
    let Some(face) = &FACES[usize::from(bold)] else { return Vec::new() };
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(text);
    buffer.guess_segment_properties();
    buffer.set_direction(Direction::LeftToRight);
    let shaped = rustybuzz::shape(face, &[], buffer);
    let (infos, em) = (shaped.glyph_infos(), face.units_per_em() as f32);
    let start = |i: usize| infos.get(i).and_then(|g| usize::try_from(g.cluster).ok());
    let mut glyphs = Vec::with_capacity(infos.len());
    for (i, (info, at)) in infos.iter().zip(shaped.glyph_positions()).enumerate() {
        // A glyph stands for the letters up to the next one that begins elsewhere.
        let from = start(i).unwrap_or(text.len());
        let to = (i + 1..infos.len()).filter_map(start).find(|n| *n != from).unwrap_or(text.len());
        let [x, dx, dy, y] = [at.x_advance, at.x_offset, at.y_offset, at.y_advance].map(|n| n as f32 / em);
        glyphs.push(KrillaGlyph::new(GlyphId::new(info.glyph_id), x, dx, dy, y, from..to, None));
    }
    glyphs
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_glyph_has_its_letters() {
        let of = |text: &str| glyphs(text, false).iter().map(|g| g.text_range.clone()).collect::<Vec<_>>();
        assert_eq!(of("m\u{b3} x"), [0..1, 1..3, 3..4, 4..5]);
        // f and i are one glyph of this face.
        assert_eq!(of("fix"), [0..2, 2..3]);
        assert!(of("").is_empty());
    }
}
