//! Where everything stands: blocks into pages, in hundredths of a millimetre from the upper left corner.
//!
//! Two passes: pages first, then their feet, so that "page 2 of 5" is known.

use crate::Hundredths;
use crate::blocks::{Block, Paper};
use crate::fonts::{width, wrap};
use crate::logo::Logo;
use crate::marks::{Kind, Laid, Mark, Node};
use crate::table::{Align, Row, Table};

/// A4.
pub(crate) const PAGE: [Hundredths; 2] = [21_000, 29_700];
/// Left, top, right, bottom.
const MARGINS: [Hundredths; 4] = [1_800, 1_600, 1_600, 2_000];
/// Size of body text.
const BODY: Hundredths = 320;
/// Sizes of large body text: as large as a card allows, to be read outdoors.
const LARGE: [Hundredths; 7] = [390, 370, 350, 335, 320, 300, 285];
/// One page is worth somewhat smaller letters, two all of the sizes.
const CARD: [usize; 2] = [3, 7];
/// The least size: 1.8 mm high, the smallest of ISO 3098; in the face used 0.729 of the size.
const LEAST: Hundredths = 247;
/// Size of letters on a foot.
const SMALL: Hundredths = 270;
/// Size of letters of a mark over a page.
const MARKED: Hundredths = 320;
/// A line, as a share of the size of its letters: 12 tenths.
const LINE: [Hundredths; 2] = [12, 10];
/// Side of a box to tick, as a share of the size: 8 tenths.
const BOX: [Hundredths; 2] = [8, 10];
/// What a text begins with that has a box to tick.
const TICK: &str = "[\u{a0}]";

/// Lays out a paper. `page_of` says "page {0} of {1}".
pub(crate) fn lay(paper: &Paper, page_of: &dyn Fn(&str, &str) -> String) -> Laid {
    let mut desk = Desk::new(BODY);
    desk.tight = paper.large;
    for group in paper.blocks.split_inclusive(|b| matches!(b, Block::NewPage)) {
        if paper.large {
            desk.size = fitting(group);
        }
        desk.blocks(group);
    }
    let mut laid = desk.done;
    let of = laid.pages.len().to_string();
    for (n, page) in laid.pages.iter_mut().enumerate() {
        laid.feet.push(page.len());
        // The foot of a drawing stands under its frame.
        let sheet = laid.sides.get(&n);
        let [wide, tall] = sheet.copied().unwrap_or(PAGE);
        let n = n + 1;
        if let Some(mark) = &paper.mark {
            over(page, mark, wide, sheet.is_some());
        }
        let y = if sheet.is_some() { tall - 450 } else { tall - MARGINS[3] + 900 };
        let (left, right) = (MARGINS[0], wide - MARGINS[2]);
        if sheet.is_none() {
            page.push(Mark::Line { from: [left, y - 450], to: [right, y - 450], pen: 18 });
        }
        let text = page_of(&n.to_string(), &of);
        let x = right - width(&text, SMALL, false);
        page.push(Mark::Text { at: [left, y], size: SMALL, bold: false, text: paper.foot.clone() });
        page.push(Mark::Text { at: [x, y], size: SMALL, bold: false, text });
    }
    laid
}

/// The largest letters with which a card takes no more pages than it should; its drawings do not count.
fn fitting(group: &[Block]) -> Hundredths {
    let text: Vec<Block> =
        group.iter().filter(|b| !matches!(b, Block::Sheet { .. } | Block::NewPage)).cloned().collect();
    let pages = LARGE.map(|size| {
        let mut desk = Desk::new(size);
        desk.tight = true;
        desk.blocks(&text);
        (size, desk.done.pages.len())
    });
    let in_pages = |(most, sizes): (usize, &usize)| pages.iter().take(*sizes).find(|(_, n)| *n <= most);
    let [.., least] = LARGE;
    (1..).zip(&CARD).find_map(in_pages).map_or(least, |(size, _)| *size)
}

/// A mark over a page, with a thick line under it; on a sheet, over its frame.
fn over(page: &mut Vec<Mark>, mark: &str, wide: Hundredths, sheet: bool) {
    let room = wide - MARGINS[0] - MARGINS[2];
    let lines = wrap(mark, MARKED, true, [room, room]);
    let mut y =
        if sheet { 750 } else { 1_050 } - tall(MARKED) * (Hundredths::try_from(lines.len()).unwrap_or(1) - 1);
    for text in lines {
        let x = (wide - width(&text, MARKED, true)) / 2;
        page.push(Mark::Text { at: [x, y], size: MARKED, bold: true, text });
        y += tall(MARKED);
    }
    let [left, right, y] = [MARGINS[0], wide - MARGINS[2], 1_300];
    if sheet {
        return;
    }
    page.push(Mark::Line { from: [left, y], to: [right, y], pen: 50 });
}

/// A picture as large as its page and its tallest allow, never larger than it is.
pub(crate) fn fitted(size: [Hundredths; 2], most: Hundredths) -> [Hundredths; 2] {
    let most = most.min(Desk::end() - MARGINS[1]);
    // The smaller of both scales, in whole numbers.
    let [w, h] = size.map(|side| i64::from(side.max(1)));
    let (room, most) = (i64::from(Desk::room()), i64::from(most));
    let by_width = [room.min(w), room.min(w) * h / w];
    let fit = if by_width[1] <= most { by_width } else { [most * w / h, most] };
    fit.map(|side| Hundredths::try_from(side).unwrap_or(0))
}

/// Width of the text.
pub(crate) const fn room() -> Hundredths {
    Desk::room()
}

struct Desk {
    done: Laid,
    /// Where the next line may begin.
    y: Hundredths,
    /// Size of body text.
    size: Hundredths,
    /// Little room between parts.
    tight: bool,
}

const fn tall(size: Hundredths) -> Hundredths {
    size * LINE[0] / LINE[1]
}

impl Desk {
    fn new(size: Hundredths) -> Self {
        Self { done: Laid { pages: vec![Vec::new()], ..Laid::default() }, y: MARGINS[1], size, tight: false }
    }

    const fn room() -> Hundredths {
        PAGE[0] - MARGINS[0] - MARGINS[2]
    }

    const fn end() -> Hundredths {
        PAGE[1] - MARGINS[3]
    }

    fn new_page(&mut self) {
        if self.done.pages.last().is_some_and(|p| !p.is_empty()) {
            self.done.pages.push(Vec::new());
        }
        self.y = MARGINS[1];
    }

    /// Begins a page where so much does not stand on this one.
    fn need(&mut self, height: Hundredths) {
        if self.y + height > Self::end() && self.y > MARGINS[1] {
            self.new_page();
        }
    }

    fn put(&mut self, mark: Mark) -> (usize, usize) {
        let page = self.done.pages.len().saturating_sub(1);
        let marks = &mut self.done.pages[page];
        marks.push(mark);
        (page, marks.len() - 1)
    }

    fn blocks(&mut self, blocks: &[Block]) {
        for (n, block) in blocks.iter().enumerate() {
            self.block(block, blocks.get(n + 1));
        }
    }

    fn block(&mut self, block: &Block, next: Option<&Block>) {
        match block {
            Block::Title(text) => self.text(Kind::Title, [0, 0], self.size * 16 / 10, true, text),
            Block::Heading(text) => {
                self.y += if self.y > MARGINS[1] { self.size * 4 / 10 } else { 0 };
                // A heading stands with what it heads.
                let with = match next {
                    Some(Block::Table(_)) => 4,
                    // All who sign, on one page.
                    Some(Block::Write(_)) => 6,
                    _ => 2,
                };
                self.need(tall(self.size) * (1 + with));
                self.text(Kind::Heading, [0, 0], self.size * 11 / 10, true, text);
            }
            Block::Text { indent, hang, bold, text } => {
                self.text(Kind::Text, [*indent, *hang], self.size, *bold, text);
            }
            Block::Small(text) => self.text(Kind::Text, [0, 0], (self.size * 7 / 10).max(LEAST), false, text),
            Block::Apart(left, right) => self.apart(left, right),
            Block::Table(table) => self.table(table),
            Block::Picture { svg, alt, size, most } => self.picture(svg, alt, *size, *most),
            Block::Sheet { svg, alt, size } => self.sheet(svg, alt, *size),
            Block::Logo { logo, alt } => self.logo(logo, alt),
            Block::Write(label) => self.write(label),
            // A heading brings its own room.
            Block::Gap(_) if self.tight && matches!(next, Some(Block::Heading(_))) => {}
            Block::Gap(height) => self.y += if self.y > MARGINS[1] { *height } else { 0 },
            Block::NewPage => self.new_page(),
        }
    }

    /// One line of letters whose upper edge is `y` now; the foot line is four fifths down.
    fn letters(&mut self, x: Hundredths, size: Hundredths, bold: bool, text: String) -> (usize, usize) {
        self.put(Mark::Text { at: [MARGINS[0] + x, self.y + size], size, bold, text })
    }

    fn text(
        &mut self,
        kind: Kind,
        [indent, hang]: [Hundredths; 2],
        size: Hundredths,
        bold: bool,
        text: &str,
    ) {
        let mut node = Node::new(kind);
        let (boxed, text) = match text.strip_prefix(TICK) {
            Some(rest) => (true, rest.trim_start()),
            None => (false, text),
        };
        let hang = if boxed { hang.max(indent + size * 15 / 10) } else { hang };
        let first = if boxed { hang } else { indent };
        let lines = wrap(text, size, bold, [Self::room() - first, Self::room() - hang]);
        for (n, line) in lines.into_iter().enumerate() {
            self.need(tall(size));
            if boxed && n == 0 {
                let side = size * BOX[0] / BOX[1];
                let at = [MARGINS[0] + indent, self.y + size - side];
                self.put(Mark::Box { at, side });
            }
            let x = if n == 0 { first } else { hang };
            node.marks.push(self.letters(x, size, bold, line));
            self.y += tall(size);
        }
        self.done.nodes.push(node);
    }

    fn apart(&mut self, left: &str, right: &str) {
        let size = self.size;
        let wide = width(right, size, false);
        if width(left, size, true) + wide + size > Self::room() {
            self.text(Kind::Text, [0, 0], size, true, left);
            return self.text(Kind::Text, [0, 0], size, false, right);
        }
        self.need(tall(size));
        let mut node = Node::new(Kind::Text);
        node.marks.push(self.letters(0, size, true, left.to_owned()));
        node.marks.push(self.letters(Self::room() - wide, size, false, right.to_owned()));
        self.y += tall(size);
        self.done.nodes.push(node);
    }

    /// A line to write on.
    fn write(&mut self, label: &str) {
        let size = self.size;
        self.need(tall(size) * 2);
        self.y += tall(size) * 8 / 10;
        let mut node = Node::new(Kind::Text);
        node.marks.push(self.letters(0, size, false, label.to_owned()));
        let from = MARGINS[0] + (width(label, size, false) + size).max(4_500);
        let y = self.y + size * 11 / 10;
        self.put(Mark::Line { from: [from, y], to: [PAGE[0] - MARGINS[2], y], pen: 18 });
        self.y += tall(size);
        self.done.nodes.push(node);
    }

    /// A drawing as large as it is, on a page as large; what follows begins another.
    fn sheet(&mut self, svg: &str, alt: &str, size: [Hundredths; 2]) {
        self.new_page();
        self.done.sides.insert(self.done.pages.len() - 1, size);
        let mut node = Node::new(Kind::Picture);
        node.alt = alt.to_owned();
        node.marks.push(self.put(Mark::Picture { at: [0, 0], size, svg: svg.to_owned() }));
        self.done.nodes.push(node);
        self.y = Self::end();
    }

    fn logo(&mut self, logo: &Logo, alt: &str) {
        self.need(logo.size[1]);
        let mut node = Node::new(Kind::Picture);
        node.alt = alt.to_owned();
        node.marks.push(self.put(Mark::Logo { at: [MARGINS[0], self.y], logo: logo.clone() }));
        self.y += logo.size[1] + self.size / 2;
        self.done.nodes.push(node);
    }

    fn picture(&mut self, svg: &str, alt: &str, size: [Hundredths; 2], most: Hundredths) {
        let fit = fitted(size, most);
        self.need(fit[1]);
        let mut node = Node::new(Kind::Picture);
        node.alt = alt.to_owned();
        let at = [MARGINS[0] + (Self::room() - fit[0]) / 2, self.y];
        node.marks.push(self.put(Mark::Picture { at, size: fit, svg: svg.to_owned() }));
        self.y += fit[1] + self.size / 2;
        self.done.nodes.push(node);
    }

    fn table(&mut self, table: &Table) {
        let size = self.size;
        self.size = table.letters(size, LEAST, Self::room());
        self.rows(table);
        self.size = size;
    }

    fn rows(&mut self, table: &Table) {
        let columns = table.columns(self.size, Self::room());
        let mut node = Node::new(Kind::Table);
        let mut heads: Option<&[String]> = None;
        for (n, row) in table.rows.iter().enumerate() {
            let lines = self.cells(table, &columns, row);
            let height = tall(self.size) * Hundredths::try_from(lines.len()).unwrap_or(1);
            // Heads are not left alone at the foot of a page; a sum stands with a row before it and its words.
            let more = match (row, table.rows.get(n + 1)) {
                (Row::Head(_), _) | (_, Some(Row::Sum(_))) => tall(self.size) * 3,
                (Row::Sum(_), _) => tall(self.size) * 2,
                _ => 0,
            };
            let page = self.done.pages.len();
            self.need(height + more);
            if self.done.pages.len() > page
                && n > 0
                && !matches!(row, Row::Head(_))
                && let Some(heads) = heads
            {
                // Said once; here it is an ornament.
                let again = self.cells(table, &columns, &Row::Head(heads.to_vec()));
                self.row(table, &columns, &Row::Head(Vec::new()), &again);
            }
            if let Row::Head(cells) = row {
                heads = Some(cells);
            }
            node.children.push(self.row(table, &columns, row, &lines));
        }
        self.done.nodes.push(node);
    }

    /// A row, line by line.
    fn cells(&self, table: &Table, columns: &[[Hundredths; 2]], row: &Row) -> Vec<Vec<String>> {
        let (cells, bold) = match row {
            Row::Head(cells) | Row::Sum(cells) => (cells, true),
            Row::Cells(cells) => (cells, false),
            Row::Across(text) => {
                let room = Self::room() - self.size;
                let lines = wrap(text, self.size, false, [room, room]);
                return lines.into_iter().map(|line| vec![line]).collect();
            }
        };
        let wrapped: Vec<Vec<String>> =
            columns.iter().zip(cells).map(|([_, w], cell)| wrap(cell, self.size, bold, [*w, *w])).collect();
        let lines = wrapped.iter().map(Vec::len).max().unwrap_or(1);
        let line = |n: usize| wrapped.iter().map(|c| c.get(n).cloned().unwrap_or_default()).collect();
        debug_assert!(cells.len() <= table.cols.len(), "a row has no more cells than columns");
        (0..lines).map(line).collect()
    }

    fn row(&mut self, table: &Table, columns: &[[Hundredths; 2]], row: &Row, lines: &[Vec<String>]) -> Node {
        let bold = matches!(row, Row::Head(_) | Row::Sum(_));
        let mut node = Node::new(Kind::Row);
        let kind = if matches!(row, Row::Head(_)) { Kind::Head } else { Kind::Cell };
        let rule = |desk: &mut Self, y| {
            let [left, right] = [MARGINS[0], PAGE[0] - MARGINS[2]];
            desk.put(Mark::Line { from: [left, y], to: [right, y], pen: 18 });
        };
        if matches!(row, Row::Sum(_)) {
            self.y += self.size * 3 / 10;
            rule(self, self.y);
        }
        let across = matches!(row, Row::Across(_));
        let cells = lines.first().map_or(0, Vec::len);
        node.children = (0..cells).map(|_| Node::new(kind)).collect();
        for line in lines {
            for (n, text) in line.iter().enumerate().filter(|(_, t)| !t.is_empty()) {
                let [from, wide] = columns.get(n).copied().unwrap_or([0, Self::room()]);
                let x = match table.cols.get(n) {
                    _ if across => self.size,
                    Some(Align::Right) => from + (wide - width(text, self.size, bold)).max(0),
                    _ => from,
                };
                let mark = self.letters(x, self.size, bold, text.clone());
                if let Some(cell) = node.children.get_mut(n) {
                    cell.marks.push(mark);
                }
            }
            self.y += tall(self.size);
        }
        if matches!(row, Row::Head(_)) {
            rule(self, self.y);
            self.y += self.size * 2 / 10;
        }
        node
    }
}
