//! A drawing as a picture of dots, by the bundled faces alone: the machine's own are never asked.

use std::sync::{Arc, LazyLock};

use resvg::tiny_skia::{Pixmap, PremultipliedColorU8, Transform};
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
        faces.load_font_data(fonts::bytes(bold).to_vec());
    }
    faces.set_sans_serif_family(fonts::FAMILY);
    Arc::new(faces)
});

/// A drawing, read; in words where it cannot be.
pub(crate) fn tree(svg: &str) -> Result<Tree, String> {
    let options = Options {
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

/// The drawing on white, so many dots wide.
///
/// # Errors
/// See [`NoPicture`].
#[expect(clippy::float_arithmetic, clippy::cast_precision_loss, reason = "the renderer wants a factor")]
pub fn png(svg: &str, wide: u32) -> Result<Vec<u8>, NoPicture> {
    let tree = tree(svg).map_err(NoPicture::Drawing)?;
    let size = tree.size();
    if wide == 0 || wide > MOST {
        return Err(NoPicture::Size);
    }
    let factor = wide as f32 / size.width();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a side, held below a limit")]
    let tall = (size.height() * factor).ceil() as u32;
    let mut dots =
        Some(tall).filter(|t| *t <= MOST).and_then(|t| Pixmap::new(wide, t)).ok_or(NoPicture::Size)?;
    dots.fill(resvg::tiny_skia::Color::WHITE);
    resvg::render(&tree, Transform::from_scale(factor, factor), &mut dots.as_mut());
    packed(&dots).map_err(|_| NoPicture::Packed)
}

/// Drawings are black on white: one grey a dot packs in a fraction of the time that four colours take.
fn packed(dots: &Pixmap) -> Result<Vec<u8>, png::EncodingError> {
    let grey = |p: &PremultipliedColorU8| {
        let sum = 299 * u32::from(p.red()) + 587 * u32::from(p.green()) + 114 * u32::from(p.blue());
        u8::try_from(sum / 1000).unwrap_or(u8::MAX)
    };
    let greys: Vec<u8> = dots.pixels().iter().map(grey).collect();
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, dots.width(), dots.height());
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::Fast);
    encoder.write_header()?.write_image_data(&greys)?;
    Ok(bytes)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use super::*;

    const LETTERS: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"40mm\" height=\"10mm\" viewBox=\"0 0 40 10\">\
        <text x=\"2\" y=\"8\" font-family=\"DejaVu Sans\" font-size=\"6\">Ag 12</text></svg>";

    #[test]
    fn letters_leave_dots() {
        let picture = png(LETTERS, 400).unwrap();
        let dots = Pixmap::decode_png(&picture).unwrap();
        assert!(picture.len() < 4_000, "{} bytes", picture.len());
        assert_eq!((dots.width(), dots.height()), (400, 100));
        let dark = dots.pixels().iter().filter(|p| p.red() < 100).count();
        assert!(dark > 500, "{dark} dark dots: the faces do not load");
    }

    #[test]
    fn what_cannot_be_drawn_is_said() {
        assert!(matches!(png("<svg", 100), Err(NoPicture::Drawing(_))));
        assert_eq!(png(LETTERS, 0), Err(NoPicture::Size));
        assert_eq!(png(LETTERS, 9_000), Err(NoPicture::Size));
    }
}
