//! The firm's picture over an offer: PNG, JPEG or SVG, looked at before it is used.

use krilla::image::Image;

use crate::Hundredths;
use crate::png::tree;

/// Most bytes of a picture.
pub const MOST_BYTES: u64 = 2_000_000;
/// Most dots along a side of a picture.
const MOST_DOTS: u32 = 4_000;
/// Room on an offer.
const ROOM: [i64; 2] = [6_000, 2_000];

/// What a picture is made of.
#[derive(Clone)]
pub(crate) enum Kind {
    Svg(String),
    Dots(Image),
}

/// A picture that can be printed.
#[derive(Clone)]
pub struct Logo {
    pub(crate) kind: Kind,
    /// As large as it stands on paper.
    pub(crate) size: [Hundredths; 2],
}

impl std::fmt::Debug for Logo {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Logo").field("size", &self.size).finish_non_exhaustive()
    }
}

/// Why a picture cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoLogo {
    /// More than 2 MB.
    Large,
    /// More than 4 000 dots along a side, or none.
    Dots,
    /// Neither PNG nor JPEG nor SVG.
    Unknown,
    /// It cannot be read to its end: why.
    Broken(String),
}

impl NoLogo {
    /// In words.
    #[must_use]
    pub fn says(&self) -> String {
        match self {
            Self::Large => format!("it is larger than {} MB", MOST_BYTES / 1_000_000),
            Self::Dots => format!("a side of it has no dots, or more than {MOST_DOTS}"),
            Self::Unknown => "it is neither PNG nor JPEG nor SVG".to_owned(),
            Self::Broken(why) => format!("it cannot be read: {why}"),
        }
    }
}

impl Logo {
    /// Looks at the bytes of a file; its name says nothing.
    ///
    /// # Errors
    /// See [`NoLogo`].
    pub fn read(bytes: &[u8]) -> Result<Self, NoLogo> {
        if u64::try_from(bytes.len()).unwrap_or(u64::MAX) > MOST_BYTES {
            return Err(NoLogo::Large);
        }
        let dots = |read: fn(krilla::Data, bool) -> Result<Image, String>| {
            let image = read(bytes.to_vec().into(), true).map_err(NoLogo::Broken)?;
            let (w, h) = image.size();
            if [w, h].iter().any(|n| *n == 0 || *n > MOST_DOTS) {
                return Err(NoLogo::Dots);
            }
            // Only a picture that can be packed is one: broken ones are found here, not while printing.
            proved(&image)?;
            Ok(Self { kind: Kind::Dots(image), size: fit([w.into(), h.into()]) })
        };
        match bytes {
            [0x89, b'P', b'N', b'G', ..] => dots(Image::from_png),
            [0xff, 0xd8, 0xff, ..] => dots(Image::from_jpeg),
            _ => {
                let text = std::str::from_utf8(bytes).ok().filter(|t| t.contains("<svg"));
                let text = text.ok_or(NoLogo::Unknown)?;
                let size = tree(text).map_err(NoLogo::Broken)?.size();
                #[expect(clippy::cast_possible_truncation, reason = "only the shape counts")]
                let side = |n: f32| (n.ceil() as i64).max(1);
                Ok(Self {
                    kind: Kind::Svg(text.to_owned()),
                    size: fit([side(size.width()), side(size.height())]),
                })
            }
        }
    }
}

/// Prints the picture alone: what cannot be packed is told.
fn proved(image: &Image) -> Result<(), NoLogo> {
    let mut document = krilla::Document::new();
    let mut page = document.start_page();
    let mut surface = page.surface();
    if let Some(size) = krilla::geom::Size::from_wh(10.0, 10.0) {
        surface.draw_image(image.clone(), size);
    }
    surface.finish();
    page.finish();
    document.finish().map(drop).map_err(|_| NoLogo::Broken("its dots are broken off or spoilt".to_owned()))
}

/// The largest size in the room that keeps the shape.
fn fit([w, h]: [i64; 2]) -> [Hundredths; 2] {
    let wide = [ROOM[0], (ROOM[0] * h / w.max(1)).max(1)];
    let fit = if wide[1] <= ROOM[1] { wide } else { [(ROOM[1] * w / h.max(1)).max(1), ROOM[1]] };
    fit.map(|side| Hundredths::try_from(side).unwrap_or(1))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use super::*;

    const SVG: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"30mm\" height=\"10mm\"><rect width=\"30\" height=\"10\"/></svg>";

    #[test]
    fn shapes_are_kept() {
        // 60 mm wide at most, 20 mm high at most: 3 to 1 fills both, a square the height.
        assert_eq!(Logo::read(SVG.as_bytes()).unwrap().size, [6_000, 2_000]);
        let square = crate::png::png(&SVG.replace("30", "10"), 10, 64).unwrap();
        assert_eq!(Logo::read(&square).unwrap().size, [2_000, 2_000]);
    }

    #[test]
    fn what_is_no_picture_is_told() {
        assert_eq!(Logo::read(b"GIF89a").unwrap_err(), NoLogo::Unknown);
        assert_eq!(Logo::read(&vec![b' '; 2_000_001]).unwrap_err(), NoLogo::Large);
        assert!(matches!(Logo::read(b"<svg").unwrap_err(), NoLogo::Broken(_)));
        let whole = crate::png::png(SVG, 30, 300).unwrap();
        let half = &whole[..whole.len() / 2];
        assert!(matches!(Logo::read(half).unwrap_err(), NoLogo::Broken(_)), "broken off");
        assert!(matches!(Logo::read(&[0xff, 0xd8, 0xff, 0xe0, 0, 1]).unwrap_err(), NoLogo::Broken(_)));
    }
}
