//! The job as read: values by path, each with its place, and the inputs that trails name.

use std::cell::RefCell;
use std::sync::Arc;

use tankwright_geometry::{InputId, Len, Ratio};

use super::paths::Values;
use crate::problem::{Place, Problem};

/// Where a value comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Given {
    /// The user's own text.
    Here(Place),
    /// Left out: this default holds, from this source.
    Default(&'static str),
    /// Left out: nothing.
    Nothing,
}

/// How an input's value is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scale {
    /// Tenths of a millimetre.
    Length,
    /// A plain number.
    Plain,
}

/// A length, count or factor of the job file that trails can name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Input {
    /// Canonical path: `tank.chambers[0]`, `tank.cover.manholes[0][1]`.
    pub path: String,
    /// Value: tenths of a millimetre, or a plain number.
    pub value: Ratio,
    /// Which of the two.
    pub scale: Scale,
    /// May it be negative?
    pub any_sign: bool,
    /// Where it comes from.
    pub given: Given,
}

/// A value that is not an input.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Value {
    /// Text, choice, mix, date.
    Text(String),
    /// Yes or no.
    Flag(bool),
    /// A list of texts.
    Texts(Vec<String>),
    /// A plain decimal number (money, percentages: exact text kept).
    Number(Ratio),
    /// A length, count or factor: see `inputs`.
    Input(InputId),
    /// A list, or a table of the user's own keys; entries stand under `path[0]` or `path.key`.
    Group(Vec<String>),
}

/// The job. Paths that are absent answer with nothing: 0, false, an empty text.
#[derive(Debug, Default)]
pub struct Job {
    /// Name of the file as given.
    pub file: String,
    /// Every value, by canonical path; parts that exist stand here as `Group`.
    pub values: Arc<Values>,
    /// Lengths, counts and factors, in the order of the table of fields.
    pub inputs: Vec<Input>,
    /// Keep trails (a workbook or an explanation will be written)?
    pub trail: bool,
    problems: RefCell<Vec<Problem>>,
}

impl Job {
    /// Does a part or value exist in this job?
    #[must_use]
    pub fn has(&self, path: &str) -> bool {
        self.values.contains_key(path)
    }

    /// Does the user's own text give this part or value?
    #[must_use]
    pub fn given(&self, path: &str) -> bool {
        matches!(self.values.get(path), Some((_, Given::Here(_))))
    }

    /// Gives an input another value (tenths of a millimetre, or a plain number); `false` where there is none there.
    pub fn change(&mut self, path: &str, value: Ratio) -> bool {
        let Some((Value::Input(id), _)) = self.values.get(path) else {
            return false;
        };
        let input = self.inputs.get_mut(id.0 as usize);
        input.map(|i| i.value = value).is_some()
    }

    /// The same job, with trails.
    #[must_use]
    pub(crate) fn trailed(&self) -> Self {
        let problems = RefCell::default();
        Self {
            file: self.file.clone(),
            values: self.values.clone(),
            inputs: self.inputs.clone(),
            trail: true,
            problems,
        }
    }

    /// Has anything been reported since problems were last taken?
    pub(crate) fn has_problems(&self) -> bool {
        !self.problems.borrow().is_empty()
    }

    /// How many entries a list has; 0 when left out.
    #[must_use]
    pub fn count_of(&self, path: &str) -> usize {
        match self.values.get(path) {
            Some((Value::Group(entries), _)) => entries.len(),
            Some((Value::Texts(texts), _)) => texts.len(),
            _ => 0,
        }
    }

    /// A length (or factor) with its trail.
    #[must_use]
    pub fn len(&self, path: &str) -> Len {
        self.input(path).map_or(Len::ZERO, |(id, i)| Len::input(id, i.value, self.trail))
    }

    /// Both lengths of a size: along, across.
    #[must_use]
    pub fn size(&self, path: &str) -> [Len; 2] {
        [self.entry(path, 0), self.entry(path, 1)]
    }

    /// All lengths of a list.
    #[must_use]
    pub fn lens(&self, path: &str) -> Vec<Len> {
        (0..self.count_of(path)).map(|i| self.entry(path, i)).collect()
    }

    /// A length of a list.
    fn entry(&self, path: &str, i: usize) -> Len {
        // Asked for so often in a search that short paths are put together without a heap.
        let mut room = [0; 64];
        let end = path.len();
        if i < 10
            && let Some(text) = room.get_mut(..end + 3)
        {
            text[..end].copy_from_slice(path.as_bytes());
            text[end..].copy_from_slice(b"[0]");
            text[end + 1] += u8::try_from(i).unwrap_or(0);
            if let Ok(path) = std::str::from_utf8(text) {
                return self.len(path);
            }
        }
        self.len(&format!("{path}[{i}]"))
    }

    /// A whole number, with the input it comes from; 0 when left out.
    #[must_use]
    pub fn count(&self, path: &str) -> (InputId, i64) {
        let value = |i: &Input| i64::try_from(i.value.numer()).unwrap_or(0);
        self.input(path).map_or((InputId(u32::MAX), 0), |(id, i)| (id, value(i)))
    }

    /// The input at a path.
    #[must_use]
    pub fn input(&self, path: &str) -> Option<(InputId, &Input)> {
        let Some((Value::Input(id), _)) = self.values.get(path) else { return None };
        self.inputs.get(id.0 as usize).map(|i| (*id, i))
    }

    /// A text, choice, mix or date; empty when left out.
    #[must_use]
    pub fn text(&self, path: &str) -> &str {
        match self.values.get(path) {
            Some((Value::Text(text), _)) => text,
            _ => "",
        }
    }

    /// A list of texts; empty when left out.
    #[must_use]
    pub fn texts(&self, path: &str) -> &[String] {
        match self.values.get(path) {
            Some((Value::Texts(texts), _)) => texts,
            _ => &[],
        }
    }

    /// A plain number (money, percentage).
    #[must_use]
    pub fn number(&self, path: &str) -> Option<Ratio> {
        match self.values.get(path) {
            Some((Value::Number(n), _)) => Some(*n),
            _ => None,
        }
    }

    /// Yes or no; no when left out.
    #[must_use]
    pub fn flag(&self, path: &str) -> bool {
        matches!(self.values.get(path), Some((Value::Flag(true), _)))
    }

    /// Where a path stands in the user's text; the nearest part above it when left out.
    #[must_use]
    pub fn place(&self, path: &str) -> Option<Place> {
        let mut path = path;
        loop {
            if let Some((_, Given::Here(place))) = self.values.get(path) {
                return Some(place.clone());
            }
            path = &path[..path.rfind(['.', '['])?];
        }
    }

    /// Records a problem; elements report while they set out, and all are shown together.
    pub fn report(&self, problem: Problem) {
        self.problems.borrow_mut().push(problem);
    }

    /// Takes all problems recorded so far.
    pub fn take_problems(&self) -> Vec<Problem> {
        self.problems.take()
    }
}
