//! What the profiles say, held against what their sources say; every mistake in one, once.

use tankwright_geometry::Ratio;

use super::data_tests::{stock, told};
use super::*;
use crate::works::{Class, Unit};

/// A limit of voids, with its unit.
fn limit(p: &Profile, class: Class) -> Option<(Unit, String)> {
    p.voids.get(&class).map(|v| (v.unit, crate::decimal::plain(v.shown())))
}

fn limits(p: &Profile) -> [Option<(Unit, String)>; 4] {
    [Class::Concrete, Class::Formwork, Class::Masonry, Class::Plaster].map(|c| limit(p, c))
}

fn rounding(p: &Profile, unit: Unit) -> Option<(u32, u32, u32)> {
    p.places.get(&unit).map(|r| (r.places, r.of, r.least))
}

const MEASURED: [Unit; 3] = [Unit::M3, Unit::M2, Unit::M];

#[test]
fn exact_rounds_nothing_and_keeps_no_void() {
    let p = &stock().profiles["exact"];
    assert_eq!((p.step.0, p.slab_step.0), (1, 1)); // 0.1 mm: design section 5
    assert!(p.places.values().all(|r| (r.places, r.of, r.least) == (12, 1, 0))); // design section 3
    assert!(p.bands.0.is_empty() && p.voids.is_empty() && p.ends.is_empty() && p.pipes.is_empty());
    assert!(p.walls_by_area.is_none() && p.thin_walls.is_none() && p.edges.is_none() && p.narrow.is_empty());
    assert_eq!((&p.working_space, &p.support), (&Room::Billed, &Support::Area));
    assert!(p.by_row.is_none() && p.in_rate.is_empty() && p.states.is_empty());
}

#[test]
fn east_africa_says_what_its_sources_say() {
    let p = &stock().profiles["east-africa"];
    assert_eq!(p.step.0, 100); // 10 mm: D-SMM A2(a)
    assert_eq!(p.slab_step.0, 50); // 0.005 m: IS 1200-2:1974
    assert_eq!(p.bands.0, [15_000, 30_000, 45_000]); // 1.5 m stages: Ugandan bills; IS 1200-1 cl 4.2
    assert!(p.walls_by_area.is_some()); // m2 by thickness: East African method, recalled
    assert!(matches!(p.working_space, Room::InRate(_))); // recalled
    assert_eq!(MEASURED.map(|u| rounding(p, u)), [Some((2, 1, 0)); 3]); // 0.01: IS 1200-1 cl 2.3, IS 1200-5
    let others = [Unit::Kg, Unit::Nr, Unit::Item].map(|u| rounding(p, u));
    assert_eq!(others, [Some((2, 1, 0)), Some((0, 1, 0)), Some((0, 1, 0))]); // common practice
    let m2 = |n: &str| Some((Unit::M2, n.to_owned()));
    // 0.05 m3: SMM7 E10, recalled; 0.4 m2: IS 1200-5:1982; 0.10 m2: SMM2 section J; 0.5 m2: IS 1200-12:1976
    assert_eq!(limits(p), [Some((Unit::M3, "0.05".into())), m2("0.4"), m2("0.1"), m2("0.5")]);
    assert_eq!((limit(p, Class::Earth), limit(p, Class::Sheet)), (None, None));
    assert_eq!(p.boundary.0, Boundary::Face); // D-SMM A2(b)
    assert!(p.edges.is_none() && p.narrow.is_empty()); // forms in m2: said under not followed
}

/// Trade practice 1.2, its column of IS 1200.
#[test]
fn is_1200_says_what_trade_practice_says() {
    let p = &stock().profiles["is-1200"];
    assert_eq!((p.step.0, p.slab_step.0), (100, 50)); // 0.01 m; slabs to 0.005 m
    assert_eq!(p.bands.0, [15_000, 30_000, 45_000]); // stages of 1.5 m
    let class = p.dig_class.as_ref();
    let m2 = |n: i128| Ratio::int(n * 100_000_000);
    assert_eq!(class.map(|c| (c.width, c.area)), Some((15_000, m2(10)))); // 1.5 m wide, 10 m2 on plan
    assert_eq!(p.thin_walls.as_ref().map(|(t, _)| *t), Some(1_150)); // half a brick in m2, else m3
    assert!(p.walls_by_area.is_none());
    let area = |n: &str| Some((Unit::M2, n.to_owned()));
    assert_eq!(limits(p), [area("0.1"), area("0.4"), area("0.1"), area("0.5")]);
    assert_eq!(p.one_face.as_ref().map(|(m, _)| *m), Some(m2(3))); // 0.5 to 3 m2: one face
    assert_eq!(p.pipes[&Class::Masonry].0, 3_000); // pipes up to 300 mm
    assert_eq!(p.ends[&Class::Plaster].0, Some(m2(1) / Ratio::int(2))); // ends up to 0.5 m2
    assert_eq!(p.ends[&Class::Masonry].0, Some(m2(1) / Ratio::int(10))); // ends up to 0.1 m2
    assert_eq!(p.ends[&Class::Formwork].0, None); // beams against beams: no deduction
    assert_eq!(p.narrow[&Class::Plaster].0, 3_000); // bands up to 300 mm in m
    assert_eq!(MEASURED.map(|u| rounding(p, u)), [Some((2, 1, 0)); 3]);
}

/// Trade practice 1.1 and 1.2, the columns of SMM7 and NRM2.
#[test]
fn smm7_and_nrm2_say_what_trade_practice_says() {
    let stock = stock();
    let (smm7, nrm2) = (&stock.profiles["smm7"], &stock.profiles["nrm2"]);
    for p in [smm7, nrm2] {
        assert_eq!((p.step.0, p.slab_step.0), (100, 100)); // 10 mm
        assert_eq!(MEASURED.map(|u| rounding(p, u)), [Some((0, 1, 1)); 3]); // whole units, under 1 is 1
        assert_eq!(rounding(p, Unit::Kg), Some((0, 10, 10))); // 0.01 t
        assert!(p.by_row.is_some() && p.by_greatest_depth.is_some() && p.walls_by_area.is_some());
        assert_eq!(p.boundary.0, Boundary::Part);
    }
    let m2 = |n: &str| Some((Unit::M2, n.to_owned()));
    let m3 = || Some((Unit::M3, "0.05".to_owned()));
    assert_eq!(limits(smm7), [m3(), m2("5"), m2("0.1"), m2("0.5")]);
    assert_eq!(limits(nrm2), [m3(), m2("5"), m2("0.5"), m2("1")]);
    assert_eq!(smm7.bands.0, [2_500, 10_000, 20_000, 40_000, 60_000]); // 0.25, 1, 2, then stages of 2 m
    assert_eq!(nrm2.bands.0, [20_000, 40_000, 60_000]); // stages of 2 m
    assert!(matches!(smm7.working_space, Room::ByFace(6_000, _))); // within 600 mm
    assert!(matches!(nrm2.working_space, Room::InRate(_)));
    assert_eq!((&smm7.support, matches!(nrm2.support, Support::InRate(_))), (&Support::Area, true));
    assert_eq!((smm7.narrow[&Class::Plaster].0, nrm2.narrow[&Class::Plaster].0), (3_000, 6_000));
    assert_eq!(nrm2.narrow[&Class::Sheet].0, 3_000);
}

/// Trade practice 1.1 and 1.2, the column of CESMM.
#[test]
fn cesmm_says_what_trade_practice_says() {
    let p = &stock().profiles["cesmm"];
    assert_eq!(p.bands.0, [2_500, 5_000, 10_000, 20_000, 50_000]); // 0.25, 0.5, 1, 2, 5 m
    assert_eq!(MEASURED.map(|u| rounding(p, u)), [Some((1, 1, 0)); 3]); // not more than one place
    let m2 = |n: &str| Some((Unit::M2, n.to_owned()));
    assert_eq!([limit(p, Class::Formwork), limit(p, Class::Masonry)], [m2("0.5"), m2("0.25")]);
    assert_eq!(p.narrow[&Class::Formwork].0, 2_000); // up to 0.2 m wide in m
    assert!(matches!((&p.working_space, &p.support), (Room::InRate(_), Support::InRate(_))));
}

#[test]
fn what_a_method_leaves_open_is_said() {
    for (id, p) in &stock().profiles {
        let of = |kind| p.notes.iter().filter(|n| n.kind == kind).count();
        if id != "exact" {
            assert!(p.method.is_some() && of(NoteKind::Deemed) > 0 && of(NoteKind::NotFollowed) > 0, "{id}");
        }
    }
}

#[test]
fn a_total_is_rounded_as_the_profile_does() {
    let stock = stock();
    let rounded = |profile: &str, unit, n, d| {
        stock.profiles[profile].places.get(&unit).map(|r| crate::decimal::plain(r.rounded(Ratio::of(n, d))))
    };
    let smm7 = |unit, n, d| rounded("smm7", unit, n, d);
    assert_eq!(smm7(Unit::M3, 19, 100).as_deref(), Some("1")); // 0.19: under 1 is 1
    assert_eq!(smm7(Unit::M3, 149, 100).as_deref(), Some("1"));
    assert_eq!(smm7(Unit::M3, 3, 2).as_deref(), Some("2")); // a half goes up
    assert_eq!(smm7(Unit::M3, 0, 1).as_deref(), Some("0")); // nothing stays nothing
    assert_eq!(smm7(Unit::M3, -19, 100).as_deref(), Some("0"));
    assert_eq!(smm7(Unit::Kg, 124, 1).as_deref(), Some("120")); // 0.124 t = 0.12 t
    assert_eq!(smm7(Unit::Kg, 3, 1).as_deref(), Some("10"));
    assert_eq!(rounded("cesmm", Unit::M2, 345, 100).as_deref(), Some("3.5"));
}

#[test]
fn a_code_stands_for_its_specifications() {
    let of = |code: &str, work: &str, spec: &str| {
        OfWork { code: code.into(), says: String::new(), source: Default::default() }.is(work, spec)
    };
    assert!(of("disposal", "disposal", "spread") && of("disposal", "disposal", ""));
    assert!(of("disposal/spread", "disposal", "spread") && of("disposal/spread", "disposal", "spread/far"));
    assert!(!of("disposal/spread", "disposal", "cart") && !of("disposal/spread", "disposal", ""));
    assert!(!of("disposal/spread", "disposal", "spreading") && !of("disposal", "disposals", ""));
}

#[test]
fn each_mistake_of_a_profile_has_its_code_and_place() {
    let file = |name: &str| {
        let path = format!("profiles/{name}.toml");
        builtin_files().iter().find(|(p, _)| *p == path).map_or("", |(_, text)| *text)
    };
    let change = |name: &str, changed: &str, by: &str| {
        assert!(file(name).contains(changed), "{changed}");
        told("profiles/x.toml", &file(name).replacen(changed, by, 1))
    };
    let one = |code, text: &str| vec![(code, text.to_owned())];
    for name in ["cesmm", "east-africa", "exact", "is-1200", "nrm2", "smm7"] {
        assert_eq!(told("profiles/x.toml", file(name)), []);
    }
    assert_eq!(change("is-1200", "one_face = \"3\"", "one_face = \"0.3\""), one("P019", "\"0.3\""));
    assert_eq!(change("is-1200", "one_face = \"3\"", "one_face = \"3.0m2\""), one("P010", "\"3.0m2\""));
    assert_eq!(
        change("is-1200", "[walls]\nvalue = \"m3\"", "[walls]\nvalue = \"m2\""),
        one("P019", "[thin_walls]")
    );
    assert_eq!(
        change("is-1200", "\"disposal/spread\"", "\"disposl/spread\""),
        one("P020", "\"disposl/spread\"")
    );
    assert_eq!(change("is-1200", "\"anywhere\"", "\"nowhere\""), one("P012", "\"nowhere\""));
    assert_eq!(change("is-1200", "value = \"any\"", "value = \"every\""), one("P010", "\"every\""));
    assert_eq!(change("smm7", "under = \"600 mm\"\n", ""), one("P019", "[working_space]"));
    assert_eq!(
        change("nrm2", "value = \"in-rate\"", "value = \"in-rate\"\nunder = \"1 m\""),
        one("P019", "\"1 m\"")
    );
    assert_eq!(
        change("smm7", "\"250 mm\", \"500 mm\"", "\"500 mm\", \"250 mm\""),
        one("P016", "[\"500 mm\", \"250 mm\", \"1.0 m\"]")
    );
    assert_eq!(change("smm7", "least = 1", "least = 1001"), one("P011", "1001"));
    assert_eq!(
        change("cesmm", "[[deemed]]\nsays", "[[deemed]]\nsay"),
        vec![("P003", "[[deemed]]".into()), ("P005", "say".into())]
    );
}

/// Figures as papers print them, from those of the file.
#[test]
fn rules_print_their_figures_with_units() {
    let stock = stock();
    let figure = |profile: &str, what: &str| {
        let rules = stock.profiles[profile].rules();
        rules.iter().find(|r| r.what == what).map(|r| r.figure.clone()).unwrap_or_default()
    };
    assert_eq!(figure("smm7", "dimensions to"), "10 mm");
    assert_eq!(figure("smm7", "depth bands"), "250 mm, 1000 mm, 2000 mm, 4000 mm, 6000 mm");
    assert_eq!(figure("smm7", "edges of slabs in m, heights up to"), "250 mm, 500 mm, 1000 mm");
    assert_eq!(figure("exact", "depth bands"), "none");
    assert_eq!(figure("smm7", "places of kg"), "0, in steps of 10, not less than 10");
    assert_eq!(figure("smm7", "places of m3"), "0, not less than 1");
    assert_eq!(figure("east-africa", "places of m3"), "2");
}
