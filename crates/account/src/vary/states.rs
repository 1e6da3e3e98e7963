//! The job file of the account, measured as it stands and after each variation in turn.

use tankwright_quantities::bill::{Bill, SideRow};
use tankwright_quantities::estimate::{Balance, Failure};
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::job::edit::{Edit, edited};
use tankwright_quantities::job::{self, Job, Value};
use tankwright_quantities::pricing::preliminaries;
use tankwright_quantities::problem::{Place, Problem};

use super::Desk;
use super::codes::NOT_TAKEN;
use super::entries::Variation;

/// The job at one time.
#[derive(Debug)]
pub(super) struct State {
    /// Its file.
    pub(super) text: String,
    pub(super) job: Job,
    /// Its bill: quantities without rates.
    pub(super) bill: Bill,
    /// The same, priced by the contract's list, where that prices every row.
    pub(super) priced: Option<Bill>,
    pub(super) preliminaries: Vec<SideRow>,
}

/// The states, and which of them each variation leaves.
#[derive(Debug)]
pub(super) struct States {
    pub(super) all: Vec<State>,
    /// By variation.
    pub(super) after: Vec<usize>,
    /// What each variation changed: key, what it was, what it became.
    pub(super) keys: Vec<Vec<(String, String, String)>>,
}

impl States {
    /// The state before a variation.
    pub(super) fn before(&self, variation: usize) -> usize {
        variation.checked_sub(1).and_then(|i| self.after.get(i)).copied().unwrap_or(0)
    }
}

/// Measures all states; what a variation asks for and cannot be is told at its place, and the next one is measured
/// without it. Nothing where the job file itself is refused.
///
/// # Errors
/// Balances that do not close.
pub(super) fn measure(desk: &mut Desk<'_>, variations: &[Variation]) -> Result<Option<States>, Vec<Balance>> {
    let (job, _) = job::read(&desk.now.job.file, desk.now.text, &flow::job_tables());
    let first = match state(desk, desk.now.text.to_owned(), job) {
        Ok(first) => first,
        Err(Failure::Balance(balances)) => return Err(balances),
        Err(Failure::Job(problems) | Failure::Rates(problems)) => {
            desk.told.extend(problems);
            return Ok(None);
        }
    };
    let mut states = States { all: vec![first], after: Vec::new(), keys: Vec::new() };
    for v in variations {
        let last = states.all.len() - 1;
        let mut keys = Vec::new();
        if let Some(before) = states.all.last().filter(|_| !v.edits.is_empty()) {
            if let Some(problem) = part(desk, v, before) {
                desk.told.push(problem);
                states.after.push(last);
                states.keys.push(keys);
                continue;
            }
            match edited(&before.text, &before.job, &with_parts(&v.edits, before)) {
                Ok(text) => {
                    keys = v.edits.iter().map(|e| changed(e, before)).collect();
                    match read(desk, v, text).and_then(|(text, job)| state(desk, text, job)) {
                        Ok(state) => states.all.push(state),
                        Err(Failure::Balance(balances)) => return Err(balances),
                        Err(Failure::Job(problems) | Failure::Rates(problems)) => {
                            let problems = problems.iter().map(|p| wrapped(desk, v, p)).collect::<Vec<_>>();
                            desk.told.extend(problems);
                        }
                    }
                }
                Err(path) => {
                    let problem = not_written(desk, v, &path);
                    desk.told.push(problem);
                }
            }
        }
        states.after.push(states.all.len() - 1);
        states.keys.push(if states.all.len() - 1 == last { Vec::new() } else { keys });
    }
    Ok(Some(states))
}

/// A value for what is a part with keys of its own.
fn part(desk: &Desk<'_>, v: &Variation, before: &State) -> Option<Problem> {
    let is_part =
        |path: &str| matches!(before.job.values.get(path), Some((Value::Group(_), _))) && !is_value(path);
    let at = v.edits.iter().position(|e| matches!(e, Edit::Set(path, _) if is_part(path)))?;
    let path = v.edits.get(at).map_or("", Edit::path);
    let what = format!("{}: `{path}` is a part with keys of its own", v.id);
    let problem = Problem::error(NOT_TAKEN, place(desk, v, Some(at)), what).label("a value for a part");
    Some(
        problem.hint(
            "name the key of it that changes, as \"pipes[0].length\"; drop = [\"...\"] leaves a part out",
        ),
    )
}

/// What goes takes the parts with it that stand under headings of their own.
fn with_parts(edits: &[Edit], before: &State) -> Vec<Edit> {
    let headed = |path: &str| {
        let place = before.job.place(path).filter(|_| before.job.given(path));
        place.and_then(|p| before.text.get(p.span)).is_some_and(|t| t.starts_with('['))
    };
    let mut all = edits.to_vec();
    for path in edits.iter().filter(|e| matches!(e, Edit::Drop(_))).map(Edit::path) {
        let below = |key: &&String| key.strip_prefix(path).is_some_and(|rest| rest.starts_with(['.', '[']));
        let parts = before.job.values.iter().filter(|(_, (value, _))| matches!(value, Value::Group(_)));
        let keys = parts.map(|(key, _)| key).filter(below);
        all.extend(keys.filter(|key| !is_value(key) && headed(key)).map(|key| Edit::Drop(key.clone())));
    }
    all
}

/// The job of a changed text.
fn read(desk: &Desk<'_>, v: &Variation, text: String) -> Result<(String, Job), Failure> {
    let (job, problems) = job::read(&desk.now.job.file, &text, &flow::job_tables());
    if !problems.is_empty() {
        return Err(Failure::Job(problems));
    }
    // What the file had in another form may stand there still.
    let stuck = v.edits.iter().find(|e| match e {
        Edit::Set(path, _) => !job.given(path),
        Edit::Drop(path) => job.has(path) && job.given(path),
    });
    match stuck {
        Some(e) => Err(Failure::Job(vec![not_written(desk, v, e.path())])),
        None => Ok((text, job)),
    }
}

fn state(desk: &Desk<'_>, text: String, job: Job) -> Result<State, Failure> {
    let profile = Some(desk.contract.estimate.profile.0.clone());
    let settings =
        Settings { profile, date: Some(desk.contract.estimate.date.clone()), ..Settings::default() };
    let estimate = flow::estimate(&job, desk.stock, None, &settings)?;
    let mut told = Vec::new();
    let preliminaries = preliminaries(&job, desk.stock, &mut told);
    if !told.is_empty() {
        return Err(Failure::Job(told));
    }
    let priced = flow::estimate(&job, desk.stock, Some(desk.contract.list), &settings).ok().map(|e| e.bill);
    Ok(State { text, job, bill: estimate.bill, priced, preliminaries })
}

/// A key, what it was and what it became, as the files write it; a part is nothing but its name.
fn changed(edit: &Edit, before: &State) -> (String, String, String) {
    let path = edit.path();
    let part = matches!(before.job.values.get(path), Some((Value::Group(_), _))) && !is_value(path);
    let old = match before.job.place(path).filter(|_| before.job.given(path)) {
        _ if part => String::new(),
        Some(place) => before.text.get(place.span).map(one_line).unwrap_or_default(),
        None => shown(path, &before.job),
    };
    let new = match edit {
        Edit::Set(_, value) => one_line(value),
        Edit::Drop(_) => String::new(),
    };
    (path.to_owned(), old, new)
}

/// Is this the key of a value, as the list of the chambers, and not a part?
fn is_value(path: &str) -> bool {
    flow::job_tables().into_iter().flatten().any(|f| f.kind.is_some() && f.key == path)
}

/// A default in words.
fn shown(path: &str, job: &Job) -> String {
    use tankwright_quantities::decimal;
    use tankwright_quantities::job::Scale;
    match job.input(path) {
        Some((_, input)) if input.scale == Scale::Length => {
            format!("\"{} mm\"", decimal::plain(input.value / tankwright_geometry::Ratio::int(10)))
        }
        Some((_, input)) => decimal::plain(input.value),
        None if job.text(path).is_empty() => String::new(),
        None => format!("\"{}\"", job.text(path)),
    }
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Which change a problem of the changed text speaks of.
fn culprit(v: &Variation, problem: &Problem) -> Option<usize> {
    let speaks = |e: &Edit| {
        let last = e.path().rsplit('.').next().unwrap_or_default();
        problem.message.contains(e.path()) || problem.message.contains(&format!("key {last} "))
    };
    v.edits.iter().position(speaks)
}

fn place(desk: &Desk<'_>, v: &Variation, at: Option<usize>) -> Option<Place> {
    let one = match v.at.as_slice() {
        [one] => one.clone(),
        many => at.and_then(|i| many.get(i)).cloned().flatten(),
    };
    one.or_else(|| desk.now.job.place(&format!("{}.set", v.path))).or_else(|| desk.now.job.place(&v.path))
}

/// What is wrong with the job after a variation, at the variation's own place.
fn wrapped(desk: &Desk<'_>, v: &Variation, problem: &Problem) -> Problem {
    if problem.code == NOT_TAKEN {
        return problem.clone();
    }
    let what = format!("{}: {}", v.id, problem.message);
    let label = if problem.label.is_empty() { "this change".to_owned() } else { problem.label.clone() };
    let told = Problem::error(NOT_TAKEN, place(desk, v, culprit(v, problem)), what).label(label);
    match &problem.hint {
        Some(hint) => told.hint(hint.clone()),
        None => told,
    }
}

fn not_written(desk: &Desk<'_>, v: &Variation, path: &str) -> Problem {
    let at = v.edits.iter().position(|e| e.path() == path);
    let drops = at.and_then(|i| v.edits.get(i)).is_some_and(|e| matches!(e, Edit::Drop(_)));
    let file = &desk.now.job.file;
    let (what, hint) = if drops {
        (
            format!("{}: there is no part `{path}` in {file} to leave out", v.id),
            "name a part as it stands in the file, as soak_pit",
        )
    } else {
        (
            format!("{}: `{path}` cannot be written into {file} as it stands", v.id),
            "write its part as a heading in the file, as [tank.walls], with a line for each key",
        )
    };
    Problem::error(NOT_TAKEN, place(desk, v, at), what).label("this change").hint(hint)
}
