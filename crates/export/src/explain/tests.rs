use super::explain;
use crate::fixture;

#[test]
fn a_row() {
    assert_eq!(explain(&fixture::estimate(), "e1"), Ok(String::new()));
}
#[test]
fn dump() {
    let e = fixture::estimate();
    println!("{}", crate::text::screen(&e, &["out/rest-house.xlsx".to_owned()]));
    println!("=====\n{}", crate::text::takeoff(&e));
    println!("=====\n{}", crate::text::bill(&e));
    println!("=====\n{}", crate::text::setting_out(&e));
    println!("=====\n{}", crate::json::takeoff(&e));
    println!("=====\n{}", crate::json::bill(&e));
    println!("=====\n{}", crate::csv::takeoff(&e));
    println!("=====\n{}", crate::csv::bill(&e));
    for id in [
        "e1",
        "excavation-pit/dig",
        "cement-paste",
        "total",
        "masonry",
        "value added tax",
        "contingency",
        "earth",
        "capacity",
        "preliminaries",
        "brikwork",
    ] {
        println!("===== {id}\n{}", explain(&e, id).unwrap_or_else(|n| format!("{n:?}")));
    }
}
