//! The figures that cautions say, each against the sum that makes it.

use tankwright_tests::measured;

use crate::cautions::{HOLES, SMALL_HOLES, TWO, changed};

/// What is changed, what is added, a caution's code, and a part of its words.
type Said = (&'static [(&'static str, &'static str)], &'static str, &'static str, &'static str);

/// Figures that a caution says.
const SAID: &[Said] = &[
    // Base 0.10 + height 1.40 + cover 0.15 - 0.10 above ground.
    (
        &[("1.00 m", "1.40 m")],
        "",
        "C001",
        "is 1.55 m deep and unsupported: its sides can fall without warning; support, batter or bench them from 1.2 m",
    ),
    (
        &[],
        "[soak_pit]\ndiameter = \"1.5 m\"\nfill_depth = \"1 m\"\ndepth = \"1.34 m\"",
        "C002",
        "is 1.34 m deep and unsupported",
    ),
    (
        &[],
        "[soak_pit]\ndiameter = \"1.5 m\"\nfill_depth = \"1 m\"\ndepth = \"1.20 m\"\nnumber = 2",
        "C066",
        "at least 4.50 m",
    ),
    (
        &[],
        "[soak_pit]\ndiameter = \"1.5 m\"\nfill_depth = \"1 m\"\ndepth = \"1.20 m\"\nnumber = 2\nspacing = \"4.20 m\"",
        "C065",
        "stand 4.20 m apart: their clear distance should be at least 4.50 m",
    ),
    (&[("firm-clay", "sand")], "", "C003", "in sand"),
    (&[], "[tank.pit]\nface = \"open\"\nworking_space = \"299 mm\"", "C005", "less than 300 mm"),
    (&[("firm-clay\"", "firm-clay\"\nwater_table = \"1.10 m\"")], "", "C007", "at 1.10 m"),
    // 0.35 + 41 / 50 + 0.05 = 1.22.
    (
        &[],
        "[tank.pipes]\noutlet = { diameter = \"110 mm\", below_top = \"300 mm\", length = \"41 m\", fall = \"1 in 50\" }\ntrench = { width = \"450 mm\", bed = \"50 mm\" }",
        "C009",
        "is 1.22 m deep",
    ),
    // 0.75 + 30 / 60 + 0.10.
    (
        &[],
        "[[pipes]]\ntitle = \"Kitchen\"\ndiameter = 110\nlength = \"30 m\"\nstart = \"750 mm\"\nfall = \"1 in 60\"\ntrench = { width = 450, bed = 100 }",
        "C009",
        "is 1.35 m deep",
    ),
    // Its mean is 0.35 + 0.41.
    (
        &[],
        "[tank.pipes]\noutlet = { diameter = \"110 mm\", below_top = \"300 mm\", length = \"41 m\", fall = \"1 in 50\" }\ntrench = { width = \"450 mm\", depth = \"700 mm\" }",
        "C062",
        "is 760 mm deep",
    ),
    (
        &[],
        "[[drain]]\nlength = \"10 m\"\nwidth = \"600 mm\"\nstone_below = \"300 mm\"\ndepth = \"1.21 m\"",
        "C060",
        "is 1.21 m deep",
    ),
    // 1.11 + its base, 0.10.
    (&[], "[[inspection_chambers]]\nsize = [600, 600]\ndepth = \"1.11 m\"", "C061", "is dug 1.21 m deep"),
    (&[], "[tank.walls]\nthickness = \"105 mm\"", "C010", "thinner than 200 mm"),
    (&[], "[tank.walls]\nthickness = \"250 mm\"", "C011", "a wall 250 mm thick"),
    (
        &[],
        "[tank.pipes]\ninlet = { diameter = \"110 mm\", below_top = \"299 mm\" }",
        "C014",
        "less than 300 mm",
    ),
    // 340 - 300.
    (
        &[],
        "[tank.pipes]\ninlet = { diameter = \"110 mm\", below_top = \"300 mm\" }\noutlet = { diameter = \"110 mm\", below_top = \"340 mm\" }",
        "C018",
        "only 40 mm above the water line, at least 50 mm",
    ),
    // The partition ends 300 mm below the cover: 350 - 300.
    (
        &[TWO, HOLES],
        "[tank.partitions]\nair_gap = \"300 mm\"\n[tank.pipes]\noutlet = { diameter = \"110 mm\", below_top = \"350 mm\" }",
        "C017",
        "stands 50 mm above",
    ),
    // The sill is 250 + 100 mm below the top, the underside of the beam 380: 380 - 350.
    (
        &[TWO, SMALL_HOLES],
        "span_beam = { width = \"200 mm\", depth = \"380 mm\", bearing = \"150 mm\" }\n[tank.partitions]\nopening = { width = \"200 mm\", height = \"100 mm\", below_top = \"250 mm\", number = 2 }\n[tank.pipes]\noutlet = { diameter = \"110 mm\", below_top = \"500 mm\" }",
        "C019",
        "30 mm above",
    ),
    (&[("\"100 mm\"", "\"74 mm\"")], "", "C022", "less than 75 mm"),
    // 39 x 10 and 40 x 10.
    (&[("40d", "39d")], "", "C045", "of 390 mm for bars of 10 mm is shorter than a published one, 400 mm"),
];

#[test]
fn a_caution_says_its_figures() {
    for (changes, more, code, says) in SAID {
        let text = changed(&(changes, more, &[]));
        let cautions = measured(&text, None).unwrap_or_else(|f| panic!("{text}\n{f:?}")).cautions;
        let told: Vec<_> = cautions.iter().filter(|c| c.code == *code).map(|c| c.says.to_string()).collect();
        assert!(told.iter().any(|t| t.contains(says)), "{code}: {told:?} without {says}");
    }
}
