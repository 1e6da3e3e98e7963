//! CPWD: coefficients for cement consumption, and the analysis of item 5.1.2. Waste is inside them.

use tankwright_geometry::Ratio;
use tankwright_tests::figures::{Figure, Publication, near, same};
use tankwright_tests::goods::{concrete, goods, mortar, needed, printed, r};

pub(super) const OF: Publication = Publication {
    title: "CPWD, Delhi Schedule of Rates and Delhi Analysis of Rates, item 5.1.2",
    source: "pdfcoffee.com/cement-consumption-dsr-2018-pdf-free.html, scribd.com/document/710991169",
    remarks: &["The aggregates of 1:2:4 are recalled, not seen."],
};

/// Mortars: mix, cement in kg.
const MORTARS: [(&str, &str); 6] =
    [("1:1", "1020"), ("1:2", "680"), ("1:3", "510"), ("1:4", "380"), ("1:5", "310"), ("1:6", "250")];

pub(super) fn figures() -> Vec<Figure> {
    let rich = goods("", vec![concrete("1", "1:1.5:3")]);
    let lean = goods("", vec![concrete("1", "1:2:4")]);
    let mut all = vec![
        same("1 m3 of 1:1.5:3: cement, kg", "400", needed(&rich, "cement")),
        same("1 m3 of 1:1.5:3: sand, m3", "0.425", needed(&rich, "sand-building")),
        same("1 m3 of 1:1.5:3: aggregate, m3", "0.85", needed(&rich, "aggregate-20")),
        same("1 m3 of 1:2:4: cement, kg", "320", needed(&lean, "cement")),
        same("1 m3 of 1:2:4: sand, m3 (recalled)", "0.445", needed(&lean, "sand-building")),
        same("1 m3 of 1:2:4: aggregate, m3 (recalled)", "0.89", needed(&lean, "aggregate-20")),
    ];
    for (mix, kg) in MORTARS {
        let m = goods("", vec![mortar("1", mix)]);
        all.push(same(&format!("1 m3 of mortar {mix}: cement, kg"), kg, needed(&m, "cement")));
        let sand = needed(&m, "sand-building");
        // 1:1 prints it; that of 1:3, 1:4 and 1:6 is back-figured at 1440 kg/m3.
        let back = [("1:1", "0.7125"), ("1:3", "1.063"), ("1:4", "1.056"), ("1:6", "1.042")];
        if let Some((_, m3)) = back.iter().find(|b| b.0 == mix) {
            let by = if mix == "1:1" { "" } else { " (back-figured in the notes)" };
            all.push(near(&format!("1 m3 of mortar {mix}: sand, m3{by}"), m3, sand));
        }
    }
    all
}

#[test]
fn concrete_by_volume_as_batched() {
    // 400 kg are 0.2833 m3, sand 1.5 and aggregate 3.0 times that.
    let batched = r("400") / r("0.2833");
    assert_eq!(printed(batched, 0), "1412");
    assert_eq!(printed(r("0.425") / r("0.2833"), 3), "1.500");
}

#[test]
fn sand_of_mortars_is_back_figured_from_the_cement() {
    for (mix, kg) in MORTARS {
        let m = goods("", vec![mortar("1", mix)]);
        let parts = r(mix.trim_start_matches("1:"));
        let back = printed(parts * r(kg) / Ratio::int(1440), 3);
        let sand = printed(needed(&m, "sand-building"), 3);
        assert!(mix == "1:1" || sand == back, "{mix}: {sand}, {back}"); // 1:1 prints 0.7125 itself
    }
}

#[test]
fn waste_is_inside_and_acts_once() {
    let m = goods("[waste]\ncement = \"10\"\n", vec![concrete("1", "1:2:4")]);
    let row = m.rows.iter().find(|row| row.material == "cement").unwrap();
    assert_eq!((row.net, row.gross), (320.into(), 320.into()));
    assert!(m.uses.iter().filter(|u| u.material == "cement").all(|u| u.waste_inside));
    // That the job's own waste acts on nothing is said.
    assert!(m.remarks.iter().any(|(says, _)| says.key == "materials-waste-idle"));
}
