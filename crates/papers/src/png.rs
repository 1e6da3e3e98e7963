//! A drawing as a picture of dots, by the bundled faces alone: the machine's own are never asked.

use std::sync::{Arc, LazyLock};

use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::{Options, Tree, fontdb};

use crate::fonts;

/// Most dots of a side.
const MOST: u32 = 8_000;

/// Why there is no picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoPicture {
    /// The drawing cannot be read: why.
    Drawing(String),
    /// It would have no dots, or more than 8 000 along a side.
    Size,
    /// It cannot be packed.
    Packed,
}

static FACES: LazyLock<Arc<fontdb::Database>> = LazyLock::new(|| {
    let mut faces = fontdb::Database::new();
    for bold in [false, true] {
        faces.load_font_source(fontdb::Source::Binary(Arc::new(fonts::bytes(bold))));
    }
    faces.set_sans_serif_family(fonts::FAMILY);
    Arc::new(faces)
});

/// Dots to the inch that a drawing is made for where it says nothing else.
const USUAL: f32 = 96.0;

/// A drawing, read; in words where it cannot be.
pub(crate) fn tree(svg: &str) -> Result<Tree, String> {
    tree_at(svg, USUAL)
}

/// The same, its millimetres as so many dots to the inch.
fn tree_at(svg: &str, dpi: f32) -> Result<Tree, String> {
    let options = Options {
        dpi,
        font_family: fonts::FAMILY.to_owned(),
        fontdb: FACES.clone(),
        // A drawing brings nothing from outside itself.
        image_href_resolver: resvg::usvg::ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..Options::default()
    };
    Tree::from_str(svg, &options).map_err(|e| e.to_string())
}

/// A drawing of so many millimetres' width on white, so many dots wide. With whole dots to the millimetre
/// strokes are sharpest.
///
/// # Errors
/// See [`NoPicture`].
#[expect(clippy::float_arithmetic, clippy::cast_precision_loss, reason = "the renderer wants a factor")]
pub fn png(svg: &str, width_mm: u32, wide: u32) -> Result<Vec<u8>, NoPicture> {
    if wide == 0 || wide > MOST || width_mm == 0 {
        return Err(NoPicture::Size);
    }
    let dpi = 25.4 * (wide as f32 / width_mm as f32);
    let tree = tree_at(svg, dpi).map_err(NoPicture::Drawing)?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a side, held below a limit")]
    let tall = tree.size().height().round() as u32;
    let mut dots =
        Some(tall).filter(|t| *t <= MOST).and_then(|t| Pixmap::new(wide, t)).ok_or(NoPicture::Size)?;
    dots.fill(Color::WHITE);
    resvg::render(&tree, Transform::identity(), &mut dots.as_mut());
    packed(&dots).map_err(|_| NoPicture::Packed)
}

/// Drawings are black on white: sixteen greys, two dots a byte, pack in a fraction of the time that colours take.
fn packed(dots: &Pixmap) -> Result<Vec<u8>, png::EncodingError> {
    let bytes = usize::try_from(dots.width()).unwrap_or(1) * 4;
    let mut greys = Vec::with_capacity(dots.data().len() / 8 + 1);
    for row in dots.data().chunks_exact(bytes) {
        greys.extend(row.chunks(8).map(|two| match two {
            // Most of a drawing.
            white if white == [255; 8] => 255,
            [r, g, b, _, red, green, blue, _] => grey([r, g, b]) << 4 | grey([red, green, blue]),
            [r, g, b, ..] => grey([r, g, b]) << 4,
            _ => 0,
        }));
    }
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, dots.width(), dots.height());
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::Four);
    encoder.set_compression(png::Compression::Fast);
    encoder.set_filter(png::Filter::Up);
    encoder.write_header()?.write_image_data(&greys)?;
    Ok(bytes)
}

/// How light a colour is, of 15.
fn grey([red, green, blue]: [&u8; 3]) -> u8 {
    let sum = 77 * u32::from(*red) + 150 * u32::from(*green) + 29 * u32::from(*blue);
    u8::try_from((sum + (256 * 17) / 2) / (256 * 17)).unwrap_or(15)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use super::*;

    const LETTERS: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"40mm\" height=\"10mm\" viewBox=\"0 0 40 10\">\
        <text x=\"2\" y=\"8\" font-family=\"DejaVu Sans\" font-size=\"6\">Ag 12</text></svg>";

    #[test]
    fn letters_leave_dots() {
        let picture = png(LETTERS, 40, 400).unwrap();
        let dots = Pixmap::decode_png(&picture).unwrap();
        assert!(picture.len() < 4_000, "{} bytes", picture.len());
        assert_eq!((dots.width(), dots.height()), (400, 100));
        let dark = dots.pixels().iter().filter(|p| p.red() < 100).count();
        assert!(dark > 500, "{dark} dark dots: the faces do not load");
    }

    #[test]
    fn what_cannot_be_drawn_is_said() {
        assert!(matches!(png("<svg", 40, 100), Err(NoPicture::Drawing(_))));
        assert_eq!(png(LETTERS, 40, 0), Err(NoPicture::Size));
        assert_eq!(png(LETTERS, 40, 9_000), Err(NoPicture::Size));
    }
}
