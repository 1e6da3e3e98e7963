//! The sheet about a drawing: where the drawing may lie, which scale, chains of dimensions, notes, title block.

mod block;
mod chain;
mod defaults;
mod notes;

pub(crate) use block::{Head, finish};
pub(crate) use chain::{Along, PITCH, chain, mm};
pub(crate) use defaults::note as note_defaults;
pub(crate) use notes::{Callout, Words, callouts, in_order, list, list_height};

use crate::paper::{Paper, Point, Rect};

/// A4 on its side.
pub(crate) const SIZE: [i64; 2] = [29_700, 21_000];
/// The frame.
pub(crate) const FRAME: Rect = Rect([1_000, 1_000, 28_700, 20_000]);
/// Where the title block begins.
pub(crate) const BLOCK: i64 = 18_000;
/// Where the drawing lies, with its dimensions and notes.
pub(crate) const FIELD: Rect = Rect([1_400, 1_550, 28_300, 16_250]);

/// Scales that a rule has, and three for what is too long for them.
pub const SCALES: [i64; 9] = [5, 10, 20, 25, 50, 100, 200, 500, 1_000];

/// An empty sheet.
pub(crate) fn sheet() -> Paper {
    Paper { size: SIZE, ..Paper::default() }
}

/// What must be said on a sheet, between drawing and legend.
pub(crate) fn caution(paper: &mut Paper, key: &str) {
    say(paper, tankwright_quantities::words::look_up(key));
}

/// The same in words that are made up.
pub(crate) fn say(paper: &mut Paper, words: &str) {
    paper.text(crate::paper::Text::note([FRAME.0[0] + 400, CAUTION], words, crate::paper::Anchor::Start));
}

/// Where a view lies with its dimensions and notes, while nothing else is on its sheet.
pub(crate) fn view(paper: &Paper) -> Rect {
    paper.extent().unwrap_or(FIELD).grown(ROUND)
}

/// Paper round a view without its sheet.
pub(crate) const ROUND: i64 = 200;

/// Line of the caution: over two rows of a legend.
const CAUTION: i64 = 16_650;

/// Tenths of a millimetre on site as hundredths on paper, to the nearest.
pub(crate) const fn scaled(tenths: i64, scale: i64) -> i64 {
    let n = tenths * 10;
    let half = scale / 2;
    if n < 0 { -((-n + half) / scale) } else { (n + half) / scale }
}

/// The largest scale at which a size fits a room.
pub(crate) fn scale_for(size: [i64; 2], room: [i64; 2]) -> i64 {
    let fits = |s: &&i64| size.iter().zip(room).all(|(n, room)| scaled(*n, **s) <= room);
    SCALES.iter().find(fits).copied().unwrap_or(1_000)
}

/// Room about a view for dimensions and notes: left, top, right, bottom.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Margins(pub(crate) [i64; 4]);

/// A view with its notes: where it lies, and where the notes go.
#[derive(Debug)]
pub(crate) struct Arranged {
    /// The view.
    pub(crate) placing: Placing,
    notes: Vec<Callout>,
    words: Words,
    field: Rect,
}

impl Arranged {
    /// The larger of two ways: notes in words beside the view, or numbers there and the words under it. `notes` point at
    /// places on site, levels at heights. `margins` has on the right what the view needs there itself.
    pub(crate) fn of(
        bounds: [[i64; 2]; 2],
        up: bool,
        margins: Margins,
        notes: Vec<Callout>,
        within: Rect,
    ) -> Self {
        let field = within.0;
        let with = |words| {
            let Margins([left, top, right, bottom]) = margins;
            let column = if notes.is_empty() { 0 } else { notes::column_width(&notes, words) + COLUMN };
            let under =
                if words == Words::Below { notes::list_height(&notes, field[2] - field[0]) } else { 0 };
            Placing::at(bounds, up, Margins([left, top, right + column, bottom + under]), within, None)
        };
        let (beside, below) = (with(Words::Beside), with(Words::Below));
        let high = notes::column_height(&notes, Words::Beside) > field[3] - field[1];
        let words = if high || below.scale < beside.scale { Words::Below } else { Words::Beside };
        Self { placing: if words == Words::Below { below } else { beside }, notes, words, field: within }
    }

    /// Puts the notes on the sheet: leaders of things run to `edge`, those of levels from `from`.
    pub(crate) fn put(self, paper: &mut Paper, [from, edge]: [i64; 2]) {
        let Self { placing, mut notes, words, field } = self;
        for note in &mut notes {
            let at = placing.point(note.at);
            note.at = if note.level.is_some() { [from, at[1]] } else { at };
        }
        notes::in_order(&mut notes);
        let Rect([left, top, right, bottom]) = field;
        let mut ends = [top, bottom];
        if words == Words::Below {
            notes::list(paper, &notes, field);
            ends[1] -= notes::list_height(&notes, right - left);
        }
        notes::callouts(paper, &notes, words, [edge, edge + 550], ends);
    }
}

/// Room between a view and its column of notes.
const COLUMN: i64 = 850;

/// From site to paper.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Placing {
    /// Scale.
    pub(crate) scale: i64,
    /// Where the site's zero lies.
    origin: Point,
    /// Does the second coordinate go up?
    up: bool,
}

impl Placing {
    /// A view of these bounds in the middle of a field, as large as it can be, or at a scale where one is given.
    pub(crate) fn at(
        [low, high]: [[i64; 2]; 2],
        up: bool,
        Margins([left, top, right, bottom]): Margins,
        Rect([x0, y0, x1, y1]): Rect,
        scale: Option<i64>,
    ) -> Self {
        let size = [high[0] - low[0], high[1] - low[1]];
        let room = [x1 - x0 - left - right, y1 - y0 - top - bottom];
        let scale = scale.unwrap_or_else(|| scale_for(size, room));
        let spare = [0, 1].map(|i| (room[i] - scaled(size[i], scale)).max(0) / 2);
        let first = if up { -high[1] } else { low[1] };
        let origin =
            [x0 + left + spare[0] - scaled(low[0], scale), y0 + top + spare[1] - scaled(first, scale)];
        Self { scale, origin, up }
    }

    /// A place on paper.
    pub(crate) const fn point(&self, [a, b]: [i64; 2]) -> Point {
        let b = if self.up { -b } else { b };
        [self.origin[0] + scaled(a, self.scale), self.origin[1] + scaled(b, self.scale)]
    }

    /// Outlines on paper.
    pub(crate) fn outlines(&self, of: &[Vec<[i64; 2]>]) -> Vec<Vec<Point>> {
        of.iter().map(|o| o.iter().map(|p| self.point(*p)).collect()).collect()
    }
}
