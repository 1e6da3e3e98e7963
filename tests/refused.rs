//! Every way a job file or a price list can be wrong: one sample each, with its whole message.
//!
//! `TANKWRIGHT_UPDATE=1` writes the messages anew; read the difference before it is committed.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use tankwright_quantities::codes;
use tankwright_quantities::estimate::Failure;
use tankwright_tests::program::{root, run};

/// Codes that no sample can show, with the reason; none may turn up in one.
const WITHOUT_SAMPLE: [(&str, &str); 35] = [
    ("B004", "needs 20 000 rows: see crates/account/src/returned/tests.rs"),
    ("B005", "a caution, see tests/returned.rs"),
    ("B006", "the same file named twice on the command line, see tests/returned.rs"),
    ("J039", "needs more than 300 mistakes: made below, not kept"),
    ("J071", "the limits of each length keep every sum within what can be reckoned"),
    (
        "J107",
        "data of one's own that name what they do not hold: see crates/quantities/src/materials/tests.rs",
    ),
    ("J235", "a caution, see tests/vary.rs"),
    ("J236", "a caution, see tests/vary.rs"),
    ("J237", "a caution, see tests/vary.rs"),
    ("J238", "a caution, see tests/vary.rs"),
    ("J239", "a caution, see tests/vary.rs"),
    ("J240", "a caution, see tests/vary.rs"),
    ("R003", "a caution, see tests/cautions.rs"),
    ("R015", "needs 10 MB: made below, not kept"),
    ("R016", "needs 20 000 rows: made below, not kept"),
    ("R044", "J070 refuses an unknown currency first"),
    ("R045", "a caution, see tests/cautions.rs"),
    ("R046", "a caution, see tests/cautions.rs"),
    ("R060", "a caution, see crates/cli/src/commands/rates/tests.rs"),
    ("R063", "lists side by side on the command line, see crates/cli/src/commands/rates/tests.rs"),
    ("R064", "a caution, see crates/quantities/src/rates/list_tests.rs"),
    ("R071", "needs 10 MB: made in crates/cli/src/commands/rates/tests.rs, not kept"),
    ("R072", "needs a spreadsheet: made in crates/cli/src/commands/rates/tests.rs, not kept"),
    ("R073", "needs a spreadsheet: made in crates/cli/src/commands/rates/tests.rs, not kept"),
    ("R074", "a caution, see crates/cli/src/commands/rates/tests.rs"),
    ("R104", "a caution, see tests/built_rates.rs"),
    ("R105", "a caution, see tests/built_rates.rs"),
    ("R106", "rows differ where works do: see crates/quantities/src/build_up/tests.rs"),
    ("T003", "needs 20 000 rows: see crates/crosscheck/src/read.rs"),
    ("T007", "a caution, see tests/crosscheck.rs"),
    ("T008", "a caution, see tests/crosscheck.rs"),
    ("T009", "data of one's own: see crates/crosscheck/src/wording.rs"),
    ("R093", "a caution of `rates`, see crates/cli/src/price_lists.rs"),
    ("R098", "a caution, see crates/quantities/src/rates/list_tests.rs"),
    ("R094", "a caution of `rates`, see crates/cli/src/price_lists.rs"),
];

/// Section 5 of the design, item by item: what is refused, the sample that shows it, and its code.
const SECTION_5: [(&str, &str, &str); 32] = [
    ("floor above ground", "floor-above-the-ground", "J040"),
    ("projection in a tight pit", "a-base-wider-than-a-tight-pit", "J052"),
    ("working space in a tight pit", "working-space-in-a-tight-pit", "J052"),
    ("batter in a tight pit", "leaning-sides-of-a-tight-pit", "J052"),
    ("beams as deep as the tank", "wall-beams-as-deep-as-the-tank", "J056"),
    ("beams as deep as the tank", "a-span-beam-as-deep-as-the-tank", "J056"),
    ("air gap not less than the height", "an-air-gap-as-high-as-the-tank", "J048"),
    ("ring beam above the top of masonry", "a-ring-beam-above-the-masonry", "J043"),
    ("ring beams that overlap", "two-ring-beams-in-one-place", "J044"),
    ("column that meets a partition", "a-column-as-far-as-a-partition", "J042"),
    ("column that meets another column", "columns-that-meet-in-the-middle", "J041"),
    ("column that meets the span beam", "a-column-in-the-span-beam", "J047"),
    ("column wider than half the tank", "columns-that-meet-in-the-middle", "J041"),
    ("span beam as wide as the tank", "a-span-beam-as-wide-as-the-tank", "J045"),
    ("opening up to the partition's top", "an-opening-up-to-the-air-gap", "J050"),
    ("opening up to a beam", "an-opening-up-into-the-span-beam", "J050"),
    ("opening with its sill below the floor", "an-opening-with-its-sill-below-the-floor", "J051"),
    ("opening as wide as the tank", "openings-as-wide-as-the-tank", "J049"),
    ("pipe hole above the masonry", "an-outlet-above-the-masonry", "J063"),
    ("pipe hole below the floor", "an-inlet-below-the-floor", "J063"),
    ("pipe hole in a ring beam", "an-inlet-through-a-ring-beam", "J064"),
    ("pipe hole in a column", "an-inlet-through-a-column", "J065"),
    ("pipe hole in a beam's end", "an-inlet-through-the-end-of-the-span-beam", "J066"),
    ("pipe hole that a part of higher rank touches", "a-board-before-the-inlet", "J075"),
    ("pipe hole behind the end of a haunch", "a-haunch-before-the-outlet", "J075"),
    ("manholes neither [] nor one per chamber", "one-manhole-for-two-chambers", "J053"),
    ("manhole longer than its chamber", "manhole-larger-than-chamber", "J054"),
    ("manhole in the span beam", "a-manhole-that-meets-the-span-beam", "J054"),
    ("manhole over a column", "a-manhole-over-a-column", "J055"),
    ("fill_depth over depth", "more-fill-than-soak-pit", "J068"),
    ("span beam beyond the wall", "a-span-beam-that-bears-beyond-the-wall", "J046"),
    ("haunch in an opening", "a-haunch-that-blocks-an-opening", "J074"),
];

/// What stands close to a refusal and is allowed: added to the small job, nothing is refused.
const ALLOWED: [&str; 17] = [
    "[tank.columns]\nsize = [\"150 mm\", \"150 mm\"]", // smaller than the wall
    "[tank.columns]\nsize = [\"220 mm\", \"820 mm\"]", // half the outer width exactly
    "[tank.cover]\nmanholes = []",
    "cover_top = \"-300 mm\"\n[tank.manhole_shafts]\nthickness = \"220 mm\"\nupstand = \"100 mm\"\n[tank.cover]\nmanholes = [[\"600 mm\", \"600 mm\"], [\"600 mm\", \"600 mm\"]]",
    "[tank.cover]\nmanholes = [[\"1.60 m\", \"1.20 m\"], [\"800 mm\", \"1.20 m\"]]",
    "[tank.cover]\nwall_beams = \"1.49 m\"",
    "[tank.partitions]\nair_gap = \"1.49 m\"",
    "[tank.pit]\nworking_space = \"0 mm\"\nbatter = \"0\"\n\n[tank.base]\nprojection = \"0 mm\"",
    "[[tank.ring_beams]]\nabove_floor = \"0 mm\"\ndepth = \"150 mm\"\n\n[[tank.ring_beams]]\nabove_floor = \"150 mm\"\ndepth = \"1.35 m\"",
    "[tank.partitions]\nopening = { width = \"1.19 m\", height = \"200 mm\", below_top = \"1.30 m\" }",
    "[tank.pipes]\ninlet = { diameter = \"110 mm\", below_top = \"110 mm\" }\noutlet = { diameter = \"110 mm\", below_top = \"1.50 m\" }",
    "[soak_pit]\ndiameter = \"2.00 m\"\ndepth = \"2.00 m\"\nfill_depth = \"2.00 m\"",
    // A plain pit: its stone may end under the inlet. Lined: water enters where the ring ends; a foot as wide as the ring.
    "[soak_pit]\ndiameter = \"2.00 m\"\ndepth = \"2.00 m\"\nfill_depth = \"1.00 m\"\ninvert = \"600 mm\"",
    "[soak_pit]\ndiameter = \"2.00 m\"\ndepth = \"2.00 m\"\nfill_depth = \"1.40 m\"\ninvert = \"600 mm\"\n[soak_pit.lining]\nthickness = \"110 mm\"\nfoot = { thickness = \"150 mm\", width = \"110 mm\" }",
    "[soak_pit]\ndiameter = \"1.60 m\"\ndepth = \"2.00 m\"\nfill_depth = \"1.85 m\"\ninvert = \"160 mm\"\n[soak_pit.lining]\nthickness = \"110 mm\"\n[soak_pit.cover]\nmanhole = [\"900 mm\", \"900 mm\"]",
    "[tank.pit]\nface = \"open\"\n\n[tank.cover]\nspan_beam = { width = \"200 mm\", depth = \"150 mm\", bearing = \"220 mm\" }", // through the wall
    "[tank.pipes]\ninlet = { diameter = \"110 mm\", below_top = \"500 mm\" }\n\n[tank.cover]\nspan_beam = { width = \"200 mm\", depth = \"390 mm\", bearing = \"220 mm\" }",
];

/// The other side: a millimetre more, the code and a part of what is said of it.
const REFUSED: &[(&str, &str, &str)] = &[
    (
        "[tank.columns]\nsize = [\"220 mm\", \"821 mm\"]",
        "J041",
        "two of these are more than the outer width, 1640 mm",
    ),
    ("[tank.cover]\nwall_beams = \"1.50 m\"", "J056", "the tank is 1500 mm high"),
    ("[tank.partitions]\nair_gap = \"1.50 m\"", "J048", "the tank is 1500 mm high"),
    (
        "[[tank.ring_beams]]\nabove_floor = \"0 mm\"\ndepth = \"150 mm\"\n\n[[tank.ring_beams]]\nabove_floor = \"149 mm\"\ndepth = \"1.35 m\"",
        "J044",
        "begins or ends inside another",
    ),
    (
        "[[tank.ring_beams]]\nabove_floor = \"150 mm\"\ndepth = \"1.351 m\"",
        "J043",
        "its top is 1501 mm above the floor",
    ),
    (
        "[tank.partitions]\nopening = { width = \"1.20 m\", height = \"200 mm\", below_top = \"1.30 m\" }",
        "J049",
        "the tank is 1200 mm wide",
    ),
    (
        "[tank.partitions]\nopening = { width = \"200 mm\", height = \"201 mm\", below_top = \"1.30 m\" }",
        "J051",
        "its sill is 1501 mm below the top",
    ),
    (
        "[tank.pipes]\ninlet = { diameter = \"110 mm\", below_top = \"109 mm\" }",
        "J063",
        "would reach 1 mm above the top",
    ),
    (
        "[tank.pipes]\noutlet = { diameter = \"110 mm\", below_top = \"1.501 m\" }",
        "J063",
        "would begin 1 mm below the floor",
    ),
    (
        "[soak_pit]\ndiameter = \"2.00 m\"\ndepth = \"2.00 m\"\nfill_depth = \"2.001 m\"",
        "J068",
        "the pit is 2000 mm deep",
    ),
    (
        "[soak_pit]\ndiameter = \"2.00 m\"\ndepth = \"2.00 m\"\nfill_depth = \"1.00 m\"\ninvert = \"2.00 m\"",
        "J150",
        "the pit is 2000 mm deep",
    ),
    (
        "[tank.pipes]\ninlet = { diameter = \"110 mm\", below_top = \"499 mm\" }\n\n[tank.cover]\nspan_beam = { width = \"200 mm\", depth = \"390 mm\", bearing = \"220 mm\" }",
        "J066",
        "390 mm below the cover",
    ),
    (
        "cover_top = \"500 mm\"\n[tank.pipes]\noutlet = { diameter = \"110 mm\", below_top = \"300 mm\", length = \"10 m\", fall = \"1 in 50\" }\ntrench = { width = \"450 mm\" }",
        "J141",
        "its invert would begin 50 mm above ground",
    ),
    (
        "cover_top = \"-300 mm\"\n[tank.manhole_shafts]\nthickness = \"221 mm\"\nupstand = \"100 mm\"\n[tank.cover]\nmanholes = [[\"600 mm\", \"600 mm\"], [\"600 mm\", \"600 mm\"]]",
        "J057",
        "the walls are 220 mm thick",
    ),
    (
        "[[pipes]]\ntitle = \"Kitchen\"\ndiameter = 110\nlength = \"30 m\"\nstart = \"750 mm\"",
        "J006",
        "fall is missing",
    ),
    (
        "[[pipes]]\ntitle = \"Kitchen\"\ndiameter = 110\nlength = \"30 m\"\nfall = \"1 in 60\"\ntrench = { width = 450, depth = 500 }",
        "J006",
        "start is missing",
    ),
    (
        "[[pipes]]\ntitle = \"Kitchen\"\ndiameter = 110\nlength = \"30 m\"\ntrench = { width = 450 }",
        "J006",
        "depth is missing",
    ),
    (
        "[[pipes]]\ntitle = \"Kitchen\"\ndiameter = 110\nlength = \"30 m\"\ntrench = { width = 450, depth = 500, bed = 501 }",
        "J067",
        "the trench is 500 mm deep",
    ),
    (
        "[[pipes]]\ntitle = \"Kitchen\"\ndiameter = 110\nlength = \"30 m\"\nstart = 500\nfall = \"1 in 60\"\ntrench = { width = 450, depth = 500 }",
        "J146",
        "start and fall of the line give it too",
    ),
];

const SMALL: &str = "format = 1\n[job]\ntitle = \"Small\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\n[tank]\nchambers = [\"1.60 m\", \"0.80 m\"]\nwidth = \"1.20 m\"\nheight = \"1.50 m\"\n";

fn folder() -> PathBuf {
    root().join("samples/refused")
}

fn names() -> Vec<String> {
    let entries = std::fs::read_dir(folder()).unwrap().map(Result::unwrap);
    let mut names: Vec<_> =
        entries.filter(|e| e.path().is_dir()).map(|e| e.file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_default()
}

/// The codes of the errors in a message, each once.
fn errors(message: &str) -> Vec<String> {
    let mut codes: Vec<_> =
        message.split("error[").skip(1).filter_map(|rest| rest.get(..4)).map(str::to_owned).collect();
    codes.sort();
    codes.dedup();
    codes
}

/// The command line that shows a sample: the account where there is a job as built, the cross-check where there is a
/// second take-off, copies side by side where one came back; where prices are wrong the bill; for everything else the
/// take-off.
fn line(name: &str, job: &str) -> String {
    let at = |file: &str| format!("samples/refused/{name}/{file}");
    let there = |file: &str| root().join(at(file)).is_file();
    if there("now.toml") {
        return format!("vary {} {}", at("job.toml"), at("now.toml"));
    }
    if there("other.csv") {
        let map = if there("map.csv") { format!(" --map {}", at("map.csv")) } else { String::new() };
        return format!("crosscheck {} {}{map}", at("job.toml"), at("other.csv"));
    }
    if there("copy.csv") {
        return format!("returned {} {}", at("job.toml"), at("copy.csv"));
    }
    let data =
        if there("data/profiles/own.toml") { format!(" --data {}", at("data")) } else { String::new() };
    format!("{} {}{data}", verb(name, job), at("job.toml"))
}

fn verb(name: &str, job: &str) -> &'static str {
    if job.contains("\nrates = ") || name == "no-price-list-named" { "bill" } else { "takeoff" }
}

/// 3 where the job file must be mended, 4 where the price list must.
fn exit(code: &str) -> i32 {
    let in_the_job_file = ["R047", "R048", "R049", "R050", "R051", "R101", "R102", "R103"].contains(&code);
    if code.starts_with(['J', 'T', 'B']) || in_the_job_file { 3 } else { 4 }
}

fn messages() -> BTreeMap<String, String> {
    names().into_iter().map(|n| (n.clone(), read(&folder().join(n).join("message.txt")))).collect()
}

#[test]
fn each_sample_is_refused_with_its_whole_message() {
    let update = std::env::var_os("TANKWRIGHT_UPDATE").is_some();
    for name in names() {
        let path = folder().join(&name);
        let seen = run(&line(&name, &read(&path.join("job.toml"))));
        let codes = errors(&seen.err);
        assert!(!codes.is_empty() && seen.out.is_empty(), "{name} is not refused:\n{}", seen.err);
        assert_eq!(seen.code, exit(&codes[0]), "{name}");
        let many = ["everything-at-once", "much-that-cannot-be-built"].contains(&name.as_str());
        assert!(many || codes.len() == 1, "{name} shows more than one mistake: {codes:?}");
        if update {
            std::fs::write(path.join("message.txt"), &seen.err).unwrap();
        } else {
            assert_eq!(seen.err, read(&path.join("message.txt")), "{name}: run with TANKWRIGHT_UPDATE=1");
        }
    }
}

#[test]
fn samples_hold_a_job_its_message_and_perhaps_prices() {
    for name in names() {
        let mut files: Vec<_> = std::fs::read_dir(folder().join(&name))
            .unwrap()
            .map(|e| e.unwrap().file_name().to_string_lossy().into_owned())
            .collect();
        files.sort();
        let lists = |f: &&str| f.starts_with("prices.");
        let more: Vec<&str> = files.iter().map(String::as_str).filter(|f| !lists(f)).collect();
        let known = ["prices.csv", "prices.map.csv", "prices.xlsx"];
        let plain = [
            &["job.toml", "message.txt"][..],
            &["job.toml", "message.txt", "other.csv"],
            &["job.toml", "message.txt", "now.toml"],
            &["copy.csv", "job.toml", "message.txt"],
            &["job.toml", "map.csv", "message.txt", "other.csv"],
            &["data", "job.toml", "message.txt"],
        ];
        let fits = plain.contains(&more.as_slice())
            && files.iter().all(|f| !lists(&f.as_str()) || known.contains(&f.as_str()));
        assert!(fits, "{name}: {files:?}");
    }
}

#[test]
fn every_code_has_a_sample() {
    let shown: Vec<String> = messages().values().flat_map(|m| errors(m)).collect();
    let others = tankwright_cli::CODES.iter().chain(tankwright_run::CODES).chain(tankwright_sizing::CODES);
    let others = others.chain(tankwright_cheapest::CODES).chain(tankwright_crosscheck::CODES).copied();
    let listed = codes::all().into_iter().chain(tankwright_account::codes::all()).chain(others);
    for (code, _) in listed.filter(|(c, _)| c.starts_with(['J', 'R', 'T', 'B'])) {
        let excused = WITHOUT_SAMPLE.iter().any(|(c, _)| *c == code);
        let sample = shown.iter().any(|c| c == code);
        assert!(sample != excused, "{code}: sample {sample}, excused {excused}");
    }
}

#[test]
fn every_code_in_the_sources_is_listed() {
    let listed: Vec<&str> = codes::all()
        .into_iter()
        .chain(tankwright_account::codes::all())
        .map(|(c, _)| c)
        .chain(tankwright_cli::CODES.iter().map(|(c, _)| *c))
        .chain(tankwright_run::CODES.iter().map(|(c, _)| *c))
        .chain(tankwright_sizing::CODES.iter().map(|(c, _)| *c))
        .chain(tankwright_cheapest::CODES.iter().map(|(c, _)| *c))
        .chain(tankwright_crosscheck::CODES.iter().map(|(c, _)| *c))
        .chain(tankwright_account::returned::CODES.iter().map(|(c, _)| *c))
        .collect();
    let mut folders = vec![root().join("crates")];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()) {
            if entry.is_dir() {
                folders.push(entry);
                continue;
            }
            let text = if entry.extension().is_some_and(|e| e == "rs") { read(&entry) } else { continue };
            for word in
                text.split('"').filter(|w| w.len() == 4 && w.starts_with(['J', 'R', 'P', 'C', 'T', 'B']))
            {
                let code = word.bytes().skip(1).all(|b| b.is_ascii_digit());
                assert!(!code || listed.contains(&word), "{word} in {} is in no list", entry.display());
            }
        }
    }
}

#[test]
fn every_refusal_of_section_5_has_a_sample() {
    let messages = messages();
    for (item, name, code) in SECTION_5 {
        let message = messages.get(name).map(String::as_str).unwrap_or_default();
        assert_eq!(errors(message), [code], "{item}");
    }
}

#[test]
fn what_stands_close_to_a_refusal_is_allowed() {
    for more in ALLOWED {
        if let Err(failure) = tankwright_tests::measured(&format!("{SMALL}\n{more}\n"), None) {
            panic!("{more}\n{failure:?}");
        }
    }
}

#[test]
fn a_millimetre_more_is_refused() {
    for (more, code, says) in REFUSED {
        let Err(Failure::Job(problems)) = tankwright_tests::measured(&format!("{SMALL}\n{more}\n"), None)
        else {
            panic!("{more}");
        };
        let told: Vec<_> = problems.iter().map(|p| (p.code, p.label.as_str())).collect();
        assert!(told.len() == 1 && told[0].0 == *code && told[0].1.contains(says), "{more}\n{told:?}");
    }
}

#[test]
fn everything_at_once_is_told_together() {
    let message = messages().remove("everything-at-once").unwrap();
    let told = message.matches("error[").count();
    assert!(told >= 12 && message.ends_with(&format!("\n{told} errors\n")), "{told}");
}

#[test]
fn more_mistakes_than_anyone_reads_are_counted() {
    let keys: String = (0..400).map(|i| format!("qqqqqqqq{i} = 1\n")).collect();
    let values = "[[preliminaries]]\ntitle = \"x\"\namount = \"dear\"\n".repeat(400);
    for wrong in [keys, values] {
        let problems = tankwright_tests::read(&format!("{SMALL}{wrong}"), false).unwrap_err();
        assert_eq!(problems.len(), 301);
        assert_eq!(
            problems.last().map(|p| (p.code, p.message.as_str())),
            Some(("J039", "100 more problems are not shown"))
        );
    }
}

#[test]
fn a_price_list_of_a_whole_market_is_refused() {
    let head = "kind,code,description,unit,rate,currency,date,source\n";
    for (text, code) in [
        (" ".repeat(10_000_001), "R015"),
        (format!("{head}{}", "work,x,x,m,1,UGX,2026-10-01,x\n".repeat(20_001)), "R016"),
    ] {
        let problems = tankwright_quantities::rates::read_prices("prices.csv", &text).unwrap_err();
        assert_eq!(problems.iter().map(|p| p.code).collect::<Vec<_>>(), [code]);
    }
}
