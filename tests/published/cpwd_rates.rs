//! CPWD, Delhi Schedule of Rates (coefficients for cement consumption) and Delhi Analysis of Rates, item 5.1.2
//! (pdfcoffee.com/cement-consumption-dsr-2018-pdf-free.html, scribd.com/document/710991169). Waste is inside them.

use tankwright_geometry::Ratio;
use tankwright_tests::goods::{concrete, goods, mortar, needed, printed, r};

#[test]
fn concrete_1_1_5_3() {
    let m = goods("", vec![concrete("1", "1:1.5:3")]);
    assert_eq!(needed(&m, "cement"), r("400"));
    assert_eq!(needed(&m, "sand-building"), r("0.425"));
    assert_eq!(needed(&m, "aggregate-20"), r("0.85"));
    // The same by volume as batched: 400 kg are 0.2833 m3, sand 1.5 and aggregate 3.0 times that.
    let batched = r("400") / r("0.2833");
    assert_eq!(printed(batched, 0), "1412");
    assert_eq!(printed(r("0.425") / r("0.2833"), 3), "1.500");
}

#[test]
fn concrete_1_2_4_its_aggregates_recalled() {
    let m = goods("", vec![concrete("1", "1:2:4")]);
    assert_eq!(needed(&m, "cement"), r("320"));
    assert_eq!((needed(&m, "sand-building"), needed(&m, "aggregate-20")), (r("0.445"), r("0.89")));
}

#[test]
fn mortars() {
    for (mix, kg) in
        [("1:1", "1020"), ("1:2", "680"), ("1:3", "510"), ("1:4", "380"), ("1:5", "310"), ("1:6", "250")]
    {
        let m = goods("", vec![mortar("1", mix)]);
        assert_eq!(needed(&m, "cement"), r(kg), "{mix}");
        // Sand back-figured at 1440 kg/m3: 1.063, 1.056, 1.042 for 1:3, 1:4, 1:6.
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
