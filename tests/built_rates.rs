//! Rates built up on whole jobs: against the materials and bars of the same job by workings of our own, under labour-only
//! contracts, in the workbook, and what is said where they cannot be built.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_export::{book, cells, check, evaluate};
use tankwright_geometry::Ratio;
use tankwright_quantities::bill::BillRow;
use tankwright_quantities::build_up::{Cost, Group, Want};
use tankwright_quantities::decimal::{ratio, rounded};
use tankwright_quantities::estimate::{Estimate, Failure};
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::orders::split;
use tankwright_quantities::rates::{PriceList, builtin_prices, read_prices};
use tankwright_tests::program::{root, run};
use tankwright_tests::{read, stock};

const SAMPLES: [&str; 4] = ["rest-house", "school", "lined-pits", "built-rates"];

fn text(sample: &str) -> String {
    std::fs::read_to_string(root().join("samples").join(sample).join("job.toml")).unwrap()
}

fn demo() -> PriceList {
    let (name, text) = builtin_prices("demo-built").unwrap();
    read_prices(&name, text).unwrap()
}

/// An estimate in Ugandan shillings by a list of materials, labour and plant.
fn estimate(job: &str, prices: &PriceList, trail: bool) -> Result<Estimate, Failure> {
    flow::estimate(&read(job, trail).unwrap(), stock(), Some(prices), &Settings::default())
}

fn rows(e: &Estimate) -> Vec<&BillRow> {
    e.bill.sections.iter().flat_map(|s| &s.rows).collect()
}

#[test]
fn materials_in_the_rates_are_the_materials_of_the_job() {
    let mut seen = 0;
    for sample in SAMPLES {
        let e = estimate(&text(sample), &demo(), false).unwrap();
        let parts = split(&e.bill, &e.materials, &e.sheet).rows;
        for (row, parts) in rows(&e).into_iter().zip(parts) {
            let Some(outline) = &row.outline else { continue };
            // Bars carry offcuts and wire: the next test. Others: quantity for one unit x the row's own net.
            if row.work.id == "bars" {
                continue;
            }
            let net: Ratio = row.items.iter().map(|id| ratio(e.sheet.find(id).unwrap().net)).sum();
            let thick = e.sheet.find(&row.items[0]).unwrap().made.thickness.as_ref();
            let units = if row.unit == row.work.unit {
                net
            } else {
                net / (thick.unwrap().value() / Ratio::int(10_000))
            };
            let mut ours: BTreeMap<&str, Ratio> = BTreeMap::new();
            for line in &outline.lines {
                if let Want::Goods { material, quantity, .. } = &line.want {
                    ours.insert(&material.id, *quantity * units / ratio(outline.per));
                }
            }
            let theirs: BTreeMap<&str, Ratio> =
                parts.iter().map(|p| (p.material.as_str(), p.quantity)).collect();
            assert_eq!(ours, theirs, "{sample} {}", row.reference);
            seen += theirs.len();
        }
    }
    assert!(seen > 100, "{seen}");
}

#[test]
fn every_figure_of_every_analysis_by_a_working_of_our_own() {
    let mut lines = 0;
    for sample in SAMPLES {
        let e = estimate(&text(sample), &demo(), false).unwrap();
        for row in rows(&e) {
            let Some(worked) = &row.build_up else { continue };
            let mut cost = Ratio::ZERO;
            for done in &worked.lines {
                let exact = match &done.line.cost {
                    Cost::Priced { rate, .. } => ratio(done.quantity) * ratio(*rate),
                    Cost::Percent(percent, _) => ratio(done.quantity) * ratio(*percent) / Ratio::int(100),
                };
                assert_eq!(Some(done.amount), rounded(exact, 2));
                cost = cost + ratio(done.amount);
                lines += 1;
            }
            let mut running = cost;
            for done in &worked.on_costs {
                let base = if done.on_cost.on == ["cost"] { cost } else { running };
                running = running
                    + ratio(rounded(base * ratio(done.on_cost.percent) / Ratio::int(100), 2).unwrap());
            }
            let each = rounded(running / ratio(worked.per), 0).unwrap();
            let tens = if sample == "built-rates" { Decimal::TEN } else { Decimal::ONE };
            assert_eq!(worked.rate, (each / tens).ceil() * tens, "{sample} {}", row.reference);
            assert_eq!(row.rate.as_ref().unwrap().0, worked.rate);
        }
    }
    assert!(lines > 300, "{lines}");
}

#[test]
fn a_kilogram_of_bars() {
    let e = estimate(&text("rest-house"), &demo(), false).unwrap();
    let row = rows(&e).into_iter().find(|r| r.work.id == "bars" && r.spec == "Y12").unwrap();
    let worked = row.build_up.as_ref().unwrap();
    let amounts: Vec<String> = worked.lines.iter().map(|l| l.amount.to_string()).collect();
    let want = [
        "441066.11", // 100 kg / 0.888 kg/m / 12 m = 9.384384 bars x 47 000 = 441 066.048, see below
        "10712",     // 13/1000 x 100 kg x 1.03 x 8000
        "22588.9",   // 5 %
        "12093.75",  // 129 min / 60 / 8 = 0.26875 x 45 000
        "5375",      // x 20 000
        "1397.5",    // 8 %
    ];
    let bars = rounded(ratio("9.384384".parse().unwrap()) * Ratio::int(47_000), 2).unwrap();
    assert_eq!(amounts[0], bars.to_string());
    assert_eq!(amounts[1..4], want[1..4].iter().map(|t| (*t).to_owned()).collect::<Vec<_>>()[..]);
    assert_eq!(amounts[4..], want[4..].iter().map(|t| (*t).to_owned()).collect::<Vec<_>>()[..]);
}

/// A list without what a filter leaves out.
fn without(keep: impl Fn(&tankwright_quantities::rates::PriceRow) -> bool) -> PriceList {
    let mut list = demo();
    list.rows.retain(|r| keep(r));
    list
}

#[test]
fn labour_only_is_the_build_up_without_its_materials() {
    use tankwright_quantities::rates::PriceKind;
    let job = text("built-rates")
        .replace("rates = \"demo-built\"", "rates = \"demo-built\"\nsupply = \"labour-only\"");
    let full = estimate(&text("built-rates"), &demo(), false).unwrap();
    let labour = estimate(&job, &demo(), false).unwrap();
    // Without a price of any material the rates of labour are the same.
    let bare = estimate(&job, &without(|r| r.kind != PriceKind::Material), false).unwrap();
    let mut cheaper = 0;
    for ((full, labour), bare) in rows(&full).into_iter().zip(rows(&labour)).zip(rows(&bare)) {
        let (Some(whole), Some(own)) = (&full.build_up, &labour.build_up) else { continue };
        assert!(own.lines.iter().all(|l| l.line.group != Group::Materials));
        for group in [Group::Labour, Group::Plant] {
            assert_eq!(own.sum(group), whole.sum(group));
        }
        // Tools as a share of all before them are a share of the labour now.
        let share = |s: &Decimal| !s.is_zero();
        if !whole.sum(Group::Sundries).as_ref().is_some_and(share) {
            assert_eq!(own.cost, whole.cost - whole.sum(Group::Materials).unwrap_or_default());
        }
        assert_eq!(labour.rate.as_ref().map(|r| r.0), Some(own.rate));
        assert_eq!(bare.build_up.as_ref().map(|w| w.rate), Some(own.rate));
        let parted = labour.labour.as_ref().unwrap();
        assert_eq!((parted.full_rate, parted.materials), (whole.rate, whole.rate - own.rate));
        assert_eq!(parted.parts.is_empty(), whole.sum(Group::Materials).is_none());
        cheaper += usize::from(own.rate < whole.rate);
    }
    assert!(cheaper > 10);
    assert!(labour.balances.iter().all(|b| b.holds()));
    assert!(labour.bill.client_buys.is_some() && bare.bill.client_buys.is_none());
}

/// The list with the rate of a row changed.
fn changed(code: &str, rate: i64) -> PriceList {
    let mut list = demo();
    let row = list.rows.iter_mut().find(|r| r.code == code).unwrap();
    row.rate = Some(rate.into());
    list
}

#[test]
fn a_rate_changed_in_the_workbook_flows_to_the_total_as_in_another_run() {
    let job = text("built-rates");
    let e = estimate(&job, &demo(), true).unwrap();
    let plain = book::workbook(&e).unwrap();
    let balance = check::check(&plain, &e, &evaluate::evaluate(&plain).unwrap());
    assert!(balance.holds(), "{:?}", balance.breaks);
    assert!(plain.page(cells::PageId::Analysis).is_some());
    for (name, code, rate) in [
        ("rate_labourer", "labourer", 26_500),
        ("rate_cement", "cement", 41_250),
        ("rate_sand_building", "sand-building", 12_345),
    ] {
        let mut book = plain.clone();
        let (_, at) = book.names.iter().find(|(n, _)| n.starts_with(name)).unwrap();
        let at = *at;
        let page = book.pages.iter_mut().find(|p| p.id == at.page).unwrap();
        // Goods by the load are priced by the load: the cell holds the rate of a pack.
        let packs = e.orders.totals.iter().find(|t| t.material == code).map_or(Decimal::ONE, |t| {
            let own = demo().rows.iter().any(|r| r.code == code && r.unit == "m3");
            if own { t.pack.size } else { Decimal::ONE }
        });
        page.cells.get_mut(&(at.row, at.col)).unwrap().content =
            cells::Content::Number(Decimal::from(rate) * packs);
        let values = evaluate::evaluate(&book).unwrap();
        let other = estimate(&job, &changed(code, rate), true).unwrap();
        assert_ne!(other.bill.total, e.bill.total);
        let total = values.get(&plain.places.total.unwrap()).cloned();
        assert_eq!(total, other.bill.total.map(|t| evaluate::Value::Number(ratio(t))), "{name}");
    }
}

#[test]
fn a_recipe_and_an_on_cost_changed_in_the_workbook_flow_too() {
    let job = text("built-rates");
    let e = estimate(&job, &demo(), true).unwrap();
    let plain = book::workbook(&e).unwrap();
    let after = |name: &str, value: Decimal| {
        let mut book = plain.clone();
        let at = *book.names.get(name).unwrap_or_else(|| panic!("{name}"));
        let page = book.pages.iter_mut().find(|p| p.id == at.page).unwrap();
        page.cells.get_mut(&(at.row, at.col)).unwrap().content = cells::Content::Number(value);
        evaluate::evaluate(&book).unwrap().get(&plain.places.total.unwrap()).cloned()
    };
    let run_of = |job: &str| {
        estimate(job, &demo(), true).unwrap().bill.total.map(|t| evaluate::Value::Number(ratio(t)))
    };
    let waste = run_of(&format!("{job}\n[waste]\nhoop-iron = \"12\"\n"));
    assert_eq!(after("waste_hoop_iron", 12.into()), waste);
    let profit = run_of(&job.replace("title = \"Profit\"\npercent = 10", "title = \"Profit\"\npercent = 17"));
    assert_eq!(after("on_cost_no2", 17.into()), profit);
    assert_ne!(waste, profit);
}

#[test]
fn all_that_is_missing_is_told_at_once() {
    let list =
        without(|r| !["carpenter", "plumber", "cement"].contains(&r.code.as_str()) && r.code != "water-test");
    let Err(Failure::Rates(told)) = estimate(&text("built-rates"), &list, false) else { panic!("priced") };
    let mut seen: Vec<_> = told.iter().map(|p| (p.code, p.message.clone())).collect();
    seen.sort();
    let list = "rates/prices/demo-built.csv";
    let want = [
        ("R040", format!("{list} has no rate for `water-test` in item")),
        (
            "R100",
            format!("{list} has no rate for labour `carpenter`, which the build-ups of C1, C2, C3 need"),
        ),
        ("R100", format!("{list} has no rate for labour `plumber`, which the build-ups of G2, G3 need")),
        (
            "R100",
            format!(
                "{list} has no rate for material `cement`, which the build-ups of B1, B2, B3, E1, E2, F1, F2 need"
            ),
        ),
    ];
    assert_eq!(seen, want);
    for problem in told.iter().filter(|p| p.code == "R100") {
        let hint = problem.hint.as_deref().unwrap_or_default();
        assert!(hint.contains(",,UGX,2026-11-25,; or price ") && hint.contains(" itself"), "{hint}");
    }
}

/// Cautions of prices that a job brings.
fn cautions(more: &str) -> Vec<(&'static str, String)> {
    let job = text("built-rates").replace(
        "[[on_costs.list]]                  # without",
        &format!("{more}\n[[on_costs.list]] # without"),
    );
    let e = estimate(&job, &demo(), false).unwrap();
    let told = e.cautions.iter().filter(|c| c.code.starts_with("R1"));
    told.map(|c| (c.code, c.says.to_string())).collect()
}

#[test]
fn an_on_cost_that_leaves_labour_out_or_is_charged_twice_is_cautioned() {
    assert_eq!(cautions(""), []);
    let told = cautions("[[on_costs.list]]\ntitle = \"Handling\"\npercent = 5\non = [\"materials\"]\n");
    assert_eq!(told.iter().map(|t| t.0).collect::<Vec<_>>(), ["R104"]);
    // A1 has no materials: 5 % of 16 800 and its overhead of 588.
    let says = "on-cost `Handling` is taken on less than the cost: it leaves out labour, sundries in A1 and";
    assert!(
        told[0].1.starts_with(says) && told[0].1.contains("A1 would be UGX 869.4 more for 1 m3"),
        "{told:?}"
    );
    let told = cautions("[[on_costs.list]]\ntitle = \"VAT, value added tax\"\npercent = 18\n");
    assert_eq!(told.iter().map(|t| t.0).collect::<Vec<_>>(), ["R105"]);
}

#[test]
fn the_paper_prints_what_is_in_the_bill_and_fits() {
    for (format, wants) in [
        (
            "text",
            vec![
                "E1   brickwork-wall/220",
                "say, up 10",
                "sum of labour",
                "priced directly by the price list: F3",
            ],
        ),
        ("csv", vec!["E1,brickwork-wall/220,line,labour,mason,Mason,0.21875,day,50000,10937.50"]),
        ("json", vec!["\"reference\"", "\"working\": \"1.75 h / 8\""]),
    ] {
        let seen = run(&format!("bill samples/built-rates/job.toml --analysis --format {format}"));
        assert_eq!(seen.code, 0, "{}", seen.err);
        for want in wants.iter().filter(|w| **w != "\"reference\"") {
            assert!(seen.out.contains(want), "{format}: {want}");
        }
        assert!(format != "text" || seen.out.lines().all(|l| l.chars().count() <= 100));
    }
    let bill = run("bill samples/built-rates/job.toml --format json").out;
    let analysis = run("bill samples/built-rates/job.toml --analysis --format json").out;
    let (bill, analysis): (serde_json::Value, serde_json::Value) =
        (serde_json::from_str(&bill).unwrap(), serde_json::from_str(&analysis).unwrap());
    let of_bill: Vec<_> = bill["sections"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|s| s["rows"].as_array().unwrap())
        .filter(|r| !r["build_up"].is_null())
        .map(|r| (r["ref"].clone(), r["rate"].clone(), r["build_up"].clone()))
        .collect();
    let of_analysis: Vec<_> = analysis["rows"]
        .as_array()
        .unwrap()
        .iter()
        .map(|r| (r["ref"].clone(), r["rate"].clone(), r["build_up"].clone()))
        .collect();
    assert!(of_bill.len() > 15);
    assert_eq!(of_bill, of_analysis);
    let none = run("bill samples/rest-house/job.toml --analysis");
    assert!(none.out.contains("no rate of this bill is built up"), "{}", none.out);
}

#[test]
fn a_blank_list_of_build_ups_filled_in_prices_the_job() {
    let seen = run("rates --blank samples/built-rates/job.toml --build-ups");
    assert_eq!(seen.code, 0, "{}", seen.err);
    let filled = seen.out.replace(",,UGX,2026-11-25,", ",1000,UGX,2026-11-25,shop");
    let list = read_prices("filled.csv", &filled).unwrap();
    let e = estimate(&text("built-rates"), &list, false).unwrap();
    let used: std::collections::BTreeSet<usize> = rows(&e)
        .iter()
        .filter_map(|r| r.build_up.as_ref())
        .flat_map(|w| &w.lines)
        .filter_map(|l| match &l.line.cost {
            Cost::Priced { from: Some(from), .. } => Some(from.line),
            _ => None,
        })
        .chain(rows(&e).iter().filter(|r| r.build_up.is_none()).map(|r| r.rate.as_ref().unwrap().1.line))
        .collect();
    // No row too few, none too many.
    assert_eq!(used.into_iter().collect::<Vec<_>>(), (2..list.rows.len() + 2).collect::<Vec<_>>());
    assert!(e.cautions.iter().all(|c| c.code != "R046"));
}
