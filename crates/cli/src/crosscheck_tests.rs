//! The cross-check over a disk in memory: its map, words of one's own, what is refused.

use crate::fake::Fake;
use crate::run;

const JOB: &str = include_str!("../../../samples/smallest/job.toml");
const LIST: &str =
    "description,unit,quantity\nBrick walls,m3,2.40\nMasonry of the tank by Otim,m3,2.40\nPaint,m2,4\n";

fn with(files: &Fake, line: &str) -> (i32, String, String) {
    let args: Vec<String> = std::iter::once("tankwright").chain(line.split(' ')).map(str::to_owned).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = run(&args, &mut out, &mut err, files);
    (code, String::from_utf8_lossy(&out).into_owned(), String::from_utf8_lossy(&err).into_owned())
}

#[test]
fn the_map_is_written_once_and_then_read() {
    let files = Fake::with(&[("job.toml", JOB), ("other.csv", LIST)]);
    let line = "crosscheck job.toml other.csv --map map.csv";
    let (code, first, err) = with(&files, line);
    assert!(code == 0 && err.contains("map.csv is written"), "{err}");
    let map = String::from_utf8(files.get("map.csv").unwrap_or_default()).unwrap_or_default();
    assert!(
        map.contains("2,brickwork-wall,yes,,2.40 m3,Brick walls\r\n4,,no,,4 m2,Paint\r\n")
            || map.contains("\r\n4,,no,")
    );
    files.put("map.csv", map.replace("\r\n4,,", "\r\n4,-,").as_bytes());
    let (code, second, err) = with(&files, line);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(first.contains("nothing in its words") && second.contains("left aside by the map"), "{second}");
    assert!(second.lines().all(|l| l.chars().count() <= 100));
    let kept = files.get("map.csv").unwrap_or_default();
    assert!(String::from_utf8_lossy(&kept).contains("\r\n4,-,"));
}

#[test]
fn words_of_ones_own_stand_in_place_of_the_built_in_ones() {
    let words = include_str!("../../../rates/wording.toml");
    let own = words.replace("\"brickwork\", \"brick work\"", "\"tofali\", \"brick work\"");
    let list = "description,unit,quantity\nTofali,m3,2.40\n";
    let files = Fake::with(&[("job.toml", JOB), ("other.csv", list), ("own/wording.toml", &own)]);
    let (_, out, _) = with(&files, "crosscheck job.toml other.csv --format csv");
    assert!(out.contains("unmatched,2,"), "{out}");
    let (code, out, err) = with(&files, "--data own crosscheck job.toml other.csv --format csv");
    assert!(code == 0 && out.contains("item,2,brickwork-wall,"), "{out}{err}");
    files.put("own/wording.toml", b"[heads]\nunit = [");
    let (code, out, err) = with(&files, "--data own crosscheck job.toml other.csv");
    assert_eq!((code, out.as_str()), (4, ""));
    assert!(err.starts_with("error[T009]") && err.contains("own/wording.toml:2"), "{err}");
}

#[test]
fn a_list_that_is_not_there_or_says_nothing() {
    let files =
        Fake::with(&[("job.toml", JOB), ("empty.csv", ""), ("doubt.csv", "item,unit,qty\nWall,yards,3\n")]);
    assert_eq!(with(&files, "crosscheck job.toml nowhere.csv").0, 6);
    let (code, out, err) = with(&files, "crosscheck job.toml empty.csv");
    assert!(code == 3 && out.is_empty() && err.contains("T001"), "{err}");
    let (code, out, err) = with(&files, "crosscheck job.toml doubt.csv");
    assert!(
        code == 0 && !out.is_empty() && err.contains("caution[T007]") && err.contains("Wall,yards,3"),
        "{err}"
    );
}
