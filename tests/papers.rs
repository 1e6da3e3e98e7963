//! Papers to print: whole, the same bytes every time, refused where a letter cannot be printed.

use std::path::{Path, PathBuf};

use tankwright_cli::files::Disk;
use tankwright_tests::program::root;

/// A folder that may be written to.
fn scratch(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// A run on the disk: exit code, what it says.
fn run(verb: &str, job: &Path, out: &Path) -> (i32, String) {
    let said = |p: &Path| p.display().to_string();
    let args = ["tankwright".to_owned(), verb.to_owned(), said(job), "--out".to_owned(), said(out)];
    let (mut data, mut err) = (Vec::new(), Vec::new());
    let code = tankwright_cli::run(&args, &mut data, &mut err, &Disk);
    (code, String::from_utf8_lossy(&err).into_owned())
}

/// A paper printed twice into a folder of its own.
fn printed(verb: &str, job: &str) -> Vec<u8> {
    let folder = scratch(&format!("papers-{verb}"));
    let one = |name: &str| {
        let file = folder.join(name);
        let (code, err) = run(verb, &root().join(job), &file);
        assert_eq!(code, 0, "{err}");
        std::fs::read(file).unwrap()
    };
    let (first, second) = (one("a.pdf"), one("b.pdf"));
    assert!(first == second, "{verb}: the same job gives other bytes");
    first
}

#[test]
fn offer_and_cards_are_the_same_every_time_and_tagged() {
    for verb in ["offer", "cards"] {
        let bytes = printed(verb, "samples/guest-house/job.toml");
        assert!(bytes.len() > 20_000 && bytes.starts_with(b"%PDF-1."), "{verb}");
        let has = |what: &[u8]| bytes.windows(what.len()).any(|w| w == what);
        assert!(has(b"/StructTreeRoot") && has(b"/Lang") && has(b"D:20261125"), "{verb}");
        assert!(!has(b"/Encrypt") && !has(b"/JavaScript"), "{verb}");
    }
}

#[test]
fn a_letter_that_is_not_there_is_told() {
    let text = std::fs::read_to_string(root().join("samples/guest-house/job.toml")).unwrap();
    let folder = scratch("papers-letters");
    let job = folder.join("job.toml");
    std::fs::write(&job, text.replacen("title = \"Guest house", "title = \"\u{623f} house", 1)).unwrap();
    let out = folder.join("offer.pdf");
    let (code, err) = run("offer", &job, &out);
    assert_eq!(code, 3, "{err}");
    assert!(err.contains("error[F011]: the letters of the papers lack `\u{623f}` (U+623F)"), "{err}");
    assert!(!out.exists());
}

#[test]
fn a_logo_is_looked_for_beside_its_file_and_a_broken_one_is_told() {
    let text = std::fs::read_to_string(root().join("samples/guest-house/job.toml")).unwrap();
    let folder = scratch("papers-logo");
    let (job, out, logo) = (folder.join("job.toml"), folder.join("offer.pdf"), folder.join("logo.svg"));
    let firm = "\n[firm]\nname = \"Our own firm, invented\"\nlogo = \"logo.svg\"\n";
    std::fs::write(&job, text + firm).unwrap();
    let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"30\" height=\"10\"><rect width=\"30\" height=\"10\"/></svg>";
    std::fs::write(&logo, svg).unwrap();
    let (code, err) = run("offer", &job, &out);
    assert_eq!(code, 0, "{err}");
    let with = std::fs::read(&out).unwrap();
    std::fs::remove_file(&out).unwrap();
    for (bytes, says) in [
        (&b"GIF89a"[..], "neither PNG nor JPEG nor SVG"),
        (b"<svg", "cannot be read"),
        (b"\x89PNG", "cannot be read"),
    ] {
        std::fs::write(&logo, bytes).unwrap();
        let (code, err) = run("offer", &job, &out);
        assert!(
            code == 6
                && err.contains("error[F013]: the logo `logo.svg` cannot be used")
                && err.contains(says),
            "{err}"
        );
        assert!(err.contains("logo = \"logo.svg\"") && !out.exists(), "{err}");
    }
    std::fs::remove_file(&logo).unwrap();
    let (code, err) = run("offer", &job, &out);
    assert!(code == 6 && err.contains("there is no such file"), "{err}");
    assert!(with.windows(4).any(|w| w == b"/Alt"), "the picture has words");
}

/// A run of `estimate` into a folder.
fn estimated(job: &Path, out: &Path, papers: &[&str]) -> (i32, String, String) {
    let words = ["tankwright", "estimate", &job.display().to_string(), "--out", &out.display().to_string()]
        .map(str::to_owned);
    let args: Vec<String> = words.into_iter().chain(papers.iter().map(|a| (*a).to_owned())).collect();
    let (mut data, mut err) = (Vec::new(), Vec::new());
    let code = tankwright_cli::run(&args, &mut data, &mut err, &Disk);
    (code, String::from_utf8_lossy(&data).into_owned(), String::from_utf8_lossy(&err).into_owned())
}

#[test]
fn estimate_writes_every_paper_as_its_own_command_does() {
    let job = root().join("samples/guest-house/job.toml");
    let (all, one) = (scratch("papers-all").join("out"), scratch("papers-one"));
    drop(std::fs::remove_dir_all(&all));
    let (code, screen, err) = estimated(&job, &all, &["--papers"]);
    assert_eq!(code, 0, "{err}");
    let said = screen[screen.find("written:").unwrap()..].replace(['\n', '\u{a0}'], " ");
    for name in ["guest-house.xlsx", "offer.pdf", "cards.pdf", "orders/ (", "drawings/ ("] {
        assert!(said.contains(name), "{name}: {said}");
    }
    for verb in ["offer", "cards"] {
        let file = one.join(format!("{verb}.pdf"));
        assert_eq!(run(verb, &job, &file).0, 0);
        let ours = std::fs::read(all.join(format!("{verb}.pdf"))).unwrap();
        assert!(ours == std::fs::read(file).unwrap(), "{verb}");
    }
    assert_eq!(run("draw", &job, &one.join("drawings")).0, 0);
    let mut drawings = 0;
    for entry in std::fs::read_dir(one.join("drawings")).unwrap().flatten() {
        let theirs = std::fs::read(entry.path()).unwrap();
        assert!(theirs == std::fs::read(all.join("drawings").join(entry.file_name())).unwrap());
        drawings += 1;
    }
    assert!(drawings > 4 && said.contains(&format!("({drawings} files)")), "{drawings}: {said}");
    let pictured = || {
        let book = std::fs::read(all.join("guest-house.xlsx")).unwrap();
        // Names of parts stand in the file as they are.
        book.windows(9).filter(|w| w == b"xl/media/").count() > 0
    };
    assert!(pictured(), "plan and section stand in the workbook");
    // Later without them: the drawings come in every run, and what else stands there is said to be old.
    std::fs::remove_dir_all(all.join("drawings")).unwrap();
    let (code, screen, err) = estimated(&job, &all, &[]);
    assert!(code == 0 && !screen.contains("offer.pdf"), "{screen}");
    let said = screen.replace(['\n', '\u{a0}'], " ");
    assert!(said.contains(&format!("({drawings} files)")) && !pictured(), "{said}");
    assert!(err.contains("offer.pdf is of an earlier run") && !err.contains(".svg"), "{err}");
}

#[test]
fn a_paper_that_cannot_be_printed_leaves_no_file_of_the_set() {
    let text = std::fs::read_to_string(root().join("samples/guest-house/job.toml")).unwrap();
    let folder = scratch("papers-none");
    let (job, out) = (folder.join("job.toml"), folder.join("out"));
    drop(std::fs::remove_dir_all(&out));
    std::fs::write(&job, text + "\n[firm]\nname = \"Our own\"\nlogo = \"gone.png\"\n").unwrap();
    let (code, screen, err) = estimated(&job, &out, &["--papers"]);
    assert!(code == 6 && screen.is_empty() && err.contains("error[F013]"), "{code}: {err}");
    assert!(!out.exists());
    // Without a folder there is nowhere to put them.
    let args = ["tankwright", "estimate", "job.toml", "--papers"].map(str::to_owned);
    assert_eq!(tankwright_cli::run(&args, &mut Vec::new(), &mut Vec::new(), &Disk), 2);
}
