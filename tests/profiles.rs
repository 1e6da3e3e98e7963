//! Rules of the measurement profiles, each on a tank where it bites; two profiles side by side.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;
use tankwright_quantities::against::against;
use tankwright_quantities::decimal::{ratio, rounded};
use tankwright_quantities::estimate::{Balance, Estimate};
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::rates::{builtin_files, read_stock};
use tankwright_quantities::sheet::Item;
use tankwright_tests::program::{Run, root, run};
use tankwright_tests::{measured, read, stock};

const HEAD: &str = "format = 1\n[job]\ntitle = \"profiles\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\n";
const PROFILES: [&str; 6] = ["exact", "east-africa", "is-1200", "smm7", "nrm2", "cesmm"];
const SAMPLES: [&str; 7] =
    ["rest-house", "clinic", "school", "smallest", "textbook", "guest-house", "lined-pits"];

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn under(profile: &str, parts: &str) -> Estimate {
    let e = measured(&format!("{HEAD}{parts}"), Some(profile)).unwrap_or_else(|f| panic!("{profile}: {f:?}"));
    assert!(e.balances.iter().all(Balance::holds));
    e
}

fn all<'a>(e: &'a Estimate, work: &'a str) -> impl Iterator<Item = &'a Item> {
    e.sheet.items.iter().filter(move |i| i.work.id == work)
}

/// Specification, unit and quantity of every item of a work.
fn billed(e: &Estimate, work: &str) -> Vec<(String, &'static str, String)> {
    let shown = |i: &Item| (i.spec.clone(), i.unit.id(), i.quantity.normalize().to_string());
    all(e, work).filter(|i| !i.unbilled).map(shown).collect()
}

/// What its lines come to before the total is rounded.
fn booked(e: &Estimate, work: &str) -> Decimal {
    rounded(all(e, work).flat_map(|i| &i.lines).map(|l| l.value).sum(), 6).unwrap().normalize()
}

fn row<'a>(spec: &str, unit: &'a str, quantity: &str) -> (String, &'a str, String) {
    (spec.to_owned(), unit, quantity.to_owned())
}

/// A tank of 3.00 x 1.50 x 1.60 inside, one partition, with an opening of this size through it.
fn with_opening(wide: &str, high: &str) -> String {
    format!(
        "[tank]\nchambers = [1890, 1000]\nwidth = 3000\nheight = 2000\n[tank.partitions]\nthickness = 110\n\
         opening = {{ width = {wide}, height = {high}, below_top = 100 }}\n[tank.plaster]\n"
    )
}

/// IS 1200-12: up to 0.5 m2 nothing comes off and no reveals; to 3 m2 one face, no reveals; above both, with reveals.
#[test]
fn openings_in_plaster_in_three_steps() {
    // Walls 2 x (3.0 + 3.0) x 2.0 = 24, partition 2 x 3.0 x 2.0 = 12; its ends of 0.22 m2 stay.
    let gross = d("36");
    let faces = |wide, high| {
        let e = under("is-1200", &with_opening(wide, high));
        let (narrow, wide): (Vec<_>, Vec<_>) =
            all(&e, "plaster-wall").partition(|i| i.spec.ends_with("narrow"));
        let sum = |items: &[&Item]| -> Decimal {
            rounded(items.iter().flat_map(|i| &i.lines).map(|l| l.value).sum(), 6).unwrap()
        };
        (sum(&wide).normalize(), sum(&narrow).normalize())
    };
    assert_eq!(faces("500", "1000"), (gross, Decimal::ZERO)); // 0.5 m2
    assert_eq!(faces("510", "1000"), (gross - d("0.51"), Decimal::ZERO));
    assert_eq!(faces("2000", "1500"), (gross - d("3"), Decimal::ZERO)); // 3 m2
    // Reveals 2 x 1.51 + 2 x 2.00 in m: they are 110 mm wide.
    assert_eq!(faces("2000", "1510"), (gross - d("6.04"), d("7.02")));
}

#[test]
fn which_face_comes_off_is_listed() {
    let e = under("is-1200", &with_opening("800", "900"));
    let judged: Vec<_> = all(&e, "plaster-wall").flat_map(|i| &i.judged).collect();
    let openings: Vec<_> = judged.iter().filter(|j| j.what.key == "opening").collect();
    assert_eq!(openings.iter().map(|j| (j.kept, j.times)).collect::<Vec<_>>(), [(false, 1), (true, 1)]);
    assert!(openings.iter().all(|j| j.size == ratio(d("0.72")) && j.limit == Some(Ratio::int(3))));
}

/// A void of exactly the limit stays, one at the edge comes off, whatever its size, in the SMM family.
#[test]
fn the_edge_of_a_void_decides_before_its_size() {
    let tank = |below_top| {
        format!(
            "[tank]\nchambers = [1890, 1000]\nwidth = 3000\nheight = 2000\n[tank.partitions]\nthickness = 110\n\
             opening = {{ width = 200, height = 500, below_top = {below_top} }}\n"
        )
    };
    let kept = |profile, below_top| {
        let e = under(profile, &tank(below_top));
        let judged: Vec<bool> =
            all(&e, "brickwork-partition").flat_map(|i| &i.judged).map(|j| j.kept).collect();
        judged
    };
    for profile in ["east-africa", "smm7"] {
        assert_eq!(kept(profile, "700"), [true], "{profile}"); // 0.10 m2, inside
        assert_eq!(kept(profile, "1500"), [false], "{profile}"); // standing on the floor
    }
    assert_eq!(kept("is-1200", "1500"), [true]); // no rule on edges is known there
    assert_eq!(kept("exact", "700"), [false]);
    // A manhole beside a wall: at the edge of the soffit that is measured, inside the slab that it goes through.
    let cover =
        "[tank]\nchambers = [1500]\nwidth = 1200\nheight = 1500\n[tank.cover]\nmanholes = [[600, 600]]\n";
    let off = |profile| booked(&under(profile, cover), "formwork-cover-soffit");
    assert_eq!(["exact", "east-africa", "smm7", "is-1200"].map(off), ["1.44", "1.44", "1.8", "1.8"].map(d));
}

/// IS 1200: ends of beams stay in walls (0.1 m2), in plaster (0.5 m2), and in forms against a beam, of any size.
#[test]
fn ends_of_beams() {
    let tank = "[tank]\nchambers = [2000]\nwidth = 1500\nheight = 1800\n[tank.cover]\nwall_beams = 200\n\
                span_beam = { width = 250, depth = 300, bearing = 100 }\nmanholes = []\n[tank.plaster]\n";
    let ends = |profile, work| {
        let e = under(profile, tank);
        let found: Vec<_> = all(&e, work).flat_map(|i| &i.judged).map(|j| (j.kept, j.times)).collect();
        found
    };
    for work in ["brickwork-wall", "formwork-wall-beam", "plaster-wall"] {
        assert_eq!(ends("is-1200", work), [(true, 2)], "{work}");
        assert_eq!(ends("smm7", work), [], "{work}: an abutment like any other");
    }
    // 2 x 2.00 + 2 x 1.50 of 0.20, nothing off for the beam's ends of 0.25 x 0.20.
    assert_eq!(booked(&under("is-1200", tank), "formwork-wall-beam"), d("1.4"));
    assert_eq!(booked(&under("smm7", tank), "formwork-wall-beam"), d("1.3"));
}

/// CPWD: a pipe up to 300 mm comes off no masonry, whatever the limit of other voids.
#[test]
fn pipes_through_masonry() {
    for (diameter, kept) in [("300", true), ("301", false)] {
        let pipe = format!("[tank.pipes]\ninlet = {{ diameter = {diameter}, below_top = 500 }}\n");
        let e = under("is-1200", &format!("[tank]\nchambers = [2000]\nwidth = 1500\nheight = 1800\n{pipe}"));
        let judged: Vec<_> = all(&e, "brickwork-wall").flat_map(|i| &i.judged).collect();
        // Shown against the circle of the widest: pi / 4 x 0.3 x 0.3.
        assert_eq!(
            judged.iter().map(|j| (j.kept, j.limit)).collect::<Vec<_>>(),
            [(kept, Some(ratio(d("0.0707"))))]
        );
    }
}

/// IS 1200: lengths to 10 mm, thicknesses of slabs to 5 mm, each by its own clause.
#[test]
fn a_rounded_dimension_names_the_clause_of_its_step() {
    for (length, thick, want) in [
        ("2000", "152", "IS 1200-2:1974: thickness of slabs to 0.005 m"),
        ("2003", "150", "IS 1200-1:1992 cl 2.3: lengths to 0.01 m"),
    ] {
        let tank = format!(
            "[tank]\nchambers = [{length}]\nwidth = 1500\nheight = 1800\n[tank.base]\nconcrete = {{ thickness = {thick} }}\n"
        );
        let e = under("is-1200", &tank);
        let rounded =
            all(&e, "concrete-base").flat_map(|i| &i.decisions).filter(|d| d.what.key == "booked-dimension");
        let clauses: Vec<&str> = rounded.map(|d| d.clause.as_str()).collect();
        assert_eq!(clauses.len(), 1, "{length} x {thick}");
        assert!(clauses[0].starts_with(want), "{clauses:?}");
    }
}

const OPEN: &str = "[tank]\nchambers = [3000, 1890]\nwidth = 2000\nheight = 1800\ncover_top = 100\n[tank.pit]\nface = \"open\"\n\
                    working_space = 300\n[tank.base]\nprojection = 150\nconcrete = { thickness = 150 }\n\
                    [tank.partitions]\nthickness = 110\n[ground]\nsupport = \"open\"\nsurplus = \"spread\"\n\
                    [tank.cover]\nthickness = 140\n";

#[test]
fn edges_and_narrow_forms_in_metres() {
    // Base 5.74 x 2.74 on plan, 150 high; cover 5.44 x 2.44, 140 thick, 100 of it above ground but open all round.
    let of = |profile| {
        let e = under(profile, OPEN);
        ["formwork-base-edge", "formwork-cover-edge"].map(|w| billed(&e, w))
    };
    let both = |spec: &str, quantities: [&str; 2]| quantities.map(|q| vec![row(spec, "m", q)]);
    assert_eq!(of("smm7"), both("250", ["17", "16"]));
    assert_eq!(of("nrm2"), both("500", ["17", "16"]));
    assert_eq!(of("cesmm"), both("narrow", ["17", "15.8"]));
    // 16.96 x 0.15, 15.76 x 0.14
    for profile in ["is-1200", "east-africa"] {
        assert_eq!(of(profile), ["2.54", "2.21"].map(|q| vec![row("", "m2", q)]), "{profile}");
    }
    let e = under("smm7", OPEN);
    let base = all(&e, "formwork-base-edge").next().unwrap();
    assert_eq!(base.net, d("2.544"));
    assert_eq!(base.wording.to_string(), "Formwork to edge of base, not over 250 mm high");
}

#[test]
fn walls_by_their_thickness() {
    let units = |profile| {
        let e = under(profile, OPEN);
        ["brickwork-wall", "brickwork-partition"].map(|w| all(&e, w).next().unwrap().unit.id())
    };
    assert_eq!(units("exact"), ["m3", "m3"]);
    assert_eq!(units("is-1200"), ["m3", "m2"]); // 220 and 110: half a brick in m2
    assert_eq!(["smm7", "nrm2", "cesmm", "east-africa"].map(units), [["m2", "m2"]; 4]);
}

#[test]
fn a_pit_by_slices_or_by_its_greatest_depth_and_class() {
    let specs = |profile| {
        let e = under(profile, OPEN);
        let specs: Vec<String> = billed(&e, "excavation-pit").into_iter().map(|(spec, ..)| spec).collect();
        specs
    };
    // 1.80 + 0.15 + 0.14 - 0.10 = 1.99 deep; 5.74 x 2.74 = 15.73 m2: over 10 m2, over 1.5 m wide.
    assert_eq!(specs("is-1200"), ["net/over-areas/0-1.5", "net/over-areas/1.5-3.0"]);
    assert_eq!(specs("smm7"), ["net/1.0-2.0"]);
    assert_eq!(specs("nrm2"), ["net/0-2.0"]);
    assert_eq!(specs("cesmm"), ["net/1.0-2.0"]);
    assert_eq!(specs("exact"), ["net", "working-space"]);
    let small = OPEN.replace("[3000, 1890]", "[1500, 500]");
    let e = under("is-1200", &small);
    let first = all(&e, "excavation-pit").next().unwrap();
    let says = "Excavate pit by hand, from ground level, depth 0-1.5 m, in pits or trenches, commencing at ground level";
    assert_eq!((first.spec.as_str(), first.wording.to_string().as_str()), ("net/0-1.5", says));
}

#[test]
fn working_space_support_and_spreading_in_rates_or_not() {
    let face = under("smm7", OPEN);
    // Girth of the net dig, 16.96 x 1.99 deep = 33.7504
    assert_eq!(booked(&face, "working-space-face"), d("33.7504"));
    assert_eq!(billed(&face, "working-space-face"), [row("", "m2", "34")]);
    assert!(all(&face, "excavation-pit").any(|i| i.spec.starts_with("working-space") && i.unbilled));
    assert!(all(&face, "working-space-face").all(|i| i.net.is_zero()));
    for (profile, work, of) in [
        ("nrm2", "earthwork-support", 0),
        ("cesmm", "earthwork-support", 0),
        ("smm7", "earthwork-support", 1),
        ("is-1200", "disposal", 0),
        ("smm7", "disposal", 1),
        ("cesmm", "bottom-trim", 0),
        ("is-1200", "bottom-trim", 1),
    ] {
        assert_eq!(billed(&under(profile, OPEN), work).len(), of, "{profile} {work}");
    }
    // Where earth is carted the haul is beyond the lead of the dig.
    let carted = OPEN.replace("spread", "cart");
    assert_eq!(billed(&under("is-1200", &carted), "disposal").len(), 1);
}

#[test]
fn support_as_one_item() {
    let (_, text) = builtin_files().iter().find(|(p, _)| *p == "profiles/east-africa.toml").unwrap();
    let own = format!(
        "{text}\n[support]\nvalue = \"item\"\nfrom = \"2026\"\nsource = \"a bill: planking and strutting, one item\"\nseen = \"here\"\n"
    );
    let mut stock = stock().clone();
    assert_eq!(read_stock(&[("profiles/own.toml".to_owned(), own)], &mut stock), []);
    let soak = "[soak_pit]\ndiameter = 1500\ndepth = 2000\nfill_depth = 1500\n";
    let job = read(&format!("{HEAD}{OPEN}{soak}"), false).unwrap();
    let settings = Settings { profile: Some("own".to_owned()), date: None, ..Settings::default() };
    let e = flow::estimate(&job, &stock, None, &settings).unwrap_or_else(|f| panic!("{f:?}"));
    // Pit and soak pit are measured in m2, and one item is billed.
    assert!(all(&e, "earthwork-support").count() == 2 && billed(&e, "earthwork-support").is_empty());
    assert_eq!(billed(&e, "earthwork-support-item"), [row("open", "item", "1")]);
    assert!(e.balances.iter().all(Balance::holds));
}

/// Stages of one row are rounded together, so that a row is never larger than its rule makes it.
#[test]
fn whole_units_row_by_row() {
    let tank = "[tank]\nchambers = [2000]\nwidth = 1500\nheight = 1800\n[tank.columns]\nsize = [220, 220]\n[[tank.ring_beams]]\nabove_floor = 700\ndepth = 150\n";
    let e = under("smm7", tank);
    let columns: Vec<_> =
        all(&e, "concrete-column").map(|i| (i.stage.id(), i.quantity.to_string())).collect();
    // 4 x 0.22 x 0.22 x 1.80 = 0.348: one cubic metre in all, billed with its first stage.
    assert_eq!(
        columns,
        [("walls-lower", "1"), ("ring-beam", "0"), ("walls-upper", "0")].map(|(s, q)| (s, q.to_owned()))
    );
    let rows: Vec<_> =
        e.bill.sections.iter().flat_map(|s| &s.rows).filter(|r| r.work.id == "concrete-column").collect();
    assert_eq!((rows.len(), rows[0].quantity), (1, d("1")));
    // 7.44 of girth x the lifts: 0.70, 0.95 of 1.80: 5.2 + 7.07 = 12.28, 12 in all.
    let walls: Decimal = all(&e, "brickwork-wall").map(|i| i.quantity).sum();
    let exact: Ratio = all(&e, "brickwork-wall").flat_map(|i| &i.lines).map(|l| l.value).sum();
    assert_eq!(ratio(walls), exact.round_half_away(Ratio::ONE));
}

/// Every sample under every profile: what is rounded by row is so in the bill, and nothing is below nothing.
#[test]
fn rows_of_the_bill_are_rounded_as_the_profile_says() {
    let stock = stock();
    for name in SAMPLES {
        let text = std::fs::read_to_string(root().join("samples").join(name).join("job.toml")).unwrap();
        for profile in PROFILES {
            let e = measured(&text, Some(profile)).unwrap();
            let p = &stock.profiles[profile];
            for row in e.bill.sections.iter().flat_map(|s| &s.rows) {
                let of = |i: &&Item| row.items.contains(&i.id);
                let lines =
                    e.sheet.items.iter().filter(of).flat_map(|i| &i.lines).map(|l| l.value).sum::<Ratio>();
                if p.by_row.is_some() {
                    // Stages that got nothing of the rounded row stand in no row.
                    let all = e
                        .sheet
                        .items
                        .iter()
                        .filter(|i| (i.work, &i.spec, i.unit) == (row.work, &row.spec, row.unit));
                    let lines = all.flat_map(|i| &i.lines).map(|l| l.value).sum::<Ratio>();
                    assert_eq!(
                        ratio(row.quantity),
                        p.places[&row.unit].rounded(lines),
                        "{name} {profile} {}",
                        row.reference
                    );
                } else {
                    assert!(
                        (ratio(row.quantity) - lines).abs() < Ratio::of(1, 10),
                        "{name} {profile} {}",
                        row.reference
                    );
                }
            }
        }
    }
}

/// Where both profiles bill an item in one unit, the rules make the difference to the last digit.
#[test]
fn the_rules_of_two_profiles_add_up_to_the_difference() {
    let mut compared = 0;
    for name in SAMPLES {
        let text = std::fs::read_to_string(root().join("samples").join(name).join("job.toml")).unwrap();
        let all: Vec<_> = PROFILES.iter().map(|p| measured(&text, Some(p)).unwrap()).collect();
        for a in &all {
            for b in &all {
                for row in against(&a.sheet, &b.sheet) {
                    let what =
                        format!("{name}: {} {} {} {}", a.profile.0, b.profile.0, row.work.id, row.spec);
                    if a.profile == b.profile {
                        assert!(row.same() && row.rules.is_empty(), "{what}: {:?}", row.rules);
                    }
                    assert!(row.same() || !row.rules.is_empty(), "{what}: no rule");
                    let both = a.sheet.items.iter().any(|i| i.work == row.work && i.spec == row.spec)
                        && b.sheet.items.iter().any(|i| i.work == row.work && i.spec == row.spec);
                    if let Some(difference) = row.difference.filter(|_| both) {
                        let sum: Ratio = row.rules.iter().map(|r| r.size).sum();
                        assert_eq!(sum, ratio(difference), "{what}");
                        compared += 1;
                    }
                }
            }
        }
    }
    assert!(compared > 5_000, "{compared}");
}

#[test]
fn side_by_side_on_the_command_line() {
    let at = |more: &str| run(&format!("takeoff samples/clinic/job.toml {more}"));
    let json = at("--profile is-1200 --against smm7 --format json");
    assert_eq!(json.code, 0);
    let out: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!((&out["profile"], &out["against"]), (&"is-1200".into(), &"smm7".into()));
    let rows = out["rows"].as_array().unwrap();
    let of = |work: &str| rows.iter().find(|r| r["work"] == work).unwrap();
    // Walls are in m3 and in m2: no difference can be told.
    let wall = of("brickwork-wall");
    assert_eq!((&wall["unit"], &wall["unit_against"]), (&"m3".into(), &"m2".into()));
    assert!(wall["difference"].is_null() && wall["quantity"].is_string());
    assert!(of("working-space-face")["quantity"].is_null());
    let cover = of("concrete-cover");
    let rule = cover["rules"].as_array().unwrap().iter().find(|r| r["profile"] == "smm7").unwrap();
    assert_eq!(rule["what"], "total rounded with its row of the bill");
    assert!(rule["clause"].as_str().unwrap().starts_with("SMM7 General rule 3") && rule["size"].is_string());
    let Run { code, out: text, .. } = at("--against exact");
    assert_eq!(code, 0);
    assert!(text.lines().all(|l| l.chars().count() <= 100));
    assert!(text.contains("one job, two profiles: East Africa against exact"));
    let Run { code, out: csv, .. } = at("--against exact --format csv");
    assert_eq!(code, 0);
    assert!(csv.starts_with(
        "row,work,spec,unit,quantity,unit_against,quantity_against,difference,profile,rule,clause"
    ));
    let Run { code, out, err } = at("--against nobodys");
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(err.starts_with("error[U001]: there is no measurement profile `nobodys`\n"), "{err}");
}
