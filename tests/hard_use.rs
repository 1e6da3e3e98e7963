//! Hard use of files: runs that are killed, full and locked disks. Nothing of the user's is lost, what is said is
//! clear, and a later run is not confused.

use std::collections::BTreeMap;
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

use tankwright_tests::program::{Run, run_killed, run_room};
use tankwright_tests::random::Dice;

/// The program as a process.
pub(crate) const TESTED: &str = env!("CARGO_BIN_EXE_tested");

pub(crate) const SMALL: &str = include_str!("../samples/smallest/job.toml");
pub(crate) const SITES: &str = "site,tank.width\r\nHill,1.30 m\r\nGap,-\r\nRiver,1.40 m\r\nLake,1.50 m\r\n";

/// A folder of this test, empty.
pub(crate) fn room(name: &str) -> PathBuf {
    let room = std::env::temp_dir().join(format!("tankwright-hard-{name}-{}", std::process::id()));
    let _ = fs::remove_dir_all(&room);
    fs::create_dir_all(&room).unwrap();
    room
}

/// Every file under a folder, by its path.
pub(crate) fn tree(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut all = BTreeMap::new();
    for entry in fs::read_dir(folder).into_iter().flatten() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if path.is_dir() {
            all.extend(tree(&path).into_iter().map(|(below, bytes)| (format!("{name}/{below}"), bytes)));
        } else {
            // One that is renamed meanwhile is not there.
            fs::read(&path).into_iter().for_each(|bytes| drop(all.insert(name.clone(), bytes)));
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

pub(crate) fn words(line: &str) -> Vec<String> {
    line.split(' ').map(str::to_owned).collect()
}

pub(crate) fn is_ours(name: &str) -> bool {
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

#[expect(clippy::print_stdout, reason = "who runs the tests sees what could not be tried")]
fn skipped(why: &str) {
    println!("skipped: {why}");
}

/// Is this machine one where a test may mount a disk of its own? Says so where not.
fn mounts() -> bool {
    let tried = Command::new("unshare").args(["-rm", "sh", "-c", "mount -t tmpfs none /mnt"]).output();
    let may = tried.is_ok_and(|o| o.status.success());
    if !may {
        skipped("no disk of one's own can be mounted here");
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
    for steps in (0..).step_by(7) {
        put(&out, &old);
        if run_killed(&dir, &estimate, steps).is_none() {
            break;
        }
        let left = tree(&out);
        for (name, bytes) in left.iter().filter(|(name, _)| is_ours(name)) {
            let whole = [old.get(name), new.get(name)].contains(&Some(bytes));
            assert!(whole, "after {steps} steps {name} is neither old nor new");
        }
        assert!(old.keys().all(|name| left.contains_key(name)), "after {steps} steps a file is gone");
        assert!(mine.iter().all(|name| left[*name] == b"mine"), "after {steps} steps");
        mixed += usize::from(new.iter().any(|(name, b)| old[name] != *b && left[name] == *b));
        // A later run is not confused by what lies about.
        if killed % 3 == 1 {
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
        if run_killed(&dir, &batch, steps).is_none() {
            break;
        }
        let left = tree(&out);
        let head = |tree: &BTreeMap<String, Vec<u8>>| {
            tree["results.csv"].split(|b| *b == b'\r').next().map(<[u8]>::to_vec)
        };
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
    for n in 0..5 {
        fs::write(&job, SMALL.replace("1.20 m", ["1.30 m", "1.20 m"][n % 2])).unwrap();
        let mut run = begin(estimate);
        // From the first file beside another's place on, it writes: a moment of it.
        let start = Instant::now();
        let writes =
            || tree(&out).keys().any(|name| name.contains(&format!(".new{n}")) || name.ends_with(".new0"));
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
    let state = dir.join("sites/unfinished.txt");
    let (mut rounds, mut resumed) = (0, 0);
    loop {
        let more = if state.exists() { " --resume" } else { "" };
        rounds += 1;
        resumed += u32::from(!more.is_empty());
        let mut run = begin(&format!("{batch} sites{more}"));
        // A moment of its work.
        let start = Instant::now();
        let works = || fs::metadata(&state).is_ok_and(|m| m.len() > 0);
        while run.try_wait().unwrap().is_none() && !works() && start.elapsed() < Duration::from_secs(20) {
            std::thread::sleep(Duration::from_micros(300));
        }
        std::thread::sleep(Duration::from_millis(u64::try_from(dice.roll(0, 200)).unwrap()));
        let ended = (resumed > 0 && rounds > 4) || run.try_wait().unwrap().is_some();
        if ended {
            assert_eq!(run.wait().unwrap().code(), Some(3));
        } else {
            let _ = run.kill();
            run.wait().unwrap();
        }
        // All is done; too early to have been killed and taken up, it begins once more.
        if dir.join("sites/results.csv").exists() && !state.exists() {
            if resumed > 0 || rounds > 50 {
                break;
            }
            fs::remove_dir_all(dir.join("sites")).unwrap();
        }
    }
    assert!(resumed > 0, "{rounds} rounds");
    let of = |name: &str| -> BTreeMap<_, _> {
        tree(&dir.join(name)).into_iter().filter(|(n, _)| is_ours(n)).collect()
    };
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
    assert!(
        run.status.code() == Some(6)
            && said(&run).starts_with("error[F008]: `out/tank.xlsx` cannot be written: "),
        "{}",
        said(&run)
    );
    untouched("too long");
    // Standard output on a full disk.
    let run = shell(&dir, "exec \"$0\" \"$@\" > /dev/full", &["bill", "tank.toml"]);
    assert!(run.status.code() == Some(6) && said(&run).starts_with("error[F009]"), "{}", said(&run));
    if mounts() {
        // The disk is mounted over `out`, and seen in that shell alone.
        let scene = |options: &str| {
            format!(
                "exec unshare -rm sh -c 'cp out/tank.xlsx kept && mount -t tmpfs none out && cp kept out/tank.xlsx && \
                 rm kept && mount -o remount,{options} out && cd . && {{ \"$0\" \"$@\"; code=$?; find out -type f; cat out/tank.xlsx; \
                 exit $code; }}' \"$0\" \"$@\""
            )
        };
        for (options, says) in [
            ("size=24k", "error[F008]: `out/tank.xlsx`: the disk is full\nhint: nothing is written"),
            ("ro", "error[F005]: `out"),
        ] {
            let run = shell(&dir, &scene(options), &args);
            assert!(
                run.status.code() == Some(6) && said(&run).starts_with(says),
                "{options}: {}",
                said(&run)
            );
            assert_eq!(String::from_utf8_lossy(&run.stdout), "out/tank.xlsx\nan old workbook", "{options}");
        }
        let batch = ["batch", "out2", "--out", "out"];
        fs::create_dir(dir.join("out2")).unwrap();
        (0..3).for_each(|n| fs::write(dir.join(format!("out2/{n}.toml")), SMALL).unwrap());
        let run = shell(&dir, &scene("size=12k"), &[&batch[..], &["--workbooks"]].concat());
        let err = said(&run);
        assert!(
            run.status.code() == Some(6)
                && err.contains("the disk is full")
                && err.contains("--resume goes on"),
            "{err}"
        );
    }
    untouched("mounted");
    // A file that is marked as not to be written; a folder in its place; a folder that is a file.
    let locked = dir.join("out/tank.xlsx");
    let mut marks = fs::metadata(&locked).unwrap().permissions();
    marks.set_readonly(true);
    fs::set_permissions(&locked, marks).unwrap();
    let at = |line: &str| -> Run { run_room(&dir, &words(line)) };
    let run = at("estimate tank.toml --out out");
    assert!(
        run.code == 6
            && run.err.starts_with("error[F005]: `out/tank.xlsx` may not be written\nhint: close it"),
        "{}",
        run.err
    );
    untouched("locked");
    fs::create_dir_all(dir.join("taken/tank.xlsx")).unwrap();
    let run = at("estimate tank.toml --out taken");
    assert!(
        run.code == 6 && run.err.starts_with("error[F002]: `taken/tank.xlsx` is a folder, not a file"),
        "{}",
        run.err
    );
    assert!(tree(&dir.join("taken")).is_empty());
    let run = at("estimate tank.toml --out tank.toml");
    assert!(
        run.code == 6 && run.err.starts_with("error[F002]: `tank.toml` is a file, not a folder"),
        "{}",
        run.err
    );
    // A folder that belongs to somebody else.
    let nobody = "exec setpriv --reuid 65534 --clear-groups \"$0\" \"$@\"";
    if shell(&dir, nobody, &["--version"]).status.success() {
        let run = shell(&dir, nobody, &["estimate", "tank.toml", "--out", "out"]);
        assert!(run.status.code() == Some(6) && said(&run).starts_with("error[F005]"), "{}", said(&run));
        untouched("of another user");
    } else {
        skipped("no other user can be taken here");
    }
    fs::remove_dir_all(dir).unwrap();
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
