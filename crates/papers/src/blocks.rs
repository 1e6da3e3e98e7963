//! What stands on a paper, from the top: headings, text, tables, pictures. Who prints it decides where.

use tankwright_export::page::{Page, Part};

use tankwright_quantities::words::Phrase;

use crate::Hundredths;
use crate::logo::Logo;
use crate::table::Table;

/// A column of the plain-text papers, as wide as a figure of body text.
const COLUMN: Hundredths = 190;

/// A paper.
#[derive(Clone, Debug, Default)]
pub struct Paper {
    /// Title of the file.
    pub title: String,
    /// Foot of every page, at the left.
    pub foot: String,
    /// `2026-11-25`: the file is dated so; the clock is never read.
    pub date: String,
    /// Language of its words: `en`.
    pub language: String,
    /// Over every page, framed: a draft's warning.
    pub mark: Option<String>,
    /// Body text in larger letters, to be read outdoors.
    pub large: bool,
    /// What stands on it.
    pub blocks: Vec<Block>,
}

/// A part of a paper.
#[derive(Clone, Debug)]
pub enum Block {
    /// The title of the paper.
    Title(String),
    /// A heading.
    Heading(String),
    /// Text that wraps: its first line and the others set in so far. A text that begins `[ ]` has a box to tick.
    Text {
        /// Of the first line.
        indent: Hundredths,
        /// Of the others.
        hang: Hundredths,
        /// In heavy letters.
        bold: bool,
        /// What it says.
        text: String,
    },
    /// Text to the left and to the right of one line.
    Apart(String, String),
    /// A table.
    Table(Table),
    /// A drawing, scaled down to fit where it must be.
    Picture {
        /// SVG.
        svg: String,
        /// In words.
        alt: String,
        /// Width and height at full size.
        size: [Hundredths; 2],
        /// No taller than this.
        most: Hundredths,
    },
    /// A drawing on a page of its own size, at its scale.
    Sheet {
        /// SVG.
        svg: String,
        /// In words.
        alt: String,
        /// Width and height.
        size: [Hundredths; 2],
    },
    /// The firm's picture, at the left.
    Logo {
        /// The picture.
        logo: Logo,
        /// In words.
        alt: String,
    },
    /// A line to write on, with what is to be written.
    Write(String),
    /// Room.
    Gap(Hundredths),
    /// What follows begins a page.
    NewPage,
}

impl Paper {
    /// Names the words that its language lacks, at its end.
    pub fn lacks(&mut self, words: &[String]) {
        if !words.is_empty() {
            self.blocks.push(Block::Gap(200));
            self.blocks.push(Block::text(Phrase::with("language-lacks", &[&words.join("; ")]).to_string()));
        }
    }
}

impl Block {
    /// Text from edge to edge.
    #[must_use]
    pub fn text(text: impl Into<String>) -> Self {
        Self::Text { indent: 0, hang: 0, bold: false, text: text.into() }
    }

    /// A line of a list, with its mark.
    #[must_use]
    pub fn listed(mark: &str, text: &str) -> Self {
        Self::Text { indent: 0, hang: 400, bold: false, text: format!("{mark}\u{a0}{text}") }
    }
}

/// The parts of a page of plain text.
#[must_use]
pub fn of_page(page: &Page) -> Vec<Block> {
    let columns = |n: usize| Hundredths::try_from(n).unwrap_or(0) * COLUMN;
    let one = |part: &Part| match part {
        Part::Blank => Block::Gap(200),
        Part::Heading(text) => Block::Heading(text.clone()),
        Part::Line(indent, hang, text) => {
            Block::Text { indent: columns(*indent), hang: columns(*hang), bold: false, text: text.clone() }
        }
        Part::Apart(left, right) => Block::Apart(left.clone(), right.clone()),
        Part::Table(table) => Block::Table(Table::of(table)),
    };
    page.parts().iter().map(one).collect()
}
