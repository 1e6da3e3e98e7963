//! One run gives the same bytes as another, with one thread or two, for every file written.

use std::collections::BTreeMap;
use std::fs;
use std::time::Duration;

use tankwright_tests::program::root;

use crate::hard_use::{SITES, room, said, shell, tree};

/// Everything that a sample's commands write, one run of each.
fn all_written(sample: &str, threads: &str, cores: &str) -> BTreeMap<String, Vec<u8>> {
    let whole = room(&format!("same-{sample}-{threads}"));
    let dir = whole.join(sample);
    fs::create_dir(&dir).unwrap();
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
    fs::remove_dir_all(whole).unwrap();
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
        let kinds: Vec<&str> = [".pdf", ".xlsx", ".svg", ".txt", ".csv"]
            .into_iter()
            .filter(|k| one.keys().any(|n| n.ends_with(k)))
            .collect();
        assert!(kinds.len() == 5 && one.len() > 25, "{sample}: {:?}", one.keys());
    }
}
