//! The dry-volume method: the matrix of the project's notes, a sheet of Pakistan, blogs of plaster and brickwork, a build-up
//! of mortar. Cement at 1440 kg/m3.

use tankwright_geometry::Ratio;
use tankwright_tests::figures::{Figure, Publication, near, same, slip};
use tankwright_tests::goods::{concrete, goods, item, made, mortar, needed, r};

pub(super) const OF: Publication = Publication {
    title: "The dry-volume method: a matrix, a sheet of Pakistan, blogs, a build-up of mortar",
    source: "The project's notes on published quantities, sections 1.2 and 2.2 (matrix and mortars, worked there); scribd.com/document/448910660 (Pakistan); civilatwork.blogspot.com, tr.scribd.com/document/412246831 (plaster), wecivilengineers.wordpress.com (brickwork)",
    remarks: &["The sheet of Pakistan rounds every figure of bags up to 0.01."],
};

/// Cement in m3 of loose cement of 1440 kg.
const LOOSE: Ratio = Ratio::int(1440);

fn dry(figures: &str) -> String {
    format!("[materials]\nconcrete = \"dry\"\nmortar = \"dry\"\n[materials.figures]\n{figures}")
}

pub(super) fn figures() -> Vec<Figure> {
    [matrix(), mortars(), bags(), plaster(), brickwork()].concat()
}

fn matrix() -> Vec<Figure> {
    let matrix = [
        ("1:1.5:3", "1.52", ["398.0", "0.4145", "0.8291"]),
        ("1:1.5:3", "1.54", ["403.2", "0.4200", "0.8400"]),
        ("1:1.5:3", "1.57", ["411.1", "0.4282", "0.8564"]),
        ("1:2:4", "1.52", ["312.7", "0.4343", "0.8686"]),
        ("1:2:4", "1.54", ["316.8", "0.4400", "0.8800"]),
        ("1:2:4", "1.57", ["323.0", "0.4486", "0.8971"]),
        ("1:3:6", "1.52", ["218.9", "0.4560", "0.9120"]),
        ("1:3:6", "1.54", ["221.8", "0.4620", "0.9240"]),
        ("1:3:6", "1.57", ["226.1", "0.4710", "0.9420"]),
        ("1:4:8", "1.52", ["168.4", "0.4677", "0.9354"]),
        ("1:4:8", "1.54", ["170.6", "0.4738", "0.9477"]),
        ("1:4:8", "1.57", ["173.9", "0.4831", "0.9662"]),
    ];
    let mut all = Vec::new();
    for (mix, factor, want) in matrix {
        let m = goods(&dry(&format!("dry-concrete = \"{factor}\"\n")), vec![concrete("1", mix)]);
        let seen =
            [("cement", "cement, kg"), ("sand-building", "sand, m3"), ("aggregate-20", "aggregate, m3")];
        for ((material, what), want) in seen.into_iter().zip(want) {
            all.push(near(&format!("matrix: {mix} by {factor}: {what}"), want, needed(&m, material)));
        }
    }
    all
}

fn mortars() -> Vec<Figure> {
    let mut all = Vec::new();
    for (mix, kg, sand) in [("1:3", "478.8", "0.998"), ("1:4", "383.0", "1.064"), ("1:6", "273.6", "1.140")] {
        let m = goods(&dry(""), vec![mortar("1", mix)]);
        all.push(near(&format!("notes: mortar {mix} by 1.33: cement, kg"), kg, needed(&m, "cement")));
        // 1:3 is 0.9975 exactly, printed 0.998.
        all.push(near(&format!("notes: mortar {mix} by 1.33: sand, m3"), sand, needed(&m, "sand-building")));
    }
    all
}

/// Factor 1.50, 28.8 bags in 1 m3: every figure of bags is rounded up to 0.01.
fn bags() -> Vec<Figure> {
    let printed =
        [("1:1.5:3", "7.86"), ("1:2:4", "6.18"), ("1:3:6", "4.32"), ("1:4:8", "3.33"), ("1:6:12", "2.28")];
    let one = |(mix, bags): (&str, &str)| {
        let m = goods(&dry("dry-concrete = \"1.50\"\n"), vec![concrete("1", mix)]);
        let hundredths = needed(&m, "cement") / Ratio::int(50) * Ratio::int(100);
        let up = Ratio::ZERO - (Ratio::ZERO - hundredths).floor();
        same(&format!("Pakistan: 1 m3 of {mix}: bags, up to 0.01"), bags, up / Ratio::int(100))
    };
    printed.map(one).to_vec()
}

fn plaster() -> Vec<Figure> {
    let mut all = Vec::new();
    // 100 m2 of plaster 1:4: 12 mm with 15 % and 20 mm with 20 % for the joints, one third for the dry volume.
    for (tenths, filling, m3, bags, sand) in
        [(120, "1.15", "0.368", "10.5", "1.472"), (200, "1.20", "0.640", "18.3", "2.560")]
    {
        let figures =
            format!("dry-mortar = \"4-3\"\ncement-volume = \"bag-0.035\"\nfilling = \"{filling}\"\n");
        let m = goods(&dry(&figures), vec![item("plaster-wall", "100", "x", made("1:4", tenths, ""))]);
        let (kg, of) = (needed(&m, "cement"), format!("blog: 100 m2 of plaster 1:4, {} mm", tenths / 10));
        all.push(near(&format!("{of}: cement, m3"), m3, kg * r("0.035") / Ratio::int(50)));
        all.push(near(&format!("{of}: cement, bags"), bags, kg / Ratio::int(50)));
        all.push(near(&format!("{of}: sand, m3"), sand, needed(&m, "sand-plaster")));
    }
    // Another sheet, with 20 %.
    for (mix, tenths, bags, sand) in [("1:4", 120, "11.06", "1.54"), ("1:1", 80, "18.43", "0.64")] {
        let figures = "dry-mortar = \"4-3\"\nfilling = \"1.20\"\n";
        let m = goods(&dry(figures), vec![item("plaster-wall", "100", "x", made(mix, tenths, ""))]);
        let of = format!("a sheet: 100 m2 of plaster {mix}, {} mm", tenths / 10);
        all.push(near(&format!("{of}: cement, bags"), bags, needed(&m, "cement") / Ratio::int(50)));
        all.push(near(&format!("{of}: sand, m3"), sand, needed(&m, "sand-plaster")));
    }
    all
}

fn brickwork() -> Vec<Figure> {
    // 0.2305 m3 of mortar 1:6 in 1 m3 of modular brickwork.
    let m = goods(&dry(""), vec![mortar("0.2305", "1:6")]);
    let of = "blog: mortar of 1 m3 of brickwork";
    let rounded = "from its rounded 0.0438 m3";
    // A South African (?) build-up.
    let own = goods(&dry("dry-mortar = \"1.30\"\ncement-volume = \"bag-0.033\"\n"), vec![mortar("1", "1:5")]);
    let bags = needed(&own, "cement") / Ratio::int(50);
    let build_up = "build-up: mortar 1:5 by 1.3";
    vec![
        near(&format!("{of}: cement, m3"), "0.0438", needed(&m, "cement") / LOOSE),
        slip(&format!("{of}: cement, kg"), "63.07", "63.06", needed(&m, "cement"), rounded),
        near(&format!("{of}: its 0.0438 m3 of cement, kg"), "63.07", r("0.0438") * LOOSE),
        near(&format!("{of}: sand, m3"), "0.2628", needed(&m, "sand-building")), // 0.26277
        near(&format!("{build_up}: cement, m3"), "0.217", bags * r("0.033")),
        slip(&format!("{build_up}: bags of 0.033 m3"), "6.67", "6.57", bags, "1.3 / 6 / 0.033 = 6.566"),
        near(&format!("{build_up}: sand, m3"), "1.083", needed(&own, "sand-building")),
    ]
}
