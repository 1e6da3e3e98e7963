//! Figures of publications: what is printed, what ours is, and why they differ; held, and written as one page.

use std::fmt::Write as _;

use rust_decimal::Decimal;
use tankwright_geometry::{Ratio, parse};
use tankwright_quantities::decimal::{ratio, rounded, shown};

/// What figures are from.
#[derive(Clone, Copy, Debug)]
pub struct Publication {
    /// What it is, and whose.
    pub title: &'static str,
    /// Where it was read; `the project's notes` where they stand between it and us.
    pub source: &'static str,
    /// Slips and differences that are no figure of ours.
    pub remarks: &'static [&'static str],
}

/// How ours stands to what is printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stands {
    /// The very number.
    Same,
    /// The same when it is rounded to the digits that are printed.
    Near,
    /// Apart: rounded, ours is `right`; and why.
    Apart {
        /// Ours, to the digits that the test states.
        right: String,
        /// What went wrong there, or what differs.
        why: String,
    },
}

/// One printed figure.
#[derive(Clone, Debug)]
pub struct Figure {
    /// What it is, with its unit.
    pub what: String,
    /// As printed.
    pub printed: String,
    /// As the program or its formulas give it.
    pub ours: Ratio,
    /// How the two stand.
    pub stands: Stands,
}

/// A number that can be ours.
#[derive(Clone, Copy, Debug)]
pub struct Ours(Ratio);

impl From<Ratio> for Ours {
    fn from(n: Ratio) -> Self {
        Self(n)
    }
}

impl From<Decimal> for Ours {
    fn from(n: Decimal) -> Self {
        Self(ratio(n))
    }
}

impl From<i64> for Ours {
    fn from(n: i64) -> Self {
        Self(Ratio::int(n.into()))
    }
}

impl From<&str> for Ours {
    fn from(text: &str) -> Self {
        Self(number(text))
    }
}

impl From<&String> for Ours {
    fn from(text: &String) -> Self {
        Self(number(text))
    }
}

fn number(text: &str) -> Ratio {
    parse::decimal(text).unwrap_or(Ratio::UNKNOWN)
}

fn figure(what: &str, printed: &str, ours: Ours, stands: Stands) -> Figure {
    Figure { what: what.to_owned(), printed: printed.to_owned(), ours: ours.0, stands }
}

/// A figure that is the very number printed.
pub fn same(what: &str, printed: &str, ours: impl Into<Ours>) -> Figure {
    figure(what, printed, ours.into(), Stands::Same)
}

/// A figure that agrees when it is rounded to the digits printed.
pub fn near(what: &str, printed: &str, ours: impl Into<Ours>) -> Figure {
    figure(what, printed, ours.into(), Stands::Near)
}

/// A figure that differs: ours is `right` when rounded to the digits of `right`; and why.
pub fn slip(what: &str, printed: &str, right: &str, ours: impl Into<Ours>, why: &str) -> Figure {
    let apart = Stands::Apart { right: right.to_owned(), why: why.to_owned() };
    figure(what, printed, ours.into(), apart)
}

/// A list of very numbers, one for each name and figure printed.
///
/// # Panics
/// Where there are more or fewer of ours.
#[must_use]
pub fn each(printed: &[(&str, &str)], ours: &[Decimal]) -> Vec<Figure> {
    assert_eq!(printed.len(), ours.len(), "{printed:?}, {ours:?}");
    printed.iter().zip(ours).map(|((what, printed), ours)| same(what, printed, *ours)).collect()
}

fn places(text: &str) -> u32 {
    text.split_once('.').map_or(0, |(_, after)| u32::try_from(after.len()).unwrap_or(u32::MAX))
}

fn rounds_to(ours: Ratio, text: &str) -> bool {
    number(text).is_known() && rounded(ours, places(text)).is_some_and(|d| ratio(d) == number(text))
}

impl Figure {
    /// Whether it stands as it says it does.
    #[must_use]
    pub fn holds(&self) -> bool {
        match &self.stands {
            Stands::Same => number(&self.printed).is_known() && number(&self.printed) == self.ours,
            Stands::Near => rounds_to(self.ours, &self.printed),
            Stands::Apart { right, why } => {
                let apart = number(&self.printed).is_known() && number(&self.printed) != number(right);
                apart && !why.is_empty() && rounds_to(self.ours, right)
            }
        }
    }

    /// Cells of its row: what, printed, ours with two places more, difference, why.
    fn row(&self) -> String {
        let (right, why) = match &self.stands {
            Stands::Apart { right, why } => (right.as_str(), why.as_str()),
            Stands::Same | Stands::Near => (self.printed.as_str(), ""),
        };
        let least = places(&self.printed).max(places(right));
        let ours = rounded(self.ours, least + 2).unwrap_or_default();
        let by = rounded(number(&self.printed), least + 2).map_or(ours, |printed| ours - printed);
        let digits = |d: Decimal| shown(d, d.normalize().scale().max(least));
        let sign = if by.is_sign_negative() || by.is_zero() { "" } else { "+" };
        let by = if by.is_zero() { "0".to_owned() } else { format!("{sign}{}", by.normalize()) };
        format!("| {} | {} | {} | {by} | {why} |", self.what, self.printed, digits(ours))
    }
}

/// One file of `tests/published/`: its name, what it is from, its figures.
pub type Part = (&'static str, Publication, Vec<Figure>);

/// `tests/PUBLISHED.md`.
#[must_use]
pub fn page(parts: &[Part]) -> String {
    let apart = |f: &&Figure| matches!(f.stands, Stands::Apart { .. });
    let all: Vec<&Figure> = parts.iter().flat_map(|p| &p.2).collect();
    let slips = all.iter().copied().filter(apart).count();
    let mut out = format!(
        "# Published examples\n\n\
         Written by the tests, from the figures that they hold; do not edit. To write it anew:\n\
         `TANKWRIGHT_UPDATE=1 cargo test -p tankwright-tests --test acceptance -- published`. A source may be the project's\n\
         own notes, which name theirs; printed is then what they give.\n\n\
         {} files, {} figures: {} agree, {slips} differ as their rows say. A figure agrees where ours, rounded to the \
         digits printed, is what is printed. Ours is shown with up to two places more; the difference is ours less what is \
         printed. The tests beside them hold what is no printed figure: exact sums, what the cross-check says.\n\n\
         | publication | figures | differ |\n|---|---|---|\n",
        parts.len(),
        all.len(),
        all.len() - slips
    );
    for (file, of, figures) in parts {
        let apart = figures.iter().filter(apart).count();
        let _ = writeln!(out, "| {} (`{file}.rs`) | {} | {apart} |", of.title, figures.len());
    }
    for (file, of, figures) in parts {
        let _ = writeln!(out, "\n## {}\n\n{}. Test: `tests/published/{file}.rs`.\n", of.title, of.source);
        for remark in of.remarks {
            let _ = writeln!(out, "* {remark}");
        }
        let gap = if of.remarks.is_empty() { "" } else { "\n" };
        let _ = writeln!(out, "{gap}| figure | printed | ours | difference | why |\n|---|---|---|---|---|");
        for figure in figures {
            let _ = writeln!(out, "{}", figure.row());
        }
    }
    out
}
