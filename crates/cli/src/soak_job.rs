//! A job file with the soak pits or drainage trenches that a method asks for. What is written is read, measured and judged
//! by the same code as any job before anybody gets it.

use tankwright_geometry::Ratio;
use tankwright_quantities::flow::Settings;
use tankwright_quantities::job::Job;
use tankwright_quantities::problem::{Problem, Severity};
use tankwright_quantities::rates::Stock;
use tankwright_sizing::soak_away::{Ground, propose};
use tankwright_sizing::{Drawn, Inputs, Report, Rules, job as of_job, report_of};

use crate::engine;
use crate::soak_text::{kept, write_into};

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
    let proposed = propose(rule, &inputs, ground, stock).map_err(all)?;
    let cannot = |why: &str| {
        let hint = "write it by hand; `tankwright size JOB --rule METHOD` says how much is needed";
        vec![Problem::error("U046", None, format!("{name} cannot be changed: {why}")).hint(hint)]
    };
    let stands = |text: &str| {
        made(name, text, stock).map_err(|wrong| {
            let first = wrong.first().map_or_else(String::new, |p| format!("{}: {}", p.code, p.message));
            cannot(&format!("with them it would not stand: {first}"))
        })
    };
    // What it was sized by first, for the places of the pits and trenches to be true.
    let of_people = given.iter().copied().filter(|(name, _)| !name.starts_with("pit-"));
    let (text, names) = kept(text, &job, &Inputs::read(of_people)?).map_err(|why| cannot(&why))?;
    let (job, _) = stands(&text)?;
    let written = write_into(&text, &job, &proposed.what).map_err(|why| cannot(&why))?;

    // Held against the method as any drawn job.
    let (job, capacity) = stands(&written.text)?;
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
    if !names.is_empty() {
        report.notes.push(format!("written into the job as it was given: {}", names.join(", ")));
    }
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

#[cfg(test)]
mod tests {
    use crate::fake::Fake;

    const JOB: &str = include_str!("../../../samples/rest-house/job.toml");

    fn with(files: &Fake, args: &[&str]) -> (i32, String, String) {
        let args: Vec<String> = ["tankwright"].iter().chain(args).map(|a| (*a).to_owned()).collect();
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let code = crate::run(&args, &mut out, &mut err, files);
        (code, String::from_utf8_lossy(&out).into_owned(), String::from_utf8_lossy(&err).into_owned())
    }

    #[test]
    fn every_method_that_can_writes_what_it_then_calls_enough() {
        for (method, says) in [
            ("who-pit", "drawn: 77.44 of 67.2 m2, 115.2 %: enough; 5 of this size needed, 5 drawn"),
            ("nj-pit", "enough; 3 of this size needed, 3 drawn"),
            ("ipsdc-603", "enough; 5 of this size needed, 5 drawn"),
            (
                "ad-h2-field",
                "drains drawn: 70.08 of 70 m2 of base, 100.1 %: enough; 116.7 m needed, 116.8 m drawn",
            ),
            ("who-trench", "drains drawn: 67.2 of 67.2 m2 of sides, 100.0 %: enough"),
            ("ontario", "drains drawn: 40 of 40 m, 100.0 %: enough"),
        ] {
            let files = Fake::with(&[("job.toml", JOB)]);
            let (code, out, err) =
                with(&files, &["size", "job.toml", "--soakage", method, "--write", "enough.toml"]);
            let out = out.replace("\n  ", " ");
            assert!(code == 0 && out.contains(says), "{method} {out} {err}");
            assert_eq!(err, "enough.toml is written; next: tankwright size enough.toml\n");
            // The same words again from the file itself, and it can be built.
            let (code, again, _) = with(&files, &["size", "enough.toml", "--rule", method]);
            assert!(code == 0 && again.replace("\n  ", " ").contains(says), "{method} {again}");
            assert_eq!(with(&files, &["takeoff", "enough.toml"]).0, 0, "{method}");
        }
    }

    #[test]
    fn the_job_says_by_what_it_was_sized() {
        // [sizing] of the rest house changes in its places; a job without one gets one.
        let bare = include_str!("../../../samples/smallest/job.toml").to_owned()
            + "\n[tank.pipes]\ninlet = { diameter = \"110 mm\", below_top = \"400 mm\" }\n\
               outlet = { diameter = \"110 mm\", below_top = \"450 mm\", length = \"6 m\" }\n";
        for text in [JOB, &bare] {
            let files = Fake::with(&[("job.toml", text)]);
            let given = ["--persons", "9", "--percolation", "30 s/mm", "--water-table", "6 m"];
            let head = ["size", "job.toml", "--soakage", "ad-h2-field", "--write", "enough.toml"];
            let (code, out, err) = with(&files, &[&head[..], &given].concat());
            assert!(code == 0, "{err}");
            assert!(
                out.contains("written into the job as it was given: persons, percolation, water-table"),
                "{out}"
            );
            let text = String::from_utf8_lossy(&files.get("enough.toml").unwrap_or_default()).into_owned();
            for line in ["persons = 9", "percolation = \"30 s/mm\"", "water_table = \"6 m\""] {
                assert_eq!(text.matches(line).count(), 1, "{line}\n{text}");
            }
            let (code, out, _) = with(&files, &["size", "enough.toml", "--rule", "ad-h2-field"]);
            assert!(code == 0 && out.contains("floor of the trenches: 67.5 m2"), "{out}"); // 9 x 30 / 4
            assert!(out.contains(": enough;"), "{out}");
        }
    }

    #[test]
    fn what_cannot_be_written_says_why_and_nothing_is_written() {
        let inline = "[soak_pit]";
        for (text, args, code, says) in [
            (
                JOB.to_owned(),
                &["--soakage", "is-2470-2"][..],
                2,
                "error[U045]: nothing is proposed by is-2470-2",
            ),
            (JOB.to_owned(), &["--soakage", "who"], 2, "error[U040]"),
            (JOB.to_owned(), &[], 2, "error[U043]: no soakage method is named"),
            (JOB.to_owned(), &["--soakage", "sls-pit"], 2, "25 to 125 mm/h"),
            (
                JOB.replace("length = \"6 m\", ", ""),
                &["--soakage", "who-pit"],
                2,
                "water enters is not known",
            ),
            (
                JOB.replace("water_table = \"none\"", "water_table = \"2.5 m\""),
                &["--soakage", "who-pit"],
                2,
                "trenches lie higher",
            ),
            (JOB.replace(inline, "[soak-pit]"), &["--soakage", "who-pit"], 3, "error[J0"),
        ] {
            let files = Fake::with(&[("job.toml", &text)]);
            let args = [&["size", "job.toml", "--write", "enough.toml"], args].concat();
            let (got, out, err) = with(&files, &args);
            assert_eq!((got, out.as_str(), files.listing().len()), (code, "", 1), "{err}");
            assert!(err.contains(says), "{says}\n{err}");
        }
        let files = Fake::with(&[("job.toml", JOB)]);
        let over = ["size", "job.toml", "--soakage", "who-pit", "--write", "job.toml"];
        assert_eq!(with(&files, &over).0, crate::exit::Exit::File.code());
        let (code, out, _) = with(&files, &["size", "job.toml", "--soakage", "who-pit", "--write", "-"]);
        assert!(
            code == 0
                && out.starts_with("#:schema ../job.schema.json\n# A rest house")
                && out.contains("number = 5  "),
            "{out}"
        );
        assert_eq!(with(&files, &[&over[..], &["--force"]].concat()).0, 0);
    }

    #[test]
    fn new_gets_pits_or_trenches() {
        let new = |method: &str| {
            let files = Fake::default();
            let args =
                ["--persons", "6", "--water-use", "120 l/p/d", "--soil", "loam", "--percolation", "20 s/mm"];
            let head =
                ["new", "job.toml", "--rule", "bs-6297-1983", "--water-table", "5 m", "--soakage", method];
            let seen = with(&files, &[&head[..], &args].concat());
            (seen, files)
        };
        for (method, part) in [("who-pit", "[soak_pit]"), ("ad-h2-field", "[[drain]]")] {
            let ((code, _, err), files) = new(method);
            assert_eq!(code, 0, "{err}");
            let text = String::from_utf8_lossy(&files.get("job.toml").unwrap_or_default()).into_owned();
            assert!(text.contains(part), "{text}");
            let (code, out, _) = with(&files, &["size", "job.toml"]);
            assert!(code == 0 && out.contains("COMPLIES in all that was judged"), "{out}");
            let (_, out, _) = with(&files, &["size", "job.toml", "--rule", method]);
            assert!(out.contains("enough;") && !out.contains("NOT enough"), "{out}");
        }
        let ((code, _, err), files) = new("media-1250");
        assert!(code == 2 && err.starts_with("error[U045]") && files.listing().is_empty(), "{err}");
    }
}
