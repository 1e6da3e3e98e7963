//! A job file with the soak pits or drainage trenches that a method asks for. What is written is read, measured and judged
//! by the same code as any job before anybody gets it.

use tankwright_geometry::Ratio;
use tankwright_quantities::flow::Settings;
use tankwright_quantities::job::Job;
use tankwright_quantities::problem::{Problem, Severity};
use tankwright_quantities::rates::Stock;
use tankwright_sizing::soak_away::{Ground, propose};
use tankwright_sizing::{Drawn, Report, Rules, job as of_job, report_of};

use crate::engine;
use crate::soak_text::write_into;

/// What the command line says by the names of inputs.
pub(crate) type Given<'a> = [(&'static str, &'a str)];

/// A job file, the method's report on it, and what was our own choice.
pub(crate) struct Soaked {
    /// The text.
    pub(crate) text: String,
    /// The method, on the job as written.
    pub(crate) report: Report,
}

/// Writes pits or trenches into a job's text.
///
/// # Errors
/// Every reason why not: codes U040, U045, U046, and what is wrong with the inputs.
pub(crate) fn soaked(
    name: &str,
    text: &str,
    method: &str,
    given: &Given<'_>,
    (rules, stock): (&Rules, &Stock),
) -> Result<Soaked, Vec<Problem>> {
    let Some(rule) = rules.rules.get(method) else {
        let known: Vec<&str> = rules.rules.keys().map(String::as_str).collect();
        let problem = Problem::error("U040", None, format!("there is no sizing rule `{method}`"));
        return Err(vec![problem.hint(format!("one of: {}", known.join(", ")))]);
    };
    let no = |why: &str| {
        let problem = Problem::error("U045", None, format!("nothing is proposed by {method}: {why}"));
        problem.hint("another method may do, or draw it by hand and hold it against `tankwright size JOB`")
    };
    let all = |why: Vec<String>| why.iter().map(|w| no(w)).collect::<Vec<_>>();
    let (job, capacity) = made(name, text, stock)?;
    let metres = |key: &str| job.len(key).value() / Ratio::int(10_000);
    let ground = Ground {
        inlet: capacity.soak_inlet.map(|z| -z).filter(|_| placed(&job)),
        pit: job.has("soak_pit").then(|| [metres("soak_pit.diameter"), metres("soak_pit.depth")]),
    };
    let (inputs, _) = of_job::inputs(&job, &capacity, given)?;
    let proposed = propose(rule, &inputs, ground).map_err(all)?;
    let cannot = |why: &str| {
        let hint = "write it by hand; `tankwright size JOB --rule METHOD` says how much is needed";
        vec![Problem::error("U046", None, format!("{name} cannot be changed: {why}")).hint(hint)]
    };
    let written = write_into(text, &job, &proposed.what).map_err(|why| cannot(&why))?;

    // Held against the method as any drawn job.
    let (job, capacity) = made(name, &written.text, stock).map_err(|wrong| {
        let first = wrong.first().map_or_else(String::new, |p| format!("{}: {}", p.code, p.message));
        cannot(&format!("with them it would not stand: {first}"))
    })?;
    let drawn = Drawn { job: &job, capacity: &capacity };
    let (inputs, taken) = of_job::inputs(&job, &capacity, given)?;
    let mut report = report_of(rules, method, &inputs, Some(drawn)).map_err(|p| vec![*p])?;
    let verdict = report.rules.first().and_then(|o| o.as_ref().ok());
    let enough = verdict.is_some_and(|sized| {
        let of_pits = sized.pits.as_ref().and_then(|p| p.complies);
        let of_drains = sized.drains.as_ref().and_then(|d| d.complies);
        of_pits.or(of_drains) == Some(true) && sized.levels.iter().all(|l| l.met != Some(false))
    });
    if !enough {
        return Err(all(vec!["what would be drawn is not enough by its own verdict".to_owned()]));
    }
    report.notes = taken;
    report.notes.extend(proposed.notes);
    report.notes.extend(written.gone.iter().map(|what| format!("{what} of the job: taken out")));
    Ok(Soaked { text: written.text, report })
}

/// Is the level at which water comes out said by the job, not by default?
fn placed(job: &Job) -> bool {
    job.given("soak_pit.invert") || job.given("tank.pipes.outlet.length")
}

fn made(
    name: &str,
    text: &str,
    stock: &Stock,
) -> Result<(Job, tankwright_quantities::estimate::Capacity), Vec<Problem>> {
    let (job, wrong) = engine::read_job(name, text, false);
    if wrong.iter().any(|p| p.severity == Severity::Error) {
        return Err(wrong);
    }
    match engine::estimate(&job, stock, None, &Settings::default()) {
        Ok(e) => Ok((job, e.capacity)),
        Err(
            tankwright_quantities::estimate::Failure::Job(wrong)
            | tankwright_quantities::estimate::Failure::Rates(wrong),
        ) => Err(wrong),
        Err(tankwright_quantities::estimate::Failure::Balance(_)) => {
            Err(vec![Problem::error("U046", None, "its balances do not close: a fault of the program")])
        }
    }
}
