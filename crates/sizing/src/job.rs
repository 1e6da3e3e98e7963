//! What a job asks of the rules: `[sizing]`, and what other parts of the job file say already.

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::plain;
use tankwright_quantities::estimate::Capacity;
use tankwright_quantities::job::{Job, suggestion};
use tankwright_quantities::problem::Problem;

use crate::inputs::{Inputs, value};
use crate::known::{self, Form};
use crate::read::Rules;
use crate::rule::Kind;

/// Where one input stands in a job file.
struct Row {
    name: &'static str,
    path: &'static str,
}

/// Inputs by their places; of two for one input the first that is given counts.
const ROWS: &[Row] = &[
    Row { name: "persons", path: "sizing.persons" },
    Row { name: "persons", path: "tank.persons" },
    Row { name: "bedrooms", path: "sizing.bedrooms" },
    Row { name: "fixture-units", path: "sizing.fixture_units" },
    Row { name: "flow", path: "sizing.flow" },
    Row { name: "water-use", path: "sizing.water_use" },
    Row { name: "years", path: "sizing.years" },
    Row { name: "temperature", path: "sizing.temperature" },
    Row { name: "wastes", path: "sizing.wastes" },
    Row { name: "grinder", path: "sizing.grinder" },
    Row { name: "effluent", path: "sizing.effluent" },
    Row { name: "percolation", path: "sizing.percolation" },
    Row { name: "soil", path: "sizing.soil" },
    Row { name: "soil-class", path: "sizing.soil_class" },
    Row { name: "trench-width", path: "sizing.trench_width" },
    Row { name: "trench-depth", path: "sizing.trench_depth" },
    Row { name: "trench-width", path: "drain[0].width" },
    Row { name: "trench-depth", path: "drain[0].stone_below" },
    Row { name: "water-table", path: "ground.water_table" },
    Row { name: "pit-diameter", path: "soak_pit.diameter" },
    Row { name: "pit-depth", path: "soak_pit.depth" },
];

/// The rule that a job names.
#[must_use]
pub fn rule(job: &Job) -> Option<&str> {
    Some(job.text("sizing.rule")).filter(|r| !r.is_empty())
}

/// May a tank be held against the rule that the job names, as far as these rules know?
#[must_use]
pub fn has_rule(job: &Job, rules: &Rules) -> bool {
    rule(job).is_none_or(|id| rules.rules.get(id).is_some_and(|r| r.kind == Kind::Capacity))
}

/// Everything that is wrong with what a job asks of the rules: codes J130 to J132.
#[must_use]
pub fn check(job: &Job, rules: &Rules) -> Vec<Problem> {
    let mut problems = Vec::new();
    if let Some(id) = rule(job) {
        let place = || job.place("sizing.rule");
        let ids = || rules.rules.values().filter(|r| r.kind == Kind::Capacity).map(|r| r.id.as_str());
        let list = ids().collect::<Vec<_>>().join(", ");
        match rules.rules.get(id) {
            None => {
                let hint = format!("{}known: {list}", suggestion(id, ids()));
                let problem = Problem::error("J130", place(), format!("there is no sizing rule `{id}`"));
                problems.push(problem.label("no rule of this name").hint(hint));
            }
            Some(rule) if rule.kind != Kind::Capacity => {
                let problem =
                    Problem::error("J131", place(), format!("`{id}` is no rule for the size of a tank"));
                let label = format!("a rule of another kind: {}", rule.kind.id());
                problems.push(problem.label(label).hint(format!("one of: {list}")));
            }
            Some(_) => {}
        }
    }
    problems.extend(pairs(job).filter_map(|(row, text)| {
        let known = known::find(row.name)?;
        let wrong = value(known, &text).err()?;
        let key = row.path.rsplit('.').next().unwrap_or(row.path);
        let message = wrong.message.replace(&format!("--{}", row.name), row.path);
        let problem =
            Problem::error("J132", job.place(row.path), message).label("not as a sizing rule takes it");
        // What can be chosen, or written in many forms, is told whole.
        let hint = match known.form {
            Form::Word(_) | Form::Test => wrong.hint,
            Form::Whole | Form::Number | Form::Measure => None,
        };
        Some(
            problem.hint(hint.unwrap_or_else(|| format!("as {key} = \"{}\": {}", known.example, known.help))),
        )
    }));
    problems
}

/// Inputs as a job and its drawn levels give them, with what the command line says over it, and what was taken by
/// default.
///
/// # Errors
/// What is wrong on the command line.
pub fn inputs<'a>(
    job: &Job,
    capacity: &Capacity,
    over: &[(&'a str, &'a str)],
) -> Result<(Inputs, Vec<String>), Vec<Problem>> {
    let mut all: Vec<(&str, String)> = over.iter().map(|(n, t)| (*n, (*t).to_owned())).collect();
    let said: Vec<&str> = over.iter().map(|(n, _)| *n).collect();
    let mut notes = Vec::new();
    let mut taken: Vec<&str> = Vec::new();
    for (row, text) in pairs(job) {
        let good = known::find(row.name).is_some_and(|k| value(k, &text).is_ok());
        if good && !said.contains(&row.name) && !taken.contains(&row.name) {
            taken.push(row.name);
            all.push((row.name, text));
        }
    }
    let piped = job.input("tank.pipes.outlet.length").is_some_and(|(_, i)| i.value.signum() > 0);
    let pit_by_pipe = job.has("soak_pit") && !job.given("soak_pit.invert");
    if piped && !job.given("tank.pipes.outlet.fall") && (pit_by_pipe || job.has("drain")) {
        notes.push("fall of the pipe from the tank: 1 in 100, our own default".to_owned());
    }
    let pit = ["pit-diameter", "pit-depth", "pit-inlet"].iter().any(|n| said.contains(n));
    if let Some(depth) = pit_inlet(job, capacity, &mut notes).filter(|_| !pit && taken.contains(&"pit-depth"))
    {
        all.push(("pit-inlet", format!("{} m", plain(depth))));
    }
    if let Some(bottom) = capacity.drain_bottom.filter(|_| !said.contains(&"drain-depth")) {
        all.push(("drain-depth", format!("{} m", plain(-bottom))));
    }
    Inputs::read(all.iter().map(|(n, t)| (*n, t.as_str()))).map(|inputs| (inputs, notes))
}

/// Depth of the pit's inlet below ground, m: the pit's own invert, else the outlet's less the fall of its pipe.
fn pit_inlet(job: &Job, capacity: &Capacity, notes: &mut Vec<String>) -> Option<Ratio> {
    if !job.given("soak_pit.invert") && !job.given("tank.pipes.outlet.length") {
        return None;
    }
    let depth = (job.input("soak_pit.depth")?.1.value) / Ratio::int(10_000);
    let inlet = -capacity.soak_inlet?;
    if inlet.signum() <= 0 || inlet >= depth {
        notes.push("the pipe does not come out between the ground and the base of the soak pit".to_owned());
        return None;
    }
    Some(inlet)
}

/// What the job gives, with its text.
fn pairs(job: &Job) -> impl Iterator<Item = (&'static Row, String)> + '_ {
    ROWS.iter().filter(|row| job.given(row.path)).filter_map(|row| Some((row, text(job, row.path)?)))
}

fn text(job: &Job, path: &str) -> Option<String> {
    if let Some((_, input)) = job.input(path) {
        let length = matches!(input.scale, tankwright_quantities::job::Scale::Length);
        let metres = || format!("{} m", plain(input.value / Ratio::int(10_000)));
        return Some(if length { metres() } else { plain(input.value) });
    }
    if let Some(number) = job.number(path) {
        return Some(plain(number));
    }
    if path == "sizing.grinder" {
        return Some(if job.flag(path) { "yes" } else { "no" }.to_owned());
    }
    Some(job.text(path).to_owned()).filter(|t| path != "ground.water_table" || t != "none")
}
