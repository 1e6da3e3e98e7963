//! What stands in the place of a rate: a figure, words, a dash, nothing. They are different things.

use tankwright_crosscheck::figure::{self, Figure};
use tankwright_crosscheck::wording::{Answer, Wording};
use tankwright_geometry::Ratio;

/// A figure beyond this is no price of a tank, and is taken for words.
const LARGEST: i128 = 1_000_000_000_000_000;

/// How a row is answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// A rate.
    Priced,
    /// An amount without a rate.
    Lump,
    /// The figure 0.
    Zero,
    /// "nil", "free": nothing is charged.
    Nil,
    /// "included": in another rate.
    Included,
    /// A dash, which may mean any of them.
    Dash,
    /// "not priced", "by client", "excluded".
    NotPriced,
    /// Words that say none of these.
    Words,
    /// Nothing.
    Blank,
    /// The row is not in the copy.
    Missing,
}

impl State {
    /// The word for it in JSON and CSV, for ever.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Priced => "priced",
            Self::Lump => "lump",
            Self::Zero => "zero",
            Self::Nil => "nil",
            Self::Included => "included",
            Self::Dash => "dash",
            Self::NotPriced => "not-priced",
            Self::Words => "words",
            Self::Blank => "blank",
            Self::Missing => "missing",
        }
    }

    /// Is it no answer? `nil`, `included` and 0 are answers: nothing more is asked for.
    #[must_use]
    pub const fn open(self) -> bool {
        matches!(self, Self::Dash | Self::NotPriced | Self::Words | Self::Blank | Self::Missing)
    }
}

/// The cells of a row that may answer.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Cells<'a> {
    pub(super) rate: &'a str,
    pub(super) amount: &'a str,
    pub(super) remark: &'a str,
}

/// What the cells say: the state, the rate, the amount as printed, and the words that stand for a rate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Said {
    pub(super) state: State,
    pub(super) rate: Option<Figure>,
    pub(super) amount: Option<Figure>,
    pub(super) words: String,
}

/// Reads the cells. `unread` is what our own form writes into amounts that have no rate.
pub(super) fn read(cells: Cells<'_>, words: &Wording, currency: &str, unread: &str) -> Said {
    let rate = money(cells.rate, currency);
    let amount = money(cells.amount, currency);
    let own = |text: &str| if text == unread { String::new() } else { text.to_owned() };
    let text =
        if rate.is_none() && !cells.rate.is_empty() { cells.rate.to_owned() } else { own(cells.amount) };
    let text = if amount.is_some() && cells.rate.is_empty() { String::new() } else { text };
    let zero = |f: Figure| f.value.is_zero();
    let state = match (rate, amount) {
        (Some(r), _) if zero(r) => State::Zero,
        (Some(_), _) => State::Priced,
        (None, Some(a)) if !zero(a) => State::Lump,
        _ => spoken(&text, cells.remark, words),
    };
    let text = if rate.is_some() { String::new() } else { text };
    Said { state, rate, amount, words: text }
}

/// The remark answers only where the cells of rate and amount say nothing.
fn spoken(text: &str, remark: &str, words: &Wording) -> State {
    let answer = |text: &str| {
        words.answer(text).map(|answer| match answer {
            Answer::Included => State::Included,
            Answer::Nil => State::Nil,
            Answer::NotPriced => State::NotPriced,
        })
    };
    let dash = !text.is_empty()
        && text.chars().all(|c| matches!(c, '-' | '\u{2013}' | '\u{2014}' | '_' | '/' | '.'));
    match (text.is_empty(), answer(text)) {
        (false, Some(state)) => state,
        (false, None) if dash => State::Dash,
        (false, None) => State::Words,
        (true, _) => answer(remark).unwrap_or(State::Blank),
    }
}

/// A figure, with the currency or a percent sign beside it.
pub(super) fn money(text: &str, currency: &str) -> Option<Figure> {
    let plain = text.trim();
    let lower = plain.to_lowercase();
    let code = currency.to_lowercase();
    let inner = lower.strip_prefix(code.as_str()).or_else(|| lower.strip_suffix(code.as_str()));
    let bare = inner.or_else(|| lower.strip_suffix('%')).unwrap_or(&lower);
    let sane = |f: &Figure| f.value.abs() <= Ratio::int(LARGEST);
    figure::read(plain).or_else(|| figure::read(bare.trim())).filter(sane)
}

#[cfg(test)]
mod tests {
    use super::*;
    use tankwright_crosscheck::wording::builtin;

    fn state(rate: &str, amount: &str, remark: &str) -> State {
        read(Cells { rate, amount, remark }, builtin(), "UGX", "no rate").state
    }

    #[test]
    fn each_is_a_thing_of_its_own() {
        for (rate, amount, remark, want) in [
            ("15 000", "30 000", "", State::Priced),
            ("UGX 15,000", "", "", State::Priced),
            ("", "30 000", "", State::Lump),
            ("0", "", "", State::Zero),
            ("nil", "", "", State::Nil),
            ("Incl.", "0", "", State::Included),
            ("", "included in A3", "", State::Included),
            ("", "no rate", "included in A3", State::Included),
            ("-", "", "", State::Dash),
            ("by client", "", "", State::NotPriced),
            ("ask me", "", "", State::Words),
            ("", "", "", State::Blank),
            ("", "no rate", "", State::Blank),
            // A sheet that multiplies by an empty cell says 0.
            ("", "0", "", State::Blank),
            ("5%", "", "", State::Priced),
        ] {
            assert_eq!(state(rate, amount, remark), want, "{rate:?} {amount:?} {remark:?}");
        }
        assert!(State::Blank.open() && State::Dash.open() && !State::Nil.open() && !State::Zero.open());
    }
}
