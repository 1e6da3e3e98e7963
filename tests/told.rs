//! What can hurt someone is told on every paper where it belongs, once: the table of cautions, row by row.

use tankwright_tests::program::run;
use tankwright_tests::{read, stock};

/// What is told (as printed, in small letters) and where: `screen`, `book` (the workbook's summary), `size`, or the
/// card of a stage.
const TABLE: &[(&str, &str)] = &[
    ("a septic tank always needs emptying", "screen size"),
    ("a licensed designer come", "screen book size"),
    ("this rule is superseded", "screen size"),
    (
        "the gas kills without warning",
        "screen book walls-lower walls-upper plaster cover soak-pit pipes strike finish",
    ),
    ("test the air", "cover strike finish"),
    ("no flame and no smoking", "screen book finish"),
    ("its sides can fall without warning", "dig soak-pit"),
    ("ladder within reach", "dig"),
    (
        "fence and cover every open hole",
        "dig base walls-lower ring-beam walls-upper plaster cover strike finish",
    ),
    ("too heavy for a child", "screen book cover finish"),
    ("keys or hooks lift a cover", "finish"),
    ("no soil against the walls", "screen book walls-lower walls-upper cover"),
    ("props under the cover stay", "cover strike"),
    ("steel and slab are screened only", "cover size"),
    ("no vehicles over this cover", "screen book cover"),
    // The empty tank can float: before the cover is cast, and finished.
    ("keep water in it until it is covered", "walls-lower walls-upper size"),
    ("the empty tank, finished, against water", "finish size"),
    ("agree the distances first", "screen book set-out"),
    ("base of the soak pit 3 m below ground", "soak-pit size"),
    ("test in the wet season", "size"),
    ("do not convert into each other", "size"),
];

const JOB: &str = "samples/rest-house/job.toml";

/// The workbook's first page as one text.
fn summary() -> String {
    let text = std::fs::read_to_string(tankwright_tests::program::root().join(JOB)).unwrap();
    let job = read(&text, true).unwrap();
    let e = tankwright_quantities::flow::estimate(&job, stock(), None, &Default::default()).unwrap();
    let book = tankwright_export::book::workbook(&e).unwrap();
    let page = book.page(tankwright_export::cells::PageId::Summary).unwrap();
    page.cells.values().map(|c| format!("{c:?}\n")).collect()
}

fn paper(name: &str) -> String {
    let text = match name {
        "book" => summary(),
        "screen" => run(&format!("estimate {JOB}")).out,
        "size" => run(&format!("size {JOB}")).out,
        stage => run(&format!("orders {JOB} --stage {stage}")).out,
    };
    assert!(text.lines().count() > 5, "{name}: {text}");
    text.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn each_once_on_each_paper_where_it_belongs() {
    let mut papers = std::collections::BTreeMap::new();
    for (says, places) in TABLE {
        for place in places.split(' ') {
            let text = papers.entry(place).or_insert_with(|| paper(place));
            assert_eq!(text.matches(says).count(), 1, "{says} on {place}:\n{text}");
        }
    }
}

#[test]
fn water_in_the_ground_and_heavy_traffic_change_what_is_told() {
    let text = std::fs::read_to_string(tankwright_tests::program::root().join(JOB)).unwrap();
    let text = text.replace("water_table = \"none\"", "water_table = \"0 mm\"");
    let text = text.replace("membrane = true", "membrane = true\ntraffic = \"lorry\"");
    let e = tankwright_tests::measured(&text, None).unwrap();
    let codes: Vec<_> = e.cautions_of_size().map(|c| c.code).collect();
    assert_eq!(codes, ["C079", "C081"]);
    assert!(
        e.cautions
            .iter()
            .any(|c| c.says.to_string().contains("lorries") && c.says.to_string().contains("one layer"))
    );
    let card = tankwright_export::text::stage_card(&e, "walls-lower").unwrap();
    assert_eq!(card.matches("NOT met: before the cover is cast the tank can float").count(), 1, "{card}");
}
