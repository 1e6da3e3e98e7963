//! Which line of the form a row of a copy is: by its mark; where that is lost by reference, then by words.

use std::collections::BTreeMap;

use tankwright_crosscheck::wording::spaced;
use tankwright_crosscheck::world::Pick;

use super::cells::Cells;
use super::form::{Form, Line, MARK, Sum, mark};

/// What a row of a copy stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Target {
    Row(usize),
    Sum(Sum),
    Field(&'static str),
}

/// By what it was known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum By {
    /// The mark in the hidden column.
    Mark,
    /// The reference, with words that are the same or nearly.
    Reference,
    /// The words.
    Words,
}

impl By {
    /// The word for it in JSON, for ever.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Mark => "mark",
            Self::Reference => "reference",
            Self::Words => "words",
        }
    }
}

/// A line of the form, ready to be compared.
struct Ours {
    target: Target,
    id: String,
    reference: String,
    words: String,
    unit: String,
}

fn ours(form: &Form) -> Vec<Ours> {
    let of = |line: &Line| {
        let id = mark(form, line).strip_prefix(MARK).unwrap_or_default().to_owned();
        let (target, reference, words, unit) = match line {
            Line::Row(i) => {
                let row = form.rows.get(*i)?;
                (Target::Row(*i), row.reference.clone(), &row.words, row.unit.clone())
            }
            Line::Sum(sum, reference, words) => (Target::Sum(*sum), reference.clone(), words, String::new()),
            Line::Field(id, words) => (Target::Field(id), String::new(), words, String::new()),
            Line::Heading(..) | Line::Gap => return None,
        };
        Some(Ours { target, id, reference, words: spaced(words), unit })
    };
    form.lines().iter().filter_map(of).collect()
}

/// Is a row, with its words spaced, this line of ours?
type Fits<'a> = dyn Fn(&Cells, &str, &Ours) -> bool + 'a;

/// What each row stands for, in the order of the rows; `works`: what the cross-check knows lines to be.
pub(super) fn matched(
    form: &Form,
    rows: &[Cells],
    works: &BTreeMap<usize, Vec<Pick>>,
) -> Vec<Option<(Target, By)>> {
    let mut free = ours(form);
    let words: Vec<String> = rows.iter().map(|r| spaced(&r.words)).collect();
    let mut found: Vec<Option<(Target, By)>> = vec![None; rows.len()];
    let passes: [(By, &Fits<'_>); 8] = [
        (By::Mark, &|r, w, o| r.id == o.id && w == o.words),
        (By::Reference, &|r, w, o| same(&r.reference, &o.reference) && w == o.words),
        (By::Mark, &|r, _, o| r.id == o.id && same(&r.reference, &o.reference)),
        (By::Mark, &|r, _, o| r.id == o.id),
        (By::Words, &|r, w, o| w == o.words && !blank(w) && r.unit.trim() == o.unit),
        (By::Words, &|_, w, o| w == o.words && !blank(w)),
        (By::Reference, &|r, w, o| {
            same(&r.reference, &o.reference) && matches!(o.target, Target::Row(_)) && near(w, &o.words)
        }),
        (By::Words, &|r, _, o| works.get(&r.line).is_some_and(|picks| is(picks, &o.id, form))),
    ];
    for (by, fits) in passes {
        for ((row, words), found) in rows.iter().zip(&words).zip(&mut found).filter(|(_, f)| f.is_none()) {
            if let Some(at) = free.iter().position(|o| fits(row, words, o)) {
                *found = Some((free.remove(at).target, by));
            }
        }
    }
    found
}

fn blank(spaced: &str) -> bool {
    spaced.trim().is_empty()
}

/// References as people write them: `A1`, `A.1`, `a 1`.
fn same(theirs: &str, ours: &str) -> bool {
    let plain =
        |t: &str| t.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_uppercase).collect::<String>();
    !ours.is_empty() && plain(theirs) == plain(ours)
}

/// At least half of the words of the longer one are in both, or all of the shorter one.
fn near(a: &str, b: &str) -> bool {
    let [a, b]: [Vec<&str>; 2] = [a, b].map(|t| t.split_whitespace().collect());
    let both = a.iter().filter(|w| b.contains(w)).count();
    both > 0 && (both * 2 >= a.len().max(b.len()) || both == a.len().min(b.len()))
}

/// The one row of the work that the cross-check names.
fn is(picks: &[Pick], id: &str, form: &Form) -> bool {
    let [pick] = picks else { return false };
    let start = format!("row/{}/", pick.work);
    match &pick.spec {
        Some(spec) => id == format!("{start}{spec}"),
        None => id.starts_with(&start) && form.rows.iter().filter(|r| r.id.starts_with(&start)).count() == 1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::returned::fixture::form;

    fn row(id: &str, reference: &str, words: &str) -> Cells {
        Cells { id: id.into(), reference: reference.into(), words: words.into(), ..Cells::default() }
    }

    fn found(rows: &[Cells]) -> Vec<Option<(usize, By)>> {
        let of = |f: Option<(Target, By)>| match f {
            Some((Target::Row(i), by)) => Some((i, by)),
            _ => None,
        };
        matched(&form(), rows, &BTreeMap::new()).into_iter().map(of).collect()
    }

    #[test]
    fn by_mark_then_reference_then_words() {
        let rows = [
            row("row/base/", "A1", "something else"),
            row("", "a.2", "Brick walls in mortar"),
            row("", "", "Pipe 110 mm, laid"),
            row("row/base/", "A1", "Concrete in base"),
        ];
        // The row with the form's own words is the row, though another one has its mark as well.
        assert_eq!(found(&rows), [None, Some((1, By::Reference)), Some((2, By::Words)), Some((0, By::Mark))]);
    }

    #[test]
    fn marks_that_were_moved_do_not_win_over_reference_and_words() {
        let rows =
            [row("row/walls/", "A1", "Concrete in base"), row("row/base/", "A2", "Brick walls in mortar")];
        assert_eq!(found(&rows), [Some((0, By::Reference)), Some((1, By::Reference))]);
        let strange = [row("", "A1", "Paint the gate")];
        assert_eq!(found(&strange), [None]);
    }
}
