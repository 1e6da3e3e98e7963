//! A read drawing in dots: what drawings are made of, fills, hatchings, strokes and letters.
//!
//! Hatchings go their own way. A tile, which is never turned, is drawn once in whole dots and laid wherever an area
//! covers it; a renderer that samples it dot by dot takes ten times as long, and blurs it.

use resvg::tiny_skia::{FillRule, Mask, Paint, Pixmap, Transform};
use resvg::usvg;

/// Bytes of a dot: red, green, blue, and how much they cover.
const BYTES: usize = 4;

/// Where a drawing is drawn.
pub(crate) struct Canvas {
    dots: Pixmap,
    /// How much of each dot an area covers; nothing between two areas.
    cover: Mask,
    tiles: Vec<(String, Tile)>,
}

/// A hatching's tile, and a dot of the canvas where one begins.
struct Tile {
    dots: Pixmap,
    from: [i64; 2],
}

impl Canvas {
    /// A canvas without dots yet; `None` where it would have none at all.
    pub(crate) fn new(wide: u32, tall: u32) -> Option<Self> {
        Some(Self { dots: Pixmap::new(wide, tall)?, cover: Mask::new(wide, tall)?, tiles: Vec::new() })
    }

    /// The drawing on white.
    pub(crate) fn drawn(mut self, tree: &usvg::Tree) -> Pixmap {
        self.dots.fill(resvg::tiny_skia::Color::WHITE);
        self.group(tree.root(), Transform::identity());
        self.dots
    }

    fn group(&mut self, group: &usvg::Group, turn: Transform) {
        let turn = turn.pre_concat(group.transform());
        for node in group.children() {
            match node {
                usvg::Node::Group(group) => self.group(group, turn),
                usvg::Node::Path(path) => self.path(path, turn),
                usvg::Node::Text(text) => self.group(text.flattened(), turn),
                // A drawing brings nothing from outside itself.
                usvg::Node::Image(_) => {}
            }
        }
    }

    fn path(&mut self, path: &usvg::Path, turn: Transform) {
        if !path.is_visible() {
            return;
        }
        if let Some(fill) = path.fill() {
            let rule = match fill.rule() {
                usvg::FillRule::NonZero => FillRule::Winding,
                usvg::FillRule::EvenOdd => FillRule::EvenOdd,
            };
            if let usvg::Paint::Pattern(pattern) = fill.paint() {
                self.hatched(path, (rule, pattern), turn);
            } else if let Some(paint) = ink(fill.paint(), fill.opacity()) {
                self.dots.fill_path(path.data(), &paint, rule, turn, None);
            }
        }
        if let Some((stroke, paint)) = path.stroke().and_then(|s| Some((s, ink(s.paint(), s.opacity())?))) {
            self.dots.stroke_path(path.data(), &paint, &stroke.to_tiny_skia(), turn, None);
        }
    }

    fn hatched(
        &mut self,
        path: &usvg::Path,
        (rule, pattern): (FillRule, &usvg::Pattern),
        turn: Transform,
    ) -> Option<()> {
        let bounds = path.data().bounds().transform(turn)?.round_out()?;
        let at = match self.tiles.iter().position(|(id, _)| id == pattern.id()) {
            Some(at) => at,
            None => {
                self.tiles.push((pattern.id().to_owned(), tile(pattern, turn)?));
                self.tiles.len() - 1
            }
        };
        let Self { dots, cover, tiles } = self;
        let Tile { dots: tile, from } = &tiles.get(at)?.1;
        cover.fill_path(path.data(), rule, true, turn);
        let within = |from: i32, to: i32, end: u32| {
            let inside =
                |n: i32| usize::try_from(n.max(0)).unwrap_or(0).min(usize::try_from(end).unwrap_or(0));
            inside(from)..inside(to)
        };
        let columns = within(bounds.left(), bounds.right(), dots.width());
        let rows = within(bounds.top(), bounds.bottom(), dots.height());
        let (wide, inner) = (side(dots.width()), side(tile.width()));
        let place = |n: usize, from: i64, side: u32| {
            let n = i64::try_from(n).unwrap_or(0) - from;
            usize::try_from(n.rem_euclid(i64::from(side.max(1)))).unwrap_or(0)
        };
        let first = place(columns.start, from[0], tile.width());
        for y in rows {
            let of_tile = place(y, from[1], tile.height()) * inner;
            let tile = tile.data().get(of_tile * BYTES..(of_tile + inner) * BYTES)?;
            let row = y * wide + columns.start..y * wide + columns.end;
            let onto = dots.data_mut().get_mut(row.start * BYTES..row.end * BYTES)?;
            let covers = cover.data_mut().get_mut(row)?;
            let mut at = first * BYTES;
            for (onto, cover) in onto.chunks_exact_mut(BYTES).zip(covers) {
                if *cover > 0 {
                    over(onto, &tile[at..at + BYTES], *cover);
                    *cover = 0;
                }
                at += BYTES;
                if at == tile.len() {
                    at = 0;
                }
            }
        }
        Some(())
    }
}

/// A plain colour; drawings have no other.
fn ink(paint: &usvg::Paint, opacity: usvg::Opacity) -> Option<Paint<'static>> {
    let usvg::Paint::Color(color) = paint else { return None };
    let mut ink = Paint::default();
    ink.set_color_rgba8(color.red, color.green, color.blue, opacity.to_u8());
    Some(ink)
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::float_arithmetic,
    reason = "the renderer's sizes are no whole numbers; dots are"
)]
fn tile(pattern: &usvg::Pattern, turn: Transform) -> Option<Tile> {
    let (across, down) = turn.get_scale();
    let rect = pattern.rect();
    let [wide, tall] = [rect.width() * across, rect.height() * down].map(|n| n.round() as u32);
    let mut canvas = Canvas::new(wide, tall)?;
    canvas.group(pattern.root(), Transform::from_scale(across, down));
    let from = [turn.tx + rect.x() * across, turn.ty + rect.y() * down].map(|n| n.round() as i64);
    Some(Tile { dots: canvas.dots, from })
}

fn side(n: u32) -> usize {
    usize::try_from(n).unwrap_or(0)
}

/// A dot of a tile over a dot of the canvas, as far as the area covers it.
fn over(onto: &mut [u8], tile: &[u8], cover: u8) {
    let opaque = tile.last().copied().unwrap_or(0);
    match (opaque, cover) {
        (0, _) => return,
        (255, 255) => return onto.copy_from_slice(tile),
        _ => {}
    }
    let cover = u32::from(cover);
    let kept = 255 - u32::from(opaque) * cover / 255;
    for (onto, tile) in onto.iter_mut().zip(tile) {
        let sum = (u32::from(*tile) * cover + u32::from(*onto) * kept + 127) / 255;
        *onto = u8::try_from(sum).unwrap_or(u8::MAX);
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use super::*;

    const HATCHED: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"8\" height=\"4\"><defs>\
        <pattern id=\"p\" width=\"2\" height=\"2\" patternUnits=\"userSpaceOnUse\">\
        <rect width=\"1\" height=\"2\" fill=\"#000\"/></pattern></defs>\
        <path fill=\"url(#p)\" d=\"M1 1h6v2h-6z\"/></svg>";

    #[test]
    fn tiles_are_laid_within_the_area_alone() {
        let tree = crate::png::tree(HATCHED).unwrap();
        let dots = Canvas::new(8, 4).unwrap().drawn(&tree);
        let row = |y| (0..8).map(|x| if dots.pixel(x, y).unwrap().red() == 0 { '#' } else { '.' }).collect();
        let rows: Vec<String> = (0..4).map(row).collect();
        assert_eq!(rows, ["........", "..#.#.#.", "..#.#.#.", "........"]);
    }

    #[test]
    fn half_covered_is_half_as_dark() {
        let mut dot = [255, 255, 255, 255];
        over(&mut dot, &[0, 0, 0, 255], 128);
        assert_eq!(dot, [127, 127, 127, 255]);
        over(&mut dot, &[0, 0, 0, 0], 255);
        assert_eq!(dot, [127, 127, 127, 255]);
    }
}
