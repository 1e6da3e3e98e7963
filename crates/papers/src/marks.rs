//! What is drawn on pages, and what it means: marks by page, and the structure that a reader is told.

use std::collections::BTreeMap;

use crate::Hundredths;
use crate::logo::Logo;

/// What a reader is told that a mark belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    Title,
    Heading,
    Text,
    Table,
    Row,
    Head,
    Cell,
    Picture,
}

/// The paper's structure: parts in reading order.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    pub(crate) kind: Kind,
    /// In words, for a picture.
    pub(crate) alt: String,
    pub(crate) children: Vec<Self>,
    /// Page and place among its marks.
    pub(crate) marks: Vec<(usize, usize)>,
}

impl Node {
    pub(crate) fn new(kind: Kind) -> Self {
        Self { kind, alt: String::new(), children: Vec::new(), marks: Vec::new() }
    }
}

/// Something drawn.
#[derive(Clone, Debug)]
pub(crate) enum Mark {
    /// Letters: left end of their foot line.
    Text { at: [Hundredths; 2], size: Hundredths, bold: bool, text: String },
    /// A line.
    Line { from: [Hundredths; 2], to: [Hundredths; 2], pen: Hundredths },
    /// A box to tick: upper left corner, side.
    Box { at: [Hundredths; 2], side: Hundredths },
    /// The firm's picture: upper left corner.
    Logo { at: [Hundredths; 2], logo: Logo },
    /// A drawing: upper left corner, width and height.
    Picture { at: [Hundredths; 2], size: [Hundredths; 2], svg: String },
}

impl Mark {
    /// Is it told to a reader, or an ornament?
    pub(crate) const fn told(&self) -> bool {
        matches!(self, Self::Text { .. } | Self::Picture { .. } | Self::Logo { .. })
    }
}

/// Pages of marks, and what they mean.
#[derive(Debug, Default)]
pub(crate) struct Laid {
    pub(crate) pages: Vec<Vec<Mark>>,
    pub(crate) nodes: Vec<Node>,
    /// Marks from here on, page by page, are its foot.
    pub(crate) feet: Vec<usize>,
    /// Sides of pages that are not A4 upright, by page.
    pub(crate) sides: BTreeMap<usize, [Hundredths; 2]>,
}
