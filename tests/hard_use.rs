//! Hard use of files: runs that are killed, full and locked disks, odd names and texts. Nothing of the user's is lost,
//! what is said is clear, and a later run is not confused. One run gives the same bytes as another.

use std::collections::BTreeMap;
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

use tankwright_tests::program::{Run, root, run_killed, run_room};
use tankwright_tests::random::Dice;

/// The program as a process.
pub(crate) const TESTED: &str = env!("CARGO_BIN_EXE_tested");

const SMALL: &str = include_str!("../samples/smallest/job.toml");
const SITES: &str = "site,tank.width\r\nHill,1.30 m\r\nGap,-\r\nRiver,1.40 m\r\nLake,1.50 m\r\n";

/// A folder of this test, empty.
pub(crate) fn room(name: &str) -> PathBuf {
    let room = std::env::temp_dir().join(format!("tankwright-hard-{name}-{}", std::process::id()));
    let _ = fs::remove_dir_all(&room);
    fs::create_dir_all(&room).unwrap();
    room
}

/// Every file under a folder, by its path.
fn tree(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut all = BTreeMap::new();
    for entry in fs::read_dir(folder).into_iter().flatten() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if path.is_dir() {
            all.extend(tree(&path).into_iter().map(|(below, bytes)| (format!("{name}/{below}"), bytes)));
        } else {
            all.insert(name, fs::read(&path).unwrap());
        }
    }
    all
}

fn put(folder: &Path, files: &BTreeMap<String, Vec<u8>>) {
    let _ = fs::remove_dir_all(folder);
    for (name, bytes) in files {
        let path = folder.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }
}

fn words(line: &str) -> Vec<String> {
    line.split(' ').map(str::to_owned).collect()
}

fn is_ours(name: &str) -> bool {
    !name.rsplit('/').next().unwrap().starts_with('.')
}

/// The program in a folder, by way of a shell line that sets the scene; `$0` is the program.
pub(crate) fn shell(folder: &Path, scene: &str, args: &[&str]) -> Output {
    let mut command = Command::new("sh");
    command.arg("-c").arg(scene).arg(TESTED).args(args).current_dir(folder);
    command.env_remove("TANKWRIGHT_DATA").stdin(Stdio::null()).output().unwrap()
}

pub(crate) fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// Is this machine one where a test may mount a disk of its own? Says so where not.
fn mounts() -> bool {
    let tried = Command::new("unshare").args(["-rm", "sh", "-c", "mount -t tmpfs none /mnt"]).output();
    let may = tried.is_ok_and(|o| o.status.success());
    if !may {
        println!("skipped: no disk of one's own can be mounted here");
    }
    may
}

#[test]
fn at_whatever_step_an_estimate_is_killed_every_file_is_whole() {
    let dir = room("killed");
    let out = dir.join("out");
    fs::write(dir.join("job.toml"), SMALL).unwrap();
    let estimate = words("estimate job.toml --out out");
    assert_eq!(run_room(&dir, &estimate).code, 0);
    let mut old = tree(&out);
    assert!(old.len() > 10, "{:?}", old.keys());
    fs::write(dir.join("job.toml"), SMALL.replace("1.20 m", "1.30 m")).unwrap();
    assert_eq!(run_room(&dir, &estimate).code, 0);
    let new = tree(&out);
    assert_ne!(old, new);
    // The user's own, one of them named as the program names what is on its way.
    let mine = ["orders/notes.txt", ".job.xlsx.new0", "orders/.dig.txt.old0"];
    mine.iter().for_each(|name| drop(old.insert((*name).to_owned(), b"mine".to_vec())));
    let (mut killed, mut mixed) = (0, 0);
    for steps in (0..).step_by(5) {
        put(&out, &old);
        let Some(run) = run_killed(&dir, &estimate, steps) else { break };
        assert_eq!(run.code, 6, "{}", run.err);
        let left = tree(&out);
        for (name, bytes) in left.iter().filter(|(name, _)| is_ours(name)) {
            let whole = [old.get(name), new.get(name)].contains(&Some(bytes));
            assert!(whole, "after {steps} steps {name} is neither old nor new");
        }
        assert!(old.keys().all(|name| left.contains_key(name)), "after {steps} steps a file is gone");
        assert!(mine.iter().all(|name| left[*name] == b"mine"), "after {steps} steps");
        mixed += usize::from(new.iter().any(|(name, b)| old[name] != *b && left[name] == *b));
        // A later run is not confused by what lies about.
        if killed % 4 == 0 {
            let later = run_room(&dir, &estimate);
            assert_eq!(later.code, 0, "{}", later.err);
            let now = tree(&out);
            assert!(new.iter().all(|(name, bytes)| now[name] == *bytes), "after {steps} steps");
            assert!(mine.iter().all(|name| now[*name] == b"mine"), "after {steps} steps");
        }
        killed += 1;
    }
    assert!(killed > 5 && mixed > 0, "killed {killed} times, {mixed} times between two renames");
    fs::remove_dir_all(dir).unwrap();
}

#[test]
fn at_whatever_step_a_batch_is_killed_it_can_be_taken_up() {
    let dir = room("batch-killed");
    let out = dir.join("out");
    fs::write(dir.join("job.toml"), SMALL).unwrap();
    let two: String = SITES.split_inclusive('\n').take(3).collect();
    let batch = words("batch sites.csv --base job.toml --out out --force --threads 1");
    let go_on = words("batch sites.csv --base job.toml --out out --resume --threads 2");
    // An older batch of other sites, at its end.
    fs::write(dir.join("sites.csv"), two.replace("1.30", "1.90").replace("Hill", "Old")).unwrap();
    assert_eq!(run_room(&dir, &batch).code, 3);
    let old = tree(&out);
    fs::write(dir.join("sites.csv"), two).unwrap();
    assert_eq!(run_room(&dir, &batch).code, 3);
    let new = tree(&out);
    let (mut steps, mut resumed) = (0, 0);
    loop {
        put(&out, &old);
        let Some(run) = run_killed(&dir, &batch, steps) else { break };
        assert_eq!(run.code, 6, "{}", run.err);
        let left = tree(&out);
        let head = |tree: &BTreeMap<String, Vec<u8>>| tree["results.csv"].split(|b| *b == b'\r').next().map(<[u8]>::to_vec);
        assert_eq!(head(&left), head(&old), "after {steps} steps");
        if left.contains_key("unfinished.txt") {
            assert_eq!(run_room(&dir, &go_on).code, 3, "after {steps} steps");
            let now: BTreeMap<_, _> = tree(&out).into_iter().filter(|(name, _)| is_ours(name)).collect();
            assert!(now == new, "after {steps} steps: {:?}", now.keys());
            resumed += 1;
        } else {
            assert_eq!(left["results.csv"], old["results.csv"], "after {steps} steps");
        }
        steps += 1;
    }
    assert!(steps > 12 && resumed > 8, "{steps} steps, {resumed} taken up");
    fs::remove_dir_all(dir).unwrap();
}

#[test]
fn processes_killed_while_they_write_lose_nothing() {
    let dir = room("kill-9");
    let (job, out) = (dir.join("job.toml"), dir.join("out"));
    let begin = |line: &str| {
        let mut command = Command::new(TESTED);
        command.args(line.split(' ')).current_dir(&dir).stdout(Stdio::null()).stderr(Stdio::null());
        command.spawn().unwrap()
    };
    let estimate = "estimate job.toml --out out";
    let mut whole = Vec::new();
    for width in ["1.30 m", "1.20 m"] {
        fs::write(&job, SMALL.replace("1.20 m", width)).unwrap();
        assert!(begin(estimate).wait().unwrap().success());
        whole.push(tree(&out));
    }
    let mut dice = Dice::new(9);
    for n in 0..6 {
        fs::write(&job, SMALL.replace("1.20 m", ["1.30 m", "1.20 m"][n % 2])).unwrap();
        let mut run = begin(estimate);
        // From the first file beside another's place on, it writes: a moment of it.
        let start = Instant::now();
        let writes = || tree(&out).keys().any(|name| name.contains(&format!(".new{n}")) || name.ends_with(".new0"));
        while run.try_wait().unwrap().is_none() && !writes() && start.elapsed() < Duration::from_secs(20) {
            std::thread::sleep(Duration::from_micros(300));
        }
        std::thread::sleep(Duration::from_micros(u64::try_from(dice.roll(0, 4_000)).unwrap()));
        let _ = run.kill();
        run.wait().unwrap();
        let left = tree(&out);
        for name in whole[0].keys() {
            assert!(whole.iter().any(|w| w[name] == left[name]), "{name} is neither old nor new");
        }
        left.keys().filter(|n| !is_ours(n)).for_each(|n| fs::remove_file(out.join(n)).unwrap());
    }
    // A batch, killed and taken up until it is at its end.
    fs::write(&job, SMALL).unwrap();
    fs::write(dir.join("sites.csv"), SITES).unwrap();
    let batch = "batch sites.csv --base job.toml --workbooks --out";
    begin(&format!("{batch} straight")).wait().unwrap();
    let mut kills = 0;
    loop {
        let more = if dir.join("sites/unfinished.txt").exists() { " --resume" } else { "" };
        let mut run = begin(&format!("{batch} sites{more}"));
        std::thread::sleep(Duration::from_millis(u64::try_from(dice.roll(200, 900)).unwrap()));
        let ended = kills > 3 || run.try_wait().unwrap().is_some();
        if ended {
            assert_eq!(run.wait().unwrap().code(), Some(3));
            break;
        }
        let _ = run.kill();
        run.wait().unwrap();
        kills += 1;
    }
    let of = |name: &str| -> BTreeMap<_, _> { tree(&dir.join(name)).into_iter().filter(|(n, _)| is_ours(n)).collect() };
    let (straight, ours) = (of("straight"), of("sites"));
    assert!(straight == ours && straight.len() == 5, "{:?}\n{:?}", straight.keys(), ours.keys());
    assert!(tree(&dir.join("sites/workbooks")).keys().all(|name| is_ours(name)));
    fs::remove_dir_all(dir).unwrap();
}

#[test]
fn full_and_closed_disks_lose_nothing() {
    let dir = room("disks");
    fs::create_dir(dir.join("out")).unwrap();
    let old = b"an old workbook".as_slice();
    fs::write(dir.join("tank.toml"), SMALL).unwrap();
    fs::write(dir.join("out/tank.xlsx"), old).unwrap();
    let args = ["estimate", "tank.toml", "--out", "out"];
    let untouched = |name: &str| {
        let left = tree(&dir.join("out"));
        assert!(left.len() == 1 && left["tank.xlsx"] == old, "{name}: {:?}", left.keys());
    };
    // No file may be longer than this: a disk that fails in the middle of a file.
    let run = shell(&dir, "trap '' XFSZ; ulimit -f 4; exec \"$0\" \"$@\"", &args);
    assert!(run.status.code() == Some(6) && said(&run).starts_with("error[F008]: `out/tank.xlsx` cannot be written: "), "{}", said(&run));
    untouched("too long");
    // Standard output on a full disk.
    let run = shell(&dir, "exec \"$0\" \"$@\" > /dev/full", &["bill", "tank.toml"]);
    assert!(run.status.code() == Some(6) && said(&run).starts_with("error[F009]"), "{}", said(&run));
    if mounts() {
        // The disk is mounted over `out`, and seen in that shell alone.
        let scene = |options: &str| {
            format!(
                "exec unshare -rm sh -c 'cp out/tank.xlsx kept && mount -t tmpfs none out && cp kept out/tank.xlsx && \
                 rm kept && mount -o remount,{options} out && cd . && {{ \"$0\" \"$@\"; code=$?; ls -A out; cat out/tank.xlsx; \
                 exit $code; }}' \"$0\" \"$@\""
            )
        };
        for (options, says) in [
            ("size=24k", "error[F008]: `out/tank.xlsx`: the disk is full\nhint: nothing is written"),
            ("ro", "error[F005]: `out"),
        ] {
            let run = shell(&dir, &scene(options), &args);
            assert!(run.status.code() == Some(6) && said(&run).starts_with(says), "{options}: {}", said(&run));
            assert_eq!(String::from_utf8_lossy(&run.stdout), "tank.xlsx\nan old workbook", "{options}");
        }
        let batch = ["batch", "out2", "--out", "out"];
        fs::create_dir(dir.join("out2")).unwrap();
        (0..3).for_each(|n| fs::write(dir.join(format!("out2/{n}.toml")), SMALL).unwrap());
        let run = shell(&dir, &scene("size=12k"), &[&batch[..], &["--workbooks"]].concat());
        let err = said(&run);
        assert!(run.status.code() == Some(6) && err.contains("the disk is full") && err.contains("--resume goes on"), "{err}");
    }
    untouched("mounted");
    // A file that is marked as not to be written; a folder in its place; a folder that is a file.
    let locked = dir.join("out/tank.xlsx");
    let mut marks = fs::metadata(&locked).unwrap().permissions();
    marks.set_readonly(true);
    fs::set_permissions(&locked, marks).unwrap();
    let at = |line: &str| -> Run { run_room(&dir, &words(line)) };
    let run = at("estimate tank.toml --out out");
    assert!(run.code == 6 && run.err.starts_with("error[F005]: `out/tank.xlsx` may not be written\nhint: close it"), "{}", run.err);
    untouched("locked");
    fs::create_dir_all(dir.join("taken/tank.xlsx")).unwrap();
    let run = at("estimate tank.toml --out taken");
    assert!(run.code == 6 && run.err.starts_with("error[F002]: `taken/tank.xlsx` is a folder, not a file"), "{}", run.err);
    assert!(tree(&dir.join("taken")).is_empty());
    let run = at("estimate tank.toml --out tank.toml");
    assert!(run.code == 6 && run.err.starts_with("error[F002]: `tank.toml` is a file, not a folder"), "{}", run.err);
    // A folder that belongs to somebody else.
    let nobody = "exec setpriv --reuid 65534 --clear-groups \"$0\" \"$@\"";
    if shell(&dir, nobody, &["--version"]).status.success() {
        let run = shell(&dir, nobody, &["estimate", "tank.toml", "--out", "out"]);
        assert!(run.status.code() == Some(6) && said(&run).starts_with("error[F005]"), "{}", said(&run));
        untouched("of another user");
    } else {
        println!("skipped: no other user can be taken here");
    }
    fs::remove_dir_all(dir).unwrap();
}

#[test]
fn odd_names_are_read_written_and_shown() {
    let dir = room("names");
    let long = "n".repeat(250);
    let names = ["a b", "two\nlines", "\"quoted\" 'twice'", "\u{1f6b0} Br\u{fc}nnen", "-first", "a;b&c$(d)`e`", &long, "..x", "\u{1b}[31mred", "%s%n"];
    for name in names {
        let file = format!("{name}.toml");
        let short = name.len() < 200;
        // As a folder, and as a file.
        let (folder, job) = if short { (dir.join(name), format!("./{name}/{file}")) } else { (dir.clone(), format!("./{file}")) };
        fs::create_dir_all(&folder).unwrap();
        fs::write(dir.join(&job), SMALL).unwrap();
        let given = |words: &[&str]| run_room(&dir, &words.iter().map(|w| (*w).to_owned()).collect::<Vec<_>>());
        let out = format!("./out {}", if short { name } else { "long" });
        let run = given(&["estimate", &job, "--out", &out]);
        assert_eq!(run.code, 0, "{name:?}: {}", run.err);
        let written = tree(&dir.join(&out));
        assert!(written.contains_key(&format!("{name}.xlsx")) && written.keys().all(|n| is_ours(n) || name.starts_with('.')), "{:?}", written.keys());
        assert!(!run.out.contains('\u{1b}') && !run.err.contains('\u{1b}'), "{name:?}");
        // A mistake in it is shown at its place, on lines that the name does not break.
        fs::write(dir.join(&job), SMALL.replace("1.20 m", "1.20")).unwrap();
        let run = given(&["bill", &job]);
        assert!(run.code == 3 && run.err.starts_with("error[J011]: tank.width"), "{name:?}: {}", run.err);
        assert!(run.err.lines().nth(1).unwrap().ends_with(":13:9") || run.err.contains(".toml:"), "{name:?}: {}", run.err);
        assert!(!run.err.contains('\u{1b}') && !run.err.contains("two\nlines"), "{name:?}: {}", run.err);
        let run = given(&["bill", &format!("{job}.none")]);
        assert!(run.code == 6 && run.err.starts_with("error[F001]") && !run.err.contains('\u{1b}'), "{name:?}: {}", run.err);
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
        let run = run_room(&dir, &words("bill job.toml --format json"));
        assert!(start.elapsed() < Duration::from_secs(20));
        run
    };
    let want = bill(&plain);
    assert_eq!(want.code, 0, "{}", want.err);
    let windows = plain.replace('\n', "\r\n");
    let line = format!("# {}\n", "what is said of it ".repeat(5));
    let comments = line.repeat(10_000_000 / line.len());
    let texts = [windows.clone(), format!("\u{feff}{plain}"), format!("\u{feff}{windows}"), format!("{comments}{plain}"), format!("{plain}\n{comments}"), format!("{plain}\n# {}", "x".repeat(10_000_000))];
    for text in &texts {
        let run = bill(text);
        assert_eq!((run.code, &run.err), (0, &want.err), "{}", run.err.chars().take(500).collect::<String>());
        assert_eq!(run.out, want.out);
    }
    // A mistake is shown at its line, whatever stands before it, and shortly.
    let at = plain.lines().position(|l| l.contains("\"1.50 m\"")).unwrap() + 1;
    for text in &texts[..4] {
        let before = if text.starts_with('#') { comments.lines().count() } else { 0 };
        let run = bill(&text.replacen("\"1.50 m\"", "\"1.50 n\"", 1));
        assert!(run.code == 3 && run.err.contains(&format!("job.toml:{}:", before + at)), "{}", run.err);
        assert!(run.err.len() < 2_000, "{}", run.err.len());
    }
    fs::remove_dir_all(dir).unwrap();
}

/// Everything that a sample's commands write, one run of each.
fn all_written(sample: &str, threads: &str, cores: &str) -> BTreeMap<String, Vec<u8>> {
    let dir = room(&format!("same-{sample}-{threads}"));
    fs::copy(root().join("samples").join(sample).join("job.toml"), dir.join("job.toml")).unwrap();
    fs::write(dir.join("sites.csv"), SITES.split_inclusive('\n').take(3).collect::<String>()).unwrap();
    let mut lines = vec![
        "estimate job.toml --out estimate".to_owned(),
        "draw job.toml --out draw".to_owned(),
        "offer job.toml --out offer.pdf --bill --drawings".to_owned(),
        "cards job.toml --out cards.pdf".to_owned(),
        "bill job.toml --to-price form.xlsx".to_owned(),
        "bill job.toml --to-price form.csv".to_owned(),
        format!("batch sites.csv --base job.toml --out batch --workbooks --threads {threads}"),
    ];
    if sample == "rest-house" {
        lines.push("draw job.toml --only site --out pictures --png 500".to_owned());
        let range = "--length 2.9m..3m --width 1.5m --depth 1.6m --step 100mm";
        lines.push(format!("cheapest job.toml --out cheapest.toml {range} --threads {threads}"));
    }
    for line in &lines {
        // The threads that the system gives: all of them, or one.
        let run = shell(&dir, &format!("exec {cores} \"$0\" \"$@\""), &line.split(' ').collect::<Vec<_>>());
        let ends = if line.starts_with("batch") { 3 } else { 0 };
        assert_eq!(run.status.code(), Some(ends), "{line}: {}", said(&run));
    }
    let files = tree(&dir);
    fs::remove_dir_all(dir).unwrap();
    files
}

#[test]
fn one_run_gives_the_same_bytes_as_another() {
    for sample in ["smallest", "rest-house"] {
        let one = all_written(sample, "1", "taskset -c 0");
        std::thread::sleep(Duration::from_millis(1_100));
        let two = all_written(sample, "2", "");
        assert_eq!(one.keys().collect::<Vec<_>>(), two.keys().collect::<Vec<_>>(), "{sample}");
        for (name, bytes) in &one {
            assert!(two[name] == *bytes, "{sample}: {name} differs from one run to the next");
        }
        let kinds: Vec<&str> = [".pdf", ".xlsx", ".svg", ".txt", ".csv"].into_iter().filter(|k| one.keys().any(|n| n.ends_with(k))).collect();
        assert!(kinds.len() >= 5 && one.len() > 30, "{sample}: {:?}", one.keys());
    }
}

/// Reads what a child says until its first line end.
pub(crate) fn first_line(from: &mut impl Read) -> String {
    let mut line = Vec::new();
    let mut byte = [0];
    while from.read(&mut byte).is_ok_and(|n| n == 1) && byte[0] != b'\n' {
        line.push(byte[0]);
    }
    String::from_utf8(line).unwrap()
}
