//! Which lengths a drawing shows, and where: each is changed a little, and what moves on the drawing is what shows it.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use serde::{Deserialize, Serialize};
use tankwright_draw::paper::Text;
use tankwright_draw::texts;
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;
use tankwright_quantities::flow::Settings;
use tankwright_quantities::job::edit::edited;
use tankwright_quantities::problem::Severity;
use tankwright_run as run;

use crate::answer::{Ask, Came, Read, drawn};
use crate::desk::Desk;

/// By how much a length is changed, tenths of a millimetre: the first that the job allows. Walls go by half a brick.
const STEPS: [i64; 6] = [100, -100, 1_100, -1_100, 1_000, -1_000];

/// Paths that are looked at in one question.
const MOST: usize = 64;

/// What is asked.
#[derive(Debug, Deserialize)]
pub(crate) struct Which {
    text: String,
    /// Id of the drawing.
    picture: String,
    /// Paths of lengths.
    paths: Vec<String>,
}

/// What a drawing shows of each length; nothing where this cannot be told.
#[derive(Debug, Default, Serialize)]
pub(crate) struct Figures {
    picture: String,
    /// Width and height of the sheet, hundredths of a millimetre.
    size: [u32; 2],
    shows: BTreeMap<String, Option<Shows>>,
}

/// Does the drawing change with it, and which of its texts do.
#[derive(Debug, Serialize)]
struct Shows {
    here: bool,
    marks: Vec<Mark>,
}

/// A text that changes: its place, hundredths of a millimetre, and whether it is the very figure.
#[derive(Debug, Serialize)]
struct Mark {
    at: [i64; 4],
    says: String,
    own: bool,
}

impl Desk {
    /// What a drawing shows of these lengths.
    pub(crate) fn figures(&self, which: &Which) -> Figures {
        let read = self.read(&Ask { text: which.text.clone(), ..Ask::default() }, false);
        let Came::Made(e, _) = self.looked(&read) else { return Figures::default() };
        let Some(before) = drawn(&e, &which.picture) else { return Figures::default() };
        let one = |path: &String| {
            let shows =
                self.moved(&read, path, &before.id).map(|after| shows(&read, path, &before.svg, &after));
            (path.clone(), shows)
        };
        let shows = which.paths.iter().take(MOST).map(one).collect();
        Figures { picture: before.id, size: [before.width_mm * 100, before.height_mm * 100], shows }
    }

    /// The drawing with a length changed; nothing where no change of ours can be.
    fn moved(&self, read: &Read, path: &str, id: &str) -> Option<String> {
        let (_, input) = read.job.input(path)?;
        let changed = STEPS.into_iter().filter_map(|step| {
            let value = decimal::plain((input.value + Ratio::int(step.into())) / Ratio::int(10));
            let edit = run::typed::edit(path, &format!("{value} mm"));
            let text = edited(&read.text, &read.job, &[edit]).ok()?;
            let (job, problems) = run::read_job(&self.given.name, &text, false);
            if problems.iter().any(|p| p.severity == Severity::Error) {
                return None;
            }
            let made = run::estimate(&job, &self.given.data.stock, None, &Settings::default(), false).ok()?;
            Some(drawn(&made.estimate, id)?.svg)
        });
        changed.take(1).next()
    }
}

fn shows(read: &Read, path: &str, before: &str, after: &str) -> Shows {
    let figure = read.job.input(path).map(|(_, i)| decimal::plain(i.value / Ratio::int(10)));
    let figure = figure.unwrap_or_default();
    let (old, new) = (texts(before), texts(after));
    let same = old.len() == new.len();
    let stays = |i: usize, text: &String| match same {
        true => new.get(i).is_some_and(|t| t.text == *text),
        false => new.iter().any(|t| t.text == *text),
    };
    let moved = old.iter().enumerate().filter(|(i, t)| !stays(*i, &t.text));
    let mark = |(_, t): (usize, &Text)| Mark { at: t.rect().0, own: t.text == figure, says: t.text.clone() };
    let marks: Vec<Mark> = moved.map(mark).collect();
    Shows { here: !marks.is_empty() || !same || !alike(before, after), marks }
}

/// Less than this nobody sees on paper, hundredths of a millimetre: a floor that falls stands a hair lower in a section
/// of a tank that is a little longer.
const HAIR: i64 = 4;

/// Are two drawings of the same texts the same but for a hair? What is said of them in words may differ.
fn alike(before: &str, after: &str) -> bool {
    let told = |line: &&str| !line.starts_with("<title");
    let (a, b) = (before.lines().filter(told), after.lines().filter(told));
    before.lines().count() == after.lines().count() && a.zip(b).all(|(a, b)| a == b || near(a, b))
}

/// Two lines with the same words and nearly the same numbers.
fn near(a: &str, b: &str) -> bool {
    let (a, b) = (parts(a), parts(b));
    let pair = |(x, y): (&&str, &&str)| {
        x == y || hundredths(x).zip(hundredths(y)).is_some_and(|(x, y)| (x - y).abs() <= HAIR)
    };
    a.len() == b.len() && a.iter().zip(&b).all(pair)
}

/// A line in numbers and what stands between them.
fn parts(line: &str) -> Vec<&str> {
    let number = |c: char| c.is_ascii_digit() || c == '.' || c == '-';
    let mut parts = Vec::new();
    let mut rest = line;
    while let Some(first) = rest.chars().next() {
        let end = rest.find(|c| number(c) != number(first)).unwrap_or(rest.len());
        let (part, more) = rest.split_at(end);
        parts.push(part);
        rest = more;
    }
    parts
}

fn hundredths(text: &str) -> Option<i64> {
    let value: Decimal = text.parse().ok()?;
    value.checked_mul(Decimal::ONE_HUNDRED)?.trunc().to_i64()
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_hair_is_nothing_and_a_word_is_something() {
        for (a, b, alike) in [
            ("<path d=\"M1 2L3.5 4\"/>", "<path d=\"M1 2.04L3.5 4\"/>", true),
            ("<path d=\"M1 2L3.5 4\"/>", "<path d=\"M1 2.05L3.5 4\"/>", false),
            ("<path d=\"M-1 2\"/>", "<path d=\"M1 2\"/>", false),
            ("<path d=\"M1 2\"/>", "<path d=\"M1 2Z\"/>", false),
            ("a\nb", "a", false),
        ] {
            assert_eq!(super::alike(a, b), alike, "{a} {b}");
        }
    }
}
