//! The evaluator by sums written out; outlines held against the materials of a job; what is lacking.
#![expect(clippy::panic, reason = "a test stops where it fails")]

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use super::*;
use crate::bill::fixture::{d, item, job, sheet, stock};
use crate::bill::{Bill, draw_up};
use crate::decimal::ratio;
use crate::made::Made as Makings;
use crate::rates::{PriceKind, PriceList, PriceRow, read_stock};
use crate::sheet::Sheet;
use crate::stage::Stage;
use crate::works::{self, Unit, masonry};

fn line(group: Group, code: &str, quantity: Ratio, rate: &str) -> Line {
    let cost = Cost::Priced {
        quantity,
        working: String::new(),
        unit: "day".into(),
        rate: d(rate),
        from: None,
        made: None,
    };
    Line { group, code: code.into(), title: code.into(), cost, say: None, source: String::new() }
}

fn percent(group: Group, percent: &str, on: &[&str]) -> Line {
    let on = on.iter().map(|w| (*w).to_owned()).collect();
    Line { cost: Cost::Percent(d(percent), on), ..line(group, "", Ratio::ZERO, "0") }
}

fn on_cost(title: &str, percent: &str, on: &[&str], gross_up: bool) -> OnCost {
    let on = on.iter().map(|w| (*w).to_owned()).collect();
    OnCost { title: title.into(), percent: d(percent), on, gross_up, source: String::new() }
}

/// 2/3 of a day of a mason at 100, 4 bags at 10, a pump at 30.
pub(super) fn analysis(on_costs: Vec<OnCost>) -> Analysis {
    let lines = vec![
        line(Group::Materials, "cement", Ratio::int(4), "10"),
        line(Group::Labour, "mason", Ratio::of(2, 3), "100"),
        percent(Group::Labour, "10", &["mason"]),
        line(Group::Plant, "pump", Ratio::ONE, "30"),
        percent(Group::Sundries, "2", &[]),
    ];
    Analysis { per: Decimal::TEN, unit: "m2".into(), lines, on_costs, says: Vec::new(), digits: 0 }
}

#[test]
fn what_is_printed_is_what_is_multiplied() {
    let done = work_out(&analysis(Vec::new())).unwrap_or_else(|word| panic!("{word}"));
    let amounts: Vec<Decimal> = done.lines.iter().map(|l| l.amount).collect();
    // 0.666667 x 100 = 66.6667; 10 % of 66.67; 2 % of 40 + 66.67 + 6.67 + 30 = 143.34
    assert_eq!(amounts, [d("40"), d("66.67"), d("6.67"), d("30"), d("2.87")]);
    assert_eq!(done.lines.get(1).map(|l| l.quantity), Some(d("0.666667")));
    assert_eq!((done.cost, done.total, done.each, done.rate), (d("146.21"), d("146.21"), d("15"), d("15")));
    assert_eq!(done.sum(Group::Labour), Some(d("73.34")));
    assert_eq!(done.breaks(), Vec::<String>::new());
}

#[test]
fn on_costs_stand_on_what_they_say() {
    let chain = vec![
        on_cost("Overhead", "10", &["cost"], false),
        on_cost("Risk", "10", &["labour", "Overhead"], false),
        on_cost("Profit", "10", &[], false),
        on_cost("VAT", "20", &[], true),
    ];
    let mut analysis = analysis(chain);
    analysis.says = Say::read_all("up 10, nearest 25").unwrap_or_default();
    let done = work_out(&analysis).unwrap_or_else(|word| panic!("{word}"));
    let amounts: Vec<Decimal> = done.on_costs.iter().map(|o| o.amount).collect();
    // 10 % of 146.21; of 73.34 + 14.62; of 146.21 + 14.62 + 8.80; 20/80 of 186.59
    assert_eq!(amounts, [d("14.62"), d("8.80"), d("16.96"), d("46.65")]);
    assert_eq!((done.total, done.each), (d("233.24"), d("23")));
    assert_eq!(
        (done.says.iter().map(|s| s.1).collect::<Vec<_>>(), done.rate),
        (vec![d("30"), d("25")], d("25"))
    );
    assert_eq!(done.breaks(), Vec::<String>::new());
    let left = audit(&done);
    let groups: Vec<_> = left.iter().map(|l| (l.on_cost, l.groups.len(), l.earlier.len())).collect();
    assert_eq!(groups, [(1, 3, 0)]);
    // 10 % of 146.21 + 14.62 = 16.08, less 8.80
    assert_eq!(left.first().map(|l| l.more), Some(d("7.28")));
}

#[test]
fn every_figure_that_is_off_is_found() {
    let chain = vec![on_cost("Profit", "10", &[], false), on_cost("VAT", "20", &[], true)];
    let mut analysis = analysis(chain);
    analysis.says = Say::read_all("up 10").unwrap_or_default();
    let done = work_out(&analysis).unwrap_or_else(|word| panic!("{word}"));
    assert_eq!(done.breaks(), Vec::<String>::new());
    let one = Decimal::ONE;
    let changes: [&dyn Fn(&mut Worked); 9] = [
        &|w| w.lines[1].quantity += one,
        &|w| w.lines[1].amount += one,
        &|w| w.lines[2].amount += one,
        &|w| w.cost += one,
        &|w| w.on_costs[0].base += one,
        &|w| w.on_costs[1].amount += one,
        &|w| w.total += one,
        &|w| w.each += one,
        &|w| w.rate += one,
    ];
    for (i, change) in changes.into_iter().enumerate() {
        let mut wrong = done.clone();
        change(&mut wrong);
        assert!(!wrong.breaks().is_empty(), "change {i}");
    }
}

#[test]
fn a_percentage_on_nothing_is_told_and_a_group_without_lines_is_none() {
    let mut wrong = analysis(Vec::new());
    wrong.lines.push(percent(Group::Sundries, "5", &["sand"]));
    assert_eq!(work_out(&wrong), Err("sand".to_owned()));
    let bare = vec![on_cost("Risk", "10", &["sundries"], false)];
    let mut labour = analysis(bare);
    labour.lines.truncate(2);
    let done = work_out(&labour).unwrap_or_else(|word| panic!("{word}"));
    assert_eq!(done.on_costs.first().map(|o| o.amount), Some(Decimal::ZERO));
    let mut large = analysis(Vec::new());
    large.lines.push(line(Group::Plant, "ship", Ratio::int(1_000_000_000_000), "999999999999"));
    assert_eq!(work_out(&large), Err(String::new()));
}

fn prices(rows: &[(PriceKind, &str, &str, &str)]) -> PriceList {
    let row = |(i, (kind, code, unit, rate)): (usize, &(PriceKind, &str, &str, &str))| PriceRow {
        kind: *kind,
        code: (*code).to_owned(),
        description: (*code).to_owned(),
        unit: (*unit).to_owned(),
        rate: rate.parse().ok(),
        date: "2026-10-01".into(),
        source: "shop".into(),
        line: i + 2,
        span: 0..0,
    };
    let rows = rows.iter().enumerate().map(row).collect();
    PriceList { name: "my.csv".into(), currency: "UGX".into(), rows, cautions: Vec::new() }
}

pub(super) fn outlined(bill: &Bill, reference: &str) -> Outline {
    let row = bill.sections.iter().flat_map(|s| &s.rows).find(|r| r.reference == reference);
    row.and_then(|r| r.outline.as_deref()).unwrap_or_else(|| panic!("{reference}")).clone()
}

fn worked(outline: &Outline, prices: &PriceList) -> Result<Worked, Vec<Lacking>> {
    let terms = Terms::read(&job(&[]), &stock(), &mut Vec::new());
    let asked = Asked { prices, terms: &terms, row: ("UGX", "2026-11-25"), digits: 0 };
    priced(outline, true, asked).map_err(|(lacking, _)| lacking)
}

pub(super) fn bill() -> Bill {
    let (sheet, job, stock) = (sheet(), job(&[]), stock());
    let mut bill = draw_up(&sheet, &job, &stock);
    outlines(&mut bill, &sheet, &job, &stock, None);
    bill
}

#[test]
fn hours_meet_wages_by_the_day_and_days_wages_by_the_hour() {
    let bill = bill();
    // A2 excavation-pit/1.5-3.0: 0.7/1.5 and 0.8/1.5/0.75 of a day.
    let by_day = worked(&outlined(&bill, "A2"), &prices(&[(PriceKind::Labour, "labourer", "day", "15000")]));
    let amounts = |w: &Worked| w.lines.iter().map(|l| l.amount).collect::<Vec<_>>();
    assert_eq!(by_day.as_ref().map(amounts), Ok(vec![d("7000.01"), d("10666.67")])); // 0.466667, 0.711111
    let by_hour = worked(&outlined(&bill, "A2"), &prices(&[(PriceKind::Labour, "labourer", "hr", "1875")]));
    assert_eq!(by_hour.as_ref().map(|w| w.rate), Ok(d("17667"))); // 3.733333 and 5.688889 hours
    assert_eq!(by_hour.map(|w| w.day.map(|d| d.0)), Ok(Some(d("8"))));
    // The wage in the unit of the constant goes first.
    let both = prices(&[
        (PriceKind::Labour, "labourer", "hour", "1"),
        (PriceKind::Labour, "labourer", "day", "15000"),
    ]);
    assert_eq!(worked(&outlined(&bill, "A2"), &both).map(|w| w.rate), Ok(d("17667")));
}

#[test]
fn all_that_a_list_lacks_is_told_at_once_with_the_rows_to_add() {
    let list = prices(&[
        (PriceKind::Material, "cement", "kg", ""),
        (PriceKind::Material, "sand-building", "tonne", "9"),
        (PriceKind::Labour, "mason", "month", "900000"),
    ]);
    let lacking = worked(&outlined(&bill(), "B1"), &list).err().unwrap_or_default();
    let seen: Vec<_> = lacking.iter().map(|l| (l.code.as_str(), l.why.clone())).collect();
    let want = [
        ("cement", Why::Empty(2)),
        ("sand-building", Why::Unit(3, "tonne".into())),
        ("aggregate-20", Why::Missing),
        ("water", Why::Missing),
        ("mason", Why::Unit(4, "month".into())),
        ("labourer", Why::Missing),
    ];
    assert_eq!(seen, want);
    assert_eq!(lacking.last().map(|l| l.row.as_str()), Some("labour,labourer,labourer,day,,UGX,2026-11-25,"));
}

#[test]
fn materials_are_those_of_the_jobs_own_recipes_and_waste() {
    // 1 m3 of base 1:2:4 by the dry-volume method, waste of cement 10 %: 1.54 / 7 x 1440 x 1.1 kg.
    let job = job(&[("materials.concrete", "dry"), ("waste.cement", "10")]);
    let (sheet, stock) = (sheet(), stock());
    let mut bill = draw_up(&sheet, &job, &stock);
    outlines(&mut bill, &sheet, &job, &stock, None);
    let cement = outlined(&bill, "B1").lines.into_iter().find(|l| l.code == "cement");
    let Some(Want::Goods { quantity, pack, .. }) = cement.map(|l| l.want) else { panic!("no cement") };
    assert_eq!(quantity, ratio(d("1.54")) / Ratio::int(7) * Ratio::int(1440) * ratio(d("1.1")));
    assert_eq!(pack.size, d("50"));
}

fn wall(unit: Unit, spec: &str) -> Option<Outline> {
    let made = Makings {
        mix: "1:4".into(),
        unit: "brick-220x105x65".into(),
        thickness: Some(tankwright_geometry::Len::fixed(2_200)),
        ..Makings::NOTHING
    };
    let piece = Piece {
        work: &masonry::BRICKWORK_WALL,
        spec,
        made: &made,
        stage: Stage::WallsLower,
        unit,
        width: None,
    };
    Outline::of(&job(&[]), &stock(), piece)
}

#[test]
fn a_wall_by_the_square_metre_and_by_the_cubic_metre_is_one_wall() {
    let of = |unit, spec, code: &str| {
        let outline = wall(unit, spec).unwrap_or_else(|| panic!("{unit:?} {spec}"));
        let lines = outline.lines.iter().filter(|l| l.code == code);
        let quantity = |l: &OutlineLine| match &l.want {
            Want::Goods { quantity, .. } | Want::Amount { quantity, .. } => *quantity,
            Want::Percent(..) => Ratio::ZERO,
        };
        lines.map(quantity).sum::<Ratio>() / ratio(outline.per)
    };
    let thick = ratio(d("0.22"));
    for code in ["bricks/brick-220x105x65", "cement", "mason", "labourer"] {
        let square = of(Unit::M2, "220", code);
        assert!(!square.is_zero(), "{code}");
        assert_eq!(square, of(Unit::M3, "220", code) * thick, "{code}");
    }
    assert_eq!(of(Unit::M2, "220", "mason"), Ratio::of(7, 4));
    // A thickness without an entry of its own: hours for a cubic metre, turned to a square metre.
    assert_eq!(of(Unit::M2, "217", "mason"), Ratio::int(8) * thick);
}

#[test]
fn works_of_different_makings_in_one_row_are_not_built_up() {
    let made = |unit: &str| Makings {
        mix: "1:4".into(),
        unit: unit.into(),
        thickness: Some(tankwright_geometry::Len::fixed(2_200)),
        ..Makings::NOTHING
    };
    let mut items = vec![
        item(&masonry::BRICKWORK_WALL, "220", Stage::WallsLower, "2"),
        item(&masonry::BRICKWORK_WALL, "220", Stage::WallsUpper, "1"),
    ];
    items.iter_mut().for_each(|i| i.made = made("brick-220x105x65"));
    let mixed = |items: &[crate::sheet::Item]| {
        let sheet = Sheet { items: items.to_vec(), voids: Vec::new() };
        let mut bill = draw_up(&sheet, &job(&[]), &stock());
        outlines(&mut bill, &sheet, &job(&[]), &stock(), None);
        let list = prices(&[(PriceKind::Labour, "mason", "day", "1")]);
        let told = crate::pricing::price(&mut bill, &job(&[]), &stock(), &list, "2026-11-25", None);
        (outlined(&bill, "A1").mixed, told.iter().any(|p| p.code == "R106"))
    };
    assert_eq!(mixed(&items), (false, false));
    items[1].made = made("brick-215x102.5x65");
    assert_eq!(mixed(&items), (true, true));
}

#[test]
fn every_billed_work_has_a_build_up_but_those_that_hang_on_the_job() {
    let stock = stock();
    let without: Vec<&str> = works::all()
        .into_iter()
        .filter(|w| !w.void && w.made_of != works::MadeOf::OverBreak)
        .filter(|w| stock.build_up(w.id, "", w.unit.id(), w.made_of == works::MadeOf::Masonry).is_none())
        .map(|w| w.id)
        .collect();
    // Items, and the face of working space, which one method bills and none describes by hours.
    assert_eq!(without, ["earthwork-support-item", "working-space-face", "keep-dry", "water-test"]);
}

#[test]
fn entries_of_ones_own_go_before_the_built_in_ones() {
    let mut stock = stock();
    let own = r#"
[[build_up]]
of = ["backfill"]
per = "1 m3"
labour = [{ who = "labourer", days = "1" }]
plant = [{ what = "rammer", hours = "2" }]
from = "2026-11-25"
source = "common practice, no source: measured on our own sites"
[day]
hours = "9"
from = "2026-11-25"
source = "own definition"
[[on_cost]]
title = "Profit"
percent = "12.5"
from = "2026-11-25"
source = "own definition"
"#;
    assert_eq!(read_stock(&[("mine/build-ups/own.toml".into(), own.into())], &mut stock), []);
    let codes: Vec<_> = stock.overridden.iter().map(String::as_str).collect();
    let from = "from mine/build-ups/own.toml";
    let want = ["build-up backfill", "hours of a day", "on-costs"].map(|w| format!("{w}, {from}"));
    assert_eq!(codes, want);
    let found = stock.build_up("backfill", "", "m3", false).map(|b| (b.lines.len(), b.file.clone()));
    assert_eq!(found, Some((2, "mine/build-ups/own.toml".into())));
    let terms = Terms::read(&job(&[]), &stock, &mut Vec::new());
    assert_eq!((terms.day, terms.on_costs.len()), (d("9"), 1));
    let of_job = job(&[("on_costs.list[0].title", "Overhead"), ("on_costs.list[0].percent", "5")]);
    let terms = Terms::read(&of_job, &stock, &mut Vec::new());
    assert_eq!(terms.on_costs.iter().map(|o| o.title.as_str()).collect::<Vec<_>>(), ["Overhead"]);
}

#[test]
fn a_file_with_mistakes_is_told_line_by_line() {
    let bad = r#"
[[build_up]]
of = ["backfil"]
per = "1 m3"
from = "2026"
source = "own definition"
[[build_up]]
of = ["backfill"]
per = "many m3"
from = "2026"
source = "own definition"
[[build_up]]
of = ["backfill"]
per = "1 m2"
labour = [{ who = "labourer" }, { who = "labourer", hours = "two" }, { who = "x", hours = "1", say = "off" }]
from = "2026"
source = "own definition"
[[build_up]]
of = ["soil-cover", "soil-cover"]
per = "1 m3"
labour = [{ who = "labourer", hours = "1" }]
from = "2026"
source = "own definition"
[[on_cost]]
title = "VAT"
percent = "100"
gross_up = true
from = "2026"
source = "own definition"
"#;
    let told = read_stock(&[("build-ups/x.toml".into(), bad.into())], &mut stock());
    let mut codes: Vec<_> = told.iter().map(|p| p.code).collect();
    codes.sort_unstable();
    assert_eq!(codes, ["P003", "P010", "P010", "P010", "P011", "P012", "P012", "P014"]);
}

#[test]
fn terms_that_cannot_be_followed_are_told() {
    for (more, want) in [([("on_costs.say", "up")], "R103"), ([("on_costs.hours", "25")], "R103")] {
        let mut told = Vec::new();
        let _ = Terms::read(&job(&more), &stock(), &mut told);
        assert_eq!(told.iter().map(|p| p.code).collect::<Vec<_>>(), [want], "{more:?}");
    }
    let list = |on: &'static str| {
        [
            ("on_costs.list[0].title", "Profit"),
            ("on_costs.list[0].percent", "5"),
            ("on_costs.list[1].title", "VAT"),
            ("on_costs.list[1].percent", "5"),
            ("on_costs.list[1].on", on),
        ]
    };
    for (on, want) in
        [("cost|Profit", None), ("labour", None), ("VAT", Some("R102")), ("profit", Some("R102"))]
    {
        let mut told = Vec::new();
        let _ = Terms::read(&job(&list(on)), &stock(), &mut told);
        assert_eq!(told.first().map(|p| p.code), want, "{on}");
        assert!(told.iter().all(|p| p.hint.is_some()));
    }
}

#[test]
fn the_codes_in_the_list_are_the_codes_in_the_source() {
    let source =
        [include_str!("terms.rs"), include_str!("../pricing/built.rs"), include_str!("../pricing/chain.rs")]
            .concat();
    let is_code = |t: &&str| t.len() == 4 && t.starts_with("R1");
    let mut used: Vec<&str> = source.split('"').filter(is_code).collect();
    used.sort_unstable();
    used.dedup();
    assert_eq!(used, CODES.iter().map(|(code, _)| *code).collect::<Vec<_>>());
}
