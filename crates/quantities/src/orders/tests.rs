//! Orders as a whole: hand-made materials and jobs in, lines, costs and problems out.

use tankwright_geometry::Judge;

use super::*;
use crate::bill::fixture::d;
use crate::job;
use crate::materials::{Material, Materials, Rounding, Row};
use crate::problem::Problem;
use crate::rates::{PriceKind, PriceList, PriceRow, builtin};
use crate::site::Site;
use crate::source::Source;
use crate::steel::{BarKind, Cutting, Pattern, Schedule};

/// A change to a thing, and what is told of it.
type Change<'a, T> = (&'a dyn Fn(&mut T), &'a str);

const HEAD: &str = "format = 1\n[job]\ntitle = \"T\"\ndate = \"2026-11-25\"\ncurrency = \"KES\"\n[tank]\n\
                    chambers = [\"1.60 m\"]\nwidth = \"1.20 m\"\nheight = \"1.50 m\"\n";

pub(crate) fn material(id: &str, unit: &str, rounding: Rounding) -> Material {
    let (title, supplier) = (id.to_owned(), "hardware".to_owned());
    Material {
        id: id.to_owned(),
        title,
        unit: unit.to_owned(),
        supplier,
        rounding,
        source: Source::default(),
    }
}

pub(crate) fn row(material: &str, stage: Stage, gross: &str) -> Row {
    Row {
        material: material.to_owned(),
        stage,
        uses: Vec::new(),
        net: d(gross),
        over_break: d("0"),
        waste_percent: d("0"),
        gross: d(gross),
        present: d(gross),
    }
}

/// Cement and sand of the published table, bars and bricks.
pub(crate) fn goods() -> Materials {
    let stages = [Stage::Base, Stage::WallsLower, Stage::Plaster, Stage::Cover];
    let mut rows = Vec::new();
    for (stage, [kg, m3]) in
        stages.into_iter().zip([["431.65", "0.66"], ["338.5", "0.94"], ["193.5", "0.54"], ["191", "0.27"]])
    {
        rows.extend([row("cement", stage, kg), row("sand-building", stage, m3)]);
    }
    rows.push(row("bricks/brick-220x105x65", Stage::WallsLower, "1500.4"));
    rows.extend([row("bars/Y10", Stage::Base, "70"), row("bars/Y10", Stage::Cover, "50")]);
    rows.sort_by(|a, b| (&a.material, a.stage).cmp(&(&b.material, b.stage)));
    let materials = vec![
        material("cement", "kg", Rounding::Delivery),
        material("sand-building", "m3", Rounding::Bulk),
        material("bricks/brick-220x105x65", "nr", Rounding::Delivery),
        material("bars/Y10", "m", Rounding::Plan),
    ];
    Materials { materials, rows, ..Materials::default() }
}

pub(crate) fn schedule() -> Schedule {
    let pattern = |stage, times, pieces: &[(i64, Stage)]| Pattern {
        stage,
        times,
        pieces: pieces.to_vec(),
        offcut_mm: 0,
    };
    let patterns = vec![
        pattern(Stage::Base, 6, &[(10_000, Stage::Base), (2_000, Stage::Cover)]),
        pattern(Stage::Base, 1, &[(10_000, Stage::Base)]),
        pattern(Stage::Cover, 4, &[(9_500, Stage::Cover)]),
    ];
    let bar = BarKind { grade: "Y".into(), diameter: 10 };
    let bought = vec![(Stage::Base, 7), (Stage::Cover, 4)];
    let cutting = Cutting {
        bar,
        stock_mm: 12_000,
        kerf_mm: 0,
        bars: 11,
        bound: 11,
        latest: true,
        patterns,
        bought,
        kept: Vec::new(),
    };
    Schedule { cutting: vec![cutting], ..Schedule::default() }
}

/// Prices in KES: code, unit, description, rate.
pub(crate) fn prices(rows: &[[&str; 4]]) -> PriceList {
    let row = |(i, [code, unit, description, rate]): (usize, &[&str; 4])| PriceRow {
        kind: PriceKind::Material,
        code: (*code).to_owned(),
        description: (*description).to_owned(),
        unit: (*unit).to_owned(),
        rate: rate.parse().ok(),
        date: "2026-10-01".to_owned(),
        source: "invented".to_owned(),
        line: i + 2,
        span: 0..0,
    };
    let rows = rows.iter().enumerate().map(row).collect();
    PriceList { name: "list.csv".into(), currency: "KES".into(), rows, cautions: Vec::new() }
}

/// Runs `with` on the site of a job.
pub(crate) fn on_site<T>(more: &str, with: impl FnOnce(&Site<'_>) -> T) -> Result<T, Vec<Problem>> {
    let (job, problems) = job::read("job.toml", &format!("{HEAD}{more}"), &crate::flow::job_tables());
    if !problems.is_empty() {
        return Err(problems);
    }
    let stock = builtin().0;
    let judge = Judge::new(false, std::collections::BTreeSet::new());
    let profile = &stock.profiles["exact"];
    Ok(with(&Site::set_out(&job, &stock, profile, &judge)))
}

pub(crate) fn placed(
    more: &str,
    materials: &Materials,
    list: Option<&PriceList>,
) -> Result<Orders, Vec<Problem>> {
    on_site(more, |site| place(site, materials, &schedule(), list))?
}

/// Stage, packs and closing of a material.
fn of(orders: &Orders, material: &str) -> Vec<(Stage, u64, Decimal)> {
    let line = |o: &StageOrder| {
        let line = o.lines.iter().find(|l| l.material == material)?;
        Some((o.stage, line.packs, line.closing))
    };
    orders.stages.iter().filter_map(line).collect()
}

fn keys(orders: &Orders) -> Vec<&str> {
    orders.remarks.iter().map(|r| r.key).collect()
}

#[test]
fn each_good_in_its_own_way() -> Result<(), Vec<Problem>> {
    let orders = placed("[packs]\nsand-building = \"3 m3\"\n", &goods(), None)?;
    // 1.63 + 7.003 bags in the base: 8.633.
    assert_eq!(
        of(&orders, "cement"),
        [
            (Stage::Base, 9, d("450") - d("431.65")),
            (Stage::WallsLower, 7, d("800") - d("770.15")),
            (Stage::Plaster, 4, d("1000") - d("963.65")),
            (Stage::Cover, 4, d("1200") - d("1154.65")),
        ]
    );
    assert_eq!(of(&orders, "sand-building").iter().map(|l| l.1).collect::<Vec<_>>(), [1, 0, 0, 0]);
    // 0.4 of a brick is more than 0.05 of one.
    assert_eq!(of(&orders, "bricks/brick-220x105x65")[0].1, 1501);
    // 70 + 50 m of bars in 11 bars of 12 m; 12 pieces of 2 m for the cover come out of the bars of the base.
    let bars = [(Stage::Base, 7, d("84") - d("70")), (Stage::Cover, 4, d("132") - d("120"))];
    let got: Vec<_> = of(&orders, "bars/Y10").into_iter().filter(|l| l.1 > 0).collect();
    assert_eq!(got, bars);
    let base = &orders.stages[0];
    let serves = |m: &str| base.lines.iter().find(|l| l.material == m).map(|l| l.serves.clone());
    let four = vec![Stage::Base, Stage::WallsLower, Stage::Plaster, Stage::Cover];
    assert_eq!(serves("sand-building"), Some(four));
    assert_eq!(serves("cement"), Some(vec![Stage::Base]));
    assert_eq!(serves("bars/Y10"), Some(vec![Stage::Base, Stage::Cover]));
    let total = |m: &str| orders.totals.iter().find(|t| t.material == m);
    assert_eq!(total("cement").map(|t| (t.packs, t.packs_uncarried)), Some((24, 9 + 7 + 4 + 4)));
    assert_eq!(total("sand-building").map(|t| (t.packs, t.packs_uncarried)), Some((1, 4)));
    let titles: Vec<&str> = orders.totals.iter().map(|t| t.pack.title.as_str()).collect();
    assert_eq!(titles, ["50 kg bag", "3 m3 trip", "piece", "12 m bar"]);
    assert_eq!(total("sand-building").map(|t| t.pack.source.as_str()), Some("job.toml:11"));
    assert!(balance(&orders, &goods()).holds(), "{:?}", balance(&orders, &goods()));
    assert_eq!((orders.cost, keys(&orders)), (None, vec![]));
    Ok(())
}

#[test]
fn a_trip_of_no_said_size_is_ordered_in_steps_and_asked_for() -> Result<(), Vec<Problem>> {
    let orders = placed("", &goods(), None)?;
    // 0.66 + 0.94 + 0.54 + 0.27 = 2.41 m3 in steps of 0.5.
    assert_eq!(of(&orders, "sand-building")[0].1, 5);
    assert_eq!(keys(&orders), ["orders-no-load"]);
    assert_eq!(orders.totals[1].pack.title, "0.5 m3 lot");
    Ok(())
}

#[test]
fn groups_come_together_and_a_reserve_is_held() -> Result<(), Vec<Problem>> {
    let more = "[packs]\nsand-building = \"1 m3\"\n[orders]\nreserve_bags = { cover = 1, dig = 2 }\n\
                group = [[\"base\", \"walls-lower\"]]\n";
    let orders = placed(more, &goods(), None)?;
    // 0.66 + 0.94 = 1.60 -> 2; 2.41 less the 2 there -> 1.
    assert_eq!(of(&orders, "sand-building").iter().map(|l| l.1).collect::<Vec<_>>(), [2, 0, 1, 0]);
    assert_eq!(of(&orders, "cement").iter().map(|l| l.1).collect::<Vec<_>>(), [9, 7, 4, 5]);
    assert_eq!(keys(&orders), ["orders-reserve-idle"]);
    assert!(balance(&orders, &goods()).holds());
    Ok(())
}

#[test]
fn a_pack_of_what_the_job_does_not_use_is_told() -> Result<(), Vec<Problem>> {
    let more = "[packs]\nsand-building = \"3 m3\"\npolythene = \"20 m x 4 m\"\n\"cement/x\" = \"40 kg\"\n\
                surplus-earth = \"6 m3\"\n[orders]\nlead_days = { blocks = 2 }\n";
    let orders = placed(more, &goods(), None)?;
    assert_eq!(
        orders.remarks.iter().map(ToString::to_string).collect::<Vec<_>>(),
        [
            "packs.polythene, packs.cement/x, orders.lead_days.blocks: this job uses nothing of that name; the line \
          acts on nothing"
        ]
    );
    Ok(())
}

#[test]
fn what_is_let_off_is_told() -> Result<(), Vec<Problem>> {
    let mut materials = goods();
    materials.rows = vec![row("cement", Stage::Base, "352")];
    let orders = placed("", &materials, None)?;
    assert_eq!(orders.totals[0].packs, 7);
    assert_eq!(
        orders.remarks[0].to_string(),
        "cement, base: 2 kg short of a further bag is not ordered (tolerance 0.05 of a pack)"
    );
    assert_eq!(placed("[orders]\ntolerance = \"0\"\n", &materials, None)?.totals[0].packs, 8);
    Ok(())
}

#[test]
fn costs_are_of_whole_packs_and_nothing_is_free() -> Result<(), Vec<Problem>> {
    let packs = "[packs]\nsand-building = \"3 m3\"\n";
    let list = prices(&[
        ["cement", "bag", "Cement, bag of 50 kg", "950.55"],
        ["sand-building", "m3", "", "2100"],
        ["bricks", "nr", "", "12.5"],
        ["bars/Y10", "nr", "Bar 10 mm, 12 m", "900"],
        ["bars", "kg", "", "150"],
    ]);
    let orders = placed(packs, &goods(), Some(&list))?;
    let cost: Vec<_> = orders.totals.iter().map(|t| t.cost).collect();
    let want = [d("24") * d("950.55"), d("3") * d("2100"), d("1501") * d("12.5"), d("11") * d("900")];
    assert_eq!(cost, want.map(Some));
    assert_eq!(orders.cost, Some(want.iter().sum()));
    assert_eq!(orders.totals[1].rate, Some(d("3") * d("2100")));
    // A kg rate prices bags of any size.
    let by_kg = prices(&[["cement", "kg", "", "19"]]);
    assert_eq!(placed(packs, &goods(), Some(&by_kg))?.totals[0].cost, Some(d("24") * d("50") * d("19")));
    // None, empty, another unit, a bag of another size: no cost at all, and the reason.
    for (row, key) in [
        (["sand", "m3", "", "1"], "orders-no-rate"),
        (["cement", "bag", "", ""], "orders-rate-empty"),
        (["cement", "t", "", "1"], "orders-rate-unit"),
        (["cement", "bag", "bag of 25 kg", "500"], "orders-rate-size"),
        (["bars/Y10", "bar", "Bar 10 mm, 6 m", "500"], "orders-rate-size"),
    ] {
        let orders = placed(packs, &goods(), Some(&prices(&[row])))?;
        assert_eq!((orders.cost, orders.totals[0].cost), (None, None), "{row:?}");
        assert!(keys(&orders).contains(&key), "{row:?} {:?}", orders.remarks);
        assert!(orders.stages.iter().flat_map(|s| &s.lines).all(|l| l.cost != Some(d("0"))));
    }
    Ok(())
}

#[test]
fn other_bags_and_rolls() -> Result<(), Vec<Problem>> {
    let materials = Materials {
        materials: vec![
            material("cement", "kg", Rounding::Delivery),
            material("polythene", "m2", Rounding::Delivery),
        ],
        rows: vec![row("cement", Stage::Base, "426.3768278"), row("polythene", Stage::SoakPit, "90")],
        ..Materials::default()
    };
    let orders = placed("[packs]\ncement = \"94 lb\"\npolythene = \"20 m x 4 m\"\n", &materials, None)?;
    let titles: Vec<_> = orders.totals.iter().map(|t| (t.pack.title.as_str(), t.packs)).collect();
    assert_eq!(titles, [("94 lb bag", 10), ("20 m x 4 m roll", 2)]);
    // A family says it for its kinds, a kind for itself.
    let mut bricks = goods();
    bricks.rows = vec![row("bricks/brick-220x105x65", Stage::WallsLower, "5000")];
    let trips = |more: &str| -> Result<_, Vec<Problem>> {
        let orders = placed(more, &bricks, None)?;
        Ok(orders.totals.iter().find(|t| t.used > d("0")).map(|t| (t.pack.title.clone(), t.packs)))
    };
    assert_eq!(trips("[packs]\nbricks = \"2500 nr\"\n")?, Some(("2500 nr trip".into(), 2)));
    let kind = "[packs]\nbricks = \"2500 nr\"\n\"bricks/brick-220x105x65\" = \"5000 nr\"\n";
    assert_eq!(trips(kind)?, Some(("5000 nr trip".into(), 1)));
    Ok(())
}

#[test]
fn every_mistake_is_told_with_its_code() {
    let codes = |more: &str| -> Vec<&'static str> {
        placed(more, &goods(), None).map_or_else(|p| p.iter().map(|p| p.code).collect(), |_| Vec::new())
    };
    for (more, want) in [
        ("[packs]\ncement = 500", "J110"),
        ("[packs]\ncement = \"500\"", "J110"),
        ("[packs]\ncement = \"42.5\"", "J111"),
        ("[packs]\ncement = \"42.5 N\"", "J111"),
        ("[packs]\ncement = \"32.5R\"", "J111"),
        ("[packs]\ncement = \"a bag\"", "J112"),
        ("[packs]\ncement = \"50 stone\"", "J112"),
        ("[packs]\ncement = [\"50 kg\"]", "J112"),
        ("[packs]\nbricks = \"2.5 nr\"", "J112"),
        ("[packs]\nsand-building = \"7 t\"", "J113"),
        ("[packs]\npolythene = \"20 kg\"", "J113"),
        ("[packs]\nsement = \"50 kg\"", "J114"),
        ("[orders]\nlead_days = { sment = 2 }", "J114"),
        ("[packs]\ncement = \"0 kg\"", "J115"),
        ("[orders]\ntolerance = \"1\"", "J116"),
        ("[orders]\nlead_days = { cement = \"2.5\" }", "J117"),
        ("[orders]\nlead_days = { cement = \"soon\" }", "J117"),
        ("[orders]\ngroup = [[\"base\", \"dig\"], [\"base\"]]", "J118"),
        ("[packs]\nbars = \"6 m\"", "J119"),
    ] {
        assert_eq!(codes(more), [want], "{more}");
    }
    let all = "[packs]\ncement = 500\nsement = \"50 kg\"\n[orders]\ntolerance = \"2\"";
    assert_eq!(codes(all), ["J110", "J114", "J116"]);
    assert_eq!(
        codes("[packs]\ncement = \"42.5 kg\"\nsurplus-earth = \"6 m3\"\n\"bars/Y12\" = \"6 m\""),
        ["J119"]
    );
}

#[test]
fn the_balance_finds_every_spoiled_figure() -> Result<(), Vec<Problem>> {
    let list = prices(&[["cement", "kg", "", "19"]]);
    let orders = placed("[packs]\nsand-building = \"1 m3\"\n", &goods(), Some(&list))?;
    assert!(balance(&orders, &goods()).holds());
    let one = Decimal::ONE;
    let changes: [Change<'_, Line>; 8] = [
        (&|l| l.opening += one, "opening"),
        (&|l| l.ordered += one, "packs"),
        (&|l| l.used += one, "used"),
        (&|l| l.present += one, "at once"),
        (&|l| l.closing += one, "out"),
        (&|l| l.packs += 1, "packs"),
        (&|l| l.reserve = 1_000, "reserve"),
        (&|l| l.cost = l.cost.map(|c| c + one), "cost"),
    ];
    for (change, want) in changes {
        for at in 0..3 {
            let mut spoiled = orders.clone();
            spoiled.stages.iter_mut().flat_map(|s| &mut s.lines).skip(at).take(1).for_each(change);
            let told = balance(&spoiled, &goods());
            let priced = want != "cost" || at == 0;
            assert!(told.holds() != priced, "{want} {at}");
            assert!(!priced || told.breaks.join("; ").contains(want), "{want} {at}: {:?}", told.breaks);
        }
    }
    let totals: [Change<'_, Total>; 4] = [
        (&|t| t.packs += 1, "packs"),
        (&|t| t.ordered += one, "ordered"),
        (&|t| t.used -= one, "used"),
        (&|t| t.cost = t.cost.map(|c| c + one), "cost"),
    ];
    for (change, want) in totals {
        let mut spoiled = orders.clone();
        spoiled.totals.iter_mut().take(1).for_each(change);
        let told = balance(&spoiled, &goods());
        assert!(told.breaks.join("; ").contains(want), "{want}: {:?}", told.breaks);
    }
    let mut gone = orders.clone();
    gone.stages.remove(1);
    assert!(!balance(&gone, &goods()).holds());
    let mut more = goods();
    more.rows.push(row("cement", Stage::Finish, "5"));
    assert!(!balance(&orders, &more).holds());
    Ok(())
}
