//! `tankwright new`: a job file to start from.

use std::path::{Path, PathBuf};

use tankwright_export::schema::FILE as SCHEMA;
use tankwright_quantities::flow::Settings;
use tankwright_quantities::problem::Problem;
use tankwright_sizing::rule::Kind as RuleKind;
use tankwright_sizing::{Inputs, size};

use super::size::given_by;
use crate::args::New;
use crate::context::{Context, Outcome};
use crate::data;
use crate::engine;
use crate::exit::Exit;
use crate::files::Kind;
use crate::load::Found;
use crate::outputs::{Output, make_folder, write_set};
use crate::show;
use crate::sized_job::sized_job;
use crate::soak_job::soaked;
use crate::starter::starter;
use crate::trouble;

macro_rules! samples {
    ($($name:literal),* $(,)?) => {
        /// Names of the samples.
        pub(crate) const SAMPLE_NAMES: [&str; [$($name),*].len()] = [$($name),*];
        pub(super) const TEXTS: [&str; SAMPLE_NAMES.len()] = [$(include_str!(concat!("../../../../samples/", $name, "/job.toml"))),*];
    };
}

samples![
    "smallest",
    "rest-house",
    "lined-pits",
    "guest-house",
    "clinic",
    "textbook",
    "school",
    "built-rates"
];

pub(super) fn run(args: &New, cx: &mut Context<'_>) -> Outcome {
    let text = args.sample.as_ref().and_then(|name| {
        let sample = SAMPLE_NAMES.iter().zip(TEXTS).find(|(n, _)| *n == name);
        sample.map(|(_, text)| text.to_owned())
    });
    let given = given_by(&args.given);
    let text = match (&args.rule, text) {
        (Some(rule), _) => sized(cx, rule, &given, args.soakage.as_deref())?,
        (None, _) if !given.is_empty() => {
            let hint = "add --rule NAME: `tankwright rules sizing` lists them";
            let problem = Problem::error("U043", None, "no sizing rule is named").hint(hint);
            return cx.refuse(Exit::Usage, &[problem]);
        }
        (None, Some(text)) => text,
        (None, None) => starter(&engine::tables()),
    };
    let next = show::argument(&args.file);
    let next = format!("{} is written; next: tankwright estimate {next} --out out\n", args.file);
    keep(cx, &args.file, args.force, with_schema(&text).into_bytes(), "")?;
    if args.file == "-" {
        return Ok(());
    }
    beside(cx, &args.file)?;
    cx.note(&next);
    Ok(())
}

/// How the line begins that tells editors where the schema is.
const LINE: &str = "#:schema ";

/// The text with the line that makes editors use the schema beside it.
fn with_schema(text: &str) -> String {
    let own = text.strip_prefix(LINE).and_then(|rest| rest.split_once('\n')).map_or(text, |(_, rest)| rest);
    format!("{LINE}./{SCHEMA}\n{own}")
}

/// Writes the schema beside a job file. What somebody else keeps under that name stays.
fn beside(cx: &mut Context<'_>, file: &str) -> Outcome {
    let path = Path::new(file).with_file_name(SCHEMA);
    let text = engine::schema();
    let ours = |old: Vec<u8>| String::from_utf8_lossy(&old).contains("\"Tankwright job file\"");
    let free = match cx.files.kind(&path) {
        Kind::Nothing => true,
        Kind::File => cx.files.read(&path, trouble::LONGEST).is_ok_and(ours),
        Kind::Folder => false,
    };
    if !free {
        return Ok(());
    }
    let output = Output { path: path.clone(), bytes: text.into_bytes() };
    if let Err(problem) = write_set(cx.files, &[output]) {
        return cx.refuse(Exit::File, &[problem]);
    }
    cx.note(&format!("{} beside it lets editors check while you type\n", path.display()));
    Ok(())
}

/// Writes a file, or prints it for `-`; `note` says what comes next.
pub(super) fn keep(cx: &mut Context<'_>, file: &str, force: bool, bytes: Vec<u8>, note: &str) -> Outcome {
    if file == "-" {
        return cx.print(&String::from_utf8_lossy(&bytes));
    }
    let path = Path::new(file);
    match cx.files.kind(path) {
        Kind::Folder => return cx.refuse(Exit::File, &[trouble::folder(file)]),
        Kind::File if !force => return cx.refuse(Exit::File, &[trouble::exists(file)]),
        Kind::File | Kind::Nothing => {}
    }
    let output = Output { path: PathBuf::from(path), bytes };
    let folder = path.parent().filter(|f| !f.as_os_str().is_empty());
    let made = folder.map_or(Ok(()), |folder| make_folder(cx.files, folder));
    if let Err(problem) = made.and_then(|()| write_set(cx.files, &[output])) {
        return cx.refuse(Exit::File, &[problem]);
    }
    cx.note(note);
    Ok(())
}

/// A job file that complies with a rule; before it is given away, the verdict on it is made as on any other.
fn sized(
    cx: &mut Context<'_>,
    id: &str,
    given: &[(&'static str, &str)],
    soakage: Option<&str>,
) -> Outcome<String> {
    let mut found = Found::default();
    let rules = data::rules(cx, &mut found);
    let stock = data::stock(cx, &mut found);
    if let Some(exit) = found.exit {
        return cx.refuse(exit, &found.problems);
    }
    cx.say(&found.problems);
    let sizes = rules.rules.values().filter(|r| r.kind == RuleKind::Capacity);
    let all: Vec<&str> = sizes.map(|r| r.id.as_str()).collect();
    let mut problems = Vec::new();
    let rule = rules.rules.get(id).filter(|r| r.kind == RuleKind::Capacity);
    if rule.is_none() {
        let problem = Problem::error("U040", None, format!("`{id}` is no rule for the size of a tank"));
        problems.push(problem.hint(format!("one of: {}", all.join(", "))));
    }
    let inputs = Inputs::read(given.iter().copied()).unwrap_or_else(|wrong| {
        problems.extend(wrong);
        Inputs::default()
    });
    let Some(rule) = rule.filter(|_| problems.is_empty()) else { return cx.refuse(Exit::Usage, &problems) };
    let sized = match size(rule, &inputs) {
        Ok(sized) => sized,
        Err(refused) => return cx.refuse(Exit::Usage, &tankwright_run::refusal(&refused)),
    };
    let no = |why: &str| Problem::error("U044", None, format!("no tank is proposed by {id}: {why}"));
    let Some(text) = sized_job(rule, &sized, &inputs, &stock, soakage.is_some()) else {
        return cx.refuse(Exit::Usage, &[no(&sized.no_result)]);
    };
    let hint = "draw the tank by hand, and hold it against the rule with `tankwright size JOB`";
    let (job, wrong) = engine::read_job("proposed.toml", &text, false);
    let made =
        if wrong.is_empty() { engine::estimate(&job, &stock, None, &Settings::default()).ok() } else { None };
    let verdict = made.and_then(|mut e| {
        engine::say_sizing(&mut e, &job, &rules);
        e.sizing
    });
    match verdict {
        Some(v) if v.complies == Some(true) => match soakage {
            None => Ok(text),
            // What the job says itself is not said over it again.
            Some(method) => match soaked("proposed.toml", &text, method, &[], (&rules, &stock)) {
                Ok(done) => Ok(done.text),
                Err(problems) => cx.refuse(Exit::Usage, &problems),
            },
        },
        Some(v) => {
            let problems: Vec<_> = v.reasons.iter().map(|r| no(r).hint(hint)).collect();
            cx.refuse(Exit::Usage, &problems)
        }
        None => cx.refuse(Exit::Usage, &[no("its dimensions cannot be built here").hint(hint)]),
    }
}
