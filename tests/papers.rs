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
