//! What the user says about the search: options of the command line over `[cheapest]` of the job, the same words.

use std::collections::BTreeMap;

use tankwright_geometry::{LengthError, Ratio, parse, parse_length};
use tankwright_quantities::job::{Job, suggestion};
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::{MasonryUnit, Stock};

use crate::codes::Fault;

/// Least and most of a length, tenths of a millimetre.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Range {
    /// Least.
    pub least: i64,
    /// Most.
    pub most: i64,
}

/// A masonry unit, and the walls it is to make where the user says so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnitAsk {
    /// Its id.
    pub id: String,
    /// Wall, tenths of a millimetre.
    pub wall: Option<i64>,
    /// Partition.
    pub partition: Option<i64>,
}

/// Who says a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum By {
    /// The command line.
    Option,
    /// `[cheapest]` of the job.
    Job,
}

/// What is searched, as far as the user says. Lengths are tenths of a millimetre.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Asked {
    /// All chambers together.
    pub length: Option<Range>,
    /// First chamber.
    pub first: Option<Range>,
    /// Width.
    pub width: Option<Range>,
    /// `tank.height`.
    pub depth: Option<Range>,
    /// Step.
    pub step: Option<i64>,
    /// Numbers of chambers.
    pub chambers: Vec<usize>,
    /// Units.
    pub units: Vec<UnitAsk>,
    /// Thicknesses of the cover.
    pub covers: Vec<i64>,
    /// Span beam: with, without.
    pub beams: Vec<bool>,
    /// Pit faces: open?
    pub faces: Vec<bool>,
    /// Working space of an open pit.
    pub working_space: Option<i64>,
    /// Outer plan, m2.
    pub max_plan: Option<Ratio>,
    /// Who says what, by the name of the value.
    pub from: BTreeMap<&'static str, By>,
}

/// Names of all values, as keys of the job file; options have `-` for `_`.
pub const NAMES: [&str; 12] = [
    "length",
    "first",
    "width",
    "depth",
    "step",
    "chambers",
    "units",
    "covers",
    "span_beam",
    "faces",
    "working_space",
    "max_plan",
];

/// Least and most of a clear length, a cover, a step, a working space: what a job file takes.
const CLEAR: Range = Range { least: 1_000, most: 1_000_000 };
const COVER: Range = Range { least: 500, most: 1_000_000 };
const STEP: Range = Range { least: 10, most: 10_000 };
const SPACE: Range = Range { least: 0, most: 1_000_000 };

/// What is wrong with a value.
struct Flaw {
    fault: Fault,
    message: String,
    hint: String,
}

fn flaw<T>(fault: Fault, message: String, hint: impl Into<String>) -> Result<T, Flaw> {
    Err(Flaw { fault, message, hint: hint.into() })
}

impl Asked {
    /// What the command line says, by the names of the values, over what the job says.
    ///
    /// # Errors
    /// Everything that is wrong on the command line: codes U050 to U056.
    pub fn read(job: &Job, stock: &Stock, over: &[(&'static str, &str)]) -> Result<Self, Vec<Problem>> {
        let mut asked = Self::default();
        let mut problems = Vec::new();
        for (name, text) in texts(job) {
            if over.iter().all(|(n, _)| *n != name) && asked.take(name, &text, stock).is_ok() {
                asked.from.insert(name, By::Job);
            }
        }
        for (name, text) in over {
            match asked.take(name, text, stock) {
                Ok(()) => drop(asked.from.insert(name, By::Option)),
                Err(f) => {
                    let message = format!("--{}: {}", name.replace('_', "-"), f.message);
                    problems.push(Problem::error(f.fault.option(), None, message).hint(f.hint));
                }
            }
        }
        if problems.is_empty() { Ok(asked) } else { Err(problems) }
    }

    fn take(&mut self, name: &str, text: &str, stock: &Stock) -> Result<(), Flaw> {
        let text = text.trim();
        match name {
            "length" => self.length = Some(range(text, CLEAR)?),
            "first" => self.first = Some(range(text, CLEAR)?),
            "width" => self.width = Some(range(text, CLEAR)?),
            "depth" => self.depth = Some(range(text, CLEAR)?),
            "step" => self.step = Some(step(text)?),
            "chambers" => self.chambers = list(text, number)?,
            "units" => self.units = list(text, |t| unit(t, stock))?,
            "covers" => self.covers = list(text, |t| length(t, COVER))?,
            "span_beam" => self.beams = list(text, |t| word(t, "with", "without"))?,
            "faces" => self.faces = list(text, |t| word(t, "open", "tight"))?,
            "working_space" => self.working_space = Some(length(text, SPACE)?),
            _ => self.max_plan = Some(plan(text)?),
        }
        Ok(())
    }
}

/// Everything that is wrong under `[cheapest]` of a job: codes J170 to J176. `stock` holds the job's own units.
#[must_use]
pub fn check(job: &Job, stock: &Stock) -> Vec<Problem> {
    let wrong = |(name, text): (&'static str, String)| {
        let f = Asked::default().take(name, &text, stock).err()?;
        let path = format!("cheapest.{name}");
        let problem = Problem::error(f.fault.key(), job.place(&path), format!("{path}: {}", f.message));
        Some(problem.label("cannot be searched").hint(f.hint))
    };
    texts(job).filter_map(wrong).collect()
}

/// What the job gives, as text.
fn texts(job: &Job) -> impl Iterator<Item = (&'static str, String)> + '_ {
    NAMES.into_iter().filter_map(|name| {
        let path = format!("cheapest.{name}");
        let one = Some(job.text(&path)).filter(|t| !t.is_empty()).map(str::to_owned);
        Some((name, one.or_else(|| Some(job.texts(&path).join(",")).filter(|t| !t.is_empty()))?))
    })
}

fn length(text: &str, within: Range) -> Result<i64, Flaw> {
    let hint = "write a number and its unit, as \"1.50 m\" or \"150 mm\"";
    let tenths = parse_length(text).or_else(|e| {
        let why = match e {
            LengthError::NoUnit => "has no unit",
            LengthError::Comma => "has a comma: a length is written with a point",
            LengthError::UnknownUnit => "is in a unit that is not known",
            LengthError::TooFine => "is finer than a tenth of a millimetre",
            LengthError::TooLong => "is longer than 100 m",
            LengthError::NotALength => "is not a length",
        };
        flaw(Fault::Range, format!("`{text}` {why}"), hint)
    })?;
    if tenths < within.least || tenths > within.most {
        let hint = format!("from {} to {}", shown(within.least), shown(within.most));
        return flaw(Fault::Ends, format!("`{text}` is not what a tank can have"), hint);
    }
    Ok(tenths)
}

/// `1.5 m..4 m`, or one length.
fn range(text: &str, within: Range) -> Result<Range, Flaw> {
    let (least, most) = text.split_once("..").unwrap_or((text, text));
    let (least, most) = (length(least.trim(), within)?, length(most.trim(), within)?);
    if least > most {
        let hint = "write the smaller one first, as \"1.5 m..4 m\"";
        return flaw(Fault::Ends, format!("`{text}` ends before it begins"), hint);
    }
    Ok(Range { least, most })
}

fn step(text: &str) -> Result<i64, Flaw> {
    length(text, STEP).or_else(|f| {
        let hint = format!("a length from {} to {}, as \"50 mm\"", shown(STEP.least), shown(STEP.most));
        flaw(Fault::Step, f.message.replace("what a tank can have", "a step of a search"), hint)
    })
}

/// Entries parted by commas, each once.
fn list<T: PartialEq>(text: &str, read: impl Fn(&str) -> Result<T, Flaw>) -> Result<Vec<T>, Flaw> {
    let mut all = Vec::new();
    for entry in text.split(',') {
        let one = read(entry.trim())?;
        if !all.contains(&one) {
            all.push(one);
        }
    }
    Ok(all)
}

fn number(text: &str) -> Result<usize, Flaw> {
    match text.parse() {
        Ok(n) if (1..=4).contains(&n) => Ok(n),
        _ => {
            let hint = "numbers from 1 to 4, as 2,3";
            flaw(Fault::Chambers, format!("a tank cannot have `{text}` chambers"), hint)
        }
    }
}

fn word(text: &str, yes: &str, no: &str) -> Result<bool, Flaw> {
    if text == yes || text == no {
        return Ok(text == yes);
    }
    let hint = format!("{}{no}, {yes}, or both: {no},{yes}", suggestion(text, [yes, no]));
    flaw(Fault::Word, format!("it cannot be `{text}`"), hint)
}

/// `brick-220x105x65`, or with the walls it is to make: `brick-220x105x65@335 mm/110 mm`.
fn unit(text: &str, stock: &Stock) -> Result<UnitAsk, Flaw> {
    let (id, walls) = text.split_once('@').map_or((text, None), |(id, walls)| (id.trim(), Some(walls)));
    let Some(known) = stock.units.get(id) else {
        let near = suggestion(id, stock.units.keys().map(String::as_str));
        let hint = format!("{near}`tankwright rules units` lists them");
        return flaw(Fault::Unit, format!("the masonry unit `{id}` is not known"), hint);
    };
    let wall = |text: &str| makes(known, text);
    let (outer, inner) = match walls.map(|w| w.split_once('/').map_or((w, None), |(a, b)| (a, Some(b)))) {
        Some((outer, inner)) => (Some(wall(outer)?), inner.map(wall).transpose()?),
        None => (None, None),
    };
    Ok(UnitAsk { id: id.to_owned(), wall: outer, partition: inner })
}

fn makes(unit: &MasonryUnit, text: &str) -> Result<i64, Flaw> {
    let thick = length(text.trim(), COVER)?;
    if unit.walls.contains(&thick) {
        return Ok(thick);
    }
    let walls: Vec<String> = unit.walls.iter().map(|w| shown(*w)).collect();
    let message = format!("`{}` does not make a wall of {}", unit.id, shown(thick));
    flaw(Fault::Unit, message, format!("it makes {}", walls.join(", ")))
}

fn plan(text: &str) -> Result<Ratio, Flaw> {
    let number = text.strip_suffix("m2").and_then(|n| parse::decimal(n.trim()));
    match number.filter(|n| n.signum() > 0 && n.is_known()) {
        Some(area) => Ok(area),
        None => {
            flaw(Fault::Plan, format!("`{text}` is not an area"), "write it in square metres, as \"8 m2\"")
        }
    }
}

/// A length as a job file has it: metres where whole centimetres say it, else millimetres.
#[must_use]
pub fn shown(tenths: i64) -> String {
    if tenths.abs() >= 10_000 && tenths % 100 == 0 {
        let sign = if tenths < 0 { "-" } else { "" };
        return format!("{sign}{}.{:02} m", tenths.abs() / 10_000, tenths.abs() % 10_000 / 100);
    }
    let sign = if tenths < 0 { "-" } else { "" };
    match tenths.abs() % 10 {
        0 => format!("{sign}{} mm", tenths.abs() / 10),
        part => format!("{sign}{}.{part} mm", tenths.abs() / 10),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(over: &[(&'static str, &str)]) -> Result<Asked, Vec<&'static str>> {
        let stock = tankwright_quantities::rates::builtin().0;
        Asked::read(&Job::default(), &stock, over).map_err(|all| all.iter().map(|p| p.code).collect())
    }

    #[test]
    fn what_one_says_is_read_exactly() {
        let a = asked(&[
            ("length", "1.5m..4 m"),
            ("width", "120 cm"),
            ("step", "50 mm"),
            ("chambers", "3, 2,2"),
            ("units", "block-400x150x200,brick-220x105x65@335 mm/110mm"),
            ("faces", "open,tight"),
            ("max_plan", "8.5 m2"),
        ])
        .unwrap_or_default();
        assert_eq!(a.length, Some(Range { least: 15_000, most: 40_000 }));
        assert_eq!(a.width, Some(Range { least: 12_000, most: 12_000 }));
        assert_eq!((a.step, a.chambers, a.faces), (Some(500), vec![3, 2], vec![true, false]));
        let walls: Vec<_> = a.units.iter().map(|u| (u.wall, u.partition)).collect();
        assert_eq!(walls, [(None, None), (Some(3_350), Some(1_100))]);
        assert_eq!(a.max_plan, Some(Ratio::of(85, 10)));
        assert_eq!(a.from.get("step"), Some(&By::Option));
    }

    #[test]
    fn all_mistakes_are_told_together() {
        let told = asked(&[
            ("length", "1.5..4 m"),
            ("first", "2 m..1 m"),
            ("width", "50 mm..2 m"),
            ("depth", "deep"),
            ("step", "0 mm"),
            ("chambers", "2,5"),
            ("units", "brick-220x105x65@230 mm"),
            ("covers", "100 mm,thin"),
            ("span_beam", "both"),
            ("faces", "tite"),
            ("working_space", "-1 m"),
            ("max_plan", "8"),
        ]);
        let codes =
            ["U050", "U051", "U051", "U050", "U052", "U053", "U054", "U050", "U055", "U055", "U051", "U056"];
        assert_eq!(told, Err(codes.to_vec()));
    }

    #[test]
    fn lengths_are_shown_as_job_files_have_them() {
        for (tenths, text) in [(15_500, "1.55 m"), (9_500, "950 mm"), (15_505, "1550.5 mm"), (0, "0 mm")] {
            assert_eq!(shown(tenths), text);
        }
    }
}
