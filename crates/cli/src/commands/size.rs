//! `tankwright size`: capacity and dimensions by a named rule, or whether a drawn tank complies; soakage.

use std::path::Path;

use tankwright_quantities::problem::Problem;
use tankwright_sizing::{Drawn, Inputs, Report, Rules, job as of_job, report_of};

use crate::args::{Format, Given, JobArgs, Over, Size};
use crate::context::{Context, Outcome};
use crate::data;
use crate::engine;
use crate::exit::Exit;
use crate::load::{self, Found, Prices};
use crate::show;
use crate::soak_job::{Given as Said, soaked};

pub(super) fn run(args: &Size, cx: &mut Context<'_>) -> Outcome {
    let mut found = Found::default();
    let rules = data::rules(cx, &mut found);
    if let Some(exit) = found.exit {
        return cx.refuse(exit, &found.problems);
    }
    cx.say(&found.problems);
    let given = given(args);
    if let (Some(job), Some(file)) = (&args.job, &args.write) {
        return write(cx, args, (job, file), &given, &rules);
    }
    let drawn = match &args.job {
        Some(job) => {
            let job = JobArgs { job: job.clone(), over: Over::default() };
            Some(load::with_job(cx, &job, Prices::Never, false)?)
        }
        None => None,
    };
    let (checks, told) = drawn.as_ref().map_or_else(Default::default, |(_, e)| {
        (e.checks.clone(), e.cautions_of_size().cloned().collect::<Vec<_>>())
    });
    let drawn = drawn.as_ref().map(|(job, e)| Drawn { job, capacity: &e.capacity });
    let read = match drawn {
        Some(d) => of_job::inputs(d.job, d.capacity, &given),
        None => Inputs::read(given.iter().copied()).map(|inputs| (inputs, Vec::new())),
    };
    let mut problems = Vec::new();
    let (inputs, notes) = read.unwrap_or_else(|wrong| {
        problems.extend(wrong);
        Default::default()
    });
    let named = args.rule.as_deref().or_else(|| of_job::rule(drawn?.job));
    // A drawn job is checked without a rule too.
    let Some(rule) = named.or(drawn.map(|_| "")) else {
        let hint = "--rule NAME, or rule = \"NAME\" under [sizing] in the job; --rule all shows every rule";
        problems.push(Problem::error("U043", None, "no sizing rule is named").hint(hint));
        return cx.refuse(Exit::Usage, &problems);
    };
    let done = report_of(&rules, rule, &inputs, drawn).map(|done| Report { notes, checks, told, ..done });
    if inputs.is_empty() && problems.is_empty() && !rule.is_empty() {
        let hint = "say how many people, as --persons 14, and what else the rule asks for";
        problems.push(Problem::error("U042", None, "nothing is given to size by").hint(hint));
    }
    let done = match done {
        Ok(done) if problems.is_empty() => done,
        Ok(_) => return cx.refuse(Exit::Usage, &problems),
        Err(problem) => {
            problems.push(*problem);
            return cx.refuse(Exit::Usage, &problems);
        }
    };
    if let Some(refused) = done.refused() {
        if args.format == Format::Json || done.drawn.is_some() {
            cx.print(&engine::size(&done, args.format))?;
        }
        return cx.refuse(Exit::Usage, &tankwright_run::refusal(refused));
    }
    cx.print(&engine::size(&done, args.format))
}

/// The job with the pits or trenches of a soakage method, and the method's verdict on it.
fn write(
    cx: &mut Context<'_>,
    args: &Size,
    (job, file): (&str, &str),
    given: &Said<'_>,
    rules: &Rules,
) -> Outcome {
    if job == "-" {
        let problem = Problem::error("U046", None, "what comes from standard input has no text to change");
        return cx.refuse(Exit::Usage, &[problem.hint("give the job as a file")]);
    }
    let Some(method) = args.soakage.as_deref().or(args.rule.as_deref()) else {
        let hint = "--soakage NAME, as who-pit: `tankwright rules sizing` lists the methods";
        return cx
            .refuse(Exit::Usage, &[Problem::error("U043", None, "no soakage method is named").hint(hint)]);
    };
    let mut found = Found::default();
    let stock = data::stock(cx, &mut found);
    if let Some(exit) = found.exit {
        return cx.refuse(exit, &found.problems);
    }
    let text = match cx.read(job, Path::new(job)) {
        Ok(text) => text,
        Err(problem) => return cx.refuse(Exit::File, &[problem]),
    };
    match soaked(job, &text, method, given, (rules, &stock)) {
        Ok(done) => {
            let next = format!("{file} is written; next: tankwright size {}\n", show::argument(file));
            super::new::keep(cx, file, args.force, done.text.into_bytes(), &next)?;
            if file == "-" { Ok(()) } else { cx.print(&engine::size(&done.report, args.format)) }
        }
        Err(problems) => {
            let of_job = problems.iter().any(|p| p.code.starts_with('J'));
            cx.refuse(if of_job { Exit::Job } else { Exit::Usage }, &problems)
        }
    }
}

/// What the command line says, by the names of the inputs.
fn given(args: &Size) -> Vec<(&'static str, &str)> {
    let pit = [
        ("pit-diameter", args.pit_diameter.as_deref()),
        ("pit-depth", args.pit_depth.as_deref()),
        ("pit-inlet", args.pit_inlet.as_deref()),
        ("drain-depth", args.drain_depth.as_deref()),
    ];
    let pit = pit.into_iter().filter_map(|(name, text)| Some((name, text?)));
    given_by(&args.given).into_iter().chain(pit).collect()
}

/// The same without a soak pit.
pub(super) fn given_by(args: &Given) -> Vec<(&'static str, &str)> {
    let all = [
        ("persons", args.persons.as_deref()),
        ("bedrooms", args.bedrooms.as_deref()),
        ("fixture-units", args.fixture_units.as_deref()),
        ("flow", args.flow.as_deref()),
        ("water-use", args.water_use.as_deref()),
        ("years", args.years.as_deref()),
        ("temperature", args.temperature.as_deref()),
        ("wastes", args.wastes.as_deref()),
        ("grinder", args.grinder.then_some("yes")),
        ("effluent", args.effluent.as_deref()),
        ("percolation", args.percolation.as_deref()),
        ("soil", args.soil.as_deref()),
        ("soil-class", args.soil_class.as_deref()),
        ("water-table", args.water_table.as_deref()),
        ("trench-width", args.trench_width.as_deref()),
        ("trench-depth", args.trench_depth.as_deref()),
    ];
    all.into_iter().filter_map(|(name, text)| Some((name, text?))).collect()
}

#[cfg(test)]
mod tests {
    use serde_json::Value;

    use crate::fake::Fake;

    fn with(files: &Fake, args: &[&str]) -> (i32, String, String) {
        let args: Vec<String> = ["tankwright", "size"].iter().chain(args).map(|a| (*a).to_owned()).collect();
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let code = crate::run(&args, &mut out, &mut err, files);
        (code, String::from_utf8_lossy(&out).into_owned(), String::from_utf8_lossy(&err).into_owned())
    }

    fn size(args: &[&str]) -> (i32, String, String) {
        with(&Fake::default(), args)
    }

    fn json(args: &[&str]) -> (i32, Value) {
        let (code, out, _) = size(&[args, &["--format", "json"]].concat());
        (code, serde_json::from_str(&out).unwrap_or_default())
    }

    #[test]
    fn one_rule_as_text_json_and_csv() {
        let args = ["--rule", "bs-6297-1983", "--persons", "14"];
        let (code, out, err) = size(&args);
        assert_eq!((code, err.as_str()), (0, ""));
        assert!(out.contains("asks for 4 520 l to the water line\n"), "{out}");
        assert!(out.contains("180 x 14 + 2000"), "{out}");
        assert!(out.lines().all(|l| l.chars().count() <= 100), "{out}");
        let (_, v) = json(&args);
        for (field, want) in [
            ("rule", Value::from("bs-6297-1983")),
            ("capacity_l", "4520".into()),
            ("recalled", false.into()),
            ("status", "superseded".into()),
            ("complies", Value::Null),
            ("provided_l", Value::Null),
            ("refused", Value::Null),
            ("format", 1.into()),
        ] {
            assert_eq!(v.get(field), Some(&want), "{field}");
        }
        for field in
            ["source", "inputs", "chambers", "working", "cautions", "reasons", "not_checked", "soakage"]
        {
            assert!(v.get(field).is_some(), "{field}");
        }
        let (_, csv, _) = size(&[&args[..], &["--format", "csv"]].concat());
        assert!(csv.contains("bs-6297-1983,capacity,answer,capacity,4520,l,"), "{csv}");
    }

    #[test]
    fn all_rules_and_all_methods() {
        let args =
            ["--rule", "all", "--persons", "14", "--water-use", "120 l/p/d", "--percolation", "3000 s"];
        let (code, v) = json(&args);
        let number = |field: &str| v.get(field).and_then(Value::as_array).map_or(0, Vec::len);
        assert_eq!((code, number("rules"), number("soakage"), number("percolation")), (0, 14, 18, 6));
        let (_, text, _) = size(&args);
        assert!(text.contains("20 s/mm = 3.3333 min/cm = 8.3333 min/25mm = 8.4667 min/in"), "{text}");
        assert!(text.contains("needs --years"), "{text}");
        assert!(text.lines().all(|l| l.chars().count() <= 100), "{text}");
    }

    #[test]
    fn nonsense_is_refused_all_at_once() {
        let args =
            ["--rule", "xx", "--persons", "-3", "--flow", "3", "--wastes", "grey", "--water-table", "4,2 m"];
        let (code, out, err) = size(&args);
        assert_eq!((code, out.as_str()), (2, ""));
        for code in ["U040", "U035", "U033", "U031", "U032"] {
            assert!(err.contains(&format!("error[{code}]")), "{code} {err}");
        }
        assert!(err.ends_with("\n5 errors\n") && err.matches("hint: ").count() == 5, "{err}");
        assert!(size(&["--rule", "all"]).2.starts_with("error[U042]"));
        assert_eq!(size(&["--persons", "14"]).0, 2);
    }

    #[test]
    fn a_rule_that_refuses_says_why() {
        let (code, out, err) = size(&["--rule", "nl-1997", "--persons", "14"]);
        assert_eq!((code, out.as_str()), (2, ""));
        assert!(err.starts_with("error[U041]: nl-1997 refuses: persons 14 is over 10"), "{err}");
        let (code, v) = json(&["--rule", "nl-1997", "--persons", "14"]);
        assert_eq!((code, v.pointer("/refused/0").is_some()), (2, true));
    }

    const JOB: &str = include_str!("../../../../samples/rest-house/job.toml");

    #[test]
    fn a_drawn_tank_is_held_against_the_rule_of_its_job() {
        let files = Fake::with(&[("job.toml", JOB)]);
        let (code, out, err) = with(&files, &["job.toml"]);
        assert_eq!((code, err.as_str()), (0, ""));
        assert!(
            out.contains("the tank holds 5 331 l to the water line: 811 l (17.9 %) over\nCOMPLIES"),
            "{out}"
        );
        assert!(out.contains("NOT enough; 5 of this size needed, 1 drawn"), "{out}");
        assert!(out.lines().all(|l| l.chars().count() <= 100), "{out}");
        let (_, out, _) = with(&files, &["job.toml", "--persons", "19", "--format", "json"]);
        let v: Value = serde_json::from_str(&out).unwrap_or_default();
        for (pointer, want) in [
            ("/complies", Value::from(false)),
            ("/provided_l", "5331".into()),
            ("/provided_to_inlet_l", "5544".into()),
            ("/margin_l", "-89".into()),
            ("/reasons/0", "it holds 5331 l, 89 l too little".into()),
            ("/job/chambers/0/volume_l", "3607.640282958".into()),
            ("/job/chambers/1/water_line_m", "-0.475".into()),
            ("/soakage/0/soak_pits/complies", false.into()),
        ] {
            assert_eq!(v.pointer(pointer), Some(&want), "{pointer}");
        }
        let (code, out, _) = with(&files, &["job.toml", "--rule", "all"]);
        assert!(code == 0 && out.contains("complies, 1 044 l over"), "{out}");
        let (code, out, _) = with(&files, &["job.toml", "--format", "csv"]);
        assert!(code == 0 && out.contains("bs-6297-1983,capacity,verdict,complies,true,"), "{out}");
    }

    #[test]
    fn without_a_rule_a_drawn_job_is_checked_all_the_same() {
        // Who wants to know whether the tank floats need not name a rule for its size.
        let files = Fake::with(&[("job.toml", include_str!("../../../../samples/smallest/job.toml"))]);
        let (code, out, err) = with(&files, &["job.toml"]);
        assert_eq!((code, err.as_str()), (0, ""));
        assert!(out.contains("no sizing rule is named") && out.contains("CHECKS of the drawn job"), "{out}");
        assert!(out.contains("ground.water_table says none"), "{out}");
        assert!(!out.contains("COMPL"), "{out}");
        let (code, out, err) = with(&files, &["job.toml", "--persons", "5", "--format", "json"]);
        let v: Value = serde_json::from_str(&out).unwrap_or_default();
        assert_eq!((code, err.as_str()), (0, ""));
        assert_eq!(v.pointer("/rules"), Some(&Value::Array(Vec::new())));
        assert_eq!(v.pointer("/checks/0/id"), Some(&"flotation-finished".into()));
        assert_eq!(v.pointer("/checks/0/verdict"), Some(&"not-checked".into()));
        let (code, out, _) = with(&files, &["job.toml", "--format", "csv"]);
        assert!(code == 0 && out.contains("\r\n,,check,flotation-finished,not-checked,"), "{out}");
        let (code, _, err) = size(&["--persons", "5"]);
        assert!(code == 2 && err.starts_with("error[U043]"), "{err}");
        let (code, out, _) = with(&files, &["job.toml", "--persons", "5", "--rule", "uk-150p"]);
        assert!(code == 0 && out.contains("no water line"), "{out}");
    }

    #[test]
    fn new_writes_a_tank_that_complies_or_says_why_not() {
        let new = |more: &[&str]| {
            let files = Fake::default();
            let args: Vec<String> =
                ["tankwright", "new", "job.toml"].iter().chain(more).map(|a| (*a).to_owned()).collect();
            let (mut out, mut err) = (Vec::new(), Vec::new());
            let code = crate::run(&args, &mut out, &mut err, &files);
            (code, files, String::from_utf8_lossy(&err).into_owned())
        };
        let all =
            ["--bedrooms", "4", "--fixture-units", "30", "--water-use", "120 l/p/d", "--temperature", "22"];
        for (rule, years, persons) in [
            ("ad-h2", "1", "14"),
            ("bs-6297-1983", "1", "14"),
            ("doh-ph-2019", "3", "14"),
            // Longer than its litres ask, for a manhole over each chamber.
            ("doh-ph-2019", "3", "3"),
            ("ipsdc", "3", "14"),
            ("is-2470", "2", "5"),
            ("nl-1997", "3", "10"),
            ("sls-745", "3", "14"),
            ("uk-150p", "3", "5"),
            ("us-bedrooms", "3", "5"),
            ("us-fixture-units", "3", "5"),
            ("who-1992", "3", "50"),
            ("za-practice", "3", "14"),
        ] {
            let (code, files, err) =
                new(&[&["--rule", rule, "--persons", persons, "--years", years], &all[..]].concat());
            assert_eq!(code, 0, "{rule} {err}");
            let (code, out, _) = with(&files, &["job.toml"]);
            assert!(code == 0 && out.contains("COMPLIES in all that was judged"), "{out}");
        }
        for (args, said) in [
            (&["--rule", "nl-1997", "--persons", "14"][..], "error[U041]: nl-1997 refuses"),
            (&["--rule", "ms-1228", "--persons", "14"], "error[U044]: no tank is proposed by ms-1228"),
            (&["--rule", "bs-6297", "--persons", "14"], "error[U040]"),
            (&["--persons", "14"], "error[U043]"),
        ] {
            let (code, files, err) = new(args);
            assert_eq!((code, err.starts_with(said), files.listing().len()), (2, true, 0), "{err}");
        }
    }

    #[test]
    fn ones_own_rule_takes_the_place_and_a_wrong_one_is_refused() {
        let text = include_str!("../../../../rates/rules/uk-150p.toml").replace("# ", "#  ");
        let own = format!("# mine\n{text}");
        let files = Fake::with(&[("my/rules/uk-150p.toml", &own)]);
        let args = ["--rule", "uk-150p", "--persons", "5", "--data", "my"];
        let (code, out, err) = with(&files, &args);
        assert_eq!((code, err.as_str()), (0, ""));
        assert!(out.contains("rule uk-150p, from my/rules/uk-150p.toml"), "{out}");
        let wrong = text.replace("factor = \"150\"", "factor = \"151\"");
        let files = Fake::with(&[("my/rules/uk-150p.toml", &wrong)]);
        let (code, _, err) = with(&files, &args);
        assert_eq!(code, 4);
        assert!(err.contains("error[P037]") && err.contains("my/rules/uk-150p.toml:"), "{err}");
    }
}
