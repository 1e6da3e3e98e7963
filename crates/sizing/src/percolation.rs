//! A percolation test in every usual form: a rate, or raw readings of a 300 mm hole.

use tankwright_geometry::Ratio;

use crate::unit::{Quantity, Unit};

/// The fall that a reading is taken over: from 225 to 75 mm of a hole 300 mm deep.
const FALL_MM: i128 = 150;
/// Readings in one hole and holes, as the test asks (AD H2, BS 6297).
const READINGS: usize = 3;
const HOLES: usize = 2;
/// More readings than anyone takes.
const MOST: usize = 100;

/// A test as read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Test {
    /// Seconds per millimetre of each reading, hole by hole; one of one for a rate.
    pub holes: Vec<Vec<Ratio>>,
    /// Times of falling water, not a rate.
    pub raw: bool,
}

/// Why a text is not a test.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotATest {
    /// Not a number with a unit.
    Form,
    /// A unit that is no time over a fall.
    Unit,
    /// Nothing, or less.
    Zero,
    /// More than 100 readings.
    Many,
    /// Times of a whole fall and rates together: a mean of both would be one of unlike things.
    Mixed,
}

impl Test {
    /// Reads `20 s/mm`, `180 mm/h`, `3000 s/150 mm`, or times for the fall from 225 to 75 mm:
    /// `50 min, 48 min, 52 min; 49 min, 50 min, 51 min`, holes parted by semicolons.
    ///
    /// # Errors
    /// See [`NotATest`].
    pub fn parse(text: &str) -> Result<Self, NotATest> {
        let (mut raw, mut rates) = (false, false);
        let mut holes = Vec::new();
        for hole in text.split(';') {
            let mut readings = Vec::new();
            for reading in hole.split(',') {
                let (rate, time) = rate(reading)?;
                raw |= time;
                rates |= !time;
                readings.push(rate);
            }
            holes.push(readings);
        }
        if holes.iter().map(Vec::len).sum::<usize>() > MOST {
            return Err(NotATest::Many);
        }
        if raw && rates {
            return Err(NotATest::Mixed);
        }
        Ok(Self { holes, raw })
    }

    fn readings(&self) -> impl Iterator<Item = Ratio> {
        self.holes.iter().flatten().copied()
    }

    /// The mean of all readings, s/mm.
    #[must_use]
    pub fn mean(&self) -> Ratio {
        let number = i128::try_from(self.readings().count()).unwrap_or(0);
        self.readings().sum::<Ratio>() / Ratio::int(number)
    }

    /// The slowest reading, s/mm.
    #[must_use]
    pub fn slowest(&self) -> Ratio {
        self.readings().max().unwrap_or(Ratio::UNKNOWN)
    }

    /// What the test lacks, in words.
    #[must_use]
    pub fn lacks(&self) -> Vec<String> {
        let mut lacks = Vec::new();
        if !self.raw {
            return lacks;
        }
        if self.holes.len() < HOLES {
            lacks.push("one hole only: the test asks for two at least".to_owned());
        }
        if self.holes.iter().any(|h| h.len() < READINGS) {
            lacks.push("fewer than three readings in a hole".to_owned());
        }
        if self.readings().any(|r| r * Ratio::int(FALL_MM) > Ratio::int(6 * 3_600)) {
            lacks.push("a hole that holds its water longer than 6 hours fails the test".to_owned());
        }
        lacks
    }
}

/// Seconds per millimetre, and whether it was the time of a whole fall.
fn rate(text: &str) -> Result<(Ratio, bool), NotATest> {
    let (mm_rate, rise, time) = (unit("s/mm")?, unit("mm/s")?, unit("s")?);
    let read = Quantity::parse(text).ok_or(NotATest::Form)?;
    if read.number.signum() <= 0 {
        return Err(NotATest::Zero);
    }
    if let Some(rate) = read.number_in(&mm_rate) {
        return Ok((rate, false));
    }
    if let Some(seconds) = read.number_in(&time) {
        return Ok((seconds / Ratio::int(FALL_MM), true));
    }
    match read.number_in(&rise) {
        Some(speed) => Ok((Ratio::ONE / speed, false)),
        None => Err(NotATest::Unit),
    }
}

fn unit(text: &str) -> Result<Unit, NotATest> {
    Unit::parse(text).ok_or(NotATest::Unit)
}

/// Units that a rate is printed in.
const FORMS: [&str; 5] = ["s/mm", "min/cm", "min/25mm", "min/in", "min/6in"];

/// A rate of s/mm in every usual form, the last as a speed.
#[must_use]
pub fn forms(rate: Ratio) -> Vec<(&'static str, Ratio)> {
    let from = Unit::parse("s/mm");
    let turned = |to: &str| Some(rate * from.as_ref()?.in_terms_of(&Unit::parse(to)?)?);
    let mut all: Vec<_> = FORMS.iter().filter_map(|f| Some((*f, turned(f)?))).collect();
    all.push(("mm/h", Ratio::int(3_600) / rate));
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_test_in_every_form() {
        let want = [
            ("s/mm", Ratio::int(3_000) / Ratio::int(225 - 75)),
            ("min/cm", Ratio::of(20 * 10, 60)),
            ("min/25mm", Ratio::of(20 * 25, 60)),
            ("min/in", Ratio::of(20 * 254, 60 * 10)),
            ("min/6in", Ratio::of(20 * 254 * 6, 60 * 10)),
            ("mm/h", Ratio::of(3_600, 20)),
        ];
        for text in ["20 s/mm", "180 mm/h", "3000 s", "50 min", "3000 s/150 mm", "50 min, 50 min; 50 min"] {
            let test = Test::parse(text);
            assert_eq!(test.map(|t| forms(t.mean())), Ok(want.to_vec()), "{text}");
        }
    }

    #[test]
    fn the_mean_and_the_slowest() {
        let test = Test::parse("40 min, 50 min, 60 min; 50 min, 50 min, 50 min")
            .unwrap_or_else(|_| Test { holes: Vec::new(), raw: false });
        assert_eq!(test.mean(), Ratio::int(20));
        assert_eq!(test.slowest(), Ratio::of(60 * 60, 150));
        assert_eq!(test.lacks(), Vec::<String>::new());
    }

    #[test]
    fn times_and_rates_are_not_averaged() {
        for text in ["50 min, 20 s/mm", "50 min; 180 mm/h"] {
            assert_eq!(Test::parse(text), Err(NotATest::Mixed), "{text}");
        }
    }

    #[test]
    fn nonsense() {
        for (text, why) in [
            ("", NotATest::Form),
            ("20", NotATest::Unit),
            ("20 l/d", NotATest::Unit),
            ("0 s/mm", NotATest::Zero),
            ("-5 min", NotATest::Zero),
            ("50 min,", NotATest::Form),
            ("fast", NotATest::Form),
        ] {
            assert_eq!(Test::parse(text), Err(why), "{text}");
        }
        assert_eq!(Test::parse(&["1 s"; 101].join(",")), Err(NotATest::Many));
    }
}
