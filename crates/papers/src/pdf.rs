//! A laid-out paper as PDF: real letters from embedded faces, tagged in reading order, dated by the job.

use std::collections::{BTreeMap, BTreeSet};
use std::num::NonZeroU16;

use krilla::color::luma;
use krilla::geom::{PathBuilder, Point, Rect, Size, Transform};
use krilla::metadata::{DateTime, Metadata};
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, SpanTag, TableHeaderScope, Tag, TagGroup, TagKind,
    TagTree,
};
use krilla::text::Font;
use krilla::{Document, SerializeSettings};
use krilla_svg::{SurfaceExt, SvgSettings};

use crate::blocks::{Block, Paper};
use crate::fonts;
use crate::layout::{PAGE, lay};
use crate::letters::glyphs;
use crate::marks::{Kind, Laid, Mark, Node};
use crate::png::tree;
use crate::table::Row;

/// Why there is no file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NotPrinted {
    /// Letters that the faces lack: nothing is printed with holes in it.
    Letters(BTreeSet<char>),
    /// A drawing that cannot be read.
    Drawing(String),
    /// What the writer says.
    Writer(String),
}

/// Points to a hundredth of a millimetre: 72 / 2540.
const SCALE: f32 = 0.028_346_457;

/// The paper as PDF. `page_of` says "page {0} of {1}". The same bytes for the same paper.
///
/// # Errors
/// See [`NotPrinted`].
pub fn pdf(paper: &Paper, page_of: &dyn Fn(&str, &str) -> String) -> Result<Vec<u8>, NotPrinted> {
    let missing = letters(paper);
    if !missing.is_empty() {
        return Err(NotPrinted::Letters(missing));
    }
    let laid = lay(paper, page_of);
    let mut document = Document::new_with(SerializeSettings::default());
    document.set_metadata(metadata(paper));
    let faces = Faces::new().ok_or_else(|| NotPrinted::Writer("the bundled faces cannot be read".into()))?;
    let mut told = BTreeMap::new();
    for (n, marks) in laid.pages.iter().enumerate() {
        let sides = laid.sides.get(&n).copied().unwrap_or(PAGE).map(points);
        let size = PageSettings::from_wh(sides[0], sides[1]);
        let mut page = document.start_page_with(size.ok_or_else(|| NotPrinted::Writer("no page".into()))?);
        let mut surface = page.surface();
        let foot = laid.feet.get(n).copied().unwrap_or(usize::MAX);
        for (i, mark) in marks.iter().enumerate() {
            let belongs = i < foot && mark.told() && belongs(&laid, (n, i));
            let tag = match mark {
                Mark::Text { .. } if belongs => ContentTag::Span(SpanTag::empty()),
                Mark::Picture { .. } | Mark::Logo { .. } if belongs => ContentTag::Other,
                _ if i >= foot => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Footer)),
                _ => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)),
            };
            let id = surface.start_tagged(tag);
            faces.draw(&mut surface, mark)?;
            surface.end_tagged();
            if belongs {
                told.insert((n, i), id);
            }
        }
        surface.finish();
        page.finish();
    }
    let mut root = TagTree::new().with_lang(Some(paper.language.clone()));
    for node in &laid.nodes {
        if let Some(group) = group(node, &mut told) {
            root.push(group);
        }
    }
    document.set_tag_tree(root);
    document.finish().map_err(|e| NotPrinted::Writer(format!("{e:?}")))
}

/// Every letter that a face lacks.
fn letters(paper: &Paper) -> BTreeSet<char> {
    let mut missing = BTreeSet::new();
    let mut look = |text: &str, bold: bool| missing.extend(text.chars().filter(|c| !fonts::has(bold, *c)));
    look(&paper.foot, false);
    look(paper.mark.as_deref().unwrap_or_default(), true);
    for block in &paper.blocks {
        match block {
            Block::Title(text) | Block::Heading(text) => look(text, true),
            Block::Text { text, bold, .. } => look(text, *bold),
            Block::Write(text) | Block::Small(text) => look(text, false),
            Block::Apart(left, right) => {
                look(left, true);
                look(right, false);
            }
            Block::Table(table) => table.rows.iter().for_each(|row| match row {
                Row::Head(cells) | Row::Sum(cells) => cells.iter().for_each(|c| look(c, true)),
                Row::Cells(cells) => cells.iter().for_each(|c| look(c, false)),
                Row::Across(text) => look(text, false),
            }),
            Block::Picture { .. }
            | Block::Sheet { .. }
            | Block::Logo { .. }
            | Block::Gap(_)
            | Block::NewPage => {}
        }
    }
    missing
}

/// Is the mark part of what is read out?
fn belongs(laid: &Laid, place: (usize, usize)) -> bool {
    fn within(node: &Node, place: (usize, usize)) -> bool {
        node.marks.contains(&place) || node.children.iter().any(|n| within(n, place))
    }
    laid.nodes.iter().any(|n| within(n, place))
}

/// A part with all that belongs to it; none where nothing of it is drawn.
fn group(node: &Node, told: &mut BTreeMap<(usize, usize), Identifier>) -> Option<TagGroup> {
    let level = |n: u16| NonZeroU16::new(n).unwrap_or(NonZeroU16::MIN);
    let tag: TagKind = match node.kind {
        Kind::Title => Tag::Hn(level(1), None).into(),
        Kind::Heading => Tag::Hn(level(2), None).into(),
        Kind::Text => Tag::P.into(),
        Kind::Table => Tag::Table.into(),
        Kind::Row => Tag::TR.into(),
        Kind::Head => Tag::TH(TableHeaderScope::Column).into(),
        Kind::Cell => Tag::TD.into(),
        Kind::Picture => Tag::Figure(Some(node.alt.clone())).into(),
    };
    let mut group = TagGroup::new(tag);
    let (mut any, cell) = (false, matches!(node.kind, Kind::Head | Kind::Cell));
    for place in &node.marks {
        if let Some(id) = told.remove(place) {
            group.push(id);
            any = true;
        }
    }
    for child in &node.children {
        if let Some(child) = self::group(child, told) {
            group.push(child);
            any = true;
        }
    }
    (any || cell).then_some(group)
}

fn metadata(paper: &Paper) -> Metadata {
    let mut day = paper.date.split('-').map(|n| n.parse::<u16>().unwrap_or(1));
    let (year, month, date) = (day.next().unwrap_or(2000), day.next().unwrap_or(1), day.next().unwrap_or(1));
    let small = |n: u16| u8::try_from(n).unwrap_or(1);
    let created = DateTime::new(year).month(small(month)).day(small(date));
    Metadata::new()
        .title(paper.title.clone())
        .language(paper.language.clone())
        .creator("tankwright".to_owned())
        .creation_date(created)
}

/// A length in points. The only place where a whole number becomes another.
#[expect(clippy::cast_precision_loss, clippy::float_arithmetic, reason = "the file wants points")]
fn points(hundredths: crate::Hundredths) -> f32 {
    hundredths as f32 * SCALE
}

struct Faces([Font; 2]);

impl Faces {
    fn new() -> Option<Self> {
        let [regular, bold] = [false, true].map(|b| Font::new(fonts::bytes(b).into(), 0));
        Some(Self([regular?, bold?]))
    }

    fn draw(&self, surface: &mut Surface<'_>, mark: &Mark) -> Result<(), NotPrinted> {
        let at = |[x, y]: &[crate::Hundredths; 2]| Point::from_xy(points(*x), points(*y));
        match mark {
            Mark::Text { at: place, size, bold, text } => {
                let paint = luma::Color::black().into();
                surface.set_fill(Some(Fill { paint, opacity: NormalizedF32::ONE, rule: Default::default() }));
                surface.set_stroke(None);
                let face = self.0[usize::from(*bold)].clone();
                surface.draw_glyphs(at(place), &glyphs(text, *bold), face, text, points(*size), false);
            }
            Mark::Line { from, to, pen } => {
                let mut path = PathBuilder::new();
                let (a, b) = (at(from), at(to));
                path.move_to(a.x, a.y);
                path.line_to(b.x, b.y);
                stroke(surface, points(*pen));
                path.finish().iter().for_each(|path| surface.draw_path(path));
            }
            Mark::Box { at: place, side } => {
                let (p, side) = (at(place), points(*side));
                let mut path = PathBuilder::new();
                Rect::from_xywh(p.x, p.y, side, side).iter().for_each(|r| path.push_rect(*r));
                stroke(surface, points(25));
                path.finish().iter().for_each(|path| surface.draw_path(path));
            }
            Mark::Logo { at: place, logo } => match &logo.kind {
                crate::logo::Kind::Svg(svg) => {
                    let drawn = Mark::Picture { at: *place, size: logo.size, svg: svg.clone() };
                    self.draw(surface, &drawn)?;
                }
                crate::logo::Kind::Dots(image) => {
                    let p = at(place);
                    surface.push_transform(&Transform::from_translate(p.x, p.y));
                    let size = Size::from_wh(points(logo.size[0]), points(logo.size[1]));
                    size.into_iter().for_each(|size| surface.draw_image(image.clone(), size));
                    surface.pop();
                }
            },
            Mark::Picture { at: place, size, svg } => {
                let tree = tree(svg).map_err(NotPrinted::Drawing)?;
                let p = at(place);
                surface.push_transform(&Transform::from_translate(p.x, p.y));
                let done = Size::from_wh(points(size[0]), points(size[1]))
                    .and_then(|size| surface.draw_svg(&tree, size, SvgSettings::default()));
                surface.pop();
                done.ok_or_else(|| NotPrinted::Drawing("nothing to draw".to_owned()))?;
            }
        }
        Ok(())
    }
}

fn stroke(surface: &mut Surface<'_>, pen: f32) {
    surface.set_fill(None);
    surface.set_stroke(Some(Stroke { paint: luma::Color::black().into(), width: pen, ..Stroke::default() }));
}
