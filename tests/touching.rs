//! Parts that touch exactly, and other jobs at the edge of what is allowed: every balance closes, the workbook's too.

use rust_decimal::Decimal;
use tankwright_quantities::estimate::{Balance, Estimate};
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::rates::{builtin_prices, read_prices};
use tankwright_tests::{measured, quantity, read};

const HEAD: &str = "format = 1\n[job]\ntitle = \"touching\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\n";

fn closed(profile: &str, parts: &str) -> Estimate {
    let e = measured(&format!("{HEAD}{parts}"), Some(profile)).unwrap_or_else(|f| panic!("{f:?}\n{parts}"));
    assert!(e.balances.iter().all(Balance::holds), "{parts}");
    assert!(e.sheet.items.iter().all(|i| i.quantity >= Decimal::ZERO && i.net >= Decimal::ZERO), "{parts}");
    e
}

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

#[test]
fn a_span_beam_through_the_whole_wall_is_formed_outside_where_its_ends_are_open() {
    let job = |face: &str, top: &str| {
        format!(
            "[tank]\nchambers = [2000]\nwidth = 1500\nheight = 1600\ncover_top = {top}\n[tank.pit]\nface = \"{face}\"\n\
             [tank.walls]\nthickness = 220\n[tank.cover]\nthickness = 150\n\
             span_beam = {{ width = 200, depth = 150, bearing = 220 }}\n"
        )
    };
    let form = |face, top| quantity(&closed("exact", &job(face, top)), "formwork-span-beam");
    // Two sides and the underside over the clear length; two ends of 0.20 x 0.15 where they are open.
    let inside = d("2") * (d("0.15") + d("0.15") + d("0.20"));
    assert_eq!(form("tight", "0"), inside);
    assert_eq!(form("open", "0"), inside + d("2") * d("0.20") * d("0.15"));
    // Underside 100 mm below ground: only the upper 50 mm of the ends are open.
    assert_eq!(form("tight", "200"), inside + d("2") * d("0.20") * d("0.05"));
}

#[test]
fn a_board_built_in_through_a_ring_beam_takes_no_outside_plaster_from_it() {
    let job = |board: &str| {
        format!(
            "[tank]\nchambers = [2000]\nwidth = 1500\nheight = 1600\ncover_top = 150\n[tank.pit]\nface = \"open\"\n\
             working_space = 300\n[tank.walls]\nthickness = 220\n[tank.cover]\nthickness = 150\n\
             [[tank.ring_beams]]\nabove_floor = 800\ndepth = 300\n[tank.plaster]\noutside = true\n{board}"
        )
    };
    let board =
        "[[tank.boards]]\nfrom_inlet = 500\nthickness = 100\ndepth = 600\nbelow_top = 400\nbuilt_in = 220\n";
    let outside = |board| quantity(&closed("exact", &job(board)), "plaster-outside");
    // The board reaches from 600 to 1200 mm above the floor, the beam has 800 to 1100 of it: 300 mm remain, both sides.
    assert_eq!(outside(board), outside("") - d("2") * d("0.10") * d("0.30"));
}

#[test]
fn a_board_that_clears_a_falling_floor_takes_no_screed() {
    let job = |board: &str| {
        format!(
            "[tank]\nchambers = [1034]\nwidth = 1643\nheight = 956\ncover_top = -422\n[tank.base]\nfall = 191\n\
             [tank.plaster]\nscreed = {{}}\n{board}"
        )
    };
    // Its foot is 32 mm below the floor at the outlet end, but there it does not hang.
    let board = "[[tank.boards]]\nfrom_inlet = 753\nthickness = 88\ndepth = 822\nbelow_top = 166\n";
    assert_eq!(quantity(&closed("exact", &job(board)), "screed"), d("1.034") * d("1.643"));
}

#[test]
fn what_rounding_makes_less_than_nothing_is_nothing() {
    // A batter of 0.1 mm in a metre: the working space is less than its dimensions are rounded by.
    for depth in [1300, 1420, 2332] {
        let job = format!(
            "[tank]\nchambers = [590, 1910]\nwidth = 2110\nheight = {depth}\ncover_top = 100\n[tank.pit]\nface = \"open\"\n\
             batter = \"0.0001\"\n[tank.base]\nhardcore = 230\n"
        );
        for profile in ["exact", "east-africa", "is-1200", "smm7", "nrm2", "cesmm"] {
            closed(profile, &job);
        }
    }
}

#[test]
fn parts_that_touch_exactly() {
    let tank = "[tank]\nchambers = [1000, 1000]\nwidth = 1200\nheight = 1500\ncover_top = 0\n";
    let walls =
        "[tank.walls]\nthickness = 200\n[tank.plaster]\nscreed = {}\n[tank.partitions]\nthickness = 100\n";
    let opening = |below| format!("opening = {{ width = 300, height = 200, below_top = {below} }}\n");
    let span = "[tank.cover]\nspan_beam = { width = 200, depth = 200, bearing = 200 }\n";
    let board = |x| {
        format!(
            "[[tank.boards]]\nfrom_inlet = {x}\nthickness = 50\ndepth = 600\nbelow_top = 200\nbuilt_in = 200\n"
        )
    };
    let ring = |z, deep| {
        format!(
            "[[tank.ring_beams]]\nabove_floor = {z}\ndepth = {deep}\n[[tank.ring_beams]]\nabove_floor = 500\ndepth = 50\n"
        )
    };
    for parts in [
        "[tank.columns]\nsize = [300, 700]\npocket = 100\n".to_owned() + span,
        "[tank.columns]\nsize = [1200, 300]\n".into(),
        opening(1300) + "[tank.haunch]\nwidth = 450\nheight = 1400\n",
        opening(800) + &ring(700, 100),
        opening(600) + &ring(700, 100),
        opening(201) + "[tank.haunch]\nwidth = 500\nheight = 1099\n" + span,
        ring(0, 500),
        ring(1300, 200),
        board(0) + &board(950),
        board(1100) + &board(2050) + span,
        "[tank.cover]\nwall_beams = 200\nmanholes = [[1000, 1200], [1000, 1200]]\n".into(),
        "air_gap = 200\n[tank.cover]\nwall_beams = 200\n".into(),
        "air_gap = 100\n[tank.cover]\nwall_beams = 200\n".into(),
        span.to_owned() + "manholes = [[1000, 500], [1000, 500]]\n",
        "[soak_pit]\ndiameter = 1000\ndepth = 2000\nfill_depth = 2000\nnumber = 3\n".into(),
        // A ring to the earth, its foot as wide as it; stone and water up to the ring's end.
        "[soak_pit]\ndiameter = 1000\ndepth = 2000\nfill_depth = 1500\ninvert = 500\n[soak_pit.lining]\nthickness = 100\n\
         foot = { thickness = 1499, width = 100 }\n"
            .into(),
        // A foot moved inwards, as thick as the stone on it; soil and slab down to a hair over the inlet.
        "[soak_pit]\ndiameter = 1000\ndepth = 2000\nfill_depth = 100\ninvert = 601\n[soak_pit.lining]\nthickness = 100\n\
         packing = 50\nfoot = { thickness = 100, width = 400 }\n[soak_pit.cover]\nthickness = 200\nsoil = 400\n\
         manhole = [400, 400]\n"
            .into(),
        "[tank.pipes]\ninlet = { diameter = 110, below_top = 110, length = 1000 }\n\
         outlet = { diameter = 110, below_top = 1500 }\ntrench = { width = 300, depth = 200, bed = 200 }\n"
            .into(),
    ] {
        for pit in
            ["face = \"tight\"", "face = \"open\"\nworking_space = 1", "face = \"open\"\nbatter = \"1 in 3\""]
        {
            for top in [-1000, 0, 100, 150, 800] {
                let tank = tank.replace("cover_top = 0", &format!("cover_top = {top}"));
                let job = format!("{tank}[tank.pit]\n{pit}\n{walls}{parts}");
                closed("exact", &job);
                closed("east-africa", &job);
            }
        }
    }
}

#[test]
fn a_batter_that_no_decimal_holds_gets_its_workbook() {
    // 1.515 m x 1/3 is a half of 10 mm: the workbook must round it as the take-off does.
    for (height, batter) in [(1265, "1 in 3"), (1265, "1 in 7"), (1700, "1 in 6")] {
        let text = format!(
            "{HEAD}profile = \"exact\"\nrates = \"demo-ugx\"\n[tank]\nchambers = [1500]\nwidth = 1200\nheight = {height}\n\
             [tank.pit]\nface = \"open\"\nbatter = \"{batter}\"\n[tank.cover]\nthickness = 150\n"
        );
        book(&text);
        book(&text.replace("\"exact\"", "\"east-africa\""));
    }
}

fn book(text: &str) {
    let (stock, settings) = (tankwright_tests::stock(), Settings::default());
    let prices = read_prices("demo-ugx", builtin_prices("demo-ugx").unwrap().1).unwrap();
    let e = flow::estimate(&read(text, true).unwrap(), stock, Some(&prices), &settings).unwrap();
    let book = tankwright_export::book::workbook(&e).unwrap();
    let values = tankwright_export::evaluate::evaluate(&book).unwrap();
    assert!(tankwright_export::check::check(&book, &e, &values).holds(), "{text}");
}

#[test]
fn only_the_base_itself_is_formed_in_an_open_pit() {
    let job = |face: &str, more: &str| {
        format!(
            "[tank]\nchambers = [1600]\nwidth = 1200\nheight = 1000\n[tank.pit]\nface = \"{face}\"\n{more}\
             [tank.base]\nconcrete = {{ thickness = 100 }}\nblinding = {{ thickness = 50 }}\nhardcore = 100\n"
        )
    };
    let edge = |face, more| quantity(&closed("exact", &job(face, more)), "formwork-base-edge");
    // 1.60 + 0.44 by 1.20 + 0.44 all round, 0.10 high: no edge of blinding or hardcore.
    let all_round = d("2") * (d("2.04") + d("1.64"));
    assert_eq!(edge("open", "working_space = 300\n"), all_round * d("0.10"));
    assert_eq!(edge("tight", ""), d("0"));
}
