//! Every example of every `--help` is run, each in a room of its own with the samples at hand; completions and manual
//! pages are read by those they are for.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use tankwright_tests::program::{root, run, run_room};

/// Commands whose examples are not run here, with the reason.
const NOT_RUN: [(&str, &str); 1] = [("serve", "ends when it is told to: see tests/page.rs")];

/// Examples that do not end with 0, and why that is right.
const OTHERWISE: [(&str, i32, &str); 0] = [];

/// Searches are kept small: what is tested here is the command line. Options an example gives itself stay.
const SMALL: [(&str, &str); 4] =
    [("--length", "3 m"), ("--width", "1.5 m"), ("--depth", "1.6 m"), ("--step", "500 mm")];

/// A room with what the examples name. It goes with what it holds.
struct Room(PathBuf);

impl Drop for Room {
    fn drop(&mut self) {
        drop(std::fs::remove_dir_all(&self.0));
    }
}

impl Room {
    fn new(name: &str) -> Self {
        let room = Self(std::env::temp_dir().join(format!("tankwright-help-{}-{name}", std::process::id())));
        drop(std::fs::remove_dir_all(&room.0));
        let samples = root().join("samples");
        for entry in std::fs::read_dir(&samples).unwrap().flatten().filter(|e| e.file_name() != "refused") {
            let Ok(files) = std::fs::read_dir(entry.path()) else { continue };
            let to = room.0.join("samples").join(entry.file_name());
            std::fs::create_dir_all(&to).unwrap();
            for file in files.flatten().filter(|f| f.path().is_file()) {
                std::fs::copy(file.path(), to.join(file.file_name())).unwrap();
            }
        }
        let text = |path: &str| std::fs::read_to_string(root().join(path)).unwrap();
        let put = |name: &str, text: &str| std::fs::write(room.0.join(name), text).unwrap();
        put("job.toml", &text("samples/rest-house/job.toml"));
        put("prices.csv", &text("rates/prices/demo-ugx.csv"));
        put("theirs.csv", &text("samples/rest-house/second.csv"));
        put("nile.csv", &text("samples/rest-house/returned-nile.csv"));
        put("received.csv", "date,material,quantity\n2026-12-02,cement,10\n");
        put("list.csv", "length,count,mark\n2.4 m,12,a\n1750,9,b\n");
        book(&room.0.join("theirs.xlsx"), "Bill 1", &text("samples/rest-house/second.csv"));
        book(&room.0.join("supplier.xlsx"), "Prices", &text("rates/prices/demo-ugx.csv"));
        book(&room.0.join("kato.xlsx"), "Bill to price", &text("samples/rest-house/returned-kato.csv"));
        book(&room.0.join("nile.xlsx"), "Bill to price", &text("samples/rest-house/returned-nile.csv"));
        room
    }
}

/// A CSV as the sheet of a workbook: what is a number there is a number here.
fn book(path: &Path, sheet: &str, text: &str) {
    let mut book = rust_xlsxwriter::Workbook::new();
    let page = book.add_worksheet();
    page.set_name(sheet).unwrap();
    for (row, line) in (0..).zip(tankwright_quantities::placed::rows(text)) {
        for (col, cell) in (0..).zip(line.cells.iter()) {
            match cell.parse::<f64>() {
                Ok(number) => page.write_number(row, col, number).unwrap(),
                Err(_) => page.write_string(row, col, cell).unwrap(),
            };
        }
    }
    book.save(path).unwrap();
}

/// The commands that `--help` lists.
fn verbs() -> Vec<String> {
    let help = run("--help").out;
    let list = help.split("Commands:\n").nth(1).unwrap().split("\n\n").next().unwrap();
    let names =
        list.lines().filter_map(|l| l.strip_prefix("  ")?.split(' ').next().filter(|w| !w.is_empty()));
    names.filter(|n| *n != "help").map(str::to_owned).collect()
}

/// The examples of a command's help, as they are typed.
fn examples(verb: &str) -> Vec<String> {
    let help = run(&format!("{verb} --help")).out;
    let begin = help.find("Example").unwrap_or_else(|| panic!("{verb} has no example"));
    let all = help[begin..].lines().skip(1).take_while(|l| !l.trim().is_empty());
    all.map(|l| l.trim().to_owned()).filter(|l| l.starts_with("tankwright ")).collect()
}

/// A line as a shell parts it: blanks part words, quotes hold them together; what follows `>` is the shell's.
fn words(line: &str) -> Vec<String> {
    let (mut words, mut word, mut quoted, mut open) = (Vec::new(), String::new(), false, false);
    for c in line.chars() {
        match c {
            '"' => (quoted, open) = (!quoted, true),
            ' ' if !quoted => {
                if open {
                    words.push(std::mem::take(&mut word));
                }
                open = false;
            }
            _ => {
                word.push(c);
                open = true;
            }
        }
    }
    if open {
        words.push(word);
    }
    words.into_iter().skip(1).take_while(|w| w != ">").collect()
}

#[test]
fn every_example_of_every_help_runs() {
    let mut wrong = Vec::new();
    let mut ran = 0;
    for verb in verbs() {
        let examples = examples(&verb);
        assert!(!examples.is_empty(), "{verb} has no example");
        if NOT_RUN.iter().any(|(name, _)| *name == verb) {
            continue;
        }
        for example in examples {
            let room = Room::new(&ran.to_string());
            let mut line = words(&example);
            if line[0] == "cheapest" {
                for (option, value) in SMALL.iter().filter(|(o, _)| !example.contains(o)) {
                    line.extend([(*option).to_owned(), (*value).to_owned()]);
                }
            }
            let done = run_room(&room.0, &line);
            let want = OTHERWISE.iter().find(|(e, ..)| *e == example).map_or(0, |(_, code, _)| *code);
            if done.code != want {
                wrong.push(format!("{example}\nends with {}:\n{}", done.code, done.err));
            }
            ran += 1;
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
    assert!(ran > 50, "{ran} examples");
}

/// Runs a tool over a text, where this machine has it.
fn tool(name: &str, args: &[&str], text: &str) -> Option<(bool, String)> {
    let mut command = Command::new(name);
    command.args(args).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().ok()?;
    let mut input = child.stdin.take()?;
    let text = text.to_owned();
    let writer = std::thread::spawn(move || input.write_all(text.as_bytes()));
    let done = child.wait_with_output().ok()?;
    drop(writer.join());
    let said = [done.stdout, done.stderr].concat();
    Some((done.status.success(), String::from_utf8_lossy(&said).into_owned()))
}

#[test]
fn shells_can_read_their_completions_and_every_command_stands_in_them() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let done = run(&format!("completions {shell}"));
        assert_eq!((done.code, done.err.as_str()), (0, ""));
        for verb in verbs() {
            assert!(done.out.contains(&verb), "{shell}: {verb}");
        }
        let args: &[&str] = if shell == "fish" { &["--no-execute"] } else { &["-n"] };
        if ["bash", "zsh", "fish"].contains(&shell)
            && let Some((good, said)) = tool(shell, args, &done.out)
        {
            assert!(good && said.is_empty(), "{shell}: {said}");
        }
    }
    assert_eq!(run("completions cmd").code, 2);
}

#[test]
fn manual_pages_render() {
    let whole = run("man").out;
    for verb in verbs() {
        assert!(whole.contains(&format!("tankwright\\-{}", verb.replace('-', "\\-"))), "{verb}");
        let page = run(&format!("man {verb}")).out;
        assert!(page.contains(".SH SYNOPSIS") && page.contains("tankwright "), "{verb}");
        if let Some((good, said)) = tool("man", &["-l", "-"], &page) {
            assert!(good && said.contains("SYNOPSIS"), "{verb}: {said}");
        }
        if let Some((good, said)) = tool("mandoc", &["-Tlint", "-Werror"], &page) {
            assert!(good, "{verb}: {said}");
        }
    }
    assert_eq!(run("man nobody").code, 2);
    let room = Room::new("man");
    let done = run_room(&room.0, &["man".to_owned(), "--out".to_owned(), "man1".to_owned()]);
    assert_eq!(done.code, 0, "{}", done.err);
    assert_eq!(std::fs::read_dir(room.0.join("man1")).unwrap().count(), verbs().len() + 1);
}
