//! How the quantity of a line comes about, as people write it: `1 / 0.225 / 0.075, nearest 0.01, up 1, + 5 %`.

use rust_decimal::Decimal;
use tankwright_geometry::{Ratio, parse};

use crate::decimal::{ratio, rounded};

/// Which way a figure is rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Away from zero, to the next multiple.
    Up,
    /// Towards zero.
    Down,
    /// To the nearest multiple, halves away from zero.
    Nearest,
}

impl Way {
    const ALL: [Self; 3] = [Self::Up, Self::Down, Self::Nearest];

    /// As written.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Up => "up",
            Self::Down => "down",
            Self::Nearest => "nearest",
        }
    }
}

/// A figure "said" to a multiple of something: `up 1`, `nearest 0.10`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Say {
    /// Which way.
    pub way: Way,
    /// Above zero.
    pub to: Decimal,
}

impl Say {
    /// The figure said.
    #[must_use]
    pub fn of(self, value: Ratio) -> Ratio {
        let to = ratio(self.to);
        let steps = value / to;
        to * match self.way {
            Way::Up => -(-steps).floor(),
            Way::Down => steps.floor(),
            Way::Nearest => steps.round_half_away(Ratio::ONE),
        }
    }

    /// Reads `up 100`, or several one after the other: `nearest 1, up 10`; `None` where a text is something else.
    #[must_use]
    pub fn read_all(text: &str) -> Option<Vec<Self>> {
        let words = words(text);
        let pairs: Vec<&[String]> = words.chunks(2).collect();
        pairs.into_iter().map(|pair| Self::pair(pair.first()?, pair.get(1)?)).collect()
    }

    fn pair(way: &str, to: &str) -> Option<Self> {
        let way = Way::ALL.into_iter().find(|w| w.id() == way)?;
        let to = parse::decimal(to).filter(|n| n.signum() > 0).and_then(plain)?;
        Some(Self { way, to })
    }
}

/// One step of a working.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Step {
    Times(Ratio),
    Over(Ratio),
    More(Ratio),
    Say(Say),
}

/// A quantity with how it comes about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Working {
    /// As written.
    pub text: String,
    steps: Vec<Step>,
}

impl Working {
    /// Reads a working; `None` where the text is none, or where it divides by nothing.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let words = words(text);
        let mut words = words.iter().map(String::as_str);
        let number = |word: Option<&str>| word.and_then(parse::decimal);
        let mut steps = vec![Step::Times(number(words.next())?)];
        while let Some(word) = words.next() {
            steps.push(match word {
                "x" => Step::Times(number(words.next())?),
                "/" => Step::Over(number(words.next()).filter(|n| !n.is_zero())?),
                "+" => {
                    let more = number(words.next())?;
                    words.next().filter(|w| *w == "%")?;
                    Step::More(more)
                }
                way => Step::Say(Say::pair(way, words.next()?)?),
            });
        }
        Some(Self { text: text.trim().to_owned(), steps })
    }

    /// What comes out; unknown after an overflow.
    #[must_use]
    pub fn value(&self) -> Ratio {
        self.steps.iter().fold(Ratio::ONE, |value, step| match step {
            Step::Times(n) => value * *n,
            Step::Over(n) => value / *n,
            Step::More(percent) => value * (Ratio::int(100) + *percent) / Ratio::int(100),
            Step::Say(say) => say.of(value),
        })
    }

    /// Is there more to it than a number?
    #[must_use]
    pub fn is_worked(&self) -> bool {
        self.steps.len() > 1
    }
}

/// The words of a working; a comma parts them as a blank does, and `+5%` is three words.
fn words(text: &str) -> Vec<String> {
    let spaced = text.replace(',', " ").replace('%', " % ").replace('+', " + ").replace('/', " / ");
    spaced.split_whitespace().map(str::to_owned).collect()
}

/// The decimal that a fraction is.
fn plain(value: Ratio) -> Option<Decimal> {
    (0..=12).find_map(|p| rounded(value, p).filter(|d| ratio(*d) == value))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str) -> Option<Ratio> {
        Working::read(text).map(|w| w.value())
    }

    #[test]
    fn workings_as_people_write_them() {
        for (text, want) in [
            ("1.75", Ratio::of(7, 4)),
            ("1 / 1.25", Ratio::of(4, 5)),
            ("1 / 0.225 / 0.075, nearest 0.01", Ratio::of(5926, 100)), // 59.259...
            ("59.26, up 1, + 5 %", Ratio::int(63)),
            ("60 +5%", Ratio::int(63)),
            ("2 x 3.5, down 2", Ratio::int(6)),
            ("0.05, nearest 0.1", Ratio::of(1, 10)),
            ("6, up 3", Ratio::int(6)),
        ] {
            assert_eq!(value(text), Some(want), "{text}");
        }
        for text in
            ["", "x 2", "1 /", "1 / 0", "1 + 5", "1 up", "1 up 0", "1 2", "-1", "1,5 kg", "1 sideways 2"]
        {
            assert_eq!(value(text), None, "{text}");
        }
    }

    #[test]
    fn several_says_one_after_the_other() {
        let says = Say::read_all("nearest 1, up 10").unwrap_or_default();
        assert_eq!(says.iter().fold(Ratio::of(404, 10), |v, s| s.of(v)), Ratio::int(40)); // 40.4, 40, 40
        assert_eq!(Say::read_all("up 10").map(|s| s[0].of(Ratio::of(404, 10))), Some(Ratio::int(50)));
        assert!(["up", "100", "up x", "up 1 down"].iter().all(|t| Say::read_all(t).is_none()));
        assert_eq!(Say::read_all(""), Some(Vec::new()));
    }
}
