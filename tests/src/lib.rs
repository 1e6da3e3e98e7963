//! What the tests share: random jobs, and one function per boundary.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use rust_decimal::Decimal;
use tankwright_account::vary::{self, Account, Contract, Now};
use tankwright_crosscheck::report::Slip;
use tankwright_crosscheck::rows::of_csv;
use tankwright_crosscheck::wording;
use tankwright_crosscheck::world::World;
use tankwright_crosscheck::{Report, crosscheck};
use tankwright_quantities::decimal::rounded;
use tankwright_quantities::estimate::{Estimate, Failure};
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::job::{self, Job};
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::{self, PriceList, Stock};
use tankwright_sizing::Inputs;
use tankwright_sizing::sized::Worked;

pub mod analyses;
pub mod bids;
pub mod figures;
pub mod goods;
pub mod hard;
pub mod planted;
pub mod program;
pub mod random;
pub mod svg;

/// Every sample with a `job.toml`.
pub const SAMPLES: [&str; 9] = [
    "smallest",
    "rest-house",
    "guest-house",
    "lined-pits",
    "clinic",
    "school",
    "textbook",
    "workshop",
    "built-rates",
];

/// The built-in data, read once for all tests.
#[must_use]
pub fn stock() -> &'static Stock {
    static STOCK: LazyLock<Stock> = LazyLock::new(|| rates::builtin().0);
    &STOCK
}

/// A job from its text.
///
/// # Errors
/// Every problem of the text.
pub fn read(text: &str, trail: bool) -> Result<Job, Vec<Problem>> {
    let (mut job, problems) = job::read("job.toml", text, &flow::job_tables());
    job.trail = trail;
    if problems.is_empty() { Ok(job) } else { Err(problems) }
}

/// Measures a job without pricing it, by a profile if one is named.
///
/// # Errors
/// As [`flow::estimate`].
pub fn measured(text: &str, profile: Option<&str>) -> Result<Estimate, Failure> {
    let job = read(text, false).map_err(Failure::Job)?;
    let settings = Settings { profile: profile.map(str::to_owned), ..Settings::default() };
    flow::estimate(&job, stock(), None, &settings)
}

/// A second take-off as CSV held against a job, with a map where one is given.
///
/// # Errors
/// Every problem of either, or why the job cannot be measured.
pub fn crosschecked(job: &str, other: &str, map: Option<&str>) -> Result<Report, Vec<Problem>> {
    let job = read(job, true)?;
    let (stock, settings) = (stock(), Settings::default());
    let estimate = match flow::estimate(&job, stock, None, &settings) {
        Ok(estimate) => estimate,
        Err(Failure::Job(problems) | Failure::Rates(problems)) => return Err(problems),
        Err(Failure::Balance(_)) => return Err(Vec::new()),
    };
    let world = World::new(&job, &estimate, stock, &settings);
    crosscheck(&world, wording::builtin(), "other.csv", &of_csv(other), map.map(|text| ("map.csv", text)))
}

/// The account of two job files whose contract is priced by a list.
///
/// # Errors
/// Every problem of either file, or a balance that does not close.
pub fn varied(contract: &str, now: &str, list: &PriceList) -> Result<Account, Failure> {
    let read = |file: &str, text: &str| {
        let (job, problems) = job::read(file, text, &flow::job_tables());
        if problems.is_empty() { Ok(job) } else { Err(Failure::Job(problems)) }
    };
    let (of, job, stock) = (read("job.toml", contract)?, read("now.toml", now)?, stock());
    let estimate = flow::estimate(&of, stock, Some(list), &Settings::default())?;
    let now = Now { job: &job, text: now, list: None, date: job.text("job.date") };
    vary::vary(Contract { job: &of, estimate: &estimate, list }, now, stock)
}

/// A built-in price list; one without a row where there is none of that name.
#[must_use]
pub fn prices(name: &str) -> PriceList {
    let (path, text) = rates::builtin_prices(name).unwrap_or_default();
    let none =
        PriceList { name: path.clone(), currency: String::new(), rows: Vec::new(), cautions: Vec::new() };
    rates::read_prices(&path, text).unwrap_or(none)
}

/// The explanations of the row a line of theirs is in, each its mistakes joined by ` + `.
#[must_use]
pub fn explained(report: &Report, line: usize) -> Vec<String> {
    let row = report.rows.iter().find(|r| r.lines.contains(&line));
    row.into_iter().flat_map(|r| &r.explained).map(|e| e.mistakes.join(" + ")).collect()
}

/// Slips of their own arithmetic: line, what is printed, what is right, explanations.
#[must_use]
pub fn slips(report: &Report) -> Vec<(usize, String, String, Vec<String>)> {
    let of = |s: &Slip| s.explained.iter().map(|e| e.mistakes.join(" + ")).collect();
    let slip = |s: &Slip| (s.line, s.printed.to_string(), s.should_be.to_string(), of(s));
    report.arithmetic.iter().map(slip).collect()
}

/// A rule's steps by name, as plain decimals of at most nine places; or why it refuses.
///
/// # Errors
/// Everything that is wrong with the inputs, or the rule's reasons.
pub fn sized(rule: &str, given: &[(&str, &str)]) -> Result<BTreeMap<String, Decimal>, Vec<String>> {
    steps_of(&tankwright_sizing::builtin().0, rule, given)
}

/// The steps of a published formula that is no rule of the program, in the words of a rule file; one is `capacity`, its worked example.
///
/// # Errors
/// What is wrong with the file, or the rule's reasons.
pub fn sized_by(
    steps: &str,
    given: &[(&str, &str)],
    capacity: &str,
) -> Result<BTreeMap<String, Decimal>, Vec<String>> {
    let said: Vec<String> = given.iter().map(|(name, text)| format!("{name} = \"{text}\"")).collect();
    let check = format!(
        "[[check]]\nin = {{ {} }}\nout = {{ capacity = \"{capacity}\" }}\nto = \"0.005\"\nsource = \"the head of the test\"\n",
        said.join(", ")
    );
    let head = "id = \"printed\"\nkind = \"capacity\"\ntitle = \"as printed\"\nbody = \"a page\"\nyear = \"not seen\"\n\
                clause = \"not seen\"\nstatus = \"practice\"\nconfidence = \"C\"\nseen = \"the head of the test\"\n\
                measured_to = \"water-line\"\n";
    let mut rules = tankwright_sizing::Rules::default();
    let file = ("printed.toml".to_owned(), format!("{head}{steps}{check}"));
    let wrong = tankwright_sizing::read_rules(&[file], &mut rules);
    if !wrong.is_empty() {
        return Err(wrong.into_iter().map(|p| p.message).collect());
    }
    steps_of(&rules, "printed", given)
}

fn steps_of(
    rules: &tankwright_sizing::Rules,
    rule: &str,
    given: &[(&str, &str)],
) -> Result<BTreeMap<String, Decimal>, Vec<String>> {
    let inputs = Inputs::read(given.iter().copied());
    let inputs = inputs.map_err(|all| all.into_iter().map(|p| p.message).collect::<Vec<_>>())?;
    let rule = rules.rules.get(rule).ok_or_else(|| vec![format!("no rule {rule}")])?;
    let sized = tankwright_sizing::size(rule, &inputs).map_err(|refused| refused.reasons)?;
    let number = |w: Worked| Some((w.step, rounded(w.value?.number, 9)?));
    Ok(sized.working.into_iter().filter_map(number).collect())
}

/// Sum of a work's quantities; nothing where the job does not have it.
#[must_use]
pub fn quantity(e: &Estimate, work: &str) -> Decimal {
    e.sheet.items.iter().filter(|i| i.work.id == work).map(|i| i.quantity).sum()
}

/// Sum of a work's net quantities, by `exact`.
#[must_use]
pub fn net(e: &Estimate, work: &str) -> Decimal {
    e.sheet.items.iter().filter(|i| i.work.id == work).map(|i| i.net).sum()
}
