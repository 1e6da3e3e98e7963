//! Files and figures that make no sense: a clear message each time, no panic, no long wait.

use std::fs;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use tankwright_tests::program::run_in;
use tankwright_tests::random::Dice;

const SMALL: &str = r#"format = 1
[job]
title = "Nonsense"
date = "2026-11-25"
currency = "UGX"
rates = "demo-ugx"
[tank]
chambers = ["1.60 m", "0.80 m"]
width = "1.20 m"
height = "1.50 m"
"#;

/// Far more than any of it takes, even in a debug build on a busy machine.
const PATIENCE: Duration = Duration::from_secs(60);

const VERBS: [&str; 3] = ["takeoff", "bill --format json", "estimate"];

/// A folder of this test, empty.
fn folder(name: &str) -> PathBuf {
    let folder = std::env::temp_dir().join(format!("tankwright-nonsense-{name}-{}", std::process::id()));
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    folder
}

/// Exit code and message of commands that read a job; they end alike.
fn ends(folder: &std::path::Path, job: &str, verbs: &[&str]) -> (i32, String) {
    let started = Instant::now();
    let mut seen = None;
    for verb in verbs {
        let run = run_in(folder, &format!("{verb} {job}"));
        assert!(![1, 2, 5].contains(&run.code), "{verb} {job}: exit {}\n{}", run.code, run.err);
        assert!(run.code != 0 || !run.out.is_empty());
        assert!(!run.err.contains("panic") && !run.err.contains("fault of the program"), "{}", run.err);
        seen.get_or_insert((run.code, run.err));
    }
    assert!(started.elapsed() < PATIENCE, "{job} took {:?}", started.elapsed());
    seen.unwrap()
}

#[test]
fn files_that_are_no_job_files() {
    let dir = folder("files");
    fs::create_dir(dir.join("a-folder")).unwrap();
    let files: [(&str, Vec<u8>, i32, &str); 12] = [
        ("empty", vec![], 3, "tank.chambers must be given"),
        ("blank", b" \r\n\t\n".to_vec(), 3, "tank.width must be given"),
        ("nul", vec![0; 4096], 3, "error[J001]"),
        ("binary", (0..=255).cycle().take(4096).collect(), 6, "this is not UTF-8 text"),
        ("sheet", b"PK\x03\x04\x14\x00\x06\xff".to_vec(), 6, "this is a spreadsheet or zip file, not text"),
        ("utf-16", b"\xff\xfef\x00o\x00".to_vec(), 6, "UTF-16"),
        ("brackets", vec![b'['; 5_000_000], 3, "error[J0"),
        ("braces", format!("x = {}", "{".repeat(5_000_000)).into_bytes(), 3, "error[J0"),
        ("quotes", vec![b'"'; 1_000_000], 3, "error[J0"),
        ("one-long-line", vec![b'a'; 5_000_000], 3, "error[J001]"),
        ("lines", b"x\n".repeat(20_000), 3, "error[J001]"),
        ("too-large", vec![b'#'; 20_000_001], 6, "larger than 20 MB"),
    ];
    for (name, bytes, code, says) in files {
        let large = bytes.len() > 10_000;
        fs::write(dir.join(name), bytes).unwrap();
        let (seen, err) = ends(&dir, name, if large { &VERBS[..1] } else { &VERBS });
        assert_eq!(seen, code, "{name}: {}", err.chars().take(600).collect::<String>());
        assert!(err.contains(says), "{name}: {}", err.chars().take(600).collect::<String>());
        assert!(err.len() < 200_000, "{name}: the message has {} bytes", err.len());
    }
    assert_eq!(ends(&dir, "a-folder", &VERBS).0, 6);
    assert_eq!(ends(&dir, "nowhere", &VERBS).0, 6);
    fs::remove_dir_all(dir).unwrap();
}

#[test]
fn price_lists_that_are_none() {
    let dir = folder("prices");
    fs::write(dir.join("job.toml"), SMALL.replace("demo-ugx", "prices.csv")).unwrap();
    let head = "kind,code,description,unit,rate,currency,date,source\n";
    for (text, code) in [
        (String::new(), 4),
        ("\u{feff}\n\n".into(), 4),
        ("\"".repeat(1_000_000), 4),
        (",".repeat(1_000_000), 4),
        (format!("{head}{}", ",".repeat(1_000_000)), 4),
        (format!("{head}work,bottom-trim,x,m2,{},UGX,2026-10-01,x\n", "9".repeat(100_000)), 4),
        (format!("{head}work,bottom-trim,x,m2,NaN,UGX,2026-10-01,x\n"), 4),
        (format!("{head}work,bottom-trim,x,m2,1e400,UGX,2026-10-01,x\n"), 4),
        (format!("{head}work,bottom-trim,x,m2,-0,UGX,9999-99-99,x\n"), 4),
    ] {
        fs::write(dir.join("prices.csv"), text).unwrap();
        let run = run_in(&dir, "bill job.toml");
        assert_eq!(run.code, code, "{}", run.err);
        assert!(run.out.is_empty() && run.err.contains("error[R0"), "{}", run.err);
    }
    fs::remove_dir_all(dir).unwrap();
}

#[test]
fn figures_that_make_no_sense() {
    let dir = folder("figures");
    let chambers = |n: usize| format!("[{}]", vec!["\"1 m\""; n].join(", "));
    let lengths = [
        "nan",
        "inf",
        "-inf",
        "1e400",
        "-1",
        "0",
        "1",
        "99",
        "100000",
        "100001",
        "9223372036854775807",
        "9223372036854775808",
        "-9223372036854775808",
        "0x7fffffff",
        "\"-1.20 m\"",
        "\"1 mm\"",
        "\"100 m\"",
        "\"99999.9 mm\"",
        "\"1e9 m\"",
        "\"\u{661}\u{662} m\"",
        "\"\"",
        "\" \"",
        "true",
        "[]",
        "{}",
        "2026-11-25",
        "\"9999999999999999999999999999999999999999 m\"",
        "\"0.00000000000000000000000000000000000001 m\"",
        "\"1/0 in\"",
        "\"5 ft 99999999999 in\"",
    ];
    let mut texts: Vec<String> = Vec::new();
    for (key, is) in [("width", "\"1.20 m\""), ("height", "\"1.50 m\"")] {
        texts.extend(lengths.map(|v| SMALL.replace(&format!("{key} = {is}"), &format!("{key} = {v}"))));
    }
    texts.extend(lengths.map(|v| format!("{SMALL}cover_top = {v}\n")));
    texts.extend(lengths.map(|v| format!("{SMALL}[tank.walls]\nthickness = {v}\n")));
    texts.extend(lengths.map(|v| format!("{SMALL}[tank.cover]\nthickness = {v}\nwall_beams = {v}\n")));
    texts.extend(lengths.map(|v| format!("{SMALL}[tank.base]\nfall = {v}\nhardcore = {v}\n")));
    texts.extend(
        lengths.map(|v| format!("{SMALL}[tank.pit]\nface = \"open\"\nworking_space = {v}\nbatter = {v}\n")),
    );
    texts.extend(
        lengths.map(|v| {
            format!("{SMALL}[soak_pit]\ndiameter = {v}\ndepth = {v}\nfill_depth = {v}\nnumber = 20\n")
        }),
    );
    texts.extend([0, 99, 5_000].map(|n| SMALL.replace("[\"1.60 m\", \"0.80 m\"]", &chambers(n))));
    texts.push(SMALL.replace("\"0.80 m\"", "\"1 mm\""));
    texts.push(SMALL.replace("2026-11-25", "999999999-99-99"));
    texts.push(SMALL.replace("Nonsense", &"long ".repeat(10_000)));
    texts.push(SMALL.replace("Nonsense", "\\u0000\\u001b[31m"));
    // As large as each key allows, all at once.
    texts.push(
        "format = 1\n[job]\ntitle = \"All\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\nrates = \"demo-ugx\"\n[tank]\nchambers = [100000, 100000, 100000, 100000]\nwidth = 100000\nheight = 100000\ncover_top = \"-100 m\"\n[tank.pit]\nface = \"open\"\nworking_space = 100000\nbatter = \"9999.9999\"\n[tank.base]\nhardcore = 100000\nfall = 100000\nprojection = 100000\nconcrete = { thickness = 100000 }\n[tank.walls]\nthickness = 100000\n[tank.plaster]\nthickness = 100000\n[soak_pit]\ndiameter = 100000\ndepth = 100000\nfill_depth = 100000\nnumber = 20\n"
            .into(),
    );
    let mut refused = 0;
    for text in &texts {
        fs::write(dir.join("job.toml"), text).unwrap();
        let (code, err) = ends(&dir, "job.toml", &VERBS[1..2]);
        // 4: the list has no price for such a wall.
        assert!([0, 3, 4].contains(&code), "exit {code}:\n{text}\n{err}");
        let told = err.contains(if code == 3 { "error[J0" } else { "error[R04" });
        assert!(code == 0 || (told && err.contains("hint: ")), "{text}\n{err}");
        assert!(!err.contains('\u{1b}'), "{text}");
        refused += usize::from(code == 3);
    }
    assert!(refused > texts.len() / 2, "{refused} of {} refused", texts.len());
    fs::remove_dir_all(dir).unwrap();
}

/// Every length of the rest house in turn, and pairs of them, set to extremes: built or refused, and proved if built.
#[test]
fn no_extreme_of_the_rest_house_breaks_a_balance() {
    let text =
        fs::read_to_string(tankwright_tests::program::root().join("samples/rest-house/job.toml")).unwrap();
    let is_length = |word: &str| word.ends_with(" m") || word.ends_with(" mm");
    let pieces: Vec<&str> = text.split('"').collect();
    let at: Vec<usize> = (0..pieces.len()).filter(|i| i % 2 == 1 && is_length(pieces[*i])).collect();
    assert!(at.len() > 40);
    let extremes =
        ["0 mm", "0.1 mm", "1 mm", "99.9 mm", "333.3 mm", "1.60 m", "3 m", "100 m", "-100 m", "-1 mm"];
    let mut dice = Dice::new(5);
    let mut built = 0;
    for i in &at {
        for value in extremes {
            let mut pieces = pieces.clone();
            pieces[*i] = value;
            if dice.odds(50) {
                let other = usize::try_from(dice.roll(0, at.len() as i64 - 1)).unwrap();
                pieces[at[other]] = dice.pick(&extremes);
            }
            let job = pieces.join("\"").replace("\"tight\"", dice.pick(&["\"tight\"", "\"open\""]));
            match tankwright_tests::measured(&job, Some(dice.pick(&["exact", "east-africa"]))) {
                Ok(_) => built += 1,
                Err(tankwright_quantities::estimate::Failure::Job(problems)) => assert!(!problems.is_empty()),
                Err(other) => panic!("{job}\n{other:?}"),
            }
        }
    }
    assert!(built > 50, "{built}");
}
