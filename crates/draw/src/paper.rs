//! A sheet of paper: what is on it, in whole hundredths of a millimetre from its upper left corner.

use tankwright_quantities::works::Drawn;

use crate::letters::{reach, width};

/// A point: to the right, down.
pub type Point = [i64; 2];

/// Kinds of line. Widths and dashes follow ISO 128: cut outlines widest but for the ground, then what is seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pen {
    /// Outline of what is cut, 0.5.
    Cut,
    /// Ground, 0.7.
    Ground,
    /// What is seen behind the cut, 0.25.
    Seen,
    /// Pipes, 0.35.
    Pipe,
    /// Dimensions, leaders, 0.18.
    Thin,
    /// What is hidden: dashed.
    Hidden,
    /// Axes and cutting planes: long dash, dot.
    Chain,
    /// What lies before the cut: long dash, two dots.
    Before,
    /// The water line: long dashes.
    Water,
    /// Oblique strokes of dimensions, ends of cutting planes, 0.5.
    Tick,
    /// A sheet of polythene or felt: 0.7, dashed.
    Sheet,
    /// Frame, 0.5.
    Frame,
    /// Bars, 0.7.
    Bar,
    /// What is built in the stage that is shown, 1.0.
    New,
}

impl Pen {
    /// Outlines and edges that nothing may be written over.
    const fn is_thick(self) -> bool {
        matches!(self, Self::Cut | Self::Ground | Self::Sheet | Self::New)
    }
}

/// How an area is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fill {
    /// Not.
    None,
    /// White paper.
    White,
    /// Black.
    Black,
    /// By material.
    Of(Drawn),
    /// Ground as it lies.
    Earth,
    /// Water.
    Water,
    /// A face to be formed or lined, by a number of its own.
    Face(u8),
}

/// Where a text is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// At its beginning.
    Start,
    /// In its middle.
    Middle,
    /// At its end.
    End,
}

/// A text on one line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Text {
    /// Where it is held, on its line.
    pub at: Point,
    /// The text.
    pub text: String,
    /// Size of the face.
    pub size: i64,
    /// How it is held.
    pub anchor: Anchor,
    /// Read from the right, along an upright line.
    pub turned: bool,
    /// On clear ground of its own, over hatching.
    pub clear: bool,
}

/// A rectangle: left, top, right, bottom.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rect(pub [i64; 4]);

impl Rect {
    /// Do they share any area?
    #[must_use]
    pub const fn meets(&self, o: &Self) -> bool {
        self.0[0] < o.0[2] && o.0[0] < self.0[2] && self.0[1] < o.0[3] && o.0[1] < self.0[3]
    }

    /// Does it lie within another?
    #[must_use]
    pub const fn within(&self, o: &Self) -> bool {
        o.0[0] <= self.0[0] && o.0[1] <= self.0[1] && self.0[2] <= o.0[2] && self.0[3] <= o.0[3]
    }

    /// Does a straight line come into it?
    #[must_use]
    pub fn is_crossed(&self, a: Point, b: Point) -> bool {
        let side = |p: Point| ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])).signum();
        let sides = self.corners().map(side);
        Self::of(a, b).grown(1).meets(self) && sides.iter().any(|s| *s != sides[0])
    }

    /// Larger by so much all round.
    #[must_use]
    pub const fn grown(&self, by: i64) -> Self {
        let [a, b, c, d] = self.0;
        Self([a - by, b - by, c + by, d + by])
    }

    /// Round two points.
    #[must_use]
    pub fn of(a: Point, b: Point) -> Self {
        Self([a[0].min(b[0]), a[1].min(b[1]), a[0].max(b[0]), a[1].max(b[1])])
    }

    /// Its four corners.
    #[must_use]
    pub const fn corners(&self) -> [Point; 4] {
        let [a, b, c, d] = self.0;
        [[a, b], [c, b], [c, d], [a, d]]
    }
}

impl Text {
    /// Figures or a note, held in its middle.
    #[must_use]
    pub fn note(at: Point, text: impl Into<String>, anchor: Anchor) -> Self {
        Self { at, text: text.into(), size: crate::letters::NOTE, anchor, turned: false, clear: false }
    }

    /// The paper it takes.
    #[must_use]
    pub fn rect(&self) -> Rect {
        let (long, [over, under]) = (width(&self.text, self.size), reach(self.size));
        let before = match self.anchor {
            Anchor::Start => 0,
            Anchor::Middle => (long + 1) / 2,
            Anchor::End => long,
        };
        let [x, y] = self.at;
        if self.turned {
            // Turned to the left: the text runs up the paper.
            return Rect([x - over, y - (long - before), x + under, y + before]);
        }
        Rect([x - before, y - over, x - before + long, y + under])
    }
}

/// One thing on the paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Item {
    /// An area with holes: filled where a line out of it crosses its outlines an odd number of times.
    Area {
        /// Its outlines.
        outlines: Vec<Vec<Point>>,
        /// Filling.
        fill: Fill,
        /// Outline.
        pen: Option<Pen>,
        /// What it shows: the part's word.
        of: &'static str,
    },
    /// Straight lines from point to point.
    Line {
        /// The points.
        points: Vec<Point>,
        /// Pen.
        pen: Pen,
    },
    /// A circle.
    Circle {
        /// Middle.
        middle: Point,
        /// Radius.
        radius: i64,
        /// Filling.
        fill: Fill,
        /// Outline.
        pen: Option<Pen>,
    },
}

impl Item {
    /// Does a line of it, drawn with a pen that counts, run through a place?
    fn runs_through(&self, place: &Rect, counts: impl Fn(&Pen) -> bool) -> bool {
        let through = |points: &[Point], closed: bool| {
            let next = points.iter().skip(1).chain(points.first().filter(|_| closed));
            points.iter().zip(next).any(|(a, b)| place.is_crossed(*a, *b))
        };
        match self {
            Self::Area { outlines, pen: Some(pen), .. } if counts(pen) => {
                outlines.iter().any(|o| through(o, true))
            }
            Self::Line { points, pen } if counts(pen) => through(points, false),
            Self::Circle { middle: [x, y], radius, pen: Some(pen), .. } if counts(pen) => {
                let Rect([a, b, c, d]) = *place;
                let (near, far) = ([x.clamp(&a, &c), y.clamp(&b, &d)], place.corners());
                let square = |p: Point| (p[0] - x) * (p[0] - x) + (p[1] - y) * (p[1] - y);
                let farthest = far.into_iter().map(square).max().unwrap_or(0);
                square([*near[0], *near[1]]) <= radius * radius && radius * radius <= farthest
            }
            _ => false,
        }
    }
}

/// The sheet. Things put on it later lie over earlier ones; texts lie over all.
#[derive(Clone, Debug, Default)]
pub struct Paper {
    /// Width and height.
    pub size: [i64; 2],
    /// Areas and lines.
    pub items: Vec<Item>,
    /// Texts.
    pub texts: Vec<Text>,
    /// What is taken: texts must not lie there.
    pub taken: Vec<Rect>,
}

impl Paper {
    /// An area.
    pub fn area(&mut self, outlines: Vec<Vec<Point>>, fill: Fill, pen: Option<Pen>, of: &'static str) {
        if !outlines.is_empty() {
            self.items.push(Item::Area { outlines, fill, pen, of });
        }
    }

    /// A line.
    pub fn line(&mut self, points: &[Point], pen: Pen) {
        self.items.push(Item::Line { points: points.to_vec(), pen });
    }

    /// A circle.
    pub fn circle(&mut self, middle: Point, radius: i64, fill: Fill, pen: Option<Pen>) {
        self.items.push(Item::Circle { middle, radius, fill, pen });
    }

    /// A text, wherever it is: its place is taken from now on.
    pub fn text(&mut self, text: Text) {
        self.taken.push(text.rect());
        self.texts.push(text);
    }

    /// Is a place free of texts and of what must not be written over?
    #[must_use]
    pub fn is_free(&self, place: &Rect) -> bool {
        let all = Rect([0, 0, self.size[0], self.size[1]]);
        place.within(&all) && !self.taken.iter().any(|t| t.meets(place))
    }

    /// Puts a text at the first of some places where it lies on nothing; where there is none, at the first that is free
    /// of other texts. Nothing where all are taken.
    pub fn try_text(&mut self, text: Text, places: impl IntoIterator<Item = Point>) -> Option<Text> {
        self.try_ways(places.into_iter().map(|at| Text { at, ..text.clone() }))
    }

    /// The same for a text that may be turned or held in other ways.
    pub fn try_ways(&mut self, ways: impl IntoIterator<Item = Text>) -> Option<Text> {
        let free: Vec<Text> = ways.into_iter().filter(|t| self.is_free(&t.rect().grown(30))).collect();
        let text = free.iter().find(|t| self.is_open(t)).or(free.first()).cloned()?;
        self.text(text.clone());
        Some(text)
    }

    /// The same where it lies on nothing, or not at all.
    pub fn try_open(&mut self, ways: impl IntoIterator<Item = Text>) -> Option<Text> {
        let open = |t: &Text| self.is_free(&t.rect().grown(30)) && self.is_open(t);
        let text = ways.into_iter().find(open)?;
        self.text(text.clone());
        Some(text)
    }

    /// Does no thick line run through it?
    fn is_open(&self, text: &Text) -> bool {
        let place = text.rect().grown(20);
        !self.items.iter().any(|i| i.runs_through(&place, |pen| pen.is_thick()))
    }

    /// Does no line at all run through it, thin ones neither?
    #[must_use]
    pub fn is_clear(&self, text: &Text) -> bool {
        let place = text.rect().grown(40);
        !self.items.iter().any(|i| i.runs_through(&place, |_| true))
    }

    /// Round all that is on it.
    #[must_use]
    pub fn extent(&self) -> Option<Rect> {
        let item = |item: &Item| match item {
            Item::Area { outlines, .. } => outlines.iter().flatten().map(|p| Rect::of(*p, *p)).collect(),
            Item::Line { points, .. } => points.iter().map(|p| Rect::of(*p, *p)).collect(),
            Item::Circle { middle, radius, .. } => vec![Rect::of(*middle, *middle).grown(*radius)],
        };
        let items = self.items.iter().flat_map(item);
        items.chain(self.texts.iter().map(Text::rect)).reduce(|a: Rect, b| {
            let (a, b) = (a.0, b.0);
            Rect([a[0].min(b[0]), a[1].min(b[1]), a[2].max(b[2]), a[3].max(b[3])])
        })
    }

    /// Every hatching on it.
    #[must_use]
    pub fn fills(&self) -> std::collections::BTreeSet<Fill> {
        let fill = |item: &Item| match item {
            Item::Area { fill, .. } | Item::Circle { fill, .. } => Some(*fill),
            Item::Line { .. } => None,
        };
        self.items.iter().filter_map(fill).collect()
    }
}
