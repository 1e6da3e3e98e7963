//! The built-in data held true, and every code of the data reader once.

use super::*;
use crate::decimal::plain;
use crate::problem::{Problem, Severity};
use crate::source::Source;

pub(super) fn stock() -> Stock {
    let (stock, problems) = builtin();
    assert_eq!(problems, []);
    stock
}

fn all_sources(s: &Stock) -> Vec<&Source> {
    let mut all = Vec::new();
    for p in s.profiles.values() {
        all.extend(p.rules().into_iter().map(|r| r.source));
    }
    all.extend(s.soils.values().flat_map(|s| [&s.swell.1, &s.weight.1, &s.sides_stand.1]));
    all.extend(s.units.values().map(|u| &u.source));
    all.extend(s.currencies.values().map(|(_, s)| s));
    all.extend(s.checklist.iter().map(|i| &i.source));
    let r = &s.recipes;
    all.extend(r.concrete.iter().chain(&r.mortar).map(|m| &m.source));
    all.extend(r.figures.values().flat_map(|f| &f.values).map(|v| &v.source));
    all.extend(s.checks.values().flat_map(|f| &f.values).map(|v| &v.source));
    all.extend(r.recipes.values().map(|r| &r.source));
    all.extend(r.coats.values().map(|c| &c.source));
    all.extend(r.goods.iter().map(|g| &g.source));
    all.extend(r.waste.values().map(|(_, s)| s));
    all.extend(r.made_blocks.iter().map(|(_, s)| s));
    all.extend(s.packs.iter().map(|p| &p.source));
    all.extend(s.tables.values().map(|t| &t.source));
    all.extend(s.times.days.iter().map(|d| &d.source).chain(s.times.waits.iter().map(|w| &w.source)));
    let notices = s.times.holds.iter().chain(&s.times.pours).chain(&s.times.cautions);
    all.extend(notices.map(|n| &n.source));
    all
}

#[test]
fn every_entry_has_a_source_seen_recalled_or_plainly_none() {
    let stock = stock();
    let all = all_sources(&stock);
    assert!(all.len() > 100);
    for s in all {
        let plain = ["common practice, no source", "own definition", "invented"];
        let none = plain.iter().any(|p| s.text.starts_with(p));
        assert!(!s.text.is_empty() && !s.from.is_empty(), "{s:?}");
        assert!(!s.seen.is_empty() || s.recalled || none, "{s:?}");
    }
}

#[test]
fn soils_units_and_currencies_of_the_samples_are_there() {
    let s = stock();
    let swell = |id: &str| s.soils.get(id).map(|s| (plain(s.swell.0), s.sides_stand.0));
    assert_eq!(swell("firm-clay"), Some(("1.4".into(), true))); // hard clay 1.4, p. 229; the 1.25 is not used
    assert_eq!(swell("sand"), Some(("1.11".into(), false))); // 100 make 111
    assert_eq!(s.units["brick-215x102.5x65"].size, [2150, 1025, 650]);
    assert!(s.units["brick-220x105x65"].walls.contains(&1100));
    assert_eq!(s.units["block-450x225x225"].joint, 250);
    // ISO 4217: no minor digits where there is no minor unit in use.
    let digits = |code: &str| s.currencies.get(code).map(|(c, _)| c.digits);
    assert_eq!(["UGX", "RWF", "BIF", "XAF", "XOF"].map(digits), [Some(0); 5]);
    assert_eq!(["TZS", "KES", "NGN", "ETB", "INR", "USD"].map(digits), [Some(2); 6]);
    let ids: Vec<&str> = s.checklist.iter().map(|i| i.id.as_str()).collect();
    let order = [
        "setting-out",
        "water",
        "tools",
        "store",
        "transport",
        "support",
        "dry",
        "guarding",
        "tests",
        "permits",
        "clearing",
    ];
    assert_eq!(ids, order);
    assert!(s.overridden.is_empty());
}

#[test]
fn a_preliminary_covers_what_its_title_names() {
    let s = stock();
    let covered = |title: &str| -> Vec<String> {
        s.checklist.iter().filter(|i| i.covers(title)).map(|i| i.id.clone()).collect()
    };
    assert_eq!(covered("Setting out, tools, store and watchman"), ["setting-out", "tools", "store"]);
    assert_eq!(covered("Keeping excavations free from water"), ["dry"]);
    assert_eq!(covered("Water test"), ["tests"]);
    assert_eq!(covered("Planking and strutting"), ["support"]);
}

#[test]
fn demo_lists_are_whole_invented_and_alike() -> Result<(), String> {
    let mut first: Option<Vec<(PriceKind, String, String)>> = None;
    for (name, currency) in [("demo-ugx", "UGX"), ("demo-kes", "KES"), ("demo-inr", "INR")] {
        let (path, text) = builtin_prices(name).ok_or("not embedded")?;
        let list = read_prices(&path, text).map_err(|p| format!("{p:?}"))?;
        assert_eq!((list.currency.as_str(), list.cautions.len()), (currency, 0));
        assert!(list.rows.iter().all(|r| r.source == "invented, demo" && r.date == "2026-10-01"));
        assert!(list.rows.iter().all(|r| r.rate.is_some_and(|r| !r.is_zero() && r.scale() <= 2)));
        let codes: Vec<_> = list.rows.iter().map(|r| (r.kind, r.code.clone(), r.unit.clone())).collect();
        assert_eq!(*first.get_or_insert(codes.clone()), codes);
        for (work, spec, unit) in [
            ("excavation-pit", "1.5-3.0", "m3"),
            ("brickwork-wall", "220", "m2"),
            ("brickwork-wall", "220", "m3"),
            ("brickwork-partition", "110", "m2"),
            ("concrete-base", "1:2:4", "m3"),
            ("disposal", "spread", "m3"),
            ("pipe", "110", "m"),
            ("bars", "Y12", "kg"),
            ("keep-dry", "", "item"),
        ] {
            assert!(
                matches!(list.find(work, spec, unit), Lookup::Found { exact: true, .. }),
                "{work}/{spec}"
            );
        }
    }
    Ok(())
}

/// Code and the bytes pointed at, of every problem of one file read over nothing.
pub(super) fn told(path: &str, text: &str) -> Vec<(&'static str, String)> {
    let problems = read_stock(&[(path.to_owned(), text.to_owned())], &mut Stock::default());
    let tell = |p: &Problem| {
        let span = p.place.as_ref().map_or(0..0, |p| p.span.clone());
        (p.code, text.get(span).unwrap_or("not a place").to_owned())
    };
    problems.iter().map(tell).collect()
}

fn unit(changed: &str, by: &str) -> Vec<(&'static str, String)> {
    let good = "[[unit]]\nid = \"brick-220x105x65\"\ntitle = \"brick\"\nsize = [\"220 mm\", \"105 mm\", \"65 mm\"]\n\
                joint = \"10 mm\"\nwalls = [\"220 mm\"]\nhollow = false\nfrom = \"2020\"\nsource = \"a book\"\nseen = \"here\"\n";
    told("units.toml", &good.replacen(changed, by, 1))
}

#[test]
fn each_mistake_of_a_data_file_has_its_code_and_place() {
    let one = |code, text: &str| vec![(code, text.to_owned())];
    assert_eq!(unit("", ""), []);
    assert_eq!(unit("hollow = false", "hollow = = false"), one("P001", "="));
    assert_eq!(unit("10 mm\"", "10 mm"), one("P001", ""));
    assert_eq!(told("my/cranes.toml", "a = 1"), one("P002", ""));
    assert_eq!(unit("title = \"brick\"\n", ""), one("P003", "[[unit]]"));
    assert_eq!(unit("false", "\"no\""), one("P004", "\"no\""));
    assert_eq!(unit("title", "colour = \"red\"\ntitle"), one("P005", "colour"));
    assert_eq!(unit("source = \"a book\"\n", ""), one("P006", "[[unit]]"));
    assert_eq!(unit("seen = \"here\"\n", ""), one("P007", "\"a book\""));
    assert_eq!(unit("seen", "recalled = true\nseen"), one("P007", "\"a book\""));
    assert_eq!(unit("a book", "common practice, no source\"\n#\""), []);
    assert_eq!(unit("2020", "last year"), one("P008", "\"last year\""));
    assert_eq!(unit("10 mm", "10"), one("P009", "\"10\""));
    assert_eq!(unit("10 mm", "0 mm"), one("P011", "\"0 mm\""));
    assert_eq!(unit("brick-220x105x65", "Brick"), one("P013", "\"Brick\""));
    assert_eq!(unit("105 mm", "110 mm"), one("P015", "[\"220 mm\", \"110 mm\", \"65 mm\"]"));
    let item =
        "[[item]]\nid = \"a\"\ntitle = \"t\"\nwords = [\"w\"]\nfrom = \"2020\"\nsource = \"invented\"\n";
    assert_eq!(told("checklist.toml", &item.repeat(2)), one("P014", "\"a\""));
    assert_eq!(told("units.toml", &" ".repeat(1_000_001)), one("P018", ""));
}

#[test]
fn each_mistake_of_a_profile_or_soil_has_its_code() {
    let file = |path: &str| builtin_files().iter().find(|(p, _)| *p == path).map_or("", |(_, text)| text);
    let profile = |changed: &str, by: &str| {
        told("profiles/x.toml", &file("profiles/east-africa.toml").replacen(changed, by, 1))
    };
    let soils = |changed: &str, by: &str| told("soils.toml", &file("soils.toml").replacen(changed, by, 1));
    let one = |code, text: &str| vec![(code, text.to_owned())];
    assert_eq!(profile("", ""), []);
    assert_eq!(profile("\"0.05\"", "\"0,05\""), one("P010", "\"0,05\""));
    assert_eq!(profile("\"0.05\"", "0.05"), one("P004", "0.05"));
    assert_eq!(profile("\"in-rate\"", "\"free\""), one("P012", "\"free\""));
    assert_eq!(profile("\"3.0 m\"", "\"1.5 m\""), one("P016", "[\"1.5 m\", \"1.5 m\", \"4.5 m\"]"));
    assert_eq!(soils("\nused = true", "\nused = false"), one("P017", "[[soil.swell]]"));
    assert_eq!(soils("\"1.40\"", "\"0.9\""), one("P011", "\"0.9\""));
    assert_eq!(told("profiles/My Profile.toml", file("profiles/exact.toml")), one("P013", ""));
}

#[test]
fn a_users_entry_replaces_the_built_in_one_by_id() {
    let mut s = stock();
    let text = "[[soil]]\nid = \"firm-clay\"\ntitle = \"our clay\"\n\
                swell = { value = \"1.25\", from = \"2026-11\", source = \"three loads\", seen = \"on site\" }\n\
                weight = { value = \"1.8\", from = \"2026\", source = \"invented\" }\n\
                sides_stand = { value = false, from = \"2026\", source = \"invented\" }\n";
    let before = s.soils.len();
    let problems =
        read_stock(&[("my\\soils.toml".into(), text.into()), ("my/prices/x.csv".into(), "?".into())], &mut s);
    assert_eq!(problems, []);
    assert_eq!((s.soils.len(), s.soils["firm-clay"].title.as_str()), (before, "our clay"));
    assert_eq!(s.overridden, ["soil firm-clay, from my\\soils.toml"]);
}

#[test]
fn a_mistake_in_a_recipe_or_mix_has_its_code_and_a_used_mix_takes_the_place_of_another() {
    let file = |path: &str| builtin_files().iter().find(|(p, _)| *p == path).map_or("", |(_, text)| text);
    let one = |code, text: &str| vec![(code, text.to_owned())];
    let recipes =
        |changed: &str, by: &str| told("recipes.toml", &file("recipes.toml").replacen(changed, by, 1));
    assert_eq!(recipes("", ""), []);
    assert_eq!(recipes("\"42/27\"", "\"42/0\""), one("P010", "\"42/0\""));
    assert_eq!(recipes("\nused = true", "\nused = false"), one("P017", "\"dry-concrete\""));
    assert_eq!(recipes("\"pipe/SPEC\"", "\"Pipe\""), one("P013", "\"Pipe\""));
    let mixes = |changed: &str, by: &str| told("mixes.toml", &file("mixes.toml").replacen(changed, by, 1));
    assert_eq!(mixes("\"1:1.5:3\"", "\"1:1.5\""), one("P011", "\"1:1.5\""));
    let mut s = stock();
    let own = "[[mortar]]\nid = \"ours\"\nmix = \"1:4\"\norigin = \"ours\"\ncement = \"350\"\nsand = \"1.1\"\nused = true\nfrom = \"2026\"\nsource = \"invented\"\n";
    assert_eq!(read_stock(&[("my/mixes.toml".into(), own.into())], &mut s), []);
    let used: Vec<_> = s.recipes.mortar.iter().filter(|m| m.mix == "1:4" && m.used).map(|m| &m.id).collect();
    assert_eq!(used, ["ours"]);
}

#[test]
fn a_file_that_nothing_reads_is_only_a_caution() {
    let problems = read_stock(&[("notes.txt".into(), String::new())], &mut Stock::default());
    let told: Vec<_> = problems.iter().map(|p| (p.code, p.severity)).collect();
    assert_eq!(told, [("P002", Severity::Caution)]);
}

#[test]
fn packs_are_what_their_sources_say_and_one_of_each_is_used() {
    let s = stock();
    let used = |m: &str| s.packs.iter().filter(|p| p.used && p.material == m).count();
    assert!(s.packs.iter().all(|p| used(&p.material) == 1));
    let bags = s.packs.iter().filter(|p| p.material == "cement").map(|p| p.size.text.as_str());
    assert_eq!(bags.collect::<Vec<_>>(), ["50 kg", "42.5 kg", "40 kg", "25 kg", "94 lb"]);
    assert!(s.packs.iter().filter(|p| p.by_load).all(|p| p.own.is_some()));
    let works: Vec<&str> = crate::works::all().iter().map(|w| w.id).chain(["bars"]).collect();
    let named = s.times.waits.iter().flat_map(|w| &w.works);
    let named = named.chain(s.times.holds.iter().chain(&s.times.pours).flat_map(|n| &n.works));
    let paced = s.times.days.iter().filter_map(|d| d.pace.as_ref()).flat_map(|p| &p.works);
    for work in named.chain(s.times.cautions.iter().flat_map(|n| &n.works)).chain(paced) {
        assert!(works.contains(&work.split('@').next().unwrap_or_default()), "{work} is no work");
    }
    // What is added up has one unit.
    for pace in s.times.days.iter().filter_map(|d| d.pace.as_ref()) {
        let all = crate::works::all();
        let units = all.iter().filter(|w| pace.works.iter().any(|p| p == w.id));
        let units: Vec<_> = units.map(|w| w.unit).collect();
        assert!(units.windows(2).all(|two| two[0] == two[1]), "{:?}", pace.works);
    }
}

#[test]
fn each_mistake_of_packs_and_programme_has_its_code() {
    let pack = |changed: &str, by: &str| {
        let good = "[[pack]]\nid = \"lime-25\"\nmaterial = \"lime\"\nsize = \"25 kg\"\nwords = [\"bag\", \"bags\"]\n\
                    used = true\nfrom = \"2026\"\nsource = \"invented\"\n";
        told("packs.toml", &good.replacen(changed, by, 1))
    };
    let one = |code, text: &str| vec![(code, text.to_owned())];
    assert_eq!(pack("", ""), []);
    assert_eq!(pack("25 kg", "25"), one("P010", "\"25\""));
    assert_eq!(pack(", \"bags\"", ""), one("P011", "[\"bag\"]"));
    assert_eq!(pack("true", "false"), one("P017", ""));
    assert_eq!(pack("used", "load = true\nused"), one("P005", "load"));
    let times = |text: &str| told("programme.toml", text);
    let hold =
        "[[hold]]\nid = \"a\"\nstage = \"dig\"\nsays = \"x\"\nfrom = \"2026\"\nsource = \"invented\"\n";
    assert_eq!(times(hold), []);
    assert_eq!(times(&hold.repeat(2)), one("P014", "\"a\""));
    assert_eq!(times(&hold.replace("dig", "digging")), one("P012", "\"digging\""));
    let days = "[[days]]\nstage = \"dig\"\ndays = 3\nfrom = \"2026\"\nsource = \"invented\"\n";
    assert_eq!(times(days), []);
    assert_eq!(times(&days.replace('3', "\"3\"")), one("P004", "\"3\""));
    let of = format!(
        "{days}of = [\"excavation-pit\"]\nfor = \"16\"\nless = true\nthen = \"4\"\nthen_source = \"invented\"\n"
    );
    assert_eq!(times(&of), []);
    assert_eq!(times(&of.replace("\"16\"", "\"0\"")), one("P011", "\"0\""));
    assert_eq!(
        times(&of.replace("for = \"16\"\n", "")).iter().map(|(code, _)| *code).collect::<Vec<_>>(),
        ["P003"]
    );
    assert_eq!(times(&of.replace("\"excavation-pit\"", "\"digging\"")), one("P012", "[\"digging\"]"));
    assert_eq!(times(&of.replace("\"excavation-pit\"", "\"excavation-pit@dug\"")).len(), 1);
    assert_eq!(times(&of.replace("then_source = \"invented\"\n", "")).len(), 1);
}

#[test]
fn a_users_pack_and_days_take_the_place_of_the_built_in_ones() {
    let mut s = stock();
    let packs = "[[pack]]\nid = \"our-bag\"\nmaterial = \"cement\"\nsize = \"40 kg\"\nwords = [\"bag\", \"bags\"]\n\
                 used = true\nfrom = \"2026\"\nsource = \"invented\"\n";
    let days = "[[days]]\nstage = \"dig\"\ndays = 3\nfrom = \"2026\"\nsource = \"invented\"\n";
    let files = [("my/packs.toml".into(), packs.into()), ("my/programme.toml".into(), days.into())];
    assert_eq!(read_stock(&files, &mut s), []);
    let used: Vec<&str> =
        s.packs.iter().filter(|p| p.used && p.material == "cement").map(|p| p.id.as_str()).collect();
    assert_eq!(used, ["our-bag"]);
    assert_eq!(s.overridden, ["pack our-bag, from my/packs.toml", "days of dig, from my/programme.toml"]);
    assert_eq!(s.times.days.iter().find(|d| d.stage.id() == "dig").map(|d| d.days), Some(3));
    assert!(!s.times.holds.is_empty());
}
