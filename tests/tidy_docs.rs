//! What the README and DEVELOPERS.md say is so: map, commands, screen, job file; and every element has a sample.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use tankwright_cli::files::Disk;
use tankwright_quantities::job::{self, Given};
use tankwright_quantities::{elements, flow, rates, works};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_path_buf()
}

fn page(name: &str) -> String {
    std::fs::read_to_string(root().join(name)).unwrap()
}

/// Names of what stands in a folder: folders, then files of an ending.
fn inside(folder: &Path, ending: &str) -> [Vec<PathBuf>; 2] {
    let all = std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path());
    let (folders, files): (Vec<_>, Vec<_>) = all.partition(|p| p.is_dir());
    [folders, files.into_iter().filter(|p| p.extension().is_some_and(|e| e == ending)).collect()]
}

fn rust_files(folder: &Path) -> BTreeSet<String> {
    let [folders, files] = inside(folder, "rs");
    let own = files.iter().map(|p| p.strip_prefix(root()).unwrap().to_string_lossy().into_owned());
    own.chain(folders.iter().flat_map(|f| rust_files(f))).collect()
}

/// What stands in the code blocks of a language.
fn blocks<'a>(text: &'a str, language: &str) -> Vec<&'a str> {
    let open = format!("```{language}\n");
    text.split(&open).skip(1).map(|rest| rest.split("```").next().unwrap()).collect()
}

/// What stands between backticks, outside of code blocks.
fn quoted(text: &str) -> Vec<&str> {
    let prose = text.split("```").step_by(2);
    prose.flat_map(|t| t.split('`').skip(1).step_by(2)).collect()
}

/// Runs the program; what it printed.
fn run(args: &[&str]) -> (i32, String) {
    let args: Vec<String> = std::iter::once(&"tankwright").chain(args).map(|a| (*a).to_owned()).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = tankwright_cli::run(&args, &mut out, &mut err, &Disk);
    (code, String::from_utf8(out).unwrap())
}

/// Paths of the map in DEVELOPERS.md, from the root: the first cell of each row, under the heading's folder.
fn map() -> Vec<String> {
    let text = page("DEVELOPERS.md");
    let map = text.split("\n## Map\n").nth(1).unwrap().split("\n## ").next().unwrap();
    let mut found = Vec::new();
    for part in map.split("\n### `").skip(1) {
        let folder = part.split('`').next().unwrap();
        let rows = part.lines().filter_map(|l| l.strip_prefix("| `")?.split('`').next());
        found.extend(rows.map(|file| format!("{folder}/{file}")));
    }
    found
}

#[test]
fn the_map_names_every_file_and_every_file_it_names_is_there() {
    let files: BTreeSet<String> = inside(&root().join("crates"), "")[0]
        .iter()
        .flat_map(|c| rust_files(&c.join("src")))
        .chain(rust_files(&root().join("tests")))
        .collect();
    let mut mapped = BTreeSet::new();
    for entry in map() {
        if let Some((folder, ending)) = entry.split_once("/*.") {
            let there = inside(&root().join(folder), ending)[1].clone();
            assert!(!there.is_empty(), "the map names {entry}, where nothing is");
            mapped
                .extend(there.iter().map(|p| p.strip_prefix(root()).unwrap().to_string_lossy().into_owned()));
        } else {
            assert!(root().join(&entry).is_file(), "the map names {entry}, which is not there");
            assert!(mapped.insert(entry.clone()), "the map names {entry} twice");
        }
    }
    let missing: Vec<_> = files.difference(&mapped).collect();
    assert!(missing.is_empty(), "the map of DEVELOPERS.md lacks {missing:#?}");
}

#[test]
fn paths_in_the_pages_are_there() {
    for name in ["README.md", "DEVELOPERS.md", "CHANGELOG.md"] {
        let text = page(name);
        let words = quoted(&text).into_iter().chain(blocks(&text, "sh")).flat_map(str::split_whitespace);
        for word in
            words.filter(|w| ["samples/", "rates/", "tests/", "crates/"].iter().any(|p| w.starts_with(p)))
        {
            let path = word.split('*').next().unwrap();
            // Files that another crate's `src` or a reader's own folder holds are named without it.
            let there = [".", "crates/quantities/src"].iter().any(|at| root().join(at).join(path).exists());
            assert!(there, "{name} names {word}, which is not there");
        }
    }
}

#[test]
fn commands_in_the_pages_exist() {
    let (code, help) = run(&["--help"]);
    assert_eq!(code, 0);
    let listed = help.split("Commands:\n").nth(1).unwrap().split("\n\n").next().unwrap();
    let verbs: BTreeSet<&str> = listed.lines().filter_map(|l| l.split_whitespace().next()).collect();
    let mut told = BTreeSet::new();
    for name in ["README.md", "DEVELOPERS.md"] {
        let text = page(name);
        let lines = quoted(&text).into_iter().chain(blocks(&text, "sh").into_iter().flat_map(str::lines));
        for line in lines {
            let starts = ["tankwright ", "cargo run --release -- ", "cargo run -- "];
            let Some(rest) = starts.iter().find_map(|s| line.strip_prefix(s)) else { continue };
            let verb = rest.split_whitespace().next().unwrap();
            assert!(verbs.contains(verb), "{name}: `{line}` names no command");
            let usage = run(&[verb, "--help"]).1;
            for flag in rest.split_whitespace().filter(|w| w.starts_with("--")) {
                assert!(usage.contains(flag), "{name}: `{line}`: {verb} has no {flag}");
            }
            if name == "README.md" {
                told.insert(verb.to_owned());
            }
        }
    }
    for verb in verbs.iter().filter(|v| **v != "help") {
        assert!(told.contains(*verb), "README.md does not name `tankwright {verb}`");
    }
    let readme = page("README.md");
    let codes = readme.split("| exit code |").nth(1).unwrap().split("\n\n").next().unwrap();
    let flat = help.split_whitespace().collect::<Vec<_>>().join(" ");
    let rows: Vec<_> = codes.lines().skip(2).collect();
    assert_eq!(rows.len(), 7);
    for row in rows {
        let cells: Vec<_> = row.split('|').map(str::trim).collect();
        let says = format!("{} {}", cells[1], cells[2]);
        assert!(flat.contains(&says), "README.md says `{says}`, --help does not");
    }
}

#[test]
fn the_readme_opens_with_the_job_and_two_commands() {
    let readme = page("README.md");
    let first: Vec<_> = blocks(&readme, "sh")[0].lines().collect();
    assert_eq!(first, ["cargo run --release -- estimate samples/rest-house/job.toml --out out", "tests/run"]);
    assert_eq!(blocks(&readme, "toml")[0], page("samples/smallest/job.toml"));
    let list = page("rates/prices/demo-ugx.csv");
    for line in blocks(&readme, "csv")[0].lines() {
        assert!(list.lines().any(|l| l == line), "README.md shows a row that demo-ugx has not: {line}");
    }
}

#[test]
fn the_screen_in_the_readme_is_what_the_program_prints() {
    let out = Path::new(env!("CARGO_TARGET_TMPDIR")).join("readme");
    let job = root().join("samples/rest-house/job.toml");
    let (code, screen) = run(&["estimate", &job.to_string_lossy(), "--out", &out.to_string_lossy()]);
    assert_eq!(code, 0);
    let screen = screen.replace(&*out.to_string_lossy(), "out");
    let mut rest: Vec<&str> = screen.lines().collect();
    let readme = page("README.md");
    for line in blocks(&readme, "text")[0].lines().filter(|l| !l.is_empty() && *l != "...") {
        let at = rest.iter().position(|l| *l == line);
        assert!(
            at.is_some(),
            "README.md shows a line that the program does not print there:\n{line}\n{screen}"
        );
        rest.drain(..=at.unwrap());
    }
}

#[test]
fn the_search_in_the_readme_begins_as_the_program_prints() {
    let readme = page("README.md");
    let line =
        blocks(&readme, "sh").into_iter().find_map(|b| b.strip_prefix("tankwright cheapest ")).unwrap();
    // Words in quotes hold together.
    let words = line.trim().split('"').enumerate();
    let words: Vec<&str> = words
        .flat_map(|(i, part)| if i % 2 == 1 { vec![part] } else { part.split_whitespace().collect() })
        .collect();
    let job = root().join(words[0]);
    let (code, paper) = run(&[&["cheapest", &job.to_string_lossy()], &words[1..]].concat());
    assert_eq!(code, 0);
    let shown: Vec<&str> = blocks(&readme, "text")[1].lines().filter(|l| *l != "...").collect();
    assert!(shown.len() > 10 && paper.lines().take(shown.len()).eq(shown.iter().copied()), "{paper}");
}

/// Keys that the samples' own texts give, places in lists as `[]`.
fn given() -> BTreeSet<String> {
    let mut keys = BTreeSet::new();
    for folder in &inside(&root().join("samples"), "")[0] {
        let Ok(text) = std::fs::read_to_string(folder.join("job.toml")) else { continue };
        let (job, problems) = job::read("job.toml", &text, &flow::job_tables());
        assert!(problems.is_empty(), "{}: {problems:?}", folder.display());
        for (path, (_, given)) in job.values.iter() {
            if matches!(given, Given::Here(_)) {
                let plain: String = path.chars().filter(|c| !c.is_ascii_digit()).collect();
                keys.insert(plain);
            }
        }
    }
    keys
}

#[test]
fn every_part_of_every_element_is_used_by_a_sample() {
    let given = given();
    for field in elements::ALL.iter().flat_map(|e| e.fields()) {
        assert!(given.contains(field.key), "no sample uses {}", field.key);
    }
}

#[test]
fn every_sample_runs_and_balances() {
    for folder in &inside(&root().join("samples"), "")[0] {
        let job = folder.join("job.toml");
        if job.exists() {
            let (code, screen) = run(&["estimate", &job.to_string_lossy()]);
            assert_eq!(code, 0, "{}", folder.display());
            assert!(screen.contains("9 balances close"), "{}\n{screen}", folder.display());
        }
    }
}

#[test]
fn every_work_has_a_rate_in_every_demo_list() {
    for name in ["demo-ugx", "demo-kes", "demo-inr"] {
        let (path, text) = rates::builtin_prices(name).unwrap();
        let list = rates::read_prices(&path, text).unwrap();
        for work in works::all().iter().filter(|w| !w.void) {
            let has = |code: &str| code == work.id || code.starts_with(&format!("{}/", work.id));
            assert!(list.rows.iter().any(|r| has(&r.code)), "{name} has no rate for {}", work.id);
        }
    }
}

#[test]
fn the_schema_of_the_samples_is_the_one_of_the_program_and_their_first_line_names_it() {
    let (code, schema) = run(&["schema"]);
    assert_eq!(code, 0);
    let kept = root().join("samples/job.schema.json");
    if std::env::var_os("TANKWRIGHT_UPDATE").is_some() {
        std::fs::write(&kept, &schema).unwrap();
    }
    assert!(page("samples/job.schema.json") == schema, "samples/job.schema.json is not what `schema` prints");
    let [folders, _] = inside(&root().join("samples"), "");
    for file in folders.iter().flat_map(|f| inside(f, "toml")[1].clone()) {
        let text = std::fs::read_to_string(&file).unwrap();
        // The smallest shows how little must be said; messages of the refused quote their lines.
        let plain = ["smallest", "refused"].iter().any(|n| file.parent().is_some_and(|f| f.ends_with(n)));
        assert_eq!(text.starts_with("#:schema ../job.schema.json\n"), !plain, "{}", file.display());
    }
}
