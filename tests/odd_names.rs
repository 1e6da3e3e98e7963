//! Names, line ends, marks and comments as people's machines make them: read, written and shown as any other.

use std::fs;
use std::time::{Duration, Instant};

use tankwright_tests::program::{root, run_room};

use crate::hard_use::{SMALL, is_ours, room, tree, words};

#[test]
fn odd_names_are_read_written_and_shown() {
    let dir = room("names");
    let long = "n".repeat(250);
    let names = [
        "a b",
        "two\nlines",
        "\"quoted\" 'twice'",
        "\u{1f6b0} Br\u{fc}nnen",
        "-first",
        "a;b&c$(d)`e`",
        &long,
        "..x",
        "\u{1b}[31mred",
        "%s%n",
    ];
    for name in names {
        let file = format!("{name}.toml");
        let short = name.len() < 200;
        // As a folder, and as a file.
        let (folder, job) = if short {
            (dir.join(name), format!("./{name}/{file}"))
        } else {
            (dir.clone(), format!("./{file}"))
        };
        fs::create_dir_all(&folder).unwrap();
        fs::write(dir.join(&job), SMALL).unwrap();
        let given =
            |words: &[&str]| run_room(&dir, &words.iter().map(|w| (*w).to_owned()).collect::<Vec<_>>());
        let out = format!("./out {}", if short { name } else { "long" });
        let run = given(&["estimate", &job, "--out", &out]);
        assert_eq!(run.code, 0, "{name:?}: {}", run.err);
        let written = tree(&dir.join(&out));
        assert!(
            written.contains_key(&format!("{name}.xlsx"))
                && written.keys().all(|n| is_ours(n) || name.starts_with('.')),
            "{:?}",
            written.keys()
        );
        assert!(!run.out.contains('\u{1b}') && !run.err.contains('\u{1b}'), "{name:?}");
        // A mistake in it is shown at its place, on lines that the name does not break.
        fs::write(dir.join(&job), SMALL.replace("1.20 m", "1.20")).unwrap();
        let run = given(&["bill", &job]);
        assert!(run.code == 3 && run.err.starts_with("error[J011]: tank.width"), "{name:?}: {}", run.err);
        assert!(run.err.lines().nth(1).unwrap().ends_with(":9:9"), "{name:?}: {}", run.err);
        assert!(!run.err.contains('\u{1b}') && !run.err.contains("two\nlines"), "{name:?}: {}", run.err);
        let run = given(&["bill", &format!("./none {}", if short { name } else { "long" })]);
        assert!(
            run.code == 6 && run.err.starts_with("error[F001]") && !run.err.contains('\u{1b}'),
            "{name:?}: {}",
            run.err
        );
    }
    // A name that begins with a dash is taken behind `--`; without it what to do is said.
    fs::write(dir.join("-first.toml"), SMALL).unwrap();
    assert_eq!(run_room(&dir, &words("bill -- -first.toml")).code, 0);
    let run = run_room(&dir, &words("bill -first.toml"));
    assert!(run.code == 2 && run.err.contains("-- -f"), "{}", run.err);
    let too_long = format!("{}.toml", "n".repeat(300));
    let run = run_room(&dir, &words(&format!("bill {too_long}")));
    assert!(run.code == 6 && run.err.contains("name too long"), "{}", run.err);
    fs::remove_dir_all(dir).unwrap();
}

#[test]
fn line_ends_marks_and_long_comments_change_nothing() {
    let dir = room("texts");
    let plain = fs::read_to_string(root().join("samples/rest-house/job.toml")).unwrap();
    let bill = |text: &str| {
        fs::write(dir.join("job.toml"), text).unwrap();
        let start = Instant::now();
        let run = run_room(&dir, &words("bill job.toml --format csv"));
        assert!(start.elapsed() < Duration::from_secs(20));
        run
    };
    let want = bill(&plain);
    assert_eq!(want.code, 0, "{}", want.err);
    let windows = plain.replace('\n', "\r\n");
    let line = format!("# {}\n", "what is said of it ".repeat(5));
    let comments = line.repeat(10_000_000 / line.len());
    let texts = [
        windows.clone(),
        format!("\u{feff}{plain}"),
        format!("\u{feff}{windows}"),
        format!("{comments}{plain}"),
        format!("{plain}\n{comments}"),
        format!("{plain}\n# {}", "x".repeat(10_000_000)),
    ];
    for text in &texts {
        let run = bill(text);
        assert_eq!(run.code, 0, "{}", run.err.chars().take(500).collect::<String>());
        assert!(run.out == want.out);
    }
    // A mistake is shown at its line, whatever stands before it, and shortly.
    let at = plain.lines().position(|l| l.contains("\"1.50 m\"")).unwrap() + 1;
    for text in &texts[..4] {
        let before = if text.len() > comments.len() { comments.lines().count() } else { 0 };
        let run = bill(&text.replacen("\"1.50 m\"", "\"1.50 n\"", 1));
        assert!(run.code == 3 && run.err.contains(&format!("job.toml:{}:", before + at)), "{}", run.err);
        assert!(run.err.len() < 2_000, "{}", run.err.len());
    }
    fs::remove_dir_all(dir).unwrap();
}
