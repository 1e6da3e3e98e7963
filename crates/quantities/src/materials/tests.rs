//! Materials of small jobs, figure by figure; the balance fails where a row is spoiled.
#![expect(clippy::unwrap_used, clippy::panic, reason = "a test stops where it fails")]

use super::*;
#[test]
fn show() {
    let text = std::fs::read_to_string("../../samples/rest-house/job.toml").unwrap();
    let (job, p) = crate::job::read("job.toml", &text, &crate::flow::job_tables());
    assert!(p.is_empty(), "{p:?}");
    let (stock, p) = crate::rates::builtin();
    assert!(p.is_empty(), "{p:#?}");
    let e = match crate::flow::estimate(&job, &stock, None, &crate::flow::Settings::default()) {
        Ok(e) => e,
        Err(e) => panic!("{e:#?}"),
    };
    for r in &e.materials.rows {
        println!(
            "{:30} {:12} {:>10} {:>8} {:>4} {:>10}",
            r.material,
            r.stage.id(),
            r.net,
            r.over_break,
            r.waste_percent,
            r.gross
        );
    }
    for (a, s, m) in &e.materials.mixes {
        println!("{a} {} {m}", s.id());
    }
    for (a, s) in &e.materials.remarks {
        println!("{a} <{s}>");
    }
    let b = balance(&e.materials, &e.sheet, &e.steel);
    println!("{} {:?}", b.holds(), b.breaks);
}
