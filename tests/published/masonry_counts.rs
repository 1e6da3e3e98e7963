//! Bricks and blocks by pure geometry: the project's notes on published quantities, section 3.1 and 3.2, with the
//! counts that books print (UK rule 60 to a m2; 500 modular bricks in a m3; 13 hollow blocks bought to a m2).

use tankwright_geometry::Ratio;
use tankwright_quantities::materials::Skins;
use tankwright_quantities::rates::MasonryUnit;
use tankwright_tests::goods::{goods, item, made, needed, printed, r};
use tankwright_tests::stock;

fn unit(size: [i64; 3], joint: i64) -> MasonryUnit {
    let any = stock().units["brick-215x102.5x65"].clone();
    MasonryUnit { size, joint, ..any }
}

fn wall(size: [i64; 3], joint: i64, thick: i64) -> (String, String) {
    let wall = Skins::of(&unit(size, joint), thick.into());
    let mortar = wall.mortar(Ratio::from(thick) / Ratio::int(10_000));
    (printed(wall.per_m2, 2), printed(mortar, 5))
}

#[test]
fn uk_bricks_by_the_skin() {
    let brick = [2150, 1025, 650];
    let want = |n: &str, m: &str| (n.to_owned(), m.to_owned());
    assert_eq!(wall(brick, 100, 1025), want("59.26", "0.01761"));
    assert_eq!(wall(brick, 100, 2150), want("118.52", "0.04523"));
    // The notes print 0.07285; 0.3275 - 177.7778 x 0.215 x 0.1025 x 0.065 is 0.072844.
    assert_eq!(wall(brick, 100, 3275), want("177.78", "0.07284"));
}

/// In 1 m3 of a wall without end: units with their joints all round.
#[test]
fn bricks_in_a_cubic_metre() {
    for (size, count, mortar) in [
        ([1900, 900, 900], "500.0", "0.2305"),
        ([2290, 1140, 760], "392.4", "0.2215"),
        ([2300, 1100, 750], "408.5", "0.2249"),
        ([2300, 1100, 700], "434.0", "0.2313"),
    ] {
        let one = Skins::of(&unit(size, 100), size[1].into());
        let deep = (Ratio::from(size[1]) + Ratio::int(100)) / Ratio::int(10_000);
        assert_eq!(printed(one.per_m2 / deep, 1), count);
        assert_eq!(printed(Ratio::ONE - one.per_m2 / deep * one.volume, 4), mortar);
    }
}

#[test]
fn blocks_on_a_solid_bed() {
    for (size, joint, count, mortar) in [
        ([4400, 1000, 2150], 100, "9.88", "0.00657"),
        ([4400, 1400, 2150], 100, "9.88", "0.00920"),
        ([4400, 2150, 2150], 100, "9.88", "0.01412"),
        ([3900, 1900, 1900], 100, "12.50", "0.01401"),
        ([3900, 1400, 1900], 100, "12.50", "0.01033"),
        ([3900, 900, 1900], 100, "12.50", "0.00664"),
    ] {
        assert_eq!(wall(size, joint, size[1]), (count.to_owned(), mortar.to_owned()));
    }
    let (count, mortar) = wall([4500, 2250, 2250], 250, 2250);
    assert_eq!((count.as_str(), &mortar[..5]), ("8.42", "0.033")); // 0.0332
}

/// 1 m2 of a one-brick wall, 0.215 m3: both by the item.
#[test]
fn a_wall_of_one_brick() {
    let wall = item("brickwork-wall", "0.215", "215", made("1:4", 2150, "brick-215x102.5x65"));
    let m = goods("", vec![wall]);
    assert_eq!(printed(needed(&m, "bricks/brick-215x102.5x65"), 2), "118.52");
    // Mortar 0.04523 m3, CPWD 380 kg to 1 m3.
    let left = r("0.215") - r("118.518518519") * r("0.215") * r("0.1025") * r("0.065");
    assert_eq!(printed(needed(&m, "cement"), 4), printed(left * r("380"), 4));
    // By one brick with its joints in 1 m3, 0.2250 x 0.1125 x 0.0750, it would be 4 % short.
    let short = r("0.215") / (r("0.225") * r("0.1125") * r("0.075"));
    assert_eq!(printed(short, 1), "113.3");
}

/// S38: 59.26 and 5 % are 62.2 to a m2; rounded up to 63 a m2 they are 78 too many in 100 m2. Waste once, at the row.
#[test]
fn waste_is_not_rounded_up_by_the_square_metre() {
    let wall = item("brickwork-wall", "10.25", "102.5", made("1:4", 1025, "brick-215x102.5x65"));
    let m = goods("[waste]\nbricks = \"5\"\n", vec![wall]);
    let row = m.rows.iter().find(|row| row.material.starts_with("bricks/")).unwrap();
    assert_eq!(row.net.to_string(), "5925.926"); // 100 m2 x 59.25926
    assert_eq!(row.gross.to_string(), "6222.222"); // x 1.05
    assert_eq!(printed(r("6300") - r("6222.222"), 0), "78");
}
