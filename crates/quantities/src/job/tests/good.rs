//! Tests of the job reader.

use super::*;
use crate::job::{Given, Scale, Value};
use tankwright_geometry::Ratio;

#[test]
fn the_tables_are_sound() {
    assert_eq!(crate::job::faults(&tables()), Vec::<String>::new());
}

#[test]
fn a_full_file_reads_without_a_word() {
    let (job, problems) = run(FULL);
    assert_eq!(problems, Vec::new());
    assert_eq!(job.text("job.date"), "2026-11-25");
    assert_eq!(job.text("job.supply"), "labour-and-materials");
    assert_eq!(job.len("ground.water_table").value(), Ratio::int(42_000));
    assert_eq!(job.count("tank.persons").1, 14);
    assert_eq!(
        job.lens("tank.chambers").iter().map(|l| l.value()).collect::<Vec<_>>(),
        [20_000, 10_000].map(Ratio::int)
    );
    assert_eq!(job.len("tank.width").value(), Ratio::int(5 * 3_048 + 6 * 254));
    assert_eq!(job.len("tank.cover_top").value(), Ratio::int(-2_000));
    assert_eq!(job.len("tank.pit.batter").value(), Ratio::of(1, 4));
    assert_eq!(job.text("tank.base.concrete.mix"), "1:2:4");
    assert_eq!(job.size("tank.columns.size").map(|l| l.value()), [Ratio::int(2_200); 2]);
    assert_eq!(job.count_of("tank.ring_beams"), 2);
    assert_eq!(job.len("tank.ring_beams[1].above_floor").value(), Ratio::int(12_000));
    assert_eq!(job.count_of("tank.cover.manholes"), 2);
    assert_eq!(job.size("tank.cover.manholes[0]")[1].value(), Ratio::int(5_000));
    assert_eq!(job.count("steel.lap").1, 40);
    assert_eq!(
        (job.text("steel.base.short"), job.len("steel.base.short.spacing").value()),
        ("Y10", Ratio::int(2_000))
    );
    assert_eq!(job.text("waste.bricks"), "5");
    assert_eq!(job.number("waste.sand-building"), Some(Ratio::int(10)));
    assert_eq!(job.texts("orders.group[0]"), ["base", "walls-lower"]);
    assert_eq!(job.count("programme.days.dig").1, 7);
    assert_eq!(job.number("additions.list[1].percent"), Some(Ratio::of(37, 2)));
    assert_eq!(job.texts("additions.list[1].on"), ["measured", "Contingency"]);
    assert_eq!(
        job.inputs.iter().filter(|i| i.any_sign).map(|i| &*i.path).collect::<Vec<_>>(),
        ["tank.cover_top"]
    );
    assert!(job.inputs.iter().any(|i| i.path == "tank.pit.batter" && i.scale == Scale::Plain));
}

#[test]
fn every_value_knows_its_own_text() {
    let (job, _) = run(FULL);
    for (path, line, words) in [
        ("tank.chambers[0]", 15, "\"2.00 m\""),
        ("tank.chambers", 15, "[\"2.00 m\", 1000]"),
        ("tank.pit", 20, "[tank.pit]"),
        ("tank.base.concrete", 25, "concrete"),
        ("tank.base.concrete.mix", 25, "\"1 : 2 : 4.0\""),
        ("tank.base.concrete.thickness", 25, "concrete"),
        ("tank.ring_beams[1]", 35, "[[tank.ring_beams]]"),
        ("tank.ring_beams[1].depth", 37, "\"150 mm\""),
        ("tank.cover.manholes[1][0]", 41, "\"600 mm\""),
        ("tank.walls.thickness", 13, "[tank]"),
        ("additions.list[0]", 72, "{ title = \"Contingency\", percent = \"5\" }"),
        ("additions.list", 71, "list"),
    ] {
        let found = job.place(path).map(|p| (p.line, FULL[p.span].to_owned()));
        assert_eq!(found, Some((line, words.to_owned())), "{path}");
    }
}

#[test]
fn what_is_left_out_is_default_or_nothing() {
    let (job, problems) = run(SMALLEST);
    assert_eq!(problems, Vec::new());
    let thickness = job.values.get("tank.base.concrete.thickness").map(|(_, g)| g.clone());
    assert_eq!(thickness, Some(Given::Default("a test")));
    assert_eq!(job.len("tank.base.concrete.thickness").value(), Ratio::int(1_000));
    assert_eq!(job.text("ground.water_table"), "none");
    assert!(matches!(job.values.get("tank.base"), Some((Value::Group(_), Given::Nothing))));
    for absent in [
        "tank.columns",
        "tank.columns.mix",
        "tank.ring_beams",
        "tank.cover.span_beam",
        "tank.cover.manholes",
        "steel",
        "waste",
        "tank.base.fall",
        "job.rates",
    ] {
        assert!(!job.has(absent), "{absent}");
    }
    let paths: Vec<_> = job.inputs.iter().map(|i| &*i.path).collect();
    let want = [
        "tank.chambers[0]",
        "tank.width",
        "tank.height",
        "tank.base.concrete.thickness",
        "tank.walls.thickness",
        "tank.cover.thickness",
    ];
    assert_eq!(paths, want);
}

#[test]
fn an_empty_part_holds_its_defaults_and_an_empty_list_is_given() {
    let (job, problems) =
        run(&format!("{SMALLEST}[tank.cover]\nmanholes = []\n[tank.columns]\nsize = [220, 220]\n"));
    assert_eq!(problems, Vec::new());
    assert!(job.has("tank.cover.manholes") && job.count_of("tank.cover.manholes") == 0);
    assert_eq!(job.text("tank.columns.mix"), "1:1.5:3");
}

#[test]
fn windows_lines_and_a_byte_order_mark_change_nothing() {
    let (plain, _) = run(FULL);
    let (job, problems) = run(&format!("\u{feff}{}", FULL.replace('\n', "\r\n")));
    assert_eq!(problems, Vec::new());
    let lines = |job: &Job| {
        job.inputs
            .iter()
            .map(|i| (i.path.clone(), i.value, job.place(&i.path).map(|p| p.line)))
            .collect::<Vec<_>>()
    };
    assert_eq!(lines(&job), lines(&plain));
}

#[test]
fn long_remarks_are_fine() {
    let remarks = "# nothing to see here, only a remark\n".repeat(280_000);
    let (job, problems) = run(&format!("{remarks}{SMALLEST}"));
    assert_eq!(problems, Vec::new());
    assert_eq!(job.place("tank.width").map(|p| p.line), Some(280_000 + 8));
}

#[test]
fn the_key_reference_says_what_may_stand_there() {
    let rows = crate::job::reference(&tables());
    assert_eq!(rows.len(), tables().iter().map(|t| t.len()).sum::<usize>());
    let row = rows.iter().find(|r| r[0] == "ground.support").map(|r| [&r[1], &r[2]]);
    assert_eq!(row, Some([&"none | open | close".to_owned(), &"none (our choice, printed)".to_owned()]));
}
