//! What the user says, read in the fixed unit of each input; every mistake is reported.

use std::collections::BTreeMap;

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::plain;
use tankwright_quantities::problem::Problem;

use crate::known::{self, Form, Known};
use crate::percolation::{NotATest, Test};
use crate::unit::{Quantity, Unit};

/// One input as given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Given {
    /// A number in the input's unit.
    Number(Ratio),
    /// A word.
    Word(String),
    /// A test.
    Test(Test),
}

/// All that is given.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Inputs {
    values: BTreeMap<&'static str, Given>,
    texts: BTreeMap<&'static str, String>,
}

impl Inputs {
    /// Reads names and texts.
    ///
    /// # Errors
    /// Everything that is wrong, together: codes U030 to U039.
    pub fn read<'a>(pairs: impl IntoIterator<Item = (&'a str, &'a str)>) -> Result<Self, Vec<Problem>> {
        let (mut inputs, mut problems) = (Self::default(), Vec::new());
        for (name, text) in pairs {
            let Some(known) = known::ALL.iter().find(|k| k.name == name) else {
                let all: Vec<&str> = known::ALL.iter().map(|k| k.name).collect();
                problems.push(wrong(
                    "U030",
                    format!("`{name}` is no input of a sizing rule"),
                    all.join(", "),
                ));
                continue;
            };
            match value(known, text.trim()) {
                Ok(given) => {
                    inputs.values.insert(known.name, given);
                    inputs.texts.insert(known.name, text.trim().to_owned());
                }
                Err(problem) => problems.push(*problem),
            }
        }
        problems.extend(inputs.pit());
        if problems.is_empty() { Ok(inputs) } else { Err(problems) }
    }

    /// The depth below the inlet of a pit; an inlet below the base is refused.
    fn pit(&mut self) -> Option<Problem> {
        let inlet = self.number("pit-inlet").unwrap_or(Ratio::ZERO);
        let Some(depth) = self.number("pit-depth") else {
            let without = self.number("pit-inlet").is_some();
            return without.then(|| {
                wrong(
                    "U038",
                    "an inlet of a pit whose depth is not given".into(),
                    "give --pit-depth too".into(),
                )
            });
        };
        if inlet >= depth {
            let message = "the inlet of the pit is not above its base".to_owned();
            return Some(wrong("U039", message, "both are measured from the ground down".into()));
        }
        if self.number("pit-inlet").is_some() {
            self.values.insert(known::PIT_WATER.name, Given::Number(depth - inlet));
        }
        None
    }

    /// A value as given.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Given> {
        self.values.get(name)
    }

    /// A number in the input's unit.
    #[must_use]
    pub fn number(&self, name: &str) -> Option<Ratio> {
        match self.values.get(name) {
            Some(Given::Number(n)) => Some(*n),
            _ => None,
        }
    }

    /// A word.
    #[must_use]
    pub fn word(&self, name: &str) -> Option<&str> {
        match self.values.get(name) {
            Some(Given::Word(w)) => Some(w),
            _ => None,
        }
    }

    /// The percolation test.
    #[must_use]
    pub fn test(&self) -> Option<&Test> {
        match self.values.get("percolation") {
            Some(Given::Test(t)) => Some(t),
            _ => None,
        }
    }

    /// Names and texts as the user wrote them, in the order of the list of inputs.
    pub fn as_written(&self) -> impl Iterator<Item = (&'static str, &str)> {
        known::ALL.iter().filter_map(|k| self.texts.get(k.name).map(|t| (k.name, t.as_str())))
    }

    /// True where nothing is given.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.texts.is_empty()
    }
}

fn wrong(code: &'static str, message: String, hint: String) -> Problem {
    Problem::error(code, None, message).hint(hint)
}

/// Reads one value in the unit of its input.
///
/// # Errors
/// The problem, with a hint how it is written.
pub fn value(known: &Known, text: &str) -> Result<Given, Box<Problem>> {
    let hint = || format!("as --{} \"{}\": {}", known.name, known.example, known.help);
    let err = |code, message: String| Err(Box::new(wrong(code, message, hint())));
    let name = known.name;
    match known.form {
        Form::Word(words) => {
            if words.contains(&text) {
                return Ok(Given::Word(text.to_owned()));
            }
            let message = format!("--{name} cannot be `{text}`");
            Err(Box::new(wrong("U031", message, format!("one of: {}", words.join(", ")))))
        }
        Form::Test => match Test::parse(text) {
            Ok(test) if test.slowest() <= known.most && test.slowest().is_known() => Ok(Given::Test(test)),
            Ok(_) => err("U036", format!("`{text}` is slower than any soil that is tested")),
            Err(why) => {
                let message = match why {
                    NotATest::Form => format!("`{text}` is not a number with a unit"),
                    NotATest::Unit => {
                        format!("`{text}` is no time, no time over a fall, no fall over a time")
                    }
                    NotATest::Zero => format!("`{text}` is not more than 0"),
                    NotATest::Many => "more than 100 readings".to_owned(),
                    NotATest::Mixed => format!("`{text}` mixes times of a whole fall with rates"),
                };
                let hint = "as \"20 s/mm\", \"3.3 min/cm\", \"8.3 min/25mm\", \"8.5 min/in\", \"180 mm/h\", or \
                            times for the fall from 225 to 75 mm: \"50 min, 48 min, 52 min; 49 min, 50 min, 51 min\"";
                Err(Box::new(wrong("U037", message, hint.into())))
            }
        },
        Form::Whole | Form::Number | Form::Measure => {
            let unit = Unit::parse(known.unit).unwrap_or_else(Unit::one);
            if text.contains(',') {
                return err(
                    "U032",
                    format!("--{name}: a number is written without commas, `{text}` has one"),
                );
            }
            let Some(read) = Quantity::parse(text) else {
                return err("U032", format!("--{name}: `{text}` is not a number with a unit that is known"));
            };
            let bare = read.unit == Unit::one();
            let number =
                if bare && known.form != Form::Measure { Some(read.number) } else { read.number_in(&unit) };
            let Some(number) = number else {
                let message = if bare {
                    format!("--{name}: `{text}` has no unit")
                } else {
                    format!("--{name}: `{text}` is not in {}, or what can be turned into it", known.unit)
                };
                return err("U033", message);
            };
            if known.form == Form::Whole && number.denom() != 1 {
                return err("U034", format!("--{name}: `{text}` is not a whole number"));
            }
            if number < known.least || number > known.most {
                let least = if known.least.signum() > 0 { "more than 0".into() } else { plain(known.least) };
                let to = format!("{} {}", plain(known.most), unit.shown());
                return err("U035", format!("--{name}: `{text}` is not from {least} to {}", to.trim_end()));
            }
            Ok(Given::Number(number))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_mistakes_are_told_together() {
        let pairs = [
            ("persons", "14.5"),
            ("bedrooms", "0"),
            ("flow", "1.2"),
            ("water-use", "120 l/d"),
            ("years", "three"),
            ("temperature", "99"),
            ("wastes", "grey"),
            ("percolation", "slow"),
            ("water-table", "4,2 m"),
            ("pit-inlet", "1 m"),
            ("colour", "red"),
        ];
        let told = Inputs::read(pairs).err().unwrap_or_default();
        let codes: Vec<_> = told.iter().map(|p| p.code).collect();
        assert_eq!(
            codes,
            ["U034", "U035", "U033", "U033", "U032", "U035", "U031", "U037", "U032", "U030", "U038"]
        );
        assert!(told.iter().all(|p| p.hint.is_some()));
    }

    #[test]
    fn units_are_turned_into_the_inputs_own() {
        let pairs =
            [("flow", "1680 l/d"), ("years", "3 years"), ("temperature", "22 degC"), ("persons", "14")];
        let inputs = Inputs::read(pairs).unwrap_or_default();
        assert_eq!(inputs.number("flow"), Some(Ratio::of(168, 100)));
        assert_eq!(inputs.number("years"), Some(Ratio::int(3)));
        assert_eq!(inputs.number("temperature"), Some(Ratio::int(22)));
        let pit = Inputs::read([("pit-depth", "3 m"), ("pit-inlet", "560 mm")]).unwrap_or_default();
        assert_eq!(pit.number("pit-water"), Some(Ratio::of(244, 100)));
        let codes = |d, i| Inputs::read([("pit-depth", d), ("pit-inlet", i)]).map_err(|p| p[0].code);
        assert_eq!(codes("1 m", "1 m"), Err("U039"));
    }
}
