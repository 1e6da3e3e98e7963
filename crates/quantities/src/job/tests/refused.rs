//! Tests of the job reader.

use super::*;
use crate::job::codes::CODES;
use crate::problem::Severity;

/// The smallest job with one line changed or some added.
fn with(line: &str, instead: &str) -> String {
    SMALLEST.replacen(line, instead, 1)
}

fn and(more: &str) -> String {
    format!("{SMALLEST}{more}\n")
}

fn width(value: &str) -> String {
    with("width = \"1.50 m\"", &format!("width = {value}"))
}

fn amount(value: &str) -> String {
    and(&format!("[[preliminaries]]\ntitle = \"x\"\namount = {value}"))
}

fn bars(short: &str) -> String {
    and(&format!("[steel.base]\nshort = \"{short}\"\nlong = \"Y10@200\""))
}

/// One mistake each: code, text, line, words under the carets, words of the hint.
fn samples() -> Vec<(&'static str, String, usize, &'static str, &'static str)> {
    vec![
        ("J001", width("1.50 m"), 8, "1.50 m", "write \"1.50 m\""),
        ("J001", width("\"1.50 m"), 8, "\"1.50 m", "put the quote"),
        ("J001", width(""), 8, "width =", "write the value"),
        ("J001", with("width = ", "width : "), 8, "width : \"1.50 m\"", "key = value"),
        ("J001", with("[tank]", "tank]"), 6, "tank]", "remark"),
        ("J001", with("[tank]", "[tank"), 6, "[tank", "[part]"),
        // What follows a broken heading, and the rest of a list over several lines, is not told of too.
        ("J001", and("[tank cover]\nthick = \"150 mm\""), 10, "[tank cover]", "write [tank.cover]:"),
        ("J001", and("[tank..cover]\nthick = \"150 mm\""), 10, "[tank..cover]", ""),
        ("J001", with("[\"2.00 m\"]", "[\n  \"2.00 m\",\n  \"1.00 m\","), 7, "[", "put ]"),
        ("J006", with("format = 1\n", ""), 1, "", "write format = ... ("),
        ("J001", with("[\"2.00 m\"]", "[\"2.00 m\""), 7, "[\"2.00 m\"", "put ]"),
        ("J001", with("[\"2.00 m\"]", "[\"2.00 m\" \"1 m\"]"), 7, "\"1 m\"]", "commas"),
        ("J001", with("\"A\"", "\"\"\"A"), 3, "\"\"\"A", "put \"\"\""),
        ("J001", with("\"A\"", "\u{201c}A\u{201d}"), 3, "\u{201c}A\u{201d}", "write \"A\""),
        ("J001", and("[ground]\nkeep_dry = yes"), 11, "yes", "write true"),
        ("J001", and("[ground]\nkeep_dry = True"), 11, "True", "write true"),
        ("J001", with("\"A\"", "\"A\\q\""), 3, "\\", "backslash"),
        ("J001", width("1,500"), 8, "width = 1,500", "no commas"),
        ("J002", and("width = \"1.60 m\""), 10, "width", "one of the two"),
        ("J002", and("[job]\nsupply = \"labour-only\""), 10, "job", "under one heading"),
        ("J002", and("pit = { face = \"open\" }\npit.batter = 1"), 11, "pit", "in one place"),
        ("J003", and(&format!("[{}a]", "a.".repeat(100))), 10, "DEEP", "brackets"),
        ("J003", and(&format!("persons = {}", "[".repeat(200))), 10, "[", "brackets"),
        ("J004", with("height", "heigth"), 9, "heigth", "write height"),
        (
            "J004",
            and("[[tank.ring_beam]]\nabove_floor = 700\ndepth = 150"),
            10,
            "ring_beam",
            "write ring_beams",
        ),
        ("J004", and("colour = \"red\""), 10, "colour", "known here: persons"),
        ("J005", and("keep_dry = true"), 10, "keep_dry", "[ground]"),
        ("J005", and("[columns]\nsize = [220, 220]"), 10, "columns", "[tank]"),
        ("J006", with("width = \"1.50 m\"\n", ""), 6, "[tank]", "under [tank]"),
        ("J006", with("format = 1\n", ""), 1, "", "format = ..."),
        ("J006", and("[tank.columns]"), 10, "[tank.columns]", "size"),
        ("J006", and("[[tank.ring_beams]]\ndepth = 150"), 10, "[[tank.ring_beams]]", "above_floor"),
        ("J007", with("format = 1", "format = 2"), 1, "2", "format = 1"),
        ("J008", and("pit = 5"), 10, "5", "[tank.pit]"),
        (
            "J008",
            and("[tank.ring_beams]\nabove_floor = 700\ndepth = 150"),
            10,
            "[tank.ring_beams]",
            "[[tank.ring_beams]]",
        ),
        ("J008", and("[[tank.columns]]\nsize = [220, 220]"), 10, "[[tank.columns]]", "[tank.columns], once"),
        ("J008", and("ring_beams = [5]"), 10, "5", "key = value"),
        ("J008", with("format = 1", "format = 1\nwaste = 5"), 2, "5", "[waste]"),
        ("J009", width("true"), 8, "true", "\"1.50 m\""),
        ("J009", with("[\"2.00 m\"]", "\"2.00 m\""), 7, "\"2.00 m\"", "[\"2.00 m\", \"1.00 m\"]"),
        ("J009", and("[tank.cover]\nmanholes = [600, 600]"), 11, "[600, 600]", "[[\"600 mm\", \"600 mm\"]]"),
        ("J009", and("[tank.width.x]\ny = 1").replace("width = \"1.50 m\"\n", ""), 9, "width", "\"1.50 m\""),
        ("J010", width("1.50"), 8, "1.50", "\"1.50 m\""),
        ("J010", width("nan"), 8, "nan", "in quotes"),
        ("J011", width("\"1.50\""), 8, "\"1.50\"", "\"1.50 m\""),
        ("J012", width("\"1,50 m\""), 8, "\"1,50 m\"", "\"1.50 m\""),
        ("J013", width("\"2 yards\""), 8, "\"2 yards\"", "m, cm, mm, ft and in"),
        ("J014", width("\"1500.05 mm\""), 8, "\"1500.05 mm\"", "round"),
        ("J015", width("\"wide\""), 8, "\"wide\"", "5 ft 6 in"),
        ("J016", width("\"101 m\""), 8, "\"101 m\"", "the unit"),
        (
            "J016",
            width("99999999999999999999999999999999999999999999"),
            8,
            "99999999999999999999999999999999999999999999",
            "millimetres",
        ),
        ("J017", width("20"), 8, "20", "from 100 mm to 100 m"),
        ("J017", and("[tank.base]\nfall = \"-60 mm\""), 11, "\"-60 mm\"", "from 0 mm"),
        ("J018", with("[\"2.00 m\"]", "[]"), 7, "[]", "[\"2.00 m\""),
        (
            "J018",
            with("[\"2.00 m\"]", "[800, 800, 800, 800, 800]"),
            7,
            "[800, 800, 800, 800, 800]",
            "[\"2.00 m\"",
        ),
        ("J018", and("[tank.columns]\nsize = [220]"), 11, "[220]", "along and across"),
        ("J019", amount("5.5"), 12, "5.5", "write \"5.5\""),
        ("J020", amount("\"450,000\""), 12, "\"450,000\"", "\"450000\""),
        ("J021", amount("-5"), 12, "-5", "write \"5\""),
        ("J022", amount("\"UGX 450\""), 12, "\"UGX 450\"", "\"450\""),
        ("J023", amount("\"1.23456\""), 12, "\"1.23456\"", "never rounded"),
        ("J024", amount("\"9999999999999999\""), 12, "\"9999999999999999\"", "digit too many"),
        ("J024", and("[additions]\nsay = 0"), 11, "0", "\"1000\""),
        ("J025", and("persons = \"many\""), 10, "\"many\"", "digits"),
        ("J025", and("persons = 4.0"), 10, "4.0", "digits"),
        ("J026", and("persons = 0"), 10, "0", "from 1 to 10000"),
        ("J027", and("[ground]\nkeep_dry = \"yes\""), 11, "\"yes\"", "write true"),
        ("J028", and("[ground]\nsupport = \"opne\""), 11, "\"opne\"", "did you mean \"open\"?"),
        ("J029", and("[tank.walls]\nmortar = \"M5\""), 11, "\"M5\"", "\"1:4\""),
        ("J030", and("[tank.walls]\nmortar = \"1:2:4\""), 11, "\"1:2:4\"", "\"1:4\""),
        ("J031", and("[tank.walls]\nmortar = \"1:20\""), 11, "\"1:20\"", "divide"),
        ("J032", with("\"A\"", "\"\""), 3, "\"\"", "write something"),
        ("J032", with("\"A\"", "\"A\\nB\""), 3, "\"A\\nB\"", "one line"),
        ("J033", with("\"2026-11-25\"", "\"25.11.2026\""), 4, "\"25.11.2026\"", "2026-11-25"),
        ("J034", with("\"2026-11-25\"", "\"2026-02-29\""), 4, "\"2026-02-29\"", "ends on 28"),
        ("J034", with("\"2026-11-25\"", "2026-02-30"), 4, "2026-02-30", "day and month"),
        ("J035", and("[waste]\n\"bricks & blocks\" = \"5\""), 11, "\"bricks & blocks\"", "plain name"),
        ("J036", and("[[preliminaries]]\ntitle = \"x\""), 10, "[[preliminaries]]", "either amount"),
        (
            "J036",
            and("[[provisional]]\ntitle = \"x\"\nunit = \"m3\"\nrate = 5"),
            10,
            "[[provisional]]",
            "together",
        ),
        ("J037", and("[[additions.list]]\ntitle = \"x\""), 10, "[[additions.list]]", "percent"),
        (
            "J038",
            and("[[additions.list]]\ntitle = \"x\"\npercent = 5\non = \"mesured\""),
            13,
            "\"mesured\"",
            "\"measured\"",
        ),
        (
            "J039",
            and(&(0..400).map(|i| format!("qqqqqqqq{i} = 1\n")).collect::<String>()),
            411,
            "",
            "run again",
        ),
        ("J080", bars("Y10 c/c 150"), 11, "\"Y10 c/c 150\"", "Y10@150"),
        ("J081", bars("4Y10"), 11, "\"4Y10\"", "Y10@150"),
        ("J082", and("[steel.columns]\nmain = \"Y12@150\"\nlinks = \"R8@200\""), 11, "\"Y12@150\"", "4Y12"),
        ("J083", bars("Y10@0"), 11, "\"Y10@0\"", "@150"),
        ("J084", bars("Y10@5000"), 11, "\"Y10@5000\"", "in mm"),
        ("J085", and("[steel]\nlap = \"40\""), 11, "\"40\"", "40d"),
    ]
}

#[test]
fn each_mistake_has_its_code_place_and_hint() {
    for (code, text, line, words, hint) in samples() {
        let (_, problems) = run(&text);
        let words = if words == "DEEP" { text.lines().last().unwrap_or("") } else { words };
        let found: Vec<_> =
            problems.iter().filter(|p| code != "J039" || p.code == code).map(|p| short(&text, p)).collect();
        assert_eq!(found, [format!("{code} {line} {words}")], "in:\n{text}\n{problems:#?}");
        let Some(problem) = problems.last() else { continue };
        assert_eq!(problem.severity, Severity::Error);
        assert!(!problem.label.is_empty() && !problem.message.ends_with('.'), "{problem:?}");
        assert!(problem.hint.as_deref().is_some_and(|h| h.contains(hint)), "{hint}: {problem:?}");
    }
}

#[test]
fn every_code_has_a_sample() {
    let samples = samples();
    assert!(CODES.is_sorted_by_key(|(code, _)| *code));
    for (code, meaning) in CODES {
        assert!(!meaning.is_empty() && samples.iter().any(|s| s.0 == *code), "{code}");
    }
}

#[test]
fn a_job_is_read_as_far_as_it_can_be() {
    let (job, problems) = run(&with("[\"2.00 m\"]", "[\"2.00 m\", 1.5, \"1.00 m\"]"));
    assert_eq!(problems.len(), 1);
    assert_eq!(job.count_of("tank.chambers"), 3);
    assert!(job.len("tank.chambers[1]").is_zero() && !job.len("tank.chambers[2]").is_zero());
}

#[test]
fn an_empty_file_lists_what_must_be_given() {
    let (_, problems) = run("");
    let keys: Vec<_> = problems.iter().filter_map(|p| p.message.strip_suffix(" must be given")).collect();
    assert_eq!(
        keys,
        ["format", "job.currency", "job.date", "job.title", "tank.chambers", "tank.height", "tank.width"]
    );
}
