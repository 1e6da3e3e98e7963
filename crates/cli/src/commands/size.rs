//! `tankwright size`: capacity and dimensions by a named rule, or whether a drawn tank complies; soakage.

use tankwright_quantities::problem::Problem;
use tankwright_sizing::{Drawn, Inputs, Report, job as of_job, report_of};

use crate::args::{Format, JobArgs, Size};
use crate::context::{Context, Outcome};
use crate::data;
use crate::engine;
use crate::exit::Exit;
use crate::load::{self, Found, Prices};

pub(super) fn run(args: &Size, cx: &mut Context<'_>) -> Outcome {
    let mut found = Found::default();
    let rules = data::rules(cx, &mut found);
    if let Some(exit) = found.exit {
        return cx.refuse(exit, &found.problems);
    }
    cx.say(&found.problems);
    let given = given(args);
    let drawn = match &args.job {
        Some(job) => {
            let job = JobArgs { job: job.clone(), rates: None, profile: None, date: None };
            Some(load::with_job(cx, &job, Prices::Never, false)?)
        }
        None => None,
    };
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
    let Some(rule) = args.rule.as_deref().or_else(|| of_job::rule(drawn?.job)) else {
        let hint = "--rule NAME, or rule = \"NAME\" under [sizing] in the job; --rule all shows every rule";
        problems.push(Problem::error("U043", None, "no sizing rule is named").hint(hint));
        return cx.refuse(Exit::Usage, &problems);
    };
    let done = report_of(&rules, rule, &inputs, drawn).map(|done| Report { notes, ..done });
    if inputs.is_empty() && problems.is_empty() {
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
        if args.format == Format::Json {
            cx.print(&engine::size(&done, args.format))?;
        }
        let rule = &refused.about.rule;
        let told: Vec<_> = refused
            .reasons
            .iter()
            .map(|reason| {
                let problem = Problem::error("U041", None, format!("{rule} refuses: {reason}"));
                problem.hint("--rule all shows what the other rules say")
            })
            .collect();
        return cx.refuse(Exit::Usage, &told);
    }
    cx.print(&engine::size(&done, args.format))
}

/// What the command line says, by the names of the inputs.
fn given(args: &Size) -> Vec<(&'static str, &str)> {
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
        ("water-table", args.water_table.as_deref()),
        ("trench-width", args.trench_width.as_deref()),
        ("trench-depth", args.trench_depth.as_deref()),
        ("pit-diameter", args.pit_diameter.as_deref()),
        ("pit-depth", args.pit_depth.as_deref()),
        ("pit-inlet", args.pit_inlet.as_deref()),
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
        assert_eq!((code, number("rules"), number("soakage"), number("percolation")), (0, 14, 14, 6));
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
