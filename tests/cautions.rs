//! Every caution: small changes to a small job, and the caution each brings and without it does not.

use tankwright_quantities::codes;
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::rates::read_prices;
use tankwright_tests::program::run;
use tankwright_tests::{measured, read, stock};

/// A shallow job that brings no caution but those that every job has.
const QUIET: &str = r#"format = 1
[job]
title = "Quiet"
date = "2026-11-25"
currency = "UGX"
[ground]
soil = "firm-clay"
[steel]
base = { short = "Y10@200", long = "Y10@200" }
cover = { short = "Y10@150", long = "Y10@200" }
lap = "40d"
[tank]
chambers = ["1.60 m"]
width = "1.20 m"
height = "1.00 m"
cover_top = "100 mm"
[tank.cover]
manholes = [["600 mm", "600 mm"]]
"#;

/// Told on every job with a cover, props and manholes; the dig's own caution in one of its forms.
const ALWAYS: [&str; 14] = [
    "C030", "C031", "C032", "C070", "C071", "C072", "C074", "C075", "C076", "C077", "C078", "C079", "C080",
    "C082",
];

/// Those of them on the papers of the whole job.
const SCREEN: [&str; 7] = ["C030", "C031", "C032", "C071", "C076", "C080", "C082"];

/// Two chambers, joined, with a manhole each.
pub(crate) const TWO: (&str, &str) = ("chambers = [\"1.60 m\"]", "chambers = [\"1.60 m\", \"0.80 m\"]");
pub(crate) const HOLES: (&str, &str) =
    ("[[\"600 mm\", \"600 mm\"]]", "[[\"600 mm\", \"600 mm\"], [\"600 mm\", \"600 mm\"]]");

/// Two manholes that leave room for a beam.
pub(crate) const SMALL_HOLES: (&str, &str) =
    ("[[\"600 mm\", \"600 mm\"]]", "[[\"400 mm\", \"400 mm\"], [\"400 mm\", \"400 mm\"]]");

/// No bars at all.
const STEEL: (&str, &str) = (
    "[steel]\nbase = { short = \"Y10@200\", long = \"Y10@200\" }\ncover = { short = \"Y10@150\", long = \"Y10@200\" }\nlap = \"40d\"\n",
    "",
);

macro_rules! OUTLET {
    () => {
        "[tank.pipes]\noutlet = { diameter = \"110 mm\", below_top = \"300 mm\", length = \"41 m\", fall = \"1 in 50\" }\n"
    };
}

macro_rules! INLET {
    () => {
        "[tank.pipes]\ninlet = { diameter = \"110 mm\", below_top = \"300 mm\", length = \"9 m\" }\n"
    };
}

macro_rules! DRAIN {
    () => {
        "[[drain]]\nlength = \"10 m\"\nwidth = \"600 mm\"\nstone_below = \"300 mm\"\n"
    };
}

/// What is changed (text and what stands instead), what is added at the end, and the cautions it brings.
pub(crate) type Case = (&'static [(&'static str, &'static str)], &'static str, &'static [&'static str]);

/// From the job file to the caution. The remark says which demand of the design or the issue it meets.
const CASES: &[Case] = &[
    // A dig deeper than 1.2 m without support: pit, soak pit, trench. 1.0 + 0.1 base + 0.15 cover - 0.1 = 1.15 m deep.
    (&[], "", &[]),
    (&[("1.00 m", "1.05 m")], "", &[]),
    (&[("1.00 m", "1.051 m")], "", &["C001"]),
    (&[("1.00 m", "1.40 m"), ("firm-clay\"", "firm-clay\"\nsupport = \"open\"")], "", &["C004"]),
    (
        &[("1.00 m", "1.40 m")],
        "[tank.pit]\nface = \"open\"\nworking_space = \"300 mm\"\nbatter = \"1 in 4\"",
        &["C001"],
    ),
    (
        &[("1.00 m", "1.40 m")],
        "[tank.pit]\nface = \"open\"\nworking_space = \"300 mm\"\nbatter = \"1 in 2\"",
        &[],
    ),
    (&[], "[soak_pit]\ndiameter = \"1.5 m\"\ndepth = \"1.20 m\"\nfill_depth = \"1 m\"", &["C073", "C008"]),
    (&[], "[soak_pit]\ndiameter = \"1.5 m\"\ndepth = \"1.21 m\"\nfill_depth = \"1 m\"", &["C002", "C008"]),
    // The pit's own word on its sides goes before the ground's.
    (
        &[],
        "[soak_pit]\ndiameter = \"1.5 m\"\ndepth = \"1.21 m\"\nfill_depth = \"1 m\"\nsupport = \"open\"",
        &["C073", "C008"],
    ),
    (
        &[("firm-clay\"", "firm-clay\"\nsupport = \"open\"")],
        "[soak_pit]\ndiameter = \"1.5 m\"\ndepth = \"1.21 m\"\nfill_depth = \"1 m\"\nsupport = \"none\"",
        &["C002", "C004", "C008"],
    ),
    // Several pits stand three diameters apart.
    (
        &[],
        "[soak_pit]\ndiameter = \"1.5 m\"\ndepth = \"1.20 m\"\nfill_depth = \"1 m\"\nnumber = 2",
        &["C073", "C008", "C066"],
    ),
    (
        &[],
        "[soak_pit]\ndiameter = \"1.5 m\"\ndepth = \"1.20 m\"\nfill_depth = \"1 m\"\nnumber = 2\nspacing = \"4.50 m\"",
        &["C073", "C008"],
    ),
    (
        &[],
        "[soak_pit]\ndiameter = \"1.5 m\"\ndepth = \"1.20 m\"\nfill_depth = \"1 m\"\nnumber = 2\nspacing = \"4.49 m\"",
        &["C073", "C008", "C065"],
    ),
    // A lining and its cover: strength, the way in, its bars.
    (
        &[("cover = { short", "soak_pit_cover = { bars = \"Y10@150\" }\ncover = { short")],
        "[soak_pit]\ndiameter = \"1.5 m\"\ndepth = \"1.20 m\"\nfill_depth = \"0 mm\"\ninvert = \"400 mm\"\n[soak_pit.lining]\nthickness = \"110 mm\"\n[soak_pit.cover]\nmanhole = [\"600 mm\", \"600 mm\"]",
        &["C073", "C008", "C069"],
    ),
    (
        &[("cover = { short", "soak_pit_cover = { bars = \"Y10@150\" }\ncover = { short")],
        "[soak_pit]\ndiameter = \"1.5 m\"\ndepth = \"1.20 m\"\nfill_depth = \"0 mm\"\ninvert = \"400 mm\"\n[soak_pit.lining]\nthickness = \"110 mm\"\n[soak_pit.cover]",
        &["C073", "C008", "C067", "C069"],
    ),
    (
        &[("cover = { short", "soak_pit_cover = { bars = \"Y10@150\" }\ncover = { short")],
        "[soak_pit]\ndiameter = \"1.5 m\"\ndepth = \"1.20 m\"\nfill_depth = \"0 mm\"\ninvert = \"400 mm\"\n[soak_pit.lining]\nthickness = \"110 mm\"\n[soak_pit.cover]\nsoil = \"100 mm\"\nmanhole = [\"600 mm\", \"600 mm\"]",
        &["C073", "C008", "C068", "C069"],
    ),
    (
        &[],
        "[soak_pit]\ndiameter = \"1.5 m\"\ndepth = \"1.20 m\"\nfill_depth = \"0 mm\"\ninvert = \"400 mm\"\n[soak_pit.lining]\nthickness = \"110 mm\"\n[soak_pit.cover]\nmanhole = [\"600 mm\", \"600 mm\"]",
        &["C073", "C008", "C069", "C042"],
    ),
    (
        &[("cover = { short", "soak_pit_cover = { bars = \"Y10@150\" }\ncover = { short")],
        "[soak_pit]\ndiameter = \"1.5 m\"\ndepth = \"1.20 m\"\nfill_depth = \"0 mm\"\ninvert = \"400 mm\"\n[soak_pit.lining]\nthickness = \"120 mm\"\n[soak_pit.cover]\nmanhole = [\"600 mm\", \"600 mm\"]",
        &["C073", "C008", "C069", "C011"],
    ),
    (
        &[],
        "[tank.pipes]\noutlet = { diameter = \"110 mm\", below_top = \"300 mm\", length = \"6 m\" }\ntrench = { width = \"450 mm\", depth = \"1.30 m\" }",
        &["C009"],
    ),
    // The invert begins 0.35 m below ground and falls 1 in 50 for 41 m: 1.17 m; with 30 mm of bed 1.20 m, with 31 mm more.
    (&[], concat!(OUTLET!(), "trench = { width = \"450 mm\", bed = \"30 mm\" }"), &[]),
    (&[], concat!(OUTLET!(), "trench = { width = \"450 mm\", bed = \"31 mm\" }"), &["C009"]),
    // Its mean is 0.76 m.
    (&[], concat!(OUTLET!(), "trench = { width = \"450 mm\", depth = \"760 mm\" }"), &[]),
    (&[], concat!(OUTLET!(), "trench = { width = \"450 mm\", depth = \"759 mm\" }"), &["C062"]),
    // A drain that begins at the ground, at the least, and reaches the inlet 0.35 m below it: 0.175 m in the mean.
    (&[], concat!(INLET!(), "trench = { width = \"450 mm\", depth = \"175 mm\" }"), &[]),
    (&[], concat!(INLET!(), "trench = { width = \"450 mm\", depth = \"174 mm\" }"), &["C062"]),
    (
        &[],
        "[[pipes]]\ntitle = \"Kitchen\"\ndiameter = 110\nlength = \"30 m\"\nstart = \"750 mm\"\nfall = \"1 in 60\"\ntrench = { width = 450 }",
        &["C009"],
    ),
    // Drains and inspection chambers, deeper than 1.2 m and not.
    (&[], concat!(DRAIN!(), "depth = \"1.20 m\""), &["C063"]),
    (&[], concat!(DRAIN!(), "depth = \"1.21 m\""), &["C060", "C063"]),
    (&[], "[[inspection_chambers]]\nsize = [600, 600]\ndepth = \"1.10 m\"", &[]),
    (&[], "[[inspection_chambers]]\nsize = [600, 600]\ndepth = \"1.11 m\"", &["C061"]),
    // A tight pit in a soil whose sides do not stand; it cannot be sheeted.
    (&[("firm-clay", "sand")], "", &["C003"]),
    (&[("firm-clay", "sand")], "[tank.pit]\nface = \"open\"\nworking_space = \"300 mm\"", &[]),
    (&[("firm-clay\"", "firm-clay\"\nsupport = \"close\"")], "", &["C004"]),
    // Working space under 300 mm in an open pit.
    (&[], "[tank.pit]\nface = \"open\"\nworking_space = \"299 mm\"", &["C005"]),
    (&[], "[tank.pit]\ntermite = true", &["C006"]),
    (&[("firm-clay\"", "firm-clay\"\nwater_table = \"1.10 m\"")], "", &["C007"]),
    (&[("firm-clay\"", "firm-clay\"\nwater_table = \"1.20 m\"")], "", &[]),
    // Walls: at least 200 mm by common practice, and as thick as the unit makes them.
    (&[], "[tank.walls]\nthickness = \"105 mm\"", &["C010"]),
    (&[], "[tank.walls]\nthickness = \"250 mm\"", &["C011"]),
    // One chamber with partitions given.
    (&[], "[tank.partitions]\nair_gap = \"150 mm\"", &["C012"]),
    (&[TWO, HOLES], "", &["C013"]),
    (&[TWO, HOLES], "[tank.partitions]\nair_gap = \"150 mm\"", &[]),
    // Inlet at least 300 mm below the top of the masonry, and above the water line.
    (&[], "[tank.pipes]\ninlet = { diameter = \"110 mm\", below_top = \"299 mm\" }", &["C014"]),
    (
        &[],
        "[tank.pipes]\ninlet = { diameter = \"110 mm\", below_top = \"350 mm\" }\noutlet = { diameter = \"110 mm\", below_top = \"350 mm\" }",
        &["C015"],
    ),
    (
        &[],
        "[tank.pipes]\ninlet = { diameter = \"110 mm\", below_top = \"300 mm\" }\noutlet = { diameter = \"110 mm\", below_top = \"349 mm\" }",
        &["C018"],
    ),
    (
        &[],
        "[tank.pipes]\ninlet = { diameter = \"110 mm\", below_top = \"300 mm\" }\noutlet = { diameter = \"110 mm\", below_top = \"350 mm\" }",
        &[],
    ),
    // From chamber to chamber: the way is under water, and its sill not over the outlet.
    (
        &[TWO, HOLES],
        "[tank.partitions]\nopening = { width = \"200 mm\", height = \"300 mm\", below_top = \"350 mm\" }\n[tank.pipes]\noutlet = { diameter = \"110 mm\", below_top = \"350 mm\" }",
        &["C016"],
    ),
    (
        &[TWO, HOLES],
        "[tank.partitions]\nopening = { width = \"200 mm\", height = \"300 mm\", below_top = \"351 mm\" }\n[tank.pipes]\noutlet = { diameter = \"110 mm\", below_top = \"350 mm\" }",
        &[],
    ),
    (
        &[TWO, HOLES],
        "[tank.partitions]\nair_gap = \"300 mm\"\n[tank.pipes]\noutlet = { diameter = \"110 mm\", below_top = \"350 mm\" }",
        &["C016", "C017"],
    ),
    // Water up to a beam: over the sill of openings on either side of it.
    (
        &[
            ("lap = \"40d\"", "span_beam = { main = \"4Y12\", links = \"R8@200\" }\nlap = \"40d\""),
            TWO,
            SMALL_HOLES,
        ],
        "span_beam = { width = \"200 mm\", depth = \"351 mm\", bearing = \"150 mm\" }\n[tank.partitions]\nopening = { width = \"200 mm\", height = \"100 mm\", below_top = \"250 mm\", number = 2 }\n[tank.pipes]\noutlet = { diameter = \"110 mm\", below_top = \"500 mm\" }",
        &["C019", "C016", "C017"],
    ),
    // The sill is 250 + 100 mm below the top: water at a beam of 350 mm touches it, of 349 mm does not.
    (
        &[
            ("lap = \"40d\"", "span_beam = { main = \"4Y12\", links = \"R8@200\" }\nlap = \"40d\""),
            TWO,
            SMALL_HOLES,
        ],
        "span_beam = { width = \"200 mm\", depth = \"350 mm\", bearing = \"150 mm\" }\n[tank.partitions]\nopening = { width = \"200 mm\", height = \"100 mm\", below_top = \"250 mm\", number = 2 }\n[tank.pipes]\noutlet = { diameter = \"110 mm\", below_top = \"500 mm\" }",
        &["C019", "C016", "C017"],
    ),
    (
        &[
            ("lap = \"40d\"", "span_beam = { main = \"4Y12\", links = \"R8@200\" }\nlap = \"40d\""),
            TWO,
            SMALL_HOLES,
        ],
        "span_beam = { width = \"200 mm\", depth = \"349 mm\", bearing = \"150 mm\" }\n[tank.partitions]\nopening = { width = \"200 mm\", height = \"100 mm\", below_top = \"250 mm\", number = 2 }\n[tank.pipes]\noutlet = { diameter = \"110 mm\", below_top = \"500 mm\" }",
        &["C016", "C017"],
    ),
    // A cover that buries manholes; with shafts it does not.
    (&[("\"100 mm\"", "\"-100 mm\"")], "", &["C001", "C020", "C022"]),
    (
        &[("\"100 mm\"", "\"-50 mm\""), ("1.00 m", "0.80 m")],
        "[tank.manhole_shafts]\nthickness = \"220 mm\"\nupstand = \"100 mm\"",
        &["C022"],
    ),
    // The cover is below ground, and the lids on its shafts too low.
    (
        &[("\"100 mm\"", "\"-50 mm\""), ("1.00 m", "0.80 m")],
        "[tank.manhole_shafts]\nthickness = \"220 mm\"\nupstand = \"74 mm\"",
        &["C022", "C022"],
    ),
    (&[], "[tank.manhole_shafts]\nthickness = \"220 mm\"", &["C024"]),
    (&[("[[\"600 mm\", \"600 mm\"]]", "[]")], "", &["C021"]),
    // Cover less than 75 mm above ground.
    (&[("\"100 mm\"", "\"75 mm\"")], "", &[]),
    (&[("\"100 mm\"", "\"74 mm\"")], "", &["C022"]),
    // Span beam bearing under 150 mm.
    (
        &[
            (
                "manholes = [[\"600 mm\"",
                "span_beam = { width = \"200 mm\", depth = \"150 mm\", bearing = \"149 mm\" }\nmanholes = [[\"600 mm\"",
            ),
            ("\"600 mm\"]]", "\"500 mm\"]]"),
        ],
        "",
        &["C023", "C042"],
    ),
    // Members without bars, and bars without a member; a lintel; a lap shorter than BS 8110's 40d.
    (
        &[("base = { short", "span_beam = { main = \"4Y12\", links = \"R8@200\" }\nbase = { short")],
        "",
        &["C043"],
    ),
    (&[("cover = { short = \"Y10@150\", long = \"Y10@200\" }\n", "")], "", &["C042"]),
    (
        &[TWO, HOLES, STEEL],
        "[tank.partitions]\nopening = { width = \"251 mm\", height = \"200 mm\", below_top = \"300 mm\" }",
        &["C042", "C044"],
    ),
    (
        &[TWO, HOLES, STEEL],
        "[tank.partitions]\nopening = { width = \"250 mm\", height = \"200 mm\", below_top = \"300 mm\" }",
        &["C042"],
    ),
    (&[("40d", "39d")], "", &["C045"]),
    (&[("40d", "400 mm")], "", &[]),
    // Read, and not used yet.
    (
        &[],
        "[programme]
start = \"2026-12-01\"",
        &[],
    ),
    (
        &[],
        "[programme]
start = \"2026-11-24\"",
        &["C050"],
    ),
    // What goes over the cover; one layer of bars, and two.
    (&[("[tank.cover]\n", "[tank.cover]\ntraffic = \"garden\"\n")], "", &[]),
    (&[("[tank.cover]\n", "[tank.cover]\ntraffic = \"lorry\"\n")], "", &["C081"]),
    // Distances from a soak pit that is not there.
    (&[], "[site.soak]\nwell = \"40 m\"", &["C083"]),
    (&[], "[[daywork]]\ndate = \"2026-12-01\"\nby = \"b\"\ntitle = \"t\"\nquantity = 1\nrate = 1", &["C084"]),
    (&[("[tank]\n", "[tank]\npersons = 6\n")], "", &["C040"]),
    (&[("[tank]\n", "[sizing]\nyears = 1\n[tank]\n")], "", &["C040"]),
    (&[("[tank]\n", "[sizing]\nrule = \"bs-6297-1983\"\n[tank]\npersons = 6\n")], "", &[]),
    (&[("[job]\n", "[job]\nsupply = \"labour-only\"\n")], "", &["C041"]),
];

/// Section 5 of the design and "Safety from the first day" of the issue: what must be cautioned, by code.
const DEMANDED: [(&str, &str); 13] = [
    ("manholes buried without shafts", "C020"),
    ("cover less than 75 mm above ground", "C022"),
    ("span beam bearing under 150 mm", "C023"),
    ("working space under 300 mm in an open pit", "C005"),
    ("one chamber with partitions given", "C012"),
    ("wall thickness that is not the unit's", "C011"),
    ("a dig deeper than 1.2 m without support", "C001"),
    ("a tight pit in a soil whose sides do not stand", "C003"),
    ("a tight pit cannot be sheeted", "C004"),
    ("soil put back before the cover ties the walls", "C032"),
    ("gas and entry", "C030"),
    ("local codes and a licensed designer come first", "C031"),
    ("termite treatment near a well or stream", "C006"),
];

/// The quiet job with a change.
pub(crate) fn changed((changes, more, _): &Case) -> String {
    let mut text = QUIET.to_owned();
    for (from, to) in *changes {
        assert!(text.contains(from), "{from}");
        text = text.replacen(from, to, 1);
    }
    format!("{text}{more}\n")
}

#[test]
fn each_change_brings_its_cautions_and_no_others() {
    for case in CASES {
        let text = changed(case);
        let estimate = measured(&text, None).unwrap_or_else(|f| panic!("{text}\n{f:?}"));
        let codes: Vec<_> =
            estimate.cautions.iter().map(|c| c.code).filter(|c| !ALWAYS.contains(c)).collect();
        assert_eq!(codes, case.2, "{text}");
    }
}

#[test]
fn every_caution_is_shown_here_says_who_asks_and_where() {
    let shown: Vec<&str> = CASES.iter().flat_map(|c| c.2).copied().chain(ALWAYS).collect();
    for (code, _) in codes::all().iter().filter(|(c, _)| c.starts_with('C')) {
        assert!(shown.contains(code), "{code}");
    }
    for (item, code) in DEMANDED {
        assert!(shown.contains(&code), "{item}");
    }
    for case in CASES {
        for caution in measured(&changed(case), None).unwrap().cautions {
            let general = ALWAYS.contains(&caution.code);
            assert!(!caution.source.is_empty() && !caution.says.to_string().is_empty(), "{}", caution.code);
            // A caution over what was left out has no line of its own.
            let left_out = ["C013", "C021"].contains(&caution.code) || caution.place.is_some();
            assert!(general || left_out, "{} has no place in the job file", caution.code);
        }
    }
}

#[test]
fn every_job_is_told_of_gas_codes_and_soil_on_the_screen() {
    for sample in
        ["smallest", "rest-house", "guest-house", "lined-pits", "clinic", "school", "textbook", "built-rates"]
    {
        let seen = run(&format!("estimate samples/{sample}/job.toml"));
        assert_eq!(seen.code, 0, "{}", seen.err);
        for code in SCREEN {
            // Without manholes there are no covers to lock.
            let idle = code == "C076" && seen.out.contains("C021");
            assert!(idle || seen.out.contains(&format!("  {code}  ")), "{sample} lacks {code}");
        }
    }
}

#[test]
fn old_and_idle_prices_are_cautioned() {
    let (_, list) = tankwright_quantities::rates::builtin_prices("demo-ugx").unwrap();
    let told = |list: &str| {
        let prices = read_prices("prices.csv", list).unwrap();
        let job = read(QUIET, false).unwrap();
        let estimate = flow::estimate(&job, stock(), Some(&prices), &Settings::default()).unwrap();
        let codes =
            estimate.cautions.iter().map(|c| c.code).filter(|c| c.starts_with('R')).collect::<Vec<_>>();
        let of_list = prices.cautions.iter().map(|p| p.code).collect::<Vec<_>>();
        [of_list, codes].concat()
    };
    assert_eq!(told(list), [""; 0]);
    // 2026-11-25 is 91 days after 2026-08-26 and 90 after 2026-08-27.
    assert_eq!(told(&list.replace("2026-10-01", "2026-08-27")), [""; 0]);
    assert_eq!(told(&list.replace("2026-10-01", "2026-08-26")), ["R045"]);
    assert_eq!(told(&list.replace("2026-10-01", "2026-11-26")), ["R045"]);
    assert_eq!(told(&list.replace(",m2,1500,", ",m2,0,")), ["R046"]);
    assert_eq!(
        told(&list.replacen(",source\n", ",sauce,source\n", 1).replace("2026-10-01,", "2026-10-01,,")),
        ["R003"]
    );
}
